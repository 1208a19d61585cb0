"""The quick bid: holds what the models come to, and gives way to them line by line."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from bayrun.tables.prices import generic_prices, read_price_list
from bayrun.takeoff.bid import Bid, BidError, beside_the_model, bid_key, quick_bid
from bayrun.takeoff.price import Estimate, estimate
from takeoff.planned_houses import planned

TOP = "row,key,words,group,unit,pack,pack size,price,value,low,high,people,spare,source\n"
# The rooms of the demo houses as they are described, with no drawing at hand.
RANCH = {"living": 1, "kitchen": 1, "bed": 2, "office": 1, "garage": 1, "hall": 1, "laundry": 1, "camera": 3}
TWO = {"living": 1, "kitchen": 1, "dining": 1, "bed": 4, "office": 1, "family": 3, "garage": 1, "hall": 2}
TOWN = {"living": 1, "kitchen": 1, "dining": 1, "bed": 3, "family": 1, "garage": 1, "hall": 1, "camera": 1}
HOUSES = {
    "a": (RANCH, "one story", 1560.0, 1),
    "b": (TWO, "two stories and basement", 3300.0, 3),
    "c": (TOWN, "three stories", 1800.0, 3),
}


def bid_of(letter: str, package: str = "middle") -> Bid:
    rooms, plan, area, stories = HOUSES[letter]
    return quick_bid(
        rooms,
        plan=plan,
        area_ft2=area,
        stories=stories,
        package=package,  # type: ignore[arg-type]
        prices=generic_prices(),
    )


def model_of(letter: str) -> Estimate:
    house = planned(letter)
    return estimate(house.job, house.wiring, house.counted, generic_prices())


@pytest.mark.parametrize("letter", list(HOUSES))
def test_the_model_lies_in_the_range_of_its_bid(letter: str) -> None:
    low, likely, high = bid_of(letter).total
    assert low < likely < high
    assert low < model_of(letter).total < high


def test_cables_by_hand() -> None:
    # Middle package: living 4, kitchen 1, two beds 2 each, office 4, garage 2, hall 1, laundry 1, three
    # cameras 2 each; and of the house: an access point for each 1,200 square feet of 1,560 (two), doorbell 2,
    # service 3.
    assert bid_of("a").cables[1] == 4 + 1 + 2 * 2 + 4 + 2 + 1 + 1 + 3 * 2 + 2 * 1 + 2 + 3
    named = quick_bid(
        {**RANCH, "access point": 0, "doorbell": 0, "service": 0},
        plan="one story",
        area_ft2=1560,
        prices=generic_prices(),
    )
    assert named.cables[1] == 23


def test_feet_follow_the_square_root_of_the_area() -> None:
    wide = quick_bid({"bed": 2}, plan="one story", area_ft2=4 * 1600, prices=generic_prices())
    assert wide.feet == (Decimal(70), Decimal(100), Decimal(150))  # twice 35, 50, 75


def test_the_likely_total_is_added_again() -> None:
    told = bid_of("b")
    cost = sum(line.price[1] for line in told.lines)
    material = sum(line.price[1] for line in told.lines if line.key.startswith("material"))
    factor = Decimal("1.12") / Decimal("0.82")
    assert abs(told.total[1] - (cost * factor + material * factor * Decimal("0.0625"))) <= Decimal("0.005")
    for line in told.lines:
        assert line.price[0] <= line.price[1] <= line.price[2]
        assert line.figure.source == "the example price list"


def test_a_larger_package_costs_more() -> None:
    totals = [bid_of("c", package).total[1] for package in ("small", "middle", "large")]
    assert totals == sorted(totals)


def test_lines_give_way_one_by_one() -> None:
    told, model = bid_of("b"), model_of("b")
    none, total = beside_the_model(told, replace(model, lines=()), generic_prices())
    assert all(row.model is None for row in none)
    assert total == told.total  # nothing is modeled, so the bid stands
    cable = tuple(line for line in model.lines if bid_key(line) == "material/cable")
    some, part = beside_the_model(told, replace(model, lines=cable), generic_prices())
    row = next(row for row in some if row.key == "material/cable")
    assert row.model == sum(line.price for line in cable if line.price is not None)
    assert row.difference == row.model - row.bid[1]
    assert [one.key for one in some if one.model is not None] == ["material/cable"]
    assert part[2] - part[0] < told.total[2] - told.total[0]  # what is known narrows the range
    every, whole = beside_the_model(told, model, generic_prices())
    assert all(row.model is not None for row in every)
    assert whole == (model.total,) * 3
    cost = sum(row.model for row in every if row.model is not None)
    assert cost == model.cost  # every line of the model has its place in the bid


def test_the_firm_s_own_figures_are_used() -> None:
    mine = read_price_list(TOP + "room,bed,,,,,,,4,2,6,,,\n")
    rooms, plan, area, stories = HOUSES["a"]
    told = quick_bid(rooms, plan=plan, area_ft2=area, stories=stories, prices=mine)
    assert told.cables[1] == bid_of("a").cables[1] + 2 * 2


def test_what_is_no_house_is_told_at_once() -> None:
    with pytest.raises(BidError) as told:
        quick_bid({"bd": 2, "bed": -1}, plan="castle", area_ft2=10, stories=9, prices=generic_prices())
    says = str(told.value)
    assert "room: expected one of living, bed, office" in says
    assert "got 'bd'" in says
    assert "bed: expected a count from 0 to 200, got -1" in says
    assert "plan type: expected one of one story, two stories" in says
    assert "area: expected 100 to 100,000 square feet, got 10" in says
    assert "stories: expected 1 to 6, got 9" in says
    with pytest.raises(BidError, match="rooms: expected at least one room such as bed=3, got none"):
        quick_bid({}, plan="one story", area_ft2=1000, prices=generic_prices())
