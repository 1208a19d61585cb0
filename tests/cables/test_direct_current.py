"""Two-wire runs: own arithmetic (regression pins) unless a line says otherwise.

The wire itself is held against the printed code table in test_power_over_cable.py; drops against Ohm's law
worked a second way.
"""

from __future__ import annotations

import math

import pytest

from bayrun.cables.direct_current import (
    Wire,
    drop_at_current,
    drop_at_power,
    gauge_that_holds,
    line_speakers,
    load_kind,
    speaker_line,
)
from bayrun.cables.ranges import RangeError, Verdict


def test_drop_at_current() -> None:
    told = drop_at_current(Wire(100, 18), 12, 0.5)
    assert told.drop_v.value == pytest.approx(0.6386, abs=0.001)
    assert told.drop_percent.value == pytest.approx(5.32, abs=0.01)
    assert told.verdict is Verdict.FAILS
    assert drop_at_current(Wire(100, 18), 12, 0.5, most_percent=10).verdict is Verdict.HOLDS


def test_drop_at_power_settles_where_the_volts_fall() -> None:
    told = drop_at_power(Wire(150, 22), 24, 10, most_percent=10)
    assert told.load_v.value == pytest.approx(21.79, abs=0.02)
    # Kirchhoff, worked the other way: load volts + wire ohms x current = supply.
    assert told.load_v.value + told.wire_ohm.value * 10 / told.load_v.value == pytest.approx(24, abs=1e-9)


def test_nec_row_gives_the_same_drop_hot() -> None:
    # NEC chapter 9 Table 8 (read): 18 AWG stranded 7.95 ohm/kft at 75 C: 2 x 100 ft x 1 A drop 1.59 V.
    told = drop_at_current(Wire(100, 18, 75, stranded=True), 24, 1.0, 10)
    assert told.drop_v.value == pytest.approx(1.59, rel=0.006)


def test_speaker_line() -> None:
    told = speaker_line(Wire(50, 16), 8)
    assert told.wire_ohm.value == pytest.approx(0.4015, abs=5e-4)
    assert told.level_db.value == pytest.approx(-0.4254, abs=0.001)
    assert told.damping.value == pytest.approx(19.44, abs=0.01)
    assert told.level_db.value == pytest.approx(-20 * math.log10(1 + told.wire_share.value / 100), abs=1e-12)


@pytest.mark.parametrize(("awg", "feet"), [(18, 31.3), (16, 49.8), (14, 79.2), (12, 125.9)])
def test_five_percent_rule(awg: int, feet: float) -> None:
    longest = speaker_line(Wire(10, awg), 8).longest_ft
    assert longest.value == pytest.approx(feet, abs=0.1)
    on_it = speaker_line(Wire(longest.value, awg), 8)
    assert on_it.wire_share.value == pytest.approx(5, abs=1e-9)
    assert on_it.level_db.value == pytest.approx(-0.4238, abs=1e-4)


def test_gauge_advice_is_the_thinnest_that_holds() -> None:
    def at(awg: int) -> Verdict:
        return speaker_line(Wire(60, awg), 8).verdict

    assert gauge_that_holds(at) == 14
    assert at(14) is Verdict.HOLDS
    assert at(16) is not Verdict.HOLDS
    assert gauge_that_holds(lambda awg: speaker_line(Wire(300, awg), 4).verdict) is None


def test_constant_voltage_line() -> None:
    told = line_speakers(Wire(200, 18), 70.7, 60)
    assert told.current_a.value == pytest.approx(60 / 70.7)
    assert told.drop_v.value == pytest.approx(told.wire_ohm.value * 60 / 70.7)


def test_kinds_of_load_are_whole() -> None:
    assert load_kind("shade").start_factor > 1
    with pytest.raises(RangeError, match="one of device, alarm, bell, shade, got motor"):
        load_kind("motor")


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (
            lambda: drop_at_current(Wire(100, 18), 120, 0.5),
            r"5 to 60 V .*licensed electrician's\), got 120 V",
        ),
        (lambda: drop_at_current(Wire(100, 18), 24, 6), r"at most 4.16667 A \(100 VA"),
        (lambda: drop_at_current(Wire(500, 22), 12, 5), "volts left at the load above 0 V"),
        (lambda: drop_at_power(Wire(500, 22), 12, 60), "all that"),
        (lambda: drop_at_power(Wire(600, 9), 12, 6), "at most 500 ft .*; expected a gauge 10 to 30 AWG"),
        (lambda: speaker_line(Wire(50, 16), 1), "a loudspeaker 2 to 32 ohm, got 1 ohm"),
        (
            lambda: line_speakers(Wire(50, 16), 100, 300),
            "at most 100 W .*; expected a line voltage to be one of",
        ),
    ],
)
def test_refusals(call, told: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(RangeError, match=told):
        call()
