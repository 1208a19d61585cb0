"""Walls of an imported house with their framing facts: core, plates, layout, faces, joints."""

from __future__ import annotations

import re

from bayrun.files.agree import agreed
from bayrun.files.shell import Shell, ShellJoint, ShellWall
from bayrun.files.shell_frames import rect_of
from bayrun.files.shell_guess import core_of_wall, separates
from bayrun.files.shell_layout import layout_of
from bayrun.files.shell_making import Making
from bayrun.files.shell_rooms import RoomOutline
from bayrun.geometry import at_least
from bayrun.house import FacePiece, Joint, Layout, Plates, Wall
from bayrun.rules.words import count_of

OUTSIDE = "outside"
_LEAST_WALL_IN = 8.0
"""A wall shorter than this between its neighbors is a stub without a bay [in]."""


def make_walls(making: Making, outlines: list[RoomOutline], names: dict[int, str]) -> None:
    """Every story wall with its core, plates, layout and faces, into the job that is made."""
    faces: dict[tuple[str, str], list[FacePiece]] = {}
    for number, outline in enumerate(outlines):
        for c in outline.contacts:
            if at_least(c.to_in - c.from_in, 1.0):
                piece = FacePiece(names[number], round(c.from_in, 4) + 0.0, round(c.to_in, 4))
                faces.setdefault((c.wall, c.side), []).append(piece)
    assumed: dict[str, list[str]] = {}
    spaced: dict[str, tuple[float, Layout, str]] = {}
    stubs = []
    shifts: dict[tuple[str, str], ShellJoint] = {(j.wall, j.end): j for j in making.shell.joints}
    for wall in making.shell.story_walls:
        core, depth_in, framed, why = core_of_wall(wall)
        ends = [_shift_in(making, shifts.get((wall.id, end))) for end in ("start", "end")]
        plate_start, plate_end = ends[0], wall.length_in - ends[1]
        if plate_end - plate_start < _LEAST_WALL_IN:
            stubs.append(f"{wall.label} ({wall.id})")
            continue
        if why:
            assumed.setdefault(f"{wall.label}: {why}", []).append(wall.id)
        spaced[wall.id] = layout_of(wall, plate_start, plate_end)
        rated = separates(wall)
        sides = {side: _faces(faces.get((wall.id, side), []), wall, side) for side in ("left", "right")}
        making.walls[wall.id] = Wall(
            wall.id, making.ids[wall.level], wall.start, wall.end, core, depth_in,
            round(plate_start, 4), round(plate_end, 4), spaced[wall.id][0],
            bearing=wall.load_bearing, exterior=bool(wall.exterior), rated=rated or None,
            layout=spaced[wall.id][1] if framed else None, plates=Plates(),
            left=sides["left"], right=sides["right"],
        )  # fmt: skip
        if rated:
            assumed.setdefault(f"{wall.label}: {rated}; no box or hole until somebody says", []).append(
                wall.id
            )
    framed_walls = [w for w in making.walls.values() if w.framed]
    told_spacing: dict[str, list[str]] = {}
    for framed_wall in framed_walls:
        told_spacing.setdefault(spaced[framed_wall.id][2], []).append(framed_wall.id)
    for says, ids in sorted(told_spacing.items()):
        words = says.format(walls=count_of(len(ids), "wall"))
        silent = "the file has no studs" if len(told_spacing) == 1 else "the file has no studs there"
        making.assume(
            words, ", ".join(ids) if len(told_spacing) > 1 else "", silent if "laid out from" in says else ""
        )
    steel = [w.id for w in framed_walls if w.steel]
    if steel:
        making.assume(
            agreed(f"{len(steel)} walls have steel studs, as the file says; the plates are taken as wood"),
            ", ".join(steel), "the file does not tell plates",
        )  # fmt: skip
    for says, where in sorted(assumed.items()):
        making.assume(says, ", ".join(where), "by the layers and names in the file")
    unknown = [w.id for w in making.walls.values() if w.bearing is None]
    if unknown:
        making.assume(
            agreed(f"{len(unknown)} walls count as bearing"),
            ", ".join(unknown),
            "the file does not say which bear",
        )
    if stubs:
        says = agreed(f"{len(stubs)} stubs of wall too short for a bay are left out")
        making.assume(says, ", ".join(stubs), "")


def _shift_in(making: Making, joint: ShellJoint | None) -> float:
    """How far the plates stop short of (+) or pass (-) a joint [in]."""
    if joint is None or joint.kind == "inline":
        return 0.0
    other = core_of_wall(making.shell.wall(joint.on_wall))[1] / 2
    if joint.kind == "corner" and _runs_through(joint, making.shell):
        return -other
    return other


def _runs_through(joint: ShellJoint, shell: Shell) -> bool:
    """At a corner the wall named first runs through and the other one butts against it."""
    return _place(joint.wall) < _place(joint.on_wall) and any(
        j.wall == joint.on_wall and j.on_wall == joint.wall and j.kind == "corner" for j in shell.joints
    )


def _place(wall_id: str) -> int:
    return int(re.sub(r"\D", "", wall_id) or 0)


def _faces(pieces: list[FacePiece], wall: ShellWall, side: str) -> tuple[FacePiece, ...]:
    """Stretches of one face in order, without overlaps; outside where an exterior wall shows to no room."""
    found: list[FacePiece] = []
    for piece in sorted(pieces, key=lambda p: (p.from_in, p.to_in, p.room)):
        start = max(piece.from_in, found[-1].to_in if found else 0.0)
        if piece.to_in - start < 1.0:
            continue
        if found and found[-1].room == piece.room and start - found[-1].to_in < 1.0:
            found[-1] = FacePiece(piece.room, found[-1].from_in, piece.to_in)
        else:
            found.append(FacePiece(piece.room, start, piece.to_in))
    if not found and wall.exterior:
        return (FacePiece(OUTSIDE, 0.0, round(wall.length_in, 4)),)
    return tuple(found)


def make_joints(making: Making) -> tuple[Joint, ...]:
    """The joints of the walls that stayed, with how far plates stop short or pass."""
    found = []
    for joint in making.shell.joints:
        if joint.wall not in making.walls or joint.on_wall not in making.walls:
            continue
        wall, other = making.walls[joint.wall], making.walls[joint.on_wall]
        kind = joint.kind
        if kind == "corner":
            through = _runs_through(joint, making.shell)
            kind_text = "corner, runs through" if through else "corner, butts"
        else:
            kind_text = kind
        shift = round(_shift_in(making, joint), 4)
        found.append(
            Joint(wall.id, joint.end, kind_text, other.id, joint.on_offset_in, wall.thickness_in, shift)
        )
    return tuple(found)


def make_outer(making: Making, level: str) -> tuple[float, float, float, float]:
    """The rectangle of a story's outer faces, where its rims stand: of the studs, or of the masonry [in]."""
    points = []
    for wall in making.shell.story_walls:
        made = making.walls.get(wall.id)
        if made is None or made.level != level:
            continue
        # Studs that only fur out a masonry wall do not carry the rim: the wall behind them does.
        furred = made.framed and any(layer.kind == "masonry" for layer in wall.layers)
        half = made.thickness_in / 2
        sides = (wall.left_in, -wall.right_in) if furred else (half, -half)
        points += [wall.at(o, side) for o in (0.0, wall.length_in) for side in sides]
    return tuple(round(v, 4) for v in rect_of(points))  # type: ignore[return-value]
