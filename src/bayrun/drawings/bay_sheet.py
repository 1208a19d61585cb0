"""The bay of the enclosure to scale, as seen from its room, with a cut through the wall beside it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from bayrun.drawings import cautions
from bayrun.drawings.bay_notes import bay_rows, low_voltage_words, neighbor_words
from bayrun.drawings.bundles import merged
from bayrun.drawings.panel import flow, wrap
from bayrun.drawings.place_labels import Label, Placement
from bayrun.drawings.plan_sheet import hole_names, weight_mm
from bayrun.drawings.scale_bar import scale_bar
from bayrun.drawings.scene import (
    Circle,
    Dimension,
    Element,
    Hatch,
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
from bayrun.drawings.style import DETAIL_SCALES, INK, LEAST_PT, PAPER, TABLOID, Scale
from bayrun.drawings.wall_view import WallView
from bayrun.framing.records import Frame, Member
from bayrun.geometry import Rect, below
from bayrun.house import (
    Enclosure,
    Job,
    Level,
    Wall,
    above_finished_floor_in,
    enclosure_bottom_in,
    enclosure_top_in,
    wall_name,
)
from bayrun.units import tape
from bayrun.wiring import Wiring

_PANEL_IN = 4.2
_LEFT_IN, _RIGHT_IN, _SECTION_IN = 1.25, 1.35, 2.1
"""Room on paper left of the studs, right of them, and for the cut [in]."""
_OVER_IN, _UNDER_IN = 0.75, 1.25


@dataclass(frozen=True, slots=True)
class _Bay:
    """All that the drawing asks for, once."""

    job: Job
    frame: Frame
    wiring: Wiring
    enclosure: Enclosure
    wall: Wall
    level: Level
    view: WallView
    low_in: float
    high_in: float
    bottom_in: float
    top_in: float
    finish_in: float
    k: float

    @property
    def middle_in(self) -> float:
        """Middle of the bay along the wall [in]."""
        return (self.low_in + self.high_in) / 2

    @property
    def board_in(self) -> float:
        """Drywall on the room's side [in]."""
        return self.level.wall_board_in

    @property
    def box(self) -> Rect:
        """Outline of the box in the picture [in]."""
        x = self.view.x(self.middle_in)
        half = self.enclosure.width_in / 2
        return Rect(x - half, self.bottom_in, x + half, self.top_in)


def bay_sheet(job: Job, frame: Frame, wiring: Wiring) -> Sheet:
    """The enclosure's bay with every dimension a crew needs to hang it.

    Raises:
        ValueError: The job has no enclosure.
    """
    enclosure = job.chosen_enclosure
    if enclosure is None:
        raise ValueError(f"{job.name}: expected an enclosure to draw, got none")
    wall, level = job.wall(enclosure.wall), job.level(enclosure.level)
    low_in, high_in = _clear(frame, wall, enclosure)
    view = WallView(job, wall, enclosure.side, (low_in + high_in) / 2)
    window = _window(frame, wall, view, low_in, high_in)
    tall = level.plate_top_in
    scale = _scale(window, tall)
    k = scale.per_paper_in
    bay = _Bay(
        job,
        frame,
        wiring,
        enclosure,
        wall,
        level,
        view,
        low_in,
        high_in,
        enclosure_bottom_in(job, enclosure),
        enclosure_top_in(job, enclosure),
        above_finished_floor_in(job, enclosure.level, enclosure.room),
        k,
    )
    used = (window[1] - window[0]) / k + _LEFT_IN + _RIGHT_IN + _SECTION_IN
    spare = max(TABLOID.body_width_in - _PANEL_IN - 0.15 - used, 0.0)
    # What is left of the width parts the wall, the cut and the panel.
    x0 = window[0] - (_LEFT_IN + spare / 3) * k
    v1 = tall + _OVER_IN * k
    page = Rect(x0, v1 - TABLOID.body_height_in * k, x0 + TABLOID.body_width_in * k, v1)
    draw = Rect(page.u0, page.v0, page.u1 - (_PANEL_IN + 0.15) * k, page.v1)
    cut_x = window[1] + (_RIGHT_IN + 0.75 + spare / 3) * k
    drawn = [
        *_framing(bay, window),
        *_ways(bay, window),
        *_power(bay, window),
        *_box(bay),
        *_cut(bay, cut_x),
        *_dimensions(bay, window),
        *_neighbors(bay),
        *scale_bar((page.u0 + 0.1 * scale.per_paper_in, page.v0 + 0.06 * scale.per_paper_in), scale),
    ]
    placed = Placement(k, draw, drawn).place([*_labels(bay, window), *_cut_labels(bay, cut_x)])
    column = Rect(page.u1 - _PANEL_IN * k, page.v0, page.u1, page.v1)
    rows = bay_rows(job, frame, wiring, enclosure, view, (low_in, high_in), placed.table)
    panel, over = flow(rows, (column,), k)
    name = wall_name(wall, view.along_in)
    says = (
        f"Bay of enclosure {enclosure.id} in {name}, seen from {view.room or enclosure.room}, "
        "with a cut beside it"
    )
    scene = Scene("enclosure-bay", page, k, (*drawn, *placed.elements, *panel), says)
    room = view.room or enclosure.room
    heading = (
        f"Hang {enclosure.id} in the {room}: bottom {tape(bay.bottom_in)} above subfloor, "
        f"bay {tape(high_in - low_in)} clear"
    )
    return Sheet(
        scene.name,
        "enclosure bay",
        f"{name}, seen from {room}",
        heading,
        scene,
        scale,
        cautions.ENCLOSURE,
        TABLOID,
        tuple(row.words for row in over),
    )


