"""One nail plate more than the plan counts."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Signed, Verb, keep, place_of, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with a plate on each named face kept as a choice ``nail plate``; the counting adds its own."""
    faces, spot = text_of(fix, 1).split(), place_of(fix, 2)
    for face in faces:
        job = keep(job, "nail plate", f"{spot}/{face}", face, signed)
    return job


VERB = Verb(
    "add_nail_plate",
    ("hole", "faces", "place on the wood"),
    True,
    "A steel plate over each named face of a hole.",
    run,
)
