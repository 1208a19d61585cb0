"""Radio on a plain plan: lines of equal signal with their dBm, the doubt around the wanted line drawn.

One sheet a level, in the band a room is called dark by. The wanted line is thick, each other line 6 dB
from the next: one step is the uncertainty. Spots within that doubt are dotted, spots that fall short beyond
it carry a cross. All of it reads in black and white.
"""

from __future__ import annotations

import itertools
import math

from bayrun.cables.ranges import Verdict
from bayrun.drawings import building
from bayrun.drawings.panel import Row, flow
from bayrun.drawings.place_labels import Label, Placement
from bayrun.drawings.plan_sheet import fit_plan, plan_foot, room_labels
from bayrun.drawings.scene import (
    Circle,
    Element,
    Hatch,
    Line,
    Point,
    Polyline,
    Scene,
    Text,
    bounds,
    element_points,
    rectangle,
)
from bayrun.drawings.sheets import Sheet
from bayrun.drawings.style import INK, TABLOID, TABLOID_UPRIGHT
from bayrun.framing.records import Frame
from bayrun.house import Job, Level
from bayrun.radio.contours import contour, smoothed
from bayrun.radio.coverage import Band, Coverage, Net, coverage, deciding_band, sender_spread_db
from bayrun.radio.screens import screens
from bayrun.radio.senders import above_enclosure, access_points, enclosure_sender, metal_words

CAUTION = "Computed, about 6 dB either way: measure after the board is up before anybody relies on it."
_MARK_IN = 0.1
_STEP_DB = 6.0
_DOT_EVERY_IN = 0.11
"""Pitch of the dots of doubt [in of paper]."""
_VERDICTS = {Verdict.HOLDS: "holds", Verdict.CANNOT_TELL: "measure", Verdict.FAILS: "dark"}


def coverage_sheets(job: Job, frame: Frame) -> tuple[Sheet, ...]:
    """A sheet for each level; none where the house has neither access point nor enclosure.

    Without any access point the radio is taken to be in the enclosure, and every sheet says so.
    """
    senders = access_points(job)
    boxed = enclosure_sender(job)
    if not senders:
        if boxed is None:
            return ()
        senders = (boxed,)
    found = coverage(job, senders)
    notes = _notes(job, found)
    ordered = sorted(job.levels, key=lambda level: level.subfloor_z_in)
    held = {net.level: number for number, net in enumerate(found.nets)}
    return tuple(
        _sheet(job, frame, level, found, held[level.id], notes) for level in ordered if level.id in held
    )


def _band(found: Coverage) -> tuple[int, Band]:
    name = deciding_band()
    return next((n, band) for n, band in enumerate(found.bands) if band.name == name)


def _spread(found: Coverage) -> float:
    return max(sender_spread_db(sender) for sender in found.senders)


def _notes(job: Job, found: Coverage) -> tuple[str, ...]:
    """What every sheet says of the whole house: radio in the box, metal near, how sure it is."""
    _, band = _band(found)
    spread = _spread(found)
    notes = [
        (
            f"Each figure is good to about {spread:.2g} dB either way: furniture, people, studs, reflections "
            "are not on the plan. Doors are taken as shut, glass as bare of metal."
        ),
        (
            f"A phone, the weaker side, is taken to send {band.eirp_dbm:g} dBm in {band.name}; "
            f"{band.wanted_dbm:g} dBm is what video and voice want (common practice, no source)."
        ),
    ]
    boxed, ceiling = enclosure_sender(job), above_enclosure(job)
    if boxed is not None and ceiling is not None:
        inside, outside = (coverage(job, (one,), (band,), 24.0) for one in (boxed, ceiling))
        told = [
            f"{sum(s.verdict is Verdict.HOLDS for s in c.rooms)} of {len(c.rooms)} rooms"
            for c in (inside, outside)
        ]
        loss = boxed.box_db
        notes.append(
            f"One radio alone in {boxed.id} with its metal door shut holds in {told[0]}, the same on "
            f"the ceiling before it in {told[1]}: the closed box takes {loss:g} dB and more. Keep radios out."
        )
    for sender in found.senders:
        metal = metal_words(job, sender)
        if metal and not sender.box_db:
            notes.append(f"Metal near {sender.id}: {metal}. Move it clear where that can be done.")
    return tuple(notes)


