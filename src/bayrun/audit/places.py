"""Places by the audit's own arithmetic: walls in the world, floors, locations, entries, segments in boxes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from bayrun.audit.reading import V3
from bayrun.geometry import TOUCH_IN
from bayrun.house import Enclosure, Job, Location, Wall

LOOSE_IN = 1e-4
"""What a chain of additions and a millionth's rounding may gather along one path [in]."""
PLY_IN = 1.5
"""Dressed 2x lumber: thickness of a plate, jack, king, sill [in]. Source: PS 20."""


def to_world(wall: Wall, along_in: float, across_in: float = 0.0) -> tuple[float, float]:
    """Plan point of a wall's coordinates, across positive to the left [in]."""
    (x0, y0), (x1, y1) = wall.start, wall.end
    length = math.hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    return x0 + ux * along_in - uy * across_in, y0 + uy * along_in + ux * across_in


def to_wall(job: Job, wall: Wall, p: Sequence[float]) -> V3:
    """A world point as (along, across, up above the level's subfloor) [in]."""
    (x0, y0), (x1, y1) = wall.start, wall.end
    length = math.hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    x, y = p[0] - x0, p[1] - y0
    return x * ux + y * uy, y * ux - x * uy, p[2] - job.level(wall.level).subfloor_z_in


def finished_floor_z(job: Job, level_id: str, room_name: str) -> float:
    """World height of the finished floor of a room; of its level where the room is not known [in]."""
    level = job.level(level_id)
    for room in job.rooms:
        if room.level == level_id and room.name == room_name:
            return level.subfloor_z_in - room.floor_drop_in + room.floor_finish_in
    return level.subfloor_z_in + sum(layer.thickness_in for layer in level.floor_build_up)


def location_at(job: Job, location: Location) -> V3 | None:
    """World point of the middle of a location's box; None where the job does not say [in]."""
    z = finished_floor_z(job, location.level, location.room) + location.height_in
    if location.wall is not None and location.offset_in is not None:
        x, y = to_world(job.wall(location.wall), location.offset_in)
        return x, y, z
    if location.x_in is None or location.y_in is None:
        return None
    return location.x_in, location.y_in, z


def box_heights(job: Job, box: Enclosure) -> tuple[float, float]:
    """World heights of the bottom and top of an enclosure [in]."""
    middle = finished_floor_z(job, box.level, box.room) + box.center_aff_in
    return middle - box.height_in / 2, middle + box.height_in / 2


def entry_at(job: Job, box: Enclosure, entry: str) -> V3 | None:
    """World point of one entry of an enclosure: middle of its bay, at its top or bottom [in]."""
    if entry not in box.entries:
        return None
    x, y = to_world(job.wall(box.wall), (box.bay_studs_in[0] + box.bay_studs_in[1]) / 2)
    low, high = box_heights(job, box)
    return x, y, high if entry == "top" else low


def inside_share(
    p: Sequence[float], q: Sequence[float], low: Sequence[float], high: Sequence[float], shrink_in: float
) -> tuple[float, float] | None:
    """(from, to) as shares of a segment inside a box shrunk on all sides (grown where negative), or None."""
    t0, t1 = 0.0, 1.0
    for a, b, lo, hi in zip(p, q, low, high, strict=True):
        lo, hi, step = lo + shrink_in, hi - shrink_in, b - a
        if abs(step) < 1e-12:
            if not lo < a < hi:
                return None
            continue
        u, v = (lo - a) / step, (hi - a) / step
        t0, t1 = max(t0, min(u, v)), min(t1, max(u, v))
    return (t0, t1) if t1 - t0 > 1e-12 else None


def on_segment(p: V3, q: V3, share: float) -> V3:
    """The point at a share of a segment."""
    return (
        p[0] + (q[0] - p[0]) * share,
        p[1] + (q[1] - p[1]) * share,
        p[2] + (q[2] - p[2]) * share,
    )


def left_over(taken: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """What of 0 … 1 no interval covers."""
    free: list[tuple[float, float]] = []
    at = 0.0
    for a, b in sorted(taken):
        if a > at:
            free.append((at, a))
        at = max(at, b)
    if at < 1.0:
        free.append((at, 1.0))
    return free


def in_polygon(polygon: Sequence[tuple[float, float]], x: float, y: float) -> bool:
    """True where a plan point lies inside."""
    inside = False
    for (x0, y0), (x1, y1) in pairwise((*polygon, polygon[0])):
        if (y0 > y) != (y1 > y) and x < x0 + (x1 - x0) * (y - y0) / (y1 - y0):
            inside = not inside
    return inside


def square_wall(wall: Wall) -> bool:
    """True for a wall along x or along y."""
    return abs(wall.start[0] - wall.end[0]) < TOUCH_IN or abs(wall.start[1] - wall.end[1]) < TOUCH_IN
