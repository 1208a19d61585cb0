"""Edits: each does what it says or refuses with a reason; the job given never changes."""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent / "rules"))

from benches import JOB, WALL, Bench, located, stud_hole, upright, wished

from bayrun.findings import Fix, Severity
from bayrun.house import Choice, Location, Opening
from bayrun.house.edits import VERBS, Refused, apply, verb_of
from bayrun.house.hole_choices import (
    HoleChoice,
    Notch,
    PinnedRun,
    Spot,
    choice_behind,
    hole_choices,
    notches,
    pinned_runs,
    wrong_choices,
)

AT = "W1/stud-1@40"

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
        (fix("redrill_hole", "H1", 0.0, 0.0, AT), "expected a bit larger than nothing"),
        (fix("split_hole", "H1", 1.0, 1.0, 0.0, 0.0, 3.0, AT), "expected two or more whole holes, got 1"),
        (fix("split_hole", "H1", 2.5, 1.0, 0.0, 0.0, 3.0, AT), "expected two or more whole holes, got 2.5"),
        (fix("split_hole", "H1", 2.0, 1.0, 0.0, 0.0, 1.0, AT), "would run into each other"),
        (fix("add_strap", "H1", 0.0, AT), "expected the strap's length"),
        (fix("shift_hole", "H1", 40.0, "H1"), "argument 3: expected a member and inches along it"),
        (fix("notch", AT, -1.0, 1.0, "left"), "expected a depth and a length, got -1 and 1 in"),
        (fix("notch", AT, 0.5, 1.0, "front"), "expected a face, one of left, right, top, bottom"),
        (fix("pin_run", "R9", AT), "run R9 is not in the job"),
        (fix("cover_run", "R1", "W9", "both"), "wall W9 is not in the job"),
        (fix("choose_enclosure", "E9"), "enclosure E9 is not in the job: expected one of E1"),
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
            fix("redrill_hole", "H1", 1.0, -0.25, AT),
            {("bit", AT, "1 in"), ("move hole", AT, "across -0.25 in")},
        ),
        (fix("shift_hole", "H1", 44.5, AT), {("move hole", AT, "along 44.5 in")}),
        (
            fix("split_hole", "H1", 2.0, 1.0, 0.0, -3.0, 3.0, AT),
            {("split hole", AT, "2 of 1 in every 3 in across 0 in from -3 in")},
        ),
        (fix("add_nail_plate", "H1", "left", AT), {("nail plate", f"{AT}/left", "left")}),
        (fix("add_strap", "H1", 14.0, AT), {("strap", AT, "14 in")}),
        (fix("add_seal", "H1", AT), {("seal", AT, "close it")}),
        (fix("notch", AT, 0.5, 1.0, "left"), {("notch", AT, "0.5 in deep 1 in long on the left")}),
        (fix("cover_run", "R1", "W1", "both"), {("steel over run", "R1@W1", "both")}),
    ],
)
def test_wishes_about_holes_name_the_wood_and_are_kept_once(
    asked: Fix, kept: set[tuple[str, str, str]]
) -> None:
    job = apply(JOB, asked)
    assert {(c.kind, c.about, c.value) for c in job.choices} == kept
    assert verb_of(asked.verb).honored
    assert apply(job, asked) == job  # decided twice is decided once


def test_the_last_decision_about_one_hole_counts() -> None:
    job = apply(apply(JOB, fix("shift_hole", "H1", 44.0, AT)), fix("shift_hole", "H1", 45.0, AT))
    assert [c.value for c in job.choices] == ["along 45 in"]


def test_a_decision_about_a_moved_hole_is_written_to_the_one_that_moved_it() -> None:
    job = apply(JOB, fix("redrill_hole", "H1", 1.0, -0.25, AT))
    job = apply(job, fix("shift_hole", "H1", 44.0, AT))
    moved = apply(job, fix("shift_hole", "H7", 46.0, "W1/stud-1@44"))
    assert hole_choices(moved) == (HoleChoice(Spot("W1/stud-1", 40.0), 1.0, -0.25, 46.0),)
    other_bit = apply(moved, fix("redrill_hole", "H7", 0.75, 0.0, "W1/stud-1@46"))
    assert hole_choices(other_bit) == (HoleChoice(Spot("W1/stud-1", 40.0), 0.75, 0.0, 46.0),)


def test_a_split_keeps_its_holes_and_the_middle_one_can_be_named() -> None:
    job = apply(JOB, fix("split_hole", "H1", 3.0, 0.75, 0.1, -2.0, 2.0, AT))
    (choice,) = hole_choices(job)
    assert choice.places_in() == (38.0, 40.0, 42.0)
    assert choice_behind(job, Spot("W1/stud-1", 42.0)) == choice
    assert choice_behind(job, Spot("W1/stud-1", 43.0)) == HoleChoice(Spot("W1/stud-1", 43.0))
    assert choice_behind(job, Spot("W1/stud-2", 42.0)).count == 1


def test_lengths_survive_the_text_of_a_choice() -> None:
    # A limit is kept to a millionth of an inch: the text must not round it away.
    job = apply(JOB, fix("redrill_hole", "H1", 1.375, 1.0 / 3, "F1/12@103.4567891"))
    (choice,) = hole_choices(job)
    assert choice.across_in == pytest.approx(1.0 / 3, abs=1e-9)
    assert choice.spot == Spot("F1/12", 103.4567891)


def test_a_notch_of_no_depth_is_taken_out_again() -> None:
    job = apply(JOB, fix("notch", AT, 0.5, 1.0, "left"))
    assert notches(job) == (Notch(Spot("W1/stud-1", 40.0), 0.5, 1.0, "left"),)
    assert not apply(job, fix("notch", AT, 0.0, 1.0, "left")).choices


def test_a_run_is_pinned_to_places_in_order() -> None:
    job = replace(JOB, runs=(wished("R1"),))
    pinned = apply(job, fix("pin_run", "R1", f"{AT}; F1/3@40"))
    assert pinned_runs(pinned) == (PinnedRun("R1", (Spot("W1/stud-1", 40.0), Spot("F1/3", 40.0))),)


@pytest.mark.parametrize(
    ("choice", "told"),
    [
        (Choice("bit", AT, "one inch"), "bit W1/stud-1@40: expected a bit such as “1.25 in”, got 'one inch'"),
        (Choice("move hole", AT, "up a bit"), "expected “across -0.25 in”, “along 46 in” or both"),
        (Choice("split hole", AT, "2"), "expected “2 of 1 in every 3 in"),
        (Choice("notch", AT, "1 in"), "expected “0.5 in deep 1 in long on the left”"),
        (Choice("bit", "H1", "1 in"), "expected a member and inches along it such as A-W26/stud-5@44.5"),
        (Choice("pin run", "R1", "over there"), "expected a member and inches along it"),
    ],
)
def test_a_choice_that_cannot_be_read_says_what_was_expected(choice: Choice, told: str) -> None:
    ((wrong, says),) = wrong_choices(replace(JOB, choices=(choice, Choice("answer", "W1", "done"))))
    assert wrong == choice
    assert told in says


def test_another_place_for_the_enclosure_takes_the_runs_along() -> None:
    (box,) = JOB.enclosures
    job = replace(JOB, enclosures=(box, replace(box, id="E2")), enclosure="E1", runs=(wished("R1"),))
    chosen = apply(job, fix("choose_enclosure", "E2"))
    assert chosen.chosen_enclosure == replace(box, id="E2")
    assert chosen.runs[0].from_end.id == "E2"
    assert chosen.runs[0].to_end == job.runs[0].to_end
