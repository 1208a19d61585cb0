"""One nail plate more than the plan counts."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Signed, Verb, keep, place_of, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the plate kept as a choice ``nail plate``; the counting adds its own by itself."""
    face, spot = text_of(fix, 1), place_of(fix, 2)
    return keep(job, "nail plate", f"{spot}/{face}", face, signed)


VERB = Verb(
    "add_nail_plate",
    ("hole", "face", "place on the wood"),
    True,
    "A steel plate over one face of a hole.",
    run,
)
