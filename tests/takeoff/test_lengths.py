"""Lengths: what is cut, and the law that no run ends short of a terminal."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bayrun.house import Practice
from bayrun.takeoff.lengths import cut_length_in, length_rows, short_ends, whole_feet_in
from takeoff import small_house as small
from takeoff.planned_houses import every_house, planned


@pytest.mark.parametrize(
    ("length_in", "feet"),
    [
        (0.0, 0),
        (12.0, 1),
        (12.0 + 1e-9, 1),  # float noise on the foot stays on the foot
        (12.0625, 2),  # a sixteenth over the foot is a foot more
        (634.125, 53),  # 52'-10-1/8": run A01-D1 of demo house A, its baseline
        (84 * 12.0, 84),
    ],
)
def test_cut_is_the_next_whole_foot(length_in: float, feet: int) -> None:
    assert whole_feet_in(length_in) == feet * 12


def test_length_is_segments_and_both_slacks_by_hand() -> None:
    # By hand: 33.625 up, 4.375, 81.25 over, 4.375, 81.625 down = 205.25; with 71.125 and 12: 288.375 in.
    run = small.run()
    assert run.length_in == pytest.approx(288.375, abs=1e-9)
    (row,) = length_rows(small.job(), small.wiring((run,)))
    assert (row.way_in, row.length_in, row.cut_in) == (205.25, 288.375, 300.0)
    assert row.from_place == "enclosure in Laundry"
    assert row.to_place == "Dining (L1)"


def test_dress_factor_lengthens_the_way_and_not_the_slack() -> None:
    job = small.job(practice=Practice(cables=small.KINDS, dress_factor=1.10))
    # 205.25 * 1.1 + 83.125 = 308.9 in, 25 ft 8.9 in: 26 ft.
    assert cut_length_in(job, small.run()) == 26 * 12


@every_house
def test_planned_houses_end_at_their_terminals(letter: str) -> None:
    house = planned(letter)
    assert short_ends(house.job, house.wiring) == ()
    assert len(house.counted.lengths) == len(house.wiring.runs)
    for row in house.counted.lengths:
        assert row.cut_in >= row.length_in - 1e-6


def test_a_run_that_stops_short_is_told() -> None:
    house_a = planned("a")
    run = house_a.wiring.runs[0]
    short = replace(run, path=run.path[:-2], slack_to_in=-1.0)
    told = short_ends(house_a.job, replace(house_a.wiring, runs=(short,)))
    assert any("short of" in text and run.id in text for text in told)
    assert any("expected slack of zero or more" in text for text in told)
    empty = replace(run, path=run.path[:1])
    assert short_ends(house_a.job, replace(house_a.wiring, runs=(empty,))) == (
        f"run {run.id}: expected a path of at least two points, got 1",
    )
