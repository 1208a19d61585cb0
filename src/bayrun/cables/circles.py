"""Circles in a circle: the records, the smallest circle round a layout, and the exact last step of a packing.

Everything here is plain arithmetic on tuples, so that the certificate of a packing (disjoint, inside) does
not rest on any solver.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

Point = tuple[float, float]
Disc = tuple[float, float, float]
"""x, y, radius."""

_ROUNDING = 4e-16
"""Added with each scaling so that rounding errs to the safe side: circles apart, container larger."""


@dataclass(frozen=True, slots=True)
class Circle:
    """One cable seen end on.

    Args:
        x_in, y_in: Center, from the center of the hole or bundle [in].
        radius_in: Half the cable's outside diameter [in].
    """

    x_in: float
    y_in: float
    radius_in: float


@dataclass(frozen=True, slots=True)
class Packing:
    """A bundle of cables seen end on.

    Args:
        diameter_in: Diameter of the circle round all cables [in]; reachable by the circles given, so never
            below the least possible one.
        circles: One for each cable in the order asked, around the center of the bundle.
    """

    diameter_in: float
    circles: tuple[Circle, ...]


def _round_two(a: Disc, b: Disc) -> Disc:
    apart = math.hypot(b[0] - a[0], b[1] - a[1])
    if apart + b[2] <= a[2]:
        return a
    if apart + a[2] <= b[2]:
        return b
    radius = (apart + a[2] + b[2]) / 2
    share = (radius - a[2]) / apart
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share, radius


def _round_three(a: Disc, b: Disc, c: Disc) -> Disc | None:
    """Circle touching three circles from outside all of them (Apollonius), or None where there is none."""
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    cross = 2 * (bx * cy - by * cx)
    scale = max(abs(bx), abs(by), abs(cx), abs(cy))
    if abs(cross) <= 1e-13 * scale * scale:
        return None
    # |center - center_i| = R - r_i, less the first equation: two lines in (x, y, R), then one quadratic in R.
    b0, c0 = bx * bx + by * by + a[2] ** 2 - b[2] ** 2, cx * cx + cy * cy + a[2] ** 2 - c[2] ** 2
    b1, c1 = 2 * (b[2] - a[2]), 2 * (c[2] - a[2])
    x0, x1 = (b0 * cy - c0 * by) / cross, (b1 * cy - c1 * by) / cross
    y0, y1 = (bx * c0 - cx * b0) / cross, (bx * c1 - cx * b1) / cross
    qa = x1 * x1 + y1 * y1 - 1
    qb = x0 * x1 + y0 * y1 + a[2]
    qc = x0 * x0 + y0 * y0 - a[2] ** 2
    if abs(qa) < 1e-14:
        roots = [-qc / (2 * qb)] if qb != 0 else []
    else:
        inside = qb * qb - qa * qc
        if inside < 0:
            return None
        root = math.sqrt(inside)
        roots = [(-qb + root) / qa, (-qb - root) / qa]
    least = max(a[2], b[2], c[2])
    usable = [radius for radius in roots if radius >= least * (1 - 1e-12)]
    if not usable:
        return None
    radius = min(usable)
    return a[0] + x0 + x1 * radius, a[1] + y0 + y1 * radius, radius


def enclosing(discs: Sequence[Disc]) -> Disc:
    """Smallest circle round circles: grow the few that hold it until no other sticks out.

    Args:
        discs: x, y, radius of each, in any one unit; at least one.
    Returns:
        x, y and radius of the smallest circle round them all (radius to rounding).
    """
    support: list[Disc] = [discs[0]]
    around = discs[0]
    for _ in range(64):
        far = max(discs, key=lambda disc: math.hypot(disc[0] - around[0], disc[1] - around[1]) + disc[2])
        if math.hypot(far[0] - around[0], far[1] - around[1]) + far[2] <= around[2] * (1 + 1e-13):
            break
        pool = [*support, far]
        best: tuple[float, Disc, list[Disc]] | None = None
        for count in (1, 2, 3):
            for chosen in combinations(pool, count):
                if count == 1:
                    trial: Disc | None = chosen[0]
                elif count == 2:
                    trial = _round_two(chosen[0], chosen[1])
                else:
                    trial = _round_three(chosen[0], chosen[1], chosen[2])
                if trial is None or (best is not None and trial[2] >= best[0]):
                    continue
                x, y, radius = trial
                if all(math.hypot(d[0] - x, d[1] - y) + d[2] <= radius * (1 + 1e-12) for d in pool):
                    best = (radius, trial, list(chosen))
        if best is None or best[0] <= around[2]:
            break
        around, support = best[1], best[2]
    return around


def settle(radii: Sequence[float], points: Sequence[Point]) -> tuple[float, list[Point]]:
    """Last, exact step: scale a layout until its closest pair touches, and measure the circle round it.

    Whatever a search left (small overlaps or small gaps), the result is disjoint to rounding and its radius
    is measured, not promised; so it can never lie below the true optimum.

    Args:
        radii: Radius of each circle, any one unit.
        points: Center of each, in the same order.
    Returns:
        Radius of the container, and the centers moved so that the container's is at 0, 0. Infinite radius
        where two centers coincide.
    """
    scale, count = 0.0, len(radii)
    for i in range(count):
        (xi, yi), ri = points[i], radii[i]
        for j in range(i):
            apart = math.hypot(points[j][0] - xi, points[j][1] - yi)
            need = radii[j] + ri
            if need > scale * apart:
                if apart <= 1e-9 * need:
                    return math.inf, list(points)
                scale = need / apart
    if count == 1:
        return radii[0], [(0.0, 0.0)]
    scale *= 1 + _ROUNDING
    x0, y0, _ = enclosing([(x * scale, y * scale, r) for (x, y), r in zip(points, radii, strict=True)])
    moved = [(x * scale - x0, y * scale - y0) for x, y in points]
    radius = max(math.hypot(x, y) + r for (x, y), r in zip(moved, radii, strict=True))
    return radius * (1 + _ROUNDING), moved
