"""Tape file to neutral shell: the faces of rooms walked around become walls, face against face."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from bayrun.files.shell import (
    ImportRefused,
    Point,
    Shell,
    ShellLevel,
    ShellNote,
    ShellOpening,
    ShellSpace,
    ShellWall,
    Side,
    area_of,
)
from bayrun.files.tape_close import Closed, close
from bayrun.files.tape_place import Face, Placed, place
from bayrun.files.tape_read import TapeHouse, read_tape_file
from bayrun.geometry import at_least, at_most, below
from bayrun.units import tape

_THINNEST_IN, _THICKEST_IN = 1.5, 14.0
_SAME_LINE_IN = 2.5
"""Walls in one line come this far apart by the readings of several rooms; a real step is more [in]."""
_GAP_IN = 16.0
_LEAST_IN = 8.0
_FLOOR_IN = 11.0
"""From a ceiling to the next floor where the file does not say: 2x10 joists, subfloor and board [in]."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A stretch of wall: along a direction from low to high, at an offset left of it [in]."""

    angle: float
    low: float
    high: float
    off: float
    thick: float
    outer: bool


def read_tape(path: str | Path) -> Shell:
    """Read rooms that were walked around with a tape into a shell: healing comes after.

    Raises:
        ImportRefused: A line cannot be understood, a room does not close, or a room has no place; all
            defects of one kind are named at once.
    """
    path = Path(path)
    house = read_tape_file(path)
    closed: list[Closed] = []
    wrong: list[str] = []
    for room in house.rooms:
        found = close(room)
        if isinstance(found, Closed):
            closed.append(found)
        else:
            wrong.append(found)
    if wrong:
        raise ImportRefused(f"{path.name}: {'; '.join(wrong)}")
    placed = place(house, closed)
    if isinstance(placed, list):
        raise ImportRefused(f"{path.name}: {'; '.join(placed)}")
    return _shell(house, closed, placed)


def _shell(house: TapeHouse, closed: Sequence[Closed], placed: Placed) -> Shell:
    notes = [ShellNote("mended", c.told) for c in closed if c.told]
    notes += [ShellNote("mended", words) for words in placed.told]
    worst = max(closed, key=lambda c: c.missed_in)
    notes.append(
        ShellNote(
            "read",
            f"{len(closed)} rooms walked around; the walk that misses most is {worst.room.name}, by "
            f"{tape(worst.missed_in)}",
            len(closed),
        )
    )
    if not house.said_walls:
        words = (
            f"outer walls taken as {tape(house.outer_in)} thick, the wall beside a shared door as "
            f"{tape(house.inner_in)}: measure one of each at a jamb"
        )
        notes.append(ShellNote("assumed", words))
    levels = _levels(house, notes)
    walls: list[ShellWall] = []
    for level in levels:
        ceiling = level.ceiling_in or level.height_in
        faces = [f for f in placed.faces if f.level == level.name]
        for s in _stretches(faces, house.outer_in):
            walls.append(_wall(f"W{len(walls) + 1}", s, level.name, ceiling))
    spaces = tuple(
        ShellSpace(
            name, "", level, points, area_of(points), None, _ceiling(levels, level), "room", f"{level}/{name}"
        )
        for (level, name), points in placed.corners.items()
    )
    openings = _openings(placed.faces, walls, notes)
    return Shell("sketch made with a tape", levels, tuple(walls), openings, spaces, (), (), tuple(notes))


def _ceiling(levels: Sequence[ShellLevel], name: str) -> float | None:
    return next((v.ceiling_in for v in levels if v.name == name), None)


