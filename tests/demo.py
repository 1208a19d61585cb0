"""The three invented demo houses, and what their data say a plan of them must come to.

``job(letter)`` reads the example job file; ``baseline_in(letter, run_id)`` is the straight oracle: no square
route through the named plane is shorter, and a good one is at most 1.30 times as long or says why.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from bayrun.files import read_job
from bayrun.house import Job

ROOT = Path(__file__).resolve().parent.parent
DATA = Path(__file__).resolve().parent / "data" / "demo-houses.json"
HOUSES = ("A", "B", "C")
Data = dict[str, Any]


@cache
def demo_data() -> Data:
    """The whole of demo-houses.json; shared, so do not change it."""
    data: Data = json.loads(DATA.read_text(encoding="utf-8"))
    return data


def house_data(house: str) -> Data:
    """The data of house ``A``, ``B`` or ``C``."""
    data: Data = demo_data()["houses"][house]
    return data


def example_path(house: str) -> Path:
    """Its example job file."""
    return ROOT / "examples" / f"house-{house.lower()}.yaml"


@cache
def job(house: str) -> Job:
    """The job read from its example file."""
    return read_job(example_path(house))


def chosen_enclosure(house: str) -> str:
    """Id of the enclosure the example goes with."""
    return job(house).enclosure


def baseline(house: str, run_id: str, enclosure: str | None = None) -> Data:
    """The baseline of a run with its parts (plan, verticals, slack, plane), for an enclosure [in]."""
    for run in house_data(house)["runs"]:
        if run["id"] == run_id:
            found: Data = run["baseline"][enclosure or chosen_enclosure(house)]
            return found
    raise KeyError(run_id)


def baseline_in(house: str, run_id: str, enclosure: str | None = None) -> float:
    """Total baseline of a run with both slacks, for the chosen enclosure unless another is named [in]."""
    return float(baseline(house, run_id, enclosure)["total"])


def run_ids(house: str) -> tuple[str, ...]:
    """Ids of all runs, in the order of the data."""
    return tuple(run["id"] for run in house_data(house)["runs"])


def totals(house: str, enclosure: str | None = None) -> Data:
    """The totals of the data for an enclosure."""
    wanted = enclosure or chosen_enclosure(house)
    found: Data = next(t for t in house_data(house)["totals"] if t["enclosure"] == wanted)
    return found
