"""The job file's table, second part: what is wished, the firm's practice, and the whole job."""

from __future__ import annotations

from bayrun import house, tables
from bayrun.files import checks
from bayrun.files.codecs import (
    Fixed,
    Key,
    Length,
    ListOf,
    Maybe,
    Money,
    Number,
    OneOf,
    Pairs,
    Record,
    Text,
)
from bayrun.files.jobtable import (
    ABOVE_ZERO,
    BARRIER,
    BEAM,
    DATE,
    END,
    FLAG,
    FLOOR_OPENING,
    FRAME,
    FRAME_RECORD,
    FROM_ZERO,
    ID,
    INTERVAL,
    JOINT,
    LENGTH,
    LETTER,
    LEVEL,
    LEVEL_RECORD,
    NAME,
    NOTE,
    OBSTACLE,
    OPEN_EDGE,
    OPENING,
    POINT3,
    PORTS,
    POST,
    ROOF,
    ROOM,
    SIDE,
    STAIR,
    TEXT,
    WALL,
    WALL_RECORD,
    named,
)

GEAR = Record(
    house.Gear,
    "piece of gear",
    (
        Key("id", "id", named("gear"), ""),
        Key("what", "what", NAME, "patch field, chime, thermostat's air handler …"),
        Key("in_enclosure", "in_enclosure", FLAG, "false: it hangs elsewhere and has a point"),
        Key("level", "level", Text(refers="level"), ""),
        Key("room", "room", TEXT, ""),
        Key("x", "x_in", Maybe(LENGTH), ""),
        Key("y", "y_in", Maybe(LENGTH), ""),
        Key("z", "z_in", Maybe(LENGTH), "in the world, as subfloor_z counts"),
        Key("slack", "slack_in", Maybe(FROM_ZERO), "cable left there"),
        Key("ports", "ports", Maybe(Number(0, 1000, whole=True)), "cables it takes"),
        Key("supply_w", "supply_w", Maybe(Number(0, 5000)), "watts it can give over all its cables"),
        Key(
            "kind",
            "kind",
            OneOf(("", "power", "termination", "network", "radio", "other")),
            "its place in the enclosure; left out: as its words say",
        ),
        Key("width", "width_in", Maybe(ABOVE_ZERO), "on the back of the enclosure"),
        Key("height", "height_in", Maybe(ABOVE_ZERO), ""),
        Key("depth", "depth_in", Maybe(ABOVE_ZERO), ""),
        Key("positions", "positions", PORTS, "terminations it offers: 24D 8X"),
        Key("watts", "watts", Maybe(Number(0, 1000)), "drawn from the outlet"),
        Key("heat_w", "heat_w", Maybe(Number(0, 1000)), "of that, what stays in the box; left out: all"),
        Key("plug", "plug_in", Maybe(FROM_ZERO), "width of its plug along the strip; 0: it has none"),
        Key("outlets", "outlets", Maybe(Number(0, 16, whole=True)), "outlets it offers to the others"),
        Key("metal", "metal", Maybe(FLAG), "a metal case"),
        Key(
            "enclosure",
            "enclosure",
            Text(refers="enclosure"),
            "where it is mounted; left out: the chosen one",
        ),
    ),
    (checks.check_gear,),
)
LOCATION = Record(
    house.Location,
    "location",
    (
        Key("id", "id", named("location"), ""),
        Key("room", "room", NAME, ""),
        Key("level", "level", LEVEL, ""),
        Key(
            "mount",
            "mount",
            OneOf(("wall", "ceiling", "exterior", "soffit", "contact", "coil", "conduit")),
            "",
        ),
        Key("wall", "wall", Maybe(WALL), ""),
        Key("offset", "offset_in", Maybe(LENGTH), "along the wall, from its start"),
        Key("side", "side", Maybe(OneOf(("left", "right", "exterior"))), "face it shows to"),
        Key("x", "x_in", Maybe(LENGTH), "in a ceiling or soffit"),
        Key("y", "y_in", Maybe(LENGTH), "in a ceiling or soffit"),
        Key("height", "height_in", LENGTH, "above the finished floor, to the middle of the box"),
        Key("cables", "ports", PORTS, "counts with the letter of a cable kind: 2D 1X"),
        Key("slack", "slack_in", Maybe(FROM_ZERO), "cable left here; else the firm's for its mount"),
        Key("feed", "feed", Maybe(OneOf(("up", "down"))), "way its cables should leave"),
        Key("note", "note", NOTE, ""),
        Key("reason", "reason", NOTE, "why it was proposed"),
        Key("device", "device", TEXT, "what will stand there: camera, access point …; else as the note says"),
        Key("device_w", "device_w", Maybe(Number(0, 1000)), "watts it takes at most; else usual for it"),
    ),
    (checks.check_location,),
)
AC_FEED = Record(
    house.AcFeed,
    "power feed",
    (
        Key("way", "way", NAME, "how the licensed electrician brings power to the enclosure"),
        Key("from_panel", "from_panel", Text(refers="obstacle"), ""),
        Key("bay_studs", "bay_studs_in", Maybe(INTERVAL), "centers of the studs of the bay it comes down"),
        Key(
            "hole_height",
            "hole_height_in",
            Maybe(LENGTH),
            "of its hole in the shared stud above the subfloor",
        ),
        Key("hole_diameter", "hole_diameter_in", Maybe(ABOVE_ZERO), ""),
        Key("staple_from_box", "staple_from_box_in", Maybe(FROM_ZERO), ""),
        Key("staple_from_emergence", "staple_from_emergence_in", Maybe(FROM_ZERO), ""),
        Key("clamped", "clamped", Maybe(FLAG), "an internal clamp in the box"),
        Key("tail", "tail_in", Maybe(FROM_ZERO), "free conductor inside"),
        Key("barrier", "barrier", Maybe(FLAG), "power and low voltage are parted inside"),
        Key("gfci", "gfci", Maybe(FLAG), "as asked of the electrician"),
        Key("afci", "afci", Maybe(FLAG), "as asked of the electrician"),
    ),
)
KNOCKOUT = Record(
    house.Knockout,
    "knockout",
    (
        Key("edge", "edge", OneOf(("top", "bottom")), ""),
        Key("from_left", "from_left_in", FROM_ZERO, "center, from the box's left side as one faces it"),
        Key("diameter", "diameter_in", ABOVE_ZERO, ""),
        Key("use", "use", OneOf(("low voltage", "power", "spare")), ""),
    ),
)
ENCLOSURE = Record(
    house.Enclosure,
    "enclosure",
    (
        Key("id", "id", named("enclosure"), ""),
        Key("wall", "wall", WALL, ""),
        Key("level", "level", LEVEL, ""),
        Key("room", "room", NAME, "room it opens to"),
        Key("side", "side", SIDE, "face of the wall it shows to"),
        Key(
            "bay_studs",
            "bay_studs_in",
            INTERVAL,
            "centers of the two studs of its bay, from the wall's start",
        ),
        Key("width", "width_in", ABOVE_ZERO, ""),
        Key("height", "height_in", ABOVE_ZERO, ""),
        Key("depth", "depth_in", ABOVE_ZERO, ""),
        Key("center_above_floor", "center_aff_in", LENGTH, "its middle above the finished floor"),
        Key("entries", "entries", ListOf(OneOf(("top", "bottom")), "entry", 1), "ends low voltage may enter"),
        Key("knockouts", "knockouts", ListOf(KNOCKOUT, "knockout"), ""),
        Key(
            "fixing_points",
            "fixing_points",
            ListOf(Fixed((LENGTH, LENGTH), "[from left, from bottom]"), "point"),
            "",
        ),
        Key("ac_feed", "ac_feed", Maybe(AC_FEED), "the licensed electrician's; left out: nobody said"),
        Key("note", "note", NOTE, ""),
        Key(
            "door_vent",
            "door_vent_in2",
            Number(0, 400),
            "free area of openings at the door's bottom, and at its top, in square inches each",
        ),
        Key("metal", "metal", Maybe(FLAG), "a metal box or door"),
        Key("insulated_back", "insulated_back", FLAG, "insulation or foil behind it"),
    ),
    (checks.check_enclosure,),
)
CONDUIT = Record(
    house.Conduit,
    "conduit",
    (
        Key("id", "id", named("conduit"), ""),
        Key("size", "size", NAME, "trade size and kind"),
        Key("outside_diameter", "outside_diameter_in", ABOVE_ZERO, "decides its holes"),
        Key("from", "from_place", NAME, "a location's id, or a place in words"),
        Key("to", "to_place", NAME, ""),
        Key("hole", "hole_in", Maybe(ABOVE_ZERO), ""),
        Key("in_wall", "in_wall", Maybe(WALL), ""),
        Key("riser", "riser", Maybe(Text(refers="riser")), ""),
        Key("hole_height", "hole_height_in", Maybe(LENGTH), "above the finished floor"),
        Key("note", "note", NOTE, ""),
        Key("path", "path", ListOf(POINT3, "point"), "its way, pull point to pull point: its bends count"),
    ),
)
RISER = Record(
    house.Riser,
    "riser",
    (
        Key("id", "id", named("riser"), ""),
        Key("what", "what", NAME, ""),
        Key("walls", "walls", ListOf(WALL, "wall"), "stacked walls, low to high"),
        Key("positions", "positions_in", ListOf(LENGTH, "position"), "plan coordinates along the walls"),
        Key("frames", "frames", ListOf(FRAME, "frame"), "frames it passes"),
        Key("hole", "hole_in", Maybe(ABOVE_ZERO), ""),
    ),
)
RUN = Record(
    house.WishedRun,
    "run",
    (
        Key("id", "id", named("run"), "written on the cable, never reused"),
        Key("kind", "kind", LETTER, "letter of a cable kind"),
        Key("from", "from_end", END, "the end it is pulled from"),
        Key("gear", "gear", Text(refers="gear"), "gear it ends on inside the enclosure"),
        Key("to", "to_end", END, ""),
        Key("spare", "spare", FLAG, "left unconnected, tagged"),
        Key("note", "note", NOTE, ""),
    ),
)
NOW_OR_NEVER = Record(
    house.NowOrNever,
    "deadline",
    (
        Key("deadline", "deadline", NAME, "what closes the walls"),
        Key("why", "why", TEXT, ""),
        Key("locations", "locations", ListOf(Text(refers="location"), "location"), ""),
        Key("items", "items", ListOf(NAME, "item"), "conduits and other things, by id or words"),
    ),
)
_SLACK = ("enclosure", "wall", "ceiling", "soffit", "exterior", "contact", "coil", "conduit", "gear")
SLACK = Record(
    house.Slack,
    "slack",
    tuple(
        Key(word, f"{word}_in", FROM_ZERO, "past the far corner of the box" if word == "enclosure" else "")
        for word in _SLACK
    ),
)
_SECONDS = Number(0, 1e6)
COSTS = Record(
    house.Costs,
    "price",
    (
        Key("hour", "hour", Money(), "one crew hour"),
        Key("hole_seconds", "hole_s", _SECONDS, "to drill one hole"),
        Key("plate_seconds", "plate_s", _SECONDS, "to set one nail plate"),
        Key("strap_seconds", "strap_s", _SECONDS, ""),
        Key("seal_seconds", "seal_s", _SECONDS, ""),
        Key("pull_seconds_per_foot", "pull_s_per_foot", _SECONDS, "one foot of one cable"),
        Key("ladder_seconds", "ladder_s", _SECONDS, "for one hole out of reach from the floor"),
        Key("plate_price", "plate_price", Money(), ""),
        Key("strap_price", "strap_price", Money(), ""),
        Key("seal_price", "seal_price", Money(), ""),
        Key("attic_factor", "attic_factor", Number(0.1, 100), "how much dearer a foot is there"),
        Key("crawl_factor", "crawl_factor", Number(0.1, 100), ""),
        Key("ac_bay_seconds", "ac_bay_s", _SECONDS, "dislike for the bay the electrician needs"),
        Key("attic_low_factor", "attic_low_factor", Number(0.1, 100), "on hands and knees"),
        Key("attic_flat_factor", "attic_flat_factor", Number(0.1, 100), "lying flat, or by a stick"),
        Key("power_along_factor", "power_along_factor", Number(1, 100), "a foot along power, too near it"),
        Key("against_wish_seconds", "against_wish_s", _SECONDS, "dislike for feeding a bay against the wish"),
    ),
)
CABLE = Record(
    house.CableKind,
    "cable kind",
    (
        Key("letter", "letter", LETTER, "drawn on the line, written in run ids"),
        Key("name", "name", NAME, ""),
        Key("diameter", "diameter_in", Length(over_zero=True, most_in=3.0), "outside, from its data sheet"),
        Key(
            "line",
            "line",
            OneOf(("solid", "long dash", "dash dot", "dotted double", "short dash")),
            "how it is drawn",
        ),
        Key("price_per_foot", "price_per_foot", Money(), ""),
        Key("box_ft", "box_ft", Number(1, 100_000), "feet in a full box or spool"),
        Key("reserve_ft", "reserve_ft", Number(0, 1000), "last feet of a box that cannot be used"),
        Key("bend_radius_x_diameter", "bend_radius_x_diameter", Number(1, 100), "least bend radius"),
        Key("pull_limit_lbf", "pull_limit_lbf", Maybe(Number(0, 10_000, over_least=True)), ""),
        Key("listing", "listing", TEXT, "flame listing printed on the jacket; left out: nobody said"),
        Key("connector", "connector", TEXT, "what terminates one end"),
        Key("rating_c", "rating_c", Maybe(Number(40, 200, whole=True)), "temperature rating; else 60 counts"),
    ),
    (checks.check_cable,),
)
AMENDMENT = Record(
    tables.Amendment,
    "amendment",
    (
        Key("clause", "clause", NAME, "as the rule book calls it: stud-bore"),
        Key("name", "name", NAME, "which of its figures: edge_in"),
        Key("value", "value", NAME, "a number or a fraction: 3/4"),
        Key("who", "who", NAME, "who set it"),
        Key("date", "date", NAME, "since when: 2026-01-15"),
        Key("why", "why", TEXT, "needed where it loosens a safety rule"),
        Key("edition", "edition", TEXT, "left out: every edition"),
    ),
)
PRACTICE = Record(
    house.Practice,
    "practice",
    (
        Key("editions", "editions", Pairs(), "adopted editions: IRC: 2021", shown=True),
        Key(
            "amendments",
            "amendments",
            ListOf(AMENDMENT, "amendment"),
            "local changes to the adopted codes, with who and why",
        ),
        Key("currency", "currency", NAME, ""),
        Key(
            "fill_max",
            "fill_max",
            Number(0, 0.6, over_least=True),
            "share of a hole's area cables may take",
            shown=True,
        ),
        Key("bits", "bits_in", ListOf(ABOVE_ZERO, "bit", 1), "on the truck, small to large", shown=True),
        Key("least_hole", "least_hole_in", ABOVE_ZERO, "smallest hole worth drilling at a plate"),
        Key("hole_gap", "hole_gap_in", FROM_ZERO, "least wood between two holes"),
        Key("obstacle_margin", "obstacle_margin_in", FROM_ZERO, "kept clear around pipes and ducts"),
        Key("power_separation", "power_separation_in", FROM_ZERO, "from power runs"),
        Key("attic_kneel", "attic_kneel_in", FROM_ZERO, "headroom under which a foot of attic costs more"),
        Key("attic_flat", "attic_flat_in", FROM_ZERO, "headroom under which it costs most"),
        Key("attic_least", "attic_least_in", FROM_ZERO, "clear under the deck: no cable below this"),
        Key("support_every", "support_every_in", ABOVE_ZERO, ""),
        Key("straight_in_open_space", "straight_in_open_space", FLAG, "false: square to the framing"),
        Key("dress_factor", "dress_factor", Number(1, 3), "jacket over path length"),
        Key("stand_boxes", "stand_boxes", Number(1, 100, whole=True), "cable boxes on the stand at once"),
        Key(
            "stand_boxes_by_kind",
            "stand_boxes_by_kind",
            ListOf(Fixed((LETTER, Number(1, 100, whole=True)), "[letter, boxes]"), "kind"),
            "[letter, boxes] the firm brings of one kind",
        ),
        Key(
            "partial_boxes",
            "partial_boxes",
            ListOf(Fixed((LETTER, Number(0, 100_000)), "[letter, feet]"), "opened box"),
            "[letter, feet] of opened boxes on hand, used before a new one is opened",
        ),
        Key("spare_rate", "spare_rate", Number(0, 1), "spares in the material list"),
        Key("slack", "slack", SLACK, ""),
        Key("costs", "costs", COSTS, "what routing weighs: estimates, the firm's to change"),
        Key("cables", "cables", ListOf(CABLE, "cable kind"), ""),
    ),
    (checks.check_practice,),
)
FACTS = Record(
    house.SiteFacts,
    "set of facts",
    (
        Key("cover", "cover", Maybe(NAME), "what will cover walls: 1/2 in gypsum"),
        Key("insulation", "insulation", Maybe(NAME), "batts, spray foam …"),
        Key(
            "fireblock_material", "fireblock_material", Maybe(NAME), "what the inspector takes at plate holes"
        ),
        Key(
            "return_air_bays", "return_air_bays", Maybe(ListOf(NAME, "bay")), "A-W26@62 or words; empty: none"
        ),
        Key("bonding_length", "bonding_length_in", Maybe(FROM_ZERO), "service entry to the bonding bar"),
        Key("built_year", "built_year", Maybe(Number(1600, 2200, whole=True)), ""),
        Key("accessible", "accessible", Maybe(FLAG), "reach ranges of accessible dwellings apply"),
        Key("attic_f", "attic_f", Maybe(Number(-40, 180)), "how hot the attic gets, degrees Fahrenheit"),
        Key("coax_low_dbmv", "coax_low_dbmv", Maybe(Number(-60, 70)), "level at the coax entry, low"),
        Key("coax_high_dbmv", "coax_high_dbmv", Maybe(Number(-60, 70)), "level at the coax entry, high"),
    ),
)
CHOICE = Record(
    house.Choice,
    "choice",
    (
        Key("kind", "kind", NAME, "acknowledge, move hole, bit, pin run, answer"),
        Key("about", "about", NAME, "id of what it speaks of"),
        Key("value", "value", TEXT, "the decision"),
        Key("by", "by", TEXT, ""),
        Key("date", "date", TEXT, ""),
        Key("reason", "reason", NOTE, ""),
    ),
)
ASSUMPTION = Record(
    house.Assumption,
    "assumption",
    (
        Key("id", "id", named("assumption"), ""),
        Key("says", "says", NOTE, ""),
        Key("where", "where", TEXT, ""),
        Key("why", "why", NOTE, ""),
    ),
)
REVISION = Record(
    house.Revision,
    "revision",
    (
        Key("number", "number", NAME, "", shown=True),
        Key("date", "date", DATE, "printed on sheets"),
        Key("note", "note", NOTE, ""),
    ),
)
JOB = Record(
    house.Job,
    "job",
    (
        Key("id", "id", ID, "short name of the job"),
        Key("name", "name", NAME, "what people call it"),
        Key("note", "note", NOTE, ""),
        Key("revision", "revision", REVISION, ""),
        Key("enclosure", "enclosure", Text(refers="enclosure"), "the candidate the job goes with"),
        Key("enclosures", "enclosures", ListOf(ENCLOSURE, "enclosure"), "candidates"),
        Key(
            "second_enclosures",
            "second_enclosures",
            ListOf(Text(refers="enclosure"), "enclosure"),
            "those that are built beside the chosen one",
        ),
        Key("gear", "gear", ListOf(GEAR, "gear"), "what cables end on"),
        Key("locations", "locations", ListOf(LOCATION, "location"), ""),
        Key("runs", "runs", ListOf(RUN, "run"), "one cable each, end to end"),
        Key("conduits", "conduits", ListOf(CONDUIT, "conduit"), ""),
        Key("risers", "risers", ListOf(RISER, "riser"), ""),
        Key("now_or_never", "now_or_never", ListOf(NOW_OR_NEVER, "deadline"), ""),
        Key("facts", "facts", FACTS, "what rules need before the site tells"),
        Key("choices", "choices", ListOf(CHOICE, "choice"), "what people decided about the plan"),
        Key("assumptions", "assumptions", ListOf(ASSUMPTION, "assumption"), "what nobody measured yet"),
        Key("levels", "levels", ListOf(LEVEL_RECORD, "level", 1), ""),
        Key("rooms", "rooms", ListOf(ROOM, "room"), ""),
        Key("walls", "walls", ListOf(WALL_RECORD, "wall"), ""),
        Key("joints", "joints", ListOf(JOINT, "joint"), "how wall ends meet other walls"),
        Key("openings", "openings", ListOf(OPENING, "opening"), ""),
        Key("open_edges", "open_edges", ListOf(OPEN_EDGE, "open edge"), "two rooms, no wall between"),
        Key("frames", "frames", ListOf(FRAME_RECORD, "frame"), "fields of joists and trusses"),
        Key("floor_openings", "floor_openings", ListOf(FLOOR_OPENING, "floor opening"), ""),
        Key("beams", "beams", ListOf(BEAM, "beam"), ""),
        Key("posts", "posts", ListOf(POST, "post"), ""),
        Key("stairs", "stairs", ListOf(STAIR, "stair"), ""),
        Key("roofs", "roofs", ListOf(ROOF, "roof"), ""),
        Key("barriers", "barriers", ListOf(BARRIER, "barrier"), "what must be sealed, or never crossed"),
        Key("obstacles", "obstacles", ListOf(OBSTACLE, "obstacle"), "of other trades"),
        Key("practice", "practice", PRACTICE, "the firm's; left out keys take the usual values"),
    ),
)


def records() -> tuple[Record, ...]:
    """Every record of the table, the job first, in the order they are met."""
    found: list[Record] = []

    def visit(codec: object) -> None:
        if isinstance(codec, Record):
            if codec not in found:
                found.append(codec)
                for key in codec.keys:
                    visit(key.codec)
        elif isinstance(codec, ListOf | Maybe):
            visit(codec.inner)
        elif isinstance(codec, Fixed):
            for inner in codec.inners:
                visit(inner)

    visit(JOB)
    return tuple(found)
