"""Openings of a drawn plan: symbols, swings of leaves, window lines, and the walls carried over them."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from bayrun.files.dxf_open import DOOR, WINDOW, Drawing
from bayrun.files.dxf_walls import Run, Strip
from bayrun.files.shell import NoteKind, OpeningKind, Point, ShellNote, ShellTrace
from bayrun.geometry import at_most

NEVER_WALL = re.compile(
    r"dim|text|note|anno|furn|equip|grid|hatch|patt|title|border|stair|plumb|fixt|sanit|appl|case|cabin|floor|ceil|"
    r"elec|light|ligh|hvac|mech|site|land|roof|defpoints|symb|iden|tile|room|area|viewport|vport",
    re.I,
)
MARK_IN = (16.0, 240.0)
NEAR_IN = 3.0


@dataclass(frozen=True, slots=True)
class Mark:
    """Something in the plan that is an opening: its ends in plan and what it tells [in]."""

    kind: OpeningKind
    name: str
    ends: tuple[Point, Point]
    hinge: Point | None = None
    leaf: Point | None = None


@dataclass(slots=True)
class Reading:
    """One drawing while it is read: its scale, what a person said of it, and what is told of it."""

    drawing: Drawing
    scale: float = 1.0
    unit_said: str = ""
    number_said: int = 0
    per_unit_in: float = 0.0
    notes: list[ShellNote] = field(default_factory=list)
    lost: list[ShellTrace] = field(default_factory=list)

    def tell(self, kind: NoteKind, text: str, count: int = 1, names: Sequence[str] = ()) -> None:
        """One more note; a long list of names is cut."""
        once = sorted(set(names))
        listed = (*once[:8], f"and {len(once) - 8} more") if len(once) > 8 else tuple(once)
        self.notes.append(ShellNote(kind, text, count, listed))

    def at(self, p: Point) -> Point:
        """A point of the drawing in inches."""
        return p[0] * self.scale, p[1] * self.scale


def covers(gap: Strip, mark: Mark) -> bool:
    """True where a mark lies in a break of a wall."""
    places = [gap.place(p) for p in mark.ends]
    middle = (places[0][0] + places[1][0]) / 2
    left = max(abs(p[1]) for p in places)
    return -NEAR_IN < middle < gap.length_in + NEAR_IN and left <= gap.thickness_in / 2 + NEAR_IN


def meets(point: Point, other: Strip, own: Strip) -> bool:
    """True where a point lies at a wall that runs across."""
    (dx, dy), (ox, oy) = own.direction, other.direction
    if abs(dx * oy - dy * ox) < 0.2:
        return False
    along, left = other.place(point)
    # At a corner the other wall's faces end at this one's: half a thickness short of its center line.
    reach = own.thickness_in / 2 + 1.5
    beside = at_most(abs(left), other.thickness_in / 2 + 1.5)
    return beside and at_most(-reach, along) and at_most(along, other.length_in + reach)


def marks_of(reading: Reading, strips: Sequence[Strip]) -> list[Mark]:
    """Doors and windows of the plan: symbols first, loose swings and window lines after."""
    drawing = reading.drawing
    marks: list[Mark] = []
    loose = list(drawing.swings)
    for symbol in drawing.symbols:
        if symbol.kind == "door" and symbol.swings:
            marks.extend(_swing_mark(reading, s, strips, symbol.name) for s in symbol.swings)
        else:
            points = [reading.at(p) for p in symbol.points]
            marks.append(
                Mark("door" if symbol.kind == "door" else "window", symbol.name, _longest(points, strips))
            )
    for swing in loose:
        if NEVER_WALL.search(swing.layer) and not DOOR.search(swing.layer):
            continue
        if 16.0 <= swing.radius * reading.scale <= 60.0:
            marks.append(_swing_mark(reading, swing, strips, "door by its swing"))
    panes = [(reading.at(s.a), reading.at(s.b)) for s in drawing.segments if WINDOW.search(s.layer)]
    marks += [Mark("window", "window by its lines", ends) for ends in _pane_ends(panes)]
    return [m for m in marks if MARK_IN[0] <= math.dist(*m.ends) <= MARK_IN[1]]


def _swing_mark(reading: Reading, swing: Any, strips: Sequence[Strip], name: str) -> Mark:
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
                if miss <= NEAR_IN:
                    best = min(best, max(0.0, miss) + apart)
                    covered += max(0.0, min(max(a, b), s.length_in) - max(min(a, b), 0.0))
        # In a corner both ends lie along a wall: the leaf closes the wall that has the break.
        return round(best, 1), round(covered, 1)

    shut, leaf = sorted(ends, key=lambda e: (*off_wall(e), e))
    return Mark("door", name, (hinge, shut), hinge, leaf)


def _longest(points: Sequence[Point], strips: Sequence[Strip]) -> tuple[Point, Point]:
    """The ends of a symbol along the wall it lies on: the extent of its points on that wall's line."""
    best: tuple[float, float, tuple[Point, Point]] | None = None
    for s in strips:
        on = [along for along, left in map(s.place, points) if abs(left) <= s.thickness_in / 2 + NEAR_IN]
        if not on or max(on) - min(on) < MARK_IN[0]:
            continue
        low, high = min(on), max(on)
        apart = max(-high, low - s.length_in, 0.0)
        if apart <= MARK_IN[0]:
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


def reached(runs: list[Run], marks: Sequence[Mark]) -> list[Run]:
    """A door beside a corner leaves no wall past it: the wall is carried over the door to the next wall."""
    made = list(runs)
    for mark in marks:
        if any(covers(r.strip, mark) for r in made):
            continue
        for i, run in enumerate(made):
            strip = run.strip
            places = [strip.place(p) for p in mark.ends]
            if max(abs(p[1]) for p in places) > strip.thickness_in / 2 + NEAR_IN:
                continue
            low, high = sorted(p[0] for p in places)
            if at_most(-NEAR_IN, low - strip.length_in) and at_most(low - strip.length_in, 12.0 - NEAR_IN):
                far = _across(strip.at(high), strip, made, 1.0)
                gap = (strip.length_in, high)
                made[i] = Run(replace(strip, end=strip.at(high + far)), (*run.gaps, gap))
                break
            if at_most(-NEAR_IN, -high) and at_most(-high, 12.0 - NEAR_IN):
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
        if any(meets(spot, r.strip, strip) for r in runs if r.strip != strip):
            best = float(step)
            break
    return best
