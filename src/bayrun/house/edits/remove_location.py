"""Take a location away, with the runs that serve it."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job without the location, its runs, and its lines on now-or-never lists.

    Raises:
        Refused: There is no such location.
    """
    name = text_of(fix, 0)
    if not any(q.id == name for q in job.locations):
        raise Refused(f"location {name} is not in the job")
    return replace(
        job,
        locations=tuple(q for q in job.locations if q.id != name),
        runs=tuple(
            r
            for r in job.runs
            if not any(end.type == "location" and end.id == name for end in (r.from_end, r.to_end))
        ),
        now_or_never=tuple(
            replace(n, locations=tuple(q for q in n.locations if q != name)) for n in job.now_or_never
        ),
    )


VERB = Verb("remove_location", ("location",), True, "Take a box away with its runs.", run)
