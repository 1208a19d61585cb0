"""Where a box may stand on a wall: shared by the edits that place one."""

from __future__ import annotations

from bayrun.geometry import below
from bayrun.house.building import Wall
from bayrun.house.edits.records import Refused
from bayrun.house.job import Job
from bayrun.house.places import finish_in, wall_name
from bayrun.house.solids import openings_of
from bayrun.house.wished import Location
from bayrun.units import tape

HALF_BOX_IN = 1.125
"""Half of a one-gang ring. Common practice, no source [in]."""


def check_spot(job: Job, wall: Wall, location: Location, to_in: float) -> None:
    """Refuse a place off the wall, or in an opening.

    Args:
        location: Gives the height and the room whose floor it is measured from.
        to_in: Middle of the box as an offset from the wall's start [in].
    Raises:
        Refused: With the stretch where a box fits, or the opening that is there.
    """
    where = f"{tape(to_in)} along {wall_name(wall)}" if not below(to_in, 0.0) else "before the wall's start"
    low_in, high_in = wall.plate_start_in + HALF_BOX_IN, wall.plate_end_in - HALF_BOX_IN
    if below(to_in, low_in) or below(high_in, to_in):
        raise Refused(
            f"{where} is off the wall: a box fits from {tape(low_in)} to {tape(high_in)} from its start"
        )
    up_in = location.height_in + finish_in(job, location)
    for opening in openings_of(job, wall):
        beside = below(to_in + HALF_BOX_IN, opening.offset_in) or below(
            opening.offset_in + opening.width_in, to_in - HALF_BOX_IN
        )
        top_in = opening.head_in + opening.header_depth_in
        if not beside and not below(up_in, opening.sill_in) and not below(top_in, up_in):
            raise Refused(f"{where} is in the {opening.kind} {opening.id}: no wall to hold the box")
