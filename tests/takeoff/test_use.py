"""Material by day and room, the load list, unit prices of additions, how the deal of boxes is told."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

import pytest

from bayrun.house import CableKind, Practice
from bayrun.tables.prices import generic_prices
from bayrun.takeoff import takeoff
from bayrun.takeoff.adds import add_prices, sold
from bayrun.takeoff.price import estimate
from bayrun.takeoff.use import by_day, load_list
from takeoff import small_house as small
from takeoff.planned_houses import every_house, planned


@every_house
def test_every_unit_is_used_somewhere(letter: str) -> None:
    house = planned(letter)
    steps = estimate(house.job, house.wiring, house.counted, generic_prices()).steps
    used = by_day(house.counted, steps)
    needed = Counter({line.item: line.needed for line in house.counted.material})
    assert Counter({item: n for item, n in _sums(used).items() if n}) == needed
    for line in house.counted.material:
        assert sum(count for _, count in line.uses) == line.needed, line.item
    order = [(one.stage == "trim", one.day) for one in used]
    assert order == sorted(order)
    assert all(one.day for one in used)  # the crew plan has a day for every item
    assert {one.item for one in used if one.stage == "trim"} == {
        line.item for line in house.counted.material if line.group == "Trim"
    }


def _sums(used: tuple[object, ...]) -> Counter[str]:
    found: Counter[str] = Counter()
    for one in used:
        found[one.item] += one.count  # type: ignore[attr-defined]
    return found


@every_house
def test_what_is_used_first_goes_in_last(letter: str) -> None:
    house = planned(letter)
    steps = estimate(house.job, house.wiring, house.counted, generic_prices()).steps
    lines = load_list(house.counted, steps)
    assert sorted(line.item for line in lines) == sorted(line.item for line in house.counted.material)
    for stage in ("rough", "trim"):
        days = [line.first_day for line in lines if line.stage == stage]
        assert days == sorted(days, reverse=True)


def test_opened_boxes_are_named_with_their_feet() -> None:
    practice = Practice(cables=small.KINDS, partial_boxes=(("D", 120.0), ("D", 60.0)))
    job = small.job(2, practice)
    wiring = small.wiring((small.run("L1-D1"), small.run("L1-D2")))
    counted = takeoff(job, small.frame(), wiring)
    (line,) = [one for one in load_list(counted, ()) if one.group == "Cable"]
    assert line.words == "BX-D-1 (60 ft), BX-D-2 (120 ft)"
    (check,) = counted.box_checks
    assert check.says == "data four-pair: 0 new boxes; no deal needs fewer or leaves less scrap"


def test_one_more_cable_by_hand() -> None:
    # Mean of one run: 25 ft at 0.20 = 5.00; two jacks 5.60, six labels 0.30: 10.90 of material. Hours: label
    # 0.04, coil 0.04, tone 0.03, jacks 0.25, set-up 0.10 x 2 people = 0.20, pull 25 x 0.0016 x 2 = 0.08;
    # each at 58.00.
    job = small.job(1)
    counted = takeoff(job, small.frame(), small.wiring((small.run("L1-D1"),)))
    prices = generic_prices()
    cable, location = add_prices(job, counted, prices)
    labor = [Decimal(h) * 58 for h in ("0.04", "0.04", "0.03", "0.25", "0.20", "0.08")]
    assert dict(cable.prices)["before drywall"] == sold(
        Decimal("10.90"), sum(labor, Decimal(0)), Decimal(0), prices
    )
    # (10.90 + 37.12) x 1.12 / 0.82 = 65.59 with half up; tax 6.25 % of 14.89 = 0.93
    assert dict(cable.prices)["before drywall"] == Decimal("66.52")
    for add in (cable, location):
        amounts = [amount for _, amount in add.prices]
        assert amounts == sorted(amounts)
    assert dict(location.prices)["before drywall"] > dict(cable.prices)["before drywall"]


def test_a_kind_without_a_connector_has_none_in_its_price() -> None:
    bare = CableKind("D", "data four-pair", 0.23)
    job = small.job(1, Practice(cables=(bare,)))
    counted = takeoff(job, small.frame(), small.wiring((small.run("L1-D1"),)))
    cable, _ = add_prices(job, counted, generic_prices())
    with_jack, _ = add_prices(small.job(1), counted, generic_prices())
    assert dict(cable.prices)["before drywall"] < dict(with_jack.prices)["before drywall"]


@pytest.mark.parametrize("letter", ["a", "b", "c"])
def test_demo_deals_are_proven(letter: str) -> None:
    for check in planned(letter).counted.box_checks:
        assert check.proven, check.says
        assert check.new >= check.least_new
