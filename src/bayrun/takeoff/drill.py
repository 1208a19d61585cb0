"""The drill list, in the order a person walks."""

from __future__ import annotations

from collections import defaultdict

from bayrun.framing.records import Frame, Member
from bayrun.geometry import at_most, below
from bayrun.house import Job
from bayrun.takeoff.nearby import check_words
from bayrun.takeoff.plates import chain_of, face_margins, through_in
from bayrun.takeoff.records import Band, DrillRow
from bayrun.takeoff.walking import Spot, Walk, start_spot
from bayrun.takeoff.words import (
    face_name,
    face_words,
    hole_level,
    hole_room,
    hole_wall,
    member_words,
    natural,
)
from bayrun.wiring import Hole, NailPlate, Strap, Wiring

FLOOR_IN = 30.0
"""Below this a person kneels to drill [in above the subfloor]. Common practice, no source."""

REACH_IN = 78.0
"""Above this a person needs a ladder to drill [in above the subfloor]. Common practice, no source."""

SET_BY = {"choice": "by your choice; ", "done": "drilled already: leave it as it is; "}
"""What is told first of a hole that somebody set."""

_BANDS: tuple[Band, ...] = ("floor", "reach", "ladder", "open passage")


def drill_rows(
    job: Job,
    frame: Frame,
    wiring: Wiring,
    plates: tuple[NailPlate, ...],
    straps: tuple[Strap, ...],
) -> tuple[DrillRow, ...]:
    """Every hole once: by room in walking order, then floor, reach, ladder, then bit, then the nearest next.

    Open passages come last in their room: nothing is drilled there, but the cable goes through.
    Rooms start from the enclosure (else the front door); the order of rooms is never longer on foot than
    the order in which the hole ids name them.
    """
    members = {m.id: m for m in frame.members}
    plates_of: dict[str, list[str]] = defaultdict(list)
    for plate in plates:
        plates_of[plate.hole].append(plate.id)
    strap_of = {strap.hole: strap.id for strap in straps}
    rows = []
    for number, hole in enumerate(walking_order(job, wiring), start=1):
        chain = chain_of(members, hole)
        member = chain[0]
        what, where, hook_in = member_words(job, member, hole)
        wall = next((w for w in job.walls if w.id == (hole.wall or member.host)), None)
        rows.append(
            DrillRow(
                row=f"R{number}",
                order=number,
                hole=hole.id,
                level=hole_level(job, hole),
                room=hole_room(job, hole),
                wall=hole_wall(job, hole),
                member=what,
                where=where,
                hook_in=hook_in,
                height_in=_height_in(job, hole),
                band=_band(job, hole),
                bit_in=hole.diameter_in,
                bearing=_bearing(job, member),
                margins=tuple(
                    (face_words(face_name(None if hole.axis == "across" else wall, side, hole.along_in)), m)
                    for side, m in face_margins(chain, hole)
                ),
                plates=tuple(plates_of[hole.id]),
                strap=strap_of.get(hole.id, ""),
                check=SET_BY.get(hole.set_by, "")
                + check_words(job, frame, member, hole, through_in(chain, hole)),
                runs=tuple(sorted(hole.occupants, key=natural)),
                drilled=not hole.open_passage,
            )
        )
    return tuple(rows)


def hole_spot(job: Job, hole: Hole) -> Spot:
    """Where a person stands to drill a hole."""
    return Spot(hole_level(job, hole), hole_room(job, hole), hole.x, hole.y)


def walking_order(job: Job, wiring: Wiring) -> tuple[Hole, ...]:
    """Every hole once, in the order of the drill list."""
    walk, start = Walk(job), start_spot(job)
    rooms: dict[tuple[str, str], list[Hole]] = defaultdict(list)
    for hole in sorted(wiring.holes, key=lambda h: natural(h.id)):
        rooms[hole_spot(job, hole).place].append(hole)
    stops = [
        (place, Spot(*place, sum(h.x for h in holes) / len(holes), sum(h.y for h in holes) / len(holes)))
        for place, holes in rooms.items()
    ]
    here, found = start, []
    for place in walk.order(start, stops):
        for group in _groups(job, rooms[place]):
            left = list(group)
            while left:
                following = min(left, key=lambda h: (walk.between(here, hole_spot(job, h)), natural(h.id)))
                left.remove(following)
                found.append(following)
                here = hole_spot(job, following)
    return tuple(found)


def _groups(job: Job, holes: list[Hole]) -> list[list[Hole]]:
    groups: dict[tuple[int, int], list[Hole]] = defaultdict(list)
    for hole in holes:
        band = _BANDS.index(_band(job, hole))
        groups[band, round(hole.diameter_in * 64)].append(hole)
    return [groups[key] for key in sorted(groups)]


def _height_in(job: Job, hole: Hole) -> float:
    return hole.z - job.level(hole_level(job, hole)).subfloor_z_in


def _band(job: Job, hole: Hole) -> Band:
    if hole.open_passage:
        return "open passage"
    height_in = _height_in(job, hole)
    if below(height_in, FLOOR_IN):
        return "floor"
    return "reach" if at_most(height_in, REACH_IN) else "ladder"


def _bearing(job: Job, member: Member) -> str:
    wall = next((w for w in job.walls if w.id == member.host), None)
    if wall is not None and wall.bearing is None and not wall.exterior:
        return "unknown"
    return "yes" if member.bearing else "no"