def _sheet(
    job: Job, frame: Frame, level: Level, found: Coverage, number: int, notes: tuple[str, ...]
) -> Sheet:
    which, band = _band(found)
    net, values = found.nets[number], found.levels_dbm[number][which]
    plain = _plain(job, frame, level)
    points = [p for element in plain for p in element_points(element)]
    points += [(s.x_in, s.y_in) for s in found.senders if _on(job, level, s.z_in)]
    extent = bounds(points)
    paper = min((TABLOID, TABLOID_UPRIGHT), key=lambda p: fit_plan(extent, p).scale.per_paper_in)
    place = fit_plan(extent, paper)
    k = place.scale.per_paper_in
    spread = _spread(found)
    doubt, crosses = _doubt(net, values, band, spread, k)
    lines, numbers, used = _lines(net, smoothed(net, values), band, spread, k)
    senders = [s for s in found.senders if _on(job, level, s.z_in)]
    marks: list[Element] = []
    for sender in senders:
        at, r = (sender.x_in, sender.y_in), _MARK_IN * 0.8 * k
        marks.append(Circle("T-LOCN", at, r, "#ffffff", 0.35))
        marks.append(Circle("T-LOCN", at, r / 2, INK, 0.18))
    drawn = [*plain, *lines, *marks]
    labels = [
        Label(s.id, f"radio in {s.id}" if s.box_db else f"{s.id} access point", (s.x_in, s.y_in),
              _MARK_IN * k, bold=True, rank=0, size_pt=10.0)
        for s in senders
    ]  # fmt: skip
    labels += [*room_labels(job, level), *numbers]
    placed = Placement(k, place.draw, drawn).place(labels)
    rows = _rows(job, level, found, band, placed.table, used, bool(doubt), bool(crosses), notes)
    key, over = flow(rows, place.columns, k)
    texts = [e for e in placed.elements if isinstance(e, Text)]
    doubt = _clear_of(doubt, texts, k)
    crosses = _clear_of(crosses, texts, k)
    elements = [*plain, *doubt, *crosses, *lines, *marks, *placed.elements, *key, *plan_foot(place)]
    mine = [s for s in found.rooms if s.level == level.id and s.band == band.name]
    holds = sum(s.verdict is Verdict.HOLDS for s in mine)
    dark = [s.room for s in mine if s.verdict is Verdict.FAILS]
    told = f"dark: {', '.join(dark[:4])}{' …' if len(dark) > 4 else ''}" if dark else "no room is dark"
    heading = (
        f"Level {level.id}, {band.name}: {holds} of {len(mine)} rooms hold {band.wanted_dbm:g} dBm, {told}"
    )
    scene = Scene(
        f"radio-{level.id}", place.frame, k, tuple(elements),
        f"Radio signal of level {level.id} in {band.name}: lines of equal level every 6 dB, {heading}",
    )  # fmt: skip
    return Sheet(
        scene.name, "radio coverage", f"level {level.id}", heading, scene, place.scale, CAUTION, paper,
        tuple(row.words for row in over),
    )  # fmt: skip


def _on(job: Job, level: Level, z_in: float) -> bool:
    return building.level_of(job, z_in).id == level.id


def _plain(job: Job, frame: Frame, level: Level) -> list[Element]:
    """Walls, openings and stairs without studs; metal things by outline."""
    out: list[Element] = list(building.stairs(job, level))
    out += [
        e
        for e in building.walls(job, frame, level)
        if not (isinstance(e, Hatch) and e.layer == "A-WALL-STUD")
    ]
    out += building.openings(job, level)
    top = level.subfloor_z_in + level.plate_top_in
    for thing in screens(job).metal:
        if thing.z_in[0] < top and thing.z_in[1] > level.subfloor_z_in:
            x0, y0, x1, y1 = thing.rect
            out.append(Polyline("X-OBST", rectangle(x0, y0, x1, y1), True))
            out.append(Line("X-OBST", (x0, y0), (x1, y1), 0.09))
            out.append(Line("X-OBST", (x0, y1), (x1, y0), 0.09))
    return out


def _doubt(
    net: Net, values: tuple[float, ...], band: Band, spread: float, k: float
) -> tuple[list[Element], list[Element]]:
    """Dots where the level lies within the uncertainty of the wanted one, crosses where it falls short."""
    every = max(1, round(_DOT_EVERY_IN * k / net.step_in))
    dots, crosses = list[Element](), list[Element]()
    for index, value in enumerate(values):
        row, column = divmod(index, net.columns)
        if row % every or column % every or not math.isfinite(value) or value >= band.wanted_dbm + spread:
            continue
        x, y = net.spot(index)
        if value > band.wanted_dbm - spread:
            dots.append(Circle("T-RADI-DOUB", (x, y), 0.008 * k, INK, 0.05))
        else:
            r = 0.022 * k
            crosses.append(Line("T-RADI-DOUB", (x - r, y - r), (x + r, y + r), 0.25))
            crosses.append(Line("T-RADI-DOUB", (x - r, y + r), (x + r, y - r), 0.25))
    return dots, crosses


def _clear_of(marks: list[Element], texts: list[Text], k: float) -> list[Element]:
    """Marks that lie under no text."""
    boxes = [t.box(k).grown(0.02 * k) for t in texts]
    return [m for m in marks if not any(box.holds(*p) for box in boxes for p in element_points(m))]


