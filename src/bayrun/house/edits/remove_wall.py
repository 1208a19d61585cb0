"""Take a wall away, with its doors and windows."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.edits.reshaping import find_wall, settled
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job without the wall; rooms it parted become one.

    Raises:
        Refused: No such wall, or locations or the enclosure stand on it.
    """
    wall = find_wall(job, text_of(fix, 0))
    boxes = [q.id for q in job.locations if q.wall == wall.id]
    boxes += [e.id for e in job.enclosures if e.wall == wall.id]
    if boxes:
        raise Refused(f"{', '.join(boxes)} stand on it: move or strike them first")
    bare = replace(
        job,
        walls=tuple(w for w in job.walls if w.id != wall.id),
        openings=tuple(o for o in job.openings if o.wall != wall.id),
        joints=tuple(j for j in job.joints if wall.id not in (j.wall, j.on_wall)),
    )
    return settled(bare, wall.level, job)


VERB = Verb("remove_wall", ("wall",), True, "Take a wall away with its doors and windows.", run)
