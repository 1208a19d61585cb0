"""What routing weighs, in whole micro-units of the job's currency, from the firm's table.

Integers, so that sums do not depend on their order and the same job gives the same plan.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from bayrun.house import CableKind, Costs, Practice
from bayrun.units import tape

MICRO = 1_000_000


def _seconds(costs: Costs, seconds: float) -> float:
    return float(costs.hour) * seconds / 3600.0


def seconds_price(costs: Costs, seconds: float) -> int:
    """Price of crew time [micro-currency]."""
    return round(_seconds(costs, seconds) * MICRO)


def hole_price(
    costs: Costs,
    *,
    plates: int = 0,
    strap: bool = False,
    seal: bool = False,
    ladder: bool = False,
    drilled: bool = True,
) -> int:
    """Price of opening one hole [micro-currency].

    Args:
        plates: Nail plates it will need.
        strap: Whether it needs a strap.
        seal: Whether it must be sealed.
        ladder: Whether it is out of reach from the floor.
        drilled: False for a knockout or sleeve that is there already.
    """
    total = _seconds(costs, costs.hole_s if drilled else costs.hole_s / 6)
    total += plates * (_seconds(costs, costs.plate_s) + float(costs.plate_price))
    if strap:
        total += _seconds(costs, costs.strap_s) + float(costs.strap_price)
    if seal:
        total += _seconds(costs, costs.seal_s) + float(costs.seal_price)
    if ladder:
        total += _seconds(costs, costs.ladder_s)
    return round(total * MICRO)


def inch_price(costs: Costs, kind: CableKind) -> float:
    """Price of one inch of one cable, material and pulling [micro-currency]."""
    material = float(kind.price_per_foot / Decimal(12))
    return (material + _seconds(costs, costs.pull_s_per_foot) / 12.0) * MICRO


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One price that routing weighs, as the firm set it.

    Args:
        what: In words.
        amount: In the job's currency, or a factor.
        unit: What one amount buys, or ``times`` for a factor.
        note: How it is put together, and where it comes from.
    """

    what: str
    amount: Decimal
    unit: str
    note: str


def price_lines(practice: Practice) -> tuple[PriceLine, ...]:
    """Every price a plan is weighed by, from the firm's table; nothing else has a say in the ways chosen.

    Source: the firm's practice in the job file; what is left out there takes the usual value, which is an
    estimate of common practice without a source.
    """
    costs, money = practice.costs, practice.currency
    cent = Decimal("0.01")

    def seconds(s: float) -> Decimal:
        return Decimal(seconds_price(costs, s)) / MICRO

    def each(micro: int) -> Decimal:
        return (Decimal(micro) / MICRO).quantize(cent)

    lines = [PriceLine("one crew hour", costs.hour, money, "")]
    for kind in practice.cables:
        per_foot = Decimal(round(inch_price(costs, kind) * 12)) / MICRO
        note = f"{kind.price_per_foot} for the cable, {costs.pull_s_per_foot:g} s to pull"
        lines.append(
            PriceLine(f"a foot of {kind.name} ({kind.letter})", per_foot.quantize(cent), money, note)
        )
    plate = hole_price(costs, plates=1) - hole_price(costs)
    lines += [
        PriceLine("a hole", each(hole_price(costs)), money, f"{costs.hole_s:g} s"),
        PriceLine(
            "a cable through what is open already",
            each(hole_price(costs, drilled=False)),
            money,
            "a knockout or punch-out, the first time only",
        ),
        PriceLine("more for a hole from a ladder", seconds(costs.ladder_s).quantize(cent), money, ""),
        PriceLine(
            "more for each nail plate", each(plate), money, f"{costs.plate_s:g} s and {costs.plate_price}"
        ),
        PriceLine(
            "more for a strap",
            each(hole_price(costs, strap=True) - hole_price(costs)),
            money,
            f"{costs.strap_s:g} s and {costs.strap_price}",
        ),
        PriceLine(
            "more for a seal",
            each(hole_price(costs, seal=True) - hole_price(costs)),
            money,
            f"{costs.seal_s:g} s and {costs.seal_price}; every plate hole and separation has one",
        ),
    ]
    kneel, flat, least = (
        tape(v) for v in (practice.attic_kneel_in, practice.attic_flat_in, practice.attic_least_in)
    )
    near = tape(practice.power_separation_in)
    for what, factor, note in (
        ("a foot in an attic", costs.attic_factor, ""),
        ("a foot in an attic, on hands and knees", costs.attic_low_factor, f"under {kneel} of headroom"),
        (
            "a foot in an attic, lying flat",
            costs.attic_flat_factor,
            f"under {flat} of headroom; no way across the wood under {least} of clear height",
        ),
        ("a foot where one crawls", costs.crawl_factor, "a floor over the ground"),
        (
            "a foot along power",
            costs.power_along_factor,
            f"nearer than {near}; a square crossing costs nothing. Advice, no code rule",
        ),
    ):
        lines.append(PriceLine(what, Decimal(f"{factor:g}"), "times", note))
    lines += [
        PriceLine(
            "leaving a bay the way nobody wished",
            seconds(costs.against_wish_s).quantize(cent),
            money,
            "weighed, never billed",
        ),
        PriceLine(
            "a plate hole in the electrician's bay",
            seconds(costs.ac_bay_s).quantize(cent),
            money,
            "weighed, never billed; only where a location stands in it",
        ),
    ]
    return tuple(lines)
