"""Another bit, or another place across the member, for one hole."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.geometry import at_most
from bayrun.house.edits.records import Refused, Signed, Verb, keep_hole, number_of, place_of, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the wished bit and place kept as choices ``bit`` and ``move hole`` (across, in inches).

    Raises:
        Refused: The diameter is no length, or the place is none.
    """
    hole, diameter_in, across_in = text_of(fix, 0), number_of(fix, 1), number_of(fix, 2)
    if at_most(diameter_in, 0.0):
        raise Refused(f"hole {hole}: expected a bit larger than nothing, got {diameter_in:g} in")
    return keep_hole(job, fix, place_of(fix, 3), signed, bit_in=diameter_in, across_in=across_in)


VERB = Verb(
    "redrill_hole",
    ("hole", "bit", "place across", "place on the wood"),
    True,
    "Another bit or place across for one hole.",
    run,
)
