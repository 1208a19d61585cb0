"""Openings of an imported house as they are framed, and the edges where rooms are open to each other."""

from __future__ import annotations

import math

from bayrun.files.shell import Point, ShellOpening
from bayrun.files.shell_guess import header_depth_in
from bayrun.files.shell_making import Making
from bayrun.files.shell_rooms import RoomOutline
from bayrun.geometry import at_most
from bayrun.house import FacePiece, Level, OpenEdge, Opening, Room, Wall
from bayrun.rules.words import count_of

_JACK_AND_KING_IN = 3.0


def make_openings(making: Making, levels: tuple[Level, ...]) -> tuple[Opening, ...]:
    """Openings of the walls that stayed; stacked or overlapping ones become one framed opening."""
    made: list[Opening] = []
    joined: list[str] = []
    plate_tops = {level.id: level.plate_top_in for level in levels}
    for wall_id, wall in making.walls.items():
        groups: list[list[ShellOpening]] = []
        for opening in making.shell.openings_of(wall_id):
            last = groups[-1] if groups else []
            if last and opening.offset_in < max(o.offset_in + o.width_in for o in last) - 1.0:
                last.append(opening)
            else:
                groups.append([opening])
        for group in groups:
            if len(group) > 1:
                joined.append(f"{wall_id}: {len(group)}")
            made.append(_opening(making, wall, group, plate_tops[wall.level]))
    if joined:
        making.assume(
            "windows that stand over each other are framed as one opening, lowest sill to highest head",
            ", ".join(joined), "the file does not tell the frame between them",
        )  # fmt: skip
    if making.narrowed:
        making.assume(
            "openings so near the end of their wall that no jack and king stud fit are planned narrower",
            ", ".join(making.narrowed), "the file does not tell the studs there",
        )  # fmt: skip
    if making.lowered:
        making.assume(
            "openings that reach so near the plates that no full header fits are planned with what fits",
            ", ".join(making.lowered), "ask the framer",
        )  # fmt: skip
    if made:
        making.assume(
            "openings are taken as rough openings, with headers 5-1/2 in deep to 4 ft, 7-1/4 to 6 ft, "
            "9-1/4 to 8 ft, 11-1/4 beyond", count_of(len(made), "opening"),
            "the file has no framing: not sizes to build from",
        )  # fmt: skip
    return tuple(made)


def _opening(making: Making, wall: Wall, group: list[ShellOpening], plate_top_in: float) -> Opening:
    first = min(group, key=lambda o: (o.kind != "door", o.offset_in, o.id))
    low, high = min(o.offset_in for o in group), max(o.offset_in + o.width_in for o in group)
    sill, head = min(o.sill_in for o in group), max(o.sill_in + o.height_in for o in group)
    sill = 0.0 if abs(sill) < 0.5 else max(sill, 0.0)
    beside = _JACK_AND_KING_IN if wall.framed else 0.0
    first_in, last_in = wall.plate_start_in + beside, wall.plate_end_in - beside
    if low < first_in - 1e-6 or high > last_in + 1e-6:
        making.narrowed.append(first.id)
        low, high = min(max(low, first_in), last_in), max(min(high, last_in), first_in)
    header = header_depth_in(high - low)
    under_in = plate_top_in - 1.5 * wall.plates.top
    if wall.framed and head + header > under_in + 1e-6:
        making.lowered.append(first.id)
        head = min(head, under_in)
        header = under_in - head
    middle = (low + high) / 2
    left, right = (_shown(wall.left, middle), _shown(wall.right, middle))
    rooms = tuple(dict.fromkeys(r for r in (left, right) if r))
    into = {"left": left, "right": right}.get(first.swings_to or "")
    if first.kind == "door":
        kind = (
            "overhead door"
            if "overhead" in first.label.lower()
            else "outside door"
            if wall.exterior
            else "door"
        )
    elif first.kind == "window":
        kind = "window"
    else:
        kind = "cased opening" if sill < 1.0 else "opening"
    return Opening(
        first.id, wall.id, kind, round(low, 4), round(high - low, 4), round(sill, 4), round(head - sill, 4),
        round(header, 4), rooms, into or None, first.hinge_end,
        note="" if len(group) == 1 else f"{len(group)} units over each other",
    )  # fmt: skip


def _shown(pieces: tuple[FacePiece, ...], at_in: float) -> str:
    return next((p.room for p in pieces if at_most(p.from_in, at_in) and at_most(at_in, p.to_in)), "")


def make_open_edges(
    making: Making, outlines: list[RoomOutline], rooms: tuple[Room, ...]
) -> tuple[OpenEdge, ...]:
    """Edges without a wall that two rooms share, each once."""
    found: list[OpenEdge] = []
    for i, outline in enumerate(outlines):
        for a, b in outline.open_edges:
            mine = rooms[i]
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            for j in range(i + 1, len(outlines)):
                if rooms[j].level != mine.level:
                    continue
                for c, d in outlines[j].open_edges:
                    other = ((c[0] + d[0]) / 2, (c[1] + d[1]) / 2)
                    length = min(math.dist(a, b), math.dist(c, d))
                    if math.dist(middle, other) < max(12.0, length / 2) and _parallel(a, b, c, d):
                        found.append(OpenEdge(mine.level, (mine.name, rooms[j].name), (_tidy(a), _tidy(b))))
                        break
    return tuple(found)


def _tidy(point: Point) -> Point:
    return round(point[0], 4), round(point[1], 4)


def _parallel(a: Point, b: Point, c: Point, d: Point) -> bool:
    ax, ay, bx, by = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    return abs(ax * by - ay * bx) < 0.05 * math.hypot(ax, ay) * math.hypot(bx, by)
