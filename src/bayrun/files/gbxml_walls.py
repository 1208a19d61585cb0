"""Thin wall surfaces to straight walls: doubles once, surfaces in one line as one wall."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from bayrun.files.shell import OpeningKind, Point, ShellNote

_TOUCH_IN = 0.5
_DOOR_SILL_IN = 8.0


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening of a surface: its type in the file and its corners [in]."""

    id: str
    kind: str
    points: tuple[tuple[float, float, float], ...]

    @property
    def shell_kind(self) -> OpeningKind:
        """Door, window or void."""
        low = self.kind.lower()
        return "door" if "door" in low else "void" if low == "air" else "window"


@dataclass(frozen=True, slots=True)
class Face:
    """One upright surface of the file.

    Args:
        flat: Its corners seen from above [in].
        base_in: Its bottom above the level's elevation [in].
        elevation_in: Of its level, in the file's own heights [in].
    """

    id: str
    level: str
    construction: str
    exterior: bool
    thickness_in: float
    flat: tuple[Point, ...]
    base_in: float
    height_in: float
    holes: tuple[Hole, ...]
    elevation_in: float


@dataclass(frozen=True, slots=True)
class WallLine:
    """One straight wall along its surfaces' line, ``start`` left of or below ``end``."""

    level: str
    construction: str
    exterior: bool
    thickness_in: float
    start: Point
    end: Point
    base_in: float
    height_in: float
    holes: tuple[Hole, ...]
    refs: tuple[str, ...]
    elevation_in: float


def wall_lines(faces: Sequence[Face]) -> tuple[list[WallLine], list[ShellNote]]:
    """Walls of these surfaces, by level and place, and what was done to get them.

    Surfaces become one wall where they touch end to end in one line on one level, with one construction and
    one height. Where two such lines would cross, the one that runs more across the sheet goes through.
    """
    lines = [_line(f) for f in faces]
    slivers = [ref for n in lines if math.dist(n.start, n.end) < 3.0 for ref in n.refs]
    lines = [n for n in lines if math.dist(n.start, n.end) >= 3.0]
    lines.sort(key=_order)
    once: list[WallLine] = []
    doubles: list[str] = []
    for line in lines:
        twin = next((i for i, k in enumerate(once) if _same(line, k)), None)
        if twin is None:
            once.append(line)
        else:
            doubles.extend(line.refs)
            have = {h.points[0] for h in once[twin].holes}
            more = tuple(
                h for h in line.holes if h.points[0] not in have and not _near_any(h, once[twin].holes)
            )
            once[twin] = replace(once[twin], holes=once[twin].holes + more)
    stacked, once = _stacked(once)
    merged = True
    while merged:
        merged = False
        for i, a in enumerate(once):
            for j in range(i + 1, len(once)):
                b = once[j]
                if _follows(a, b) and not _crossed(a, b, once):
                    once[i] = _one(a, b)
                    del once[j]
                    merged = True
                    break
            if merged:
                break
    once.sort(key=_order)
    notes = []
    if doubles:
        notes.append(
            ShellNote(
                "mended", f"{len(doubles)} wall surfaces given twice, once from each side, are counted once",
                len(doubles),
            )
        )  # fmt: skip
    if stacked:
        notes.append(
            ShellNote("mended", f"{stacked} wall surfaces that stand on each other are one wall", stacked)
        )
    if slivers:
        notes.append(
            ShellNote(
                "left out",
                f"{len(slivers)} wall surfaces less than 3 in long",
                len(slivers),
                tuple(slivers[:8]),
            )
        )
    joined = sum(len(n.refs) > 1 for n in once)
    if joined:
        was = sum(len(n.refs) for n in once if len(n.refs) > 1)
        notes.append(
            ShellNote(
                "read", f"{was} wall surfaces that follow each other in one line make {joined} walls", was
            )
        )
    return once, notes


def _order(line: WallLine) -> tuple[object, ...]:
    return line.elevation_in, not line.exterior, line.start, line.end, line.base_in, line.refs


def _line(face: Face) -> WallLine:
    # The two corners farthest apart in plan are the ends.
    ends = max(
        ((a, b) for i, a in enumerate(face.flat) for b in face.flat[i:]),
        key=lambda pair: (round(math.dist(*pair), 2), pair),
    )
    start, end = sorted(ends)
    return WallLine(
        face.level, face.construction, face.exterior, face.thickness_in, start, end, face.base_in,
        face.height_in, face.holes, (face.id,), face.elevation_in,
    )  # fmt: skip


