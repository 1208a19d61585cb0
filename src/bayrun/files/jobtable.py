"""The job file's table: every record of the house, its keys, and what may stand under each.

The reader, the writer and the published JSON Schema all follow this table; a test holds it to the
dataclasses of ``house``. Keys are the trade's words without ``_in``: a length carries its own unit.
"""

from __future__ import annotations

import datetime
import re

from bayrun import house
from bayrun.files import checks
from bayrun.files.codecs import (
    Fixed,
    Key,
    Length,
    ListOf,
    Maybe,
    Number,
    OneOf,
    Record,
    ShortText,
    Text,
    YesNo,
)

LENGTH, FROM_ZERO, ABOVE_ZERO = Length(), Length(least_in=0.0), Length(over_zero=True)
TEXT, NAME, NOTE = Text(), Text(empty=False), Text(lines=True)
FLAG = YesNo()
ID = Text(as_id=True)
LEVEL, WALL, FRAME = Text(refers="level"), Text(refers="wall"), Text(refers="frame")
POINT = Fixed((LENGTH, LENGTH), "a point, [x, y]")
POINT3 = Fixed((LENGTH,) * 3, "a point in space, [x, y, z]")
LINE = Fixed((POINT, POINT), "a line, [[x, y], [x, y]]")
INTERVAL = Fixed((LENGTH, LENGTH), "two lengths, [from, to], low to high", rising=True)
RECT = Fixed((LENGTH,) * 4, "a rectangle, [left, front, right, back]", rising=True)
MAYBE_CENTER = Fixed((Maybe(LENGTH), Maybe(LENGTH)), "a center, [x, y]; null along the way a pipe runs")
AXIS = OneOf(("x", "y"))
SIDE = OneOf(("left", "right"))


def named(kind: str) -> Text:
    """An id that names one thing of its kind."""
    return Text(kind=kind, as_id=True)


def _ports(text: str) -> tuple[house.Port, ...] | None:
    if text in ("0", "none", ""):
        return ()
    ports = []
    for word in text.split():
        match = re.fullmatch(r"([1-9]\d{0,2})([A-Z][A-Z0-9]{0,3})", word)
        if match is None:
            return None
        ports.append(house.Port(match[2], int(match[1])))
    return tuple(ports)


def _end(text: str) -> house.End | None:
    kind, _, name = text.partition(" ")
    for one in ("location", "enclosure", "device"):
        if kind == one and re.fullmatch(r"\w[\w.-]*", name):
            return house.End(one, name)
    return None


def _date(text: str) -> str | None:
    if text == "":
        return text
    if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
        return None
    try:
        return datetime.date.fromisoformat(text).isoformat()
    except ValueError:
        return None


PORTS = ShortText(
    _ports,
    lambda ports: " ".join(f"{port.count}{port.kind}" for port in ports) or "none",
    "counts with the letter of a cable kind, such as 2D 1X",
    r"^(0|none|[1-9][0-9]{0,2}[A-Z][A-Z0-9]{0,3}( +[1-9][0-9]{0,2}[A-Z][A-Z0-9]{0,3})*)$",
)
END = ShortText(
    _end,
    lambda end: f"{end.type} {end.id}",
    "an end of a run: “location A01”, “enclosure …” or “device …”",
    r"^(location|enclosure|device) \S+$",
    lambda end: (("gear" if end.type == "device" else end.type, end.id),),
)
DATE = ShortText(_date, str, "a date such as 2026-11-25", r"^(\d{4}-\d{2}-\d{2})?$")
LETTER = ShortText(
    lambda text: text if re.fullmatch(r"[A-Z][A-Z0-9]{0,3}", text) else None,
    str,
    "one to four capital letters or digits, a letter first",
    r"^[A-Z][A-Z0-9]{0,3}$",
)

