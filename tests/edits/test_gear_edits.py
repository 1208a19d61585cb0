"""Edits of the enclosure and its gear: each does what it says or refuses with a reason."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent / "rules"))

from benches import JOB

from bayrun.findings import Fix
from bayrun.house import End, Gear, Job, Knockout, WishedRun
from bayrun.house.edits import Refused, apply

GEAR = (Gear("P", "patch field", True), Gear("R", "router", True), Gear("F", "furnace", False, room="Attic"))
RUN = WishedRun("L1-D1", "D", End("enclosure", "E1"), End("location", "L1"), "P")


def job(**facts: object) -> Job:
    box = replace(
        JOB.enclosures[0], knockouts=(Knockout("top", 3.5, 2.0),), fixing_points=((0.0, 4.0), (0.0, 24.0))
    )
    return replace(JOB, gear=GEAR, runs=(RUN,), enclosures=(box,), **facts)  # type: ignore[arg-type]


def fix(verb: str, *arguments: str | float) -> Fix:
    return Fix(verb, arguments, "do it")


def test_a_place_is_kept_once_and_let_go() -> None:
    placed = apply(apply(job(), fix("place_gear", "P/2", 1.0, 2.0)), fix("place_gear", "P/2", 1.5, 2.25))
    assert [(c.kind, c.about, c.value) for c in placed.choices] == [("place gear", "P/2", "1.5 2.25")]
    assert apply(placed, fix("free_gear", "P/2")).choices == ()
    assert apply(job(), fix("place_gear", "AC", 0.0, 0.0)).choices[0].about == "AC"


def test_gear_hangs_on_a_shelf_over_the_box() -> None:
    out = apply(apply(job(), fix("place_gear", "R", 1.0, 2.0)), fix("move_gear_out", "R"))
    gear = out.gear_of("R")
    assert not gear.in_enclosure
    assert (gear.room, gear.level) == ("Laundry", "1")
    # The bay's middle at 56, the board's face at 1.75 + 0.5; top of the box 48 + 14 + 0.25 and 12 in more.
    assert (gear.x_in, gear.y_in, gear.z_in) == (56.0, 2.25, 74.25)
    assert out.choices == ()


def test_a_taller_box_keeps_its_middle_and_its_upper_screws() -> None:
    box = apply(job(), fix("resize_enclosure", "E1", 36.0)).enclosures[0]
    assert (box.height_in, box.center_aff_in) == (36.0, 48.0)
    assert box.fixing_points == ((0.0, 4.0), (0.0, 32.0))


def test_door_knockout_and_slack() -> None:
    assert apply(job(), fix("vent_door", "E1", 8.0)).enclosures[0].door_vent_in2 == 8.0
    punched = apply(job(), fix("add_knockout", "E1", "top", 10.75, 1.984)).enclosures[0]
    assert punched.knockouts[1] == Knockout("top", 10.75, 1.984)
    assert apply(job(), fix("leave_slack", 24.0)).practice.slack.enclosure_in == 24.0


def test_gear_named_in_words_hangs_in_its_box() -> None:
    made = apply(
        apply(job(), fix("hang_gear", "E1", "patch field, 24 ports")), fix("hang_gear", "E1", "patch field")
    )
    assert [(g.id, g.what, g.in_enclosure) for g in made.gear[3:]] == [
        ("PATCH", "patch field, 24 ports", True),
        ("PATCH2", "patch field", True),
    ]


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (fix("place_gear", "X", 1.0, 1.0), "gear X is not in the job"),
        (fix("place_gear", "F", 1.0, 1.0), "furnace hangs in Attic, not in the enclosure"),
        (fix("place_gear", "P", 20.0, 1.0), 'expected a left from 0 to 14-1/4" inside the box, got 20 in'),
        (fix("free_gear", "P"), "no place is kept for P"),
        (fix("move_gear_out", "P"), "patch field: 1 run ends on it in the box"),
        (fix("move_gear_out", "R+Q"), "gear Q is not in the job"),
        (fix("resize_enclosure", "E9", 36.0), "enclosure E9 is not in the job"),
        (fix("resize_enclosure", "E1", 0.0), "expected a height above 0, got 0 in"),
        (fix("resize_enclosure", "E1", 100.0), 'between the plates there is 1-1/2" to 7\' 10-1/8"'),
        (fix("vent_door", "E1", -1.0), "expected openings of 0 to 200 square inches, got -1"),
        (fix("add_knockout", "E1", "side", 3.0, 1.0), "expected top or bottom, got 'side'"),
        (fix("add_knockout", "E1", "top", 4.0, 1.0), 'run into the knockout 3-1/2" from the left'),
        (fix("add_knockout", "E1", "top", 14.0, 1.0), "leaves the top of the box"),
        (fix("add_knockout", "E1", "top", 9.0, 4.0), 'at most 3-5/8" wide, got 4 in'),
        (fix("hang_gear", "E1", "24"), "expected words for the gear, got '24'"),
        (fix("hang_gear", "E9", "switch"), "enclosure E9 is not in the job"),
        (fix("leave_slack", 6.0), "expected 12 to 120 in of slack, got 6"),
    ],
)
def test_refusals_say_why(asked: Fix, told: str) -> None:
    with pytest.raises(Refused) as said:
        apply(job(), asked)
    assert told in str(said.value).replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize("verb", ["place_gear", "move_gear_out"])
def test_without_an_enclosure_nothing_hangs(verb: str) -> None:
    arguments = ("P", 1.0, 1.0) if verb == "place_gear" else ("R",)
    with pytest.raises(Refused, match="there is no enclosure"):
        apply(replace(job(), enclosures=()), fix(verb, *arguments))
