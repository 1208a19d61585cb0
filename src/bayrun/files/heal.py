"""Healing: what a drawing leaves open is closed, squared and told.

Reads a shell, returns a shell: walls squared up, doubles marked, ends brought together as joints,
outer walls judged by where the building ends, the origin moved to its lower left corner.
Whatever was changed stands in the notes with its count and largest amount.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Literal

from bayrun.files.shell import Point, Shell, ShellJoint, ShellNote, ShellOpening, ShellWall
from bayrun.geometry import at_most
from bayrun.units.tape import tape

SNAP_DEGREES = 0.5
"""A wall this close to square was meant square (common practice, no source)."""
JOIN_IN = 2.0
"""Ends that miss each other by less than half their thicknesses and this much belong together [in]."""
_DOUBLE_IN = 1.0
_INLINE_IN = 0.45
"""Walls that go on in one line may be this far out of line; more is a step [in]."""
_SAME_ANGLE = 10.0
Mover = Callable[[Point], Point]


def heal_shell(shell: Shell) -> Shell:
    """The shell with its walls squared, joined and placed; see the module for what is done.

    Args:
        shell: As read from a file.
    Returns:
        A new shell; joints are for story walls only. Same shell in, same shell out.
    """
    for step in (
        _squared,
        _snapped,
        _without_doubles,
        _joined,
        _shifted,
        _outer_walls,
        _bearing_said,
        _rounded,
    ):
        shell = step(shell)
    return shell


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


def _joined(shell: Shell) -> Shell:
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
        text = f"{stepped} wall ends meet their neighbor's end a step out of line: no joint is written there"
        notes.append(ShellNote("read", text, stepped))
    if cut:
        notes.append(ShellNote("mended", f"{cut} openings were cut back where their wall was shortened", cut))
    return replace(
        shell, walls=tuple(walls_now[w.id] for w in shell.walls), openings=tuple(openings), joints=tuple(done)
    ).noted(*notes)


def _lengthened(wall: ShellWall, by: Mapping[str, float]) -> ShellWall:
    (dx, dy), a, b = wall.direction, by.get("start", 0.0), by.get("end", 0.0)
    start = (wall.start[0] - dx * a, wall.start[1] - dy * a)
    return replace(wall, start=start, end=(wall.end[0] + dx * b, wall.end[1] + dy * b))


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


def _outer_walls(shell: Shell) -> Shell:
    """Judge by the outline of each story which walls are exterior; the file's word gives way to it."""
    from shapely.geometry import Point as Dot
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    judged: dict[str, bool] = {}
    for level in shell.stories:
        walls = [w for w in shell.story_walls if w.level == level.name]
        shapes = [
            Polygon(
                [
                    w.at(0, w.left_in),
                    w.at(w.length_in, w.left_in),
                    w.at(w.length_in, -w.right_in),
                    w.at(0, -w.right_in),
                ]
            )
            for w in walls
        ]
        shapes += [Polygon(s.polygon).buffer(0) for s in shell.rooms if s.level == level.name]
        if not shapes:
            continue
        hull = unary_union(shapes).buffer(12.0, join_style="mitre").buffer(-12.0, join_style="mitre")
        filled = unary_union([Polygon(part.exterior) for part in getattr(hull, "geoms", [hull])])
        for wall in walls:
            steps = max(2, int(wall.length_in // 6))
            offsets = [wall.length_in * (i + 0.5) / steps for i in range(steps)]
            outside = max(
                sum(not filled.contains(Dot(wall.at(o, side))) for o in offsets)
                for side in (wall.left_in + 3.0, -wall.right_in - 3.0)
            )
            judged[wall.id] = 2 * outside > steps
    differ = [
        w
        for w in shell.story_walls
        if w.exterior is not None and w.id in judged and w.exterior != judged[w.id]
    ]
    notes = []
    inner = [w for w in differ if w.exterior]
    if inner:
        notes.append(
            ShellNote("mended",
                      f"{len(inner)} walls the file calls exterior stand inside the house: taken as interior",
                      len(inner), tuple(sorted({w.label for w in inner})))
        )  # fmt: skip
    outer = [w for w in differ if not w.exterior]
    if outer:
        notes.append(
            ShellNote("mended",
                      f"{len(outer)} walls the file calls interior stand at the outside: taken as exterior",
                      len(outer), tuple(sorted({w.label for w in outer})))
        )  # fmt: skip
    silent = sum(w.exterior is None and w.id in judged for w in shell.story_walls)
    if silent:
        notes.append(
            ShellNote(
                "assumed",
                f"{silent} walls do not say whether they are exterior: judged by the outline",
                silent,
            )
        )
    walls_now = tuple(replace(w, exterior=judged.get(w.id, w.exterior)) for w in shell.walls)
    return replace(shell, walls=walls_now).noted(*notes)


def _bearing_said(shell: Shell) -> Shell:
    """Where a file says of every story wall that it carries nothing, nobody decided it: unknown."""
    said = [w.load_bearing for w in shell.story_walls if w.load_bearing is not None]
    if not said or any(said) or not shell.story_walls:
        return shell
    walls = tuple(replace(w, load_bearing=None) if w.role == "wall" else w for w in shell.walls)
    note = ShellNote(
        "assumed",
        "the file says of every wall that it is not load bearing, which cannot be: counted as bearing",
        len(said),
    )
    return replace(shell, walls=walls).noted(note)


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
                    core_in=r(w.core_in), left_in=r(w.left_in), right_in=r(w.right_in))
            for w in moved.walls
        ),
        joints=tuple(
            replace(j, on_offset_in=r(j.on_offset_in), closed_in=r(j.closed_in)) for j in moved.joints
        ),
        levels=tuple(
            replace(v, elevation_in=r(v.elevation_in), height_in=r(v.height_in)) for v in moved.levels
        ),
    )  # fmt: skip