LAYER = Record(
    house.Layer,
    "layer",
    (Key("layer", "name", NAME, "what it is"), Key("thickness", "thickness_in", FROM_ZERO, "")),
)
LEVEL_RECORD = Record(
    house.Level,
    "level",
    (
        Key("id", "id", named("level"), "short name printed on sheets"),
        Key("subfloor_z", "subfloor_z_in", LENGTH, "top of the subfloor or slab; the first level is 0"),
        Key("plate_top", "plate_top_in", ABOVE_ZERO, "top of the top plate above the subfloor"),
        Key("stud_length", "stud_length_in", Maybe(ABOVE_ZERO), "length of the studs"),
        Key("ceiling_board", "ceiling_board_in", FROM_ZERO, "drywall of the ceiling"),
        Key("wall_board", "wall_board_in", FROM_ZERO, "drywall of the walls"),
        Key("floor_build_up", "floor_build_up", ListOf(LAYER, "layer"), "finish layers on the subfloor"),
        Key("slab", "slab", FLAG, "the subfloor is a slab on the ground: nothing can go down"),
        Key("grade_z", "grade_z_in", Maybe(LENGTH), "outside grade"),
        Key("note", "note", NOTE, ""),
    ),
)
ROOM = Record(
    house.Room,
    "room",
    (
        Key("name", "name", NAME, "what the people of the house call it"),
        Key("level", "level", LEVEL, ""),
        Key("kind", "kind", NAME, "bed, bath, hall, closet, living, kitchen, laundry, garage …"),
        Key("floor_finish", "floor_finish_in", FROM_ZERO, "build-up of this room's floor"),
        Key("floor_drop", "floor_drop_in", LENGTH, "how far its subfloor lies below the level's"),
        Key("polygon", "polygon", ListOf(POINT, "point", 3), "corners along wall center lines"),
    ),
    (checks.check_room,),
)
LAYOUT = Record(
    house.Layout,
    "layout",
    (
        Key("origin", "origin", OneOf(("start", "end")), "plate end the studs were laid out from"),
        Key(
            "first_mark", "first_mark_in", ABOVE_ZERO, "from that plate end to the first layout stud's center"
        ),
    ),
)
PLATES = Record(
    house.Plates,
    "set of plates",
    (
        Key("bottom", "bottom", Number(0, 4, whole=True), "plies of the bottom plate"),
        Key("top", "top", Number(0, 4, whole=True), "plies of the top plate"),
        Key("material", "material", TEXT, "wood, steel track"),
    ),
)
PIECE = Record(
    house.FacePiece,
    "stretch",
    (
        Key("room", "room", TEXT, "room this stretch shows to, or outside"),
        Key("from", "from_in", LENGTH, "offset along the wall"),
        Key("to", "to_in", LENGTH, "offset along the wall"),
        Key("finish", "finish", TEXT, "1/2 in gypsum, tile …"),
    ),
    (checks.check_piece,),
)
WALL_RECORD = Record(
    house.Wall,
    "wall",
    (
        Key("id", "id", named("wall"), ""),
        Key("level", "level", LEVEL, ""),
        Key("start", "start", POINT, "on the framing center line; left is left of start to end"),
        Key("end", "end", POINT, ""),
        Key("core", "core", NAME, "2x4, 2x6, steel 3-5/8, concrete 8 …"),
        Key("thickness", "thickness_in", ABOVE_ZERO, "depth of the studs, no boards"),
        Key("plate_start", "plate_start_in", LENGTH, "where the plates begin, from the wall's start"),
        Key("plate_end", "plate_end_in", LENGTH, "where the plates end, from the wall's start"),
        Key("spacing", "spacing_in", Length(least_in=4.0), "studs on center"),
        Key("stud_width", "stud_width_in", ABOVE_ZERO, ""),
        Key("bearing", "bearing", Maybe(FLAG), "left out: nobody said, and it counts as bearing"),
        Key("exterior", "exterior", FLAG, ""),
        Key("rated", "rated", Maybe(NAME), "the fire rating, in words"),
        Key("membrane", "membrane_in", FROM_ZERO, "boards that run through behind the studs' ends"),
        Key("layout", "layout", Maybe(LAYOUT), "none for a wall without studs"),
        Key("plates", "plates", PLATES, ""),
        Key("separation", "separation", TEXT, "what it parts, as in dwelling to garage"),
        Key("wet", "wet", FLAG, "a plumbing wall"),
        Key("outside_foam", "outside_foam_in", FROM_ZERO, ""),
        Key("sheathed", "sheathed", FLAG, "wood structural panels cover one whole side"),
        Key(
            "wood_studs", "wood_studs_in", ListOf(LENGTH, "offset"), "in a steel wall, centers of wood studs"
        ),
        Key("left", "left", ListOf(PIECE, "stretch"), "rooms of the left face"),
        Key("right", "right", ListOf(PIECE, "stretch"), "rooms of the right face"),
        Key("note", "note", NOTE, ""),
    ),
    (checks.check_wall,),
)
JOINT = Record(
    house.Joint,
    "joint",
    (
        Key("wall", "wall", WALL, "the wall whose end this is"),
        Key("end", "end", OneOf(("start", "end")), ""),
        Key("kind", "kind", OneOf(("corner, runs through", "corner, butts", "tee", "inline")), ""),
        Key("on_wall", "on_wall", WALL, "the wall it meets"),
        Key("on_offset", "on_offset_in", LENGTH, "where on that wall"),
        Key("width", "width_in", ABOVE_ZERO, "thickness of the wall that ends here"),
        Key("plate_shift", "plate_shift_in", LENGTH, "plate stops short of (+) or passes (-) the node"),
    ),
)
OPENING = Record(
    house.Opening,
    "opening",
    (
        Key("id", "id", named("opening"), ""),
        Key("wall", "wall", WALL, ""),
        Key("kind", "kind", NAME, "door, cased opening, window …"),
        Key("offset", "offset_in", LENGTH, "low side of the rough opening, from the wall's start"),
        Key("width", "width_in", ABOVE_ZERO, "of the rough opening"),
        Key("sill", "sill_in", LENGTH, "above the subfloor; 0 for a door"),
        Key("height", "height_in", ABOVE_ZERO, "of the rough opening"),
        Key("header_depth", "header_depth_in", FROM_ZERO, ""),
        Key("rooms", "rooms", ListOf(NAME, "room"), "the rooms it joins"),
        Key("swings_into", "swings_into", Maybe(NAME), "room its door swings into"),
        Key("hinge_end", "hinge_end", Maybe(OneOf(("low", "high"))), "side its hinges are on"),
        Key("note", "note", NOTE, ""),
    ),
    (checks.check_opening,),
)
OPEN_EDGE = Record(
    house.OpenEdge,
    "open edge",
    (
        Key("level", "level", LEVEL, ""),
        Key("rooms", "rooms", ListOf(NAME, "room"), ""),
        Key("line", "line", LINE, ""),
    ),
    (checks.check_open_edge,),
)
KNOCKOUTS = Record(
    house.Knockouts,
    "knockout chart",
    (
        Key("diameter", "diameter_in", ABOVE_ZERO, ""),
        Key("every", "every_in", ABOVE_ZERO, ""),
        Key("source", "source", TEXT, "whose chart"),
    ),
)
EDGE_MEMBER = Record(
    house.EdgeMember,
    "edge member",
    (
        Key("name", "name", NAME, "rim, double trimmer …"),
        Key("rect", "rect", RECT, ""),
        Key("drop_dead", "drop_dead", FLAG, "nothing gets past it downward"),
    ),
)
FRAME_RECORD = Record(
    house.FloorFrame,
    "frame",
    (
        Key("id", "id", named("frame"), ""),
        Key("kind", "kind", NAME, "sawn joists, I-joists, open-web floor trusses, roof trusses …"),
        Key("nominal", "nominal", TEXT, "2x10 …"),
        Key("above_level", "above_level", Maybe(LEVEL), "level whose ceiling it is"),
        Key("below_level", "below_level", Maybe(LEVEL), "level whose floor it is"),
        Key("area", "area", RECT, ""),
        Key("direction", "direction", AXIS, "axis the members run along"),
        Key("spacing", "spacing_in", Maybe(Length(least_in=4.0)), "members on center"),
        Key("first_member", "first_member_in", Maybe(LENGTH), "center of the first, across the direction"),
        Key("last_member", "last_member_in", Maybe(LENGTH), "center of the last"),
        Key("positions", "positions_in", ListOf(LENGTH, "position"), "centers one by one, instead"),
        Key("member_width", "member_width_in", ABOVE_ZERO, ""),
        Key("member_depth", "member_depth_in", ABOVE_ZERO, ""),
        Key("flange_depth", "flange_depth_in", Maybe(ABOVE_ZERO), "of an I-joist"),
        Key("chord_depth", "chord_depth_in", Maybe(ABOVE_ZERO), "of an open-web truss"),
        Key("z_bottom", "z_bottom_in", LENGTH, "lowest face of the members (bottom chord of roof trusses)"),
        Key("z_top", "z_top_in", LENGTH, "highest face of the members (bottom chord of roof trusses)"),
        Key("spans", "spans_in", ListOf(INTERVAL, "span"), "between bearings, along the direction"),
        Key("knockouts", "knockouts", Maybe(KNOCKOUTS), "the maker's chart; left out: cannot tell"),
        Key("edge_members", "edge_members", ListOf(EDGE_MEMBER, "edge member"), ""),
        Key("note", "note", NOTE, ""),
    ),
    (checks.check_frame,),
)
FLOOR_OPENING = Record(
    house.FloorOpening,
    "floor opening",
    (
        Key("id", "id", named("floor opening"), ""),
        Key("frames", "frames", ListOf(FRAME, "frame"), ""),
        Key("what", "what", NAME, "stair, void"),
        Key("rect", "rect", RECT, ""),
    ),
)
BEAM = Record(
    house.Beam,
    "beam",
    (
        Key("id", "id", named("beam"), ""),
        Key("what", "what", NAME, ""),
        Key("rect", "rect", RECT, ""),
        Key("in_frames", "in_frames", ListOf(FRAME, "frame"), "frames it is flush in"),
        Key("z", "z_in", Maybe(INTERVAL), "its height where it is dropped below them"),
    ),
)
POST = Record(
    house.Post,
    "post",
    (
        Key("id", "id", named("post"), ""),
        Key("what", "what", NAME, ""),
        Key("level", "level", LEVEL, ""),
        Key("rect", "rect", RECT, ""),
    ),
)
STAIR = Record(
    house.Stair,
    "stair",
    (
        Key("id", "id", named("stair"), ""),
        Key("what", "what", NAME, ""),
        Key(
            "rooms", "rooms", ListOf(Fixed((LEVEL, NAME), "[level, room]"), "room"), "[level, room] it joins"
        ),
        Key("rect", "rect", RECT, ""),
    ),
    (checks.check_stair,),
)
ROOF = Record(
    house.Roof,
    "roof",
    (
        Key("id", "id", named("roof"), ""),
        Key("pitch_rise", "pitch_rise", Number(0, 100), "6 in 12 is rise 6, run 12"),
        Key("pitch_run", "pitch_run", Number(0, 100, over_least=True), ""),
        Key("heel", "heel_in", FROM_ZERO, "height of the truss at the outer face of the plate"),
        Key("ridge_axis", "ridge_axis", Maybe(AXIS), "axis the ridge runs along"),
        Key("ridge_at", "ridge_at_in", Maybe(LENGTH), "where it stands on the other axis"),
        Key("overhang", "overhang_in", FROM_ZERO, ""),
        Key("deck", "deck", TEXT, ""),
        Key("access", "access", TEXT, ""),
        Key("frames", "frames", ListOf(FRAME, "frame"), "attics it lies over; left out: by its ridge"),
    ),
)
PASS_POINT = Record(
    house.PassPoint,
    "pass point",
    (
        Key("id", "id", ID, ""),
        Key("x", "x_in", LENGTH, ""),
        Key("y", "y_in", LENGTH, ""),
        Key("z", "z_in", LENGTH, ""),
        Key("diameter", "diameter_in", ABOVE_ZERO, "of the sleeve"),
    ),
)
BARRIER = Record(
    house.Barrier,
    "barrier",
    (
        Key("id", "id", named("barrier"), ""),
        Key("kind", "kind", NAME, "in words: dwelling-garage separation, draftstop …"),
        Key("lines", "lines", ListOf(LINE, "line"), "plan lines it stands on"),
        Key("levels", "levels", ListOf(Text(as_id=True), "level"), "levels it stands on, or attic"),
        Key("frames", "frames", ListOf(FRAME, "frame"), "frames whose depth it fills"),
        Key("needs_seal", "needs_seal", FLAG, "false with lines: nothing passes"),
        Key("pass_point", "pass_point", Maybe(PASS_POINT), "the one legal way through: a sleeve"),
        Key("legal_way", "legal_way", TEXT, ""),
        Key("depth", "depth_in", ABOVE_ZERO, "thickness of its board"),
        Key("note", "note", NOTE, ""),
    ),
)
OBSTACLE = Record(
    house.Obstacle,
    "obstacle",
    (
        Key("id", "id", named("obstacle"), ""),
        Key("kind", "kind", NAME, "in words: vent pipe 2 in, power panel, kitchen cabinets …"),
        Key("levels", "levels", ListOf(LEVEL, "level"), ""),
        Key("wall", "wall", Maybe(WALL), "wall it stands in or on"),
        Key("frames", "frames", ListOf(FRAME, "frame"), "frames it runs in"),
        Key("rect", "rect", Maybe(RECT), "its plan rectangle"),
        Key("center", "center", Maybe(MAYBE_CENTER), "of a pipe; null along the way it runs"),
        Key("diameter", "diameter_in", Maybe(ABOVE_ZERO), "outside"),
        Key("path", "path", ListOf(POINT3, "point"), "of a power run"),
        Key("circuits", "circuits", Number(0, 100, whole=True), "of a power run"),
        Key("z", "z_in", Maybe(INTERVAL), "[from, to]"),
        Key("z_above_frame_bottom", "z_above_frame_bottom_in", Maybe(LENGTH), "its center in its frames"),
        Key("clearance", "clearance_in", FROM_ZERO, "margin it wants"),
        Key("passes_over", "passes_over_in", Maybe(FROM_ZERO), "least height of a square crossing above it"),
        Key("chase", "chase", Maybe(RECT), ""),
        Key("rule", "rule", TEXT, ""),
        Key("note", "note", NOTE, ""),
    ),
    (checks.check_obstacle,),
)
