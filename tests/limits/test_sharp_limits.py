"""Sharp cases on the limits themselves: on it, a hair past it, and where a clause says nothing at all."""

from __future__ import annotations

from fractions import Fraction

import pytest

from bayrun.framing import Member
from bayrun.geometry import Box
from bayrun.house import Knockouts
from bayrun.limits import (
    Piece,
    clear_between_in,
    clear_span,
    hole_limits,
    largest_hole_in,
    limits_of,
    notch_allowed,
    notch_limits,
    plate_free_interval,
)
from bayrun.limits.members import exact_limits
from bayrun.rules.examples import piece_in_words
from bayrun.rules.printed import PRINTED, Printed
from bayrun.rules.rulebook import rulebook
from bayrun.tables import adopt
from bayrun.wiring import Hole

BOOK = adopt((("IRC", "2021"), ("NEC", "2020")))


def member(role: str, material: str = "wood", **facts: object) -> Member:
    """A member of a wall or frame, by role."""
    made = {
        "id": "M1",
        "host": "W1",
        "level": "1",
        "role": role,
        "material": material,
        "along": (0.0, 1.5),
        "up": (1.5, 94.0),
        "across": (-1.75, 1.75),
        "box": Box(0.0, -1.75, 1.5, 1.5, 1.75, 94.0),
        **facts,
    }
    return Member(**made)  # type: ignore[arg-type]


def hole(axis: str, along_in: float, up_in: float, across_in: float, size_in: float = 1.0) -> Hole:
    """A hole by its own coordinates."""
    return Hole("H1", "M1", axis, along_in, up_in, across_in, 0.0, 0.0, 0.0, size_in)  # type: ignore[arg-type]


@pytest.mark.parametrize("one", PRINTED, ids=lambda one: f"{one.kind} in a {one.piece}, {one.printed}")
def test_printed_tables_against_the_clauses(one: Printed) -> None:
    # The exact figure is written by hand in the table; here the clause itself must stand on it.
    piece, exact, printed_in = piece_in_words(one.piece), Fraction(one.exact), float(Fraction(one.printed))
    if one.kind == "notch":
        assert notch_limits(piece, BOOK).depth_in == pytest.approx(float(exact))
        assert notch_allowed(piece, BOOK, depth_in=printed_in) is not one.unsafe
    else:
        assert clear_span(piece, float(exact), BOOK) is not None
        assert clear_span(piece, float(exact) + 0.001, BOOK) is None
        assert (clear_span(piece, printed_in, BOOK) is None) is one.unsafe


def test_the_tables_that_round_to_the_unsafe_side_are_named() -> None:
    named = {(one.piece, one.printed) for one in PRINTED if one.unsafe}
    assert named == {
        ("2x4 non-bearing stud", "17/8"),
        ("2x6 non-bearing stud", "53/16"),
        ("2x4 bearing stud", "23/16"),
        ("2x4 non-bearing stud", "45/32"),
        ("2x6 non-bearing stud", "141/64"),
        ("2x6 joist", "29/16"),
    }
    assert rulebook().count("**unsafe side**") == len(named)
    assert "| 2-1/8 in | 2.1 in: 60 % of 3-1/2 is 2.1 | **unsafe side** |" in rulebook()


def test_only_joists_have_a_gap_by_the_code() -> None:
    # R502.8.1 and R802.7.1: 2 in. R602.6 says nothing of it: 0, and the firm's own gap stands.
    assert hole_limits(Piece("sawn", "joist", 9.25), BOOK).gap_min == 2
    assert hole_limits(Piece("sawn", "rafter", 9.25), BOOK).gap_min == 2
    for role in ("stud", "plate", "bottom plate"):
        assert hole_limits(Piece("sawn", role, 3.5), BOOK).gap_min == 0  # type: ignore[arg-type]
    assert limits_of(member("stud"), BOOK, firm_gap_in=0.75).gap_min_in == 0.75
    assert limits_of(member("joist"), BOOK, firm_gap_in=0.75).gap_min_in == 2.0
    assert limits_of(member("joist"), BOOK, firm_gap_in=2.5).gap_min_in == 2.5


