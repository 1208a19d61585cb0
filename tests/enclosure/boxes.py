"""A small box with gear for the tests of the enclosure: written out by hand, nothing laid out by code."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent.parent / "rules"))

from benches import BOX, DATA, JOB

from bayrun.enclosure.gear import Piece
from bayrun.enclosure.room import Place, Room
from bayrun.house import CableKind, End, Gear, Job, Knockout, Location, Port, WishedRun
from bayrun.wiring import Hole, PathPoint, Run, Wiring

COAX = CableKind("X", "coax series 6", 0.275, bend_radius_x_diameter=10.0)
KNOCKOUTS = (
    Knockout("top", 3.5, 2.0),
    Knockout("top", 10.75, 2.0),
    Knockout("top", 7.125, 1.109, "spare"),
    Knockout("bottom", 12.75, 0.875, "power"),
)
ROOM = Room(14.0, 27.75, 3.625)


def piece(name: str, width_in: float, height_in: float, depth_in: float = 1.0, **facts: Any) -> Piece:
    """A piece of plain gear."""
    return Piece(name, name, facts.pop("kind", "other"), width_in, height_in, depth_in, **facts)


def gear(name: str, what: str, **facts: Any) -> Gear:
    """Gear in the enclosure."""
    return Gear(name, what, True, **facts)


PATCH = gear("P", "patch field", kind="termination", width_in=6.0, height_in=3.0, depth_in=1.0,
             positions=(Port("D", 24),))  # fmt: skip


def job_with(*gears: Gear, runs: int = 0, gear_id: str = "P", **box: Any) -> Job:
    """The bench job with gear in its box and so many data runs to one location in the hall."""
    at = Location("L1", "Hall", "1", "wall", 14.0, "W1", 20.0, "right", ports=(Port("D", max(runs, 1)),))
    wished = tuple(
        WishedRun(f"L1-D{n}", "D", End("enclosure", "E1"), End("location", "L1"), gear_id)
        for n in range(1, runs + 1)
    )
    knockouts = box.pop("knockouts", KNOCKOUTS)
    return replace(
        JOB,
        gear=gears,
        locations=(at,),
        runs=wished,
        enclosures=(replace(BOX, knockouts=knockouts, **box),),
        practice=replace(JOB.practice, cables=(DATA, COAX)),
    )


def wiring_of(job: Job, along_in: tuple[float, ...] = (56.0,), slack_in: float = 71.0) -> Wiring:
    """Every wished run from the box up through a hole of the top plate; holes taken in turn."""
    holes = tuple(
        Hole(f"H{n}", "W1/top", "up", at, 95.6, 0.0, at, 0.0, 95.6, 1.0, wall="W1", level="1")
        for n, at in enumerate(along_in, 1)
    )
    runs = []
    for n, wished in enumerate(job.runs):
        hole = holes[n % len(holes)]
        path = (
            PathPoint(56.0, 0.0, 62.25),
            PathPoint(hole.x, 0.0, 95.6, hole.id),
            PathPoint(20.0, 0.0, 14.0),
        )
        runs.append(
            Run(wished.id, wished.kind, wished.from_end, wished.to_end, path, slack_in, 12.0, entry="top")
        )
    return Wiring(tuple(runs), holes)


def overlaps(pieces: list[Piece], places: tuple[Place, ...], lane_in: float = 0.0) -> int:
    """Pairs nearer than the lane, by plain rectangles: an arithmetic of its own."""
    by_id = {p.id: p for p in pieces}
    count = 0
    for n, a in enumerate(places):
        for b in places[n + 1 :]:
            p, q = by_id[a.piece], by_id[b.piece]
            apart_x = max(b.left_in - a.left_in - p.width_in, a.left_in - b.left_in - q.width_in)
            apart_y = max(b.bottom_in - a.bottom_in - p.height_in, a.bottom_in - b.bottom_in - q.height_in)
            count += max(apart_x, apart_y) < lane_in - 1e-9
    return count
