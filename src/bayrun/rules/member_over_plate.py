"""What lies over or under a plate in the bit's way: a chord, joist, rim or duct leaves no hole there."""

from __future__ import annotations

from bayrun.findings import Finding, Severity
from bayrun.rules.case import Case
from bayrun.rules.cures import clear_of_covers, covered_by, member_words
from bayrun.rules.words import found, place_of_hole, place_of_member

SLUG = "member-over-plate"


def check(case: Case) -> tuple[Finding, ...]:
    """Planned holes that run into something (stop), and ways the plan had to give up (note).

    Source: common practice; what is hit is judged by its own clause.
    """
    source = case.adopted.clause("way-through").source
    findings = []
    for hole, member in case.drilled():
        barred = covered_by(case, hole, member)
        if not barred:
            continue
        way = "over" if member.role == "top plate" else "under"
        says = (
            f"Hole {hole.id} runs into {member_words(case, barred)} {way} the plate: check above and below "
            "first; there is no clear way here."
        )
        findings.append(
            Finding(
                SLUG,
                Severity.STOP,
                (hole.id, member.id, barred),
                place_of_hole(case.job, hole, member),
                says,
                hole.across_in,
                source=source,
                fixes=clear_of_covers(case, hole, member),
            )
        )
    for plate_id, along_in, barred, works in case.wiring.blocked_plates:
        plate = case.members.get(plate_id)
        place = plate_id if plate is None else place_of_member(case.job, plate)
        way = "over" if plate is None or plate.role == "top plate" else "under"
        answer = f"What works: {works}." if works else "Nothing in this bay works: use the next bay."
        says = (
            f"No way through the plate at {found(along_in)} from the wall's start: "
            f"{member_words(case, barred)} lies {way} it. {answer}"
        )
        findings.append(
            Finding(
                SLUG,
                Severity.NOTE if works else Severity.FIX_SOON,
                (plate_id, f"{along_in:.4f}", barred),
                f"{place}, {found(along_in)} from the wall's start",
                says,
                along_in,
                source=source,
            )
        )
    return tuple(findings)