def test_no_notch_means_none_of_any_size() -> None:
    for piece in (
        Piece("sawn", "header", 9.25),
        Piece("engineered", "joist", 9.25),
        Piece("I-joist", "joist", 11.875),
        Piece("truss", "joist", 3.5),
        Piece("engineered", "stud", 3.5),
        Piece("steel", "plate", 3.5),
    ):
        limits = notch_limits(piece, BOOK)
        assert (limits.depth_in, limits.length_in, limits.end_depth_in) == (0.0, 0.0, 0.0)
        assert limits.why_never == f"no notch in a {piece.kind} {piece.role}"
        assert not notch_allowed(piece, BOOK, depth_in=0.01, length_in=0.01, at_end=True)
    assert notch_limits(Piece("I-joist", "joist", 11.875), BOOK).source.clause == "R502.8.2"
    assert notch_limits(Piece("sawn", "header", 9.25), BOOK).source.document == "common practice"


@pytest.mark.parametrize(
    ("center_in", "length_in", "allowed"),
    [
        # Span 96: none from 32 to 64. A notch of no length counts by its middle.
        (32.0, 0.0, True),
        (32.2, 0.0, False),
        (64.0, 0.0, True),
        (63.8, 0.0, False),
        (31.0, 2.0, True),
        (31.1, 2.0, False),
        (65.0, 2.0, True),
        (64.9, 2.0, False),
        (10.0, 3.083, True),
        (10.0, 3.09, False),
    ],
)
def test_where_a_joist_may_be_notched(center_in: float, length_in: float, allowed: bool) -> None:
    joist = Piece("sawn", "joist", 9.25)
    place = {"center_from_bearing_in": center_in, "span_in": 96.0}
    assert notch_allowed(joist, BOOK, depth_in=1.5, length_in=length_in, **place) is allowed
    if length_in == 0.0:
        assert notch_allowed(joist, BOOK, depth_in=1.5, **place) is allowed
    half_known = {"center_from_bearing_in": center_in}
    assert not notch_allowed(joist, BOOK, depth_in=1.5, length_in=length_in, **half_known)
    assert not notch_allowed(joist, BOOK, depth_in=1.5, length_in=length_in, span_in=96.0)


def test_an_end_notch_of_a_stud_is_a_notch_as_any() -> None:
    stud = Piece("sawn", "stud", 3.5)
    assert notch_allowed(stud, BOOK, depth_in=0.875, at_end=True)
    assert not notch_allowed(stud, BOOK, depth_in=0.88, at_end=True)
    assert notch_limits(stud, BOOK).length_in is None
    assert notch_allowed(stud, BOOK, depth_in=0.875, length_in=90.0)


def test_the_largest_hole_by_role() -> None:
    # R602.6.1: half of a bearing top plate, beyond it a strap; a bottom plate has no figure.
    assert largest_hole_in(Piece("sawn", "plate", 3.5), BOOK) == 1.75
    assert largest_hole_in(Piece("sawn", "plate", 3.5, bearing=False), BOOK) is None
    assert largest_hole_in(Piece("sawn", "bottom plate", 3.5), BOOK) is None
    # A steel plate and an engineered one are no sawn plate.
    assert largest_hole_in(Piece("steel", "plate", 3.5), BOOK) == 2.25  # 3.5 less 5/8 at each edge
    assert largest_hole_in(Piece("engineered", "plate", 3.5), BOOK) is None
    assert largest_hole_in(Piece("engineered", "bottom plate", 3.5), BOOK) is None
    assert largest_hole_in(Piece("sawn", "header", 9.25), BOOK) is None
    assert largest_hole_in(Piece("sawn", "subfloor", 0.75), BOOK) is None


