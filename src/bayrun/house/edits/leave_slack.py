"""How much slack every run leaves in the enclosure."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.geometry import at_least, at_most
from bayrun.house.edits.records import Refused, Signed, Verb, number_of
from bayrun.house.job import Job

LEAST_IN, MOST_IN = 12.0, 120.0
"""Less cannot be terminated, more is no slack any more: common practice, no source [in]."""


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with another slack past the far corner of the box, for every run.

    Raises:
        Refused: Not 12 to 120 in.
    """
    slack_in = number_of(fix, 0)
    if not at_least(slack_in, LEAST_IN) or not at_most(slack_in, MOST_IN):
        raise Refused(f"expected {LEAST_IN:g} to {MOST_IN:g} in of slack, got {slack_in:g}")
    slack = replace(job.practice.slack, enclosure_in=slack_in)
    return replace(job, practice=replace(job.practice, slack=slack))


VERB = Verb("leave_slack", ("slack past the far corner",), True, "Leave another slack in the enclosure.", run)
