"""One seal more than the plan counts."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Signed, Verb, keep, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the seal kept as a choice ``seal``; the counting adds its own by itself."""
    hole = text_of(fix, 0)
    return keep(job, "seal", hole, "close it", signed)


VERB = Verb("add_seal", ("hole",), False, "Close one hole again.", run)
