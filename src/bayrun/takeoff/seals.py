"""Every penetration that has to be closed again: one entry for each hole."""

from __future__ import annotations

from bayrun.framing.records import Frame, Member
from bayrun.house import Barrier, Job, Location, Wall, place_of_location
from bayrun.takeoff.plates import mark
from bayrun.takeoff.words import hole_place, natural, separation_words, walls_of
from bayrun.wiring import Hole, Seal, Wiring

FIREBLOCK = "fireblock sealant or tightly packed mineral wool, as the inspector takes it"
FIRESTOP = "listed firestop system for the rating, by its sheet: ask the inspector first"
DRAFTSTOP = "sealant or packed mineral wool that keeps the draftstop whole"
EXTERIOR = "gasketed box and exterior-grade sealant, air tight"
BOX_IN_SEPARATION = "closed box, joint and cable entry sealed with fireblock sealant"
SLEEVE = "mineral wool packed in the sleeve and sealed at both ends, so that a cable can be added"


def seals(job: Job, frame: Frame, wiring: Wiring) -> tuple[Seal, ...]:
    """What has to be sealed, where, with what class of material; one per hole or box.

    Holes through plates between levels, to an attic, a crawl space or a basement; through separations,
    draftstops and membranes; sleeves; boxes in the outer skin or in a separation.
    Source: IRC R302.11 item 4 (plate holes), R302.5.3 (garage), R302.4.1 (rated walls), N1102.4.1.1 (air
    seal); the material class is the inspector's choice (R302.11.1). Fireblocking is not firestopping.
    """
    walls = walls_of(job)
    members = {m.id: m for m in frame.members}
    barriers = {b.id: b for b in job.barriers}
    found = []
    for hole in sorted(wiring.holes, key=lambda h: natural(h.id)):
        chain = [members[i] for i in (hole.member, *hole.plies)]
        told = _assembly(job, hole, chain, walls, barriers)
        if told:
            place = hole_place(job, chain[0], hole)
            found.append(Seal(mark("F", hole.id), hole.id, place, told[0], told[1]))
    planned = {end.id for run in wiring.runs for end in (run.from_end, run.to_end) if end.type == "location"}
    for location in sorted(job.locations, key=lambda one: natural(one.id)):
        told = _box_assembly(job, location, walls) if location.id in planned else None
        if told:
            place = place_of_location(job, location)
            found.append(Seal(f"F-{location.id}", "", place, told[0], told[1], location.id))
    return tuple(found)


def _assembly(
    job: Job, hole: Hole, chain: list[Member], walls: dict[str, Wall], barriers: dict[str, Barrier]
) -> tuple[str, str] | None:
    for member in chain:
        if member.role == "barrier":
            barrier = barriers.get(member.host)
            kind = barrier.kind if barrier else member.says or "separation"
            return _barrier_class(kind, barrier)
    if hole.axis != "up":
        return None
    plate = next((m for m in chain if m.role in ("top plate", "bottom plate", "subfloor")), None)
    if plate is None:
        return None
    wall = walls.get(hole.wall) or walls.get(plate.host)
    what = f"{plate.role} to the {_beyond(job, hole, plate)}"
    if wall is not None and wall.rated:
        return f"rated wall ({wall.rated}), {what}", FIRESTOP
    parts = separation_words(job, wall, hole.along_in) if wall is not None else ""
    if parts:
        return f"{parts}, {what}", job.facts.fireblock_material or FIREBLOCK
    return what, job.facts.fireblock_material or FIREBLOCK


def _barrier_class(kind: str, barrier: Barrier | None) -> tuple[str, str]:
    words = kind.lower()
    if "hour" in words or "rated" in words or "party" in words:
        return kind, FIRESTOP
    if barrier is not None and barrier.pass_point is not None:
        return f"{kind}, sleeve {barrier.pass_point.id}", SLEEVE
    return kind, DRAFTSTOP if "draft" in words else FIREBLOCK


def _beyond(job: Job, hole: Hole, plate: Member) -> str:
    """What lies on the other side of a plate: ``floor space under level 2``, ``attic``, ``basement`` …"""
    up = plate.role == "top plate"
    for frame in job.frames:
        if not frame.rect.holds(hole.x, hole.y):
            continue
        if up and frame.above_level == plate.level:
            if frame.below_level is None:
                return "attic" if "roof" in frame.kind or "ceiling" in frame.kind else "roof space"
            return f"floor space under level {frame.below_level}"
        if not up and frame.below_level == plate.level:
            return f"floor space over level {frame.above_level}" if frame.above_level else "crawl space"
    return "attic" if up else "space below"


def _box_assembly(job: Job, location: Location, walls: dict[str, Wall]) -> tuple[str, str] | None:
    wall = walls.get(location.wall or "")
    if location.mount == "exterior":
        return "outer wall, air barrier", EXTERIOR
    if location.mount in ("wall", "contact") and wall is not None:
        what = "box opening" if location.mount == "wall" else "contact hole"
        if wall.rated:
            return f"rated wall ({wall.rated}), {what}", FIRESTOP
        parts = separation_words(job, wall, location.offset_in)
        if parts:
            return f"{parts}, {what}", BOX_IN_SEPARATION if location.mount == "wall" else FIREBLOCK
    if location.mount == "ceiling":
        for barrier in job.barriers:
            membrane = not barrier.lines and location.level in barrier.levels and not barrier.frames
            if membrane and ("garage" not in barrier.kind.lower() or _garage(job, location)):
                return f"{barrier.kind}, box opening", BOX_IN_SEPARATION
    return None


def _garage(job: Job, location: Location) -> bool:
    return any(
        room.name == location.room and room.level == location.level and room.kind == "garage"
        for room in job.rooms
    )
