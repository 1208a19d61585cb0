"""What lies over, under and behind a hole: look there before the bit goes through."""

from __future__ import annotations

import math

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
    found = _covers(frame, member, hole, wall)
    start, end = _bit_way(member, hole, wall, through / 2 + LOOK_IN)
    for obstacle in job.obstacles:
        if not _reaches(job, obstacle, hole, start, end):
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


def _covers(frame: Frame, member: Member, hole: Hole, wall: Wall | None) -> list[str]:
    """Members over or under a plate near the hole, with the way they lie."""
    found = []
    for word, pairs in (("over", frame.over), ("under", frame.under)):
        for cover in next((covers for plate, covers in pairs if plate == member.id), ()):
            radius_in = hole.diameter_in / 2
            along_in = max(cover.rect.u0 - hole.along_in, hole.along_in - cover.rect.u1) - radius_in
            beside_in = max(cover.rect.v0 - hole.across_in, hole.across_in - cover.rect.v1) - radius_in
            if not at_most(along_in, LOOK_IN):
                continue
            name = next((role_words(m) for m in frame.members if m.id == cover.member), cover.member)
            where = "dead at the hole"
            if wall is not None and along_in > 0:
                toward = end_word(wall, "end" if cover.rect.u0 > hole.along_in else "start")
                where = f"{tape(along_in)} toward the {toward}"
            elif wall is not None and beside_in > 0:
                side = "left" if cover.rect.v0 > hole.across_in else "right"
                where = f"{tape(beside_in)} toward the {face_words(face_name(wall, side, hole.along_in))}"
            found.append(f"{name} {word} the plate {where}")
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


def _reaches(job: Job, obstacle: Obstacle, hole: Hole, start: Point3, end: Point3) -> bool:
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
    low, high = _extent(job, obstacle)
    return min(
        math.hypot(*(max(lo - v, v - hi, 0.0) for v, lo, hi in zip(p, low, high, strict=True)))
        for p in points
    )


def _extent(job: Job, obstacle: Obstacle) -> tuple[Point3, Point3]:
    x0, y0, x1, y1 = -math.inf, -math.inf, math.inf, math.inf
    if obstacle.rect is not None:
        x0, y0, x1, y1 = obstacle.rect
    elif obstacle.center is not None:
        radius_in = (obstacle.diameter_in or 0.0) / 2
        if obstacle.center[0] is not None:
            x0, x1 = obstacle.center[0] - radius_in, obstacle.center[0] + radius_in
        if obstacle.center[1] is not None:
            y0, y1 = obstacle.center[1] - radius_in, obstacle.center[1] + radius_in
    z0, z1 = obstacle.z_in or (-math.inf, math.inf)
    if obstacle.frames and obstacle.z_above_frame_bottom_in is not None:
        frame = next((f for f in job.frames if f.id in obstacle.frames), None)
        if frame is not None:
            z0 = frame.z_bottom_in + obstacle.z_above_frame_bottom_in
            z1 = z0 + (obstacle.diameter_in or 0.0)
    return (x0, y0, z0), (x1, y1, z1)


def _to_segment(p: Point3, a: Point3, b: Point3) -> float:
    length_2 = sum((v - u) ** 2 for u, v in zip(a, b, strict=True))
    if not length_2:
        return math.dist(p, a)
    t = sum((q - u) * (v - u) for q, u, v in zip(p, a, b, strict=True)) / length_2
    t = min(1.0, max(0.0, t))
    return math.dist(p, tuple(u + (v - u) * t for u, v in zip(a, b, strict=True)))
