"""The quick packer: each cable goes to the corner between two others that lies nearest the middle.

Largest first, each circle tangent to two already laid; corners are kept in a heap for the radius in hand.
It gives a compact bundle in about a millisecond for the bundles of one hole; what it gives is a start for
the search and is good enough wherever the fill decides.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence

from bayrun.cables.circles import Disc, Point, enclosing

HEARTS = (1, 2, 3)
"""How many circles, tangent to one another, form the middle."""
_MANY = 60
_CLASSES = 12


def _heart(radii: Sequence[float], count: int) -> list[Point]:
    """The first circles laid tangent to one another about 0, 0."""
    if count == 1:
        return [(0.0, 0.0)]
    a, b = radii[0], radii[1]
    points: list[Point] = [(0.0, 0.0), (a + b, 0.0)]
    if count == 3:
        c = radii[2]
        x = ((a + b) ** 2 + (a + c) ** 2 - (b + c) ** 2) / (2 * (a + b))
        points.append((x, math.sqrt(max(0.0, (a + c) ** 2 - x * x))))
    discs: list[Disc] = [(x, y, r) for (x, y), r in zip(points, radii, strict=False)]
    x0, y0, _ = enclosing(discs)
    return [(x - x0, y - y0) for x, y in points]


def _corners_of(new: int, laid: Sequence[Disc], r: float) -> list[tuple[float, float, float]]:
    """Clear places for radius ``r`` tangent to circle ``new`` and one other: distance from 0, 0; x; y."""
    xn, yn, rn = laid[new]
    reach = rn + 2 * r
    around = []
    for index, (x, y, other) in enumerate(laid):
        dx, dy = x - xn, y - yn
        limit = reach + other
        if dx * dx + dy * dy < limit * limit and index != new:
            around.append((dx, dy, other + r))
    # Whatever blocks a corner lies in the same neighborhood, so only that is looked at.
    found, rim = [], rn + r
    for dx, dy, stand in around:
        apart2 = dx * dx + dy * dy
        along = (rim * rim - stand * stand + apart2) / (2 * apart2)
        across2 = rim * rim / apart2 - along * along
        if across2 < 0:
            continue
        across = math.sqrt(across2)
        for side in (across, -across):
            x, y = dx * along - dy * side, dy * along + dx * side
            for bx, by, clear in around:
                ex, ey = x - bx, y - by
                if ex * ex + ey * ey < clear * clear * (1 - 1e-12):
                    break
            else:
                found.append((round(math.hypot(xn + x, yn + y), 12), xn + x, yn + y))
    return found


def _classes(radii: Sequence[float]) -> list[float]:
    """Radius to place each circle with: its own, or for many sizes the largest of its class."""
    if len(radii) <= _MANY or len(set(radii)) <= _CLASSES:
        return list(radii)
    step = (radii[0] / radii[-1]) ** (1 / _CLASSES)
    placed: list[float] = []
    top = radii[0]
    for radius in radii:
        if radius * step < top:
            top = radius
        placed.append(top)
    return placed


def lay(radii: Sequence[float], heart: int = 1) -> list[Point]:
    """Lay circles round a middle, each in the free corner nearest to it.

    Args:
        radii: Largest first; the largest should be near 1.
        heart: How many of the first circles form the middle: 1, 2 or 3.
    Returns:
        Center of each circle, disjoint to rounding; not yet centered.
    """
    count = len(radii)
    sizes = _classes(radii)
    laid: list[Disc] = [(x, y, r) for (x, y), r in zip(_heart(sizes, min(heart, count)), sizes, strict=False)]
    heap: list[tuple[float, float, float, int]] = []
    now = 0.0
    for index in range(len(laid), count):
        r = sizes[index]
        if len(laid) == 1:
            laid.append((laid[0][2] + r, 0.0, r))
            continue
        if r != now:
            now, heap = r, []
            seen = range(len(laid))
        else:
            seen = range(len(laid) - 1, len(laid))
        for new in seen:
            for far, x, y in _corners_of(new, laid, r):
                heapq.heappush(heap, (far, x, y, len(laid)))
        while True:
            _, x, y, since = heapq.heappop(heap)
            if all((x - a) ** 2 + (y - b) ** 2 >= (c + r) ** 2 * (1 - 1e-12) for a, b, c in laid[since:]):
                break
        laid.append((x, y, r))
    return [(x, y) for x, y, _ in laid]
