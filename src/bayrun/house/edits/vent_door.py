"""A door with openings, low and high."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.boxes_of_gear import box_of, with_box
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with a vented door: so many square inches free at its bottom and as many at its top.

    Raises:
        Refused: No such enclosure, or openings larger than half the door.
    """
    box, area_in2 = box_of(job, text_of(fix, 0)), number_of(fix, 1)
    most_in2 = box.height_in * box.width_in / 2
    if not 0 <= area_in2 <= most_in2:
        raise Refused(f"expected openings of 0 to {most_in2:.0f} square inches, got {area_in2:g}")
    return with_box(job, replace(box, door_vent_in2=float(area_in2)))


VERB = Verb(
    "vent_door", ("enclosure", "free area low and high, sq in each"), True, "Take a door with openings.", run
)
