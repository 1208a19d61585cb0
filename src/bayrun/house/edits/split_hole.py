"""Several smaller holes instead of one."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.geometry import at_most
from bayrun.house.edits.records import Refused, Signed, Verb, keep_hole, number_of, place_of, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the wished holes kept as a choice ``split hole``: count, bit, step, place across, first.

    Raises:
        Refused: Fewer than two holes, a count that is no whole number, no bit, or no place.
    """
    hole, count = text_of(fix, 0), number_of(fix, 1)
    bit_in, step_in = number_of(fix, 2), number_of(fix, 5)
    if int(count) != count or int(count) < 2:
        raise Refused(f"hole {hole}: expected two or more whole holes, got {count:g}")
    if at_most(bit_in, 0.0) or at_most(step_in, bit_in):
        raise Refused(f"hole {hole}: holes of {bit_in:g} in every {step_in:g} in would run into each other")
    return keep_hole(
        job,
        fix,
        place_of(fix, 6),
        signed,
        count=int(count),
        bit_in=bit_in,
        across_in=number_of(fix, 3),
        first_in=number_of(fix, 4),
        step_in=step_in,
    )


VERB = Verb(
    "split_hole",
    ("hole", "count", "bit", "place across", "first", "step", "place on the wood"),
    True,
    "Several smaller holes instead of one.",
    run,
)