def _clear(frame: Frame, wall: Wall, enclosure: Enclosure) -> tuple[float, float]:
    """Clear of the bay by the laid-out framing; by the centers given where no bay is there."""
    low_in, high_in = sorted(enclosure.bay_studs_in)
    middle_in = (low_in + high_in) / 2
    for bay in frame.bays_of(wall.id):
        if bay.clear.u0 < middle_in < bay.clear.u1:
            return bay.clear.u0, bay.clear.u1
    return low_in + wall.stud_width_in / 2, high_in - wall.stud_width_in / 2


def _window(frame: Frame, wall: Wall, view: WallView, low_in: float, high_in: float) -> tuple[float, float]:
    """What of the wall is shown: the bay, one bay more at each side, and the corner where it is near."""
    uprights = [m for m in frame.of(wall.id) if m.up[1] - m.up[0] > 24 and m.along[1] - m.along[0] < 8]
    before = [m.along[0] for m in uprights if m.along[1] < low_in - 2]
    after = [m.along[1] for m in uprights if m.along[0] > high_in + 2]
    first = max(before, default=low_in - 3)
    last = min(after, default=high_in + 3)
    hook = view.hook_in
    if abs(hook - view.along_in) < 66:
        first, last = min(first, hook), max(last, hook)
    a, b = view.x(first), view.x(last)
    return min(a, b), max(a, b)


def _scale(window: tuple[float, float], tall: float) -> Scale:
    width = TABLOID.body_width_in - _PANEL_IN - 0.15 - _LEFT_IN - _RIGHT_IN - _SECTION_IN
    height = TABLOID.body_height_in - _OVER_IN - _UNDER_IN
    for scale in DETAIL_SCALES:
        k = scale.per_paper_in
        if (window[1] - window[0]) / k < width and tall / k < height:
            return scale
    return DETAIL_SCALES[-1]


def _seen(bay: _Bay, member: Member, window: tuple[float, float]) -> tuple[float, float] | None:
    a, b = sorted((bay.view.x(member.along[0]), bay.view.x(member.along[1])))
    a, b = max(a, window[0] - 3), min(b, window[1] + 3)
    return (a, b) if b - a > 0.01 else None


def _framing(bay: _Bay, window: tuple[float, float]) -> list[Element]:
    out: list[Element] = [
        Line("A-WALL", (window[0] - 6, 0.0), (window[1] + 6, 0.0), 0.5),
        Line("A-WALL-HDLN", (window[0] - 6, bay.finish_in), (window[1] + 6, bay.finish_in)),
    ]
    for member in bay.frame.of(bay.wall.id):
        seen = _seen(bay, member, window)
        if seen is None:
            continue
        (a, b), (v0, v1) = seen, member.up
        pattern = "steel face" if member.material == "steel" else "wood"
        out.append(Hatch("A-WALL-STUD", rectangle(a, v0, b, v1), pattern))
        for i in range(1, member.plies):
            v = v0 + (v1 - v0) * i / member.plies
            out.append(Line("A-WALL-STUD", (a, v), (b, v)))
    return out


