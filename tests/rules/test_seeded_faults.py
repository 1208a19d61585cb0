"""Faults seeded into the demo houses, one at a time: each is found, in its place, and nothing else is.

A fault of a wish is planned anew; a fault of a fact, or of the plan as if the crew had drilled so, is counted
and checked on the plan it was seeded in. Each finding but notes that the house did not have before must be of
the rules named here; what each fault breaks is reckoned by hand beside it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import pytest

import demo
from bayrun.findings import Finding, Severity
from bayrun.geometry import near
from bayrun.house import Choice, Enclosure, Job
from bayrun.jobs import Plan, plan
from bayrun.jobs.plan import check
from bayrun.takeoff import takeoff
from bayrun.wiring import Hole, PathPoint, Run, Wiring

NOTE = Severity.NOTE


@cache
def planned(house: str) -> Plan:
    """The plan of a demo house, made once."""
    return plan(demo.job(house))


@dataclass(frozen=True)
class Fault:
    """One fault.

    Args:
        house: Demo house it is seeded in.
        seed: From its plan to the findings of the faulty one.
        rules: Rules that must tell it, no more and no fewer.
        about: An id that a finding of it must name.
    """

    house: str
    seed: Callable[[Plan], tuple[Finding, ...]]
    rules: frozenset[str]
    about: str | Callable[[Plan], Hole]


FAULTS: dict[str, Fault] = {}


def fault(
    name: str,
    house: str,
    rules: str,
    about: str | Callable[[Plan], Hole],
    seed: Callable[[Plan], tuple[Finding, ...]],
) -> None:
    """Put one fault on the list."""
    FAULTS[name] = Fault(house, seed, frozenset(rules.split()), about)


# --- the holes that faults are seeded in: by what they are, for a better plan may name them otherwise -----


def in_stud(made: Plan) -> Hole:
    """A hole through a bearing 2x6 stud of an outer wall."""
    return _pick(made, "along", 5.5, lambda hole: True)


def in_thin_stud(made: Plan) -> Hole:
    """The hole with most cables through a 2x4 stud of a wall that bears nothing."""
    return _pick(made, "along", 3.5, lambda hole: True)


def in_plate(made: Plan) -> Hole:
    """A hole up through the plates of an outer 2x6 wall with 3 in of clear way around it."""
    over = dict(made.frame.over)

    def clear(hole: Hole) -> bool:
        return all(not (c.rect.u0 - 3.0 < hole.along_in < c.rect.u1 + 3.0) for c in over.get(hole.member, ()))

    return _pick(made, "up", 5.5, clear)


def _pick(made: Plan, axis: str, depth_in: float, fits: Callable[[Hole], bool]) -> Hole:
    members = {m.id: m for m in made.frame.members}
    found = [
        hole
        for hole in made.wiring.holes
        if hole.axis == axis
        and near(members[hole.member].depth_in, depth_in)
        and members[hole.member].bearing is (depth_in > 4.0)
        and members[hole.member].role in ("stud", "top plate")
        and fits(hole)
    ]
    assert found, "the demo house has no such hole any more: choose another for this fault"
    return max(found, key=lambda hole: (len(hole.occupants), hole.id))


# --- how a fault is seeded -------------------------------------------------------------------------------


def of_job(change: Callable[[Job], Job]) -> Callable[[Plan], tuple[Finding, ...]]:
    """A fault of a wish: planned anew."""
    return lambda made: plan(change(made.job)).findings


def of_fact(change: Callable[[Job], Job]) -> Callable[[Plan], tuple[Finding, ...]]:
    """A fault of a fact that moves no cable: checked on the same wiring."""
    return lambda made: told_by(made, made.wiring, change(made.job))


def told_by(made: Plan, wiring: Wiring, job: Job | None = None) -> tuple[Finding, ...]:
    """The findings of changed wiring, its steel and seals counted again."""
    job = made.job if job is None else job
    return check(job, made.frame, wiring, takeoff(job, made.frame, wiring))


def swapped(made: Plan, hole: Hole) -> Wiring:
    """The wiring with one hole as given."""
    holes = tuple(hole if h.id == hole.id else h for h in made.wiring.holes)
    return replace(made.wiring, holes=holes)


def of_hole(pick: Callable[[Plan], Hole], **facts: Any) -> Callable[[Plan], tuple[Finding, ...]]:
    """A fault of one hole, as if it had been drilled so."""

    def seed(made: Plan) -> tuple[Finding, ...]:
        return told_by(made, swapped(made, replace(pick(made), **facts)))

    return seed


def one_more(hole: Callable[[Plan], Hole]) -> Callable[[Plan], tuple[Finding, ...]]:
    """A hole too many."""

    def seed(made: Plan) -> tuple[Finding, ...]:
        return told_by(made, replace(made.wiring, holes=(*made.wiring.holes, hole(made))))

    return seed


def of_run(change: Callable[[Run], Run], run_id: str) -> Callable[[Plan], tuple[Finding, ...]]:
    """A fault of one run's way."""

    def seed(made: Plan) -> tuple[Finding, ...]:
        runs = tuple(change(run) if run.id == run_id else run for run in made.wiring.runs)
        return told_by(made, replace(made.wiring, runs=runs))

    return seed


