"""Move one end of a wall."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.building import End_
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.edits.reshaping import find_wall, moved_end, settled, with_ends
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one end of a wall elsewhere; it joins what it meets there.

    Raises:
        Refused: No such wall or end, or what stands on the wall would lose its place.
    """
    wall = find_wall(job, text_of(fix, 0))
    name = text_of(fix, 1)
    if name not in ("start", "end"):
        raise Refused(f"expected the start or the end of the wall, got {name!r}")
    end: End_ = "start" if name == "start" else "end"
    to = (number_of(fix, 2), number_of(fix, 3))
    return settled(with_ends(job, moved_end(job, wall, end, to)), wall.level, job)


VERB = Verb("move_wall_end", ("wall", "start or end", "x", "y"), True, "Move one end of a wall.", run)
