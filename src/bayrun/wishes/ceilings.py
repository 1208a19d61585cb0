"""Where in a ceiling a ring may sit: between joists, clear of stairs, beams and ducts."""

from __future__ import annotations

import itertools

from bayrun.geometry import Rect, at_least
from bayrun.house import Job, Level, Room, room_at
from bayrun.wishes.walking import area_ft2

CEILING_CLEAR_IN = 4.0
"""Middle of a ceiling ring to the nearest joist or chord [in]. Common practice, no source."""
LARGE_ROOM_FT2 = 750.0
"""A room over this is looked at in five places, not one [ft2]. Common practice, no source."""


def clear_ceilings(job: Job, level: Level, room: Room) -> list[tuple[float, float]]:
    """Clear places between joists near the middle of a room's ceiling; a large room has five."""
    mx, my = middle_of(room)
    xs, ys = [p[0] for p in room.polygon], [p[1] for p in room.polygon]
    centers = [(mx, my)]
    if area_ft2(room) > LARGE_ROOM_FT2:
        dx, dy = (max(xs) - min(xs)) / 4, (max(ys) - min(ys)) / 4
        centers += [(mx + a * dx, my + b * dy) for a in (-1, 1) for b in (-1, 1)]
    solid = _aloft(job, level)
    found = [_clear_ceiling(job, level, room, center, solid) for center in centers]
    return [point for point in found if point is not None]


def _clear_ceiling(
    job: Job, level: Level, room: Room, center: tuple[float, float], solid: list[Rect]
) -> tuple[float, float] | None:
    cx, cy = center
    tries = sorted(
        ((cx + dx * 2.0, cy + dy * 2.0) for dx in range(-12, 13) for dy in range(-12, 13)),
        key=lambda p: (abs(p[0] - cx) + abs(p[1] - cy), p),
    )
    for x, y in tries:
        x, y = round(x * 16) / 16, round(y * 16) / 16
        clear = not any(r.grown(CEILING_CLEAR_IN).holds(x, y) for r in solid)
        if clear and room_at(job, level.id, x, y) is room:
            return x, y
    return None


def middle_of(room: Room) -> tuple[float, float]:
    """A point well inside a room: the middle of its largest upright slab."""
    ys = sorted({p[1] for p in room.polygon})
    best, size = room.polygon[0], -1.0
    for low, high in itertools.pairwise(ys):
        middle = (low + high) / 2
        edges = zip(room.polygon, room.polygon[1:] + room.polygon[:1], strict=True)
        xs = sorted(
            x0 + (middle - y0) * (x1 - x0) / (y1 - y0)
            for (x0, y0), (x1, y1) in edges
            if (y0 > middle) != (y1 > middle)
        )
        for a, b in zip(xs[::2], xs[1::2], strict=False):
            if (b - a) * (high - low) > size:
                best, size = ((a + b) / 2, middle), (b - a) * (high - low)
    return best


def _aloft(job: Job, level: Level) -> list[Rect]:
    """Plan rectangles over a level that a ceiling ring keeps clear of: members, voids, beams, obstacles."""
    found: list[Rect] = []
    over = [f for f in job.frames if f.above_level == level.id]
    names = {f.id for f in over}
    for frame in over:
        x0, y0, x1, y1 = frame.area
        half = frame.member_width_in / 2
        if frame.direction == "x":
            found += [Rect(x0, at - half, x1, at + half) for at in frame.members_in()]
        else:
            found += [Rect(at - half, y0, at + half, y1) for at in frame.members_in()]
        found += [Rect(*edge.rect) for edge in frame.edge_members]
    found += [Rect(*o.rect) for o in job.floor_openings if names & set(o.frames)]
    ceiling = level.subfloor_z_in + level.plate_top_in
    for beam in job.beams:
        if names & set(beam.in_frames) or (beam.z_in and at_least(beam.z_in[1], ceiling - 1)):
            found.append(Rect(*beam.rect))
    for obstacle in job.obstacles:
        here = level.id in obstacle.levels or bool(names & set(obstacle.frames))
        if here and obstacle.rect is not None:
            found.append(Rect(*obstacle.rect))
        if here and obstacle.center is not None and obstacle.diameter_in and None not in obstacle.center:
            x, y = obstacle.center
            r = obstacle.diameter_in / 2
            found.append(Rect((x or 0) - r, (y or 0) - r, (x or 0) + r, (y or 0) + r))
    return found
