"""The holes of a plan while it is made: who lies in which, which slots are free, what one more cable pays.

Every step is written down, so that a trial can be taken back exactly. Prices of all places are kept as
arrays, so that one more cable is priced everywhere at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from bayrun.cables.packing import PackingCache
from bayrun.geometry import TOUCH_IN, below
from bayrun.routing.records import Place

BARRED = 10**12
"""Price of a place that is full: no plan ever pays it [micro-currency]."""
ALWAYS_FITS = 0.5
"""Disks of at most half the area of a disk can always be packed into it; the circles are found at the end.
Source: Fekete, Keldenich, Scheffer, Packing Disks into Disks with Optimal Worst-Case Density (SoCG 2019)."""


PARTS = 10**9


def area_of(diameter_in: float) -> int:
    """Squared diameter of a cable in whole parts [in² / PARTS]."""
    return round(diameter_in**2 * PARTS)


@dataclass(slots=True)
class OpenHole:
    """A hole while the plan is made: which slot of which place, and who lies in it."""

    place: int
    slot: int
    runs: list[int] = field(default_factory=list)
    area: int = 0
    """Squared diameters of what lies in it, in whole parts so that sums are exact [in² / PARTS]."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A point in the diary of steps that ``undo`` returns to."""

    steps: int
    next_key: int


