"""Joints of a level from its walls' center lines, and the plate ends that follow from them.

Joints are data in the job: this finds them again after a person moved or added a wall, and keeps whatever was
already told about a joint that stands as it stood. At a corner the wall drawn first runs through.

Source: common framing practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

from bayrun.geometry import at_least, at_most, below, near
from bayrun.house.building import End_, Joint, Point, Wall
from bayrun.house.job import Job

SAME_IN = 0.01
"""Ends nearer than this are one node: the editing snaps, so anything farther is another place [in]."""
ENDS: tuple[End_, ...] = ("start", "end")


def end_of(wall: Wall, end: End_) -> Point:
    """The plan point of one end."""
    return wall.start if end == "start" else wall.end


def along_and_left(wall: Wall, point: Point) -> tuple[float, float]:
    """A plan point in a wall's own coordinates: offset from its start, and how far to its left [in]."""
    dx, dy = wall.direction
    px, py = point[0] - wall.start[0], point[1] - wall.start[1]
    return px * dx + py * dy, py * dx - px * dy


def parallel(a: Wall, b: Wall) -> bool:
    """True where two walls run the same way or the opposite one."""
    (ax, ay), (bx, by) = a.direction, b.direction
    return abs(ax * by - ay * bx) < 1e-6


def rejoined(job: Job, level: str, before: Job | None = None) -> Job:
    """The job with the joints of one level, and the plate ends of its walls, as its center lines meet now.

    Args:
        level: Whose walls to join; the others stay as they are.
        before: The job before its walls were changed, to see which of them have other studs now.
    Returns:
        The job. A wall end that meets nothing has no joint, and its plates end at its own end.
    """
    walls = [w for w in job.walls if w.level == level]
    here = {w.id for w in walls}
    order = {w.id: n for n, w in enumerate(job.walls)}
    old = {(j.wall, j.end, j.on_wall): j for j in job.joints if j.wall in here}
    was_thick = {w.id: w.thickness_in for w in (before or job).walls}
    made: dict[tuple[str, End_, str], Joint] = {}
    for wall in walls:
        for end in ENDS:
            for kind, other, offset_in in _meets(wall, end, walls):
                key = (wall.id, end, other.id)
                if kind == "corner":
                    known = old[key].kind if key in old and old[key].kind.startswith("corner") else ""
                    back = next((j.kind for (w, _, o), j in old.items() if (w, o) == (other.id, wall.id)), "")
                    through = known == "corner, runs through" or (
                        not known and back != "corner, runs through" and order[wall.id] < order[other.id]
                    )
                    kind = "corner, runs through" if through else "corner, butts"
                shift_in = _shift_in(kind, other)
                was = old.get(key)
                same = near(was_thick.get(other.id, 0.0), other.thickness_in)
                if was is not None and was.kind == kind and same:
                    shift_in = was.plate_shift_in
                made[key] = Joint(
                    wall.id, end, kind, other.id, round(offset_in, 6) + 0.0, wall.thickness_in, shift_in
                )
    shifts: dict[tuple[str, End_], float] = {}
    for (name, end, _), joint in made.items():
        known_in = shifts.get((name, end))
        shifts[name, end] = joint.plate_shift_in if known_in is None else max(known_in, joint.plate_shift_in)
    # Joints that share an end share its plate end.
    for key, joint in made.items():
        if joint.kind == "tee":
            made[key] = replace(joint, plate_shift_in=shifts[key[0], key[1]])
    kept = [made.pop((j.wall, j.end, j.on_wall), None) if j.wall in here else j for j in job.joints]
    joints = (*(j for j in kept if j is not None), *made.values())
    return replace(
        job,
        joints=joints,
        walls=tuple(
            replace(
                w,
                plate_start_in=shifts.get((w.id, "start"), 0.0),
                plate_end_in=round(w.length_in - shifts.get((w.id, "end"), 0.0), 6),
            )
            if w.id in here
            else w
            for w in job.walls
        ),
    )


def _meets(wall: Wall, end: End_, walls: list[Wall]) -> list[tuple[str, Wall, float]]:
    """What one end of a wall meets: (``corner``, ``tee`` or ``inline``, the other wall, offset there)."""
    point = end_of(wall, end)
    found: list[tuple[str, Wall, float]] = []
    ends_here: list[tuple[Wall, float]] = []
    for other in walls:
        if other.id == wall.id:
            continue
        along_in, left_in = along_and_left(other, point)
        if abs(left_in) > SAME_IN or below(along_in, -SAME_IN) or below(other.length_in + SAME_IN, along_in):
            continue
        at_end = at_most(along_in, SAME_IN) or at_least(along_in, other.length_in - SAME_IN)
        if at_end:
            along_in = 0.0 if at_most(along_in, SAME_IN) else other.length_in
            ends_here.append((other, along_in))
        elif not parallel(wall, other):
            found.append(("tee", other, along_in))
    if found:  # a wall that runs on parts what meets it from both sides
        return found
    inline = [(o, a) for o, a in ends_here if parallel(wall, o)]
    across = [(o, a) for o, a in ends_here if not parallel(wall, o)]
    if inline:
        return [("inline", o, a) for o, a in inline]
    for other, along_in in across:
        goes_on = any(parallel(other, o) for o, _ in across if o.id != other.id)
        found.append(("tee" if goes_on else "corner", other, along_in))
    tees = [one for one in found if one[0] == "tee"]
    return tees or found


def _shift_in(kind: str, other: Wall) -> float:
    """How far the plates stop short of (+) or pass (-) the node [in]."""
    if kind == "inline":
        return 0.0
    half_in = other.thickness_in / 2
    return -half_in if kind == "corner, runs through" else half_in + other.membrane_in
