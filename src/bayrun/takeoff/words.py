"""Places in words a person on a ladder can use, and the order of ids."""

from __future__ import annotations

import re

from bayrun.framing.records import Member
from bayrun.geometry import at_most
from bayrun.house import End, Job, Wall, WishedRun, face_room, room_at, side_room, wall_name
from bayrun.house.building import Side
from bayrun.units import tape
from bayrun.wiring import Hole, PathPoint, Run

ATTIC = "Attic"

_PARTS = re.compile(r"(\d+)")
_ROLE = {
    "king": "king stud",
    "jack": "jack stud",
    "roof truss chord": "truss bottom chord",
    "edge member": "rim",
}


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Sort key that puts H2 before H10."""
    return tuple(
        (0, int(part), "") if part.isdigit() else (1, 0, part) for part in _PARTS.split(text) if part
    )


def end_word(wall: Wall, end: str) -> str:
    """Which end of the house a wall's end lies toward: front, back, left or right, seen from the front."""
    dx, dy = wall.direction
    if end == "start":
        dx, dy = -dx, -dy
    if abs(dy) > abs(dx):
        return "back" if dy > 0 else "front"
    return "right" if dx > 0 else "left"


def hook(wall: Wall, along_in: float) -> tuple[float, str]:
    """How far from the plate end that the framer laid out from, and that end in words.

    A tape hooks on the end of the plate, not on the center line of the crossing wall, so a wall offset
    is counted from ``plate_start_in`` (or back from ``plate_end_in``).

    Args:
        along_in: Offset from the wall's start [in].
    Returns:
        (distance [in], ``front end of the plate`` …).
    """
    origin = wall.layout.origin if wall.layout else "start"
    distance_in = along_in - wall.plate_start_in if origin == "start" else wall.plate_end_in - along_in
    return distance_in, f"{end_word(wall, origin)} end of the plate"


def walls_of(job: Job) -> dict[str, Wall]:
    """Walls by id."""
    return {wall.id: wall for wall in job.walls}


def role_words(member: Member) -> str:
    """A member's name as a carpenter says it."""
    return _ROLE.get(member.role, member.role)


def axis_of(member: Member) -> str:
    """``x`` or ``y``: the plan axis a frame member runs along."""
    box = member.box
    return "x" if box.x1 - box.x0 > box.y1 - box.y0 else "y"


def member_words(job: Job, member: Member, hole: Hole) -> tuple[str, str, float]:
    """The drilled member and the place of the hole in it, in words.

    Returns:
        (member in words, height or offset in words, distance from the named end [in]).
    """
    wall = next((w for w in job.walls if w.id == member.host), None)
    if wall is not None and hole.axis == "along":
        distance_in, end = hook(wall, (member.along[0] + member.along[1]) / 2)
        more = f" and {len(hole.plies)} more beside it" if hole.plies else ""
        return (
            f"{role_words(member)}{more}, its center {tape(distance_in)} from the {end}",
            f"center {tape(hole.up_in)} above the subfloor",
            distance_in,
        )
    if wall is not None:
        distance_in, end = hook(wall, hole.along_in)
        plies = f", {member.plies} plies" if member.plies > 1 else ""
        return f"{role_words(member)}{plies}", f"center {tape(distance_in)} from the {end}", distance_in
    axis, box = axis_of(member), member.box
    distance_in, end = (hole.x - box.x0, "left") if axis == "x" else (hole.y - box.y0, "front")
    name = f"{role_words(member)} {member.id.rsplit('/', 1)[-1]} {_frame_words(job, member.host)}"
    up = f", {tape(hole.z - box.z0)} up from its bottom edge"
    if member.role == "barrier":
        name, up = _barrier_words(job, member), f", {tape(hole.z - _subfloor(job, hole))} above the subfloor"
    elif member.role in ("subfloor", "top plate", "bottom plate"):
        up = ""
    return name, f"center {tape(distance_in)} from its {end} end{up}", distance_in


def _frame_words(job: Job, host: str) -> str:
    """A frame by what it lies over, as a crew says it."""
    for frame in job.frames:
        if frame.id == host:
            if frame.above_level is not None:
                return f"over level {frame.above_level}"
            return f"under level {frame.below_level}"
    return f"of {host}"


def _barrier_words(job: Job, member: Member) -> str:
    return next((b.kind for b in job.barriers if b.id == member.host), member.says or "separation")


def _subfloor(job: Job, hole: Hole) -> float:
    return next((level.subfloor_z_in for level in job.levels if level.id == hole.level), 0.0)


