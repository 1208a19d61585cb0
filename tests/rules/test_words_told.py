"""What each rule says, word for word: a regression pin of our own output, read by eye when it was written.

Every scenario breaks one rule in one way. A changed sentence, place, source or fix shows itself here; the
figures are held by hand-reckoned tests elsewhere. To renew after a wished change:
``BAYRUN_WRITE_WORDS=1 python -m pytest tests/rules/test_words_told.py``, then read the difference.
"""

from __future__ import annotations

import json
import os
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from benches import (
    BOX,
    DATA,
    FEED,
    FLOOR,
    JOB,
    WALL,
    Bench,
    cover,
    data_run,
    filled,
    flat,
    joist,
    joist_hole,
    plate_hole,
    stud_hole,
    upright,
    wished,
    with_runs,
)

from bayrun.findings import Finding
from bayrun.house import (
    Barrier,
    Choice,
    Conduit,
    End,
    Gear,
    Knockouts,
    Level,
    Location,
    Obstacle,
    Opening,
    WishedRun,
)
from bayrun.wiring import NailPlate, Strap, Unreached

WORDS = Path(__file__).parent.parent / "data" / "rule_words.json"
SCENARIOS: dict[str, tuple[Bench, set[str]]] = {}
STUD = upright(4, 48.0)
FREE = upright(4, 48.0, bearing=False)
OUTER = upright(4, 48.0, exterior=True, bearing=False)


def told(name: str, rules: str, bench: Bench) -> None:
    """Put a scenario on the list."""
    assert name not in SCENARIOS, name
    SCENARIOS[name] = (bench, set(rules.split()))


def drilled(member: Any, hole: Any, **facts: Any) -> Bench:
    """One hole in one member."""
    return Bench(replace(JOB, frames=(FLOOR,)), [member], holes=[hole], **facts)


def box_job(**facts: Any) -> Bench:
    """The bench enclosure changed."""
    return Bench(replace(JOB, enclosures=(replace(BOX, **facts),)))


def feed_job(**facts: Any) -> Bench:
    """Its feed changed."""
    return box_job(ac_feed=replace(FEED, **facts))


def practice_job(**facts: Any) -> Bench:
    """The firm's practice changed."""
    return Bench(replace(JOB, practice=replace(JOB.practice, **facts)))


# --- holes -----------------------------------------------------------------------------------------------

SIZES = "stud-hole-size stud-hole-edge plate-hole-edge joist-hole-size joist-hole-edge engineered-never"
for word, member in (("bearing", STUD), ("non-bearing", FREE), ("exterior", OUTER)):
    told(f"size, {word}", SIZES, drilled(member, stud_hole("H1", member, 2.25)))
doubled = upright(4, 48.0, plies=2)
told("size, doubled", SIZES, drilled(doubled, stud_hole("H1", doubled, 2.25)))
told("size with cables", SIZES, with_runs(drilled(STUD, filled(stud_hole("H1", STUD, 1.75), 20)), 20))
told("edge, left", SIZES, drilled(STUD, stud_hole("H1", STUD, 1.0, across_in=0.75)))
told("edge, right", SIZES, drilled(STUD, stud_hole("H1", STUD, 1.0, across_in=-0.75)))
told("edge, out", SIZES, drilled(STUD, stud_hole("H1", STUD, 1.0, across_in=1.5)))
told("plate edge", SIZES, drilled(flat("top"), plate_hole("H1", flat("top"), 1.0, across_in=0.75)))
told(
    "bottom plate edge", SIZES, drilled(flat("bottom"), plate_hole("H1", flat("bottom"), 1.0, across_in=1.5))
)
told("joist size", SIZES, drilled(joist(), joist_hole("H1", joist(), 3.5)))
told("joist edge", SIZES, drilled(joist(), joist_hole("H1", joist(), 1.0, from_bottom_in=2.0)))
told("joist edge, top", SIZES, drilled(joist(), joist_hole("H1", joist(), 1.0, from_bottom_in=7.5)))
rafter = joist(role="rafter", says="rafter 1")
told("rafter size", SIZES, drilled(rafter, joist_hole("H1", rafter, 3.5)))
for role, material in (
    ("header", "wood"),
    ("beam", "engineered"),
    ("post", "wood"),
    ("edge member", "wood"),
    ("edge member", "engineered"),
    ("backing", "wood"),
    ("roof truss chord", "truss"),
    ("floor truss chord", "truss"),
    ("concrete", "concrete"),
):
    never = joist(role=role, material=material, says=f"{role} 1")
    told(f"never, {material} {role}", SIZES, drilled(never, joist_hole("H1", never, 0.75)))
