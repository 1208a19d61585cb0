"""Move a wall sideways."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.edits.reshaping import find_wall, settled, shifted, with_ends
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with a wall farther left or right; walls that end on it follow, rooms too.

    Raises:
        Refused: No such wall, or a joint, door, location or bay cannot follow.
    """
    wall = find_wall(job, text_of(fix, 0))
    by_in = number_of(fix, 1)
    if not by_in:
        raise Refused("expected a distance other than nothing")
    return settled(with_ends(job, shifted(job, wall, by_in)), wall.level, job)


VERB = Verb("move_wall", ("wall", "distance to its left"), True, "Move a wall sideways.", run)
