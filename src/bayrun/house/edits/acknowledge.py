"""Write down that a person has seen a finding and why it stands."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, keep, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the acknowledgment; the finding stays in the list, a stop stays a stop.

    Raises:
        Refused: Nobody signed it, or without a reason.
    """
    about = text_of(fix, 0)
    missing = [
        what for what, said in (("a name", signed.by), ("a reason", signed.reason)) if not said.strip()
    ]
    if missing:
        raise Refused(f"to acknowledge {about} takes {' and '.join(missing)}")
    return keep(job, "acknowledge", about, "seen", signed)


VERB = Verb("acknowledge", ("the finding",), False, "Write down that a finding was seen, and why.", run)