web = joist(role="I-joist", material="I-joist", says="I-joist 1")
FACTORY = f"{SIZES} factory-hole-size"
told("I-joist, no chart", FACTORY, drilled(web, joist_hole("H1", web, 1.0)))
charted = replace(FLOOR, kind="I-joists", knockouts=Knockouts(1.5, 16.0, "its maker"))
for name, facts, size in (("drilled", False, 1.0), ("too wide", True, 2.0), ("used", True, 1.5)):
    hole = replace(joist_hole("H1", web, size), open_passage=facts)
    told(f"I-joist, knockout {name}", FACTORY, Bench(replace(JOB, frames=(charted,)), [web], holes=[hole]))
steel = upright(4, 48.0, material="steel", bearing=False)
for name, member, size, passage in (
    ("too wide", steel, 2.0, True),
    ("punched", steel, 1.5, True),
    ("drilled, bearing", replace(steel, bearing=True), 1.0, False),
    ("drilled, free", steel, 1.0, False),
):
    hole = replace(stud_hole("H1", member, size), open_passage=passage)
    told(f"steel stud, {name}", FACTORY, drilled(member, hole))
told(
    "third doubled stud",
    "stud-successive-doubled",
    Bench(
        members=[upright(i, 16.0 * i, plies=2) for i in (1, 2, 3, 4)],
        holes=[stud_hole(f"H{i}", upright(i, 16.0 * i), 2.0) for i in (1, 2, 3, 4)],
    ),
)
GAPS = "hole-spacing joist-hole-spacing"
for apart in (0.5, 1.9, -1.9):
    pair = [stud_hole("H1", STUD, 1.0), stud_hole("H2", STUD, 1.0, up_in=40.0 + apart)]
    told(f"two holes {apart} apart", GAPS, Bench(members=[STUD], holes=pair))
told(
    "two joist holes",
    GAPS,
    drilled(joist(), joist_hole("H1", joist(), 1.0)),
)
SCENARIOS["two joist holes"][0].holes.append(joist_hole("H2", joist(), 1.0, 38.0))
told("fill, fix soon", "hole-fill", with_runs(drilled(STUD, filled(stud_hole("H1", STUD, 0.75), 5)), 5))
told("fill, stop", "hole-fill", with_runs(drilled(STUD, filled(stud_hole("H1", STUD, 0.75), 8)), 8))
told("fill, unknown", "hole-fill", drilled(STUD, filled(stud_hole("H1", STUD, 0.75), 1)))
told(
    "packing",
    "hole-packing",
    with_runs(drilled(STUD, filled(stud_hole("H1", STUD, 1.0), 2, ((0.0, 0.0), (0.1, 0.0)))), 2),
)
told(
    "packing, out",
    "hole-packing",
    with_runs(drilled(STUD, filled(stud_hole("H1", STUD, 1.0), 1, ((0.4, 0.0),))), 1),
)
told(
    "packing, not shown",
    "hole-packing",
    with_runs(drilled(STUD, replace(filled(stud_hole("H1", STUD, 1.0), 1), circles=())), 1),
)
top = flat("top")
chord = drilled(top, plate_hole("H1", top, 0.75))
chord.over = {top.id: (cover("W1/stud-4", 28.0, -0.75, 32.0, 0.75),)}
chord.members.append(STUD)
told("under a chord", "member-over-plate", chord)
low = drilled(flat("bottom"), plate_hole("H1", flat("bottom"), 0.75))
low.over = {flat("bottom").id: (cover("O1", 28.0, -2.0, 32.0, 2.0),)}
low.job = replace(low.job, obstacles=(Obstacle("O1", "duct 6 in"),))
told("over a duct", "member-over-plate", low)
given = drilled(top, plate_hole("H1", top, 0.75, 90.0))
given.wiring = {"blocked_plates": ((top.id, 60.5, "O1", ""), (top.id, 30.0, "O1", "2' 8\" along"))}
told("ways given up", "member-over-plate", given)
one_way = drilled(top, plate_hole("H1", top, 0.75, 90.0))
one_way.wiring = {"blocked_plates": (("W9/bottom", 30.0, "O1", "2' 8\" along"),)}
told("a way found in a plate the frame lacks", "member-over-plate", one_way)
told("lost hole", "hole-without-member", drilled(STUD, replace(stud_hole("H1", STUD, 1.0), member="W9/x")))
told("hole out of its stud", "hole-without-member", drilled(STUD, stud_hole("H1", STUD, 1.0, up_in=94.0)))
told("hole out of its plate", "hole-without-member", drilled(top, plate_hole("H1", top, 1.0, 0.25)))

