"""Limits of use: a formula outside its stated range refuses and names the range, instead of giving a number.

A verdict is only given where the figure's own uncertainty leaves no doubt; otherwise it is "cannot tell".
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from bayrun.units import Figure

M_PER_FT = 0.3048
"""Exact: the international foot (agreement of 1959)."""


class RangeError(ValueError):
    """Numbers outside the range a formula or table is stated for; the message tells all of them at once."""


class Verdict(StrEnum):
    """Whether a figure keeps to its limit."""

    HOLDS = "holds"
    FAILS = "fails"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True)
class Limit:
    """One number and the range it must lie in, ends included.

    Args:
        name: What it is, in words.
        value: The number given.
        low, high: The range, in ``unit``; an infinite end is no limit.
        unit: Unit in words, or empty.
        why: Where the range comes from, or what to do instead.
        above: True where ``low`` itself is already outside.
    """

    name: str
    value: float
    low: float
    high: float
    unit: str = ""
    why: str = ""
    above: bool = False

    def told(self) -> str | None:
        """What is wrong, in one sentence, or None."""
        slack = 1e-9 * max(abs(self.value), 1.0) if math.isfinite(self.value) else 0.0
        inside = (
            math.isfinite(self.value)
            and (self.value > self.low if self.above else self.value >= self.low - slack)
            and self.value <= self.high + slack
        )
        if inside:
            return None
        unit = f" {self.unit}" if self.unit else ""
        if math.isinf(self.high):
            asked = f"{'above' if self.above else 'at least'} {self.low:g}{unit}"
        elif self.above:
            asked = f"above {self.low:g} and at most {self.high:g}{unit}"
        else:
            asked = f"{self.low:g} to {self.high:g}{unit}"
        why = f" ({self.why})" if self.why else ""
        return f"expected {self.name} {asked}{why}, got {self.value:g}{unit}"


def check_ranges(*limits: Limit) -> None:
    """Refuse numbers outside their range.

    Raises:
        RangeError: With every defect at once.
    """
    refuse(told for told in (limit.told() for limit in limits) if told is not None)


def refuse(wrong: Iterable[str]) -> None:
    """Raise one message for all defects, where there are any.

    Raises:
        RangeError: There is at least one.
    """
    listed = list(wrong)
    if listed:
        raise RangeError("; ".join(listed))


def one_of(name: str, value: object, known: Iterable[object]) -> str | None:
    """What is wrong with a choice, in one sentence, or None."""
    choices = list(known)
    if value in choices:
        return None
    return f"expected {name} to be one of {', '.join(str(c) for c in choices)}, got {value}"


def judge(
    figure: Figure, *, at_least: float | None = None, at_most: float | None = None, known: bool = True
) -> Verdict:
    """Hold a figure against its limits, its uncertainty included.

    Args:
        figure: The number with its ``plus_minus``.
        at_least, at_most: The limits in the figure's unit.
        known: False where the limit itself is fitted or unknown: nothing can be told.
    Returns:
        ``holds`` when the whole range of the figure keeps the limits, ``fails`` when none of it does.
    """
    if not known or (at_least is None and at_most is None):
        return Verdict.CANNOT_TELL
    low_end, high_end = -math.inf if at_least is None else at_least, math.inf if at_most is None else at_most
    spread, slack = figure.plus_minus or 0.0, 1e-9 * max(abs(figure.value), 1.0)
    low, high = figure.value - spread, figure.value + spread
    if low >= low_end - slack and high <= high_end + slack:
        return Verdict.HOLDS
    if high < low_end - slack or low > high_end + slack:
        return Verdict.FAILS
    return Verdict.CANNOT_TELL
