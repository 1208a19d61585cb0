"""The enclosure's inside to scale: gear in its places, lanes, entries, a cut by depth, and all its numbers.

Gear is drawn as plain boxes of our own; the line of a box says its kind in black and white.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from bayrun.cables.ranges import Verdict
from bayrun.drawings import cautions
from bayrun.drawings.enclosure_notes import dimension_words, fit_rows, gear_row, termination_rows
from bayrun.drawings.panel import Row, flow, wrap
from bayrun.drawings.place_labels import Label, Placement
from bayrun.drawings.scale_bar import scale_bar
from bayrun.drawings.scene import (
    Dimension,
    Element,
    Line,
    Point,
    Polyline,
    Scene,
    Text,
    plain_text,
    rectangle,
    text_width_pt,
)
from bayrun.drawings.sheets import Sheet
from bayrun.drawings.style import INK, LEAST_PT, PAPER, TABLOID, Scale
from bayrun.enclosure import FitOut, KnockoutUse, Piece, Place, fit_out
from bayrun.enclosure.room import depth_needed_in
from bayrun.geometry import Rect, below
from bayrun.house import Job
from bayrun.units import tape
from bayrun.wiring import Wiring

SCALES = (
    Scale('3" = 1\' 0"', 4.0),
    Scale('2" = 1\' 0"', 6.0),
    Scale('1-1/2" = 1\' 0"', 8.0),
    Scale('1" = 1\' 0"', 12.0),
)
KIND_LINE: dict[str, tuple[float, str | None, str]] = {
    "power": (0.7, None, "power: the licensed electrician's, behind its barrier"),
    "termination": (0.35, None, "termination: cables end here"),
    "network": (0.35, "long dash", "network gear"),
    "radio": (0.35, "dash dot", "gear with a radio"),
    "other": (0.35, "short dash", "other gear"),
}
"""Kind → width of its line [mm], dash, words of the key."""
_LEFT_IN, _RIGHT_IN, _OVER_IN, _UNDER_IN = 1.05, 0.95, 1.0, 1.2
"""Room on paper around the front view [in]."""
_SIDE_IN = 2.1
"""Room for the cut by depth [in]."""
_PANEL_IN = 7.4
_LINE_IN = 0.152


@dataclass(frozen=True, slots=True)
class _View:
    """All that the drawing asks for, once: the box's lower left inside corner lies at (0, 0)."""

    told: FitOut
    numbers: dict[str, int]
    k: float

    @property
    def wall_in(self) -> float:
        """Thickness of the box's sides [in]."""
        return (self.told.box.width_in - self.told.room.width_in) / 2

    @property
    def outside(self) -> Rect:
        """Outline of the box [in]."""
        w = self.wall_in
        return Rect(-w, -w, self.told.room.width_in + w, self.told.room.height_in + w)

    def rect(self, piece: Piece, place: Place) -> Rect:
        """Outline of a piece [in]."""
        right_in, top_in = place.left_in + piece.width_in, place.bottom_in + piece.height_in
        return Rect(place.left_in, place.bottom_in, right_in, top_in)

    @property
    def placed(self) -> tuple[tuple[Piece, Place], ...]:
        """Pieces with a place, in the order of their numbers."""
        arrangement = self.told.arrangement
        if arrangement is None:
            return ()
        return tuple((self.told.piece(place.piece), place) for place in arrangement.places)


def enclosure_sheets(job: Job, wiring: Wiring) -> tuple[Sheet, ...]:
    """The inside of every enclosure that is built; none where the job has no enclosure."""
    made = []
    for number, box in enumerate(job.built_enclosures):
        told = fit_out(job, wiring, box)
        if told is not None:
            sheet = enclosure_sheet(told)
            made.append(sheet if number == 0 else replace(sheet, name=f"{sheet.name}-{number + 1}"))
    return tuple(made)


