"""Gear in the box: places are disjoint, inside and in lanes; proofs both ways. All by plain geometry."""

from __future__ import annotations

from itertools import combinations
from random import Random

import pytest

from bayrun.cables.ranges import RangeError, Verdict
from bayrun.enclosure.fit import Kind, Piece, fit, next_size

GEAR = (
    Piece("outlet strip", 10, 2, 2, 0, "power"),
    Piece("switch", 9, 5, 1.5, 1.0),
    Piece("patch block", 6, 4, 1, 1.0, "termination"),
    Piece("router", 6, 6, 1.25, 1.0, "radio"),
)


def test_places_are_real() -> None:
    told = fit(GEAR, 14, 28, 3.75)
    assert told.verdict is Verdict.HOLDS
    at = {place.name: place for place in told.places}
    assert set(at) == {piece.name for piece in GEAR}
    assert at["outlet strip"].bottom_in == 0
    assert at["router"].bottom_in >= at["patch block"].bottom_in
    # 10x2 + 9x5 + 6x4 + 6x6 = 125 of 392 sq in.
    assert told.free_percent.value == pytest.approx(100 * (1 - 125 / 392))


def test_random_gear_never_overlaps() -> None:
    chance = Random(3)
    kinds: tuple[Kind, ...] = ("power", "other", "termination", "radio")
    held = 0
    for _ in range(60):
        pieces = tuple(
            Piece(str(n), chance.uniform(2, 9), chance.uniform(1, 7), 1, 0, chance.choice(kinds))
            for n in range(chance.randint(1, 9))
        )
        told = fit(pieces, 14, 28, 3.75, 0.5)
        size = {piece.name: piece for piece in pieces}
        held += told.verdict is Verdict.HOLDS
        for place in told.places:
            piece = size[place.name]
            assert place.left_in + piece.width_in <= 14 + 1e-6
            assert place.bottom_in + piece.height_in <= 28 + 1e-6
        for one, two in combinations(told.places, 2):
            a, b = size[one.name], size[two.name]
            apart_x = max(one.left_in - two.left_in - b.width_in, two.left_in - one.left_in - a.width_in)
            apart_y = max(
                one.bottom_in - two.bottom_in - b.height_in, two.bottom_in - one.bottom_in - a.height_in
            )
            assert max(apart_x, apart_y) >= 0.5 - 1e-9
    assert 20 < held < 60


def test_proofs_that_it_does_not_fit() -> None:
    deep = fit((Piece("switch", 9, 5, 2.5, 1.25),), 14, 14, 3.75)
    assert deep.verdict is Verdict.FAILS
    assert 'switch needs 4" of depth' in deep.reason
    assert fit((Piece("switch", 9, 5, 2.5, 1.0),), 14, 14, 3.75).verdict is Verdict.HOLDS  # exactly full
    much = tuple(Piece(str(n), 10, 10, 1) for n in range(3))
    assert fit(much, 14, 14, 3.75).verdict is Verdict.FAILS
    assert fit((much[0], Piece("x", 5, 5, 1)), 14, 12, 3.75).verdict is Verdict.CANNOT_TELL


def test_next_size() -> None:
    sizes = ((14.0, 42.0, 3.75), (14.0, 14.0, 3.75), (14.0, 28.0, 3.75))
    assert next_size(GEAR, sizes) == (14.0, 28.0, 3.75)
    assert next_size((Piece("block", 20, 20, 1),), sizes) is None


def test_refusal_tells_all() -> None:
    with pytest.raises(RangeError) as told:
        fit((Piece("a", 0, 5, 1), Piece("a", 5, 5, 1, 99)), 2, 14, 3.75)
    for part in (
        "the box's width 6 to 60 in",
        "the width of a",
        "bend room of a",
        "a stands in the list twice",
    ):
        assert part in str(told.value)
