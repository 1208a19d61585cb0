"""A new cable finds every hole of its bay full: a few others move, or it is told; nothing pulled moves."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.demo import job as demo_job
from tests.laws import check_laws

from bayrun.cables.packing import PackingCache
from bayrun.framing import Frame, lay_out
from bayrun.geometry import Rect
from bayrun.house import Choice, End, Job, WishedRun
from bayrun.routing import route
from bayrun.routing.build import Passages
from bayrun.routing.make_room import make_room
from bayrun.routing.mesh import weave
from bayrun.routing.records import Cell, Endpoint, Place, Slot
from bayrun.routing.solver import Errand, Solver
from bayrun.takeoff.changes import moved_runs
from bayrun.wiring import DoneRun, Frozen, Wiring


def crowded() -> tuple[Job, Frame, Wiring, Job]:
    """House B with only the 3/4 in bit, filled up by data cables to B01 until one more has no way."""
    job = demo_job("B")
    job = replace(job, practice=replace(job.practice, bits_in=(0.75,), least_hole_in=0.75))
    frame = lay_out(job)
    last = route(job, frame)
    assert not last.unreached
    for n in range(200):
        more = tuple(
            WishedRun(f"B01-D{100 + 8 * n + k}", "D", End("enclosure", job.enclosure), End("location", "B01"))
            for k in range(8)
        )
        fuller = replace(job, runs=(*job.runs, *more))
        after = route(fuller, frame, base=last)
        if after.unreached:
            return job, frame, last, fuller
        job, last = fuller, after
    raise AssertionError("the house never fills up")


def test_as_few_as_must_move_for_one_more() -> None:
    job, frame, base, fuller = crowded()
    wiring = route(fuller, frame, base=base)
    check_laws(fuller, frame, wiring)
    others = moved_runs(base, wiring)
    lost = {u.run for u in wiring.unreached}
    assert not lost & {r.id for r in job.runs}  # nobody loses a way to one that came later
    assert len(others) <= 5 * (len(fuller.runs) - len(job.runs))


def two_spaces(small_holes: int) -> tuple[Solver, Errand, dict[int, Errand]]:
    """Two spaces, a 1 in hole between them and some of 3/4 in beside it; two thin cables lie in the large.

    At 40 % the large hole takes 0.40 in2 of squared diameters, a small one 0.225: the thick cable (0.25) fits
    only the large one, and only when both thin ones (0.16 each) have left it.
    """
    cells = tuple(
        Cell(name, "open", "F", "1", Rect(x, 0.0, x + 100.0, 100.0)) for name, x in (("L", 0.0), ("R", 110.0))
    )
    places = []
    for n in range(small_holes + 1):
        y = 10.0 + 20.0 * n
        slot = Slot(y, 0.0, 0.0, (105.0, y, 0.0), (100.0, y, 0.0), (110.0, y, 0.0))
        size_in = 0.75 if n else 1.0
        places.append(Place(f"P{n}", "L", "R", f"M{n}", "across", size_in, (slot,), 1_000_000))
    ends = (Endpoint("A", (10.0, 10.0, 0.0), "L"), Endpoint("B", (200.0, 10.0, 0.0), "R"))
    graph = Passages(cells, tuple(places), ends, (), (), ())
    solver = Solver(weave(graph), graph.places, 0.40, 1.0, PackingCache())
    thin = {n: Errand(n, "D", "A", "B", 0.40, 100.0) for n in (0, 1)}
    for errand in thin.values():
        solver.lay(errand)
    assert {solver.laid[n].passed[0][0] for n in thin} == {0}
    return solver, Errand(9, "X", "A", "B", 0.50, 100.0), thin


def test_a_thick_cable_moves_the_thin_ones_out_of_its_only_hole() -> None:
    solver, thick, thin = two_spaces(2)
    assert solver.lay(thick) is None
    left, moved = make_room(solver, [thick], thin)
    assert (left, moved) == ([], {0, 1})
    assert solver.laid[9].passed[0][0] == 0
    assert {solver.laid[n].passed[0][0] for n in thin} == {1, 2}


@pytest.mark.parametrize(("small_holes", "may_move"), [(1, (0, 1)), (2, (0,)), (2, ())])
def test_where_one_of_them_has_no_other_way_all_is_put_back(
    small_holes: int, may_move: tuple[int, ...]
) -> None:
    solver, thick, thin = two_spaces(small_holes)
    before = solver.cost()
    left, moved = make_room(solver, [thick], {n: thin[n] for n in may_move})
    assert (left, moved) == ([thick], set())
    assert solver.cost() == before
    assert {solver.laid[n].passed[0][0] for n in thin} == {0}
    assert sorted(solver.holes[solver.laid[0].passed[0][1]].runs) == [0, 1]


def test_pulled_runs_never_make_room() -> None:
    _, frame, base, fuller = crowded()
    frozen = Frozen(runs=tuple(DoneRun(r.id) for r in base.runs))
    wiring = route(fuller, frame, base=base, frozen=frozen)
    for run in base.runs:
        assert wiring.run(run.id).path == run.path
    assert wiring.unreached
    assert all(u.barred_by for u in wiring.unreached)
    pins = tuple(Choice("pin run", r.id, "") for r in base.runs[:1])
    told = route(replace(fuller, choices=pins), frame, base=base).choices
    assert told[0].became == "not followed"