def _holes_here(bay: _Bay, window: tuple[float, float]) -> list[tuple[str, Point, float, str]]:
    out: list[tuple[str, Point, float, str]] = []
    for hole in bay.wiring.holes:
        x = bay.view.x(hole.along_in)
        if hole.wall == bay.wall.id and window[0] < x < window[1]:
            out.append((hole.id, (x, hole.up_in), hole.diameter_in, hole.axis))
    return out


def _ways(bay: _Bay, window: tuple[float, float]) -> list[Element]:
    wall, zero = bay.wall, bay.level.subfloor_z_in
    dx, dy = wall.direction
    pieces = []
    high = bay.level.plate_top_in + 0.3 * bay.k
    for run in bay.wiring.runs:
        spots = []
        for p in run.path:
            rx, ry = p.x - wall.start[0], p.y - wall.start[1]
            across = abs(rx * -dy + ry * dx)
            inside = across < wall.thickness_in / 2 + 0.5 and -24 < p.z - zero < high
            spots.append((bay.view.x(rx * dx + ry * dy), p.z - zero) if inside else None)
        for a, b in pairwise(spots):
            if a is not None and b is not None and all(window[0] < s[0] < window[1] for s in (a, b)):
                pieces.append((a, b, run.id))
    out: list[Element] = [Line("T-CABL-BNDL", s.a, s.b, weight_mm(len(s.runs))) for s in merged(pieces)]
    for _, (x, v), diameter, axis in _holes_here(bay, window):
        r = diameter / 2
        corners = rectangle(x - r, v - 1.5, x + r, v + 1.5)
        if axis == "along":
            corners = rectangle(x - 0.75, v - r, x + 0.75, v + r)
        out.append(Polyline("T-HOLE", corners, closed=True, dash="short dash", color=INK))
    return out


def _box(bay: _Bay) -> list[Element]:
    box, out = bay.box, list[Element]()
    out.append(Polyline("T-ENCL", rectangle(box.u0, box.v0, box.u1, box.v1), closed=True, fill=PAPER))
    out.append(Line("T-ENCL", (box.u0, box.center[1]), (box.u1, box.center[1]), 0.13, "center"))
    for knockout in bay.enclosure.knockouts:
        x = box.u0 + knockout.from_left_in
        v = box.v1 if knockout.edge == "top" else box.v0
        r, inward = knockout.diameter_in / 2, -0.9 if knockout.edge == "top" else 0.9
        used = knockout.use != "spare"
        corners = rectangle(x - r, min(v, v + inward), x + r, max(v, v + inward))
        out.append(Polyline("T-ENCL-KNOC", corners, closed=True, dash=None if used else "short dash"))
        if used:
            out.append(Line("T-ENCL-KNOC", (x, v - 1.2), (x, v + 1.2)))
    for from_left_in, from_bottom_in in bay.enclosure.fixing_points:
        x, v = box.u0 + from_left_in, box.v0 + from_bottom_in
        out.append(Circle("T-ENCL-KNOC", (x, v), 0.35, fill=PAPER))
        out.append(Line("T-ENCL-KNOC", (x - 0.6, v), (x + 0.6, v)))
        out.append(Line("T-ENCL-KNOC", (x, v - 0.6), (x, v + 0.6)))
    return out


def _power_way(bay: _Bay, window: tuple[float, float]) -> list[Point]:
    feed, box = bay.enclosure.ac_feed, bay.box
    if feed is None:
        return []
    entries = [k for k in bay.enclosure.knockouts if k.use == "power"]
    edge = entries[0].edge if entries else "bottom"
    x_in = box.u0 + entries[0].from_left_in if entries else box.center[0]
    v_in = box.v0 if edge == "bottom" else box.v1
    if feed.bay_studs_in is None:
        return []
    middle = sum(feed.bay_studs_in) / 2
    if bay.low_in < middle < bay.high_in:
        return [(x_in, 0.0 if edge == "bottom" else bay.level.plate_top_in), (x_in, v_in)]
    x = min(max(bay.view.x(middle), window[0] + 2), window[1] - 2)
    turn = feed.hole_height_in if feed.hole_height_in is not None else v_in - 8
    # Down through the plates of the next bay where there is no way from below, else up from under the floor.
    start = bay.level.plate_top_in + 3 if bay.level.slab else -3.0
    return [(x, start), (x, turn), (x_in, turn), (x_in, v_in)]


