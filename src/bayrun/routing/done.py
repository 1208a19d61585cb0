"""Work that is done, found again in the framing by its place in the wood; told where it no longer agrees."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from bayrun.framing import Frame, Member
from bayrun.geometry import at_least, at_most, near
from bayrun.house import Job, Wall, location_point, wall_name, wall_point
from bayrun.routing.bores import Bore, Boring
from bayrun.routing.records import Place, Point3
from bayrun.units import feet_and_inches, tape
from bayrun.wiring import DoneHole, DoneTold, Frozen, Hole, PathPoint, Run, Wiring, WoodPlace

NEAR_IN = 0.5
"""A done hole this near to one of the base is that one: a tape on rough wood [in]. Our own figure."""
MOVED_BOX_IN = 0.5
"""A box set within this of where the job has it agrees with it [in]. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Drilled:
    """One drilled hole as it stands in the framing.

    Args:
        hole: With its name, empty where nobody named it; occupants and circles as the base has them.
        place: A way through it for more cables; None where none can pass there now.
    """

    hole: Hole
    place: Place | None


@dataclass(frozen=True, slots=True)
class Done:
    """All done work of a job, resolved.

    Args:
        holes: Drilled ones, in the order given, then those that pulled runs pass.
        passages: Names of open passages of the base that pulled runs pass.
        runs: Pulled runs as they lie.
        told: What no longer agrees with the job.
    """

    holes: tuple[Drilled, ...] = ()
    passages: tuple[Hole, ...] = ()
    runs: tuple[Run, ...] = ()
    told: tuple[DoneTold, ...] = ()


def wood_place(hole: Hole, members: Mapping[str, Member]) -> WoodPlace:
    """The place of a hole that outlives its id."""
    if hole.wall:
        return WoodPlace(hole.wall, hole.along_in, hole.up_in, hole.across_in)
    member = members.get(hole.member)
    host = member.host if member is not None else hole.member.rpartition("/")[0] or hole.member
    return WoodPlace(host, hole.x, hole.z, hole.y)


def world_of(job: Job, at: WoodPlace) -> Point3:
    """The point of the house a place lies at."""
    wall = next((w for w in job.walls if w.id == at.host), None)
    if wall is None:
        return at.along_in, at.across_in, at.up_in
    x, y = wall_point(wall, at.along_in, at.across_in)
    return x, y, job.level(wall.level).subfloor_z_in + at.up_in


def find_done(job: Job, frame: Frame, boring: Boring, base: Wiring | None, frozen: Frozen) -> Done:
    """Find done holes, runs and boxes in the job as it is now."""
    return _Finder(job, frame, boring, base or Wiring((), ()), frozen).find()


