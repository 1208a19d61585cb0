"""Stretches of clear space where a foot of cable is dearer: under a low roof, and along power.

Where the deck leaves no room over the wood, a cable may still come out between two trusses or joists.

Source: headroom by the slope of the roof (arithmetic of the truss); that a crawl or a reach by stick costs
more, and the distance from power, are common practice, no source: both are the firm's to set. No code asks a
distance from sheathed power cable, so a zone only costs; a square crossing costs nothing.
Limits of use: straight slopes from two eaves, or one height where no ridge is given; the depth of the top
chord is taken as the bottom chord's. A roof nobody described costs nothing and bars nothing.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from bayrun.framing import to_wall
from bayrun.geometry import Rect, below
from bayrun.house import FloorFrame, Job, Obstacle, Roof, Wall

OVER_WOOD = 1000.0
"""What an inch over a member counts where the deck leaves no room over it: only for want of any other way."""
PIECE_IN = 24.0
"""A slanted power run is taken in pieces this long, so that its zone stays narrow [in]. Our own figure."""
Point2 = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Dear:
    """A rectangle of a cell where length counts more.

    Args:
        rect: In the cell's own two axes: plan, or along and up in a wall [in].
        extra: Added to the cell's factor inside.
        axis: Only legs along this axis (0 or 1) are dearer; None: every leg.
        beside: Where a way may step out of it: lines across the axis the zone runs along, as (axis, at).
    """

    rect: Rect
    extra: float
    axis: Literal[0, 1] | None
    beside: tuple[tuple[Literal[0, 1], float], ...] = ()


def leg_extra(dear: Sequence[Dear], a: Point2, b: Point2) -> float:
    """What a straight leg costs on top of its weighed length, as inches of factor one [in]."""
    total = 0.0
    size = math.hypot(b[0] - a[0], b[1] - a[1])
    if size <= 0.0:
        return 0.0
    along: Literal[0, 1] = 0 if abs(b[0] - a[0]) >= abs(b[1] - a[1]) else 1
    for zone in dear:
        if zone.axis is None or zone.axis == along:
            total += zone.extra * size * _share_inside(zone.rect, a, b)
    return total


def _share_inside(r: Rect, a: Point2, b: Point2) -> float:
    low, high = 0.0, 1.0
    for start, step, near, far in ((a[0], b[0] - a[0], r.u0, r.u1), (a[1], b[1] - a[1], r.v0, r.v1)):
        if abs(step) < 1e-12:
            if not near < start < far:
                return 0.0
            continue
        t0, t1 = sorted(((near - start) / step, (far - start) / step))
        low, high = max(low, t0), min(high, t1)
    return max(0.0, high - low)


def l_extra(dear: Sequence[Dear], a: Point2, b: Point2, x_first: bool) -> float:
    """The same for the two legs of an L [in]."""
    corner = (b[0], a[1]) if x_first else (a[0], b[1])
    return leg_extra(dear, a, corner) + leg_extra(dear, corner, b)


# under the roof


@dataclass(frozen=True, slots=True)
class Slope:
    """The height between chords over a plan line across the ridge.

    Args:
        across: Axis the slope rises along: 0 is x.
        low, high: Outer faces of the plates at the two eaves [in].
        heel_in: Height of the truss there.
        rise: Per inch of run.
        chord_in: Depth of one chord, square to it.
    """

    across: Literal[0, 1]
    low: float
    high: float
    heel_in: float
    rise: float
    chord_in: float

    def between_chords_in(self, at: float) -> float:
        """Clear height between bottom and top chord at a place across the ridge [in]."""
        return self.under_deck_in(at) - self.chord_in * math.hypot(1.0, self.rise)

    def under_deck_in(self, at: float) -> float:
        """Clear height over the bottom chord to the roof's deck, between two trusses [in]."""
        return self.heel_in + self.rise * min(at - self.low, self.high - at) - self.chord_in

    def reaches(self, clear_in: float, over: Literal["chords", "wood", "plate"] = "chords") -> float:
        """How far in from each eave it is lower than this; the half span at most [in].

        Args:
            over: Clear height between the ``chords``, over the ``wood`` to the deck, or over the ``plate``
                to the deck, which is what is left between two trusses or joists.
        """
        at_eave = self.between_chords_in(self.low) if over == "chords" else self.under_deck_in(self.low)
        if over == "plate":
            at_eave += self.chord_in
        half = (self.high - self.low) / 2
        if not below(at_eave, clear_in):
            return 0.0
        return half if self.rise <= 0.0 else min(half, (clear_in - at_eave) / self.rise)