def _levels(house: TapeHouse, notes: list[ShellNote]) -> tuple[ShellLevel, ...]:
    used = [v for v in house.levels if any(r.level == v.name for r in house.rooms)]
    found: list[ShellLevel] = []
    floor = 0.0
    for index, level in enumerate(used):
        if level.floor_in is not None:
            floor = level.floor_in
        elif index:
            floor = found[-1].elevation_in + (found[-1].ceiling_in or 0.0) + _FLOOR_IN
            notes.append(
                ShellNote(
                    "assumed",
                    f"level {level.name} lies {tape(floor)} over the first one: {tape(_FLOOR_IN)} of floor "
                    "taken; "
                    "measure it at the stair",
                )
            )
        found.append(ShellLevel(level.name, floor, level.ceiling_in, "story", level.ceiling_in))
    return tuple(
        replace(v, height_in=following.elevation_in - v.elevation_in) if following else v
        for v, following in zip(found, [*found[1:], None], strict=True)
    )


def _stretches(faces: Sequence[Face], outer_in: float) -> list[_Stretch]:
    """Walls by pairs of faces that look away from each other; what no face answers is an outer wall."""
    made: list[_Stretch] = []
    for i, face in enumerate(faces):
        angle = math.degrees(math.atan2(face.b[1] - face.a[1], face.b[0] - face.a[0])) % 180.0
        angle = round(angle, 3) % 180.0
        dx, dy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        low, high = sorted((p[0] * dx + p[1] * dy) for p in (face.a, face.b))
        off = face.a[1] * dx - face.a[0] * dy
        left = face.outward[1] * dx - face.outward[0] * dy > 0
        parts = [(low, high)]
        for j, other in enumerate(faces):
            if i == j or face.outward[0] * other.outward[0] + face.outward[1] * other.outward[1] > -0.999:
                continue
            across = other.a[1] * dx - other.a[0] * dy
            gap = (across - off) if left else (off - across)
            if not (at_most(_THINNEST_IN, gap) and at_most(gap, _THICKEST_IN)):
                continue
            a, b = sorted((p[0] * dx + p[1] * dy) for p in (other.a, other.b))
            a, b = max(a, low), min(b, high)
            if b - a < _LEAST_IN:
                continue
            parts = [
                piece
                for x, y in parts
                for piece in ((x, min(y, a)), (max(x, b), y))
                if piece[1] - piece[0] > 1e-6
            ]
            if i < j:
                made.append(_Stretch(angle, a, b, (off + across) / 2, gap, False))
        middle = off + (outer_in / 2 if left else -outer_in / 2)
        made += [
            _Stretch(angle, x, y, middle, outer_in, True) for x, y in parts if at_least(y - x, _LEAST_IN)
        ]
    return _merged(made)


def _merged(stretches: Sequence[_Stretch]) -> list[_Stretch]:
    """Stretches of one line become one wall, over the width of walls that meet it."""
    made = _merged_once(stretches)
    while len(made) < len(stretches):
        stretches, made = made, _merged_once(made)
    return made


def _merged_once(stretches: Sequence[_Stretch]) -> list[_Stretch]:
    found: list[_Stretch] = []
    for s in sorted(stretches, key=lambda s: (s.angle, s.outer, round(s.off), s.low, s.high)):
        for k, t in enumerate(found):
            same = t.angle == s.angle and t.outer == s.outer
            if (
                same
                and abs(t.off - s.off) <= _SAME_LINE_IN
                and s.low - t.high <= _GAP_IN
                and t.low - s.high <= _GAP_IN
            ):
                a, b = t.high - t.low, s.high - s.low
                found[k] = _Stretch(
                    t.angle, min(t.low, s.low), max(t.high, s.high), (t.off * a + s.off * b) / (a + b),
                    (t.thick * a + s.thick * b) / (a + b), t.outer,
                )  # fmt: skip
                break
        else:
            found.append(s)
    return sorted(found, key=lambda s: (not s.outer, s.angle, round(s.off, 2), s.low))


