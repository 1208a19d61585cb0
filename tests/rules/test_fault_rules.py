"""Tests for planted faults that once lived: each holds one decision that no other test looked at."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from benches import DATA, FEED, JOB, Bench, data_run, filled, located, stud_hole, upright, with_runs
from click.testing import CliRunner
from test_house_rules import with_feed

from bayrun.cli.quick_hole import hole as quick_hole
from bayrun.house import Location, Obstacle, Practice
from bayrun.rules.words import cap, floor_text


def asked(*words: str) -> dict[str, object]:
    """``bayrun quick hole --json``."""
    told: dict[str, object] = json.loads(CliRunner().invoke(quick_hole, [*words, "--json"]).stdout)
    return told


def rules_of(told: dict[str, object]) -> set[str]:
    """Slugs of a quick answer's findings."""
    findings = told["findings"]
    assert isinstance(findings, list)
    return {f["rule"] for f in findings}


@pytest.mark.parametrize(("size", "told"), [("1.4", False), ("1-7/16", True), ("2", True)])
def test_a_doubled_stud_bored_over_the_single_limit_says_two_in_a_row(size: str, told: bool) -> None:
    # 40 % of 3-1/2 is 1.4: over it the stud counts as one of two successive ones. Source: IRC R602.6
    found = rules_of(asked("--member", "2x4", "--doubled", "--size", size))
    assert ("stud-successive-doubled" in found) is told
    assert "stud-successive-doubled" not in rules_of(
        asked("--member", "2x4", "--non-bearing", "--size", size)
    )


@pytest.mark.parametrize(
    ("words", "where"),
    [
        ((), "on both faces"),
        (("--centre", "1-1/2"), "on the room side"),
        (("--centre", "2"), "on the far side"),
    ],
)
def test_quick_names_the_faces_that_take_steel(words: tuple[str, ...], where: str) -> None:
    size = "7/8" if words else "1-1/4"
    findings = asked("--member", "2x4", "--size", size, *words)["findings"]
    assert isinstance(findings, list)
    (plate,) = (f for f in findings if f["rule"] == "nail-plate")
    assert f"Steel nail plate {where}:" in plate["says"]


def test_protection_says_whether_this_room_asks_for_it() -> None:
    found = with_feed(afci=None, gfci=None).of("ac-receptacle-gfci-afci")
    assert len(found) == 2
    assert all("a Laundry asks for it" in f.says for f in found)
    bench = with_feed(afci=None)
    (box,) = bench.job.enclosures
    attic = replace(bench.job, enclosures=(replace(box, room="Attic", ac_feed=replace(FEED, afci=None)),))
    (told,) = Bench(attic).of("ac-receptacle-gfci-afci")
    assert "the adopted code may ask for it" in told.says


@pytest.mark.parametrize(("y", "told"), [(2.74, 1), (2.76, 0)])
def test_a_cabinet_stands_against_the_wall_within_an_inch(y: float, told: int) -> None:
    # Half of a 3-1/2 wall and 1 in: 2.75.
    cabinet = Obstacle("O1", "base cabinets", rect=(20.0, y, 60.0, y + 24), z_in=(0.0, 36.0))
    box = Location("L1", "Laundry", "1", "wall", 14.0, "W1", 40.0, "left")
    assert len(Bench(located(box, obstacles=(cabinet,))).of("location-behind-cabinet")) == told


def test_holes_are_split_upward_from_the_old_place_where_there_is_room() -> None:
    stud = upright(1, 20.0)
    practice = Practice(cables=(DATA,), bits_in=(0.75, 0.875, 1.0))
    bench = with_runs(Bench(replace(JOB, practice=practice), [stud]), 8)
    bench.holes = [filled(stud_hole("H1", stud, 1.5), 8)]
    (told,) = bench.of("stud-hole-size")
    (split,) = (f for f in told.fixes if f.verb == "split_hole")
    # Eight cables of 0.23: 0.4 of a 1 in hole takes seven, so two holes; 1 in and the firm's gap of 1 apart.
    assert split.arguments == ("H1", 2.0, 1.0, 0.0, 0.0, 2.0, "W1/stud-1@40")


@pytest.mark.parametrize(("up_in", "first_in"), [(91.625, 0.0), (91.626, -2.0)])
def test_a_split_hole_stays_in_the_stud_at_its_top(up_in: float, first_in: float) -> None:
    # The stud ends at 94-1/8: the upper of two 1 in holes, 2 in up, ends at 91.625 + 2 + 0.5.
    stud = upright(1, 20.0)
    practice = Practice(cables=(DATA,), bits_in=(1.0,))
    bench = with_runs(Bench(replace(JOB, practice=practice), [stud]), 8)
    bench.holes = [replace(filled(stud_hole("H1", stud, 1.5), 8), up_in=up_in)]
    (told,) = bench.of("stud-hole-size")
    (split,) = (f for f in told.fixes if f.verb == "split_hole")
    assert split.arguments[4] == first_in


