"""Members of floor and roof frames, beams and barriers, as boxes in the world.

An open-web truss is its two chords (webs are where the maker put them: cables pass between); a roof
truss is its bottom chord; an I-joist is one member whose web takes factory knockouts only.
"""

from __future__ import annotations

from bayrun.framing.records import Material, Member, Role
from bayrun.geometry import Box, Rect, subtract_all
from bayrun.house import Barrier, FloorFrame, Job

ATTIC_BARRIER_HEIGHT_IN = 96.0
"""How high a barrier between two attics is drawn: to the roof deck, which the job may not give [in]."""


def frame_openings(job: Job, frame: FloorFrame) -> tuple[Rect, ...]:
    """Plan rectangles of the stairs and voids cut into a frame."""
    return tuple(Rect(*o.rect) for o in job.floor_openings if frame.id in o.frames)


def _member(
    frame: FloorFrame,
    name: str,
    role: Role,
    material: Material,
    rect: Rect,
    z: tuple[float, float],
    says: str,
) -> Member:
    along, across = (rect.u0, rect.u1), (rect.v0, rect.v1)
    if frame.direction == "y":
        along, across = across, along
    return Member(
        id=f"{frame.id}/{name}",
        host=frame.id,
        level=frame.above_level or frame.below_level or "",
        role=role,
        material=material,
        along=along,
        up=z,
        across=across,
        box=Box(rect.u0, rect.v0, z[0], rect.u1, rect.v1, z[1]),
        says=says,
    )


def frame_members(job: Job, frame: FloorFrame) -> list[Member]:
    """Every member of one frame, repeated members cut at stairs and voids."""
    openings = frame_openings(job, frame)
    half_in = frame.member_width_in / 2
    z = (frame.z_bottom_in, frame.z_top_in)
    x0, y0, x1, y1 = frame.area
    made: list[Member] = []
    for number, at_in in enumerate(frame.members_in(), start=1):
        whole = (
            Rect(x0, at_in - half_in, x1, at_in + half_in)
            if frame.direction == "x"
            else Rect(at_in - half_in, y0, at_in + half_in, y1)
        )
        pieces = subtract_all(whole, openings)
        for i, rect in enumerate(sorted(pieces, key=lambda r: (r.u0, r.v0))):
            name = f"{number}" if len(pieces) == 1 else f"{number}{'abcdefgh'[i % 8]}"
            made += _repeated(frame, name, rect, z, number)
    for i, edge in enumerate(frame.edge_members, start=1):
        rect = Rect(*edge.rect)
        if frame.kind == "I-joists" and "joist" in edge.name:
            # a doubled joist at a stair edge: its web takes the same knockouts as its neighbors
            made.append(_member(frame, f"edge-{i}", "I-joist", "I-joist", rect, z, edge.name))
            continue
        truss = "truss" in edge.name or "truss" in frame.kind
        material: Material = "truss" if truss else "engineered"
        made.append(_member(frame, f"edge-{i}", "edge member", material, rect, z, edge.name))
    return made


def _repeated(frame: FloorFrame, name: str, rect: Rect, z: tuple[float, float], number: int) -> list[Member]:
    if frame.kind == "open-web floor trusses":
        chord_in = frame.chord_depth_in or 1.5
        says = f"floor truss {number}"
        return [
            _member(
                frame, f"{name}-bottom", "floor truss chord", "truss", rect, (z[0], z[0] + chord_in), says
            ),
            _member(frame, f"{name}-top", "floor truss chord", "truss", rect, (z[1] - chord_in, z[1]), says),
        ]
    if "truss" in frame.kind:
        return [_member(frame, name, "roof truss chord", "truss", rect, z, f"roof truss {number}")]
    if frame.kind == "I-joists":
        return [_member(frame, name, "I-joist", "I-joist", rect, z, f"I-joist {number}")]
    role: Role = "rafter" if "rafter" in frame.kind else "joist"
    return [_member(frame, name, role, "wood", rect, z, f"{role} {number}")]


def beam_members(job: Job) -> list[Member]:
    """Beams: flush ones at the depth of their frames, dropped ones by their own heights."""
    made: list[Member] = []
    for beam in job.beams:
        heights = (
            [beam.z_in]
            if beam.z_in
            else [(f.z_bottom_in, f.z_top_in) for f in job.frames if f.id in beam.in_frames]
        )
        for i, z in enumerate(heights):
            rect = Rect(*beam.rect)
            along, across = (rect.u0, rect.u1), (rect.v0, rect.v1)
            if rect.height > rect.width:
                along, across = across, along
            suffix = "" if len(heights) == 1 else f"-{i + 1}"
            made.append(
                Member(
                    id=f"{beam.id}{suffix}",
                    host=beam.id,
                    level="",
                    role="beam",
                    material="engineered",
                    along=along,
                    up=z,
                    across=across,
                    box=Box(rect.u0, rect.v0, z[0], rect.u1, rect.v1, z[1]),
                    says=beam.what,
                )
            )
    return made


def barrier_heights(job: Job, barrier: Barrier) -> tuple[tuple[float, float], ...]:
    """World height ranges that a barrier of frames or attics fills."""
    ranges = [(f.z_bottom_in, f.z_top_in) for f in job.frames if f.id in barrier.frames]
    if "attic" in barrier.levels:
        roofs = [f.z_bottom_in for f in job.frames if f.below_level is None]
        if roofs:
            ranges.append((min(roofs), max(roofs) + ATTIC_BARRIER_HEIGHT_IN))
    return tuple(ranges)


def barrier_members(job: Job) -> list[Member]:
    """Boards that part attics or floor spaces, as thin members on their lines."""
    made: list[Member] = []
    for barrier in job.barriers:
        for z in barrier_heights(job, barrier):
            for i, ((x0, y0), (x1, y1)) in enumerate(barrier.lines):
                half_in = barrier.depth_in / 2
                flat = abs(y1 - y0) <= abs(x1 - x0)
                rect = (
                    Rect(min(x0, x1), y0 - half_in, max(x0, x1), y0 + half_in)
                    if flat
                    else Rect(x0 - half_in, min(y0, y1), x0 + half_in, max(y0, y1))
                )
                along, across = (
                    ((rect.u0, rect.u1), (rect.v0, rect.v1))
                    if flat
                    else (
                        (rect.v0, rect.v1),
                        (rect.u0, rect.u1),
                    )
                )
                made.append(
                    Member(
                        id=barrier.id if len(barrier.lines) == 1 else f"{barrier.id}-{i + 1}",
                        host=barrier.id,
                        level="",
                        role="barrier",
                        material="gypsum",
                        along=along,
                        up=z,
                        across=across,
                        box=Box(rect.u0, rect.v0, z[0], rect.u1, rect.v1, z[1]),
                        bearing=False,
                        says=barrier.kind,
                    )
                )
    return made
