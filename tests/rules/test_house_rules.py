"""Rules about the enclosure, power, runs, seals, locations and missing facts, on hand-made benches."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from benches import (
    BOX,
    DATA,
    FEED,
    JOB,
    WALL,
    Bench,
    apply,
    data_run,
    flat,
    located,
    plate_hole,
    stud_hole,
    upright,
    wished,
)

from bayrun.findings import Finding, Severity
from bayrun.framing import Bay, Member
from bayrun.geometry import Box, Rect
from bayrun.house import Barrier, Job, Location, Obstacle, Opening, PassPoint, SiteFacts
from bayrun.wiring import Hole, Unreached

STOP, SOON, NOTE, CANNOT = Severity.STOP, Severity.FIX_SOON, Severity.NOTE, Severity.CANNOT_TELL


def with_box(**facts: Any) -> Bench:
    """The bench job with a changed enclosure."""
    return Bench(replace(JOB, enclosures=(replace(BOX, **facts),)))


def with_feed(**facts: Any) -> Bench:
    """The bench job with a changed power feed."""
    return with_box(ac_feed=replace(FEED, **facts))


def with_wall(**facts: Any) -> Bench:
    """The bench job with a changed wall."""
    return Bench(replace(JOB, walls=(replace(WALL, **facts),)))


def only(findings: tuple[Finding, ...]) -> Finding:
    """The one finding there should be."""
    (told,) = findings
    return told


# --- enclosure -------------------------------------------------------------------------------------------


def test_bay_width() -> None:
    # 16 in on center less 1-1/2 is 14-1/2 clear; 14-1/4 leaves 1/4, exactly 1/8 on each side.
    assert not Bench().of("enclosure-bay-width")
    told = only(with_box(width_in=14.3).of("enclosure-bay-width"))
    assert (told.severity, told.measured) == (SOON, 14.5)
    assert only(with_box(width_in=14.75).of("enclosure-bay-width")).severity is STOP
    wide = only(with_box(bay_studs_in=(48.0, 72.0)).of("enclosure-bay-width"))
    assert wide.severity is NOTE
    assert 'fill 8-1/4"' in wide.says
    narrow = Bench()
    narrow.bays = [Bay("W1/bay-4", "W1", "1", Rect(49.0, 1.5, 63.0, 94.125), 3.5, "", "", "", "")]
    assert only(narrow.of("enclosure-bay-width")).severity is STOP  # as framed: 14 in


def test_box_depth() -> None:
    # 3-1/2 of stud and 1/2 of board: 4 in, on the limit.
    assert not with_box(depth_in=4.0).of("enclosure-depth")
    told = only(with_box(depth_in=4.125).of("enclosure-depth"))
    assert (told.severity, told.measured, told.limit) == (STOP, 4.0, 4.125)
    thin = with_wall(core="2x3", thickness_in=2.5)
    assert thin.of("enclosure-depth")


def test_box_height_counts_from_the_finished_floor() -> None:
    # 48 less 14 is 34, plus 1/4 of laundry floor: 34-1/4 above subfloor.
    assert not Bench().of("enclosure-height")
    told = only(with_box(center_aff_in=64.0).of("enclosure-height"))
    assert (told.severity, told.measured, told.limit) == (SOON, 78.0, 76.0)
    assert "top 6' 6\" above finished floor (4' 2-1/4\" and 6' 6-1/4\" above subfloor)" in told.says
    assert not with_box(center_aff_in=62.0).of("enclosure-height")
    low = only(with_box(center_aff_in=25.0).of("enclosure-height"))
    assert (low.measured, low.limit, low.severity) == (11.0, 12.0, SOON)
    assert (
        'bottom 11" and top 3\' 3" above finished floor (11-1/4" and 3\' 3-1/4" above subfloor)' in low.says
    )
    assert only(with_box(center_aff_in=82.0).of("enclosure-height")).severity is STOP


@pytest.mark.parametrize(
    ("facts", "severity", "text"),
    [
        ({"rated": "1-hour"}, STOP, "399 sq in"),
        ({"exterior": True}, SOON, "exterior wall"),
        ({"wet": True}, SOON, "wet wall"),
        ({"separation": "dwelling-garage separation"}, SOON, "separation"),
    ],
)
def test_the_wall_of_the_box(facts: dict[str, Any], severity: Severity, text: str) -> None:
    told = only(with_wall(**facts).of("enclosure-wall"))
    assert told.severity is severity
    assert text in told.says
    assert not Bench().of("enclosure-wall")


def test_a_box_under_a_header() -> None:
    door = Opening("D1", "W1", "door", 50.0, 32.0, 0.0, 82.0, 9.25)
    assert only(Bench(replace(JOB, openings=(door,))).of("enclosure-wall")).severity is STOP
    away = replace(door, offset_in=70.0)
    assert not Bench(replace(JOB, openings=(away,))).of("enclosure-wall")


def test_nothing_passes_the_box() -> None:
    level = data_run("R1", (20.0, 0.0, 50.0), (100.0, 0.0, 50.0))
    above = data_run("R2", (20.0, 0.0, 70.0), (100.0, 0.0, 70.0))
    enters = data_run("R3", (56.0, 0.0, 90.0), (56.0, 0.0, 62.25))
    told = only(Bench(runs=[level, above, enters]).of("enclosure-passed"))
    assert told.about == ("R1", "E1")
    # The body is 14-1/4 wide about 56: from 48.875 to 63.125. Inside either side it is passed, outside not.
    for x, passed in ((48.8, 0), (48.9, 1), (63.1, 1), (63.2, 0)):
        down = data_run("R1", (x, 0.0, 90.0), (x, 0.0, 10.0))
        assert len(Bench(runs=[down]).of("enclosure-passed")) == passed


def test_no_enclosure_for_the_runs() -> None:
    job = replace(JOB, enclosures=(), runs=(wished("R1"),))
    assert only(Bench(job, runs=[data_run("R1")]).of("enclosure-missing")).severity is CANNOT
    assert not Bench(replace(JOB, runs=(wished("R1"),)), runs=[data_run("R1")]).of("enclosure-missing")


# --- power -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("facts", "severity", "limit_in"),
    [
        ({"staple_from_box_in": 8.0}, SOON, 6.0),  # firm 6, code 12 with a clamp
        ({"staple_from_box_in": 12.5}, STOP, 6.0),  # over 334.30
        ({"staple_from_emergence_in": 7.0}, SOON, 6.0),
        ({"staple_from_emergence_in": None}, CANNOT, None),
        ({"staple_from_box_in": None}, CANNOT, None),
    ],
)
def test_feed_support_is_the_tighter_of_firm_and_code(
    facts: dict[str, Any], severity: Severity, limit_in: float | None
) -> None:
    told = only(with_feed(**facts).of("ac-feed-support"))
    assert (told.severity, told.limit) == (severity, limit_in)
    assert told.fixes[0].request_to == "electrician"
    assert not with_feed().of("ac-feed-support")


def test_feed_without_a_clamp() -> None:
    # Example 34: 10 in along the sheath fails 8 in without a clamp, passes 12 with one.
    told = only(with_feed(clamped=False, staple_from_box_in=10.0).of("ac-feed-support"))
    assert (told.severity, str(told.source)) == (STOP, "NEC 2020 314.17(C) Ex")
    assert only(with_feed(clamped=True, staple_from_box_in=10.0).of("ac-feed-support")).severity is SOON
    told = only(with_feed(clamped=None).of("ac-feed-support"))
    assert told.severity is CANNOT


def test_nobody_said_how_power_comes() -> None:
    told = only(with_box(ac_feed=None).of("ac-feed-support"))
    assert told.severity is CANNOT
    assert told.says.startswith("Cannot tell:")


def test_power_is_always_the_electricians() -> None:
    assert "licensed electrician" in only(Bench().of("ac-by-electrician")).says
    assert not Bench(replace(JOB, enclosures=())).of("ac-by-electrician")


@pytest.mark.parametrize(
    ("rule", "facts", "severity"),
    [
        ("ac-free-conductor", {"tail_in": 5.9}, STOP),
        ("ac-free-conductor", {"tail_in": 12.5}, NOTE),
        ("ac-free-conductor", {"tail_in": None}, CANNOT),
        ("ac-barrier", {"barrier": False}, STOP),
        ("ac-barrier", {"barrier": None}, CANNOT),
        ("ac-receptacle-gfci-afci", {"gfci": None}, CANNOT),
        ("ac-receptacle-gfci-afci", {"afci": None}, CANNOT),
        ("ac-receptacle-gfci-afci", {"gfci": False}, STOP),  # a laundry asks for it: 210.8(A)
        ("ac-receptacle-gfci-afci", {"afci": False}, STOP),  # 210.12(A)
        ("ac-hole", {"hole_diameter_in": 1.5}, STOP),  # 42.9 % of a bearing 2x4
    ],
)
def test_power_facts(rule: str, facts: dict[str, Any], severity: Severity) -> None:
    assert only(with_feed(**facts).of(rule)).severity is severity
    assert not with_feed(tail_in=6.0, hole_diameter_in=0.75).of(rule)


def test_protection_depends_on_the_room() -> None:
    # A bedroom asks for arc-fault, not ground-fault; a basement for ground-fault: 210.12(A), 210.8(A).
    bed = replace(JOB.rooms[0], name="Bed 2", kind="bed")
    feed = replace(FEED, gfci=False, afci=False)
    for room, level, told in (("Bed 2", "1", {"receptacle-afci"}), ("Store", "B", {"receptacle-gfci"})):
        box = replace(BOX, room=room, level=level, ac_feed=feed)
        levels = (JOB.levels[0], replace(JOB.levels[0], id="B"))
        bench = Bench(replace(JOB, rooms=(bed,), levels=levels, enclosures=(box,)))
        assert {f.about[1] for f in bench.of("ac-receptacle-gfci-afci")} == told


# --- runs ------------------------------------------------------------------------------------------------


def test_a_blocked_run_says_where_and_why() -> None:
    bench = Bench(
        located(Location("L1", "Hall", "1", "wall", 14.0, "W1", 30.0, "right"), runs=(wished("R1"),))
    )
    bench.wiring = {"unreached": (Unreached("R1", "top plate of the Laundry wall", "a truss chord"),)}
    told = only(bench.of("run-blocked"))
    assert told.severity is STOP
    for part in ("Run R1", "Hall", "top plate of the Laundry wall", "a truss chord bars the way"):
        assert part in told.says
    lost = Bench(replace(JOB, runs=(wished("R1"),)))
    assert "neither planned nor told" in only(lost.of("run-blocked")).says
    assert not Bench(replace(JOB, runs=(wished("R1"),)), runs=[data_run("R1")]).of("run-blocked")


def test_ninety_meters() -> None:
    # 90 m is 3543.307 in; the bench's slack is 48 in.
    long = data_run("R1", (0.0, 0.0, 0.0), (3543.4 - 48.0, 0.0, 0.0))
    short = data_run("R2", (0.0, 0.0, 0.0), (3543.3 - 48.0, 0.0, 0.0))
    told = only(Bench(runs=[long, short]).of("run-too-long"))
    assert told.about == ("R1",)
    assert "(90 m)" in told.says


def test_a_turn_back_tighter_than_the_radius() -> None:
    # Least radius to the middle of the cable: 4 x 0.23 + 0.115 = 1.035; two of them, 2.07.
    tight = data_run("R1", (0.0, 0.0, 0.0), (30.0, 0.0, 0.0), (30.0, 2.0, 0.0), (0.0, 2.0, 0.0))
    wide = data_run("R2", (0.0, 0.0, 0.0), (30.0, 0.0, 0.0), (30.0, 2.1, 0.0), (0.0, 2.1, 0.0))
    jog = data_run("R3", (0.0, 0.0, 0.0), (30.0, 0.0, 0.0), (30.0, 1.0, 0.0), (60.0, 1.0, 0.0))
    told = only(Bench(runs=[tight, wide, jog]).of("bend-radius"))
    assert (told.about, told.severity, told.limit) == (("R1",), NOTE, pytest.approx(2.07))


def test_long_pulls_with_many_turns() -> None:
    stairs = [(150.0 * ((i + 1) // 2), 150.0 * (i // 2), 0.0) for i in range(11)]  # 9 right angles
    told = only(Bench(runs=[data_run("R1", *stairs), data_run("R2", *stairs[:10])]).of("pull-limit"))
    assert (told.about, told.measured) == (("R1",), 9.0)
    assert "25 lbf" in told.says


@pytest.mark.parametrize(
    ("listing", "diameter_in", "severity"),
    [
        ("", 0.23, CANNOT),
        ("house wire", 0.23, CANNOT),
        ("CMX", 0.25, STOP),
        ("CMX", 0.24, None),
        ("CMR", 0.3, None),
    ],
)
def test_listing(listing: str, diameter_in: float, severity: Severity | None) -> None:
    kind = replace(DATA, listing=listing, diameter_in=diameter_in)
    job = replace(JOB, practice=replace(JOB.practice, cables=(kind,)))
    told = Bench(job, runs=[data_run("R1")]).of("cable-listing")
    assert [f.severity for f in told] == ([] if severity is None else [severity])
    assert not Bench(job).of("cable-listing")  # a kind nobody uses


# --- seals and separations ---------------------------------------------------------------------------------


def wall_of(barrier: Barrier) -> tuple[Member, Hole]:
    """The board of a separation and a hole through it."""
    board = Member(
        barrier.id,
        barrier.id,
        "",
        "barrier",
        "gypsum",
        (0, 90),
        (0, 97),
        (0, 0.6),
        Box(60, 0, 0, 60.6, 90, 97),
    )
    return board, Hole("H9", barrier.id, "across", 30.0, 50.0, 0.3, 60.0, 30.0, 50.0, 1.0)


def test_plate_holes_are_sealed() -> None:
    top = flat("top")
    bench = Bench(members=[top], holes=[plate_hole("H1", top, 1.0)])
    assert not bench.of("seal-missing")  # silent before the count
    bench.seals = ()
    told = only(bench.of("seal-missing"))
    assert str(told.source) == "IRC 2021 R302.11"
    assert not apply(bench, told).of("seal-missing")
    stud = upright(1, 20.0)
    assert not Bench(members=[stud], holes=[stud_hole("H1", stud, 1.0)], seals=()).of("seal-missing")


def test_a_sole_plate_on_a_slab_needs_no_seal() -> None:
    sole = flat("bottom")
    bench = Bench(members=[sole], holes=[plate_hole("H1", sole, 1.0)], seals=())
    assert bench.of("seal-missing")
    bench.job = replace(JOB, levels=(replace(JOB.levels[0], slab=True),))
    assert not bench.of("seal-missing")


@pytest.mark.parametrize(
    ("kind", "clause"),
    [
        ("dwelling-garage separation", "R302.5.3"),
        ("draftstop in the floor", "R302.12"),
        ("basement ceiling membrane", "R302.11"),
        ("1-hour rated wall", "R302.4.1"),
    ],
)
def test_each_separation_has_its_clause(kind: str, clause: str) -> None:
    barrier = Barrier("B1", kind, needs_seal=True)
    board, hole = wall_of(barrier)
    bench = Bench(replace(JOB, barriers=(barrier,)), [board], holes=[hole], seals=())
    told = only(bench.of("seal-missing"))
    assert told.source is not None
    assert told.source.clause == clause
    assert not bench.of("separation-crossed")


def test_nothing_passes_a_party_wall_nor_beside_a_sleeve() -> None:
    party = Barrier("B1", "2-hour party wall", lines=(((60.0, 0.0), (60.0, 90.0)),))
    board, hole = wall_of(party)
    told = only(Bench(replace(JOB, barriers=(party,)), [board], holes=[hole]).of("separation-crossed"))
    assert (told.severity, "nothing passes there" in told.says) == (STOP, True)
    sleeve = replace(party, needs_seal=True, pass_point=PassPoint("P1", 60.0, 30.0, 50.0, 2.0))
    assert not Bench(replace(JOB, barriers=(sleeve,)), [board], holes=[hole]).of("separation-crossed")
    beside = replace(hole, y=40.0)
    assert Bench(replace(JOB, barriers=(sleeve,)), [board], holes=[beside]).of("separation-crossed")


def test_rated_and_garage_walls_by_their_own_facts() -> None:
    top, stud = flat("top"), upright(1, 20.0)
    for facts, clause, crossed in (
        ({"rated": "1-hour"}, "R302.4.1", 0),
        ({"rated": "2-hour party wall"}, "R302.4.1", 1),
        ({"separation": "dwelling-garage separation"}, "R302.5.3", 0),
    ):
        job = replace(JOB, walls=(replace(WALL, **facts),))
        bench = Bench(job, [top, stud], holes=[plate_hole("H1", top, 1.0)], seals=())
        told = only(bench.of("seal-missing"))
        assert told.source is not None
        assert told.source.clause == clause
        assert len(bench.of("separation-crossed")) == crossed


def test_what_the_inspector_takes() -> None:
    top = flat("top")
    bench = Bench(members=[top], holes=[plate_hole("H1", top, 1.0)])
    assert not bench.of("fireblock-material")
    bench.job = replace(JOB, facts=replace(JOB.facts, fireblock_material=None))
    assert only(bench.of("fireblock-material")).severity is CANNOT


# --- locations -------------------------------------------------------------------------------------------


def box_at(offset_in: float, height_in: float = 14.0, side: str = "left", **facts: Any) -> Job:
    """A box on the bench wall."""
    room = "Laundry" if side == "left" else "Hall"
    return located(Location("L1", room, "1", "wall", height_in, "W1", offset_in, side), **facts)  # type: ignore[arg-type]


def test_a_box_on_a_stud_moves_beside_it() -> None:
    bench = Bench(box_at(48.5), [upright(3, 32.0), upright(4, 48.0), flat("top"), flat("bottom")])
    told = only(bench.of("location-on-member"))
    assert told.severity is STOP
    assert "stands on stud 4" in told.says
    assert told.fixes[0].arguments == ("L1", 49.875)  # 48.75 + 1-1/8
    assert not apply(bench, told).of("location-on-member")
    bench.job = box_at(49.875)
    assert not bench.of("location-on-member")
    bench.job = box_at(49.8)
    edge = only(bench.of("location-on-member"))
    assert edge.severity is SOON
    assert "reaches into stud 4" in edge.says
    for at_in, severity in ((48.75, STOP), (47.25, STOP), (48.76, SOON), (47.24, SOON)):
        bench.job = box_at(at_in)
        assert only(bench.of("location-on-member")).severity is severity
    bench.job = box_at(49.8)
    bench.job = box_at(46.1)  # right edge 47.225, stud from 47.25
    assert not bench.of("location-on-member")
    bench.job = box_at(46.2)
    assert only(bench.of("location-on-member")).fixes[0].arguments == ("L1", 46.125)
    door = Opening("D1", "W1", "door", 10.0, 36.5, 0.0, 82.0, 0.0)  # the near side is the door's: go right
    bench.job = box_at(47.9, openings=(door,))
    assert only(bench.of("location-on-member")).fixes[0].arguments == ("L1", 49.875)


def test_a_box_in_a_door_or_its_header() -> None:
    door = Opening("D1", "W1", "door", 20.0, 32.0, 0.0, 82.0, 9.25)
    for height_in, text in ((14.0, "lands in the door"), (85.0, "in the header of the door")):
        told = only(Bench(box_at(30.0, height_in, openings=(door,))).of("location-in-opening"))
        assert told.severity is STOP
        assert text in told.says
        assert "no source" in str(told.source)
    assert not Bench(box_at(60.0, openings=(door,))).of("location-in-opening")


def test_a_box_behind_an_open_door() -> None:
    door = Opening("D1", "W1", "door", 60.0, 32.0, 0.0, 82.0, 9.25, swings_into="Laundry", hinge_end="low")
    assert only(Bench(box_at(40.0, openings=(door,))).of("location-behind-door")).severity is NOTE
    assert not Bench(box_at(27.0, openings=(door,))).of("location-behind-door")  # past the leaf
    assert not Bench(box_at(100.0, openings=(door,))).of("location-behind-door")  # latch side
    assert not Bench(box_at(40.0, side="right", openings=(door,))).of("location-behind-door")
    assert not Bench(box_at(40.0, 88.0, openings=(door,))).of("location-behind-door")  # over the door
    high = replace(door, hinge_end="high")  # hinge at 92: the leaf lies on 92 to 124
    assert Bench(box_at(100.0, openings=(high,))).of("location-behind-door")
    assert not Bench(box_at(40.0, openings=(high,))).of("location-behind-door")


def test_a_box_on_the_wall_a_door_opens_against() -> None:
    # The door's hinge stands 4 in from the corner with the side wall: its leaf lies on 32 in of that wall.
    side = replace(WALL, id="W2", start=(0.0, 0.0), end=(0.0, 96.0), left=(), right=())
    door = Opening("D1", "W1", "door", 4.0, 32.0, 0.0, 82.0, 9.25, swings_into="Laundry", hinge_end="low")
    near = Location("L1", "Laundry", "1", "wall", 14.0, "W2", 30.0, "right")
    for location, told in ((near, 1), (replace(near, offset_in=40.0), 0), (replace(near, room="Hall"), 0)):
        bench = Bench(replace(JOB, walls=(WALL, side), openings=(door,), locations=(location,)))
        assert len(bench.of("location-behind-door")) == told


def test_a_box_behind_a_cabinet() -> None:
    cabinet = Obstacle("O1", "base cabinets", rect=(20.0, 2.0, 60.0, 26.0), z_in=(0.0, 36.0))
    assert only(Bench(box_at(40.0, obstacles=(cabinet,))).of("location-behind-cabinet")).severity is NOTE
    assert not Bench(box_at(40.0, 44.0, obstacles=(cabinet,))).of("location-behind-cabinet")  # above it
    assert not Bench(box_at(40.0, side="right", obstacles=(cabinet,))).of("location-behind-cabinet")
    assert not Bench(box_at(90.0, obstacles=(cabinet,))).of("location-behind-cabinet")
    upstairs = replace(cabinet, levels=("2",))
    assert not Bench(box_at(40.0, obstacles=(upstairs,))).of("location-behind-cabinet")
    here = replace(cabinet, levels=("1", "2"))
    assert Bench(box_at(40.0, obstacles=(here,))).of("location-behind-cabinet")
    pipe = replace(cabinet, kind="vent pipe 2 in")
    assert not Bench(box_at(40.0, obstacles=(pipe,))).of("location-behind-cabinet")


# --- facts -----------------------------------------------------------------------------------------------


def test_facts_nobody_said_are_never_a_pass() -> None:
    told = Bench(replace(JOB, facts=SiteFacts())).findings()
    missing = [f for f in told if f.rule in ("fact-missing", "bonding-length")]
    assert {f.about[0] for f in missing} == {"cover", "insulation", "return_air_bays", "bonding"}
    assert {f.severity for f in missing} == {CANNOT}
    assert all(f.says.startswith("Cannot tell:") for f in missing)


@pytest.mark.parametrize(("feet", "told"), [(20.0, 0), (20.01, 1), (24.0, 1)])
def test_bonding_length(feet: float, told: int) -> None:
    # Example 35: 24 ft is over 20. NEC 800.100(A)(4)
    job = replace(JOB, facts=replace(JOB.facts, bonding_length_in=12 * feet))
    assert len(Bench(job).of("bonding-length")) == told


def test_editions_unknown_or_not_read() -> None:
    stud = upright(1, 20.0)
    for editions, rules in (
        ((("IRC", "2021"),), set()),
        ((("IRC", "2024"),), {"clause-to-verify"}),
        ((("IRC", "2015"),), {"edition-unknown", "clause-to-verify"}),
    ):
        job = replace(JOB, practice=replace(JOB.practice, editions=editions))
        told = Bench(job, [stud], holes=[stud_hole("H1", stud, 1.0)]).findings()
        assert {f.rule for f in told if f.severity is CANNOT} == rules
