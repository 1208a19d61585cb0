"""Framing against hand arithmetic, an independent proof of the demo houses, and a wall that was really drawn.

Sources: BUILDING 1.2 (layout marks as framers pull them: first stud's edge at 15-1/4 in, so its center is at
16); tests/data/check_demo.py, a separate program that proves the demo houses; a framed wall drawn by others.
"""

from __future__ import annotations

import random
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from tests.conftest import shared_file
from tests.demo import HOUSES, house_data
from tests.demo import job as demo_job

from bayrun.framing import Frame, lay_out, layout_centers_in
from bayrun.house import Job, Layout, Level, Opening, Revision, Wall

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "data"))
import itertools

import check_demo


def one_wall(wall: Wall, *openings: Opening, stud_in: float = 92.625) -> Job:
    level = Level("1", 0.0, stud_in + 4.5, slab=True)
    return Job("w", "one wall", Revision(), (level,), (), (wall,), openings=openings)


def plain_wall(**changes: Any) -> Wall:
    wall = Wall("W1", "1", (0.0, 0.0), (192.0, 0.0), "2x4", 3.5, 0.0, 192.0, bearing=False)
    return replace(wall, **changes)


def studs(frame: Frame, *roles: str) -> list[tuple[float, float]]:
    return [m.along for m in frame.members if m.role in roles]


def test_layout_marks_as_framers_pull_them() -> None:
    frame = lay_out(one_wall(plain_wall()))
    edges = [m.along[0] for m in frame.members if m.role == "stud"]
    # BUILDING 1.2: near edges at 15-1/4, 31-1/4, 47-1/4, 63-1/4; example 27: the fifth at 79-1/4.
    assert edges[:5] == pytest.approx([15.25, 31.25, 47.25, 63.25, 79.25])
    clear = [b.clear_width_in for b in frame.bays]
    assert clear[0] == pytest.approx(13.75)  # JOBMAP trap 3: the first bay
    assert clear[1:4] == pytest.approx([14.5, 14.5, 14.5])  # BUILDING 1.2


def test_24_on_center_leaves_22_and_a_half() -> None:
    frame = lay_out(one_wall(plain_wall(spacing_in=24.0, layout=Layout(first_mark_in=24.0))))
    assert [b.clear_width_in for b in frame.bays][1:4] == pytest.approx([22.5, 22.5, 22.5])


def test_layout_from_the_far_end_counts_from_there() -> None:
    wall = plain_wall(layout=Layout(origin="end"), plate_end_in=190.0)
    assert [c for _, c in layout_centers_in(wall)][-1] == pytest.approx(174.0)


@pytest.mark.parametrize(("stud_in", "framed_in"), [(92.625, 97.125), (104.625, 109.125), (116.625, 121.125)])
def test_framed_height_is_stud_and_three_plates(stud_in: float, framed_in: float) -> None:
    # BUILDING 1.2 and worked example 26: 92-5/8 + 3 x 1-1/2 = 97-1/8.
    frame = lay_out(one_wall(plain_wall(), stud_in=stud_in))
    top = next(m for m in frame.members if m.role == "top plate")
    bottom = next(m for m in frame.members if m.role == "bottom plate")
    stud = next(m for m in frame.members if m.role == "stud")
    assert top.up[1] == pytest.approx(framed_in)
    assert (top.plies, bottom.plies) == (2, 1)
    assert stud.up[1] - stud.up[0] == pytest.approx(stud_in)


def test_an_opening_takes_kings_jacks_header_sill_and_cripples() -> None:
    window = Opening("N1", "W1", "window", 60.0, 48.0, 36.0, 46.5, 7.25)
    frame = lay_out(one_wall(plain_wall(), window))
    roles = [m.role for m in frame.members]
    assert roles.count("king") == 2
    assert roles.count("jack") == 2
    assert roles.count("header") == 1
    assert roles.count("sill") == 1
    # layout studs at 64, 80 and 96 fall in 60 to 108: a cripple over and one under for each.
    assert roles.count("cripple") == 6
    header = next(m for m in frame.members if m.role == "header")
    assert header.up == pytest.approx((82.5, 89.75))
    assert header.along == pytest.approx((58.5, 109.5))  # it sits on both jacks
    assert header.never_drilled
    names = {m.id for m in frame.members if m.role == "stud"}
    plain = {m.id for m in lay_out(one_wall(plain_wall())).members if m.role == "stud"}
    assert names < plain  # a window renames no stud


