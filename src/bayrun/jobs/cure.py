"""Fixes put into a job: which are asked for, what they change, what is gone, what remains, what opens."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches

from bayrun.findings import Finding, Fix, Severity
from bayrun.house import Job
from bayrun.house.edits import Refused, Signed, apply, verb_of
from bayrun.jobs.plan import Plan, Progress, plan
from bayrun.tables import Amendment


class CureError(ValueError):
    """A fix that cannot be found or done; the message says what there is instead."""


@dataclass(frozen=True, slots=True)
class Asked:
    """``RULE``, ``RULE:ID`` or ``RULE:ID#2``: which findings, and which of their fixes.

    Args:
        number: From 1; 0 takes the first fix that needs no trade's answer.
    """

    rule: str
    about: str = ""
    number: int = 0

    def __str__(self) -> str:
        number = f"#{self.number}" if self.number else ""
        return f"{self.rule}{':' if self.about else ''}{self.about}{number}"


@dataclass(frozen=True, slots=True)
class Step:
    """One fix that was applied, and the finding it was offered by (None for an answer a person gave)."""

    finding: Finding | None
    fix: Fix


@dataclass(frozen=True, slots=True)
class Cured:
    """A job before and after some fixes, both planned.

    Args:
        gone: Findings the fixes were offered by that the new plan no longer has.
        remains: Those it still has, each with the reason in words.
        opened: Findings the old plan did not have: stops first.
        closed: Other findings the new plan no longer has.
    """

    before: Plan
    after: Plan
    steps: tuple[Step, ...]
    gone: tuple[Finding, ...]
    remains: tuple[tuple[Finding, str], ...]
    opened: tuple[Finding, ...]
    closed: tuple[Finding, ...]


def asked_of(text: str) -> Asked:
    """What ``RULE[:ID][#N]`` asks.

    Raises:
        CureError: It is not written so.
    """
    match = re.fullmatch(r"\s*([a-z][a-z0-9-]*)(?::([^#]+))?(?:#(\d{1,3}))?\s*", text)
    if match is None or match[3] == "0":
        raise CureError(f"expected RULE or RULE:ID such as location-on-member:A08, got {text!r}")
    return Asked(match[1], (match[2] or "").strip(), int(match[3] or 0))


def with_amendments(job: Job, amendments: tuple[Amendment, ...]) -> Job:
    """The job with local amendments in force; one about the same figure takes the place of the job's own."""
    if not amendments:
        return job
    given = {(a.clause, a.name, a.edition) for a in amendments}
    own = tuple(a for a in job.practice.amendments if (a.clause, a.name, a.edition) not in given)
    return replace(job, practice=replace(job.practice, amendments=(*own, *amendments)))


def answer_of(text: str) -> Fix:
    """``ABOUT=VALUE`` as the edit that writes a trade's answer down.

    Raises:
        CureError: It is not written so.
    """
    about, sign, value = text.partition("=")
    if not sign or not about.strip() or not value.strip():
        raise CureError(f"expected ABOUT=ANSWER such as A-W26/stud-5=doubled, got {text!r}")
    return Fix("answer", (about.strip(), value.strip()), f"{about.strip()}: {value.strip()}.")


def cure(
    job: Job,
    asked: Sequence[Asked],
    answers: Sequence[Fix] = (),
    signed: Signed | None = None,
    progress: Progress | None = None,
) -> Cured:
    """Apply fixes one after the other, each on the plan that the one before gave, and plan again.

    Args:
        job: To edit.
        asked: Which fixes, in order.
        answers: Answers of trades, written down before any fix.
        signed: Who decided, when, why.
        progress: Told of each plan as it begins.
    Raises:
        CureError: A fix cannot be found or done. Nothing is half applied.
        ModelError: The house contradicts itself.
    """
    signed = signed or Signed()
    first = made = plan(job, progress)
    steps: list[Step] = []
    for fix in answers:
        job = _applied(job, fix, signed)
        steps.append(Step(None, fix))
    if answers:
        made = plan(job, progress, made.wiring)
    for one in asked:
        for finding in _meant(one, made):
            fix = _chosen(one, finding)
            job = _applied(job, fix, signed)
            steps.append(Step(finding, fix))
        made = plan(job, progress, made.wiring)
    return _compared(first, made, tuple(steps))


def _applied(job: Job, fix: Fix, signed: Signed) -> Job:
    try:
        return apply(job, fix, by=signed.by, date=signed.date, reason=signed.reason)
    except Refused as error:
        raise CureError(str(error)) from None


def _meant(asked: Asked, made: Plan) -> tuple[Finding, ...]:
    """The findings an ``--apply`` speaks of."""
    of_rule = [f for f in made.findings if f.rule == asked.rule]
    if not of_rule:
        known = sorted({f.rule for f in made.findings if f.fixes})
        near = get_close_matches(asked.rule, known, 1)
        hint = f" Did you mean {near[0]!r}?" if near else ""
        offers = (
            f" Rules that offer a fix here: {', '.join(known)}." if known else " No finding offers a fix."
        )
        raise CureError(f"the plan has no finding {asked.rule!r}.{hint}{offers}")
    meant = [f for f in of_rule if not asked.about or asked.about in (_rest(f), *f.about)]
    if not meant:
        known = [_rest(f) for f in of_rule]
        raise CureError(f"{asked.rule} has no finding about {asked.about!r}: expected {', '.join(known)}")
    offering = tuple(f for f in meant if f.fixes)
    if not offering:
        raise CureError(f"{asked.rule} offers no fix here: {meant[0].place}: {meant[0].says}")
    return offering


def _rest(finding: Finding) -> str:
    return finding.id.partition(":")[2]


def _chosen(asked: Asked, finding: Finding) -> Fix:
    """The fix asked for by number, else the first that needs no trade's answer, else the first."""
    if asked.number:
        if asked.number > len(finding.fixes):
            told = "; ".join(f"{i} {fix.says}" for i, fix in enumerate(finding.fixes, 1))
            raise CureError(f"{finding.id} has no fix {asked.number}: expected one of: {told}")
        return finding.fixes[asked.number - 1]
    return next((fix for fix in finding.fixes if not fix.request_to), finding.fixes[0])


def _compared(before: Plan, after: Plan, steps: tuple[Step, ...]) -> Cured:
    now = {f.id: f for f in after.findings}
    then = {f.id for f in before.findings}
    gone: list[Finding] = []
    remains: list[tuple[Finding, str]] = []
    for step in steps:
        if step.finding is None:
            continue
        still = now.get(step.finding.id)
        if still is None:
            gone.append(step.finding)
        elif step.fix.request_to:
            remains.append((still, f"it stays until the answer of the {step.fix.request_to} is recorded"))
        elif not verb_of(step.fix.verb).honored:
            remains.append((still, "it is written down; nothing in the plan changes by it"))
        else:
            remains.append((still, "the plan still has it"))
    told = {f.id for f in gone}
    return Cured(
        before=before,
        after=after,
        steps=steps,
        gone=tuple(gone),
        remains=tuple(remains),
        opened=tuple(f for f in after.findings if f.id not in then),
        closed=tuple(f for f in before.findings if f.id not in now and f.id not in told),
    )


def opens_stop(cured: Cured) -> bool:
    """True where the fixes open a finding that says stop."""
    return any(f.severity is Severity.STOP for f in cured.opened)
