"""Conduits and sleeves: their holes are judged by the outside diameter, and as any hole in the wall."""

from __future__ import annotations

import itertools
import math
import re

from bayrun.findings import Finding, Severity
from bayrun.geometry import below
from bayrun.house import Conduit, wall_name
from bayrun.limits import Piece
from bayrun.rules.case import Case
from bayrun.rules.judge import judge
from bayrun.rules.words import found

HOLE, WALL, SIZE, BENDS = "conduit-hole", "conduit-wall", "conduit-size", "conduit-bends"
TOUCH_DEG = 1e-6
TRADE_SIZES = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2")
OUTSIDE_IN = {
    # Flexible plastic tube: from memory, the outside diameters of plastic pipe.
    "flexible": dict(zip(TRADE_SIZES, (0.840, 1.050, 1.315, 1.660, 1.900, 2.375), strict=True)),
    # Thin rigid metal tube: engineeringtoolbox.com/amp/conduit-size-d_1738.html, confirmed.
    "metal": dict(zip(TRADE_SIZES, (0.706, 0.922, 1.163, 1.510, 1.740, 2.197), strict=True)),
}


def outside_in(size: str) -> float | None:
    """Least outside diameter that a size in words can have; None where the words are not known [in]."""
    match = re.match(r"\s*(\d+(?:-\d+/\d+)?|\d+/\d+)(?:\s*in\b|\"|\s|$)", size)
    if match is None or match[1] not in TRADE_SIZES:
        return None
    kind = "flexible" if "flex" in size.lower() or "ENT" in size else "metal"
    return OUTSIDE_IN[kind][match[1]]


def check_hole(case: Case) -> tuple[Finding, ...]:
    """The hole of a conduit is at least its outside diameter. Source: arithmetic."""
    clause = case.adopted.clause("conduit-hole")
    findings = []
    for conduit in case.job.conduits:
        if conduit.hole_in is None or not below(conduit.hole_in, conduit.outside_diameter_in):
            continue
        says = (
            f"{conduit.id} ({conduit.size}) is {found(conduit.outside_diameter_in)} outside and its hole "
            f"{found(conduit.hole_in)}: it does not go through."
        )
        findings.append(
            Finding(
                HOLE, Severity.STOP, (conduit.id,), _place(conduit), says, conduit.hole_in,
                conduit.outside_diameter_in, source=clause.source,
            )
        )  # fmt: skip
    return tuple(findings)


def check_size(case: Case) -> tuple[Finding, ...]:
    """An outside diameter under the tube's trade size in the tables: it was taken for the trade size."""
    clause = case.adopted.clause("conduit-hole")
    findings = []
    for conduit in case.job.conduits:
        least_in = outside_in(conduit.size)
        if least_in is None or not below(conduit.outside_diameter_in, least_in):
            continue
        says = (
            f"{conduit.id} is called {conduit.size} with {found(conduit.outside_diameter_in)} outside; such "
            f"tube is {found(least_in)} or more. Measure it before its holes are drilled."
        )
        findings.append(
            Finding(
                SIZE, Severity.FIX_SOON, (conduit.id,), _place(conduit), says,
                conduit.outside_diameter_in, least_in, source=clause.source,
            )
        )  # fmt: skip
    return tuple(findings)


def check_wall(case: Case) -> tuple[Finding, ...]:
    """A conduit level through the studs of a wall keeps their limits, in the middle. Source: IRC R602.6."""
    findings = []
    for conduit in case.job.conduits:
        wall = case.walls.get(conduit.in_wall or "")
        hole_in = conduit.hole_in or conduit.outside_diameter_in
        if wall is None or conduit.hole_height_in is None or not wall.framed or wall.steel:
            continue
        piece = Piece(
            "sawn", "stud", wall.thickness_in, bearing=wall.counts_as_bearing, exterior=wall.exterior
        )
        for breach in judge(piece, hole_in, wall.thickness_in / 2, case.adopted):
            findings.append(
                Finding(
                    WALL,
                    breach.severity,
                    (conduit.id, breach.rule),
                    _place(conduit),
                    f"The holes of {conduit.id} in {wall_name(wall)}: {breach.says}",
                    breach.measured_in,
                    breach.limit_in,
                    source=breach.source,
                )
            )
    return tuple(findings)


def bends_deg(conduit: Conduit) -> float:
    """All turns of a conduit's way together [degrees]."""
    points = [p for i, p in enumerate(conduit.path) if not i or math.dist(p, conduit.path[i - 1]) > 1e-6]
    pieces = list(itertools.pairwise(points))
    total = 0.0
    for (a, b), (_, c) in itertools.pairwise(pieces):
        u, v = [q - p for p, q in zip(a, b, strict=True)], [q - p for p, q in zip(b, c, strict=True)]
        share = sum(p * q for p, q in zip(u, v, strict=True)) / (math.dist(a, b) * math.dist(b, c))
        total += math.degrees(math.acos(min(1.0, max(-1.0, share))))
    return total


def check_bends(case: Case) -> tuple[Finding, ...]:
    """Bends between pull points: 360 degrees at most, 180 as advice; a way nobody drew is told, never passed.

    Source: NEC 362.26 (from memory: verify); the advice is common practice.
    """
    clause = case.adopted.clause("conduit-bends")
    most, advised = float(clause.value("most_deg")), float(clause.value("advised_deg"))
    findings = []
    for conduit in case.job.conduits:
        if len(conduit.path) < 2:
            continue
        bends = bends_deg(conduit)
        if bends > most + TOUCH_DEG:
            says = (
                f"{conduit.id} turns {bends:.0f} degrees between pull points; {most:.0f} at most: add a box."
            )
            severity, limit = Severity.STOP, most
        elif bends > advised + TOUCH_DEG:
            says = (
                f"{conduit.id} turns {bends:.0f} degrees between pull points; past {advised:.0f} it is hard."
            )
            severity, limit = Severity.FIX_SOON, advised
        else:
            continue
        about, place = (conduit.id,), _place(conduit)
        findings.append(Finding(BENDS, severity, about, place, says, bends, limit, "degrees", clause.source))
    unknown = [conduit.id for conduit in case.job.conduits if len(conduit.path) < 2]
    if unknown:
        says = (
            f"Nobody drew the way of {', '.join(unknown)}: count the bends before they are set; at most "
            f"{most:.0f} degrees between pull points, {advised:.0f} as advice."
        )
        findings.append(Finding(BENDS, Severity.NOTE, tuple(unknown), "conduits", says, source=clause.source))
    return tuple(findings)


def _place(conduit: Conduit) -> str:
    return f"conduit {conduit.id}, {conduit.from_place} to {conduit.to_place}"