# --- steel, straps, seals --------------------------------------------------------------------------------

bare = drilled(STUD, stud_hole("H1", STUD, 1.25))
bare.plates = ()
told("plates on both faces", "nail-plate", bare)
old = replace(bare, job=replace(JOB, practice=replace(JOB.practice, editions=(("NEC", "2017"),))))
told("plates before 2020", "nail-plate", old)
side = drilled(STUD, stud_hole("H1", STUD, 0.75, across_in=0.6))
side.plates = ()
told("a plate on one face", "nail-plate", side)
told(
    "joist plate",
    "nail-plate",
    replace(drilled(joist(), joist_hole("H1", joist(), 1.0, from_bottom_in=1.0)), plates=()),
)
small = replace(bare, plates=(NailPlate("P1", "H1", STUD.id, "left", "", 1.0, "", width_in=1.0),))
told("a small plate", "nail-plate-small", small)
cut = drilled(top, plate_hole("H1", top, 2.0))
told("strap, not counted yet", "plate-strap", cut)
told("strap missing", "plate-strap", replace(cut, straps=()))
told("strap short", "plate-strap", replace(cut, straps=(Strap("S1", "H1", top.id, 10.0, ""),)))
told("seal missing", "seal-missing", replace(cut, seals=()))
told(
    "seal missing, bottom",
    "seal-missing",
    replace(drilled(flat("bottom"), plate_hole("H1", flat("bottom"), 0.75)), seals=()),
)
unsaid = replace(cut, job=replace(JOB, facts=replace(JOB.facts, fireblock_material=None)))
told("material unsaid", "fireblock-material", unsaid)
party = replace(JOB, walls=(replace(WALL, rated="2-hour party wall"),))
told(
    "hole in a party wall",
    "separation-crossed seal-missing",
    replace(drilled(STUD, stud_hole("H1", STUD, 1.0)), job=party, seals=()),
)
board = joist(role="barrier", material="gypsum", host="B1", says="garage board")
for name, barrier in (
    ("draftstop", Barrier("B1", "draftstop over the hall", needs_seal=True)),
    ("closed", Barrier("B1", "dwelling-garage separation")),
):
    crossed = Bench(
        replace(JOB, barriers=(barrier,)), [board], holes=[joist_hole("H1", board, 1.0)], seals=()
    )
    told(f"barrier, {name}", "separation-crossed seal-missing", crossed)

# --- enclosure -------------------------------------------------------------------------------------------

BAY = "enclosure-bay-width enclosure-depth enclosure-height enclosure-wall enclosure-missing enclosure-passed"
told("box too wide", BAY, box_job(width_in=14.75))
told("box tight", BAY, box_job(width_in=14.3))
told("box in a wide bay", BAY, box_job(bay_studs_in=(48.0, 72.0)))
told("box too deep", BAY, box_job(depth_in=4.5))
told("box high", BAY, box_job(center_aff_in=66.0))
told("box low", BAY, box_job(center_aff_in=20.0))
told("box past the top plate", BAY, box_job(center_aff_in=90.0))
told("box past the bottom plate", BAY, box_job(center_aff_in=10.0))
for name, facts in (
    ("rated", {"rated": "1-hour"}),
    ("garage", {"separation": "dwelling-garage separation"}),
    ("exterior", {"exterior": True}),
    ("wet", {"wet": True}),
):
    told(f"box wall, {name}", BAY, Bench(replace(JOB, walls=(replace(WALL, **facts),))))
