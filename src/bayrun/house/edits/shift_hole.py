"""Another place along the member for one hole."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Signed, Verb, keep, number_of, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the wished place kept as a choice ``move hole`` (along, in inches)."""
    hole, to_in = text_of(fix, 0), number_of(fix, 1)
    return keep(job, "move hole", hole, f"along {to_in:.6g} in", signed)


VERB = Verb("shift_hole", ("hole", "place along"), False, "Another place along the member for a hole.", run)
