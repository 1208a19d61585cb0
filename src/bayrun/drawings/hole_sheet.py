"""Every shared hole at true size: how its cables lie in it, what it holds, how full it is.

A bit laid on the paper covers its ring, or the printer has scaled the page.
"""

from __future__ import annotations

from dataclasses import dataclass

from bayrun.drawings.bundles import count_words
from bayrun.drawings.panel import wrap
from bayrun.drawings.plan_sheet import hole_order
from bayrun.drawings.scene import (
    Circle,
    Element,
    Line,
    Point,
    Polyline,
    Scene,
    Text,
    rectangle,
    text_width_pt,
)
from bayrun.drawings.sheets import Sheet
from bayrun.drawings.style import INK, LEAST_PT, TABLOID, Scale
from bayrun.geometry import Rect
from bayrun.house import Job
from bayrun.units import tape
from bayrun.wiring import Hole, Wiring

FULL_SIZE = Scale("full size", 1.0)
_WORDS = {"up": "plate", "along": "stud", "across": "joist"}
_LINE_IN = 0.155
_GAP_IN = 0.12
_WORDS_IN = 0.95
"""Height under each ring for its words [in]."""


@dataclass(frozen=True, slots=True)
class _Net:
    """How many cells a sheet takes, and how large each is [in]."""

    columns: int
    rows: int
    wide: float
    high: float


def shared_holes(wiring: Wiring) -> tuple[Hole, ...]:
    """Drilled holes with two runs or more, in the order of their ids."""
    found = [h for h in wiring.holes if len(h.occupants) > 1 and not h.open_passage]
    return tuple(sorted(found, key=lambda h: hole_order(h.id)))


def hole_sheets(job: Job, wiring: Wiring) -> tuple[Sheet, ...]:
    """Sheets of all shared holes; none where there is none."""
    holes = shared_holes(wiring)
    if not holes:
        return ()
    net = _net(max(h.diameter_in for h in holes))
    each = net.columns * net.rows
    parts = [holes[i : i + each] for i in range(0, len(holes), each)]
    sheets = []
    for number, part in enumerate(parts, 1):
        page = Rect(0.0, 0.0, TABLOID.body_width_in, TABLOID.body_height_in)
        elements: list[Element] = []
        for index, hole in enumerate(part):
            row, column = divmod(index, net.columns)
            corner = (column * net.wide, page.v1 - row * net.high)
            elements += _cell(job, wiring, hole, corner, net)
        elements += _ruler()
        says = f"Cross-sections at true size of the shared holes {part[0].id} to {part[-1].id}"
        scene = Scene(f"holes-{number}", page, 1.0, tuple(elements), says)
        holes_said = "1 shared hole" if len(holes) == 1 else f"{len(holes)} shared holes"
        sheets.append(
            Sheet(
                scene.name,
                "shared holes",
                f"{part[0].id} to {part[-1].id}" if len(part) > 1 else part[0].id,
                f"{holes_said} at true size: lay the bit on its ring before you trust the print",
                scene,
                FULL_SIZE,
                f"No hole is filled beyond {job.practice.fill_max:.0%} of its area: "
                "more may fit, but cannot be pulled.",
            )
        )
    return tuple(sheets)


def _net(largest: float) -> _Net:
    wide, high = max(1.62, largest + 2 * _GAP_IN), largest + 0.3 + _WORDS_IN + _GAP_IN
    columns = int((TABLOID.body_width_in + 1e-9) // wide)
    rows = max(1, int((TABLOID.body_height_in - 0.35) // high))
    return _Net(columns, rows, TABLOID.body_width_in / columns, high)


def _cell(job: Job, wiring: Wiring, hole: Hole, corner: Point, net: _Net) -> list[Element]:
    x, top = corner[0] + net.wide / 2, corner[1]
    radius = hole.diameter_in / 2
    room_for_ring = net.high - 0.3 - _WORDS_IN - _GAP_IN
    middle = (x, top - 0.3 - room_for_ring / 2)
    out: list[Element] = [Text("T-ANNO-IDEN", (x, top - 0.17), hole.id, 13.0, "center", bold=True)]
    out.append(Circle("T-HOLE", middle, radius, weight_mm=0.5))
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        near = (middle[0] + dx * (radius + 0.02), middle[1] + dy * (radius + 0.02))
        far = (middle[0] + dx * (radius + 0.07), middle[1] + dy * (radius + 0.07))
        out.append(Line("A-ANNO-DIMS", near, far))
    runs = {run.id: run for run in wiring.runs}
    for occupant, circle in zip(hole.occupants, hole.circles, strict=False):
        at = (middle[0] + circle.x, middle[1] + circle.y)
        out.append(Circle("T-CABL-SNGL", at, circle.r, weight_mm=0.18))
        kind = runs[occupant].kind if occupant in runs else ""
        if kind and text_width_pt(kind, LEAST_PT) / 72 < 1.3 * circle.r and circle.r > 0.08:
            out.append(Text("T-ANNO-IDEN", (at[0], at[1] - 0.044), kind, LEAST_PT, "center"))
    held = [runs[i] for i in hole.occupants if i in runs]
    full = sum((2 * c.r) ** 2 for c in hole.circles) / hole.diameter_in**2
    words = (f"{tape(hole.diameter_in)} bit, {full:.0%} full", count_words(held), _place(hole))
    y = top - net.high + _WORDS_IN + _GAP_IN - _LINE_IN
    for text in words:
        for line in wrap(text, net.wide - 0.1, LEAST_PT)[:3]:
            out.append(Text("A-ANNO-TEXT", (x, y), line, LEAST_PT, "center"))
            y -= _LINE_IN
    return out


def _place(hole: Hole) -> str:
    level = f", level {hole.level}" if hole.level else ""
    return f"{hole.room or 'open space'}{level}, {_WORDS[hole.axis]}"


def _ruler() -> list[Element]:
    out: list[Element] = []
    for i in range(4):
        corners = rectangle(0.05 + i * 0.5, 0.06, 0.05 + (i + 1) * 0.5, 0.12)
        out.append(Polyline("A-ANNO-SYMB", corners, True, INK if i % 2 == 0 else None, 0.18))
    out.append(Text("A-ANNO-SYMB", (2.15, 0.06), "this bar is 2 inches on paper and in the wood"))
    return out