def _same(a: WallLine, b: WallLine) -> bool:
    ends = (math.dist(a.start, b.start), math.dist(a.end, b.end))
    heights = (abs(a.base_in - b.base_in), abs(a.height_in - b.height_in))
    return a.level == b.level and max(*ends, *heights) < _TOUCH_IN


def _near_any(hole: Hole, others: Sequence[Hole]) -> bool:
    def middle(h: Hole) -> tuple[float, ...]:
        return tuple(sum(p[i] for p in h.points) / len(h.points) for i in range(3))

    return any(math.dist(middle(hole), middle(o)) < 4.0 for o in others)


def _stacked(lines: list[WallLine]) -> tuple[int, list[WallLine]]:
    """Surfaces of one wall cut by a level line: the upper stands on the lower over the same stretch."""
    kept: list[WallLine] = []
    count = 0
    for line in lines:
        for i, k in enumerate(kept):
            over = abs(k.base_in + k.height_in - line.base_in) < _TOUCH_IN
            under = abs(line.base_in + line.height_in - k.base_in) < _TOUCH_IN
            ends = max(math.dist(line.start, k.start), math.dist(line.end, k.end))
            if k.level == line.level and ends < _TOUCH_IN and (over or under):
                kept[i] = replace(
                    k, base_in=min(k.base_in, line.base_in), height_in=k.height_in + line.height_in,
                    holes=k.holes + line.holes, refs=k.refs + line.refs,
                )  # fmt: skip
                count += 1
                break
        else:
            kept.append(line)
    return count, kept


def _follows(a: WallLine, b: WallLine) -> bool:
    alike = (
        a.level == b.level
        and a.construction == b.construction
        and a.exterior == b.exterior
        and abs(a.base_in - b.base_in) < _TOUCH_IN
        and abs(a.height_in - b.height_in) < _TOUCH_IN
    )
    return alike and (_in_line(a, b) or _in_line(b, a))


def _in_line(a: WallLine, b: WallLine) -> bool:
    if math.dist(a.end, b.start) >= _TOUCH_IN:
        return False
    ax, ay, bx, by = (
        a.end[0] - a.start[0],
        a.end[1] - a.start[1],
        b.end[0] - b.start[0],
        b.end[1] - b.start[1],
    )
    return abs(ax * by - ay * bx) < 0.002 * math.hypot(ax, ay) * math.hypot(bx, by)


def _crossed(a: WallLine, b: WallLine, lines: Sequence[WallLine]) -> bool:
    """True where walls that run more across the sheet stand on both sides of the meeting point."""
    at = a.end if math.dist(a.end, b.start) < _TOUCH_IN else a.start
    dx, dy = b.end[0] - a.start[0], b.end[1] - a.start[1]
    length = math.hypot(dx, dy)
    sides: set[bool] = set()
    for other in lines:
        if other is a or other is b or other.level != a.level:
            continue
        ox, oy = other.end[0] - other.start[0], other.end[1] - other.start[1]
        if abs(ox) <= abs(oy) or abs(dx * oy - dy * ox) < 0.2 * length * math.hypot(ox, oy):
            continue
        lefts = []
        for point in (other.start, other.end):
            x, y = point[0] - at[0], point[1] - at[1]
            lefts.append((y * dx - x * dy) / length)
        crossing = _hits(at, other)
        if crossing:
            sides.update(left > 1.0 for left in lefts if abs(left) > 1.0)
    return len(sides) == 2


def _hits(point: Point, line: WallLine) -> bool:
    length = math.dist(line.start, line.end)
    dx, dy = (line.end[0] - line.start[0]) / length, (line.end[1] - line.start[1]) / length
    x, y = point[0] - line.start[0], point[1] - line.start[1]
    return abs(y * dx - x * dy) < _TOUCH_IN and -_TOUCH_IN < x * dx + y * dy < length + _TOUCH_IN


def _one(a: WallLine, b: WallLine) -> WallLine:
    ends = sorted((a.start, a.end, b.start, b.end))
    return replace(a, start=ends[0], end=ends[-1], holes=a.holes + b.holes, refs=a.refs + b.refs)
