"""Choices the plan could not follow, and done work that no longer agrees with the job, are findings."""

from __future__ import annotations

from benches import JOB

from bayrun.findings import Severity
from bayrun.framing import Frame
from bayrun.rules import done_told
from bayrun.rules.case import lay_open
from bayrun.rules.choices_told import check
from bayrun.wiring import ChoiceTold, DoneTold, Wiring


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


def test_done_work_that_differs_is_told() -> None:
    told = (DoneTold("A01", "A01 in Laundry", "the box of A01 is set 2' off"),)
    (finding,) = done_told.check(lay_open(JOB, Frame((), ()), Wiring((), (), done_told=told)))
    assert finding.rule == "done-work-differs"
    assert (finding.about, finding.place) == (("A01",), "A01 in Laundry")
    assert finding.says == "the box of A01 is set 2' off."
