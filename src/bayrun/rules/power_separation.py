"""Runs along power cables nearer than the firm's distance: advice, with what the code really asks."""

from __future__ import annotations

import itertools

from bayrun.findings import Finding, Severity
from bayrun.geometry import below
from bayrun.house import Obstacle
from bayrun.rules.case import Case
from bayrun.rules.lines import angle_deg, near_stretch, pieces_of
from bayrun.rules.words import count_of, found
from bayrun.units import tape

SLUG = "power-separation"
SQUARE_DEG = 45.0
"""From here a crossing counts as square, not as going along. Common practice, no source [degrees]."""


def check(case: Case) -> tuple[Finding, ...]:
    """One note for each power run that some of our runs go along, nearer than the firm wants.

    Not a code rule: beside a sheathed power cable, or one in a raceway, the code asks no distance at all;
    beside bare conductors 2 in. Square crossings are left out.
    Source: firm practice; NEC 800.133(A)(2) with its exception (805.133 from 2020).
    """
    clause, law = case.adopted.clause("power-separation"), case.adopted.clause("power-open-run")
    want_in, least_in = case.job.practice.power_separation_in, float(clause.value("least_stretch_in"))
    findings = []
    for power in case.job.obstacles:
        if not power.is_power_run:
            continue
        told = _along(case, power, want_in, least_in)
        if not told:
            continue
        longest, (stretch_in, _) = max(told.items(), key=lambda item: (item[1][0], item[0]))
        nearest_in = min(gap for _, gap in told.values())
        says = (
            f"{count_of(len(told), 'run')} go{'es' if len(told) == 1 else ''} along the {power.kind} nearer "
            f"than the firm's {found(want_in)}: {longest} for {tape(stretch_in)}, as near as "
            f"{tape(nearest_in)}. "
            "Advice against noise, no code rule: beside sheathed or piped power the code asks nothing, "
            f"beside bare conductors {found(float(law.value('gap_in')))} ({law.source})."
        )
        findings.append(
            Finding(
                SLUG,
                Severity.NOTE,
                (power.id,),
                f"{power.kind} {power.id}",
                says,
                nearest_in,
                want_in,
                source=clause.source,
            )
        )
    return tuple(findings)


def _along(case: Case, power: Obstacle, want_in: float, least_in: float) -> dict[str, tuple[float, float]]:
    """Run to (stretch along the power run, least distance) where the stretch is worth telling [in]."""
    told = {}
    for run in case.wiring.runs:
        total_in, gap_in = 0.0, float("inf")
        for piece in pieces_of(run):
            for other in itertools.pairwise(power.path):
                if angle_deg(piece, other) >= SQUARE_DEG:
                    continue
                found_here = near_stretch(piece, other, want_in)
                if found_here is not None:
                    total_in += found_here[0]
                    gap_in = min(gap_in, found_here[1])
        if below(least_in, total_in):
            told[run.id] = (total_in, gap_in)
    return told
