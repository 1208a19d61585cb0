"""The unit of a drawn plan: what its header says, what its doors and rooms bear out, what a person says."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from bayrun.files.dxf_marks import MARK_IN, NEVER_WALL, Mark, Reading, covers, marks_of, meets, reached
from bayrun.files.dxf_open import DOOR, INSUNITS, UNITS_IN, WINDOW, Drawing
from bayrun.files.dxf_walls import Run, Strip, runs_of, strips_of
from bayrun.files.shell import ImportRefused, Point
from bayrun.geometry import at_most
from bayrun.units import tape

_WALL = re.compile(r"wall|wand|mur(s|$)|partition|parti|muro|(^|[-_ ])wa([-_ ]|$)", re.I)
_NOT_WALL = re.compile(
    r"patt|hatch|iden|note|text|dim|tag|center|cntr|rating|fire|abov|over|demo|retain", re.I
)
_BRIDGED_IN = (24.0, 96.0)
"""A break this wide in one line, free at both ends, is a cased opening [in]."""
_LEAST_ROOM_IN2 = 6 * 144.0
ONE_LINE_IN = 4.5
"""A wall of one line is taken this thick: 2x4 studs with board on both faces (common practice) [in]."""
_LEAST_LINE_IN, _MOST_LINES = 12.0, 1_500
_LONGEST_IN = 12_000.0
"""A line of 1,000 ft is a border, a boundary or a slip of a number, not a wall of a house [in]."""


def wall_lines(reading: Reading) -> list[tuple[Point, Point]]:
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
        if not (NEVER_WALL.search(n) or WINDOW.search(n) or DOOR.search(n))
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
    swings = [s.radius for s in drawing.swings if not NEVER_WALL.search(s.layer) or DOOR.search(s.layer)]
    swings += [s.radius for symbol in drawing.symbols if symbol.kind == "door" for s in symbol.swings]
    if swings:
        return sorted(swings)
    return sorted(max(_extent(s.points)) for s in drawing.symbols if s.kind == "door")


def _extent(points: Sequence[Point]) -> tuple[float, float]:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def scale_of(reading: Reading, lines: list[tuple[Point, Point]]) -> float:
    """Inches in a drawing unit: the header's where doors or rooms bear it out, else one that fits."""
    drawing = reading.drawing
    if reading.per_unit_in:
        return reading.per_unit_in
    said = INSUNITS.get(drawing.insunits)
    if reading.unit_said:
        if said and said != reading.unit_said:
            reading.tell(
                "mended",
                f"the header says {said} ($INSUNITS {drawing.insunits}): read in {reading.unit_said}, as you "
                "said",
            )
        return UNITS_IN[reading.unit_said]
    widths = _door_widths(drawing)
    door = widths[len(widths) // 2] if widths else 0.0

    def fits(unit: str, one_line: bool = False) -> bool:
        scale = UNITS_IN[unit]
        if door:
            # 2.54 parts centimeters from inches, so the range of doors must be narrower than that.
            return 20.0 <= door * scale <= 48.0
        return _fits_by_rooms(reading, lines, scale, one_line)

    if said and fits(said):
        return UNITS_IN[said]
    by = (
        f"door leaves are {tape(door * UNITS_IN[said])} wide"
        if said and door
        else "the rooms have no likely size"
    )
    order = ("inches", "millimeters", "feet", "meters", "centimeters")
    unit = next((u for u in order if u != said and fits(u)), None)
    if unit is None and said and fits(said, True):
        return UNITS_IN[said]
    unit = unit or next((u for u in order if u != said and fits(u, True)), None)
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
        reading.tell("mended", f"{header}, but then {by}: taken as {unit}, {proof}. Say --unit to change it")
    else:
        reading.tell("assumed", f"{header}: taken as {unit}, {proof}. Say --unit to change it")
    return UNITS_IN[unit]


def _fits_by_rooms(reading: Reading, lines: list[tuple[Point, Point]], scale: float, one_line: bool) -> bool:
    """True where walls of this scale close rooms whose middle one has 35 to 600 square feet."""
    quiet = Reading(reading.drawing, scale)
    at = [(quiet.at(a), quiet.at(b)) for a, b in lines]
    plan = _plan_of(quiet, _single_lines(at) if one_line else strips_of(at), one_line)
    areas = sorted(shape.area for shape in closed_by(plan.runs))
    if not areas:
        return False
    middle = float(areas[len(areas) // 2])
    return 35 * 144.0 <= middle <= 600 * 144.0


@dataclass(frozen=True, slots=True)
class Plan:
    """The walls and marks of a plan; ``one_line`` where its walls are drawn as single lines."""

    runs: tuple[Run, ...]
    marks: tuple[Mark, ...]
    one_line: bool = False


def plan_of(reading: Reading, lines: list[tuple[Point, Point]]) -> Plan:
    """The walls of a drawing with their breaks, and the marks of its openings, in inches."""
    at = [(reading.at(a), reading.at(b)) for a, b in lines]
    at = [line for line in at if math.dist(*line) <= _LONGEST_IN]
    plan = _plan_of(reading, strips_of(at), False)
    if closed_by(plan.runs):
        return plan
    # Nothing is closed by pairs: a sketch of one line a wall closes rooms by its single lines.
    single = _plan_of(reading, _single_lines(at), True)
    return single if len(closed_by(single.runs)) > 0 else plan


def _single_lines(lines: list[tuple[Point, Point]]) -> list[Strip]:
    """Every line long enough for a wall as the middle of one; lines that lie on each other once."""
    found: list[Strip] = []
    for a, b in sorted(lines, key=lambda s: (-math.dist(*s), s)):
        if math.dist(a, b) < _LEAST_LINE_IN:
            continue
        strip = Strip(a, b, ONE_LINE_IN)
        doubled = False
        for other in found:
            (s0, l0), (s1, l1) = other.place(a), other.place(b)
            if max(abs(l0), abs(l1)) < 1.0 and min(s0, s1) > -1.0 and max(s0, s1) < other.length_in + 1.0:
                doubled = True
                break
        if not doubled:
            found.append(strip)
        if len(found) > _MOST_LINES:
            return []
    return found


def _plan_of(reading: Reading, strips: list[Strip], one_line: bool) -> Plan:
    marks = marks_of(reading, strips)

    def bridged(gap: Strip) -> bool:
        if any(covers(gap, m) for m in marks):
            return at_most(gap.length_in, MARK_IN[1])
        free = not any(meets(gap.start, s, gap) or meets(gap.end, s, gap) for s in strips)
        return free and at_most(_BRIDGED_IN[0], gap.length_in) and at_most(gap.length_in, _BRIDGED_IN[1])

    runs = runs_of(strips, bridged)
    return Plan(tuple(reached(runs, marks)), tuple(marks), one_line)


def _to_far_face(point: Point, own: Strip, runs: Sequence[Run]) -> float:
    """How far a wall's end is from the far face of the wall it meets, so that corners are filled [in]."""
    met = [r.strip for r in runs if r.strip is not own and meets(point, r.strip, own)]
    return max((abs(s.place(point)[1]) + s.thickness_in / 2 for s in met), default=0.0)


def closed_by(runs: Sequence[Run]) -> list[Any]:
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