def enclosure_sheet(told: FitOut) -> Sheet:
    """The enclosure's inside: front view, cut by depth, gear, entries, slack, heat, cords."""
    scale = _scale(told)
    k = scale.per_paper_in
    numbers = _numbers(told)
    view = _View(told, numbers, k)
    out = view.outside
    x0, v1 = out.u0 - _LEFT_IN * k, out.v1 + _OVER_IN * k
    page = Rect(x0, v1 - TABLOID.body_height_in * k, x0 + TABLOID.body_width_in * k, v1)
    panel_x = page.u1 - _PANEL_IN * k
    draw = Rect(page.u0, page.v0 + 0.2 * k, panel_x - 0.1 * k, page.v1)
    cut_x = out.u1 + _RIGHT_IN * k + 0.35 * k
    drawn = [
        *_box(view),
        *_gear(view),
        *_dimensions(view),
        *_cut(view, cut_x),
        *scale_bar((page.u0 + 0.1 * scale.per_paper_in, page.v0 + 0.06 * scale.per_paper_in), scale, "box"),
    ]
    labels = [*_knockout_labels(view), *_loose_labels(view), *_cut_labels(view, cut_x)]
    placed = Placement(k, draw, drawn).place(labels, first_number=len(numbers) + 1)
    columns = tuple(
        Rect(panel_x + i * 3.75 * k, page.v0, panel_x + (i * 3.75 + 3.6) * k, page.v1) for i in range(2)
    )
    panel, over = flow(_panel_rows(view, placed.table), columns[:1], k)
    # What the first column leaves goes on top of the second; the whole order stands on the port map.
    more, over = flow([*over, *termination_rows(told)], columns[1:], k)
    over = tuple(row for row in over if not row.lead)
    panel = (*panel, *more)
    box = told.box
    says = f"Inside of enclosure {box.id} in the {box.room}: gear, entries and lanes, with a cut by depth"
    scene = Scene("enclosure-layout", page, k, (*drawn, *placed.elements, *panel), says)
    return Sheet(
        scene.name,
        "enclosure layout",
        f"{box.id}, {box.room}",
        _heading(told),
        scene,
        scale,
        cautions.ENCLOSURE,
        TABLOID,
        tuple(row.words for row in over),
    )


def _heading(told: FitOut) -> str:
    box, arrangement = told.box, told.arrangement
    if arrangement is None:
        return f"Nothing is named to hang in {box.id} yet"
    count = f"{len(told.pieces)} {'piece' if len(told.pieces) == 1 else 'pieces'}"
    if arrangement.verdict is Verdict.HOLDS:
        free = f"{arrangement.free_percent.value:.0f} % of the back stays free"
        return f"Hang the gear in {box.id}: {count}, {free}"
    if arrangement.homeless:
        return f"The gear does not all fit {box.id}: {len(arrangement.homeless)} of {count} without a place"
    return f"The gear in {box.id} needs another look: see the notes"


def _numbers(told: FitOut) -> dict[str, int]:
    """Piece → its number on the drawing: from the top left, row by row; pieces without a place last."""
    at = {} if told.arrangement is None else {place.piece: place for place in told.arrangement.places}
    by_id = {piece.id: piece for piece in told.pieces}

    def order(piece: str) -> tuple[int, float, float, str]:
        place = at.get(piece)
        if place is None:
            return 1, 0.0, 0.0, piece
        return 0, -round(place.bottom_in + by_id[piece].height_in, 2), place.left_in, piece

    return {piece: n for n, piece in enumerate(sorted(by_id, key=order), 1)}


def _scale(told: FitOut) -> Scale:
    wide = TABLOID.body_width_in - _PANEL_IN - 0.1 - _LEFT_IN - _RIGHT_IN - _SIDE_IN
    high = TABLOID.body_height_in - _OVER_IN - _UNDER_IN
    for scale in SCALES:
        k = scale.per_paper_in
        if told.box.width_in / k < wide and told.box.height_in / k < high:
            return scale
    return SCALES[-1]


def _box(view: _View) -> list[Element]:
    """Outline, sides, rooms of the entries, knockouts."""
    out, room = view.outside, view.told.room
    inner = rectangle(0.0, 0.0, room.width_in, room.height_in)
    made: list[Element] = [
        Polyline("T-ENCL", rectangle(out.u0, out.v0, out.u1, out.v1), closed=True, fill=PAPER),
        Polyline("T-ENCL-KNOC", inner, closed=True),
    ]
    low, high = room.bottom_in, room.height_in - room.top_in
    for v in (low, high):
        ends = (room.edge_in, v), (room.width_in - room.edge_in, v)
        made.append(Line("A-WALL-HDLN", *ends))
    for use in view.told.entries.uses:
        rect = _knockout(view, use)
        dash = None if use.runs or use.use == "power" else "short dash"
        fill = INK if use.runs else PAPER
        corners = rectangle(rect.u0, rect.v0, rect.u1, rect.v1)
        made.append(Polyline("T-ENCL-KNOC", corners, closed=True, dash=dash, fill=fill))
    return made


