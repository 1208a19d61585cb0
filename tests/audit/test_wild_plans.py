"""Plans with one value spoiled anywhere: told or refused, never a traceback."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest

from audit.plans import example
from bayrun.audit import Defect, PlanError, audit
from conftest import count

WILD: tuple[Any, ...] = (None, "x", "", -1, 0, 1e12, True, [], {}, [1, 2], [["a"]])
LISTS = (
    "members", "bays", "locations", "runs", "holes", "plates", "straps", "seals", "pulls", "boxes", "lengths",
    "drill", "labels", "material", "findings", "unreached", "supports", "grommets", "totals", "job",
)  # fmt: skip


def spoil(plan: dict[str, Any], rng: random.Random) -> str:
    """Replace one value somewhere inside one list; say where."""
    key = rng.choice([k for k in LISTS if plan[k]])
    holder, at, where = plan, key, key
    for _ in range(rng.randrange(1, 5)):
        inner = holder[at]
        if isinstance(inner, dict) and inner:
            holder, at = inner, rng.choice(sorted(inner))
        elif isinstance(inner, list) and inner:
            holder, at = inner, rng.randrange(len(inner))
        else:
            break
        where += f"/{at}"
    holder[at] = rng.choice(WILD)
    return f"{where} = {holder[at]!r}"


@pytest.mark.parametrize("part", range(4))
def test_a_spoiled_plan_is_told_or_refused(part: int) -> None:
    job, text = example("a")
    for seed in range(count(10, 500)):
        plan = json.loads(text)
        where = spoil(plan, random.Random(f"{part} {seed}"))
        refused: tuple[str, ...] = ()
        found: tuple[Defect, ...] = ()
        try:
            found = audit(job, plan)
        except PlanError as error:
            refused = error.faults
        assert all("expected" in fault for fault in refused), where
        assert all(d.says and d.place for d in found), where
