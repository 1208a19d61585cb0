"""Plates, straps and seals that a person asked for beyond what the counting finds needed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from bayrun.framing.records import Frame
from bayrun.house import Job
from bayrun.house.hole_choices import ChoiceError, Spot, spot_of
from bayrun.takeoff.plates import chain_of, mark, plate_size, through_in
from bayrun.takeoff.seals import FIREBLOCK
from bayrun.takeoff.words import face_name, hole_place, walls_of
from bayrun.wiring import Hole, NailPlate, Seal, Strap, Wiring

SAME_IN = 0.0625
"""A hole nearer than this to the spot a choice names is that hole [in]."""
WHY = "by your choice"


def hole_at(holes: Sequence[Hole], spot: Spot) -> Hole | None:
    """The hole of a plan at a spot of its member, or None."""
    for hole in holes:
        at_in = hole.up_in if hole.axis == "along" else hole.along_in
        if spot.member in (hole.member, *hole.plies) and not abs(at_in - spot.at_in) > SAME_IN:
            return hole
    return None


def _asked(job: Job, kind: str) -> list[tuple[Spot, str, str]]:
    """(spot, what follows it in ``about``, value) of each choice of a kind that can be read."""
    found = []
    for choice in job.choices:
        if choice.kind != kind:
            continue
        about, face = choice.about, ""
        if kind == "nail plate":
            about, _, face = choice.about.rpartition("/")
        try:
            found.append((spot_of(about), face, choice.value))
        except ChoiceError:
            continue  # told by the plan as not followed
    return found


def with_added_plates(
    job: Job, frame: Frame, wiring: Wiring, plates: tuple[NailPlate, ...]
) -> tuple[NailPlate, ...]:
    """The plates with those a person asked for, each once."""
    walls, members = walls_of(job), {m.id: m for m in frame.members}
    have = {(p.hole, p.side) for p in plates}
    more = []
    for spot, side, _ in _asked(job, "nail plate"):
        hole = hole_at(wiring.holes, spot)
        if hole is None or (hole.id, side) in have:
            continue
        have.add((hole.id, side))
        chain = chain_of(members, hole)
        wall = None if hole.axis == "across" else walls.get(hole.wall) or walls.get(chain[0].host)
        width_in, length_in, pieces = plate_size(through_in(chain, hole), hole.diameter_in)
        number = 1 if side in ("left", "top") else 2
        more.append(
            NailPlate(
                id=f"{mark('P', hole.id)}-{number}",
                hole=hole.id,
                member=hole.member,
                side=side,
                face=face_name(wall, side, hole.along_in),
                length_in=length_in,
                reason=WHY,
                width_in=width_in,
                pieces=pieces,
            )
        )
    return (*plates, *more)


def with_added_straps(job: Job, wiring: Wiring, straps: tuple[Strap, ...]) -> tuple[Strap, ...]:
    """The straps with those a person asked for; the longer of two over one hole stays."""
    found = list(straps)
    for spot, _, value in _asked(job, "strap"):
        hole = hole_at(wiring.holes, spot)
        length = re.match(r"(\d+(?:\.\d+)?) in", value)
        if hole is None or length is None:
            continue
        length_in = float(length[1])
        known = next((i for i, s in enumerate(found) if s.hole == hole.id), None)
        if known is None:
            found.append(Strap(mark("ST", hole.id), hole.id, hole.member, length_in, WHY))
        else:
            longer_in = max(found[known].length_in, length_in)
            found[known] = replace(found[known], length_in=longer_in)
    return tuple(found)


def with_added_seals(job: Job, frame: Frame, wiring: Wiring, seals: tuple[Seal, ...]) -> tuple[Seal, ...]:
    """The seals with those a person asked for, each hole once."""
    members = {m.id: m for m in frame.members}
    have = {s.hole for s in seals if s.hole}
    more = []
    for spot, _, _ in _asked(job, "seal"):
        hole = hole_at(wiring.holes, spot)
        if hole is None or hole.id in have:
            continue
        have.add(hole.id)
        place = hole_place(job, members[hole.member], hole)
        material = job.facts.fireblock_material or FIREBLOCK
        more.append(Seal(mark("F", hole.id), hole.id, place, WHY, material))
    return (*seals, *more)
