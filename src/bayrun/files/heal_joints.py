"""Healing of wall ends: brought onto the walls they were meant to meet, and written down as joints."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Literal

from bayrun.files.shell import Shell, ShellJoint, ShellNote, ShellWall
from bayrun.geometry import at_most
from bayrun.units.tape import tape

JOIN_IN = 2.0
"""Ends that miss each other by less than half their thicknesses and this much belong together [in]."""
_INLINE_IN = 0.45
"""Walls that go on in one line may be this far out of line; more is a step [in]."""
_SAME_ANGLE = 10.0
_LEAST_IN = 1.0


def joined(shell: Shell) -> Shell:
    """Bring wall ends onto the walls they were meant to meet, and write the joints down."""
    by_level: dict[str, list[ShellWall]] = {}
    for wall in shell.story_walls:
        by_level.setdefault(wall.level, []).append(wall)
    joints: list[ShellJoint] = []
    moves: dict[str, dict[str, float]] = {}
    free = 0
    for walls in by_level.values():
        for wall in walls:
            for end in ("start", "end"):
                joint = _meeting(wall, end, walls)
                if joint is None:
                    free += 1
                    continue
                joints.append(joint)
                moves.setdefault(wall.id, {})[end] = joint.closed_in
    for wall in shell.walls:
        if wall.length_in + sum(moves.get(wall.id, {}).values()) < _LEAST_IN:
            # Both its ends would be cut back past each other: it stays as it was drawn.
            joints = [j for j in joints if j.wall != wall.id]
            moves.pop(wall.id, None)
    walls_now = {wall.id: _lengthened(wall, moves.get(wall.id, {})) for wall in shell.walls}
    openings, cut = [], 0
    for opening in shell.openings:
        wall = walls_now[opening.wall]
        low = opening.offset_in + moves.get(opening.wall, {}).get("start", 0.0)
        high = min(low + opening.width_in, wall.length_in)
        low = max(0.0, low)
        cut += high - low < opening.width_in - 0.25
        if high - low >= 3.0:
            openings.append(replace(opening, offset_in=low, width_in=high - low))
    done: list[ShellJoint] = []
    stepped = 0
    for joint in joints:
        other, wall = walls_now[joint.on_wall], walls_now[joint.wall]
        at = other.place(wall.start if joint.end == "start" else wall.end)[0]
        miss = max(-at, at - other.length_in)
        at = min(max(at, 0.0), other.length_in)
        if miss > _INLINE_IN:
            stepped += 1
            continue
        kind = joint.kind
        if kind != "inline":
            kind = "corner" if at_most(min(at, other.length_in - at), 1.0) else "tee"
        done.append(replace(joint, kind=kind, on_offset_in=at))
    closed = [abs(j.closed_in) for j in joints if abs(j.closed_in) > 1 / 16]
    notes = []
    if joints:
        tees, corners = (sum(j.kind == kind for j in done) for kind in ("tee", "corner"))
        notes.append(
            ShellNote(
                "read",
                f"{tees} wall ends meet the run of another wall, {corners} meet at corners",
                len(done),
            )
        )
    if closed:
        most = tape(max(closed))
        text = f"{len(closed)} wall ends were brought onto the line of the wall they meet, by up to {most}"
        notes.append(ShellNote("mended", text, len(closed)))
    if free:
        notes.append(ShellNote("read", f"{free} wall ends meet no other wall", free))
    if stepped:
        text = f"{stepped} wall ends meet a neighbor's end a step out of line: no joint is written there"
        notes.append(ShellNote("read", text, stepped))
    if cut:
        notes.append(ShellNote("mended", f"{cut} openings were cut back where their wall was shortened", cut))
    return replace(
        shell, walls=tuple(walls_now[w.id] for w in shell.walls), openings=tuple(openings), joints=tuple(done)
    ).noted(*notes)


def _lengthened(wall: ShellWall, by: Mapping[str, float]) -> ShellWall:
    (dx, dy), a, b = wall.direction, by.get("start", 0.0), by.get("end", 0.0)
    start = (wall.start[0] - dx * a, wall.start[1] - dy * a)
    centers = tuple(c + a for c in wall.stud_centers_in)
    return replace(
        wall, start=start, end=(wall.end[0] + dx * b, wall.end[1] + dy * b), stud_centers_in=centers
    )


def _meeting(wall: ShellWall, end: Literal["start", "end"], walls: Iterable[ShellWall]) -> ShellJoint | None:
    """The best wall that this end meets: the least change first, a run before a corner, then order."""
    point = wall.start if end == "start" else wall.end
    sign = -1.0 if end == "start" else 1.0
    out = (wall.direction[0] * sign, wall.direction[1] * sign)
    ranked = []
    for index, other in enumerate(walls):
        if other.id == wall.id or not _same_height(wall, other):
            continue
        reach = (wall.thickness_in + other.thickness_in) / 2 + JOIN_IN
        ox, oy = other.direction
        sine = out[0] * oy - out[1] * ox
        if abs(sine) < math.sin(math.radians(_SAME_ANGLE)):
            along, left = other.place(point)
            beyond = max(-along, along - other.length_in)
            # The other wall must go on where this one stops, on the same line.
            ahead = 0.0 if along < other.length_in / 2 else other.length_in
            at = other.at(ahead)
            gap = (at[0] - point[0]) * out[0] + (at[1] - point[1]) * out[1]
            inward = other.at(other.length_in / 2)
            goes_on = (inward[0] - point[0]) * out[0] + (inward[1] - point[1]) * out[1] > 0
            if abs(left) <= _INLINE_IN and abs(gap) <= JOIN_IN and beyond >= -JOIN_IN and goes_on:
                ranked.append((abs(gap), 2, index, ShellJoint(wall.id, end, "inline", other.id, ahead, gap)))
            continue
        vx, vy = other.start[0] - point[0], other.start[1] - point[1]
        extend = (vx * oy - vy * ox) / sine
        at_other = (vx * out[1] - vy * out[0]) / sine
        past = max(-at_other, at_other - other.length_in)
        if abs(extend) > reach or past > reach or extend < -0.9 * wall.length_in:
            continue
        # Corner or tee is told afterwards, when both walls have their final ends.
        joint = ShellJoint(wall.id, end, "tee", other.id, at_other, extend)
        ranked.append((abs(extend) + max(0.0, past), int(past > -reach), index, joint))
    return min(ranked, key=lambda r: (round(r[0], 3), r[1], r[2]))[3] if ranked else None


def _same_height(a: ShellWall, b: ShellWall) -> bool:
    return min(a.base_in + a.height_in, b.base_in + b.height_in) - max(a.base_in, b.base_in) > 12.0
