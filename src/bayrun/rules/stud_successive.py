"""Doubled bearing studs bored over 40 %: not more than two in a row."""

from __future__ import annotations

from bayrun.findings import Finding, Fix, Severity
from bayrun.framing.records import Member
from bayrun.geometry import below
from bayrun.limits import largest_hole_in
from bayrun.rules.case import Case
from bayrun.rules.cures import least_hole_in, redrill
from bayrun.rules.words import found, place_of_hole
from bayrun.wiring import Hole

SLUG = "stud-successive-doubled"


def check(case: Case) -> tuple[Finding, ...]:
    """The third and later successive doubled stud bored over the single stud's limit. Source: IRC R602.6."""
    clause = case.adopted.clause("stud-bore")
    allowed = int(clause.value("successive_doubled"))
    findings = []
    for wall in case.job.walls:
        studs = sorted(
            (m for m in case.frame.members if m.host == wall.id and case.piece(m).role == "stud"),
            key=lambda m: (m.along[0], m.id),
        )
        in_row = 0
        for stud in studs:
            wide = _wide(case, stud)
            in_row = in_row + 1 if wide else 0
            if in_row <= allowed:
                continue
            for hole in wide:
                limit_in = largest_hole_in(case.piece(stud).but(doubled=False), case.adopted) or 0.0
                bits = [b for b in case.job.practice.bits_in if not below(limit_in, b)]
                fixes: list[Fix] = []
                for bit in sorted(bits, reverse=True)[:1]:
                    if not below(bit, least_hole_in(case, hole)):
                        says = f"Use the {found(bit)} bit in this stud."
                        fixes += redrill(case, hole, bit, hole.across_in, says)
                says = (
                    f"This is doubled stud number {in_row} in a row bored over 40 % "
                    f"({found(hole.diameter_in)}); not more than {allowed} in a row are allowed."
                )
                findings.append(
                    Finding(
                        SLUG,
                        Severity.STOP,
                        (hole.id, stud.id),
                        place_of_hole(case.job, hole, stud),
                        says,
                        float(in_row),
                        float(allowed),
                        "studs",
                        clause.source,
                        tuple(fixes),
                    )
                )
    return tuple(findings)


def _wide(case: Case, stud: Member) -> tuple[Hole, ...]:
    """Holes of a doubled bearing stud that a single one would not take."""
    piece = case.piece(stud)
    if not (piece.doubled and piece.loaded and piece.kind == "sawn"):
        return ()
    limit_in = largest_hole_in(piece.but(doubled=False), case.adopted) or 0.0
    return tuple(h for h in case.holes_of.get(stud.id, ()) if below(limit_in, h.diameter_in))
