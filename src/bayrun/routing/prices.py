"""What routing weighs, in whole micro-units of the job's currency, from the firm's table.

Integers, so that sums do not depend on their order and the same job gives the same plan.
"""

from __future__ import annotations

from decimal import Decimal

from bayrun.house import CableKind, Costs

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
