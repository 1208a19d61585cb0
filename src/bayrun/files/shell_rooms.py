"""Rooms against their walls: outlines out to the walls' lines, which face shows which room, open edges.

A file draws a room along its inner faces, or says its area to the middle of the walls. A job wants
the outline along the walls' center lines, so each edge is moved out to the wall it lies on.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from bayrun.files.shell import Point, ShellSpace, ShellWall, Side, area_of, signed_area_of
from bayrun.geometry import at_most

GAP_IN = 3.0
"""A room's edge may miss its wall's face by this much: tile, a sloppy click [in]."""
_SHORT_IN = 18.0
"""A shorter stretch of edge without a wall is a corner or a jamb, not an opening between rooms [in]."""


@dataclass(frozen=True, slots=True)
class Contact:
    """A stretch of one wall face that shows to a room, as offsets along the wall [in]."""

    wall: str
    side: Side
    from_in: float
    to_in: float


@dataclass(frozen=True, slots=True)
class RoomOutline:
    """One room brought out to its walls.

    Args:
        polygon: Counterclockwise, along the lines of the walls [in].
        contacts: Wall faces that show to the room.
        open_edges: Stretches of its edge with no wall on them.
    """

    space: ShellSpace
    polygon: tuple[Point, ...]
    contacts: tuple[Contact, ...]
    open_edges: tuple[tuple[Point, Point], ...]

    @property
    def area_in2(self) -> float:
        """Of the outline [in2]."""
        return area_of(self.polygon)


@dataclass(frozen=True, slots=True)
class _Stretch:
    t0: float
    t1: float
    out_in: float
    wall: ShellWall | None
    side: Side = "left"


def room_outline(
    space: ShellSpace, walls: Iterable[ShellWall], line: Literal["core", "middle"] = "core"
) -> RoomOutline:
    """Bring a room's inner outline out to its walls.

    Args:
        space: The room; its polygon runs along inner faces.
        walls: Walls of its level (others are passed over).
        line: ``core``: to the center of the studs, as a job wants it; ``middle``: halfway between the
            faces, as many programs measure areas.
    """
    polygon = _clean(space.polygon)
    near = [w for w in walls if w.level == space.level and w.role == "wall"]
    edges = list(pairwise((*polygon, polygon[0])))
    stretches = [_stretches(a, b, near, line) for a, b in edges]
    outline = _built(edges, stretches)
    if len(outline) < 3 or not 0.9 * area_of(polygon) <= area_of(outline) <= 4.0 * area_of(polygon):
        outline = polygon
    contacts, open_edges = [], []
    for (a, b), parts in zip(edges, stretches, strict=True):
        for part in parts:
            ends = (_along(a, b, part.t0), _along(a, b, part.t1))
            if part.wall is None:
                if part.t1 - part.t0 >= _SHORT_IN:
                    open_edges.append(ends)
                continue
            low, high = sorted(min(max(part.wall.place(p)[0], 0.0), part.wall.length_in) for p in ends)
            contacts.append(Contact(part.wall.id, part.side, low, high))
    return RoomOutline(space, outline, tuple(contacts), tuple(open_edges))


def _clean(polygon: tuple[Point, ...]) -> tuple[Point, ...]:
    """Counterclockwise, without repeated points and corners that do not bend."""
    points = list(polygon if signed_area_of(polygon) > 0 else reversed(polygon))
    for _ in range(2):
        kept: list[Point] = []
        for i, here in enumerate(points):
            before, after = points[i - 1], points[(i + 1) % len(points)]
            ax, ay, bx, by = here[0] - before[0], here[1] - before[1], after[0] - here[0], after[1] - here[1]
            if abs(ax * by - ay * bx) > 0.005 * math.hypot(ax, ay) * math.hypot(bx, by):
                kept.append(here)
        points = kept if len(kept) >= 3 else points
    return tuple(points)


def _along(a: Point, b: Point, t_in: float) -> Point:
    length = math.dist(a, b)
    return a[0] + (b[0] - a[0]) * t_in / length, a[1] + (b[1] - a[1]) * t_in / length


def _stretches(
    a: Point, b: Point, walls: Sequence[ShellWall], line: Literal["core", "middle"]
) -> list[_Stretch]:
    """What each part of one edge lies on, from ``a`` to ``b`` without gaps."""
    length = math.dist(a, b)
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    near: list[tuple[float, int, _Stretch]] = []
    for index, wall in enumerate(walls):
        wx, wy = wall.direction
        if abs(dx * wy - dy * wx) > 0.03:
            continue
        (s0, l0), (s1, l1) = wall.place(a), wall.place(b)
        left = (l0 + l1) / 2
        # The room lies left of its edge; it lies left of the wall where both run the same way.
        same = dx * wx + dy * wy > 0
        face = left - wall.left_in if same else -left - wall.right_in
        if not (at_most(-wall.thickness_in, face) and at_most(face, GAP_IN)):
            continue
        low, high = max(0.0, min(s0, s1)), min(wall.length_in, max(s0, s1))
        if high - low < 1.0:
            continue
        t0, t1 = (low - s0, high - s0) if same else (s0 - high, s0 - low)
        middle = (wall.left_in - wall.right_in) / 2 if line == "middle" else 0.0
        out = left - middle if same else middle - left
        near.append((abs(face), index, _Stretch(t0, t1, out, wall, "left" if same else "right")))
    cuts = sorted({0.0, length, *(min(max(t, 0.0), length) for _, _, s in near for t in (s.t0, s.t1))})
    parts: list[_Stretch] = []
    for t0, t1 in pairwise(cuts):
        if t1 - t0 < 1e-6:
            continue
        here = [n for n in near if n[2].t0 <= t0 + 1e-6 and n[2].t1 >= t1 - 1e-6]
        best = min(here, key=lambda n: (round(n[0], 3), n[1]))[2] if here else _Stretch(t0, t1, 0.0, None)
        if parts and parts[-1].wall is best.wall and parts[-1].side == best.side:
            parts[-1] = _Stretch(parts[-1].t0, t1, best.out_in, best.wall, best.side)
        else:
            parts.append(_Stretch(t0, t1, best.out_in, best.wall, best.side))
    return _without_slivers(parts)


def _without_slivers(parts: list[_Stretch]) -> list[_Stretch]:
    """Short stretches without a wall (jambs, corners) belong to the wall beside them."""
    changed = True
    while changed and len(parts) > 1:
        changed = False
        for i, part in enumerate(parts):
            if part.wall is None and part.t1 - part.t0 < _SHORT_IN:
                beside = [p for p in parts[max(0, i - 1) : i + 2] if p.wall is not None]
                if not beside:
                    continue
                taker = max(beside, key=lambda p: p.t1 - p.t0)
                j = parts.index(taker)
                parts[j] = _Stretch(
                    min(taker.t0, part.t0), max(taker.t1, part.t1), taker.out_in, taker.wall, taker.side
                )
                del parts[i]
                changed = True
                break
    return parts


def _built(
    edges: Sequence[tuple[Point, Point]], stretches: Sequence[Sequence[_Stretch]]
) -> tuple[Point, ...]:
    """The outline from every stretch moved out by its own amount; jogs where amounts change."""
    lines: list[tuple[Point, Point, int]] = []
    for number, ((a, b), parts) in enumerate(zip(edges, stretches, strict=True)):
        length = math.dist(a, b)
        nx, ny = (b[1] - a[1]) / length, -(b[0] - a[0]) / length
        for part in parts:
            p, q = _along(a, b, part.t0), _along(a, b, part.t1)
            o = part.out_in
            lines.append(((p[0] + nx * o, p[1] + ny * o), (q[0] + nx * o, q[1] + ny * o), number))
    points: list[Point] = []
    for (p, q, edge), (r, s, following) in zip(lines, lines[1:] + lines[:1], strict=True):
        crossing = None if edge == following else _crossing(p, q, r, s)
        points += [q, r] if crossing is None else [crossing]
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(kept[-1], point) > 1e-3:
            kept.append((round(point[0], 4) + 0.0, round(point[1], 4) + 0.0))
    return _clean(tuple(kept)) if len(kept) >= 3 else ()


def _crossing(p: Point, q: Point, r: Point, s: Point) -> Point | None:
    ax, ay, bx, by = q[0] - p[0], q[1] - p[1], s[0] - r[0], s[1] - r[1]
    turn = ax * by - ay * bx
    if abs(turn) < 1e-3 * math.hypot(ax, ay) * math.hypot(bx, by):
        return None
    t = ((r[0] - p[0]) * by - (r[1] - p[1]) * bx) / turn
    return p[0] + ax * t, p[1] + ay * t
