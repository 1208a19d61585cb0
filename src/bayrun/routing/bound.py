"""A lower bound on what any plan on this framing can cost, by the firm's table: the quick one.

Splitting the price of each hole among what makes it necessary and paying the parts along the ways gives a
bound (see ``split``); the best of some rounds is kept.
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
from bayrun.routing.problem import problem
from bayrun.routing.records import Place
from bayrun.routing.solver import Errand
from bayrun.routing.split import Commodity, Split

ROUNDS = 60


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
    ground = problem(mesh, places, found, fill_max)
    best = 0.0
    area, link = np.ones(len(places)), np.zeros((len(found), len(places)))
    if ground is not None:
        split = Split(ground.lanes, places, found, fill_max)
        best = split.rounds(rounds)
        area, link = split.best_split
    rounding = len(found) + sum(c.count for c in found)  # each way's price is rounded to a whole unit
    return CostCheck(
        bound=max(0, int(best) - rounding),
        cost=cost,
        area_share=tuple(float(v) for v in area),
        linking_share=tuple(
            tuple((int(p), float(link[k, p])) for p in np.flatnonzero(link[k] > 0)) for k in range(len(found))
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
