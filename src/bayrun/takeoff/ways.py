"""The way of a pull in words: up which wall, over which rooms, down by which hole."""

from __future__ import annotations

import math
from itertools import pairwise

from bayrun.geometry import below
from bayrun.house import Job, room_at
from bayrun.house.building import Point3
from bayrun.takeoff.words import end_place, hole_room, outward
from bayrun.wiring import Hole, PathPoint, Run, Wiring

_JOG_IN = 24.0
"""A stretch shorter than this that passes no hole is not told [in]. Our own figure."""

_LEVEL_STEP_IN = 1.0
"""A rise less than this over a stretch still counts as level [in]."""


def way_words(job: Job, wiring: Wiring, run: Run) -> str:
    """The way of one run in words, told from the enclosure (else from the end it is pulled from).

    ``up the Laundry wall by hole H3, over Dining, Foyer, down the Bed 2 wall by hole H14, to Bed 2 (A09)``.
    """
    holes = {hole.id: hole for hole in wiring.holes}
    points = outward(run)
    last = run.from_end if run.to_end.type == "enclosure" else run.to_end
    legs = [_leg_words(job, holes, *leg) for leg in _legs(points)]
    legs = [words for i, words in enumerate(legs) if words and (i == 0 or words != legs[i - 1])]
    return ", ".join([*legs, f"to {end_place(job, last)}"])


def _legs(points: tuple[PathPoint, ...]) -> list[tuple[str, list[PathPoint]]]:
    """Stretches of one direction (up, down, level), neighbors of one direction joined, jogs left out."""
    legs: list[tuple[str, list[PathPoint]]] = []
    for a, b in pairwise(points):
        rise_in = b.z - a.z
        level = below(abs(rise_in), _LEVEL_STEP_IN) or below(abs(rise_in), abs(b.x - a.x) + abs(b.y - a.y))
        _join(legs, "level" if level else "up" if rise_in > 0 else "down", [a, b])
    joined: list[tuple[str, list[PathPoint]]] = []
    for way, leg in legs:
        jog = not any(p.hole for p in leg) and below(_length_in(leg), _JOG_IN)
        if not jog or len(legs) == 1:
            _join(joined, way, leg)
    return joined


def _join(legs: list[tuple[str, list[PathPoint]]], way: str, leg: list[PathPoint]) -> None:
    if legs and legs[-1][0] == way:
        legs[-1][1].extend(leg)
    else:
        legs.append((way, list(leg)))


def _length_in(leg: list[PathPoint]) -> float:
    return sum(math.dist((a.x, a.y, a.z), (b.x, b.y, b.z)) for a, b in pairwise(leg))


def _leg_words(job: Job, holes: dict[str, Hole], way: str, points: list[PathPoint]) -> str:
    names = dict.fromkeys(p.hole for p in points if p.hole in holes)
    passed = [holes[name] for name in names]
    by = _by(list(names))
    rooms = list(dict.fromkeys(hole_room(job, hole) for hole in passed if hole.wall))
    if way != "level":
        if rooms:
            return f"{way} the {' and '.join(rooms)} wall{by}"
        room = _under(job, (points[-1].x, points[-1].y, points[-1].z))[0]
        return f"{way} in {room}{by}" if room else f"{way}{by}"
    if passed and all(hole.axis == "along" and hole.wall for hole in passed):
        return f"along the {' and '.join(rooms)} wall{by}"
    over: dict[str, list[str]] = {}
    for a, b in pairwise(points):
        for t in (0.0, 0.25, 0.5, 0.75, 1.0):
            room, word = _under(job, (a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t, a.z))
            if room and room not in over.setdefault(word, []):
                over[word].append(room)
    told = ", ".join(f"{word} {', '.join(names)}" for word, names in over.items() if names)
    return f"{told}{by}" if told else f"across{by}" if by else ""


def _by(holes: list[str]) -> str:
    if not holes:
        return ""
    if len(holes) > 4:
        return f" by {len(holes)} holes {holes[0]} to {holes[-1]}"
    return f" by {'hole' if len(holes) == 1 else 'holes'} {', '.join(holes)}"


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
