"""Nail plates, straps and grommets."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bayrun.house import FacePiece
from bayrun.takeoff.plates import grommets, nail_plates, plate_size, straps
from takeoff import small_house as small


@pytest.mark.parametrize(
    ("bit_in", "faces"),
    # Source: NEC 300.4(A)(1), 1-1/4 in, worked by hand for a 3-1/2 in member drilled dead center: 3/4 leaves
    # 1-3/8, 7/8 1-5/16, 1 exactly 1-1/4 (no plate); 1-1/8 leaves 1-3/16: from there both faces.
    [(0.75, 0), (0.875, 0), (1.0, 0), (1.125, 2), (1.25, 2), (1.5, 2), (2.0, 2)],
)
def test_plates_agree_with_the_printed_hole_table(bit_in: float, faces: int) -> None:
    wiring = small.wiring(
        holes=(small.plate_hole("H1", 100.0, bit_in), small.stud_hole("H2", 1, 18.75, bit_in))
    )
    found = nail_plates(small.job(), small.frame(), wiring)
    assert [p.hole for p in found] == ["H1"] * faces + ["H2"] * faces


def test_a_hole_off_center_takes_a_plate_on_the_near_face_named_by_its_room() -> None:
    # 7/8 in hole, center 1/2 in toward Laundry (the right face): 3.5/2 - 0.5 - 0.4375 = 13/16 in left there.
    wiring = small.wiring(holes=(small.stud_hole("H7", 1, 18.75, 0.875, across_in=-0.5),))
    (plate,) = nail_plates(small.job(), small.frame(), wiring)
    assert (plate.id, plate.side, plate.face) == ("P7-2", "right", "Laundry")
    assert plate.reason == 'edge of the hole 13/16" from the Laundry side, under 1-1/4"'
    other = small.wiring(holes=(small.stud_hole("H7", 1, 18.75, 0.875, across_in=0.5),))
    (mirrored,) = nail_plates(small.job(), small.frame(), other)
    assert (mirrored.id, mirrored.side, mirrored.face) == ("P7-1", "left", "Dining")
    assert mirrored.reason == 'edge of the hole 13/16" from the Dining side, under 1-1/4"'


def test_faces_follow_the_rooms_along_the_wall_and_outdoors() -> None:
    pieces = (FacePiece("Dining", 0.0, 60.0), FacePiece("Hall", 60.0, 192.0))
    job = small.job(walls=(small.wall(left=pieces, right=()),))
    wiring = small.wiring(holes=(small.plate_hole("H1", 30.0, 1.25), small.plate_hole("H2", 90.0, 1.25)))
    assert [p.face for p in nail_plates(job, small.frame(), wiring)] == [
        "Dining",
        "outside",
        "Hall",
        "outside",
    ]


@pytest.mark.parametrize(
    ("through_in", "bit_in", "size"),
    # By hand from the sizes on the shelf: 1-1/2 wide, 2-1/2, 3, 5 and 9 long; either way round.
    [
        (1.5, 1.25, (1.5, 2.5, 1)),  # a stud
        (1.5, 2.0, (1.5, 2.5, 1)),  # a stud, the plate along its length
        (3.0, 1.25, (1.5, 3.0, 1)),  # a double top plate, or a king with its jack
        (4.5, 1.25, (1.5, 5.0, 1)),
        (3.0, 2.0, (1.5, 3.0, 2)),  # wider than a plate both ways: two side by side
    ],
)
def test_plate_size_covers_hole_and_plies(
    through_in: float, bit_in: float, size: tuple[float, float, int]
) -> None:
    assert plate_size(through_in, bit_in) == size
    width_in, length_in, pieces = size
    assert width_in * length_in * pieces >= through_in * bit_in


def test_one_plate_a_face_over_king_and_jack() -> None:
    king, jack = small.stud(1, 18.75), replace(small.stud(2, 20.25), role="jack")
    hole = small.stud_hole("H3", 1, 18.75, 1.25, plies=("W1/stud-2",))
    found = nail_plates(small.job(), small.frame(small.top(), king, jack), small.wiring(holes=(hole,)))
    assert [(p.id, p.length_in) for p in found] == [("P3-1", 3.0), ("P3-2", 3.0)]


def test_steel_takes_a_grommet_and_no_plate_and_an_open_passage_takes_no_plate() -> None:
    frame = small.frame(small.top(), small.stud(1, 18.75, "steel"), small.stud(2, 34.75))
    punched = small.stud_hole("H1", 1, 18.75, 1.5, open_passage=True)
    sleeve = small.stud_hole("H2", 2, 34.75, 1.5, open_passage=True)
    wiring = small.wiring(holes=(punched, sleeve))
    assert nail_plates(small.job(), frame, wiring) == ()
    assert [(g.id, g.hole, g.size_in) for g in grommets(small.job(), frame, wiring)] == [("G1-1", "H1", 1.5)]


@pytest.mark.parametrize(
    ("depth_in", "bit_in", "strapped"),
    # Source: IRC R602.6.1: more than 50 % of the width; 2x4 1-3/4, 2x6 2-3/4 are on the limit and pass.
    [(3.5, 1.75, False), (3.5, 1.875, True), (5.5, 2.75, False), (5.5, 2.875, True)],
)
def test_strap_over_half_the_width(depth_in: float, bit_in: float, strapped: bool) -> None:
    frame = small.frame(small.top(bearing=True, depth_in=depth_in))
    wiring = small.wiring(holes=(small.plate_hole("H4", 100.0, bit_in),))
    found = straps(small.job(walls=(small.wall(bearing=True),)), frame, wiring)
    assert [s.id for s in found] == (["ST4"] if strapped else [])
    if strapped:
        assert found[0].length_in == pytest.approx(bit_in + 12)  # 6 in past the opening on each side


def test_no_strap_where_the_wall_bears_nothing_or_panels_cover_it() -> None:
    wiring = small.wiring(holes=(small.plate_hole("H4", 100.0, 2.0),))
    assert straps(small.job(), small.frame(small.top()), wiring) == ()
    sheathed = small.job(walls=(small.wall(bearing=True, sheathed=True),))
    assert straps(sheathed, small.frame(small.top(bearing=True)), wiring) == ()


def test_holes_side_by_side_are_one_cut() -> None:
    # Two 1 in holes across one section of a 2x4 plate cut 2 in of 3-1/2: over half, though neither is.
    frame, job = small.frame(small.top(bearing=True)), small.job(walls=(small.wall(bearing=True),))
    side_by_side = (
        small.plate_hole("H1", 100.0, 1.0),
        small.plate_hole("H2", 100.5, 1.0),
    )
    (strap,) = straps(job, frame, small.wiring(holes=side_by_side))
    assert (strap.hole, strap.length_in) == ("H1", pytest.approx(1.5 + 12))
    apart = (small.plate_hole("H1", 100.0, 1.0), small.plate_hole("H2", 101.5, 1.0))
    assert straps(job, frame, small.wiring(holes=apart)) == ()
