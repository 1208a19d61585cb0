"""From a way through the graph to points in the world: square legs, holes on their axes."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from bayrun.geometry import TOUCH_IN, Rect
from bayrun.routing.records import Cell, Point3
from bayrun.routing.zones import l_extra
from bayrun.wiring import PathPoint

Leg = tuple[Point3, ...]


def in_bay(wall_axis: tuple[float, float], a: Point3, b: Point3, a_face: str, b_face: str) -> Leg:
    """Square points between two points of one bay, both included.

    Args:
        wall_axis: Unit vector along the wall.
        a_face, b_face: ``side`` where the point lies at a stud's face, ``end`` at a plate, ``free`` inside.
    Returns:
        Points; the cable leaves a stud's face along the wall and a plate along its height.
    """
    dx, dy = wall_axis

    def along(p: Point3) -> float:
        return p[0] * dx + p[1] * dy

    def across(p: Point3) -> float:
        return -p[0] * dy + p[1] * dx

    def world(u: float, v: float, z: float) -> Point3:
        return u * dx - v * dy, u * dy + v * dx, z

    ua, ub, va, vb = along(a), along(b), across(a), across(b)
    if a_face == "side" and b_face == "side":
        middle = (ua + ub) / 2
        points = [a, world(middle, va, a[2]), world(middle, va, b[2]), world(middle, vb, b[2]), b]
    elif a_face == "side":
        points = [a, world(ub, va, a[2]), world(ub, vb, a[2]), b]
    elif b_face == "side":
        points = [a, world(ua, va, b[2]), world(ua, vb, b[2]), b]
    elif a_face == "end" and b_face == "end":
        middle = (a[2] + b[2]) / 2
        points = [a, (a[0], a[1], middle), world(ub, va, middle), (b[0], b[1], middle), b]
    elif a_face == "end":
        points = [a, (a[0], a[1], b[2]), world(ub, va, b[2]), b]
    else:
        points = [a, world(ub, va, a[2]), (b[0], b[1], a[2]), b]
    return clean(points)


def face_of(end: str, place_axis: str | None) -> str:
    """How a point lies in a bay: ``end`` at a plate or box, ``side`` at a stud's face, ``free`` inside.

    Args:
        end: Name of the terminal it is, or empty.
        place_axis: Axis of the place it belongs to; None for a terminal or a bare point.
    """
    if end.split("/")[0].split(":")[0] == "enclosure":
        return "end"
    if place_axis is None:
        return "free"
    return "side" if place_axis == "along" else "end"


def x_first_in(cell: Cell, a: Point3, b: Point3) -> bool | None:
    """Which L joins two plan points of a cell best, x first or not; None where neither is free.

    A free one before a barred one, then the one along less dear ground, then the firm's habit: out of the
    way along the members last.
    """
    habit = cell.axis == "y"
    free = (
        [w for w in (habit, not habit) if l_is_free(cell.blocked, a, b, w)]
        if cell.blocked
        else [habit, not habit]
    )
    if not free:
        return None
    if len(free) == 1 or not cell.dear:
        return free[0]
    first, second = (l_extra(cell.dear, a[:2], b[:2], w) for w in free)
    return free[1] if second < first - TOUCH_IN else free[0]


def in_plan(cell: Cell, a: Point3, b: Point3, x_first: bool) -> Leg:
    """Square points between two points of a floor or attic: to its running height, over, and down again."""
    z = cell.run_z
    if cell.straight:
        return clean([a, (a[0], a[1], z), (b[0], b[1], z), b])
    corner = (b[0], a[1], z) if x_first else (a[0], b[1], z)
    return clean([a, (a[0], a[1], z), corner, (b[0], b[1], z), b])


def l_is_free(blocked: Sequence[Rect], a: Point3, b: Point3, x_first: bool) -> bool:
    """True where an L between two plan points meets no blocked rectangle."""
    corner = (b[0], a[1]) if x_first else (a[0], b[1])
    return not any(
        r.crossed_by(a[0], a[1], corner[0], corner[1]) or r.crossed_by(corner[0], corner[1], b[0], b[1])
        for r in blocked
    )


def around(cell: Cell, a: Point3, b: Point3) -> Leg:
    """The shortest square way in the plan of a cell that meets no blocked rectangle, when neither L does.

    A hole that was moved aside from where the graph saw it can leave both Ls barred; the legs then turn
    2 in beside a blocked rectangle. Without any free way it is the L itself, which the laws then tell.
    """
    z, beside = cell.run_z, 2.0
    xs = sorted({a[0], b[0], *(x for r in cell.blocked for x in (r.u0 - beside, r.u1 + beside))})
    ys = sorted({a[1], b[1], *(y for r in cell.blocked for y in (r.v0 - beside, r.v1 + beside))})
    tries: list[tuple[tuple[float, float], ...]] = []
    tries += [((x, a[1]), (x, b[1])) for x in xs]
    tries += [((a[0], y), (b[0], y)) for y in ys]
    tries += [((x, a[1]), (x, y), (b[0], y)) for x in xs for y in ys]
    tries += [((a[0], y), (x, y), (x, b[1])) for x in xs for y in ys]
    best: tuple[float, tuple[tuple[float, float], ...]] | None = None
    for turns in tries:
        points = ((a[0], a[1]), *turns, (b[0], b[1]))
        legs = list(itertools.pairwise(points))
        size = sum(abs(p[0] - q[0]) + abs(p[1] - q[1]) for p, q in legs)
        if best is not None and not size < best[0] - TOUCH_IN:
            continue
        if all(cell.rect.holds(*p) for p in turns) and not any(
            r.crossed_by(*p, *q) for r in cell.blocked for p, q in legs
        ):
            best = (size, turns)
    if best is None:
        return in_plan(cell, a, b, True)
    return clean([a, (a[0], a[1], z), *((x, y, z) for x, y in best[1]), (b[0], b[1], z), b])


def clean(points: Sequence[Point3]) -> Leg:
    """Points without repeats and without middles of straight legs."""
    kept: list[Point3] = []
    for p in points:
        if kept and all(abs(i - j) <= TOUCH_IN for i, j in zip(kept[-1], p, strict=True)):
            continue
        if len(kept) >= 2 and _straight(kept[-2], kept[-1], p):
            kept[-1] = p
            continue
        kept.append(p)
    return tuple(kept)


def _straight(a: Point3, b: Point3, c: Point3) -> bool:
    ab = tuple(j - i for i, j in zip(a, b, strict=True))
    bc = tuple(j - i for i, j in zip(b, c, strict=True))
    cross = (
        ab[1] * bc[2] - ab[2] * bc[1],
        ab[2] * bc[0] - ab[0] * bc[2],
        ab[0] * bc[1] - ab[1] * bc[0],
    )
    dot = sum(i * j for i, j in zip(ab, bc, strict=True))
    return dot > 0 and max(abs(v) for v in cross) <= TOUCH_IN


def joined(points: Sequence[PathPoint]) -> tuple[PathPoint, ...]:
    """Path points without repeats or needless middles; points that name a hole always stay."""
    kept: list[PathPoint] = []
    for p in points:
        if kept and not p.hole and not kept[-1].hole and _same(kept[-1], p):
            continue
        if kept and _same(kept[-1], p):
            if p.hole:
                kept[-1] = p
            continue
        if len(kept) >= 2 and not kept[-1].hole and _straight(_at(kept[-2]), _at(kept[-1]), _at(p)):
            kept[-1] = p
            continue
        kept.append(p)
    return tuple(kept)


def _at(p: PathPoint) -> Point3:
    return p.x, p.y, p.z


def _same(a: PathPoint, b: PathPoint) -> bool:
    return abs(a.x - b.x) <= TOUCH_IN and abs(a.y - b.y) <= TOUCH_IN and abs(a.z - b.z) <= TOUCH_IN
