"""Nail plates, straps and grommets: what steel every hole asks for."""

from __future__ import annotations

import math

from bayrun.framing.records import Frame, Member
from bayrun.geometry import at_least, at_most, below
from bayrun.house import Job
from bayrun.limits import piece_of, plates_for, strap_length_in, strap_needed
from bayrun.tables import adopt_careful
from bayrun.takeoff.words import face_name, face_words, natural, walls_of
from bayrun.units import tape
from bayrun.wiring import Grommet, Hole, NailPlate, Strap, Wiring

PLATE_SIZES_IN = ((1.5, 2.5), (1.5, 3.0), (1.5, 5.0), (1.5, 9.0))
"""(width, length) of common 1/16 in plates, small to large. Common practice, no source."""


def mark(prefix: str, hole_id: str) -> str:
    """An id that carries its hole's own number: hole H12 gives plate P12.

    Holes are never renumbered, so neither is what belongs to them.
    """
    return prefix + (hole_id[1:] if hole_id[:1] == "H" and hole_id[1:].isdigit() else f"-{hole_id}")


def chain_of(members: dict[str, Member], hole: Hole) -> tuple[Member, ...]:
    """The drilled member and the others the same bit passes."""
    return tuple(members[member_id] for member_id in (hole.member, *hole.plies))


def face_margins(chain: tuple[Member, ...], hole: Hole) -> tuple[tuple[str, float], ...]:
    """Wood left between the hole's edge and each face, least over all plies.

    Args:
        chain: The members the bit passes.
        hole: ``across_in`` counts from the wall's center line, left positive; in a joist from its bottom.
    Returns:
        (``left`` or ``right`` of the wall's direction; for a joist ``top`` or ``bottom``, margin [in]).
    """
    radius_in = hole.diameter_in / 2
    if hole.axis == "across":
        return (
            ("bottom", hole.across_in - radius_in),
            ("top", min(m.up[1] - m.up[0] for m in chain) - hole.across_in - radius_in),
        )
    return (
        ("left", min(m.across[1] for m in chain) - hole.across_in - radius_in),
        ("right", hole.across_in - max(m.across[0] for m in chain) - radius_in),
    )


def through_in(chain: tuple[Member, ...], hole: Hole) -> float:
    """How much wood the bit goes through: the member with all its plies [in]."""
    if hole.axis == "up":
        return sum(m.up[1] - m.up[0] for m in chain)
    if hole.axis == "along":
        return sum(m.along[1] - m.along[0] for m in chain)
    return sum(m.across[1] - m.across[0] for m in chain)


def plate_size(through: float, diameter_in: float) -> tuple[float, float, int]:
    """The smallest plate that covers a hole, either way round; several side by side where none does.

    A plate has to cover the cables, not to reach past the sides of the stud.
    Source: NEC 300.4(A)(1), "long and wide enough to cover the wiring" in our words, confirmed.

    Args:
        through: Wood along the bit [in].
        diameter_in: Of the hole [in].
    Returns:
        (width [in], length [in], pieces).
    """
    for width_in, length_in in PLATE_SIZES_IN:
        for a_in, b_in in ((through, diameter_in), (diameter_in, through)):
            if at_most(a_in, width_in) and at_most(b_in, length_in):
                return width_in, length_in, 1
    width_in = PLATE_SIZES_IN[0][0]
    longer_in, shorter_in = max(through, diameter_in), min(through, diameter_in)
    length_in = next(
        (size[1] for size in PLATE_SIZES_IN if at_least(size[1], longer_in)), PLATE_SIZES_IN[-1][1]
    )
    across = math.ceil(shorter_in / width_in - 1e-6)
    return width_in, length_in, across * math.ceil(longer_in / length_in - 1e-6)


def _drilled(wiring: Wiring) -> list[Hole]:
    return sorted((h for h in wiring.holes if not h.open_passage), key=lambda h: natural(h.id))


