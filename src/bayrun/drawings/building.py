"""The building on a plan: walls cut at a height, studs, openings with their swings, joists, obstacles."""

from __future__ import annotations

import math

from bayrun.drawings.scene import Arc, Circle, Element, Hatch, Line, Point, Polyline, rectangle
from bayrun.framing.records import Frame, Member
from bayrun.geometry import Rect, cut_interval
from bayrun.house import Job, Level, Opening, Wall, wall_point

CUT_IN = 48.0
"""Plans are cut this high above the subfloor [in] (common practice, no source)."""

_CUT_ROLES = {"stud", "end stud", "king", "jack", "cripple", "backing", "post", "concrete"}


def wall_strip(
    wall: Wall, from_in: float, to_in: float, left_in: float, right_in: float
) -> tuple[Point, ...]:
    """Corners of a strip along a wall; ``left_in`` and ``right_in`` are across it, left positive."""
    return (
        wall_point(wall, from_in, left_in),
        wall_point(wall, to_in, left_in),
        wall_point(wall, to_in, right_in),
        wall_point(wall, from_in, right_in),
    )


def member_strip(job: Job, member: Member) -> tuple[Point, ...]:
    """A member's outline on the plan; wall members follow their wall, also where it is not square."""
    for wall in job.walls:
        if wall.id == member.host:
            return wall_strip(wall, member.along[0], member.along[1], member.across[1], member.across[0])
    b = member.box
    return rectangle(b.x0, b.y0, b.x1, b.y1)


def walls(job: Job, frame: Frame, level: Level) -> list[Element]:
    """Wall bodies between their openings, faces, and every stud cut by the plan."""
    out: list[Element] = []
    for wall in job.walls:
        if wall.level != level.id:
            continue
        half = wall.thickness_in / 2
        gaps = [(o.offset_in, o.offset_in + o.width_in) for o in job.openings if o.wall == wall.id]
        for a, b in cut_interval(wall.plate_start_in, wall.plate_end_in, gaps):
            strip = wall_strip(wall, a, b, half, -half)
            if wall.framed:
                out.append(Polyline("A-WALL", strip, True, None, stroke=False))
            else:
                out.append(Hatch("A-WALL", strip, "concrete"))
            out.append(Line("A-WALL", strip[0], strip[1]))
            out.append(Line("A-WALL", strip[3], strip[2]))
        for a, b in gaps:
            for x in (a, b):
                out.append(Line("A-WALL", wall_point(wall, x, half), wall_point(wall, x, -half)))
        if wall.membrane_in > 0:
            for side in (half, -half):
                far = math.copysign(abs(side) + wall.membrane_in, side)
                ends = wall_point(wall, wall.plate_start_in, far), wall_point(wall, wall.plate_end_in, far)
                out.append(Line("A-WALL", *ends, 0.09))
    names = {wall.id: wall for wall in job.walls if wall.level == level.id}
    for member in frame.members:
        cut = member.up[0] < CUT_IN < member.up[1]
        if member.host in names and member.role in _CUT_ROLES and cut:
            if member.material == "concrete":
                continue
            w = names[member.host]
            strip = wall_strip(w, member.along[0], member.along[1], member.across[1], member.across[0])
            out.append(Hatch("A-WALL-STUD", strip, "steel" if member.material == "steel" else "wood cut"))
    return out


def openings(job: Job, level: Level) -> list[Element]:
    """Doors with swings, windows with their glass, cased openings with lines above."""
    out: list[Element] = []
    for opening in job.openings:
        wall = job.wall(opening.wall)
        if wall.level == level.id:
            out += _opening(wall, opening)
    return out


def _opening(wall: Wall, opening: Opening) -> list[Element]:
    half, a, b = wall.thickness_in / 2, opening.offset_in, opening.offset_in + opening.width_in
    kind = opening.kind
    if opening.is_window:
        return [
            Line("A-GLAZ", wall_point(wall, a, across), wall_point(wall, b, across))
            for across in (half, 0.6, -0.6, -half)
        ]
    edges: list[Element] = [
        Line("A-WALL-HDLN", wall_point(wall, a, across), wall_point(wall, b, across))
        for across in (half, -half)
    ]
    if "cased" in kind or "overhead" in kind:
        return edges
    if "patio" in kind or "sliding" in kind:
        middle = (a + b) / 2
        return [
            Line("A-DOOR", wall_point(wall, a, 0.9), wall_point(wall, middle + 1, 0.9), 0.25),
            Line("A-DOOR", wall_point(wall, middle - 1, -0.9), wall_point(wall, b, -0.9), 0.25),
        ]
    if opening.swings_into is None and opening.hinge_end is None:
        return edges
    side = 1.0 if _swings_left(wall, opening) else -1.0
    low = opening.hinge_end != "high"
    hinge = wall_point(wall, a if low else b, side * half)
    latch = wall_point(wall, b if low else a, side * half)
    dx, dy = latch[0] - hinge[0], latch[1] - hinge[1]
    width = math.hypot(dx, dy)
    nx, ny = wall_point(wall, 0.0, side)
    nx, ny = nx - wall.start[0], ny - wall.start[1]
    leaf = (hinge[0] + nx * width, hinge[1] + ny * width)
    first = math.degrees(math.atan2(dy, dx))
    last = math.degrees(math.atan2(ny, nx))
    if (last - first) % 360 > 180:
        first, last = last, first
    return [
        Line("A-DOOR", hinge, leaf, 0.3),
        Arc("A-DOOR", hinge, width, first, last, 0.13),
    ]


