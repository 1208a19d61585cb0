"""Floors and roof of an imported house: what carries them is seldom in the file, so it is assumed by name."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from bayrun.files.shell import Point, Shell, ShellLevel, ShellPiece, area_of
from bayrun.files.shell_guess import SUBFLOOR_IN, joist_for
from bayrun.files.shell_joists import JoistField
from bayrun.geometry import at_least, at_most
from bayrun.house import Beam, EdgeMember, FloorFrame, FloorOpening, Roof, Room, Stair, Wall
from bayrun.units import feet_and_inches, fraction, tape

Assume = Callable[[str, str, str], None]
RectTuple = tuple[float, float, float, float]
_USUAL_FLOOR_IN = 10.0
"""Taken where the file has no floor over a story: 2x10 with its subfloor [in]."""
_STRUCTURE_IN = 4.0
"""A slab thinner than this is a finish, not a structure [in]."""
_RIM_IN = 1.5
_ROOF_PITCH = 4.0
_HEEL_IN = 12.0
_CHOSEN = "so placed that few of them lie over a wall that runs their way: the first thing to measure"


@dataclass(frozen=True, slots=True)
class Aloft:
    """What lies over one story, in heights above the first story's subfloor [in]."""

    bottom_in: float
    top_in: float
    piece: ShellPiece | None


def rect_of(polygon: Sequence[Point]) -> RectTuple:
    """The rectangle around a polygon."""
    xs, ys = [p[0] for p in polygon], [p[1] for p in polygon]
    return min(xs), min(ys), max(xs), max(ys)


def aloft(shell: Shell, level: ShellLevel, zero_in: float) -> Aloft | None:
    """The structure over a story: the largest thick slab or roof that begins near its top, or None."""
    low, high = level.elevation_in + 72.0, level.elevation_in + level.height_in + 24.0
    found = [
        p
        for p in shell.pieces
        if p.kind in ("slab", "roof")
        and at_least(p.z_top_in - p.z_bottom_in, _STRUCTURE_IN)
        and at_least(p.z_bottom_in, low)
        and at_most(p.z_bottom_in, high)
        and area_of(p.polygon) > 20 * 144
    ]
    if not found:
        return None
    piece = max(found, key=lambda p: (area_of(p.polygon), -p.z_bottom_in, p.label))
    return Aloft(piece.z_bottom_in - zero_in, piece.z_top_in - zero_in, piece)


def floor_over(
    number: str, above_level: str, below_level: str, area: RectTuple, over: Aloft | None,
    field: JoistField | None, subfloor_z_in: float, walls: Sequence[Wall], outer: RectTuple, assume: Assume,
) -> FloorFrame:  # fmt: skip
    """Joists between two stories, under the upper one's subfloor, rims at the outer faces."""
    if field is not None:
        return _drawn_floor(number, above_level, below_level, area, field, outer, assume)
    thick = over.top_in - over.bottom_in if over else _USUAL_FLOOR_IN
    nominal, depth_in = joist_for(thick)
    where = f"floor between level {above_level} and level {below_level}"
    name = over.piece.label if over and over.piece else ""
    kind = "open-web floor trusses" if re.search(r"web.*truss|floor truss", name, re.I) else "sawn joists"
    why = f"the file has a floor {fraction(thick)} in thick" if over else "the file has no floor there"
    z_top = subfloor_z_in - SUBFLOOR_IN
    frame = _frame(
        f"F{number}",
        kind,
        nominal,
        depth_in,
        16.0,
        area,
        z_top - depth_in,
        above_level,
        below_level,
        walls,
        outer,
    )
    across = "along the front" if frame.direction == "x" else "front to back"
    assume(
        f"{kind} {nominal} at 16 in on center, running {across}, first one 16 in from the edge", where, why
    )
    return frame


def _drawn_floor(
    number: str, above_level: str, below_level: str, area: RectTuple, field: JoistField, outer: RectTuple,
    assume: Assume,
) -> FloorFrame:  # fmt: skip
    """The floor as the file draws its joists: where they stand is not assumed."""
    where = f"floor between level {above_level} and level {below_level}"
    across = "along the front" if field.direction == "x" else "front to back"
    size = field.nominal or f"{fraction(field.depth_in)} in deep"
    says = (
        f"{field.kind} {size} where the file draws them: {field.count} of them {across}, most at "
        f"{fraction(field.spacing_in)} in on center"
    )
    assume(says, where, "measure one before drilling: a model is not a framed floor")
    x0, y0, x1, y1 = area
    truss = field.kind == "open-web floor trusses"
    return FloorFrame(
        f"F{number}", field.kind, area, field.direction, field.width_in, field.depth_in,
        field.z_bottom_in, field.z_top_in, above_level, below_level, field.spacing_in,
        positions_in=field.positions_in, spans_in=(((x0, x1) if field.direction == "x" else (y0, y1)),),
        flange_depth_in=1.5 if field.kind == "I-joists" else None, chord_depth_in=1.5 if truss else None,
        edge_members=_rims(outer), nominal=field.nominal,
        note="as the file draws it: measure before drilling",
    )  # fmt: skip