def uncounted(part: str, pick: Callable[[Plan], Hole]) -> Callable[[Plan], tuple[Finding, ...]]:
    """Steel or a seal left off the lists."""

    def seed(made: Plan) -> tuple[Finding, ...]:
        left = tuple(one for one in getattr(made.counted, part) if one.hole != pick(made).id)
        assert left != getattr(made.counted, part)
        return check(made.job, made.frame, made.wiring, replace(made.counted, **{part: left}))

    return seed


def box(**facts: Any) -> Callable[[Job], Job]:
    """The chosen enclosure changed."""

    def change(job: Job) -> Job:
        chosen = job.chosen_enclosure
        assert chosen is not None
        boxes = tuple(replace(one, **facts) if one.id == chosen.id else one for one in job.enclosures)
        return replace(job, enclosures=boxes)

    return change


def feed(**facts: Any) -> Callable[[Job], Job]:
    """The feed of the chosen enclosure changed."""

    def change(job: Job) -> Job:
        chosen = job.chosen_enclosure
        assert isinstance(chosen, Enclosure)
        assert chosen.ac_feed is not None
        return box(ac_feed=replace(chosen.ac_feed, **facts))(job)

    return change


def record(kind: str, name: str, **facts: Any) -> Callable[[Job], Job]:
    """One record of the job changed."""

    def change(job: Job) -> Job:
        records = tuple(replace(r, **facts) if r.id == name else r for r in getattr(job, kind))
        assert records != getattr(job, kind)
        return replace(job, **{kind: records})

    return change


def facts_of(**facts: Any) -> Callable[[Job], Job]:
    """A site fact changed."""
    return lambda job: replace(job, facts=replace(job.facts, **facts))


def practice(**facts: Any) -> Callable[[Job], Job]:
    """The firm's practice changed."""
    return lambda job: replace(job, practice=replace(job.practice, **facts))


# --- the enclosure and its feed --------------------------------------------------------------------------

# The wall gives 3-1/2 and 1/2: 4 in.
fault("a box too deep for its wall", "A", "enclosure-depth", "A-ENC", of_fact(box(depth_in=4.25)))
# The bay is 14-1/2 clear.
fault("a box wider than its bay", "A", "enclosure-bay-width", "A-ENC", of_fact(box(width_in=14.75)))
# Center at 66 in: its top at 80 in above finished floor, over 76.
fault("a box out of reach", "A", "enclosure-height", "A-ENC", of_job(box(center_aff_in=66.0)))
fault("a feed secured too far off", "A", "ac-feed-support", "A-ENC", of_fact(feed(staple_from_box_in=15.0)))
fault("too little conductor left inside", "A", "ac-free-conductor", "A-ENC", of_fact(feed(tail_in=4.0)))
fault("power and data in one compartment", "A", "ac-barrier", "A-ENC", of_fact(feed(barrier=False)))
fault("no ground-fault protection", "A", "ac-receptacle-gfci-afci", "A-ENC", of_fact(feed(gfci=False)))
# A-W26 carries nothing: 60 % of 3-1/2 is 2.1.
fault("a feed's hole too large", "A", "ac-hole", "A-ENC", of_fact(feed(hole_diameter_in=2.5)))
fault("power from below on a slab", "A", "ac-from-below", "A-ENC", of_fact(feed(way="from below")))