window = Opening("N1", "W1", "window", 50.0, 30.0, 36.0, 40.0, 9.25)
told("box in a window", BAY, Bench(replace(JOB, openings=(window,))))
told("box missing", BAY, Bench(replace(JOB, enclosures=(), runs=(wished("R1"),))))
told("run through the box", BAY, Bench(runs=[data_run("R1", (56.0, -10.0, 48.0), (56.0, 10.0, 48.0))]))
told("who does the power", "ac-by-electrician", Bench())
FEEDS = "ac-feed-support ac-free-conductor ac-barrier ac-receptacle-gfci-afci ac-hole ac-from-below"
told("feed unsaid", FEEDS, box_job(ac_feed=None))
for name, facts in {
    "staple over the firm": {"staple_from_box_in": 8.0},
    "staple over the code": {"staple_from_box_in": 14.0},
    "staple without clamp": {"staple_from_box_in": 9.0, "clamped": False},
    "staples unsaid": {"staple_from_box_in": None, "staple_from_emergence_in": None},
    "staple far from where it comes out": {"staple_from_emergence_in": 20.0},
    "clamp unsaid": {"clamped": None},
    "tail short": {"tail_in": 4.0},
    "tail long": {"tail_in": 14.0},
    "tail unsaid": {"tail_in": None},
    "no barrier": {"barrier": False},
    "barrier unsaid": {"barrier": None},
    "protection unsaid": {"gfci": None, "afci": None},
    "no protection": {"gfci": False, "afci": False},
    "feed hole": {"hole_diameter_in": 2.0},
    "from below on wood": {"way": "from below"},
}.items():
    told(name, FEEDS, feed_job(**facts))
slab = feed_job(way="from below")
slab.job = replace(slab.job, levels=(replace(JOB.levels[0], slab=True),))
told("from below on a slab", FEEDS, slab)
basement = replace(
    JOB,
    levels=(replace(JOB.levels[0], id="B"),),
    walls=(replace(WALL, level="B"),),
    rooms=tuple(replace(r, level="B", kind="store", name="Store") for r in JOB.rooms),
    enclosures=(replace(BOX, level="B", room="Store", ac_feed=replace(FEED, gfci=False)),),
    practice=replace(JOB.practice, editions=(("NEC", "2017"),)),
)
told("basement before 2020", FEEDS, Bench(basement))
steel_wall = replace(WALL, core="steel 3-5/8", thickness_in=3.625)
steel_feed = replace(FEED, hole_diameter_in=2.0, bay_studs_in=(32.0, 48.0))
told(
    "feed hole in steel",
    FEEDS,
    Bench(replace(JOB, walls=(steel_wall,), enclosures=(replace(BOX, ac_feed=steel_feed),))),
)
wood_stud = replace(steel_wall, wood_studs_in=(48.0,))
told(
    "feed hole in a wood stud of steel",
    FEEDS,
    Bench(replace(JOB, walls=(wood_stud,), enclosures=(replace(BOX, ac_feed=steel_feed),))),
)

# --- runs ------------------------------------------------------------------------------------------------

LONG = replace(data_run("R1", (0.0, 0.0, 50.0), (3600.0, 0.0, 50.0)))
told("run too long", "run-too-long", Bench(runs=[LONG]))
told(
    "bend back", "bend-radius", Bench(runs=[data_run("R1", (0, 0, 0), (40, 0, 0), (40, 1.0, 0), (0, 1.0, 0))])
)
zigzag = [(float(100 * i), 10.0 * (i % 2), 50.0) for i in range(14)]
turns = [p for i, q in enumerate(zigzag) for p in ((q[0], zigzag[i - 1][1], 50.0), q)][1:]
told("long pull", "pull-limit", Bench(runs=[data_run("R1", *turns)]))
for name, listing in (("unsaid", ""), ("unknown", "XYZ"), ("small only", "CL3X")):
    bench = practice_job(cables=(replace(DATA, listing=listing, diameter_in=0.3),))
    bench.runs = [data_run("R1")]
    told(f"listing {name}", "cable-listing", bench)
