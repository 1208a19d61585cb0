"""Tape files: rooms walked around wall by wall, as text or as a table, to readings in inches.

Text (``.tape``), one thing a line; ``#`` begins a remark::

    level 1, ceiling 8' 1"
    walls outer 6-1/2", inner 4-1/2"
    room Kitchen
    wall E 12' 3"; window 4' at 3' 2" sill 3' head 6' 8"
    wall N 10' 6"; door D1 2' 8" at 1' 4" hinge left opens in
    wall W 12' 3"
    wall S 10' 6"
    across E 12' 3"

A wall is its way (N, E, S, W as the sheet lies, or degrees counterclockwise from E) and its length along
the inner face. A door that has a name and stands in two rooms joins them. ``across`` is a check reading. A
room that shares no door says ``at X; Y`` or ``over ROOM`` for its first corner. The table (``.csv``) has the
columns room, direction, length, opening, name, width, at, sill, head.
"""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, field, replace
from pathlib import Path

from bayrun.files.shell import ImportRefused, OpeningKind
from bayrun.geometry import at_most
from bayrun.units import LengthError, parse_length

LARGEST_BYTES = 1_000_000
MOST_WALLS = 2_000
OUTER_IN, INNER_IN, CEILING_IN = 6.5, 4.5, 97.125
"""Taken where the file does not say: 2x6 and 2x4 walls with board on both faces, studs of 8 ft walls."""
_LEN = r"[\d½¼¾⅛⅜⅝⅞][\d½¼¾⅛⅜⅝⅞\s'’′\"”″./-]*(?:mm|cm|m|ft|in)?\.?"
_OPENING = re.compile(
    rf"(door|window|opening)\s+(?:([A-Za-z][\w-]*)\s+)?({_LEN})\s+at\s+({_LEN}?)"
    rf"(?:\s+sill\s+({_LEN}?))?(?:\s+head\s+({_LEN}?))?(?:\s+hinge\s+(left|right))?(?:\s+opens\s+(in|out))?\s*$",
    re.I,
)
_WAYS = {"e": 0.0, "n": 90.0, "w": 180.0, "s": 270.0,
         "east": 0.0, "north": 90.0, "west": 180.0, "south": 270.0,
         "ne": 45.0, "nw": 135.0, "sw": 225.0, "se": 315.0}  # fmt: skip


@dataclass(frozen=True, slots=True)
class TapeOpening:
    """An opening as read from the wall's beginning along the walk [in]."""

    kind: OpeningKind
    name: str
    width_in: float
    at_in: float
    sill_in: float
    head_in: float
    hinge: str = ""
    opens: str = ""


@dataclass(frozen=True, slots=True)
class TapeWall:
    """One wall of a walk: its way in degrees counterclockwise from east, its length, what was written."""

    way_degrees: float
    length_in: float
    written: str
    line: int
    openings: tuple[TapeOpening, ...] = ()


@dataclass(frozen=True, slots=True)
class TapeRoom:
    """One room as it was walked.

    Args:
        at_in, over: Where its first corner lies, where the file says so.
        across_in: Check readings: extent from west to east and from south to north, None where not taken.
    """

    name: str
    level: str
    line: int
    walls: tuple[TapeWall, ...] = ()
    at_in: tuple[float, float] | None = None
    over: str = ""
    across_in: tuple[float | None, float | None] = (None, None)


@dataclass(frozen=True, slots=True)
class TapeLevel:
    """One level: its ceiling over the floor, and the floor over the first one's [in]."""

    name: str
    ceiling_in: float = CEILING_IN
    floor_in: float | None = None


@dataclass(frozen=True, slots=True)
class TapeHouse:
    """Everything a tape file says."""

    levels: tuple[TapeLevel, ...]
    rooms: tuple[TapeRoom, ...]
    outer_in: float = OUTER_IN
    inner_in: float = INNER_IN
    said_walls: bool = False


@dataclass(slots=True)
class _Reading:
    name: str
    defects: list[str] = field(default_factory=list)
    levels: list[TapeLevel] = field(default_factory=list)
    rooms: list[TapeRoom] = field(default_factory=list)
    outer_in: float = OUTER_IN
    inner_in: float = INNER_IN
    said_walls: bool = False

    def wrong(self, line: int, says: str) -> None:
        """One more defect."""
        self.defects.append(f"line {line}: {says}")

    def length(self, text: str, line: int, what: str) -> float:
        """A length, or 0 and a defect."""
        try:
            value = parse_length(text.strip().rstrip("."))
        except LengthError:
            value = -1.0
        if not at_most(0.0, value) or not at_most(value, 12_000.0):
            self.wrong(line, f"expected {what} such as 12' 3-1/2\", got {text.strip()[:40]!r}")
            return 0.0
        return value


