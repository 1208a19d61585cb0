"""Wall spaces: unbroken stretches along a room's floor line, and which of them are far from any location.

Advice, not a rule: an unbroken wall space of 12 ft and more gets a location, and no point of a floor line is
more than 25 ft from one in its space. Source: TIA-570 residential recommendation as in BUILDING, confirmed.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from bayrun.geometry import at_least, below, cut_interval
from bayrun.house import Job, Room, wall_name
from bayrun.units import tape
from bayrun.wishes.room_rules import kind_of_room
from bayrun.wishes.spots import faces_of

UNBROKEN_IN = 144.0
REACH_IN = 300.0
LIVED_IN = ("living", "bed", "office", "kitchen")
"""Kinds of room whose wall spaces are looked at. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class WallSpace:
    """One unbroken stretch of one wall face, as offsets along its wall [in].

    Args:
        locations: Ids of the locations in it, low to high.
        farthest_in: From the point of its floor line that is farthest to the nearest location [in];
            None where it has none.
        advice: One sentence where it asks for a location, else empty.
    """

    room: str
    level: str
    wall: str
    from_in: float
    to_in: float
    locations: tuple[str, ...]
    farthest_in: float | None
    advice: str = ""

    @property
    def length_in(self) -> float:
        """Length along the floor [in]."""
        return self.to_in - self.from_in


def wall_spaces(job: Job, room: Room) -> tuple[WallSpace, ...]:
    """Every unbroken wall space of a room: face stretches cut at doors and cased openings, not at windows.

    Limits of use: a space that turns a corner is counted wall by wall, so it is never found too short.
    """
    found: list[WallSpace] = []
    for wall, side, piece in faces_of(job, room):
        doors = [
            (o.offset_in, o.offset_in + o.width_in)
            for o in job.openings
            if o.wall == wall.id and not o.is_window
        ]
        for low, high in cut_interval(piece.from_in, piece.to_in, doors):
            here = sorted(
                (q.offset_in, q.id)
                for q in job.locations
                if q.wall == wall.id
                and q.offset_in is not None
                and q.room == room.name
                and q.side in (side, None)
                and q.ports
                and at_least(q.offset_in, low)
                and at_least(high, q.offset_in)
            )
            found.append(_space(job, room, wall.id, low, high, here))
    return tuple(found)


def _space(
    job: Job, room: Room, wall_id: str, low: float, high: float, here: list[tuple[float, str]]
) -> WallSpace:
    names = tuple(name for _, name in here)
    name = wall_name(job.wall(wall_id), (low + high) / 2)
    if not here:
        long = at_least(high - low, UNBROKEN_IN)
        advice = (
            f"{room.name}, {name}: {tape(high - low)} of unbroken wall without a location" if long else ""
        )
        return WallSpace(room.name, room.level, wall_id, low, high, names, None, advice)
    at = [a for a, _ in here]
    gaps = [at[0] - low, high - at[-1], *((b - a) / 2 for a, b in itertools.pairwise(at))]
    far = max(gaps)
    advice = (
        f"{room.name}, {name}: a point of the floor line is {tape(far)} from the nearest location, over 25 ft"
        if below(REACH_IN, far)
        else ""
    )
    return WallSpace(room.name, room.level, wall_id, low, high, names, far, advice)


def dark_wall_spaces(job: Job) -> tuple[WallSpace, ...]:
    """Wall spaces of lived-in rooms that the recommendation would give one more location."""
    return tuple(
        space
        for room in job.rooms
        if kind_of_room(room) in LIVED_IN
        for space in wall_spaces(job, room)
        if space.advice
    )