told("supports", "support-interval", practice_job(support_every_in=72.0))
bell = Location("L1", "Laundry", "1", "exterior", 48.0, "W1", 32.0, "exterior")
told("outside", "cable-outside", Bench(replace(JOB, locations=(bell,)), runs=[data_run("R1")]))
BLOCKED = "run-blocked"
lost = Bench(
    replace(
        JOB,
        locations=(bell,),
        runs=(wished("R1"), WishedRun("R2", "D", End("device", "G1"), End("enclosure", "E1"))),
    )
)
lost.job = replace(lost.job, gear=(Gear("G1", "air handler", False, "Hall", "1"),))
lost.wiring = {"unreached": (Unreached("R1", "the top plate", "truss 3"), Unreached("R9", "a bay", "a beam"))}
told("runs that do not arrive", BLOCKED, lost)
told(
    "a run of an unknown device",
    BLOCKED,
    Bench(
        replace(
            JOB,
            enclosures=(),
            runs=(
                WishedRun("R2", "D", End("device", "G9"), End("enclosure", "E9")),
                WishedRun("R3", "D", End("location", "L9"), End("enclosure", "E1")),
            ),
        )
    ),
)
told(
    "setback",
    "parallel-setback steel-over-run",
    Bench(runs=[data_run("R1", (20.0, 1.0, 10.0), (20.0, 1.0, 90.0))]),
)
thin = Bench(
    replace(JOB, walls=(replace(WALL, core="2x3", thickness_in=2.5),)),
    runs=[data_run("R1", (20.0, 0.0, 10.0), (20.0, 0.0, 90.0))],
)
told("setback, thin", "parallel-setback steel-over-run", thin)
told(
    "setback, steel",
    "parallel-setback steel-over-run",
    replace(thin, job=replace(thin.job, choices=(Choice("steel over run", "R1@W1", "both"),))),
)
power = Obstacle("O1", "power run 14/2", ("1",), path=((0.0, 0.0, 100.0), (200.0, 0.0, 100.0)))
along = [data_run(f"R{i}", (0.0, 3.0, 100.0), (150.0 - i, 3.0, 100.0)) for i in range(2)]
told("along power", "power-separation", Bench(replace(JOB, obstacles=(power,)), runs=along))
told("one along power", "power-separation", Bench(replace(JOB, obstacles=(power,)), runs=along[:1]))
wet = replace(
    JOB,
    frames=(FLOOR,),
    obstacles=(
        Obstacle(
            "O1",
            "sprinkler CPVC 1-1/4",
            center=(None, 40.0),
            diameter_in=1.66,
            frames=("F1",),
            z_above_frame_bottom_in=4.0,
            passes_over_in=2.0,
        ),
    ),
)
for name, a, b in (
    ("touch", (0.0, 40.0, 101.2), (100.0, 40.0, 101.2)),
    ("along", (0.0, 41.5, 101.2), (100.0, 41.5, 101.2)),
    ("cross", (50.0, 0.0, 103.0), (50.0, 90.0, 103.0)),
    ("under", (50.0, 0.0, 98.0), (50.0, 90.0, 98.0)),
    ("square and over", (50.0, 0.0, 104.9), (50.0, 90.0, 104.9)),
    ("under the ceiling", (50.0, 0.0, 90.0), (50.0, 90.0, 90.0)),
):
    told(f"CPVC, {name}", "cpvc-contact", Bench(wet, runs=[data_run("R1", a, b)]))
crawl = replace(
    JOB,
    frames=(
        replace(FLOOR, kind="I-joists", above_level=None, below_level="1", z_bottom_in=-12.0, z_top_in=-1.0),
    ),
)
told(
    "over a crawl space",
    "floor-membrane",
    Bench(crawl, runs=[data_run("R1", (10.0, 10.0, -6.0), (90.0, 10.0, -6.0))]),
)
two = replace(
    JOB,
    levels=(Level("B", -110.0, 97.0), replace(JOB.levels[0])),
    frames=(
        replace(
            FLOOR,
            kind="open-web floor trusses",
            above_level="B",
            below_level="1",
            z_bottom_in=-12.0,
            z_top_in=-1.0,
        ),
    ),
)
told(
    "over a basement",
    "floor-membrane",
    Bench(two, runs=[data_run(f"R{i}", (10.0, 10.0, -6.0), (90.0, 10.0, -6.0)) for i in range(2)]),
)

# --- locations, conduits, facts --------------------------------------------------------------------------


def at(offset_in: float, height_in: float = 14.0, side_: str = "left", **job: Any) -> Bench:
    """A box on the bench wall among two studs."""
    room = "Laundry" if side_ == "left" else "Hall"
    box = Location("L1", room, "1", "wall", height_in, "W1", offset_in, side_)  # type: ignore[arg-type]
    return Bench(replace(JOB, locations=(box,), **job), [upright(1, 30.0), upright(2, 100.0)])


