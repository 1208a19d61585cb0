"""Keep a piece of gear where a person put it in the enclosure."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.geometry import at_least, at_most
from bayrun.house.edits.boxes_of_gear import box_of_gear, gear_inside
from bayrun.house.edits.records import Refused, Signed, Verb, keep, number_of, text_of
from bayrun.house.job import Job
from bayrun.units import tape

KIND = "place gear"
FEED = "AC"
"""Id of the receptacle of the electrician's feed, where no gear of the job is it."""


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the place kept; the arrangement leaves the piece there and tells what it conflicts with.

    The piece is a gear's id, with its number where one gear is several pieces (``PATCH/2``); left and bottom
    are measured from the lower left inside corner of the box, as one faces it.

    Raises:
        Refused: No such gear in an enclosure, or a place outside the box.
    """
    name, left_in, bottom_in = text_of(fix, 0), number_of(fix, 1), number_of(fix, 2)
    box = job.chosen_enclosure
    if box is None:
        raise Refused("there is no enclosure to hang gear in")
    if name != FEED or box.ac_feed is None:
        box = box_of_gear(job, gear_inside(job, name.partition("/")[0]).id)
    for what, value_in, most_in in (("left", left_in, box.width_in), ("bottom", bottom_in, box.height_in)):
        if not at_least(value_in, 0.0) or not at_most(value_in, most_in):
            raise Refused(f"expected a {what} from 0 to {tape(most_in)} inside the box, got {value_in:g} in")
    return keep(job, KIND, name, f"{left_in:g} {bottom_in:g}", signed)


VERB = Verb(
    "place_gear",
    ("piece of gear", "its left from the box's left inside", "its bottom from the box's bottom inside"),
    True,
    "Keep a piece of gear where a person put it.",
    run,
)
