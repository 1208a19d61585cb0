"""The passage graph as flat arrays: what the shortest-way search walks."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from bayrun.geometry import Rect
from bayrun.routing.build import Passages
from bayrun.routing.memo import Memo
from bayrun.routing.records import Cell, Endpoint, Place, Point3
from bayrun.routing.ways import face_of, in_bay
from bayrun.routing.zones import Dear, leg_extra

Floats = Any
Ints = Any


@dataclass(frozen=True, slots=True)
class Node:
    """One point of the graph, seen from one cell."""

    at: Point3
    cell: str
    place: int = -1
    side: int = 0
    end: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """Nodes and edges; ``length`` is already weighed by how awkward its space is.

    Args:
        start: Row pointer of each node into ``target`` and ``edge``.
        target, edge: Neighbor and edge index of each half edge.
        length: Of each edge [in].
        place: Index of the place an edge passes, or -1.
        terminal: Node of the terminal an edge touches, or -1: only a run that ends there may take it.
    """

    nodes: tuple[Node, ...]
    terminals: dict[str, int]
    start: Ints
    target: Ints
    edge: Ints
    length: Floats
    place: Ints
    terminal: Ints


@dataclass(frozen=True, slots=True, eq=False)
class _Patch:
    """The edges of one cell, its own nodes first counted after those that were there.

    Args:
        cell: Kept so that its identity stays its own.
        nodes: Nodes it adds.
        src, dst: By place among the cell's members, then among its added nodes.
    """

    cell: Cell
    nodes: tuple[Node, ...]
    src: Ints
    dst: Ints
    length: Floats


class _Weaver:
    def __init__(self, passages: Passages, memo: Memo | None) -> None:
        self.cells = {c.id: c for c in passages.cells}
        self.places = passages.places
        self.nodes: list[Node] = []
        self.src: list[int] = []
        self.dst: list[int] = []
        self.len: list[float] = []
        self.plc: list[int] = []
        self.term: list[int] = []
        self.in_cell: dict[str, list[int]] = {}
        self.terminals: dict[str, int] = {}
        for i, place in enumerate(passages.places):
            self._place(i, place)
        for end in passages.endpoints:
            self._end(end)
        self.patches: list[tuple[Ints, Ints, Floats]] = []
        for cell in passages.cells:
            members = self.in_cell.get(cell.id, [])
            if not members and cell.kind != "open":
                continue
            key = ("patch", id(cell), tuple(self._stands(n) for n in members))
            patch = self._patch(cell, members) if memo is None else memo.of(key, self._maker(cell, members))
            where = np.concatenate(
                [np.array(members, dtype=np.int64), np.arange(len(patch.nodes)) + len(self.nodes)]
            )
            self.nodes += patch.nodes
            self.patches.append((where[patch.src], where[patch.dst], patch.length))

    def _stands(self, n: int) -> tuple[Point3, str]:
        """What the edges of a node in its cell depend on."""
        node = self.nodes[n]
        return node.at, face_of(node.end, self.places[node.place].axis if node.place >= 0 else None)

    def _maker(self, cell: Cell, members: Sequence[int]) -> Callable[[], _Patch]:
        return lambda: self._patch(cell, members)

    def _patch(self, cell: Cell, members: Sequence[int]) -> _Patch:
        """Weave one cell, and take off again what that added."""
        nodes, edges = len(self.nodes), len(self.src)
        if cell.kind == "bay":
            self._all_pairs(cell, members)
        elif cell.kind == "strip":
            self._chain(cell, members)
        else:
            self._open(cell, members)
        local = {n: i for i, n in enumerate(members)}
        local.update((n, len(members) + n - nodes) for n in range(nodes, len(self.nodes)))
        made = _Patch(
            cell,
            tuple(self.nodes[nodes:]),
            np.array([local[n] for n in self.src[edges:]], dtype=np.int64),
            np.array([local[n] for n in self.dst[edges:]], dtype=np.int64),
            np.array(self.len[edges:], dtype=float),
        )
        del self.nodes[nodes:]
        for column in (self.src, self.dst, self.len, self.plc, self.term):
            del column[edges:]
        return made

    def _node(self, node: Node) -> int:
        self.nodes.append(node)
        index = len(self.nodes) - 1
        if node.cell:
            self.in_cell.setdefault(node.cell, []).append(index)
        return index

    def _edge(self, a: int, b: int, length: float, place: int = -1, terminal: int = -1) -> None:
        self.src.append(a)
        self.dst.append(b)
        self.len.append(length)
        self.plc.append(place)
        self.term.append(terminal)

    def _place(self, i: int, place: Place) -> None:
        slot = place.slots[0]
        a = self._node(Node(slot.a, place.a, i, 0))
        b = self._node(Node(slot.b, place.b, i, 1))
        self._edge(a, b, _square(slot.a, slot.b), i)

    def _end(self, end: Endpoint) -> None:
        name = end.id.split("/")[0]
        if name not in self.terminals:
            self.terminals[name] = self._node(Node(end.at, "", end=name))
        node = self._node(Node(end.at, end.cell, end=end.id))
        self._edge(self.terminals[name], node, end.extra_in, terminal=self.terminals[name])

    def _all_pairs(self, cell: Cell, members: Sequence[int]) -> None:
        for i, a in enumerate(members):
            for b in members[i + 1 :]:
                length = cell.factor * _square(self.nodes[a].at, self.nodes[b].at)
                self._edge(a, b, length + (self._bay_extra(cell, a, b) if cell.dear else 0.0))

    def _bay_extra(self, cell: Cell, a: int, b: int) -> float:
        """What the square way between two points of a bay costs more along power."""
        x0, y0, dx, dy, base = cell.line
        faces = [
            face_of(n.end, self.places[n.place].axis if n.place >= 0 else None)
            for n in (self.nodes[a], self.nodes[b])
        ]
        points = [
            ((p[0] - x0) * dx + (p[1] - y0) * dy, p[2] - base)
            for p in in_bay((dx, dy), self.nodes[a].at, self.nodes[b].at, *faces)
        ]
        return sum(leg_extra(cell.dear, p, q) for p, q in itertools.pairwise(points))

    def _chain(self, cell: Cell, members: Sequence[int]) -> None:
        """Along a strip: one node for each station, joined in order; spurs to what leaves there."""
        axis = 0 if cell.axis == "x" else 1
        middle = cell.rect.center[1 - axis]
        if cell.crossing_only:
            for i, a in enumerate(members):
                for b in members[i + 1 :]:
                    if abs(self.nodes[a].at[axis] - self.nodes[b].at[axis]) < 0.01:
                        self._edge(a, b, _square(self.nodes[a].at, self.nodes[b].at))
            return
        order = sorted(members, key=lambda n: (self.nodes[n].at[axis], n))
        last = -1
        for n in order:
            at = self.nodes[n].at
            point = (at[0], middle, cell.run_z) if axis == 0 else (middle, at[1], cell.run_z)
            if last >= 0 and abs(self.nodes[last].at[axis] - at[axis]) < 0.01:
                station = last
            else:
                station = self._node(Node(point, ""))
                if last >= 0:
                    before = self.nodes[last].at
                    extra = leg_extra(cell.dear, before[:2], point[:2]) if cell.dear else 0.0
                    self._edge(last, station, cell.factor * _square(before, point) + extra)
                last = station
            self._edge(n, station, cell.factor * _square(at, point))

    def _open(self, cell: Cell, members: Sequence[int]) -> None:
        """Every pair in open space that an L square to the framing joins, and corners to go around."""
        points = [self.nodes[n].at for n in members]
        indexes = list(members)
        inside = [p[:2] for p in points]
        for rect in cell.blocked:
            if not any(_near_rect(rect, p) for p in inside):
                continue
            out = rect.grown(2.0)
            for x, y in ((out.u0, out.v0), (out.u1, out.v0), (out.u0, out.v1), (out.u1, out.v1)):
                if cell.rect.holds(x, y) and not any(r.holds(x, y) for r in cell.blocked):
                    self.nodes.append(Node((x, y, cell.run_z), cell.id))
                    indexes.append(len(self.nodes) - 1)
                    points.append((x, y, cell.run_z))
        if len(indexes) < 2:
            return
        beside = self._beside(cell, indexes) if cell.dear and not cell.straight else []
        at = np.array(points)
        i, j = np.triu_indices(len(indexes), 1)
        rise = np.abs(at[:, 2] - cell.run_z)
        if cell.straight:
            either = straight_free(at[i], at[j], cell.blocked)
            flat = cell.factor * np.hypot(at[i, 0] - at[j, 0], at[i, 1] - at[j, 1])
            flat += slant_extra(cell.dear, at[i], at[j])
        else:
            free = l_free(at[i], at[j], cell.blocked)
            either = free[0] | free[1]
            flat = cell.factor * (np.abs(at[i, 0] - at[j, 0]) + np.abs(at[i, 1] - at[j, 1]))
            if cell.dear:
                extra = l_extras(cell.dear, at[i], at[j])
                flat += np.minimum(np.where(free[0], extra[0], np.inf), np.where(free[1], extra[1], np.inf))
        length = flat + cell.factor * (rise[i] + rise[j])
        for a, b, size in zip(i[either], j[either], length[either], strict=True):
            self._edge(indexes[a], indexes[b], float(size))
        for a, b, size in beside:
            self._edge(a, b, size)

    def _beside(self, cell: Cell, members: Sequence[int]) -> list[tuple[int, int, float]]:
        """Ways to step out of a dear zone and go on along its side: (node, node, weighed length).

        Each point inside a zone gets a point on the zone's side, straight out; those of one side are joined
        in order.
        """
        found: list[tuple[int, int, float]] = []

        def join(a: int, b: int) -> None:
            p, q = self.nodes[a].at, self.nodes[b].at
            if not any(r.crossed_by(p[0], p[1], q[0], q[1]) for r in cell.blocked):
                size = cell.factor * _square(p, q) + leg_extra(cell.dear, p[:2], q[:2])
                found.append((a, b, size))

        for zone in cell.dear:
            inside = [n for n in members if zone.rect.holds(*self.nodes[n].at[:2])]
            for axis, at in zone.beside:
                row: list[int] = []
                for n in sorted(inside, key=lambda n: (self.nodes[n].at[axis], n)):
                    x, y, _ = self.nodes[n].at
                    point = (x, at, cell.run_z) if axis == 0 else (at, y, cell.run_z)
                    if not cell.rect.holds(*point[:2]) or any(r.holds(*point[:2]) for r in cell.blocked):
                        continue
                    if not row or _square(self.nodes[row[-1]].at, point) > 0.01:
                        self.nodes.append(Node(point, cell.id))
                        row.append(len(self.nodes) - 1)
                    join(n, row[-1])
                for a, b in itertools.pairwise(row):
                    join(a, b)
        return found


def _near_rect(rect: Rect, point: tuple[float, ...]) -> bool:
    return rect.grown(600.0).holds(point[0], point[1])


def l_free(a: Floats, b: Floats, blocked: Sequence[Rect]) -> tuple[Floats, Floats]:
    """Whether each pair is joined by an L: first along x then y, and first along y then x.

    Args:
        a, b: Arrays of points, shape (n, >= 2) [in].
        blocked: Rectangles no leg may pass through the inside of.
    """
    x_first = np.ones(len(a), dtype=bool)
    y_first = np.ones(len(a), dtype=bool)
    x_low, x_high = np.minimum(a[:, 0], b[:, 0]), np.maximum(a[:, 0], b[:, 0])
    y_low, y_high = np.minimum(a[:, 1], b[:, 1]), np.maximum(a[:, 1], b[:, 1])
    for r in blocked:
        over_x = (x_low < r.u1) & (x_high > r.u0)
        over_y = (y_low < r.v1) & (y_high > r.v0)

        def at_y(y: Floats, over: Floats = over_x, rect: Rect = r) -> Floats:
            return over & (y > rect.v0) & (y < rect.v1)

        def at_x(x: Floats, over: Floats = over_y, rect: Rect = r) -> Floats:
            return over & (x > rect.u0) & (x < rect.u1)

        x_first &= ~(at_y(a[:, 1]) | at_x(b[:, 0]))
        y_first &= ~(at_x(a[:, 0]) | at_y(b[:, 1]))
    return x_first, y_first


def straight_free(a: Floats, b: Floats, blocked: Sequence[Rect]) -> Floats:
    """Whether the straight line of each pair meets no blocked rectangle.

    Args:
        a, b: Arrays of points, shape (n, >= 2) [in].
        blocked: Rectangles no line may pass through the inside of.
    """
    free = np.ones(len(a), dtype=bool)
    for r in blocked:
        low, high = np.zeros(len(a)), np.ones(len(a))
        for axis, near_side, far_side in ((0, r.u0, r.u1), (1, r.v0, r.v1)):
            step = b[:, axis] - a[:, axis]
            still = np.abs(step) < 1e-12
            safe = np.where(still, 1.0, step)
            t0, t1 = (near_side - a[:, axis]) / safe, (far_side - a[:, axis]) / safe
            inside = (a[:, axis] > near_side) & (a[:, axis] < far_side)
            low = np.where(still, np.where(inside, low, 1.0), np.maximum(low, np.minimum(t0, t1)))
            high = np.where(still, np.where(inside, high, 0.0), np.minimum(high, np.maximum(t0, t1)))
        free &= ~(low < high - 1e-9)
    return free


def l_extras(dear: Sequence[Dear], a: Floats, b: Floats) -> tuple[Floats, Floats]:
    """What each pair's two Ls cost more in dear zones: x before y, and y before x [in]."""
    x_first, y_first = np.zeros(len(a)), np.zeros(len(a))
    x_low, x_high = np.minimum(a[:, 0], b[:, 0]), np.maximum(a[:, 0], b[:, 0])
    y_low, y_high = np.minimum(a[:, 1], b[:, 1]), np.maximum(a[:, 1], b[:, 1])
    for zone in dear:
        r = zone.rect
        if zone.axis != 1:
            over = zone.extra * np.maximum(0.0, np.minimum(x_high, r.u1) - np.maximum(x_low, r.u0))
            x_first += np.where((a[:, 1] > r.v0) & (a[:, 1] < r.v1), over, 0.0)
            y_first += np.where((b[:, 1] > r.v0) & (b[:, 1] < r.v1), over, 0.0)
        if zone.axis != 0:
            over = zone.extra * np.maximum(0.0, np.minimum(y_high, r.v1) - np.maximum(y_low, r.v0))
            x_first += np.where((b[:, 0] > r.u0) & (b[:, 0] < r.u1), over, 0.0)
            y_first += np.where((a[:, 0] > r.u0) & (a[:, 0] < r.u1), over, 0.0)
    return x_first, y_first


