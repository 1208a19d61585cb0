"""Clear bays of a wall: between members, under and over openings, beside pipes."""

from __future__ import annotations

import itertools
from collections.abc import Iterable

from bayrun.framing.records import Bay, Member
from bayrun.framing.walls import WallCarpenter
from bayrun.geometry import TOUCH_IN, Rect, at_least, subtract
from bayrun.house import Job, Obstacle, Opening, Wall

LEAST_BAY_IN = 1.0
"""A slit narrower than this takes no cable a hand can reach [in]. Common practice, no source."""
END_TO_END_IN = 12_000.0
"""Half the length given to a pipe that runs through a whole floor: beyond any house [in]."""
FULL_ROLES = ("stud", "end stud", "king", "backing", "post")


def to_wall(wall: Wall, x: float, y: float) -> tuple[float, float]:
    """(along, across) of a plan point in a wall's coordinates [in]."""
    dx, dy = wall.direction
    ox, oy = x - wall.start[0], y - wall.start[1]
    return ox * dx + oy * dy, -ox * dy + oy * dx


def rect_to_wall(wall: Wall, rect: Rect) -> Rect:
    """A plan rectangle in wall coordinates: ``u`` along, ``v`` across (the rectangle around it) [in]."""
    points = [to_wall(wall, x, y) for x in (rect.u0, rect.u1) for y in (rect.v0, rect.v1)]
    us, vs = [p[0] for p in points], [p[1] for p in points]
    return Rect(min(us), min(vs), max(us), max(vs))


def obstacle_plan(obstacle: Obstacle) -> Rect | None:
    """The plan rectangle an obstacle fills, clearance included; None for a power run [in]."""
    if obstacle.chase is not None:
        return Rect(*obstacle.chase)
    if obstacle.rect is not None:
        return Rect(*obstacle.rect).grown(obstacle.clearance_in)
    if obstacle.center is not None and obstacle.diameter_in:
        x, y = obstacle.center
        r = obstacle.diameter_in / 2 + obstacle.clearance_in
        # a pipe along a whole floor has no x (or y): it runs from end to end
        x0, x1 = (-END_TO_END_IN, END_TO_END_IN) if x is None else (x - r, x + r)
        y0, y1 = (-END_TO_END_IN, END_TO_END_IN) if y is None else (y - r, y + r)
        return Rect(x0, y0, x1, y1)
    return None


def obstacle_heights(job: Job, obstacle: Obstacle) -> tuple[tuple[float, float], ...]:
    """World height ranges an obstacle fills [in].

    ``z_in`` is a world height, as all z; a floor obstacle stands ``z_above_frame_bottom_in`` over its
    joists' bottom.
    """
    if obstacle.z_in is not None:
        return (obstacle.z_in,)
    ranges = []
    size_in = obstacle.diameter_in or 6.0
    for frame in job.frames:
        if frame.id in obstacle.frames and obstacle.z_above_frame_bottom_in is not None:
            mid_in = frame.z_bottom_in + obstacle.z_above_frame_bottom_in
            ranges.append((mid_in - size_in / 2, mid_in + size_in / 2))
    return tuple(ranges)


def blocked_in_wall(job: Job, wall: Wall, margin_in: float) -> tuple[tuple[Obstacle, Rect], ...]:
    """Obstacles that stand in a wall's core, as rectangles along and up, margin included [in]."""
    level = job.level(wall.level)
    found = []
    half_in = wall.thickness_in / 2
    for obstacle in job.obstacles:
        plan = obstacle_plan(obstacle)
        if plan is None or (obstacle.levels and wall.level not in obstacle.levels):
            continue
        here = rect_to_wall(wall, plan)
        if not (here.v0 < half_in - TOUCH_IN and here.v1 > -half_in + TOUCH_IN):
            continue
        for low_z, high_z in obstacle_heights(job, obstacle):
            up0, up1 = low_z - level.subfloor_z_in, high_z - level.subfloor_z_in
            found.append(
                (obstacle, Rect(here.u0 - margin_in, up0 - margin_in, here.u1 + margin_in, up1 + margin_in))
            )
    return tuple(found)


