"""Move a location along its wall."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.geometry import below
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job
from bayrun.house.places import finish_in, wall_name
from bayrun.house.solids import openings_of
from bayrun.units import tape

HALF_BOX_IN = 1.125
"""Half of a one-gang ring. Common practice, no source [in]."""


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
    where = f"{tape(to_in)} along {wall_name(wall)}" if not below(to_in, 0.0) else "before the wall's start"
    low_in, high_in = wall.plate_start_in + HALF_BOX_IN, wall.plate_end_in - HALF_BOX_IN
    if below(to_in, low_in) or below(high_in, to_in):
        raise Refused(
            f"{where} is off the wall: a box fits from {tape(low_in)} to {tape(high_in)} from its start"
        )
    up_in = location.height_in + finish_in(job, location)
    for opening in openings_of(job, wall):
        beside = below(to_in + HALF_BOX_IN, opening.offset_in) or below(
            opening.offset_in + opening.width_in, to_in - HALF_BOX_IN
        )
        top_in = opening.head_in + opening.header_depth_in
        if not beside and not below(up_in, opening.sill_in) and not below(top_in, up_in):
            raise Refused(f"{where} is in the {opening.kind} {opening.id}: no wall to hold the box")
    moved = replace(location, offset_in=to_in)
    return replace(job, locations=tuple(moved if q.id == name else q for q in job.locations))


VERB = Verb(
    "move_location", ("location", "offset from the wall's start"), True, "Move a box along its wall.", run
)