PLACES = (
    "location-on-member location-in-opening location-behind-door location-behind-cabinet location-at-jamb"
)
door = Opening("D1", "W1", "door", 50.0, 32.0, 0.0, 82.0, 9.25, swings_into="Laundry", hinge_end="low")
told("on a stud", PLACES, at(30.5))
told("into a stud", PLACES, at(31.5))
told("in a door", PLACES, at(60.0, openings=(door,)))
told("in a header", PLACES, at(60.0, 84.0, openings=(door,)))
told("behind a door", PLACES, at(40.0, openings=(door,)))
told("behind a door hung high", PLACES, at(95.0, openings=(replace(door, hinge_end="high"),)))
told("before the hinge", PLACES, at(90.0, openings=(door,)))
told("at a jamb", PLACES, at(45.0, side_="right", openings=(door,)))
cabinets = Obstacle("O1", "base cabinets", ("1",), rect=(20.0, 2.0, 60.0, 26.0), z_in=(0.0, 36.0))
told("behind cabinets", PLACES, at(45.0, obstacles=(cabinets,)))
told("cabinets on the other face", PLACES, at(45.0, side_="right", obstacles=(cabinets,)))
RATED = "box-in-rated-wall boxes-back-to-back rated-wall-boxes box-seal-missing"
rated = replace(WALL, rated="1-hour", end=(24.0, 0.0), plate_end_in=24.0)
boxes = tuple(
    Location(f"L{i}", room, "1", "wall", 14.0, "W1", 4.0 + 3.0 * i, face)  # type: ignore[arg-type]
    for i, (room, face) in enumerate((("Laundry", "left"), ("Hall", "right"), ("Laundry", "left")))
)
told(
    "boxes in a rated wall",
    RATED,
    Bench(replace(JOB, walls=(rated,), locations=boxes), runs=[data_run("R1")], seals=()),
)
told("air seal", RATED, Bench(replace(JOB, locations=(bell,)), runs=[data_run("R1")], seals=()))
pipe = Conduit(
    "C1", "1-1/4 in flexible", 1.66, "service", "E1", hole_in=1.5, in_wall="W1", hole_height_in=40.0
)
CONDUITS = "conduit-hole conduit-size conduit-wall"
told("conduit hole", CONDUITS, Bench(replace(JOB, conduits=(pipe,))))
told("conduit wall", CONDUITS, Bench(replace(JOB, conduits=(replace(pipe, hole_in=2.5),))))
told(
    "conduit called its trade size",
    CONDUITS,
    Bench(replace(JOB, conduits=(replace(pipe, outside_diameter_in=1.25, hole_in=1.25),))),
)
told(
    "metal conduit",
    CONDUITS,
    Bench(replace(JOB, conduits=(replace(pipe, size="1 in EMT", outside_diameter_in=1.0, hole_in=1.25),))),
)
FACTS = "fact-missing bonding-length edition-unknown clause-to-verify spare-tagged wall-space"
told("facts unsaid", FACTS, Bench(replace(JOB, facts=type(JOB.facts)())))
told("bonding", FACTS, Bench(replace(JOB, facts=replace(JOB.facts, bonding_length_in=300.0))))
told("edition", FACTS, practice_job(editions=(("IRC", "2009"), ("NEC", "2020"))))
new = practice_job(editions=(("IRC", "2024"), ("NEC", "2020")))
new.members, new.holes = [STUD], [stud_hole("H1", STUD, 1.0), stud_hole("H2", STUD, 1.0, 60.0)]
told("to verify", FACTS, new)
told("to verify, one", FACTS, replace(new, holes=new.holes[:1]))
spares = tuple(replace(wished(f"R{i}"), spare=True) for i in range(2))
told("spares", FACTS, Bench(replace(JOB, runs=spares)))
NOTCHES = "notch-size notch-zone notch-beside-hole notch-never notch-steel"
for name, member, text in (
    ("stud", STUD, "1.25 in deep 1 in long on the left"),
    ("header", upright(4, 48.0, role="header", says="header"), "1 in deep 1 in long on the left"),
    ("plate", top, "2 in deep 1 in long on the right"),
    ("joist", joist(), "2 in deep 4 in long on the top"),
):
    notch = Choice("notch", f"{member.id}@40", text)
    hole = joist_hole("H1", member, 1.0, 40.0) if name == "joist" else stud_hole("H1", member, 1.0, 40.25)
    hole = plate_hole("H1", member, 1.0, 40.25) if name == "plate" else hole
    job = replace(JOB, choices=(notch,), frames=(replace(FLOOR, spans_in=((0.0, 96.0),)),))
    told(f"notch in a {name}", NOTCHES, Bench(job, [member], holes=[hole]))
