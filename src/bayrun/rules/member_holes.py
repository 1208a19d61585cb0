"""Size, edge and "never" of each hole in each member it passes: studs, plates, joists, engineered wood."""

from __future__ import annotations

from bayrun.findings import Finding
from bayrun.rules.case import Case
from bayrun.rules.cures import base_in, face_names, fixes_from, least_hole_in
from bayrun.rules.judge import judge
from bayrun.rules.words import place_of_hole

RULES = (
    "stud-hole-size",
    "stud-hole-edge",
    "plate-hole-edge",
    "joist-hole-size",
    "joist-hole-edge",
    "factory-hole-size",
    "engineered-never",
)


def check(case: Case) -> tuple[Finding, ...]:
    """Every limit that one hole breaks by itself; see ``judge``.

    Source: IRC R602.6, R502.8.1, R802.7.1, R502.8.2, R502.11.3, R802.10.4 by the adopted edition.
    """
    findings = []
    for hole, member in case.drilled():
        breaches = judge(
            case.piece(member),
            hole.diameter_in,
            hole.across_in - base_in(member),
            case.adopted,
            bits_in=case.job.practice.bits_in,
            least_in=least_hole_in(case, hole),
            factory=hole.open_passage,
            faces=face_names(case, hole, member),
        )
        findings += [
            Finding(
                rule=breach.rule,
                severity=breach.severity,
                about=(hole.id, member.id),
                place=place_of_hole(case.job, hole, member),
                says=breach.says,
                measured=breach.measured_in,
                limit=breach.limit_in,
                source=breach.source,
                fixes=fixes_from(case, hole, member, breach.cures) if breach.cures else (),
            )
            for breach in breaches
        ]
    return tuple(findings)
