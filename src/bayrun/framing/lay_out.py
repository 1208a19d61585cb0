"""The whole frame of a house from its job."""

from __future__ import annotations

from bayrun.framing.bays import wall_bays
from bayrun.framing.covers import plate_covers
from bayrun.framing.floors import barrier_members, beam_members, frame_members
from bayrun.framing.records import Bay, Frame, Member
from bayrun.framing.walls import WallCarpenter
from bayrun.house import Job


def lay_out(job: Job) -> Frame:
    """Every member and bay of the house, and what lies over and under each plate.

    Ids are stable: studs count from their layout's origin, openings' members carry the opening's id,
    so an added window renames nothing beyond it.

    Returns:
        Members wall by wall, then frames, beams, posts and barriers; bays wall by wall.
    """
    members: list[Member] = []
    for wall in job.walls:
        members += WallCarpenter(job, wall).members()
    for frame in job.frames:
        members += frame_members(job, frame)
    members += beam_members(job)
    members += barrier_members(job)
    by_host: dict[str, list[Member]] = {}
    for m in members:
        by_host.setdefault(m.host, []).append(m)
    bays: list[Bay] = []
    for wall in job.walls:
        bays += wall_bays(job, wall, by_host.get(wall.id, ()))
    walls = {w.id: w for w in job.walls}
    aloft = [m for m in members if m.host not in walls]
    over = tuple(
        (m.id, plate_covers(job, walls, aloft, m, over=True)) for m in members if m.role == "top plate"
    )
    under = tuple(
        (m.id, plate_covers(job, walls, aloft, m, over=False)) for m in members if m.role == "bottom plate"
    )
    return Frame(members=tuple(members), bays=tuple(bays), over=over, under=under)