def _rims(outer: RectTuple) -> tuple[EdgeMember, ...]:
    a0, b0, a1, b1 = outer
    return tuple(
        EdgeMember("rim", rect)
        for rect in (
            (a0, b0, a1, b0 + _RIM_IN),
            (a0, b1 - _RIM_IN, a1, b1),
            (a0, b0 + _RIM_IN, a0 + _RIM_IN, b1 - _RIM_IN),
            (a1 - _RIM_IN, b0 + _RIM_IN, a1, b1 - _RIM_IN),
        )
    )


def roof_over(
    number: str,
    above_level: str,
    area: RectTuple,
    over: Aloft | None,
    plate_z_in: float,
    walls: Sequence[Wall],
    assume: Assume,
) -> tuple[FloorFrame, Roof]:
    """What closes the top story: a flat roof where the file says so, else trusses under an attic."""
    name = over.piece.label if over and over.piece else ""
    flat = (
        over is not None and over.piece is not None and over.piece.kind == "roof" and "flat" in name.lower()
    )
    where = f"over level {above_level}"
    if flat:
        frame = _frame(
            number,
            "low-slope roof trusses",
            "2x4",
            3.5,
            24.0,
            area,
            plate_z_in,
            above_level,
            None,
            walls,
            area,
        )
        says = (
            f"the flat roof is taken as low-slope trusses at 24 in on center with room for cables, {_CHOSEN}"
        )
        why = f"the file calls it flat, {fraction(over.top_in - over.bottom_in)} in deep" if over else ""
        assume(says, where, why)
        return frame, Roof(number, 0.25, 12.0, max(8.0, over.top_in - over.bottom_in) if over else 12.0)
    frame = _frame(number, "roof trusses", "2x4", 3.5, 24.0, area, plate_z_in, above_level, None, walls, area)
    assume(
        "roof trusses at 24 in on center with an attic that cables can run in, pitch 4 in 12, heel 12 in, "
        f"{_CHOSEN}",
        where,
        "the file has no roof frame",
    )
    ridge: Literal["x", "y"] = "y" if frame.direction == "x" else "x"
    middle = (area[0] + area[2]) / 2 if ridge == "y" else (area[1] + area[3]) / 2
    return frame, Roof(number, _ROOF_PITCH, 12.0, _HEEL_IN, ridge, round(middle, 4))


def _frame(
    frame_id: str, kind: str, nominal: str, depth_in: float, spacing_in: float, area: RectTuple,
    z_bottom_in: float, above_level: str, below_level: str | None, walls: Sequence[Wall], outer: RectTuple,
) -> FloorFrame:  # fmt: skip
    """A field over a rectangle, its members across the shorter way, rims at the edges of a floor."""
    x0, y0, x1, y1 = area
    direction: Literal["x", "y"] = "x" if x1 - x0 <= y1 - y0 else "y"
    low, high = (y0, y1) if direction == "x" else (x0, x1)
    first = _first_in(low, high, spacing_in, 3.5 if "web" in kind else 1.5, direction, walls)
    count = max(0, int((high - 3.0 - first) / spacing_in))
    rims = _rims(outer) if below_level is not None else ()
    return FloorFrame(
        frame_id, kind, area, direction, 3.5 if "web" in kind else 1.5, depth_in,
        round(z_bottom_in, 4), round(z_bottom_in + depth_in, 4), above_level, below_level, spacing_in,
        round(first, 4), round(first + spacing_in * count, 4),
        spans_in=(((x0, x1) if direction == "x" else (y0, y1)),),
        chord_depth_in=1.5 if "web" in kind else None, edge_members=rims, nominal=nominal,
        note="assumed at import: measure before drilling",
    )  # fmt: skip


