"""Jacket marks: what a cable's printed footage says about what was cut, and what is left in the box."""

from __future__ import annotations

from typing import Literal

from bayrun.units import Figure

FEET_PER_M = 1 / 0.3048
STEP_FT = {"ft": 2.0, "m": FEET_PER_M}
"""How far apart marks stand [ft]: every two feet, or every meter. Common practice, no source."""

FAR_OFF = 0.25
"""A length this much off what was planned is asked about. Our own figure."""


class MarkError(ValueError):
    """Two marks that cannot be the ends of one cable."""


def cut_by_marks(
    start: float,
    end: float,
    *,
    unit: Literal["ft", "m"] = "ft",
    rolls_over_at: float | None = None,
    expected_ft: float | None = None,
) -> tuple[Figure, str]:
    """Feet between two jacket marks.

    Marks may run up or down, and begin again at ``rolls_over_at``; of the two ways round, the one nearer to
    what is expected counts, else the shorter.

    Args:
        start, end: Marks at the two ends of the cable, in ``unit``.
        unit: What the jacket is printed in.
        rolls_over_at: The mark after which it begins at 0 again, such as 1000; None where it does not.
        expected_ft: What was planned [ft].
    Returns:
        (the length, a word of warning or an empty text).
    Raises:
        MarkError: A mark is negative or not under ``rolls_over_at``, or both are the same.
    """
    for name, mark in (("start", start), ("end", end)):
        if not 0 <= mark < float("inf") or (rolls_over_at is not None and mark > rolls_over_at):
            most = "" if rolls_over_at is None else f" and at most {rolls_over_at:g}"
            raise MarkError(f"{name} mark: expected a number of zero or more{most}, got {mark:g}")
    apart = abs(end - start)
    if not apart > 0:
        raise MarkError(f"expected two different marks, got {start:g} twice")
    each = 1.0 if unit == "ft" else FEET_PER_M
    ways = [apart * each]
    if rolls_over_at is not None and rolls_over_at - apart > 0:
        ways.append((rolls_over_at - apart) * each)
    length_ft = min(ways, key=lambda one: abs(one - expected_ft) if expected_ft is not None else one)
    inputs = [("start mark", f"{start:g}"), ("end mark", f"{end:g}"), ("printed in", unit)]
    rolled = length_ft != ways[0]
    if rolled:
        inputs.append(("begins again at", f"{rolls_over_at:g}"))
    formula = (
        "from the start mark round the roll-over to the end mark" if rolled else "difference of the marks"
    )
    warn = ""
    if expected_ft and abs(length_ft - expected_ft) > max(STEP_FT[unit], FAR_OFF * expected_ft):
        warn = f"{expected_ft:g} ft were planned and the marks say {length_ft:.0f} ft: read them again."
    told = Figure(length_ft, "ft", formula, "the jacket's own print", tuple(inputs), STEP_FT[unit] / 2)
    return told, warn