# --- locations -------------------------------------------------------------------------------------------

# Stud 7 of A-W12: 9' 6" to 9' 7-1/2".
fault(
    "a box on a stud", "A", "location-on-member", "A08", of_job(record("locations", "A08", offset_in=115.0))
)

# --- facts and practice ----------------------------------------------------------------------------------

fault(
    "a long bonding conductor", "A", "bonding-length", "bonding", of_fact(facts_of(bonding_length_in=300.0))
)
fault(
    "no fireblock material",
    "A",
    "fireblock-material",
    "fireblock",
    of_fact(facts_of(fireblock_material=None)),
)
fault(
    "supports too far apart",
    "A",
    "support-interval",
    "support_every",
    of_fact(practice(support_every_in=72.0)),
)
fault(
    "cable without a listing",
    "A",
    "cable-listing",
    "cable-D",
    of_fact(
        lambda job: practice(
            cables=tuple(replace(c, listing="") if c.letter == "D" else c for c in job.practice.cables)
        )(job)
    ),
)
# 1-1/4 flexible is 1.66 outside: 1.6875 does not go through 1-1/2.
fault(
    "a conduit's hole too small",
    "B",
    "conduit-hole",
    "B-C2",
    of_fact(record("conduits", "B-C2", hole_in=1.5)),
)
# In a bearing 2x6, 40 % is 2.2.
fault(
    "a conduit's holes too large",
    "B",
    "conduit-wall",
    "B-C1",
    of_fact(record("conduits", "B-C1", hole_in=2.5)),
)
# Taken for its trade size: 1-1/4 tube is 1.510 outside at least.
fault(
    "a conduit measured by its trade size",
    "B",
    "conduit-size",
    "B-C2",
    of_fact(record("conduits", "B-C2", outside_diameter_in=1.25)),
)

# --- holes -----------------------------------------------------------------------------------------------

# A bearing exterior 2x6 stud: at most 2.2.
fault(
    "a hole too large for a bearing stud", "A", "stud-hole-size", in_stud, of_hole(in_stud, diameter_in=2.5)
)
# Its edge 2.75 - 2.0 - 0.375 = 3/8 from the face, under 5/8.
fault("a hole too near a stud's face", "A", "stud-hole-edge", in_stud, of_hole(in_stud, across_in=2.0))
fault(
    "a hole that leaves its stud at the top",
    "A",
    "hole-without-member",
    in_stud,
    of_hole(in_stud, up_in=95.0),
)
# Two holes of 3/4, 1-1/4 apart on center, leave 1/2: the firm keeps 1.
fault(
    "two holes too near each other",
    "A",
    "hole-spacing",
    in_stud,
    one_more(
        lambda made: replace(
            in_stud(made), id="H900", up_in=in_stud(made).up_in - 1.25, occupants=(), circles=()
        )
    ),
)
fault(
    "a hole in a roof truss",
    "A",
    "engineered-never",
    "H900",
    one_more(
        lambda made: next(
            Hole("H900", m.id, "across", 100.0, sum(m.up) / 2, m.depth_in / 2, 0.0, 0.0, 0.0, 0.75)
            for m in made.frame.members
            if m.role == "roof truss chord"
        )
    ),
)
fault(
    "a hole in a header",
    "A",
    "engineered-never",
    "H900",
    one_more(
        lambda made: next(
            Hole("H900", m.id, "across", sum(m.along) / 2, sum(m.up) / 2, 0.0, 0.0, 0.0, -500.0, 0.75)
            for m in made.frame.members
            if m.role == "header"
        )
    ),
)
fault(
    "a hole drilled in an I-joist",
    "B",
    "engineered-never",
    "H900",
    one_more(
        lambda made: replace(
            next(h for h in made.wiring.holes if "I-joist" in _role(made, h)),
            id="H900",
            along_in=sum(next(m for m in made.frame.members if m.role == "I-joist").along) / 2,
            open_passage=False,
            occupants=(),
            circles=(),
            x=0.0,
            y=0.0,
            z=-500.0,
        )
    ),
)


