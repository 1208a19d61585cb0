"""Runs of the plan last issued, laid again exactly as they were where nothing asks them to move."""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from bayrun.geometry import at_most, below, near
from bayrun.house import WishedRun
from bayrun.routing.build import is_box
from bayrun.routing.mesh import Mesh
from bayrun.routing.records import Cell, Place, Point3
from bayrun.routing.solver import Errand, Solver
from bayrun.wiring import Hole, PathPoint, Run, Wiring

SAME_IN = 0.0625
"""Holes and ends nearer than a sixteenth are the same [in]."""

Line = tuple[Point3, ...]
Slotted = tuple[int, int]
"""(place, slot) of the graph."""


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
                self.at.setdefault(_key(node.at), []).append(n)

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
        return [n for n in self.target[low:high] if self.nodes[n].cell and _near(self.nodes[n].at, at)]

    def _along(self, a: int, b: int, line: Line) -> tuple[int, ...] | None:
        """The quick way: from node to node at the line's turns, where single edges join them."""
        way, points = [a], [line[0]] if line else []
        for turn in line:
            here = [n for n in self.at.get(_key(turn), ()) if n != way[-1]]
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
    if any(_near(at, turn) for turn in line):
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


@dataclass(frozen=True, slots=True)
class Kept:
    """What was laid as before.

    Args:
        bits_in: The bit each hole had, by its key in the solver [in].
    """

    runs: tuple[int, ...]
    bits_in: Mapping[int, float]


