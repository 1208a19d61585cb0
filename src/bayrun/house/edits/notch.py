"""A notch that is wanted or was found: the rules judge it, the plan keeps holes out of its section."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.geometry import at_most, below
from bayrun.house.edits.records import Refused, Signed, Verb, drop, keep, number_of, place_of, text_of
from bayrun.house.job import Job

FACES = ("left", "right", "top", "bottom")


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the notch kept as a choice ``notch``; depth 0 takes it out again.

    Raises:
        Refused: A depth or length that is none, or a face that is none.
    """
    spot, depth_in, length_in, face = place_of(fix, 0), number_of(fix, 1), number_of(fix, 2), text_of(fix, 3)
    if below(depth_in, 0.0) or at_most(length_in, 0.0):
        raise Refused(f"notch {spot}: expected a depth and a length, got {depth_in:g} and {length_in:g} in")
    if face not in FACES:
        raise Refused(f"notch {spot}: expected a face, one of {', '.join(FACES)}, got {face!r}")
    value = f"{depth_in:.10g} in deep {length_in:.10g} in long on the {face}"
    kept = keep(job, "notch", str(spot), value, signed)
    if not at_most(depth_in, 0.0):
        return kept
    return drop(kept, "notch", str(spot))


VERB = Verb(
    "notch", ("place on the wood", "depth", "length", "face"), True, "A notch, or none with depth 0.", run
)
