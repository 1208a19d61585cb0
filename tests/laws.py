"""Laws that hold for every plan of every house, wrapped around every planning test.

Each law is a function that raises AssertionError with the house, run and hole it speaks of. The
arithmetic here is the laws' own: it uses the records, never the code of framing, routing, limits,
cables or takeoff, so that a slip there does not hide itself here.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from bayrun.findings import Finding
from bayrun.framing import Frame, Member
from bayrun.house import Enclosure, End, Job, Location, Obstacle, Wall
from bayrun.wiring import Hole, Run, Wiring

TOUCH = 1e-6
LOOSE = 1e-4
"""What a chain of float additions along one path may gather [in]."""

V3 = tuple[float, float, float]


def check_laws(
    job: Job,
    frame: Frame,
    wiring: Wiring,
    takeoff: Any = None,
    findings: Iterable[Finding] | None = None,
) -> None:
    """Every law on one plan.

    Args:
        takeoff: Has ``pulls``, ``plates``, ``labels``; laws about them are skipped where it is None.
        findings: Findings of the rules; an illegal hole that one of them names is told, so it passes.
    Raises:
        AssertionError: The first law that is broken, naming house, run and hole.
    """
    every_wish_is_planned_or_told(job, wiring)
    ids_are_unique(job, wiring)
    paths_are_continuous(job, wiring)
    runs_end_where_they_should(job, wiring)
    holes_and_runs_agree(job, wiring)
    runs_stay_in_walls_floors_and_attics(job, wiring)
    members_are_crossed_only_at_holes(job, frame, wiring)
    obstacles_are_never_crossed(job, wiring)
    barriers_are_kept(job, wiring)
    holes_are_inside_their_members(job, frame, wiring)
    holes_are_legal_or_told(job, frame, wiring, findings)
    holes_keep_their_distance(job, wiring)
    occupants_fit(job, wiring)
    slacks_are_the_firms(job, wiring)
    lengths_are_segments_plus_slack(job, wiring, takeoff)
    no_run_is_shorter_than_square(job, wiring)
    if takeoff is not None:
        each_run_is_in_one_pull(job, wiring, takeoff.pulls)
        labels_are_unique(job, wiring, takeoff.labels)
        plates_equal_near_faces(job, frame, wiring, takeoff.plates)


# ---------------------------------------------------------------- own arithmetic of places


def _xyz(point: Any) -> V3:
    return point.x, point.y, point.z


def _wall_to_world(wall: Wall, along: float, across: float) -> tuple[float, float]:
    (x0, y0), (x1, y1) = wall.start, wall.end
    length = math.hypot(x1 - x0, y1 - y0)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    return x0 + dx * along - dy * across, y0 + dy * along + dx * across


def _floor_z(job: Job, level: str, room: str) -> float:
    """World height of the finished floor of a room."""
    z = next(q.subfloor_z_in for q in job.levels if q.id == level)
    for r in job.rooms:
        if r.name == room and r.level == level:
            return z + r.floor_finish_in - r.floor_drop_in
    return z + sum(layer.thickness_in for q in job.levels if q.id == level for layer in q.floor_build_up)


def _location_point(job: Job, location: Location) -> V3:
    z = _floor_z(job, location.level, location.room) + location.height_in
    if location.wall is not None:
        wall = next(w for w in job.walls if w.id == location.wall)
        assert location.offset_in is not None
        return *_wall_to_world(wall, location.offset_in, 0.0), z
    assert location.x_in is not None
    assert location.y_in is not None
    return location.x_in, location.y_in, z


def _entry_points(job: Job, enclosure: Enclosure) -> dict[str, V3]:
    wall = next(w for w in job.walls if w.id == enclosure.wall)
    x, y = _wall_to_world(wall, (enclosure.bay_studs_in[0] + enclosure.bay_studs_in[1]) / 2, 0.0)
    middle = _floor_z(job, enclosure.level, enclosure.room) + enclosure.center_aff_in
    half = enclosure.height_in / 2
    return {e: (x, y, middle + half if e == "top" else middle - half) for e in enclosure.entries}


def _fail(job: Job, law: str, what: str) -> AssertionError:
    return AssertionError(f"house {job.id}: {law}: {what}")


def _tell(p: Sequence[float]) -> str:
    return "(" + ", ".join(f"{q:.4f}" for q in p) + ")"


# ---------------------------------------------------------------- runs and ends


def every_wish_is_planned_or_told(job: Job, wiring: Wiring) -> None:
    """Each wished run is either a run or told as unreached, once; nothing else is planned."""
    law = "every wish is planned or told"
    planned = Counter(r.id for r in wiring.runs) + Counter(u.run for u in wiring.unreached)
    wished = Counter(r.id for r in job.runs)
    if planned != wished:
        lost, extra = sorted((wished - planned).elements()), sorted((planned - wished).elements())
        raise _fail(job, law, f"lost {lost}, twice or never wished {extra}")
    wishes = {r.id: r for r in job.runs}
    for run in wiring.runs:
        wish = wishes[run.id]
        if (run.kind, run.from_end, run.to_end) != (wish.kind, wish.from_end, wish.to_end):
            raise _fail(job, law, f"run {run.id} is not the run that was wished")
    for told in wiring.unreached:
        if not told.last_place or not told.barred_by:
            raise _fail(job, law, f"unreached run {told.run} does not say how far it came and what bars it")


def ids_are_unique(job: Job, wiring: Wiring) -> None:
    """No two holes share an id, no two runs."""
    for what, ids in (("hole", [h.id for h in wiring.holes]), ("run", [r.id for r in wiring.runs])):
        twice = [i for i, n in Counter(ids).items() if n > 1]
        if twice:
            raise _fail(job, "ids are unique", f"{what} {twice[0]} stands twice")


def paths_are_continuous(job: Job, wiring: Wiring) -> None:
    """A path has two points or more, all of them numbers, and its places follow without a jump.

    A polyline cannot jump by itself; a missing point shows as a segment that is not square to the
    house. So where the firm runs square, every segment runs along one axis of the house.
    """
    law = "a path is continuous"
    square = not job.practice.straight_in_open_space and all(
        w.start[0] == w.end[0] or w.start[1] == w.end[1] for w in job.walls
    )
    for run in wiring.runs:
        if len(run.path) < 2:
            raise _fail(job, law, f"run {run.id} has {len(run.path)} points")
        for a, b in zip(run.path, run.path[1:], strict=False):
            p, q = _xyz(a), _xyz(b)
            if not all(map(math.isfinite, (*p, *q))):
                raise _fail(job, law, f"run {run.id} has a point that is no number: {p} {q}")
            moves = sum(abs(u - v) > TOUCH for u, v in zip(p, q, strict=True))
            if square and moves > 1:
                raise _fail(job, law, f"run {run.id} jumps from {_tell(p)} to {_tell(q)}")


def _end_points(job: Job, end: End, entry: str) -> list[V3]:
    if end.type == "location":
        return [_location_point(job, next(q for q in job.locations if q.id == end.id))]
    gear = next((g for g in job.gear if g.id == end.id), None)
    if end.type == "device" and gear is not None and not gear.in_enclosure:
        assert gear.x_in is not None
        assert gear.y_in is not None
        assert gear.z_in is not None
        return [(gear.x_in, gear.y_in, gear.z_in)]
    box = next((e for e in job.enclosures if e.id == end.id), job.chosen_enclosure)
    assert box is not None
    points = _entry_points(job, box)
    return [points[entry]] if entry in points else []


def runs_end_where_they_should(job: Job, wiring: Wiring) -> None:
    """A path starts and ends at its location's box, its device, or the enclosure's entry."""
    for run in wiring.runs:
        for which, end, point in (
            ("start", run.from_end, run.path[0]),
            ("end", run.to_end, run.path[-1]),
        ):
            if not any(math.dist(_xyz(point), p) <= LOOSE for p in _end_points(job, end, run.entry)):
                where = _end_points(job, end, run.entry)
                raise _fail(
                    job,
                    "a run ends where it should",
                    f"run {run.id}: its {which} is {_tell(_xyz(point))}, {end.type} {end.id} is {where} "
                    f"(entry {run.entry or 'not named'})",
                )


def holes_and_runs_agree(job: Job, wiring: Wiring) -> None:
    """A run passes a hole exactly where the hole lists it, once, and at the hole's own place."""
    law = "holes and runs agree"
    holes = {h.id: h for h in wiring.holes}
    passes: dict[str, list[str]] = {h: [] for h in holes}
    for run in wiring.runs:
        for point in run.path:
            if not point.hole:
                continue
            hole = holes.get(point.hole)
            if hole is None:
                raise _fail(job, law, f"run {run.id} passes hole {point.hole}, which is nowhere")
            passes[hole.id].append(run.id)
            if point.member and point.member not in (hole.member, *hole.plies):
                raise _fail(
                    job, law, f"run {run.id}: hole {hole.id} is in {hole.member}, not in {point.member}"
                )
            if (
                math.dist(_xyz(point), (hole.x, hole.y, hole.z))
                > hole.diameter_in / 2 + _hole_depth(hole) + LOOSE
            ):
                raise _fail(
                    job, law, f"run {run.id} says it passes hole {hole.id} but stands at {_tell(_xyz(point))}"
                )
    for hole in wiring.holes:
        listed = Counter(hole.occupants)
        if len(listed) != len(hole.occupants):
            raise _fail(job, law, f"hole {hole.id} lists a run twice")
        if set(listed) != set(passes[hole.id]):
            odd = sorted(set(listed) ^ set(passes[hole.id]))
            raise _fail(job, law, f"hole {hole.id} and the paths differ about {odd}")
        if not hole.occupants:
            raise _fail(job, law, f"hole {hole.id} is drilled for nobody")