class Keeper:
    """Lays runs as the base has them."""

    def __init__(
        self,
        solver: Solver,
        walker: Walker,
        base: Wiring,
        instead: Mapping[str, tuple[int, ...]],
        keys: Mapping[str, int],
    ) -> None:
        """Prepare to keep.

        Args:
            instead: Places that stand for a hole of the base by choice, by the hole's name.
            keys: Holes that are open already, by the base's name: drilled ones.
        """
        self.solver, self.walker = solver, walker
        self.holes: dict[str, Hole] = {h.id: h for h in base.holes}
        self.runs: dict[str, Run] = {r.id: r for r in base.runs}
        self.instead = instead
        self.keys: dict[str, int] = dict(keys)
        self.bits_in: dict[int, float] = {}
        self.sides: dict[int, list[int]] = {}
        for n, node in enumerate(solver.mesh.nodes):
            if node.place >= 0:
                self.sides.setdefault(node.place, [-1, -1])[node.side] = n
        self.of_member: dict[str, list[int]] = {}
        self.of_wall: dict[str, list[int]] = {}
        for i, place in enumerate(solver.places):
            for m in (place.member, *place.plies) if place.member else ():
                self.of_member.setdefault(m, []).append(i)
            if place.wall and place.member:
                self.of_wall.setdefault(place.wall, []).append(i)
        self.at: dict[str, tuple[Slotted, ...]] = {}
        self.radii: dict[str, dict[str, float]] = {}
        self.names: Sequence[str] = ()
        self.twins: dict[tuple[object, ...], tuple[tuple[int, ...], dict[int, tuple[str, int]]]] = {}

    def keep(
        self,
        errands: Sequence[Errand],
        wished: Sequence[WishedRun],
        refused: Callable[[WishedRun], tuple[int, ...]],
    ) -> Kept:
        """Lay every run that can lie as it did; the others are left to be laid anew.

        Args:
            refused: Places a person does not want a run to take any more.
        """
        made = []
        self.names = [run.id for run in wished]
        for errand in errands:
            run = self.runs.get(wished[errand.run].id)
            if run is None or not self._same(run, wished[errand.run], errand):
                continue
            if self._lay(run, errand, set(refused(wished[errand.run]))):
                made.append(errand.run)
        return Kept(tuple(made), self.bits_in)

    def _same(self, run: Run, wished: WishedRun, errand: Errand) -> bool:
        """True where nobody asked for another cable or moved one of its ends."""
        if (run.kind, run.from_end, run.to_end) != (wished.kind, wished.from_end, wished.to_end):
            return False
        nodes, terminals = self.solver.mesh.nodes, self.solver.mesh.terminals
        for name, point in ((errand.source, run.path[0]), (errand.target, run.path[-1])):
            if name not in terminals:
                return False
            if not is_box(name) and not _near(nodes[terminals[name]].at, (point.x, point.y, point.z)):
                return False
        return True

    def _slots(self, name: str) -> tuple[Slotted, ...]:
        """Where a hole of the base would be drilled in the graph as it is now."""
        if name in self.at:
            return self.at[name]
        hole = self.holes[name]
        if name in self.keys:
            known = self.solver.holes[self.keys[name]]
            found: tuple[Slotted, ...] = ((known.place, known.slot),)
        elif name in self.instead:
            found = tuple((p, 0) for p in self.instead[name])
        else:
            near = self.of_member.get(hole.member) or self.of_wall.get(hole.wall, [])
            found = tuple(
                (i, k)
                for i in near
                if self.solver.places[i].axis == hole.axis and not self.solver.places[i].set_by
                for k, slot in enumerate(self.solver.places[i].slots)
                if _near(slot.at, (hole.x, hole.y, hole.z))
            )
        self.at[name] = found
        return found

    def _lay(self, run: Run, errand: Errand, refused: set[int]) -> bool:
        terminals = self.solver.mesh.terminals
        ends = terminals[errand.source], terminals[errand.target]
        twin = (run.path, ends, errand.inch, tuple(sorted(refused)))
        if twin in self.twins and self._lay_like(errand, *self.twins[twin]):
            return True
        way: list[int] = [ends[0]]
        taken: list[tuple[str, int, int]] = []
        names, lines = _lines(run)
        for name, line in zip(names, lines, strict=False):
            if name not in self.holes:
                return False
            step = self._step(name, way[-1], ends, errand, line)
            if step is None:
                return False
            nodes, place, slot = step
            way += nodes
            taken.append((name, place, slot))
        last = self.walker.between(way[-1], ends[1], ends, errand.inch, lines[-1])
        if last is None:
            return False
        way += last[1:]
        passed = self.solver.places_on(way)
        if refused & set(passed) or len(set(passed)) < len(passed):
            return False
        keys: dict[int, int] = {}
        for name, place, slot in taken:
            keys[place] = self._key(name, place, slot)
        self.solver.lay_in(errand, tuple(way), keys)
        self.twins[twin] = tuple(way), {place: (name, slot) for name, place, slot in taken}
        return True

    def _lay_like(self, errand: Errand, way: tuple[int, ...], taken: Mapping[int, tuple[str, int]]) -> bool:
        """Lay a run beside its twin, where the same holes still have room."""
        keys = {place: self._open(place, slot) for place, (_, slot) in taken.items()}
        if not all(
            keys[place] >= 0 and self._room(name, place, slot, errand)
            for place, (name, slot) in taken.items()
        ):
            return False
        self.solver.lay_in(errand, way, keys)
        return True

    def _step(
        self, name: str, here: int, ends: tuple[int, int], errand: Errand, line: Line
    ) -> tuple[list[int], int, int] | None:
        """(nodes to add, place, slot) of the next hole of a way, where it still has room."""
        for place, slot in self._slots(name):
            if not self._room(name, place, slot, errand):
                continue
            one, other = self.sides[place]
            cell, nodes_of = self.solver.mesh.nodes[here].cell, self.solver.mesh.nodes
            if nodes_of[one].cell != cell and nodes_of[other].cell == cell:
                one, other = other, one  # the side in this clear space first: the other takes a long search
            for enter, leave in ((one, other), (other, one)):
                nodes = self.walker.between(here, enter, ends, errand.inch, line)
                if nodes is not None and leave not in nodes:
                    return [*nodes[1:], leave], place, slot
        return None

    def _open(self, place: int, slot: int) -> int:
        for key in self.solver.by_place.get(place, []):
            if self.solver.holes[key].slot == slot:
                return key
        return -1

    def _room(self, name: str, place: int, slot: int, errand: Errand) -> bool:
        diameter_in = errand.diameter_in
        key = self._open(place, slot)
        if key >= 0:
            return self._lay_together(name, key, errand) or self.solver.has_room(key, diameter_in)
        one = self.solver.places[place]
        return at_most(diameter_in**2, self.solver.fill_max * one.diameter_in**2) and self.solver.is_free(
            place, slot
        )

    def _lay_together(self, name: str, key: int, errand: Errand) -> bool:
        """True where the base has this run and all that lie here now in one hole of no larger size."""
        hole, now = self.holes[name], self.solver.holes[key]
        place = self.solver.places[now.place]
        if below(place.bit_in or place.diameter_in, hole.diameter_in):
            return False
        if name not in self.radii:
            self.radii[name] = dict(zip(hole.occupants, (c.r for c in hole.circles), strict=False))
        sizes = {**{r: self.solver.sizes[r] for r in now.runs}, errand.run: errand.diameter_in}
        known = self.radii[name]
        if any(r < 0 or not near(2 * known.get(self.names[r], 0.0), d) for r, d in sizes.items()):
            return False
        size_in = place.bit_in or place.diameter_in
        return at_most(sum(d * d for d in sizes.values()), self.solver.fill_max * size_in**2)

    def _key(self, name: str, place: int, slot: int) -> int:
        key = self._open(place, slot)
        if key < 0:
            key = self.solver.open_at(place, slot)
            self.bits_in[key] = self.holes[name].diameter_in
        return key


