"""Every planted fault is found by its kind; plans with no fault planted are clean."""

from __future__ import annotations

import dataclasses
import json
import random
from collections import Counter
from typing import Any

import pytest

from audit.mutations import PLANTED
from audit.plans import as_plan, example
from bayrun.audit import KINDS, audit
from conftest import LONG, count
from random_houses import random_house

HOUSES = ("a", "b", "c", "heavy")
ROUNDS = count(1, 20)
TWO_TEES = () if LONG else (84, 141)
"""Houses in which a stud mark falls between two tees: a backing once reached over its neighbor there."""


def houses_for(name: str) -> tuple[str, ...]:
    """House A and one of the larger two, in turn; all three in the long run."""
    return HOUSES if ROUNDS > 1 else ("a", "bc"[[known for known, _, _ in PLANTED].index(name) % 2])


@pytest.mark.parametrize("house", HOUSES)
def test_a_demo_house_is_clean(house: str) -> None:
    job, text = example(house)
    assert [str(d) for d in audit(job, json.loads(text))] == []


def test_the_heavy_house_has_steel_to_take_away() -> None:
    _, text = example("heavy")
    plan = json.loads(text)
    assert len(plan["straps"]) >= 5
    assert len(plan["plates"]) >= 10


CHANGES: dict[str, dict[str, Any]] = {
    "straight lines in open space": {"straight_in_open_space": True},
    "a tenth more jacket than path": {"dress_factor": 1.1},
    "holes filled to 60 %": {"fill_max": 0.6},
    "opened boxes, two on the stand": {"partial_boxes": (("D", 400.0), ("X", 90.0)), "stand_boxes": 2},
    "older editions": {"editions": (("IRC", "2018"), ("NEC", "2017"))},
}


@pytest.mark.parametrize("change", sorted(CHANGES))
def test_another_practice_is_clean(change: str) -> None:
    job, _ = example("c")
    job = dataclasses.replace(job, practice=dataclasses.replace(job.practice, **CHANGES[change]))
    assert [str(d) for d in audit(job, as_plan(job))] == []


@pytest.mark.parametrize("seed", [*range(30), *TWO_TEES])
def test_a_random_house_is_clean(seed: int) -> None:
    """Thirty here; the long check asks about two thousand, beside the laws (tests/test_laws.py)."""
    job = random_house(seed)
    assert [str(d) for d in audit(job, as_plan(job))] == []


@pytest.mark.parametrize(("name", "kind"), [(name, kind) for name, kind, _ in PLANTED])
def test_a_planted_fault_is_found_by_its_kind(name: str, kind: str) -> None:
    mutate = next(function for known, _, function in PLANTED if known == name)
    planted = 0
    for house in (*houses_for(name), *HOUSES):
        if planted >= 2 * ROUNDS:
            break
        job, text = example(house)
        for seed in range(ROUNDS):
            plan = json.loads(text)
            if not mutate(plan, random.Random(f"{name} {house} {seed}")):
                continue
            planted += 1
            found = {d.kind for d in audit(job, plan)}
            assert kind in found, (
                f"house {house}, seed {seed}: {name} is found as {sorted(found)}, not {kind}"
            )
    assert planted, f"no demo house has anything for {name}"


def test_at_least_a_hundred_faults_of_twenty_kinds_are_planted() -> None:
    """Counted as the test above plants them: two houses a mutation, where there is something to change."""
    planted: Counter[str] = Counter()
    for name, kind, mutate in PLANTED:
        for house in houses_for(name):
            _, text = example(house)
            planted[kind] += mutate(json.loads(text), random.Random(f"{name} {house} 0"))
    assert sum(planted.values()) >= 100
    assert len(planted) >= 20


def test_the_catalog_names_each_kind_once() -> None:
    slugs = [slug for slug, _ in KINDS]
    assert len(set(slugs)) == len(slugs)
    assert {kind for _, kind, _ in PLANTED} <= set(slugs)


def test_the_same_plan_gives_the_same_defects() -> None:
    job, text = example("a")
    plan = json.loads(text)
    PLANTED[0][2](plan, random.Random(1))
    assert audit(job, plan) == audit(job, plan)


def test_a_plan_of_another_house_is_refused_in_many_ways() -> None:
    job, _ = example("a")
    _, text = example("b")
    kinds = {d.kind for d in audit(job, json.loads(text))}
    assert {"other-job", "member-missing", "member-extra", "run-lost", "run-not-wished"} <= kinds


def test_a_plan_from_before_a_wall_was_moved_is_found() -> None:
    job, text = example("a")
    wall = next(w for w in job.walls if w.id == "A-W26")
    moved = dataclasses.replace(
        wall, start=(wall.start[0] + 2, wall.start[1]), end=(wall.end[0] + 2, wall.end[1])
    )
    changed = dataclasses.replace(job, walls=tuple(moved if w.id == wall.id else w for w in job.walls))
    found = audit(changed, json.loads(text))
    assert {"hole-misplaced", "member-mistold", "end-misplaced"} <= {d.kind for d in found}


def test_defects_speak_in_words_of_the_trade() -> None:
    job, text = example("a")
    plan = json.loads(text)
    stud = next(m for m in plan["members"] if m["id"] == "A-W26/stud-2")
    stud["along"] = [v + 1.0 for v in stud["along"]]
    (defect,) = audit(job, plan)
    assert defect.kind == "member-moved"
    assert "wall Dining / Laundry (A-W26)" in defect.place
    assert "by the layout" in defect.says
    assert '"' in defect.says
