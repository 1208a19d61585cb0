"""What every edit shares: the refusal, how far an edit is honored, and one way to keep a choice."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from bayrun.findings import Fix
from bayrun.geometry import near
from bayrun.house.hole_choices import (
    OF_HOLES,
    ChoiceError,
    HoleChoice,
    Spot,
    choice_behind,
    hole_value,
    spot_of,
)
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


def drop(job: Job, kind: str, about: str) -> Job:
    """The job without the choice of a kind about a thing."""
    return replace(job, choices=tuple(c for c in job.choices if (c.kind, c.about) != (kind, about)))


def keep_hole(job: Job, fix: Fix, spot: Spot, signed: Signed, **decided: object) -> Job:
    """The job with one more decision about the hole at a place, joined with what was decided before.

    A decision about a hole that an older one put there is written to that older one: the wood of the first
    plan stays its name.

    Raises:
        Refused: An older choice about holes cannot be read.
    """
    try:
        known = choice_behind(job, spot)
    except ChoiceError as error:
        raise Refused(f"a choice in the job cannot be read: {error}") from None
    if "along_in" not in decided and not near(known.spot.at_in, spot.at_in):
        decided["along_in"] = spot.at_in
    made: HoleChoice = replace(known, **decided)  # type: ignore[arg-type]
    about, reason = str(made.spot), signed.reason or fix.says
    others = tuple(c for c in job.choices if not (c.kind in OF_HOLES and c.about == about))
    new = tuple(
        Choice(kind, about, value, signed.by, signed.date, reason) for kind, value in hole_value(made)
    )
    return replace(job, choices=(*others, *new))


def place_of(fix: Fix, index: int) -> Spot:
    """One argument that must be a place on wood such as ``A-W26/stud-5@44.5``."""
    try:
        return spot_of(text_of(fix, index))
    except ChoiceError as error:
        raise Refused(f"{fix.verb}: argument {index + 1}: {error}") from None


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
