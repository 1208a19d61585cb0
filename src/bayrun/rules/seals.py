"""Holes that must be closed again: fire-block at plates, garage, draftstop, rated walls, membranes."""

from __future__ import annotations

import math

from bayrun.findings import Finding, Fix, Severity
from bayrun.framing.records import Member
from bayrun.geometry import at_most
from bayrun.house import Barrier, Location, Wall, place_of_location
from bayrun.rules.case import Case
from bayrun.rules.cures import spot_text
from bayrun.rules.words import count_of, place_of_hole
from bayrun.tables import Clause
from bayrun.wiring import Hole

SEAL, MATERIAL, BARRED, BOX = "seal-missing", "fireblock-material", "separation-crossed", "box-seal-missing"


def barrier_of(case: Case, member: Member) -> Barrier | None:
    """The separation a member is a part of, or None."""
    return next((b for b in case.job.barriers if b.id == member.host), None)


def seal_clause(case: Case, hole: Hole, member: Member) -> Clause | None:
    """The clause that asks this hole to be closed, or None where none does.

    Source: IRC R302.11 (plates), R302.5.3 (garage), R302.12 (draftstop), R302.4.1 (rated walls).
    """
    barrier = barrier_of(case, member)
    wall = case.walls.get(member.host)
    if barrier is not None:
        return case.adopted.clause(_slug(barrier.kind))
    if wall is not None and wall.rated:
        return case.adopted.clause("rated-through")
    if wall is not None and "garage" in wall.separation:
        return case.adopted.clause("garage-separation")
    if hole.axis != "up" or member.role not in ("top plate", "bottom plate", "subfloor"):
        return None
    if member.role != "top plate" and _on_slab(case, wall):
        return None
    return case.adopted.clause("fireblock")


def _slug(kind: str) -> str:
    words = kind.lower()
    if "draft" in words:
        return "draftstop"
    if "hour" in words or "rated" in words or "party" in words:
        return "rated-through"
    return "garage-separation" if "garage" in words else "fireblock"


def _on_slab(case: Case, wall: Wall | None) -> bool:
    return wall is not None and case.job.level(wall.level).slab


def check_missing(case: Case) -> tuple[Finding, ...]:
    """Holes that need a seal and have none in the counted plan; silent before the count."""
    if case.seals is None:
        return ()
    have = {seal.hole for seal in case.seals}
    findings = []
    told = set()
    for hole, member in case.drilled():
        clause = seal_clause(case, hole, member)
        if clause is None or hole.id in have or hole.id in told or case.person_added("seal", hole):
            continue
        told.add(hole.id)
        says = f"Hole {hole.id} is not on the seal list. {clause.title}."
        fix = Fix("add_seal", (hole.id, spot_text(hole)), "Add it to the seal list.")
        findings.append(
            Finding(
                SEAL,
                Severity.STOP,
                (hole.id, member.id),
                place_of_hole(case.job, hole, member),
                says,
                source=clause.source,
                fixes=(fix,),
            )
        )
    return tuple(findings)


def box_clause(case: Case, location: Location) -> Clause | None:
    """The clause that asks a box of a planned location to be closed or sealed, or None.

    Source: IRC N1102.4 (outer walls), R302.4.2 (rated walls), R302.5.3 (garage).
    """
    wall = case.walls.get(location.wall or "")
    if location.mount == "exterior":
        return case.adopted.clause("air-seal-box")
    if wall is None or location.mount != "wall":
        return None
    if wall.rated:
        return case.adopted.clause("rated-membrane")
    at_in = location.offset_in or 0.0
    to_garage = any(
        room.kind == "garage" and room.level == wall.level and room.name == piece.room
        for piece in (*wall.left, *wall.right)
        if at_most(piece.from_in, at_in) and at_most(at_in, piece.to_in)
        for room in case.job.rooms
    )
    if "garage" in wall.separation and to_garage:
        return case.adopted.clause("garage-separation")
    return None


def check_boxes(case: Case) -> tuple[Finding, ...]:
    """Boxes of planned locations that break an air barrier or a separation and are not on the seal list."""
    if case.seals is None:
        return ()
    have = {seal.location for seal in case.seals if seal.location}
    planned = {e.id for run in case.wiring.runs for e in (run.from_end, run.to_end) if e.type == "location"}
    findings = []
    for location in case.job.locations:
        clause = box_clause(case, location) if location.id in planned - have else None
        if clause is None:
            continue
        says = f"The box of {location.id} is not on the seal list. {clause.title}."
        place = place_of_location(case.job, location)
        findings.append(Finding(BOX, Severity.STOP, (location.id,), place, says, source=clause.source))
    return tuple(findings)


def check_material(case: Case) -> tuple[Finding, ...]:
    """Nobody said what the inspector takes at fire-blocks, and holes need it. Source: IRC R302.11."""
    if case.job.facts.fireblock_material:
        return ()
    clause = case.adopted.clause("fireblock")
    asked = {
        hole.id
        for hole, member in case.drilled()
        if (found := seal_clause(case, hole, member)) is not None and found.slug == "fireblock"
    }
    if not asked:
        return ()
    says = (
        f"Cannot tell: nobody said what the inspector takes to close {count_of(len(asked), 'hole')} at floor "
        "and ceiling lines. Some refuse foam: ask first."
    )
    return (
        Finding(MATERIAL, Severity.CANNOT_TELL, ("fireblock",), "plate holes", says, source=clause.source),
    )


def check_barred(case: Case) -> tuple[Finding, ...]:
    """Holes through a separation that nothing may pass, or beside its one sleeve. Source: IRC R302.4.1."""
    findings = []
    for hole, member in case.drilled():
        barrier = barrier_of(case, member)
        wall = case.walls.get(member.host)
        party = wall is not None and "party" in (wall.separation or wall.rated or "").lower()
        if barrier is None and not party:
            continue
        if barrier is not None and barrier.needs_seal:
            point = barrier.pass_point
            if point is None or _at_sleeve(hole, point.x_in, point.y_in, point.z_in, point.diameter_in):
                continue
            says = f"Hole {hole.id} goes through the {barrier.kind} beside its sleeve."
            says += f" {barrier.legal_way}" if barrier.legal_way else ""
        else:
            kind = barrier.kind if barrier is not None else f"{wall.rated or wall.separation}" if wall else ""
            says = f"Hole {hole.id} goes through the {kind}: nothing passes there; route around it."
        clause = case.adopted.clause(_slug(barrier.kind) if barrier is not None else "rated-through")
        findings.append(
            Finding(
                BARRED,
                Severity.STOP,
                (hole.id, member.id),
                place_of_hole(case.job, hole, member),
                says,
                source=clause.source,
            )
        )
    return tuple(findings)


def _at_sleeve(hole: Hole, x: float, y: float, z: float, diameter_in: float) -> bool:
    return at_most(math.dist((hole.x, hole.y, hole.z), (x, y, z)), diameter_in)
