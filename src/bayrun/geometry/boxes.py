"""Rectangles in a plane and boxes in space, all square to the axes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bayrun.geometry.touch import TOUCH_IN


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle square to its two axes; ``u`` and ``v`` are any two of them [in]."""

    u0: float
    v0: float
    u1: float
    v1: float

    @property
    def width(self) -> float:
        """Extent along u [in]."""
        return self.u1 - self.u0

    @property
    def height(self) -> float:
        """Extent along v [in]."""
        return self.v1 - self.v0

    @property
    def center(self) -> tuple[float, float]:
        """Middle of the rectangle."""
        return (self.u0 + self.u1) / 2, (self.v0 + self.v1) / 2

    def grown(self, by_in: float) -> Rect:
        """The rectangle with every side moved out by ``by_in``."""
        return Rect(self.u0 - by_in, self.v0 - by_in, self.u1 + by_in, self.v1 + by_in)

    def overlaps(self, other: Rect) -> bool:
        """True where the insides meet; a shared edge is not an overlap."""
        return (
            self.u0 < other.u1 - TOUCH_IN
            and other.u0 < self.u1 - TOUCH_IN
            and self.v0 < other.v1 - TOUCH_IN
            and other.v0 < self.v1 - TOUCH_IN
        )

    def holds(self, u: float, v: float) -> bool:
        """True where the point is inside or on the edge."""
        return self.u0 - TOUCH_IN <= u <= self.u1 + TOUCH_IN and self.v0 - TOUCH_IN <= v <= self.v1 + TOUCH_IN

    def crossed_by(self, u0: float, v0: float, u1: float, v1: float) -> bool:
        """True where the segment passes through the inside (touching an edge does not count)."""
        t0, t1 = 0.0, 1.0
        for start, step, low, high in (
            (u0, u1 - u0, self.u0 + TOUCH_IN, self.u1 - TOUCH_IN),
            (v0, v1 - v0, self.v0 + TOUCH_IN, self.v1 - TOUCH_IN),
        ):
            if abs(step) < 1e-12:
                if not low < start < high:
                    return False
                continue
            a, b = (low - start) / step, (high - start) / step
            t0, t1 = max(t0, min(a, b)), min(t1, max(a, b))
        return t0 < t1


@dataclass(frozen=True, slots=True)
class Box:
    """A box in the world, square to x, y and z [in]."""

    x0: float
    y0: float
    z0: float
    x1: float
    y1: float
    z1: float

    @property
    def plan(self) -> Rect:
        """The box seen from above."""
        return Rect(self.x0, self.y0, self.x1, self.y1)

    def overlaps(self, other: Box) -> bool:
        """True where the insides meet; touching faces do not count."""
        return self.plan.overlaps(other.plan) and (
            self.z0 < other.z1 - TOUCH_IN and other.z0 < self.z1 - TOUCH_IN
        )

    def crossed_by(self, a: Sequence[float], b: Sequence[float]) -> bool:
        """True where the segment from ``a`` to ``b`` passes through the inside of the box."""
        t0, t1 = 0.0, 1.0
        for start, end, low, high in zip(
            a, b, (self.x0, self.y0, self.z0), (self.x1, self.y1, self.z1), strict=True
        ):
            low, high, step = low + TOUCH_IN, high - TOUCH_IN, end - start
            if abs(step) < 1e-12:
                if not low < start < high:
                    return False
                continue
            near_t, far_t = (low - start) / step, (high - start) / step
            t0, t1 = max(t0, min(near_t, far_t)), min(t1, max(near_t, far_t))
        return t0 < t1


def subtract(rect: Rect, hole: Rect) -> tuple[Rect, ...]:
    """What is left of ``rect`` when ``hole`` is cut out: up to four rectangles, u-strips first."""
    if not rect.overlaps(hole):
        return (rect,)
    a, b = max(rect.u0, hole.u0), max(rect.v0, hole.v0)
    c, d = min(rect.u1, hole.u1), min(rect.v1, hole.v1)
    pieces = (
        Rect(rect.u0, rect.v0, a, rect.v1),
        Rect(c, rect.v0, rect.u1, rect.v1),
        Rect(a, rect.v0, c, b),
        Rect(a, d, c, rect.v1),
    )
    return tuple(p for p in pieces if p.width > TOUCH_IN and p.height > TOUCH_IN)


def subtract_all(rect: Rect, holes: Iterable[Rect]) -> tuple[Rect, ...]:
    """What is left of ``rect`` when every hole is cut out, in a fixed order."""
    left: tuple[Rect, ...] = (rect,)
    for hole in holes:
        left = tuple(piece for one in left for piece in subtract(one, hole))
    return left


def cut_interval(
    low_in: float, high_in: float, taken: Iterable[tuple[float, float]]
) -> tuple[tuple[float, float], ...]:
    """What is left of an interval when every taken interval is cut out, from low to high."""
    left: list[tuple[float, float]] = []
    at = low_in
    for a, b in sorted(taken):
        if b <= at + TOUCH_IN:
            continue
        if a >= high_in - TOUCH_IN:
            break
        if a > at + TOUCH_IN:
            left.append((at, min(a, high_in)))
        at = max(at, b)
    if at < high_in - TOUCH_IN:
        left.append((at, high_in))
    return tuple(left)
