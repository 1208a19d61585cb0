"""The power list of an enclosure: what is plugged in where, watts and amps, what of it becomes heat inside.

Plugs have their real widths: a wide power supply covers its neighbors' outlets. The receptacle itself is the
licensed electrician's. Limits of use: 120 V, at most 12 plugs on one strip of at most 16 outlets.

Source: own arithmetic; the share of a 15 A or 20 A circuit that continuous loads may take is NEC 210.20, 80 %
(from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from bayrun.cables.ranges import Limit, Verdict, refuse
from bayrun.geometry import TOUCH_IN
from bayrun.units import Figure

MOST_PLUGS, MOST_OUTLETS = 12, 16
CONTINUOUS_SHARE = 0.8


@dataclass(frozen=True, slots=True)
class Plug:
    """One thing plugged in.

    Args:
        name: In the trade's words; no two alike.
        watts: Drawn from the outlet [W].
        width_in: Of its plug along the strip [in].
        heat_inside_w: What of it becomes heat in the box [W]; all of it where not said. Power sent out over
            cables does not.
    """

    name: str
    watts: float
    width_in: float
    heat_inside_w: float | None = None

    @property
    def heat_w(self) -> float:
        """Heat in the box [W]."""
        return self.watts if self.heat_inside_w is None else self.heat_inside_w


@dataclass(frozen=True, slots=True)
class PowerList:
    """Where each plug goes and what all draw."""

    outlets: tuple[tuple[str, int], ...]
    """Name and outlet from the left, counted from 1; empty where they do not fit."""
    needed: int
    free: int
    watts: Figure
    amps: Figure
    heat_w: Figure
    verdict: Verdict
    reason: str


def _gap(first: Plug, second: Plug, pitch_in: float) -> int:
    """Outlets from the one plug's to the other's, so that they do not touch."""
    return max(1, math.ceil((first.width_in + second.width_in) / 2 / pitch_in - TOUCH_IN))


def _shortest_order(plugs: tuple[Plug, ...], pitch_in: float) -> tuple[int, tuple[int, ...]]:
    """Outlets from the first plug to the last at least, and the order that does it (exact)."""

    @cache
    def best(used: int, last: int) -> tuple[int, tuple[int, ...]]:
        rest = [n for n in range(len(plugs)) if not used >> n & 1]
        if not rest:
            return 0, ()
        found: list[tuple[int, tuple[int, ...]]] = []
        for n in rest:
            span, order = best(used | 1 << n, n)
            found.append((_gap(plugs[last], plugs[n], pitch_in) + span, (n, *order)))
        return min(found)

    starts = []
    for n in range(len(plugs)):
        span, order = best(1 << n, n)
        starts.append((span, (n, *order)))
    return min(starts)


def power_list(
    plugs: tuple[Plug, ...], outlets: int, pitch_in: float, circuit_a: float = 15.0, volts: float = 120.0
) -> PowerList:
    """Put plugs on a strip and add up what they draw.

    Plugs at the ends may overhang the strip.

    Args:
        plugs: At most 12.
        outlets: On the strip, 1 to 16.
        pitch_in: From outlet to outlet [in].
        circuit_a: Of the branch circuit, 15 or 20.
    Raises:
        RangeError: Outside these; every defect at once.
    """
    limits = [
        Limit("plugs", len(plugs), 1, MOST_PLUGS),
        Limit("outlets", outlets, 1, MOST_OUTLETS),
        Limit("from outlet to outlet", pitch_in, 0.75, 6.0, "in"),
        Limit("volts", volts, 110.0, 127.0, "V", "a 120 V circuit"),
    ]
    for plug in plugs:
        limits += [
            Limit(f"watts of {plug.name}", plug.watts, 0.0, 1000.0, "W"),
            Limit(f"the plug of {plug.name}", plug.width_in, 0.5, 6.0, "in"),
            Limit(f"the heat of {plug.name}", plug.heat_w, 0.0, max(plug.watts, 0.0), "W", "its watts"),
        ]
    wrong = [told for told in (limit.told() for limit in limits) if told]
    if circuit_a not in (15, 20):
        wrong.append(f"expected a circuit of 15 or 20 A, got {circuit_a:g}")
    names = [plug.name for plug in plugs]
    wrong += [f"{name} stands in the list twice" for name in sorted({n for n in names if names.count(n) > 1})]
    refuse(wrong)
    span, order = _shortest_order(plugs, pitch_in)
    needed = span + 1
    places, at = [], 1
    for number, index in enumerate(order):
        if number:
            at += _gap(plugs[order[number - 1]], plugs[index], pitch_in)
        places.append((plugs[index].name, at))
    watts = math.fsum(plug.watts for plug in plugs)
    amps = watts / volts
    inputs = (("plugs", str(len(plugs))), ("supply", f"{volts:g} V"))
    most_a = circuit_a * CONTINUOUS_SHARE
    told = []
    if needed > outlets:
        told.append(f"the plugs cover {needed} outlets, the strip has {outlets}")
    if amps > most_a:
        told.append(
            f"{amps:.1f} A, over {most_a:g} A for all the time on {circuit_a:g} A: ask the electrician"
        )
    return PowerList(
        tuple(places) if needed <= outlets else (),
        needed,
        max(outlets - needed, 0),
        Figure(watts, "W", "watts of all plugs", "sum", inputs),
        Figure(amps, "A", "watts over volts, power factor 1", "sum", inputs),
        Figure(math.fsum(plug.heat_w for plug in plugs), "W", "watts that stay in the box", "sum", inputs),
        Verdict.FAILS if told else Verdict.HOLDS,
        "; ".join(told) or f"{needed} of {outlets} outlets, {amps:.1f} A of {most_a:g} A",
    )