def nail_plates(job: Job, frame: Frame, wiring: Wiring) -> tuple[NailPlate, ...]:
    """One plate for each face that a hole comes nearer to than 1-1/4 in, over all plies at once.

    Wood only: steel studs take grommets, and open passages, sleeves and boards take none. Ids carry the
    hole's number: ``P12-1`` on the left of the wall's direction, ``P12-2`` on the right.
    Limits of use: judges bored holes (NEC 300.4(A)(1)); a cable stapled along a stud nearer than 1-1/4 in
    to its face (300.4(D)) is not counted here, because routing keeps cables in the middle of the wall.
    """
    walls, plates = walls_of(job), []
    members = {m.id: m for m in frame.members}
    adopted = adopt_careful(job.practice.editions, job.practice.amendments)
    keep = tape(float(adopted.value("nail-plate", "edge_in")))
    for hole in _drilled(wiring):
        chain = chain_of(members, hole)
        sides = {side for member in chain for side in plates_for(hole, member, adopted)}
        if not sides:
            continue
        wall = None if hole.axis == "across" else walls.get(hole.wall) or walls.get(chain[0].host)
        width_in, length_in, pieces = plate_size(through_in(chain, hole), hole.diameter_in)
        for number, (side, margin_in) in enumerate(face_margins(chain, hole), start=1):
            if side not in sides:
                continue
            face = face_name(wall, side, hole.along_in)
            plates.append(
                NailPlate(
                    id=f"{mark('P', hole.id)}-{number}",
                    hole=hole.id,
                    member=hole.member,
                    side=side,
                    face=face,
                    length_in=length_in,
                    reason=f"edge of the hole {tape(margin_in)} from the {face_words(face)}, under {keep}",
                    width_in=width_in,
                    pieces=pieces,
                )
            )
    return tuple(plates)


def grommets(job: Job, frame: Frame, wiring: Wiring) -> tuple[Grommet, ...]:
    """One grommet for each steel member that a cable passes, factory punched or drilled.

    Source: NEC 300.4(B)(1), confirmed for power cable; kept for all cable as good practice.
    """
    members, found = {m.id: m for m in frame.members}, []
    for hole in sorted(wiring.holes, key=lambda h: natural(h.id)):
        steel = [i for i in (hole.member, *hole.plies) if members[i].material == "steel"]
        for number, member_id in enumerate(steel, start=1):
            found.append(Grommet(f"{mark('G', hole.id)}-{number}", hole.id, member_id, hole.diameter_in))
    return tuple(found)


def straps(job: Job, frame: Frame, wiring: Wiring) -> tuple[Strap, ...]:
    """One strap across each top plate that holes cut by more than half of its width.

    Holes side by side at one place are counted together, and the first of them carries the strap.
    Waived where wood panels cover the whole side of the wall.
    Source: IRC R602.6.1, confirmed; at least 0.054 in thick and 1-1/2 in wide, eight 10d nails on each side.
    """
    walls = walls_of(job)
    members = {m.id: m for m in frame.members}
    adopted = adopt_careful(job.practice.editions, job.practice.amendments)
    tops = [h for h in _drilled(wiring) if h.axis == "up" and members[h.member].role == "top plate"]
    found: list[Strap] = []
    covered: set[str] = set()
    for hole in tops:
        if hole.id in covered:
            continue
        member = members[hole.member]
        beside = [other for other in tops if other.member == hole.member and _same_section(hole, other)]
        cut_in = sum(other.diameter_in for other in beside)
        if not strap_needed(piece_of(member, wall=walls.get(member.host)), cut_in, adopted):
            continue
        covered.update(other.id for other in beside)
        low_in = min(other.along_in - other.diameter_in / 2 for other in beside)
        high_in = max(other.along_in + other.diameter_in / 2 for other in beside)
        share = round(100 * cut_in / member.depth_in)
        found.append(
            Strap(
                id=mark("ST", hole.id),
                hole=hole.id,
                member=member.id,
                length_in=strap_length_in(high_in - low_in, adopted),
                reason=f"top plate cut {tape(cut_in)} of {tape(member.depth_in)} ({share} %), more than half",
            )
        )
    return tuple(found)


def _same_section(a: Hole, b: Hole) -> bool:
    return below(abs(a.along_in - b.along_in), (a.diameter_in + b.diameter_in) / 2)
