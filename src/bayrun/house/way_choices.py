"""What people decided about where cables may go: places never drilled, and the bay a location is fed by.

::

    - {kind: never place, about: A-W26, value: along 40 in to 56 in}
    - {kind: never place, about: A-W26/stud-5, value: ""}
    - {kind: leave by,    about: A04,   value: bay at 62 in}

A place is never drilled along a stretch of a wall, or in the whole of a wall, floor frame or member.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from bayrun.house.hole_choices import ChoiceError
from bayrun.house.job import Choice, Job

NEVER, LEAVE = "never place", "leave by"
_NUMBER = r"(-?\d+(?:\.\d+)?)"
_STRETCH = re.compile(rf"along {_NUMBER} in to {_NUMBER} in")
_BAY = re.compile(rf"bay at {_NUMBER} in")


@dataclass(frozen=True, slots=True)
class NeverPlace:
    """Where no hole is planned.

    Args:
        about: Wall, floor frame or member.
        from_in, to_in: Stretch along it; None both for the whole [in].
    """

    about: str
    from_in: float | None = None
    to_in: float | None = None


@dataclass(frozen=True, slots=True)
class LeaveBy:
    """The bay of its wall by whose plate a location is fed: the one that holds this offset [in]."""

    location: str
    along_in: float


def never_place(choice: Choice) -> NeverPlace:
    """One choice read.

    Raises:
        ChoiceError: It cannot be read.
    """
    text = choice.value.strip()
    if not text:
        return NeverPlace(choice.about)
    found = _STRETCH.fullmatch(text)
    if found is None or float(found[1]) > float(found[2]):
        expected = "“along 40 in to 56 in” or nothing for the whole"
        raise ChoiceError(f"never place {choice.about}: expected {expected}, got {text!r}")
    return NeverPlace(choice.about, float(found[1]), float(found[2]))


def leave_by(choice: Choice) -> LeaveBy:
    """One choice read.

    Raises:
        ChoiceError: It cannot be read.
    """
    found = _BAY.fullmatch(choice.value.strip())
    if found is None:
        raise ChoiceError(f"leave by {choice.about}: expected “bay at 62 in”, got {choice.value!r}")
    return LeaveBy(choice.about, float(found[1]))


def of_kind(job: Job, kind: str) -> tuple[Choice, ...]:
    """The job's choices of one kind, in its order."""
    return tuple(c for c in job.choices if c.kind == kind)
