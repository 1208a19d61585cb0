"""What the store gives back: plain records, times in UTC; and what can go wrong."""

from __future__ import annotations

import datetime
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class JobRow:
    """One job as kept.

    Args:
        id: Made by the store, random.
        version: Counts up with every change, undo and redo among them; an edit names the one it saw.
        step: Number of the step that is current now.
        last_step: Number of the newest step; above ``step`` after an undo.
    """

    id: str
    name: str
    version: int
    step: int
    last_step: int
    made: datetime.datetime
    changed: datetime.datetime

    @property
    def can_undo(self) -> bool:
        """True where there is a step before this one."""
        return self.step > 0

    @property
    def can_redo(self) -> bool:
        """True where a step was taken back."""
        return self.step < self.last_step


@dataclass(frozen=True, slots=True)
class StepRow:
    """One edit: what it did in words, who made it and when; its job file is kept whole."""

    number: int
    says: str
    by: str
    at: datetime.datetime


@dataclass(frozen=True, slots=True)
class RevisionRow:
    """One save that a person named."""

    number: int
    name: str
    by: str
    at: datetime.datetime


class NotKept(LookupError):
    """There is no such job, step or revision; the message says which."""


class Changed(RuntimeError):
    """Somebody else changed the job meanwhile: nothing was written.

    Args:
        job: The job as it is now.
        steps: What was done since the version the caller saw, oldest first; empty where it was taken back.
    """

    def __init__(self, job: JobRow, steps: tuple[StepRow, ...]) -> None:
        """Say what happened, for a person."""
        self.job, self.steps = job, steps
        done = "; ".join(f"{s.by or 'another window'}: {s.says}" for s in steps) or "a step was taken back"
        super().__init__(f"The job was changed meanwhile ({done}). Nothing of yours was written over it.")