def slant_extra(dear: Sequence[Dear], a: Floats, b: Floats) -> Floats:
    """What each pair's straight line costs more in dear zones [in]."""
    if not dear:
        return np.zeros(len(a))
    return np.array([leg_extra(dear, (p[0], p[1]), (q[0], q[1])) for p, q in zip(a, b, strict=True)])


def _square(a: Point3, b: Point3) -> float:
    return abs(a[0] - b[0]) + abs(a[1] - b[1]) + abs(a[2] - b[2])


def weave(passages: Passages, memo: Memo | None = None) -> Mesh:
    """The flat graph of a house's passages.

    Args:
        memo: Cells woven before for the same building; the graph is the same with or without.
    """
    w = _Weaver(passages, memo)
    low = np.concatenate([np.array(w.src, dtype=np.int64), *(p[0] for p in w.patches)])
    high = np.concatenate([np.array(w.dst, dtype=np.int64), *(p[1] for p in w.patches)])
    count, more = len(low), len(low) - len(w.src)
    src, dst = np.concatenate([low, high]), np.concatenate([high, low])
    edge = np.concatenate([np.arange(count), np.arange(count)])
    order = np.lexsort((dst, src))
    start = np.zeros(len(w.nodes) + 1, dtype=np.int32)
    np.cumsum(np.bincount(src, minlength=len(w.nodes)), out=start[1:])
    return Mesh(
        nodes=tuple(w.nodes),
        terminals=w.terminals,
        start=start,
        target=dst[order].astype(np.int32),
        edge=edge[order],
        length=np.concatenate([np.array(w.len, dtype=float), *(p[2] for p in w.patches)]),
        place=np.concatenate([np.array(w.plc, dtype=np.int64), np.full(more, -1, dtype=np.int64)]),
        terminal=np.concatenate([np.array(w.term, dtype=np.int64), np.full(more, -1, dtype=np.int64)]),
    )
