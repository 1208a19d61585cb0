"""Power over four-pair cable: classes, volts and watts at the far end, and what a switch must supply.

A device takes constant power, so a longer or hotter cable makes it draw more current. The worst case is the
least voltage the class allows at the supply, which is what is computed here.

Source: IEEE 802.3 clauses 33 and 145; class powers read. Limits of use: copper, 22 to 26 AWG, at most
100 m of channel, conductors at -40 to 90 C.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from bayrun.cables.ranges import M_PER_FT, Limit, Verdict, check_ranges, judge, refuse
from bayrun.cables.resistance import conductor_ohm_per_kft, temperature_limit
from bayrun.tables.physics import physics_table
from bayrun.units import Figure

IEEE = "IEEE 802.3 clauses 33 and 145"
LONGEST_FT = 100.0 / M_PER_FT


@dataclass(frozen=True, slots=True)
class PowerClass:
    """One class of power over cable.

    Args:
        supply_w, device_w: Most at the supply and at the device [W].
        supply_v: Least volts at the supply.
        loop_ohm: Loop of the longest channel, its pairs in parallel [ohm].
        pairs: Pairs that carry power, 2 or 4.
    """

    number: int
    supply_w: float
    device_w: float
    supply_v: float
    loop_ohm: float
    pairs: int

    @property
    def current_a(self) -> float:
        """Nominal current of the whole cable at the supply's least volts [A]."""
        return self.supply_w / self.supply_v

    @property
    def conductor_a(self) -> float:
        """Nominal current of one conductor that carries power [A]."""
        return self.current_a / self.pairs


@dataclass(frozen=True, slots=True)
class Delivered:
    """What arrives over one cable, at the least supply volts."""

    power_class: PowerClass
    loop_ohm: Figure
    device_w: Figure
    device_v: Figure
    current_a: Figure
    supply_w: Figure
    cable_w: Figure
    available_w: Figure
    """What the device could take at most, with the supply at its class power."""
    verdict: Verdict
    reasons: tuple[str, ...]


def power_classes() -> tuple[PowerClass, ...]:
    """Classes 1 to 8; class 0 has the limits of class 3."""
    return tuple(
        PowerClass(
            row["number"], row["supply_w"], row["device_w"], row["supply_v"], row["loop_ohm"], row["pairs"]
        )
        for row in physics_table("poe")["class"]
    )


def power_class(number: int) -> PowerClass:
    """One class by its number, 0 to 8.

    Raises:
        RangeError: There is no such class.
    """
    check_ranges(Limit("a power class", number, 0, 8, "", IEEE))
    return next(c for c in power_classes() if c.number == (3 if number == 0 else number))


def class_for(device_w: float) -> PowerClass:
    """Smallest class whose device power is enough.

    Raises:
        RangeError: No class gives so much.
    """
    check_ranges(Limit("a device's power", device_w, 0.0, 71.3, "W", f"class 8, {IEEE}", above=True))
    return min((c for c in power_classes() if c.device_w >= device_w), key=lambda c: c.supply_w)


def device_power_w(kind: PowerClass, loop_ohm: float | None = None) -> Figure:
    """What is left for the device when the supply gives its class power [W].

    Args:
        kind: The class.
        loop_ohm: Loop of this cable [ohm]; the class's own where not said.
    Raises:
        RangeError: A loop outside 0 to the class's own.
    """
    loop = kind.loop_ohm if loop_ohm is None else loop_ohm
    check_ranges(Limit("a loop resistance", loop, 0.0, kind.loop_ohm, "ohm", f"class {kind.number}, {IEEE}"))
    return Figure(
        kind.supply_w - kind.current_a**2 * loop,
        "W",
        "supply power less current squared x loop",
        IEEE,
        (
            ("supply", f"{kind.supply_w:g} W at {kind.supply_v:g} V"),
            ("loop", f"{loop:.4g} ohm"),
        ),
    )


