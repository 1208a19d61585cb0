"""The same box, from the other room."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.building import Side
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.job import Job
from bayrun.house.places import face_room


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with a box on the other face of its wall, at the same offset and height.

    Raises:
        Refused: No such location, it is on no wall, or the other face shows to no room.
    """
    name = text_of(fix, 0)
    location = next((q for q in job.locations if q.id == name), None)
    if location is None:
        raise Refused(f"location {name} is not in the job")
    wall = next((w for w in job.walls if w.id == location.wall), None)
    if wall is None or location.offset_in is None or location.side not in ("left", "right"):
        raise Refused(f"location {name} in {location.room} is on no wall with two rooms")
    other: Side = "right" if location.side == "left" else "left"
    room = face_room(wall, other, location.offset_in)
    if room in ("", "outside"):
        raise Refused(f"behind location {name} is no room: the other face shows outside")
    turned = replace(location, side=other, room=room)
    return replace(job, locations=tuple(turned if q.id == name else q for q in job.locations))


VERB = Verb("turn_location", ("location",), True, "The same box on the other face of its wall.", run)
