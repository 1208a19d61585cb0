"""Another height of the enclosure about the same middle."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.geometry import at_most, below
from bayrun.house.edits.boxes_of_gear import box_of, with_box
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job
from bayrun.house.places import enclosure_bottom_in, enclosure_top_in
from bayrun.units import tape


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with a box of another height; screw places near its top stay as far from the top as they were.

    Raises:
        Refused: No such enclosure, no height, or one that does not stand between the plates.
    """
    box, height_in = box_of(job, text_of(fix, 0)), number_of(fix, 1)
    if at_most(height_in, 0.0):
        raise Refused(f"expected a height above 0, got {height_in:g} in")
    added_in = height_in - box.height_in
    points = tuple(
        (x_in, y_in + added_in if below(box.height_in / 2, y_in) else y_in)
        for x_in, y_in in box.fixing_points
    )
    made = replace(box, height_in=height_in, fixing_points=points)
    wall, level = job.wall(box.wall), job.level(box.level)
    low_in, high_in = 1.5 * wall.plates.bottom, level.plate_top_in - 1.5 * wall.plates.top
    bottom_in, top_in = enclosure_bottom_in(job, made), enclosure_top_in(job, made)
    if below(bottom_in, low_in) or below(high_in, top_in):
        raise Refused(
            f"{tape(height_in)} high the box would reach from {tape(bottom_in)} to {tape(top_in)} above the "
            f"subfloor; between the plates there is {tape(low_in)} to {tape(high_in)}"
        )
    return with_box(job, made)


VERB = Verb(
    "resize_enclosure", ("enclosure", "height of the box"), True, "Take a box of another height.", run
)
