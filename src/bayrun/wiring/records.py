"""Runs, holes and what belongs to them. Records only: made by routing, read by all that follows."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from bayrun.house import End

Axis = Literal["along", "up", "across"]


@dataclass(frozen=True, slots=True)
class PathPoint:
    """One point of a run's way in the world [in]; ``hole`` names the hole it passes, or is empty."""

    x: float
    y: float
    z: float
    hole: str = ""
    member: str = ""


@dataclass(frozen=True, slots=True)
class Circle:
    """Where one cable lies in a hole: center from the hole's center, and radius [in]."""

    x: float
    y: float
    r: float


@dataclass(frozen=True, slots=True)
class Hole:
    """One drilled hole through one member, or one plate with all its plies.

    Args:
        id: ``H1`` …; chalked on the wood, never renumbered.
        member: Member drilled; ``plies`` names the others the same bit passes (a jack beside its king).
        axis: Which way the bit goes: ``along`` the wall (a stud), ``up`` (a plate), ``across`` (a joist).
        along_in: From the near end of the wall or member: for a stud its height above the subfloor is
            ``up_in`` and ``along_in`` is the stud's center from the wall's start; for a plate the offset
            from the wall's start; for a joist the offset along the joist [in].
        up_in: Height above the subfloor of the level (stud) or world z (joist) [in].
        across_in: From the wall's center line, left positive (stud, plate); for a joist, up from its
            bottom [in].
        x, y, z: Center in the world [in].
        occupants: Run ids, in the order of ``circles``.
        open_passage: True for a factory knockout, sleeve or truss opening: nothing is drilled.
        set_by: ``choice`` where a person chose its place or bit, ``done`` where it is drilled already; empty
            where the plan decided.
    """

    id: str
    member: str
    axis: Axis
    along_in: float
    up_in: float
    across_in: float
    x: float
    y: float
    z: float
    diameter_in: float
    occupants: tuple[str, ...] = ()
    circles: tuple[Circle, ...] = ()
    plies: tuple[str, ...] = ()
    open_passage: bool = False
    wall: str = ""
    level: str = ""
    room: str = ""
    set_by: str = ""


@dataclass(frozen=True, slots=True)
class Run:
    """One cable end to end, as planned.

    Args:
        path: From ``from_end`` to ``to_end``.
        slack_from_in, slack_to_in: Cable left at each end; at the enclosure this counts the way through
            the box to the corner farthest from the entry [in].
        entry: Which end of the enclosure it enters, or empty.
        way: The way in plain words.
        reason: Why it is longer than usual, or empty.
    """

    id: str
    kind: str
    from_end: End
    to_end: End
    path: tuple[PathPoint, ...]
    slack_from_in: float
    slack_to_in: float
    entry: str = ""
    way: str = ""
    reason: str = ""

    def entry_at(self, end: End) -> str:
        """Which end of the enclosure it enters at this end of the run, or empty."""
        entries = self.entry.split("/")
        return entries[0] if len(entries) == 1 or end == self.from_end else entries[1]

    @property
    def path_in(self) -> float:
        """Length of the way itself [in]."""
        return sum(
            math.dist((a.x, a.y, a.z), (b.x, b.y, b.z))
            for a, b in zip(self.path, self.path[1:], strict=False)
        )

    @property
    def slack_in(self) -> float:
        """Both ends together [in]."""
        return self.slack_from_in + self.slack_to_in

    @property
    def length_in(self) -> float:
        """What to cut: the way plus both slacks [in]."""
        return self.path_in + self.slack_in

    @property
    def holes(self) -> tuple[str, ...]:
        """Hole ids in the order they are passed."""
        return tuple(p.hole for p in self.path if p.hole)


@dataclass(frozen=True, slots=True)
class NailPlate:
    """One steel plate on one face of one member, over a hole.

    Args:
        face: The room whose side it is on (``Laundry``), or ``outside``.
        side: ``left`` or ``right`` of the wall's direction.
        length_in: Of the plate [in].
        reason: ``edge of the hole 1-1/8" from the face, under 1-1/4"``.
    """

    id: str
    hole: str
    member: str
    side: str
    face: str
    length_in: float
    reason: str
    width_in: float = 1.5
    pieces: int = 1
    """Plates set side by side where no single one covers the hole."""


@dataclass(frozen=True, slots=True)
class Grommet:
    """One bushing in one steel member, so that its edge cannot cut the jackets."""

    id: str
    hole: str
    member: str
    size_in: float


@dataclass(frozen=True, slots=True)
class Strap:
    """One steel strap across a cut top plate."""

    id: str
    hole: str
    member: str
    length_in: float
    reason: str


@dataclass(frozen=True, slots=True)
class Support:
    """Staples or hangers on one run, or on one bundle's way: how many, how far apart.

    Args:
        kind: ``staple`` in a wall, ``hanger`` in open space.
        first_in: Farthest the first one may stand from a box or ring [in].
    """

    id: str
    runs: tuple[str, ...]
    place: str
    count: int
    every_in: float
    kind: str = "staple"
    first_in: float = 12.0


@dataclass(frozen=True, slots=True)
class Seal:
    """One penetration to close: which hole, which assembly, with what kind of material.

    ``hole`` is empty where it is a box in the wall or ceiling: then ``location`` names it.
    """

    id: str
    hole: str
    place: str
    assembly: str
    material: str
    location: str = ""