def _knockout(view: _View, use: KnockoutUse) -> Rect:
    """A knockout as a short bar on its edge [in]."""
    out, half = view.outside, use.diameter_in / 2
    x = out.u0 + use.from_left_in
    thick = 0.07 * view.k
    v = out.v1 if use.edge == "top" else out.v0 - thick
    return Rect(x - half, v, x + half, v + thick)


def _gear(view: _View) -> list[Element]:
    """Every piece as a box with its number, and its name where it has room."""
    made: list[Element] = []
    for piece, place in view.placed:
        rect = view.rect(piece, place)
        weight, dash, _ = KIND_LINE.get(piece.kind, KIND_LINE["other"])
        corners = rectangle(rect.u0, rect.v0, rect.u1, rect.v1)
        made.append(Polyline("T-LOCN", corners, closed=True, fill=PAPER, weight_mm=weight, dash=dash))
        made += _inside(view, piece, rect)
    return made


def _inside(view: _View, piece: Piece, rect: Rect) -> list[Element]:
    """Number and words of a piece, as many lines as stand in it."""
    k = view.k
    number = str(view.numbers[piece.id])
    width, height = rect.width / k - 0.12, (rect.v1 - rect.v0) / k - 0.1
    size = f"{dimension_words(piece)}"
    lines = list(wrap(piece.name, width, LEAST_PT))
    lines += wrap(size, width, LEAST_PT)
    fitting = [line for line in lines if text_width_pt(line, LEAST_PT) <= width * 72]
    room = int((height - 0.2) / _LINE_IN)
    shown = lines[:room] if len(fitting) == len(lines) and room > 0 else []
    if shown and len(shown) < len(lines):
        shown = list(wrap(piece.name, width, LEAST_PT))[:room]
    tall = 0.2 + len(shown) * _LINE_IN
    x, y = rect.center[0], rect.center[1] + (tall / 2 - 0.15) * k
    made: list[Element] = [Text("T-ANNO-IDEN", (x, y), number, 13.0, "center", bold=True, halo=True)]
    for n, line in enumerate(shown, 1):
        made.append(Text("T-ANNO-IDEN", (x, y - (n * _LINE_IN + 0.02) * k), line, LEAST_PT, "center"))
    return made


def _dimensions(view: _View) -> list[Element]:
    """Outside size, and the heights of the rows from the bottom of the inside."""
    k, out = view.k, view.outside
    # Under the words of the knockouts.
    below_in = out.v0 - 0.95 * k
    made: list[Element] = [
        Dimension("A-ANNO-DIMS", (out.u0, out.v0), (out.u1, out.v0), below_in),
        Dimension("A-ANNO-DIMS", (out.u0, out.v0), (out.u0, out.v1), out.u0 - 0.75 * k, 90.0),
    ]
    heights = sorted({0.0, *(round(place.bottom_in, 4) for _, place in view.placed)})
    kept = [heights[0]]
    for at in heights[1:]:
        text = text_width_pt(plain_text(tape(at - kept[-1])), LEAST_PT) / 72 * k
        if at - kept[-1] > text + 0.1 * k:
            kept.append(at)
    for a, b in pairwise(kept):
        made.append(Dimension("A-ANNO-DIMS", (0.0, a), (0.0, b), out.u0 - 0.3 * k, 90.0))
    return made


def _cut(view: _View, x: float) -> list[Element]:
    """The box from its side: back at the left, door at the right, the deepest piece of each height."""
    told, k = view.told, view.k
    room, out = told.room, view.outside
    depth = room.depth_in
    made: list[Element] = [
        Polyline("T-ENCL", rectangle(x, out.v0, x + depth, out.v1), closed=True, fill=PAPER),
        Line("A-WALL-HDLN", (x + depth - room.door_in, out.v0), (x + depth - room.door_in, out.v1)),
        Line("T-ENCL", (x + depth, out.v0), (x + depth, out.v1), 0.7),
        Dimension("A-ANNO-DIMS", (x, out.v0), (x + depth, out.v0), out.v0 - 0.3 * k,
                  text_at=(x + depth / 2, out.v0 - 0.45 * k)),
        Text("A-ANNO-TEXT", (x + depth / 2, out.v1 + 0.32 * k), "Cut by depth", align="center", bold=True),
        Text("A-ANNO-TEXT", (x + depth / 2, out.v1 + 0.15 * k), "door at the right", align="center"),
    ]  # fmt: skip
    for piece, place in _deepest_first(view):
        low, high = place.bottom_in, place.bottom_in + piece.height_in
        plug = rectangle(x + piece.depth_in, low, x + piece.depth_in + piece.front_room_in, high)
        if piece.front_room_in:
            made.append(Polyline("A-WALL-HDLN", plug, closed=True))
        corners = rectangle(x, low, x + piece.depth_in, high)
        made.append(Polyline("T-LOCN", corners, closed=True, fill=PAPER, weight_mm=0.25))
    return made


