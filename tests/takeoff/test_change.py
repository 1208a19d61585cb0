"""The price of a change: by hand on a small house, and laws on a planned one."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from functools import cache

import pytest

from bayrun.framing import lay_out
from bayrun.house import Port, WishedRun
from bayrun.routing import route
from bayrun.tables.prices import generic_prices
from bayrun.takeoff import takeoff
from bayrun.takeoff.change import Planned, price_change, what_moved
from takeoff import small_house as small
from takeoff.planned_houses import planned

WHENS = ("before drywall", "insulated", "after drywall")


def small_plan(runs: int) -> Planned:
    job = small.job(runs)
    names = tuple(f"L1-D{i}" for i in range(1, runs + 1))
    holes = tuple(
        small.plate_hole(name, at_in, 0.75, occupants=names) for name, at_in in (("H1", 58.75), ("H2", 140.0))
    )
    wiring = small.wiring(tuple(small.run(name) for name in names), holes)
    return Planned(job, wiring, takeoff(job, small.frame(), wiring))


@cache
def house_c_and_one_more() -> tuple[Planned, Planned]:
    """House C, and the same with one more data cable to its kitchen access point C03."""
    house = planned("c")
    before = Planned(house.job, house.wiring, house.counted)
    model = next(run for run in house.job.runs if run.id == "C03-D1")
    more = WishedRun("C03-D2", "D", model.from_end, model.to_end)
    places = tuple(
        replace(one, ports=(Port("D", 2),)) if one.id == "C03" else one for one in house.job.locations
    )
    job = replace(house.job, runs=(*house.job.runs, more), locations=places)
    frame = lay_out(job)
    wiring = route(job, frame, base=house.wiring)
    return before, Planned(job, wiring, takeoff(job, frame, wiring))


def test_one_more_cable_by_hand() -> None:
    # 38 up, 81.25 over, 86 down and 83.125 in of slack are 288.375 in, cut as 25 ft at 0.20: 5.00.
    # Two jacks of a bag of 10 at 28.00: 5.60. Six labels of a sheet of 30 at 1.50: 0.30.
    told = price_change(small_plan(1), small_plan(2), generic_prices())
    lines = {line.id: line for line in told.lines}
    assert (told.feet, told.feet_by_kind) == (25, (("data four-pair", 25),))
    assert lines["material/cable D/Cable data four-pair"].price == Decimal("5.00")
    assert lines["material/connector/Connector, jack"].price == Decimal("5.60")
    assert lines["material/label/Cable label"].price == Decimal("0.30")
    # One run more: label 0.04 h, coil 0.04 h, tone 0.025 h (0.03), two ends 2 x 0.125 h; at 58.00 an hour.
    hours = {line.id: line.count for line in told.lines if line.part == "labor"}
    assert hours["labor/label/"] == Decimal("0.04")
    assert hours["labor/tone/"] == Decimal("0.03")
    assert hours["labor/jack/"] == Decimal("0.25")
    assert lines["labor/jack/"].price == Decimal("14.50")
    assert told.hours == sum(hours.values())
    assert (told.holes, told.plates, told.straps, told.seals) == (0, 0, 0, 0)  # it shares both holes
    assert told.cost == sum(line.price for line in told.lines if line.price is not None)
    assert [(one.thing, one.id, one.what, one.asked) for one in told.touched] == [
        ("run", "L1-D2", "added", True)
    ]
    assert told.else_moved == ()


def test_nothing_changed_costs_nothing() -> None:
    same = small_plan(2)
    for when in WHENS:
        told = price_change(same, same, generic_prices(), when)
        assert (told.price, told.hours, told.lines, told.touched) == (0, 0, (), ())


def test_there_and_back_is_nothing_before_the_board_and_no_credit_after() -> None:
    one, two = small_plan(1), small_plan(2)
    there, back = (price_change(a, b, generic_prices()) for a, b in ((one, two), (two, one)))
    assert there.price == -back.price
    assert there.feet == -back.feet == 25
    late = price_change(two, one, generic_prices(), "after drywall")
    assert {line.stage for line in late.lines if line.part != "trips"} == {"trim"}  # the cable is in the wall
    assert late.cost > back.cost


def test_the_price_rises_with_the_stage() -> None:
    before, after = house_c_and_one_more()
    prices = [price_change(before, after, generic_prices(), when).price for when in WHENS]
    assert 0 < prices[0] < prices[1] < prices[2]
    with pytest.raises(KeyError):
        price_change(before, after, generic_prices(), "next week")


def test_a_change_of_a_planned_house() -> None:
    before, after = house_c_and_one_more()
    told = price_change(before, after, generic_prices())
    asked = [one for one in told.touched if one.asked]
    assert ("location", "C03", "moved") in {(one.thing, one.id, one.what) for one in asked}
    assert ("run", "C03-D2", "added") in {(one.thing, one.id, one.what) for one in asked}
    # Independent adding: feet by the two lists of lengths.
    cut = [sum(round(row.cut_in / 12) for row in plan.counted.lengths) for plan in (before, after)]
    assert told.feet == cut[1] - cut[0] > 0
    drilled = [sum(not hole.open_passage for hole in plan.wiring.holes) for plan in (before, after)]
    assert told.holes == drilled[1] - drilled[0]
    gone = sum(one.thing == "hole" and one.what == "removed" for one in told.touched)
    made = sum(one.thing == "hole" and one.what == "added" for one in told.touched)
    assert made - gone == told.holes
    assert all(line.because for line in told.lines if line.part == "labor")


def test_what_else_moved_is_told() -> None:
    house = planned("c")
    before = Planned(house.job, house.wiring, house.counted)
    run = house.wiring.runs[0]
    shifted = replace(run, path=(*run.path[:-1], replace(run.path[-1], x=run.path[-1].x + 3.0)))
    wiring = replace(house.wiring, runs=(shifted, *house.wiring.runs[1:]))
    (told,) = what_moved(before, replace(before, wiring=wiring))
    assert (told.thing, told.id, told.what, told.asked) == ("run", run.id, "moved", False)
