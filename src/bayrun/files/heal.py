"""Healing: what a drawing leaves open is closed, squared and told.

Reads a shell, returns a shell: walls squared up, doubles marked, ends brought together as joints,
outer walls judged by where the building ends, the origin moved to its lower left corner.
Whatever was changed stands in the notes with its count and largest amount.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from bayrun.files.agree import agreed
from bayrun.files.heal_joints import joined
from bayrun.files.heal_outer import bearing_said, outer_walls
from bayrun.files.heal_rooms import found_rooms
from bayrun.files.shell import Point, Shell, ShellNote, ShellOpening, ShellWall
from bayrun.geometry import at_least, at_most
from bayrun.units.tape import tape

SNAP_DEGREES = 0.5
"""A wall this close to square was meant square (common practice, no source)."""
LONGEST_IN = 12_000.0
"""No wall of a house is 1,000 ft long: a longer one is a slip of a number [in]."""
_DOUBLE_IN = 1.0
Mover = Callable[[Point], Point]


def heal_shell(shell: Shell) -> Shell:
    """The shell with its walls squared, joined and placed; see the module for what is done.

    Args:
        shell: As read from a file.
    Returns:
        A new shell; joints are for story walls only. Same shell in, same shell out.
    """
    for step in (
        _with_length,
        _squared,
        _snapped,
        _without_doubles,
        joined,
        _shifted,
        found_rooms,
        outer_walls,
        bearing_said,
        _rounded,
        _agreed,
    ):
        shell = step(shell)
    return shell


def _with_length(shell: Shell) -> Shell:
    """Without walls that have no length or more than any house, and what hangs on them."""
    gone = {
        w.id for w in shell.walls if not (at_least(w.length_in, 1.0) and at_most(w.length_in, LONGEST_IN))
    }
    if not gone:
        return shell
    words = f"{len(gone)} walls without a length, or longer than {LONGEST_IN / 12:,.0f} ft"
    note = ShellNote("not understood", words, len(gone))
    return replace(
        shell,
        walls=tuple(w for w in shell.walls if w.id not in gone),
        openings=tuple(o for o in shell.openings if o.wall not in gone),
    ).noted(note)


def _angle(wall: ShellWall) -> float:
    """Direction of a wall in degrees, folded into -45 … 45 around the nearest axis."""
    dx, dy = wall.direction
    return (math.degrees(math.atan2(dy, dx)) + 45.0) % 90.0 - 45.0


def _squared(shell: Shell) -> Shell:
    """Turn the whole plan so that most of its walls run along the axes."""
    walls = shell.story_walls or shell.walls
    if not walls:
        return shell
    bins: dict[int, float] = {}
    for wall in walls:
        key = round(_angle(wall) * 2) % 180
        bins[key] = bins.get(key, 0.0) + wall.length_in
    best = max(sorted(bins), key=lambda k: bins[k])
    center = best / 2 if best <= 90 else best / 2 - 90
    near = sorted(((_angle(w) - center + 45.0) % 90.0 - 45.0, w.length_in) for w in walls)
    near = [(off, length_in) for off, length_in in near if abs(off) <= 0.5]
    # The middle one by length, not the mean: one crooked wall must not turn the house.
    half, passed, middle = sum(length_in for _, length_in in near) / 2, 0.0, 0.0
    for off, length_in in near:
        middle, passed = off, passed + length_in
        if passed >= half:
            break
    turn = center + middle
    turn = (turn + 45.0) % 90.0 - 45.0
    if abs(turn) < 0.005:
        return shell
    cos, sin = math.cos(math.radians(-turn)), math.sin(math.radians(-turn))

    def turned(p: Point) -> Point:
        return p[0] * cos - p[1] * sin, p[0] * sin + p[1] * cos

    return replace(_moved(shell, turned), turned_degrees=round(-turn, 4)).noted(
        ShellNote(
            "mended", f"the plan was turned by {-turn:.2f} degrees so that its walls run square to the sheet"
        )
    )


def _moved(shell: Shell, to: Mover) -> Shell:
    return replace(
        shell,
        walls=tuple(replace(w, start=to(w.start), end=to(w.end)) for w in shell.walls),
        spaces=tuple(replace(s, polygon=tuple(to(p) for p in s.polygon)) for s in shell.spaces),
        pieces=tuple(replace(s, polygon=tuple(to(p) for p in s.polygon)) for s in shell.pieces),
        traces=tuple(replace(t, points=tuple(to(p) for p in t.points)) for t in shell.traces),
    )


def _snapped(shell: Shell) -> Shell:
    """Bring walls that are almost square onto their axis, about their middle."""
    walls, moved, largest, slanted = [], 0, 0.0, 0
    for wall in shell.walls:
        off = _angle(wall)
        if abs(off) > SNAP_DEGREES:
            slanted += wall.role == "wall"
            walls.append(wall)
            continue
        dx, dy = wall.direction
        middle = ((wall.start[0] + wall.end[0]) / 2, (wall.start[1] + wall.end[1]) / 2)
        half = wall.length_in / 2
        axis = (math.copysign(1.0, dx), 0.0) if abs(dx) > abs(dy) else (0.0, math.copysign(1.0, dy))
        start = (middle[0] - axis[0] * half, middle[1] - axis[1] * half)
        end = (middle[0] + axis[0] * half, middle[1] + axis[1] * half)
        shift = math.dist(start, wall.start)
        if shift > 1 / 16:
            moved += 1
            largest = max(largest, shift)
        walls.append(replace(wall, start=start, end=end))
    notes = []
    if moved:
        notes.append(
            ShellNote(
                "mended", f"{moved} walls a hair out of square were squared, by up to {tape(largest)}", moved
            )
        )
    if slanted:
        notes.append(ShellNote("read", f"{slanted} walls run at a slant and are kept so", slanted))
    return replace(shell, walls=tuple(walls)).noted(*notes)


def _without_doubles(shell: Shell) -> Shell:
    """Mark a wall drawn twice in one place; its openings go to the one that stays."""
    kept: list[ShellWall] = []
    became: dict[str, ShellWall] = {}
    walls = []
    for wall in shell.walls:
        twin = next((k for k in kept if wall.role == "wall" and _is_double(wall, k)), None)
        if twin is None:
            kept.append(wall)
            walls.append(wall)
        else:
            became[wall.id] = twin
            walls.append(replace(wall, role="duplicate"))
    if not became:
        return shell
    old = {w.id: w for w in shell.walls}
    openings = []
    for opening in shell.openings:
        if opening.wall not in became:
            openings.append(opening)
            continue
        twin = became[opening.wall]
        moved = _onto(opening, old[opening.wall], twin)
        if not any(o.wall == twin.id and _same_hole(o, moved) for o in shell.openings):
            openings.append(moved)
    note = ShellNote(
        "mended", f"{len(became)} walls drawn twice in one place are counted once", len(became),
        tuple(sorted({old[i].label for i in became})),
    )  # fmt: skip
    return replace(shell, walls=tuple(walls), openings=tuple(openings)).noted(note)


def _is_double(a: ShellWall, b: ShellWall) -> bool:
    if b.role != "wall" or a.level != b.level or abs(a.thickness_in - b.thickness_in) > _DOUBLE_IN:
        return False
    (s, left_s), (e, left_e) = b.place(a.start), b.place(a.end)
    if max(abs(left_s), abs(left_e)) > _DOUBLE_IN:
        return False
    shared = min(max(s, e), b.length_in) - max(min(s, e), 0.0)
    upright = min(a.base_in + a.height_in, b.base_in + b.height_in) - max(a.base_in, b.base_in)
    return shared >= 0.9 * min(a.length_in, b.length_in) and upright > 0.5 * min(a.height_in, b.height_in)


def _onto(opening: ShellOpening, old: ShellWall, new: ShellWall) -> ShellOpening:
    ends = sorted(new.place(old.at(o))[0] for o in (opening.offset_in, opening.offset_in + opening.width_in))
    return replace(opening, wall=new.id, offset_in=ends[0])


def _same_hole(a: ShellOpening, b: ShellOpening) -> bool:
    return abs(a.offset_in - b.offset_in) < 2.0 and abs(a.sill_in - b.sill_in) < 2.0


def _shifted(shell: Shell) -> Shell:
    """Move the lower left corner of the story walls' faces to the origin."""
    walls = shell.story_walls or shell.walls
    if not walls:
        return shell
    corners = [w.at(o, side) for w in walls for o in (0.0, w.length_in) for side in (w.left_in, -w.right_in)]
    x, y = min(p[0] for p in corners), min(p[1] for p in corners)
    note = ShellNote(
        "read",
        f"the drawing's own zero lies {tape(abs(x))} {'right' if x <= 0 else 'left'} of and {tape(abs(y))} "
        f"{'above' if y <= 0 else 'below'} the lower left corner of the house, which is now at zero",
    )
    return _moved(shell, lambda p: (p[0] - x, p[1] - y)).noted(note)


