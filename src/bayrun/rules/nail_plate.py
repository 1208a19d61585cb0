"""Steel over cables near a face: a plate for each face whose wood is under 1-1/4 in."""

from __future__ import annotations

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import below
from bayrun.limits import margins_of, plates_for
from bayrun.rules.case import Case
from bayrun.rules.cures import spot_text
from bayrun.rules.words import faces_of, found, place_of_hole

SLUG, SMALL = "nail-plate", "nail-plate-small"


def check(case: Case) -> tuple[Finding, ...]:
    """Faces that need a nail plate and have none in the counted plan; silent before the count.

    Source: NEC 300.4(A)(1). Where the adopted edition does not bind low voltage it is our practice: fix soon.
    """
    if case.plates is None:
        return ()
    clause = case.adopted.clause(SLUG)
    keep_in = float(clause.value("edge_in"))
    binds = bool(clause.value("binds_low_voltage"))
    have = {(plate.hole, plate.side) for plate in case.plates}
    findings = []
    for hole in case.wiring.holes:
        member = case.members.get(hole.member)
        if member is None:
            continue
        lacking = tuple(
            face
            for face in plates_for(hole, member, case.adopted)
            if (hole.id, face) not in have and not case.person_added("nail plate", hole, face)
        )
        if not lacking:
            continue
        right_in, left_in = margins_of(hole, member)
        least_in = min(left_in if face in ("left", "top") else right_in for face in lacking)
        where = faces_of(case.job, hole, member, lacking)
        says = (
            f"Hole {hole.id} needs a steel nail plate on {where}: its edge is {found(least_in)} from the "
            f"face, under {found(keep_in)}, and the plan has none."
        )
        if not binds:
            says += f" NEC {clause.edition} does not bind low voltage here; it is our practice."
        plates = "a plate" if len(lacking) == 1 else "plates"
        fix = Fix(
            "add_nail_plate", (hole.id, " ".join(lacking), spot_text(hole)), f"Add {plates} on {where}."
        )
        findings.append(
            Finding(
                SLUG,
                Severity.STOP if binds else Severity.FIX_SOON,
                (hole.id, member.id),
                place_of_hole(case.job, hole, member),
                says,
                least_in,
                keep_in,
                source=clause.source,
                fixes=(fix,),
            )
        )
    return tuple(findings)


def check_size(case: Case) -> tuple[Finding, ...]:
    """Counted plates that do not cover their hole.

    Source: NEC 300.4(A)(1): long and wide enough to cover the wiring.
    """
    clause = case.adopted.clause(SLUG)
    holes = {hole.id: hole for hole in case.wiring.holes}
    findings = []
    for plate in case.plates or ():
        hole = holes.get(plate.hole)
        member = case.members.get(hole.member) if hole is not None else None
        if hole is None or member is None:
            continue
        # A plate lies along the stud with its length; set side by side, plates add up across it.
        reach_in = max(plate.length_in, plate.width_in * plate.pieces)
        if not below(reach_in, hole.diameter_in) or case.person_added("nail plate", hole, plate.side):
            continue
        where = faces_of(case.job, hole, member, (plate.side,))
        says = (
            f"The plate on {where} of hole {hole.id} covers {found(reach_in)} of its "
            f"{found(hole.diameter_in)}: take a longer one."
        )
        add = f"Put a plate of {found(hole.diameter_in)} or longer on {where}."
        fix = Fix("add_nail_plate", (hole.id, plate.side, spot_text(hole)), add)
        place, about = place_of_hole(case.job, hole, member), (hole.id, plate.side)
        findings.append(
            Finding(
                SMALL, Severity.STOP, about, place, says, reach_in, hole.diameter_in, source=clause.source,
                fixes=(fix,),
            )
        )  # fmt: skip
    return tuple(findings)
