"""Place a new location on a wall, with its first port."""

from __future__ import annotations

import re
from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.building import Side
from bayrun.house.edits.boxes_on_walls import check_spot
from bayrun.house.edits.ports_of import with_ports
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job
from bayrun.house.places import face_room
from bayrun.house.wished import Location

HIGHEST_IN = 240.0


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one location more and one run to it; its id goes on from the highest of its kind.

    Raises:
        Refused: No such wall or cable, no room on that side, or no wall to hold the box there.
    """
    wall_id, side = text_of(fix, 0), text_of(fix, 2)
    offset_in, height_in = number_of(fix, 1), number_of(fix, 3)
    kind = text_of(fix, 4)
    wall = next((w for w in job.walls if w.id == wall_id), None)
    if wall is None:
        raise Refused(f"wall {wall_id} is not in the job")
    if side not in ("left", "right"):
        raise Refused(f"expected the left or right face of the wall, got {side!r}")
    face: Side = "left" if side == "left" else "right"
    if not 0.0 < height_in < HIGHEST_IN:
        raise Refused(f"expected a height above the finished floor, got {height_in:g} in")
    room = face_room(wall, face, offset_in)
    if room in ("", "outside"):
        raise Refused("that face shows to no room: place the box from inside a room")
    made = Location(next_id(job), room, wall.level, "wall", height_in, wall.id, offset_in, face)
    check_spot(job, wall, made, offset_in)
    grown = replace(job, locations=(*job.locations, made))
    return with_ports(grown, made.id, kind, 1)


def next_id(job: Job) -> str:
    """A free location id: the letters and digits most locations here have, one up."""
    found = [m for q in job.locations if (m := re.fullmatch(r"([A-Za-z-]*)(\d+)", q.id))]
    taken = {q.id for q in job.locations} | {r.id.split("-")[0] for r in job.runs}
    if found:
        names = [m[1] for m in found]
        letters = max(sorted(set(names)), key=names.count)
        width = max(len(m[2]) for m in found if m[1] == letters)
        number = max(int(m[2]) for m in found if m[1] == letters) + 1
    else:
        letters, width, number = "L", 2, 1
    while f"{letters}{number:0{width}d}" in taken:
        number += 1
    return f"{letters}{number:0{width}d}"


VERB = Verb(
    "add_location",
    ("wall", "offset from the wall's start", "face: left or right", "height above finished floor", "cable"),
    True,
    "Place a box with one port on a wall.",
    run,
)
