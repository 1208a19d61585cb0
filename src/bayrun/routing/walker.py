"""Short ways through clear space: how two holes of one run hang together, along the line it had."""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Sequence

import numpy as np

from bayrun.routing.mesh import Mesh
from bayrun.routing.records import Cell, Place, Point3

SAME_IN = 0.0625
"""Holes and ends nearer than a sixteenth are the same [in]."""

Line = tuple[Point3, ...]


class Walker:
    """Short ways through clear space, without crossing any wood: how two holes of one run hang together."""

    def __init__(self, mesh: Mesh, places: Sequence[Place], cells: Sequence[Cell]) -> None:
        """Take the graph; its arrays are walked as plain lists."""
        self.cells = {c.id: c for c in cells}
        self.length: list[float] = mesh.length.tolist()
        self.nodes = mesh.nodes
        self.start: list[int] = mesh.start.tolist()
        self.target: list[int] = mesh.target.tolist()
        self.edge: list[int] = mesh.edge.tolist()
        self.mesh = mesh
        place: list[int] = mesh.place.tolist()
        self.free = [p < 0 or not places[p].member for p in place]
        self.terminal: list[int] = mesh.terminal.tolist()
        self.weights: dict[float, list[float]] = {}
        self.known: dict[tuple[int, int, float, Line], tuple[int, ...] | None] = {}
        self.at: dict[tuple[float, ...], list[int]] = {}
        opened = {c.id for c in cells if c.kind == "open"}
        for n, node in enumerate(mesh.nodes):
            if node.cell in opened:  # elsewhere ways turn nowhere but at their ends and at stations
                self.at.setdefault(point_key(node.at), []).append(n)

    def between(
        self, a: int, b: int, ends: tuple[int, int], inch: float, line: Line
    ) -> tuple[int, ...] | None:
        """Nodes from one to another, both included: along a line where that can be, else the cheapest way.

        Args:
            ends: Terminals of the run: no other one is passed.
            inch: Price of an inch of it, as the solver weighs it [micro-currency].
            line: The way it had; nodes on it come first.
        Returns:
            None where only wood lies between.
        """
        key = (a, b, inch, line)
        if key not in self.known:
            along = self._from_end(a, b, line) or self._search(a, b, ends, inch, line)
            self.known[key] = self._search(a, b, ends, inch, ()) if along is None else along
        return self.known[key]

    def _from_end(self, a: int, b: int, line: Line) -> tuple[int, ...] | None:
        """The quick way, from or to a terminal by its point at that end of the line."""
        if not line:
            return None
        heads = [a] if self.nodes[a].cell else self._beside(a, line[0])
        tails = [b] if self.nodes[b].cell else self._beside(b, line[-1])
        for head in heads:
            for tail in tails:
                way = (head,) if head == tail else self._along(head, tail, line)
                if way is not None:
                    return (*((a,) if head != a else ()), *way, *((b,) if tail != b else ()))
        return None

    def _beside(self, terminal: int, at: Point3) -> list[int]:
        low, high = self.start[terminal], self.start[terminal + 1]
        return [n for n in self.target[low:high] if self.nodes[n].cell and same_point(self.nodes[n].at, at)]

    def _along(self, a: int, b: int, line: Line) -> tuple[int, ...] | None:
        """The quick way: from node to node at the line's turns, where single edges join them."""
        way, points = [a], [line[0]] if line else []
        for turn in line:
            here = [n for n in self.at.get(point_key(turn), ()) if n != way[-1]]
            if b in here:
                break
            following = next((n for n in here if self._joined(way[-1], n)), None)
            if following is not None and following not in way:
                way.append(following)
                points.append(turn)
        points.append(line[-1])
        if not self._joined(way[-1], b) or abs(_plan_in(line) - _square_in(points)) > ALIKE_IN:
            return None
        return *way, b

    def _joined(self, a: int, b: int) -> bool:
        """True where one edge through clear space joins two nodes of one cell, with nothing dear on it."""
        low, high = self.start[a], self.start[a + 1]
        if b not in self.target[low:high]:
            return False
        e = self.edge[low + self.target[low:high].index(b)]
        cell = self.cells.get(self.nodes[a].cell)
        if not self.free[e] or self.terminal[e] >= 0 or cell is None:
            return False
        return cell.kind == "bay" or not self.length[e] > self._plain_in(cell, a, b) + SAME_IN

    def _plain_in(self, cell: Cell, a: int, b: int) -> float:
        """Weighted length of an edge in open space that nothing makes dearer [in]."""
        p, q = self.nodes[a].at, self.nodes[b].at
        x, y = abs(p[0] - q[0]), abs(p[1] - q[1])
        flat = math.hypot(x, y) if cell.straight else x + y
        return cell.factor * (flat + abs(p[2] - cell.run_z) + abs(q[2] - cell.run_z))

    def _search(
        self, a: int, b: int, ends: tuple[int, int], inch: float, line: Line
    ) -> tuple[int, ...] | None:
        if inch not in self.weights:
            self.weights[inch] = (np.floor(self.mesh.length * inch) + 1.0).tolist()
        weight = self.weights[inch]
        extra: dict[int, float] = {a: 0.0, b: 0.0}  # turns of the line before other nodes on it
        best, before = {a: 0.0}, {a: a}
        heap = [(0.0, a)]
        done: set[int] = set()
        while heap:
            cost, n = heapq.heappop(heap)
            if n == b:
                way = [b]
                while way[-1] != a:
                    way.append(before[way[-1]])
                return tuple(reversed(way))
            if n in done:
                continue
            done.add(n)
            for i in range(self.start[n], self.start[n + 1]):
                e = self.edge[i]
                if not self.free[e] or (self.terminal[e] >= 0 and self.terminal[e] not in ends):
                    continue
                m = self.target[i]
                if m not in extra:
                    extra[m] = _off(line, self.nodes[m].at) if line else 0.0
                if extra[m] == math.inf:
                    continue
                total = cost + weight[e] + extra[m]
                if total < best.get(m, math.inf) and total < best.get(b, math.inf) + 0.5:
                    best[m], before[m] = total, n
                    heapq.heappush(heap, (total, m))
        return None


