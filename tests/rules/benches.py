"""Small hand-made plans: one wall or one floor, a few holes; all written out, nothing laid out by code.

``Bench`` is a mutable builder for tests only; ``findings`` runs the whole catalogue on what it holds.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from moved import says_the_same

from bayrun.findings import Finding
from bayrun.framing import Bay, Cover, Frame, Member
from bayrun.geometry import Box, Rect
from bayrun.house import (
    AcFeed,
    CableKind,
    Enclosure,
    End,
    FacePiece,
    FloorFrame,
    Job,
    Layer,
    Level,
    Location,
    Practice,
    Revision,
    Room,
    SiteFacts,
    Wall,
    WishedRun,
    edits,
)
from bayrun.house.hole_choices import hole_choices
from bayrun.rules import RULES, check_all
from bayrun.rules.case import Case, lay_open
from bayrun.wiring import Circle, Hole, NailPlate, PathPoint, Run, Seal, Strap, Wiring

DATA = CableKind("D", "data four-pair", 0.23, pull_limit_lbf=25.0, listing="CMR")
WALL = Wall(
    id="W1",
    level="1",
    start=(0.0, 0.0),
    end=(120.0, 0.0),
    core="2x4",
    thickness_in=3.5,
    plate_start_in=0.0,
    plate_end_in=120.0,
    bearing=True,
    left=(FacePiece("Laundry", 0.0, 120.0),),
    right=(FacePiece("Hall", 0.0, 120.0),),
)
FEED = AcFeed(
    way="from below",
    staple_from_box_in=6.0,
    staple_from_emergence_in=6.0,
    clamped=True,
    tail_in=8.0,
    barrier=True,
    gfci=True,
    afci=True,
)
BOX = Enclosure(
    id="E1",
    wall="W1",
    level="1",
    room="Laundry",
    side="left",
    bay_studs_in=(48.0, 64.0),
    width_in=14.25,
    height_in=28.0,
    depth_in=3.625,
    ac_feed=FEED,
)
JOB = Job(
    id="bench",
    name="Bench",
    revision=Revision(),
    levels=(Level("1", 0.0, 97.125, floor_build_up=(Layer("oak", 0.75),)),),
    rooms=(
        Room("Laundry", "1", "laundry", ((0.0, 0.0), (120.0, 0.0), (120.0, 96.0), (0.0, 96.0)), 0.25),
        Room("Hall", "1", "hall", ((0.0, -96.0), (120.0, -96.0), (120.0, 0.0), (0.0, 0.0)), 0.75),
    ),
    walls=(WALL,),
    enclosures=(BOX,),
    practice=Practice(cables=(DATA,)),
    facts=SiteFacts(
        cover="1/2 in gypsum",
        insulation="batts",
        fireblock_material="mineral wool",
        return_air_bays=(),
        bonding_length_in=180.0,
    ),
)


def upright(number: int, at_in: float, **facts: Any) -> Member:
    """A full-height stud of the bench wall, by its center."""
    made = Member(
        id=f"W1/stud-{number}",
        host="W1",
        level="1",
        role="stud",
        material="wood",
        along=(at_in - 0.75, at_in + 0.75),
        up=(1.5, 94.125),
        across=(-1.75, 1.75),
        box=Box(at_in - 0.75, -1.75, 1.5, at_in + 0.75, 1.75, 94.125),
        says=f"stud {number}",
    )
    return replace(made, **facts)


def flat(name: str, **facts: Any) -> Member:
    """The top or bottom plate of the bench wall."""
    up = (94.125, 97.125) if name == "top" else (0.0, 1.5)
    made = Member(
        id=f"W1/{name}",
        host="W1",
        level="1",
        role="top plate" if name == "top" else "bottom plate",
        material="wood",
        along=(0.0, 120.0),
        up=up,
        across=(-1.75, 1.75),
        box=Box(0.0, -1.75, up[0], 120.0, 1.75, up[1]),
        plies=2 if name == "top" else 1,
        says=f"{name} plate",
    )
    return replace(made, **facts)


FLOOR = FloorFrame(
    id="F1",
    kind="sawn joists",
    area=(0.0, 0.0, 120.0, 96.0),
    direction="y",
    member_width_in=1.5,
    member_depth_in=9.25,
    z_bottom_in=97.125,
    z_top_in=106.375,
    above_level="1",
)


def joist(number: int = 1, depth_in: float = 9.25, **facts: Any) -> Member:
    """A floor joist over the bench room."""
    made = Member(
        id=f"F1/{number}",
        host="F1",
        level="1",
        role="joist",
        material="wood",
        along=(0.0, 96.0),
        up=(97.125, 97.125 + depth_in),
        across=(15.25, 16.75),
        box=Box(15.25, 0.0, 97.125, 16.75, 96.0, 97.125 + depth_in),
        says=f"joist {number}",
    )
    return replace(made, **facts)


def stud_hole(
    name: str, member: Member, diameter_in: float, up_in: float = 40.0, across_in: float = 0.0
) -> Hole:
    """A hole through a stud of the bench wall, empty unless filled."""
    at_in = sum(member.along) / 2
    return Hole(
        name,
        member.id,
        "along",
        at_in,
        up_in,
        across_in,
        at_in,
        across_in,
        up_in,
        diameter_in,
        wall="W1",
        level="1",
    )


def plate_hole(
    name: str, member: Member, diameter_in: float, along_in: float = 30.0, across_in: float = 0.0
) -> Hole:
    """A hole through a plate of the bench wall."""
    up_in = sum(member.up) / 2
    return Hole(
        name,
        member.id,
        "up",
        along_in,
        up_in,
        across_in,
        along_in,
        across_in,
        up_in,
        diameter_in,
        wall="W1",
        level="1",
    )


def joist_hole(
    name: str, member: Member, diameter_in: float, along_in: float = 40.0, from_bottom_in: float | None = None
) -> Hole:
    """A hole through a joist, at mid-depth unless said."""
    up = member.depth_in / 2 if from_bottom_in is None else from_bottom_in
    z = member.up[0] + up
    return Hole(name, member.id, "across", along_in, z, up, 16.0, along_in, z, diameter_in, level="1")


def filled(hole: Hole, runs: int, rings: tuple[tuple[float, float], ...] | None = None) -> Hole:
    """The hole with data cables in it, side by side on a grid that may or may not fit."""
    if rings is None:
        step = 0.24
        rings = tuple(((i % 4 - 1.5) * step, (i // 4 - 1.0) * step) for i in range(runs))
    return replace(
        hole,
        occupants=tuple(f"R{i}" for i in range(runs)),
        circles=tuple(Circle(x, y, 0.115) for x, y in rings),
    )


def data_run(name: str, *points: tuple[float, float, float]) -> Run:
    """A planned data run along points in the world."""
    path = tuple(PathPoint(*p) for p in points) or (PathPoint(0, 0, 0), PathPoint(0, 0, 10))
    return Run(name, "D", End("enclosure", "E1"), End("location", "L1"), path, 36.0, 12.0)


@dataclass
class Bench:
    """What one test puts together."""

    job: Job = JOB
    members: list[Member] = field(default_factory=list)
    bays: list[Bay] = field(default_factory=list)
    over: dict[str, tuple[Cover, ...]] = field(default_factory=dict)
    holes: list[Hole] = field(default_factory=list)
    planned: list[Hole] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)
    wiring: dict[str, Any] = field(default_factory=dict)
    plates: tuple[NailPlate, ...] | None = None
    straps: tuple[Strap, ...] | None = None
    seals: tuple[Seal, ...] | None = None

    def case(self) -> Case:
        """What the rules look at."""
        frame = Frame(tuple(self.members), tuple(self.bays), tuple(self.over.items()))
        wiring = Wiring(tuple(self.runs), tuple(self.holes), **self.wiring)
        return lay_open(self.job, frame, wiring, plates=self.plates, straps=self.straps, seals=self.seals)

    def findings(self) -> tuple[Finding, ...]:
        """Run the whole catalogue."""
        case = self.case()
        return check_all(self.job, case.frame, case.wiring, self.plates, self.straps, self.seals)

    def of(self, rule: str) -> tuple[Finding, ...]:
        """Findings of one rule."""
        return tuple(f for f in self.by({rule}) if f.rule == rule)

    def by(self, slugs: set[str]) -> tuple[Finding, ...]:
        """Findings of every rule that gives one of these, worst first; the same moved and turned."""
        told = self.here(slugs)
        says_the_same(self, slugs, told)
        return told

    def here(self, slugs: set[str]) -> tuple[Finding, ...]:
        """Findings of every rule that gives one of these, where the bench stands."""
        case = self.case()
        told = (f for one in RULES if slugs & set(one.slugs) for f in one.check(case))
        return tuple(sorted(told, key=lambda f: f.order))

    def hole(self, name: str) -> Hole:
        """One hole by id."""
        return next(h for h in self.holes if h.id == name)


def cover(member: str, u0: float, v0: float, u1: float, v1: float) -> Cover:
    """Something over or under a plate."""
    return Cover(member, Rect(u0, v0, u1, v1))


def with_runs(bench: Bench, count: int) -> Bench:
    """Add data runs R0 … to the bench, wished and planned."""
    bench.runs += [data_run(f"R{i}") for i in range(count)]
    return bench


def located(location: Location, **facts: Any) -> Job:
    """The bench job with one location."""
    return replace(JOB, locations=(location,), **facts)


def wished(name: str) -> WishedRun:
    """A wish for a data run."""
    return WishedRun(name, "D", End("enclosure", "E1"), End("location", "L1"))


def apply(bench: Bench, finding: Finding, index: int = 0) -> Bench:
    """Apply one fix of a finding by its own edit, and let the plan follow the choice it made."""
    made = replace_bench(bench)
    made.planned = made.planned or list(bench.holes)
    made.job = edits.apply(bench.job, finding.fixes[index], by="lead", date="2026-05-04", reason="tried")
    made.holes = followed(made.planned, made.job)
    return made


def followed(holes: list[Hole], job: Job) -> list[Hole]:
    """The planned holes as a plan that honors the job's choices has them: written for tests alone."""
    pieces: list[Hole] = []
    choices = {str(c.spot): c for c in hole_choices(job)}
    for hole in holes:
        at_in = hole.up_in if hole.axis == "along" else hole.along_in
        choice = choices.get(f"{hole.member}@{at_in:.10g}")
        if choice is None:
            pieces.append(hole)
            continue
        places = choice.places_in()
        for i, to_in in enumerate(places):
            across_in = hole.across_in if choice.across_in is None else choice.across_in
            one = replace(hole, diameter_in=choice.bit_in or hole.diameter_in, across_in=across_in)
            one = replace(one, up_in=to_in) if hole.axis == "along" else replace(one, along_in=to_in)
            if len(places) > 1:
                one = replace(one, id=f"{hole.id}.{i + 1}", occupants=(), circles=())
            pieces.append(one)
    return pieces


def replace_bench(bench: Bench) -> Bench:
    """A copy that can be changed."""
    return replace(bench, holes=list(bench.holes), runs=list(bench.runs), members=list(bench.members))
