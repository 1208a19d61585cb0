"""The way of a pull in words: up which wall, over which rooms, down by which hole."""

from __future__ import annotations

from itertools import pairwise

from bayrun.geometry import below
from bayrun.house import Job, room_at
from bayrun.house.building import Point3
from bayrun.takeoff.words import end_place, hole_room
from bayrun.wiring import Hole, PathPoint, Run, Wiring

_LEVEL_STEP_IN = 1.0
"""A rise less than this over a stretch still counts as level [in]."""


def way_words(job: Job, wiring: Wiring, run: Run) -> str:
    """The way of one run in words, told from the enclosure (else from the end it is pulled from).

    ``up the wall Laundry / Dining by hole H3, over Dining, Foyer, down to Bed 2 (A09) by hole H14``.
    """
    holes = {hole.id: hole for hole in wiring.holes}
    points = run.path
    ends = (run.from_end, run.to_end)
    if run.to_end.type == "enclosure":
        points, ends = points[::-1], ends[::-1]
    legs = [_leg_words(job, holes, *leg) for leg in _legs(points)]
    legs = [words for i, words in enumerate(legs) if words and (i == 0 or words != legs[i - 1])]
    return ", ".join([*legs, f"to {end_place(job, ends[1])}"])


def _legs(points: tuple[PathPoint, ...]) -> list[tuple[str, list[PathPoint]]]:
    """Stretches of one direction (up, down, level), neighbors of one direction joined."""
    legs: list[tuple[str, list[PathPoint]]] = []
    for a, b in pairwise(points):
        rise_in = b.z - a.z
        level = below(abs(rise_in), _LEVEL_STEP_IN) or below(abs(rise_in), abs(b.x - a.x) + abs(b.y - a.y))
        way = "level" if level else "up" if rise_in > 0 else "down"
        if legs and legs[-1][0] == way:
            legs[-1][1].append(b)
        else:
            legs.append((way, [a, b]))
    return legs


def _leg_words(job: Job, holes: dict[str, Hole], way: str, points: list[PathPoint]) -> str:
    passed = [holes[p.hole] for p in points if p.hole in holes]
    by = _by([hole.id for hole in passed])
    if way != "level":
        rooms = [hole_room(job, hole) for hole in passed]
        room = rooms[0] if rooms else _under(job, (points[-1].x, points[-1].y, points[-1].z))[0]
        into = f" into {rooms[-1]}" if len(set(rooms)) > 1 else ""
        return f"{way} in {room}{into}{by}"
    in_wall = bool(passed) and all(hole.axis == "along" for hole in passed)
    if in_wall:
        return f"along the wall in {_listed([hole_room(job, hole) for hole in passed])}{by}"
    names: list[str] = []
    word = "over"
    for a, b in pairwise(points):
        for t in (0.0, 0.25, 0.5, 0.75, 1.0):
            room, word = _under(job, (a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t, a.z))
            if room and room not in names:
                names.append(room)
    if not names:
        return f"across{by}" if by else ""
    return f"{word} {_listed(names)}{by}"


def _by(holes: list[str]) -> str:
    if not holes:
        return ""
    if len(holes) > 4:
        return f" by {len(holes)} holes {holes[0]} to {holes[-1]}"
    return f" by {'hole' if len(holes) == 1 else 'holes'} {', '.join(holes)}"


def _listed(names: list[str]) -> str:
    unique = list(dict.fromkeys(names))
    return ", ".join(unique)


def _under(job: Job, point: Point3) -> tuple[str, str]:
    """(room, ``in`` or ``over``) for a point of a way: the room of its level, or the room it passes over."""
    x_in, y_in, z_in = point
    levels = sorted(job.levels, key=lambda lv: lv.subfloor_z_in, reverse=True)
    for level in levels:
        if below(z_in, level.subfloor_z_in):
            continue
        room = room_at(job, level.id, x_in, y_in)
        inside = not below(level.subfloor_z_in + level.plate_top_in, z_in)
        if room is not None:
            return room.name, "through" if inside else "over"
    return "", "over"
