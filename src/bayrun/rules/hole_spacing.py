"""Wood between two holes of one member: the code's 2 in joists, the firm's gap elsewhere."""

from __future__ import annotations

import itertools
from dataclasses import replace

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import at_least, at_most, below
from bayrun.limits import clear_between_in, hole_limits
from bayrun.rules.case import Case
from bayrun.rules.cures import is_clean, spot_text
from bayrun.rules.words import found, member_says, place_of_hole
from bayrun.wiring import Hole

JOIST, FIRM = "joist-hole-spacing", "hole-spacing"


def check(case: Case) -> tuple[Finding, ...]:
    """Pairs of neighboring holes too close. Source: IRC R502.8.1 and R802.7.1; firm practice elsewhere."""
    findings = []
    for member_id, holes in case.holes_of.items():
        member = case.members.get(member_id)
        if member is None or member.material != "wood":
            continue
        code_in = float(hole_limits(case.piece(member), case.adopted).gap_min)
        firm_in = case.job.practice.hole_gap_in
        drilled = [h for h in holes if not h.open_passage]
        for a, b in itertools.combinations(drilled, 2):
            clear_in = clear_between_in(a, b)
            if below(0.0, code_in) and below(clear_in, code_in):
                clause, limit_in, rule = hole_limits(case.piece(member), case.adopted).clause, code_in, JOIST
                severity = Severity.STOP
            elif below(clear_in, firm_in):
                clause, limit_in, rule = case.adopted.clause("hole-gap"), firm_in, FIRM
                # Holes that run into each other are one larger hole nobody judged.
                severity = Severity.STOP if below(clear_in, 0.0) else Severity.FIX_SOON
            else:
                continue
            left = f"{found(clear_in)} of wood" if below(0.0, clear_in) else "no wood"
            says = (
                f"Holes {a.id} and {b.id} in {member_says(member)} leave {left} between them; "
                f"at least {found(limit_in)} must stay."
            )
            place = place_of_hole(case.job, a, member)
            fixes = _apart(case, a, b, member_id, limit_in)
            findings.append(
                Finding(
                    rule, severity, (a.id, b.id), place, says, clear_in, limit_in,
                    source=clause.source, fixes=fixes,
                )
            )  # fmt: skip
    return tuple(findings)


def _apart(case: Case, a: Hole, b: Hole, member_id: str, limit_in: float) -> tuple[Fix, ...]:
    """Shift the second hole along the member until the gap stands, where it stays clean."""
    member = case.members[member_id]
    need_in = limit_in + (a.diameter_in + b.diameter_in) / 2
    up = b.axis == "along"
    at_in, low, high = (a.up_in, *member.up) if up else (a.along_in, *member.along)
    now_in = b.up_in if up else b.along_in
    order = (1.0, -1.0) if at_least(now_in, at_in) else (-1.0, 1.0)
    for sign in order:
        to_in = at_in + sign * need_in
        if not (at_least(to_in - b.diameter_in / 2, low) and at_most(to_in + b.diameter_in / 2, high)):
            continue
        moved = replace(b, up_in=to_in) if up else replace(b, along_in=to_in)
        if is_clean(case, moved):
            way = ("up" if sign > 0 else "down") if up else "along"
            says = f"Move {b.id} {way} to {found(need_in)} from {a.id}, center to center."
            return (Fix("shift_hole", (b.id, to_in, spot_text(b)), says),)
    return ()
