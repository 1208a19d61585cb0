"""Rooms of a level from its walls: closed outlines along center lines, and the room each wall face shows.

A room keeps its name while most of its floor is where it was; a new outline gets a name to be changed.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

from bayrun.house.building import FacePiece, Opening, Point, Room, Side, Wall
from bayrun.house.job import Job
from bayrun.house.joining import along_and_left
from bayrun.house.places import face_room

OUTSIDE = "outside"
EXTEND_IN = 0.001
"""Center lines are drawn this much longer, so that ends that meet within a float are one [in]."""
SMALLEST_IN2 = 144.0
"""A smaller outline is a gap between walls, not a room."""
_SAME = 0.9999
_NEARLY = 0.98
_MOSTLY = 0.3


def roomed(job: Job, level: str, before: Job) -> Job:
    """The job with the rooms of one level, and what follows from them, as its walls stand now.

    Args:
        before: The job before the walls were changed: what its walls did not decide (a face told by hand, an
            outline drawn otherwise) stays told.
    Returns:
        The job: outlines, faces of walls, rooms of openings, locations and enclosures. Where nothing moved,
        nothing changes. A room whose outline is open now is gone; what stood in it keeps the name until it
        is placed anew.
    """
    job = replace(job, rooms=_rooms(job, level, before))
    old_walls = {w.id: w for w in before.walls}
    plain = replace(before, rooms=_rooms(before, level, before))
    walls = {}
    for wall in job.walls:
        if wall.level != level:
            continue
        old = old_walls.get(wall.id)
        sides: tuple[Side, ...] = ("left", "right")
        found = {side: _pieces(job, wall, side) for side in sides}
        was = {side: _pieces(plain, old, side) if old is not None else None for side in sides}
        keep = {side: found[side] == was[side] for side in sides}
        left, right = (getattr(wall, side) if keep[side] else found[side] for side in sides)
        walls[wall.id] = replace(wall, left=left, right=right)
    job = replace(job, walls=tuple(walls.get(w.id, w) for w in job.walls))
    return replace(
        job,
        openings=tuple(_opening(walls[o.wall], o) if o.wall in walls else o for o in job.openings),
        locations=tuple(
            replace(q, room=_face(walls[q.wall], q.side, q.offset_in) or q.room)
            if q.wall in walls and q.offset_in is not None and q.side in ("left", "right")
            else q
            for q in job.locations
        ),
        enclosures=tuple(
            replace(e, room=_face(walls[e.wall], e.side, sum(e.bay_studs_in) / 2) or e.room)
            if e.wall in walls
            else e
            for e in job.enclosures
        ),
    )


def _face(wall: Wall, side: str, at_in: float) -> str:
    room = face_room(wall, "left" if side == "left" else "right", at_in)
    return "" if room == OUTSIDE else room


def outlines(job: Job, level: str) -> tuple[tuple[Point, ...], ...]:
    """Closed outlines of a level along center lines and open edges, counterclockwise, largest first."""
    from shapely.geometry import LineString
    from shapely.geometry.polygon import orient
    from shapely.ops import polygonize, unary_union

    lines = [(w.start, w.end) for w in job.walls if w.level == level]
    lines += [e.line for e in job.open_edges if e.level == level]
    if not lines:
        return ()
    longer = [LineString(_longer(a, b)) for a, b in lines if a != b]
    found = [orient(p) for p in polygonize(unary_union(longer)) if p.area >= SMALLEST_IN2]
    made = [_tidy(tuple((x, y) for x, y in p.exterior.coords[:-1]), job, level) for p in found]
    return tuple(sorted((m for m in made if len(m) >= 3), key=lambda m: (-_area_in2(m), m)))


def _longer(a: Point, b: Point) -> tuple[Point, Point]:
    dx, dy = b[0] - a[0], b[1] - a[1]
    step = EXTEND_IN / max((dx * dx + dy * dy) ** 0.5, EXTEND_IN)
    return (a[0] - dx * step, a[1] - dy * step), (b[0] + dx * step, b[1] + dy * step)


def _tidy(points: tuple[Point, ...], job: Job, level: str) -> tuple[Point, ...]:
    """Corners only, each moved onto the wall end it means."""
    ends = [p for w in job.walls if w.level == level for p in (w.start, w.end)]
    snapped: list[Point] = []
    for point in points:
        near = next((p for p in ends if abs(p[0] - point[0]) + abs(p[1] - point[1]) < 4 * EXTEND_IN), None)
        spot = near or (round(point[0], 2) + 0.0, round(point[1], 2) + 0.0)
        if not snapped or snapped[-1] != spot:
            snapped.append(spot)
    if len(snapped) > 1 and snapped[0] == snapped[-1]:
        snapped.pop()
    kept: list[Point] = []
    for i, point in enumerate(snapped):
        (ax, ay), (bx, by) = snapped[i - 1], snapped[(i + 1) % len(snapped)]
        turn = (point[0] - ax) * (by - point[1]) - (point[1] - ay) * (bx - point[0])
        if abs(turn) > 0.01 * (abs(bx - ax) + abs(by - ay)):
            kept.append(point)
    return tuple(kept)


def _area_in2(points: tuple[Point, ...]) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise((*points, points[0]))) / 2


def _rooms(job: Job, level: str, before: Job) -> tuple[Room, ...]:
    """Rooms by the outlines of now; an outline that stood before keeps the polygon its room was given."""
    from shapely.geometry import Polygon

    stood = set(outlines(before, level))
    old = [r for r in job.rooms if r.level == level]
    shapes: dict[str, Any] = {r.name: Polygon(r.polygon) for r in old}
    shares: list[tuple[float, int, str]] = []
    found = outlines(job, level)
    for n, outline in enumerate(found):
        shape = Polygon(outline)
        for room in old:
            common = shape.intersection(shapes[room.name]).area
            if common > 0:
                shares.append((common / shape.union(shapes[room.name]).area, n, room.name))
    named: dict[int, tuple[str, float]] = {}
    for share, n, name in sorted(shares, key=lambda s: (-s[0], s[1], s[2])):
        taken = {one for one, _ in named.values()}
        if share >= _MOSTLY and n not in named and name not in taken:
            named[n] = (name, share)
    by_name = {r.name: r for r in old}
    changed: dict[str, Room] = {}
    new: list[Room] = []
    names = {r.name for r in job.rooms}
    for n, outline in enumerate(found):
        if n in named:
            name, share = named[n]
            room = by_name[name]
            same = share >= _SAME or (outline in stood and share >= _NEARLY)
            changed[name] = room if same else replace(room, polygon=outline)
            continue
        number = 1
        while f"Room {number}" in names:
            number += 1
        names.add(f"Room {number}")
        new.append(Room(f"Room {number}", level, _kind(_area_in2(outline)), outline))
    kept = (changed.get(r.name) if r.level == level else r for r in job.rooms)
    return (*(r for r in kept if r is not None), *new)


def _kind(area_in2: float) -> str:
    """A first guess by size alone, for a person to change: closet under 25 ft2, bath to 70, bed to 250."""
    feet = area_in2 / 144
    return "closet" if feet < 25 else "bath" if feet < 70 else "bed" if feet < 250 else "living"


def _pieces(job: Job, wall: Wall, side: Side) -> tuple[FacePiece, ...]:
    """The rooms one face shows, from start to end, finishes kept by room."""
    old = wall.left if side == "left" else wall.right
    finishes = {p.room: p.finish for p in reversed(old)}
    shown: list[tuple[float, float, str]] = []
    for room in job.rooms:
        if room.level != wall.level:
            continue
        ring = room.polygon if _area_in2(room.polygon) > 0 else room.polygon[::-1]
        for a, b in pairwise((*ring, ring[0])):
            (s0, l0), (s1, l1) = along_and_left(wall, a), along_and_left(wall, b)
            # The room lies left of its edge: left of the wall where both run the same way.
            if abs(l0) > 0.02 or abs(l1) > 0.02 or (s1 > s0) != (side == "left"):
                continue
            low, high = max(min(s0, s1), 0.0), min(max(s0, s1), wall.length_in)
            if high - low > 0.5:
                shown.append((round(low, 4) + 0.0, round(high, 4), room.name))
    shown.sort()
    pieces: list[FacePiece] = []
    at = 0.0
    for low, high, name in [*shown, (wall.length_in, wall.length_in, "")]:
        if (wall.exterior and low - at > 0.5) or (not shown and _faced_out(old)):
            pieces.append(FacePiece(OUTSIDE, round(at, 4) + 0.0, round(low, 4), finishes.get(OUTSIDE, "")))
        if name:
            last = pieces[-1] if pieces else None
            if last is not None and last.room == name and low - last.to_in < 0.5:
                pieces[-1] = replace(last, to_in=high)
            else:
                pieces.append(FacePiece(name, low, high, finishes.get(name, "")))
        at = high
    return tuple(pieces)


def _faced_out(old: tuple[FacePiece, ...]) -> bool:
    """A party wall shows outside without being an exterior wall; it goes on doing so."""
    return len(old) == 1 and old[0].room == OUTSIDE


def _opening(wall: Wall, opening: Opening) -> Opening:
    middle_in = opening.offset_in + opening.width_in / 2
    shown = [face_room(wall, side, middle_in) for side in ("left", "right")]
    rooms = tuple(dict.fromkeys(r for r in shown if r))
    if not opening.rooms or set(rooms) == set(opening.rooms):
        return opening
    swings = opening.swings_into if opening.swings_into in rooms else None
    return replace(opening, rooms=rooms, swings_into=swings, hinge_end=opening.hinge_end if swings else None)
