"""Lay every run at its marginal price: a hole already open with room is free, a new one is paid.

Greedy insertion, longest first, then rounds that take each group of runs out and lay it again while
that makes the plan cheaper. Deterministic: integer prices, fixed order, no clock, no chance.
Source: single-sink fixed-charge network design; greedy insertion as measured in ROUTING.md.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from bayrun.cables.packing import PackingCache
from bayrun.geometry import below
from bayrun.routing.mesh import Mesh
from bayrun.routing.records import Place

BARRED = 10**12
"""Price of a place that is full: no plan ever pays it [micro-currency]."""
IMPROVING_ROUNDS = 3
ALWAYS_FITS = 0.5
"""Disks of at most half the area of a disk can always be packed into it; the circles are found at the end.
Source: Fekete, Keldenich, Scheffer, Packing Disks into Disks with Optimal Worst-Case Density (SoCG 2019)."""

Progress = Callable[[str, int, int], None]


@dataclass(slots=True)
class OpenHole:
    """A hole while the plan is made: which slot of which place, and who lies in it."""

    place: int
    slot: int
    runs: list[int] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Errand:
    """One cable to lay: index, kind, terminals, size, price of an inch [micro-currency]."""

    run: int
    kind: str
    source: str
    target: str
    diameter_in: float
    inch: float
    avoid: tuple[int, ...] = ()
    """Places it takes only where there is no other way."""


@dataclass(frozen=True, slots=True)
class Laid:
    """One laid cable: its nodes in order, and (place, hole) of each place passed."""

    errand: Errand
    nodes: tuple[int, ...]
    passed: tuple[tuple[int, int], ...]
    """(place, key of its hole in ``Solver.holes``); key -1 for a gap."""


class Solver:
    """Holds open holes while runs are laid, taken out and laid again."""

    def __init__(
        self, mesh: Mesh, places: Sequence[Place], fill_max: float, gap_in: float, packing: PackingCache
    ) -> None:
        """Take the mesh and the firm's fill and gap between holes [in]."""
        self.mesh, self.places = mesh, places
        self.fill_max, self.gap_in, self.packing = fill_max, gap_in, packing
        self.holes: dict[int, OpenHole] = {}
        self.by_place: dict[int, list[int]] = {}
        self.by_member: dict[str, list[int]] = {}
        self.sizes: dict[int, float] = {}
        self.laid: dict[int, Laid] = {}
        self.kept: set[int] = set()
        """Keys of holes somebody set: open from the start, never closed."""
        self._next = 0
        self._way_costs: dict[tuple[tuple[int, ...], float], int] = {}
        self._places_of: dict[str, list[int]] = {}
        for i, place in enumerate(places):
            for m in (place.member, *place.plies) if place.member else ():
                self._places_of.setdefault(m, []).append(i)
        self._prices: dict[float, Any] = {}
        self._stale: dict[float, set[int]] = {}
        self._shut = -1

    # holes

    def _room(self, key: int, diameter_in: float) -> bool:
        hole = self.holes[key]
        size_in = self.places[hole.place].diameter_in
        all_in = [self.sizes[r] for r in hole.runs] + [diameter_in]
        area = sum(d * d for d in all_in)
        if below(self.fill_max * size_in**2, area):
            return False
        return area <= ALWAYS_FITS * size_in**2 or self.packing.fits(size_in, all_in) is not None

    def _free_slot(self, place_index: int) -> int:
        """The next slot of a place with enough wood to every hole already open in its members; -1: none."""
        slots = range(len(self.places[place_index].slots))
        return next((i for i in slots if self.is_free(place_index, i)), -1)

    def is_free(self, place_index: int, slot: int) -> bool:
        """True where a hole may be opened in a slot: not taken, with enough wood to every other hole."""
        place = self.places[place_index]
        if any(self.holes[k].slot == slot for k in self.by_place.get(place_index, [])):
            return False
        if place.fixed:
            return True
        here = place.slots[slot].at
        for m in (place.member, *place.plies):
            for k in self.by_member.get(m, []):
                theirs = self.places[self.holes[k].place]
                at = theirs.slots[self.holes[k].slot].at
                apart = sum((p - q) ** 2 for p, q in zip(here, at, strict=True)) ** 0.5
                if below(apart, (place.diameter_in + theirs.diameter_in) / 2 + self.gap_in):
                    return False
        return True

    def price(self, place_index: int, diameter_in: float) -> int:
        """What one more cable costs at a place: nothing in an open hole with room, else a new hole."""
        place = self.places[place_index]
        if not place.member:
            return 0
        if below(self.fill_max * place.diameter_in**2, diameter_in**2):
            return BARRED
        for key in self.by_place.get(place_index, []):
            if self._room(key, diameter_in):
                return 0
        return place.open_price if self._free_slot(place_index) >= 0 else BARRED

    def _take(self, place_index: int, errand: Errand) -> int:
        place = self.places[place_index]
        if not place.member:
            return -1
        for key in self.by_place.get(place_index, []):
            if self._room(key, errand.diameter_in):
                self.holes[key].runs.append(errand.run)
                self._changed(place_index)
                return key
        key = self.open_at(place_index, self._free_slot(place_index))
        self.holes[key].runs.append(errand.run)
        self._changed(place_index)
        return key

    def open_set(self, place_index: int, slot: int = 0) -> int:
        """Open a hole that somebody set; its key. It stays open, used or not."""
        key = self.open_at(place_index, slot)
        self.kept.add(key)
        return key

    def has_room(self, key: int, diameter_in: float) -> bool:
        """True where one more cable fits the firm's fill and the hole."""
        return self._room(key, diameter_in)

    def put(self, key: int, run: int, diameter_in: float) -> None:
        """Lay a cable that is there already in a hole, whether it fits or not."""
        self.sizes[run] = diameter_in
        self.holes[key].runs.append(run)
        self._changed(self.holes[key].place)

    def lay_in(self, errand: Errand, nodes: tuple[int, ...], keys: dict[int, int]) -> Laid:
        """Lay one cable on a known way through known open holes, named by place."""
        passed = []
        for place in self.places_on(nodes):
            key = keys.get(place, -1)
            if key >= 0:
                self.put(key, errand.run, errand.diameter_in)
            passed.append((place, key))
        laid = Laid(errand, nodes, tuple(passed))
        self.laid[errand.run] = laid
        return laid

    def open_at(self, place_index: int, slot: int) -> int:
        """Open a hole in one slot of a place; its key."""
        place = self.places[place_index]
        key = self._next
        self._next += 1
        self.holes[key] = OpenHole(place_index, slot)
        self.by_place.setdefault(place_index, []).append(key)
        for m in (place.member, *place.plies):
            self.by_member.setdefault(m, []).append(key)
        self._changed(place_index)
        return key

    # runs

    def weights(self, errand: Errand) -> Any:
        """Price of every edge for one cable as the holes now stand."""
        mesh = self.mesh
        prices = self._place_prices(errand.diameter_in)
        weight = np.rint(mesh.length * errand.inch) + 1.0
        at = mesh.place >= 0
        weight[at] += prices[mesh.place[at]]
        if self._shut >= 0:
            weight[mesh.place == self._shut] += BARRED / 1000  # dear, but better than no way at all
        if errand.avoid:
            weight[np.isin(mesh.place, errand.avoid)] += BARRED / 1000
        mine = (mesh.terminals[errand.source], mesh.terminals[errand.target])
        # no run passes through the enclosure, or through gear, on its way elsewhere
        weight[(mesh.terminal >= 0) & ~np.isin(mesh.terminal, mine)] += BARRED
        return weight

    def _place_prices(self, diameter_in: float) -> Any:
        """Price of every place for this size; only places whose members changed are looked at again."""
        prices = self._prices.get(diameter_in)
        if prices is None:
            prices = np.array([self.price(i, diameter_in) for i in range(len(self.places))], dtype=float)
            self._prices[diameter_in] = prices
            self._stale[diameter_in] = set()
            return prices
        for i in sorted(self._stale[diameter_in]):
            prices[i] = self.price(i, diameter_in)
        self._stale[diameter_in].clear()
        return prices

    def _changed(self, place_index: int) -> None:
        """A hole of this place gained or lost a cable: its members' places are priced anew."""
        place = self.places[place_index]
        if place.fixed:  # a knockout takes no wood from its neighbors
            for stale in self._stale.values():
                stale.add(place_index)
            return
        for m in (place.member, *place.plies):
            for stale in self._stale.values():
                stale.update(self._places_of[m])

    def _search(self, errand: Errand) -> tuple[int, ...] | None:
        from scipy.sparse import csr_matrix
        from scipy.sparse.csgraph import dijkstra

        mesh = self.mesh
        source, target = mesh.terminals.get(errand.source), mesh.terminals.get(errand.target)
        if source is None or target is None:
            return None
        weight = self.weights(errand)
        size = len(mesh.nodes)
        graph = csr_matrix((weight[mesh.edge], mesh.target, mesh.start), shape=(size, size))
        distance, before = dijkstra(graph, directed=True, indices=source, return_predecessors=True)
        if not distance[target] < BARRED:
            return None
        way = [target]
        while way[-1] != source:
            way.append(int(before[way[-1]]))
        return tuple(reversed(way))

    def places_on(self, nodes: Sequence[int]) -> list[int]:
        """Places a way passes, in its order."""
        found = []
        for a, b in itertools.pairwise(nodes):
            na, nb = self.mesh.nodes[a], self.mesh.nodes[b]
            if na.place >= 0 and na.place == nb.place and na.side != nb.side:
                found.append(na.place)
        return found

    def lay(self, errand: Errand, like: Laid | None = None) -> Laid | None:
        """Lay one cable; ``like`` is a laid twin whose way is still best while all its holes have room."""
        self.sizes[errand.run] = errand.diameter_in
        nodes: tuple[int, ...] | None = None
        if like is not None and all(key < 0 or self._room(key, errand.diameter_in) for _, key in like.passed):
            nodes = like.nodes
        if nodes is None:
            nodes = self._search(errand)
        if nodes is None:
            return None
        return self.lay_on(errand, nodes)

    def lay_on(self, errand: Errand, nodes: tuple[int, ...]) -> Laid:
        """Lay one cable on a way that is known to have room."""
        self.sizes[errand.run] = errand.diameter_in
        passed = tuple((p, self._take(p, errand)) for p in self.places_on(nodes))
        laid = Laid(errand, nodes, passed)
        self.laid[errand.run] = laid
        return laid

    def lift(self, run: int) -> None:
        """Take one cable out; a hole left empty is closed again."""
        laid = self.laid.pop(run)
        for place_index, key in laid.passed:
            if key < 0:
                continue
            hole = self.holes[key]
            hole.runs.remove(run)
            self._changed(place_index)
            if not hole.runs and key not in self.kept:
                del self.holes[key]
                self.by_place[place_index].remove(key)
                if not self.by_place[place_index]:
                    del self.by_place[place_index]
                place = self.places[place_index]
                for m in (place.member, *place.plies):
                    self.by_member[m].remove(key)
                    if not self.by_member[m]:
                        del self.by_member[m]

    def cost(self) -> int:
        """What the whole plan costs by the firm's table [micro-currency]."""
        total = sum(self.places[h.place].open_price for h in self.holes.values())
        for laid in self.laid.values():
            total += self._way_cost(laid)
        return total

    def _way_cost(self, laid: Laid) -> int:
        known = self._way_costs.get((laid.nodes, laid.errand.inch))
        if known is not None:
            return known
        length = 0.0
        for a, b in zip(laid.nodes, laid.nodes[1:], strict=False):
            low, high = self.mesh.start[a], self.mesh.start[a + 1]
            best = min(
                float(self.mesh.length[self.mesh.edge[i]])
                for i in range(low, high)
                if self.mesh.target[i] == b
            )
            length += best
        cost = round(length * laid.errand.inch)
        self._way_costs[laid.nodes, laid.errand.inch] = cost
        return cost

    def solve(self, groups: Sequence[Sequence[Errand]], progress: Progress | None = None) -> list[Errand]:
        """Lay all groups (runs of one kind between the same ends); return those with no way."""
        lost: list[Errand] = []
        total = sum(len(g) for g in groups)
        done = 0
        for group in groups:
            like: Laid | None = None
            for errand in group:
                like = self.lay(errand, like)
                if like is None:
                    lost.append(errand)
                done += 1
            if progress is not None:
                progress("routed", done, total)
        for _ in range(IMPROVING_ROUNDS):
            if not self._improve(groups):
                break
        return lost

    def _improve(self, groups: Sequence[Sequence[Errand]]) -> bool:
        better = False
        for group in groups:
            mine = [e for e in group if e.run in self.laid]
            if not mine:
                continue
            before_cost = self.cost()
            old = {e.run: self.laid[e.run] for e in mine}
            backup = self._snapshot()
            for errand in mine:
                self.lift(errand.run)
            like: Laid | None = None
            for errand in mine:
                like = self.lay(errand, like)
            if any(e.run not in self.laid for e in mine) or self.cost() >= before_cost:
                self._restore(backup)
                self.laid.update(old)
            else:
                better = True
        return better

    def polish(self, groups: Sequence[Sequence[Errand]], moves: int, seed: int = 1) -> int:
        """Take some groups out together and lay them again, as often as said; keep what is not dearer.

        A move takes the users of one hole (with that hole's place shut while the first is laid again), or a
        group with its nearest neighbors, in an order drawn by a seeded generator: the same moves every time.

        Args:
            groups: As given to ``solve``.
            moves: How many.
        Returns:
            What was saved [micro-currency].
        """
        dice = random.Random(seed)
        live = [list(g) for g in groups if any(e.run in self.laid for e in g)]
        if len(live) < 2:
            return 0
        first = cost = self.cost()
        of_run = {e.run: i for i, g in enumerate(live) for e in g}
        for _ in range(moves):
            shut = -1
            if dice.random() < 0.6 and self.holes:
                key = dice.choice(sorted(self.holes))
                picked = sorted({of_run[r] for r in self.holes[key].runs if r in of_run})
                shut = self.holes[key].place
                if len(picked) > 6:
                    picked = sorted(dice.sample(picked, 6))
            else:
                picked = self._neighbors(live, dice.randrange(len(live)), dice.randint(2, 5))
            if not picked:
                continue
            order = picked[:]
            dice.shuffle(order)
            if not self._relay([live[i] for i in order], shut, cost):
                continue
            cost = self.cost()
        return first - cost

    def _neighbors(self, live: Sequence[Sequence[Errand]], center: int, many: int) -> list[int]:
        """Groups that share most places with one of them, itself included."""
        mine = self._places_of_group(live[center])
        rank = sorted(
            range(len(live)),
            key=lambda i: (i != center, -len(mine & self._places_of_group(live[i])), abs(i - center), i),
        )
        return sorted(rank[:many])

    def _places_of_group(self, group: Sequence[Errand]) -> set[int]:
        return {p for e in group if e.run in self.laid for p, _ in self.laid[e.run].passed}

    def _relay(self, groups: Sequence[Sequence[Errand]], shut: int, before: int) -> bool:
        """Lay some groups again; put all back as it was where that is dearer or loses one."""
        backup = self._snapshot()
        old_count = len(self.laid)
        errands = [[e for e in g if e.run in self.laid] for g in groups]
        for group in errands:
            for e in group:
                self.lift(e.run)
        for n, group in enumerate(errands):
            self._shut = shut if n == 0 else -1
            like: Laid | None = None
            for e in group:
                like = self.lay(e, like)
        self._shut = -1
        if len(self.laid) < old_count or self.cost() > before:
            self._restore(backup)
            return False
        return True

    def _snapshot(self) -> tuple[Any, ...]:
        return (
            {k: OpenHole(h.place, h.slot, list(h.runs)) for k, h in self.holes.items()},
            {k: list(v) for k, v in self.by_place.items()},
            {k: list(v) for k, v in self.by_member.items()},
            dict(self.laid),
            self._next,
        )

    def _restore(self, backup: tuple[Any, ...]) -> None:
        changed = set(self.by_place)
        self.holes, self.by_place, self.by_member, self.laid, self._next = backup
        for place_index in changed | set(self.by_place):
            self._changed(place_index)