def test_a_door_cuts_the_bottom_plate() -> None:
    door = Opening("D1", "W1", "door", 60.0, 32.0, 0.0, 82.5, 5.5)
    frame = lay_out(one_wall(plain_wall(), door))
    bottoms = [m.along for m in frame.members if m.role == "bottom plate"]
    assert bottoms == [(0.0, 60.0), (92.0, 192.0)]


def test_members_of_a_wall_never_overlap() -> None:
    for house in HOUSES:
        frame = lay_out(demo_job(house))
        for wall in demo_job(house).walls:
            mine = list(frame.of(wall.id))
            for i, a in enumerate(mine):
                for b in mine[i + 1 :]:
                    along = min(a.along[1], b.along[1]) - max(a.along[0], b.along[0])
                    up = min(a.up[1], b.up[1]) - max(a.up[0], b.up[0])
                    assert not (along > 1e-6 and up > 1e-6), f"{a.id} overlaps {b.id}"


@pytest.mark.parametrize("house", HOUSES)
def test_stud_centers_are_the_demo_houses(house: str) -> None:
    job = demo_job(house)
    for wall in house_data(house)["walls"]:
        centers = [c for _, c in layout_centers_in(job.wall(wall["id"]))]
        assert centers == pytest.approx(wall["stud_centers"]), wall["id"]


@pytest.mark.parametrize("house", HOUSES)
def test_bays_agree_with_an_independent_program(house: str) -> None:
    """Clear intervals at random heights against check_demo.py, which shares no code with us."""
    job, data = demo_job(house), house_data(house)
    frame = lay_out(replace(job, obstacles=()))
    dice = random.Random(7)
    compared = 0
    for wall in data["walls"]:
        if wall["layout"] is None:
            continue
        low, high = wall["plate_start"], wall["plate_end"]
        top = job.level(wall["level"]).plate_top_in
        for _ in range(40):
            along, up = dice.uniform(low + 2, high - 2), dice.uniform(2.0, top - 4.0)
            if any(
                abs(up - edge) < 2.5
                for o in data["openings"]
                if o["wall"] == wall["id"]
                for edge in (o["sill"], o["sill"] + o["height"], o["sill"] + o["height"] + o["header_depth"])
            ):
                continue  # sills and header edges: the independent program takes them as lines
            theirs = check_demo.clear_at(wall, data, up, along)
            ours = next(
                (
                    b.clear
                    for b in frame.bays_of(wall["id"])
                    if b.clear.u0 < along < b.clear.u1 and b.clear.v0 < up < b.clear.v1
                ),
                None,
            )
            if theirs is None or theirs[1] - theirs[0] < 1.5:
                continue
            assert ours is not None, (wall["id"], along, up, theirs)
            low_jack, high_jack = _jack_sides(data, wall["id"], up, ours.u0, ours.u1)
            expected = (theirs[0] - low_jack, theirs[1] + high_jack)
            assert (ours.u0, ours.u1) == pytest.approx(expected, abs=1e-6), (wall["id"], along, up)
            compared += 1
    assert compared > 200


def _jack_sides(data: Any, wall: str, up: float, low: float, high: float) -> tuple[float, float]:
    """Over a header check_demo.py lets the jack run on; a jack carries the header and ends under it."""
    for o in data["openings"]:
        if o["wall"] == wall and up > o["sill"] + o["height"]:
            a, b = o["offset"], o["offset"] + o["width"]
            sides = (
                1.5 if abs(low - (a - 1.5)) < 1e-6 else 0.0,
                1.5 if abs(high - (b + 1.5)) < 1e-6 else 0.0,
            )
            if any(sides):
                return sides
    return 0.0, 0.0


