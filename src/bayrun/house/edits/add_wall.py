"""Draw a wall between two points."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.building import Plates, Wall
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.edits.reshaping import SHORTEST_IN, settled
from bayrun.house.edits.wall_kinds import KINDS, kind_of
from bayrun.house.job import Job
from bayrun.house.joining import along_and_left, parallel
from bayrun.units import tape


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one wall more, joined to what it meets; closed outlines become rooms.

    Raises:
        Refused: No such level or kind of wall, the wall is too short, or it lies on another one.
    """
    level, kind = text_of(fix, 0), text_of(fix, 5)
    x0, y0, x1, y1 = (number_of(fix, i) for i in range(1, 5))
    if not any(one.id == level for one in job.levels):
        raise Refused(f"there is no level {level}")
    core, thickness_in, exterior = kind_of(kind)
    length_in = math.dist((x0, y0), (x1, y1))
    if length_in < SHORTEST_IN:
        raise Refused(
            f"a wall {tape(length_in)} long is too short for a bay: draw at least {tape(SHORTEST_IN)}"
        )
    made = Wall(
        next_wall(job), level, (x0, y0), (x1, y1), core, thickness_in, 0.0, length_in,
        bearing=True if exterior else None, exterior=exterior, plates=Plates(),
    )  # fmt: skip
    for other in (w for w in job.walls if w.level == level and parallel(w, made)):
        spans = sorted(along_and_left(other, p) for p in (made.start, made.end))
        if abs(spans[0][1]) < (other.thickness_in + made.thickness_in) / 2 - 0.01 and (
            spans[0][0] < other.length_in - 0.01 and spans[1][0] > 0.01
        ):
            raise Refused("a wall is there already: draw beside it, or change that one")
    return settled(replace(job, walls=(*job.walls, made)), level, job)


def next_wall(job: Job) -> str:
    """A free wall id that goes on from the highest number."""
    numbers = [int(m[1]) for w in job.walls if (m := re.search(r"(\d+)$", w.id))]
    taken = {w.id for w in job.walls}
    number = max(numbers, default=0) + 1
    while f"W{number:02d}" in taken:
        number += 1
    return f"W{number:02d}"


VERB = Verb(
    "add_wall",
    (
        "level",
        "x of its start",
        "y of its start",
        "x of its end",
        "y of its end",
        f"kind: {', '.join(KINDS)}",
    ),
    True,
    "Draw a wall.",
    run,
)
