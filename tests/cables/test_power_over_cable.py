"""Wire resistance and power over cable against printed values; each check names where its figure stands."""

from __future__ import annotations

import pytest

from bayrun.cables.power_over_cable import (
    class_for,
    deliver,
    device_power_w,
    power_class,
    power_classes,
    switch_budget,
    volts_at_device,
)
from bayrun.cables.ranges import M_PER_FT, RangeError, Verdict
from bayrun.cables.resistance import conductor_ohm_per_kft, diameter_mm, nec_ohm_per_kft, two_wire_ohm

FT = 1 / M_PER_FT


# Own arithmetic, the ASTM B258 formula: regression pins.
@pytest.mark.parametrize(("awg", "mm"), [(24, 0.5106), (23, 0.5733), (22, 0.6438), (16, 1.2908)])
def test_diameter_by_gauge(awg: int, mm: float) -> None:
    assert diameter_mm(awg) == pytest.approx(mm, abs=2e-4)


@pytest.mark.parametrize(
    ("awg", "ohm_per_km"), [(24, 84.2), (23, 66.8), (22, 53.0), (18, 20.95), (16, 13.17)]
)
def test_resistance_at_20_c(awg: int, ohm_per_km: float) -> None:
    assert conductor_ohm_per_kft(awg).value / M_PER_FT == pytest.approx(ohm_per_km, abs=0.06)


# NEC 2017 and 2023 chapter 9 Table 8 at 75 C, printed.
@pytest.mark.parametrize(("awg", "printed"), [(18, 7.77), (16, 4.89), (14, 3.07), (12, 1.93)])
def test_resistance_at_75_c_against_the_code_table(awg: int, printed: float) -> None:
    assert conductor_ohm_per_kft(awg, 75).value == pytest.approx(printed, rel=0.0025)
    assert nec_ohm_per_kft(awg).value == printed


@pytest.mark.parametrize(("awg", "printed"), [(18, 7.95), (16, 4.99), (14, 3.14), (12, 1.98)])
def test_stranded_rows_lie_within_the_uncertainty(awg: int, printed: float) -> None:
    figure = conductor_ohm_per_kft(awg, 75, stranded=True)
    assert figure.plus_minus is not None
    assert figure.value == pytest.approx(printed, rel=0.006)
    assert abs(figure.value - printed) < figure.plus_minus


def test_24_awg_keeps_to_the_category_limit() -> None:
    # 9.38 ohm per 100 m, TIA-568 from memory; 8.42 own arithmetic.
    per_100_m = conductor_ohm_per_kft(24).value / M_PER_FT / 10
    assert per_100_m == pytest.approx(8.42, abs=0.01)


def test_no_printed_row_for_20_and_22_awg() -> None:
    with pytest.raises(RangeError, match=r"18, 16, 14, 12 AWG .* begins at 18 AWG: no 20 or 22\), got 22"):
        nec_ohm_per_kft(22)


def test_all_defects_at_once() -> None:
    with pytest.raises(RangeError) as told:
        two_wire_ohm(-3, 40, 200)
    assert str(told.value) == (
        "expected a length above 0 and at most 2000 ft (a run in one house), got -3 ft;"
        " expected a gauge 10 to 30 AWG (low-voltage wire), got 40 AWG;"
        " expected a conductor temperature -40 to 90 C (the hottest rating of such cable), got 200 C"
    )


# IEEE 802.3 clauses 33 and 145: printed powers at the device.
@pytest.mark.parametrize(
    ("number", "watts"), [(1, 3.84), (2, 6.49), (3, 12.95), (4, 25.5), (5, 40), (6, 51), (7, 62), (8, 71.3)]
)
def test_printed_class_powers(number: int, watts: float) -> None:
    kind = power_class(number)
    assert device_power_w(kind).value == pytest.approx(watts, abs=0.07)
    assert kind.device_w == watts
    assert class_for(watts).number == number


