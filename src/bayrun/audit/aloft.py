"""What lies in floors and roofs by the job alone: joists, chords, edges, beams, boards."""

from __future__ import annotations

from bayrun.audit.solids import Solid
from bayrun.geometry import Rect, subtract_all
from bayrun.house import Barrier, FloorFrame, Job

TO_DECK_IN = 96.0
"""How high a board between two attics is followed; the job does not give the deck [in]. Our own figure."""


def member_centers_in(frame: FloorFrame) -> list[float]:
    """Centers of the repeated members across their direction [in]."""
    if frame.positions_in:
        return list(frame.positions_in)
    if frame.first_member_in is None or frame.last_member_in is None or not frame.spacing_in:
        return []
    found = []
    at = frame.first_member_in
    while at < frame.last_member_in + 1e-6:
        found.append(at)
        at = frame.first_member_in + len(found) * frame.spacing_in
    return found


def _piece(
    host: str, role: str, material: str, what: str, rect: Rect, z: tuple[float, float], along_x: bool
) -> Solid:
    xs, ys = (rect.u0, rect.u1), (rect.v0, rect.v1)
    return Solid(
        host=host,
        role=role,
        material=material,
        what=what,
        along=xs if along_x else ys,
        up=z,
        across=ys if along_x else xs,
        flat=(rect.u0, rect.v0, rect.u1, rect.v1),
        bearing=role != "barrier",
        anywhere_above=role == "barrier",
    )


def _frame_solids(job: Job, frame: FloorFrame) -> list[Solid]:
    x0, y0, x1, y1 = frame.area
    low, high = frame.z_bottom_in, frame.z_top_in
    half = frame.member_width_in / 2
    voids = [Rect(*o.rect) for o in job.floor_openings if frame.id in o.frames]
    along_x = frame.direction == "x"
    open_web = frame.kind == "open-web floor trusses"
    found: list[Solid] = []
    for number, at in enumerate(member_centers_in(frame), start=1):
        strip = Rect(x0, at - half, x1, at + half) if along_x else Rect(at - half, y0, at + half, y1)
        for rect in subtract_all(strip, voids):
            if open_web:
                chord = frame.chord_depth_in or 1.5
                name = f"chord of floor truss {number}"
                for z in ((low, low + chord), (high - chord, high)):
                    found.append(_piece(frame.id, "floor truss chord", "truss", name, rect, z, along_x))
            elif "truss" in frame.kind:
                name = f"roof truss {number}"
                found.append(_piece(frame.id, "roof truss chord", "truss", name, rect, (low, high), along_x))
            elif frame.kind == "I-joists":
                name = f"I-joist {number}"
                found.append(_piece(frame.id, "I-joist", "I-joist", name, rect, (low, high), along_x))
            else:
                role = "rafter" if "rafter" in frame.kind else "joist"
                found.append(_piece(frame.id, role, "wood", f"{role} {number}", rect, (low, high), along_x))
    for edge in frame.edge_members:
        role, material = "edge member", "engineered"
        if frame.kind == "I-joists" and "joist" in edge.name:
            role = material = "I-joist"
        elif "truss" in edge.name or "truss" in frame.kind:
            material = "truss"
        found.append(_piece(frame.id, role, material, edge.name, Rect(*edge.rect), (low, high), along_x))
    return found


def barrier_heights(job: Job, barrier: Barrier) -> list[tuple[float, float]]:
    """World height ranges of a separation in floors and attics [in]."""
    ranges = [(f.z_bottom_in, f.z_top_in) for f in job.frames if f.id in barrier.frames]
    roofs = [f.z_bottom_in for f in job.frames if f.below_level is None]
    if "attic" in barrier.levels and roofs:
        ranges.append((min(roofs), min(roofs) + TO_DECK_IN))
    return ranges


def aloft_solids(job: Job) -> list[Solid]:
    """Every member of frames, beams and boards."""
    found: list[Solid] = []
    for frame in job.frames:
        found += _frame_solids(job, frame)
    for beam in job.beams:
        own = [(f.z_bottom_in, f.z_top_in) for f in job.frames if f.id in beam.in_frames]
        rect = Rect(*beam.rect)
        for z in [beam.z_in] if beam.z_in else own:
            long_x = not rect.height > rect.width
            found.append(_piece(beam.id, "beam", "engineered", beam.what, rect, (z[0], z[1]), long_x))
    for barrier in job.barriers:
        half = barrier.depth_in / 2
        for z in barrier_heights(job, barrier):
            for (ax, ay), (bx, by) in barrier.lines:
                flat = abs(by - ay) <= abs(bx - ax)
                rect = (
                    Rect(min(ax, bx), ay - half, max(ax, bx), ay + half)
                    if flat
                    else Rect(ax - half, min(ay, by), ax + half, max(ay, by))
                )
                found.append(_piece(barrier.id, "barrier", "gypsum", barrier.kind, rect, z, flat))
    return found
