"""Lengths and places in the words findings use."""

from __future__ import annotations

import math

from bayrun.framing.records import Frame, Member
from bayrun.geometry import TOUCH_IN, near
from bayrun.house import Job, face_room, room_at, wall_name
from bayrun.units import tape
from bayrun.wiring.records import Hole

SIXTEENTH_IN = 1 / 16


def cap(limit_in: float) -> str:
    """A largest allowed length, never rounded to the unsafe side.

    2.1 on a tape would read 2-1/8", which is more than 2.1: so a limit off the sixteenths prints its
    decimals and the sixteenth under it.
    """
    if near(round(limit_in / SIXTEENTH_IN) * SIXTEENTH_IN, limit_in):
        return tape(limit_in)
    under_in = math.floor((limit_in + TOUCH_IN) / SIXTEENTH_IN) * SIXTEENTH_IN
    return f'{limit_in:.2f}" ({tape(under_in)} by the tape)'


def floor_text(least_in: float) -> str:
    """A least allowed length, never rounded to the unsafe side."""
    if near(round(least_in / SIXTEENTH_IN) * SIXTEENTH_IN, least_in):
        return tape(least_in)
    over_in = math.ceil((least_in - TOUCH_IN) / SIXTEENTH_IN) * SIXTEENTH_IN
    return f'{least_in:.2f}" ({tape(over_in)} by the tape)'


def found(measured_in: float) -> str:
    """A measured length: tape where it falls on a sixteenth, decimals where it does not."""
    if near(round(measured_in / SIXTEENTH_IN) * SIXTEENTH_IN, measured_in):
        return tape(measured_in)
    return f'{measured_in:.3f}"'


def percent(share: float) -> str:
    """A share as people say it: ``57.1 %``."""
    return f"{100 * share:.1f} %"


def count_of(count: int, one: str, many: str = "") -> str:
    """``1 hole``, ``3 holes``."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def level_name(job: Job, level_id: str) -> str:
    """``level 1``; the basement by its word where the level is called B."""
    return "basement" if level_id == "B" else f"level {level_id}"


def member_says(member: Member) -> str:
    """The member in words: what its framer called it, else its role."""
    return member.says or member.role


def place_of_member(job: Job, member: Member, along_in: float | None = None) -> str:
    """Where a member stands: wall by its rooms (there), or frame by the level it covers."""
    for wall in job.walls:
        if wall.id == member.host:
            at_in = sum(member.along) / 2 if along_in is None else along_in
            name = wall_name(wall, at_in if along_in is not None or "plate" not in member.role else None)
            return f"{level_name(job, wall.level)}, {name}, {member_says(member)}"
    for frame in job.frames:
        if frame.id == member.host:
            if frame.above_level is not None:
                over = f"over {level_name(job, frame.above_level)}"
            else:
                over = f"under {level_name(job, frame.below_level or '')}"
            return f"{frame.kind} {over}, {member_says(member)}"
    return f"{member_says(member)} {member.id}"


def place_of_hole(job: Job, hole: Hole, member: Member | None) -> str:
    """Where a hole is, so that a person can put a tape on it."""
    if member is None:
        return f"hole {hole.id}"
    where = place_of_member(job, member, hole.along_in if hole.axis == "up" else None)
    if hole.axis == "along":
        return f"{where}, {tape(hole.up_in)} above subfloor"
    if hole.axis == "up":
        return f"{where}, {tape(hole.along_in)} from the wall's start"
    room = room_at(job, hole.level or member.level, hole.x, hole.y)
    over = f" over {room.name}" if room is not None else ""
    return f"{where}{over}, {tape(hole.along_in - member.along[0])} from its end"


def faces_of(job: Job, hole: Hole, member: Member, faces: tuple[str, ...]) -> str:
    """Plate faces by their rooms: ``the Laundry side and the Dining side``."""
    wall = next((w for w in job.walls if w.id == member.host), None)
    names = []
    for face in faces:
        if wall is None:
            names.append(f"the {face} edge")
            continue
        room = face_room(wall, "left" if face == "left" else "right", hole.along_in)
        names.append(f"the {room} side" if room else f"the {face} face")
    return " and ".join(names)


def frame_member(frame: Frame, member_id: str) -> Member | None:
    """The member of this id, or None."""
    return next((m for m in frame.members if m.id == member_id), None)