def _rounded(shell: Shell) -> Shell:
    """Plan lengths to a ten-thousandth of an inch, so that float noise never reaches a file."""

    def r(value: float) -> float:
        return round(value, 4) + 0.0

    def at(p: Point) -> Point:
        return r(p[0]), r(p[1])

    moved = _moved(shell, at)
    return replace(
        moved,
        openings=tuple(
            replace(o, offset_in=r(o.offset_in), width_in=r(o.width_in),
                    sill_in=r(o.sill_in), height_in=r(o.height_in))
            for o in moved.openings
        ),
        walls=tuple(
            replace(w, thickness_in=r(w.thickness_in), height_in=r(w.height_in), base_in=r(w.base_in),
                    core_in=r(w.core_in), left_in=r(w.left_in), right_in=r(w.right_in),
                    stud_centers_in=tuple(r(c) for c in w.stud_centers_in))
            for w in moved.walls
        ),
        joints=tuple(
            replace(j, on_offset_in=r(j.on_offset_in), closed_in=r(j.closed_in)) for j in moved.joints
        ),
        levels=tuple(
            replace(v, elevation_in=r(v.elevation_in), height_in=r(v.height_in)) for v in moved.levels
        ),
    )  # fmt: skip


def _agreed(shell: Shell) -> Shell:
    """Notes that count one thing speak of one."""
    return replace(shell, notes=tuple(replace(n, text=agreed(n.text)) for n in shell.notes))