@dataclass(frozen=True, slots=True)
class Pull:
    """Runs pulled together from a stand of cable boxes."""

    id: str
    order: int
    runs: tuple[str, ...]
    stand: str
    way: str
    boxes: tuple[tuple[str, str], ...] = ()
    """(run, cable box) pairs."""


@dataclass(frozen=True, slots=True)
class Box:
    """One cable box or spool and the runs it feeds, in order.

    Args:
        start_ft: Feet in it when the job begins.
        cuts: (run, length [in]) in the order of pulling.
        left_ft: Feet expected to be left.
    """

    id: str
    kind: str
    start_ft: float
    cuts: tuple[tuple[str, float], ...]
    left_ft: float
    partial: bool = False


@dataclass(frozen=True, slots=True)
class Unreached:
    """A wished run that could not be planned: how far it came and what bars the way."""

    run: str
    last_place: str
    barred_by: str


@dataclass(frozen=True, slots=True)
class WoodPlace:
    """A place that outlives every id: in a wall along it, above its subfloor, off its middle.

    Args:
        host: Wall; or a floor frame or board, then ``along_in`` and ``across_in`` are x and y of the house,
            ``up_in`` its height [in].
        along_in: From the wall's start [in].
        up_in: Above the subfloor of the wall's level [in].
        across_in: From the wall's middle, left positive [in].
    """

    host: str
    along_in: float
    up_in: float
    across_in: float = 0.0


@dataclass(frozen=True, slots=True)
class DoneHole:
    """A hole that is drilled.

    Args:
        id: As chalked on the wood; empty where nobody wrote one: the plan last issued names it.
    """

    at: WoodPlace
    diameter_in: float
    id: str = ""


@dataclass(frozen=True, slots=True)
class DoneRun:
    """A cable that is pulled. An empty ``path`` means: as the plan last issued has it."""

    run: str
    path: tuple[PathPoint, ...] = ()


@dataclass(frozen=True, slots=True)
class DonePlate:
    """A nail plate that is set, on the ``side`` of a hole as ``NailPlate.side``."""

    at: WoodPlace
    side: str


@dataclass(frozen=True, slots=True)
class DoneBox:
    """A box or ring that is nailed, where it really stands."""

    location: str
    at: WoodPlace


@dataclass(frozen=True, slots=True)
class Frozen:
    """Work that is done: no plan moves it. What it now breaks is a finding."""

    runs: tuple[DoneRun, ...] = ()
    holes: tuple[DoneHole, ...] = ()
    plates: tuple[DonePlate, ...] = ()
    boxes: tuple[DoneBox, ...] = ()

    def __bool__(self) -> bool:
        """True where anything is done."""
        return bool(self.runs or self.holes or self.plates or self.boxes)


@dataclass(frozen=True, slots=True)
class DoneTold:
    """Done work that no longer agrees with the job: where, and what differs, in words."""

    about: str
    place: str
    says: str


@dataclass(frozen=True, slots=True)
class ChoiceTold:
    """What became of one choice about the plan.

    Args:
        kind, about: As the job has it.
        became: ``by your choice``, ``already so`` or ``not followed``.
        ids: Holes or the run it speaks of in this plan.
        says: The whole in words; one that is not followed says why.
    """

    kind: str
    about: str
    became: Literal["by your choice", "already so", "not followed"]
    ids: tuple[str, ...]
    says: str


@dataclass(frozen=True, slots=True)
class Certificate:
    """The cost check of a plan: what no plan on the same passage graph can undercut.

    Args:
        bound, cost: In micro-currency; the bound is rounded down.
        planned: True where every wished run is in the plan.
        proof: Graph, prices and split as JSON, for a separate program to prove.
    """

    bound: int
    cost: int
    planned: bool
    proof: str

    @property
    def gap(self) -> float:
        """How much dearer the plan is than the bound, as a share of the bound."""
        return self.cost / self.bound - 1.0 if self.bound > 0 else float("inf")


@dataclass(frozen=True, slots=True)
class Wiring:
    """The routed plan: runs and holes, what could not be reached, and what the solver saw.

    Args:
        seal_places: (hole id, assembly) for holes through separations, plates between levels, envelope.
        cost: What the plan costs by the firm's table [micro-currency].
    """

    runs: tuple[Run, ...]
    holes: tuple[Hole, ...]
    unreached: tuple[Unreached, ...] = ()
    blocked_plates: tuple[tuple[str, float, str, str], ...] = ()
    """(plate member, along [in], member over or under it, what works instead)."""
    cost: int = 0
    certificate: Certificate | None = None
    choices: tuple[ChoiceTold, ...] = ()
    """What became of each choice about holes and ways, in the order of the job."""
    frozen: Frozen = Frozen()
    """What was done when this was planned."""
    done_told: tuple[DoneTold, ...] = ()
    """Done work that no longer agrees with the job."""
    retired: tuple[str, ...] = ()
    """Names of holes of earlier plans that are gone: never given again."""

    def hole(self, hole_id: str) -> Hole:
        """The hole of this id; KeyError where there is none."""
        for hole in self.holes:
            if hole.id == hole_id:
                return hole
        raise KeyError(hole_id)

    def run(self, run_id: str) -> Run:
        """The run of this id; KeyError where there is none."""
        for run in self.runs:
            if run.id == run_id:
                return run
        raise KeyError(run_id)
