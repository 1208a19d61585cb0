"""How far it is on foot from one spot of a house to another, through its doors and stairs."""

from __future__ import annotations

import heapq
import math
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

from bayrun.house import Job, Room, wall_point

FLIGHT_IN = 180.0
"""A flight of stairs counts as this much way [in]. Our own figure."""

NO_DOOR_IN = 600.0
"""What a way costs beyond the straight line where no door is known between two rooms [in]. Our own figure."""

Place = tuple[str, str]
"""(level, room)."""

_T = TypeVar("_T", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a person stands: level, room, plan point [in]."""

    level: str
    room: str
    x: float
    y: float

    @property
    def place(self) -> Place:
        """The room with its level."""
        return self.level, self.room


@dataclass(frozen=True, slots=True)
class _Door:
    x: float
    y: float
    places: tuple[Place, ...]
    extra_in: float = 0.0


class Walk:
    """Ways on foot through one house. Built once, then asked; holds no state that changes.

    Doors, cased openings, lines between rooms of one space, and stairs join rooms; windows and the way
    round the house do not. Within a room the way is straight.
    """

    def __init__(self, job: Job) -> None:
        self._doors = _doors(job)
        self._at: dict[Place, tuple[int, ...]] = {}
        for number, door in enumerate(self._doors):
            for place in door.places:
                self._at[place] = (*self._at.get(place, ()), number)
        self._ways = [self._from_door(i) for i in range(len(self._doors))]

    def _from_door(self, start: int) -> list[float]:
        best = [math.inf] * len(self._doors)
        best[start] = 0.0
        queue = [(0.0, start)]
        while queue:
            far_in, at = heapq.heappop(queue)
            if far_in > best[at]:
                continue
            door = self._doors[at]
            for place in door.places:
                for other in self._at[place]:
                    step = self._doors[other]
                    step_in = math.dist((door.x, door.y), (step.x, step.y))
                    new_in = far_in + step_in + (door.extra_in + step.extra_in) / 2
                    if new_in < best[other]:
                        best[other] = new_in
                        heapq.heappush(queue, (new_in, other))
        return best

    def between(self, a: Spot, b: Spot) -> float:
        """Way on foot between two spots [in]; straight plus a penalty where no door is known."""
        if a.place == b.place:
            return math.dist((a.x, a.y), (b.x, b.y))
        best_in = math.inf
        for first in self._at.get(a.place, ()):
            out_in = self._to_door(a, first)
            for last in self._at.get(b.place, ()):
                best_in = min(best_in, out_in + self._ways[first][last] + self._to_door(b, last))
        if math.isinf(best_in):
            return math.dist((a.x, a.y), (b.x, b.y)) + NO_DOOR_IN
        return best_in

    def _to_door(self, spot: Spot, number: int) -> float:
        door = self._doors[number]
        return math.dist((spot.x, spot.y), (door.x, door.y)) + door.extra_in / 2

    def along(self, spots: Sequence[Spot]) -> float:
        """Way on foot through all spots in this order [in]."""
        return sum(self.between(a, b) for a, b in pairwise(spots))

    def order(self, start: Spot, stops: Sequence[tuple[_T, Spot]]) -> list[_T]:
        """An order to visit stops in: nearest next from every first stop, mended by turning and moving parts.

        Deterministic; never longer than the order given, and not promised to be the shortest.

        Args:
            start: Where the walk begins.
            stops: (key, spot) pairs; keys are unique.
        """
        keys = [key for key, _ in stops]
        spots = [start, *(spot for _, spot in stops)]
        ways = [[self.between(a, b) for b in spots] for a in spots]
        given = list(range(1, len(spots)))
        tours = [given, *(_nearest(first, ways) for first in given)]
        best = min((_mend(tour, ways) for tour in tours), key=lambda tour: _length(tour, ways))
        return [keys[i - 1] for i in best]


def _length(tour: list[int], ways: list[list[float]]) -> float:
    return sum(ways[a][b] for a, b in pairwise([0, *tour]))


def _nearest(first: int, ways: list[list[float]]) -> list[int]:
    """A tour that begins at ``first`` and then always goes on to the nearest stop left."""
    left, tour = [i for i in range(1, len(ways)) if i != first], [first]
    while left:
        step = ways[tour[-1]]
        following = min(left, key=lambda i, step=step: (step[i], i))  # type: ignore[misc]
        left.remove(following)
        tour.append(following)
    return tour


def _mend(tour: list[int], ways: list[list[float]]) -> list[int]:
    """Reverse or move parts of a tour from 0 while that makes it shorter."""
    better = True
    while better:
        better = False
        for changed in (_reversed, _moved):
            shorter = changed(tour, ways)
            if shorter is not None:
                tour, better = shorter, True
    return tour


def _reversed(tour: list[int], ways: list[list[float]]) -> list[int] | None:
    """The tour with the first part turned round that makes it shorter, or None."""
    for i in range(len(tour) - 1):
        for j in range(i + 2, len(tour) + 1):
            before, first, last = (tour[i - 1] if i else 0), tour[i], tour[j - 1]
            gain_in = ways[before][first] - ways[before][last]
            if j < len(tour):
                gain_in += ways[last][tour[j]] - ways[first][tour[j]]
            if gain_in > 1e-6:
                return tour[:i] + tour[i:j][::-1] + tour[j:]
    return None


def _moved(tour: list[int], ways: list[list[float]]) -> list[int] | None:
    """The tour with one to three neighbors moved elsewhere where that makes it shorter, or None."""
    for size in (1, 2, 3):
        for i in range(len(tour) - size + 1):
            part, rest = tour[i : i + size], tour[:i] + tour[i + size :]
            before, after = (tour[i - 1] if i else 0), (tour[i + size] if i + size < len(tour) else None)
            saved_in = ways[before][part[0]]
            if after is not None:
                saved_in += ways[part[-1]][after] - ways[before][after]
            for j in range(len(rest) + 1):
                low = rest[j - 1] if j else 0
                added_in = ways[low][part[0]]
                if j < len(rest):
                    added_in += ways[part[-1]][rest[j]] - ways[low][rest[j]]
                if saved_in - added_in > 1e-6:
                    return rest[:j] + part + rest[j:]
    return None


def _doors(job: Job) -> tuple[_Door, ...]:
    walls = {wall.id: wall for wall in job.walls}
    doors = []
    for opening in job.openings:
        rooms = tuple(room for room in opening.rooms if room != "outside")
        if opening.is_window or len(rooms) < 2 or opening.wall not in walls:
            continue
        wall = walls[opening.wall]
        x, y = wall_point(wall, opening.offset_in + opening.width_in / 2)
        doors.append(_Door(x, y, tuple((wall.level, room) for room in rooms)))
    for edge in job.open_edges:
        (x0, y0), (x1, y1) = edge.line
        doors.append(_Door((x0 + x1) / 2, (y0 + y1) / 2, tuple((edge.level, room) for room in edge.rooms)))
    for stair in job.stairs:
        x0, y0, x1, y1 = stair.rect
        doors.append(_Door((x0 + x1) / 2, (y0 + y1) / 2, stair.rooms, FLIGHT_IN))
    return tuple(doors)


def start_spot(job: Job) -> Spot:
    """Where the day begins: at the enclosure, else inside the front door, else in the first room."""
    box = job.chosen_enclosure
    if box is not None:
        wall = next((w for w in job.walls if w.id == box.wall), None)
        if wall is not None:
            return Spot(box.level, box.room, *wall_point(wall, sum(box.bay_studs_in) / 2))
    for opening in job.openings:
        wall = next((w for w in job.walls if w.id == opening.wall), None)
        inside = [room for room in opening.rooms if room != "outside"]
        if wall is not None and "front door" in opening.kind and inside:
            return Spot(wall.level, inside[0], *wall_point(wall, opening.offset_in + opening.width_in / 2))
    if not job.rooms:
        return Spot("", "", 0.0, 0.0)
    return room_spot(job.rooms[0])


def room_spot(room: Room) -> Spot:
    """The middle of a room's corners, as a spot."""
    xs, ys = [x for x, _ in room.polygon], [y for _, y in room.polygon]
    return Spot(room.level, room.name, sum(xs) / len(xs), sum(ys) / len(ys))
