"""The plan of one level: framing, locations, the way of the runs as bundles, holes, key, scale bar."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bayrun.drawings import building
from bayrun.drawings.bundles import Stretch, count_words, stretches
from bayrun.drawings.panel import Row, flow
from bayrun.drawings.place_labels import Label, Placement
from bayrun.drawings.scale_bar import scale_bar, scale_words
from bayrun.drawings.scene import (
    Dimension,
    Element,
    Line,
    Point,
    Polyline,
    Scene,
    Symbol,
    Text,
    bounds,
    element_points,
    text_width_pt,
)
from bayrun.drawings.sheets import Sheet
from bayrun.drawings.style import FAINT, INK, PLAN_SCALES, TABLOID, TABLOID_UPRIGHT, Paper, Scale
from bayrun.drawings.symbols import MEANING
from bayrun.framing.records import Frame
from bayrun.geometry import Rect
from bayrun.house import Enclosure, Job, Level, Location, Room, location_point, wall_point
from bayrun.units import tape
from bayrun.wiring import Hole, Run, Wiring

_PANEL_IN = 2.75
_BAND_IN = 2.05
_RIM_IN = 0.4
"""Room around the building for labels and dimensions [in of paper]."""
_RIM_OVER_IN = 0.33
_RIM_SIDE_IN = 0.45
_FOOT_IN = 0.3
"""Under the drawing, for the scale bar [in of paper]."""
_SYMBOL_IN = 0.1
_HOLE_IN = 0.075


@dataclass(frozen=True, slots=True)
class PlanPlace:
    """Where a plan stands on its paper: scale, whole frame, columns of the panel, the drawing [in]."""

    scale: Scale
    frame: Rect
    columns: tuple[Rect, ...]
    draw: Rect


def plan_sheet(job: Job, frame: Frame, wiring: Wiring, level_id: str, paper: Paper | None = None) -> Sheet:
    """The plan of one level at the largest architect's scale that fits.

    Args:
        level_id: Which level.
        paper: None takes tabloid lying, or standing where that shows the level larger.
    Returns:
        The sheet. Its scene measures 0 overlapping and 0 clipped texts; labels without any place are in the
        table of the panel, so nothing is lost.
    """
    level = job.level(level_id)
    building_only: list[Element] = [
        *building.stairs(job, level),
        *building.obstacles(job, level),
        *building.walls(job, frame, level),
        *building.openings(job, level),
    ]
    extent = _extent(job, wiring, level, building_only)
    if paper is None:
        paper = min((TABLOID, TABLOID_UPRIGHT), key=lambda p: fit_plan(extent, p).scale.per_paper_in)
    place = fit_plan(extent, paper)
    k = place.scale.per_paper_in
    ground: list[Element] = [*building.frames_over(job, level, extent), *building_only]
    runs = {run.id: run for run in wiring.runs}
    ways = stretches(job, wiring.runs, level.id)
    ground += [_way(stretch, runs, job, k) for stretch in ways]
    holes = [h for h in wiring.holes if building.level_of(job, h.z).id == level.id]
    marks: list[Element] = [_hole(h, k) for h in holes]
    located = [loc for loc in job.locations if loc.level == level.id]
    marks += [_location(job, loc, k) for loc in located]
    marks += _devices(job, level, k)
    marks += _enclosures(job, level, k)
    overall = _overall(job, level, k)
    arrows = _frame_arrows(job, level, k)
    drawn = [*ground, *marks, *overall, *arrows]
    placement = Placement(k, place.draw, drawn)
    labels = [
        *room_labels(job, level),
        *_location_labels(located, job, k),
        *_enclosure_labels(job, level, k),
        *_hole_labels(holes, k),
        *_bundle_labels(ways, runs, k),
        *_end_letters(ways, runs, k),
        *_frame_labels(job, level, k),
        *_obstacle_labels(job, level),
        *_power_letters(job, level, k),
    ]
    placed = placement.place(labels)
    rows = _rows(job, level, drawn, ways, runs, placed.table)
    key, over = flow(rows, place.columns, k)
    elements = [*ground, *overall, *arrows, *marks, *placed.elements, *key, *plan_foot(place)]
    scene = Scene(
        f"plan-{level.id}",
        place.frame,
        k,
        tuple(elements),
        f"Plan of level {level.id}: framing, {len(located)} locations, {len(holes)} holes, ways of the runs",
    )
    feet = sum(s.length * len(s.runs) for s in ways) / 12
    drilled = sum(not hole.open_passage for hole in holes)
    heading = (
        f"Level {level.id}: {_many(len(located), 'location')}, {_many(drilled, 'hole')} to drill, "
        f"about {feet:,.0f} ft of cable lies level here"
    )
    return Sheet(
        scene.name,
        "plan",
        f"level {level.id}",
        heading,
        scene,
        place.scale,
        "Check what is above, below and behind before drilling. No hole in trusses, beams or headers.",
        paper,
        tuple(r.words for r in over),
    )


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _extent(job: Job, wiring: Wiring, level: Level, drawn: list[Element]) -> Rect:
    points: list[Point] = []
    for element in drawn:
        points += element_points(element)
    for location in job.locations:
        if location.level == level.id:
            x, y, _ = location_point(job, location)
            points.append((x, y))
    for run in wiring.runs:
        for p in run.path:
            if building.level_of(job, p.z).id == level.id:
                points.append((p.x, p.y))
    return bounds(points) if points else Rect(0.0, 0.0, 120.0, 120.0)


def fit_plan(extent: Rect, paper: Paper) -> PlanPlace:
    """The largest architect's scale at which an extent fits a paper beside or over its panel."""
    width, height = paper.body_width_in, paper.body_height_in
    for scale in PLAN_SCALES:
        k = scale.per_paper_in
        w, h = extent.width / k + 2 * _RIM_SIDE_IN, extent.height / k + _RIM_OVER_IN + _RIM_IN + _FOOT_IN
        side, band = w <= width - _PANEL_IN and h <= height, w <= width and h <= height - _BAND_IN
        if side or band or scale is PLAN_SCALES[-1]:
            break
    cx, cy = extent.center
    if side or not band:
        draw_w, draw_h = width - _PANEL_IN, height
    else:
        draw_w, draw_h = width, height - _BAND_IN
    # The scale bar stands under the building, inside the drawing.
    u0 = cx - draw_w / 2 * k
    v1 = cy + (draw_h - _FOOT_IN) / 2 * k
    draw = Rect(u0, v1 - draw_h * k, u0 + draw_w * k, v1)
    frame = Rect(u0, v1 - height * k, u0 + width * k, v1)
    if side or not band:
        columns: tuple[Rect, ...] = (Rect(draw.u1 + 0.1 * k, frame.v0, frame.u1, frame.v1),)
    else:
        count = int(width // 2.6)
        each = (width - 0.2 * (count - 1)) / count
        columns = tuple(
            Rect(
                frame.u0 + i * (each + 0.2) * k,
                frame.v0,
                frame.u0 + (i * (each + 0.2) + each) * k,
                draw.v0 - 0.05 * k,
            )
            for i in range(count)
        )
    return PlanPlace(scale, frame, columns, Rect(draw.u0, draw.v0 + _FOOT_IN * k, draw.u1, draw.v1))


def weight_mm(count: int) -> float:
    """Pen of a bundle of so many runs [mm]: thick where many."""
    return min(0.3 + 0.22 * math.sqrt(count - 1), 1.8)


def _way(stretch: Stretch, runs: dict[str, Run], job: Job, k: float) -> Element:
    if len(stretch.runs) == 1:
        dash = job.practice.cable(runs[stretch.runs[0]].kind).line
        return Line("T-CABL-SNGL", stretch.a, stretch.b, None, "" if dash == "solid" else dash)
    return Line("T-CABL-BNDL", stretch.a, stretch.b, weight_mm(len(stretch.runs)))


def _hole(hole: Hole, k: float) -> Symbol:
    size = max(hole.diameter_in, _HOLE_IN * k)
    return Symbol("T-HOLE", "passage" if hole.open_passage else "hole", (hole.x, hole.y), size, about=hole.id)


def location_spot(job: Job, location: Location, size: float) -> tuple[Point, float, str]:
    """Where a location's mark stands, its turn, and its symbol: beside the wall, on the side it shows to."""
    x, y, _ = location_point(job, location)
    if location.wall is None or location.offset_in is None:
        return (x, y), 0.0, "ceiling"
    wall = job.wall(location.wall)
    side = location.side
    through = side == "exterior" or location.mount in ("exterior", "soffit")
    left = side == "left"
    if side == "exterior" or side is None:
        left = not any(piece.room for piece in wall.left)
    sign = 1.0 if left else -1.0
    spot = wall_point(wall, location.offset_in, sign * (wall.thickness_in / 2 + size / 2))
    dx, dy = wall.direction
    away = math.degrees(math.atan2(dx * sign, -dy * sign)) - 90
    return spot, away + 180 if through else away, "through" if through else "location"


def _location(job: Job, location: Location, k: float) -> Symbol:
    spot, angle, name = location_spot(job, location, _SYMBOL_IN * k)
    return Symbol("T-LOCN", name, spot, _SYMBOL_IN * k, angle, about=location.id)


def _devices(job: Job, level: Level, k: float) -> list[Element]:
    return [
        Symbol("T-LOCN", "device", (g.x_in, g.y_in), _SYMBOL_IN * 1.3 * k, about=g.id)
        for g in job.gear
        if not g.in_enclosure and g.level == level.id and g.x_in is not None and g.y_in is not None
    ]


def _enclosures(job: Job, level: Level, k: float) -> list[Element]:
    boxes = [box for box in job.built_enclosures if box.level == level.id]
    return [element for box in boxes for element in _enclosure(job, box, k)]


def _enclosure(job: Job, chosen: Enclosure, k: float) -> list[Element]:
    wall = job.wall(chosen.wall)
    sign = 1.0 if chosen.side == "left" else -1.0
    width = max(chosen.width_in, 0.2 * k)
    half = wall.thickness_in / 2
    middle = sum(chosen.bay_studs_in) / 2
    outer, inner = sign * (half + 0.6), sign * (half - max(chosen.depth_in, 0.05 * k))
    head = sign * (half + 0.6 - max(1.2, 0.03 * k))
    lo, hi = middle - width / 2, middle + width / 2
    return [
        Polyline("T-ENCL", building.wall_strip(wall, lo, hi, outer, inner), closed=True, fill="#ffffff"),
        Polyline("T-ENCL", building.wall_strip(wall, lo, hi, outer, head), closed=True, fill=INK),
    ]


def room_labels(job: Job, level: Level) -> list[Label]:
    """The names of the rooms of a level, each to stand in its room."""
    out = []
    for room in job.rooms:
        if room.level == level.id:
            anchor, box = _room_middle(room)
            out.append(
                Label(
                    f"room {room.name}",
                    room.name,
                    anchor,
                    size_pt=10.0,
                    bold=True,
                    rank=2,
                    within=box,
                    leader=False,
                    on=_room_spots(room, anchor, box),
                    layer="A-AREA-IDEN",
                    color=FAINT,
                )
            )
    return out


def _room_spots(room: Room, anchor: Point, box: Rect) -> tuple[Point, ...]:
    """Places for a room's name: the middle first, then a net over the room, nearest to the middle first."""
    net = [
        (box.u0 + box.width * i / 8, box.v0 + box.height * j / 10) for i in range(2, 7) for j in range(1, 10)
    ]
    inside = [p for p in net if _inside(room, p)]
    return (anchor, *sorted(inside, key=lambda p: math.dist(p, anchor)))


def _inside(room: Room, point: Point) -> bool:
    x, y = point
    crossed = False
    for (x0, y0), (x1, y1) in zip(room.polygon, room.polygon[1:] + room.polygon[:1], strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (x1 - x0) * (y - y0) / (y1 - y0):
            crossed = not crossed
    return crossed


def _room_middle(room: Room) -> tuple[Point, Rect]:
    """The middle of the widest strip inside a room: inside it even where the room is an L."""
    box = bounds(room.polygon)
    best: tuple[float, Point, Rect] | None = None
    for i in range(1, 12):
        y = box.v0 + box.height * i / 12
        xs = sorted(
            x0 + (x1 - x0) * (y - y0) / (y1 - y0)
            for (x0, y0), (x1, y1) in zip(room.polygon, room.polygon[1:] + room.polygon[:1], strict=True)
            if (y0 > y) != (y1 > y)
        )
        for x0, x1 in zip(xs[::2], xs[1::2], strict=False):
            score = (x1 - x0) - abs(i - 6) * 0.02 * box.height
            if best is None or score > best[0]:
                best = (score, ((x0 + x1) / 2, y), Rect(x0, box.v0, x1, box.v1))
    if best is None:
        return box.center, box
    return best[1], best[2]


def _location_labels(located: list[Location], job: Job, k: float) -> list[Label]:
    out = []
    for location in located:
        spot, angle, _ = location_spot(job, location, _SYMBOL_IN * k)
        toward = (-math.sin(math.radians(angle)), math.cos(math.radians(angle))) if location.wall else None
        out.append(
            Label(
                location.id,
                location.id,
                spot,
                _SYMBOL_IN / 2 * k,
                bold=True,
                rank=1,
                toward=toward,
                long=f"{location.id}, {location.room}",
            )
        )
    return out


def _enclosure_labels(job: Job, level: Level, k: float) -> list[Label]:
    out = []
    for box in job.built_enclosures:
        if box.level == level.id:
            at = wall_point(job.wall(box.wall), sum(box.bay_studs_in) / 2, 0.0)
            out.append(Label(box.id, box.id, at, 0.14 * k, bold=True, rank=0, size_pt=10.0))
    for g in job.gear:
        if not g.in_enclosure and g.level == level.id and g.x_in is not None and g.y_in is not None:
            out.append(Label(g.id, g.id, (g.x_in, g.y_in), 0.07 * k, bold=True, rank=1))
    return out


def hole_order(hole_id: str) -> tuple[str, int]:
    """Sort key of a hole id: ``H2`` before ``H10``."""
    digits = "".join(c for c in hole_id if c.isdigit())
    return hole_id.rstrip("0123456789"), int(digits or 0)


def hole_names(ids: list[str]) -> str:
    """Ids in few words: ``H12``, ``H12, H14``, ``H19 to H24`` where the numbers run through."""
    ordered = sorted(ids, key=hole_order)
    numbers = [hole_order(i)[1] for i in ordered]
    if len(ordered) > 2 and numbers[-1] - numbers[0] + 1 == len(ordered):
        return f"{ordered[0]} to {ordered[-1]}"
    return ", ".join(ordered) if len(ordered) < 5 else f"{len(ordered)} holes, see the list"


def hole_groups(holes: list[Hole], near: float) -> list[tuple[str, list[Hole]]]:
    """Holes that read as one: numbers in a row, in one wall or frame, close together: ``H12 to H19``."""
    groups: list[list[Hole]] = []
    for hole in sorted(holes, key=lambda h: hole_order(h.id)):
        if groups:
            last = groups[-1][-1]
            row = (
                hole_order(hole.id)[0] == hole_order(last.id)[0]
                and hole_order(hole.id)[1] == hole_order(last.id)[1] + 1
            )
            same = hole.wall == last.wall and hole.axis == last.axis and bool(hole.wall)
            if row and same and math.dist((hole.x, hole.y), (last.x, last.y)) < near:
                groups[-1].append(hole)
                continue
        groups.append([hole])
    out = []
    for group in groups:
        out.append((hole_names([hole.id for hole in group]), group))
    return out


def _hole_labels(holes: list[Hole], k: float) -> list[Label]:
    out = []
    for words, group in hole_groups(holes, 0.62 * k):
        middle = group[len(group) // 2]
        out.append(
            Label(middle.id, words, (middle.x, middle.y), _HOLE_IN / 2 * k, rank=3, long=f"holes {words}")
        )
    return out


def _bundle_labels(ways: tuple[Stretch, ...], runs: dict[str, Run], k: float) -> list[Label]:
    """One count for each longest stretch of a set of runs; short pieces between joints stay without."""
    best: dict[tuple[str, ...], Stretch] = {}
    for stretch in ways:
        if len(stretch.runs) > 1 and stretch.length > 0.45 * k:
            known = best.get(stretch.runs)
            if known is None or stretch.length > known.length:
                best[stretch.runs] = stretch
    out = []
    for ids, stretch in sorted(best.items()):
        mid = ((stretch.a[0] + stretch.b[0]) / 2, (stretch.a[1] + stretch.b[1]) / 2)
        words = count_words(runs[i] for i in ids)
        out.append(
            Label(
                f"bundle {mid[0]:.1f} {mid[1]:.1f}",
                words,
                mid,
                0.02 * k,
                rank=4,
                bold=True,
                long=f"{words}: {len(ids)} runs",
            )
        )
    return out


def _end_letters(ways: tuple[Stretch, ...], runs: dict[str, Run], k: float) -> list[Label]:
    """The kind's letter on every single run: near both ends and every few feet where there is room."""
    out = []
    for stretch in ways:
        if len(stretch.runs) > 1 or stretch.length < 0.3 * k:
            continue
        kind = runs[stretch.runs[0]].kind
        count = max(1, round(stretch.length / (2.2 * k)))
        for i in range(count):
            spots = tuple(
                (
                    stretch.a[0] + (stretch.b[0] - stretch.a[0]) * t,
                    stretch.a[1] + (stretch.b[1] - stretch.a[1]) * t,
                )
                for t in ((i + 0.5 + d) / count for d in (0.0, 0.15, -0.15, 0.3, -0.3, 0.4, -0.4))
            )
            about = f"single {spots[0][0]:.1f} {spots[0][1]:.1f}"
            out.append(Label(about, kind, spots[0], rank=5, on=spots, optional=True))
    return out


def _frame_arrows(job: Job, level: Level, k: float) -> list[Element]:
    out: list[Element] = []
    for at, direction, _ in _frame_spots(job, level, k):
        half, barb = 0.28 * k, 0.05 * k
        x, y = at
        a, b = ((x, y - half), (x, y + half)) if direction == "y" else ((x - half, y), (x + half, y))
        out.append(Line("S-JOIS-ANNO", a, b))
        for (px, py), s in ((a, 1), (b, -1)):
            wing = (
                ((px - barb, py + s * barb), (px + barb, py + s * barb))
                if direction == "y"
                else ((px + s * barb, py - barb), (px + s * barb, py + barb))
            )
            out.append(Polyline("S-JOIS-ANNO", (wing[0], (px, py), wing[1])))
    return out


def _frame_spots(job: Job, level: Level, k: float) -> list[tuple[Point, str, str]]:
    out = []
    for frame in job.frames:
        if frame.above_level == level.id:
            x0, y0, x1, y1 = frame.area
            spacing = f" {tape(frame.spacing_in)} on center" if frame.spacing_in else ""
            words = f"{frame.kind}{spacing}, above"
            # A little off the middle, where the ridge and the middle walls stand.
            at = (x0 + (x1 - x0) * 0.3, y0 + (y1 - y0) * 0.36)
            out.append((at, str(frame.direction), words))
    return out


def _frame_labels(job: Job, level: Level, k: float) -> list[Label]:
    return [
        Label(f"frame {words} {at[0]:.0f}", words, at, 0.06 * k, rank=7, layer="S-JOIS-ANNO")
        for at, _, words in _frame_spots(job, level, k)
    ]


def _obstacle_labels(job: Job, level: Level) -> list[Label]:
    out = []
    for thing in job.obstacles:
        if level.id not in thing.levels or thing.is_power_run:
            continue
        if thing.rect is not None:
            at = Rect(*thing.rect).center
        elif thing.center is not None and None not in thing.center:
            at = (thing.center[0] or 0.0, thing.center[1] or 0.0)
        else:
            continue
        out.append(
            Label(f"obstacle {thing.id}", thing.kind, at, 1.0, rank=8, long=thing.kind, layer="A-ANNO-TEXT")
        )
    return out


def _power_letters(job: Job, level: Level, k: float) -> list[Label]:
    """AC on the electrician's runs, so that they read as his without color."""
    out = []
    for element in building.obstacles(job, level):
        if isinstance(element, Polyline) and element.layer == "E-POWR" and not element.closed:
            for a, b in zip(element.points, element.points[1:], strict=False):
                if math.dist(a, b) > 0.5 * k:
                    spots = tuple(
                        (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)
                        for t in (0.5, 0.35, 0.65, 0.2, 0.8)
                    )
                    about = f"power {spots[0][0]:.1f} {spots[0][1]:.1f}"
                    out.append(Label(about, "AC", spots[0], rank=6, on=spots, optional=True, color=FAINT))
    return out


def _overall(job: Job, level: Level, k: float) -> list[Element]:
    """Overall dimensions along the front and the left side, to the framing faces."""
    points: list[Point] = []
    for wall in job.walls:
        if wall.level == level.id:
            half = wall.thickness_in / 2
            for at in (wall.plate_start_in, wall.plate_end_in):
                points += [wall_point(wall, at, half), wall_point(wall, at, -half)]
    if not points:
        return []
    box = bounds(points)
    return [
        Dimension("A-ANNO-DIMS", (box.u0, box.v0), (box.u1, box.v0), box.v0 - 0.28 * k),
        Dimension("A-ANNO-DIMS", (box.u0, box.v0), (box.u0, box.v1), box.u0 - 0.28 * k, 90.0),
    ]


def plan_foot(place: PlanPlace) -> list[Element]:
    """Scale bar to check the printer, and the arrow to the front of the house."""
    k = place.scale.per_paper_in
    x, y = place.frame.u0 + 0.12 * k, place.draw.v0 - 0.24 * k
    words = scale_words(place.scale)
    out = scale_bar((x, y), place.scale)
    ax = x + 2.1 * k + text_width_pt(words, 9.0) / 72 * k + 0.4 * k
    out.append(Line("A-ANNO-SYMB", (ax, y + 0.2 * k), (ax, y - 0.04 * k)))
    barbs = ((ax - 0.05 * k, y + 0.05 * k), (ax, y - 0.04 * k), (ax + 0.05 * k, y + 0.05 * k))
    out.append(Polyline("A-ANNO-SYMB", barbs, True, INK))
    out.append(Text("A-ANNO-SYMB", (ax + 0.12 * k, y), "front of the house"))
    return out


def _rows(
    job: Job,
    level: Level,
    drawn: list[Element],
    ways: tuple[Stretch, ...],
    runs: dict[str, Run],
    table: tuple[tuple[str, str], ...],
) -> list[Row]:
    """The key: only what the drawing uses."""
    symbols = {e.name for e in drawn if isinstance(e, Symbol)}
    layers = {e.layer for e in drawn if hasattr(e, "layer")}
    rows = [Row("Key to this sheet", heading=True)]
    rows += [Row(MEANING[name], symbol=name) for name in MEANING if name in symbols and name != "up"]
    if "T-ENCL" in layers:
        rows.append(Row(MEANING["enclosure"], symbol="enclosure"))
    if any(len(s.runs) > 1 for s in ways):
        rows.append(
            Row("Bundle, thick where many: 7D 2X is 7 data and 2 coax", line=("T-CABL-BNDL", 0.8, None, ""))
        )
    for kind in sorted({runs[s.runs[0]].kind for s in ways if len(s.runs) == 1}):
        cable = job.practice.cable(kind)
        dash = "" if cable.line == "solid" else cable.line
        rows.append(Row(f"One run: {cable.name}", line=("T-CABL-SNGL", None, dash, kind)))
    for layer, words in (
        ("S-JOIS", "Joists or trusses above, one line each"),
        ("S-BEAM", "Beam or post: no hole"),
        ("X-OBST", "Pipe, duct, cabinet of another trade"),
        ("A-WALL-HDLN", "Above the cut: header of an opening"),
    ):
        if layer in layers:
            rows.append(Row(words, line=(layer, None, None, "")))
    if "E-POWR" in layers:
        rows.append(Row("Power: the licensed electrician's", line=("E-POWR", None, None, "AC")))
    if table:
        rows.append(Row("Numbers on the drawing", heading=True))
        rows += [Row(words, lead=number) for number, words in table]
    return rows
