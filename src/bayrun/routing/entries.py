"""Runs shared out among the ends of an enclosure, so that no edge gets more cable than its knockouts take.

The solver weighs ways, not knockouts. Where an edge of a box has got more than the firm's fill of its bushing
openings and the box has another one with room, the runs that cost least to bring around are laid again there.
Limits of use: area alone; which knockout takes which cable is found when the box is fitted out. A box whose
knockouts nobody gave takes anything; a box that is full on every edge stays so and is told.
Source: arithmetic; bushing openings by trade size as in ``tables/gear.toml``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bayrun.geometry import at_least, at_most, below
from bayrun.house import Enclosure, Job
from bayrun.routing.build import box_terminal, is_box
from bayrun.routing.solver import Errand, Laid, Solver
from bayrun.tables.physics import physics_table

PARTED = 0.95
"""Share of an edge's room that is counted on: cables are parted whole among its knockouts. Our own figure."""


def opening_in(diameter_in: float) -> float:
    """Opening of the bushing in a knockout of this diameter [in]."""
    table = physics_table("gear")
    for row in table["knockout"]:
        if at_least(diameter_in, row["least_in"]) and at_most(diameter_in, row["most_in"]):
            return float(row["bushing_in"])
    return max(diameter_in - 2 * float(table["bushing"]["wall_in"]), 0.0)


def room_of(box: Enclosure, edge: str, fill_max: float) -> float:
    """What the knockouts of one edge take, those for power left out [in2, diameters squared]."""
    if not box.knockouts:
        return float("inf")
    mine = [k for k in box.knockouts if k.edge == edge and k.use != "power"]
    return PARTED * fill_max * sum(opening_in(k.diameter_in) ** 2 for k in mine)


class _Doors:
    """The ends of every box in the graph: what each takes, and the places that lead out of its cell."""

    def __init__(self, job: Job, solver: Solver) -> None:
        self.solver = solver
        self.room: dict[str, float] = {}
        for box in job.built_enclosures:
            for edge in box.entries:
                name = f"{box_terminal(job, box)}/{edge}"
                self.room[name] = room_of(box, edge, job.practice.fill_max)
        cells = {n.end: n.cell for n in solver.mesh.nodes if n.end in self.room and n.cell}
        self.room = {door: room for door, room in self.room.items() if door in cells}
        self.places = {
            door: tuple(i for i, p in enumerate(solver.places) if cell in (p.a, p.b))
            for door, cell in cells.items()
        }

    def of(self, laid: Laid) -> tuple[str, ...]:
        """The doors a laid run goes through: two of them between two boxes."""
        ends = (self.solver.mesh.nodes[n].end for n in laid.nodes)
        return tuple(end for end in ends if end in self.room and is_box(end))

    def loads(self) -> dict[str, float]:
        """Area of cable through each door [in2, diameters squared]."""
        found = dict.fromkeys(self.room, 0.0)
        for laid in self.solver.laid.values():
            for door in self.of(laid):
                found[door] += laid.errand.diameter_in**2
        return found


def share_out(job: Job, solver: Solver, groups: Sequence[Sequence[Errand]], moves: int) -> list[list[Errand]]:
    """Bring runs of an overfull edge around to another edge of the same box, cheapest first.

    Args:
        groups: Runs that may be moved, each group between the same ends; what else is laid stays.
        moves: Of improving afterward, where anything was moved.
    Returns:
        The groups, with what was moved kept from the edge it left.
    """
    found = [list(g) for g in groups]
    if all(len(box.entries) < 2 or not box.knockouts for box in job.built_enclosures):
        return found
    doors = _Doors(job, solver)
    for door in sorted(doors.room):
        others = [d for d in doors.room if d != door and d.split("/")[0] == door.split("/")[0]]
        loads = doors.loads()
        if not others or not below(doors.room[door], loads[door]):
            continue
        tried: list[tuple[float, int, list[Errand], str, float]] = []
        for i, group in enumerate(found):
            trial = _trial(solver, doors, door, group)
            if trial is not None:
                tried.append((trial[0], i, *trial[1:]))
        for _, i, moved, other, area in sorted(tried, key=lambda t: (t[0], t[1])):
            loads = doors.loads()
            if not below(doors.room[door], loads[door]):
                break
            if below(doors.room[other], loads[other] + area):
                continue
            stand, many = solver.stand(), len(solver.laid)
            _lead(solver, moved)
            if len(solver.laid) < many or below(doors.room[other], doors.loads()[other]):
                solver.go_back(stand)
                continue
            now = {e.run: e for e in moved}
            found[i] = [now.get(e.run, e) for e in found[i]]
    if found != [list(g) for g in groups]:
        stand, loads = solver.stand(), doors.loads()
        solver.polish(found, moves)
        after = doors.loads()
        if any(below(max(doors.room[d], loads[d]), after[d]) for d in doors.room):
            solver.go_back(stand)  # made cheaper by filling an edge again
    return found


def _lead(solver: Solver, moved: Sequence[Errand]) -> None:
    """Lay runs again, looking through the whole house: their lanes may lead to the edge they leave."""
    for errand in moved:
        solver.lift(errand.run)
    for errand in moved:
        nodes = solver.search_all(errand)
        if nodes is not None:
            solver.lay_on(errand, nodes)


def _trial(
    solver: Solver, doors: _Doors, door: str, group: Sequence[Errand]
) -> tuple[float, list[Errand], str, float] | None:
    """(price for each unit of area, errands, door, area) of bringing a group around; None where it cannot."""
    mine = [e for e in group if e.run in solver.laid and door in doors.of(solver.laid[e.run])]
    if not mine:
        return None
    moved = [replace(e, avoid=(*e.avoid, *doors.places[door])) for e in mine]
    stand, cost, many = solver.stand(), solver.cost(), len(solver.laid)
    _lead(solver, moved)
    area = sum(e.diameter_in**2 for e in moved)
    answer: tuple[float, list[Errand], str, float] | None = None
    if len(solver.laid) == many:
        now = {d for e in moved for d in doors.of(solver.laid[e.run])}
        other = next((d for d in sorted(now) if d.split("/")[0] == door.split("/")[0]), "")
        if door not in now and other:
            answer = ((solver.cost() - cost) / area, moved, other, area)
    solver.go_back(stand)
    return answer
