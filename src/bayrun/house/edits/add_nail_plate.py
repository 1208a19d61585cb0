"""One nail plate more than the plan counts."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Signed, Verb, keep, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the plate kept as a choice ``nail plate``; the counting adds its own by itself."""
    hole, face = text_of(fix, 0), text_of(fix, 1)
    return keep(job, "nail plate", f"{hole}/{face}", face, signed)


VERB = Verb("add_nail_plate", ("hole", "face"), False, "A steel plate over one face of a hole.", run)
