"""One seal more than the plan counts."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Signed, Verb, keep, place_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the seal kept as a choice ``seal``; the counting adds its own by itself."""
    return keep(job, "seal", str(place_of(fix, 1)), "close it", signed)


VERB = Verb("add_seal", ("hole", "place on the wood"), True, "Close one hole again.", run)
