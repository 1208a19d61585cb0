"""Small plain drawings of the limits, for the rule book: the figures are those of the clauses in force.

Each picture is a scene in real inches drawn from the adopted clause: a local amendment moves its lines.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from bayrun.drawings.scene import (
    Circle,
    Dimension,
    Element,
    Hatch,
    Line,
    Polyline,
    Scene,
    Text,
    bounds,
    element_points,
    rectangle,
)
from bayrun.drawings.svg import svg
from bayrun.geometry import Rect
from bayrun.limits import Piece, largest_hole_in, strap_length_in
from bayrun.rules.words import found, percent
from bayrun.tables import Adopted
from bayrun.units import tape

Point = tuple[float, float]
WOOD, DIMS, NOTES, HOLES, STEEL, FAR = (
    "A-WALL-STUD",
    "A-ANNO-DIMS",
    "A-ANNO-TEXT",
    "T-HOLE",
    "T-PLTE",
    "X-OBST",
)
MARGIN_PAPER_IN = 0.12


def _box(layer: str, u0: float, v0: float, u1: float, v1: float, **look: object) -> Polyline:
    return Polyline(layer, rectangle(u0, v0, u1, v1), closed=True, **look)  # type: ignore[arg-type]


def _wood(u0: float, v0: float, u1: float, v1: float) -> tuple[Element, ...]:
    return Hatch(WOOD, rectangle(u0, v0, u1, v1), "wood"), _box(WOOD, u0, v0, u1, v1, weight_mm=0.35)


def _note(at: Point, text: str, *, bold: bool = False) -> Text:
    return Text(NOTES, at, text, align="center", bold=bold)


def _scene(name: str, says: str, per_paper_in: float, parts: list[Element]) -> Scene:
    """The scene with a frame just around everything in it."""
    bare = Scene(name, Rect(0, 0, 1, 1), per_paper_in, tuple(parts), says)
    corners: list[Point] = []
    for part in parts:
        if isinstance(part, Text):
            continue
        if isinstance(part, Dimension):
            for piece in part.parts(per_paper_in):
                corners += [] if isinstance(piece, Text) else list(element_points(piece))
        else:
            corners += list(element_points(part))
    for text in bare.texts():
        ink = text.box(per_paper_in)
        corners += [(ink.u0, ink.v0), (ink.u1, ink.v1)]
    around = bounds(corners)
    pad = MARGIN_PAPER_IN * per_paper_in
    frame = Rect(around.u0 - pad, around.v0 - pad, around.u1 + pad, around.v1 + pad)
    return Scene(name, frame, per_paper_in, tuple(parts), says)


# --- studs and plates ------------------------------------------------------------------------------------


def _stud_bore(adopted: Adopted) -> Scene:
    """Three 2x4 studs by their load, each with its largest hole."""
    edge_in = float(adopted.value("stud-bore", "edge_in"))
    kinds = (
        ("bearing or exterior", Piece("sawn", "stud", 3.5)),
        ("doubled, two in a row", Piece("sawn", "stud", 3.5, doubled=True)),
        ("non-bearing", Piece("sawn", "stud", 3.5, bearing=False)),
    )
    parts: list[Element] = []
    for i, (name, piece) in enumerate(kinds):
        left, most_in = 8.5 * i, largest_hole_in(piece, adopted) or 0.0
        center = (left + 1.75, 4.0)
        parts += [*_wood(left, 0.0, left + 3.5, 8.0), Circle(HOLES, center, most_in / 2, fill="#ffffff")]
        low, high = center[0] - most_in / 2, center[0] + most_in / 2
        parts.append(Dimension(DIMS, (low, 4.0), (high, 4.0), 8.9, text=f'{most_in:.2f}"'))
        parts.append(Dimension(DIMS, (left, 0.0), (left + 3.5, 0.0), -0.9))
        parts.append(_note((center[0], -2.2), name))
        parts.append(_note((center[0], -3.1), f"at most {percent(most_in / 3.5)}"))
    says = f"Largest holes in a 2x4 stud; at least {found(edge_in)} of wood at each edge"
    parts.append(_note((10.25, -4.4), f"At least {found(edge_in)} of wood stays at each edge"))
    return _scene("stud-bore", says, 4.0, parts)


def _stud_notch(adopted: Adopted) -> Scene:
    """Two 2x4 studs with their deepest notch."""
    parts: list[Element] = []
    for i, (name, figure) in enumerate((("bearing or exterior", "bearing"), ("non-bearing", "non_bearing"))):
        left, deep_in = 8.5 * i, float(adopted.value("stud-notch", figure)) * 3.5
        points = [(0, 0), (3.5, 0), (3.5, 8), (0, 8), (0, 4.75), (deep_in, 4.75), (deep_in, 3.25), (0, 3.25)]
        outline = tuple((left + u, v) for u, v in points)
        parts += [Hatch(WOOD, outline, "wood"), Polyline(WOOD, outline, closed=True, weight_mm=0.35)]
        parts.append(Dimension(DIMS, (left, 4.75), (left + deep_in, 4.75), 8.9, text=f'{deep_in:.3g}"'))
        parts.append(Line(STEEL, (left, 2.25), (left, 5.75)))
        parts += [
            _note((left + 1.75, -1.2), name),
            _note((left + 1.75, -2.1), f"at most {percent(deep_in / 3.5)}"),
        ]
    parts.append(_note((6.0, -3.4), "Cable in a notch always under steel; no hole in the same section"))
    return _scene(
        "stud-notch", "Deepest notches in a 2x4 stud, and the steel plate over the cable", 4.0, parts
    )


def _plate_tie(adopted: Adopted) -> Scene:
    """A 2x4 top plate from above: the cut over which a strap is asked, and the strap."""
    clause = adopted.clause("plate-tie")
    share, past_in = float(clause.value("share")), float(clause.value("past_in"))
    cut_in = share * 3.5 + 0.25
    long_in, wide_in = strap_length_in(cut_in, adopted), float(clause.value("width_in"))
    middle = 10.0
    parts: list[Element] = [
        *_wood(0.0, 0.0, 20.0, 3.5),
        Circle(HOLES, (middle, 1.75), cut_in / 2, fill="#ffffff"),
    ]
    parts.append(_box(STEEL, middle - long_in / 2, 4.4, middle + long_in / 2, 4.4 + wide_in, fill="#d6d9dc"))
    for side in (-1, 1):
        for i in range(4):
            for row in (0.4, 1.1):
                at = middle + side * (cut_in / 2 + 0.9 + i * 1.3)
                parts.append(Circle(STEEL, (at, 4.4 + row), 0.08, fill="#20242a", weight_mm=0.09))
    low, high = middle - cut_in / 2, middle + cut_in / 2
    parts.append(
        Dimension(DIMS, (high, 4.4), (middle + long_in / 2, 4.4), 6.9, text=f"{found(past_in)} past it")
    )
    parts.append(Dimension(DIMS, (low, 0.0), (high, 0.0), -0.9, text=f"over {found(share * 3.5)}"))
    nails = int(clause.value("nails_each_side"))
    thick = float(clause.value("thickness_in"))
    parts.append(
        _note((middle, -2.4), f"Steel {thick:.3f} by {found(wide_in)}, {nails} nails 10d on each side")
    )
    parts.append(_note((middle, -3.3), "Not where wood panels cover that whole side of the wall"))
    return _scene("plate-tie", "A bearing top plate cut by more than half takes a steel strap", 4.0, parts)


# --- joists ----------------------------------------------------------------------------------------------


def _joist_bore(adopted: Adopted) -> Scene:
    """A 2x10 joist from the side: a third of its depth, 2 in from edges and from each other."""
    clause = adopted.clause("joist-bore")
    depth_in = 9.25
    most_in = float(clause.value("share")) * depth_in
    edge_in, gap_in = float(clause.value("edge_in")), float(clause.value("gap_in"))
    parts: list[Element] = [*_wood(0.0, 0.0, 26.0, depth_in)]
    first, second = 7.0, 7.0 + most_in / 2 + gap_in + 1.0
    parts.append(Circle(HOLES, (first, depth_in / 2), most_in / 2, fill="#ffffff"))
    parts.append(Circle(HOLES, (second, depth_in - edge_in - 1.0), 1.0, fill="#ffffff"))
    parts.append(
        Dimension(
            DIMS,
            (0.0, depth_in / 2 - most_in / 2),
            (0.0, depth_in / 2 + most_in / 2),
            -1.0,
            90.0,
            text=f'{most_in:.2f}"',
        )
    )
    parts.append(
        Dimension(DIMS, (26.0, depth_in - edge_in), (26.0, depth_in), 27.0, 90.0, text=found(edge_in))
    )
    parts.append(
        Dimension(
            DIMS,
            (first + most_in / 2, depth_in),
            (second - 1.0, depth_in),
            depth_in + 1.1,
            text=found(gap_in),
        )
    )
    parts.append(
        _note(
            (13.0, -1.6), f"2x10: at most {percent(most_in / depth_in)} of the depth, anywhere along the span"
        )
    )
    says = "Largest hole in a 2x10 joist, its distance from the edges and from another hole"
    return _scene("joist-bore", says, 7.0, parts)


def _joist_notch(adopted: Adopted) -> Scene:
    """A joist on two bearings: no notch in the middle third."""
    clause = adopted.clause("joist-notch")
    depth_in, span_in = 9.25, 60.0
    deep_in, end_in = float(clause.value("share")) * depth_in, float(clause.value("end_share")) * depth_in
    low, high = (float(clause.value(n)) * span_in for n in ("clear_from_share", "clear_to_share"))
    parts: list[Element] = [*_wood(0.0, 0.0, span_in, depth_in)]
    parts.append(_box(FAR, low, 0.0, high, depth_in, fill="#d6d9dc"))
    parts += [_box("S-BEAM", -1.0, -6.0, 2.5, 0.0), _box("S-BEAM", span_in - 2.5, -6.0, span_in + 1.0, 0.0)]
    parts.append(_box(HOLES, 10.0, depth_in - deep_in, 13.0, depth_in, fill="#ffffff"))
    parts.append(Dimension(DIMS, (low, depth_in), (high, depth_in), depth_in + 2.6, text="no notch here"))
    parts.append(
        Dimension(DIMS, (10.0, depth_in - deep_in), (10.0, depth_in), 7.2, 90.0, text=f'{deep_in:.2f}"')
    )
    parts.append(_note((span_in / 2, -3.2), "middle third of the span"))
    parts.append(
        _note(
            (span_in / 2, -9.0),
            f"2x10: {percent(deep_in / depth_in)} of the depth, at the end {end_in:.2f} in",
        )
    )
    return _scene("joist-notch", "A joist takes no notch in the middle third of its span", 14.0, parts)


def _engineered(adopted: Adopted) -> Scene:
    """An I-joist from the side: flanges never, the web by its maker's chart."""
    depth_in, flange_in = 11.875, 1.5
    parts: list[Element] = [
        *_wood(0.0, 0.0, 34.0, flange_in),
        *_wood(0.0, depth_in - flange_in, 34.0, depth_in),
    ]
    parts.append(_box(WOOD, 0.0, flange_in, 34.0, depth_in - flange_in))
    for at in (6.0, 22.0):
        parts.append(Circle(HOLES, (at, depth_in / 2), 0.75, dash="short dash"))
    for v in (0.35, depth_in - flange_in + 0.35):
        parts.append(_note((17.0, v), "flange: never"))
    parts.append(_note((14.0, depth_in / 2 - 0.4), "knockouts"))
    parts.append(_note((17.0, -1.9), "Web: only as the maker's chart says; no chart, no hole"))
    return _scene(
        "engineered", "An I-joist: flanges are never cut, the web only by its maker's chart", 8.0, parts
    )