def _power(bay: _Bay, window: tuple[float, float]) -> list[Element]:
    points, feed = _power_way(bay, window), bay.enclosure.ac_feed
    if not points or feed is None:
        return []
    out: list[Element] = [Polyline("E-POWR", tuple(points), weight_mm=0.5)]
    x, v = points[-1]
    before = points[-2]
    step = feed.staple_from_box_in
    if step is not None and abs(v - before[1]) > step:
        at = v - step if before[1] < v else v + step
        corners = rectangle(x - 0.6, at - 0.25, x + 0.6, at + 0.25)
        out.append(Polyline("E-POWR", corners, closed=True, dash=""))
    return out


def _cut(bay: _Bay, x: float) -> list[Element]:
    """A cut through the middle of the box; the room is at the left."""
    depth, board, tall = bay.wall.thickness_in, bay.board_in, bay.level.plate_top_in
    front, out = x - board, list[Element]()
    plates = bay.wall.plates
    face, cut = ("steel face", "steel") if bay.wall.steel else ("wood", "wood cut")
    low, high = 1.5 * plates.bottom, tall - 1.5 * plates.top
    out.append(Line("A-WALL", (x - 8, 0.0), (x + depth + 8, 0.0), 0.5))
    out.append(Line("A-WALL-HDLN", (x - 8, bay.finish_in), (x, bay.finish_in)))
    out.append(Hatch("A-WALL-STUD", rectangle(x, low, x + depth, high), face))
    for i in range(plates.bottom):
        out.append(Hatch("A-WALL-STUD", rectangle(x, 1.5 * i, x + depth, 1.5 * (i + 1)), cut))
    for i in range(plates.top):
        corners = rectangle(x, high + 1.5 * i, x + depth, high + 1.5 * (i + 1))
        out.append(Hatch("A-WALL-STUD", corners, cut))
    for a, b in ((front, x), (x + depth, x + depth + bay.level.wall_board_in)):
        out.append(Polyline("A-WALL", rectangle(a, bay.finish_in, b, tall), closed=True, weight_mm=0.18))
    back = front + bay.enclosure.depth_in
    out.append(Polyline("T-ENCL", rectangle(front, bay.bottom_in, back, bay.top_in), closed=True, fill=PAPER))
    out.append(Polyline("T-ENCL", rectangle(front, bay.bottom_in, front + 0.6, bay.top_in), True, INK))
    middle = x + depth / 2
    below_line = (middle, -0.44 * bay.k)
    out.append(Dimension("A-ANNO-DIMS", (x, 0.0), (x + depth, 0.0), -0.3 * bay.k, text_at=below_line))
    words = plain_text(f"{bay.view.room or bay.enclosure.room} side at left")
    out.append(Text("A-ANNO-TEXT", (middle, tall + 0.18 * bay.k), words, align="center"))
    head = (middle, tall + 0.34 * bay.k)
    out.append(Text("A-ANNO-TEXT", head, "Cut through the box", align="center", bold=True))
    return out


def _cut_labels(bay: _Bay, x: float) -> list[Label]:
    k, board = bay.k, bay.board_in
    front = x - board
    back = front + bay.enclosure.depth_in
    behind_in = x + bay.wall.thickness_in - back
    left, right = (-1.0, 0.0), (1.0, 0.0)
    return [
        Label("cut board", f"board {tape(board)}", (x - board / 2, bay.top_in + 12), 0.02 * k, toward=left),
        Label(
            "cut box",
            f"box {tape(bay.enclosure.depth_in)} deep",
            (back, bay.bottom_in + 9),
            0.02 * k,
            toward=right,
        ),
        Label(
            "cut behind",
            f"{tape(-behind_in)} too deep" if below(behind_in, 0.0) else f"{tape(behind_in)} behind it",
            (back + behind_in / 2, bay.bottom_in + 4),
            0.02 * k,
            toward=right,
        ),
        Label("cut face", "face flush with board", (front, bay.top_in - 5), 0.02 * k, toward=left),
    ]