def cable_loop_ohm(length_ft: float, awg: int, celsius: float, pairs: int) -> Figure:
    """Loop resistance of the powered pairs [ohm]: two conductors each way, or four.

    Raises:
        RangeError: Not 22 to 26 AWG, over 100 m, outside -40 to 90 C, or not 2 or 4 pairs.
    """
    limits = (
        Limit("a length", length_ft, 0.0, LONGEST_FT, "ft", "a channel is 100 m at most", above=True),
        Limit("a gauge", awg, 22, 26, "AWG", "four-pair cable"),
        temperature_limit(celsius),
    )
    refuse(
        [told for told in (limit.told() for limit in limits) if told]
        + ([] if pairs in (2, 4) else [f"expected 2 or 4 powered pairs, got {pairs}"])
    )
    each = conductor_ohm_per_kft(awg, celsius)
    scale = length_ft / 1000 * 2 / pairs
    return Figure(
        each.value * scale,
        "ohm",
        "conductor resistance x length, " + ("halved over four pairs" if pairs == 4 else "over two pairs"),
        each.source,
        (*each.inputs, ("length", f"{length_ft:.4g} ft"), ("pairs", str(pairs))),
        (each.plus_minus or 0.0) * scale,
    )


def volts_at_device(device_w: float, supply_v: float, loop_ohm: float) -> float:
    """Volts at a constant-power load; the higher of the two solutions, where a supply settles.

    Raises:
        RangeError: The load is over supply_v² / (4 loop): no such voltage exists.
    """
    check_ranges(
        Limit("a supply", supply_v, 0.0, 60.0, "V", "power-limited wiring", above=True),
        Limit("a loop resistance", loop_ohm, 0.0, math.inf, "ohm"),
        Limit("a load", device_w, 0.0, math.inf, "W"),
    )
    if loop_ohm > 0:
        most_w = supply_v**2 / (4 * loop_ohm)
        check_ranges(
            Limit(
                "a load",
                device_w,
                0.0,
                most_w,
                "W",
                f"all that {loop_ohm:.4g} ohm lets through at {supply_v:g} V",
            )
        )
    inner = max(supply_v**2 - 4 * loop_ohm * device_w, 0.0)
    return (supply_v + math.sqrt(inner)) / 2


def deliver(
    device_w: float, length_ft: float, awg: int, celsius: float, kind: PowerClass | None = None
) -> Delivered:
    """Power, volts and current of one device at the end of one cable.

    Args:
        device_w: What the device takes [W].
        length_ft: Whole channel, cords included [ft].
        awg: Gauge of the cable.
        celsius: Temperature of the conductors [C]: the attic's, on the day that counts.
        kind: Class of the supply; the smallest that is enough where not said.
    Raises:
        RangeError: Outside the limits of use, or nothing so strong exists.
    """
    most_w, why = (71.3, f"class 8, {IEEE}") if kind is None else (math.inf, "")
    check_ranges(
        Limit("a device's power", device_w, 0.0, most_w, "W", why, above=True),
        Limit("a length", length_ft, 0.0, LONGEST_FT, "ft", "a channel is 100 m at most", above=True),
        Limit("a gauge", awg, 22, 26, "AWG", "four-pair cable"),
        temperature_limit(celsius),
    )
    chosen = kind or class_for(device_w)
    loop = cable_loop_ohm(length_ft, awg, celsius, chosen.pairs)
    volts = volts_at_device(device_w, chosen.supply_v, loop.value)
    current_a, spread = device_w / volts, (loop.plus_minus or 0.0)
    drop_spread = current_a * spread
    inputs = (
        ("device", f"{device_w:g} W"),
        ("supply", f"class {chosen.number}, {chosen.supply_v:g} V at least"),
        *loop.inputs,
    )

    def figure(value: float, unit: str, formula: str, plus_minus: float) -> Figure:
        return Figure(value, unit, formula, IEEE, inputs, plus_minus)

    supply = figure(
        chosen.supply_v * current_a,
        "W",
        "supply volts x current",
        chosen.supply_v * current_a * drop_spread / volts,
    )
    device_v = figure(volts, "V", "(V + sqrt(V² - 4 R P)) / 2, R the loop, P the device's power", drop_spread)
    at_most = device_power_w(chosen, min(loop.value, chosen.loop_ohm))
    available = Figure(
        at_most.value,
        "W",
        at_most.formula,
        IEEE,
        (*at_most.inputs, *loop.inputs),
        chosen.current_a**2 * spread,
    )
    verdict, reasons = _judge(chosen, device_w, supply, device_v)
    return Delivered(
        chosen,
        loop,
        figure(device_w, "W", "as given", 0.0),
        device_v,
        figure(current_a, "A", "device power over device volts", current_a * drop_spread / volts),
        supply,
        figure(current_a**2 * loop.value, "W", "current squared x loop", current_a**2 * spread),
        available,
        verdict,
        reasons,
    )


