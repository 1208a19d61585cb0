"""Done work never moves; what nothing asks to move stays as it was."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.demo import job as demo_job
from tests.laws import check_laws

from bayrun.framing import Frame, lay_out
from bayrun.house import Job, Obstacle
from bayrun.jobs import plan
from bayrun.routing import route
from bayrun.routing.done import wood_place
from bayrun.wiring import DoneBox, DoneHole, DoneRun, Frozen, Hole, PathPoint, Run, Wiring, WoodPlace

Planned = tuple[Job, Frame, Wiring]


@pytest.fixture(scope="module", params=["A", "B", "C"])
def house(request: pytest.FixtureRequest) -> Planned:
    job = demo_job(request.param)
    frame = lay_out(job)
    return job, frame, route(job, frame)


def drilled(job: Job, frame: Frame, wiring: Wiring, named: bool = True) -> tuple[DoneHole, ...]:
    members = {m.id: m for m in frame.members}
    return tuple(
        DoneHole(wood_place(h, members), h.diameter_in, h.id if named else "")
        for h in wiring.holes
        if not h.open_passage
    )


def spot(hole: Hole) -> tuple[float, ...]:
    return tuple(round(v, 4) for v in (hole.x, hole.y, hole.z, hole.diameter_in))


def moved(job: Job, name: str, to_in: float) -> Job:
    return replace(
        job,
        locations=tuple(replace(q, offset_in=to_in) if q.id == name else q for q in job.locations),
    )


def next_bay_in(job: Job, frame: Frame, name: str) -> float | None:
    """Middle of the nearest other full bay of a location's wall."""
    q = job.location(name)
    assert q.wall is not None
    assert q.offset_in is not None
    full = [
        b.center_in
        for b in frame.bays_of(q.wall)
        if b.clear.height > 84 and b.clear_width_in > 9 and abs(b.center_in - q.offset_in) > 8
    ]
    return min(full, key=lambda at: abs(at - q.offset_in), default=None)


def movable(job: Job) -> tuple[str, ...]:
    """Locations in a wall with their bay's neighbor free for them."""
    return tuple(q.id for q in job.locations if q.wall and q.offset_in is not None and q.ports)[:6]


def same(run: Run, other: Run) -> bool:
    return run.path == other.path


def test_nothing_asked_nothing_moves(house: Planned) -> None:
    job, frame, first = house
    assert route(job, frame, base=first) == first


def test_done_work_stands_where_it_is(house: Planned) -> None:
    job, frame, first = house
    frozen = Frozen(runs=tuple(DoneRun(r.id) for r in first.runs), holes=drilled(job, frame, first))
    wiring = route(job, frame, base=first, frozen=frozen)
    check_laws(job, frame, wiring)
    assert wiring.runs == first.runs
    before = {h.id: h for h in first.holes}
    assert {h.id for h in wiring.holes} == set(before)
    for hole in wiring.holes:
        old = before[hole.id]
        assert (spot(hole), hole.member, hole.plies) == (spot(old), old.member, old.plies)
        assert sorted(hole.occupants) == sorted(old.occupants)
        assert hole.set_by == ("" if hole.open_passage else "done")
    assert not wiring.done_told


def test_drilled_holes_are_known_by_their_place_alone(house: Planned) -> None:
    job, frame, first = house
    frozen = Frozen(holes=drilled(job, frame, first, named=False))
    wiring = route(job, frame, base=first, frozen=frozen)
    check_laws(job, frame, wiring)
    assert {h.id: spot(h) for h in wiring.holes} == {h.id: spot(h) for h in first.holes}
    for run in wiring.runs:  # a line over open space may be drawn straighter from where the hole really is
        assert run.holes == first.run(run.id).holes
        assert abs(run.length_in - first.run(run.id).length_in) <= 12.0


def test_a_moved_location_moves_its_own_runs_only(house: Planned) -> None:
    job, frame, first = house
    for name in movable(job):
        to_in = next_bay_in(job, frame, name)
        if to_in is None:
            continue
        asked = moved(job, name, to_in)
        wiring = route(asked, frame, base=first)
        check_laws(asked, frame, wiring)
        own = {r.id for r in job.runs if name in (r.from_end.id, r.to_end.id)}
        before = {r.id: r for r in first.runs}
        others = [r.id for r in wiring.runs if r.id not in own and not same(r, before[r.id])]
        assert len(others) <= 5, (name, others)
        old = {h.id: h for h in first.holes}
        for hole in wiring.holes:
            if hole.id in old:
                assert spot(hole)[:3] == spot(old[hole.id])[:3]


def test_a_pulled_run_keeps_its_way_when_its_location_moves(house: Planned) -> None:
    job, frame, first = house
    name = movable(job)[0]
    own = [r.id for r in job.runs if name in (r.from_end.id, r.to_end.id)]
    frozen = Frozen(runs=tuple(DoneRun(r) for r in own))
    offset_in = job.location(name).offset_in
    assert offset_in is not None
    asked = moved(job, name, offset_in + 24.0)
    wiring = route(asked, frame, base=first, frozen=frozen)
    for run in own:
        assert same(wiring.run(run), first.run(run))
    told = {t.about: t.says for t in wiring.done_told}
    assert set(told) == set(own)
    assert all("2' 0\" from where" in says or '24" from where' in says for says in told.values()), told
    found = [f for f in plan(asked, base=first, frozen=frozen).findings if f.rule == "done-work-differs"]
    assert {f.about[0] for f in found} == set(own)