# --- steel over cables -----------------------------------------------------------------------------------


def _nail_plate(adopted: Adopted) -> Scene:
    """Two holes in a 2x4: one that needs no steel, one that needs it on both faces."""
    keep_in = float(adopted.value("nail-plate", "edge_in"))
    parts: list[Element] = []
    free_in = max(0.25, 3.5 - 2 * keep_in)
    for i, size_in in enumerate((free_in, free_in + 0.25)):
        left = 9.0 * i
        parts += [
            *_wood(left, 0.0, left + 3.5, 8.0),
            Circle(HOLES, (left + 1.75, 4.0), size_in / 2, fill="#ffffff"),
        ]
        edge_in = 1.75 - size_in / 2
        parts.append(Dimension(DIMS, (left, 4.0), (left + edge_in, 4.0), 8.9, text=found(edge_in)))
        if i:
            parts += [Line(STEEL, (left + u, 2.0), (left + u, 6.0), 1.0) for u in (-0.1, 3.6)]
        told = "steel on both faces" if i else "no steel"
        parts += [_note((left + 1.75, -1.2), f"{found(size_in)} hole"), _note((left + 1.75, -2.1), told)]
    says = f"Steel where a hole leaves less than {found(keep_in)} of wood at a face"
    parts.append(_note((6.25, -3.4), says))
    return _scene("nail-plate", says, 4.0, parts)


