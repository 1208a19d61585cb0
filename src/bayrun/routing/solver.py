"""Lay every run at its marginal price: a hole already open with room is free, a new one is paid.

Greedy insertion, longest first, then rounds that take each group of runs out and lay it again while
that makes the plan cheaper. Deterministic: integer prices, fixed order, no clock, no chance.
Source: single-sink fixed-charge network design; greedy insertion as measured in ROUTING.md.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from bayrun.cables.packing import PackingCache
from bayrun.routing.lanes import Course, Lanes
from bayrun.routing.mesh import Mesh
from bayrun.routing.openings import BARRED, Mark, OpenHole, Openings
from bayrun.routing.records import Place
from bayrun.routing.split import Commodity, Split

__all__ = ["BARRED", "Errand", "Laid", "OpenHole", "Progress", "Solver"]

IMPROVING_ROUNDS = 3
LOOKING_ROUNDS = 12
LEAST_SHARE = 0.05
"""However many would share a hole, its first user pays this part of it when the plan is first laid."""

Progress = Callable[[str, int, int], None]


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

    @property
    def course(self) -> Course:
        """What its lane is made for."""
        return Course(self.source, self.target, self.diameter_in, self.inch)


@dataclass(frozen=True, slots=True)
class Laid:
    """One laid cable: its nodes in order, and (place, hole) of each place passed."""

    errand: Errand
    nodes: tuple[int, ...]
    passed: tuple[tuple[int, int], ...]
    """(place, key of its hole in ``Solver.holes``); key -1 for a gap."""


@dataclass(frozen=True, slots=True)
class Stand:
    """How the plan stood at one moment, to go back to."""

    mark: Mark
    laid: dict[int, Laid]
    way_cost: int


def cheapest_way(mesh: Mesh, weight: Any, source: int, target: int) -> tuple[int, ...] | None:
    """Nodes of the cheapest way between two nodes; None where every way is barred.

    Args:
        weight: Price of each edge of the mesh, ``BARRED`` or more where it may not be passed.
    """
    from scipy.sparse import csr_matrix
    from scipy.sparse.csgraph import dijkstra

    size = len(mesh.nodes)
    graph = csr_matrix((weight[mesh.edge], mesh.target, mesh.start), shape=(size, size))
    distance, before = dijkstra(graph, directed=True, indices=source, return_predecessors=True)
    if not distance[target] < BARRED:
        return None
    way = [target]
    while way[-1] != source:
        way.append(int(before[way[-1]]))
    return tuple(reversed(way))


class Solver:
    """Holds open holes while runs are laid, taken out and laid again."""

    def __init__(
        self, mesh: Mesh, places: Sequence[Place], fill_max: float, gap_in: float, packing: PackingCache
    ) -> None:
        """Take the mesh and the firm's fill and gap between holes [in]."""
        self.mesh, self.places = mesh, places
        self.fill_max = fill_max
        self.openings = Openings(places, fill_max, gap_in, packing)
        self.lanes = Lanes(mesh, places, fill_max)
        self.laid: dict[int, Laid] = {}
        self.shut = -1
        """A place that is dear while a trial lasts; -1 for none."""
        self.share: Any = 1.0
        """Part of the price of a new hole that searches reckon with; 1 is the truth."""
        self._way_cost = 0
        self._way_costs: dict[tuple[tuple[int, ...], float], tuple[int, float]] = {}
        self._steps: dict[tuple[int, int], float] = {}

    @property
    def holes(self) -> dict[int, OpenHole]:
        """Open holes by key."""
        return self.openings.holes

    @property
    def by_place(self) -> dict[int, list[int]]:
        """Keys of the open holes of each place."""
        return self.openings.by_place

    @property
    def kept(self) -> set[int]:
        """Keys of holes somebody set: open from the start, never closed."""
        return self.openings.kept

    @property
    def sizes(self) -> dict[int, float]:
        """Diameter of each run met so far [in]."""
        return self.openings.sizes

    # holes

    def price(self, place_index: int, diameter_in: float) -> int:
        """What one more cable costs at a place: nothing in an open hole with room, else a new hole."""
        return self.openings.price(place_index, diameter_in)

    def is_free(self, place_index: int, slot: int) -> bool:
        """True where a hole may be opened in a slot: not taken, with enough wood to every other hole."""
        return self.openings.is_free(place_index, slot)

    def has_room(self, key: int, diameter_in: float) -> bool:
        """True where one more cable fits the firm's fill and the hole."""
        return self.openings.room(key, diameter_in)

    def open_at(self, place_index: int, slot: int) -> int:
        """Open a hole in one slot of a place; its key."""
        return self.openings.open(place_index, slot)

    def open_set(self, place_index: int, slot: int = 0) -> int:
        """Open a hole that somebody set; its key. It stays open, used or not."""
        key = self.openings.open(place_index, slot)
        self.kept.add(key)
        return key

    def put(self, key: int, run: int, diameter_in: float) -> None:
        """Lay a cable that is there already in a hole, whether it fits or not."""
        self.sizes[run] = diameter_in
        self.openings.put(key, run)

    # runs

    def _prices(self, errand: Errand) -> Any:
        prices = self.openings.prices(errand.diameter_in, self.share)
        if errand.avoid:
            prices[list(errand.avoid)] += BARRED / 1000
        if self.shut >= 0:
            prices[self.shut] += BARRED / 1000  # dear, but better than no way at all
        return prices

    def weights(self, errand: Errand) -> Any:
        """Price of every edge for one cable as the holes now stand."""
        mesh = self.mesh
        prices = self._prices(errand)
        weight = np.floor(mesh.length * errand.inch) + 1.0
        at = mesh.place >= 0
        weight[at] += prices[mesh.place[at]]
        mine = (mesh.terminals[errand.source], mesh.terminals[errand.target])
        # no run passes through the enclosure, or through gear, on its way elsewhere
        weight[(mesh.terminal >= 0) & ~np.isin(mesh.terminal, mine)] += BARRED
        return weight

    def _search(self, errand: Errand, former: Laid | None) -> tuple[int, ...] | None:
        """The cheapest way as the holes now stand: in the errand's lane, else in the whole house."""
        lane = self.lanes.lane(errand.course)
        if lane is None:
            return None
        prices = self._prices(errand)
        limit = np.inf
        if former is not None:  # the way it had is still there: nothing dearer is wanted
            limit = self._costs_of(former)[1] + float(prices[[p for p, _ in former.passed]].sum())
        found = lane.way(prices, limit)
        if found is None:
            return self.search_all(errand)
        return tuple(int(n) for n in lane.nodes[found[1]])

    def search_all(self, errand: Errand) -> tuple[int, ...] | None:
        """Nodes of the cheapest way through the whole house, as the holes now stand."""
        mesh = self.mesh
        source, target = mesh.terminals.get(errand.source), mesh.terminals.get(errand.target)
        if source is None or target is None:
            return None
        return cheapest_way(mesh, self.weights(errand), source, target)

    def places_on(self, nodes: Sequence[int]) -> list[int]:
        """Places a way passes, in its order."""
        found = []
        for a, b in itertools.pairwise(nodes):
            na, nb = self.mesh.nodes[a], self.mesh.nodes[b]
            if na.place >= 0 and na.place == nb.place and na.side != nb.side:
                found.append(na.place)
        return found

    def lay(self, errand: Errand, like: Laid | None = None, former: Laid | None = None) -> Laid | None:
        """Lay one cable.

        Args:
            errand: What to lay.
            like: A laid twin whose way is still best while all its holes have room.
            former: The way it had before it was taken out, if any; it speeds the search.
        """
        self.sizes[errand.run] = errand.diameter_in
        nodes: tuple[int, ...] | None = None
        if like is not None and all(
            key < 0 or self.openings.room(key, errand.diameter_in) for _, key in like.passed
        ):
            nodes = like.nodes
        if nodes is None:
            nodes = self._search(errand, former)
        if nodes is None:
            return None
        return self.lay_on(errand, nodes)

    def lay_on(self, errand: Errand, nodes: tuple[int, ...]) -> Laid:
        """Lay one cable on a way that is known to have room."""
        self.sizes[errand.run] = errand.diameter_in
        passed = tuple((p, self.openings.take(p, errand.run)) for p in self.places_on(nodes))
        laid = Laid(errand, nodes, passed)
        self.laid[errand.run] = laid
        self._way_cost += self.way_cost(laid)
        return laid

    def lay_in(self, errand: Errand, nodes: tuple[int, ...], keys: Mapping[int, int]) -> Laid:
        """Lay one cable on a known way through known open holes, named by place."""
        passed = []
        for place in self.places_on(nodes):
            key = keys.get(place, -1)
            if key >= 0:
                self.put(key, errand.run, errand.diameter_in)
            passed.append((place, key))
        laid = Laid(errand, nodes, tuple(passed))
        self.laid[errand.run] = laid
        self._way_cost += self.way_cost(laid)
        return laid

    def lift(self, run: int) -> Laid:
        """Take one cable out; a hole left empty is closed again. What it was is given back."""
        laid = self.laid.pop(run)
        self._way_cost -= self.way_cost(laid)
        for _, key in laid.passed:
            if key >= 0:
                self.openings.give(key, run)
        return laid

    def cost(self) -> int:
        """What the whole plan costs by the firm's table [micro-currency]."""
        return self.openings.opened + self._way_cost

    def way_cost(self, laid: Laid) -> int:
        """What the length of one laid cable costs [micro-currency]."""
        return self._costs_of(laid)[0]

    def _costs_of(self, laid: Laid) -> tuple[int, float]:
        """(price of a way's length, the same as the search adds it up edge by edge)."""
        known = self._way_costs.get((laid.nodes, laid.errand.inch))
        if known is not None:
            return known
        mesh, inch = self.mesh, laid.errand.inch
        length = added = 0.0
        for pair in itertools.pairwise(laid.nodes):
            step = self._steps.get(pair)
            if step is None:
                low, high = mesh.start[pair[0]], mesh.start[pair[0] + 1]
                there = low + np.flatnonzero(mesh.target[low:high] == pair[1])
                step = self._steps[pair] = float(mesh.length[mesh.edge[there]].min())
            length += step
            added += math.floor(step * inch) + 1.0
        cost = self._way_costs[laid.nodes, inch] = (round(length * inch), added)
        return cost

    # trials

    def stand(self) -> Stand:
        """How the plan stands now."""
        return Stand(self.openings.mark(), dict(self.laid), self._way_cost)

    def go_back(self, stand: Stand) -> None:
        """Make the plan stand as it stood; only to a moment before now, never forward."""
        self.openings.undo(stand.mark)
        self.laid, self._way_cost = dict(stand.laid), stand.way_cost

    # whole plans

    def solve(self, groups: Sequence[Sequence[Errand]], progress: Progress | None = None) -> list[Errand]:
        """Lay all groups (runs of one kind between the same ends); return those with no way.

        A first look at what all want together tells which holes many will share; the first laying reckons
        with those at a lower price.
        """
        lost: list[Errand] = []
        self.share = self._hopes(groups)
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
        self.share = 1.0
        for _ in range(IMPROVING_ROUNDS):
            if not self._improve(groups):
                break
        return lost

    def _hopes(self, groups: Sequence[Sequence[Errand]]) -> Any:
        """Part of the price of a new hole at each place, low where many would share it."""
        lanes, wanted = [], []
        for group in groups:
            lane = self.lanes.lane(group[0].course) if group else None
            if lane is not None:
                e = group[0]
                lanes.append(lane)
                wanted.append(Commodity(e.source, e.target, len(group), e.diameter_in, e.inch))
        if len(lanes) < 2:
            return 1.0
        split = Split(lanes, self.places, wanted, self.fill_max)
        split.rounds(LOOKING_ROUNDS)
        return np.clip(1.0 - split.opened(), LEAST_SHARE, 1.0)

    def _improve(self, groups: Sequence[Sequence[Errand]]) -> bool:
        better = False
        for group in groups:
            mine = [e for e in group if e.run in self.laid]
            if not mine:
                continue
            before = self.stand()
            before_cost = self.cost()
            self.relay([mine])
            if any(e.run not in self.laid for e in mine) or self.cost() >= before_cost:
                self.go_back(before)
            else:
                better = True
        return better

    def relay(self, groups: Sequence[Sequence[Errand]], shut: int = -1) -> None:
        """Take groups out and lay them again in the order given; the first with one place dear."""
        former = {e.run: self.lift(e.run) for group in groups for e in group}
        for n, group in enumerate(groups):
            self.shut = shut if n == 0 else -1
            like: Laid | None = None
            for errand in group:
                like = self.lay(errand, like, former[errand.run])
        self.shut = -1

    def polish(self, groups: Sequence[Sequence[Errand]], moves: int, seed: int = 1) -> int:
        """Take some groups out together and lay them again, as often as said; keep what is cheaper.

        Args:
            groups: As given to ``solve``.
            moves: How many.
            seed: Of the generator that draws the moves: the same moves every time.
        Returns:
            What was saved [micro-currency].
        """
        from bayrun.routing.improve import improve

        return improve(self, groups, moves, seed)
