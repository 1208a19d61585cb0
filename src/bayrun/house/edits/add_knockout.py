"""One more knockout for low voltage in the top or bottom of the enclosure."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from bayrun.findings import Fix
from bayrun.geometry import at_most, below
from bayrun.house.edits.boxes_of_gear import box_of, with_box
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job
from bayrun.house.wished import Knockout
from bayrun.units import tape


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with a hole punched in an edge of the box, for low voltage.

    Raises:
        Refused: No such enclosure, no such edge, a hole that leaves the edge or runs into another.
    """
    box, side = box_of(job, text_of(fix, 0)), text_of(fix, 1)
    from_left_in, diameter_in = number_of(fix, 2), number_of(fix, 3)
    if side not in ("top", "bottom"):
        raise Refused(f"expected top or bottom, got {side!r}")
    edge: Literal["top", "bottom"] = "top" if side == "top" else "bottom"
    radius_in = diameter_in / 2
    if at_most(diameter_in, 0.0) or below(box.depth_in, diameter_in):
        raise Refused(
            f"expected a hole above 0 and at most {tape(box.depth_in)} wide, got {diameter_in:g} in"
        )
    if below(from_left_in, radius_in) or below(box.width_in - radius_in, from_left_in):
        raise Refused(f"a hole {tape(from_left_in)} from the left leaves the {edge} of the box")
    for other in box.knockouts:
        apart_in = abs(other.from_left_in - from_left_in)
        if other.edge == edge and below(apart_in, radius_in + other.diameter_in / 2):
            raise Refused(f"it would run into the knockout {tape(other.from_left_in)} from the left")
    made = Knockout(edge, from_left_in, diameter_in)
    return with_box(job, replace(box, knockouts=(*box.knockouts, made)))


VERB = Verb(
    "add_knockout",
    ("enclosure", "top or bottom", "center from its left", "diameter"),
    True,
    "Punch one more knockout for low voltage.",
    run,
)
