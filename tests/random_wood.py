"""Random houses, fourth part: what stands in a wall and aloft, and the obstacles of other trades."""

from __future__ import annotations

import itertools

from bayrun.house import (
    FloorFrame,
    Job,
    Obstacle,
    Wall,
)
from random_shell import Draft, Interval, sixteenth
from random_walls import fixed_wood, gaps_between, runs_along_x


def stud_centers(wall: Wall) -> list[float]:
    """Centers of the layout studs, as offsets from the wall's start [in]."""
    if wall.layout is None:
        return []
    p0, p1, step, centers = wall.plate_start_in, wall.plate_end_in, wall.spacing_in, []
    at = p0 + wall.layout.first_mark_in if wall.layout.origin == "start" else p1 - wall.layout.first_mark_in
    while p0 + 2.25 < at < p1 - 2.25:
        centers.append(at)
        at += step if wall.layout.origin == "start" else -step
    return sorted(centers)


def solid_at(job: Job, wall: Wall, up_in: float) -> list[Interval]:
    """What is solid or open (an opening) along a wall at one height above the subfloor [in]."""
    taken = fixed_wood(wall, list(job.joints))
    here = [o for o in job.openings if o.wall == wall.id]
    for o in here:
        a, b = o.offset_in, o.offset_in + o.width_in
        taken += [(a - 3, a), (b, b + 3)]
        if o.sill_in - 1.5 <= up_in <= o.head_in:
            taken.append((a, b))
        elif o.head_in < up_in <= o.head_in + o.header_depth_in:
            taken.append((a - 1.5, b + 1.5))
    return taken + [(s - wall.stud_width_in / 2, s + wall.stud_width_in / 2) for s in stud_centers(wall)]


def clear_at(job: Job, wall: Wall, up_in: float, along_in: float) -> Interval | None:
    """The clear stretch that holds an offset at a height, or None where wood or an opening is."""
    for a, b in gaps_between(wall.plate_start_in, wall.plate_end_in, solid_at(job, wall, up_in)):
        if a < along_in < b:
            return a, b
    return None


def frame_rects(job: Job, frame: FloorFrame) -> list[tuple[float, float, float, float]]:
    """Plan rectangles of the members of a frame (floor openings not cut out)."""
    half, (x0, y0, x1, y1) = frame.member_width_in / 2, frame.area
    rects = [
        (p - half, y0, p + half, y1) if frame.direction == "y" else (x0, p - half, x1, p + half)
        for p in frame.members_in()
    ]
    return rects + [edge.rect for edge in frame.edge_members]


def is_near(rects: list[tuple[float, float, float, float]], x: float, y: float, margin: float) -> bool:
    return any(a - margin < x < c + margin and b - margin < y < d + margin for a, b, c, d in rects)


def plan_point(wall: Wall, along_in: float) -> tuple[float, float]:
    dx, dy = (1.0, 0.0) if runs_along_x(wall) else (0.0, 1.0)
    return wall.start[0] + dx * along_in, wall.start[1] + dy * along_in


def make_obstacles(draft: Draft, job: Job) -> list[Obstacle]:
    """Vent pipes in wet walls, a duct along one floor bay, a trunk duct in the basement, a power run."""
    rng, made = draft.rng, []
    for wall in job.walls:
        if not wall.wet or rng.random() < 0.3:
            continue
        level = job.level(wall.level)
        rects = [
            r for f in job.frames if wall.level in (f.above_level, f.below_level) for r in frame_rects(job, f)
        ]
        for _ in range(20):
            along = sixteenth(rng.uniform(wall.plate_start_in + 8, wall.plate_end_in - 8))
            x, y = plan_point(wall, along)
            gap = clear_at(job, wall, level.plate_top_in - 4, along)
            low = clear_at(job, wall, 12.0, along)
            if (
                gap
                and low
                and min(along - max(gap[0], low[0]), min(gap[1], low[1]) - along) > 1.5
                and not is_near(rects, x, y, 1.5)
                and not any(
                    o.wall == wall.id and o.offset_in - 5 < along < o.offset_in + o.width_in + 5
                    for o in job.openings
                )
            ):
                z = (level.subfloor_z_in, level.subfloor_z_in + level.plate_top_in + 20)
                made.append(
                    Obstacle(
                        f"O{len(made) + 1}",
                        "vent pipe 2 in in wet wall",
                        (wall.level,),
                        None,
                        z,
                        (x, y),
                        2.375,
                        clearance_in=0.25,
                    )
                )
                break
    for frame in job.frames:
        if frame.below_level is None or rng.random() < 0.4:
            continue
        members = frame.members_in()
        bays = [(a, b) for a, b in itertools.pairwise(members) if b - a - frame.member_width_in > 8]
        if not bays:
            continue
        a, b = rng.choice(bays)
        middle = sixteenth((a + b) / 2)
        low = sixteenth(rng.uniform(24, draft.middle_v - 60))
        rect = draft.rect(middle - 3, low, middle + 3, low + 48)
        if any(
            r[0] < rect[2] and rect[0] < r[2] and r[1] < rect[3] and rect[1] < r[3]
            for r in frame_rects(job, frame)
        ):
            continue
        if any(
            r[0] < rect[2] and rect[0] < r[2] and r[1] < rect[3] and rect[1] < r[3]
            for r in (o.rect for o in job.floor_openings)
        ):
            continue
        made.append(
            Obstacle(
                f"O{len(made) + 1}",
                "exhaust duct 6 in along a joist bay",
                (),
                rect,
                frames=(frame.id,),
                z_above_frame_bottom_in=frame.member_depth_in / 2,
            )
        )
    if job.levels[0].id == "B" and rng.random() < 0.5:
        z = job.levels[0].subfloor_z_in + job.levels[0].plate_top_in
        v = draft.grid_v(draft.middle_v / 2)
        made.append(
            Obstacle(
                f"O{len(made) + 1}",
                "main trunk duct 8 x 20 in under the joists",
                ("B",),
                draft.rect(48.0, v - 10, draft.u - 48, v + 10),
                (z - 8, z),
            )
        )
    return made