def _setback(adopted: Adopted) -> Scene:
    """A cable along a stud, cut across: its surface 1-1/4 in from the face."""
    keep_in = float(adopted.value("parallel-setback", "edge_in"))
    parts: list[Element] = [
        Hatch(WOOD, rectangle(0.0, 0.0, 1.5, 3.5), "wood cut"),
        _box(WOOD, 0.0, 0.0, 1.5, 3.5),
    ]
    parts += [_box("A-WALL", -3.0, 3.5, 6.0, 4.0), _box("A-WALL", -3.0, -0.5, 6.0, 0.0)]
    parts.append(Circle("T-CABL-SNGL", (1.63, 3.5 - keep_in - 0.115), 0.115, fill="#20242a"))
    parts.append(Dimension(DIMS, (1.75, 3.5 - keep_in), (1.75, 3.5), 3.4, 90.0, text=found(keep_in)))
    parts.append(_note((1.5, -1.3), "board, stud and cable from above"))
    says = f"A cable along a stud keeps {found(keep_in)} from the face that takes screws"
    parts.append(_note((1.5, -2.0), says))
    return _scene("parallel-setback", says, 3.0, parts)


# --- boxes and the enclosure -----------------------------------------------------------------------------


def _rated(adopted: Adopted) -> Scene:
    """Two boxes on the two faces of a rated wall, from above."""
    clause = adopted.clause("rated-membrane")
    apart_in = float(clause.value("opposite_gap_in"))
    parts: list[Element] = [_box("A-WALL", 0.0, 3.5, 48.0, 4.75), _box("A-WALL", 0.0, -1.25, 48.0, 0.0)]
    for at in (0.75, 16.75, 32.75, 47.25):
        parts.append(Hatch(WOOD, rectangle(at - 0.75, 0.0, at + 0.75, 3.5), "wood cut"))
    first = 12.0
    parts.append(_box(STEEL, first - 1.125, 2.0, first + 1.125, 4.75, fill="#d6d9dc"))
    parts.append(_box(STEEL, first + apart_in - 1.125, -1.25, first + apart_in + 1.125, 1.5, fill="#d6d9dc"))
    parts.append(
        Dimension(DIMS, (first, 4.75), (first + apart_in, 4.75), 7.4, text=f"{found(apart_in)} at least")
    )
    area, total = float(clause.value("area_in2")), float(clause.value("total_in2"))
    says = f"Steel boxes of at most {area:g} sq in, all together {total:g} sq in in each 100 sq ft of wall"
    parts.append(_note((24.0, -4.6), says))
    return _scene("rated-membrane", says, 9.0, parts)


