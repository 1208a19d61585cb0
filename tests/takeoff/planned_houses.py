"""Plans of the three demo houses, made once for all tests here."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import pytest

from bayrun.files import read_job
from bayrun.framing import Frame, lay_out
from bayrun.house import Job
from bayrun.routing import route
from bayrun.takeoff import Takeoff, takeoff
from bayrun.wiring import Wiring
from conftest import ROOT


class Planned(NamedTuple):
    """A demo house with its plan."""

    job: Job
    frame: Frame
    wiring: Wiring
    counted: Takeoff


@cache
def planned(letter: str) -> Planned:
    job = read_job(ROOT / "examples" / f"house-{letter}.yaml")
    frame = lay_out(job)
    wiring = route(job, frame)
    return Planned(job, frame, wiring, takeoff(job, frame, wiring))


every_house = pytest.mark.parametrize("letter", ["a", "b", "c"])
