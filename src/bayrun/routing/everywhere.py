"""The passage graph with a way out of every bay, and trees of cheapest ways over it.

One graph answers many questions at once: what a run to any spot would cost, and what all runs of the job
would cost if the enclosure stood in this bay or that one. A tree is one search from one place to all others.
Limits of use: a tree prices each cable by itself. With ``Share.WHOLE`` every new hole is paid by the one
cable that asks; with ``Share.AREA`` each cable pays its part of a hole by its area, so the sum over all
cables is never more than what a plan on this graph costs.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Any

import numpy as np

from bayrun.framing import Frame
from bayrun.house import CableKind, Job, Location
from bayrun.routing.build import Passages, passages_everywhere
from bayrun.routing.mesh import Mesh, l_free, straight_free, weave
from bayrun.routing.prices import inch_price
from bayrun.routing.records import Cell, Endpoint, Point3
from bayrun.wiring import Wiring

BARRED = 1e12
"""Price of a place this cable does not fit through: no way pays it [micro-currency]."""
ENCLOSURE = "enclosure"


class Share(Enum):
    """How much of a hole's price one cable pays."""

    WHOLE = "whole"
    AREA = "area"


@dataclass(frozen=True, slots=True)
class Start:
    """A place that trees begin at: points in cells, each with a length already gone.

    Args:
        name: Free, for messages.
        doors: (cell, point, length to get there, lowest and highest world height a way may leave at) [in].
    """

    name: str
    doors: tuple[tuple[str, Point3, float, float, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Tree:
    """Cheapest ways from one start to every node, for one kind of cable.

    Args:
        price: To each node [micro-currency]; infinite where no way leads.
        before: Node before each on its way; negative at the start and where no way leads.
    """

    kind: CableKind
    start: Start
    price: Any
    before: Any


@dataclass(frozen=True, slots=True)
class Way:
    """One way found.

    Args:
        price: By the firm's table, cable, pulling and the holes it opens [micro-currency].
        length_in: Of the way itself, no slack [in].
        places: Indexes of the places passed, in order.
        nodes: Nodes in order, the start's own first.
    """

    price: int
    length_in: float
    places: tuple[int, ...]
    nodes: tuple[int, ...]


class Everywhere:
    """The graph of one house with a way out of every bay."""

    def __init__(self, job: Job, frame: Frame, spots: Sequence[Location] = ()) -> None:
        """Build it; ``spots`` are places that will be asked about."""
        self.job, self.frame = job, frame
        made: tuple[Passages, tuple[Endpoint, ...]] = passages_everywhere(job, frame, spots)
        self.passages, self.spots = made
        self.mesh: Mesh = weave(self.passages)
        self.cells: dict[str, Cell] = {c.id: c for c in self.passages.cells}
        self.in_cell: dict[str, list[int]] = {}
        for i, node in enumerate(self.mesh.nodes):
            if node.cell:
                self.in_cell.setdefault(node.cell, []).append(i)
        self._fee = np.array([float(p.open_price) for p in self.passages.places])
        fill = job.practice.fill_max
        self._room = np.array(
            [fill * p.diameter_in**2 if p.member else np.inf for p in self.passages.places], dtype=float
        )
        rows = np.repeat(np.arange(len(self.mesh.nodes)), np.diff(self.mesh.start))
        ends = self.mesh.terminal[self.mesh.edge]
        # a terminal is entered, never left: no run passes through a box or a location on its way elsewhere
        self._keep = (ends < 0) | (rows != ends)
        self._rows = rows[self._keep]
        self._targets = self.mesh.target[self._keep]
        self._edges = self.mesh.edge[self._keep]

    def enclosure(self) -> Start | None:
        """The chosen enclosure's entries as a start; None where nothing can enter it."""
        doors = tuple(
            (e.cell, e.at, e.extra_in, -np.inf, np.inf)
            for e in self.passages.endpoints
            if e.id.startswith(f"{ENCLOSURE}/")
        )
        return Start(ENCLOSURE, doors) if doors else None

    def open_holes(self, wiring: Wiring) -> Mapping[int, float]:
        """Place index → area left in holes a plan already opens there [in2, diameters squared]."""
        sizes = {k.letter: k.diameter_in for k in self.job.practice.cables}
        kinds = {r.id: r.kind for r in wiring.runs}
        at: dict[str, list[int]] = {}
        for i, place in enumerate(self.passages.places):
            if place.member:
                at.setdefault(place.member, []).append(i)
        free: dict[int, float] = {}
        for hole in wiring.holes:
            area = sum(sizes[kinds[r]] ** 2 for r in hole.occupants if r in kinds)
            left = self.job.practice.fill_max * hole.diameter_in**2 - area
            for i in at.get(hole.member, []):
                slots = self.passages.places[i].slots
                if any(
                    max(abs(hole.x - s.at[0]), abs(hole.y - s.at[1]), abs(hole.z - s.at[2])) < 0.0625
                    for s in slots
                ):
                    free[i] = max(free.get(i, 0.0), left)
        return free

    def trees(
        self,
        starts: Sequence[Start],
        kind: CableKind,
        share: Share,
        open_holes: Mapping[int, float] | None = None,
    ) -> list[Tree]:
        """One tree for each start, in their order."""
        from scipy.sparse.csgraph import dijkstra

        sources = [self.doors(start) for start in starts]
        graph, size = self._graph(sources, kind, share, open_holes), len(self.mesh.nodes)
        found = []
        for n, start in enumerate(starts):
            price, before = dijkstra(graph, directed=True, indices=size + n, return_predecessors=True)
            price[price >= BARRED] = np.inf
            found.append(Tree(kind, start, price, before))
        return found

    def prices(self, terminals: Sequence[str], kind: CableKind, share: Share) -> Any:
        """Price from each terminal (row) to each node of the mesh, without the ways; infinite without one.

        Ways cost the same in both directions, so a few terminals answer for any number of bays.
        """
        from scipy.sparse.csgraph import dijkstra

        size, mesh = len(self.mesh.nodes), self.mesh
        sources = []
        for name in terminals:
            node = mesh.terminals.get(name)
            span = range(0) if node is None else range(int(mesh.start[node]), int(mesh.start[node + 1]))
            sources.append({int(mesh.target[i]): float(mesh.length[mesh.edge[i]]) for i in span})
        graph = self._graph(sources, kind, share, None)
        price = dijkstra(graph, directed=True, indices=[size + n for n in range(len(sources))])[:, :size]
        price[price >= BARRED] = np.inf
        return price

    def _graph(
        self,
        sources: Sequence[Mapping[int, float]],
        kind: CableKind,
        share: Share,
        open_holes: Mapping[int, float] | None,
    ) -> Any:
        """The weights for one kind, with one more node for each source: node → weighed length [in]."""
        from scipy.sparse import csr_matrix

        mesh, inch = self.mesh, inch_price(self.job.practice.costs, kind)
        weight = mesh.length * inch
        area = kind.diameter_in**2
        fee = self._fee.copy()
        if share is Share.AREA:
            fee *= np.minimum(1.0, area / self._room)
        for i, left in (open_holes or {}).items():
            if left >= area - 1e-9:
                fee[i] = 0.0
        fee[area > self._room + 1e-9] = BARRED
        at = mesh.place >= 0
        weight[at] += fee[mesh.place[at]]
        size, whole = len(mesh.nodes), len(mesh.nodes) + len(sources)
        rows, cols = [self._rows], [self._targets]
        vals = [np.maximum(weight[self._edges], 1e-6)]
        for n, seen in enumerate(sources):
            rows.append(np.full(len(seen), size + n))
            cols.append(np.array(sorted(seen), dtype=np.int64))
            vals.append(np.array([max(seen[i] * inch, 1e-6) for i in sorted(seen)]))
        pointer = np.zeros(whole + 1, dtype=np.int32)
        np.cumsum(np.bincount(np.concatenate(rows), minlength=whole), out=pointer[1:])
        return csr_matrix(
            (np.concatenate(vals), np.concatenate(cols).astype(np.int32), pointer), shape=(whole, whole)
        )

    def doors(self, start: Start) -> dict[int, float]:
        """Nodes a start sees at once, with the weighed length to each [in]."""
        seen: dict[int, float] = {}
        for cell, point, gone_in, low_z, high_z in start.doors:
            for i, length_in in self._reach(cell, point, low_z, high_z):
                seen[i] = min(seen.get(i, np.inf), self.cells[cell].factor * length_in + gone_in)
        return seen

    def to_terminal(self, tree: Tree, name: str) -> float:
        """Price of the way to a location or gear that is woven in; infinite without a way."""
        node = self.mesh.terminals.get(name)
        return float("inf") if node is None else float(tree.price[node])

    def to_spot(self, tree: Tree, spot: Endpoint) -> Way | None:
        """The way to an asked spot; None without one."""
        inch = inch_price(self.job.practice.costs, tree.kind)
        factor = self.cells[spot.cell].factor
        best: tuple[float, int, float] | None = None
        for i, length_in in self._reach(spot.cell, spot.at, -np.inf, np.inf):
            price = float(tree.price[i]) + factor * length_in * inch
            if price < np.inf and (best is None or price < best[0] - 1e-6):
                best = (price, i, length_in)
        return None if best is None else self.way(tree, best[1], best[0], best[2])

    def way(self, tree: Tree, node: int, price: float, last_in: float = 0.0) -> Way:
        """The way of a tree to a node, read back to its start; ``last_in`` is added to its length [in]."""
        nodes = [node]
        while tree.before[nodes[-1]] >= 0:
            nodes.append(int(tree.before[nodes[-1]]))
        nodes = nodes[-2::-1]
        steps = list(itertools.pairwise(nodes))
        places = tuple(
            self.mesh.nodes[a].place
            for a, b in steps
            if self.mesh.nodes[a].place >= 0
            and self.mesh.nodes[a].place == self.mesh.nodes[b].place
            and self.mesh.nodes[a].side != self.mesh.nodes[b].side
        )
        first_in = min(
            length_in
            for cell, point, _, low_z, high_z in tree.start.doors
            for i, length_in in self._reach(cell, point, low_z, high_z)
            if i == nodes[0]
        )
        length_in = first_in + last_in
        for a, b in steps:
            p, q = self.mesh.nodes[a].at, self.mesh.nodes[b].at
            length_in += _slant(p, q) if self._straight(a, b) else self._square(a, b)
        return Way(round(price), length_in, places, tuple(nodes))

    def _square(self, a: int, b: int) -> float:
        """Length between two nodes, square to the framing; in open space by its running height [in]."""
        p, q = self.mesh.nodes[a].at, self.mesh.nodes[b].at
        flat = abs(p[0] - q[0]) + abs(p[1] - q[1])
        cell = self.cells.get(self.mesh.nodes[a].cell)
        if cell is None or cell.kind != "open" or self.mesh.nodes[b].cell != cell.id:
            return flat + abs(p[2] - q[2])
        return flat + abs(p[2] - cell.run_z) + abs(q[2] - cell.run_z)

    def _straight(self, a: int, b: int) -> bool:
        cell = self.mesh.nodes[a].cell
        return bool(cell) and cell == self.mesh.nodes[b].cell and self.cells[cell].straight

    def _reach(self, cell_id: str, point: Point3, low_z: float, high_z: float) -> list[tuple[int, float]]:
        """(node, length) of what a point in a cell sees [in]."""
        cell = self.cells.get(cell_id)
        mine = self.in_cell.get(cell_id, [])
        if cell is None or not mine:
            return []
        mine = [i for i in mine if low_z <= self.mesh.nodes[i].at[2] <= high_z]
        if not mine:
            return []
        at = np.array([self.mesh.nodes[i].at for i in mine])
        here = np.repeat(np.array([point]), len(mine), axis=0)
        off = np.abs(at - here)
        if cell.kind == "bay":
            length = off.sum(axis=1)
            seen = np.ones(len(mine), dtype=bool)
        elif cell.kind == "strip":
            axis = 0 if cell.axis == "x" else 1
            middle = cell.rect.center[1 - axis]
            length = off[:, axis] + np.abs(at[:, 1 - axis] - middle) + abs(point[1 - axis] - middle)
            length += np.abs(at[:, 2] - cell.run_z) + abs(point[2] - cell.run_z)
            seen = np.ones(len(mine), dtype=bool) if not cell.crossing_only else off[:, axis] < 0.01
        else:
            rise = np.abs(at[:, 2] - cell.run_z) + abs(point[2] - cell.run_z)
            if cell.straight:
                seen = straight_free(here, at, cell.blocked)
                length = np.hypot(off[:, 0], off[:, 1]) + rise
            else:
                x_first, y_first = l_free(here, at, cell.blocked)
                seen = x_first | y_first
                length = off[:, 0] + off[:, 1] + rise
        return [(i, float(size)) for i, size, ok in zip(mine, length, seen, strict=True) if ok]


def _slant(a: Point3, b: Point3) -> float:
    return float(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 + abs(a[2] - b[2]))


def without_enclosure(job: Job) -> Job:
    """The same job with no enclosure: every bay is free for it."""
    return replace(job, enclosures=(), enclosure="")
