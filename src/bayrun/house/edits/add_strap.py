"""One strap more than the plan counts."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.geometry import at_most
from bayrun.house.edits.records import Refused, Signed, Verb, keep, number_of, place_of, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the strap kept as a choice ``strap``; the counting adds its own by itself.

    Raises:
        Refused: The length is no length.
    """
    hole, length_in = text_of(fix, 0), number_of(fix, 1)
    if at_most(length_in, 0.0):
        raise Refused(f"hole {hole}: expected the strap's length, got {length_in:g} in")
    return keep(job, "strap", str(place_of(fix, 2)), f"{length_in:.10g} in", signed)


VERB = Verb(
    "add_strap",
    ("hole", "length", "place on the wood"),
    True,
    "A steel strap over a cut top plate.",
    run,
)