@pytest.mark.parametrize(("up_in", "first_in"), [(2.0, 0.0), (1.9, None)])
def test_a_split_hole_stays_in_the_stud_at_its_foot(up_in: float, first_in: float | None) -> None:
    # The stud begins at 1-1/2: the lower of two 1 in holes ends at 2 - 0.5.
    stud = upright(1, 20.0)
    practice = Practice(cables=(DATA,), bits_in=(1.0,))
    bench = with_runs(Bench(replace(JOB, practice=practice), [stud]), 8)
    bench.holes = [replace(filled(stud_hole("H1", stud, 1.5), 8), up_in=up_in)]
    (told,) = bench.of("stud-hole-size")
    split = [f.arguments[4] for f in told.fixes if f.verb == "split_hole"]
    assert split == ([] if first_in is None else [first_in])


@pytest.mark.parametrize(("mount", "told"), [("wall", 1), ("contact", 0), ("exterior", 0)])
def test_only_boxes_in_a_wall_are_judged_by_its_studs(mount: str, told: int) -> None:
    box = Location("L1", "Laundry", "1", mount, 14.0, "W1", 32.0, "left")  # type: ignore[arg-type]
    assert len(Bench(located(box), [upright(1, 32.0)]).of("location-on-member")) == told


def test_a_run_far_under_an_upright_pipe_is_no_matter() -> None:
    pipe = Obstacle("O1", "CPVC riser", center=(60.0, 60.0), diameter_in=1.66, z_in=(50.0, 200.0))
    below_it = data_run("R1", (0.0, 60.0, 10.0), (120.0, 60.0, 10.0))
    assert not Bench(replace(JOB, obstacles=(pipe,)), runs=[below_it]).of("cpvc-contact")


@pytest.mark.parametrize(("up_in", "told"), [(93.625, 0), (93.626, 1), (2.0, 0), (1.999, 1)])
def test_a_hole_leaves_its_stud_at_the_top_and_at_the_foot(up_in: float, told: int) -> None:
    # The stud goes from 1-1/2 to 94-1/8; half of the hole is 1/2.
    stud = upright(1, 20.0)
    bench = Bench(JOB, [stud], holes=[stud_hole("H1", stud, 1.0, up_in=up_in)])
    assert len(bench.of("hole-without-member")) == told


@pytest.mark.parametrize(
    ("center_in", "told"), [(79.875, False), (79.876, True), (15.25, False), (15.24, True)]
)
def test_the_enclosure_stays_between_the_plates(center_in: float, told: bool) -> None:
    # Bottom plate 1-1/2, two top plates below 97-1/8: 94-1/8; the box is 28 high on 1/4 of floor.
    (box,) = with_feed().job.enclosures
    found = Bench(replace(JOB, enclosures=(replace(box, center_aff_in=center_in),))).of("enclosure-height")
    assert any("does not stay between the plates" in f.says for f in found) is told


@pytest.mark.parametrize(
    ("least_in", "text"),
    [(0.625, '5/8"'), (2.0, '2"'), (1.26, '1.26" (1-5/16" by the tape)'), (0.7, '0.70" (3/4" by the tape)')],
)
def test_a_least_length_is_rounded_up(least_in: float, text: str) -> None:
    assert floor_text(least_in) == text


@pytest.mark.parametrize(
    ("limit_in", "text"),
    [(1.75, '1-3/4"'), (1.4, '1.40" (1-3/8" by the tape)'), (2.1, '2.10" (2-1/16" by the tape)')],
)
def test_a_largest_length_is_rounded_down(limit_in: float, text: str) -> None:
    assert cap(limit_in) == text


def test_json_figures_are_kept_to_a_millionth() -> None:
    assert asked("--member", "2x10", "--role", "joist", "--size", "1")["limit_in"] == 3.083333


@pytest.mark.parametrize(("across_in", "face"), [(0.6, "Laundry"), (-0.6, "Hall")])
def test_a_missing_plate_tells_the_wood_on_its_own_side(across_in: float, face: str) -> None:
    # 1.75 - 0.6 - 0.25 is 0.9 on the near side, 2.1 on the other: one plate, on that side.
    stud = upright(1, 20.0)
    bench = Bench(JOB, [stud], holes=[stud_hole("H1", stud, 0.5, across_in=across_in)], plates=())
    (told,) = bench.of("nail-plate")
    assert told.measured == pytest.approx(0.9)
    assert f"needs a steel nail plate on the {face} side" in told.says
