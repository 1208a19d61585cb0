"""Rooms of a walk set beside each other: by the doors they share, by a corner said, by the wall between."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.files.shell import Point, signed_area_of
from bayrun.files.tape_close import Closed
from bayrun.files.tape_read import TapeHouse, TapeOpening
from bayrun.geometry import at_most
from bayrun.units import feet_and_inches, tape

LOOP_IN = 6.0
"""Two doors that tell one room two places may differ by this much: more is a wrong reading [in]."""


@dataclass(frozen=True, slots=True)
class Face:
    """One wall of one room as its inner face: it lies left or right of the walk as the room turns [in]."""

    room: str
    level: str
    a: Point
    b: Point
    outward: Point
    openings: tuple[TapeOpening, ...]

    @property
    def length_in(self) -> float:
        """Along the face [in]."""
        return math.dist(self.a, self.b)

    def at(self, along_in: float, out_in: float = 0.0) -> Point:
        """A point on the face, or behind it [in]."""
        length = self.length_in
        dx, dy = (self.b[0] - self.a[0]) / length, (self.b[1] - self.a[1]) / length
        return (
            self.a[0] + dx * along_in + self.outward[0] * out_in,
            self.a[1] + dy * along_in + self.outward[1] * out_in,
        )


@dataclass(frozen=True, slots=True)
class Placed:
    """The rooms where they lie, and what was done to place them."""

    faces: tuple[Face, ...]
    corners: dict[tuple[str, str], tuple[Point, ...]]
    told: tuple[str, ...]


def place(house: TapeHouse, rooms: Sequence[Closed]) -> Placed | list[str]:
    """Every room in one plan; where some cannot be placed, what to add, all at once.

    The first room of each level lies at zero unless it says otherwise.
    """
    where: dict[tuple[str, str], Point] = {}
    told: list[str] = []
    wrong: list[str] = []
    links = _links(rooms)
    for closed in rooms:
        room = closed.room
        first = next(c.room for c in rooms if c.room.level == room.level)
        if room is first and room.at_in is None and not room.over:
            where[room.level, room.name] = (0.0, 0.0)
    left = [c for c in rooms if (c.room.level, c.room.name) not in where]
    while left:
        moved = False
        for closed in list(left):
            room = closed.room
            spots = [] if room.at_in is None else [room.at_in]
            if room.over:
                spots += [where[k] for k in where if k[1] == room.over]
            if not spots:
                spots = _by_doors(closed, links, where, house.inner_in)
            if not spots:
                continue
            x, y = (sum(p[i] for p in spots) / len(spots) for i in (0, 1))
            off = max(math.dist((x, y), p) for p in spots)
            if not at_most(off, LOOP_IN / 2):
                wrong.append(
                    f"line {room.line}: the doors of {room.name} tell it two places "
                    f"{feet_and_inches(2 * off)} "
                    "apart: measure where they stand along their walls again"
                )
            elif off > 1 / 4:
                told.append(f"the doors of {room.name} place it within {tape(2 * off)}: the middle is taken")
            where[room.level, room.name] = (x, y)
            left.remove(closed)
            moved = True
        if moved:
            continue
        names = ", ".join(c.room.name for c in left)
        wrong.append(
            f"line {left[0].room.line}: nothing tells where {names} lies: give one of its doors the name it "
            "has in the next room, or say “, at X; Y” for its first corner"
        )
        break
    if wrong:
        return wrong
    faces: list[Face] = []
    corners = {}
    for closed in rooms:
        x, y = where[closed.room.level, closed.room.name]
        points = tuple((px + x, py + y) for px, py in closed.corners)
        corners[closed.room.level, closed.room.name] = points
        faces += _faces(closed, points)
    return Placed(tuple(faces), corners, tuple(told))


def _faces(closed: Closed, points: tuple[Point, ...]) -> list[Face]:
    turn = 1.0 if signed_area_of(points) > 0 else -1.0
    made = []
    for wall, a, b in zip(closed.room.walls, points, (*points[1:], points[0]), strict=True):
        length = math.dist(a, b)
        if length < 0.5:
            continue
        dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        # Walked counterclockwise the room lies left, so the wall lies right of the way.
        made.append(Face(closed.room.name, closed.room.level, a, b, (dy * turn, -dx * turn), wall.openings))
    return made


def _links(rooms: Sequence[Closed]) -> dict[tuple[str, str], list[tuple[Closed, Face, TapeOpening]]]:
    """Every named door with the faces it stands in, rooms at zero."""
    found: dict[tuple[str, str], list[tuple[Closed, Face, TapeOpening]]] = {}
    for closed in rooms:
        for face in _faces(closed, closed.corners):
            for opening in face.openings:
                if opening.name:
                    found.setdefault((closed.room.level, opening.name), []).append((closed, face, opening))
    return found


def _by_doors(
    closed: Closed,
    links: dict[tuple[str, str], list[tuple[Closed, Face, TapeOpening]]],
    where: dict[tuple[str, str], Point],
    thick_in: float,
) -> list[Point]:
    """Where a room's zero lies by each door it shares with a room that is placed."""
    spots = []
    for sides in links.values():
        mine = [s for s in sides if s[0] is closed]
        theirs = [
            s for s in sides if s[0] is not closed and (s[0].room.level, s[0].room.name) in where
        ]  # fmt: skip
        for _, face, door in mine:
            for other, across, same in theirs:
                ox, oy = where[other.room.level, other.room.name]
                turned = face.outward[0] * across.outward[0] + face.outward[1] * across.outward[1]
                if turned > -0.9:
                    continue
                here = face.at(door.at_in + door.width_in / 2)
                there = across.at(same.at_in + same.width_in / 2, thick_in)
                spots.append((there[0] + ox - here[0], there[1] + oy - here[1]))
    return spots