TRADES = "run-in-obstacle run-near-obstacle obstacle-in-bit-way look-before-drilling"
flue = Obstacle(
    "O1", "flue 4 in", ("1", "2"), center=(60.0, 40.0), diameter_in=4.0, z_in=(0.0, 90.0), clearance_in=1.0
)
told(
    "through a flue",
    TRADES,
    Bench(replace(JOB, obstacles=(flue,)), runs=[data_run("R1", (0.0, 40.0, 50.0), (120.0, 40.0, 50.0))]),
)
told(
    "near a flue",
    TRADES,
    Bench(
        replace(JOB, obstacles=(replace(flue, wall="W1"),)),
        runs=[data_run("R1", (0.0, 42.5, 50.0), (120.0, 42.5, 50.0))],
    ),
)
vent = Obstacle("O1", "vent pipe", center=(51.0, 0.0), diameter_in=2.0, z_in=(0.0, 97.0))
told(
    "a vent behind the stud",
    TRADES,
    replace(drilled(STUD, stud_hole("H1", STUD, 1.0)), job=replace(JOB, obstacles=(vent,))),
)
told(
    "a vent beyond",
    TRADES,
    replace(
        drilled(STUD, stud_hole("H1", STUD, 1.0)),
        job=replace(JOB, obstacles=(replace(vent, center=(58.0, 3.0)),)),
    ),
)
washer = Obstacle("O1", "washer", ("1",), rect=(50.0, 10.0, 60.0, 30.0), z_in=(0.0, 40.0))
told("no room before the box", "enclosure-working-space", Bench(replace(JOB, obstacles=(washer,))))


def plain(finding: Finding) -> list[Any]:
    """A finding as plain data."""
    numbers = [None if v is None else round(v, 4) + 0.0 for v in (finding.measured, finding.limit)]
    fixes = [[fix.verb, *fix.arguments, fix.says, fix.request_to] for fix in finding.fixes]
    source = "" if finding.source is None else str(finding.source)
    head = [finding.rule, finding.severity.value, list(finding.about), finding.place, finding.says]
    return [*head, *numbers, finding.unit, source, fixes]


def all_words() -> dict[str, list[Any]]:
    """What every scenario is told."""
    return {name: [plain(f) for f in bench.by(rules)] for name, (bench, rules) in SCENARIOS.items()}


def pinned() -> dict[str, list[Any]]:
    """What stands in the file; written anew where the environment asks."""
    if os.environ.get("BAYRUN_WRITE_WORDS") == "1":
        WORDS.write_text(json.dumps(all_words(), indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    words: dict[str, list[Any]] = json.loads(WORDS.read_text(encoding="utf-8"))
    return words


PINNED = pinned()


def test_every_scenario_is_pinned() -> None:
    assert set(PINNED) == set(SCENARIOS)
    assert sum(1 for words in PINNED.values() if words) >= 120


@pytest.mark.parametrize("name", sorted(SCENARIOS))
def test_what_a_rule_says_word_for_word(name: str) -> None:
    bench, rules = SCENARIOS[name]
    now = json.loads(json.dumps([plain(f) for f in bench.by(rules)]))
    then = PINNED[name]
    assert [f[:5] for f in now] == [f[:5] for f in then]
    for one, other in zip(now, then, strict=True):
        assert one[5:9] == other[5:9]
        assert _rounded(one[9]) == _rounded(other[9])


def _rounded(fixes: list[list[Any]]) -> list[list[Any]]:
    return [[round(v, 4) + 0.0 if isinstance(v, float) else v for v in fix] for fix in fixes]


def test_no_word_names_a_coordinate_or_a_bare_number_of_inches() -> None:
    for name, words in PINNED.items():
        for finding in words:
            for text in (finding[3], finding[4], *(fix[-2] for fix in finding[9])):
                assert "None" not in text, (name, text)
                assert "x =" not in text, (name, text)
                assert "(0.0" not in text, (name, text)
