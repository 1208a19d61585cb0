"""Hours, crew plan and price: added again by hand, by Monte Carlo, and against what the trade says."""

from __future__ import annotations

import random
from collections import defaultdict
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from functools import cache
from itertools import pairwise

import pytest

from bayrun.tables.prices import EXAMPLE, PriceList, generic_prices, read_price_list
from bayrun.takeoff.crew import crew_plan, joined
from bayrun.takeoff.price import Estimate, estimate, price_of
from bayrun.takeoff.work import Piece, hour_lines, piece_hours, pieces_of_work
from conftest import count
from takeoff.planned_houses import every_house, planned

TOP = "row,key,words,group,unit,pack,pack size,price,value,low,high,people,spare,source\n"
REACHES = {"": None, "ladder": "ladder", "attic": "attic", "crawl": "crawl"}


@cache
def priced(letter: str, when: str = "before drywall") -> Estimate:
    house = planned(letter)
    return estimate(house.job, house.wiring, house.counted, generic_prices(), when)


def half_up(value: Fraction, places: int) -> Fraction:
    """Rounding of our own, half away from zero, by whole numbers alone."""
    scaled = abs(value) * 10**places
    whole = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    return Fraction(whole if value >= 0 else -whole, 10**places)


@every_house
def test_the_total_is_added_again_to_the_cent(letter: str) -> None:
    """A second adding, in fractions, from counts and the table's rows alone."""
    told, prices = priced(letter), generic_prices()
    cost = Fraction(0)
    for line in told.lines:
        if line.price is None:
            assert line.each is None
            continue
        if line.part in ("material", "trips"):
            assert line.each is not None
            expected = half_up(Fraction(line.count) * Fraction(line.each), 2)
        elif line.part == "labor":
            expected = half_up(Fraction(line.count) * Fraction(prices.money("labor")), 2)
        else:
            continue
        assert Fraction(line.price) == expected, line.id
        cost += expected
    for one in told.hours:
        if one.task.startswith("day"):
            continue
        row = prices.task(one.task)
        factor = Fraction(prices.factor(one.reach).value) if one.reach else Fraction(1)
        asked = Fraction(sum(piece.count for piece in one.pieces))
        assert Fraction(one.hours) == half_up(asked * Fraction(row.value) * row.people * factor, 2), one.task
    overhead = half_up(cost * Fraction(12, 100), 2)
    before_tax = half_up((cost + overhead) / Fraction(82, 100), 2)
    assert (Fraction(told.cost), Fraction(told.before_tax)) == (cost, before_tax)
    material = sum((Fraction(s.price) for s in told.sections if s.part == "material"), Fraction(0))
    assert Fraction(told.tax) == half_up(material * Fraction(625, 10000), 2)
    assert Fraction(told.total) == before_tax + Fraction(told.tax)
    assert sum(line.price for line in told.lines if line.price is not None) == told.total
    assert sum(section.price for section in told.sections) == told.before_tax


@every_house
def test_every_line_is_traced_to_its_objects_and_source(letter: str) -> None:
    house, told = planned(letter), priced(letter)
    known = {house.job.id, *(r.id for r in house.wiring.runs), *(h.id for h in house.wiring.holes)}
    known |= {one.id for one in (*house.job.locations, *house.job.enclosures, *house.job.conduits)}
    counted = house.counted
    for group in (counted.plates, counted.straps, counted.grommets, counted.seals, counted.supports):
        known |= {one.id for one in group}
    known |= {one.id for one in (*counted.pulls, *counted.boxes)}
    for line in told.lines:
        assert line.figure.source, line.id
        assert line.figure.formula
        if line.part in ("material", "labor") and not line.id.startswith("labor/day"):
            assert line.because, line.id
            assert set(line.because) <= known, line.id
        if line.price:
            assert not line.own  # every price is the example's here, and says so
    assert len({line.id for line in told.lines}) == len(told.lines)
    assert any(EXAMPLE in line.figure.source for line in told.lines)
    # A hole is drilled once, a run labeled once: counts of the hours are those of the plan.
    by_task: dict[str, Decimal] = defaultdict(Decimal)
    for hours in told.hours:
        by_task[hours.task] += hours.count
    assert by_task["hole"] == sum(1 for hole in house.wiring.holes if not hole.open_passage)
    assert by_task["label"] == by_task["tone"] == len(house.wiring.runs)
    assert by_task["pull set-up"] == len(counted.pulls)
    feet = sum(round(row.cut_in / 12) for row in counted.lengths)
    assert by_task["pull"] + by_task["pull more"] == feet
    assert by_task["seal"] == len(counted.seals)
    assert by_task["staple"] + by_task["hanger"] == sum(one.count for one in counted.supports)
    spare = {run.id for run in house.job.runs if run.spare}
    assert by_task["jack"] == 2 * sum(run.id not in spare for run in house.wiring.runs)