@pytest.mark.parametrize("house", HOUSES)
def test_every_enclosure_candidate_has_its_14_and_a_half(house: str) -> None:
    job = demo_job(house)
    frame = lay_out(job)
    for box in job.enclosures:
        center = sum(box.bay_studs_in) / 2
        bay = next(b for b in frame.bays_of(box.wall) if b.clear.u0 < center < b.clear.u1)
        assert bay.clear_width_in == pytest.approx(14.5)
        assert bay.center_in == pytest.approx(center)


@pytest.mark.parametrize(
    ("house", "wall", "along", "over"),
    [
        # JOBMAP 7.1: chords stand dead over the plates of x = 7', 11', 15'.
        ("A", "A-W29", 30.0, True),
        ("A", "A-W30", 12.0, True),
        ("A", "A-W31", 80.0, True),
        # and pass clear of x = 22', 28', 40', 46'.
        ("A", "A-W24", 36.0, False),
        ("A", "A-W26", 58.75, False),
        # JOBMAP 7.2: girder truss over B-120, truss over B-125.
        ("B", "B-120", 108.0, True),
        ("B", "B-125", 30.0, True),
        # JOBMAP 7.3: roof trusses dead over y = 19', 23' and 27' on level 3.
        ("C", "C-327", 72.0, True),
    ],
)
def test_traps_over_plates_are_seen(house: str, wall: str, along: float, over: bool) -> None:
    covers = dict(lay_out(demo_job(house)).over)[f"{wall}/top"]
    middle = [c for c in covers if c.rect.u0 < along < c.rect.u1 and c.rect.v0 < 0.5 and c.rect.v1 > -0.5]
    assert bool(middle) is over


def test_a_pipe_in_the_wall_splits_its_bay() -> None:
    job = demo_job("A")
    pipe = next(o for o in job.obstacles if o.id == "A-O5")  # 2 in vent at (22', 20'), in wall A-W23
    bays = lay_out(job).bays_of("A-W23")
    beside = [b for b in bays if pipe.id in (b.low, b.high)]
    assert beside
    assert all(b.clear.u1 <= 48.0 - 1.1875 or b.clear.u0 >= 48.0 + 1.1875 for b in beside)


def test_a_wall_framed_by_others_has_the_same_studs() -> None:
    """houses/stud_wall: one wall drawn stick by stick in IFC, laid out here from its own parameters."""
    from bayrun.files.ifc_studs import read_studs

    theirs = read_studs(shared_file("houses/stud_wall/wall-elemented-case.ifc"))
    first = sorted(s.center_in for s in theirs.full_studs)[1]
    wall = Wall(
        "W1",
        "1",
        (0.0, 0.0),
        (theirs.length_in, 0.0),
        "2x4",
        theirs.sticks[0].depth_in,
        0.0,
        theirs.length_in,
        spacing_in=theirs.spacing_in or 0.0,
        layout=Layout(first_mark_in=first),
        bearing=False,
    )
    openings = [
        Opening(f"O{i}", "W1", "opening", a, b - a, sill, head - sill, 1.5)
        for i, (a, b, sill, head) in enumerate(theirs.openings)
    ]
    frame = lay_out(one_wall(wall, *openings, stud_in=theirs.height_in - 4.5))
    ours = studs(frame, "stud", "end stud", "king")
    assert len(ours) == len(theirs.full_studs)
    assert theirs.spacing_in == pytest.approx(16.0)
    layout = [c for _, c in layout_centers_in(wall)]
    assert [b - a for a, b in itertools.pairwise(layout)] == pytest.approx([16.0] * (len(layout) - 1))
    # The file restarts its layout after each opening, ours runs through (BUILDING 1.2: cripples keep the
    # layout), so positions can be compared up to the first opening only.
    low = theirs.openings[0][0]
    their_low = sorted(s.center_in for s in theirs.full_studs if s.center_in < low - 3)
    our_low = sorted((a + b) / 2 for a, b in studs(frame, "stud", "end stud") if b < low - 3)
    assert our_low == pytest.approx(their_low, abs=1 / 16)
