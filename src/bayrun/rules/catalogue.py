"""The catalogue of rules: ordered, named, sourced; it runs them all and prints itself."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from bayrun.findings import Finding
from bayrun.framing.records import Frame
from bayrun.house import Job
from bayrun.rules import (
    ac_feed,
    box_gear,
    bundle_power,
    by_place,
    cable_runs,
    choices_told,
    coax_window,
    conduits,
    done_told,
    enclosure_bay,
    facts,
    floor_membrane,
    gear_budget,
    hole_fill,
    hole_spacing,
    location_place,
    member_holes,
    member_over_plate,
    nail_plate,
    notches,
    other_trades,
    parallel_setback,
    pipe_contact,
    plate_strap,
    power_separation,
    radio_dark,
    rated_boxes,
    run_blocked,
    run_signal,
    seals,
    stud_successive,
    wishes_told,
    working_space,
)
from bayrun.rules.case import Case, lay_open
from bayrun.rules.each_box import each_box
from bayrun.tables import Adopted, adopt
from bayrun.wiring import NailPlate, Seal, Strap, Wiring


@dataclass(frozen=True, slots=True)
class Rule:
    """One check of the catalogue.

    Args:
        slugs: Names of the findings it gives.
        title: What it is about.
        says: One line in words of the trade.
        clauses: Slugs of the clauses it leans on; empty for plain arithmetic.
        check: From a case to its findings.
    """

    slugs: tuple[str, ...]
    title: str
    says: str
    clauses: tuple[str, ...]
    check: Callable[[Case], tuple[Finding, ...]]


RULES: tuple[Rule, ...] = (
    Rule(
        member_holes.RULES,
        "One hole in one member",
        "size, edge and never: studs, plates, joists, rafters, I-joists, trusses, beams, headers, steel",
        (
            "stud-bore",
            "plate-wood",
            "joist-bore",
            "rafter-bore",
            "engineered",
            "truss-floor",
            "truss-roof",
            "built-up",
            "steel-punched",
        ),
        member_holes.check,
    ),
    Rule(
        (stud_successive.SLUG,),
        "Doubled studs in a row",
        "not more than two doubled studs in a row bored over 40 %",
        ("stud-bore",),
        stud_successive.check,
    ),
    Rule(
        (hole_spacing.JOIST, hole_spacing.FIRM),
        "Wood between holes",
        "2 in between holes of a joist; the firm's gap elsewhere",
        ("joist-bore", "rafter-bore", "hole-gap"),
        hole_spacing.check,
    ),
    Rule(
        (nail_plate.SLUG,),
        "Nail plates",
        "steel on each face nearer than 1-1/4 in to the hole",
        ("nail-plate",),
        nail_plate.check,
    ),
    Rule(
        (nail_plate.SMALL,),
        "Sizes of nail plates",
        "a plate covers its whole hole",
        ("nail-plate",),
        nail_plate.check_size,
    ),
    Rule(
        (notches.SIZE, notches.ZONE, notches.SECTION, notches.NEVER, notches.STEEL),
        "Notches",
        "depth, length, zone, no hole in the same section, always steel: drill instead wherever one can",
        ("stud-notch", "joist-notch", "rafter-notch", "plate-tie", "engineered", "notch-plate"),
        notches.check,
    ),
    Rule(
        (plate_strap.SLUG,),
        "Straps",
        "a bearing top plate cut by more than half takes a strap",
        ("plate-tie",),
        plate_strap.check,
    ),
    Rule(
        (hole_fill.FILL, hole_fill.PACKING),
        "Cables in a hole",
        "the firm's fill, never over 60 %, and true packing",
        ("fill",),
        hole_fill.check,
    ),
    Rule(
        (member_over_plate.SLUG,),
        "Clear way over and under plates",
        "a chord, joist, rim or duct there leaves no hole",
        ("way-through",),
        member_over_plate.check,
    ),
    Rule(
        (other_trades.IN_WAY, other_trades.LOOK),
        "Check above and behind first",
        "what the bit would meet behind the wood, and what lies within 12 in of its way",
        ("look-first",),
        other_trades.check_bits,
    ),
    Rule(
        (other_trades.INSIDE, other_trades.NEAR),
        "Things of other trades",
        "runs keep out of pipes, ducts and flues, and as far from them as they want",
        ("other-trades",),
        other_trades.check_runs,
    ),
    Rule(
        (run_blocked.SLUG,),
        "Runs that do not arrive",
        "the last place reached and what bars the way",
        (),
        run_blocked.check,
    ),
    Rule(
        (choices_told.SLUG,),
        "Choices that cannot be followed",
        "what a person decided about a hole or a way and the plan could not do, with the reason",
        (),
        choices_told.check,
    ),
    Rule(
        (done_told.SLUG,),
        "Done work and the job",
        "what is drilled, pulled or set and no longer agrees with the job",
        (),
        done_told.check,
    ),
    Rule(
        (enclosure_bay.MISSING,),
        "An enclosure to go to",
        "runs that end there need a chosen bay",
        ("enclosure-place",),
        enclosure_bay.check_missing,
    ),
    Rule(
        (enclosure_bay.WIDTH,),
        "Bay width",
        "the box goes in with room for crowned studs",
        ("enclosure-place",),
        each_box(enclosure_bay.check_width),
    ),
    Rule(
        (enclosure_bay.DEPTH,),
        "Box depth",
        "flush with the finish, clear of the board behind",
        ("enclosure-place",),
        each_box(enclosure_bay.check_depth),
    ),
    Rule(
        (enclosure_bay.HEIGHT,),
        "Box height",
        "within reach and between the plates",
        ("enclosure-place",),
        each_box(enclosure_bay.check_height),
    ),
    Rule(
        (enclosure_bay.WALL,),
        "The wall of the enclosure",
        "not rated, exterior, wet, nor in an opening",
        ("rated-membrane", "garage-separation", "enclosure-place"),
        each_box(enclosure_bay.check_wall),
    ),
    Rule(
        (enclosure_bay.PASSED,),
        "Nothing passes the enclosure",
        "the box fills its bay: everything enters top or bottom",
        ("enclosure-place",),
        each_box(enclosure_bay.check_passed),
    ),
    Rule(
        (working_space.SLUG,),
        "Room before the enclosure",
        "clear floor to stand and work on, as good practice",
        ("working-space",),
        each_box(working_space.check),
    ),
    Rule(
        (ac_feed.WHO,),
        "Power is the electrician's",
        "scope of the 120 V work",
        ("power-barrier",),
        each_box(ac_feed.check_who),
    ),
    Rule(
        (ac_feed.SUPPORT,),
        "Supports of the power feed",
        "the tighter of the firm's 6 in and the code's 12 or 8 in",
        ("ac-support", "ac-support-unclamped", "ac-support-firm"),
        each_box(ac_feed.check_support),
    ),
    Rule(
        (ac_feed.TAIL,),
        "Free conductor",
        "6 in at least stay inside",
        ("free-conductor", "ac-support-firm"),
        each_box(ac_feed.check_tail),
    ),
    Rule(
        (ac_feed.BARRIER,),
        "Power parted from low voltage",
        "a barrier or a box of its own",
        ("power-barrier",),
        each_box(ac_feed.check_barrier),
    ),
    Rule(
        (ac_feed.PROTECTION,),
        "Arc- and ground-fault protection",
        "by the room the receptacle is in",
        ("receptacle-afci", "receptacle-gfci"),
        each_box(ac_feed.check_protection),
    ),
    Rule(
        (ac_feed.HOLE,),
        "The power feed's hole",
        "the shared stud's limits hold for it too",
        ("stud-bore", "steel-punched"),
        each_box(ac_feed.check_hole),
    ),
    Rule(
        (ac_feed.BELOW,),
        "Power from below",
        "not where the level stands on a slab",
        ("power-barrier",),
        each_box(ac_feed.check_below),
    ),
    Rule(
        box_gear.SLUGS,
        "What hangs in the enclosure",
        "gear with lanes and bends, heat, knockouts and bushings, coils of slack, outlets, positions",
        ("enclosure-place", "fill"),
        box_gear.check,
    ),
    Rule(
        (cable_runs.LENGTH,),
        "Length of a link",
        "four-pair links end at 90 m",
        ("link-length",),
        cable_runs.check_length,
    ),
    Rule(
        (cable_runs.BEND,),
        "Bends",
        "two corners too close for the cable's least radius",
        ("bend",),
        cable_runs.check_bend,
    ),
    Rule(
        (cable_runs.PULL,),
        "Pulls",
        "long pulls with many turns go in stages",
        ("pull-tension",),
        cable_runs.check_pull,
    ),
    Rule(
        (cable_runs.LISTING,),
        "Listing of cable",
        "the mark on the jacket is known and fits a dwelling",
        ("cable-listing",),
        cable_runs.check_listing,
    ),
    Rule(
        (by_place.RETURN_AIR,),
        "Cable in return air",
        "lengthwise only where it is listed for plenums; square across is free",
        ("return-air",),
        by_place.check_return_air,
    ),
    Rule(
        (by_place.REACH,),
        "Reach of accessible dwellings",
        "15 to 48 in for what is worked by hand, where such a law covers the house",
        ("reach-range",),
        by_place.check_reach,
    ),
    Rule(
        (cable_runs.OUTSIDE,),
        "Cable outside and in the ground",
        "sun and water, whatever the flame listing",
        ("cable-listing",),
        cable_runs.check_outside,
    ),
    Rule(
        (cable_runs.SUPPORT,),
        "Supports of low-voltage cable",
        "the firm's interval against the trade's most; the code sets none",
        ("low-voltage-support",),
        cable_runs.check_supports,
    ),
    Rule(
        (seals.SEAL,),
        "Seals",
        "each hole that breaks a fire-block, separation or draftstop is on the seal list",
        ("fireblock", "garage-separation", "draftstop", "rated-through"),
        seals.check_missing,
    ),
    Rule(
        (seals.BOX,),
        "Seals of boxes",
        "boxes in outer walls, rated walls and the garage separation are on the seal list",
        ("air-seal-box", "rated-membrane", "garage-separation"),
        seals.check_boxes,
    ),
    Rule(
        (seals.MATERIAL,),
        "Fire-block material",
        "what the inspector takes",
        ("fireblock",),
        seals.check_material,
    ),
    Rule(
        (seals.BARRED,),
        "Separations nothing passes",
        "party walls, and separations beside their sleeve",
        ("rated-through", "fireblock"),
        seals.check_barred,
    ),
    Rule(
        (location_place.ON_MEMBER,),
        "Boxes on studs",
        "a box needs a clear bay",
        ("location-place",),
        location_place.check_on_member,
    ),
    Rule(
        (location_place.IN_OPENING,),
        "Boxes in openings",
        "no wall to hold them",
        ("location-place", "built-up"),
        location_place.check_in_opening,
    ),
    Rule(
        (location_place.BEHIND_DOOR,),
        "Boxes behind doors",
        "the open leaf covers them",
        ("location-place",),
        location_place.check_behind_door,
    ),
    Rule(
        (location_place.BEHIND_CABINET,),
        "Boxes behind cabinets",
        "cabinets, vanities and mirrors cover them",
        ("location-place",),
        location_place.check_behind_cabinet,
    ),
    Rule(
        (location_place.AT_JAMB,),
        "Boxes at jambs",
        "room for jamb studs and casing",
        ("location-place",),
        location_place.check_at_jamb,
    ),
    Rule(
        (parallel_setback.SLUG, parallel_setback.COVERED),
        "Runs along studs",
        "1-1/4 in from the faces that take nails and screws, else steel",
        ("parallel-setback",),
        parallel_setback.check,
    ),
    Rule(
        (power_separation.SLUG,),
        "Runs along power",
        "the firm's distance, as advice; square crossings are fine; beside sheathed cable the code asks none",
        ("power-separation", "power-open-run"),
        power_separation.check,
    ),
    Rule(
        (pipe_contact.SLUG,),
        "CPVC sprinkler pipe",
        "crossed square and over, never touched, never along",
        ("cpvc-contact",),
        pipe_contact.check,
    ),
    Rule(
        (floor_membrane.SLUG,),
        "Floors that a board closes",
        "engineered floors over a basement or crawl space: look before it is up",
        ("floor-membrane",),
        floor_membrane.check,
    ),
    Rule(
        (rated_boxes.BOX,),
        "Boxes in rated walls",
        "steel or listed ones only, each 16 sq in at most",
        ("rated-membrane",),
        rated_boxes.check_box,
    ),
    Rule(
        (rated_boxes.BACK,),
        "Boxes back to back",
        "24 in apart on the two faces of a rated wall",
        ("rated-membrane",),
        rated_boxes.check_back,
    ),
    Rule(
        (rated_boxes.TOTAL,),
        "All boxes of a rated wall",
        "100 sq in in each 100 sq ft of it",
        ("rated-membrane",),
        rated_boxes.check_total,
    ),
    Rule(
        (conduits.HOLE,),
        "Holes of conduits",
        "as large as the outside diameter",
        ("conduit-hole",),
        conduits.check_hole,
    ),
    Rule(
        (conduits.SIZE,),
        "Sizes of conduits",
        "an outside diameter, not the trade size",
        ("conduit-hole",),
        conduits.check_size,
    ),
    Rule(
        (conduits.WALL,),
        "Conduits through studs",
        "the studs' limits hold for them too",
        ("stud-bore",),
        conduits.check_wall,
    ),
    Rule(
        (conduits.BENDS,),
        "Bends of conduits",
        "360 degrees at most between pull points, 180 as advice",
        ("conduit-bends",),
        conduits.check_bends,
    ),
    Rule(
        (gear_budget.PORTS,),
        "Ports",
        "gear takes every run that ends on it, a device gets the data cable it wants",
        (),
        gear_budget.check_ports,
    ),
    Rule(
        (gear_budget.SWITCH,),
        "Power over data cable, all of it",
        "the supply feeds every device with a fifth free, start-up counted",
        (),
        gear_budget.check_supply,
    ),
    Rule(
        (run_signal.FEED,),
        "Power at the device",
        "watts and volts at the far end of each cable, by its heat",
        (),
        run_signal.check_feed,
    ),
    Rule(
        (bundle_power.SLUG,),
        "Heat of powered bundles",
        "amperes a conductor by the printed table, in the heat around the bundle",
        (),
        bundle_power.check,
    ),
    Rule(
        (run_signal.HOT,),
        "Length of a link in heat",
        "shorter than 90 m where the attic is hot",
        (),
        run_signal.check_hot,
    ),
    Rule(
        (run_signal.DROP,),
        "Wire thick enough",
        "volts and loudness lost on bells, keypads, shades, loudspeakers",
        (),
        run_signal.check_drop,
    ),
    Rule(
        (run_signal.PLACE,),
        "Cable for its place",
        "wet ground, and heat over the cable's rating",
        (),
        run_signal.check_place,
    ),
    Rule(
        (coax_window.SLUG,),
        "Levels of coax",
        "low and high frequency within the service's window at every location",
        (),
        coax_window.check,
    ),
    Rule(
        (radio_dark.DARK,),
        "Radio in every room",
        "no room dark beyond doubt with the access points planned",
        (),
        radio_dark.check_dark,
    ),
    Rule(
        (radio_dark.METAL,),
        "Access points clear of metal",
        "3 ft from ducts, panels and the like",
        (),
        radio_dark.check_metal,
    ),
    Rule(
        (wishes_told.SPACE,),
        "Wall spaces",
        "12 ft of unbroken wall, 25 ft from a location: a recommendation",
        ("wall-space",),
        wishes_told.check_space,
    ),
    Rule(
        (wishes_told.SPARE,),
        "Spares",
        "tagged at both ends",
        ("spare-tagged",),
        wishes_told.check_spare,
    ),
    Rule(
        (facts.BONDING,),
        "Bonding at the entry",
        "20 ft at most, else a rod of its own",
        ("bonding-length",),
        facts.check_bonding,
    ),
    Rule(
        (facts.MISSING,),
        "Facts nobody said",
        "cover, insulation, return air",
        (),
        facts.check_missing,
    ),
    Rule(
        (facts.EDITION,),
        "Editions",
        "an adopted edition the tables lack",
        (),
        facts.check_edition,
    ),
    Rule(
        (facts.VERIFY,),
        "Clauses to verify",
        "life-safety figures nobody read in the adopted book",
        (),
        facts.check_verify,
    ),
    Rule(
        (facts.LOST,),
        "Holes without wood",
        "a hole outside its member, or in none",
        (),
        facts.check_lost,
    ),
)


def check_all(
    job: Job,
    frame: Frame,
    wiring: Wiring,
    plates: tuple[NailPlate, ...] | None = None,
    straps: tuple[Strap, ...] | None = None,
    seals: tuple[Seal, ...] | None = None,
) -> tuple[Finding, ...]:
    """Every rule on one plan, worst first.

    Args:
        job, frame, wiring: The plan.
        plates, straps, seals: As counted from it (takeoff); None leaves the rules about missing ones silent.
    """
    case = lay_open(job, frame, wiring, plates=plates, straps=straps, seals=seals)
    return tuple(sorted((f for rule in RULES for f in rule.check(case)), key=lambda f: f.order))


def rule_slugs() -> tuple[str, ...]:
    """The slug of every finding a rule can give, in the order of the catalogue."""
    return tuple(slug for rule in RULES for slug in rule.slugs)


def print_catalogue(adopted: Adopted | None = None) -> str:
    """The rule book as plain text: each rule with its clauses, figures and how they were confirmed."""
    adopted = adopt() if adopted is None else adopted
    lines = []
    for rule in RULES:
        lines.append(f"{rule.title}: {rule.says}")
        lines.append(f"  findings: {', '.join(rule.slugs)}")
        for slug in rule.clauses:
            clause = adopted.clause(slug)
            figures = ", ".join(f"{name} {value}" for name, value in clause.values)
            lines.append(f"  {clause.source}: {clause.title}{f' [{figures}]' if figures else ''}")
        lines.append("")
    return "\n".join(lines)
