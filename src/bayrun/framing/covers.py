"""What lies directly over and under each plate: a chord or joist there leaves no way for a hole."""

from __future__ import annotations

from collections.abc import Iterable

from bayrun.framing.bays import obstacle_heights, obstacle_plan, rect_to_wall
from bayrun.framing.records import Cover, Member
from bayrun.geometry import TOUCH_IN, Rect
from bayrun.house import Job, Wall

REACH_IN = 6.0
"""A bit that leaves the plate must have this much clear way beyond it [in]. Common practice, no source."""


def _wall_rect(plate: Member) -> Rect:
    return Rect(plate.along[0], plate.across[0], plate.along[1], plate.across[1])


def plate_covers(
    job: Job, walls: dict[str, Wall], members: Iterable[Member], plate: Member, *, over: bool
) -> tuple[Cover, ...]:
    """Members and obstacles within reach over (or under) one plate, in the wall's coordinates.

    Over a top plate counts what stands from the plate's top to ``REACH_IN`` above it; under a bottom
    plate the same below the subfloor. The subfloor panel itself is drilled with the plate.
    """
    wall = walls[plate.host]
    face_z = plate.box.z1 if over else plate.box.z0 - (0.0 if job.level(wall.level).slab else 0.75)
    low_z, high_z = (face_z, face_z + REACH_IN) if over else (face_z - REACH_IN, face_z)
    rect = _wall_rect(plate)
    found: list[Cover] = []
    for m in members:
        if m.host == plate.host or m.role == "barrier":
            continue
        if (
            m.box.z0 < high_z - TOUCH_IN
            and m.box.z1 > low_z + TOUCH_IN
            and m.box.plan.overlaps(plate.box.plan)
        ):
            here = rect_to_wall(wall, m.box.plan)
            if here.overlaps(rect):
                found.append(Cover(m.id, here))
    for obstacle in job.obstacles:
        plan = obstacle_plan(obstacle)
        if plan is None or not plan.overlaps(plate.box.plan):
            continue
        for z0, z1 in obstacle_heights(job, obstacle):
            if z0 < high_z - TOUCH_IN and z1 > low_z + TOUCH_IN:
                found.append(Cover(obstacle.id, rect_to_wall(wall, plan)))
    return tuple(sorted(found, key=lambda c: (c.rect.u0, c.rect.v0, c.member)))