ON_A_LEG = 0.125
"""Dislike of a node on a leg of the old way against one at its turns, far under one micro-unit for a way."""


def _off(line: Line, at: Point3) -> float:
    """Dislike of a point: none at a turn of the line, little on a leg, endless off it."""
    if any(same_point(at, turn) for turn in line):
        return 0.0
    return ON_A_LEG if _on(line, at) else math.inf


def _on(line: Line, at: Point3) -> bool:
    """True where a point lies on a line of square or straight legs."""
    x, y, z = at
    for (x0, y0, z0), (x1, y1, z1) in itertools.pairwise(line):
        if not (
            min(x0, x1) - SAME_IN <= x <= max(x0, x1) + SAME_IN
            and min(y0, y1) - SAME_IN <= y <= max(y0, y1) + SAME_IN
            and min(z0, z1) - SAME_IN <= z <= max(z0, z1) + SAME_IN
        ):
            continue
        moves = (abs(x1 - x0) > SAME_IN) + (abs(y1 - y0) > SAME_IN) + (abs(z1 - z0) > SAME_IN)
        if moves < 2:
            return True
        to_a, to_b = math.dist(at, (x0, y0, z0)), math.dist(at, (x1, y1, z1))
        if to_a + to_b < math.dist((x0, y0, z0), (x1, y1, z1)) + SAME_IN / 16:
            return True
    return False


ALIKE_IN = 0.125
"""A line whose length in plan is that of the square ways between its turns has no other turn [in]."""


def _plan_in(line: Sequence[Point3]) -> float:
    return sum(math.hypot(b[0] - a[0], b[1] - a[1]) for a, b in itertools.pairwise(line))


def _square_in(points: Sequence[Point3]) -> float:
    return sum(abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in itertools.pairwise(points))


def point_key(at: Point3) -> tuple[float, ...]:
    """A point to a thousandth, to look it up by."""
    return round(at[0], 3), round(at[1], 3), round(at[2], 3)


def same_point(a: Point3, b: Point3) -> bool:
    """True where two points lie nearer than a sixteenth, axis by axis."""
    return abs(a[0] - b[0]) < SAME_IN and abs(a[1] - b[1]) < SAME_IN and abs(a[2] - b[2]) < SAME_IN
