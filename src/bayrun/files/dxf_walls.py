"""Lines of a plan to walls: two lines that run along each other a wall's thickness apart are its faces."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from bayrun.files.shell import Point
from bayrun.geometry import at_most

THINNEST_IN, THICKEST_IN = 3.0, 14.0
"""Two lines this far apart are the faces of a wall: a bare 2x3 to furred masonry (common practice) [in]."""
_SHORTEST_IN = 6.0
_SAME_LINE_IN, _SAME_THICKNESS_IN = 1.0, 0.75
TEE_IN = 15.0
"""A break in a wall's faces no wider than this is where another wall meets it [in]."""
_PARALLEL = 0.01


@dataclass(frozen=True, slots=True)
class Strip:
    """One stretch of wall: its center line and thickness [in]."""

    start: Point
    end: Point
    thickness_in: float

    @property
    def length_in(self) -> float:
        """Along the center line [in]."""
        return math.dist(self.start, self.end)

    @property
    def direction(self) -> Point:
        """Unit vector from start to end."""
        length = self.length_in
        return (self.end[0] - self.start[0]) / length, (self.end[1] - self.start[1]) / length

    def place(self, p: Point) -> tuple[float, float]:
        """Offset along and distance left of the center line [in]."""
        dx, dy = self.direction
        x, y = p[0] - self.start[0], p[1] - self.start[1]
        return x * dx + y * dy, y * dx - x * dy

    def at(self, along: float, left: float = 0.0) -> Point:
        """A plan point [in]."""
        dx, dy = self.direction
        return self.start[0] + dx * along - dy * left, self.start[1] + dy * along + dx * left


@dataclass(frozen=True, slots=True)
class Run:
    """Stretches of one wall line, low to high, with the breaks between them."""

    strip: Strip
    gaps: tuple[tuple[float, float], ...]


@dataclass(slots=True)
class _Line:
    low: float
    high: float
    off: float
    spent: list[tuple[float, float]]


def strips_of(segments: Sequence[tuple[Point, Point]]) -> list[Strip]:
    """Wall stretches by pairs of parallel lines, nearest pairs first; a stretch of line is one face only.

    Args:
        segments: Lines of the plan [in].
    """
    groups: dict[int, list[tuple[float, Point, Point]]] = {}
    for a, b in segments:
        if math.dist(a, b) < 0.5:
            continue
        angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 180.0
        groups.setdefault(round(angle * 2) % 360, []).append((angle, a, b))
    found: list[Strip] = []
    for key in sorted(groups):
        radians = math.radians(key / 2)
        dx, dy = math.cos(radians), math.sin(radians)
        lines = _merged_lines(
            [
                _spanned(a, b, dx, dy)
                for _, a, b in groups[key]
            ]
        )  # fmt: skip
        found += _paired(lines, dx, dy)
    return _widest(found)


def _spanned(a: Point, b: Point, dx: float, dy: float) -> tuple[float, float, float]:
    """From, to along a direction, and the distance left of it [in]."""
    low, high = sorted((a[0] * dx + a[1] * dy, b[0] * dx + b[1] * dy))
    return low, high, (-(a[0] + b[0]) * dy + (a[1] + b[1]) * dx) / 2


def _merged_lines(raw: list[tuple[float, float, float]]) -> list[_Line]:
    """Pieces of one line that touch or lie on each other become one."""
    lines: list[_Line] = []
    for low, high, off in sorted(raw, key=lambda r: (round(r[2], 2), r[0], r[1])):
        last = lines[-1] if lines else None
        if last is not None and abs(last.off - off) < 0.06 and low <= last.high + 0.1:
            last.high = max(last.high, high)
        else:
            lines.append(_Line(low, high, off, []))
    return lines


def _paired(lines: list[_Line], dx: float, dy: float) -> list[Strip]:
    pairs = []
    for i, p in enumerate(lines):
        for j in range(i + 1, len(lines)):
            q = lines[j]
            gap = q.off - p.off
            if gap > THICKEST_IN + 1e-3:
                break
            if gap >= THINNEST_IN - 1e-3 and min(p.high, q.high) - max(p.low, q.low) >= _SHORTEST_IN:
                pairs.append((round(gap, 2), i, j))
    found: list[Strip] = []
    for _, i, j in sorted(pairs):
        p, q = lines[i], lines[j]
        for low, high in _free(max(p.low, q.low), min(p.high, q.high), [*p.spent, *q.spent]):
            gap = q.off - p.off
            # A square bit is a jamb or the stub between two openings, unless it is longer than thick.
            if high - low < max(_SHORTEST_IN, gap):
                continue
            middle = (p.off + q.off) / 2
            start = (dx * low - dy * middle, dy * low + dx * middle)
            end = (dx * high - dy * middle, dy * high + dx * middle)
            found.append(Strip(start, end, gap))
            p.spent.append((low, high))
            q.spent.append((low, high))
    return found


