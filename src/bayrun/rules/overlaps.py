"""What the check of a job and the rules of its plan both say: it is told once, by the rule with the fix."""

from __future__ import annotations

from bayrun.findings import Finding

SAME = {
    "location-on-member": ("location-on-member", "location-in-opening"),
    "enclosure-wider-than-bay": ("enclosure-bay-width",),
    "enclosure-too-deep": ("enclosure-depth",),
    "enclosure-past-plates": ("enclosure-height",),
    "conduit-hole-too-small": ("conduit-hole",),
}
"""Slug of ``house.check`` to the rules that say the same about the same thing."""


def each_once(of_job: tuple[Finding, ...], of_rules: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Findings of a job's own check and of the rules, without those of the first that the second also tell.

    A finding of the job stays where the rules tell something milder about the same thing.
    """
    told = {(f.rule, f.about[0]): f.severity.rank for f in reversed(of_rules) if f.about}
    left = []
    for finding in of_job:
        ranks = [told.get((slug, finding.about[0])) for slug in SAME.get(finding.rule, ())]
        if any(rank is not None and rank <= finding.severity.rank for rank in ranks):
            continue
        left.append(finding)
    return (*left, *of_rules)
