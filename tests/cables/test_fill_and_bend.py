"""Fill, hole choice, bend and pull against printed tables."""

from __future__ import annotations

import math

import pytest

from bayrun.cables import BundleError, FillError, capacity_at_fill, fill_fraction, hole_for, within_fill
from bayrun.cables.bend import HandlingError, bends_within, least_bend_radius_in, pull_limit_lbf, pulls_within

CABLES_IN = (0.23, 0.30, 0.275, 0.36, 0.16)
# The trade's hole table, 40 % column (area ratio, floor): data, thick data, coax, speaker 16/4, 22/4.
# Counts above 37 are printed as approximate: compared to one cable.
HOLE_TABLE = {
    0.75: (4, 2, 2, 1, 8),
    0.875: (5, 3, 4, 2, 11),
    1.0: (7, 4, 5, 3, 15),
    1.125: (9, 5, 6, 3, 19),
    1.25: (11, 6, 8, 4, 24),
    1.5: (17, 10, 11, 6, 35),
    2.0: (30, 17, 21, 12, 62),
    2.125: (34, 20, 23, 13, 70),
}


@pytest.mark.parametrize("hole_in", HOLE_TABLE)
def test_capacity_matches_the_hole_table(hole_in):
    for cable_in, printed in zip(CABLES_IN, HOLE_TABLE[hole_in], strict=True):
        assert abs(capacity_at_fill(hole_in, cable_in) - printed) <= (1 if printed > 37 else 0)


def test_seven_data_cables_in_a_one_inch_hole_and_not_eight():
    # 0.40 / 0.23² = 7.56.
    assert within_fill(1.0, [0.23] * 7)
    assert not within_fill(1.0, [0.23] * 8)
    assert fill_fraction(1.0, [0.23] * 7) == pytest.approx(7 * 0.0529)


def test_on_the_limit_of_the_fill_passes():
    # Ten cables of 0.2 in a 1 in hole are 40 % to the last digit.
    assert within_fill(1.0, [0.2] * 10)
    assert not within_fill(0.9999, [0.2] * 10)


def test_fill_alone_does_not_pass_what_does_not_fit():
    # Arithmetic: 0.7 + 0.3 in fill 58 % of a 1 in hole and fit; 0.71 + 0.3 in fill 59 % and do not.
    assert hole_for([0.7, 0.3], 0.60, [1.0]) is not None
    assert within_fill(1.0, [0.71, 0.3], 0.60)
    assert hole_for([0.71, 0.3], 0.60, [1.0]) is None


def test_the_smallest_bit_that_takes_the_bundle():
    choice = hole_for([0.23] * 11, 0.40, [2.0, 1.25, 1.0])
    assert choice is not None
    assert (choice.bit_in, choice.capacity, len(choice.circles)) == (1.25, 11, 11)
    assert hole_for([0.23] * 40, 0.40, [1.0, 2.0]) is None


@pytest.mark.parametrize("fill", [0.61, 40, 0, -0.1, math.nan])
def test_a_fill_that_no_firm_may_set_is_refused(fill):
    with pytest.raises(FillError, match="expected a fill"):
        hole_for([0.23], fill, [1.0])


def test_other_bad_input():
    with pytest.raises(FillError, match="expected at least one bit on the truck, got none"):
        hole_for([0.23], 0.4, [])
    with pytest.raises(FillError, match="expected a hole diameter above 0 in, got -1"):
        fill_fraction(-1, [0.23])
    with pytest.raises(BundleError, match="cable 1: expected an outside diameter above 0 in, got 0"):
        capacity_at_fill(1.0, 0)


def test_bend_radius_of_four_pair():
    # Published installation guides: 4 x outside diameter; 0.23 in gives 0.92 in, 0.30 in gives 1.2 in.
    assert least_bend_radius_in(0.23, 4) == pytest.approx(0.92)
    assert least_bend_radius_in(0.30, 4) == pytest.approx(1.20)
    assert bends_within(1.2, 0.30, 4)
    assert not bends_within(1.19, 0.30, 4)


def test_pull_of_a_group_is_that_of_its_weakest():
    # 25 lbf (110 N) for four-pair, as published.
    assert pull_limit_lbf((25.0, 35.0)) == 25.0
    assert pulls_within(25.0, (25.0, 35.0)) is True
    assert pulls_within(25.1, (25.0,)) is False
    assert pulls_within(1.0, (25.0, None)) is None
    with pytest.raises(HandlingError, match="got none"):
        pull_limit_lbf(())
    with pytest.raises(HandlingError, match="expected a bend radius \\[in\\] above 0, got 0"):
        bends_within(0, 0.23, 4)