def _dimensions(bay: _Bay, window: tuple[float, float]) -> list[Element]:
    k, out = bay.k, list[Element]()
    view = bay.view
    tall = bay.level.plate_top_in
    under = tall - 1.5 * bay.wall.plates.top
    lanes = window[0] - 6 - 0.12 * k, window[0] - 6 - 0.42 * k
    for a, b, lane, words in (
        (0.0, bay.bottom_in, 0, f"{tape(bay.bottom_in)} above subfloor"),
        (bay.bottom_in, bay.top_in, 0, f"box {tape(bay.top_in - bay.bottom_in)}"),
        (bay.top_in, under, 0, tape(under - bay.top_in)),
        (0.0, tall, 1, f"{tape(tall)} to the top of the plates"),
    ):
        edge = window[0] - 3
        out.append(Dimension("A-ANNO-DIMS", (edge, a), (edge, b), lanes[lane], 90.0, words))
    finish = bay.finish_in
    for i, (height, what) in enumerate(
        ((bay.bottom_in, "bottom"), ((bay.bottom_in + bay.top_in) / 2, "center"), (bay.top_in, "top"))
    ):
        at = window[1] + 6 + (0.3 + 0.3 * i) * k
        words = f"{what} {tape(height - finish)} above finished floor"
        if text_width_pt(words, LEAST_PT) / 72 * k > height - finish:
            words = f"{what} {tape(height - finish)}"
        edge = window[1] + 3
        out.append(Dimension("A-ANNO-DIMS", (edge, finish), (edge, height), at, 90.0, words))
    a, b = sorted((view.x(bay.low_in), view.x(bay.high_in)))
    hook = view.x(view.hook_in)
    near_edge = a if abs(a - hook) < abs(b - hook) else b
    words = f"{tape(b - a)} clear"
    if text_width_pt(words, LEAST_PT) / 72 * k > b - a:
        words = tape(b - a)
    out.append(Dimension("A-ANNO-DIMS", (a, 0.0), (b, 0.0), -0.3 * k, 0.0, words))
    said_width = text_width_pt(tape(abs(hook - near_edge)), LEAST_PT) / 72 * k
    # Where the corner is too near for a dimension, the figures under the studs tell it.
    if window[0] - 0.01 < hook < window[1] + 0.01 and abs(hook - near_edge) > said_width + 0.1 * k:
        out.append(Dimension("A-ANNO-DIMS", (hook, 0.0), (near_edge, 0.0), -0.3 * k, 0.0))
    if window[0] - 0.01 < hook < window[1] + 0.01:
        out.append(Line("A-WALL-HDLN", (hook, 0.0), (hook, tall), 0.25, "center"))
    last = -1e9
    for x in sorted(_stud_faces(bay, window)):
        if x - last < 0.17 * k:
            continue
        last = x
        said = plain_text(tape(abs(x - hook)))
        out.append(Line("A-ANNO-DIMS", (x, -0.36 * k), (x, -0.42 * k)))
        foot = (x + 0.04 * k, -0.46 * k)
        out.append(Text("A-ANNO-DIMS", foot, said, align="right", angle=90.0, role="dimension"))
    return out


def _stud_faces(bay: _Bay, window: tuple[float, float]) -> list[float]:
    """The face of each upright that is nearer to the hooked corner, in the picture."""
    hook, out = bay.view.x(bay.view.hook_in), []
    for member in bay.frame.of(bay.wall.id):
        if member.up[1] - member.up[0] > 24 and member.along[1] - member.along[0] < 8:
            faces = [bay.view.x(a) for a in member.along]
            x = min(faces, key=lambda f: abs(f - hook))
            before_corner = (x - hook) * (bay.view.x(bay.middle_in) - hook) > 0
            if window[0] - 0.01 < x < window[1] + 0.01 and abs(x - hook) > 2 and before_corner:
                out.append(x)
    return out


def _neighbors(bay: _Bay) -> list[Element]:
    out: list[Element] = []
    clear = (bay.low_in, bay.high_in)
    for low_in, high_in, words in neighbor_words(bay.job, bay.frame, bay.enclosure, clear):
        a, b = sorted((bay.view.x(low_in), bay.view.x(high_in)))
        width = (b - a) / bay.k - 0.1
        lines = wrap(words, width, LEAST_PT)
        # A bay too narrow for its words has them in the panel alone.
        if max(text_width_pt(line, LEAST_PT) for line in lines) > width * 72:
            continue
        for i, line in enumerate(lines):
            at = ((a + b) / 2, bay.bottom_in + (0.75 - 0.155 * i) * bay.k)
            out.append(Text("A-ANNO-TEXT", at, line, align="center", halo=True))
    return out