def face_name(wall: Wall | None, side: str, along_in: float) -> str:
    """A face by its room; ``outside`` where it shows to none."""
    if wall is None:
        return {"top": "top edge", "bottom": "bottom edge"}.get(side, side)
    which: Side = "left" if side == "left" else "right"
    return face_room(wall, which, along_in) or side_room(wall, which) or "outside"


def face_words(face: str) -> str:
    """``Laundry`` → ``Laundry side``; outdoors ``outside face``; edges of joists stay as they are."""
    if face == "outside":
        return "outside face"
    return face if face.endswith("edge") else f"{face} side"


def hole_room(job: Job, hole: Hole) -> str:
    """Room a hole is drilled from.

    The side of its wall where the enclosure or the boxes it feeds stand, else as routed, else the first
    side that is indoors.
    """
    wall = next((w for w in job.walls if w.id == hole.wall), None)
    if wall is None:
        return hole.room or _room_below(job, hole)
    sides: tuple[Side, ...] = ("left", "right")
    indoors = [room for side in sides if (room := face_name(wall, side, hole.along_in)) != "outside"]
    for box in job.built_enclosures:
        low_in, high_in = box.bay_studs_in
        here = box.wall == wall.id and box.room in indoors
        if here and at_most(low_in, hole.along_in) and at_most(hole.along_in, high_in):
            return box.room
    fed = {run.to_end.id for run in job.runs if run.id in hole.occupants}
    fed |= {run.from_end.id for run in job.runs if run.id in hole.occupants}
    for location in job.locations:
        if location.wall == wall.id and location.id in fed and location.room in indoors:
            return location.room
    return hole.room if hole.room in indoors else indoors[0] if indoors else hole.room or "outside"


def _room_below(job: Job, hole: Hole) -> str:
    """The room a person stands in to reach a hole in a floor; ``Attic`` over the highest level there."""
    under = [level for level in job.levels if at_most(level.subfloor_z_in, hole.z)]
    for level in sorted(under, key=lambda one: -one.subfloor_z_in):
        room = room_at(job, level.id, hole.x, hole.y)
        if room is not None:
            top_z_in = level.subfloor_z_in + level.plate_top_in
            floored = any(f.above_level == level.id and f.below_level for f in job.frames)
            return room.name if floored or at_most(hole.z, top_z_in) else ATTIC
    return ATTIC


def hole_level(job: Job, hole: Hole) -> str:
    """The level of a hole; for one that stands on none, the highest level whose subfloor lies under it."""
    under = [level for level in job.levels if at_most(level.subfloor_z_in, hole.z)]
    return hole.level or max(under, key=lambda one: one.subfloor_z_in, default=job.levels[0]).id


def hole_wall(job: Job, hole: Hole) -> str:
    """The wall of a hole by its rooms, or empty in open space."""
    wall = next((w for w in job.walls if w.id == hole.wall), None)
    return wall_name(wall, hole.along_in) if wall else ""


def hole_place(job: Job, member: Member, hole: Hole) -> str:
    """Room, wall, member and offset of a hole on one line."""
    what, where, _ = member_words(job, member, hole)
    return ", ".join(part for part in (hole_room(job, hole), hole_wall(job, hole), what, where) if part)


def end_place(job: Job, end: End) -> str:
    """One end of a run in words, with its id."""
    if end.type == "location":
        location = job.location(end.id)
        return f"{location.room} ({location.id})"
    if end.type == "enclosure":
        room = next((e.room for e in job.enclosures if e.id == end.id), "")
        return f"enclosure in {room}" if room else f"enclosure {end.id}"
    gear = job.gear_of(end.id)
    told = not gear.room or gear.room.lower() in gear.what.lower()
    return gear.what if told else f"{gear.what} in {gear.room}"


def far_end(run: Run | WishedRun) -> End:
    """The end away from the enclosure: the location it serves; of two locations the one it goes to."""
    if run.to_end.type == "location" or run.from_end.type == "enclosure":
        return run.to_end
    return run.from_end


def outward(run: Run) -> tuple[PathPoint, ...]:
    """The path from the stand outward: from the enclosure, else from the end it is pulled from."""
    return run.path[::-1] if run.to_end.type == "enclosure" else run.path


def separation_words(job: Job, wall: Wall, along_in: float | None) -> str:
    """The separation a wall is at an offset, in few words; empty where it is none there.

    Where some of its faces show to a garage, it separates only along those.
    """
    if not wall.separation:
        return ""
    garages = {room.name for room in job.rooms if room.kind == "garage" and room.level == wall.level}
    pieces = [piece for piece in (*wall.left, *wall.right) if piece.room in garages]
    if not pieces:
        return wall.separation.split(":")[0]
    if along_in is None or any(at_most(p.from_in, along_in) and at_most(along_in, p.to_in) for p in pieces):
        return "dwelling-garage separation"
    return ""