def _role(made: Plan, hole: Hole) -> str:
    return next((m.role for m in made.frame.members if m.id == hole.member), "")


# Cables of any firm's table: shrunk until they take half of the hole, over the firm's 40 %.
def _too_full(made: Plan) -> tuple[Finding, ...]:
    hole = in_thin_stud(made)
    sizes = {c.letter: c.diameter_in for c in made.job.practice.cables}
    kinds = {run.id: run.kind for run in made.wiring.runs}
    square = sum(sizes[kinds[run]] ** 2 for run in hole.occupants)
    tight = replace(hole, diameter_in=math.sqrt(square / 0.5), circles=())
    return told_by(made, swapped(made, tight))


fault("a hole too full", "A", "hole-fill hole-packing", in_thin_stud, _too_full)

# --- steel and seals left off ----------------------------------------------------------------------------

fault("a seal left off the list", "A", "seal-missing", in_plate, uncounted("seals", in_plate))
fault(
    "an outer box left off the seal list",
    "A",
    "box-seal-missing",
    "A12",
    lambda made: check(
        made.job,
        made.frame,
        made.wiring,
        replace(made.counted, seals=tuple(s for s in made.counted.seals if s.location != "A12")),
    ),
)


# A 2 in hole in a bearing 2x6 top plate needs no strap (2.75); 3 in does, and steel on both faces.
def _no_strap(made: Plan) -> tuple[Finding, ...]:
    wiring = swapped(made, replace(in_plate(made), diameter_in=3.0))
    return check(made.job, made.frame, wiring, replace(takeoff(made.job, made.frame, wiring), straps=()))


fault("a cut plate without its strap", "A", "plate-strap", in_plate, _no_strap)


# A hole of 1-1/4 in a 2x4 stud takes steel on both faces; one side is left off.
def _no_plate(made: Plan) -> tuple[Finding, ...]:
    name = in_thin_stud(made).id
    wiring = swapped(made, replace(in_thin_stud(made), diameter_in=1.25))
    counted = takeoff(made.job, made.frame, wiring)
    assert {p.side for p in counted.plates if p.hole == name} == {"left", "right"}
    left = tuple(p for p in counted.plates if (p.hole, p.side) != (name, "left"))
    return check(made.job, made.frame, wiring, replace(counted, plates=left))


fault("a nail plate left off one face", "A", "nail-plate", in_thin_stud, _no_plate)

# --- ways ------------------------------------------------------------------------------------------------


def _toward_face(made: Plan) -> tuple[Finding, ...]:
    """The drop of one run in A-W12 moved an inch toward a face: 0.63 from it."""
    wall = made.job.wall("A-W12")
    dx, dy = wall.direction
    run = next(r for r in made.wiring.runs if r.to_end.id == "A08" or r.from_end.id == "A08")
    path = list(run.path)
    pairs = [
        (i, i + 1)
        for i, (a, b) in enumerate(itertools.pairwise(path))
        if abs(b.z - a.z) > 40.0 and abs(b.x - a.x) + abs(b.y - a.y) < 1e-6
    ]
    i, j = pairs[-1]
    for k in (i, j):
        path[k] = replace(path[k], x=path[k].x - dy, y=path[k].y + dx)
    moved = replace(run, path=tuple(path))
    return told_by(
        made, replace(made.wiring, runs=tuple(moved if r.id == run.id else r for r in made.wiring.runs))
    )


fault("a drop too near the face of its wall", "A", "parallel-setback", "A-W12", _toward_face)


