"""Move walls with all that stands on them: joints slide, neighbors grow or shrink, doors stay in place."""

from __future__ import annotations

from dataclasses import replace

from bayrun.geometry import below
from bayrun.house.building import End_, Point, Wall
from bayrun.house.edits.records import Refused
from bayrun.house.job import Job
from bayrun.house.joining import ENDS, SAME_IN, along_and_left, end_of, parallel, rejoined
from bayrun.house.places import wall_name
from bayrun.house.rooming import roomed
from bayrun.units import tape

SHORTEST_IN = 6.0
"""A shorter wall holds no bay [in]."""
_JACK_AND_KING_IN = 3.0


def settled(job: Job, level: str, before: Job) -> Job:
    """A job whose walls were changed on one level: joints, plates, rooms and faces brought up to them."""
    return roomed(rejoined(job, level, before), level, before)


def find_wall(job: Job, wall_id: str) -> Wall:
    """The wall of this id.

    Raises:
        Refused: There is none.
    """
    wall = next((w for w in job.walls if w.id == wall_id), None)
    if wall is None:
        raise Refused(f"wall {wall_id} is not in the job")
    return wall


def with_ends(job: Job, ends: dict[str, tuple[Point, Point]]) -> Job:
    """The job with walls between new ends; what stands on them keeps its place in the house.

    Args:
        ends: (start, end) by wall id. A wall that would turn is refused where something stands on it.
    Raises:
        Refused: A wall would get too short, or lose a door, a window, a location or the enclosure's bay.
    """
    for wall_id, (start, end) in ends.items():
        job = _one(job, find_wall(job, wall_id), start, end)
    return job


def _one(job: Job, wall: Wall, start: Point, end: Point) -> Job:
    moved = replace(wall, start=_exact(start), end=_exact(end))
    if moved.start == wall.start and moved.end == wall.end:
        return job
    name = wall_name(wall)
    if moved.length_in < SHORTEST_IN:
        raise Refused(f"{name} would be {tape(moved.length_in)} long: too short for a bay")
    carries = (
        any(o.wall == wall.id for o in job.openings)
        or any(q.wall == wall.id for q in job.locations)
        or any(e.wall == wall.id for e in job.enclosures)
    )
    (ax, ay), (bx, by) = wall.direction, moved.direction
    if carries and ax * bx + ay * by < 1 - 1e-6:
        raise Refused(f"{name} would turn with what stands on it: take that away first")
    back_in, _ = along_and_left(moved, wall.start)
    back_in = round(back_in, 6) + 0.0
    for opening in (o for o in job.openings if o.wall == wall.id):
        low_in = opening.offset_in + back_in
        high_in = low_in + opening.width_in
        if below(low_in, _JACK_AND_KING_IN) or below(moved.length_in - _JACK_AND_KING_IN, high_in):
            raise Refused(f"{name} would lose its {opening.kind} {opening.id}: move or strike that first")
    for location in (q for q in job.locations if q.wall == wall.id and q.offset_in is not None):
        at_in = (location.offset_in or 0.0) + back_in
        if below(at_in, 0.0) or below(moved.length_in, at_in):
            raise Refused(f"{name} would lose location {location.id}: move or strike that first")
    for box in (e for e in job.enclosures if e.wall == wall.id):
        if below(box.bay_studs_in[0] + back_in, 0.0) or below(moved.length_in, box.bay_studs_in[1] + back_in):
            raise Refused(f"{name} would lose the bay of the enclosure {box.id}: place that elsewhere first")
    return replace(
        job,
        walls=tuple(moved if w.id == wall.id else w for w in job.walls),
        openings=tuple(
            replace(o, offset_in=o.offset_in + back_in) if o.wall == wall.id and back_in else o
            for o in job.openings
        ),
        locations=tuple(
            replace(q, offset_in=q.offset_in + back_in)
            if q.wall == wall.id and q.offset_in is not None and back_in
            else q
            for q in job.locations
        ),
        enclosures=tuple(
            replace(e, bay_studs_in=(e.bay_studs_in[0] + back_in, e.bay_studs_in[1] + back_in))
            if e.wall == wall.id and back_in
            else e
            for e in job.enclosures
        ),
    )


def _exact(point: Point) -> Point:
    return round(point[0], 6) + 0.0, round(point[1], 6) + 0.0


def shifted(job: Job, wall: Wall, by_in: float) -> dict[str, tuple[Point, Point]]:
    """New ends of a wall moved to its left, and of every wall that ends on it or that it ends on.

    Args:
        by_in: To the left of its direction; negative to the right [in].
    Raises:
        Refused: A joint cannot follow: the walls would not meet any more.
    """
    dx, dy = wall.direction
    step = (-dy * by_in, dx * by_in)
    line = replace(wall, start=_plus(wall.start, step), end=_plus(wall.end, step))
    ends: dict[str, tuple[Point, Point]] = {}
    here = [w for w in job.walls if w.level == wall.level and w.id != wall.id]
    # Its own ends slide along what they stand on.
    own = {end: end_of(line, end) for end in ENDS}
    for joint in job.joints:
        if joint.wall == wall.id and joint.kind in ("tee", "corner, butts", "corner, runs through"):
            other = next((w for w in here if w.id == joint.on_wall), None)
            crossing = None if other is None else _crossing(line, other)
            if other is None or crossing is None:
                continue
            along_in, _ = along_and_left(other, crossing)
            if joint.kind == "tee" and (
                below(along_in, -SAME_IN) or below(other.length_in + SAME_IN, along_in)
            ):
                raise Refused(f"{wall_name(wall)} would leave {wall_name(other)}, on which it ends")
            own[joint.end] = crossing
    ends[wall.id] = own["start"], own["end"]
    # What ends on it follows along its own line.
    for joint in job.joints:
        other = next((w for w in here if w.id == joint.wall and joint.on_wall == wall.id), None)
        if other is None:
            continue
        if joint.kind == "inline" or parallel(other, wall):
            raise Refused(
                f"{wall_name(wall)} goes on as {wall_name(other)}: move one of their ends elsewhere first"
            )
        crossing = _crossing(line, other)
        assert crossing is not None
        start, end = ends.get(other.id, (other.start, other.end))
        ends[other.id] = (crossing, end) if joint.end == "start" else (start, crossing)
    return ends


def moved_end(job: Job, wall: Wall, end: End_, to: Point) -> dict[str, tuple[Point, Point]]:
    """New ends of a wall with one end elsewhere; a corner there is left behind."""
    return {wall.id: (to, wall.end) if end == "start" else (wall.start, to)}


def _plus(a: Point, b: Point) -> Point:
    return a[0] + b[0], a[1] + b[1]


def _crossing(a: Wall, b: Wall) -> Point | None:
    """Where two center lines, made longer, cross; None where they run the same way."""
    (ax, ay), (bx, by) = a.direction, b.direction
    turn = ax * by - ay * bx
    if abs(turn) < 1e-6:
        return None
    sx, sy = b.start[0] - a.start[0], b.start[1] - a.start[1]
    t = (sx * by - sy * bx) / turn
    return _exact((a.start[0] + ax * t, a.start[1] + ay * t))
