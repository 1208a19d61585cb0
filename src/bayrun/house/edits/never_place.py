"""A stretch of a wall, or a whole wall, floor frame or member, where no hole is planned."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.geometry import below
from bayrun.house.edits.records import Refused, Signed, Verb, keep, number_of, text_of
from bayrun.house.job import Job
from bayrun.house.way_choices import NEVER


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the stretch kept as a choice ``never place``; from 0 to 0 means the whole of it.

    Raises:
        Refused: It is no wall, floor frame or member of one in the job, or the stretch runs backward.
    """
    about, from_in, to_in = text_of(fix, 0), number_of(fix, 1), number_of(fix, 2)
    host = about.partition("/")[0]
    known = {w.id for w in job.walls} | {f.id for f in job.frames} | {b.id for b in job.barriers}
    if host not in known:
        raise Refused(f"{about} is no wall, floor frame or member of one in the job")
    if below(to_in, from_in):
        raise Refused(f"{about}: expected a stretch from low to high, got {from_in:g} to {to_in:g} in")
    whole = not from_in and not to_in
    value = "" if whole else f"along {from_in:.10g} in to {to_in:.10g} in"
    return keep(job, NEVER, about, value, signed)


VERB = Verb(
    "never_place",
    ("wall, frame or member", "from", "to"),
    True,
    "No hole in a stretch of a wall, or in the whole (0 to 0).",
    run,
)
