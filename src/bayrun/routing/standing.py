"""Done work put into the passage graph and the solver: there from the start, never moved, never closed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from bayrun.cables.circles import Circle as Disk
from bayrun.cables.packing import fits
from bayrun.framing import Cover, Frame, Member
from bayrun.geometry import at_least, at_most
from bayrun.house import Job
from bayrun.routing.allow import Allowance
from bayrun.routing.bores import Bore, Boring
from bayrun.routing.build import Passages
from bayrun.routing.carry import SAME_IN
from bayrun.routing.done import Done, find_done
from bayrun.routing.records import Place
from bayrun.routing.settle import Asked, Settled, never_test
from bayrun.routing.solver import Errand, Solver
from bayrun.wiring import Circle, DoneTold, Frozen, Hole, Run, Wiring


@dataclass(slots=True)
class Stands:
    """Done work in the solver.

    Args:
        runs: Pulled runs as they lie, by their place in the job.
        keys: Hole of the solver for each drilled hole and open passage, by its name in the base.
        drilled: Record of each drilled hole that cables can pass, by its key.
        closed: Drilled holes that no cable can pass now, with what lies in them.
    """

    runs: dict[int, Run] = field(default_factory=dict)
    keys: dict[str, int] = field(default_factory=dict)
    drilled: dict[int, Hole] = field(default_factory=dict)
    closed: list[Hole] = field(default_factory=list)

    def as_drilled(self, key: int, hole: Hole) -> Hole:
        """A hole of the plan; where it is a drilled one, by its own name."""
        known = self.drilled.get(key)
        return hole if known is None else replace(hole, id=known.id, room=known.room or hole.room)


@dataclass(frozen=True, slots=True)
class Standing:
    """The passage graph with the drilled holes in it.

    Args:
        first: Index of the place of the first drilled hole.
        told: Done work that no longer agrees with the job.
    """

    job: Job
    passages: Passages
    done: Done
    first: int

    @property
    def told(self) -> tuple[DoneTold, ...]:
        """Done work that no longer agrees with the job."""
        return self.done.told

    def put(self, solver: Solver, errands: Sequence[Errand]) -> Stands:
        """Open the drilled holes, lay the pulled runs in them."""
        stands = Stands()
        index = self.first
        for number, one in enumerate(self.done.holes):
            if one.place is None:
                stands.closed.append(one.hole)
                continue
            key = solver.open_set(index)
            stands.drilled[key] = one.hole
            stands.keys[one.hole.id or f"done {number}"] = key
            index += 1
        for hole in self.done.passages:
            found = _passage(solver.places, hole)
            if found is None:
                stands.closed.append(replace(hole, occupants=(), circles=()))
            else:
                open_now = {solver.holes[k].slot: k for k in solver.by_place.get(found[0], [])}
                stands.keys[hole.id] = open_now.get(found[1], -1)
                if found[1] not in open_now:
                    stands.keys[hole.id] = solver.open_set(*found)
        self._runs(solver, errands, stands)
        return stands

    def _runs(self, solver: Solver, errands: Sequence[Errand], stands: Stands) -> None:
        by_id = {self.job.runs[e.run].id: e for e in errands}
        sizes = {k.letter: k.diameter_in for k in self.job.practice.cables}
        closed = {h.id: i for i, h in enumerate(stands.closed)}
        for number, run in enumerate(self.done.runs, start=1):
            errand = by_id.get(run.id)
            index = -number if errand is None else errand.run
            diameter_in = sizes.get(run.kind, 0.0)
            if errand is not None:
                stands.runs[index] = run
            for name in run.holes:
                if name in stands.keys:
                    solver.put(stands.keys[name], index, diameter_in)
                elif name in closed and errand is not None:
                    hole = stands.closed[closed[name]]
                    sizes_in = [*(2 * c.r for c in hole.circles), diameter_in]
                    found = fits(hole.diameter_in, sizes_in) or drawn(hole.diameter_in, sizes_in)
                    stands.closed[closed[name]] = replace(
                        hole,
                        occupants=(*hole.occupants, run.id),
                        circles=tuple(Circle(c.x_in, c.y_in, c.radius_in) for c in found),
                    )


def standing(job: Job, frame: Frame, settled: Settled, base: Wiring | None, frozen: Frozen) -> Standing:
    """Find the done work and put its holes into the passage graph; so too holes of the base it would lack."""
    passages = settled.passages
    first = len(passages.places)
    boring = Boring(job, frame, passages)
    done = find_done(job, frame, boring, base, frozen) if frozen else Done()
    places = [d.place for d in done.holes if d.place is not None]
    if base is not None:
        known = {d.hole.id for d in done.holes} | set(moved_holes(base, settled.asked, passages.places))
        places += _again(job, frame, boring, passages.places, [h for h in base.holes if h.id not in known])
    if not places:
        return Standing(job, passages, done, first)
    return Standing(job, replace(passages, places=(*passages.places, *places)), done, first)


def _again(
    job: Job, frame: Frame, boring: Boring, places: Sequence[Place], holes: Sequence[Hole]
) -> list[Place]:
    """Ways through holes of the base that the graph offers no slot for, where they are still right."""
    members = {m.id: m for m in frame.members}
    allowance = Allowance.of(job)
    covers = {**dict(frame.over), **dict(frame.under)}
    shut = never_test(job)
    at: dict[str, list[Place]] = {}
    for place in places:
        for m in (place.member, *place.plies) if place.member else ():
            at.setdefault(m, []).append(place)
    made = []
    for hole in holes:
        member = members.get(hole.member)
        if hole.open_passage or member is None or slot_of(at.get(hole.member, ()), hole) is not None:
            continue
        at_in = hole.up_in if hole.axis == "along" else hole.along_in
        bore = Bore(member, at_in, hole.across_in, hole.diameter_in)
        found = boring.place(bore, f"base {hole.id}", "")
        if isinstance(found, str) or shut(found, found.slots[0]):
            continue
        together = [members[m] for m in (found.member, *found.plies)]
        if stands_right(job, allowance, covers.get(member.id, ()), found, together):
            made.append(found)
    return made


def stands_right(
    job: Job, allowance: Allowance, covers: Sequence[Cover], place: Place, together: Sequence[Member]
) -> bool:
    """True where routing would drill such a hole by itself: size, edge, and a clear way over and under."""
    slot, r = place.slots[0], place.diameter_in / 2
    if any(m.never_drilled for m in together):
        return False
    if place.axis == "up":
        wall = job.wall(place.wall)
        if any(
            c.rect.u0 - r < slot.along_in < c.rect.u1 + r and c.rect.v0 - r < slot.across_in < c.rect.v1 + r
            for c in covers
        ):
            return False
        return any(
            at_least(a.diameter_in, place.diameter_in)
            and at_least(slot.across_in, a.across[0])
            and at_most(slot.across_in, a.across[1])
            for a in allowance.plate(wall, top=place.says == "top plate")
        )
    if place.axis == "along":
        allowed = allowance.stud(job.wall(place.wall), together)
        return allowed is not None and not allowed.fixed and at_least(allowed.diameter_in, place.diameter_in)
    if place.seal:
        return True
    floor = next((f for f in job.frames if f.id == together[0].host), None)
    allowed = None if floor is None else allowance.joist(floor)
    return allowed is not None and not allowed.fixed and at_least(allowed.diameter_in, place.diameter_in)


def slot_of(places: Sequence[Place], hole: Hole) -> tuple[Place, int] | None:
    """The place and slot of the graph a hole lies in, or None."""
    for place in places:
        if place.axis != hole.axis:
            continue
        for k, slot in enumerate(place.slots):
            if max(abs(slot.at[0] - hole.x), abs(slot.at[1] - hole.y), abs(slot.at[2] - hole.z)) < SAME_IN:
                return place, k
    return None


def _passage(places: Sequence[Place], hole: Hole) -> tuple[int, int] | None:
    for i, place in enumerate(places):
        if place.fixed and hole.member in (place.member, *place.plies):
            for k, slot in enumerate(place.slots):
                off = max(abs(slot.at[0] - hole.x), abs(slot.at[1] - hole.y), abs(slot.at[2] - hole.z))
                if off < SAME_IN:
                    return i, k
    return None


def moved_holes(base: Wiring, asked: Sequence[Asked], places: Sequence[Place]) -> dict[str, tuple[int, ...]]:
    """Places that stand for holes of the base by choice, by the holes' names.

    A hole that stood where the choice names it goes to the chosen places; one that stands there already, from
    an earlier plan with the same choice, to its own.
    """
    found: dict[str, tuple[int, ...]] = {}
    for one in asked:
        for hole in base.holes:
            mine = tuple(p for p in one.places if _stands_at(places[p], hole))
            at_in = hole.up_in if hole.axis == "along" else hole.along_in
            if mine:
                found[hole.id] = (*mine, *(p for p in one.places if p not in mine))
            elif hole.member == one.spot.member and abs(at_in - one.spot.at_in) < SAME_IN:
                found.setdefault(hole.id, one.places)
    return found


def _stands_at(place: Place, hole: Hole) -> bool:
    at = place.slots[0].at
    return (
        place.axis == hole.axis
        and max(abs(at[0] - hole.x), abs(at[1] - hole.y), abs(at[2] - hole.z)) < SAME_IN
    )


def drawn(diameter_in: float, sizes: Sequence[float]) -> tuple[Disk, ...]:
    """Circles for cables that are in a hole although no packing of them is known: around its middle.

    Limits of use: they may touch or leave the hole; the rules tell that the hole is overfull.
    """
    ring_in = max(0.0, diameter_in / 2 - max(sizes, default=0.0) / 2)
    turn = 2 * math.pi / max(1, len(sizes))
    return tuple(
        Disk(ring_in * math.cos(i * turn), ring_in * math.sin(i * turn), d / 2) for i, d in enumerate(sizes)
    )
