"""Write down that a trade was asked. Nothing closes before the answer is written down too."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Signed, Verb, keep, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the open request; the finding stays until ``answer`` is applied."""
    about, what = text_of(fix, 0), text_of(fix, 1)
    whom = f"{fix.request_to}: " if fix.request_to else ""
    return keep(job, "request", f"{about}/{what}", f"{whom}{what}", signed)


VERB = Verb("ask", ("what it is about", "the question"), False, "Write down that a trade was asked.", run)
