"""What changed since the plan last issued: what moved, why, and what it comes to."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from tests.demo import job as demo_job

from bayrun.findings import Fix
from bayrun.house import Job, Obstacle
from bayrun.house.edits import apply
from bayrun.jobs import plan
from bayrun.jobs.changes import change_sheet, change_table, changes_json, heading, plan_changes, sums
from bayrun.jobs.plan import Issued, Plan
from bayrun.takeoff.asked import asked_changes
from bayrun.takeoff.changes import Changes, moved_runs
from bayrun.wiring import DoneRun, Frozen


@pytest.fixture(scope="module")
def first() -> Plan:
    return plan(demo_job("A"))


def compared(job: Job, base: Plan, frozen: Frozen | None = None) -> tuple[Plan, Changes]:
    made = plan(job, base=base.issued, frozen=frozen)
    changes = plan_changes(made)
    assert changes is not None
    return made, changes


def moved(job: Job, name: str, to_in: float) -> Job:
    return replace(
        job, locations=tuple(replace(q, offset_in=to_in) if q.id == name else q for q in job.locations)
    )


def test_without_a_whole_base_there_is_no_list(first: Plan) -> None:
    assert plan_changes(first) is None
    assert change_sheet(first) is None
    assert changes_json(first) is None
    made = plan(first.job, base=first.wiring)
    assert plan_changes(made) is None
    assert plan_changes(plan(first.job, base=Issued(first.wiring))) is None


def test_nothing_different_says_so(first: Plan) -> None:
    _, changes = compared(first.job, first)
    assert not changes.items
    assert not changes.asked
    assert heading(changes) == "Nothing in the plan is different"
    assert (changes.feet, changes.holes, changes.hours) == (0.0, 0, 0)


def test_a_moved_location_names_what_was_asked(first: Plan) -> None:
    made, changes = compared(moved(first.job, "A10", 144.0), first)
    (asked,) = changes.asked
    assert asked.says.startswith("A10 moved along its wall from 16' 0\" to 12' 0\"")
    runs = [c for c in changes.items if c.thing == "run"]
    assert {c.id for c in runs} == set(moved_runs(first.wiring, made.wiring))
    own = [c for c in runs if c.id.startswith("A10-")]
    assert all(c.why == "asked: A10 moved along its wall from 16' 0\" to 12' 0\"" for c in own)
    assert all(c.asked for c in own)
    assert len(changes.moved_runs) <= 5
    length = {r.id: r.length_in for r in first.wiring.runs}
    for one in runs:
        assert one.feet == pytest.approx((made.wiring.run(one.id).length_in - length[one.id]) / 12)
    assert changes.feet == pytest.approx(sum(c.feet for c in runs))
    drilled = [sum(not h.open_passage for h in p.wiring.holes) for p in (first, made)]
    assert changes.holes == drilled[1] - drilled[0]
    assert "holes" in sums(changes)


def test_an_obstacle_names_itself_as_the_reason(first: Plan) -> None:
    """A duct in the bay that holds another run's hole: the run moves, forced by the duct."""
    job = first.job
    for hole in first.wiring.holes:
        wall = next((w for w in job.walls if w.id == hole.wall), None)
        if hole.axis != "along" or wall is None:
            continue
        duct = Obstacle(
            "A-O90",
            "supply duct",
            (hole.level,),
            rect=(hole.x - 4, hole.y - 4, hole.x + 4, hole.y + 4),
            z_in=(hole.z - 9, hole.z + 9),
        )
        _, changes = compared(replace(job, obstacles=(*job.obstacles, duct)), first)
        mine = [c for c in changes.items if c.thing == "run" and c.id in hole.occupants]
        if mine:
            break
    else:
        pytest.fail("no hole of house A could be closed")
    assert changes.asked[0].says == "supply duct (A-O90) is new"
    assert all(not c.asked for c in mine)
    assert any("supply duct (A-O90) is new" in c.why for c in mine), [c.why for c in mine]


def test_a_gone_run_and_a_new_one_are_told(first: Plan) -> None:
    name = first.job.runs[0].id
    fewer = replace(first.job, runs=first.job.runs[1:])
    made, changes = compared(fewer, first)
    (gone,) = [c for c in changes.items if c.thing == "run" and c.id == name]
    assert (gone.what, gone.asked) == ("removed", True)
    assert gone.feet == pytest.approx(-first.wiring.run(name).length_in / 12)
    _, again = compared(first.job, made)
    (come,) = [c for c in again.items if c.thing == "run" and c.id == name]
    assert (come.what, come.asked) == ("added", True)
    assert come.says.startswith("planned: ")


def test_a_choice_is_its_own_reason(first: Plan) -> None:
    old = next(h for h in first.wiring.holes if h.axis == "up" and not h.open_passage)
    spot = f"{old.member}@{old.along_in:.10g}"
    asked = apply(first.job, Fix("shift_hole", (old.id, old.along_in + 2.0, spot), "move it"), by="lead")
    _, changes = compared(asked, first)
    (hole,) = [c for c in changes.items if c.thing == "hole" and c.id == old.id]
    assert (hole.what, hole.asked) == ("moved", True)
    assert hole.says.startswith('moved by 2"')
    assert hole.why.startswith("asked: ")


def test_sheet_table_and_data_say_the_same(first: Plan) -> None:
    done = Frozen(runs=(DoneRun("A01-D1"),))
    made, changes = compared(moved(first.job, "A10", 144.0), first, done)
    sheet, table, data = change_sheet(made), change_table(made), changes_json(made)
    assert sheet is not None
    assert table is not None
    assert data is not None
    assert sheet.title == "what changed since revision 1"
    assert "1 pulled run" in sheet.note
    assert len(sheet.rows) == len(table.rows) == len(changes.items) + len(changes.asked)
    assert all(len(row) == len(table.columns) for row in table.rows)
    plain = json.loads(data)
    assert [c["id"] for c in plain["items"]] == [c.id for c in changes.items]
    assert plain["moved_unasked"] == list(changes.moved_runs)


def test_every_kind_of_change_of_a_job_is_told_in_words() -> None:
    before = demo_job("B")
    wall, location, frame = before.walls[0], before.locations[0], before.frames[0]
    after = replace(
        before,
        walls=(replace(wall, spacing_in=24.0), *before.walls[1:]),
        locations=(replace(location, height_in=location.height_in + 4), *before.locations[1:]),
        frames=(replace(frame, spacing_in=12.0), *before.frames[1:]),
        obstacles=before.obstacles[1:],
        practice=replace(before.practice, fill_max=0.5),
    )
    told = {(a.kind, a.id): a.says for a in asked_changes(before, after)}
    assert told["wall", wall.id].endswith("changed: spacing")
    assert "above finished floor" in told["location", location.id]
    assert told["floor frame", frame.id] == f"floor frame {frame.id} changed: spacing"
    assert told["obstacle", before.obstacles[0].id].endswith("is gone")
    assert told["practice", "practice"] == "the firm's practice: fill max"
    assert len(told) == 5
    assert asked_changes(before, before) == ()
