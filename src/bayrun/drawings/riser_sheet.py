"""The riser diagram: levels one over the other, the enclosure, how many cables pass each floor, what each
room gets.

A diagram, not to scale: places and ways stand on the plans. Counts at the floors are of the planned ways, so
a run that reaches its own level by the attic counts in the attic.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from bayrun.drawings.bundles import count_words
from bayrun.drawings.panel import Row, flow, wrap
from bayrun.drawings.plan_sheet import weight_mm
from bayrun.drawings.scene import (
    Element,
    Line,
    Polyline,
    Scene,
    Text,
    plain_text,
    rectangle,
    text_width_pt,
)
from bayrun.drawings.sheets import Sheet
from bayrun.drawings.style import INK, LEAST_PT, PAPER, TABLOID, Scale
from bayrun.enclosure.entries import at_box, at_start, natural
from bayrun.enclosure.ports import room_order
from bayrun.geometry import Rect, below
from bayrun.house import Enclosure, Job, Level, plate_top_z_in
from bayrun.rules.words import level_name
from bayrun.wiring import Run, Wiring

NO_SCALE = Scale("none: a diagram", 1.0)
CAUTION = "A diagram for counting: ways, holes and heights stand on the plans and the drill list."
_LINE_IN, _GAP_IN, _BUS_IN = 0.155, 0.12, 0.34
"""A line of words, a gap, and what a bus with its counts takes over a row of rooms [in of paper]."""
_SPINE_IN, _NAME_IN = 2.55, 0.1
"""Where the spine stands from the left; what stands left of it is the enclosure and the names of levels
[in]."""
_LEAST_ROOM_IN = 1.95


@dataclass(frozen=True, slots=True)
class _Room:
    """A room, or a device that stands in none, with the runs that end there."""

    name: str
    lines: tuple[str, ...]
    runs: tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class _Band:
    """One level with its rows of rooms, and how high it is [in of paper]."""

    level: Level
    rows: tuple[tuple[_Room, ...], ...]
    heights: tuple[float, ...]

    @property
    def height_in(self) -> float:
        """Height of the band on paper [in]."""
        return 0.3 + sum(h + _BUS_IN + _GAP_IN for h in self.heights)


def riser_sheets(job: Job, wiring: Wiring) -> tuple[Sheet, ...]:
    """A riser diagram for every enclosure that is built and has runs."""
    made: list[Sheet] = []
    for box in job.built_enclosures:
        sheet = riser_sheet(job, wiring, box)
        if sheet is not None:
            made.append(sheet if not made else replace(sheet, name=f"{sheet.name}-{len(made) + 1}"))
    return tuple(made)


def riser_sheet(job: Job, wiring: Wiring, box: Enclosure) -> Sheet | None:
    """The riser of one enclosure; None where no run ends in it."""
    runs = tuple(run for run in wiring.runs if at_box(job, run, box))
    if not runs:
        return None
    page = Rect(0.0, 0.0, TABLOID.body_width_in, TABLOID.body_height_in)
    for columns in (5, 6, 7, 8):
        wide = (page.u1 - _SPINE_IN - 0.35) / columns
        if wide < _LEAST_ROOM_IN - 0.4:
            break
        bands = _bands(job, box, runs, columns, wide)
        if sum(band.height_in for band in bands) < page.v1 - 0.75:
            break
    over: tuple[str, ...] = ()
    while sum(band.height_in for band in bands) > page.v1 - 0.75:
        bands, left = _shorter(bands)
        over = (*over, left)
    elements = _drawn(job, box, runs, bands, page, wide)
    low = page.v1 - 0.42 - sum(band.height_in for band in bands) - 0.2
    elsewhere = len(wiring.runs) - len(runs)
    if low > page.v0 + 0.6:
        columns_at = tuple(Rect(page.u0 + i * 5.4, page.v0, page.u0 + i * 5.4 + 5.2, low) for i in range(3))
        more, rest = flow(_other_rows(job, wiring, box), columns_at, 1.0)
        elements += more
    else:
        rest = tuple(_other_rows(job, wiring, box))
    over = (*over, *(row.words for row in rest if not row.heading))
    name = f"{box.id}, {box.room}"
    heading = f"{len(runs)} runs of {box.id} by level: {count_words(runs)}"
    if elsewhere:
        heading += f"; {elsewhere} more go elsewhere"
    says = f"Riser diagram of enclosure {box.id}: levels, rooms and counts of cables"
    scene = Scene("riser", page, 1.0, tuple(elements), says)
    return Sheet(scene.name, "riser", name, heading, scene, NO_SCALE, CAUTION, TABLOID, over)


def _far_end(job: Job, run: Run, box: Enclosure) -> tuple[str, str, str]:
    """(level, room, id or words) of the other end of a run of the box."""
    end = run.to_end if at_start(job, run, box) else run.from_end
    location = next((q for q in job.locations if q.id == end.id), None)
    if location is not None:
        return location.level, location.room, location.id
    gear = next((g for g in job.gear if g.id == end.id), None)
    if gear is not None and gear.level:
        return gear.level, gear.room, gear.what
    other = next((e for e in job.enclosures if e.id == end.id), box)
    return other.level, other.room, end.id


def _bands(job: Job, box: Enclosure, runs: tuple[Run, ...], columns: int, wide: float) -> list[_Band]:
    """Levels from the top down, with their rooms in the order of the plan."""
    held: dict[tuple[str, str], dict[str, list[Run]]] = {}
    for run in runs:
        on, room, name = _far_end(job, run, box)
        held.setdefault((on, room), {}).setdefault(name, []).append(run)
    order = room_order(job)
    bands = []
    for level in sorted(job.levels, key=lambda one: -one.subfloor_z_in):
        rooms = []
        keys = sorted((k for k in held if k[0] == level.id), key=lambda k: (order.get(k, len(order)), k[1]))
        for key in keys:
            names = sorted(held[key], key=natural)
            words = "; ".join(f"{name} {count_words(held[key][name])}" for name in names)
            all_runs = tuple(run for name in names for run in held[key][name])
            lines = wrap(words, wide - 0.3, LEAST_PT)
            rooms.append(_Room(key[1] or "outside", lines, all_runs))
        rows = tuple(tuple(rooms[i : i + columns]) for i in range(0, len(rooms), columns))
        heights = tuple(0.26 + _LINE_IN * max(_head(r, wide) + len(r.lines) for r in row) for row in rows)
        if rows or level.id == box.level:
            bands.append(_Band(level, rows, heights or (0.5,)))
    return bands


def _head(room: _Room, wide: float) -> int:
    return len(wrap(room.name, wide - 0.3, LEAST_PT, bold=True))


def _shorter(bands: list[_Band]) -> tuple[list[_Band], str]:
    """The bands without the longest row of rooms; its rooms become words of the list behind the sheet."""
    index = max(range(len(bands)), key=lambda i: (len(bands[i].rows), -i))
    band = bands[index]
    last = band.rows[-1]
    words = "; ".join(f"{room.name}: {' '.join(room.lines)}" for room in last)
    made = _Band(band.level, band.rows[:-1], band.heights[:-1])
    return [*bands[:index], made, *bands[index + 1 :]], words


def _other_rows(job: Job, wiring: Wiring, box: Enclosure) -> list[Row]:
    """Runs that end in no or another box, conduits, and the bays kept as risers."""
    kinds = {run.kind for run in wiring.runs}
    rows = [Row("Key", heading=True), Row("A line stands for all cables of its stretch, wider where many.")]
    rows += [Row(kind.name, lead=kind.letter) for kind in job.practice.cables if kind.letter in kinds]
    others = [run for run in wiring.runs if not at_box(job, run, box)]
    if others:
        rows.append(Row("Not from this box", heading=True))
    for run in others:
        ends = " to ".join(_end_words(job, end.type, end.id) for end in (run.from_end, run.to_end))
        rows.append(Row(f"{ends}, {_kind_name(job, run.kind)}"))
    if job.conduits:
        rows.append(Row("Conduits and sleeves", heading=True))
    for conduit in job.conduits:
        rows.append(Row(f"{conduit.id}: {conduit.size}, {conduit.from_place} to {conduit.to_place}"))
    if job.risers:
        rows.append(Row("Bays kept as risers", heading=True))
    for riser in job.risers:
        rows.append(Row(f"{riser.id}: {riser.what}"))
    return rows


def _kind_name(job: Job, letter: str) -> str:
    return next((kind.name for kind in job.practice.cables if kind.letter == letter), letter)


def _end_words(job: Job, kind: str, name: str) -> str:
    location = next((q for q in job.locations if q.id == name), None)
    if location is not None:
        return f"{name} in {location.room}"
    gear = next((g for g in job.gear if g.id == name), None)
    return gear.what if gear is not None else f"enclosure {name}" if kind == "enclosure" else name


def _crossing(job: Job, runs: tuple[Run, ...], z_in: float) -> list[Run]:
    """Runs whose planned way passes a height, to come to the other side of it."""
    return [
        run
        for run in runs
        if any(below(p.z, z_in) for p in run.path) and any(below(z_in, p.z) for p in run.path)
    ]


def _drawn(
    job: Job, box: Enclosure, runs: tuple[Run, ...], bands: list[_Band], page: Rect, wide: float
) -> list[Element]:
    made: list[Element] = []
    top = page.v1 - 0.42
    spine = page.u0 + _SPINE_IN
    buses: list[tuple[float, int]] = []
    y = top
    highest = bands[0].level
    overhead = _crossing(job, runs, plate_top_z_in(highest))
    attic = "attic or roof" if overhead else ""
    for number, band in enumerate(bands):
        made.append(Line("A-WALL", (page.u0, y), (page.u1, y), 0.35))
        name = level_name(job, band.level.id)
        made.append(Text("A-AREA-IDEN", (page.u0 + _NAME_IN, y - 0.2), _first(name), 11.0, bold=True))
        if number == 0 and overhead:
            words = f"{count_words(overhead)} pass over it, in the {attic}"
            made.append(Text("A-ANNO-TEXT", (spine + 0.1, y + 0.12), plain_text(words), halo=True))
        if number:
            passing = _crossing(job, runs, bands[number - 1].level.subfloor_z_in)
            if passing:
                words = f"{count_words(passing)} through this floor"
                made.append(Text("A-ANNO-TEXT", (spine + 0.12, y - 0.16), plain_text(words), halo=True))
        inner, at = _rows(band, spine, y, wide, page)
        made += inner
        buses += at
        if band.level.id == box.level:
            made += _box(box, runs, page, spine, y, band)
            buses.append((y - 0.75, 0))
        y -= band.height_in
    made.append(Line("A-WALL", (page.u0, y), (page.u1, y), 0.35))
    if overhead:
        buses.append((top + 0.02, 0))
    ends = [v for v, _ in buses]
    made.append(Line("T-CABL-BNDL", (spine, min(ends)), (spine, max(ends)), weight_mm(len(runs))))
    return made


def _first(text: str) -> str:
    return plain_text(f"{text[:1].upper()}{text[1:]}")


def _rows(
    band: _Band, spine: float, top: float, wide: float, page: Rect
) -> tuple[list[Element], list[tuple[float, int]]]:
    """The rooms of a band, each hanging on the bus of its row; where each bus meets the spine."""
    made: list[Element] = []
    buses: list[tuple[float, int]] = []
    y = top - 0.3
    for row, high in zip(band.rows, band.heights, strict=False):
        bus = y - 0.04
        count = sum(len(room.runs) for room in row)
        left = [spine + 0.3 + i * wide for i in range(len(row))]
        last = left[-1] + (wide - 0.15) / 2
        made.append(Line("T-CABL-BNDL", (spine, bus), (last, bus), weight_mm(count)))
        buses.append((bus, count))
        y -= _BUS_IN
        for room, x in zip(row, left, strict=True):
            middle = x + (wide - 0.15) / 2
            made.append(Line("T-CABL-BNDL", (middle, bus), (middle, y), weight_mm(len(room.runs))))
            words = plain_text(count_words(room.runs))
            made.append(Text("T-ANNO-IDEN", (middle + 0.07, y + 0.08), words, halo=True))
            made += _room(room, x, y, wide - 0.15, high)
        y -= high + _GAP_IN
    return made, buses


def _room(room: _Room, x: float, y: float, wide: float, high: float) -> list[Element]:
    heads = wrap(room.name, wide - 0.15, LEAST_PT, bold=True)
    tall = 0.2 + _LINE_IN * (len(heads) + len(room.lines))
    made: list[Element] = [
        Polyline("A-WALL-STUD", rectangle(x, y - tall, x + wide, y), closed=True, fill=PAPER)
    ]
    at = y - 0.16
    for line in heads:
        made.append(
            Text("A-AREA-IDEN", (x + 0.08, at), _fit(line, wide - 0.15, bold=True), LEAST_PT, bold=True)
        )
        at -= _LINE_IN
    for line in room.lines:
        made.append(Text("T-ANNO-IDEN", (x + 0.08, at), _fit(line, wide - 0.15), LEAST_PT))
        at -= _LINE_IN
    return made


def _fit(text: str, width: float, *, bold: bool = False) -> str:
    """A text that fits; a word too long for the box loses its end to three dots."""
    while len(text) > 4 and text_width_pt(text, LEAST_PT, bold=bold) > width * 72:
        text = text[:-4].rstrip() + "..."
    return text


def _box(
    box: Enclosure, runs: tuple[Run, ...], page: Rect, spine: float, top: float, band: _Band
) -> list[Element]:
    """The enclosure left of the spine, and its tie to it."""
    left, right = page.u0 + _NAME_IN, spine - 0.45
    high, low = top - 0.42, top - 1.08
    made: list[Element] = [
        Polyline("T-ENCL", rectangle(left, low, right, high), closed=True, fill=PAPER, weight_mm=0.7),
        Polyline("T-ENCL", rectangle(left, high - 0.08, right, high), closed=True, fill=INK),
        Line("T-CABL-BNDL", (right, top - 0.75), (spine, top - 0.75), weight_mm(len(runs))),
        Text(
            "T-ANNO-IDEN",
            (left + 0.08, high - 0.26),
            _fit(plain_text(box.id), right - left - 0.1, bold=True),
            bold=True,
        ),
    ]
    at = high - 0.42
    for line in wrap(f"{box.room}: {len(runs)} runs", right - left - 0.15, LEAST_PT)[:2]:
        made.append(Text("T-ANNO-IDEN", (left + 0.08, at), _fit(line, right - left - 0.1), LEAST_PT))
        at -= _LINE_IN
    return made