def _by_way_of(made: Plan, house_run: int, *points: tuple[float, float, float]) -> tuple[Finding, ...]:
    run = made.wiring.runs[house_run]
    out = tuple(PathPoint(*p) for p in points)
    path = (*run.path[:1], *out, *reversed(out), *run.path[:1], *run.path[1:])
    runs = tuple(replace(run, path=path) if r.id == run.id else r for r in made.wiring.runs)
    return told_by(made, replace(made.wiring, runs=runs))


def _through_flue(made: Plan) -> tuple[Finding, ...]:
    flue = next(o for o in made.job.obstacles if "flue" in o.kind)
    assert flue.center is not None
    x, y = flue.center
    assert x is not None
    assert y is not None
    return _by_way_of(made, 0, (x, y - 30.0, 300.0), (x, y + 30.0, 300.0))


fault("a run through a flue", "B", "run-in-obstacle bend-radius", "B-O3", _through_flue)


def _along_cpvc(made: Plan) -> tuple[Finding, ...]:
    pipe = next(o for o in made.job.obstacles if "CPVC" in o.kind)
    frame = next(f for f in made.job.frames if f.id in pipe.frames)
    assert pipe.center is not None
    assert pipe.center[1] is not None
    z = frame.z_bottom_in + (pipe.z_above_frame_bottom_in or 0.0) + 1.0
    return _by_way_of(made, 0, (60.0, pipe.center[1], z), (100.0, pipe.center[1], z))


fault("a run along the sprinkler pipe", "C", "cpvc-contact bend-radius", "C-O1", _along_cpvc)


def _past_box(made: Plan) -> tuple[Finding, ...]:
    chosen = made.job.chosen_enclosure
    assert chosen is not None
    from bayrun.house import wall_point

    wall = made.job.wall(chosen.wall)
    x, y = wall_point(wall, sum(chosen.bay_studs_in) / 2)
    return _by_way_of(made, 0, (x, y - 20.0, 48.0), (x, y + 20.0, 48.0))


fault("a run through the enclosure's place", "A", "enclosure-passed bend-radius", "A-ENC", _past_box)


def _lost_run(made: Plan) -> tuple[Finding, ...]:
    lost = made.wiring.runs[0].id

    def without(hole: Hole) -> Hole:
        left = [i for i, run in enumerate(hole.occupants) if run != lost]
        return replace(
            hole,
            occupants=tuple(hole.occupants[i] for i in left),
            circles=tuple(hole.circles[i] for i in left),
        )

    holes = tuple(without(hole) for hole in made.wiring.holes)
    return told_by(made, replace(made.wiring, runs=made.wiring.runs[1:], holes=holes))


fault("a run nobody planned", "A", "run-blocked", "", _lost_run)


NOTCHED = "A-W07/stud-14@80"


def _notched(made: Plan) -> tuple[Finding, ...]:
    choice = Choice("notch", NOTCHED, "0.5 in deep 1 in long on the left")
    job = replace(made.job, choices=(*made.job.choices, choice))
    return told_by(made, made.wiring, job)


fault("a notch without steel", "A", "notch-steel", f"{NOTCHED}/left", _notched)


# --- the test --------------------------------------------------------------------------------------------


def test_there_are_at_least_25() -> None:
    assert len(FAULTS) >= 25
    assert len({next(iter(f.rules)) for f in FAULTS.values()}) >= 20


@pytest.mark.parametrize("name", sorted(FAULTS))
def test_a_seeded_fault_is_found_and_nothing_else(name: str) -> None:
    one = FAULTS[name]
    made = planned(one.house)
    before = {f.id for f in made.findings}
    new = [f for f in one.seed(made) if f.id not in before]
    worse = [f for f in new if f.severity is not NOTE]
    told = {f.rule for f in worse} | ({f.rule for f in new} & one.rules)
    hard = {rule for rule in one.rules if rule != "bend-radius"}
    assert hard <= told <= one.rules, [(f.severity.value, f.rule, f.about, f.says) for f in worse]
    about = one.about if isinstance(one.about, str) else one.about(made).id
    if about:
        assert any(about in f.about for f in new if f.rule in hard)
