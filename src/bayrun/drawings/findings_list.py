"""Findings as a list sheet: worst first, each with measured, limit, source and what cures it."""

from __future__ import annotations

from collections.abc import Iterable

from bayrun.drawings import cautions
from bayrun.drawings.lists import Column, ListRow, ListSheet
from bayrun.findings import Finding, Severity
from bayrun.units import tape


def findings_sheet(findings: Iterable[Finding]) -> ListSheet:
    """The findings of a plan, worst first.

    Returns:
        One row a finding; with none, one row that says which words were looked for.
    """
    ordered = sorted(findings, key=lambda f: f.order)
    counts = {s: sum(f.severity is s for f in ordered) for s in Severity}
    told = ", ".join(f"{counts[s]} {s.value}" for s in Severity if counts[s])
    rows = tuple(ListRow((f.severity.value, f.place, f.says), _detail(f)) for f in ordered)
    if not rows:
        rows = (
            ListRow(("note", "the whole house", "Nothing was found against the rules that were checked.")),
        )
    return ListSheet(
        "findings",
        f"Findings, worst first: {told or 'none'}",
        (Column("how much", "severity"), Column("where", share=1.0), Column("what", share=2.2)),
        rows,
        note="Stop: unsafe or against the adopted code. Fix soon: poor practice or costly. "
        "Cannot tell: a fact is missing, which is never a pass.",
        caution=cautions.FINDINGS,
        field="answer",
        wide=True,
    )


def _number(value: float, unit: str) -> str:
    return tape(value) if unit == "in" else f"{value:g} {unit}".strip()


def _detail(finding: Finding) -> str:
    parts = []
    if finding.measured is not None:
        parts.append(f"measured {_number(finding.measured, finding.unit)}")
    if finding.limit is not None:
        parts.append(f"limit {_number(finding.limit, finding.unit)}")
    if finding.source is not None:
        parts.append(str(finding.source))
    for fix in finding.fixes[:2]:
        ask = f" (ask the {fix.request_to})" if fix.request_to else ""
        parts.append(f"cure: {fix.says}{ask}")
    return "; ".join(parts)
