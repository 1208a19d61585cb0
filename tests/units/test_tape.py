"""Lengths as people write them: parsed as a carpenter would, and back without drift."""

from __future__ import annotations

import random

import pytest

from bayrun.units import LengthError, feet_and_inches, parse_length, tape
from conftest import count


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("5' 3-1/2\"", 63.5),
        ("5-3", 63.0),
        ("63.5", 63.5),
        ('63 1/2"', 63.5),
        ("½", 0.5),
        ("5½", 5.5),
        ("7'", 84.0),
        # A fraction of two digits is one fraction, not a whole inch and a fraction.
        ('11/16"', 0.6875),
        ("13' 11/16\"", 156.6875),
        ("-15/16", -0.9375),
        ("-2-3/4", -2.75),
    ],
)
def test_a_length_is_read_as_a_carpenter_would(text: str, inches: float) -> None:
    # Source: worked by hand, 12 in to the foot.
    assert parse_length(text) == inches


def test_millimeters_by_the_exact_inch() -> None:
    # Source: 1 in = 25.4 mm exactly (agreement of 1959): 1613 / 25.4 by hand is 63.503937.
    assert parse_length("1613 mm") == pytest.approx(63.503937, abs=5e-7)
    # 14.5 x 25.4 = 368.3 exactly.
    assert parse_length("368.3 mm") == parse_length("36.83 cm") == parse_length("0.3683 m") == 14.5


def test_every_sixteenth_reads_back_as_printed() -> None:
    rng = random.Random(89)
    numbers = [*range(2000), *(rng.randrange(16 * 12 * 500) for _ in range(count(8_000, 100_000)))]
    for sixteenths in numbers:
        for value in (sixteenths / 16, -sixteenths / 16):
            assert parse_length(tape(value)) == value
            assert parse_length(feet_and_inches(value)) == value


@pytest.mark.parametrize("text", ["", "five", "5/0", "1' 2' 3'", "nan", "inf", "1e99", True])
def test_what_is_no_length_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(LengthError, match=r"expected a length such as 5' 3-1/2"):
        parse_length(text)
