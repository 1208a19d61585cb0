"""What lies over, under and behind a hole: look there before the bit goes through."""

from __future__ import annotations

import math

from bayrun.framing.bays import obstacle_heights
from bayrun.framing.records import Frame, Member
from bayrun.geometry import at_most, below
from bayrun.house import Job, Obstacle, Wall
from bayrun.house.building import Point3
from bayrun.takeoff.words import axis_of, end_word, face_name, face_words, role_words
from bayrun.units import tape
from bayrun.wiring import Hole

LOOK_IN = 12.0
"""How far from the bit's way a thing of another trade is named [in]. Our own figure."""

_STEPS = 24


def check_words(job: Job, frame: Frame, member: Member, hole: Hole, through: float) -> str:
    """What to check above, below and behind before drilling, in words; empty where nothing is known near.

    Args:
        through: Wood along the bit [in].
    """
    wall = next((w for w in job.walls if w.id == (hole.wall or member.host)), None)
    covers = _covers(job, frame, member, hole, wall)
    found, told = [words for _, words in covers], {name for name, _ in covers}
    start, end = _bit_way(member, hole, wall, through / 2 + LOOK_IN)
    for obstacle in job.obstacles:
        if obstacle.id in told or not _reaches(obstacle, hole):
            continue
        gap_in = _gap_in(job, obstacle, start, end)
        if below(gap_in, LOOK_IN):
            where = "in the way of the bit" if below(gap_in, 0.5) else f"{tape(gap_in)} from the bit's way"
            found.append(f"{obstacle.kind} {where}")
    if hole.axis == "up":
        found.insert(0, _beyond_words(job, member, hole))
    elif wall is not None and hole.axis == "across":
        found.insert(0, f"behind: {face_name(wall, 'left', hole.along_in)}")
    return "; ".join(found)


def _beyond_words(job: Job, member: Member, hole: Hole) -> str:
    over = member.role == "top plate"
    for frame in job.frames:
        if not frame.rect.holds(hole.x, hole.y):
            continue
        if over and frame.above_level == member.level:
            above = f"level {frame.below_level}" if frame.below_level else "attic"
            return f"over: {above} ({frame.kind})"
        if not over and frame.below_level == member.level:
            below_it = f"level {frame.above_level}" if frame.above_level else "open"
            return f"under: {below_it} ({frame.kind})"
    return "over: open" if over else "under: not known"


def _covers(job: Job, frame: Frame, member: Member, hole: Hole, wall: Wall | None) -> list[tuple[str, str]]:
    """(id, words) of what lies over or under a plate near the hole, and which way."""
    names = {m.id: role_words(m) for m in frame.members} | {one.id: one.kind for one in job.obstacles}
    found = []
    for word, pairs in (("over", frame.over), ("under", frame.under)):
        for cover in next((covers for plate, covers in pairs if plate == member.id), ()):
            radius_in = hole.diameter_in / 2
            along_in = max(cover.rect.u0 - hole.along_in, hole.along_in - cover.rect.u1) - radius_in
            beside_in = max(cover.rect.v0 - hole.across_in, hole.across_in - cover.rect.v1) - radius_in
            if not at_most(along_in, LOOK_IN):
                continue
            name = names.get(cover.member, cover.member)
            where = "dead at the hole"
            if wall is not None and along_in > 0:
                toward = end_word(wall, "end" if cover.rect.u0 > hole.along_in else "start")
                where = f"{tape(along_in)} toward the {toward}"
            elif wall is not None and beside_in > 0:
                side = "left" if cover.rect.v0 > hole.across_in else "right"
                where = f"{tape(beside_in)} toward the {face_words(face_name(wall, side, hole.along_in))}"
            found.append((cover.member, f"{name} {word} the plate {where}"))
    return found


def _bit_way(member: Member, hole: Hole, wall: Wall | None, reach_in: float) -> tuple[Point3, Point3]:
    if hole.axis == "up":
        step = (0.0, 0.0, 1.0)
    elif wall is not None:
        dx, dy = wall.direction
        step = (dx, dy, 0.0) if hole.axis == "along" else (-dy, dx, 0.0)
    else:
        step = (0.0, 1.0, 0.0) if axis_of(member) == "x" else (1.0, 0.0, 0.0)
    a, b = (
        (
            hole.x + way * reach_in * step[0],
            hole.y + way * reach_in * step[1],
            hole.z + way * reach_in * step[2],
        )
        for way in (-1, 1)
    )
    return a, b


def _reaches(obstacle: Obstacle, hole: Hole) -> bool:
    """False for things that stand on other levels and have no height of their own to compare."""
    if obstacle.path or obstacle.z_in is not None or obstacle.frames:
        return True
    return hole.level in obstacle.levels


def _gap_in(job: Job, obstacle: Obstacle, start: Point3, end: Point3) -> float:
    points = [
        (
            start[0] + (end[0] - start[0]) * i / _STEPS,
            start[1] + (end[1] - start[1]) * i / _STEPS,
            start[2] + (end[2] - start[2]) * i / _STEPS,
        )
        for i in range(_STEPS + 1)
    ]
    if obstacle.path:
        pieces = zip(obstacle.path, obstacle.path[1:], strict=False)
        return min((_to_segment(p, a, b) for a, b in pieces for p in points), default=math.inf)
    (x0, x1), (y0, y1) = _plan_extent(obstacle)
    heights = obstacle_heights(job, obstacle) or ((-math.inf, math.inf),)
    return min(
        math.hypot(max(x0 - x, x - x1, 0.0), max(y0 - y, y - y1, 0.0), max(z0 - z, z - z1, 0.0))
        for x, y, z in points
        for z0, z1 in heights
    )


def _plan_extent(obstacle: Obstacle) -> tuple[tuple[float, float], tuple[float, float]]:
    """Where the thing itself lies in plan, without its clearance; endless where it has no end."""
    if obstacle.rect is not None:
        x0, y0, x1, y1 = obstacle.rect
        return (x0, x1), (y0, y1)
    radius_in = (obstacle.diameter_in or 0.0) / 2
    x, y = obstacle.center or (None, None)
    return (
        (-math.inf, math.inf) if x is None else (x - radius_in, x + radius_in),
        (-math.inf, math.inf) if y is None else (y - radius_in, y + radius_in),
    )


def _to_segment(p: Point3, a: Point3, b: Point3) -> float:
    length_2 = sum((v - u) ** 2 for u, v in zip(a, b, strict=True))
    if not length_2:
        return math.dist(p, a)
    t = sum((q - u) * (v - u) for q, u, v in zip(p, a, b, strict=True)) / length_2
    t = min(1.0, max(0.0, t))
    return math.dist(p, tuple(u + (v - u) * t for u, v in zip(a, b, strict=True)))