def _lines(run: Run) -> tuple[list[str], list[Line]]:
    """Holes of a run in order, and its line before each and after the last."""
    names: list[str] = []
    lines: list[list[Point3]] = [[]]
    for p in run.path:
        lines[-1].append((p.x, p.y, p.z))
        if p.hole:
            names.append(p.hole)
            lines.append([(p.x, p.y, p.z)])
    return names, [tuple(line) for line in lines]


def old_line(old: Run, new: Sequence[PathPoint], cells: Sequence[Cell]) -> tuple[PathPoint, ...] | None:
    """The line a run had, where it passes the same holes and nothing stands in its way now.

    A drilled hole is seen from where it really is, and so a line over open space may be drawn a little
    aside; nobody who pulls would call that another way.

    Args:
        new: The line as drawn now.
        cells: Of the passage graph.
    """
    ends = (old.path[0], new[0]), (old.path[-1], new[-1])
    holes = [p for p in old.path if p.hole], [p for p in new if p.hole]
    pairs = [*ends, *zip(*holes, strict=False)]
    if [p.hole for p in holes[0]] != [p.hole for p in holes[1]]:
        return None
    if not all(_near((a.x, a.y, a.z), (b.x, b.y, b.z)) for a, b in pairs):
        return None
    drawn = {(_key((a.x, a.y, a.z)), _key((b.x, b.y, b.z))) for a, b in itertools.pairwise(new)}
    spaces = [c for c in cells if c.kind == "open"]
    for a, b in itertools.pairwise(old.path):
        if (_key((a.x, a.y, a.z)), _key((b.x, b.y, b.z))) in drawn:
            continue
        space = next((c for c in spaces if c.rect.holds(a.x, a.y) and c.rect.holds(b.x, b.y)), None)
        low, high = min(a.z, b.z), max(a.z, b.z)
        if (
            space is None
            or space.straight
            or not (below(low, space.run_z + 6.0) and below(space.run_z - 6.0, high))
        ):
            return None
        if any(r.crossed_by(a.x, a.y, b.x, b.y) for r in space.blocked):
            return None
    members = {p.hole: p.member for p in new if p.hole}
    return tuple(replace(p, member=members[p.hole]) if p.hole else p for p in old.path)


ALIKE_IN = 0.125
"""A line whose length in plan is that of the square ways between its turns has no other turn [in]."""


def _plan_in(line: Sequence[Point3]) -> float:
    return sum(math.hypot(b[0] - a[0], b[1] - a[1]) for a, b in itertools.pairwise(line))


def _square_in(points: Sequence[Point3]) -> float:
    return sum(abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in itertools.pairwise(points))


def _key(at: Point3) -> tuple[float, ...]:
    return round(at[0], 3), round(at[1], 3), round(at[2], 3)


def _near(a: Point3, b: Point3) -> bool:
    return abs(a[0] - b[0]) < SAME_IN and abs(a[1] - b[1]) < SAME_IN and abs(a[2] - b[2]) < SAME_IN
