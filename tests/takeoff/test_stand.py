"""The crew of two and the stand: where each stands, and what another box saves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bayrun.house import Practice
from bayrun.takeoff.pulls import boxes_at_once, pulls
from bayrun.takeoff.stand import trip_count, two_people
from bayrun.wiring import PathPoint
from takeoff import small_house as small
from takeoff.planned_houses import every_house, planned


@every_house
def test_one_more_box_saves_what_it_says(letter: str) -> None:
    house = planned(letter)
    told = trip_count(house.job, house.wiring, house.counted.pulls)
    assert told.least <= told.trips == len(house.counted.pulls)
    for name, ready, saved in told.savings:
        kind = next(k.letter for k in house.job.practice.cables if k.name == name)
        assert boxes_at_once(house.job, house.wiring, kind) == ready
        more = replace(house.job.practice, stand_boxes_by_kind=((kind, ready + 1),))
        assert len(pulls(replace(house.job, practice=more), house.wiring)) == told.trips - saved < told.trips


def test_seven_cables_from_two_boxes_take_four_trips() -> None:
    wiring = small.wiring(tuple(small.run(f"L1-D{i}") for i in range(1, 8)))
    job = small.job(7)
    told = trip_count(job, wiring, pulls(job, wiring))
    assert (told.trips, told.least) == (4, 4)  # 2 + 2 + 2 + 1
    assert told.savings == (("data four-pair", 2, 1),)  # from three boxes 3 + 3 + 1
    full = small.job(7, Practice(cables=small.KINDS, stand_boxes=2))
    assert trip_count(full, wiring, pulls(full, wiring)).savings == ()  # the stand holds no third


@pytest.mark.parametrize(
    ("z_in", "says"),
    [
        (100.0, "one feeds at the boxes, one leads in the attic"),
        (50.0, "one feeds at the boxes, one leads from hole to hole"),
        (-20.0, "one feeds at the boxes, one leads in the crawl space"),
    ],
)
def test_where_the_second_stands(z_in: float, says: str) -> None:
    points = (PathPoint(0.0, 58.75, z_in), PathPoint(0.0, 140.0, z_in))
    assert two_people(small.job(), small.run(path=points)) == says
