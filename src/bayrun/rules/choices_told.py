"""Choices about holes and ways that the plan could not follow: told, never dropped in silence."""

from __future__ import annotations

from bayrun.findings import Finding, Severity, Source
from bayrun.rules.case import Case

SLUG = "choice-not-followed"


def check(case: Case) -> tuple[Finding, ...]:
    """One finding for each choice of the job that does not stand in the plan, with its reason."""
    source = Source("common practice", confirmed="practice")
    return tuple(
        Finding(
            SLUG,
            Severity.FIX_SOON,
            (told.kind, told.about),
            _place(told.says),
            f"{told.says}.",
            source=source,
        )
        for told in case.wiring.choices
        if told.became == "not followed"
    )


def _place(says: str) -> str:
    return says.split(": not followed", 1)[0]