def _labels(bay: _Bay, window: tuple[float, float]) -> list[Label]:
    k, box, out = bay.k, bay.box, list[Label]()
    out.append(Label("box", bay.enclosure.id, (box.center[0], box.v1 - 5), 0.0, 11.0, True, 0, box))
    size = f"{tape(bay.enclosure.width_in)} x {tape(bay.enclosure.height_in)}"
    out.append(Label("box size", size, (box.center[0], box.v1 - 7.5), 0.0, rank=0, within=box))
    for i, knockout in enumerate(bay.enclosure.knockouts):
        x = box.u0 + knockout.from_left_in
        top = knockout.edge == "top"
        at = (x, box.v1 - 0.9 if top else box.v0 + 0.9)
        words = f"{tape(knockout.diameter_in)} {knockout.use}"
        long = f"{words}, {knockout.edge}, {tape(knockout.from_left_in)} from the left of the box"
        toward = (0.0, -1.0 if top else 1.0)
        toward = (0.35 * (-1.0 if knockout.from_left_in < bay.enclosure.width_in / 2 else 1.0), toward[1])
        out.append(Label(f"knockout {i}", words, at, 0.03 * k, rank=2, long=long, toward=toward))
    hook = bay.view.x(bay.view.hook_in)
    if window[0] - 0.01 < hook < window[1] + 0.01:
        at = (hook, bay.level.plate_top_in * 0.9)
        toward = (-1.0 if bay.view.hook_hand == "left" else 1.0, 0.0)
        words = "corner: hook here" if bay.view.hook_is_corner else "end of the plate: hook here"
        out.append(Label("corner", words, at, 0.02 * k, rank=3, toward=toward))
    holes = _holes_here(bay, window)
    for axis in ("up", "along"):
        for group in _groups([h for h in holes if h[3] == axis]):
            ids = hole_names([hole[0] for hole in group])
            at = group[len(group) // 2][1]
            out.append(Label(f"hole {ids}", ids, at, 0.16 * k, rank=1, bold=True))
    words = low_voltage_words(bay.job, bay.wiring, bay.enclosure)
    if words:
        at = (box.center[0], box.v1 + 5)
        out.append(Label("bundle", words, at, 0.05 * k, rank=2, long=words))
    points, feed = _power_way(bay, window), bay.enclosure.ac_feed
    if points and feed is not None:
        at = points[1] if len(points) > 2 else points[0]
        out.append(Label("power", "AC feed by the licensed electrician", at, 0.03 * k, rank=2))
        if feed.hole_height_in is not None and len(points) > 2:
            size = tape(feed.hole_diameter_in) if feed.hole_diameter_in is not None else "its"
            after = sum(feed.bay_studs_in or (0, 0)) / 2 > bay.high_in
            at = (bay.view.x(bay.high_in + 0.75 if after else bay.low_in - 0.75), feed.hole_height_in)
            words = f"{size} hole, {tape(feed.hole_height_in)} above subfloor"
            out.append(Label("ac hole", words, at, 0.03 * k, rank=2))
        if feed.staple_from_box_in is not None:
            x, v = points[-1]
            at = (x, v - feed.staple_from_box_in if points[-2][1] < v else v + feed.staple_from_box_in)
            words = f"staple {tape(feed.staple_from_box_in)} from the box"
            out.append(Label("staple", words, at, 0.06 * k, rank=3))
        if feed.tail_in is not None:
            at = (points[-1][0], box.v0 + 2.5)
            out.append(Label("tail", f"tail {tape(feed.tail_in)}", at, 0.03 * k, rank=3, within=box))
    told: set[float] = set()
    for i, (from_left_in, from_bottom_in) in enumerate(sorted(bay.enclosure.fixing_points)):
        # The same height at the other side is said by its twin and by the panel.
        if from_bottom_in in told:
            continue
        told.add(from_bottom_in)
        at = (box.u0 + from_left_in, box.v0 + from_bottom_in)
        out.append(
            Label(
                f"screw {i}",
                f"screw {tape(from_bottom_in)} up",
                at,
                0.06 * k,
                rank=4,
                within=Rect(box.u0 - 40, box.v0, box.u1 + 40, box.v1),
                toward=(-1.0 if from_left_in < bay.enclosure.width_in / 2 else 1.0, 0.0),
            )
        )
    return out


def _groups(holes: list[tuple[str, Point, float, str]]) -> list[list[tuple[str, Point, float, str]]]:
    groups: list[list[tuple[str, Point, float, str]]] = []
    for hole in sorted(holes, key=lambda h: (round(h[1][1], 3), h[1][0])):
        if groups and abs(groups[-1][-1][1][1] - hole[1][1]) < 0.5 and hole[1][0] - groups[-1][-1][1][0] < 4:
            groups[-1].append(hole)
        else:
            groups.append([hole])
    return groups
