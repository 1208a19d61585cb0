"""Take an obstacle away."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job without the obstacle.

    Raises:
        Refused: There is no such obstacle.
    """
    name = text_of(fix, 0)
    if not any(o.id == name for o in job.obstacles):
        raise Refused(f"obstacle {name} is not in the job")
    return replace(job, obstacles=tuple(o for o in job.obstacles if o.id != name))


VERB = Verb("remove_obstacle", ("obstacle",), True, "Take an obstacle away.", run)
