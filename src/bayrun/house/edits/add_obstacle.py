"""Something of another trade that cables keep clear of."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.building import Obstacle
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one obstacle more: a rectangle on the plan from the subfloor to the plates of a level.

    Raises:
        Refused: No such level, or the rectangle has no area.
    """
    level_id, kind = text_of(fix, 0), " ".join(text_of(fix, 1).split())
    x0, y0, x1, y1 = (number_of(fix, i) for i in range(2, 6))
    level = next((one for one in job.levels if one.id == level_id), None)
    if level is None:
        raise Refused(f"there is no level {level_id}")
    x0, x1, y0, y1 = min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
    if x1 - x0 < 0.5 or y1 - y0 < 0.5:
        raise Refused("expected two corners at least half an inch apart both ways")
    number = 1
    taken = {o.id for o in job.obstacles}
    while f"O{number}" in taken:
        number += 1
    z_in = (level.subfloor_z_in, level.subfloor_z_in + level.plate_top_in)
    made = Obstacle(f"O{number}", kind, (level_id,), (x0, y0, x1, y1), z_in)
    return replace(job, obstacles=(*job.obstacles, made))


VERB = Verb(
    "add_obstacle",
    ("level", "what it is", "x", "y", "x of the other corner", "y of the other corner"),
    True,
    "Mark something of another trade.",
    run,
)