def _lines(
    net: Net, values: tuple[float, ...], band: Band, spread: float, k: float
) -> tuple[list[Element], list[Label], set[str]]:
    """The wanted line, the two that end the doubt, and plain ones every 6 dB outside it."""
    inside = [v for v in values if math.isfinite(v)]
    out, labels, used = list[Element](), list[Label](), set[str]()
    if not inside:
        return out, labels, used
    wanted = band.wanted_dbm
    steps = [wanted + n * _STEP_DB for n in range(-15, 16)]
    levels = [(wanted, "wanted"), (wanted - spread, "doubt"), (wanted + spread, "doubt")]
    levels += [(level, "other") for level in steps if abs(level - wanted) > spread + 0.5]
    pens = {"wanted": ("T-RADI-EDGE", 0.7, ""), "doubt": ("T-RADI", 0.35, "long dash")}
    for level, kind in levels:
        if not min(inside) < level < max(inside):
            continue
        layer, weight, dash = pens.get(kind, ("T-RADI", 0.18, ""))
        for line in contour(net, values, level):
            length = sum(math.dist(a, b) for a, b in itertools.pairwise(line))
            if length < 0.35 * k:
                continue
            used.add(kind)
            out.append(Polyline(layer, line, weight_mm=weight, dash=dash))
            labels += _numbers(line, length, level, k)
    return out, labels, used


def _numbers(line: tuple[Point, ...], length: float, level: float, k: float) -> list[Label]:
    """The dBm on its line, once every few inches of paper."""
    count = max(1, round(length / (5.0 * k)))
    out = []
    for i in range(count):
        spots = tuple(
            _along(line, length * (i + 0.5 + d) / count)
            for d in (0.0, 0.12, -0.12, 0.24, -0.24, 0.36, -0.36, 0.45, -0.45)
        )
        about = f"level {level:g} {spots[0][0]:.1f} {spots[0][1]:.1f}"
        out.append(Label(about, f"{level:.0f}", spots[0], rank=4, on=spots, optional=True, layer="T-RADI"))
    return out


def _along(line: tuple[Point, ...], far: float) -> Point:
    for a, b in itertools.pairwise(line):
        piece = math.dist(a, b)
        if far <= piece and piece > 0:
            return a[0] + (b[0] - a[0]) * far / piece, a[1] + (b[1] - a[1]) * far / piece
        far -= piece
    return line[-1]


def _rows(
    job: Job,
    level: Level,
    found: Coverage,
    band: Band,
    table: tuple[tuple[str, str], ...],
    used: set[str],
    dots: bool,
    crosses: bool,
    notes: tuple[str, ...],
) -> list[Row]:
    spread = _spread(found)
    rows = [Row("Key to this sheet", heading=True)]
    if "wanted" in used:
        rows.append(Row(f"Wanted: {band.wanted_dbm:g} dBm", line=("T-RADI-EDGE", 0.7, "", "")))
    if "doubt" in used:
        rows.append(
            Row(f"Wanted ± {spread:.2g} dB: the doubt ends here", line=("T-RADI", 0.35, "long dash", ""))
        )
    if "other" in used:
        rows.append(
            Row(f"Equal signal in dBm, {_STEP_DB:g} dB from line to line", line=("T-RADI", 0.18, "", ""))
        )
    if dots:
        rows.append(Row("Dotted: may hold or not; measure", lead=". . ."))
    if crosses:
        rows.append(Row("Crosses: falls short, also by the kindest reading", lead="x x"))
    rows.append(Row("Ring with a filled middle: access point", lead="(o)"))
    if any(_on_level(level, thing.z_in) for thing in screens(job).metal):
        rows.append(Row("Crossed box: metal that radio goes around", lead="[X]"))
    if table:
        rows.append(Row("Numbers on the drawing", heading=True))
        rows += [Row(words, lead=number) for number, words in table]
    rows.append(Row(f"Rooms, {band.name}: half of it, worst spot (dBm, ± {spread:.2g})", heading=True))
    for signal in found.rooms:
        if signal.level == level.id and signal.band == band.name:
            rows.append(
                Row(
                    f"{signal.room}: {signal.half_dbm.value:.0f}, worst {signal.worst_dbm.value:.0f}: "
                    f"{_VERDICTS[signal.verdict]}"
                )
            )
    for other in found.bands:
        mine = [s for s in found.rooms if s.level == level.id and s.band == other.name]
        if other.name == band.name or all(s.verdict is Verdict.HOLDS for s in mine):
            continue
        rows.append(Row(f"{other.name}, worst spot where it does not hold for certain", heading=True))
        for verdict in (Verdict.FAILS, Verdict.CANNOT_TELL):
            told = [f"{s.room} {s.worst_dbm.value:.0f}" for s in mine if s.verdict is verdict]
            if told:
                rows.append(Row(f"{_VERDICTS[verdict]}: {', '.join(told)}"))
    rows.append(Row("Mind", heading=True))
    rows += [Row(words) for words in notes]
    return rows


def _on_level(level: Level, z_in: tuple[float, float]) -> bool:
    return z_in[0] < level.subfloor_z_in + level.plate_top_in and z_in[1] > level.subfloor_z_in
