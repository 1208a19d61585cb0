"""Limits of framing members as routing asks for them: coordinates, straps, faces, gaps, never."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import pytest

from bayrun.findings import Severity
from bayrun.framing import Member
from bayrun.geometry import Box
from bayrun.house import Knockouts, Wall
from bayrun.limits import (
    Piece,
    across_plate_free,
    across_span,
    clear_between_in,
    hole_limits,
    largest_bit_in,
    limits_of,
    margins_of,
    nearest_center_in,
    notch_limits,
    plates_for,
    strap_for,
    too_near,
)
from bayrun.rules.judge import judge
from bayrun.tables import adopt

NOW = adopt()
STUD = Member(
    "W1/stud-1", "W1", "1", "stud", "wood", (15.25, 16.75), (1.5, 94.1), (-1.75, 1.75), Box(0, 0, 0, 1, 1, 1)
)
TOP = replace(STUD, role="top plate", along=(0.0, 120.0), up=(94.1, 97.1), plies=2)
JOIST = replace(STUD, role="joist", along=(0.0, 96.0), up=(97.0, 106.25), across=(15.25, 16.75))
WALL = Wall("W1", "1", (0.0, 0.0), (120.0, 0.0), "2x4", 3.5, 0.0, 120.0)


@dataclass(frozen=True)
class Drill:
    """A hole as the limits see it."""

    diameter_in: float
    across_in: float = 0.0
    along_in: float = 16.0
    up_in: float = 40.0
    axis: str = "along"
    open_passage: bool = False


def test_stud_is_measured_from_the_center_line() -> None:
    # 1-3/8: 0.625 + 0.6875 = 1.3125 from either face, that is 0.4375 each side of the center line.
    assert across_span(STUD, 1.375, NOW) == pytest.approx((-0.4375, 0.4375))
    assert across_plate_free(STUD, 0.75, NOW) == pytest.approx((-0.125, 0.125))  # 1.25 + 0.375 = 1.625
    assert across_plate_free(STUD, 1.25, NOW) is None
    assert across_span(STUD, 1.5, NOW) is None
    assert margins_of(Drill(1.0, 0.25), STUD) == (1.5, 1.0)


def test_joist_is_measured_from_its_bottom() -> None:
    assert across_span(JOIST, 1.0, NOW) == pytest.approx((2.5, 6.75))
    assert across_plate_free(JOIST, 1.0, NOW) == pytest.approx((1.75, 7.5))
    assert margins_of(Drill(1.0, 3.0, axis="across"), JOIST) == (2.5, 5.75)


def test_plate_faces_by_side() -> None:
    assert plates_for(Drill(1.0), STUD, NOW) == ()
    assert plates_for(Drill(1.0, 0.25), STUD, NOW) == ("left",)
    assert plates_for(Drill(1.0, -0.25), STUD, NOW) == ("right",)
    assert plates_for(Drill(1.25), TOP, NOW) == ("right", "left")  # one per face over both plies
    assert plates_for(Drill(1.25), replace(STUD, material="steel"), NOW) == ()
    assert plates_for(Drill(1.25, open_passage=True), STUD, NOW) == ()
    assert plates_for(Drill(1.0, 1.5, axis="across"), JOIST, NOW) == ("bottom",)
    assert plates_for(Drill(1.0), replace(STUD, role="subfloor"), NOW) == ()


def test_straps_of_top_plates() -> None:
    assert strap_for(Drill(2.0), TOP, NOW, wall=WALL)
    assert not strap_for(Drill(1.75), TOP, NOW, wall=WALL)
    assert not strap_for(Drill(2.0, open_passage=True), TOP, NOW)
    assert not strap_for(Drill(2.0), TOP, NOW, wall=replace(WALL, sheathed=True))
    assert not strap_for(Drill(2.0), replace(TOP, material="steel"), NOW)
    assert limits_of(TOP, NOW).strap_over_in == 1.75
    assert limits_of(replace(TOP, bearing=False), NOW).strap_over_in is None
    assert limits_of(STUD, NOW).strap_over_in is None


def test_gap_between_holes_counts_both_directions() -> None:
    a, b = Drill(1.0), Drill(1.0, across_in=1.2, up_in=41.6)
    assert clear_between_in(a, b) == pytest.approx(math.hypot(1.2, 1.6) - 1.0)  # 2 - 1
    assert too_near(a, b, 1.01)
    assert not too_near(a, b, 1.0)
    c, d = Drill(1.0, axis="across", across_in=4.0), Drill(0.5, axis="across", across_in=7.0, along_in=20.0)
    assert clear_between_in(c, d) == pytest.approx(5.0 - 0.75)


@pytest.mark.parametrize(
    ("changes", "largest_in", "edge_in", "gap_in"),
    [
        ({}, 1.4, 0.625, 1.0),
        ({"bearing": False}, 2.1, 0.625, 1.0),
        ({"bearing": False, "exterior": True}, 1.4, 0.625, 1.0),
        ({"plies": 2}, 2.1, 0.625, 1.0),
        ({"role": "king"}, 1.4, 0.625, 1.0),
        ({"role": "jack"}, 1.4, 0.625, 1.0),
        ({"role": "cripple"}, 1.4, 0.625, 1.0),
        ({"role": "end stud"}, 1.4, 0.625, 1.0),
        ({"role": "bottom plate"}, 2.25, 0.625, 1.0),  # 3.5 - 2 x 5/8: practice
        ({"role": "top plate", "plies": 2}, 2.25, 0.625, 1.0),
        ({"role": "subfloor"}, math.inf, 0.0, 1.0),
    ],
)
def test_limits_of_wall_members(
    changes: dict[str, object], largest_in: float, edge_in: float, gap_in: float
) -> None:
    told = limits_of(replace(STUD, **changes), NOW, firm_gap_in=1.0)  # type: ignore[arg-type]
    assert (told.largest_in, told.edge_min_in, told.gap_min_in) == (largest_in, edge_in, gap_in)
    assert told.why_never == ""


def test_limits_of_a_joist_take_the_codes_gap() -> None:
    told = limits_of(JOIST, NOW, firm_gap_in=1.0)
    assert (told.largest_in, told.gap_min_in) == (9.25 / 3, 2.0)
    assert limits_of(JOIST, NOW, firm_gap_in=3.0).gap_min_in == 3.0


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"role": "header"}, "header"),
        ({"role": "post"}, "post"),
        ({"role": "backing"}, "backing"),
        ({"role": "edge member", "material": "engineered"}, "rim"),
        ({"role": "beam"}, "beam"),
        ({"role": "beam", "material": "engineered"}, "engineered"),
        ({"role": "roof truss chord", "material": "truss"}, "truss"),
        ({"role": "floor truss chord", "material": "truss"}, "open-web"),
        ({"role": "concrete", "material": "concrete"}, "post"),
    ],
)
def test_never(changes: dict[str, object], why: str) -> None:
    told = limits_of(replace(STUD, **changes), NOW)  # type: ignore[arg-type]
    assert told.largest_in is None
    assert why in told.why_never


def test_factory_holes_are_known_and_nothing_is_drilled() -> None:
    i_joist = replace(JOIST, role="I-joist", material="I-joist")
    assert "chart" in limits_of(i_joist, NOW).cannot_tell
    charted = limits_of(i_joist, NOW, knockouts=Knockouts(1.5, 16.0, "maker"))
    assert (charted.largest_in, charted.factory_in, charted.only_factory) == (None, 1.5, True)
    light = limits_of(replace(STUD, material="steel", bearing=False), NOW)
    assert (light.largest_in, light.factory_in) == (None, 1.5)
    steel_track = hole_limits(Piece("steel", "plate", 3.625), NOW)
    assert (float(steel_track.largest or 0), steel_track.only_factory) == (2.375, False)


def test_nearest_center_and_largest_bit() -> None:
    stud = Piece("sawn", "stud", 3.5)
    assert nearest_center_in(stud, 1.0, 0.0, NOW) == 1.125
    assert nearest_center_in(stud, 1.0, 3.5, NOW) == 2.375
    assert nearest_center_in(stud, 1.0, 1.5, NOW) == 1.5
    assert nearest_center_in(stud, 1.5, 1.5, NOW) is None
    assert largest_bit_in(stud, (0.75, 1.375, 1.5), NOW) == 1.375
    assert largest_bit_in(Piece("truss", "joist", 3.5), (0.75,), NOW) is None
    # The edge clause alone may refuse a bit the size clause takes: 2x6 joist, 1-1/2 and not 1-13/16.
    assert largest_bit_in(Piece("sawn", "joist", 5.5), (1.5, 1.8125), NOW) == 1.5


def test_a_plate_may_lose_wood_by_practice_but_not_break_out() -> None:
    plate = Piece("sawn", "plate", 3.5)
    assert judge(plate, 2.25, 1.75, NOW) == ()
    (told,) = judge(plate, 2.5, 1.75, NOW)
    assert (told.rule, told.severity) == ("plate-hole-edge", Severity.FIX_SOON)
    assert told.says == 'The hole leaves 1/2" of wood at the room side; at least 5/8" must stay.'
    (told,) = judge(plate, 1.0, 3.25, NOW)
    assert told.severity is Severity.STOP
    assert told.says.startswith('The hole breaks out of the wood by 1/4" at the far side')


def test_notches_of_plates_and_engineered_wood() -> None:
    assert notch_limits(Piece("sawn", "plate", 3.5), NOW).depth_in == 1.75
    assert notch_limits(Piece("sawn", "stud", 3.5, bearing=False), NOW).depth_in == 1.4  # 40 %
    rafter = notch_limits(Piece("sawn", "rafter", 7.25), NOW)
    assert (rafter.depth_in, rafter.source.clause) == (pytest.approx(7.25 / 6), "R802.7.1")
    for piece, clause in (
        (Piece("I-joist", "joist", 11.875), "R502.8.2"),
        (Piece("engineered", "beam", 9.25), "R502.8.2"),
        (Piece("sawn", "header", 9.25), ""),
        (Piece("steel", "plate", 3.625), ""),
    ):
        told = notch_limits(piece, NOW)
        assert (told.depth_in, told.source.clause) == (0.0, clause)
        assert told.why_never