class _Finder:
    def __init__(self, job: Job, frame: Frame, boring: Boring, base: Wiring, frozen: Frozen) -> None:
        self.job, self.frame, self.boring, self.base, self.frozen = job, frame, boring, base, frozen
        self.members = {m.id: m for m in frame.members}
        self.walls: dict[str, Wall] = {w.id: w for w in job.walls}
        self.old: dict[str, Hole] = {h.id: h for h in base.holes}
        self.told: list[DoneTold] = []
        self.drilled: dict[str, Drilled] = {}
        self.lost: set[str] = set()

    def find(self) -> Done:
        for number, done in enumerate(self.frozen.holes, start=1):
            self._hole(done, number)
        passages: dict[str, Hole] = {}
        runs = []
        wished = {r.id: r for r in self.job.runs}
        for one in self.frozen.runs:
            run = next((r for r in self.base.runs if r.id == one.run), None)
            wish = wished.get(one.run)
            if run is None and wish is not None and one.path:
                run = Run(one.run, wish.kind, wish.from_end, wish.to_end, one.path, 0.0, 0.0)
            if run is None:
                says = f"run {one.run} is told as pulled, but no plan and nobody says which way"
                self.told.append(DoneTold(one.run, f"run {one.run}", says))
                continue
            run = replace(run, path=one.path) if one.path else run
            self._holes_of(run, passages)
            run = self._renamed(run)
            if wish is None:
                says = f"run {run.id} is pulled and no longer wished: tag it as spare, or take it out"
                self.told.append(DoneTold(run.id, f"run {run.id}", says))
            elif (run.kind, run.from_end, run.to_end) != (wish.kind, wish.from_end, wish.to_end):
                says = f"run {run.id} is pulled with another cable or to another end than is wished now"
                self.told.append(DoneTold(run.id, f"run {run.id}", says))
                run = replace(run, kind=wish.kind, from_end=wish.from_end, to_end=wish.to_end)
            else:
                self._ends(run)
            runs.append(run)
        for box in self.frozen.boxes:
            self._box(box.location, box.at)
        return Done(tuple(self.drilled.values()), tuple(passages.values()), tuple(runs), tuple(self.told))

    # holes

    def _hole(self, done: DoneHole, number: int) -> None:
        old = self.old.get(done.id) if done.id else self._old_at(done)
        name = done.id or (old.id if old is not None else "")
        key = name or f"done {number}"
        member = self._member(done.at)
        words = self._words(done.at)
        called = f"hole {name}" if name else "a hole"
        if member is None:
            says = (
                f"{called} is drilled {words}, where the job now has no wood: measure the framing again, and "
                "say where the cables in it go on"
            )
            self.told.append(DoneTold(name or words, words, says))
            self.lost.add(name)
            return
        bore = self._bore(member, done)
        place = self.boring.place(bore, f"done {key}", "done")
        if isinstance(place, str):
            says = f"{called} is drilled {words}; no cable passes there now: {place}"
            self.told.append(DoneTold(name or words, words, says))
            self.drilled[key] = Drilled(self._made(done, member, old, name), None)
            return
        place = replace(place, bit_in=done.diameter_in, open_price=0)
        slot = place.slots[0]
        hole = Hole(
            id=name,
            member=place.member,
            axis=place.axis,
            along_in=slot.along_in,
            up_in=slot.up_in,
            across_in=slot.across_in,
            x=slot.at[0],
            y=slot.at[1],
            z=slot.at[2],
            diameter_in=done.diameter_in,
            plies=place.plies,
            wall=place.wall,
            level=place.level,
            room=old.room if old is not None else "",
            set_by="done",
        )
        self.drilled[key] = Drilled(hole, place)

    def _old_at(self, done: DoneHole) -> Hole | None:
        at = world_of(self.job, done.at)
        found = [
            (off, h.id, h)
            for h in self.base.holes
            if not h.open_passage and at_most(off := _apart((h.x, h.y, h.z), at), NEAR_IN)
        ]
        return min(found)[2] if found else None

    def _member(self, at: WoodPlace) -> Member | None:
        """The member a place lies in; a plate or stud before blocking."""
        if at.host in self.walls:
            inside = [
                m
                for m in self.frame.of(at.host)
                if at_least(at.along_in, m.along[0])
                and at_most(at.along_in, m.along[1])
                and at_least(at.up_in, m.up[0])
                and at_most(at.up_in, m.up[1])
            ]
        else:
            inside = [
                m
                for m in self.frame.of(at.host)
                if at_least(at.along_in, m.box.x0)
                and at_most(at.along_in, m.box.x1)
                and at_least(at.across_in, m.box.y0)
                and at_most(at.across_in, m.box.y1)
                and at_least(at.up_in, m.box.z0)
                and at_most(at.up_in, m.box.z1)
            ]
        usual = ("stud", "king", "top plate", "bottom plate", "joist")
        return min(inside, key=lambda m: (m.role not in usual, m.role, m.id)) if inside else None

    def _bore(self, member: Member, done: DoneHole) -> Bore:
        at = done.at
        if member.host in self.walls:
            along = "plate" in member.role
            return Bore(member, at.along_in if along else at.up_in, at.across_in, done.diameter_in)
        u = at.along_in if self._along_x(member) else at.across_in
        return Bore(member, u - member.along[0], at.up_in - member.up[0], done.diameter_in)

    def _along_x(self, member: Member) -> bool:
        return near(member.along[0], member.box.x0) and near(member.along[1], member.box.x1)

    def _made(self, done: DoneHole, member: Member, old: Hole | None, name: str) -> Hole:
        """A drilled hole no cable can pass, as a record."""
        if old is not None:
            return replace(
                old, id=name, occupants=(), circles=(), diameter_in=done.diameter_in, set_by="done"
            )
        bore = self._bore(member, done)
        x, y, z = world_of(self.job, done.at)
        wall = self.walls.get(member.host)
        plate = "plate" in member.role
        return Hole(
            id=name,
            member=member.id,
            axis="across" if wall is None else "up" if plate else "along",
            along_in=bore.at_in if wall is None or plate else (member.along[0] + member.along[1]) / 2,
            up_in=z if wall is None else done.at.up_in,
            across_in=bore.across_in or 0.0,
            x=x,
            y=y,
            z=z,
            diameter_in=done.diameter_in,
            wall=wall.id if wall is not None else "",
            level=wall.level if wall is not None else "",
            set_by="done",
        )

    def _words(self, at: WoodPlace) -> str:
        wall = self.walls.get(at.host)
        if wall is None:
            return f"in {at.host} at x {tape(at.along_in)}, y {tape(at.across_in)}"
        along = f"{tape(at.along_in)} along {wall_name(wall, at.along_in)}"
        return f"{along}, {tape(at.up_in)} above the subfloor"

    # runs

    def _holes_of(self, run: Run, passages: dict[str, Hole]) -> None:
        """A pulled run's holes are drilled, whoever forgot to say so."""
        for name in run.holes:
            hole = self.old.get(name)
            if hole is None or name in self.drilled or name in self.lost:
                continue
            if hole.open_passage:
                passages[name] = hole
                continue
            self._hole(DoneHole(wood_place(hole, self.members), hole.diameter_in, name), 0)

    def _renamed(self, run: Run) -> Run:
        """The run with the members of its holes as the framing names them now."""
        points = []
        for p in run.path:
            found = self.drilled.get(p.hole)
            if p.hole and found is None and (p.hole in self.lost or p.hole not in self.old):
                p = PathPoint(p.x, p.y, p.z)
            elif found is not None and p.member not in (found.hole.member, *found.hole.plies):
                p = replace(p, member=found.hole.member)
            points.append(p)
        return replace(run, path=tuple(points))

    def _ends(self, run: Run) -> None:
        for end, point in ((run.from_end, run.path[0]), (run.to_end, run.path[-1])):
            if end.type != "location":
                continue
            location = next((q for q in self.job.locations if q.id == end.id), None)
            if location is None:
                continue
            off_in = _apart(location_point(self.job, location), (point.x, point.y, point.z))
            if not at_most(off_in, MOVED_BOX_IN):
                says = (
                    f"run {run.id} is pulled to {feet_and_inches(off_in)} from where {end.id} is now: "
                    "set the box where the cable is, or pull another"
                )
                self.told.append(DoneTold(run.id, f"{end.id} in {location.room}", says))

    def _box(self, name: str, at: WoodPlace) -> None:
        location = next((q for q in self.job.locations if q.id == name), None)
        if location is None:
            says = f"the box of {name} is set {self._words(at)}, and the job has no such location any more"
            self.told.append(DoneTold(name, self._words(at), says))
            return
        real, planned = world_of(self.job, at), location_point(self.job, location)
        # a box is known by where it stands along and up; how deep it sits is the finish's matter
        flat = replace(at, across_in=0.0)
        wall = self.walls.get(at.host)
        if wall is not None and location.wall == wall.id and location.offset_in is not None:
            real = world_of(self.job, flat)
            x, y = wall_point(wall, location.offset_in, 0.0)
            planned = (x, y, planned[2])
        if not at_most(_apart(real, planned), MOVED_BOX_IN):
            off = feet_and_inches(_apart(real, planned))
            says = (
                f"the box of {name} is set {self._words(at)}, {off} from where the job has it: "
                "move the location in the job to where it is, or move the box"
            )
            self.told.append(DoneTold(name, f"{name} in {location.room}", says))


def _apart(a: Sequence[float], b: Sequence[float]) -> float:
    return float(sum((p - q) ** 2 for p, q in zip(a, b, strict=True)) ** 0.5)