def _enclosure(adopted: Adopted) -> Scene:
    """A 28 in enclosure in its bay, with the heights it stays between."""
    clause = adopted.clause("enclosure-place")
    low_in, high_in, side_in = (float(clause.value(n)) for n in ("bottom_in", "top_in", "side_in"))
    parts: list[Element] = [*_wood(0.0, 0.0, 1.5, 96.0), *_wood(16.0, 0.0, 17.5, 96.0)]
    parts.append(Line("A-WALL", (-14.0, 0.0), (34.0, 0.0), 0.5))
    parts.append(_box("T-ENCL", 1.625, 34.0, 15.875, 62.0))
    parts.append(Dimension(DIMS, (0.0, 0.0), (0.0, low_in), -7.0, 90.0, text=f"{tape(low_in)} at least"))
    parts.append(Dimension(DIMS, (17.5, 0.0), (17.5, high_in), 24.0, 90.0, text=f"{tape(high_in)} at most"))
    for v in (low_in, high_in):
        parts.append(Line(DIMS, (-9.0, v), (26.0, v), 0.13, "long dash"))
    parts.append(_note((8.75, 46.0), "enclosure"))
    parts.append(_note((8.75, -6.0), "finished floor"))
    says = f"Heights of an enclosure above the finished floor; {found(side_in)} of room at each side"
    return _scene("enclosure-place", says, 24.0, parts)


