"""Coils behind the cover: no thinner than the cable in them, no tighter than its bend. Hand sums."""

from __future__ import annotations

import math

import pytest

from bayrun.cables.ranges import RangeError, Verdict
from bayrun.enclosure.slack import Slacked, coil_slack


def cables(count: int, length_in: float = 71.125, diameter_in: float = 0.23, bend_in: float = 0.92):  # type: ignore[no-untyped-def]
    return [Slacked(f"R{n}", length_in, diameter_in, bend_in) for n in range(count)]


def test_one_cable_by_hand() -> None:
    told = coil_slack(cables(1), 14.0, 27.75, 3.625)
    assert told is not None
    # 71.125 in on a circle of some 13-1/2 in (42 round): two turns, root(2 x 0.0529 / 0.5) = 0.46 in thick.
    assert told.turns == 2
    assert told.thick_in == pytest.approx(math.sqrt(2 * 0.0529 / 0.5))
    assert told.verdict is Verdict.HOLDS


def test_a_coil_holds_its_cable_and_is_never_too_tight() -> None:
    for count in (1, 5, 12, 24, 37):
        told = coil_slack(cables(count), 14.0, 27.75, 3.625)
        assert told is not None
        assert told.inside_in >= 2 * 0.92 - 1e-9
        assert told.coils * told.cables >= count
        middle_in = told.across_in - told.thick_in
        assert told.turns * math.pi * middle_in >= 71.125 - 1e-6
        # The ring's own volume holds the cable at half its section.
        ring = math.pi * middle_in * math.pi / 4 * told.thick_in**2 * told.coils
        cable = count * 71.125 * math.pi / 4 * 0.23**2
        assert ring * 0.5 >= cable - 1e-6


def test_more_slack_is_never_thinner_and_at_last_too_thick() -> None:
    stacks = []
    for count in (10, 20, 40, 80, 160):
        told = coil_slack(cables(count), 14.0, 27.75, 3.625)
        assert told is not None
        stacks.append(told.stack_in.value)
    assert stacks == sorted(stacks)
    assert told.verdict is Verdict.FAILS
    assert "too thick" in told.reason


def test_stiff_cable_in_a_narrow_box_finds_no_coil() -> None:
    told = coil_slack(cables(4, bend_in=7.5), 14.0, 27.75, 3.625)
    assert told is not None
    assert told.verdict is Verdict.FAILS
    assert 'no coil fits: the bend asks 15" inside it, the box is 14" wide' in told.reason


def test_no_slack_no_coils_and_wild_numbers_are_refused() -> None:
    assert coil_slack([], 14.0, 27.75, 3.625) is None
    assert coil_slack(cables(3, length_in=0.0), 14.0, 27.75, 3.625) is None
    with pytest.raises(RangeError, match="slack of R0 0 to 600 in"):
        coil_slack(cables(1, length_in=9000.0), 14.0, 27.75, 3.625)
