"""Names of pulls, boxes and supports are on paper and on cable boxes: carried, never given to another."""

from __future__ import annotations

from dataclasses import replace

from tests.demo import job as demo_job

from bayrun.files.planjson import plan_json, read_plan_json
from bayrun.jobs import plan
from bayrun.jobs.plan import Issued, Plan
from bayrun.takeoff.carry import carried_ids


def issued(made: Plan) -> Issued:
    return Issued(made.wiring, made.counted, made.job)


def test_the_most_alike_keeps_the_name_and_new_ones_count_on() -> None:
    like = {(0, 1): 3.0, (1, 1): 2.0, (1, 0): 1.0}
    got = carried_ids(("PL1", "PL2", "PL3"), ("PL4", "PL7"), lambda n, o: like.get((n, o), 0.0), ("PL9",))
    assert got == ("PL7", "PL4", "PL10")


def test_boxes_of_two_kinds_count_by_themselves() -> None:
    got = carried_ids(("BX-D-1", "BX-X-1", "BX-X-2"), ("BX-D-3",), lambda n, o: float(n == o), ())
    assert got == ("BX-D-3", "BX-X-1", "BX-X-2")


def test_the_same_plan_keeps_every_name() -> None:
    job = demo_job("A")
    first = plan(job)
    assert plan(job, base=issued(first)).counted == first.counted


def test_less_work_renames_nothing_and_names_of_gone_ones_stay_unused() -> None:
    job = demo_job("A")
    first = plan(job)
    gone_pull = first.counted.pulls[0]
    fewer = replace(job, runs=tuple(r for r in job.runs if r.id not in gone_pull.runs))
    second = plan(fewer, base=issued(first))
    before = {p.id: set(p.runs) for p in first.counted.pulls}
    for pull in second.counted.pulls:
        if pull.id in before:
            assert before[pull.id] & set(pull.runs)
    boxes = {b.id for b in first.counted.boxes}
    assert {b.id for b in second.counted.boxes} <= boxes
    third = plan(job, base=issued(second))
    for pull in third.counted.pulls:
        if pull.id in before:
            assert before[pull.id] & set(pull.runs), pull.id
    lost = {h.id for h in first.wiring.holes} - {h.id for h in second.wiring.holes}
    assert lost
    assert set(second.wiring.retired) == lost
    fresh = {h.id for h in third.wiring.holes} - {h.id for h in second.wiring.holes}
    assert not fresh & lost
    named = {b for p in third.counted.pulls for _, b in p.boxes}
    assert named <= {b.id for b in third.counted.boxes}


def test_retired_names_are_in_the_plan_file() -> None:
    job = demo_job("A")
    first = plan(job)
    fewer = replace(job, runs=job.runs[:-6])
    second = plan(fewer, base=issued(first))
    assert second.wiring.retired
    data = plan_json(second.job, second.frame, second.wiring, second.counted, ())
    read = read_plan_json(data)
    assert read.wiring.retired == second.wiring.retired
    assert read.takeoff.retired == second.counted.retired