def _wall(wall_id: str, s: _Stretch, level: str, height_in: float) -> ShellWall:
    dx, dy = math.cos(math.radians(s.angle)), math.sin(math.radians(s.angle))

    def at(along: float) -> Point:
        return dx * along - dy * s.off, dy * along + dx * s.off

    thick = round(s.thick * 16) / 16
    return ShellWall(
        wall_id, f"wall {tape(thick)}", level, at(s.low), at(s.high), s.thick, height_in, 0.0, s.thick,
        "other",
        s.thick / 2, s.thick / 2, s.outer, None, None, (), "wall", "body", wall_id,
    )  # fmt: skip


def _openings(
    faces: Sequence[Face], walls: Sequence[ShellWall], notes: list[ShellNote]
) -> tuple[ShellOpening, ...]:
    """Each opening in the wall behind its face; a door read in two rooms is one door."""
    found: list[ShellOpening] = []
    for face in faces:
        for opening in face.openings:
            ends = (face.at(opening.at_in), face.at(opening.at_in + opening.width_in))
            host = _behind(face, ends, walls)
            label = f"{opening.kind} {opening.name}".strip() if opening.kind != "void" else "cased opening"
            if host is None:
                notes.append(ShellNote("not understood", f"a {label} of {face.room} stands in no wall"))
                continue
            low, high = sorted(host.place(p)[0] for p in ends)
            twin = next(
                (k for k, o in enumerate(found) if o.wall == host.id
                 and min(high, o.offset_in + o.width_in) - max(low, o.offset_in) > 0.5 * opening.width_in),
                None,
            )  # fmt: skip
            if twin is not None:
                other = found[twin]
                off = abs((other.offset_in + other.width_in / 2) - (low + high) / 2)
                if off > 1.0:
                    words = (
                        f"{label} stands {tape(off)} apart as read from its two rooms: the middle is taken"
                    )
                    notes.append(ShellNote("mended", words))
                middle = (other.offset_in + other.width_in / 2 + (low + high) / 2) / 2
                found[twin] = replace(other, offset_in=middle - other.width_in / 2)
                continue
            hinge, side = _swing(face, opening.hinge, opening.opens, host, ends)
            found.append(
                ShellOpening(
                    f"O{len(found) + 1}", host.id, opening.kind, label, low, high - low, opening.sill_in,
                    opening.head_in - opening.sill_in, hinge, side, "",
                )
            )  # fmt: skip
    return tuple(found)


def _behind(face: Face, ends: tuple[Point, Point], walls: Sequence[ShellWall]) -> ShellWall | None:
    ranked = []
    for index, wall in enumerate(walls):
        if wall.level != face.level:
            continue
        (s0, l0), (s1, l1) = wall.place(ends[0]), wall.place(ends[1])
        if abs(l0 - l1) > 2.0:
            continue
        beside = abs(abs(l0 + l1) / 2 - wall.thickness_in / 2)
        beyond = max(0.0, -min(s0, s1), max(s0, s1) - wall.length_in)
        if at_most(beside, 3.0) and below(beyond, 12.0):
            ranked.append((beyond + beside, index, wall))
    return min(ranked, key=lambda r: r[:2])[2] if ranked else None


def _swing(
    face: Face, hinge: str, opens: str, wall: ShellWall, ends: tuple[Point, Point]
) -> tuple[Literal["low", "high"] | None, Side | None]:
    """Hinge end along the wall and the side the leaf opens to, as seen from inside the face's room."""
    if not hinge or not opens:
        return None, None
    inside_left = wall.place(face.at(0.0, -1.0))[1] > wall.place(face.at(0.0, 1.0))[1]
    # Standing in the room, looking at the wall: left is to the left of the outward direction.
    ox, oy = face.outward
    lefts = [-oy * p[0] + ox * p[1] for p in ends]
    first_is_left = lefts[0] > lefts[1]
    at = ends[0] if (hinge == "left") == first_is_left else ends[1]
    other = ends[1] if at is ends[0] else ends[0]
    end: Literal["low", "high"] = "low" if wall.place(at)[0] < wall.place(other)[0] else "high"
    side: Side = "left" if (opens == "in") == inside_left else "right"
    return end, side