def slope_over(job: Job, floor: FloorFrame) -> Slope | None:
    """The slope of the roof over an attic; None where nobody described one, or it is no attic."""
    if floor.below_level is not None or not job.roofs:
        return None
    named = [r for r in job.roofs if floor.id in r.frames]
    open_ones = [r for r in job.roofs if not r.frames]
    if not named and not open_ones:
        return None
    middle = floor.rect.center

    def off(roof: Roof) -> tuple[float, str]:
        if roof.ridge_axis is None or roof.ridge_at_in is None:
            return 0.0, roof.id
        return abs(roof.ridge_at_in - middle[1 if roof.ridge_axis == "x" else 0]), roof.id

    roof = min(named or open_ones, key=off)
    ridge = roof.ridge_axis or ("x" if floor.direction == "y" else "y")
    across: Literal[0, 1] = 1 if ridge == "x" else 0
    faces = _eaves(job, floor, across)
    rise = roof.pitch_rise / roof.pitch_run if roof.ridge_axis is not None else 0.0
    return Slope(across, *faces, roof.heel_in, rise, floor.member_depth_in)


def _eaves(job: Job, floor: FloorFrame, across: Literal[0, 1]) -> tuple[float, float]:
    """Outer faces of the outermost outer walls under an attic that stand along its ridge [in]."""
    r = floor.rect
    span, other = ((r.v0, r.v1), (r.u0, r.u1)) if across == 1 else ((r.u0, r.u1), (r.v0, r.v1))
    lines = []
    for wall in job.walls:
        a, b = wall.start, wall.end
        if not wall.exterior or wall.level != floor.above_level or a[across] != b[across]:
            continue
        low, high = sorted((a[1 - across], b[1 - across]))
        if low < other[1] and high > other[0] and span[0] <= a[across] <= span[1]:
            lines += [a[across] - wall.thickness_in / 2, a[across] + wall.thickness_in / 2]
    return (min(lines), max(lines)) if len(lines) >= 4 else span


def low_roof(job: Job, floor: FloorFrame, reach_in: float) -> tuple[tuple[Rect, ...], tuple[Dear, ...]]:
    """(where no cable is laid at all, where a foot is dearer) under the roof of an attic.

    Args:
        reach_in: How far past its frame's area the space is counted [in].
    """
    slope = slope_over(job, floor)
    if slope is None:
        return (), ()
    practice, costs = job.practice, job.practice.costs
    least_in = practice.attic_least_in
    closed = _bands(floor, slope, slope.reaches(least_in, "plate"), reach_in)
    shut = [rect for rect in closed if rect is not None]
    dear: list[Dear] = []
    before = costs.attic_factor
    ridge: Literal[0, 1] = 1 if slope.across == 0 else 0
    across: Literal[0, 1] = 1 if floor.direction == "x" else 0
    wide = slope.reaches(least_in, "wood")
    edges = (slope.low + wide, slope.high - wide)
    for rect, at in zip(_bands(floor, slope, wide, reach_in), edges, strict=True):
        if rect is not None:  # between two members a cable still comes out; over one it does not fit
            dear.append(Dear(rect, OVER_WOOD, across, ((ridge, at),)))
    bands = (
        (practice.attic_kneel_in, costs.attic_low_factor),
        (practice.attic_flat_in, costs.attic_flat_factor),
    )
    for clear_in, factor in bands:
        if factor <= before:
            continue
        wide = slope.reaches(clear_in)
        for rect, at in zip(
            _bands(floor, slope, wide, reach_in), (slope.low + wide, slope.high - wide), strict=True
        ):
            if rect is not None:
                whole = not below(wide, (slope.high - slope.low) / 2)
                dear.append(Dear(rect, factor - before, None, () if whole else ((ridge, at),)))
        before = factor
    return tuple(shut), tuple(dear)


