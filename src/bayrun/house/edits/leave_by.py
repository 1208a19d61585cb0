"""Feed a location by another bay of its wall, or from the other side: over it or under it."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, keep, number_of, text_of
from bayrun.house.job import Job
from bayrun.house.places import wall_name
from bayrun.house.way_choices import LEAVE
from bayrun.house.wished import Feed
from bayrun.units import tape


def other_bay(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the bay kept as a choice ``leave by``.

    Raises:
        Refused: There is no such location, it is on no wall, or the offset is off the wall.
    """
    name, along_in = text_of(fix, 0), number_of(fix, 1)
    location = next((q for q in job.locations if q.id == name), None)
    if location is None:
        raise Refused(f"location {name} is not in the job")
    wall = next((w for w in job.walls if w.id == location.wall), None)
    if wall is None:
        raise Refused(f"location {name} in {location.room} is on no wall: it has no bay to leave by")
    if along_in < wall.plate_start_in or along_in > wall.plate_end_in:
        raise Refused(f"{tape(along_in)} along {wall_name(wall)} is off the wall")
    return keep(job, LEAVE, name, f"bay at {along_in:.10g} in", signed)


def other_side(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with a location fed from over it (``up``) or from under it (``down``), as its wish.

    Raises:
        Refused: There is no such location, or the side is neither.
    """
    name, side = text_of(fix, 0), text_of(fix, 1)
    if all(q.id != name for q in job.locations):
        raise Refused(f"location {name} is not in the job")
    if side not in ("up", "down"):
        raise Refused(f"location {name}: expected up or down, got {side!r}")
    feed: Feed = "up" if side == "up" else "down"
    fed = tuple(replace(q, feed=feed) if q.id == name else q for q in job.locations)
    return replace(job, locations=fed)


BAY_VERB = Verb(
    "leave_by", ("location", "offset of the bay"), True, "Feed a location by another bay.", other_bay
)
SIDE_VERB = Verb(
    "feed_from", ("location", "up or down"), True, "Feed a location from over or under.", other_side
)
