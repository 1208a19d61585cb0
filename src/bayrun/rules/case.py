"""What every rule looks at: job, frame, wiring, the clauses in force, and quick ways to look things up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from bayrun.framing.records import Bay, Cover, Frame, Member
from bayrun.geometry import near
from bayrun.house import Choice, FloorFrame, Job, Wall
from bayrun.house.hole_choices import ChoiceError, Spot, spot_of
from bayrun.limits import Piece, piece_of
from bayrun.tables import Adopted, adopt_careful
from bayrun.wiring import Hole, NailPlate, Run, Seal, Strap, Wiring
from bayrun.wiring.signals import RunSignal, run_signals


@dataclass(frozen=True, slots=True)
class Case:
    """One plan laid out for the rules.

    Args:
        plates, straps, seals: As counted from the plan; None where nobody has counted yet: rules about
            missing ones then keep silent.
        members, walls, frames, runs: By id.
        holes_of: Holes of each member, other plies included, in plan order.
        doubled: Ids of studs the framer answered are doubled.
        added: Choices of nail plates, straps, seals and steel, by kind.
    """

    job: Job
    frame: Frame
    wiring: Wiring
    adopted: Adopted
    plates: tuple[NailPlate, ...] | None
    straps: tuple[Strap, ...] | None
    seals: tuple[Seal, ...] | None
    members: Mapping[str, Member]
    walls: Mapping[str, Wall]
    frames: Mapping[str, FloorFrame]
    runs: Mapping[str, Run]
    holes_of: Mapping[str, tuple[Hole, ...]]
    bays_of: Mapping[str, tuple[Bay, ...]]
    covers: Mapping[str, tuple[Cover, ...]]
    doubled: frozenset[str]
    signals: tuple[RunSignal, ...]
    added: Mapping[str, tuple[Choice, ...]]

    def piece(self, member: Member) -> Piece:
        """The member in the words of the hole clauses, with what the job knows of it."""
        frame = self.frames.get(member.host)
        return piece_of(
            member,
            wall=self.walls.get(member.host),
            knockouts=None if frame is None else frame.knockouts,
            doubled=True if member.id in self.doubled else None,
        )

    def person_added(self, kind: str, hole: Hole, face: str = "") -> bool:
        """True where a person's choice puts a nail plate, strap or seal at this hole (on this face)."""
        here = spot_at(hole)
        for choice in self.added.get(kind, ()):
            about, _, named = choice.about.rpartition("/") if face else (choice.about, "", "")
            try:
                spot = spot_of(about)
            except ChoiceError:
                continue
            if named == face and spot.member == here.member and near(spot.at_in, here.at_in):
                return True
        return False

    def drilled(self) -> tuple[tuple[Hole, Member], ...]:
        """Each hole with each member it passes, in plan order; members the frame lacks are left out."""
        return tuple(
            (hole, self.members[name])
            for hole in self.wiring.holes
            for name in (hole.member, *hole.plies)
            if name in self.members
        )


def spot_at(hole: Hole) -> Spot:
    """The place of a hole on the wood, as choices name it."""
    return Spot(hole.member, hole.up_in if hole.axis == "along" else hole.along_in)


def lay_open(
    job: Job,
    frame: Frame,
    wiring: Wiring,
    *,
    plates: tuple[NailPlate, ...] | None = None,
    straps: tuple[Strap, ...] | None = None,
    seals: tuple[Seal, ...] | None = None,
) -> Case:
    """Index one plan for the rules."""
    holes: dict[str, list[Hole]] = {}
    for hole in wiring.holes:
        for name in (hole.member, *hole.plies):
            holes.setdefault(name, []).append(hole)
    bays: dict[str, list[Bay]] = {}
    for bay in frame.bays:
        bays.setdefault(bay.wall, []).append(bay)
    added: dict[str, list[Choice]] = {}
    for choice in job.choices:
        added.setdefault(choice.kind, []).append(choice)
    answered = (c.about for c in job.choices if c.kind == "answer" and c.value == "doubled")
    return Case(
        job=job,
        frame=frame,
        wiring=wiring,
        adopted=adopt_careful(job.practice.editions, job.practice.amendments),
        plates=plates,
        straps=straps,
        seals=seals,
        members=MappingProxyType({m.id: m for m in frame.members}),
        walls=MappingProxyType({w.id: w for w in job.walls}),
        frames=MappingProxyType({f.id: f for f in job.frames}),
        runs=MappingProxyType({r.id: r for r in wiring.runs}),
        holes_of=MappingProxyType({name: tuple(found) for name, found in holes.items()}),
        bays_of=MappingProxyType({wall: tuple(found) for wall, found in bays.items()}),
        covers=MappingProxyType({**dict(frame.over), **dict(frame.under)}),
        doubled=frozenset(answered),
        signals=run_signals(job, wiring),
        added=MappingProxyType({kind: tuple(found) for kind, found in added.items()}),
    )