def _free(low: float, high: float, spent: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    parts = [(low, high)]
    for a, b in sorted(spent):
        parts = [
            piece
            for x, y in parts
            for piece in ((x, min(y, a)), (max(x, b), y))
            if piece[1] - piece[0] > 1e-6
        ]
    return parts


def _widest(strips: list[Strip]) -> list[Strip]:
    """Of nested pairs (studs inside finishes) the widest stays."""
    kept: list[Strip] = []
    for strip in sorted(strips, key=lambda s: (-s.thickness_in, s.start, s.end)):
        inside = False
        for k in kept:
            dx, dy = k.direction
            sx, sy = strip.direction
            if abs(dx * sy - dy * sx) > _PARALLEL:
                continue
            (s0, l0), (s1, l1) = k.place(strip.start), k.place(strip.end)
            if max(abs(l0), abs(l1)) + strip.thickness_in / 2 <= k.thickness_in / 2 + 0.1:
                inside = at_most(-1.0, min(s0, s1)) and at_most(max(s0, s1), k.length_in + 1.0)
            if inside:
                break
        if not inside:
            kept.append(strip)
    return sorted(kept, key=lambda s: (s.start, s.end))


def runs_of(strips: Sequence[Strip], bridged: Callable[[Strip], bool]) -> list[Run]:
    """Stretches in one line joined over their breaks; breaks wider than a wall are told as gaps.

    Args:
        bridged: Whether a break wider than a wall is an opening of one wall, not the room between two.
    """
    left = [_ordered(s) for s in strips]
    left.sort(key=lambda s: (round(s.direction[0], 3), s.start, s.end))
    runs: list[Run] = []
    while left:
        run = Run(left.pop(0), ())
        grown = True
        while grown:
            grown = False
            # The nearest one first: a break must never be leapt over with a wall standing in it.
            ranked = sorted((gap, i) for i, s in enumerate(left) if (gap := _apart(run.strip, s)) is not None)
            shut: set[bool] = set()
            for _, i in ranked:
                above = run.strip.place(left[i].start)[0] > 0.0
                if above in shut:
                    continue
                joined = _joined(run, left[i], bridged)
                if joined is not None:
                    run = joined
                    del left[i]
                    grown = True
                    break
                shut.add(above)
        runs.append(run)
    return sorted(runs, key=lambda r: (r.strip.start, r.strip.end))


def _ordered(strip: Strip) -> Strip:
    a, b = strip.start, strip.end
    forward = (b[0] - a[0], b[1] - a[1])
    back = forward[0] < -1e-6 or (abs(forward[0]) <= 1e-6 and forward[1] < 0)
    return replace(strip, start=b, end=a) if back else strip


def _apart(base: Strip, strip: Strip) -> float | None:
    """The break between two stretches of one line, None where they are not in one line [in]."""
    dx, dy = base.direction
    sx, sy = strip.direction
    if abs(dx * sy - dy * sx) > _PARALLEL or abs(base.thickness_in - strip.thickness_in) > _SAME_THICKNESS_IN:
        return None
    (s0, l0), (s1, l1) = base.place(strip.start), base.place(strip.end)
    if max(abs(l0), abs(l1)) > _SAME_LINE_IN:
        return None
    return max(min(s0, s1) - base.length_in, -max(s0, s1))


def _joined(run: Run, strip: Strip, bridged: Callable[[Strip], bool]) -> Run | None:
    base = run.strip
    gap = _apart(base, strip)
    if gap is None:
        return None
    low, high = sorted((base.place(strip.start)[0], base.place(strip.end)[0]))
    ends = (base.length_in, low) if low > base.length_in else (high, 0.0)
    if gap > TEE_IN and not bridged(Strip(base.at(ends[0]), base.at(ends[1]), base.thickness_in)):
        return None
    new_low, new_high = min(0.0, low), max(base.length_in, high)
    grown = Strip(base.at(new_low), base.at(new_high), base.thickness_in)
    gaps = [(a - new_low, b - new_low) for a, b in run.gaps]
    if gap > TEE_IN:
        gaps.append((ends[0] - new_low, ends[1] - new_low))
    return Run(grown, tuple(sorted(gaps)))