def _judge(
    kind: PowerClass, device_w: float, supply_w: Figure, device_v: Figure
) -> tuple[Verdict, tuple[str, ...]]:
    told = []
    if device_w > kind.device_w + 1e-9:
        told.append(
            (
                Verdict.FAILS,
                f"the device takes {device_w:g} W, class {kind.number} is promised {kind.device_w:g} W",
            )
        )
    told.append(
        (
            judge(supply_w, at_most=kind.supply_w),
            f"the supply must give {supply_w.value:.1f} W of the {kind.supply_w:g} W of class {kind.number}",
        )
    )
    data = physics_table("poe")["device_least_volts"]
    least_v = float(data[str(kind.number)])
    told.append(
        (
            judge(device_v, at_least=least_v),
            f"{device_v.value:.1f} V arrive; the device may need {least_v:g} V ({data['confirmed']}: verify)",
        )
    )
    for worst in (Verdict.FAILS, Verdict.CANNOT_TELL):
        if any(verdict is worst for verdict, _ in told):
            return worst, tuple(words for verdict, words in told if verdict is worst)
    return Verdict.HOLDS, tuple(words for _, words in told)


@dataclass(frozen=True, slots=True)
class SwitchBudget:
    """What all devices together ask of one switch."""

    running_w: Figure
    starting_w: Figure
    supply_w: float
    free_w: Figure
    verdict: Verdict
    reason: str


def switch_budget(loads: tuple[Delivered, ...], supply_w: float, margin: float | None = None) -> SwitchBudget:
    """Hold the devices of a switch against its power supply.

    While starting, a supply may set aside the whole class power for every device, whatever it takes later.

    Args:
        loads: Each device at the end of its own cable.
        supply_w: What the switch can give on all ports together [W].
        margin: Share kept free, 0 to 0.5; the table's one fifth (common practice) where not said.
    Raises:
        RangeError: No supply, or a margin outside its range.
    """
    data = physics_table("poe")["switch"]
    share = float(data["margin"]) if margin is None else margin
    check_ranges(
        Limit("a switch's power", supply_w, 0.0, 5000.0, "W", above=True),
        Limit("a margin", share, 0.0, 0.5, "", "a share of the supply"),
    )
    running = Figure(
        math.fsum(load.supply_w.value for load in loads),
        "W",
        "watts at the supply of all devices, loss in the cables included",
        IEEE,
        (("devices", str(len(loads))),),
        math.fsum(load.supply_w.plus_minus or 0.0 for load in loads),
    )
    starting = Figure(
        math.fsum(load.power_class.supply_w for load in loads),
        "W",
        "class power of all devices, as a supply may reserve it at start-up",
        IEEE,
        (("devices", str(len(loads))),),
    )
    kept = supply_w * (1 - share)
    free = Figure(
        supply_w - running.value,
        "W",
        "supply less running watts",
        IEEE,
        (("supply", f"{supply_w:g} W"), ("margin", f"{share:.0%}, {data['document']}")),
        running.plus_minus,
    )
    runs = judge(running, at_most=kept)
    if runs is not Verdict.HOLDS:
        reason = f"{running.value:.1f} W run, {kept:.0f} W of {supply_w:g} W may run with {share:.0%} free"
    elif starting.value > supply_w + 1e-9:
        runs = Verdict.CANNOT_TELL
        reason = (
            f"all run, but if the switch reserves class power it needs {starting.value:.1f} W at start-up"
            f" and has {supply_w:g} W"
        )
    else:
        reason = (
            f"{running.value:.1f} W run, {starting.value:.1f} W may be reserved, {supply_w:g} W are there"
        )
    return SwitchBudget(running, starting, supply_w, free, runs, reason)
