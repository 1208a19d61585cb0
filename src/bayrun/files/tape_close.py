"""Closing a walk: the error of a room measured wall by wall is spread, or the wrong reading is found.

Source of the spreading: the compass (Bowditch) rule of plane surveying, each side takes its share by length;
here a wall of a square room takes only what lies along it, so that corners stay square. The slips (a foot,
ten inches, feet and inches exchanged, a wall walked the other way) are common practice, no source.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

from bayrun.files.shell import Point
from bayrun.files.tape_read import TapeRoom, TapeWall
from bayrun.geometry import at_most
from bayrun.units import feet_and_inches, tape

CLOSES_IN, CLOSES_SHARE = 1.0, 0.004
"""A walk closes when its ends miss by no more than this, or this share of its length [in]."""
_SLIPS_IN = (12.0, 6.0, 10.0, 24.0, 1.0, 36.0, 120.0)
_NAMES = {0.0: "E", 90.0: "N", 180.0: "W", 270.0: "S"}


@dataclass(frozen=True, slots=True)
class Closed:
    """A room whose walk closes.

    Args:
        corners: Counterclockwise or not, as walked, from (0, 0); one a wall, where it begins [in].
        missed_in: By how much the readings missed, before anything was done [in].
        told: What was done, for a person; empty where nothing was.
        mended: True where a reading was taken as wrong.
    """

    room: TapeRoom
    corners: tuple[Point, ...]
    missed_in: float
    told: str = ""
    mended: bool = False


def close(room: TapeRoom) -> Closed | str:
    """Close one room's walk, or say which readings to take again."""
    x, y = _miss(room.walls)
    missed = math.hypot(x, y)
    around = sum(w.length_in for w in room.walls)
    if at_most(missed, max(CLOSES_IN, CLOSES_SHARE * around)) and _agrees(room):
        spread = _spread(room)
        told = ""
        if missed > 1 / 16:
            told = (
                f"{room.name} missed its beginning by {tape(missed)}: spread over its walls by their length"
            )
        return Closed(room, _corners(spread.walls), missed, told)
    tries = _suspects(room)
    if len(tries) == 1:
        mended, index, why = tries[0]
        was, now = room.walls[index], mended.walls[index]
        told = (
            f"{room.name} missed its beginning by {feet_and_inches(missed)}: its {_wall_name(room, index)}, "
            f"read as {was.written}, is taken as {_way_word(was, now)}"
            f"{feet_and_inches(now.length_in)} ({why}): "
            "measure it again"
        )
        return Closed(mended, _corners(_spread(mended).walls), missed, told, True)
    return _ask(room, x, y, [index for _, index, _ in tries])


def _step(wall: TapeWall) -> Point:
    turn = math.radians(wall.way_degrees)
    return wall.length_in * math.cos(turn), wall.length_in * math.sin(turn)


def _miss(walls: tuple[TapeWall, ...]) -> Point:
    steps = [_step(w) for w in walls]
    return sum(s[0] for s in steps), sum(s[1] for s in steps)


def _corners(walls: tuple[TapeWall, ...]) -> tuple[Point, ...]:
    at, found = (0.0, 0.0), []
    for wall in walls:
        found.append(at)
        step = _step(wall)
        at = (at[0] + step[0], at[1] + step[1])
    return tuple(found)


def _spread(room: TapeRoom) -> TapeRoom:
    """Each wall takes its share of what lies along it; slanted walls keep their ways."""
    walls = list(room.walls)
    for _ in range(6):
        x, y = _miss(tuple(walls))
        if math.hypot(x, y) < 1e-9:
            break
        shares = [
            (abs(math.cos(math.radians(w.way_degrees))), abs(math.sin(math.radians(w.way_degrees))))
            for w in walls
        ]
        total_x = sum(w.length_in * s[0] ** 2 for w, s in zip(walls, shares, strict=True))
        total_y = sum(w.length_in * s[1] ** 2 for w, s in zip(walls, shares, strict=True))
        made = []
        for wall in walls:
            turn = math.radians(wall.way_degrees)
            by = 0.0
            if total_x > 1e-9:
                by -= x * math.cos(turn) * wall.length_in / total_x
            if total_y > 1e-9:
                by -= y * math.sin(turn) * wall.length_in / total_y
            made.append(replace(wall, length_in=max(wall.length_in + by, 0.0)))
        walls = made
    return replace(room, walls=tuple(walls))


