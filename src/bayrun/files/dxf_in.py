"""DXF drawing to neutral shell: lines, arcs, symbols and texts of a plan as walls, openings, rooms.

A plan has no heights, no doors that know their wall and often no honest unit. Walls are found by layer names
and, where those tell nothing, by geometry alone; openings by door and window symbols, by the swing of a leaf
and by breaks in the faces; rooms by what the walls close, named by the texts inside. All of it is told.

Source: DXF reference for entities and header (from memory: verify); the rest is common practice, no source.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from bayrun.files.dxf_open import DOOR, INSUNITS, UNITS_IN, WINDOW, Drawing, Words, open_dxf
from bayrun.files.dxf_walls import Run, Strip, runs_of, strips_of
from bayrun.files.privacy import without_people
from bayrun.files.shell import (
    ImportRefused,
    NoteKind,
    OpeningKind,
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
from bayrun.files.shell_guess import kind_of_name
from bayrun.geometry import at_most
from bayrun.units import LengthError, parse_length, tape

WALL_HEIGHT_IN, DOOR_HEAD_IN, WINDOW_SILL_IN = 97.125, 80.0, 36.0
"""Stated where a plan has no heights: 8 ft walls of precut studs with three plates, 6'-8" heads, 3 ft sills
(common practice, no source) [in]."""
_WALL = re.compile(r"wall|wand|mur(s|$)|partition|parti|muro|(^|[-_ ])wa([-_ ]|$)", re.I)
_NOT_WALL = re.compile(
    r"patt|hatch|iden|note|text|dim|tag|center|cntr|rating|fire|abov|over|demo|retain", re.I
)
_NEVER_WALL = re.compile(
    r"dim|text|note|anno|furn|equip|grid|hatch|patt|title|border|stair|plumb|fixt|sanit|appl|case|cabin|floor|ceil|"
    r"elec|light|ligh|hvac|mech|site|land|roof|defpoints|symb|iden|tile|room|area|viewport|vport",
    re.I,
)
_BRIDGED_IN = (24.0, 96.0)
"""A break this wide in one line, free at both ends, is a cased opening [in]."""
_MARK_IN = (16.0, 240.0)
_NEAR_IN = 3.0
_LEAST_ROOM_IN2 = 6 * 144.0
_PLANS_APART_IN = 120.0
_NAMES_ROOMS = re.compile(r"room|raum|area|name|iden|spce|space", re.I)
"""Layers whose texts name rooms: elsewhere a text must tell a use of a room to be carried as its name."""
_SIZES = re.compile(r"(\d[\d'’\"”\-–/ .]*)\s*[x×X]\s*(\d[\d'’\"”\-–/ .]*)")
_SQUARE = re.compile(r"(\d+(?:\.\d+)?)\s*(?:s\.?\s?f\.?|sq\.?\s?ft\.?)(?=\W|$)", re.I)


@dataclass(frozen=True, slots=True)
class _Mark:
    """Something in the plan that is an opening: its ends in plan and what it tells [in]."""

    kind: OpeningKind
    name: str
    ends: tuple[Point, Point]
    hinge: Point | None = None
    leaf: Point | None = None


@dataclass(slots=True)
class _Reading:
    drawing: Drawing
    scale: float = 1.0
    unit_said: str = ""
    number_said: int = 0
    notes: list[ShellNote] = field(default_factory=list)

    def tell(self, kind: NoteKind, text: str, count: int = 1, names: Sequence[str] = ()) -> None:
        """One more note; a long list of names is cut."""
        once = sorted(set(names))
        listed = (*once[:8], f"and {len(once) - 8} more") if len(once) > 8 else tuple(once)
        self.notes.append(ShellNote(kind, text, count, listed))

    def at(self, p: Point) -> Point:
        """A point of the drawing in inches."""
        return p[0] * self.scale, p[1] * self.scale


def read_dxf(path: str | Path, unit: str = "", drawing_number: int = 0) -> Shell:
    """Read the floor plan of a DXF drawing into a shell of one level, as it is: healing comes after.

    Args:
        path: The file, text or binary.
        unit: What a person says the drawing's unit is; empty: judged.
        drawing_number: Which drawing of the sheet is the plan, as the notes number them; 0: judged.
    Returns:
        The shell; its notes name whatever was assumed, left out or not understood. Texts that stand in no
        room (title blocks, people, addresses) are not carried.
    Raises:
        ImportRefused: The file cannot be read, or has no walls; the message says what to do.
    """
    path = Path(path)
    drawing = open_dxf(path)
    reading = _Reading(drawing, unit_said=unit, number_said=drawing_number)
    if drawing.prefixed:
        reading.tell(
            "read",
            f"{len(drawing.prefixed)} layers carry the name of an xref before their own: read by their own",
            len(drawing.prefixed),
            sorted(drawing.prefixed),
        )
    try:
        return _read(reading)
    except (ImportRefused, MemoryError):
        raise
    except Exception as error:
        # Whatever breaks inside geometry of a damaged file, a person gets one sentence.
        raise ImportRefused(
            f"{path.name}: expected a floor plan that holds together, got lines that contradict themselves "
            f"({type(error).__name__}); save it again"
        ) from None


def _read(reading: _Reading) -> Shell:
    drawing = reading.drawing
    lines = _wall_lines(reading)
    reading.scale = _scale(reading, lines)
    plan = _plan(reading, lines)
    if not plan.runs:
        raise ImportRefused(
            f"{drawing.name}: expected walls drawn as two lines 3 to 14 in apart, found none among "
            f"{len(drawing.segments)} lines; draw the floor plan in the model space, or put its walls on a "
            "layer named WALL"
        )
    plan = _one_plan(reading, plan)
    return _shell(reading, plan)


def _wall_lines(reading: _Reading) -> list[tuple[Point, Point]]:
    """The lines that may be faces of walls, in drawing units."""
    drawing = reading.drawing
    layers = sorted({s.layer for s in drawing.segments})
    walls = {n for n in layers if _WALL.search(n) and not _NOT_WALL.search(n)}
    named = [(s.a, s.b) for s in drawing.segments if s.layer in walls]
    if len(named) >= 8:
        reading.tell(
            "read", f"walls are taken from {len(walls)} layers by their names", len(walls), sorted(walls)
        )
        return named
    loose = [
        n for n in layers
        if not (_NEVER_WALL.search(n) or WINDOW.search(n) or DOOR.search(n))
    ]  # fmt: skip
    reading.tell(
        "assumed",
        "no layer is named for walls: lines that run along each other 3 to 14 in apart are taken as walls",
        1,
        loose,
    )
    return [(s.a, s.b) for s in drawing.segments if s.layer in loose]


def _door_widths(drawing: Drawing) -> list[float]:
    """Leaf widths by their swings, in drawing units; by symbols where nothing swings."""
    swings = [s.radius for s in drawing.swings if not _NEVER_WALL.search(s.layer) or DOOR.search(s.layer)]
    swings += [s.radius for symbol in drawing.symbols if symbol.kind == "door" for s in symbol.swings]
    if swings:
        return sorted(swings)
    return sorted(max(_extent(s.points)) for s in drawing.symbols if s.kind == "door")


def _extent(points: Sequence[Point]) -> tuple[float, float]:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def _scale(reading: _Reading, lines: list[tuple[Point, Point]]) -> float:
    """Inches in a drawing unit: the header's where doors or rooms bear it out, else one that fits."""
    drawing = reading.drawing
    said = INSUNITS.get(drawing.insunits)
    widths = _door_widths(drawing)
    door = widths[len(widths) // 2] if widths else 0.0

    def fits(unit: str) -> bool:
        scale = UNITS_IN[unit]
        if door:
            # 2.54 parts centimeters from inches, so the range of doors must be narrower than that.
            return 20.0 <= door * scale <= 48.0
        return _fits_by_rooms(reading, lines, scale)

    if said and fits(said):
        return UNITS_IN[said]
    by = (
        f"door leaves are {tape(door * UNITS_IN[said])} wide"
        if said and door
        else "the rooms have no likely size"
    )
    order = ("inches", "millimeters", "feet", "meters", "centimeters")
    unit = next((u for u in order if u != said and fits(u)), None)
    header = (
        f"the header says {said} ($INSUNITS {drawing.insunits})"
        if said
        else (
            "the header names no unit ($INSUNITS absent or 0)"
            if not drawing.insunits
            else f"the header names a unit no house is drawn in ($INSUNITS {drawing.insunits})"
        )
    )
    if unit is None:
        if said:
            reading.tell(
                "not understood", f"{header}, which nothing in the drawing bears out: look at the sizes first"
            )
            return UNITS_IN[said]
        raise ImportRefused(
            f"{drawing.name}: expected a unit of length, got a drawing whose {header.removeprefix('the ')} "
            "and in which no door or room tells one; set $INSUNITS (1 inches, 2 feet, 4 millimeters) and "
            "save it again"
        )
    if door:
        proof = f"door leaves are then {tape(door * UNITS_IN[unit])} wide"
    else:
        proof = "the rooms then have likely sizes"
    if said:
        reading.tell("mended", f"{header}, but then {by}: taken as {unit}, {proof}")
    else:
        reading.tell("assumed", f"{header}: taken as {unit}, {proof}")
    return UNITS_IN[unit]


def _fits_by_rooms(reading: _Reading, lines: list[tuple[Point, Point]], scale: float) -> bool:
    """True where walls of this scale close rooms whose middle one has 35 to 600 square feet."""
    quiet = _Reading(reading.drawing, scale)
    plan = _plan(quiet, lines)
    areas = sorted(shape.area for shape in _closed(plan.runs))
    if not areas:
        return False
    middle = float(areas[len(areas) // 2])
    return 35 * 144.0 <= middle <= 600 * 144.0


@dataclass(frozen=True, slots=True)
class _Plan:
    runs: tuple[Run, ...]
    marks: tuple[_Mark, ...]


def _plan(reading: _Reading, lines: list[tuple[Point, Point]]) -> _Plan:
    strips = strips_of([(reading.at(a), reading.at(b)) for a, b in lines])
    marks = _marks(reading, strips)

    def bridged(gap: Strip) -> bool:
        if any(_covers(gap, m) for m in marks):
            return at_most(gap.length_in, _MARK_IN[1])
        free = not any(_meets(gap.start, s, gap) or _meets(gap.end, s, gap) for s in strips)
        return free and at_most(_BRIDGED_IN[0], gap.length_in) and at_most(gap.length_in, _BRIDGED_IN[1])

    runs = runs_of(strips, bridged)
    return _Plan(tuple(_reached(runs, marks)), tuple(marks))


def _covers(gap: Strip, mark: _Mark) -> bool:
    """True where a mark lies in a break of a wall."""
    places = [gap.place(p) for p in mark.ends]
    middle = (places[0][0] + places[1][0]) / 2
    left = max(abs(p[1]) for p in places)
    return -_NEAR_IN < middle < gap.length_in + _NEAR_IN and left <= gap.thickness_in / 2 + _NEAR_IN


def _meets(point: Point, other: Strip, own: Strip) -> bool:
    """True where a point lies at a wall that runs across."""
    (dx, dy), (ox, oy) = own.direction, other.direction
    if abs(dx * oy - dy * ox) < 0.2:
        return False
    along, left = other.place(point)
    # At a corner the other wall's faces end at this one's: half a thickness short of its center line.
    reach = own.thickness_in / 2 + 1.5
    beside = at_most(abs(left), other.thickness_in / 2 + 1.5)
    return beside and at_most(-reach, along) and at_most(along, other.length_in + reach)


def _marks(reading: _Reading, strips: Sequence[Strip]) -> list[_Mark]:
    """Doors and windows of the plan: symbols first, loose swings and window lines after."""
    drawing = reading.drawing
    marks: list[_Mark] = []
    loose = list(drawing.swings)
    for symbol in drawing.symbols:
        if symbol.kind == "door" and symbol.swings:
            marks.extend(_swing_mark(reading, s, strips, symbol.name) for s in symbol.swings)
        else:
            points = [reading.at(p) for p in symbol.points]
            marks.append(
                _Mark("door" if symbol.kind == "door" else "window", symbol.name, _longest(points, strips))
            )
    for swing in loose:
        if _NEVER_WALL.search(swing.layer) and not DOOR.search(swing.layer):
            continue
        if 16.0 <= swing.radius * reading.scale <= 60.0:
            marks.append(_swing_mark(reading, swing, strips, "door by its swing"))
    panes = [(reading.at(s.a), reading.at(s.b)) for s in drawing.segments if WINDOW.search(s.layer)]
    marks += [_Mark("window", "window by its lines", ends) for ends in _pane_ends(panes)]
    return [m for m in marks if _MARK_IN[0] <= math.dist(*m.ends) <= _MARK_IN[1]]


def _swing_mark(reading: _Reading, swing: Any, strips: Sequence[Strip], name: str) -> _Mark:
    """The closed leaf lies along a wall; the open one stands out from it."""
    hinge = reading.at(swing.hinge)
    ends = [reading.at(p) for p in swing.ends]

    def off_wall(end: Point) -> tuple[float, float]:
        best, covered = math.inf, 0.0
        length = math.dist(hinge, end)
        if length < 1e-6:
            return best, covered
        dx, dy = (end[0] - hinge[0]) / length, (end[1] - hinge[1]) / length
        for s in strips:
            sx, sy = s.direction
            if abs(dx * sy - dy * sx) < 0.1:
                (a, l0), (b, l1) = s.place(hinge), s.place(end)
                apart = max(min(a, b) - s.length_in, -max(a, b), 0.0)
                miss = max(abs(l0), abs(l1)) - s.thickness_in / 2
                if miss <= _NEAR_IN:
                    best = min(best, max(0.0, miss) + apart)
                    covered += max(0.0, min(max(a, b), s.length_in) - max(min(a, b), 0.0))
        # In a corner both ends lie along a wall: the leaf closes the wall that has the break.
        return round(best, 1), round(covered, 1)

    shut, leaf = sorted(ends, key=lambda e: (*off_wall(e), e))
    return _Mark("door", name, (hinge, shut), hinge, leaf)


def _longest(points: Sequence[Point], strips: Sequence[Strip]) -> tuple[Point, Point]:
    """The ends of a symbol along the wall it lies on: the extent of its points on that wall's line."""
    best: tuple[float, float, tuple[Point, Point]] | None = None
    for s in strips:
        on = [along for along, left in map(s.place, points) if abs(left) <= s.thickness_in / 2 + _NEAR_IN]
        if not on or max(on) - min(on) < _MARK_IN[0]:
            continue
        low, high = min(on), max(on)
        apart = max(-high, low - s.length_in, 0.0)
        if apart <= _MARK_IN[0]:
            found = (round(low - high, 2), round(apart, 2), (s.at(low), s.at(high)))
            best = found if best is None else min(best, found)
    if best is not None:
        return best[2]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _pane_ends(panes: Sequence[tuple[Point, Point]]) -> list[tuple[Point, Point]]:
    """Window lines close to each other are one window."""
    from shapely.geometry import LineString
    from shapely.ops import unary_union

    if not panes:
        return []
    merged = unary_union([LineString(p).buffer(2.5, cap_style="square") for p in panes])
    found = []
    for shape in sorted(getattr(merged, "geoms", [merged]), key=lambda g: g.bounds):
        box = list(shape.minimum_rotated_rectangle.exterior.coords)
        a, b, c = box[0], box[1], box[2]
        if math.dist(a, b) < math.dist(b, c):
            a, b, c = b, c, box[3]
        mid = ((b[0] - c[0]) / 2, (b[1] - c[1]) / 2)
        length = math.dist(a, b)
        ux, uy = (b[0] - a[0]) / length * 2.5, (b[1] - a[1]) / length * 2.5
        found.append(((a[0] - mid[0] + ux, a[1] - mid[1] + uy), (b[0] - mid[0] - ux, b[1] - mid[1] - uy)))
    return found


def _reached(runs: list[Run], marks: Sequence[_Mark]) -> list[Run]:
    """A door beside a corner leaves no wall past it: the wall is carried over the door to the next wall."""
    made = list(runs)
    for mark in marks:
        if any(_covers(r.strip, mark) for r in made):
            continue
        for i, run in enumerate(made):
            strip = run.strip
            places = [strip.place(p) for p in mark.ends]
            if max(abs(p[1]) for p in places) > strip.thickness_in / 2 + _NEAR_IN:
                continue
            low, high = sorted(p[0] for p in places)
            if at_most(-_NEAR_IN, low - strip.length_in) and at_most(low - strip.length_in, 12.0 - _NEAR_IN):
                far = _across(strip.at(high), strip, made, 1.0)
                gap = (strip.length_in, high)
                made[i] = Run(replace(strip, end=strip.at(high + far)), (*run.gaps, gap))
                break
            if at_most(-_NEAR_IN, -high) and at_most(-high, 12.0 - _NEAR_IN):
                far = _across(strip.at(low), strip, made, -1.0)
                moved = far - low
                gaps = ((moved + low, moved), *((a + moved, b + moved) for a, b in run.gaps))
                made[i] = Run(replace(strip, start=strip.at(low - far)), gaps)
                break
    return made


def _across(point: Point, strip: Strip, runs: Sequence[Run], sign: float) -> float:
    """From a point along a wall to the near face of the wall that crosses its way, within a foot [in]."""
    dx, dy = strip.direction
    best = 0.0
    for step in range(13):
        spot = (point[0] + dx * sign * step, point[1] + dy * sign * step)
        if any(_meets(spot, r.strip, strip) for r in runs if r.strip != strip):
            best = float(step)
            break
    return best


def _to_far_face(point: Point, own: Strip, runs: Sequence[Run]) -> float:
    """How far a wall's end is from the far face of the wall it meets, so that corners are filled [in]."""
    met = [r.strip for r in runs if r.strip is not own and _meets(point, r.strip, own)]
    return max((abs(s.place(point)[1]) + s.thickness_in / 2 for s in met), default=0.0)


def _closed(runs: Sequence[Run]) -> list[Any]:
    """What the walls close: the holes in them as one figure."""
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    bands = []
    for r in runs:
        s, h = r.strip, r.strip.thickness_in / 2
        a, b = -_to_far_face(s.start, s, runs), s.length_in + _to_far_face(s.end, s, runs)
        bands.append(Polygon([s.at(a, h), s.at(b, h), s.at(b, -h), s.at(a, -h)]))
    if not bands:
        return []
    merged = unary_union(bands).buffer(1.0, join_style="mitre").buffer(-1.0, join_style="mitre")
    shapes = [
        Polygon(ring).simplify(0.05) for g in getattr(merged, "geoms", [merged]) for ring in g.interiors
    ]
    return sorted((s for s in shapes if s.area >= _LEAST_ROOM_IN2), key=lambda s: s.bounds)


def _one_plan(reading: _Reading, plan: _Plan) -> _Plan:
    """Of several drawings on one sheet, the one with most room texts, then most walls."""
    from shapely.geometry import LineString
    from shapely.geometry import Point as Dot
    from shapely.ops import unary_union

    grown = unary_union(
        [LineString((r.strip.start, r.strip.end)).buffer(_PLANS_APART_IN / 2) for r in plan.runs]
    )
    parts = sorted(getattr(grown, "geoms", [grown]), key=lambda g: g.bounds)
    if len(parts) == 1:
        return plan

    def worth(part: Any) -> tuple[int, float]:
        texts = sum(part.contains(Dot(reading.at(w.at))) and kind_of_name(w.says, 1e6)[1]
                    for w in reading.drawing.words)  # fmt: skip
        walls = sum(r.strip.length_in for r in plan.runs if part.contains(Dot(r.strip.start)))
        return texts, walls

    best = max(range(len(parts)), key=lambda i: (*worth(parts[i]), -i))
    reading.tell(
        "left out",
        f"the sheet holds {len(parts)} drawings apart from each other: the one with most room names and "
        "walls is taken, the others are left out",
        len(parts) - 1,
    )
    part = parts[best]
    return _Plan(
        tuple(r for r in plan.runs if part.contains(Dot(r.strip.start))),
        tuple(m for m in plan.marks if part.contains(Dot(m.ends[0]))),
    )


def _shell(reading: _Reading, plan: _Plan) -> Shell:
    level = "Level 1"
    walls = tuple(
        ShellWall(
            f"W{i}", f"wall {tape(r.strip.thickness_in)}", level, r.strip.start, r.strip.end,
            r.strip.thickness_in, WALL_HEIGHT_IN, 0.0, r.strip.thickness_in, "other",
            r.strip.thickness_in / 2, r.strip.thickness_in / 2, None, None, None, (), "wall", "body", "",
        )
        for i, r in enumerate(plan.runs, 1)
    )  # fmt: skip
    openings = _openings(reading, plan, walls)
    spaces = _spaces(reading, plan, level)
    reading.tell(
        "assumed",
        f"a plan has no heights: walls {tape(WALL_HEIGHT_IN)} high, door and window heads at "
        f"{tape(DOOR_HEAD_IN)}, window sills at {tape(WINDOW_SILL_IN)}",
    )
    reading.tell(
        "read",
        f"{len(walls)} walls, {sum(o.kind == 'door' for o in openings)} doors, "
        f"{sum(o.kind == 'window' for o in openings)} windows, "
        f"{sum(o.kind == 'void' for o in openings)} cased openings, {len(spaces)} rooms",
        len(walls),
    )
    passed = reading.drawing.passed
    if passed:
        reading.tell(
            "left out",
            f"{sum(passed.values())} things a plan of walls does not need, or whose kind is not read",
            sum(passed.values()),
            [f"{n} {k.lower()}" for k, n in sorted(passed.items())],
        )
    levels = (ShellLevel(level, 0.0, WALL_HEIGHT_IN),)
    return Shell(
        "architect's drawing (DXF file)", levels, walls, openings, spaces, (), (), tuple(reading.notes)
    )


def _openings(reading: _Reading, plan: _Plan, walls: Sequence[ShellWall]) -> tuple[ShellOpening, ...]:
    found: list[ShellOpening] = []
    used: set[int] = set()
    for run, wall in zip(plan.runs, walls, strict=True):
        here: list[tuple[float, float, list[int]]] = [(a, b, []) for a, b in run.gaps]
        for i, mark in enumerate(plan.marks):
            if i in used or not _covers(run.strip, mark):
                continue
            places = [run.strip.place(p) for p in mark.ends]
            low, high = sorted(p[0] for p in places)
            used.add(i)
            for k, (a, b, inside) in enumerate(here):
                if min(b, high) - max(a, low) > 0.5 * min(b - a, high - low):
                    # A break in the faces is the truth; a symbol over an unbroken wall adds its own.
                    here[k] = (
                        (a, b, [*inside, i])
                        if k < len(run.gaps)
                        else (min(a, low), max(b, high), [*inside, i])
                    )
                    break
            else:
                here.append((max(low, 0.0), min(high, run.strip.length_in), [i]))
        for a, b, inside in sorted(here):
            found.append(_opening(f"O{len(found) + 1}", wall, a, b, [plan.marks[i] for i in inside]))
    lost = [m.name for i, m in enumerate(plan.marks) if i not in used]
    if lost:
        reading.tell("not understood", f"{len(lost)} doors or windows that lie on no wall", len(lost), lost)
    voids = sum(o.kind == "void" for o in found)
    if voids:
        reading.tell("assumed", f"{voids} breaks in a wall without door or window are cased openings", voids)
    return tuple(found)


def _opening(
    opening_id: str, wall: ShellWall, low: float, high: float, marks: Sequence[_Mark]
) -> ShellOpening:
    kinds = [m.kind for m in marks]
    kind: OpeningKind = "door" if "door" in kinds else "window" if "window" in kinds else "void"
    name = next((m.name for m in marks if m.kind == kind), "cased opening")
    hinge: Any = None
    side: Side | None = None
    swings = [m for m in marks if m.hinge is not None and m.leaf is not None]
    if len(swings) == 1 and swings[0].hinge and swings[0].leaf:
        along = wall.place(swings[0].hinge)[0]
        hinge = "low" if along < (low + high) / 2 else "high"
        side = "left" if wall.place(swings[0].leaf)[1] > 0 else "right"
    sill = WINDOW_SILL_IN if kind == "window" else 0.0
    return ShellOpening(
        opening_id, wall.id, kind, name[:60], low, high - low, sill, DOOR_HEAD_IN - sill, hinge, side, ""
    )


def _spaces(reading: _Reading, plan: _Plan, level: str) -> tuple[ShellSpace, ...]:
    """Rooms the walls close, named by the texts in them."""
    from shapely.geometry import Point as Dot

    shapes = _closed(plan.runs)
    found: list[ShellSpace] = []
    bare, shared, differ = 0, [], []
    placed: set[int] = set()
    for shape in shapes:
        inside = [
            (i, w) for i, w in enumerate(reading.drawing.words) if shape.contains(Dot(reading.at(w.at)))
        ]
        placed.update(i for i, _ in inside)
        names, stated = _said(inside)
        told = [n for n in names if kind_of_name(n, 1e6)[1]]
        name = " / ".join(dict.fromkeys(told)) if told else (names[0] if names else "")
        if len(told) > 1:
            shared.append(name)
        bare += not name
        outline = tuple((float(x), float(y)) for x, y in shape.exterior.coords[:-1])
        found.append(
            ShellSpace(name or "Room", "", level, outline, area_of(outline), stated, None, "room", "")
        )
        if stated and abs(area_of(outline) / stated - 1) > 0.05:
            differ.append(name or "Room")
    if bare:
        reading.tell("not understood", f"{bare} rooms without a name in them", bare)
    if shared:
        reading.tell(
            "assumed",
            f"{len(shared)} rooms open to each other, with several names in one: kept as one",
            len(shared),
            shared,
        )
    if differ:
        reading.tell(
            "not understood",
            f"{len(differ)} rooms whose text states another size than is drawn",
            len(differ),
            differ,
        )
    lost = [
        w.says for i, w in enumerate(reading.drawing.words)
        if i not in placed and len(w.says) < 30 and kind_of_name(w.says, 1e6)[1] and _is_name(w.says)
    ]  # fmt: skip
    if lost:
        names = [" ".join(n.split()) for n in lost]
        reading.tell(
            "not understood", f"{len(lost)} room names stand where walls close no room", len(lost), names
        )
    if not found:
        reading.tell("not understood", "the walls close no room: look for wide breaks in them")
    return tuple(found)


def _said(inside: Sequence[tuple[int, Words]]) -> tuple[list[str], float | None]:
    """Names in a room, biggest letters first, and the area its texts state [in2]."""
    names: list[tuple[float, int, str]] = []
    stated: float | None = None
    for i, w in inside:
        for line in re.split(r"\n|\\P", w.says):
            text, _ = without_people(re.sub(r"%%[a-zA-Z]", "", line))
            square, sizes = _SQUARE.search(text), _SIZES.search(text)
            if square:
                stated = float(square[1]) * 144.0 or None
            elif sizes:
                try:
                    stated = stated or parse_length(sizes[1].strip()) * parse_length(sizes[2].strip())
                except LengthError:
                    continue
            elif _is_name(text) and (kind_of_name(text, 1e6)[1] or _NAMES_ROOMS.search(w.layer)):
                names.append((-w.high, i, text.title() if text.isupper() and len(text) > 3 else text))
    return [n for _, _, n in sorted(names)], stated


def _is_name(text: str) -> bool:
    letters = sum(c.isalpha() for c in text)
    return (
        letters >= 2 and letters >= 0.5 * len(text.replace(" ", "")) and len(text) <= 40 and "@" not in text
    )
