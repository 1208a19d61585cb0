"""Runs along a stud: their surface keeps 1-1/4 in from the faces that take nails and screws."""

from __future__ import annotations

import math

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import at_least, at_most, below
from bayrun.house import Wall, wall_name
from bayrun.house.edits.cover_run import STEEL
from bayrun.rules.case import Case
from bayrun.rules.lines import Piece3, pieces_of
from bayrun.rules.words import floor_text, found, level_name
from bayrun.units import tape

SLUG, COVERED = "parallel-setback", "steel-over-run"
ALONG_IN = 6.0
"""A shorter way up or down is the turn into a box. Common practice, no source [in]."""


def check(case: Case) -> tuple[Finding, ...]:
    """Uprights of runs in framed walls, one finding for each run and wall that comes too near a face.

    Binds low voltage in every edition the tables hold, before 2020 as the only part of 300.4 that does.
    Source: NEC 300.4(D).
    """
    clause = case.adopted.clause("parallel-setback")
    least_in = float(clause.value("edge_in"))
    radius_of = {kind.letter: kind.diameter_in / 2 for kind in case.job.practice.cables}
    walls = [wall for wall in case.job.walls if wall.framed]
    worst: dict[tuple[str, str], tuple[float, float]] = {}
    for run in case.wiring.runs:
        radius_in = radius_of.get(run.kind)
        if radius_in is None:
            continue
        for piece in pieces_of(run):
            for wall in walls:
                placed = _in_wall(case, wall, piece)
                if placed is None:
                    continue
                along_in, across_in = placed
                have_in = wall.thickness_in / 2 - abs(across_in) - radius_in
                key = (run.id, wall.id)
                if below(have_in, least_in) and (key not in worst or below(have_in, worst[key][0])):
                    worst[key] = (have_in, along_in)
    findings = []
    for (run_id, wall_id), (have_in, along_in) in sorted(worst.items()):
        wall = case.walls[wall_id]
        radius_in = radius_of[case.runs[run_id].kind]
        could_in = wall.thickness_in / 2 - radius_in
        cure = (
            "Keep it in the middle of the studs."
            if at_least(could_in, least_in)
            else "The wall is too thin for that: steel of 1/16 in covers it on both faces, all the way."
        )
        place = (
            f"{level_name(case.job, wall.level)}, {wall_name(wall, along_in)} at {tape(along_in)} "
            "from the wall's start"
        )
        says = (
            f"Run {run_id} goes along the studs {found(max(have_in, 0.0))} from a face; at least "
            f"{floor_text(least_in)} keeps it clear of nails and screws. {cure}"
        )
        signed = _covered(case, run_id, wall_id)
        if signed:
            says = (
                f"Steel of 1/16 in covers run {run_id} on both faces, all along these studs: it lies "
                f"{found(max(have_in, 0.0))} from a face. Decided by {signed}."
            )
            about = (run_id, wall_id)
            findings.append(Finding(COVERED, Severity.NOTE, about, place, says, source=clause.source))
            continue
        put = f"Cover it with steel of 1/16 in on both faces, all along {wall_name(wall, along_in)}."
        findings.append(
            Finding(
                SLUG,
                Severity.STOP,
                (run_id, wall_id),
                place,
                says,
                have_in,
                least_in,
                source=clause.source,
                fixes=(Fix("cover_run", (run_id, wall_id, "both"), put),),
            )
        )
    return tuple(findings)


def _covered(case: Case, run_id: str, wall_id: str) -> str:
    """Who decided on steel over a run in a wall, or empty where nobody did."""
    about = f"{run_id}@{wall_id}"
    return next((c.by or "the crew" for c in case.added.get(STEEL, ()) if c.about == about), "")


def _in_wall(case: Case, wall: Wall, piece: Piece3) -> tuple[float, float] | None:
    """(along, across) of an upright piece inside a wall's studs, or None [in]."""
    (x, y, z0), (x1, y1, z1) = piece
    low_in, high_in = min(z0, z1), max(z0, z1)
    if below(1e-3, math.hypot(x1 - x, y1 - y)):
        return None
    level = case.job.level(wall.level)
    base_in, top_in = level.subfloor_z_in, level.subfloor_z_in + level.plate_top_in
    if below(min(high_in, top_in) - max(low_in, base_in), ALONG_IN):
        return None
    dx, dy = wall.direction
    rx, ry = x - wall.start[0], y - wall.start[1]
    along_in, across_in = rx * dx + ry * dy, -rx * dy + ry * dx
    inside = at_most(wall.plate_start_in, along_in) and at_most(along_in, wall.plate_end_in)
    return (along_in, across_in) if inside and at_most(abs(across_in), wall.thickness_in / 2) else None