def _swings_left(wall: Wall, opening: Opening) -> bool:
    middle = opening.offset_in + opening.width_in / 2
    for piece in wall.left:
        if piece.room == opening.swings_into and piece.from_in < middle < piece.to_in:
            return True
    return all(piece.room != opening.swings_into for piece in wall.right)


def frames_over(job: Job, level: Level, within: Rect) -> list[Element]:
    """Joists or trusses over a level, one thin line each, and beams; tails beyond ``within`` are left out."""
    out: list[Element] = []
    for frame in job.frames:
        if frame.above_level != level.id:
            continue
        x0, y0, x1, y1 = frame.area
        x0, y0, x1, y1 = max(x0, within.u0), max(y0, within.v0), min(x1, within.u1), min(y1, within.v1)
        for at in frame.members_in():
            if not (x0 <= at <= x1 if frame.direction == "y" else y0 <= at <= y1):
                continue
            ends = ((at, y0), (at, y1)) if frame.direction == "y" else ((x0, at), (x1, at))
            out.append(Line("S-JOIS", *ends))
    for beam in job.beams:
        held = any(f.id in beam.in_frames and f.above_level == level.id for f in job.frames)
        if held or (beam.z_in is not None and _on_level(job, level, beam.z_in)):
            x0, y0, x1, y1 = beam.rect
            x0, y0, x1, y1 = max(x0, within.u0), max(y0, within.v0), min(x1, within.u1), min(y1, within.v1)
            if x0 < x1 and y0 < y1:
                out.append(Polyline("S-BEAM", rectangle(x0, y0, x1, y1), closed=True))
    for post in job.posts:
        if post.level == level.id:
            out.append(Hatch("S-BEAM", rectangle(*post.rect), "wood cut"))
    return out


def obstacles(job: Job, level: Level) -> list[Element]:
    """What other trades have on this level, by outline; power runs dashed as the electrician's."""
    out: list[Element] = []
    for thing in job.obstacles:
        if thing.levels and level.id not in thing.levels:
            continue
        if thing.is_power_run:
            points = tuple((p[0], p[1]) for p in thing.path if _near_level(job, level, p[2]))
            if len(points) > 1:
                out.append(Polyline("E-POWR", points))
        elif not thing.levels:
            continue
        elif thing.rect is not None:
            power = "power" in thing.kind
            layer = "E-POWR" if power else "X-OBST"
            x0, y0, x1, y1 = thing.rect
            out.append(Polyline(layer, rectangle(*thing.rect), closed=True, dash=""))
            out.append(Line(layer, (x0, y0), (x1, y1), 0.09, ""))
        elif thing.center is not None and thing.diameter_in is not None:
            x, y = thing.center
            if x is not None and y is not None:
                out.append(Circle("X-OBST", (x, y), thing.diameter_in / 2))
    return out


def stairs(job: Job, level: Level) -> list[Element]:
    """Stairs that touch the level: outline and treads, about 10 in each."""
    out: list[Element] = []
    for stair in job.stairs:
        if all(of != level.id for of, _ in stair.rooms):
            continue
        x0, y0, x1, y1 = stair.rect
        out.append(Polyline("A-FLOR-STRS", rectangle(*stair.rect), closed=True))
        along_x = x1 - x0 > y1 - y0
        run = x1 - x0 if along_x else y1 - y0
        count = max(2, round(run / 10))
        for i in range(1, count):
            t = (x0 if along_x else y0) + run * i / count
            ends = ((t, y0), (t, y1)) if along_x else ((x0, t), (x1, t))
            out.append(Line("A-FLOR-STRS", *ends))
    return out


def _on_level(job: Job, level: Level, z_in: tuple[float, float]) -> bool:
    return _near_level(job, level, sum(z_in) / 2)


def _near_level(job: Job, level: Level, z: float) -> bool:
    return level_of(job, z).id == level.id


def level_of(job: Job, z: float) -> Level:
    """The level whose plan shows a height: the highest whose subfloor lies under it, else the lowest."""
    ordered = sorted(job.levels, key=lambda item: item.subfloor_z_in)
    found = ordered[0]
    for level in ordered:
        if level.subfloor_z_in - 0.5 < z:
            found = level
    return found