@pytest.mark.parametrize(
    ("piece", "size_in", "span"),
    [
        # 5/8 at each edge: 3.5 - 1.25 - 1 leaves 1.25 for the center.
        (Piece("sawn", "stud", 3.5), 1.0, (1.125, 2.375)),
        # 2x6 joist: 1.5 dead center only, both bounds the same point. Worked example 19.
        (Piece("sawn", "joist", 5.5), 1.5, (2.75, 2.75)),
        (Piece("sawn", "joist", 5.5), 1.51, None),
        (Piece("sawn", "stud", 3.5), 1.41, None),
        (Piece("sawn", "header", 9.25), 0.5, None),
        (Piece("sawn", "plate", 3.5), 2.25, (1.75, 1.75)),
        (Piece("sawn", "plate", 3.5), 2.26, None),
    ],
)
def test_where_a_centers_may_lie(piece: Piece, size_in: float, span: tuple[float, float] | None) -> None:
    found = clear_span(piece, size_in, BOOK)
    assert found == (None if span is None else pytest.approx(span))
    if found is not None:
        assert found[0] <= found[1]


def test_one_point_is_left_where_rounding_turns_the_two_bounds() -> None:
    # 1.5000005 in a 2x6 joist: within the touch of a millionth, the bounds cross by half of it.
    found = clear_span(Piece("sawn", "joist", 5.5), 1.5000005, BOOK)
    assert found is not None
    assert found[0] == found[1] == pytest.approx(2.75, abs=1e-6)
    free = plate_free_interval(3.5, 1.0000005, BOOK)
    assert free is not None
    assert free[0] == free[1] == pytest.approx(1.75, abs=1e-6)
    assert plate_free_interval(3.5, 1.0, BOOK) == (1.75, 1.75)
    assert plate_free_interval(3.5, 1.01, BOOK) is None
    assert plate_free_interval(5.5, 1.0, BOOK) == (1.75, 3.75)


def test_what_a_member_allows_in_floats() -> None:
    stud = limits_of(member("stud"), BOOK)
    assert (stud.largest_in, stud.edge_min_in, stud.factory_in) == (1.4, 0.625, None)
    assert exact_limits(stud, BOOK).largest == Fraction(7, 5)
    header = limits_of(member("header"), BOOK)
    assert (header.largest_in, header.factory_in) == (None, None)
    assert "header" in header.why_never
    web = member("I-joist", "I-joist", up=(0.0, 11.875))
    charted = limits_of(web, BOOK, knockouts=Knockouts(1.5, 16.0, "its maker"))
    assert (charted.largest_in, charted.factory_in, charted.only_factory) == (None, 1.5, True)
    unknown = limits_of(web, BOOK)
    assert (unknown.largest_in, unknown.factory_in) == (None, None)
    assert "maker's hole chart" in unknown.cannot_tell
    steel = limits_of(member("stud", "steel", across=(-1.8125, 1.8125), bearing=False), BOOK)
    assert (steel.largest_in, steel.factory_in) == (None, 1.5)  # 1-1/2 in is under half of 3-5/8
    assert limits_of(member("stud", "steel", across=(-1.25, 1.25)), BOOK).factory_in == 1.25
    subfloor = limits_of(member("subfloor"), BOOK)
    assert subfloor.largest_in == float("inf")
    plate = limits_of(member("top plate"), BOOK)
    assert plate.strap_over_in == 1.75
    assert limits_of(member("bottom plate"), BOOK).strap_over_in is None


@pytest.mark.parametrize(
    ("one", "other", "clear_in"),
    [
        # Centers 3 and 4 apart are 5 apart: 5 less half of each hole.
        (hole("along", 16.0, 40.0, 0.0), hole("along", 16.0, 43.0, 4.0), 4.0),
        (hole("along", 16.0, 43.0, 4.0), hole("along", 16.0, 40.0, 0.0, 2.0), 3.5),
        (hole("up", 30.0, 95.0, 0.0), hole("up", 33.0, 95.0, -4.0), 4.0),
        (hole("across", 40.0, 100.0, 2.0), hole("across", 43.0, 100.0, 6.0), 4.0),
    ],
)
def test_wood_between_two_holes(one: Hole, other: Hole, clear_in: float) -> None:
    assert clear_between_in(one, other) == pytest.approx(clear_in)