def _working(adopted: Adopted) -> Scene:
    """Clear floor before the enclosure, from above."""
    clause = adopted.clause("working-space")
    deep_in, wide_in = float(clause.value("depth_in")), float(clause.value("width_in"))
    high_in = float(clause.value("height_in"))
    parts: list[Element] = [_box("A-WALL", -20.0, 0.0, 60.0, 4.5)]
    parts.append(_box("T-ENCL", 7.875, 0.0, 22.125, 3.6))
    parts.append(_box(DIMS, 0.0, -deep_in, wide_in, 0.0, dash="long dash"))
    parts.append(Dimension(DIMS, (0.0, -deep_in), (wide_in, -deep_in), -deep_in - 5.0, text=found(wide_in)))
    parts.append(
        Dimension(DIMS, (wide_in, -deep_in), (wide_in, 0.0), wide_in + 6.0, 90.0, text=tape(deep_in))
    )
    parts.append(_note((wide_in / 2, -deep_in / 2), "clear floor"))
    says = f"Clear floor before the enclosure, {tape(high_in)} high, as good practice"
    parts.append(_note((20.0, -deep_in - 12.0), says))
    return _scene("working-space", says, 20.0, parts)


def _jamb(adopted: Adopted) -> Scene:
    """A box beside a door: room for its jamb studs and casing."""
    clause = adopted.clause("location-place")
    keep_in, wide_in = float(clause.value("jamb_in")), float(clause.value("box_width_in"))
    tall_in = float(clause.value("box_height_in"))
    parts: list[Element] = [*_wood(-1.5, 0.0, 0.0, 30.0), *_wood(-3.0, 0.0, -1.5, 30.0)]
    parts.append(Line("A-WALL", (-16.0, 0.0), (14.0, 0.0), 0.5))
    left = -keep_in - wide_in
    parts.append(_box("T-LOCN", left, 12.0, left + wide_in, 12.0 + tall_in))
    parts.append(Dimension(DIMS, (-keep_in, 12.0), (0.0, 12.0), 8.0, text=f"{found(keep_in)} at least"))
    parts.append(_note((7.0, 18.0), "door"))
    says = "A box beside an opening leaves room for jamb studs and casing"
    parts.append(_note((-1.0, -4.0), says))
    return _scene("location-place", says, 10.0, parts)


# --- cables, power, looking first ------------------------------------------------------------------------


def _fill(adopted: Adopted) -> Scene:
    """Seven data cables in a 1 in hole: just under 40 %."""
    never = float(adopted.value("fill", "never_over"))
    parts: list[Element] = [Circle(HOLES, (0.0, 0.0), 0.5)]
    for i in range(7):
        r = 0.0 if i == 0 else 0.26
        at = (r * math.cos(math.radians(60 * i)), r * math.sin(math.radians(60 * i)))
        parts.append(Circle("T-CABL-SNGL", at, 0.115, fill="#d6d9dc"))
    share = 7 * 0.23 * 0.23
    parts.append(Dimension(DIMS, (-0.5, 0.0), (0.5, 0.0), 0.62, text="1 in hole"))
    parts.append(_note((0.0, -0.75), f"7 data cables of 0.23 in: {percent(share)}"))
    parts.append(_note((0.0, -0.95), f"the firm's limit, never over {percent(never)}"))
    return _scene("fill", "Seven data cables fill a 1 in hole to 37 per cent", 0.6, parts)