def read_tape_file(path: Path) -> TapeHouse:
    """The readings of a tape file, text or table.

    Raises:
        ImportRefused: It is no tape file, or lines of it cannot be understood; all of them are named.
    """
    if path.stat().st_size > LARGEST_BYTES:
        raise ImportRefused(f"{path.name}: expected a tape file of a house, got more than 1 MB of text")
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (UnicodeDecodeError, ValueError):
        raise ImportRefused(
            f"{path.name}: expected a tape file in UTF-8, got letters of another code"
        ) from None
    reading = _Reading(path.name)
    if path.suffix.lower() == ".csv":
        _table(reading, text)
    else:
        for number, line in enumerate(text.splitlines(), 1):
            _line(reading, number, line.partition("#")[0].strip())
    if not reading.rooms and not reading.defects:
        reading.defects.append("expected rooms with their walls, got none")
    for room in reading.rooms:
        if len(room.walls) < 3:
            reading.wrong(room.line, f"expected at least 3 walls around {room.name}, got {len(room.walls)}")
    walls = sum(len(r.walls) for r in reading.rooms)
    if walls > MOST_WALLS:
        reading.defects.append(f"expected one house, got {walls} walls (at most {MOST_WALLS})")
    if reading.defects:
        shown = reading.defects[:12]
        more = f"; and {len(reading.defects) - 12} more" if len(reading.defects) > 12 else ""
        raise ImportRefused(f"{path.name}: {'; '.join(shown)}{more}")
    return TapeHouse(
        tuple(reading.levels or [TapeLevel("1")]), tuple(reading.rooms), reading.outer_in, reading.inner_in,
        reading.said_walls,
    )  # fmt: skip


def _line(reading: _Reading, number: int, line: str) -> None:
    if not line:
        return
    word, _, rest = line.partition(" ")
    rest = rest.strip()
    match word.lower():
        case "tape":
            return
        case "level":
            _level(reading, number, rest)
        case "walls":
            _thicknesses(reading, number, rest)
        case "room":
            _room(reading, number, rest)
        case "wall" | "across" if not reading.rooms:
            reading.wrong(number, f"expected a room before its {word.lower()}")
        case "wall":
            _wall(reading, number, rest)
        case "across":
            _across(reading, number, rest)
        case _:
            reading.wrong(number, f"expected level, walls, room, wall or across, got {word[:30]!r}")


def _level(reading: _Reading, number: int, rest: str) -> None:
    name, *parts = (p.strip() for p in rest.split(","))
    level = TapeLevel(name or str(len(reading.levels) + 1))
    for part in parts:
        found = re.fullmatch(rf"(ceiling|floor)\s+({_LEN})", part, re.I)
        if found is None:
            reading.wrong(number, f"expected ceiling or floor with a height, got {part[:40]!r}")
            continue
        value = reading.length(found[2], number, "a height")
        if found[1].lower() == "ceiling":
            level = replace(level, ceiling_in=value)
        else:
            level = replace(level, floor_in=value)
    if any(v.name == level.name for v in reading.levels):
        reading.wrong(number, f"level {level.name} is there already")
    reading.levels.append(level)


def _thicknesses(reading: _Reading, number: int, rest: str) -> None:
    for part in (p.strip() for p in rest.split(",")):
        found = re.fullmatch(rf"(outer|inner)\s+({_LEN})", part, re.I)
        if found is None:
            reading.wrong(number, f"expected outer or inner with a thickness, got {part[:40]!r}")
            continue
        value = reading.length(found[2], number, "a thickness")
        if not 2.0 <= value <= 24.0:
            reading.wrong(number, f"expected a thickness from 2 to 24 in, got {found[2].strip()!r}")
        reading.said_walls = True
        if found[1].lower() == "outer":
            reading.outer_in = value
        else:
            reading.inner_in = value


def _room(reading: _Reading, number: int, rest: str) -> None:
    found = re.fullmatch(
        rf"(?P<name>[^,]+?)(?:\s*,\s*(?:at\s+(?P<x>-?{_LEN}?)\s*[;/]\s*(?P<y>-?{_LEN})|over\s+(?P<over>.+)))?",
        rest,
    )
    if found is None:
        reading.wrong(
            number, f"expected a room's name, then “, at X; Y” or “, over ROOM” if any, got {rest[:40]!r}"
        )
        return
    at = None
    if found["x"] is not None:
        signs = [-1.0 if found[k].startswith("-") else 1.0 for k in ("x", "y")]
        at = tuple(
            s * reading.length(found[k].lstrip("-"), number, "a length")
            for s, k in zip(signs, ("x", "y"), strict=True)
        )
    name = found["name"].strip()
    level = reading.levels[-1].name if reading.levels else "1"
    if any(r.name == name and r.level == level for r in reading.rooms):
        reading.wrong(number, f"room {name} is there already on level {level}: give each its own name")
    reading.rooms.append(TapeRoom(name, level, number, (), at, (found["over"] or "").strip()))  # type: ignore[arg-type]


