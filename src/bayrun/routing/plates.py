"""Where a hole may go through a plate: clear of what lies over and under it, clear of the faces."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bayrun.framing import Cover
from bayrun.geometry import TOUCH_IN, at_least, at_most, clamp, cut_interval, near
from bayrun.routing.allow import Allowed

COVER_CLEAR_IN = 0.25
"""Kept between a hole and a chord or joist over the plate, so that the bit comes out free [in]. Practice."""
STUD_CLEAR_IN = 0.25
"""Kept between a hole and the stud beside it [in]. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A center in plate coordinates [in]."""

    along_in: float
    across_in: float


def _across_choices(allowed: Allowed, covers: Sequence[Cover]) -> tuple[float, ...]:
    """Centers across the plate worth trying: the middle first, then just clear of each cover's side."""
    low_in, high_in = allowed.across
    clear_in = allowed.diameter_in / 2 + COVER_CLEAR_IN
    wished = [0.0]
    for cover in covers:
        wished += [cover.rect.v0 - clear_in, cover.rect.v1 + clear_in]
    wished += [low_in, high_in]
    inside = {round(clamp(w, low_in, high_in), 6) for w in wished}
    return tuple(sorted(inside, key=lambda v: (abs(v), v)))


def spots(
    clear: tuple[float, float],
    allowed: Allowed,
    covers: Iterable[Cover],
    wished_in: float,
    gap_in: float,
    most: int,
) -> tuple[Spot, ...]:
    """Centers for holes of one size in the clear stretch of a plate, nearest to the wish first.

    Args:
        clear: Stretch between the studs, along the wall [in].
        covers: What lies over (or under) the plate.
        wished_in: Offset along the wall where a hole is wished [in].
        gap_in: Least wood between two holes [in].
        most: How many holes at most.
    Returns:
        None at all where a chord or joist leaves no legal hole.
    """
    radius_in = allowed.diameter_in / 2
    low_in, high_in = clear[0] + radius_in + STUD_CLEAR_IN, clear[1] - radius_in - STUD_CLEAR_IN
    if high_in < low_in - TOUCH_IN:
        low_in, high_in = clear[0] + radius_in, clear[1] - radius_in
        if high_in < low_in - TOUCH_IN:
            return ()
    near_covers = [c for c in covers if c.rect.u0 < clear[1] and c.rect.u1 > clear[0]]
    best: tuple[Spot, ...] = ()
    for across_in in _across_choices(allowed, near_covers):
        taken = [
            (c.rect.u0 - radius_in - COVER_CLEAR_IN, c.rect.u1 + radius_in + COVER_CLEAR_IN)
            for c in near_covers
            if c.rect.v0 - radius_in - COVER_CLEAR_IN + TOUCH_IN < across_in
            and across_in < c.rect.v1 + radius_in + COVER_CLEAR_IN - TOUCH_IN
        ]
        row = _row(cut_closed(low_in, high_in, taken), wished_in, allowed.diameter_in + gap_in, most)
        found = tuple(Spot(along_in, across_in) for along_in in row)
        if len(found) > len(best):
            best = found
        if best and near(across_in, 0.0):
            break
    return best


def cut_closed(
    low_in: float, high_in: float, taken: list[tuple[float, float]]
) -> tuple[tuple[float, float], ...]:
    """Like ``cut_interval``, but a single point is an interval too."""
    if near(low_in, high_in):
        inside = any(a + TOUCH_IN < low_in < b - TOUCH_IN for a, b in taken)
        return () if inside else ((low_in, low_in),)
    return cut_interval(low_in, high_in, taken)


def _row(
    free: tuple[tuple[float, float], ...], wished_in: float, step_in: float, most: int
) -> tuple[float, ...]:
    """Centers at least ``step_in`` apart in the free intervals, nearest to the wish first."""
    row: list[float] = []
    for low_in, high_in in free:
        if at_least(wished_in, low_in) and at_most(wished_in, high_in):
            anchor_in = clamp(wished_in, low_in, high_in)
            if high_in - low_in > step_in * 2:  # whole steps from one end use the stretch best
                anchor_in = low_in + round((anchor_in - low_in) / step_in) * step_in
            at_in = anchor_in
        else:
            at_in = low_in if abs(low_in - wished_in) < abs(high_in - wished_in) else high_in
        start_in = at_in - int((at_in - low_in) / step_in + 1e-9) * step_in
        while at_most(start_in, high_in):
            row.append(min(start_in, high_in))
            start_in += step_in
    row.sort(key=lambda v: (abs(v - wished_in), v))
    kept: list[float] = []
    for at_in in row:
        if all(at_least(abs(at_in - other), step_in) for other in kept):
            kept.append(at_in)
    return tuple(kept[:most])
