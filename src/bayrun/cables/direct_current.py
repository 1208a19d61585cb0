"""Volts and loudness lost along two-wire runs (devices, bells, shades, speakers), and the gauge for it.

Source: Ohm's law over the wire of resistance.py. Limits of use: power-limited wiring only, at most 60 V
and 100 VA (bells at 60 Hz included: the wire's inductance is nothing at these gauges), runs up to 500 ft.
Anything stronger is the licensed electrician's. Usual drops are common practice, no source: the device's
sheet decides.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from bayrun.cables.power_over_cable import volts_at_device
from bayrun.cables.ranges import Limit, RangeError, Verdict, check_ranges, judge, one_of, refuse
from bayrun.cables.resistance import gauge_limit, length_limit, temperature_limit, two_wire_ohm
from bayrun.tables.physics import physics_table
from bayrun.units import Figure

OHM = "Ohm's law"
LONGEST_FT = 500.0


def _class_2() -> dict[str, Any]:
    data: dict[str, Any] = physics_table("low_voltage")["class_2"]
    return data


@dataclass(frozen=True, slots=True)
class LoadKind:
    """A kind of load with its usual figures (common practice, no source).

    Args:
        supply_v: Usual supply [V].
        most_drop_percent: How much of it the wire may take.
        start_factor: Current at start over running current.
    """

    key: str
    says: str
    supply_v: float
    most_drop_percent: float
    start_factor: float


@dataclass(frozen=True, slots=True)
class Wire:
    """One two-wire run.

    Args:
        length_ft: One way [ft].
        awg: Gauge.
        celsius: Temperature of the conductors [C].
        stranded: Make of the conductors.
    """

    length_ft: float
    awg: int
    celsius: float = 20.0
    stranded: bool = False


@dataclass(frozen=True, slots=True)
class Drop:
    """What a run takes from its supply."""

    wire: Wire
    wire_ohm: Figure
    load_v: Figure
    drop_v: Figure
    drop_percent: Figure
    current_a: Figure
    verdict: Verdict


def load_kinds() -> tuple[LoadKind, ...]:
    """The kinds the table knows."""
    return tuple(LoadKind(**row) for row in physics_table("low_voltage")["load"])


def load_kind(key: str) -> LoadKind:
    """One kind.

    Raises:
        RangeError: There is none such.
    """
    kinds = load_kinds()
    wrong = one_of("a kind of load", key, [kind.key for kind in kinds])
    refuse([wrong] if wrong else [])
    return next(kind for kind in kinds if kind.key == key)


def _wire_limits(wire: Wire) -> tuple[Limit, ...]:
    return (
        length_limit(wire.length_ft, LONGEST_FT),
        gauge_limit(wire.awg),
        temperature_limit(wire.celsius),
    )


def _supply_limit(volts: float) -> Limit:
    data = _class_2()
    return Limit(
        "a supply", volts, 5.0, data["most_v"], "V", f"{data['document']}; more is the licensed electrician's"
    )


def _ohm(wire: Wire) -> Figure:
    return two_wire_ohm(wire.length_ft, wire.awg, wire.celsius, stranded=wire.stranded)


def drop_at_current(wire: Wire, supply_v: float, current_a: float, most_percent: float = 5.0) -> Drop:
    """Drop of a load that draws a fixed current.

    Args:
        supply_v: At the source [V], 5 to 60.
        current_a: Of the load, its start included [A].
        most_percent: What the wire may take, 1 to 20 %.
    Raises:
        RangeError: Outside the range, over 100 VA, or the wire would take it all.
    """
    most_va = _class_2()["most_va"]
    most_a = most_va / supply_v if supply_v > 0 else math.inf
    check_ranges(
        *_wire_limits(wire),
        _supply_limit(supply_v),
        Limit("a current", current_a, 0.0, most_a, "A", f"{most_va:g} VA, power-limited wiring", above=True),
        Limit("an allowed drop", most_percent, 1.0, 20.0, "%"),
    )
    ohm = _ohm(wire)
    return _drop(wire, ohm, supply_v, current_a, supply_v - ohm.value * current_a, "2 L r I", most_percent)


def drop_at_power(wire: Wire, supply_v: float, power_w: float, most_percent: float = 5.0) -> Drop:
    """Drop of a load that draws a fixed power, as switching supplies in cameras do.

    Raises:
        RangeError: Outside the range, over 100 VA, or more than the wire lets through.
    """
    most_va = _class_2()["most_va"]
    check_ranges(
        *_wire_limits(wire),
        _supply_limit(supply_v),
        Limit("a load", power_w, 0.0, most_va, "W", "power-limited wiring", above=True),
        Limit("an allowed drop", most_percent, 1.0, 20.0, "%"),
    )
    ohm = _ohm(wire)
    load_v = volts_at_device(power_w, supply_v, ohm.value)
    formula = "supply less (V + sqrt(V² - 4 R P)) / 2"
    return _drop(wire, ohm, supply_v, power_w / load_v, load_v, formula, most_percent)


def _drop(
    wire: Wire,
    ohm: Figure,
    supply_v: float,
    current_a: float,
    load_v: float,
    formula: str,
    most_percent: float,
) -> Drop:
    check_ranges(
        Limit(
            "volts left at the load",
            load_v,
            0.0,
            math.inf,
            "V",
            "the wire takes the whole supply",
            above=True,
        )
    )
    spread = (ohm.plus_minus or 0.0) * current_a
    inputs = (("supply", f"{supply_v:g} V"), *ohm.inputs)
    drop_v = supply_v - load_v
    percent = Figure(
        100 * drop_v / supply_v, "%", f"{formula}, over the supply", OHM, inputs, 100 * spread / supply_v
    )
    return Drop(
        wire,
        ohm,
        Figure(load_v, "V", "supply less drop", OHM, inputs, spread),
        Figure(drop_v, "V", formula, OHM, inputs, spread),
        percent,
        Figure(current_a, "A", "as given, or power over volts at the load", OHM, inputs),
        judge(percent, at_most=most_percent),
    )


def gauge_that_holds(check: Callable[[int], Verdict]) -> int | None:
    """Thinnest usual gauge for which a check holds beyond doubt; None where even the thickest does not.

    A gauge whose wire would take the whole supply counts as one that fails.
    """
    for awg in physics_table("low_voltage")["gauges"]["common_awg"]:
        try:
            if check(awg) is Verdict.HOLDS:
                return int(awg)
        except RangeError:
            continue
    return None


@dataclass(frozen=True, slots=True)
class SpeakerLine:
    """What the wire takes from one loudspeaker."""

    wire: Wire
    wire_ohm: Figure
    level_db: Figure
    wire_share: Figure
    """Power lost in the wire over power in the loudspeaker, in percent."""
    damping: Figure
    longest_ft: Figure
    verdict: Verdict


def _load_limit(load_ohm: float) -> Limit:
    data = physics_table("low_voltage")["speaker"]
    return Limit("a loudspeaker", load_ohm, data["least_load_ohm"], data["most_load_ohm"], "ohm")


def speaker_line(
    wire: Wire, load_ohm: float, amplifier_ohm: float = 0.01, most_share: float | None = None
) -> SpeakerLine:
    """Level, loss and damping of a low-impedance loudspeaker.

    Args:
        load_ohm: Nominal impedance, 2 to 32 ohm; counted as a plain resistance.
        amplifier_ohm: Output resistance of the amplifier, 0 to 1 ohm.
        most_share: Wire over load; one twentieth (common practice) where not said.
    Raises:
        RangeError: Outside the range.
    """
    data = physics_table("low_voltage")["speaker"]
    share = data["most_share_of_load"] if most_share is None else most_share
    check_ranges(
        *_wire_limits(wire),
        _load_limit(load_ohm),
        Limit("an amplifier's output", amplifier_ohm, 0.0, 1.0, "ohm"),
        Limit("the wire's share of the load", share, 0.01, 0.2),
    )
    ohm = _ohm(wire)
    spread, ratio = ohm.plus_minus or 0.0, ohm.value / load_ohm
    inputs = (("loudspeaker", f"{load_ohm:g} ohm"), *ohm.inputs)
    wire_share = Figure(100 * ratio, "%", "wire over loudspeaker", OHM, inputs, 100 * spread / load_ohm)
    each_ft = _ohm(Wire(1.0, wire.awg, wire.celsius, wire.stranded)).value
    return SpeakerLine(
        wire,
        ohm,
        Figure(
            20 * math.log10(1 / (1 + ratio)),
            "dB",
            "20 log(load / (load + wire))",
            OHM,
            inputs,
            8.686 * spread / (load_ohm + ohm.value),
        ),
        wire_share,
        Figure(load_ohm / (amplifier_ohm + ohm.value), "", "load / (amplifier + wire)", OHM, inputs),
        Figure(
            share * load_ohm / each_ft,
            "ft",
            f"run whose wire is {share:.0%} of the loudspeaker",
            str(data["document"]),
            inputs,
        ),
        judge(wire_share, at_most=100 * share),
    )


def line_speakers(wire: Wire, line_v: float, taps_w: float) -> Drop:
    """Drop of a constant-voltage line with all its loudspeakers at the far end, the worst place.

    Args:
        line_v: 25 or 70.7 V.
        taps_w: Sum of the taps, at most 100 W.
    Raises:
        RangeError: Outside the range.
    """
    data = physics_table("low_voltage")["speaker"]
    limits = (
        *_wire_limits(wire),
        Limit(
            "taps altogether",
            taps_w,
            0.0,
            data["line_most_w"],
            "W",
            "more needs the wiring class marked on the amplifier",
            above=True,
        ),
    )
    wrong = [told for told in (limit.told() for limit in limits) if told]
    choice = one_of("a line voltage", line_v, data["line_volts"])
    refuse([*wrong, choice] if choice else wrong)
    ohm, current_a = _ohm(wire), taps_w / line_v
    return _drop(
        wire, ohm, line_v, current_a, line_v - ohm.value * current_a, "2 L r I", data["line_drop_percent"]
    )
