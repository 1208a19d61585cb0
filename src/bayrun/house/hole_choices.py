"""What people decided about holes, notches and ways, read out of a job's choices into one record each.

A hole's id belongs to one plan, so a choice names the wood instead: ``A-W26/stud-5@44.5`` is the hole that
the plan had 44-1/2 in along that member (up a stud, along a plate, along a joist). The text of the value is
the same in the job file and in an edit::

    - {kind: bit,        about: A-W26/stud-5@44.5, value: 1 in}
    - {kind: move hole,  about: A-W26/stud-5@44.5, value: "across -0.25 in, along 46 in"}
    - {kind: split hole, about: A-W26/stud-5@44.5, value: 2 of 1 in every 3 in across 0 in from -1.5 in}
    - {kind: notch,      about: A-W26/stud-5@44.5, value: 0.5 in deep 1 in long on the left}
    - {kind: pin run,    about: A04-D1, value: "A-W26/top@62; F1/3@40"}
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from bayrun.geometry import near
from bayrun.house.job import Choice, Job

BIT, MOVE, SPLIT, NOTCH, PIN = "bit", "move hole", "split hole", "notch", "pin run"
OF_HOLES = (BIT, MOVE, SPLIT)
_NUMBER = r"(-?\d+(?:\.\d+)?(?:e-?\d+)?)"
_BIT = re.compile(rf"{_NUMBER} in")
_ACROSS = re.compile(rf"across {_NUMBER} in")
_ALONG = re.compile(rf"along {_NUMBER} in")
_SPLIT = re.compile(
    rf"(\d+) of {_NUMBER} in every {_NUMBER} in(?: across {_NUMBER} in)?(?: from {_NUMBER} in)?"
)
_NOTCH = re.compile(rf"{_NUMBER} in deep {_NUMBER} in long on the (left|right|top|bottom)")


class ChoiceError(ValueError):
    """A choice whose text cannot be read; the message says what was expected and what stands there."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on wood that outlives every hole id.

    Args:
        member: Member drilled, e.g. ``A-W26/stud-5``.
        at_in: Up a stud above the subfloor, along a plate from the wall's start, along a joist [in].
    """

    member: str
    at_in: float

    def __str__(self) -> str:
        return f"{self.member}@{self.at_in:.10g}"


@dataclass(frozen=True, slots=True)
class HoleChoice:
    """Everything decided about one hole of the plan; what is None the plan decides by itself.

    Args:
        spot: Where the plan had the hole when it was decided.
        bit_in: Bit to use [in].
        across_in: Center across the member, in the coordinate of ``wiring.Hole.across_in`` [in].
        along_in: Center along the member, in the coordinate of ``spot.at_in`` [in].
        count: How many holes instead of one.
        first_in, step_in: The first of several from ``spot.at_in``, and from each to the next [in].
    """

    spot: Spot
    bit_in: float | None = None
    across_in: float | None = None
    along_in: float | None = None
    count: int = 1
    first_in: float = 0.0
    step_in: float = 0.0

    def places_in(self) -> tuple[float, ...]:
        """Where along the member the hole or holes go [in]."""
        at_in = self.spot.at_in if self.along_in is None else self.along_in
        if self.count == 1:
            return (at_in,)
        return tuple(at_in + self.first_in + i * self.step_in for i in range(self.count))


@dataclass(frozen=True, slots=True)
class Notch:
    """A notch somebody wants to cut or found cut: rules judge it, the plan keeps holes out of its section.

    Args:
        spot: Its middle along the member.
        depth_in, length_in: Into the wood and along the member [in].
        face: ``left`` or ``right`` in the wall's direction; ``top`` or ``bottom`` of a joist.
    """

    spot: Spot
    depth_in: float
    length_in: float
    face: str


@dataclass(frozen=True, slots=True)
class PinnedRun:
    """A run that must pass some places, in this order from its ``from_end``."""

    run: str
    spots: tuple[Spot, ...]


def spot_of(about: str) -> Spot:
    """``A-W26/stud-5@44.5`` as a place.

    Raises:
        ChoiceError: It is no place.
    """
    member, sign, at = about.strip().rpartition("@")
    if not sign or not member or not re.fullmatch(_NUMBER, at.strip()):
        raise ChoiceError(f"expected a member and inches along it such as A-W26/stud-5@44.5, got {about!r}")
    return Spot(member, float(at))


def hole_choices(job: Job) -> tuple[HoleChoice, ...]:
    """One record for each hole that somebody decided about, in the order of the choices.

    Raises:
        ChoiceError: A choice cannot be read. ``wrong_choices`` names them without raising.
    """
    made: dict[Spot, HoleChoice] = {}
    for choice in job.choices:
        if choice.kind not in OF_HOLES:
            continue
        spot = spot_of(choice.about)
        made[spot] = _with(made.get(spot, HoleChoice(spot)), choice)
    return tuple(made.values())


def _with(known: HoleChoice, choice: Choice) -> HoleChoice:
    text = choice.value.strip()
    if choice.kind == BIT and (bit := _BIT.fullmatch(text)):
        return replace(known, bit_in=float(bit[1]))
    if choice.kind == SPLIT and (split := _SPLIT.fullmatch(text)):
        return replace(
            known,
            count=int(split[1]),
            bit_in=float(split[2]),
            step_in=float(split[3]),
            across_in=known.across_in if split[4] is None else float(split[4]),
            first_in=0.0 if split[5] is None else float(split[5]),
        )
    if choice.kind == MOVE:
        across, along = _ACROSS.search(text), _ALONG.search(text)
        if across or along:
            return replace(
                known,
                across_in=float(across[1]) if across else known.across_in,
                along_in=float(along[1]) if along else known.along_in,
            )
    raise ChoiceError(f"{choice.kind} {choice.about}: expected {EXPECTED[choice.kind]}, got {choice.value!r}")


EXPECTED = {
    BIT: "a bit such as “1.25 in”",
    MOVE: "“across -0.25 in”, “along 46 in” or both",
    SPLIT: "“2 of 1 in every 3 in across 0 in from -1.5 in”",
    NOTCH: "“0.5 in deep 1 in long on the left” (or right, top, bottom)",
    PIN: "places in order such as “A-W26/top@62; F1/3@40”",
}


def notches(job: Job) -> tuple[Notch, ...]:
    """Every notch somebody decided on or found.

    Raises:
        ChoiceError: A choice cannot be read.
    """
    made = []
    for choice in job.choices:
        if choice.kind != NOTCH:
            continue
        text = _NOTCH.fullmatch(choice.value.strip())
        if text is None:
            raise ChoiceError(f"notch {choice.about}: expected {EXPECTED[NOTCH]}, got {choice.value!r}")
        made.append(Notch(spot_of(choice.about), float(text[1]), float(text[2]), text[3]))
    return tuple(made)


def pinned_runs(job: Job) -> tuple[PinnedRun, ...]:
    """Every run somebody pinned to places.

    Raises:
        ChoiceError: A choice cannot be read.
    """
    made = []
    for choice in job.choices:
        if choice.kind == PIN:
            spots = tuple(spot_of(part) for part in choice.value.split(";") if part.strip())
            made.append(PinnedRun(choice.about, spots))
    return tuple(made)


def wrong_choices(job: Job) -> tuple[tuple[Choice, str], ...]:
    """Choices about holes, notches and ways that cannot be read, each with the reason."""
    wrong = []
    for choice in job.choices:
        try:
            alone = replace(job, choices=(choice,))
            hole_choices(alone), notches(alone), pinned_runs(alone)
        except ChoiceError as error:
            wrong.append((choice, str(error)))
    return tuple(wrong)


def hole_value(known: HoleChoice) -> tuple[tuple[str, str], ...]:
    """(kind, value) pairs a record is kept as: what ``hole_choices`` reads back."""
    pairs = []
    if known.count > 1:
        across = "" if known.across_in is None else f" across {known.across_in:.10g} in"
        bit_in = 0.0 if known.bit_in is None else known.bit_in
        bits = f"{known.count} of {bit_in:.10g} in every {known.step_in:.10g} in"
        value = f"{bits}{across} from {known.first_in:.10g} in"
        pairs.append((SPLIT, value))
        if known.along_in is not None:
            pairs.append((MOVE, f"along {known.along_in:.10g} in"))
        return tuple(pairs)
    if known.bit_in is not None:
        pairs.append((BIT, f"{known.bit_in:.10g} in"))
    moved = [] if known.across_in is None else [f"across {known.across_in:.10g} in"]
    moved += [] if known.along_in is None else [f"along {known.along_in:.10g} in"]
    if moved:
        pairs.append((MOVE, ", ".join(moved)))
    return tuple(pairs)


def choice_behind(job: Job, spot: Spot) -> HoleChoice:
    """What is decided about the hole that now stands at a place: the choice that put it there counts."""
    for known in hole_choices(job):
        if known.spot.member == spot.member and any(near(at, spot.at_in) for at in known.places_in()):
            return known
    return HoleChoice(spot)
