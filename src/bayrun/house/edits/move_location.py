"""Move a location along its wall."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.boxes_on_walls import check_spot
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one location at another offset; height, side and ports stay.

    Raises:
        Refused: There is no such location, it is on no wall, or the place is off the wall or in an opening.
    """
    name, to_in = text_of(fix, 0), number_of(fix, 1)
    location = next((q for q in job.locations if q.id == name), None)
    if location is None:
        raise Refused(f"location {name} is not in the job")
    wall = next((w for w in job.walls if w.id == location.wall), None)
    if wall is None or location.offset_in is None:
        raise Refused(f"location {name} in {location.room} is on no wall: set its x and y instead")
    check_spot(job, wall, location, to_in)
    moved = replace(location, offset_in=to_in)
    return replace(job, locations=tuple(moved if q.id == name else q for q in job.locations))


VERB = Verb(
    "move_location", ("location", "offset from the wall's start"), True, "Move a box along its wall.", run
)
