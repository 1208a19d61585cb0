"""Close an opening."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job without the opening.

    Raises:
        Refused: There is no such opening.
    """
    name = text_of(fix, 0)
    if not any(o.id == name for o in job.openings):
        raise Refused(f"opening {name} is not in the job")
    return replace(job, openings=tuple(o for o in job.openings if o.id != name))


VERB = Verb("remove_opening", ("opening",), True, "Close an opening.", run)
