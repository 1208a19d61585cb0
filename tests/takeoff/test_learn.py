"""Learning from actual records: known rates come back, few records move nothing, bad rows are told."""

from __future__ import annotations

import random
import statistics
from decimal import Decimal

import pytest

from bayrun.tables.prices import PriceTableError, generic_prices, price_list_csv, read_price_list
from bayrun.takeoff.learn import FULL_RECORDS, LEAST_RECORDS, Actual, learn, quantile, read_actuals


def records(task: str, ratios: list[float]) -> list[Actual]:
    return [Actual(task, Decimal(2), Decimal(str(round(2 * r, 4))), f"r{i}") for i, r in enumerate(ratios)]


def test_a_known_rate_is_recovered_within_a_tenth() -> None:
    """Jobs of a crew that really takes 1.4 times the hours of holes and 0.8 times those of seals."""
    chance, prices = random.Random(69), generic_prices()
    rows = records("hole", [1.4 * chance.lognormvariate(0, 0.25) for _ in range(60)])
    rows += records("seal", [0.8 * chance.lognormvariate(0, 0.25) for _ in range(60)])
    new, told = learn(prices, rows)
    assert [(one.task, one.n) for one in told] == [("hole", 60), ("seal", 60)]
    for key, ratio in (("hole", 1.4), ("seal", 0.8)):
        assert float(new.task(key).value / prices.task(key).value) == pytest.approx(ratio, rel=0.1)
        assert new.task(key).low < new.task(key).value < new.task(key).high
        assert (new.task(key).records, new.task(key).own) == (60, True)
    assert new.task("strap") == prices.task("strap")


def test_few_records_move_nothing_and_some_move_half() -> None:
    prices = generic_prices()
    few, (told,) = learn(prices, records("hole", [2.0] * (LEAST_RECORDS - 1)))
    assert few == prices
    assert told.says == "4 of at least 5 records: the figure stays"
    half, (told,) = learn(prices, records("hole", [2.0] * (FULL_RECORDS // 2)))
    assert half.task("hole").value == Decimal("0.015") * Decimal("1.5")  # half old, half twice the old
    assert told.says == "10 records, weight 0.50: 0.015 to 0.0225 h (+50 %)"
    full, _ = learn(prices, records("hole", [2.0] * FULL_RECORDS))
    assert full.task("hole").value == Decimal("0.0300")


def test_median_and_quartiles_against_another_library() -> None:
    chance = random.Random(7)
    for n in range(2, 40):
        values = sorted(round(chance.uniform(0.3, 3), 3) for _ in range(n))
        ordered = [Decimal(str(value)) for value in values]
        expected = statistics.quantiles(values, n=4, method="inclusive")  # the same definition
        got = [float(quantile(ordered, q)) for q in (0.25, 0.5, 0.75)]
        assert got == pytest.approx(expected)


def test_one_wild_record_is_left_out_and_named() -> None:
    prices = generic_prices()
    rows = [*records("hole", [1.2] * 20), Actual("hole", Decimal(1), Decimal(9), "actual.csv:22")]
    new, (told,) = learn(prices, rows)
    assert told.left_out == ("actual.csv:22",)
    assert told.says.endswith("; 1 too far off, left out")
    assert new.task("hole").value == Decimal("0.0180")


def test_what_was_learned_goes_out_and_comes_in() -> None:
    new, _ = learn(generic_prices(), records("hole", [2.0] * 20))
    again = read_price_list(price_list_csv(new))
    assert again.task("hole").value == Decimal("0.0300")
    assert again.task("hole").source == "20 actual records, weight 1.00"


def test_actuals_as_csv() -> None:
    text = "job,task,estimated,actual\nA,hole,1.0,1.5\n\nB,hole,2.0,2.5\n"
    told = read_actuals(text, "actual.csv", generic_prices())
    assert [(one.actual_h, one.where) for one in told] == [
        (Decimal("1.5"), "actual.csv:2"),
        (Decimal("2.5"), "actual.csv:4"),
    ]
    with pytest.raises(PriceTableError) as error:
        read_actuals("task,estimated,actual\nholes,1,1\nhole,0,x\n", "actual.csv", generic_prices())
    assert error.value.defects[0].startswith("actual.csv:2: task: expected one of box, ceiling device, ")
    assert error.value.defects[1:] == (
        "actual.csv:3: estimated: expected hours above 0, got '0'",
        "actual.csv:3: actual: expected hours above 0, got 'x'",
    )
    with pytest.raises(
        PriceTableError, match=r"expected the columns task, estimated, actual, got an empty file"
    ):
        read_actuals("", "actual.csv", generic_prices())
