"""What must be carried over which graph at which prices, as arrays: the ground of every bound."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from bayrun.routing.lanes import Lane, Lanes
from bayrun.routing.mesh import Mesh
from bayrun.routing.records import Place
from bayrun.routing.split import Commodity

PLENTY = 1e9
"""Room and number of a gap with no wood in it: it costs nothing and never fills."""


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """Commodities, their lanes and the places.

    Args:
        fee: Price of one hole at each place [micro-currency].
        room: What one hole takes: fill times its squared diameter [in²].
        most: How many holes each place can have at most.
        many, size: Cables of each commodity, and the squared diameter of one [in²].
    """

    found: tuple[Commodity, ...]
    lanes: tuple[Lane, ...]
    fee: Any
    room: Any
    most: Any
    many: Any
    size: Any

    def narrowed(self, lanes: Sequence[Lane]) -> Problem:
        """The same with smaller lanes."""
        return replace(self, lanes=tuple(lanes))


def problem(
    mesh: Mesh, places: Sequence[Place], found: Sequence[Commodity], fill_max: float, beyond: float = 0.0
) -> Problem | None:
    """The problem of a house; None where some commodity has no way.

    Args:
        beyond: How much dearer than the cheapest way with all holes paid a way may be [micro-currency].
    """
    made = Lanes(mesh, places, fill_max, step=0, beyond=beyond)
    lanes = [lane for c in found if (lane := made.lane(c.course)) is not None]
    if len(lanes) < len(found) or not lanes:
        return None
    return Problem(
        found=tuple(found),
        lanes=tuple(lanes),
        fee=np.array([float(p.open_price) if p.member else 0.0 for p in places]),
        room=np.array([fill_max * p.diameter_in**2 if p.member else PLENTY for p in places]),
        most=np.array([float(len(p.slots)) if p.member else PLENTY for p in places]),
        many=np.array([float(c.count) for c in found]),
        size=np.array([c.diameter_in**2 for c in found]),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Dual:
    """Prices of the constraints, all at least 0 [micro-currency].

    Args:
        area: Of one square inch at each place.
        link: Of each commodity's share at each place.
        cuts: Of each cut inequality, in the order of a list kept beside.
    """

    area: Any
    link: Any
    cuts: Any


@dataclass(frozen=True, slots=True, eq=False)
class Cut:
    """Sum of ``weight`` times holes at ``places`` is at least ``least``: so much must cross there.

    Args:
        inside: Parts of the graph that hang together without any hole, on the far side from the enclosure.
        unit: Room of a hole the rounding reckons with [in²]; 0 for a branch of a search.
    """

    places: Any
    weight: Any
    least: float
    inside: tuple[int, ...] = ()
    unit: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Valued:
    """A bound with the ways that give it: (price of length of one cable, places) of each commodity."""

    bound: float
    ways: tuple[tuple[float, Any], ...]
    spent: Any
    """How much of each hole's price the dual uses."""


def filled(p: Problem, dual: Dual, cuts: Sequence[Cut], low: Any) -> Dual:
    """The dual with what is left of each hole's price given to area; never a lower bound."""
    left = p.fee - spent(p, dual, cuts)
    more = np.where((left > 0) & (low <= 0), left / p.room, 0.0)
    return Dual(dual.area + more, dual.link, dual.cuts)


def spent(p: Problem, dual: Dual, cuts: Sequence[Cut]) -> Any:
    """How much of each hole's price a dual uses."""
    used = dual.area * p.room + dual.link.sum(axis=0)
    for price, cut in zip(dual.cuts, cuts, strict=False):
        if price > 0:
            used[cut.places] += price * cut.weight
    return used


def value(p: Problem, dual: Dual, cuts: Sequence[Cut], low: Any, high: Any) -> Valued:
    """The bound a dual gives where each place has from ``low`` to ``high`` holes."""
    used = spent(p, dual, cuts)
    left = p.fee - used
    total = float(np.where(left >= 0, left * low, left * high).sum())
    total += sum(float(price) * cut.least for price, cut in zip(dual.cuts, cuts, strict=False) if price > 0)
    ways = []
    shut = np.flatnonzero(high <= 0)
    for k, lane in enumerate(p.lanes):
        extra = dual.area * p.size[k] + dual.link[k] / p.many[k]
        extra[shut] += 1e12
        way = lane.way(extra)
        if way is None:  # nothing cheaper than the lane's limit is left
            total += p.many[k] * lane.limit
            ways.append((np.inf, np.zeros(0, dtype=np.int64)))
            continue
        total += p.many[k] * way[0]
        passed = lane.passed(way[1])
        ways.append((way[0] - float(extra[passed].sum()), passed))
    return Valued(total, tuple(ways), used)
