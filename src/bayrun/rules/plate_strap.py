"""A bearing or exterior top plate cut by more than half its width takes a steel strap."""

from __future__ import annotations

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import below
from bayrun.limits import strap_for, strap_length_in, strap_over
from bayrun.rules.case import Case
from bayrun.rules.cures import spot_text
from bayrun.rules.words import cap, found, place_of_hole

SLUG = "plate-strap"


def check(case: Case) -> tuple[Finding, ...]:
    """Each top plate that needs a strap: a note, or a stop where the counted plan has none.

    The strap is waived where wood panels cover that whole side of the wall (``Wall.sheathed``).
    Source: IRC R602.6.1 (it speaks of piping and ducts; we hold cables to it too).
    """
    clause = case.adopted.clause("plate-tie")
    have = None if case.straps is None else {strap.hole: strap.length_in for strap in case.straps}
    findings = []
    for hole, member in case.drilled():
        if not strap_for(hole, member, case.adopted, wall=case.walls.get(member.host)):
            continue
        limit_in = float(strap_over(case.piece(member), case.adopted))
        length_in = strap_length_in(hole.diameter_in, case.adopted)
        added = case.person_added("strap", hole)
        lacking = have is not None and hole.id not in have and not added
        short = have is not None and not added and not lacking and below(have[hole.id], length_in)
        says = (
            f"Hole {hole.id} of {found(hole.diameter_in)} cuts more than half of this top plate "
            f'({cap(limit_in)}): one steel strap across it, 0.054" by 1-1/2", at least {found(length_in)} '
            "long, eight 10d nails on each side of the hole"
        )
        if short and have is not None:
            says += f"; the plan's is {found(have[hole.id])}"
        says += "; the plan has none." if lacking else "."
        fixes: tuple[Fix, ...] = ()
        if lacking or short:
            fixes = (
                Fix(
                    "add_strap",
                    (hole.id, length_in, spot_text(hole)),
                    f"Add a strap {found(length_in)} long.",
                ),
            )
        findings.append(
            Finding(
                SLUG,
                Severity.STOP if lacking or short else Severity.NOTE,
                (hole.id, member.id),
                place_of_hole(case.job, hole, member),
                says,
                hole.diameter_in,
                limit_in,
                source=clause.source,
                fixes=fixes,
            )
        )
    return tuple(findings)
