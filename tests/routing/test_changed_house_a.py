"""What routing does when the house is not as wished: dead walls, closed ways, ducts, too many cables."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from tests.demo import job as demo_job
from tests.laws import check_laws

from bayrun.framing import lay_out
from bayrun.framing.records import Cover
from bayrun.geometry import Rect
from bayrun.house import End, Job, Location, Obstacle, Port, WishedRun
from bayrun.routing import least_way_in, route
from bayrun.routing.allow import Allowed
from bayrun.routing.plates import spots
from bayrun.wiring import Wiring


def with_runs(job: Job, location: Location, kinds: str) -> Job:
    location = replace(location, ports=(Port(kinds[0], len(kinds)),))
    runs = tuple(
        WishedRun(f"{location.id}-{k}{i}", k, End("enclosure", job.enclosure), End("location", location.id))
        for i, k in enumerate(kinds, start=1)
    )
    return replace(job, locations=(*job.locations, location), runs=(*job.runs, *runs))


def lawful(job: Job) -> Wiring:
    frame = lay_out(job)
    wiring = route(job, frame)
    check_laws(job, frame, wiring)
    return wiring


def test_a_dead_wall_on_a_slab_is_told_and_the_rest_is_planned() -> None:
    """A-W30 stands under a roof truss, on a slab (JOBMAP 7.1): no legal way out of it."""
    place = Location(
        "A90", "Primary vestibule", "1", "wall", 14.0, "A-W30", 12.0, "right", ports=(Port("D", 1),)
    )
    job = with_runs(demo_job("A"), place, "D")
    wiring = lawful(job)
    assert len(wiring.runs) == len(demo_job("A").runs)
    (lost,) = wiring.unreached
    assert lost.run == "A90-D1"
    assert "A-W30" in lost.last_place
    assert "roof truss" in lost.barred_by
    assert "slab" in lost.barred_by


def test_without_the_sleeve_the_garage_is_out_of_reach() -> None:
    job = demo_job("A")
    closed = tuple(replace(b, pass_point=None, needs_seal=False) for b in job.barriers)
    wiring = lawful(replace(job, barriers=closed))
    lost = {u.run for u in wiring.unreached}
    assert {"A15-D1", "A18-D1", "A19-D1", "A20-D1", "A20-D2", "A20-X1", "A14-T1"} <= lost
    assert "A01-D1" not in lost


def test_a_duct_across_the_attic_is_gone_around() -> None:
    job = demo_job("A")
    duct = Obstacle("A-O90", "supply duct", ("1",), rect=(270.0, 120.0, 470.0, 140.0), z_in=(97.0, 112.0))
    free = lawful(job)
    wiring = lawful(replace(job, obstacles=(*job.obstacles, duct)))
    assert not wiring.unreached
    # The corners of the duct are new points to turn at: a way past a dear zone may even get a little cheaper.
    assert wiring.cost > 0.995 * free.cost
    for run in wiring.runs:
        for p in run.path:
            assert not (270 < p.x < 470 and 120 < p.y < 140 and 97 < p.z < 112), run.id


def test_a_crowd_at_one_desk_opens_more_legal_holes() -> None:
    place = Location("A91", "Bed 2", "1", "wall", 14.0, "A-W01", 60.0, "left")
    job = with_runs(demo_job("A"), place, "D" * 40)
    wiring = lawful(job)
    over = [h for h in wiring.holes if h.wall == "A-W01" and any(o.startswith("A91") for o in h.occupants)]
    got = sum(o.startswith("A91") for h in over for o in h.occupants)
    assert got >= 40 - len(wiring.unreached)
    for hole in wiring.holes:
        area = sum((2 * c.r) ** 2 for c in hole.circles)
        assert area <= 0.40 * hole.diameter_in**2 + 1e-6  # the firm's fill, JOBMAP section 2


def test_the_enclosure_plate_takes_larger_bits_when_a_crowd_comes() -> None:
    """110 more cables cannot pass in 1 in holes of one bay: larger holes, with their plates, are planned."""
    place = Location(
        "A92", "Great room", "1", "ceiling", 96.25, x_in=393.0, y_in=252.0, ports=(Port("D", 90),)
    )
    job = with_runs(demo_job("A"), place, "D" * 90)
    frame = lay_out(job)
    wiring = route(job, frame)
    entry = [h for h in wiring.holes if h.wall == "A-W26" and h.axis == "up"]
    assert max(h.diameter_in for h in entry) > 1.0
    assert not wiring.unreached


def test_a_chord_over_the_wished_spot_names_the_offset_that_works() -> None:
    """Roof truss 8 has its center at x = 15'; a desk right under it is fed beside it."""
    place = Location(
        "A93", "Office (Bed 3)", "1", "wall", 14.0, "A-W01", 180.0, "left", ports=(Port("D", 1),)
    )
    wiring = lawful(with_runs(demo_job("A"), place, "D"))
    told = [b for b in wiring.blocked_plates if b[0] == "A-W01/top" and b[1] == pytest.approx(180.0)]
    assert told
    assert told[0][2] == "A-roof/8"
    assert "along the wall" in told[0][3]


@pytest.mark.parametrize("wished", [20.0, 24.0, 28.0])
def test_spots_keep_clear_of_a_cover(wished: float) -> None:
    cover = Cover("truss", Rect(23.25, -1.75, 24.75, 1.75))
    found = spots((16.75, 31.25), Allowed(1.0), [cover], wished, 1.0, 8)
    assert found
    assert all(abs(s.along_in - 24.0) >= 0.75 + 0.5 + 0.25 - 1e-6 for s in found)
    gaps = sorted(s.along_in for s in found)
    assert all(b - a >= 2.0 - 1e-6 for a, b in itertools.pairwise(gaps))


def test_spots_of_a_plate_wholly_covered_are_none() -> None:
    """BUILDING 10a: a 1-1/2 chord on the middle of a 3-1/2 plate leaves 1 in each side: no legal hole."""
    cover = Cover("truss", Rect(0.0, -0.75, 100.0, 0.75))
    assert spots((16.75, 31.25), Allowed(1.0, (-0.0, 0.0)), [cover], 24.0, 1.0, 8) == ()
    assert spots((16.75, 31.25), Allowed(0.75, (-0.75, 0.75)), [cover], 24.0, 1.0, 8) == ()


def test_least_way_counts_rise_and_fall() -> None:
    job = demo_job("A")
    # over the plates at 97-1/8: up 83-1/8 and down 83-1/8 besides the plan distance.
    assert least_way_in(job, (0.0, 0.0, 14.0), (100.0, 50.0, 14.0)) == pytest.approx(150.0 + 2 * 83.125)


def test_a_truck_with_large_bits_alone_still_makes_a_plan() -> None:
    """House B crosses a draftstop: with nothing under 2 in on the truck, its holes are 2 in."""
    job = demo_job("B")
    job = replace(job, practice=replace(job.practice, bits_in=(2.0, 2.5), least_hole_in=2.0))
    frame = lay_out(job)
    wiring = route(job, frame)
    drilled = [h for h in wiring.holes if not h.open_passage]
    assert drilled
    assert min(h.diameter_in for h in drilled) == 2.0
