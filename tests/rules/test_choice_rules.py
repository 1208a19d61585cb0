"""Choices the plan could not follow are findings."""

from __future__ import annotations

from benches import JOB

from bayrun.findings import Severity
from bayrun.framing import Frame
from bayrun.rules.case import lay_open
from bayrun.rules.choices_told import check
from bayrun.wiring import ChoiceTold, Wiring


def test_only_what_was_not_followed_is_told() -> None:
    why = "hole at 40\" in the stud at 5' of wall W1: not followed, because no run passes there now"
    told = (
        ChoiceTold("bit", "W1/stud-1@40", "not followed", (), why),
        ChoiceTold("move hole", "W1/stud-2@40", "by your choice", ("H1",), "H1: by your choice"),
        ChoiceTold("move hole", "W1/stud-3@40", "already so", ("H2",), "H2: already so"),
    )
    case = lay_open(JOB, Frame((), ()), Wiring((), (), choices=told))
    (finding,) = check(case)
    assert finding.rule == "choice-not-followed"
    assert finding.severity is Severity.FIX_SOON
    assert finding.about == ("bit", "W1/stud-1@40")
    assert finding.place == "hole at 40\" in the stud at 5' of wall W1"
    assert finding.says == f"{why}."