def _agrees(room: TapeRoom) -> bool:
    """True where the check readings across the room meet the walk within an inch and a half."""
    points = _corners(room.walls)
    for axis, said in enumerate(room.across_in):
        if said is not None:
            along = [p[axis] for p in points]
            if abs(max(along) - min(along) - said) > CLOSES_IN + 0.5:
                return False
    return True


def _suspects(room: TapeRoom) -> list[tuple[TapeRoom, int, str]]:
    """Single readings that close the walk when a usual slip in them is undone; check readings must agree."""
    found = []
    for index, wall in enumerate(room.walls):
        for other, why in _other_readings(wall):
            walls = (*room.walls[:index], other, *room.walls[index + 1 :])
            tried = replace(room, walls=walls)
            x, y = _miss(walls)
            if at_most(math.hypot(x, y), CLOSES_IN) and _agrees(tried) and _holds_openings(walls[index]):
                found.append((tried, index, why))
                break
    return found


def _other_readings(wall: TapeWall) -> list[tuple[TapeWall, str]]:
    """What a person may have meant who wrote this, the likeliest first."""
    length = wall.length_in
    found = [(length + sign * slip, f"a slip of {tape(slip)}") for slip in _SLIPS_IN for sign in (1.0, -1.0)]
    parts = re.fullmatch(r"\s*(\d+)\s*['’′-]\s*(\d+)\s*[\"”″]?\s*", wall.written)
    if parts:
        feet, inches = int(parts[1]), int(parts[2])
        found.append((inches * 12.0 + feet, "feet and inches exchanged"))
        if len(parts[1]) == 2:
            found.append((int(parts[1][::-1]) * 12.0 + inches, "two figures exchanged"))
        if len(parts[2]) == 2:
            found.append((feet * 12.0 + int(parts[2][::-1]), "two figures exchanged"))
    made = [(replace(wall, length_in=value), why) for value, why in found if value > 3.0]
    return [*made, (replace(wall, way_degrees=(wall.way_degrees + 180.0) % 360.0), "walked the other way")]


def _holds_openings(wall: TapeWall) -> bool:
    return all(at_most(o.at_in + o.width_in, wall.length_in + 1.0) for o in wall.openings)


def _wall_name(room: TapeRoom, index: int) -> str:
    way = _NAMES.get(room.walls[index].way_degrees, f"{room.walls[index].way_degrees:g}°")
    return f"wall {index + 1} (going {way})"


def _way_word(was: TapeWall, now: TapeWall) -> str:
    return "" if was.way_degrees == now.way_degrees else f"going {_NAMES.get(now.way_degrees, 'back')}, "


def _ask(room: TapeRoom, x: float, y: float, suspects: list[int]) -> str:
    gaps = [
        f"{tape(abs(v))} {'east to west' if axis == 0 else 'north to south'}"
        for axis, v in enumerate((x, y))
        if abs(v) > CLOSES_IN
    ]
    head = f"line {room.line}: {room.name} does not close: its walls miss by {' and '.join(gaps)}"
    if not gaps:
        head = f"line {room.line}: {room.name} does not agree with its readings across"
    if suspects:
        names = " or ".join(f"{_wall_name(room, i)}, {room.walls[i].written}" for i in suspects)
        return (
            f"{head}. One slip in {names} would close it: measure these again, or add the reading "
            f"“across {'E' if abs(x) > abs(y) else 'N'}” to tell which"
        )
    return f"{head}, and no single slip would close it: walk it again"