class Openings:
    """Open holes of every place, with their prices for any size of cable."""

    def __init__(
        self, places: Sequence[Place], fill_max: float, gap_in: float, packing: PackingCache
    ) -> None:
        """Take the places, the firm's fill and its wood between holes [in]."""
        self.places, self.fill_max, self.gap_in, self.packing = places, fill_max, gap_in, packing
        self.holes: dict[int, OpenHole] = {}
        self.by_place: dict[int, list[int]] = {}
        self.kept: set[int] = set()
        """Keys of holes somebody set: open from the start, never closed."""
        self.sizes: dict[int, float] = {}
        self.opened = 0
        """Price of all holes that are open [micro-currency]."""
        self._next = 0
        self._diary: list[tuple[str, int, int, int, int]] = []
        size_in = np.array([p.diameter_in for p in places], dtype=float)
        self._solid = np.array([bool(p.member) for p in places], dtype=bool)
        self._limit = fill_max * size_in**2
        self._sure = ALWAYS_FITS * size_in**2
        self._open_price = np.array([float(p.open_price) for p in places])
        self._least = np.full(len(places), np.inf)
        self._first = np.zeros(len(places) + 1, dtype=np.int64)
        np.cumsum([len(p.slots) for p in places], out=self._first[1:])
        self._owner = np.repeat(np.arange(len(places)), np.diff(self._first))
        self._at = np.array([s.at for p in places for s in p.slots], dtype=float).reshape(-1, 3)
        self._radius = (size_in / 2)[self._owner] if len(places) else np.zeros(0)
        self._drilled = np.array([not p.fixed for p in places], dtype=bool)
        self._blocked = np.zeros(len(self._owner), dtype=np.int64)
        self._free = np.diff(self._first).astype(np.int64)
        self._in_member: dict[str, list[int]] = {}
        for i, place in enumerate(places):
            for m in (place.member, *place.plies) if place.member else ():
                self._in_member.setdefault(m, []).append(i)
        self._shadow: dict[int, Any] = {}

    # what a hole still takes

    def room(self, key: int, diameter_in: float) -> bool:
        """Whether one more cable goes into a hole by the firm's fill and by its circles."""
        hole = self.holes[key]
        size_in = self.places[hole.place].diameter_in
        area = (hole.area + area_of(diameter_in)) / PARTS
        if below(self.fill_max * size_in**2, area):
            return False
        if area <= ALWAYS_FITS * size_in**2:
            return True
        all_in = [self.sizes[r] for r in hole.runs] + [diameter_in]
        return self.packing.fits(size_in, all_in) is not None

    def prices(self, diameter_in: float, share: Any = 1.0) -> Any:
        """What one more cable pays at each place: nothing in an open hole with room, else a new hole.

        Args:
            diameter_in: Of the cable [in].
            share: Part of the price of a new hole to reckon with, one for all places or one for each; 1 is
                the truth.
        """
        area = diameter_in**2
        whole = self._least + area
        free = whole <= self._limit + TOUCH_IN
        for p in np.flatnonzero(free & (whole > self._sure)):
            free[p] = any(self.room(key, diameter_in) for key in self.by_place[int(p)])
        new = np.where(self._free > 0, np.rint(share * self._open_price), float(BARRED))
        priced = np.where(free, 0.0, np.where(area > self._limit + TOUCH_IN, float(BARRED), new))
        return np.where(self._solid, priced, 0.0)

    def price(self, place: int, diameter_in: float) -> int:
        """What one more cable pays at one place [micro-currency]."""
        return int(self.prices(diameter_in)[place])

    # steps

    def take(self, place: int, run: int) -> int:
        """Lay a cable through a place, in the first hole with room or a new one; its key, -1 for a gap."""
        if not self.places[place].member:
            return -1
        for key in self.by_place.get(place, []):
            if self.room(key, self.sizes[run]):
                self.put(key, run)
                return key
        key = self.open(place, self._free_slot(place))
        self.put(key, run)
        return key

    def give(self, key: int, run: int) -> None:
        """Take a cable out of a hole; a hole left empty is closed again unless somebody set it."""
        hole = self.holes[key]
        spot = hole.runs.index(run)
        self._diary.append(("give", key, run, spot, 0))
        del hole.runs[spot]
        hole.area -= area_of(self.sizes[run])
        self._weigh(hole.place)
        if not hole.runs and key not in self.kept:
            spot = self.by_place[hole.place].index(key)
            self._diary.append(("close", key, hole.place, hole.slot, spot))
            self._close(key)

    def open(self, place: int, slot: int) -> int:
        """Open a hole in one slot; its key."""
        key = self._next
        self._next += 1
        self._diary.append(("open", key, place, slot, 0))
        self._insert(key, place, slot, len(self.by_place.get(place, [])))
        return key

    def is_free(self, place: int, slot: int) -> bool:
        """Whether a hole may be opened in a slot: not taken, with enough wood to every other hole."""
        return bool(self._blocked[self._first[place] + slot] == 0)

    def mark(self) -> Mark:
        """A point to come back to."""
        return Mark(len(self._diary), self._next)

    def undo(self, mark: Mark) -> None:
        """Take all steps back since a mark."""
        while len(self._diary) > mark.steps:
            what, key, a, b, c = self._diary.pop()
            if what == "open":
                self._close(key)
            elif what == "close":
                self._insert(key, a, b, c)
            else:
                hole = self.holes[key]
                if what == "put":
                    hole.runs.pop()
                    hole.area -= area_of(self.sizes[a])
                else:
                    hole.runs.insert(b, a)
                    hole.area += area_of(self.sizes[a])
                self._weigh(hole.place)
        self._next = mark.next_key

    def put(self, key: int, run: int) -> None:
        """Lay a cable, whose size is known, in a hole whether it fits or not."""
        self._diary.append(("put", key, run, 0, 0))
        hole = self.holes[key]
        hole.runs.append(run)
        hole.area += area_of(self.sizes[run])
        self._weigh(hole.place)

    def _weigh(self, place: int) -> None:
        areas = [self.holes[k].area for k in self.by_place.get(place, ())]
        self._least[place] = min(areas) / PARTS if areas else np.inf

    def _insert(self, key: int, place: int, slot: int, spot: int) -> None:
        self.holes[key] = OpenHole(place, slot)
        self.by_place.setdefault(place, []).insert(spot, key)
        self.opened += self.places[place].open_price
        self._weigh(place)
        shadow = self._shadow_of(place, slot)
        self._blocked[shadow] += 1
        np.subtract.at(self._free, self._owner[shadow[self._blocked[shadow] == 1]], 1)

    def _close(self, key: int) -> None:
        hole = self.holes.pop(key)
        self.by_place[hole.place].remove(key)
        if not self.by_place[hole.place]:
            del self.by_place[hole.place]
        self.opened -= self.places[hole.place].open_price
        self._weigh(hole.place)
        shadow = self._shadow_of(hole.place, hole.slot)
        self._blocked[shadow] -= 1
        np.add.at(self._free, self._owner[shadow[self._blocked[shadow] == 0]], 1)

    # slots

    def _free_slot(self, place: int) -> int:
        first, last = self._first[place], self._first[place + 1]
        return int(np.flatnonzero(self._blocked[first:last] == 0)[0])

    def _shadow_of(self, place: int, slot: int) -> Any:
        """Slots that can take no hole once this one is drilled: too little wood between, or the same slot.

        A knockout or sleeve is there already: only a hole in itself takes it.
        """
        index = int(self._first[place]) + slot
        known = self._shadow.get(index)
        if known is not None:
            return known
        p = self.places[place]
        near = sorted({q for m in (p.member, *p.plies) for q in self._in_member.get(m, ())})
        spots = np.concatenate([np.arange(self._first[q], self._first[q + 1]) for q in near])
        spots = spots[self._drilled[self._owner[spots]]]
        apart = np.sqrt(((self._at[spots] - self._at[index]) ** 2).sum(axis=1))
        need = self._radius[spots] + self._radius[index] + self.gap_in
        found = spots[apart < need - TOUCH_IN]
        self._shadow[index] = shadow = np.union1d(found, [index])
        return shadow
