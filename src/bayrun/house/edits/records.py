"""What every edit shares: the refusal, how far an edit is honored, and one way to keep a choice."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from bayrun.findings import Fix
from bayrun.house.job import Choice, Job


class Refused(ValueError):
    """An edit that cannot be done; the message says why, in words for the person who asked."""


@dataclass(frozen=True, slots=True)
class Signed:
    """Who decided, when and why; empty where the edit does not need it."""

    by: str = ""
    date: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Verb:
    """One edit.

    Args:
        name: As a fix names it.
        takes: What its arguments are, in order, for a message.
        honored: True where the next plan of the edited job is different because of it. False: it is kept
            in the job as a choice and shown, and routing does not follow it yet; the finding stays.
        says: One line on what it does.
        run: From a job, a fix and who signed to the edited job.
    """

    name: str
    takes: tuple[str, ...]
    honored: bool
    says: str
    run: Callable[[Job, Fix, Signed], Job]


def keep(job: Job, kind: str, about: str, value: str, signed: Signed) -> Job:
    """The job with one choice more; an older choice of the same kind about the same thing gives way."""
    made = Choice(kind, about, value, signed.by, signed.date, signed.reason)
    others = tuple(c for c in job.choices if (c.kind, c.about) != (kind, about))
    return replace(job, choices=(*others, made))


def text_of(fix: Fix, index: int) -> str:
    """One argument that must be a word; refused where it is missing or a number."""
    value = fix.arguments[index] if index < len(fix.arguments) else None
    if not isinstance(value, str) or not value.strip():
        raise Refused(f"{fix.verb}: argument {index + 1}: expected a word, got {_got(value)}")
    return value


def number_of(fix: Fix, index: int) -> float:
    """One argument that must be a length; refused where it is missing or not a finite number [in]."""
    value = fix.arguments[index] if index < len(fix.arguments) else None
    if isinstance(value, str) or value is None or not abs(value) < 1e6:  # a nan is not below it either
        raise Refused(f"{fix.verb}: argument {index + 1}: expected a number of inches, got {_got(value)}")
    return float(value)


def _got(value: object) -> str:
    return "nothing" if value is None else repr(value)
