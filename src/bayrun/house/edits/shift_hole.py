"""Another place along the member for one hole."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Signed, Verb, keep_hole, number_of, place_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the wished place kept as a choice ``move hole`` (along, in inches)."""
    return keep_hole(job, fix, place_of(fix, 2), signed, along_in=number_of(fix, 1))


VERB = Verb(
    "shift_hole",
    ("hole", "place along", "place on the wood"),
    True,
    "Another place along the member for a hole.",
    run,
)