def test_class_8_current_per_pairset() -> None:
    kind = power_class(8)
    assert kind.current_a / 2 == pytest.approx(0.865, abs=0.001)  # own arithmetic, as is 0.433 a conductor
    assert kind.conductor_a == pytest.approx(0.433, abs=0.001)
    assert power_class(0) == power_class(3)


@pytest.mark.parametrize(
    ("awg", "celsius", "volts", "amps", "watts"),
    [(23, 20, 48.235, 0.52867, 26.433), (24, 45, 47.518, 0.53663, 26.832)],
)
def test_25_w_over_50_m(awg: int, celsius: float, volts: float, amps: float, watts: float) -> None:
    # Own arithmetic (regression pins); the power balance below is exact.
    told = deliver(25.5, 50 * FT, awg, celsius)
    assert told.power_class.number == 4
    assert told.device_v.value == pytest.approx(volts, abs=0.02)
    assert told.current_a.value == pytest.approx(amps, abs=0.001)
    assert told.supply_w.value == pytest.approx(watts, abs=0.02)
    assert told.supply_w.value == pytest.approx(25.5 + told.cable_w.value, abs=1e-9)
    assert told.verdict is Verdict.HOLDS


def test_class_8_over_100_m() -> None:
    told = deliver(71.3, 100 * FT, 23, 20)
    assert told.device_v.value == pytest.approx(46.926, abs=0.005)
    assert told.cable_w.value == pytest.approx(7.709, abs=0.005)


def test_hot_attic_on_thin_cable_fails_or_cannot_be_told() -> None:
    # 24 AWG at 60 C: 19.5 ohm of two-pair... halved: the loop is 9.74 ohm per 100 m, under the class's 12.5.
    assert deliver(25.5, 100 * FT, 24, 60).verdict is Verdict.HOLDS
    # 26 AWG at 60 C has 15.5 ohm: over the class's loop, so the supply would have to give more than 30 W.
    thin = deliver(25.5, 100 * FT, 26, 60)
    assert thin.verdict is Verdict.FAILS
    assert thin.supply_w.value > 30
    # A class too small for its device is told in words.
    small = deliver(20, 100, 23, 20, power_class(3))
    assert small.verdict is Verdict.FAILS
    assert "the device takes 20 W, class 3 is promised 12.95 W" in small.reasons[0]


def test_no_voltage_solves_too_large_a_load() -> None:
    assert volts_at_device(50, 50, 12.5) == pytest.approx(25)  # V²/4R: the last that has a solution
    with pytest.raises(
        RangeError, match=r"a load 0 to 50 W \(all that 12.5 ohm lets through at 50 V\), got 51 W"
    ):
        volts_at_device(51, 50, 12.5)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((90, 100, 23, 20), r"device's power above 0 and at most 71.3 W \(class 8"),
        (
            (10, 400, 23, 20),
            r"a length above 0 and at most 328.084 ft \(a channel is 100 m at most\), got 400 ft",
        ),
        ((10, 100, 18, 20), r"a gauge 22 to 26 AWG \(four-pair cable\), got 18"),
        ((10, 100, 23, 95), r"-40 to 90 C"),
        ((10, float("nan"), 23, 20), r"got nan ft"),
    ],
)
def test_outside_the_limits_of_use(words: tuple[float, float, int, float], told: str) -> None:
    with pytest.raises(RangeError, match=told):
        deliver(*words)


def test_switch_budget_with_margin_and_start() -> None:
    loads = tuple(deliver(12, 50 * FT, 23, 20) for _ in range(4))
    running = sum(load.supply_w.value for load in loads)
    assert switch_budget(loads, 65).verdict is Verdict.HOLDS  # 49 W of 52 usable, 61.6 reserved
    tight = switch_budget(loads, 61)
    assert running > 61 * 0.8
    assert tight.verdict is Verdict.FAILS
    start = switch_budget(loads, 61, margin=0.1)
    assert start.verdict is Verdict.CANNOT_TELL
    assert "needs 61.6 W at start-up and has 61 W" in start.reason


def test_classes_are_whole() -> None:
    assert [kind.number for kind in power_classes()] == [1, 2, 3, 4, 5, 6, 7, 8]
