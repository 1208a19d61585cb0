"""Edits: each does what it says or refuses with a reason; the job given never changes."""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent / "rules"))

from benches import JOB, WALL, Bench, located, stud_hole, upright

from bayrun.findings import Fix, Severity
from bayrun.house import Choice, Location, Opening
from bayrun.house.edits import VERBS, Refused, apply, verb_of

BOX = Location("L1", "Laundry", "1", "wall", 14.0, "W1", 32.0, "left")


def fix(verb: str, *arguments: str | float, request_to: str = "") -> Fix:
    """A fix a person could ask for."""
    return Fix(verb, arguments, "do it", request_to)


def test_every_verb_a_rule_offers_has_its_edit() -> None:
    source = Path(__file__).parents[2] / "src" / "bayrun" / "rules"
    text = "".join(p.read_text(encoding="utf-8") for p in sorted(source.glob("*.py")))
    offered = set(re.findall(r'Fix\(\s*"(\w+)"', text))
    assert len(offered) >= 7
    assert offered <= {verb.name for verb in VERBS}


def test_a_location_moves_and_the_rule_falls_silent() -> None:
    stud = upright(1, 32.0)
    bench = Bench(located(BOX), [stud])
    (told,) = bench.of("location-on-member")
    moved = apply(bench.job, told.fixes[0])
    assert moved.location("L1").offset_in == 32.0 - 0.75 - 1.125
    assert bench.job.location("L1").offset_in == 32.0
    assert not Bench(moved, [stud]).of("location-on-member")


@pytest.mark.parametrize(
    ("to_in", "told"),
    [
        (1.0, 'off the wall: a box fits from 1-1/8" to 9\' 10-7/8" from its start'),
        (119.0, "off the wall"),
        (60.0, "in the door D1: no wall to hold the box"),
        (-3.0, "before the wall's start is off the wall"),
    ],
)
def test_a_place_that_cannot_be_is_refused(to_in: float, told: str) -> None:
    door = Opening("D1", "W1", "door", 50.0, 32.0, 0.0, 82.0, 9.25)
    with pytest.raises(Refused) as said:
        apply(located(BOX, openings=(door,)), fix("move_location", "L1", to_in))
    assert told in str(said.value)


def test_the_ends_of_the_wall_and_of_an_opening_are_places() -> None:
    door = Opening("D1", "W1", "door", 50.0, 32.0, 0.0, 82.0, 9.25)
    job = located(BOX, openings=(door,))
    for to_in in (1.125, 118.875, 48.8, 83.2):
        assert apply(job, fix("move_location", "L1", to_in)).location("L1").offset_in == to_in
    high = located(replace(BOX, height_in=92.0), openings=(door,))  # over the header, 91-1/4
    assert apply(high, fix("move_location", "L1", 60.0)).location("L1").offset_in == 60.0


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (fix("move_location", "L9", 10.0), "location L9 is not in the job"),
        (fix("move_location", "L1"), "expected 2 arguments (location, offset from the wall's start), got 1"),
        (fix("move_location", "L1", "far"), "argument 2: expected a number of inches, got 'far'"),
        (fix("move_location", "L1", float("nan")), "expected a number of inches, got nan"),
        (fix("move_location", 3.0, 10.0), "argument 1: expected a word, got 3.0"),
        (fix("paint_wall", "W1"), "no edit is called 'paint_wall': expected one of move_location, ask"),
        (fix("redrill_hole", "H1", 0.0, 0.0), "expected a bit larger than nothing"),
        (fix("split_hole", "H1", 1.0, 1.0, 0.0, 0.0, 3.0), "expected two or more whole holes, got 1"),
        (fix("split_hole", "H1", 2.5, 1.0, 0.0, 0.0, 3.0), "expected two or more whole holes, got 2.5"),
        (fix("split_hole", "H1", 2.0, 1.0, 0.0, 0.0, 1.0), "would run into each other"),
        (fix("add_strap", "H1", 0.0), "expected the strap's length"),
        (fix("answer", "W1", "non-bearing"), "counts only with the name of who gave it"),
        (fix("acknowledge", "stud-hole-size:H1"), "takes a name and a reason"),
    ],
)
def test_refusals_say_why(asked: Fix, told: str) -> None:
    with pytest.raises(Refused) as said:
        apply(located(BOX), asked)
    assert told in str(said.value)