@every_house
def test_hours_lie_where_the_trade_says(letter: str) -> None:
    # Source: common practice: rough-in 0.3 to 0.9 hours a cable all in; trim 0.15 to 0.40 a jack with its
    # test, besides the enclosure and devices. Example figures: a wide band is all that is asked.
    house, told = planned(letter), priced(letter)
    runs = len(house.wiring.runs)
    rough = sum(line.hours for line in told.hours if line.stage == "rough")
    assert 0.3 <= float(rough) / runs <= 1.1
    jacks = next(line for line in told.hours if line.task == "jack")
    assert 0.15 <= float(jacks.hours) / float(jacks.count) * 2 <= 0.40


@every_house
def test_the_crew_plan_keeps_its_laws(letter: str) -> None:
    told, prices = priced(letter), generic_prices()
    assert told.person_hours == sum(line.hours for line in told.hours)  # task hours are crew hours
    for stage in ("rough", "trim"):
        steps = [step for step in told.steps if step.stage == stage]
        spans: dict[int, list[tuple[Decimal, Decimal]]] = defaultdict(list)
        ladders = []
        for step in steps:
            start = 24 * (step.day - 1) + step.start_h
            assert step.start_h >= 0
            assert step.start_h + step.hours <= prices.rate("day hours").value
            for one in step.people:
                spans[one].append((start, start + step.hours))
            if step.reach == "ladder":
                ladders.append((start, start + step.hours))
            if step.task.startswith("pull"):
                assert len(step.people) == 2
        for mine in spans.values():
            mine.sort()
            assert all(a[1] <= b[0] for a, b in pairwise(mine))  # nobody at two places
        for start, _ in ladders:
            assert sum(a <= start < b for a, b in ladders) <= 2
        first, last = {}, {}
        for step in steps:
            at = 24 * (step.day - 1) + step.start_h
            first[step.task] = min(first.get(step.task, at), at)
            last[step.task] = max(last.get(step.task, at), at + step.hours)
        if stage == "rough":
            assert last["mark"] <= first["box"]
            assert last["hole"] <= first["pull set-up"]
            assert last["pull"] <= first["label"]
            assert last["coil"] <= first["tone"]
    whole = sum(step.person_hours for step in joined(told.steps))
    assert whole == told.person_hours


def test_one_ladder_is_one_ladder() -> None:
    prices = read_price_list(TOP + "rate,ladders,,,,,,,1,,,,,\n")
    pieces = [Piece("box", "ladder", "1", f"Room {i}", Decimal(1), (f"L{i}",)) for i in range(6)]
    steps = [s for s in crew_plan(hour_lines(pieces, prices), "rough", prices) if s.task == "box"]
    for step in steps:
        assert sum(o.start_h <= step.start_h < o.start_h + o.hours for o in steps) == 1


def test_shares_of_places_sum_to_the_line() -> None:
    pieces = [Piece("seal", "", "1", f"Room {i}", Decimal(1), (f"S{i}",)) for i in range(7)]
    (line,) = hour_lines(pieces, read_price_list(TOP + "task,seal,,,,,,,0.0171,,,,,\n"))
    assert line.hours == Decimal("0.12")  # 7 x 0.0171 = 0.1197
    assert sum(hours for _, hours in piece_hours(line)) == line.hours


