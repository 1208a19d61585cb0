"""Finding, Fix, Severity, Source: what is wrong, where, against which limit, and what cures it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding matters to the job."""

    STOP = "stop"
    """Unsafe, or against the adopted code."""
    FIX_SOON = "fix soon"
    """Poor practice or costly."""
    NOTE = "note"
    CANNOT_TELL = "cannot tell"
    """A fact is missing: never a pass."""

    @property
    def rank(self) -> int:
        """0 for the worst, so that lists sort worst first."""
        order = (Severity.STOP, Severity.FIX_SOON, Severity.CANNOT_TELL, Severity.NOTE)
        return order.index(self)


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure stands in print.

    Args:
        document: ``IRC``, ``NEC``, ``common practice`` …
        edition: Year as text, empty where there is none.
        clause: Section or table number.
        confirmed: ``confirmed`` (a page that states the figure was read), ``from memory``, ``practice``.
    """

    document: str
    edition: str = ""
    clause: str = ""
    confirmed: str = "from memory"

    def __str__(self) -> str:
        text = " ".join(part for part in (self.document, self.edition, self.clause) if part)
        if self.confirmed == "practice":
            return f"{text} (no source)" if self.document == "common practice" else text
        return text if self.confirmed == "confirmed" else f"{text} (from memory: verify)"


@dataclass(frozen=True, slots=True)
class Fix:
    """An edit that cures a finding; the verb resolves in house/edits.

    Args:
        verb: Name of the edit, e.g. ``move_hole``.
        arguments: What the edit takes, in order.
        says: One sentence for the button: what will change.
        request_to: Trade that must answer first (``framer``, ``engineer``, ``electrician``), or empty.
            Such a fix never closes its finding until the answer is recorded.
    """

    verb: str
    arguments: tuple[str | float, ...]
    says: str
    request_to: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a person should know about the plan.

    Args:
        rule: Slug of the rule, e.g. ``stud-hole-size``.
        severity: How much it matters.
        about: Ids of what it speaks of (member, hole, run, location …), stable between runs.
        place: Where, in words of the trade: room, wall by its rooms, distance, height.
        says: The whole finding in one or two sentences a person on a ladder can act on.
        measured: What was found, in ``unit``; None where it is not a number.
        limit: What is allowed, in ``unit``.
        unit: ``in`` unless said.
        source: Where the limit stands in print.
        fixes: Edits that cure it.
    """

    rule: str
    severity: Severity
    about: tuple[str, ...]
    place: str
    says: str
    measured: float | None = None
    limit: float | None = None
    unit: str = "in"
    source: Source | None = None
    fixes: tuple[Fix, ...] = ()

    @property
    def id(self) -> str:
        """Stable name: the rule and what it speaks of."""
        return f"{self.rule}:{'+'.join(self.about)}"

    @property
    def order(self) -> tuple[int, str, tuple[str, ...]]:
        """Sort key: worst first, then by rule and place."""
        return self.severity.rank, self.rule, self.about
