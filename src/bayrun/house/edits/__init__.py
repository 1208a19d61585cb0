"""Edits of a job, one verb a file. A fix names a verb; ``apply`` gives the edited job or says why not.

Some edits change the house or its answers and the next plan follows them (``honored``). Those about holes
are kept in the job as choices: routing does not follow them yet, so the finding stays and says so.
"""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits import (
    acknowledge,
    add_nail_plate,
    add_seal,
    add_strap,
    answer,
    ask,
    move_location,
    redrill_hole,
    shift_hole,
    split_hole,
)
from bayrun.house.edits.records import Refused, Signed, Verb
from bayrun.house.job import Job

__all__ = ["VERBS", "Refused", "Signed", "Verb", "apply", "verb_of"]

VERBS: tuple[Verb, ...] = (
    move_location.VERB,
    ask.VERB,
    answer.VERB,
    acknowledge.VERB,
    redrill_hole.VERB,
    shift_hole.VERB,
    split_hole.VERB,
    add_nail_plate.VERB,
    add_strap.VERB,
    add_seal.VERB,
)


def verb_of(name: str) -> Verb:
    """The edit of this name.

    Raises:
        Refused: There is none; the known ones are named.
    """
    for verb in VERBS:
        if verb.name == name:
            return verb
    raise Refused(f"no edit is called {name!r}: expected one of {', '.join(v.name for v in VERBS)}")


def apply(job: Job, fix: Fix, *, by: str = "", date: str = "", reason: str = "") -> Job:
    """The job after one edit; the job given is never changed.

    Args:
        job: To edit.
        fix: What to do: a finding's own fix, or one a person made.
        by, date, reason: Who decided, when, why; answers and acknowledgments are refused without a name.
    Raises:
        Refused: It cannot be done; the message says why.
    """
    verb = verb_of(fix.verb)
    if len(fix.arguments) != len(verb.takes):
        raise Refused(
            f"{fix.verb}: expected {len(verb.takes)} arguments ({', '.join(verb.takes)}), "
            f"got {len(fix.arguments)}"
        )
    return verb.run(job, fix, Signed(by, date, reason))
