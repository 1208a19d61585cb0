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
    return (*findings, *_given_up(case))


def _given_up(case: Case) -> tuple[Finding, ...]:
    """One finding for each plate with ways the plan gave up: every place, what lies there, what works."""
    by_plate: dict[str, list[tuple[float, str, str]]] = {}
    for plate_id, along_in, barred, works in case.wiring.blocked_plates:
        by_plate.setdefault(plate_id, []).append((along_in, barred, works))
    findings = []
    for plate_id, ways in by_plate.items():
        ways.sort()
        plate = case.members.get(plate_id)
        place = plate_id if plate is None else place_of_member(case.job, plate, ways[0][0])
        way = "over" if plate is None or plate.role == "top plate" else "under"
        told = "; ".join(
            f"at {found(along_in)} {member_words(case, barred)} lies {way} it, "
            + (f"what works: {works}" if works else "nothing in this bay works, use the next bay")
            for along_in, barred, works in ways
        )
        severity = Severity.NOTE if all(works for _, _, works in ways) else Severity.FIX_SOON
        about = (plate_id, *dict.fromkeys(barred for _, barred, _ in ways))
        says = f"No way through this plate where it was wanted: {told}."
        source = case.adopted.clause("way-through").source
        findings.append(Finding(SLUG, severity, about, place, says, ways[0][0], source=source))
    return tuple(findings)
