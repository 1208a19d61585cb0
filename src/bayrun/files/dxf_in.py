"""DXF drawing to neutral shell: lines, arcs, symbols and texts of a plan as walls, openings, rooms.

A plan has no heights, no doors that know their wall and often no honest unit. Walls are found by layer names
and, where those tell nothing, by geometry alone; openings by door and window symbols, by the swing of a leaf
and by breaks in the faces; rooms by what the walls close, named by the texts inside. All of it is told.

Source: DXF reference for entities and header (from memory: verify); the rest is common practice, no source.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

from bayrun.files.dxf_marks import Reading
from bayrun.files.dxf_open import Drawing, open_dxf
from bayrun.files.dxf_rooms import DOOR_HEAD_IN, WINDOW_SILL_IN, openings_of, spaces_of
from bayrun.files.dxf_units import ONE_LINE_IN, Plan, plan_of, scale_of, wall_lines
from bayrun.files.shell import ImportRefused, Shell, ShellLevel, ShellTrace, ShellWall
from bayrun.files.shell_guess import kind_of_name
from bayrun.rules.words import count_of
from bayrun.units import feet_and_inches, tape

WALL_HEIGHT_IN = 97.125
"""Stated where a plan has no heights: 8 ft walls of precut studs with three plates (common practice, no
source) [in]."""
_PLANS_APART_IN = 120.0
_MOST_TRACES, _MOST_LOOKED_AT = 4_000, 40_000


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
    return shell_of_drawing(open_dxf(Path(path)), "architect's drawing (DXF file)", unit, drawing_number)


def shell_of_drawing(
    drawing: Drawing, source: str, unit: str = "", drawing_number: int = 0, per_unit_in: float = 0.0
) -> Shell:
    """Lines, arcs, symbols and texts of one plan as a shell of one level.

    Args:
        drawing: Taken apart, in its own units.
        source: What it is, for a person.
        unit: What a person says the drawing's unit is; empty: judged.
        drawing_number: Which drawing of the sheet is the plan, as the notes number them; 0: judged.
        per_unit_in: Inches in a drawing unit, where they are known; 0: by ``unit`` or judged.
    Raises:
        ImportRefused: It has no walls, or no unit; the message says what to do.
    """
    reading = Reading(drawing, unit_said=unit, number_said=drawing_number, per_unit_in=per_unit_in)
    if drawing.prefixed:
        reading.tell(
            "read",
            f"{len(drawing.prefixed)} layers carry the name of an xref before their own: read by their own",
            len(drawing.prefixed),
            sorted(drawing.prefixed),
        )
    try:
        return _read(reading, source)
    except (ImportRefused, MemoryError):
        raise
    except Exception as error:
        # Whatever breaks inside geometry of a damaged file, a person gets one sentence.
        raise ImportRefused(
            f"{drawing.name}: expected a floor plan that holds together, got lines that contradict "
            f"themselves ({type(error).__name__}); save it again"
        ) from None


def _read(reading: Reading, source: str) -> Shell:
    drawing = reading.drawing
    lines = wall_lines(reading)
    reading.scale = scale_of(reading, lines)
    plan = plan_of(reading, lines)
    if plan.one_line:
        reading.tell(
            "assumed",
            f"walls are drawn as single lines: each line is taken as the middle of a wall "
            f"{tape(ONE_LINE_IN)} thick; measure one of each kind at a jamb",
            len(plan.runs),
        )
    if not plan.runs:
        raise ImportRefused(
            f"{drawing.name}: expected walls drawn as two lines 3 to 14 in apart, found none among "
            f"{len(drawing.segments)} lines; draw the floor plan in the model space, or put its walls on a "
            "layer named WALL"
        )
    plan = _one_plan(reading, plan)
    return _shell(reading, plan, source)


def _one_plan(reading: Reading, plan: Plan) -> Plan:
    """Of several drawings on one sheet, the one with most room texts, then most walls."""
    from shapely.geometry import LineString, Polygon
    from shapely.geometry import Point as Dot
    from shapely.ops import unary_union

    grown = unary_union(
        [LineString((r.strip.start, r.strip.end)).buffer(_PLANS_APART_IN / 2) for r in plan.runs]
    )
    # A room's name stands far from its walls: what the walls surround belongs to the drawing.
    parts = sorted((Polygon(g.exterior) for g in getattr(grown, "geoms", [grown])), key=lambda g: g.bounds)
    if len(parts) == 1:
        return plan

    def worth(part: Any) -> tuple[int, float]:
        texts = sum(part.contains(Dot(reading.at(w.at))) and kind_of_name(w.says, 1e6)[1]
                    for w in reading.drawing.words)  # fmt: skip
        walls = sum(r.strip.length_in for r in plan.runs if part.contains(Dot(r.strip.start)))
        return texts, walls

    best = max(range(len(parts)), key=lambda i: (*worth(parts[i]), -i))
    if reading.number_said > len(parts):
        raise ImportRefused(
            f"{reading.drawing.name}: expected drawing 1 to {len(parts)}, got {reading.number_said}; the "
            f"sheet holds {len(parts)} drawings apart from each other"
        )
    taken = reading.number_said - 1 if reading.number_said else best
    listed = [_size_of(i, part, *worth(part)) for i, part in enumerate(parts, 1)]
    how = "as you said" if reading.number_said else "the one with most room names and walls"
    reading.tell(
        "left out",
        f"the sheet holds {len(parts)} drawings apart from each other: drawing {taken + 1} is taken, {how}; "
        "the others are left out. Another one is read with --drawing and its number",
        len(parts) - 1,
        listed,
    )
    part = parts[taken]
    return Plan(
        tuple(r for r in plan.runs if part.contains(Dot(r.strip.start))),
        tuple(m for m in plan.marks if part.contains(Dot(m.ends[0]))),
        plan.one_line,
    )


def _size_of(number: int, part: Any, texts: int, walls_in: float) -> str:
    """One drawing of a sheet in words: its number, its size, what it has."""
    x0, y0, x1, y1 = part.bounds
    wide, deep = (feet_and_inches(round(v - _PLANS_APART_IN)) for v in (x1 - x0, y1 - y0))
    return f"{number}: {wide} by {deep}, {count_of(texts, 'room name')}, {walls_in / 12:,.0f} ft of wall"


def _shell(reading: Reading, plan: Plan, source: str) -> Shell:
    level = "Level 1"
    walls = tuple(
        ShellWall(
            f"W{i}", f"wall {'of one line' if plan.one_line else tape(r.strip.thickness_in)}", level,
            r.strip.start, r.strip.end, r.strip.thickness_in, WALL_HEIGHT_IN, 0.0,
            r.strip.thickness_in, "other",
            r.strip.thickness_in / 2, r.strip.thickness_in / 2, None, None, None, (), "wall", "body", "",
        )
        for i, r in enumerate(plan.runs, 1)
    )  # fmt: skip
    openings = openings_of(reading, plan, walls)
    spaces = spaces_of(reading, plan, level)
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
    traces = (*reading.lost, *_drawn(reading, plan, level))
    return Shell(source, levels, walls, openings, spaces, (), (), tuple(reading.notes), traces)


def _drawn(reading: Reading, plan: Plan, level: str) -> tuple[ShellTrace, ...]:
    """Lines around the plan that became no wall, for the picture: the longest ones, in the file's order."""
    ends = [p for r in plan.runs for p in (r.strip.start, r.strip.end)]
    x0, y0 = min(p[0] for p in ends) - 24.0, min(p[1] for p in ends) - 24.0
    x1, y1 = max(p[0] for p in ends) + 24.0, max(p[1] for p in ends) + 24.0
    near: list[tuple[tuple[float, float], tuple[float, float]]] = []
    if len(reading.drawing.segments) > _MOST_LOOKED_AT:
        return ()
    for segment in reading.drawing.segments:
        a, b = reading.at(segment.a), reading.at(segment.b)
        inside = all(x0 <= p[0] <= x1 and y0 <= p[1] <= y1 for p in (a, b))
        if not inside or math.dist(a, b) < 2.0 or _on_wall(plan, a, b):
            continue
        near.append((a, b))
    if len(near) > _MOST_TRACES:
        least = sorted((math.dist(a, b) for a, b in near), reverse=True)[_MOST_TRACES]
        near = [(a, b) for a, b in near if math.dist(a, b) > least]
    return tuple(ShellTrace(level, "drawn", line) for line in near)


def _on_wall(plan: Plan, a: tuple[float, float], b: tuple[float, float]) -> bool:
    for run in plan.runs:
        (s0, l0), (s1, l1) = run.strip.place(a), run.strip.place(b)
        wide = run.strip.thickness_in / 2 + 0.5
        if max(abs(l0), abs(l1)) <= wide and min(s0, s1) > -8.0 and max(s0, s1) < run.strip.length_in + 8.0:
            return True
    return False