def _first_in(
    low: float,
    high: float,
    spacing_in: float,
    wide_in: float,
    direction: Literal["x", "y"],
    walls: Sequence[Wall],
) -> float:
    """Where the first member stands: a full spacing in, or moved so that fewer lie over walls [in].

    Nobody has measured it. A member dead over a plate leaves no way up, so the guess that blocks least is
    taken and named; the site decides.
    """
    axis = 1 if direction == "x" else 0
    lines = [
        (w.start[axis], w.thickness_in, w.length_in)
        for w in walls
        if abs(w.start[axis] - w.end[axis]) < 1.0 and low + 6.0 < w.start[axis] < high - 6.0
    ]

    def blocked(first: float) -> float:
        total = 0.0
        for at, thick, length in lines:
            off = (at - first + spacing_in / 2) % spacing_in - spacing_in / 2
            total += length if abs(off) < (thick + wide_in) / 2 else 0.0
        return total

    tries = [low + spacing_in - step for step in range(int(spacing_in) - 3)]
    return min(tries, key=lambda first: (round(blocked(first), 3), -first))


def stairs_of(
    shell: Shell, ids: Mapping[str, str], rooms: Sequence[Room], frames: Sequence[FloorFrame], assume: Assume
) -> tuple[tuple[Stair, ...], tuple[FloorOpening, ...]]:
    """Stairs with the rooms they join, and the holes they need in the floor above."""
    stairs: list[Stair] = []
    holes: list[FloorOpening] = []
    order = [level.name for level in shell.stories]
    for piece in (p for p in shell.pieces if p.kind == "stair"):
        base = next(
            (n for n in reversed(order) if at_most(shell.level(n).elevation_in, piece.z_bottom_in + 12.0)),
            None,
        )
        if base is None:
            continue
        number, rect = len(stairs) + 1, rect_of(piece.polygon)
        x, y = (rect[0] + rect[2]) / 2, (rect[1] + rect[3]) / 2
        floor_in = shell.level(base).elevation_in
        higher = [n for n in order if shell.level(n).elevation_in - floor_in > 1.0]
        # A stair between the halves of a split level ends at the half it reaches.
        reached = [n for n in higher if at_most(abs(shell.level(n).elevation_in - piece.z_top_in), 12.0)]
        upper = next(iter(reached or higher), None)
        joined = []
        for name in (base, upper):
            if name is not None:
                level = ids[name]
                room = _room_near(rooms, level, x, y)
                if room is not None:
                    joined.append((level, room.name))
        stairs.append(Stair(f"S{number}", "stair", tuple(joined), rect))
        over = tuple(f.id for f in frames if f.above_level == ids[base] and f.below_level is not None)
        if over:
            holes.append(FloorOpening(f"S{number}-hole", over, "stair", rect))
            assume(
                f"the floor is open over the whole stair, {feet_and_inches(rect[2] - rect[0])} by "
                f"{feet_and_inches(rect[3] - rect[1])}",
                f"stair S{number}", "the file does not say where the floor's edge is",
            )  # fmt: skip
    return tuple(stairs), tuple(holes)


def _room_near(rooms: Sequence[Room], level: str, x: float, y: float) -> Room | None:
    """The room that holds the point, else the one whose edge is nearest to it within a stair's reach."""
    from shapely.geometry import Point as Dot
    from shapely.geometry import Polygon

    here = [r for r in rooms if r.level == level]
    for room in here:
        if _holds(room.polygon, x, y):
            return room
    away = sorted((round(Polygon(r.polygon).distance(Dot(x, y)), 3), r.name) for r in here)
    if not away or away[0][0] > 48.0:
        return None
    return next(r for r in here if r.name == away[0][1])


def _holds(polygon: Sequence[Point], x: float, y: float) -> bool:
    inside = False
    for (x0, y0), (x1, y1) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            inside = not inside
    return inside


def beams_of(shell: Shell, zero_in: float) -> tuple[Beam, ...]:
    """The beams the file has, as rectangles in plan with their real heights."""
    found: list[Beam] = []
    for piece in (p for p in shell.pieces if p.kind == "beam"):
        steel = re.search(r"wide.?flange|\bw\d+ ?x|\bipe|\bhss|steel", piece.label, re.IGNORECASE)
        z = (round(piece.z_bottom_in - zero_in, 4), round(piece.z_top_in - zero_in, 4))
        what = f"{'steel ' if steel else ''}beam {tape(z[1] - z[0])} deep"
        rect = rect_of(piece.polygon)
        if rect[2] - rect[0] > 0.25 and rect[3] - rect[1] > 0.25:
            found.append(Beam(f"BM{len(found) + 1}", what, tuple(round(v, 4) for v in rect), z_in=z))  # type: ignore[arg-type]
    return tuple(found)
