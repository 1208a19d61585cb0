"""Let a piece of gear be placed again."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.place_gear import KIND
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job without the hand place of a piece.

    Raises:
        Refused: It has none.
    """
    name = text_of(fix, 0)
    rest = tuple(c for c in job.choices if (c.kind, c.about) != (KIND, name))
    if len(rest) == len(job.choices):
        raise Refused(f"no place is kept for {name}")
    return replace(job, choices=rest)


VERB = Verb("free_gear", ("piece of gear",), True, "Let a piece of gear be placed again.", run)
