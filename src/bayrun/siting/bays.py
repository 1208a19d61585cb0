"""Every bay of every framed wall as a place for the enclosure: what is against it, how far the cables are.

A bay that cannot take the box says every reason at once; one that can is ranked by the cable it asks for,
weighed by how well its room suits a box that hums, warms and is opened for service.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bayrun.framing import Bay, Frame, Member
from bayrun.geometry import Rect, at_least, below, subtract_all
from bayrun.house import (
    Job,
    Location,
    Room,
    Wall,
    face_room,
    location_point,
    wall_name,
    wall_point,
)
from bayrun.house.building import Point3
from bayrun.units import tape
from bayrun.wishes import kind_of_room
from bayrun.wishes.spots import blocked_in

CLEAR_WIDTH_IN = 14.5
"""Least clear bay for a box of the 14-1/4 in class: 1/8 in each side for crown and bow [in].
Source: 16 in on center less one dressed stud; box width from a trade figure, as in BUILDING 1.2."""
WIDE_BAY_IN = 15.0
"""Over this an added stud is needed beside the box [in]. Common practice, no source."""
PLATE_LENGTH_IN, PLATE_DEPTH_IN = 5.0, 2.5
"""Least clear piece of plate over the bay: two 2 in holes one beside the other [in]. Common practice."""
STAIR_NEAR_IN = 3.0
FACTORS: tuple[tuple[str, float, str], ...] = (
    ("closet", 1.00, "a closet: out of sight, and nobody hangs a picture there"),
    ("utility", 1.00, "a utility room: made for service"),
    ("mechanical", 1.00, "a mechanical room: made for service"),
    ("laundry", 1.03, "a laundry: service is easy, mind the damp"),
    ("unfinished", 1.08, "an unfinished space: open to work in, mind the damp"),
    ("hall", 1.12, "a hall: in sight, easy to reach"),
    ("office", 1.15, "an office: in sight"),
    ("garage", 1.25, "a garage: hot and cold, dusty"),
    ("dining", 1.40, "a dining room: in sight"),
    ("living", 1.40, "a living room: in sight"),
    ("kitchen", 1.50, "a kitchen: cabinets want the wall"),
    ("", 1.50, "a room whose use nobody said"),
    ("bed", 1.70, "a bedroom: lights and fans at night, the last choice"),
)
"""(kind of room, how much dearer a foot of cable counts there, in words). Common practice, no source."""
WIDE_FACTOR = 1.10


@dataclass(frozen=True, slots=True)
class Box:
    """The enclosure that is to be placed, by its outside sizes [in]."""

    width_in: float = 14.25
    height_in: float = 28.0
    depth_in: float = 3.625
    center_aff_in: float = 48.0


@dataclass(frozen=True, slots=True)
class Ranked:
    """One bay, seen from one of its two rooms.

    Args:
        bay: Id of the bay.
        bay_studs_in: Centers of its two studs, as offsets along the wall [in].
        cable_in: Rectilinear distance to every location, once for each of its cables [in].
        score: ``cable_in`` times the room's factor; less is better.
        against: Every reason why the box cannot stand here; empty where it can.
        says: What speaks for and against it, in words.
    """

    bay: str
    wall: str
    level: str
    room: str
    side: Literal["left", "right"]
    bay_studs_in: tuple[float, float]
    clear_width_in: float
    depth_in: float
    cable_in: float
    score: float
    against: tuple[str, ...]
    says: tuple[str, ...]

    @property
    def fits(self) -> bool:
        """True where nothing speaks against it."""
        return not self.against


def rank_bays(job: Job, frame: Frame, box: Box | None = None) -> tuple[Ranked, ...]:
    """Every bay of every framed wall from each of its rooms: what fits first, best first.

    Args:
        job: Locations it has give the distances; without any the middles of its rooms do.
        frame: From ``framing.lay_out``.
        box: The enclosure's sizes; None takes 14-1/4 x 28 x 3-5/8 in at 48 in above the floor.
    """
    box = box or Box()
    targets = _targets(job)
    members = {m.id: m for m in frame.members}
    over = dict(frame.over)
    found: list[Ranked] = []
    for bay in frame.bays:
        wall = job.wall(bay.wall)
        sides: tuple[Literal["left", "right"], ...] = ("left", "right")
        for side in sides:
            name = face_room(wall, side, bay.center_in)
            room = next((r for r in job.rooms if r.name == name and r.level == wall.level), None)
            if room is None:
                continue
            covers = tuple(c.rect for c in over.get(bay.over, ()))
            against = _against(job, wall, bay, room, box, members, covers)
            found.append(_ranked(job, wall, bay, side, room, box, against, targets))
    return tuple(sorted(found, key=lambda r: (bool(r.against), r.score, r.wall, r.bay, r.side)))


def _targets(job: Job) -> tuple[tuple[Point3, int], ...]:
    """(world point, cables) of every location; the middles of rooms where there is none."""
    found = []
    for location in job.locations:
        cables = _cables(job, location)
        if cables:
            found.append((location_point(job, location), cables))
    if found:
        return tuple(found)
    for room in job.rooms:
        xs, ys = [p[0] for p in room.polygon], [p[1] for p in room.polygon]
        z = job.level(room.level).subfloor_z_in + 48.0
        found.append((((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2, z), 1))
    return tuple(found)


def _cables(job: Job, location: Location) -> int:
    """How many cables of a location go to an enclosure; all its ports where no run is wished yet."""
    if not job.runs:
        return sum(p.count for p in location.ports)
    return sum(
        1
        for run in job.runs
        if {run.from_end.type, run.to_end.type} == {"enclosure", "location"}
        and location.id in (run.from_end.id, run.to_end.id)
    )


def _against(
    job: Job, wall: Wall, bay: Bay, room: Room, box: Box, members: dict[str, Member], covers: tuple[Rect, ...]
) -> tuple[str, ...]:
    level = job.level(wall.level)
    low, high = members.get(bay.low), members.get(bay.high)
    reasons: list[str] = []
    if wall.exterior:
        reasons.append("an outside wall: the box would take the place of all its insulation")
    if wall.rated:
        reasons.append(f"a rated wall ({wall.rated}): no opening of this size")
    if wall.separation:
        reasons.append("the wall between dwelling and garage: no opening of this size")
    if wall.wet:
        reasons.append("a wet wall: pipes")
    if below(bay.clear_width_in, CLEAR_WIDTH_IN):
        reasons.append(f"clear width {tape(bay.clear_width_in)}, under {tape(CLEAR_WIDTH_IN)}")
    room_depth_in = bay.depth_in + level.wall_board_in
    if below(room_depth_in, box.depth_in):
        reasons.append(f"depth {tape(room_depth_in)} with the board, under {tape(box.depth_in)}")
    if not _whole_height(bay, members):
        reasons.append("not clear from plate to plate: an opening or a pipe stands in it")
    bottom = box.center_aff_in - box.height_in / 2 + room.floor_finish_in - room.floor_drop_in
    if below(bottom, bay.clear.v0) or below(bay.clear.v1, bottom + box.height_in):
        reasons.append("the box at its height does not lie within the bay")
    for member in (low, high):
        if member is not None and member.material == "steel":
            reasons.append("a light steel stud bounds it: the box wants wood to be screwed to")
            break
    kind = kind_of_room(room)
    if kind == "bath":
        reasons.append(f"it shows to {room.name}: damp")
    if _at_stair(job, wall, bay):
        reasons.append("a stair stands against it: no floor to work from")
    if any(a < bay.clear.u1 and bay.clear.u0 < b for a, b in blocked_in(job, wall)):
        reasons.append("cabinets, a panel, a duct or a pipe stand in it or against it")
    reasons += _taken(job, wall, bay)
    if not _plate_clear(bay, wall, covers):
        reasons.append("no clear way through the plate over it: a joist or chord lies there")
    elif not any(f.above_level == wall.level for f in job.frames):
        reasons.append("nobody said what is over this level")
    return tuple(reasons)


def _whole_height(bay: Bay, members: dict[str, Member]) -> bool:
    under, over = members.get(bay.under), members.get(bay.over)
    bounds = (members.get(bay.low), members.get(bay.high))
    return (
        under is not None
        and over is not None
        and under.role == "bottom plate"
        and over.role == "top plate"
        and all(m is not None and m.role not in ("cripple", "jack") for m in bounds)
    )


def _at_stair(job: Job, wall: Wall, bay: Bay) -> bool:
    reach = wall.thickness_in / 2 + STAIR_NEAR_IN
    for stair in job.stairs:
        if wall.level not in [level for level, _ in stair.rooms]:
            continue
        rect = Rect(*stair.rect)
        x0, y0 = wall_point(wall, bay.clear.u0, 0.0)
        x1, y1 = wall_point(wall, bay.clear.u1, 0.0)
        strip = Rect(min(x0, x1) - reach, min(y0, y1) - reach, max(x0, x1) + reach, max(y0, y1) + reach)
        if strip.overlaps(rect):
            return True
    return False


def _taken(job: Job, wall: Wall, bay: Bay) -> list[str]:
    """Locations that stand in the bay, from either side."""
    found = [
        q.id
        for q in job.locations
        if q.wall == wall.id and q.offset_in is not None and bay.clear.u0 < q.offset_in < bay.clear.u1
    ]
    return (
        [f"{', '.join(found)} stand in it" if len(found) > 1 else f"{found[0]} stands in it"] if found else []
    )


def _plate_clear(bay: Bay, wall: Wall, covers: tuple[Rect, ...]) -> bool:
    half = wall.thickness_in / 2
    plate = Rect(bay.clear.u0, -half, bay.clear.u1, half)
    return any(
        at_least(piece.width, PLATE_LENGTH_IN) and at_least(piece.height, PLATE_DEPTH_IN)
        for piece in subtract_all(plate, covers)
    )


def _ranked(
    job: Job,
    wall: Wall,
    bay: Bay,
    side: Literal["left", "right"],
    room: Room,
    box: Box,
    against: tuple[str, ...],
    targets: tuple[tuple[Point3, int], ...],
) -> Ranked:
    x, y = wall_point(wall, bay.center_in)
    top = box.center_aff_in + box.height_in / 2 + room.floor_finish_in - room.floor_drop_in
    z = job.level(wall.level).subfloor_z_in + top
    cable = sum(n * (abs(p[0] - x) + abs(p[1] - y) + abs(p[2] - z)) for p, n in targets)
    kind = kind_of_room(room)
    factor, word = next((f, w) for k, f, w in FACTORS if k == kind) if kind != "bath" else (2.0, "a bath")
    says = [
        f"{room.name} side of {wall_name(wall, bay.center_in)}",
        word,
        f"{tape(bay.clear_width_in)} clear",
    ]
    if below(WIDE_BAY_IN, bay.clear_width_in):
        factor *= WIDE_FACTOR
        says.append("one added stud beside the box: ask the framer")
    wood = 0.75
    return Ranked(
        bay=bay.id,
        wall=wall.id,
        level=wall.level,
        room=room.name,
        side=side,
        bay_studs_in=(bay.clear.u0 - wood, bay.clear.u1 + wood),
        clear_width_in=bay.clear_width_in,
        depth_in=bay.depth_in,
        cable_in=cable,
        score=cable * factor,
        against=against,
        says=tuple(says),
    )
