"""What a job's own check and the rules of its plan both say is told once."""

from __future__ import annotations

import pytest

from bayrun.findings import Finding, Severity
from bayrun.rules.overlaps import SAME, each_once


def said(rule: str, severity: Severity, *about: str) -> Finding:
    """A finding of few words."""
    return Finding(rule, severity, about, "here", "so it is")


@pytest.mark.parametrize("slug", sorted(SAME))
def test_the_same_thing_is_told_once_by_the_rule(slug: str) -> None:
    own = said(slug, Severity.STOP, "A", "W1")
    rule = said(SAME[slug][0], Severity.STOP, "A", "W1/stud-3")
    assert each_once((own,), (rule,)) == (rule,)
    other = said(SAME[slug][0], Severity.STOP, "B", "W1/stud-3")
    assert each_once((own,), (other,)) == (own, other)
    milder = said(SAME[slug][0], Severity.FIX_SOON, "A")
    assert each_once((own,), (milder,)) == (own, milder)
    assert each_once((said("levels-overlap", Severity.STOP, "A"),), (rule,))[0].rule == "levels-overlap"
