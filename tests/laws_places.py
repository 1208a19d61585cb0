"""Own arithmetic of places for the laws: walls, locations, entries and bores in the world."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from bayrun.framing import Member
from bayrun.house import Enclosure, Job, Location, Wall
from bayrun.wiring import Hole

TOUCH = 1e-6
LOOSE = 1e-4
"""What a chain of float additions along one path may gather [in]."""

V3 = tuple[float, float, float]


def xyz(point: Any) -> V3:
    return point.x, point.y, point.z


def wall_to_world(wall: Wall, along: float, across: float) -> tuple[float, float]:
    (x0, y0), (x1, y1) = wall.start, wall.end
    length = math.hypot(x1 - x0, y1 - y0)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    return x0 + dx * along - dy * across, y0 + dy * along + dx * across


def floor_z(job: Job, level: str, room: str) -> float:
    """World height of the finished floor of a room."""
    z = next(q.subfloor_z_in for q in job.levels if q.id == level)
    for r in job.rooms:
        if r.name == room and r.level == level:
            return z + r.floor_finish_in - r.floor_drop_in
    return z + sum(layer.thickness_in for q in job.levels if q.id == level for layer in q.floor_build_up)


def point_of_location(job: Job, location: Location) -> V3:
    z = floor_z(job, location.level, location.room) + location.height_in
    if location.wall is not None:
        wall = next(w for w in job.walls if w.id == location.wall)
        assert location.offset_in is not None
        return *wall_to_world(wall, location.offset_in, 0.0), z
    assert location.x_in is not None
    assert location.y_in is not None
    return location.x_in, location.y_in, z


def entry_points(job: Job, enclosure: Enclosure) -> dict[str, V3]:
    wall = next(w for w in job.walls if w.id == enclosure.wall)
    x, y = wall_to_world(wall, (enclosure.bay_studs_in[0] + enclosure.bay_studs_in[1]) / 2, 0.0)
    middle = floor_z(job, enclosure.level, enclosure.room) + enclosure.center_aff_in
    half = enclosure.height_in / 2
    return {e: (x, y, middle + half if e == "top" else middle - half) for e in enclosure.entries}


def broken(job: Job, law: str, what: str) -> AssertionError:
    return AssertionError(f"house {job.id}: {law}: {what}")


def tell(p: Sequence[float]) -> str:
    return "(" + ", ".join(f"{q:.4f}" for q in p) + ")"


def axis_of(job: Job, member: Member, hole: Hole) -> V3:
    """Unit vector of a hole's axis in the world."""
    if hole.axis == "up":
        return 0.0, 0.0, 1.0
    wall = next((w for w in job.walls if w.id == member.host), None)
    if wall is not None:
        (x0, y0), (x1, y1) = wall.start, wall.end
        length = math.hypot(x1 - x0, y1 - y0)
        dx, dy = (x1 - x0) / length, (y1 - y0) / length
        return (dx, dy, 0.0) if hole.axis == "along" else (-dy, dx, 0.0)
    long_x = member.box.x1 - member.box.x0 > member.box.y1 - member.box.y0
    across = (0.0, 1.0, 0.0) if long_x else (1.0, 0.0, 0.0)
    return across if hole.axis == "across" else (across[1], across[0], 0.0)