def test_after_drywall_by_hand() -> None:
    # 10 seals: 10 x 0.02 h x 3.5 = 0.70 h at 58.00 = 40.60; trim is what it was: 4 plates x 0.04 = 0.16 h.
    prices = generic_prices()
    pieces = [
        Piece("seal", "", "1", "Hall", Decimal(10), ("S",)),
        Piece("plate", "", "1", "Hall", Decimal(4), ("L",)),
    ]
    told = price_of((), hour_lines(pieces, prices, "after drywall"), prices, when="after drywall")
    lines = {line.id: line for line in told.lines}
    assert (lines["labor/seal/"].count, lines["labor/seal/"].price) == (Decimal("0.70"), Decimal("40.60"))
    assert (lines["labor/plate/"].count, lines["labor/plate/"].price) == (Decimal("0.16"), Decimal("9.28"))
    # one day rough, one day trim: 2 people x 0.5 h each = 58.00 a stage; two trips of 45.00
    assert lines["labor/day rough/"].price == Decimal("58.00")
    assert told.cost == Decimal("40.60") + Decimal("9.28") + 2 * Decimal("58.00") + 2 * Decimal("45.00")
    # 255.88, 12 % of it 30.71 (30.7056), and 286.59 / 0.82 = 349.50
    assert (told.cost, told.before_tax) == (Decimal("255.88"), Decimal("349.50"))
    assert told.tax == 0


@pytest.mark.parametrize("letter", ["a", "b"])
def test_the_spread_by_monte_carlo(letter: str) -> None:
    """P50 and P80 against 4,000 draws of every task from its triangle: within two per cent."""
    told, prices = priced(letter), generic_prices()
    sums: dict[str, list[float]] = {}
    for line in told.hours:
        mine = sums.setdefault(line.task, [0.0, 0.0, 0.0])
        for i, each in enumerate((line.low, line.hours, line.high)):
            mine[i] += float(each)
    chance = random.Random(80)
    factor = float(told.before_tax / told.cost) * float(prices.money("labor"))
    usual = sum(mode for _, mode, _ in sums.values())
    totals = sorted(
        float(told.total)
        + factor * (sum(chance.triangular(low, high, mode) for low, mode, high in sums.values()) - usual)
        for _ in range(count(4000, 40000))
    )
    assert float(told.p50) == pytest.approx(totals[len(totals) // 2], rel=0.02)
    assert float(told.p80) == pytest.approx(totals[8 * len(totals) // 10], rel=0.02)
    assert told.low < told.total < told.p50 < told.p80 < told.high


def test_the_firm_s_own_prices_are_not_called_examples() -> None:
    prices = read_price_list(TOP + "cable,D,,,,,,0.30,,,,,,\n", "mine.csv")
    house = planned("c")
    told = estimate(house.job, house.wiring, house.counted, prices)
    line = next(line for line in told.lines if line.id.startswith("material/cable D"))
    assert line.own
    assert line.figure.source == "mine.csv: cable D"
    assert line.price == (line.count * Decimal("0.30")).quantize(Decimal("0.01"))
    assert told.examples == priced("c").examples - 1


def test_later_is_dearer() -> None:
    assert priced("c").total < priced("c", "insulated").total < priced("c", "after drywall").total


def test_a_larger_crew_needs_no_more_days() -> None:
    three = replace_rate(generic_prices(), "crew", Decimal(3))
    house = planned("b")
    lines = hour_lines(pieces_of_work(house.job, house.wiring, house.counted), three)
    days = max(step.day for step in crew_plan(lines, "rough", three))
    assert days <= dict(priced("b").days)["rough"]


def replace_rate(prices: PriceList, key: str, value: Decimal) -> PriceList:
    return replace(prices, rates=tuple(replace(r, value=value) if r.key == key else r for r in prices.rates))
