"""Cables in a hole: the firm's share of its area, never over 60 %, and circles that truly fit."""

from __future__ import annotations

import itertools
import math

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import at_least, at_most, below
from bayrun.rules.case import Case
from bayrun.rules.cures import least_hole_in, occupant_diameters, redrill, split_hole
from bayrun.rules.words import found, percent, place_of_hole
from bayrun.wiring import Hole

FILL, PACKING = "hole-fill", "hole-packing"
LOOSE_IN = 1e-4
"""Packed circles come from a numeric search: they may touch this much too deep [in]."""


def check(case: Case) -> tuple[Finding, ...]:
    """Holes too full, or with cables that do not fit. Source: firm practice; no code fills a bored hole."""
    clause = case.adopted.clause("fill")
    never = float(clause.value("never_over"))
    firm = case.job.practice.fill_max
    findings = []
    for hole in case.wiring.holes:
        member = case.members.get(hole.member)
        sizes = occupant_diameters(case, hole)
        place = place_of_hole(case.job, hole, member)
        if len(sizes) != len(hole.occupants):
            says = f"Cannot tell: hole {hole.id} holds a cable whose diameter the firm's table does not give."
            findings.append(
                Finding(FILL, Severity.CANNOT_TELL, (hole.id,), place, says, source=clause.source)
            )
            continue
        share = sum(d * d for d in sizes) / (hole.diameter_in * hole.diameter_in)
        if below(firm, share):
            stop = below(never, share)
            says = (
                f"Hole {hole.id} of {found(hole.diameter_in)} is {percent(share)} full with "
                f"{len(sizes)} cables; "
                + (
                    f"over {percent(never)} nobody pulls it."
                    if stop
                    else f"the firm's limit is {percent(firm)}."
                )
            )
            fixes = _bigger(case, hole)
            fixes += split_hole(case, hole, member) if member is not None else ()
            findings.append(
                Finding(
                    FILL,
                    Severity.STOP if stop else Severity.FIX_SOON,
                    (hole.id,),
                    place,
                    says,
                    share,
                    never if stop else firm,
                    "of the area",
                    clause.source,
                    fixes,
                )
            )
        findings += _packing(case, hole, sizes, place)
    return tuple(findings)


def _bigger(case: Case, hole: Hole) -> tuple[Fix, ...]:
    """The smallest bit on the truck that is enough, where that hole is clean."""
    if hole.open_passage:
        return ()
    enough_in = least_hole_in(case, hole)
    for bit in sorted(case.job.practice.bits_in):
        if at_least(bit, enough_in) and below(hole.diameter_in, bit):
            fix = redrill(case, hole, bit, hole.across_in, f"Use the {found(bit)} bit.")
            if fix:
                return fix
    return ()


def _packing(case: Case, hole: Hole, sizes: tuple[float, ...], place: str) -> list[Finding]:
    source = case.adopted.clause("fill").source
    about = (hole.id,)
    if len(hole.circles) != len(hole.occupants):
        says = (
            f"Cannot tell: hole {hole.id} holds {len(hole.occupants)} cables and shows "
            f"{len(hole.circles)} of them packed."
        )
        return [Finding(PACKING, Severity.CANNOT_TELL, about, place, says, source=source)]
    radius_in = hole.diameter_in / 2
    worst_in = 0.0
    for circle, diameter in zip(hole.circles, sizes, strict=True):
        worst_in = max(worst_in, math.hypot(circle.x, circle.y) + diameter / 2 - radius_in)
    pairs = itertools.combinations(zip(hole.circles, sizes, strict=True), 2)
    for (a, size_a), (b, size_b) in pairs:
        apart_in = math.hypot(a.x - b.x, a.y - b.y)
        worst_in = max(worst_in, (size_a + size_b) / 2 - apart_in)
    if at_most(worst_in, LOOSE_IN):
        return []
    says = f"The cables of hole {hole.id} do not fit side by side: they overlap by {worst_in:.3f} in."
    return [Finding(PACKING, Severity.STOP, about, place, says, worst_in, 0.0, source=source)]