def _bands(floor: FloorFrame, slope: Slope, wide: float, reach_in: float) -> tuple[Rect | None, Rect | None]:
    """The band along each eave, as wide as said."""
    if wide <= 0.0:
        return None, None
    r = floor.rect.grown(reach_in)
    if slope.across == 1:
        return (
            Rect(r.u0, r.v0, r.u1, slope.low + wide),
            Rect(r.u0, slope.high - wide, r.u1, r.v1),
        )
    return Rect(r.u0, r.v0, slope.low + wide, r.v1), Rect(slope.high - wide, r.v0, r.u1, r.v1)


# along power


def _pieces(power: Obstacle) -> Iterator[tuple[tuple[float, float, float], tuple[float, float, float]]]:
    for a, b in itertools.pairwise(power.path):
        square = sum(abs(p - q) > 1e-9 for p, q in zip(a, b, strict=True)) <= 1
        count = 1 if square else max(1, math.ceil(math.dist(a, b) / PIECE_IN))
        points = [tuple(p + (q - p) * k / count for p, q in zip(a, b, strict=True)) for k in range(count + 1)]
        for p, q in itertools.pairwise(points):
            yield (p[0], p[1], p[2]), (q[0], q[1], q[2])


def power_over_plan(job: Job, rect: Rect, z: float, factor: float) -> tuple[Dear, ...]:
    """Zones along power runs near the height cables run at in a floor or attic.

    Args:
        rect: Plan of the cell; zones outside it are left out [in].
        z: World height cables run at [in].
        factor: Of the cell, so that the firm's figure is a share of what a foot costs there.
    """
    want_in = job.practice.power_separation_in
    extra = (job.practice.costs.power_along_factor - 1.0) * factor
    if extra <= 0.0 or not want_in > 0.0:
        return ()
    found: list[Dear] = []
    for power in job.obstacles:
        if not power.is_power_run:
            continue
        for a, b in _pieces(power):
            rise = max(0.0, min(a[2], b[2]) - z, z - max(a[2], b[2]))
            if not below(rise, want_in):
                continue
            off = math.sqrt(want_in**2 - rise**2)
            zone = _along(a[:2], b[:2], off, extra)
            if zone is not None and zone.rect.overlaps(rect):
                found.append(zone)
    return tuple(found)


def power_in_wall(job: Job, wall: Wall, rect: Rect) -> tuple[Dear, ...]:
    """The same in a bay of a wall, in offsets along and heights above the subfloor."""
    want_in = job.practice.power_separation_in
    extra = job.practice.costs.power_along_factor - 1.0
    if extra <= 0.0 or not want_in > 0.0:
        return ()
    base = job.level(wall.level).subfloor_z_in
    found: list[Dear] = []
    for power in job.obstacles:
        if not power.is_power_run:
            continue
        for a, b in _pieces(power):
            (ua, va), (ub, vb) = to_wall(wall, a[0], a[1]), to_wall(wall, b[0], b[1])
            side = max(0.0, min(va, vb), -max(va, vb))
            if not below(side, want_in):
                continue
            off = math.sqrt(want_in**2 - side**2)
            zone = _along((ua, a[2] - base), (ub, b[2] - base), off, extra)
            if zone is not None and zone.rect.overlaps(rect):
                found.append(zone)
    return tuple(found)


def _along(a: Point2, b: Point2, off: float, extra: float) -> Dear | None:
    """The zone beside one piece, dear for what goes along it; None for a piece seen end on."""
    du, dv = abs(b[0] - a[0]), abs(b[1] - a[1])
    if max(du, dv) < 1.0:
        return None
    u0, u1 = sorted((a[0], b[0]))
    v0, v1 = sorted((a[1], b[1]))
    if du >= dv:
        return Dear(Rect(u0, v0 - off, u1, v1 + off), extra, 0, ((0, v0 - off), (0, v1 + off)))
    return Dear(Rect(u0 - off, v0, u1 + off, v1), extra, 1, ((1, u0 - off), (1, u1 + off)))
