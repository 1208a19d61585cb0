"""Rules that a plan decides by its ways and wishes: setback, power, CPVC, membrane, rated boxes, conduits."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from benches import DATA, JOB, WALL, Bench, data_run, upright

from bayrun.findings import Finding, Severity
from bayrun.house import (
    Conduit,
    FacePiece,
    FloorFrame,
    Job,
    Level,
    Location,
    Obstacle,
    Practice,
    Room,
    WishedRun,
)
from bayrun.house.edits import apply
from bayrun.rules.conduits import bends_deg, outside_in
from bayrun.rules.lines import angle_deg, from_piece_in, near_stretch, pieces_of
from bayrun.wiring import Run

STOP, SOON, NOTE, CANNOT = Severity.STOP, Severity.FIX_SOON, Severity.NOTE, Severity.CANNOT_TELL
Point3 = tuple[float, float, float]


def only(findings: tuple[Finding, ...]) -> Finding:
    """The one finding there should be."""
    (told,) = findings
    return told


def up(x: float, y: float, low: float = 10.0, high: float = 90.0, name: str = "R1") -> Run:
    """A run straight up."""
    return data_run(name, (x, y, low), (x, y, high))


# --- lines -----------------------------------------------------------------------------------------------


def test_distance_angle_and_stretch_by_hand() -> None:
    along = ((0.0, 0.0, 0.0), (100.0, 0.0, 0.0))
    assert from_piece_in((50.0, 3.0, 4.0), along) == 5.0
    assert from_piece_in((103.0, 4.0, 0.0), along) == 5.0
    assert angle_deg(along, ((0.0, 0.0, 0.0), (0.0, 7.0, 0.0))) == pytest.approx(90.0)
    assert angle_deg(along, ((0.0, 0.0, 0.0), (-1.0, 1.0, 0.0))) == pytest.approx(45.0)
    # Beside it 5 in away from x = 20 to 60, 40 in of it; a 6 in reach adds sqrt(36 - 25) at neither end.
    told = near_stretch(((20.0, 5.0, 0.0), (60.0, 5.0, 0.0)), along, 6.0)
    assert told == pytest.approx((40.0, 5.0), abs=1e-9)
    # Beyond its end at 100 the reach goes on for sqrt(6 * 6 - 5 * 5) = 3.3166.
    told = near_stretch(((90.0, 5.0, 0.0), (150.0, 5.0, 0.0)), along, 6.0)
    # The touch of 1e-6 in across is a little more along.
    assert told == pytest.approx((10.0 + 11.0**0.5, 5.0), abs=1e-5)
    # A square crossing right through it is near for 6 in on each side.
    told = near_stretch(((50.0, -40.0, 0.0), (50.0, 60.0, 0.0)), along, 6.0)
    assert told == pytest.approx((12.0, 0.0), abs=1e-5)
    assert near_stretch(((20.0, 6.0, 0.0), (60.0, 6.0, 0.0)), along, 6.0) is None  # on the limit is kept
    assert near_stretch(((20.0, 9.0, 0.0), (60.0, 9.0, 0.0)), along, 6.0) is None


def test_pieces_leave_out_points_that_do_not_move() -> None:
    run = data_run("R1", (0, 0, 0), (0, 0, 0), (0, 0, 5))
    assert pieces_of(run) == (((0, 0, 0), (0, 0, 5)),)


# --- setback ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("y", "told"), [(0.0, 0), (0.385, 0), (0.4, 1), (-0.385, 0), (-0.4, 1), (1.7, 1), (1.8, 0)]
)
def test_setback_along_a_stud(y: float, told: int) -> None:
    # 2x4: 1.75 - |y| - 0.115 is 1.25 at 0.385. Source: NEC 300.4(D). Past 1.75 it is not in the wall.
    found = Bench(runs=[up(20.0, y)]).of("parallel-setback")
    assert len(found) == told
    if told:
        assert found[0].severity is STOP
        assert found[0].measured == pytest.approx(1.75 - abs(y) - 0.115)
        assert "Keep it in the middle" in found[0].says


def test_setback_in_a_thin_wall_asks_for_steel() -> None:
    thin = replace(JOB, walls=(replace(WALL, core="2x3", thickness_in=2.5),))
    told = only(Bench(thin, runs=[up(20.0, 0.0)]).of("parallel-setback"))
    assert "steel of 1/16 in covers it on both faces" in told.says
    assert told.about == ("R1", "W1")


def test_setback_speaks_of_long_uprights_in_framed_walls_only() -> None:
    near = 1.0
    assert not Bench(runs=[up(20.0, near, 10.0, 15.9)]).of("parallel-setback")
    assert Bench(runs=[up(20.0, near, 10.0, 16.0)]).of("parallel-setback")
    assert not Bench(runs=[up(130.0, near)]).of("parallel-setback")  # past the wall's end
    assert not Bench(runs=[up(-1.0, near)]).of("parallel-setback")
    assert not Bench(runs=[up(20.0, near, 97.2, 150.0)]).of("parallel-setback")  # over the plates
    level = data_run("R1", (20.0, near, 50.0), (100.0, near, 50.0))
    assert not Bench(runs=[level]).of("parallel-setback")
    concrete = replace(JOB, walls=(replace(WALL, layout=None),))
    assert not Bench(concrete, runs=[up(20.0, near)]).of("parallel-setback")
    assert not Bench(runs=[replace(up(20.0, near), kind="Q")]).of("parallel-setback")


def test_setback_tells_the_worst_place_of_each_run_once() -> None:
    run = data_run("R1", (20, 0.5, 10), (20, 0.5, 40), (20, 0.9, 40), (20, 0.9, 80))
    told = only(Bench(runs=[run]).of("parallel-setback"))
    assert told.measured == pytest.approx(1.75 - 0.9 - 0.115)


# --- power -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("degrees", "told"), [(44.5, 1), (45.0, 0), (45.5, 0)])
def test_from_45_degrees_a_crossing_is_square(degrees: float, told: int) -> None:
    dx, dy = 200.0 * math.cos(math.radians(degrees)), 200.0 * math.sin(math.radians(degrees))
    bench = beside_power((100.0 - dx / 2, -dy / 2, 100.0), (100.0 + dx / 2, dy / 2, 100.0), want_in=12.0)
    assert len(bench.of("power-separation")) == told


def beside_power(*points: Point3, want_in: float = 6.0, runs: int = 1) -> Bench:
    """Runs along points, beside a power run along y = 0 at z = 100."""
    power = Obstacle("O1", "power run 14/2", ("1",), path=((0.0, 0.0, 100.0), (200.0, 0.0, 100.0)))
    practice = Practice(cables=(DATA,), power_separation_in=want_in)
    made = [data_run(f"R{i}", *points) for i in range(runs)]
    return Bench(replace(JOB, obstacles=(power,), practice=practice), runs=made)


def test_power_beside_is_advice_with_its_legal_status() -> None:
    told = only(beside_power((20, 4, 100), (80, 4, 100), runs=2).of("power-separation"))
    assert (told.severity, told.measured, told.limit) == (NOTE, 4.0, 6.0)
    assert told.about == ("O1",)
    for part in (
        "2 runs go along",
        "for 5' 0\"",
        'as near as 4"',
        "no code rule",
        "asks nothing",
        'bare conductors 2"',
    ):
        assert part in told.says
    assert told.source is not None
    assert told.source.document == "firm practice"
    assert "1 run goes along" in only(beside_power((20, 4, 100), (80, 4, 100)).of("power-separation")).says


@pytest.mark.parametrize(
    ("points", "told"),
    [
        (((20, 6, 100), (80, 6, 100)), 0),  # the firm's distance kept, on the limit
        (((20, 5.9, 100), (80, 5.9, 100)), 1),
        (((20, 0, 106), (80, 0, 106)), 0),
        (((20, 0, 94.1), (80, 0, 94.1)), 1),
        (((50, -60, 100), (50, 60, 100)), 0),  # square across
        (((50, -60, 100), (110, 1, 100)), 0),  # 45.5 degrees: a crossing
        (((20, 4, 100), (32, 4, 100)), 0),  # 12 in beside it is not worth a word
        (((20, 4, 100), (32.1, 4, 100)), 1),
    ],
)
def test_power_is_told_only_along_and_near(points: tuple[Point3, Point3], told: int) -> None:
    assert len(beside_power(*points).of("power-separation")) == told


def test_power_distance_is_the_firms() -> None:
    assert beside_power((20, 9, 100), (80, 9, 100), want_in=12.0).of("power-separation")
    assert not beside_power((20, 9, 100), (80, 9, 100), want_in=6.0).of("power-separation")


# --- CPVC ------------------------------------------------------------------------------------------------

FLOOR = FloorFrame(
    "F1",
    "I-joists",
    (0.0, 0.0, 200.0, 200.0),
    "y",
    1.5,
    11.875,
    100.0,
    111.875,
    above_level="1",
    below_level="2",
)
PIPE = Obstacle(
    "O1",
    "sprinkler main CPVC 1-1/4",
    center=(None, 60.0),
    diameter_in=1.66,
    frames=("F1",),
    z_above_frame_bottom_in=4.0,
    passes_over_in=2.0,
)


def beside_pipe(*points: Point3, **facts: Any) -> tuple[Finding, ...]:
    """What is told of a run beside the main: its middle at y = 60, z = 104, its top at 104.83."""
    job = replace(JOB, frames=(FLOOR,), obstacles=(replace(PIPE, **facts),))
    return Bench(job, runs=[data_run("R1", *points)]).of("cpvc-contact")


@pytest.mark.parametrize(
    ("points", "how"),
    [
        (((20, 0, 106.95), (20, 120, 106.95)), ""),  # 106.95 - 104 - 0.83 - 0.115 = 2.005
        (((20, 0, 106.9), (20, 120, 106.9)), "crosses"),
        (((20, 0, 104.5), (20, 120, 104.5)), "touches"),
        (((20, 0, 101.0), (20, 120, 101.0)), "passes under"),  # 2.055 clear, but below it
        (((20, 0, 99.0), (20, 120, 99.0)), ""),  # under the floor, another space
        (((20, 62, 104), (90, 62, 104)), "runs along"),
        (((20, 63, 104), (90, 63, 104)), ""),  # 3 - 0.945 is over 2
        (((20, 0, 104), (20, 50, 104)), ""),  # ends before it
    ],
)
def test_cpvc_is_crossed_over_and_square(points: tuple[Point3, Point3], how: str) -> None:
    found = beside_pipe(*points)
    assert len(found) == bool(how)
    if how:
        assert found[0].severity is STOP
        assert f"Run R1 {how} the sprinkler main CPVC" in found[0].says
        assert found[0].source is not None
        assert "(from memory: verify)" in str(found[0].source)
        assert (found[0].measured == 0.0) is (how == "passes under")


def test_cpvc_counts_a_cable_nobody_described_as_a_line() -> None:
    # 0.83 of pipe and 2 clear: 2.83 from its middle.
    for y, told in ((62.82, 1), (62.84, 0)):
        run = replace(data_run("R1", (20, y, 104), (90, y, 104)), kind="Q")
        job = replace(JOB, frames=(FLOOR,), obstacles=(PIPE,))
        assert len(Bench(job, runs=[run]).of("cpvc-contact")) == told


def test_cpvc_along_y_upright_and_by_other_names() -> None:
    assert beside_pipe((20, 62, 104), (90, 62, 104), center=(60.0, None))  # crosses at its height
    assert not beside_pipe((63, 0, 104), (63, 90, 104), center=(60.0, None))
    riser = {"center": (60.0, 60.0), "z_in": (0.0, 200.0), "frames": (), "z_above_frame_bottom_in": None}
    assert beside_pipe((0, 61, 50), (100, 61, 50), **riser)
    assert not beside_pipe((0, 63, 50), (100, 63, 50), **riser)
    assert not beside_pipe((20, 0, 104), (20, 120, 104), kind="copper main")
    assert not beside_pipe((20, 0, 104), (20, 120, 104), center=None)
    assert beside_pipe((20, 62.5, 104), (90, 62.5, 104), passes_over_in=None, clearance_in=2.0)
    assert not beside_pipe((20, 62.5, 104), (90, 62.5, 104), passes_over_in=None)


# --- membrane --------------------------------------------------------------------------------------------


def over_basement(**facts: Any) -> Job:
    """The bench with a basement under an engineered floor."""
    floor = replace(FLOOR, above_level="B", below_level="1", z_bottom_in=-12.0, z_top_in=-0.75)
    levels = (Level("B", -110.0, 98.0), *JOB.levels)
    return replace(JOB, levels=levels, frames=(replace(floor, **facts),))


def test_membrane_under_an_engineered_floor() -> None:
    inside = data_run("R1", (20, 20, -6), (90, 20, -6))
    told = only(Bench(over_basement(), runs=[inside]).of("floor-membrane"))
    assert told.severity is NOTE
    assert "1 run goes through this floor" in told.says
    assert 'may ask 1/2" gypsum' in told.says
    assert told.place == "I-joists over the basement"
    crawl = only(Bench(over_basement(above_level=None), runs=[inside]).of("floor-membrane"))
    assert crawl.place == "I-joists over the crawl space"


@pytest.mark.parametrize(
    "facts",
    [{"kind": "sawn joists"}, {"below_level": None}, {"above_level": "1"}, {"z_bottom_in": -5.0}],
)
def test_membrane_is_not_asked_elsewhere(facts: dict[str, Any]) -> None:
    inside = data_run("R1", (20, 20, -6), (90, 20, -6))
    assert not Bench(over_basement(**facts), runs=[inside]).of("floor-membrane")


def test_membrane_goes_by_the_middle_of_each_straight_piece() -> None:
    # Middles at 190 and 210 where the floor ends at 200; at heights -6.5 and -0.5 where it ends at -0.75.
    for a, b, told in (
        ((150, 20, -6), (230, 20, -6), 1),
        ((190, 20, -6), (230, 20, -6), 0),
        ((20, 150, -6), (20, 230, -6), 1),
        ((20, 190, -6), (20, 230, -6), 0),
        ((20, 20, -12), (90, 20, -1), 1),
        ((20, 20, -6), (90, 20, 5), 0),
        ((20, 20, -30), (90, 20, -1), 0),
    ):
        run = data_run("R1", a, b)
        assert len(Bench(over_basement(), runs=[run]).of("floor-membrane")) == told, (a, b)


def test_membrane_only_where_runs_go() -> None:
    for points in (
        ((20, 20, 6), (90, 20, 6)),
        ((20, 220, -6), (90, 220, -6)),
        ((20, 20, -20), (90, 20, -20)),
    ):
        assert not Bench(over_basement(), runs=[data_run("R1", *points)]).of("floor-membrane")


def test_membrane_knows_a_basement_by_the_grade() -> None:
    job = over_basement(above_level="0")
    deep = Level("0", -110.0, 98.0, grade_z_in=-20.0)
    run = data_run("R1", (20, 20, -6), (90, 20, -6))
    assert Bench(replace(job, levels=(deep, *JOB.levels)), runs=[run]).of("floor-membrane")
    shallow = replace(deep, grade_z_in=-110.0)
    assert not Bench(replace(job, levels=(shallow, *JOB.levels)), runs=[run]).of("floor-membrane")


# --- rated walls -----------------------------------------------------------------------------------------


def rated(*offsets: tuple[float, str], **facts: Any) -> Bench:
    """Boxes in the bench wall, which is rated."""
    boxes = tuple(
        Location(f"L{i}", "Laundry", "1", "wall", 14.0, "W1", at, side)  # type: ignore[arg-type]
        for i, (at, side) in enumerate(offsets)
    )
    wall = replace(WALL, **({"rated": "1-hour"} | facts))
    return Bench(replace(JOB, walls=(wall,), locations=boxes, enclosures=(), runs=()))


def test_a_box_in_a_rated_wall_cannot_be_told() -> None:
    told = only(rated((30.0, "left")).of("box-in-rated-wall"))
    assert (told.severity, told.limit, told.unit) == (CANNOT, 16.0, "sq in")
    assert "1-hour wall" in told.says
    assert not rated((30.0, "left"), rated=None).of("box-in-rated-wall")


@pytest.mark.parametrize(
    ("offsets", "told"),
    [
        (((30.0, "left"), (54.0, "right")), 0),  # 24 in, on the limit. Source: IRC R302.4.2
        (((30.0, "left"), (53.9, "right")), 1),
        (((53.9, "left"), (30.0, "right")), 1),
        (((30.0, "left"), (30.0, "left")), 0),
        (((30.0, "left"), (35.0, "right"), (40.0, "left")), 2),
    ],
)
def test_boxes_back_to_back(offsets: tuple[tuple[float, str], ...], told: int) -> None:
    found = rated(*offsets).of("boxes-back-to-back")
    assert len(found) == told
    assert all(f.severity is STOP for f in found)
    assert not rated(*offsets, rated=None).of("boxes-back-to-back")


@pytest.mark.parametrize("studs_at", [(), (56.0,), (56.0, 8.0)])
def test_a_box_is_moved_from_behind_another_to_a_clear_place(studs_at: tuple[float, ...]) -> None:
    bench = rated((32.0, "left"), (36.0, "right"))
    bench.members = [upright(i, at) for i, at in enumerate(studs_at)]
    (told,) = bench.of("boxes-back-to-back")
    if len(studs_at) == 2:
        assert told.fixes == ()  # a stud stands at both places
        return
    moved = replace(bench, job=apply(bench.job, told.fixes[0]))
    assert moved.job.location("L1").offset_in == (8.0 if studs_at else 56.0)
    assert not moved.of("boxes-back-to-back")
    assert {f.id for f in moved.findings()} <= {f.id for f in bench.findings()}


def test_a_move_past_the_end_of_the_wall_or_behind_a_third_box_is_not_offered() -> None:
    # It may go to 60 - 24 or 60 + 24; at 84 the third box would be 6 in away.
    bench = rated((60.0, "left"), (58.0, "right"), (90.0, "left"))
    (told,) = bench.of("boxes-back-to-back")
    assert told.fixes[0].arguments == ("L1", 36.0)
    (near_end,) = rated((10.0, "left"), (8.0, "right")).of("boxes-back-to-back")
    assert near_end.fixes[0].arguments == ("L1", 34.0)


def test_all_boxes_of_a_rated_wall() -> None:
    # 120 by 97.125 in is 80.94 sq ft: 80.9 sq in; a ring is 9/4 by 15/4, 8.4375 sq in: nine are 75.9.
    nine = tuple((8.0 + 12 * i, "left") for i in range(9))
    assert not rated(*nine).of("rated-wall-boxes")
    told = only(rated(*nine, (115.0, "left")).of("rated-wall-boxes"))
    assert (told.severity, told.measured) == (STOP, 84.375)
    assert told.limit == pytest.approx(80.9375)


# --- conduits --------------------------------------------------------------------------------------------


def conduit(**facts: Any) -> Bench:
    """One conduit in the bench wall."""
    made = Conduit(
        "C1", "1 in flexible", 1.315, "service", "E1", hole_in=1.375, in_wall="W1", hole_height_in=40.0
    )
    return Bench(replace(JOB, conduits=(replace(made, **facts),)))


SQUARE = ((0.0, 0.0, 0.0), (50.0, 0.0, 0.0), (50.0, 50.0, 0.0), (50.0, 50.0, 50.0), (0.0, 50.0, 50.0))


@pytest.mark.parametrize(
    ("path", "severity", "bends"),
    [
        # Right angles: two are 180, three 270, four 360, the fifth is too many. Source: NEC 362.26.
        (SQUARE[:4], None, 180.0),
        (SQUARE, SOON, 270.0),
        ((*SQUARE, (0.0, 0.0, 50.0)), SOON, 360.0),
        ((*SQUARE, (0.0, 0.0, 50.0), (0.0, 0.0, 90.0)), STOP, 450.0),
        (((0.0, 0.0, 0.0), (50.0, 0.0, 0.0), (50.0, 0.0, 0.0), (80.0, 30.0, 0.0)), None, 45.0),
        (((0.0, 0.0, 0.0), (50.0, 0.0, 0.0), (10.0, 0.0, 0.0), (10.0, 40.0, 0.0)), SOON, 270.0),
        (((0.0, 0.0, 0.0), (50.0, 0.0, 0.0)), None, 0.0),
    ],
)
def test_bends_of_a_conduit(path: tuple[Point3, ...], severity: Severity | None, bends: float) -> None:
    bench = conduit(path=path)
    (pipe,) = bench.job.conduits
    assert bends_deg(pipe) == pytest.approx(bends)
    found = bench.of("conduit-bends")
    assert [f.severity for f in found] == ([] if severity is None else [severity])
    if severity is not None:
        assert found[0].limit == (360.0 if severity is STOP else 180.0)
        assert f"C1 turns {bends:.0f} degrees between pull points" in found[0].says


def test_a_conduit_whose_way_nobody_drew_is_told() -> None:
    told = only(conduit().of("conduit-bends"))
    assert (told.severity, told.about) == (NOTE, ("C1",))
    assert "at most 360 degrees between pull points, 180 as advice" in told.says
    assert only(conduit(path=SQUARE[:1]).of("conduit-bends")).severity is NOTE


def test_a_conduits_hole_is_its_outside_diameter() -> None:
    # 1-1/2 in flexible is 1.90 outside; a 1-3/4 hole does not take it.
    told = only(conduit(size="1-1/2 in flexible", outside_diameter_in=1.9, hole_in=1.75).of("conduit-hole"))
    assert (told.severity, told.measured, told.limit) == (STOP, 1.75, 1.9)
    assert not conduit(hole_in=1.315).of("conduit-hole")
    assert not conduit(hole_in=None).of("conduit-hole")


def test_a_conduit_through_studs_keeps_their_limits() -> None:
    # 1 in flexible takes 1-3/8 of a 2x4: 39.3 %, just under 40. Source: R602.6
    assert not conduit().of("conduit-wall")
    told = only(conduit(hole_in=1.5).of("conduit-wall"))
    assert told.severity is STOP
    assert told.about == ("C1", "stud-hole-size")
    assert not conduit(hole_in=1.5, hole_height_in=None).of("conduit-wall")
    assert not conduit(hole_in=1.5, in_wall=None).of("conduit-wall")
    assert only(conduit(hole_in=None, outside_diameter_in=1.66).of("conduit-wall")).measured == 1.66


@pytest.mark.parametrize(
    ("size", "outside"),
    [
        ("1-1/4 in flexible", 1.66),
        ("1-1/2 in ENT", 1.9),
        ("2 in", 2.197),
        ("3/4 in rigid", 0.922),
        ("1 in flexible", 1.315),
        ("sleeve", None),
        ("3 in", None),
        ("12 in", None),
    ],
)
def test_outside_diameters_of_trade_sizes(size: str, outside: float | None) -> None:
    assert outside_in(size) == outside


def test_a_trade_size_taken_for_the_outside_is_told() -> None:
    told = only(conduit(outside_diameter_in=1.0).of("conduit-size"))
    assert (told.severity, told.measured, told.limit) == (SOON, 1.0, 1.315)
    assert not conduit().of("conduit-size")
    assert not conduit(size="a sleeve", outside_diameter_in=0.5).of("conduit-size")


# --- wishes ----------------------------------------------------------------------------------------------


def living(length_in: float, rated_wall: str | None = None, **facts: Any) -> Job:
    """A living room along one wall of this length, with one location in another room."""
    wall = replace(
        WALL,
        end=(length_in, 0.0),
        plate_end_in=length_in,
        left=(FacePiece("Living", 0.0, length_in),),
        right=(FacePiece("outside", 0.0, length_in),),
        rated=rated_wall,
    )
    room = Room("Living", "1", "living", ((0.0, 0.0), (length_in, 0.0), (length_in, 96.0), (0.0, 96.0)))
    far = Location("L9", "Hall", "1", "ceiling", 97.0, x_in=10.0, y_in=-10.0)
    return replace(JOB, walls=(wall,), rooms=(room,), locations=(far,), enclosures=(), **facts)


@pytest.mark.parametrize(("length_in", "told"), [(144.0, 1), (143.9, 0), (132.0, 0)])
def test_wall_space_of_twelve_feet(length_in: float, told: int) -> None:
    # Worked example: 14 ft asks for one, 11 ft does not. Source: TIA-570 as read.
    found = Bench(living(length_in)).of("wall-space")
    assert len(found) == told
    if told:
        assert found[0].severity is NOTE
        assert "No location in 12' 0\" along wall Living / outside (W1)." in found[0].says
        assert found[0].place == "Living, level 1"
        assert "The owner decides" in found[0].says


def test_wall_space_never_asks_for_a_box_in_a_rated_wall_nor_before_any_wish() -> None:
    assert not Bench(living(168.0, "2-hour")).of("wall-space")
    assert not Bench(replace(living(168.0), locations=())).of("wall-space")


def test_spares_are_tagged() -> None:
    run = WishedRun("R1", "D", *(data_run("R1").from_end, data_run("R1").to_end), spare=True)
    bench = Bench(replace(JOB, runs=(run,)), runs=[data_run("R1")])
    told = only(bench.of("spare-tagged"))
    assert told.severity is NOTE
    assert "Tag 1 spare for later use at both ends: R1." in told.says
    for facts in ({"spare": False}, {"note": "tagged"}):
        tagged = replace(JOB, runs=(replace(run, **facts),))  # type: ignore[arg-type]
        assert not Bench(tagged, runs=[data_run("R1")]).of("spare-tagged")


def test_a_bench_without_any_of_these_is_silent() -> None:
    assert {f.rule for f in Bench().findings()} == {"ac-by-electrician"}
