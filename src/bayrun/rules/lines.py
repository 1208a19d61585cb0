"""Straight pieces of runs against other lines: how near, how far along. Numbers only."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

from bayrun.geometry import at_most, below
from bayrun.wiring import Run

Point3 = tuple[float, float, float]
Piece3 = tuple[Point3, Point3]
_STEPS = 60
"""Halvings of an interval: from a house's length to far under a touch."""


def pieces_of(run: Run) -> tuple[Piece3, ...]:
    """The straight pieces of a run's path, those of no length left out."""
    points = [(p.x, p.y, p.z) for p in run.path]
    return tuple((a, b) for a, b in itertools.pairwise(points) if below(0.0, math.dist(a, b)))


def angle_deg(one: Piece3, other: Piece3) -> float:
    """Angle between two straight pieces, 0 (along each other) to 90 (square) [degrees]."""
    u = tuple(b - a for a, b in zip(*one, strict=True))
    v = tuple(b - a for a, b in zip(*other, strict=True))
    dot = abs(sum(p * q for p, q in zip(u, v, strict=True)))
    size = math.hypot(*u) * math.hypot(*v)
    return math.degrees(math.acos(min(1.0, dot / size))) if size else 90.0


def at(piece: Piece3, share: float) -> Point3:
    """The point at a share of a piece's length."""
    a, b = piece
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2]))


def from_piece_in(point: Point3, piece: Piece3) -> float:
    """Distance of a point from a straight piece [in]."""
    a, b = piece
    u = (b[0] - a[0], b[1] - a[1], b[2] - a[2])
    w = (point[0] - a[0], point[1] - a[1], point[2] - a[2])
    size = sum(c * c for c in u)
    share = 0.0 if not size else sum(p * q for p, q in zip(w, u, strict=True)) / size
    return math.dist(point, at(piece, min(1.0, max(0.0, share))))


def near_stretch(piece: Piece3, other: Piece3, within_in: float) -> tuple[float, float] | None:
    """(stretch of a piece nearer to another than ``within_in``, least distance), or None where none is [in].

    The distance from a moving point to a straight piece is convex, so its low part is one stretch.
    """

    def gap_in(share: float) -> float:
        return from_piece_in(at(piece, share), other)

    if gap_in(0.5) - math.dist(*piece) / 2 > within_in:
        return None  # a way changes its distance by no more than its length

    low, high = 0.0, 1.0
    for _ in range(_STEPS):
        a, b = low + (high - low) / 3, high - (high - low) / 3
        if gap_in(a) > gap_in(b):
            low = a
        else:
            high = b
    nearest = (low + high) / 2
    least_in = min(gap_in(nearest), gap_in(0.0), gap_in(1.0))
    best = min((nearest, 0.0, 1.0), key=gap_in)
    if not below(least_in, within_in):
        return None
    start, end = _edge(gap_in, best, 0.0, within_in), _edge(gap_in, best, 1.0, within_in)
    return (end - start) * math.dist(*piece), least_in


def _edge(gap_in: Callable[[float], float], inside: float, end: float, within_in: float) -> float:
    if at_most(gap_in(end), within_in):
        return end
    near, far = inside, end
    for _ in range(_STEPS):
        middle = (near + far) / 2
        if at_most(gap_in(middle), within_in):
            near = middle
        else:
            far = middle
    return near