def _ac_support(adopted: Adopted) -> Scene:
    """The feed of the enclosure: where it is secured, by firm and code."""
    firm_in = float(adopted.value("ac-support-firm", "box_in"))
    code_in = float(adopted.value("ac-support", "box_in"))
    bare_in = float(adopted.value("ac-support-unclamped", "box_in"))
    parts: list[Element] = [_box("T-ENCL", 0.0, 0.0, 14.25, 10.0), *_wood(-1.5, -16.0, 0.0, 12.0)]
    parts.append(Line("E-POWR", (2.0, -16.0), (2.0, 0.0)))
    for at_in, offset, who in ((firm_in, 5.0, "firm"), (bare_in, 9.0, "no clamp"), (code_in, 14.0, "clamp")):
        parts.append(Line("E-POWR", (1.2, -at_in), (2.8, -at_in), 0.5))
        parts.append(Dimension(DIMS, (2.0, -at_in), (2.0, 0.0), offset, 90.0, text=f"{found(at_in)} {who}"))
    says = "The power cable is secured near the enclosure: the tighter of the firm's and the code's distance"
    parts.append(_note((7.0, -18.2), "the licensed electrician's cable, from below"))
    return _scene("ac-support", says, 8.0, parts)


def _look(adopted: Adopted) -> Scene:
    """A bit up through a plate, with what lies within its reach."""
    clause = adopted.clause("look-first")
    look_in, hit_in = float(clause.value("look_in")), float(clause.value("hit_in"))
    parts: list[Element] = [*_wood(-12.0, -3.0, 12.0, 0.0)]
    parts.append(_box(HOLES, -0.5, -3.0, 0.5, 0.0, fill="#ffffff"))
    parts.append(_box(DIMS, -0.5 - look_in, hit_in, 0.5 + look_in, look_in, dash="long dash"))
    parts.append(_box(STEEL, -0.5, 0.0, 0.5, hit_in, fill="#6b7077", weight_mm=0.18))
    parts.append(Circle(FAR, (6.0, 6.0), 1.2))
    parts.append(_note((6.0, 7.9), "pipe"))
    parts.append(Dimension(DIMS, (12.5, 0.0), (12.5, look_in), 15.0, 90.0, text=found(look_in)))
    says = f"Look above and behind first: {found(look_in)} around; nothing within {found(hit_in)} of the wood"
    parts.append(_note((0.0, -5.0), says))
    return _scene("look-first", says, 7.0, parts)


def _wall_space(adopted: Adopted) -> Scene:
    """A wall without a location, and how far a floor point may be from one."""
    clause = adopted.clause("wall-space")
    long_in, reach_in = float(clause.value("unbroken_in")), float(clause.value("reach_in"))
    parts: list[Element] = [Line("A-WALL", (0.0, 0.0), (reach_in + 30.0, 0.0), 0.5)]
    parts.append(_box("T-LOCN", reach_in, 0.0, reach_in + 4.0, 8.0))
    parts.append(Dimension(DIMS, (0.0, 0.0), (long_in, 0.0), 26.0, text=f"{tape(long_in)} unbroken"))
    parts.append(Dimension(DIMS, (0.0, 0.0), (reach_in, 0.0), -26.0, text=f"{tape(reach_in)} at most"))
    parts.append(_note((reach_in, 16.0), "location"))
    return _scene("wall-space", "Wall spaces that get a location, as a recommendation", 80.0, parts)


PICTURES: dict[str, Callable[[Adopted], Scene]] = {
    "stud-bore": _stud_bore,
    "stud-notch": _stud_notch,
    "plate-tie": _plate_tie,
    "joist-bore": _joist_bore,
    "joist-notch": _joist_notch,
    "engineered": _engineered,
    "nail-plate": _nail_plate,
    "parallel-setback": _setback,
    "rated-membrane": _rated,
    "enclosure-place": _enclosure,
    "working-space": _working,
    "location-place": _jamb,
    "fill": _fill,
    "ac-support": _ac_support,
    "look-first": _look,
    "wall-space": _wall_space,
}
"""Clause slug to its picture."""


def limit_pictures(adopted: Adopted) -> tuple[tuple[str, bytes], ...]:
    """(file name, SVG) of every picture, by the clauses in force; the same bytes for the same clauses."""
    return tuple((f"{slug}.svg", svg(make(adopted))) for slug, make in PICTURES.items())


def captions(adopted: Adopted) -> dict[str, str]:
    """Clause slug to what its picture shows, in a sentence."""
    return {slug: make(adopted).says for slug, make in PICTURES.items()}
