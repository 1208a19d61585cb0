"""A lower bound on what any plan on this framing can cost, by the firm's table.

Symbols: f price of one hole at a place, C what one hole takes (fill times diameter squared), n cables of one
commodity (same ends, same kind), a one cable's diameter squared, u share of a commodity through a place.

At each place the number of holes y satisfies  C y >= sum n u a  and  y >= u  for every commodity. Splitting
the price f among these constraints in any proportion and paying the parts along the ways gives a bound: the
sum over commodities of n times its cheapest way. The split is improved by averaging the usage of the cheapest
ways and moving weight to the constraints that bind; every round is a valid bound, the best is kept.
Source: linear relaxation of single-sink fixed-charge network design (Lagrangian duality).
Limits of use: it speaks of this passage graph alone (its places, heights and prices), not of all ways a crew
may find.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from bayrun.routing.mesh import Mesh
from bayrun.routing.records import Place
from bayrun.routing.solver import BARRED, Errand

ROUNDS = 40
SHARPEST = 24.0
"""How strongly the last rounds favor the constraint that binds most."""


@dataclass(frozen=True, slots=True)
class Commodity:
    """Cables of one kind between the same two ends."""

    source: str
    target: str
    count: int
    diameter_in: float
    inch: float


@dataclass(frozen=True, slots=True)
class CostCheck:
    """What no plan on this graph can undercut, and how far the plan at hand is from it.

    Args:
        bound: Rounded down [micro-currency].
        cost: Of the plan at hand [micro-currency].
        area_share: Per place, the part of its price paid by area (0 to 1).
        linking_share: Per commodity, (place, part of its price) pairs above zero.
        planned: Whether every wished run is in the plan; the bound speaks of those that are.
    """

    bound: int
    cost: int
    area_share: tuple[float, ...]
    linking_share: tuple[tuple[tuple[int, float], ...], ...]
    commodities: tuple[Commodity, ...]
    planned: bool

    @property
    def gap(self) -> float:
        """How much dearer the plan is than the bound, as a share of the bound."""
        return self.cost / self.bound - 1.0 if self.bound > 0 else float("inf")


def commodities(groups: Sequence[Sequence[Errand]], laid: set[int]) -> tuple[Commodity, ...]:
    """One commodity for each group, counting the cables that are in the plan."""
    found = []
    for group in groups:
        mine = [e for e in group if e.run in laid]
        if mine:
            e = mine[0]
            found.append(Commodity(e.source, e.target, len(mine), e.diameter_in, e.inch))
    return tuple(found)


class _Prices:
    """Shortest ways for one commodity under a split of the hole prices."""

    def __init__(self, mesh: Mesh, places: Sequence[Place], fill_max: float) -> None:
        self.mesh = mesh
        self.size = len(mesh.nodes)
        self.fee = np.array([float(p.open_price) if p.member else 0.0 for p in places])
        self.room = np.array([fill_max * p.diameter_in**2 if p.member else 1.0 for p in places])
        self.solid = np.array([bool(p.member) for p in places])
        self.at_place = np.flatnonzero(mesh.place >= 0)

    def way(self, c: Commodity, extra: Any) -> tuple[float, list[int]] | None:
        """(price of the cheapest way of one cable, places on it)."""
        from scipy.sparse import csr_matrix
        from scipy.sparse.csgraph import dijkstra

        mesh = self.mesh
        ends = (mesh.terminals[c.source], mesh.terminals[c.target])
        weight = mesh.length * c.inch
        weight[self.at_place] += extra[mesh.place[self.at_place]]
        too_big = self.solid & (c.diameter_in**2 > self.room + 1e-6)
        weight[self.at_place] += np.where(too_big[mesh.place[self.at_place]], float(BARRED), 0.0)
        weight[(mesh.terminal >= 0) & ~np.isin(mesh.terminal, ends)] += BARRED
        weight = np.maximum(weight, 1e-9)  # a stored zero is no edge to the search
        graph = csr_matrix((weight[mesh.edge], mesh.target, mesh.start), shape=(self.size, self.size))
        distance, before = dijkstra(graph, directed=True, indices=ends[0], return_predecessors=True)
        if not distance[ends[1]] < BARRED:
            return None
        passed, node = [], ends[1]
        while node != ends[0]:
            last = int(before[node])
            a, b = mesh.nodes[last], mesh.nodes[node]
            if a.place >= 0 and a.place == b.place and a.side != b.side:
                passed.append(a.place)
            node = last
        return float(distance[ends[1]]) - 1e-9 * self.size, passed


def cost_check(
    mesh: Mesh,
    places: Sequence[Place],
    found: Sequence[Commodity],
    fill_max: float,
    cost: int,
    planned: bool,
    rounds: int = ROUNDS,
) -> CostCheck:
    """The best bound of some rounds, with the split that gives it.

    Args:
        mesh, places: The graph the plan was made on.
        found: What must be carried.
        fill_max: The firm's fill.
        cost: Of the plan at hand [micro-currency].
    """
    prices = _Prices(mesh, places, fill_max)
    kinds, spots = len(found), len(places)
    usage = np.zeros((kinds, spots))
    area = np.ones(spots)
    link = np.zeros((kinds, spots))
    best, best_split = 0.0, (area.copy(), link.copy())
    for turn in range(rounds):
        total, reached = 0.0, True
        seen = np.zeros((kinds, spots))
        for k, c in enumerate(found):
            extra = prices.fee * (area * c.diameter_in**2 / prices.room + link[k] / c.count)
            way = prices.way(c, extra)
            if way is None:
                reached = False
                break
            total += c.count * way[0]
            seen[k, way[1]] = 1.0
        if not reached:
            break
        if total > best:
            best, best_split = total, (area.copy(), link.copy())
        step = 1.0 / (turn + 1)
        usage = (1 - step) * usage + step * seen
        load = np.array([c.count * c.diameter_in**2 for c in found]) @ usage / prices.room
        sharp = 4.0 + (SHARPEST - 4.0) * turn / max(1, rounds - 1)
        top = np.maximum(load, usage.max(axis=0, initial=0.0))
        grow_area = np.exp(sharp * (load - top))
        grow_link = np.where(usage > 0, np.exp(sharp * (usage - top)), 0.0)
        whole = grow_area + grow_link.sum(axis=0)
        area, link = grow_area / whole, grow_link / whole
    area, link = best_split
    rounding = len(found) + sum(c.count for c in found)  # each way's price is rounded to a whole unit
    return CostCheck(
        bound=max(0, int(best) - rounding),
        cost=cost,
        area_share=tuple(float(v) for v in area),
        linking_share=tuple(
            tuple((int(p), float(link[k, p])) for p in np.flatnonzero(link[k] > 0)) for k in range(kinds)
        ),
        commodities=tuple(found),
        planned=planned,
    )


def certificate(check: CostCheck, mesh: Mesh, places: Sequence[Place], fill_max: float) -> dict[str, Any]:
    """The check as plain data that a separate program can prove: graph, prices, split.

    Returns:
        ``edges`` as [node, node, weighed inches, place or -1, terminal or -1]; ``places`` as [price of a
        hole, what one hole takes]; ``commodities`` with their ends as nodes; ``area_share``,
        ``linking_share``; ``bound`` and ``cost`` in micro-currency; ``speaks_of``.
    """
    half = mesh.edge.argsort(kind="stable")
    edges: dict[int, list[Any]] = {}
    rows = np.repeat(np.arange(len(mesh.nodes)), np.diff(mesh.start))
    for i in half:
        e = int(mesh.edge[i])
        if e not in edges:
            edges[e] = [
                int(rows[i]),
                int(mesh.target[i]),
                float(mesh.length[e]),
                int(mesh.place[e]),
                int(mesh.terminal[e]),
            ]
    return {
        "speaks_of": "this passage graph alone: its places, heights and prices",
        "nodes": len(mesh.nodes),
        "edges": [edges[e] for e in sorted(edges)],
        "places": [
            [p.open_price if p.member else 0, fill_max * p.diameter_in**2 if p.member else 0.0]
            for p in places
        ],
        "commodities": [
            {
                "source": mesh.terminals[c.source],
                "target": mesh.terminals[c.target],
                "count": c.count,
                "area": c.diameter_in**2,
                "inch": c.inch,
            }
            for c in check.commodities
        ],
        "area_share": list(check.area_share),
        "linking_share": [[list(pair) for pair in pairs] for pairs in check.linking_share],
        "bound": check.bound,
        "cost": check.cost,
        "planned": check.planned,
    }