def wall_bays(job: Job, wall: Wall, members: Iterable[Member]) -> list[Bay]:
    """Every clear bay of one framed wall, low to high, with what bounds it."""
    if not wall.framed:
        return []
    carpenter = WallCarpenter(job, wall)
    mine = [m for m in members if m.host == wall.id]
    full = sorted((m for m in mine if m.role in FULL_ROLES), key=lambda m: m.along[0])
    blocked = blocked_in_wall(job, wall, job.practice.obstacle_margin_in)
    openings = sorted((o for o in job.openings if o.wall == wall.id), key=lambda o: o.offset_in)
    bays: list[Bay] = []
    for number, (low, high) in enumerate(itertools.pairwise(full), start=1):
        u0, u1 = low.along[1], high.along[0]
        if u1 - u0 <= TOUCH_IN:
            continue
        rects = _clear_rects(carpenter, mine, openings, low, high, u0, u1)
        pieces: list[tuple[Rect, str, str, str, str]] = []
        for rect, a, b, under, over in rects:
            pieces += _around_obstacles(rect, a, b, under, over, blocked)
        pieces = [p for p in pieces if p[0].width > LEAST_BAY_IN - TOUCH_IN and p[0].height > LEAST_BAY_IN]
        pieces.sort(key=lambda p: (p[0].v0, p[0].u0))
        for i, (rect, a, b, under, over) in enumerate(pieces):
            suffix = "" if len(pieces) == 1 else _letters(i)
            bays.append(
                Bay(
                    id=f"{wall.id}/bay-{number}{suffix}",
                    wall=wall.id,
                    level=wall.level,
                    clear=rect,
                    depth_in=wall.thickness_in,
                    low=a,
                    high=b,
                    under=under,
                    over=over,
                )
            )
    return bays


def _letters(i: int) -> str:
    return chr(ord("a") + i % 26) * (1 + i // 26)


def _clear_rects(
    carpenter: WallCarpenter,
    mine: list[Member],
    openings: list[Opening],
    low: Member,
    high: Member,
    u0: float,
    u1: float,
) -> list[tuple[Rect, str, str, str, str]]:
    """Clear rectangles between two full-height members: whole, or under and over an opening."""
    under_in, over_in = carpenter.under_in, carpenter.over_in
    bottom = _plate_under(mine, u0, u1)
    top = f"{carpenter.wall.id}/top"
    inside = [o for o in openings if o.offset_in < u1 - TOUCH_IN and o.offset_in + o.width_in > u0 + TOUCH_IN]
    if not inside:
        return [(Rect(u0, under_in, u1, over_in), low.id, high.id, bottom, top)]
    rects: list[tuple[Rect, str, str, str, str]] = []
    for o in inside:
        parts = [m for m in mine if m.id.startswith(f"{carpenter.wall.id}/{o.id}/")]
        header = next((m for m in parts if m.role == "header"), None)
        sill = next((m for m in parts if m.role == "sill"), None)
        head_in = header.up[1] if header else min(o.head_in, over_in)
        if over_in - head_in > LEAST_BAY_IN:
            cripples = [m for m in parts if m.role == "cripple" and at_least(m.up[0], head_in)]
            bounds = [low, *sorted(cripples, key=lambda m: m.along[0]), high]
            for a, b in itertools.pairwise(bounds):
                rect = Rect(max(a.along[1], u0), head_in, min(b.along[0], u1), over_in)
                rects.append((rect, a.id, b.id, header.id if header else o.id, top))
        if sill is not None:
            jacks = [m for m in parts if m.role == "jack"]
            cripples = [m for m in parts if m.role == "cripple" and m.up[1] <= sill.up[0] + TOUCH_IN]
            middle = sorted([*jacks, *cripples], key=lambda m: m.along[0])
            # the jack stands against its king: the pair is crossed as one
            for a, b in itertools.pairwise(middle):
                rect = Rect(a.along[1], under_in, b.along[0], sill.up[0])
                rects.append((rect, a.id, b.id, bottom, sill.id))
    return rects


def _plate_under(mine: list[Member], u0: float, u1: float) -> str:
    middle = (u0 + u1) / 2
    for m in mine:
        if m.role == "bottom plate" and m.along[0] - TOUCH_IN <= middle <= m.along[1] + TOUCH_IN:
            return m.id
    return ""


def _around_obstacles(
    rect: Rect, low: str, high: str, under: str, over: str, blocked: tuple[tuple[Obstacle, Rect], ...]
) -> list[tuple[Rect, str, str, str, str]]:
    pieces = [(rect, low, high, under, over)]
    for obstacle, hole in blocked:
        left: list[tuple[Rect, str, str, str, str]] = []
        for piece, a, b, c, d in pieces:
            left.extend(
                (
                    p,
                    a if p.u0 <= piece.u0 + TOUCH_IN else obstacle.id,
                    b if p.u1 >= piece.u1 - TOUCH_IN else obstacle.id,
                    c if p.v0 <= piece.v0 + TOUCH_IN else obstacle.id,
                    d if p.v1 >= piece.v1 - TOUCH_IN else obstacle.id,
                )
                for p in subtract(piece, hole)
            )
        pieces = left
    return pieces
