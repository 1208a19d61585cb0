"""The totals of a plan, for the cover and the result line."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal

from bayrun.findings import Finding, Severity
from bayrun.house import Job
from bayrun.takeoff.records import Takeoff, Totals
from bayrun.takeoff.words import natural
from bayrun.wiring import Wiring


def totals(job: Job, wiring: Wiring, counted: Takeoff, findings: Sequence[Finding] = ()) -> Totals:
    """Count what a plan holds.

    Args:
        findings: All findings shown with the plan; only their severities are counted here.
    Returns:
        Totals; feet are those of the planned lengths, not of what is cut off the box.
    """
    feet: dict[str, float] = {}
    for run in wiring.runs:
        feet[run.kind] = feet.get(run.kind, 0.0) + run.length_in / 12
    by_kind = tuple((kind, feet[kind]) for kind in sorted(feet, key=natural))
    severities = Counter(finding.severity for finding in findings)
    drilled = sum(1 for hole in wiring.holes if not hole.open_passage)
    return Totals(
        locations=len(job.locations),
        runs=len(wiring.runs),
        unreached=len(wiring.unreached),
        feet_by_kind=by_kind,
        feet=sum(length for _, length in by_kind),
        holes=drilled,
        open_passages=len(wiring.holes) - drilled,
        plates=sum(plate.pieces for plate in counted.plates),
        straps=len(counted.straps),
        grommets=len(counted.grommets),
        supports=sum(support.count for support in counted.supports),
        seals=len(counted.seals),
        pulls=len(counted.pulls),
        boxes=len(counted.boxes),
        stops=severities[Severity.STOP],
        fix_soon=severities[Severity.FIX_SOON],
        notes=severities[Severity.NOTE],
        cannot_tell=severities[Severity.CANNOT_TELL],
        price=sum((line.price for line in counted.material if line.price is not None), Decimal("0.00")),
        unpriced=sum(1 for line in counted.material if line.price is None),
        currency=job.practice.currency,
    )
