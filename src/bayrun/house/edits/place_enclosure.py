"""Place the enclosure in a stud bay."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.geometry import at_most
from bayrun.house.building import Side, Wall
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.edits.reshaping import find_wall
from bayrun.house.job import Job
from bayrun.house.places import face_room, wall_name
from bayrun.house.solids import fixed_solids, layout_stud_centers_in, openings_of
from bayrun.house.wished import Enclosure
from bayrun.units import tape

WIDTH_IN, HEIGHT_IN, DEPTH_IN = 14.25, 28.0, 3.625
"""A generic size for a 16 in bay [in]; the job can say another."""


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the enclosure in the bay at an offset; it is the chosen one, and runs go to it.

    A first one is added; later the chosen one is moved and keeps its size, its gear and its knockouts.

    Raises:
        Refused: No such wall, no room on that face, or no bay there wide enough.
    """
    wall, side_name = find_wall(job, text_of(fix, 0)), text_of(fix, 2)
    at_in = number_of(fix, 1)
    if side_name not in ("left", "right"):
        raise Refused(f"expected the left or right face of the wall, got {side_name!r}")
    side: Side = "left" if side_name == "left" else "right"
    room = face_room(wall, side, at_in)
    if room in ("", "outside"):
        raise Refused("that face shows to no room: the enclosure opens into one")
    old = job.chosen_enclosure
    width_in = old.width_in if old is not None else WIDTH_IN
    low_in, high_in = bay_at(job, wall, at_in)
    clear_in = high_in - low_in - wall.stud_width_in
    if clear_in < width_in - 1e-6:
        raise Refused(
            f"the bay there in {wall_name(wall)} is {tape(clear_in)} wide between its studs; "
            f"the box takes {tape(width_in)}"
        )
    if old is None:
        made = Enclosure(
            "ENC", wall.id, wall.level, room, side, (low_in, high_in), WIDTH_IN, HEIGHT_IN, DEPTH_IN
        )
        return replace(job, enclosures=(*job.enclosures, made), enclosure="ENC")
    feed = old.ac_feed
    if feed is not None:  # its bay and hole were those of the old place
        feed = replace(feed, bay_studs_in=None, hole_height_in=None)
    made = replace(
        old,
        wall=wall.id,
        level=wall.level,
        room=room,
        side=side,
        bay_studs_in=(low_in, high_in),
        ac_feed=feed,
    )
    return replace(job, enclosures=tuple(made if e.id == old.id else e for e in job.enclosures))


def bay_at(job: Job, wall: Wall, at_in: float) -> tuple[float, float]:
    """Centers of the two studs that bound the bay at an offset, as wall offsets [in].

    Raises:
        Refused: The wall has no studs there, or the place is in an opening or in wood.
    """
    if not wall.framed:
        raise Refused(f"{wall_name(wall)} has no studs")
    for opening in openings_of(job, wall):
        if opening.offset_in < at_in < opening.offset_in + opening.width_in:
            raise Refused(f"in {wall_name(wall)} the {opening.kind} {opening.id} is there")
    half_in = wall.stud_width_in / 2
    edges: list[tuple[float, float]] = [(c - half_in, c + half_in) for c in layout_stud_centers_in(wall)]
    edges += [(s.from_in, s.to_in) for s in fixed_solids(job, wall)]
    if any(a < at_in < b for a, b in edges):
        raise Refused(f"there is a stud {tape(at_in)} along {wall_name(wall)}: choose a bay beside it")
    under = [b for _, b in edges if at_most(b, at_in)]
    over = [a for a, _ in edges if at_most(at_in, a)]
    if not under or not over:
        raise Refused(f"{tape(at_in)} is off {wall_name(wall)}")
    return round(max(under) - half_in, 6), round(min(over) + half_in, 6)


VERB = Verb(
    "place_enclosure",
    ("wall", "offset from the wall's start", "face: left or right"),
    True,
    "Place the enclosure in a bay.",
    run,
)