def _hole_depth(hole: Hole) -> float:
    """A point on a hole's axis may stand at either mouth: no member of a house is thicker than this [in]."""
    return 6.0 + 3.0 * len(hole.plies)


# ---------------------------------------------------------------- wood and other trades


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
            _wall_to_world(wall, a, c) for a in (-half, wall.plate_end_in + half) for c in (-half, half)
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
    drops = [(*_location_point(job, q)[:2], LOOSE) for q in job.locations if q.wall is None]
    drops += [(g.x_in, g.y_in, 12.0) for g in job.gear if g.x_in is not None and g.y_in is not None]
    seen: set[tuple[V3, V3]] = set()
    for run in wiring.runs:
        for a, b in zip(run.path, run.path[1:], strict=False):
            p, q = _xyz(a), _xyz(b)
            length = math.dist(p, q)
            if length <= LOOSE or (p, q) in seen:
                continue
            seen.add((p, q))
            if any(max(math.hypot(e[0] - x, e[1] - y) for e in (p, q)) <= near for x, y, near in drops):
                continue
            bare = _bare_share(p, q, low - LOOSE, high + LOOSE)
            if bare * length > 0.01:
                raise _fail(
                    job,
                    "runs stay in walls, floors and attics",
                    f"run {run.id}: {bare * length:.2f} in between {_tell(p)} and {_tell(q)} hang in a room",
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


def _axis(job: Job, member: Member, hole: Hole) -> V3:
    """Unit vector of a hole's axis in the world."""
    if hole.axis == "up":
        return 0.0, 0.0, 1.0
    wall = next((w for w in job.walls if w.id == member.host), None)
    if wall is not None:
        (x0, y0), (x1, y1) = wall.start, wall.end
        length = math.hypot(x1 - x0, y1 - y0)
        dx, dy = (x1 - x0) / length, (y1 - y0) / length
        return (dx, dy, 0.0) if hole.axis == "along" else (-dy, dx, 0.0)
    long_x = member.box.x1 - member.box.x0 > member.box.y1 - member.box.y0
    across = (0.0, 1.0, 0.0) if long_x else (1.0, 0.0, 0.0)
    return across if hole.axis == "across" else (across[1], across[0], 0.0)


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
            p, q = _xyz(a), _xyz(b)
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
                        axis = _axis(job, member, hole)
                        reach = hole.diameter_in / 2 + TOUCH
                        seen[key] = max(_from_axis(e, hole, axis) for e in part) <= reach
                    if seen[key]:
                        break
                else:
                    what = "a member that is never drilled" if member.never_drilled else member.role
                    raise _fail(
                        job,
                        law,
                        f"run {run.id} passes {member.id} ({what}) from {_tell(part[0])} to {_tell(part[1])} "
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
                if any(_is_in(kind, numbers, (z0, z1), _xyz(e)) for e in _device_ends(run)):
                    continue  # it ends on the device that stands here
                for a, b in zip(run.path, run.path[1:], strict=False):
                    p, q = _xyz(a), _xyz(b)
                    if kind == "box":
                        hit = _clip(p, q, (*numbers[:2], z0), (*numbers[2:], z1)) is not None
                    else:
                        part = _clip(p, q, (-1e9, -1e9, z0), (1e9, 1e9, z1))
                        hit = part is not None and (
                            _cut_2d(part[0], part[1], numbers[0], numbers[1], (0, 1)) < numbers[2] - TOUCH
                        )
                    if hit:
                        raise _fail(
                            job, law, f"run {run.id} passes {obstacle.id} ({obstacle.kind}) at {_tell(p)}"
                        )
            for hole in wiring.holes:
                if kind == "pipe" and hole.axis == "up" and z0 <= hole.z <= z1 and not hole.open_passage:
                    apart = math.hypot(hole.x - numbers[0], hole.y - numbers[1])
                    if apart < numbers[2] + hole.diameter_in / 2 - TOUCH:
                        raise _fail(job, law, f"hole {hole.id} runs into {obstacle.id} ({obstacle.kind})")


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
                    at = _crossing(_xyz(a), _xyz(b), (ax, ay), (bx, by))
                    if at is None or not any(lo < at[2] < hi for lo, hi in ranges):
                        continue
                    sleeve = point is not None and (
                        math.dist(at, (point.x_in, point.y_in, point.z_in)) <= point.diameter_in / 2 + 1.0
                    )
                    if not sleeve:
                        raise _fail(
                            job, law, f"run {run.id} crosses {barrier.id} ({barrier.kind}) at {_tell(at)}"
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


# ---------------------------------------------------------------- holes


def _across_room(member: Member, hole: Hole) -> list[tuple[str, float, tuple[float, float]]]:
    """(direction, center, extent of the member) in the two directions that a hole's circle spans."""
    if hole.axis == "along":
        return [("up", hole.up_in, member.up), ("across", hole.across_in, member.across)]
    if hole.axis == "up":
        return [("along", hole.along_in, member.along), ("across", hole.across_in, member.across)]
    low = member.box.z0
    return [("up", hole.across_in + low, (low, member.box.z1))]


def holes_are_inside_their_members(job: Job, frame: Frame, wiring: Wiring) -> None:
    """The whole circle lies in the wood, and member coordinates and world coordinates say the same."""
    law = "a hole is inside its member"
    members = {m.id: m for m in frame.members}
    walls = {w.id: w for w in job.walls}
    for hole in wiring.holes:
        radius = hole.diameter_in / 2
        if radius <= 0:
            raise _fail(job, law, f"hole {hole.id} has no size")
        for name in (hole.member, *hole.plies):
            member = members.get(name)
            if member is None:
                if hole.open_passage:
                    continue
                raise _fail(job, law, f"hole {hole.id} is in {name}, which is no member")
            b, center = member.box, (hole.x, hole.y, hole.z)
            wall = walls.get(member.host)
            if wall is None or wall.start[0] == wall.end[0] or wall.start[1] == wall.end[1]:
                axis = _axis(job, member, hole)
                for c, lo, hi, along_axis, word in zip(
                    center, (b.x0, b.y0, b.z0), (b.x1, b.y1, b.z1), axis, "xyz", strict=True
                ):
                    if abs(along_axis) < 0.5 and not lo + radius - TOUCH <= c <= hi - radius + TOUCH:
                        raise _fail(
                            job, law, f"hole {hole.id} leaves {name}: {word} {c:.4f} in {lo:.4f} to {hi:.4f}"
                        )
        _lies_along_its_axis(job, hole, [members[n] for n in (hole.member, *hole.plies) if n in members])
        member = members.get(hole.member)
        if member is None:
            continue
        wall = walls.get(member.host)
        if wall is not None:
            level_z = next(q.subfloor_z_in for q in job.levels if q.id == wall.level)
            x, y = _wall_to_world(wall, hole.along_in, hole.across_in)
            told = (x, y, level_z + hole.up_in)
            if math.dist(told, (hole.x, hole.y, hole.z)) > LOOSE:
                raise _fail(
                    job,
                    law,
                    f"hole {hole.id}: tape says {_tell(told)}, world {_tell((hole.x, hole.y, hole.z))}",
                )
            for word, at, (lo, hi) in _across_room(member, hole):
                if not lo + radius - TOUCH <= at <= hi - radius + TOUCH:
                    raise _fail(
                        job, law, f"hole {hole.id} leaves {member.id} {word}: {at:.4f} in {lo} to {hi}"
                    )
        elif (
            hole.axis == "across"
            and member.role != "barrier"
            and abs(hole.z - member.box.z0 - hole.across_in) > LOOSE
        ):
            raise _fail(
                job,
                law,
                f"hole {hole.id}: {hole.across_in} above the bottom of {member.id}, world z {hole.z}",
            )


def _lies_along_its_axis(job: Job, hole: Hole, pieces: list[Member]) -> None:
    """The center named for a hole lies between the mouths of its bore through all plies."""
    if not pieces:
        return
    axis = _axis(job, pieces[0], hole)
    mouths: list[float] = []
    for member in pieces:
        b = member.box
        mouths += [
            sum(k * c for k, c in zip(axis, p, strict=True)) for p in ((b.x0, b.y0, b.z0), (b.x1, b.y1, b.z1))
        ]
    at = sum(k * c for k, c in zip(axis, (hole.x, hole.y, hole.z), strict=True))
    askew = sum(abs(k) > TOUCH for k in axis) > 1
    if not askew and not min(mouths) - TOUCH <= at <= max(mouths) + TOUCH:
        raise _fail(
            job,
            "a hole is inside its member",
            f"hole {hole.id} stands at {at:.4f} along its axis, outside {pieces[0].id} and its plies",
        )


def unlawful(job: Job, member: Member, hole: Hole, ply: bool = False) -> str:
    """Why one hole in one member is against the numbers, or empty. Open passages are not drilled.

    Source: IRC 2021 R602.6 (studs: 40 % bearing or exterior, 60 % otherwise, 5/8 in of edge), R502.8.1 and
    R802.7.1 (joists: depth / 3, 2 in of edge), makers' rule for flanges and trusses, as in BUILDING 2.
    """
    diameter, radius = hole.diameter_in, hole.diameter_in / 2
    if member.never_drilled:
        return f"{member.id} is a {member.role} of {member.material}: never drilled"
    if member.material == "steel" and not hole.open_passage:
        return "" if "plate" in member.role else f"{member.id} is steel: its punched holes only"
    if member.material == "I-joist":
        frame = next((f for f in job.frames if f.id == member.host), None)
        edge = min(hole.z - member.box.z0, member.box.z1 - hole.z) - radius
        flange = (frame.flange_depth_in if frame else None) or 1.5
        if edge < flange - TOUCH:
            return f"it cuts the flange of {member.id}"
        if not hole.open_passage:
            return f"{member.id} takes factory knockouts only"
        if frame is None or frame.knockouts is None or diameter > frame.knockouts.diameter_in + TOUCH:
            return f"nobody has a chart that gives {member.id} such a knockout"
        return ""
    if hole.open_passage:
        return ""
    if hole.axis == "along":
        width = member.across[1] - member.across[0]
        share = 0.4 if member.bearing or member.exterior else 0.6
        edge = min(hole.across_in - member.across[0], member.across[1] - hole.across_in) - radius
        if diameter > share * width + TOUCH:
            return f"{diameter} in is over {share:.0%} of {width} in ({member.id})"
        if edge < 0.625 - TOUCH:
            return f"its edge is {edge:.4f} in from the edge of {member.id}, under 5/8 in"
    elif hole.axis == "across" and member.role in ("joist", "rafter"):
        depth = member.box.z1 - member.box.z0
        edge = min(hole.z - member.box.z0, member.box.z1 - hole.z) - radius
        if diameter > depth / 3 + TOUCH:
            return f"{diameter} in is over a third of {depth} in ({member.id})"
        if edge < 2 - TOUCH:
            return f"its edge is {edge:.4f} in from the edge of {member.id}, under 2 in"
    return ""


def holes_are_legal_or_told(
    job: Job, frame: Frame, wiring: Wiring, findings: Iterable[Finding] | None
) -> None:
    """Each hole keeps the code's numbers, or a finding names it."""
    members = {m.id: m for m in frame.members}
    told = {name for f in findings or () for name in f.about}
    for hole in wiring.holes:
        for name in (hole.member, *hole.plies):
            member = members.get(name)
            why = unlawful(job, member, hole, name != hole.member) if member else ""
            if why and hole.id not in told:
                raise _fail(job, "a hole is legal or told", f"hole {hole.id} of {hole.occupants[:1]}: {why}")


def holes_keep_their_distance(job: Job, wiring: Wiring) -> None:
    """Two holes of one member never cut into each other."""
    by_member: dict[str, list[Hole]] = {}
    for hole in wiring.holes:
        for name in {hole.member, *hole.plies}:
            by_member.setdefault(name, []).append(hole)
    for name, holes in by_member.items():
        for i, a in enumerate(holes):
            for b in holes[i + 1 :]:
                if a.axis != b.axis:
                    continue
                apart = _apart(a, b)
                if apart < (a.diameter_in + b.diameter_in) / 2 - TOUCH:
                    raise _fail(
                        job,
                        "holes keep their distance",
                        f"holes {a.id} and {b.id} in {name} are {apart:.4f} in apart, center to center",
                    )


def _apart(a: Hole, b: Hole) -> float:
    """Center to center in the plane of two holes of one axis in one member."""
    if a.axis == "up":
        return math.hypot(a.x - b.x, a.y - b.y)
    if a.axis == "along":
        return math.hypot(a.up_in - b.up_in, a.across_in - b.across_in)
    return math.hypot(a.along_in - b.along_in, a.z - b.z)


def occupants_fit(job: Job, wiring: Wiring) -> None:
    """Cables lie in a hole as circles that do not overlap, inside it, with the firm's fill, 60 % at most."""
    law = "occupants fit"
    kinds = {k.letter: k.diameter_in for k in job.practice.cables}
    runs = {r.id: r for r in wiring.runs}
    for hole in wiring.holes:
        if len(hole.circles) != len(hole.occupants):
            raise _fail(
                job, law, f"hole {hole.id} has {len(hole.occupants)} runs and {len(hole.circles)} circles"
            )
        for name, c in zip(hole.occupants, hole.circles, strict=True):
            wanted = kinds[runs[name].kind] / 2
            if abs(c.r - wanted) > TOUCH:
                raise _fail(
                    job, law, f"hole {hole.id}: run {name} is drawn {2 * c.r} in thick, it is {2 * wanted}"
                )
            if math.hypot(c.x, c.y) + c.r > hole.diameter_in / 2 + LOOSE:
                raise _fail(job, law, f"hole {hole.id}: run {name} does not lie inside it")
        for i, a in enumerate(hole.circles):
            for j in range(i + 1, len(hole.circles)):
                b = hole.circles[j]
                if math.hypot(a.x - b.x, a.y - b.y) < a.r + b.r - LOOSE:
                    raise _fail(
                        job, law, f"hole {hole.id}: runs {hole.occupants[i]} and {hole.occupants[j]} overlap"
                    )
        fill = sum(4 * c.r * c.r for c in hole.circles) / hole.diameter_in**2
        most = min(job.practice.fill_max, 0.60)
        if fill > most + 1e-9:
            raise _fail(job, law, f"hole {hole.id} is {fill:.1%} full, the firm's most is {most:.0%}")


# ---------------------------------------------------------------- lengths


def _slack(job: Job, end: End) -> float:
    slack = job.practice.slack
    if end.type == "location":
        location = next(q for q in job.locations if q.id == end.id)
        if location.slack_in is not None:
            return location.slack_in
        return float(getattr(slack, f"{location.mount}_in"))
    gear = next((g for g in job.gear if g.id == end.id), None)
    if end.type == "device" and gear is not None and not gear.in_enclosure:
        return slack.gear_in if gear.slack_in is None else gear.slack_in
    box = next((e for e in job.enclosures if e.id == end.id), job.chosen_enclosure)
    assert box is not None
    return slack.enclosure_in + box.height_in + box.width_in / 2


def slacks_are_the_firms(job: Job, wiring: Wiring) -> None:
    """Slack at each end is the firm's; at the enclosure past its far corner from the entry."""
    for run in wiring.runs:
        for end, got in ((run.from_end, run.slack_from_in), (run.to_end, run.slack_to_in)):
            wanted = _slack(job, end)
            if abs(got - wanted) > TOUCH:
                raise _fail(
                    job,
                    "slack is the firm's",
                    f"run {run.id} leaves {got} in at {end.type} {end.id}, not {wanted}",
                )


def _way(run: Run) -> float:
    return math.fsum(math.dist(_xyz(a), _xyz(b)) for a, b in zip(run.path, run.path[1:], strict=False))


def lengths_are_segments_plus_slack(job: Job, wiring: Wiring, takeoff: Any = None) -> None:
    """The length of a run is its segments and both slacks, in the plan and on the list."""
    law = "a length is its segments plus slack"
    rows = {row.run: row for row in takeoff.lengths} if takeoff is not None else {}
    for run in wiring.runs:
        wanted = _way(run) + run.slack_from_in + run.slack_to_in
        if abs(run.length_in - wanted) > LOOSE:
            raise _fail(job, law, f"run {run.id} says {run.length_in}, its segments and slack are {wanted}")
        if takeoff is None:
            continue
        if run.id not in rows:
            raise _fail(job, law, f"run {run.id} is on no length list")
        row = rows[run.id]
        if abs(row.length_in - wanted) > LOOSE or row.cut_in < wanted - LOOSE:
            raise _fail(
                job, law, f"run {run.id}: the list says {row.length_in}, cut {row.cut_in}, not {wanted}"
            )


def no_run_is_shorter_than_square(job: Job, wiring: Wiring) -> None:
    """Where the firm runs square, no way is under the rectilinear distance of its ends."""
    if job.practice.straight_in_open_space:
        return
    for run in wiring.runs:
        a, b = _xyz(run.path[0]), _xyz(run.path[-1])
        least = sum(abs(u - v) for u, v in zip(a, b, strict=True))
        if run.length_in < least + run.slack_from_in + run.slack_to_in - LOOSE:
            raise _fail(
                job,
                "no run is shorter than square",
                f"run {run.id}: way {run.path_in:.4f}, square {least:.4f}",
            )


# ---------------------------------------------------------------- lists


def each_run_is_in_one_pull(job: Job, wiring: Wiring, pulls: Iterable[Any]) -> None:
    """Every planned run is pulled once, nothing else is."""
    pulled = Counter(run for pull in pulls for run in pull.runs)
    for run in wiring.runs:
        if pulled[run.id] != 1:
            raise _fail(job, "each run is in one pull", f"run {run.id} is in {pulled[run.id]} pulls")
    extra = sorted(set(pulled) - {r.id for r in wiring.runs})
    if extra:
        raise _fail(job, "each run is in one pull", f"run {extra[0]} is pulled but not planned")


def labels_are_unique(job: Job, wiring: Wiring, labels: Iterable[Any]) -> None:
    """Each run has one label pair, and no two pairs can be read as one another."""
    law = "label pairs are unique"
    labels = tuple(labels)
    for word, values in (
        ("run", [label.run for label in labels]),
        ("mark", [label.mark.casefold().replace("O", "0") for label in labels]),
        ("pair", [(label.mark, label.from_text, label.to_text) for label in labels]),
    ):
        twice = [v for v, n in Counter(values).items() if n > 1]
        if twice:
            raise _fail(job, law, f"{word} {twice[0]} stands on two label pairs")
    missing = sorted({r.id for r in wiring.runs} - {label.run for label in labels})
    if missing:
        raise _fail(job, law, f"run {missing[0]} has no labels")


def faces_to_plate(frame: Frame, wiring: Wiring) -> set[tuple[str, str]]:
    """(hole, side) wherever a drilled hole leaves under 1-1/4 in of wood before a wall's face.

    Source: NEC 300.4(A)(1), as in BUILDING 3: the edge of the hole to the nearest edge of the member.
    """
    members = {m.id: m for m in frame.members}
    found = set()
    for hole in wiring.holes:
        names = [n for n in (hole.member, *hole.plies) if n in members]
        wood = [members[n] for n in names if members[n].material in ("wood", "engineered", "I-joist")]
        if hole.open_passage or not wood or members[names[0]].role == "barrier":
            continue
        radius = hole.diameter_in / 2
        for member in wood:
            if hole.axis == "across":
                sides = (
                    ("bottom", hole.z - member.box.z0),
                    ("top", member.box.z1 - hole.z),
                )
            else:
                sides = (
                    ("left", member.across[1] - hole.across_in),
                    ("right", hole.across_in - member.across[0]),
                )
            found |= {(hole.id, side) for side, to_face in sides if to_face - radius < 1.25 - TOUCH}
    return found


def plates_equal_near_faces(job: Job, frame: Frame, wiring: Wiring, plates: Iterable[Any]) -> None:
    """A nail plate stands on every face under 1-1/4 in from a hole, and nowhere else."""
    law = "plates equal faces with a margin under 1-1/4 in"
    wanted = faces_to_plate(frame, wiring)
    got = Counter((plate.hole, plate.side) for plate in plates)
    if set(got) != wanted:
        lost, extra = sorted(wanted - set(got)), sorted(set(got) - wanted)
        raise _fail(job, law, f"faces without a plate {lost[:3]}, plates without a reason {extra[:3]}")
    twice = [k for k, n in got.items() if n > 1]
    if twice:
        raise _fail(job, law, f"hole {twice[0][0]} has two plates on its {twice[0][1]} face")
