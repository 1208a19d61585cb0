"""Pull groups: each run once, never more boxes than stand there, never more cable than a hole takes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bayrun.house import End, Practice
from bayrun.takeoff.pulls import boxes_at_once, pulls
from bayrun.takeoff.ways import way_words
from bayrun.wiring import Circle, PathPoint, Run, Wiring
from takeoff import small_house as small
from takeoff.planned_houses import every_house, planned


def seven(diameter_in: float) -> Wiring:
    names = tuple(f"L1-D{i}" for i in range(1, 8))
    circles = tuple(Circle(0.0, 0.0, 0.115) for _ in names)
    holes = tuple(
        small.plate_hole(name, at_in, diameter_in, occupants=names, circles=circles)
        for name, at_in in (("H1", 58.75), ("H2", 140.0))
    )
    return small.wiring(tuple(small.run(name) for name in names), holes)


@pytest.mark.parametrize(
    ("diameter_in", "sizes"),
    [
        (1.0, [7]),  # 7 x 0.23^2 = 0.370 of 1 in^2: 37 %, the printed "7 cables in 1 in" at 40 %
        (0.75, [6, 1]),  # 7 would be 65.8 % of a 3/4 in hole, 6 are 56.4 %: over 60 % is never pulled at once
    ],
)
def test_seven_cables_in_a_one_inch_hole(diameter_in: float, sizes: list[int]) -> None:
    practice = Practice(cables=small.KINDS, stand_boxes=8, stand_boxes_by_kind=(("D", 8),))
    found = pulls(small.job(7, practice), seven(diameter_in))
    assert [len(pull.runs) for pull in found] == sizes


def test_boxes_of_a_kind_bound_a_pull() -> None:
    two = small.job(7)
    assert boxes_at_once(two, seven(1.0), "D") == 2
    assert [len(pull.runs) for pull in pulls(two, seven(1.0))] == [2, 2, 2, 1]
    on_hand = Practice(cables=small.KINDS, partial_boxes=(("D", 300.0), ("D", 200.0), ("D", 100.0)))
    assert boxes_at_once(small.job(7, on_hand), seven(1.0), "D") == 3
    told = Practice(cables=small.KINDS, stand_boxes=4, stand_boxes_by_kind=(("D", 9),))
    assert boxes_at_once(small.job(7, told), seven(1.0), "D") == 4  # the stand holds no more


def test_runs_that_part_at_once_are_not_pulled_together() -> None:
    other = (
        PathPoint(0.0, 58.75, 62.0),
        PathPoint(0.0, 58.75, 100.0),
        PathPoint(-110.0, 58.75, 100.0),
    )
    runs = (small.run("L1-D1"), small.run("L1-D2", path=other))
    assert [pull.runs for pull in pulls(small.job(2), small.wiring(runs))] == [("L1-D1",), ("L1-D2",)]


@every_house
def test_planned_houses_pull_each_run_once(letter: str) -> None:
    house = planned(letter)
    found = house.counted.pulls
    assert sorted(run for pull in found for run in pull.runs) == sorted(run.id for run in house.wiring.runs)
    assert [pull.order for pull in found] == list(range(1, len(found) + 1))
    kinds = {run.id: run.kind for run in house.wiring.runs}
    lengths = {run.id: run.length_in for run in house.wiring.runs}
    for pull in found:
        assert len(pull.runs) <= house.job.practice.stand_boxes
        for kind in {kinds[run] for run in pull.runs}:
            at_once = boxes_at_once(house.job, house.wiring, kind)
            assert sum(1 for run in pull.runs if kinds[run] == kind) <= at_once
    longest = [max(lengths[run] for run in pull.runs) for pull in found]
    assert longest == sorted(longest, reverse=True)
    assert len(found) < len(house.wiring.runs)
    assert all(pull.way and pull.stand for pull in found)


def test_a_way_in_words() -> None:
    job = small.job()
    holes = (small.plate_hole("H1", 58.75, 0.75), small.plate_hole("H2", 140.0, 0.75))
    run = small.run()
    expected = "up the Laundry wall by hole H1, over Laundry, down the Dining wall by hole H2, to Dining (L1)"
    assert way_words(job, small.wiring((run,), holes), run) == expected
    turned = replace(run, from_end=run.to_end, to_end=run.from_end, path=run.path[::-1])
    assert way_words(job, small.wiring((turned,), holes), turned) == expected


def test_a_run_between_two_places_is_pulled_from_its_own_end() -> None:
    points = (PathPoint(-60.0, 100.0, 97.125), PathPoint(-60.0, 140.0, 97.125))
    run = Run("L2-S1", "D", End("location", "L2"), End("location", "L1"), points, 36.0, 12.0)
    (pull,) = pulls(small.job(), small.wiring((run,)))
    assert pull.stand == "boxes at Dining (L2)"
