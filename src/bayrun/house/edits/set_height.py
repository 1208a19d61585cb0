"""Another height for a location."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.geometry import at_most
from bayrun.house.edits.boxes_on_walls import check_spot
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job
from bayrun.units import tape


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the middle of a box at another height above the finished floor.

    Raises:
        Refused: No such location, a height off the wall, or one in an opening.
    """
    name, to_in = text_of(fix, 0), number_of(fix, 1)
    location = next((q for q in job.locations if q.id == name), None)
    if location is None:
        raise Refused(f"location {name} is not in the job")
    top_in = job.level(location.level).plate_top_in
    if at_most(to_in, 0.0) or at_most(top_in, to_in):
        raise Refused(
            f"expected a height above the finished floor and under {tape(top_in)}, got {tape(to_in)}"
        )
    moved = replace(location, height_in=to_in)
    wall = next((w for w in job.walls if w.id == location.wall), None)
    if wall is not None and location.offset_in is not None:
        check_spot(job, wall, moved, location.offset_in)
    return replace(job, locations=tuple(moved if q.id == name else q for q in job.locations))


VERB = Verb("set_height", ("location", "height above finished floor"), True, "Another height for a box.", run)
