"""Hang an access point on a ceiling, with its data run."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.add_location import next_id
from bayrun.house.edits.ports_of import with_ports
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job
from bayrun.house.places import room_at
from bayrun.house.wished import Location

WORDS = "access point"


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one ceiling location more for an access point, and one run to it.

    Raises:
        Refused: No such level or cable, or the point lies in no room of it.
    """
    level_id, x_in, y_in, kind = text_of(fix, 0), number_of(fix, 1), number_of(fix, 2), text_of(fix, 3)
    level = next((v for v in job.levels if v.id == level_id), None)
    if level is None:
        raise Refused(f"level {level_id} is not in the job")
    room = room_at(job, level_id, x_in, y_in)
    if room is None:
        raise Refused(f"that point of level {level_id} lies in no room: an access point hangs on a ceiling")
    finish_in = room.floor_finish_in - room.floor_drop_in
    up_in = level.plate_top_in - level.ceiling_board_in - finish_in
    made = Location(
        next_id(job), room.name, level_id, "ceiling", up_in, x_in=x_in, y_in=y_in, note=WORDS, device=WORDS,
        reason=signed.reason or fix.says,
    )  # fmt: skip
    return with_ports(replace(job, locations=(*job.locations, made)), made.id, kind, 1)


VERB = Verb(
    "hang_access_point", ("level", "x", "y", "cable"), True, "Hang an access point on a ceiling.", run
)