def test_a_drilled_hole_that_breaks_a_rule_is_told_and_stays() -> None:
    """IRC R602.6: a bearing 2x4 stud takes 40 %, 1.40 in; a 2 in bit was used."""
    job = demo_job("B")
    frame = lay_out(job)
    first = route(job, frame)
    old = next(h for h in first.holes if h.axis == "along" and job.wall(h.wall).thickness_in == 3.5)
    members = {m.id: m for m in frame.members}
    frozen = Frozen(holes=(DoneHole(wood_place(old, members), 2.5),))
    made = plan(job, base=first, frozen=frozen)
    hole = made.wiring.hole(old.id)
    assert spot(hole) == (*spot(old)[:3], 2.5)
    assert [f for f in made.findings if f.rule == "stud-hole-size" and old.id in f.about]


def test_an_empty_drilled_hole_stays_in_the_plan() -> None:
    job = demo_job("B")
    frame = lay_out(job)
    first = route(job, frame)
    old = next(h for h in first.holes if h.axis == "along")
    at = replace(wood_place(old, {}), up_in=old.up_in + 12.0)
    frozen = Frozen(holes=(DoneHole(at, 1.0),))
    made = plan(job, base=first, frozen=frozen)
    (hole,) = [h for h in made.wiring.holes if h.set_by == "done"]
    assert hole.id not in {h.id for h in first.holes}
    assert int(hole.id[1:]) > max(int(h.id[1:]) for h in first.holes)
    assert hole.up_in == pytest.approx(old.up_in + 12.0)
    row = next(r for r in made.counted.drill if r.hole == hole.id)
    assert row.check.startswith("drilled already")


def test_cables_use_what_is_drilled_before_a_new_hole_is_made() -> None:
    """A hole drilled beside the planned one, before anything is pulled: the runs take it."""
    job = demo_job("B")
    frame = lay_out(job)
    first = route(job, frame)
    old = max(
        (h for h in first.holes if h.axis == "up" and not h.open_passage), key=lambda h: len(h.occupants)
    )
    at = replace(wood_place(old, {}), along_in=old.along_in + 2.0)
    frozen = Frozen(holes=(DoneHole(at, old.diameter_in),))
    wiring = route(job, frame, frozen=frozen)
    check_laws(job, frame, wiring)
    (hole,) = [h for h in wiring.holes if h.set_by == "done"]
    assert hole.occupants


def test_what_is_drilled_where_no_wood_is_now_is_told() -> None:
    job = demo_job("A")
    frame = lay_out(job)
    bay = frame.bays_of("A-W01")[1]
    frozen = Frozen(holes=(DoneHole(WoodPlace("A-W01", bay.center_in, 40.0), 1.0, "H7"),))
    wiring = route(job, frame, frozen=frozen)
    (told,) = wiring.done_told
    assert told.about == "H7"
    assert "where the job now has no wood" in told.says
    assert "H7" not in {h.id for h in wiring.holes}


def test_a_box_set_elsewhere_is_told() -> None:
    job = demo_job("A")
    frame = lay_out(job)
    location = next(q for q in job.locations if q.wall and q.offset_in is not None)
    assert location.wall is not None
    assert location.offset_in is not None
    right = WoodPlace(location.wall, location.offset_in, location.height_in)
    off = replace(right, along_in=location.offset_in + 10.0)
    here = route(job, frame, frozen=Frozen(boxes=(DoneBox(location.id, right),)))
    assert not here.done_told
    (told,) = route(job, frame, frozen=Frozen(boxes=(DoneBox(location.id, off),))).done_told
    assert '10" from where the job has it' in told.says


def test_a_pulled_run_no_longer_wished_is_told_and_keeps_its_room() -> None:
    job = demo_job("B")
    frame = lay_out(job)
    first = route(job, frame)
    run = max(first.runs, key=lambda r: len(r.holes))
    fewer = replace(job, runs=tuple(r for r in job.runs if r.id != run.id))
    wiring = route(fewer, frame, base=first, frozen=Frozen(runs=(DoneRun(run.id),)))
    check_laws(fewer, frame, wiring)
    assert any("no longer wished" in t.says for t in wiring.done_told)
    assert set(run.holes) <= {h.id for h in wiring.holes}


def test_a_run_pulled_another_way_keeps_that_way() -> None:
    job = demo_job("A")
    frame = lay_out(job)
    first = route(job, frame)
    run = first.runs[0]
    path = (run.path[0], PathPoint(run.path[0].x, run.path[0].y, 90.0), *run.path[2:])
    frozen = Frozen(runs=(DoneRun(run.id, path),))
    assert route(job, frame, base=first, frozen=frozen).run(run.id).path == path


def test_an_obstacle_over_drilled_holes_closes_them_and_says_so() -> None:
    job = demo_job("A")
    frame = lay_out(job)
    first = route(job, frame)
    run = next(r for r in first.runs if r.holes and first.hole(r.holes[-1]).wall)
    hole = first.hole(run.holes[-1])
    duct = Obstacle(
        "A-O99",
        "duct",
        (hole.level,),
        rect=(hole.x - 7, hole.y - 7, hole.x + 7, hole.y + 7),
        z_in=(0.0, 97.0),
    )
    after = replace(job, obstacles=(*job.obstacles, duct))
    frozen = Frozen(holes=tuple(d for d in drilled(job, frame, first) if d.id == hole.id))
    wiring = route(after, lay_out(after), base=first, frozen=frozen)
    kept = wiring.hole(hole.id)
    assert spot(kept) == spot(hole)
    assert any("no cable passes there now" in t.says for t in wiring.done_told)
