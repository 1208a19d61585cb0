"""Runs of the plan last issued, laid again exactly as they were where nothing asks them to move."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from bayrun.geometry import at_most, below, near
from bayrun.house import WishedRun
from bayrun.routing.build import is_box
from bayrun.routing.records import Cell, Point3
from bayrun.routing.solver import Errand, Solver
from bayrun.routing.walker import Line, Walker, point_key, same_point
from bayrun.wiring import Hole, PathPoint, Run, Wiring

Slotted = tuple[int, int]
"""(place, slot) of the graph."""


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
            if not is_box(name) and not same_point(nodes[terminals[name]].at, (point.x, point.y, point.z)):
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
                if same_point(slot.at, (hole.x, hole.y, hole.z))
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
    if not all(same_point((a.x, a.y, a.z), (b.x, b.y, b.z)) for a, b in pairs):
        return None
    drawn = {(point_key((a.x, a.y, a.z)), point_key((b.x, b.y, b.z))) for a, b in itertools.pairwise(new)}
    spaces = [c for c in cells if c.kind == "open"]
    for a, b in itertools.pairwise(old.path):
        if (point_key((a.x, a.y, a.z)), point_key((b.x, b.y, b.z))) in drawn:
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
