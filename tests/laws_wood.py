"""Laws of wood and other trades: nothing is passed but at holes, and no obstacle or separation at all."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from bayrun.framing import Frame, Member
from bayrun.house import Job, Obstacle, Wall
from bayrun.wiring import Hole, Run, Wiring
from laws_places import (
    LOOSE,
    TOUCH,
    V3,
    axis_of,
    broken,
    point_of_location,
    tell,
    wall_to_world,
    xyz,
)


def _clip(p: V3, q: V3, low: Sequence[float], high: Sequence[float]) -> tuple[V3, V3] | None:
    """The part of a segment inside a box shrunk by a touch, or None."""
    t0, t1 = 0.0, 1.0
    for a, b, lo, hi in zip(p, q, low, high, strict=True):
        lo, hi, step = lo + TOUCH, hi - TOUCH, b - a
        if abs(step) < 1e-12:
            if not lo < a < hi:
                return None
            continue
        u, v = (lo - a) / step, (hi - a) / step
        t0, t1 = max(t0, min(u, v)), min(t1, max(u, v))
    if t1 - t0 <= 1e-12:
        return None
    at = lambda t: tuple(a + (b - a) * t for a, b in zip(p, q, strict=True))  # noqa: E731
    return at(t0), at(t1)  # type: ignore[return-value]


class _Boxes:
    """World boxes of members as arrays, to ask quickly which ones a segment meets."""

    def __init__(self, members: Sequence[Member]) -> None:
        self.low = np.array([[m.box.x0, m.box.y0, m.box.z0] for m in members], dtype=float).reshape(-1, 3)
        self.high = np.array([[m.box.x1, m.box.y1, m.box.z1] for m in members], dtype=float).reshape(-1, 3)

    def near(self, p: V3, q: V3) -> list[int]:
        low = np.minimum(p, q)
        high = np.maximum(p, q)
        hit = ((self.low < high - TOUCH) & (self.high > low + TOUCH)) | (
            (np.abs(high - low) <= TOUCH) & (self.low + TOUCH < low) & (low < self.high - TOUCH)
        )
        return [int(i) for i in np.nonzero(hit.all(axis=1))[0]]


def _in_wall(wall: Wall, level_z: float, p: V3) -> V3:
    """A world point as (along, across, up above subfloor)."""
    (x0, y0), (x1, y1) = wall.start, wall.end
    length = math.hypot(x1 - x0, y1 - y0)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    x, y = p[0] - x0, p[1] - y0
    return x * dx + y * dy, -x * dy + y * dx, p[2] - level_z


def _space_boxes(job: Job) -> tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]:
    """World boxes where a cable may lie: in framed walls, in floors with their panel, in attics."""
    low, high = [], []
    grown = 3.0
    for wall in job.walls:
        if wall.layout is None:
            continue
        level = next(q for q in job.levels if q.id == wall.level)
        half = wall.thickness_in / 2
        corners = [
            wall_to_world(wall, a, c) for a in (-half, wall.plate_end_in + half) for c in (-half, half)
        ]
        xs, ys = [c[0] for c in corners], [c[1] for c in corners]
        low.append((min(xs), min(ys), level.subfloor_z_in - 0.75))
        high.append((max(xs), max(ys), level.subfloor_z_in + level.plate_top_in))
    for frame in job.frames:
        x0, y0, x1, y1 = frame.area
        attic = frame.below_level is None
        low.append((x0 - grown, y0 - grown, frame.z_bottom_in))
        high.append((x1 + grown, y1 + grown, frame.z_top_in + (96.0 if attic else 0.75)))
    return np.array(low, dtype=float).reshape(-1, 3), np.array(high, dtype=float).reshape(-1, 3)


def runs_stay_in_walls_floors_and_attics(job: Job, wiring: Wiring) -> None:
    """No cable crosses the air of a room, but for a drop to a ceiling, or within a foot of a device.

    Walls askew count by the box around them, so there the law is weaker.
    """
    low, high = _space_boxes(job)
    drops = [(*point_of_location(job, q)[:2], LOOSE) for q in job.locations if q.wall is None]
    drops += [(g.x_in, g.y_in, 12.0) for g in job.gear if g.x_in is not None and g.y_in is not None]
    seen: set[tuple[V3, V3]] = set()
    for run in wiring.runs:
        for a, b in zip(run.path, run.path[1:], strict=False):
            p, q = xyz(a), xyz(b)
            length = math.dist(p, q)
            if length <= LOOSE or (p, q) in seen:
                continue
            seen.add((p, q))
            if any(max(math.hypot(e[0] - x, e[1] - y) for e in (p, q)) <= near for x, y, near in drops):
                continue
            bare = _bare_share(p, q, low - LOOSE, high + LOOSE)
            if bare * length > 0.01:
                raise broken(
                    job,
                    "runs stay in walls, floors and attics",
                    f"run {run.id}: {bare * length:.2f} in between {tell(p)} and {tell(q)} hang in a room",
                )


def _bare_share(p: V3, q: V3, low: np.ndarray[Any, Any], high: np.ndarray[Any, Any]) -> float:
    """Share of a segment that no box covers."""
    start, step = np.array(p), np.array(q) - np.array(p)
    still = np.abs(step) < 1e-12
    safe = np.where(still, 1.0, step)
    u, v = (low - start) / safe, (high - start) / safe
    inside = (low <= start) & (start <= high)
    t0 = np.where(still, np.where(inside, 0.0, 2.0), np.minimum(u, v)).max(axis=1)
    t1 = np.where(still, np.where(inside, 1.0, -1.0), np.maximum(u, v)).min(axis=1)
    at = bare = 0.0
    for a, b in sorted(
        (max(0.0, float(a)), min(1.0, float(b))) for a, b in zip(t0, t1, strict=True) if a < b
    ):
        if b <= at:
            continue
        bare += max(0.0, a - at)
        at = b
    return bare + max(0.0, 1.0 - at)


def _part_inside(job: Job, member: Member, p: V3, q: V3) -> tuple[V3, V3] | None:
    """The part of a segment inside a member, in the world; walls askew in their own coordinates."""
    box = member.box
    part = _clip(p, q, (box.x0, box.y0, box.z0), (box.x1, box.y1, box.z1))
    wall = next((w for w in job.walls if w.id == member.host), None)
    if part is None or wall is None or wall.start[0] == wall.end[0] or wall.start[1] == wall.end[1]:
        return part
    level_z = next(q_.subfloor_z_in for q_ in job.levels if q_.id == wall.level)
    low = (member.along[0], member.across[0], member.up[0])
    high = (member.along[1], member.across[1], member.up[1])
    inside = _clip(_in_wall(wall, level_z, p), _in_wall(wall, level_z, q), low, high)
    return None if inside is None else part


def _from_axis(point: V3, hole: Hole, axis: V3) -> float:
    d = (point[0] - hole.x, point[1] - hole.y, point[2] - hole.z)
    t = sum(a * b for a, b in zip(d, axis, strict=True))
    return math.dist(d, tuple(t * a for a in axis))


def members_are_crossed_only_at_holes(job: Job, frame: Frame, wiring: Wiring) -> None:
    """A path that passes through the inside of a member does so within one of its own holes there."""
    law = "members are crossed only at holes"
    boxes = _Boxes(frame.members)
    holes = {h.id: h for h in wiring.holes}
    seen: dict[tuple[V3, V3, str], bool] = {}
    for run in wiring.runs:
        mine = [holes[p.hole] for p in run.path if p.hole]
        for a, b in zip(run.path, run.path[1:], strict=False):
            p, q = xyz(a), xyz(b)
            for i in boxes.near(p, q):
                member = frame.members[i]
                part = _part_inside(job, member, p, q)
                if part is None:
                    continue
                for hole in mine:
                    if member.id not in (hole.member, *hole.plies):
                        continue
                    key = (part[0], part[1], hole.id)
                    if key not in seen:
                        axis = axis_of(job, member, hole)
                        reach = hole.diameter_in / 2 + TOUCH
                        seen[key] = max(_from_axis(e, hole, axis) for e in part) <= reach
                    if seen[key]:
                        break
                else:
                    what = "a member that is never drilled" if member.never_drilled else member.role
                    raise broken(
                        job,
                        law,
                        f"run {run.id} passes {member.id} ({what}) from {tell(part[0])} to {tell(part[1])} "
                        f"with no hole of its own there; its holes: {[h.id for h in mine]}",
                    )


def _cut_2d(p: V3, q: V3, cx: float, cy: float, axes: tuple[int, int]) -> float:
    """Distance of a segment from a point in one plane of the world."""
    ax, ay, bx, by = p[axes[0]], p[axes[1]], q[axes[0]], q[axes[1]]
    dx, dy = bx - ax, by - ay
    size = dx * dx + dy * dy
    t = 0.0 if size < 1e-18 else max(0.0, min(1.0, ((cx - ax) * dx + (cy - ay) * dy) / size))
    return math.hypot(ax + t * dx - cx, ay + t * dy - cy)


def obstacle_shapes(job: Job, obstacle: Obstacle) -> list[tuple[str, tuple[float, ...], tuple[float, float]]]:
    """(``box`` or ``pipe``, numbers, z range) of an obstacle, soft margins aside; power runs have none."""
    if obstacle.is_power_run:
        return []
    if obstacle.frames:
        shapes = []
        for frame in job.frames:
            if frame.id not in obstacle.frames or obstacle.rect is None:
                continue
            x0, y0, x1, y1 = obstacle.rect
            size = obstacle.diameter_in or min(x1 - x0, y1 - y0)
            if obstacle.z_above_frame_bottom_in is None:
                z = (frame.z_bottom_in, frame.z_top_in)
            else:
                middle = frame.z_bottom_in + obstacle.z_above_frame_bottom_in
                z = (middle - size / 2, middle + size / 2)
            shapes.append(("box", obstacle.rect, z))
        return shapes
    if obstacle.z_in is None:
        return []
    if obstacle.rect is not None:
        return [("box", obstacle.rect, obstacle.z_in)]
    if obstacle.center is not None and obstacle.diameter_in and None not in obstacle.center:
        x, y = obstacle.center
        return [("pipe", (float(x or 0), float(y or 0), obstacle.diameter_in / 2), obstacle.z_in)]
    return []


def _device_ends(run: Run) -> list[Any]:
    ends = ((run.from_end, run.path[0]), (run.to_end, run.path[-1]))
    return [point for end, point in ends if end.type == "device"]


def _is_in(kind: str, numbers: tuple[float, ...], z: tuple[float, float], p: V3) -> bool:
    if not z[0] - TOUCH <= p[2] <= z[1] + TOUCH:
        return False
    if kind == "pipe":
        return math.hypot(p[0] - numbers[0], p[1] - numbers[1]) <= numbers[2] + TOUCH
    x0, y0, x1, y1 = numbers
    return x0 - TOUCH <= p[0] <= x1 + TOUCH and y0 - TOUCH <= p[1] <= y1 + TOUCH


def obstacles_are_never_crossed(job: Job, wiring: Wiring) -> None:
    """No path and no drilled hole meets a pipe, duct, cabinet or other obstacle."""
    law = "obstacles are never crossed"
    for obstacle in job.obstacles:
        for kind, numbers, (z0, z1) in obstacle_shapes(job, obstacle):
            for run in wiring.runs:
                if any(_is_in(kind, numbers, (z0, z1), xyz(e)) for e in _device_ends(run)):
                    continue  # it ends on the device that stands here
                for a, b in zip(run.path, run.path[1:], strict=False):
                    p, q = xyz(a), xyz(b)
                    if kind == "box":
                        hit = _clip(p, q, (*numbers[:2], z0), (*numbers[2:], z1)) is not None
                    else:
                        part = _clip(p, q, (-1e9, -1e9, z0), (1e9, 1e9, z1))
                        hit = part is not None and (
                            _cut_2d(part[0], part[1], numbers[0], numbers[1], (0, 1)) < numbers[2] - TOUCH
                        )
                    if hit:
                        raise broken(
                            job, law, f"run {run.id} passes {obstacle.id} ({obstacle.kind}) at {tell(p)}"
                        )
            for hole in wiring.holes:
                if kind == "pipe" and hole.axis == "up" and z0 <= hole.z <= z1 and not hole.open_passage:
                    apart = math.hypot(hole.x - numbers[0], hole.y - numbers[1])
                    if apart < numbers[2] + hole.diameter_in / 2 - TOUCH:
                        raise broken(job, law, f"hole {hole.id} runs into {obstacle.id} ({obstacle.kind})")


def barriers_are_kept(job: Job, wiring: Wiring) -> None:
    """Nothing crosses a separation that takes no cable; one with a sleeve is crossed inside it alone."""
    law = "barriers are kept"
    tops = [q.subfloor_z_in + q.plate_top_in for q in job.levels]
    for barrier in job.barriers:
        point = barrier.pass_point
        if barrier.needs_seal and point is None:
            continue
        ranges = [
            (q.subfloor_z_in, q.subfloor_z_in + q.plate_top_in) for q in job.levels if q.id in barrier.levels
        ]
        ranges += [(f.z_bottom_in, f.z_top_in) for f in job.frames if f.id in barrier.frames]
        if "attic" in barrier.levels:
            ranges.append((max(tops), max(tops) + 1e4))
        for (ax, ay), (bx, by) in barrier.lines:
            for run in wiring.runs:
                for a, b in zip(run.path, run.path[1:], strict=False):
                    at = _crossing(xyz(a), xyz(b), (ax, ay), (bx, by))
                    if at is None or not any(lo < at[2] < hi for lo, hi in ranges):
                        continue
                    sleeve = point is not None and (
                        math.dist(at, (point.x_in, point.y_in, point.z_in)) <= point.diameter_in / 2 + 1.0
                    )
                    if not sleeve:
                        raise broken(
                            job, law, f"run {run.id} crosses {barrier.id} ({barrier.kind}) at {tell(at)}"
                        )


def _crossing(p: V3, q: V3, a: tuple[float, float], b: tuple[float, float]) -> V3 | None:
    """Where a segment passes over a plan line from one side to the other, or None."""
    nx, ny = -(b[1] - a[1]), b[0] - a[0]
    size = math.hypot(nx, ny)
    nx, ny = nx / size, ny / size
    s = (p[0] - a[0]) * nx + (p[1] - a[1]) * ny
    t = (q[0] - a[0]) * nx + (q[1] - a[1]) * ny
    if not ((s < -TOUCH and t > TOUCH) or (s > TOUCH and t < -TOUCH)):
        return None
    share = s / (s - t)
    at = tuple(u + (v - u) * share for u, v in zip(p, q, strict=True))
    along = (at[0] - a[0]) * ny - (at[1] - a[1]) * nx
    return at if TOUCH < along < size - TOUCH else None  # type: ignore[return-value]
