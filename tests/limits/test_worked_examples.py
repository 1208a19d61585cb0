"""The worked examples of the hole clauses, by hand arithmetic; each names its clause.

Sources: IRC R602.6 (studs), R602.6.1 (plates), R502.8.1 (joists), NEC 300.4(A)(1) (plates of steel). The
arithmetic stands beside each case; nothing here is our own output.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from bayrun.findings import Severity
from bayrun.limits import (
    Piece,
    clear_span,
    largest_hole_in,
    nail_plates_needed,
    notch_allowed,
    plate_free_interval,
    strap_length_in,
    strap_needed,
)
from bayrun.rules.judge import judge
from bayrun.rules.quick import quick_hole
from bayrun.tables import adopt

NOW = adopt()
D = {"2x3": 2.5, "2x4": 3.5, "2x6": 5.5, "2x8": 7.25, "2x10": 9.25, "2x12": 11.25}


def stud(size: str, **facts: bool) -> Piece:
    """A sawn stud; bearing unless said."""
    return Piece("sawn", "stud", D[size], **facts)


def broken(piece: Piece, diameter_in: float, center_in: float | None = None) -> set[str]:
    """Slugs of the limits a hole breaks."""
    at_in = piece.depth_in / 2 if center_in is None else center_in
    return {b.rule for b in judge(piece, diameter_in, at_in, NOW) if b.severity is Severity.STOP}


SIZE, EDGE = "stud-hole-size", "stud-hole-edge"


@pytest.mark.parametrize(
    ("number", "piece", "diameter_in", "center_in", "stops", "plates"),
    [
        (1, stud("2x4"), 1.0, None, set(), 0),  # edge (3.5 - 1) / 2 = 1.25, on the limit: R602.6, 300.4(A)(1)
        (2, stud("2x4"), 1.25, None, set(), 2),  # 35.7 %, edge 1.125
        (3, stud("2x4"), 1.375, None, set(), 2),  # 39.29 %, edge 1.0625
        (4, stud("2x4"), 1.5, None, {SIZE}, 2),  # 42.86 % > 40
        (4, stud("2x4", doubled=True), 1.5, None, set(), 2),  # <= 60 %
        (4, stud("2x4", bearing=False), 1.5, None, set(), 2),
        (5, stud("2x4", bearing=False), 2.125, None, {SIZE}, 2),  # 60.71 % > 60
        (6, stud("2x4", bearing=False), 2.0625, None, set(), 2),  # 58.93 %, edge 0.71875
        (7, stud("2x4", doubled=True), 2.0, None, set(), 2),  # 57.14 %
        (8, stud("2x4"), 1.4, 1.25, {EDGE}, 1),  # edge 1.25 - 0.7 = 0.55 < 0.625; far side 1.55
        (9, stud("2x4"), 0.875, 1.5, set(), 1),  # near 1.0625, far 1.5625
        (12, stud("2x6"), 2.1875, None, set(), 0),  # 39.77 %, edge 1.65625
        (13, stud("2x6", bearing=False), 3.3125, None, {SIZE}, 2),  # 60.23 % > 60
        (14, stud("2x3", bearing=False), 1.0, None, set(), 2),  # 40 %, edge 0.75
    ],
)
def test_studs(
    number: int, piece: Piece, diameter_in: float, center_in: float | None, stops: set[str], plates: int
) -> None:
    assert broken(piece, diameter_in, center_in) == stops, f"example {number}"
    assert len(nail_plates_needed(piece.depth_in, diameter_in, center_in, NOW)) == plates, f"example {number}"


def test_example_8_gives_the_centers_that_pass() -> None:
    # 0.625 + 0.7 = 1.325 to 3.5 - 1.325 = 2.175
    assert clear_span(stud("2x4"), 1.4, NOW) == pytest.approx((1.325, 2.175), abs=1e-12)


def test_example_9_plates_the_near_face_only() -> None:
    assert nail_plates_needed(3.5, 0.875, 1.5, NOW) == ("near",)


@pytest.mark.parametrize(
    ("number", "size", "depth_in", "allowed"),
    [
        (10, "2x4", 0.875, True),  # 25 %, inclusive
        (10, "2x4", 1.0, False),  # 28.6 %
        (11, "2x6", 1.375, True),  # 25 %
        (11, "2x6", 1.5, False),  # 27.3 %
    ],
)
def test_stud_notches(number: int, size: str, depth_in: float, allowed: bool) -> None:
    assert notch_allowed(stud(size), NOW, depth_in=depth_in) is allowed, f"example {number}, R602.6"


@pytest.mark.parametrize(
    ("number", "size", "cut_in", "strap", "length_in"),
    [
        (15, "2x4", 1.75, False, 13.75),  # 50 %, not more than half
        (16, "2x4", 2.0, True, 14.0),  # 57.1 %; 2 + 2 x 6
        (17, "2x6", 3.0, True, 15.0),  # 54.5 %, limit 2.75
    ],
)
def test_top_plates(number: int, size: str, cut_in: float, strap: bool, length_in: float) -> None:
    plate = Piece("sawn", "plate", D[size])
    assert strap_needed(plate, cut_in, NOW) is strap, f"example {number}, R602.6.1"
    assert strap_length_in(cut_in, NOW) == length_in


def test_example_15_plate_hole_takes_nail_plates() -> None:
    assert nail_plates_needed(3.5, 1.75, None, NOW) == ("near", "far")  # edge 0.875


@pytest.mark.parametrize("waiver", [{"sheathed": True}, {"bearing": False}])
def test_strap_is_waived(waiver: dict[str, bool]) -> None:
    # R602.6.1: panels over the whole side; only exterior and bearing walls.
    assert not strap_needed(Piece("sawn", "plate", 3.5, **waiver), 2.0, NOW)


def test_exterior_plate_counts_as_bearing() -> None:
    assert strap_needed(Piece("sawn", "plate", 3.5, bearing=False, exterior=True), 2.0, NOW)


@pytest.mark.parametrize(
    ("number", "size", "diameter_in", "center_in", "stops"),
    [
        (18, "2x10", 9.25 / 3, None, set()),  # 3-1/12, edges 3.083
        (18, "2x10", 3.125, None, {"joist-hole-size"}),
        (19, "2x6", 1.5, None, set()),  # 5.5 - 4, dead center only
        (19, "2x6", 1.8125, None, {"joist-hole-edge"}),  # edge 1.844 < 2, under depth/3
        (19, "2x6", 1.5, 2.76, {"joist-hole-edge"}),
        (20, "2x8", 1.0, 7.25 - 1.75 - 0.5, {"joist-hole-edge"}),  # top edge 1-3/4 from the joist's top
    ],
)
def test_joists(number: int, size: str, diameter_in: float, center_in: float | None, stops: set[str]) -> None:
    assert broken(Piece("sawn", "joist", D[size]), diameter_in, center_in) == stops, f"example {number}"


def test_example_19_leaves_one_point() -> None:
    assert clear_span(Piece("sawn", "joist", 5.5), 1.5, NOW) == (2.75, 2.75)


@pytest.mark.parametrize(
    ("number", "depth_in", "length_in", "center_ft", "at_end", "allowed"),
    [
        (22, 1.5, 3.0, 2.4, False, True),  # 1.5 <= 1.542, 3 <= 3.083, outside 4 to 8 ft
        (23, 1.5, 3.0, 6.0, False, False),  # middle third
        (24, 2.25, 0.0, 0.0, True, True),  # 9.25 / 4 = 2.3125
        (24, 2.375, 0.0, 0.0, True, False),
    ],
)
def test_joist_notches(
    number: int, depth_in: float, length_in: float, center_ft: float, at_end: bool, allowed: bool
) -> None:
    joist = Piece("sawn", "joist", D["2x10"])
    told = notch_allowed(
        joist,
        NOW,
        depth_in=depth_in,
        length_in=length_in,
        center_from_bearing_in=12 * center_ft,
        span_in=144.0,
        at_end=at_end,
    )
    assert told is allowed, f"example {number}, R502.8.1"


def test_a_notch_nobody_placed_is_refused() -> None:
    assert not notch_allowed(Piece("sawn", "joist", 9.25), NOW, depth_in=0.5, length_in=1.0)


# --- exact limits -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("piece", "exact"),
    [
        (stud("2x4"), "1.4"),
        (stud("2x4", bearing=False), "2.1"),
        (stud("2x4", doubled=True), "2.1"),
        (stud("2x6"), "2.2"),
        (stud("2x6", bearing=False), "3.3"),
        (stud("2x3"), "1"),
        (stud("2x3", bearing=False), "1.5"),
        (stud("2x4", bearing=False, exterior=True), "1.4"),
        (Piece("sawn", "joist", 5.5), "11/6"),
        (Piece("sawn", "joist", 7.25), "29/12"),
        (Piece("sawn", "joist", 9.25), "37/12"),
        (Piece("sawn", "joist", 11.25), "3.75"),
        (Piece("sawn", "rafter", 7.25), "29/12"),
        (Piece("sawn", "plate", 3.5), "1.75"),
        (Piece("sawn", "plate", 5.5), "2.75"),
    ],
)
def test_limit_is_the_exact_fraction(piece: Piece, exact: str) -> None:
    limit_in = largest_hole_in(piece, NOW)
    assert limit_in == float(Fraction(exact))
    if piece.role == "stud":
        assert SIZE not in broken(piece, limit_in)
        assert SIZE in broken(piece, limit_in + 0.001)


def test_edge_passes_at_five_eighths() -> None:
    # 1 in hole, center 1.125: wood 0.625 exactly. R602.6
    assert broken(stud("2x4"), 1.0, 1.125) == set()
    assert broken(stud("2x4"), 1.0, 1.124) == {EDGE}
    assert broken(stud("2x4"), 1.0, 3.5 - 1.124) == {EDGE}


def test_joist_edge_passes_at_two_inches() -> None:
    joist = Piece("sawn", "joist", 9.25)
    assert broken(joist, 1.0, 2.5) == set()
    assert broken(joist, 1.0, 2.499) == {"joist-hole-edge"}
    assert broken(joist, 1.0, 9.25 - 2.499) == {"joist-hole-edge"}


def test_one_inch_in_a_2x4_is_plate_free_at_one_point_only() -> None:
    assert plate_free_interval(3.5, 1.0, NOW) == (1.75, 1.75)
    assert plate_free_interval(3.5, 1.001, NOW) is None
    assert nail_plates_needed(3.5, 1.0, 1.76, NOW) == ("far",)
    assert plate_free_interval(2.5, 0.25, NOW) is None  # no hole in a 2x3 is plate-free


# --- never, and cannot tell -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("piece", "clause"),
    [
        (Piece("truss", "joist", 3.5), "R802.10.4"),
        (Piece("open-web truss", "joist", 3.5), "R502.11.3"),
        (Piece("engineered", "beam", 9.25), "R502.8.2"),
        (Piece("sawn", "header", 9.25), ""),
        (Piece("sawn", "beam", 9.25), ""),
        (Piece("sawn", "post", 3.5), ""),
        (Piece("concrete", "post", 8.0), ""),
    ],
)
def test_never_drilled(piece: Piece, clause: str) -> None:
    told = quick_hole(piece, 0.25, NOW)
    assert not told.legal
    assert told.severity is Severity.STOP
    assert told.limit_in is None
    assert told.plates == ()
    assert told.fixes == ()
    assert told.clause.number == clause
    assert clear_span(piece, 0.25, NOW) is None


def test_i_joist_without_a_chart_cannot_be_told() -> None:
    told = quick_hole(Piece("I-joist", "joist", 11.875), 1.0, NOW)
    assert (told.legal, told.limit_in, told.severity) == (False, None, Severity.CANNOT_TELL)
    assert "chart" in told.findings[0].says


def test_i_joist_with_a_chart_takes_its_knockout_only() -> None:
    joist = Piece("I-joist", "joist", 11.875, knockout_in=1.5)
    assert quick_hole(joist, 1.5, NOW).legal
    assert not quick_hole(joist, 1.501, NOW).legal
    assert [b.rule for b in judge(joist, 1.0, 6.0, NOW)] == ["engineered-never"]  # drilled, not punched
    assert judge(joist, 1.0, 6.0, NOW, factory=True) == ()


def test_steel_takes_a_grommet_and_no_plate() -> None:
    told = quick_hole(Piece("steel", "stud", 3.625, bearing=False), 1.25, NOW)
    assert told.legal
    assert told.plates == ()
    assert {f.rule for f in told.findings} == {"steel-grommet", "clause-to-verify"}
    bearing = quick_hole(Piece("steel", "stud", 3.625), 1.25, NOW)
    assert (bearing.legal, bearing.severity) == (False, Severity.CANNOT_TELL)


# --- printed tables compared, never adopted ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "bearing", "printed_in", "unsafe"),
    [
        # Source: a county's printed sheet of common defects (studylib.net/doc/13373209), R602.6.
        ("2x4", False, 2 + 1 / 8, True),
        ("2x6", False, 3 + 5 / 16, True),
        ("2x4", True, 1 + 3 / 8, False),
        ("2x6", True, 2 + 3 / 16, False),
    ],
)
def test_county_sheet_rounds(size: str, bearing: bool, printed_in: float, unsafe: bool) -> None:
    # It prints sixteenths, so it can be compared to half a step, 1/32 in.
    limit_in = largest_hole_in(stud(size, bearing=bearing), NOW)
    assert limit_in == pytest.approx(printed_in, abs=1 / 32)
    assert (SIZE in broken(stud(size, bearing=bearing), printed_in)) is unsafe