def test_a_box_on_no_wall_is_not_moved_along_one() -> None:
    job = located(Location("L1", "Laundry", "1", "ceiling", 97.0, x_in=10.0, y_in=10.0))
    with pytest.raises(Refused, match="is on no wall: set its x and y instead"):
        apply(job, fix("move_location", "L1", 10.0))


def test_a_request_stays_open_until_the_answer_is_signed() -> None:
    stud = upright(1, 20.0)
    bench = Bench(JOB, [stud])
    bench.holes = [stud_hole("H1", stud, 1.5)]
    (told,) = bench.of("stud-hole-size")
    (double,) = (f for f in told.fixes if f.arguments == ("W1/stud-1", "doubled"))
    asked = apply(bench.job, double, by="lead", date="2026-05-04")
    assert asked.choices == (
        Choice("request", "W1/stud-1/doubled", "framer: doubled", "lead", "2026-05-04", ""),
    )
    assert replace(bench, job=asked).of("stud-hole-size")
    answered = apply(asked, fix("answer", "W1/stud-1", "doubled"), by="the framer", date="2026-05-05")
    assert [c.kind for c in answered.choices] == ["answer"]
    assert not replace(bench, job=answered).of("stud-hole-size")


def test_a_wall_answered_as_non_bearing_is_so_in_the_job() -> None:
    job = apply(JOB, fix("answer", "W1", "non-bearing"), by="engineer of record")
    assert job.wall("W1").bearing is False
    assert JOB.wall("W1").bearing is True
    outside = replace(JOB, walls=(replace(WALL, exterior=True),))
    with pytest.raises(Refused, match="exterior wall: it counts with the bearing ones"):
        apply(outside, fix("answer", "W1", "non-bearing"), by="engineer of record")
    with pytest.raises(Refused, match="wall W9 is not in the job"):
        apply(JOB, fix("answer", "W9", "non-bearing"), by="framer")


def test_only_a_wood_stud_is_doubled() -> None:
    with pytest.raises(Refused, match="no stud of a wall in the job"):
        apply(JOB, fix("answer", "W9/stud-1", "doubled"), by="framer")
    with pytest.raises(Refused, match="no stud of a wall in the job"):
        apply(JOB, fix("answer", "W1", "doubled"), by="framer")
    steel = replace(JOB, walls=(replace(WALL, core="steel 3-5/8"),))
    with pytest.raises(Refused, match="steel stud"):
        apply(steel, fix("answer", "W1/stud-1", "doubled"), by="framer")


def test_an_acknowledged_stop_stays_a_stop() -> None:
    stud = upright(1, 20.0)
    bench = Bench(JOB, [stud])
    bench.holes = [stud_hole("H1", stud, 1.5)]
    (told,) = bench.of("stud-hole-size")
    seen = apply(JOB, fix("acknowledge", told.id), by="lead", reason="the framer comes on Tuesday")
    (again,) = replace(bench, job=seen).of("stud-hole-size")
    assert again.severity is Severity.STOP
    assert seen.choices[0].reason == "the framer comes on Tuesday"


@pytest.mark.parametrize(
    ("asked", "kept"),
    [
        (
            fix("redrill_hole", "H1", 1.0, -0.25),
            {("bit", "H1", "1 in"), ("move hole", "H1", "across -0.25 in")},
        ),
        (fix("shift_hole", "H1", 44.5), {("move hole", "H1", "along 44.5 in")}),
        (fix("split_hole", "H1", 2.0, 1.0, 0.0, 0.0, 3.0), {("split hole", "H1", "2 of 1 in every 3 in")}),
        (fix("add_nail_plate", "H1", "left"), {("nail plate", "H1/left", "left")}),
        (fix("add_strap", "H1", 14.0), {("strap", "H1", "14 in")}),
        (fix("add_seal", "H1"), {("seal", "H1", "close it")}),
    ],
)
def test_wishes_about_holes_are_kept_and_said_not_to_be_honored_yet(
    asked: Fix, kept: set[tuple[str, str, str]]
) -> None:
    job = apply(JOB, asked)
    assert {(c.kind, c.about, c.value) for c in job.choices} == kept
    assert not verb_of(asked.verb).honored
    assert apply(job, asked) == job  # decided twice is decided once


def test_the_last_decision_about_one_hole_counts() -> None:
    job = apply(apply(JOB, fix("shift_hole", "H1", 44.0)), fix("shift_hole", "H1", 45.0))
    assert [c.value for c in job.choices] == ["along 45 in"]
