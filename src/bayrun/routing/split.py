"""The split of hole prices that bounds every plan from below, improved round by round.

Symbols: f price of one hole at a place, C what one hole takes (fill times diameter squared), n cables of one
commodity (same ends, same kind), a one cable's diameter squared, u share of a commodity through a place.

At each place the number of holes y satisfies  C y >= sum n u a  and  y >= u  for every commodity. Splitting
the price f among these constraints in any proportion and paying the parts along the ways gives a bound: the
sum over commodities of n times its cheapest way. Each round averages the usage of the cheapest ways and
moves weight to the constraints that bind.
Source: linear relaxation of single-sink fixed-charge network design (Lagrangian duality).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from bayrun.routing.lanes import Course, Lane
from bayrun.routing.records import Place

FIRST_SHARP, LAST_SHARP = 4.0, 24.0
"""How strongly the first and the last rounds favor the constraint that binds most."""


@dataclass(frozen=True, slots=True)
class Commodity:
    """Cables of one kind between the same two ends."""

    source: str
    target: str
    count: int
    diameter_in: float
    inch: float

    @property
    def course(self) -> Course:
        """What its lane is made for."""
        return Course(self.source, self.target, self.diameter_in, self.inch)


class Split:
    """Shares of each hole's price: one for area, one for each commodity."""

    def __init__(
        self, lanes: Sequence[Lane], places: Sequence[Place], found: Sequence[Commodity], fill_max: float
    ) -> None:
        """Take what is carried, the lane of each (with step 0 for a bound that counts) and the places."""
        self.found = tuple(found)
        self.lanes = tuple(lanes)
        self.fee = np.array([float(p.open_price) if p.member else 0.0 for p in places])
        self.room = np.array([fill_max * p.diameter_in**2 if p.member else 1.0 for p in places])
        self.many = np.array([float(c.count) for c in found])
        self.size = np.array([c.diameter_in**2 for c in found])
        self.area = np.ones(len(places))
        self.link = np.zeros((len(found), len(places)))
        self.usage = np.zeros((len(found), len(places)))
        self.best = 0.0
        self.best_split = (self.area, self.link)
        self.turn = 0
        self._seen: dict[tuple[int, tuple[int, ...]], float] = {}
        self._last: list[tuple[float, Any]] = [(np.inf, np.zeros(0, dtype=np.int64))] * len(self.found)

    def extra(self, k: int) -> Any:
        """What one cable of a commodity pays at each place under the split."""
        return self.fee * (self.area * self.size[k] / self.room + self.link[k] / self.many[k])

    def round(self, sharp: float, step: float) -> float:
        """One round: the bound of the split as it stands, then a better split."""
        total = 0.0
        seen = np.zeros_like(self.usage)
        for k, lane in enumerate(self.lanes):
            extra = self.extra(k)
            limit = self._last[k][0] + float(extra[self._last[k][1]].sum())  # its last way is still there
            way = lane.way(extra, limit * (1 + 1e-9) + 1.0)
            if way is None:  # a share never exceeds its price, so this is rounding at the limit itself
                total += self.many[k] * lane.limit
                continue
            total += self.many[k] * way[0]
            passed = lane.passed(way[1])
            seen[k, passed] = 1.0
            self._last[k] = (way[0] - float(extra[passed].sum()), passed)
            self._seen.setdefault((k, tuple(int(q) for q in passed)), self._last[k][0])
        if total > self.best:
            self.best, self.best_split = total, (self.area, self.link)
        self.usage += step * (seen - self.usage)
        self.turn += 1
        live = np.flatnonzero(self.usage.any(axis=0))
        usage = self.usage[:, live]
        load = (self.many * self.size) @ usage / self.room[live]
        top = np.maximum(load, usage.max(axis=0))
        for_area = np.exp(sharp * (load - top))
        for_link = np.where(usage > 0, np.exp(sharp * (usage - top)), 0.0)
        whole = for_area + for_link.sum(axis=0)
        self.area, self.link = np.ones_like(self.area), np.zeros_like(self.link)
        self.area[live], self.link[:, live] = for_area / whole, for_link / whole
        return total

    def seen_ways(self) -> list[tuple[int, float, tuple[int, ...]]]:
        """Every way met so far: (commodity, price of its length, places)."""
        return [(k, length, places) for (k, places), length in self._seen.items()]

    def rounds(self, many: int) -> float:
        """That many rounds; the best bound of all."""
        for n in range(many):
            self.round(FIRST_SHARP + (LAST_SHARP - FIRST_SHARP) * n / max(1, many - 1), 1.0 / (self.turn + 1))
        return self.best

    def opened(self) -> Any:
        """How many holes each place has on average over the rounds."""
        load = (self.many * self.size) @ self.usage / self.room
        return np.maximum(load, self.usage.max(axis=0, initial=0.0))