def _deepest_first(view: _View) -> list[tuple[Piece, Place]]:
    """Pieces seen in the cut: of those at one height, only the one that needs the most depth."""
    chosen: list[tuple[Piece, Place]] = []
    room = view.told.room
    for piece, place in sorted(
        view.placed, key=lambda pair: (-depth_needed_in(pair[0], room), view.numbers[pair[0].id])
    ):
        top = place.bottom_in + piece.height_in
        if all(
            not below(place.bottom_in, other.bottom_in + one.height_in) or not below(other.bottom_in, top)
            for one, other in chosen
        ):
            chosen.append((piece, place))
    return chosen


def _cut_labels(view: _View, x: float) -> list[Label]:
    depth = view.told.room.depth_in
    return [
        Label(
            f"cut {piece.id}",
            str(view.numbers[piece.id]),
            (x + depth, place.bottom_in + piece.height_in / 2),
            0.03 * view.k,
            bold=True,
            toward=(1.0, 0.0),
            leader=False,
        )
        for piece, place in _deepest_first(view)
    ]


def _knockout_labels(view: _View) -> list[Label]:
    """What enters by each knockout, over the top or under the bottom."""
    made = []
    for use in view.told.entries.uses:
        rect = _knockout(view, use)
        up = use.edge == "top"
        at: Point = (rect.center[0], rect.v1 if up else rect.v0)
        trade = f"trade {use.trade}" if use.trade else tape(use.diameter_in)
        if use.runs:
            words = f"{len(use.runs)} runs, {100 * use.fill:.0f} %"
        else:
            words = "power" if use.use == "power" else "left for later"
        side = -1.0 if use.from_left_in < view.told.box.width_in / 2 else 1.0
        long = f"{use.edge} knockout, {trade}: {words}"
        toward = (0.3 * side, 1.0 if up else -1.0)
        made.append(Label(use.name, words, at, 0.02 * view.k, rank=1, long=long, toward=toward))
    return made


def _loose_labels(view: _View) -> list[Label]:
    """Words on the rooms of the entries, where they find a place."""
    room, k = view.told.room, view.k
    made = []
    for edge, high in (("top", room.top_in), ("bottom", room.bottom_in)):
        middle = room.height_in - high / 2 if edge == "top" else high / 2
        words = f"cables turn here: {tape(high)} kept clear"
        if high > 0.22 * k:
            made.append(
                Label(
                    f"room {edge}",
                    words,
                    (room.width_in / 2, middle),
                    0.0,
                    rank=3,
                    within=Rect(0.0, 0.0, room.width_in, room.height_in),
                    on=((room.width_in / 2, middle),),
                    optional=True,
                )
            )
    return made


def _panel_rows(view: _View, table: tuple[tuple[str, str], ...]) -> list[Row]:
    told = view.told
    kinds = [kind for kind in KIND_LINE if any((p.kind or "other") == kind for p in told.pieces)]
    rows = [Row("Key", heading=True)]
    for kind in kinds:
        weight, dash, words = KIND_LINE[kind]
        rows.append(Row(words, line=("T-LOCN", weight, dash, "")))
    rows.append(Row("room kept clear: entries, plugs, the door", line=("A-WALL-HDLN", None, None, "")))
    rows.append(Row(f"White between the boxes is a lane for cables, {tape(told.room.lane_in)} at least."))
    rows.append(Row(f"Gear, as seen from the {told.box.room}", heading=True))
    for piece in sorted(told.pieces, key=lambda p: view.numbers[p.id]):
        place = None if told.arrangement is None else told.arrangement.place_of(piece.id)
        rows.append(Row(gear_row(piece, place), lead=str(view.numbers[piece.id])))
    for gear in told.unknown:
        rows.append(Row(f"{gear.what}: nobody said its size", lead="?"))
    rows += fit_rows(told)
    if table:
        rows.append(Row("Numbers on the drawing", heading=True))
        rows += [Row(words, lead=number) for number, words in table]
    return rows