def _way(text: str) -> float | None:
    if text.lower() in _WAYS:
        return _WAYS[text.lower()]
    return float(text) % 360.0 if re.fullmatch(r"-?\d{1,3}(\.\d+)?", text) else None


def _wall(reading: _Reading, number: int, rest: str) -> None:
    head, *parts = (p.strip() for p in rest.split(";"))
    word, _, length = head.partition(" ")
    way = _way(word)
    if way is None:
        reading.wrong(number, f"expected a way such as N, E, S, W or 45, got {word[:20]!r}")
        way = 0.0
    length_in = reading.length(length or "nothing", number, "a length")
    openings = tuple(o for p in parts if p and (o := _opening(reading, number, p)) is not None)
    _add(reading, TapeWall(way, length_in, length.strip(), number, openings))


def _add(reading: _Reading, wall: TapeWall) -> None:
    for o in wall.openings:
        if not at_most(o.at_in + o.width_in, wall.length_in + 1.0):
            reading.wrong(wall.line, f"the {o.kind} ends past the end of its wall of {wall.written}")
    room = reading.rooms[-1]
    reading.rooms[-1] = replace(room, walls=(*room.walls, wall))


def _opening(reading: _Reading, number: int, text: str) -> TapeOpening | None:
    found = _OPENING.fullmatch(text)
    if found is None:
        reading.wrong(
            number, f"expected door, window or opening as in “door D1 2' 8\" at 1' 4\"”, got {text[:40]!r}"
        )
        return None
    kinds: dict[str, OpeningKind] = {"door": "door", "window": "window", "opening": "void"}
    kind = kinds[found[1].lower()]
    width, at = (reading.length(found[i], number, "a length") for i in (3, 4))
    sill = reading.length(found[5], number, "a height") if found[5] else 36.0 if kind == "window" else 0.0
    head = reading.length(found[6], number, "a height") if found[6] else 80.0
    return TapeOpening(
        kind, found[2] or "", width, at, sill, head, (found[7] or "").lower(), (found[8] or "").lower()
    )


def _across(reading: _Reading, number: int, rest: str) -> None:
    word, _, length = rest.partition(" ")
    way = _way(word)
    if way is None or way % 90.0 != 0.0:
        reading.wrong(number, f"expected across E or across N with a length, got {rest[:40]!r}")
        return
    value = reading.length(length or "nothing", number, "a length")
    room = reading.rooms[-1]
    x, y = room.across_in
    reading.rooms[-1] = replace(room, across_in=(value, y) if way % 180.0 == 0.0 else (x, value))


def _table(reading: _Reading, text: str) -> None:
    rows = csv.DictReader(io.StringIO(text))
    columns = {(c or "").strip().lower() for c in rows.fieldnames or ()}
    if not {"room", "direction", "length"} <= columns:
        reading.defects.append("line 1: expected the columns room, direction, length, and opening, name, "
                               "width, at, sill, head where there are openings")  # fmt: skip
        return
    for raw in rows:
        number = rows.line_num
        row = {(k or "").strip().lower(): (v or "").strip() for k, v in raw.items() if isinstance(v, str)}
        if not any(row.values()):
            continue
        name = row.get("room", "")
        if name and (not reading.rooms or reading.rooms[-1].name != name):
            _room(reading, number, name)
        if not reading.rooms:
            reading.wrong(number, "expected a room's name in the first row")
            return
        parts = ""
        if row.get("opening"):
            extra = "".join(f" {k} {row[k]}" for k in ("sill", "head") if row.get(k))
            called = f" {row['name']}" if row.get("name") else ""
            parts = f"{row['opening']}{called} {row.get('width', '')} at {row.get('at', '')}{extra}"
        if row.get("length"):
            _wall(
                reading,
                number,
                f"{row.get('direction', '')} {row['length']}" + (f"; {parts}" if parts else ""),
            )
        elif parts and reading.rooms[-1].walls and (more := _opening(reading, number, parts)) is not None:
            # A row with an opening alone goes on with the wall before it.
            room = reading.rooms[-1]
            last = replace(room.walls[-1], openings=(*room.walls[-1].openings, more))
            reading.rooms[-1] = replace(room, walls=(*room.walls[:-1], last))
        else:
            reading.wrong(number, "expected a direction and a length")
