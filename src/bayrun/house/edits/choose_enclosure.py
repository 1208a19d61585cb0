"""Another of the job's places for the enclosure."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the named candidate chosen; runs that end at the old one go to it.

    Raises:
        Refused: There is no such candidate.
    """
    name = text_of(fix, 0)
    if all(box.id != name for box in job.enclosures):
        known = ", ".join(box.id for box in job.enclosures) or "none"
        raise Refused(f"enclosure {name} is not in the job: expected one of {known}")
    old = job.chosen_enclosure
    runs = job.runs
    if old is not None:
        runs = tuple(
            replace(
                wished,
                from_end=replace(wished.from_end, id=name)
                if wished.from_end.type == "enclosure" and wished.from_end.id == old.id
                else wished.from_end,
                to_end=replace(wished.to_end, id=name)
                if wished.to_end.type == "enclosure" and wished.to_end.id == old.id
                else wished.to_end,
            )
            for wished in runs
        )
    return replace(job, enclosure=name, runs=runs)


VERB = Verb("choose_enclosure", ("enclosure",), True, "Another of the job's places for the enclosure.", run)
