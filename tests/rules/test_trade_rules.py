"""Rules about things of other trades, the room before the enclosure, steel and seals that were counted."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from benches import (
    BOX,
    FEED,
    FLOOR,
    JOB,
    WALL,
    Bench,
    apply,
    data_run,
    flat,
    joist,
    joist_hole,
    located,
    plate_hole,
    stud_hole,
    upright,
)

from bayrun.findings import Finding, Severity
from bayrun.house import End, FacePiece, Job, Level, Location, Obstacle, Opening, Practice, Room, Wall
from bayrun.rules.shapes import gaps_of, nearest_in
from bayrun.wiring import NailPlate, Run, Seal, Strap

STOP, SOON, NOTE, CANNOT = Severity.STOP, Severity.FIX_SOON, Severity.NOTE, Severity.CANNOT_TELL
STUD = upright(1, 20.0)


def only(findings: tuple[Finding, ...]) -> Finding:
    """The one finding there should be."""
    (told,) = findings
    return told


def beside(thing: Obstacle, *runs: Run, **facts: Any) -> Bench:
    """The bench job with one thing of another trade."""
    return Bench(replace(JOB, obstacles=(thing,), **facts), runs=list(runs))


# --- shapes ----------------------------------------------------------------------------------------------


def test_distances_to_boxes_and_pipes_by_hand() -> None:
    box = Obstacle("O1", "duct", rect=(10.0, 0.0, 20.0, 8.0), z_in=(50.0, 60.0))
    (gap,) = gaps_of(JOB, box)
    assert gap((15.0, 4.0, 55.0)) == 0.0
    assert gap((7.0, 4.0, 64.0)) == 5.0  # 3 beside, 4 over
    assert gap((24.0, 11.0, 55.0)) == 5.0  # 4 and 3 in the plan
    assert gap((15.0, -2.0, 48.0)) == pytest.approx(8.0**0.5)
    riser = Obstacle("O1", "stack", center=(30.0, 40.0), diameter_in=4.0, z_in=(0.0, 90.0))
    (gap,) = gaps_of(JOB, riser)
    assert gap((30.0, 41.0, 10.0)) == 0.0
    assert gap((30.0, 45.0, 10.0)) == 3.0
    assert gap((30.0, 45.0, 94.0)) == 5.0  # 3 beside, 4 over
    job = replace(JOB, frames=(FLOOR,))
    pipe = Obstacle(
        "O1", "main", center=(None, 30.0), diameter_in=2.0, frames=("F1",), z_above_frame_bottom_in=4.0
    )
    (gap,) = gaps_of(job, pipe)  # along x at y = 30, z = 101.125
    assert gap((60.0, 33.0, 105.125)) == pytest.approx(4.0)
    assert gap((60.0, 30.5, 101.125)) == 0.0
    across = replace(pipe, center=(30.0, None))
    (gap,) = gaps_of(job, across)
    assert gap((33.0, 60.0, 105.125)) == pytest.approx(4.0)
    assert gaps_of(JOB, pipe) == ()
    assert gaps_of(job, replace(pipe, z_above_frame_bottom_in=None)) == ()
    assert gaps_of(JOB, replace(riser, diameter_in=None)) == ()
    assert gaps_of(JOB, replace(riser, center=None)) == ()
    assert gaps_of(JOB, replace(box, path=((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)))) == ()


def test_the_nearest_point_of_a_way_may_lie_anywhere_on_it() -> None:
    (gap,) = gaps_of(JOB, Obstacle("O1", "stack", center=(30.0, 40.0), diameter_in=4.0, z_in=(0.0, 90.0)))
    assert nearest_in(((0.0, 45.0, 10.0), (100.0, 45.0, 10.0)), gap) == pytest.approx(3.0)
    assert nearest_in(((0.0, 45.0, 10.0), (26.0, 43.0, 10.0)), gap) == pytest.approx(3.0)  # at its end
    assert nearest_in(((34.0, 43.0, 10.0), (99.0, 45.0, 10.0)), gap) == pytest.approx(3.0)  # at its start


# --- runs ------------------------------------------------------------------------------------------------

FLUE = Obstacle("O1", "flue 4 in", ("1",), center=(60.0, 40.0), diameter_in=4.0, z_in=(0.0, 90.0))


@pytest.mark.parametrize(
    ("y", "clearance_in", "rule"),
    [
        # Surface of the flue at 42, half a 0.23 cable: touching at 42.115.
        (42.115, 0.0, None),
        (42.114, 0.0, "run-in-obstacle"),
        (40.0, 0.0, "run-in-obstacle"),
        (43.115, 1.0, None),
        (43.114, 1.0, "run-near-obstacle"),
        (42.115, 1.0, "run-near-obstacle"),
        (42.114, 1.0, "run-in-obstacle"),
    ],
)
def test_runs_keep_out_of_a_flue_and_its_clearance(y: float, clearance_in: float, rule: str | None) -> None:
    bench = beside(replace(FLUE, clearance_in=clearance_in), data_run("R1", (0.0, y, 50.0), (120.0, y, 50.0)))
    found = [f for f in bench.findings() if f.rule in ("run-in-obstacle", "run-near-obstacle")]
    assert [f.rule for f in found] == ([] if rule is None else [rule])
    if rule:
        assert found[0].severity is STOP
        assert found[0].measured == pytest.approx(max(y - 42.115, -0.115))  # inside it counts as 0
        assert found[0].place == "flue 4 in O1, level 1"


def test_a_run_ends_at_its_own_device() -> None:
    goes_in = data_run("R1", (0.0, 40.0, 50.0), (59.0, 40.0, 50.0))
    assert not beside(FLUE, goes_in).of("run-in-obstacle")
    starts = data_run("R1", (59.0, 40.0, 50.0), (0.0, 40.0, 50.0))
    assert not beside(FLUE, starts).of("run-in-obstacle")


def test_a_run_that_begins_against_a_thing_goes_to_it() -> None:
    # The surface at 42 and half a cable: it touches at 42.115 and is the device's own.
    touching = data_run("R1", (60.0, 42.115, 50.0), (60.0, 41.0, 50.0), (0.0, 60.0, 50.0))
    assert not beside(FLUE, touching).of("run-in-obstacle")
    apart = data_run("R1", (60.0, 42.2, 50.0), (60.0, 41.0, 50.0), (0.0, 60.0, 50.0))
    assert beside(FLUE, apart).of("run-in-obstacle")


def test_a_hole_in_wood_the_frame_lacks_is_not_looked_at() -> None:
    bench = beside(FLUE)
    bench.holes = [replace(stud_hole("H1", STUD, 1.0), member="W9/gone")]
    assert not bench.of("look-before-drilling")


@pytest.mark.parametrize("kind", ["kitchen cabinets", "vanity", "mirror", "built-in shelf", "attic scuttle"])
def test_what_hangs_on_a_wall_is_not_met_by_a_run_in_it(kind: str) -> None:
    through = data_run("R1", (0.0, 40.0, 50.0), (120.0, 40.0, 50.0))
    assert not beside(replace(FLUE, kind=kind), through).of("run-in-obstacle")
    assert beside(replace(FLUE, kind="duct"), through).of("run-in-obstacle")


def test_cpvc_is_left_to_its_own_rule() -> None:
    through = data_run("R1", (0.0, 40.0, 50.0), (120.0, 40.0, 50.0))
    bench = beside(replace(FLUE, kind="CPVC riser"), through)
    assert not bench.of("run-in-obstacle")
    told = only(bench.of("cpvc-contact"))
    (ask,) = told.fixes
    assert ask.request_to == "sprinkler contractor"
    asked = apply(bench, told)
    assert asked.of("cpvc-contact")  # a request closes nothing
    assert [c.kind for c in asked.job.choices] == ["request"]


# --- bits ------------------------------------------------------------------------------------------------


def pipe_at(x: float, y: float, diameter_in: float = 2.0, kind: str = "vent pipe") -> Obstacle:
    """An upright pipe, full height."""
    return Obstacle("O1", kind, ("1",), center=(x, y), diameter_in=diameter_in, z_in=(0.0, 97.0))


@pytest.mark.parametrize(
    ("x", "rule"),
    [
        # Stud 19.25 to 20.75, an inch behind it 21.75; the pipe's skin is 1 in before its center, the hole
        # 1/2 in wide to each side: met while 21.75 + 0.5 > x - 1.
        (22.5, "obstacle-in-bit-way"),
        (23.24, "obstacle-in-bit-way"),
        (23.25, "look-before-drilling"),
        # Within 12 in of the way that goes 12 in past the wood: 20.75 + 12 + 12 + 0.5 + 1.
        (46.24, "look-before-drilling"),
        (46.26, None),
        (16.76, "obstacle-in-bit-way"),
        (16.75, "look-before-drilling"),
        (-6.24, "look-before-drilling"),
        (-6.26, None),
    ],
)
def test_what_the_bit_through_a_stud_would_meet(x: float, rule: str | None) -> None:
    bench = beside(pipe_at(x, 0.0))
    bench.members, bench.holes = [STUD], [stud_hole("H1", STUD, 1.0)]
    rules = [f.rule for f in bench.findings() if f.rule in ("obstacle-in-bit-way", "look-before-drilling")]
    assert rules == ([] if rule is None else [rule])


def test_things_beside_the_bits_way_are_named_with_their_holes() -> None:
    bench = beside(pipe_at(30.0, 9.0))  # 9 - 1 - 1/2 beside the way
    bench.members = [STUD]
    bench.holes = [stud_hole(f"H{i}", STUD, 1.0, up_in=10.0 * i) for i in range(1, 7)]
    told = only(bench.of("look-before-drilling"))
    assert told.severity is NOTE
    assert told.measured == pytest.approx(7.5)
    assert "before drilling 6 holes (H1, H2, H3, H4 and 2 more)" in told.says
    assert 'nearest 7-1/2" at H1 (level 1, wall Laundry / Hall (W1), stud 1, 10" above subfloor)' in told.says
    assert told.place == "vent pipe O1, level 1"
    bench.holes = bench.holes[:1]
    assert "before drilling 1 hole (H1)" in only(bench.of("look-before-drilling")).says
    bench.holes = [replace(bench.holes[0], open_passage=True)]
    assert not bench.of("look-before-drilling")


def test_a_bit_up_through_a_plate_looks_over_and_under_it() -> None:
    top = flat("top")
    duct = Obstacle("O1", "duct 6 in", ("1",), rect=(25.0, -3.0, 35.0, 3.0), z_in=(98.0, 104.0))
    bench = beside(duct)
    bench.members, bench.holes = [top], [plate_hole("H1", top, 1.0)]
    told = only(bench.of("obstacle-in-bit-way"))  # 97.125 and an inch reach 98.125
    assert told.about == ("H1", "O1")
    assert 'meets the duct 6 in in the wood or within 1" behind it' in told.says
    bench.job = replace(JOB, obstacles=(replace(duct, z_in=(98.7, 104.0)),))
    assert not bench.of("obstacle-in-bit-way")
    assert bench.of("look-before-drilling")
    bench.job = replace(JOB, obstacles=(replace(duct, z_in=(130.0, 140.0)),))
    assert not bench.of("look-before-drilling")


def test_a_bit_across_a_joist_looks_to_both_its_sides() -> None:
    beam = joist()
    job = replace(JOB, frames=(FLOOR,))
    pipe = replace(pipe_at(20.0, 40.0), z_in=(97.0, 110.0))
    bench = Bench(replace(job, obstacles=(pipe,)), [beam], holes=[joist_hole("H1", beam, 1.0)])
    assert bench.of("look-before-drilling")  # joist 15.25 to 16.75 at x; 20 - 1 is past 17.75 + 1/2
    bench.job = replace(job, obstacles=(replace(pipe, center=(18.0, 40.0)),))
    assert bench.of("obstacle-in-bit-way")
    bench.job = replace(job, obstacles=(replace(pipe, center=(16.0, 70.0)),))  # along the joist, 28 in away
    assert not bench.of("look-before-drilling")
    wide = joist(box=replace(beam.box, x0=0.0, x1=96.0, y0=15.25, y1=16.75))
    turned = replace(joist_hole("H1", wide, 1.0), x=40.0, y=16.0)
    beyond = replace(pipe, center=(40.0, 19.0))
    bench = Bench(replace(job, obstacles=(beyond,)), [wide], holes=[turned])
    assert bench.of("obstacle-in-bit-way") or bench.of("look-before-drilling")
    bench.job = replace(job, obstacles=(replace(pipe, center=(70.0, 16.0)),))
    assert not bench.of("look-before-drilling")


# --- steel over runs -------------------------------------------------------------------------------------


def test_steel_over_a_run_along_a_stud_is_written_down() -> None:
    bench = Bench(runs=[data_run("R1", (20.0, 1.0, 10.0), (20.0, 1.0, 90.0))])
    told = only(bench.of("parallel-setback"))
    covered = apply(bench, told)
    assert not covered.of("parallel-setback")
    note = only(covered.of("steel-over-run"))
    assert note.severity is NOTE
    assert "Decided by lead." in note.says
    other = replace(covered, runs=[data_run("R2", (20.0, 1.0, 10.0), (20.0, 1.0, 90.0))])
    assert other.of("parallel-setback")


# --- counted steel and seals -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("length_in", "pieces", "told"), [(2.0, 1, 0), (1.99, 1, 1), (1.5, 2, 0), (1.4, 1, 1), (0.5, 2, 0)]
)
def test_a_counted_plate_covers_its_hole(length_in: float, pieces: int, told: int) -> None:
    # A 2 in hole; plates are 1-1/2 in wide, side by side two cover 3 in.
    bench = Bench(members=[upright(1, 20.0, bearing=False)])
    bench.holes = [stud_hole("H1", bench.members[0], 2.0)]
    bench.plates = tuple(
        NailPlate(f"P{side}", "H1", "W1/stud-1", side, "", length_in, "", pieces=pieces)
        for side in ("left", "right")
    )
    found = bench.of("nail-plate-small")
    assert len(found) == 2 * told
    if told:
        assert (found[0].severity, found[0].limit) == (STOP, 2.0)
        assert "the Laundry side of hole H1" in found[0].says
        assert len(apply(bench, found[0]).of("nail-plate-small")) == 1


@pytest.mark.parametrize(("length_in", "severity"), [(14.0, NOTE), (13.99, STOP)])
def test_a_counted_strap_is_long_enough(length_in: float, severity: Severity) -> None:
    # 2 in and 6 in past it at each side. Source: IRC R602.6.1.
    top = flat("top")
    bench = Bench(members=[top], holes=[plate_hole("H1", top, 2.0)])
    bench.straps = (Strap("S1", "H1", "W1/top", length_in, ""),)
    told = only(bench.of("plate-strap"))
    assert told.severity is severity
    if severity is STOP:
        assert "the plan's is" in told.says
        assert only(apply(bench, told).of("plate-strap")).severity is NOTE


OUT = replace(WALL, exterior=True, left=(FacePiece("Laundry", 0.0, 120.0),), right=())
BELL = Location("L1", "Laundry", "1", "exterior", 48.0, "W1", 32.0, "exterior")


def boxed(location: Location, seals: tuple[Seal, ...] | None = (), **wall: Any) -> Bench:
    """A planned run to one location, with what was counted to seal."""
    bench = Bench(located(location, walls=(replace(WALL, **wall),)), runs=[data_run("R1")])
    bench.seals = seals
    return bench


def test_boxes_that_break_a_barrier_are_on_the_seal_list() -> None:
    told = only(boxed(BELL, exterior=True).of("box-seal-missing"))
    assert (told.severity, told.about) == (STOP, ("L1",))
    assert "air sealed" in told.says
    assert not boxed(BELL, (Seal("F1", "", "", "", "", "L1"),)).of("box-seal-missing")
    assert not boxed(BELL, None).of("box-seal-missing")
    inside = replace(BELL, mount="wall", side="left")
    assert not boxed(inside).of("box-seal-missing")
    assert boxed(inside, rated="1-hour").of("box-seal-missing")
    bench = boxed(BELL)
    bench.runs = []
    assert not bench.of("box-seal-missing")  # nobody planned it yet


def test_a_box_in_the_garage_separation_where_it_shows_to_the_garage() -> None:
    inside = replace(BELL, mount="wall", side="left")
    garage = Room("Hall", "1", "garage", JOB.rooms[1].polygon)
    bench = boxed(inside, separation="dwelling-garage", right=(FacePiece("Hall", 0.0, 60.0),))
    assert not bench.of("box-seal-missing")  # no garage there
    bench.job = replace(bench.job, rooms=(JOB.rooms[0], garage))
    assert only(bench.of("box-seal-missing")).source.clause == "R302.5.3"  # type: ignore[union-attr]
    (wall,) = bench.job.walls
    bench.job = replace(bench.job, walls=(replace(wall, right=(FacePiece("Hall", 0.0, 31.9),)),))
    assert not bench.of("box-seal-missing")
    bench.job = replace(bench.job, walls=(replace(wall, separation="", right=wall.right),))
    assert not bench.of("box-seal-missing")


def test_the_air_seal_is_numbered_by_edition() -> None:
    bench = boxed(BELL)
    bench.job = replace(bench.job, practice=Practice(cables=JOB.practice.cables, editions=(("IRC", "2018"),)))
    old = only(bench.of("box-seal-missing"))
    assert old.source.clause == "Table N1102.4.1.1"  # type: ignore[union-attr]
    assert "2.0 cfm" not in old.says
    assert "2.0 cfm" in only(boxed(BELL).of("box-seal-missing")).says


# --- the feed, supports, outside -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("way", "slab", "told"),
    [
        ("from below", True, 1),
        ("below: from the basement", True, 1),
        ("slab: no way up from below; down the next bay", True, 0),
        ("from below", False, 0),
        ("from above", True, 0),
    ],
)
def test_no_power_comes_up_through_a_slab(way: str, slab: bool, told: int) -> None:
    levels = (replace(JOB.levels[0], slab=slab),)
    job = replace(JOB, levels=levels, enclosures=(replace(BOX, ac_feed=replace(FEED, way=way)),))
    found = Bench(job).of("ac-from-below")
    assert len(found) == told
    if told:
        assert found[0].severity is STOP
        assert found[0].fixes[0].request_to == "electrician"


@pytest.mark.parametrize(("every_in", "told"), [(54.0, 0), (60.0, 0), (60.5, 1)])
def test_the_firms_supports_are_within_the_trades_most(every_in: float, told: int) -> None:
    job = replace(JOB, practice=replace(JOB.practice, support_every_in=every_in))
    found = Bench(job).of("support-interval")
    assert len(found) == told
    if told:
        assert (found[0].severity, found[0].measured, found[0].limit) == (SOON, 60.5, 60.0)


def test_runs_that_end_outside_are_named_once() -> None:
    camera = replace(BELL, id="L2", mount="soffit")
    job = replace(JOB, locations=(BELL, camera, replace(BELL, id="L3", mount="wall")))
    runs = [data_run(f"R{i}") for i in range(3)]
    runs[1] = replace(runs[1], to_end=End("location", "L2"))
    runs[2] = replace(runs[2], to_end=End("location", "L3"))
    told = only(Bench(job, runs=runs).of("cable-outside"))
    assert told.about == ("L1", "L2")
    assert "L1 (data four-pair); L2 (data four-pair)" in told.says
    outdoor = replace(JOB.practice.cables[0], name="data four-pair outdoor")
    assert not Bench(replace(job, practice=Practice(cables=(outdoor,))), runs=runs).of("cable-outside")


# --- jambs and cabinets ----------------------------------------------------------------------------------


def at_door(offset_in: float, height_in: float = 14.0) -> Bench:
    """A box at an offset of the bench wall with a door from 50 to 82 in it."""
    door = Opening("D1", "W1", "door", 50.0, 32.0, 0.0, 82.0, 9.25)
    box = Location("L1", "Laundry", "1", "wall", height_in, "W1", offset_in, "left")
    return Bench(located(box, openings=(door,)), [upright(1, 30.0), upright(2, 100.0)])


@pytest.mark.parametrize(
    ("offset_in", "told"),
    # Half a box is 1-1/8: 6 in from the door's edge at 50 - 7.125 and 82 + 7.125.
    [(42.875, 0), (42.876, 1), (48.875, 1), (49.0, 0), (89.125, 0), (89.124, 1), (83.125, 1)],
)
def test_boxes_near_a_jamb(offset_in: float, told: int) -> None:
    bench = at_door(offset_in)
    found = bench.of("location-at-jamb")
    assert len(found) == told
    if told:
        assert found[0].severity is NOTE
        assert not apply(bench, found[0]).of("location-at-jamb")
        assert not apply(bench, found[0]).of("location-on-member")


def test_a_box_over_or_under_an_opening_is_at_no_jamb() -> None:
    assert at_door(45.0, 81.5).of("location-at-jamb")  # 1/4 in of floor: 81-3/4 of 82
    assert not at_door(45.0, 83.0).of("location-at-jamb")
    window = Opening("D1", "W1", "window", 50.0, 32.0, 36.0, 40.0, 9.25)
    low = at_door(45.0, 20.0)
    low.job = replace(low.job, openings=(window,))
    assert not low.of("location-at-jamb")


def test_a_cabinet_of_an_upper_level_is_met_at_its_height_in_the_world() -> None:
    upstairs = Level("2", 109.0, 97.125)
    wall = replace(WALL, id="W2", level="2")
    rooms = tuple(replace(room, level="2", floor_finish_in=0.0) for room in JOB.rooms)
    box = Location("L1", "Laundry", "2", "wall", 14.0, "W2", 40.0, "left")
    cabinet = Obstacle("O1", "base cabinets", ("2",), rect=(20.0, 2.0, 60.0, 26.0), z_in=(109.0, 145.0))
    job = replace(
        JOB,
        levels=(upstairs,),
        rooms=rooms,
        walls=(wall,),
        locations=(box,),
        enclosures=(),
        obstacles=(cabinet,),
    )
    assert Bench(job).of("location-behind-cabinet")
    below_it = replace(cabinet, z_in=(0.0, 36.0))
    assert not Bench(replace(job, obstacles=(below_it,))).of("location-behind-cabinet")


# --- room before the enclosure ---------------------------------------------------------------------------


def partition(x: float, y0: float = 0.0, y1: float = 96.0) -> Wall:
    """A wall across the Laundry, its boards 1/2 in thick: 2-1/4 in to each side."""
    return replace(WALL, id=f"P{x:g}", start=(x, y0), end=(x, y1))


def room_before(*bars: Wall | Obstacle, **box: Any) -> Bench:
    """The bench enclosure (bay 48 to 64, 14-1/4 wide, Laundry side) with things before it."""
    walls = tuple(bar for bar in bars if isinstance(bar, Wall))
    things = tuple(bar for bar in bars if isinstance(bar, Obstacle))
    return Bench(replace(JOB, walls=(WALL, *walls), obstacles=things, enclosures=(replace(BOX, **box),)))


@pytest.mark.parametrize(
    ("bars", "told"),
    [
        ((), 0),
        # The box spans 48.875 to 63.125; a strip of 30 in beside it fits from 33.125 on, or to 78.875.
        ((partition(46.625),), 0),  # its board ends at 48.875: room to the right
        ((partition(46.7),), 1),  # 48.95 stands before the box
        ((partition(30.875), partition(65.375)), 0),  # 33.125 to 63.125: just 30 in, holding the box
        ((partition(30.9), partition(65.375)), 1),
        ((partition(30.875), partition(65.3)), 1),
        # Depth 36 in from the board at 2.25: a wall opposite whose board begins at 38.25.
        ((replace(WALL, id="P", start=(0.0, 40.5), end=(120.0, 40.5)),), 0),
        ((replace(WALL, id="P", start=(0.0, 40.4), end=(120.0, 40.4)),), 1),
        ((Obstacle("O1", "washer", ("1",), rect=(50.0, 10.0, 60.0, 30.0), z_in=(0.0, 40.0)),), 1),
        ((Obstacle("O1", "washer", ("1",), rect=(50.0, 10.0, 60.0, 30.0), z_in=(78.0, 90.0)),), 0),
        ((Obstacle("O1", "mat", ("1",), rect=(50.0, 10.0, 60.0, 30.0), z_in=(0.0, 1.0)),), 0),
        ((Obstacle("O1", "washer", ("1",), rect=(50.0, -30.0, 60.0, -10.0), z_in=(0.0, 40.0)),), 0),
        ((replace(partition(56.0), level="2"),), 0),
    ],
)
def test_room_before_the_enclosure(bars: tuple[Wall | Obstacle, ...], told: int) -> None:
    job = room_before(*bars).job
    levels = (*JOB.levels, Level("2", 110.0, 97.125))
    found = Bench(replace(job, levels=levels)).of("enclosure-working-space")
    assert len(found) == told
    if told:
        assert found[0].severity is NOTE
        assert "clear floor of 2' 6\" by 3' 0\", 6' 6\" high" in found[0].says


def test_room_before_an_enclosure_on_the_other_side_of_its_wall() -> None:
    washer = Obstacle("O1", "washer", ("1",), rect=(40.0, -30.0, 72.0, -10.0), z_in=(0.0, 40.0))
    assert not room_before(washer).of("enclosure-working-space")
    told = only(room_before(washer, side="right", room="Hall").of("enclosure-working-space"))
    assert "the washer" in told.says


def test_a_skew_wall_is_left_out() -> None:
    skew = replace(WALL, end=(100.0, 50.0))
    washer = Obstacle("O1", "washer", ("1",), rect=(40.0, 10.0, 72.0, 60.0), z_in=(0.0, 40.0))
    job: Job = replace(JOB, walls=(skew,), obstacles=(washer,))
    assert not Bench(job).of("enclosure-working-space")


# --- another place for the enclosure ---------------------------------------------------------------------


def test_the_jobs_other_places_are_offered_where_nothing_stops_them() -> None:
    good = replace(BOX, id="E2", bay_studs_in=(80.0, 96.0))
    deep = replace(BOX, id="E3", depth_in=6.0)
    bad = replace(BOX, width_in=15.0)
    bench = Bench(replace(JOB, enclosures=(bad, good, deep), enclosure="E1"))
    told = only(bench.of("enclosure-bay-width"))
    assert [fix.arguments for fix in told.fixes] == [("E2",)]
    assert not apply(bench, told).of("enclosure-bay-width")
    for change, rule in (
        ({"depth_in": 6.0}, "enclosure-depth"),
        ({"center_aff_in": 90.0}, "enclosure-height"),
    ):
        bench = Bench(replace(JOB, enclosures=(replace(BOX, **change), good), enclosure="E1"))
        told = only(bench.of(rule))
        assert [fix.arguments for fix in told.fixes] == [("E2",)]
        assert not apply(bench, told).of(rule)
    outer = replace(WALL, id="W2", exterior=True)
    bench = Bench(
        replace(JOB, walls=(WALL, outer), enclosures=(replace(BOX, wall="W2"), good), enclosure="E1")
    )
    assert not apply(bench, only(bench.of("enclosure-wall"))).of("enclosure-wall")
    lonely = Bench(replace(JOB, enclosures=(bad,)))
    assert not only(lonely.of("enclosure-bay-width")).fixes
