"""The part of the graph that one kind of cable between two ends can use, for quick shortest ways.

A way dearer than the cheapest one with every hole paid in full is never wanted, so nodes too far from the
straight course are left out. Lengths are weighed towards the target, so that a search leaves the course
only where prices make it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from bayrun.routing.mesh import Mesh
from bayrun.routing.openings import BARRED
from bayrun.routing.records import Place


@dataclass(frozen=True, slots=True)
class Course:
    """What a lane is made for: two ends, a size [in] and the price of an inch [micro-currency]."""

    source: str
    target: str
    diameter_in: float
    inch: float


@dataclass(frozen=True, slots=True, eq=False)
class Lane:
    """A small graph with weights leaning to the target.

    Args:
        nodes: Node of the mesh of each local node.
        graph: Rows of half edges; its data is filled for each search.
        leaning: Weight of each half edge without hole prices, plus what it gains on the target; at least 0.
        held: Half edges that pass a place, and ``place`` the place of each.
        source, target: Local ends.
        least: Cheapest way without any hole price.
        limit: Ways up to this price are all in the lane.
        at_place: Place of each local node, or -1.
    """

    nodes: Any
    graph: Any
    leaning: Any
    held: Any
    place: Any
    source: int
    target: int
    least: float
    limit: float
    at_place: Any

    def way(self, extra: Any, limit: float = np.inf) -> tuple[float, Any] | None:
        """(price, local nodes from source to target) of the cheapest way, or None above the limit.

        Args:
            extra: Price of each place of the house.
            limit: Look no further than this price.
        """
        from scipy.sparse.csgraph import dijkstra

        data = self.graph.data
        data[:] = self.leaning
        data[self.held] += extra[self.place]
        room = min(limit, self.limit) - self.least
        if room < 0:
            return None
        distance, before = dijkstra(
            self.graph, directed=True, indices=self.source, return_predecessors=True, limit=room
        )
        if not np.isfinite(distance[self.target]):
            return None
        way = [self.target]
        while way[-1] != self.source:
            way.append(int(before[way[-1]]))
        return float(distance[self.target]) + self.least, np.array(way[::-1])

    def narrowed(self, extra: Any, more: Any, room: float) -> Lane:
        """The lane without half edges that no way within ``room`` of the cheapest one takes.

        Args:
            extra: Price of each place of the house.
            more: What using a place costs beside, each.
        """
        from scipy.sparse import csr_matrix
        from scipy.sparse.csgraph import dijkstra

        data = self.graph.data
        data[:] = self.leaning
        data[self.held] += extra[self.place]
        there = dijkstra(self.graph, directed=True, indices=self.source)
        back = dijkstra(self.graph.T.tocsr(), directed=True, indices=self.target)
        rows = np.repeat(np.arange(len(self.nodes)), np.diff(self.graph.indptr))
        detour = there[rows] + data + back[self.graph.indices] - there[self.target]
        detour[self.held] += more[self.place]
        keep = detour < room
        start = np.zeros(len(self.nodes) + 1, dtype=np.int32)
        np.cumsum(np.bincount(rows[keep], minlength=len(self.nodes)), out=start[1:])
        leaning = self.leaning[keep]
        place = np.full(len(keep), -1, dtype=np.int64)
        place[self.held] = self.place
        held = np.flatnonzero(place[keep] >= 0)
        shape = self.graph.shape
        return replace(
            self,
            graph=csr_matrix((leaning.copy(), self.graph.indices[keep], start), shape=shape),
            leaning=leaning,
            held=held,
            place=place[keep][held],
        )

    def passed(self, way: Any) -> Any:
        """Places a way of this lane passes, in its order."""
        at = self.at_place[way]
        return at[1:][(at[1:] == at[:-1]) & (at[1:] >= 0)]


class Lanes:
    """Makes lanes and keeps them."""

    def __init__(
        self, mesh: Mesh, places: Sequence[Place], fill_max: float, step: int = 1, beyond: float = 0.0
    ) -> None:
        """Take the graph, its places and the firm's fill.

        Args:
            step: What each edge pays beside its length, so that fewer edges win [micro-currency]; 0 makes
                every price at most the true one, as a bound needs.
            beyond: How much dearer than the cheapest way with all holes paid a way in a lane may be.
        """
        self.beyond = beyond
        self.step = step
        self.mesh = mesh
        self.count = len(mesh.nodes)
        self._rows = np.repeat(np.arange(self.count), np.diff(mesh.start)).astype(np.int32)
        self._cols = mesh.target
        self._length = mesh.length[mesh.edge]
        self._place = mesh.place[mesh.edge]
        self._terminal = mesh.terminal[mesh.edge]
        self._inner = self._terminal < 0
        self._fee = np.array([float(p.open_price) if p.member else 0.0 for p in places] + [0.0])
        room = [fill_max * p.diameter_in**2 if p.member else np.inf for p in places]
        self._room = np.array([*room, np.inf])
        self._at_place = np.array([n.place for n in mesh.nodes])
        self._lanes: dict[Course, Lane | None] = {}
        self._trees: dict[tuple[str, float, float, bool], Any] = {}

    def lane(self, course: Course) -> Lane | None:
        """The lane of a course; None where no way leads to its end."""
        if course not in self._lanes:
            self._lanes[course] = self._made(course)
        return self._lanes[course]

    def _weights(self, course: Course) -> Any:
        return np.floor(self._length * course.inch) + float(self.step)

    def _tree(self, end: str, course: Course, paid: bool) -> Any:
        """Price from an end to every node past no other terminal: of the length alone, or with holes paid."""
        from scipy.sparse import csr_matrix
        from scipy.sparse.csgraph import dijkstra

        key = (end, course.diameter_in, course.inch, paid)
        if key not in self._trees:
            root = self.mesh.terminals[end]
            weight = self._weights(course)
            weight[~self._inner & (self._terminal != root)] = float(BARRED)
            weight[course.diameter_in**2 > self._room[self._place] + 1e-6] = float(BARRED)
            if paid:
                weight = weight + self._fee[self._place]
            graph = csr_matrix((weight, self._cols, self.mesh.start), shape=(self.count, self.count))
            self._trees[key] = dijkstra(graph, directed=True, indices=root)
        return self._trees[key]

    def _made(self, course: Course) -> Lane | None:
        from scipy.sparse import csr_matrix

        ends = [self.mesh.terminals.get(course.source, -1), self.mesh.terminals.get(course.target, -1)]
        if min(ends) < 0:
            return None
        weight = self._weights(course)
        here, there = (self._tree(e, course, False).copy() for e in (course.source, course.target))
        paid = self._tree(course.source, course, True)
        last = np.flatnonzero((self._terminal == ends[1]) & (self._cols == ends[1]))
        if not len(last):
            return None
        doors = self._rows[last]
        limit = float((paid[doors] + weight[last]).min())
        if not limit < BARRED:
            return None
        limit += self.beyond
        here[ends[1]] = (here[doors] + weight[last]).min()
        there[ends[0]] = here[ends[1]]
        usable = self._inner | (self._terminal == ends[0]) | (self._terminal == ends[1])
        usable &= course.diameter_in**2 <= self._room[self._place] + 1e-6
        usable &= (self._cols != ends[0]) & (self._rows != ends[1])  # never back into an end
        usable &= here[self._rows] + weight + there[self._cols] <= limit
        rows, cols, weight, place = (v[usable] for v in (self._rows, self._cols, weight, self._place))
        met = np.zeros(self.count, dtype=bool)
        met[rows] = met[cols] = True
        nodes = np.flatnonzero(met)
        local = np.zeros(self.count, dtype=np.int32)
        local[nodes] = np.arange(len(nodes), dtype=np.int32)
        start = np.zeros(len(nodes) + 1, dtype=np.int32)
        np.cumsum(np.bincount(local[rows], minlength=len(nodes)), out=start[1:])
        leaning = weight - there[rows] + there[cols]
        held = np.flatnonzero(place >= 0)
        return Lane(
            nodes=nodes,
            graph=csr_matrix((leaning.copy(), local[cols], start), shape=(len(nodes), len(nodes))),
            leaning=leaning,
            held=held,
            place=place[held],
            source=int(local[ends[0]]),
            target=int(local[ends[1]]),
            least=float(there[ends[0]]),
            limit=limit,
            at_place=self._at_place[nodes],
        )
