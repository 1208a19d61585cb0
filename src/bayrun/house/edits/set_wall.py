"""One framing fact of a wall, or of several at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from bayrun.findings import Fix
from bayrun.geometry import at_most
from bayrun.house.building import Layout, Wall
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.edits.reshaping import find_wall, settled
from bayrun.house.edits.wall_kinds import KINDS, kind_of
from bayrun.house.job import Job
from bayrun.units import LengthError, parse_length

_YES_NO = {"yes": True, "no": False}


def _kind(wall: Wall, value: str) -> Wall:
    core, thickness_in, exterior = kind_of(value)
    return replace(wall, core=core, thickness_in=thickness_in, exterior=exterior)


def _bearing(wall: Wall, value: str) -> Wall:
    answers = {**_YES_NO, "nobody said": None}
    if value not in answers:
        raise Refused(f"bearing: expected yes, no or nobody said, got {value!r}")
    return replace(wall, bearing=answers[value])


def _spacing(wall: Wall, value: str) -> Wall:
    length_in = _length("spacing", value)
    if at_most(length_in, 3.0) or length_in > 48:
        raise Refused(f'spacing: expected studs 3" to 48" on center, got {value}')
    return replace(wall, spacing_in=length_in)


def _first(wall: Wall, value: str) -> Wall:
    if wall.layout is None:
        raise Refused(f"wall {wall.id} has no studs")
    return replace(wall, layout=replace(wall.layout, first_mark_in=_length("first mark", value)))


def _origin(wall: Wall, value: str) -> Wall:
    if value not in ("start", "end"):
        raise Refused(f"laid out from: expected start or end, got {value!r}")
    layout = wall.layout or Layout()
    return replace(wall, layout=replace(layout, origin="start" if value == "start" else "end"))


def _rated(wall: Wall, value: str) -> Wall:
    return replace(wall, rated=None if value == "no" else value)


def _wet(wall: Wall, value: str) -> Wall:
    if value not in _YES_NO:
        raise Refused(f"wet: expected yes or no, got {value!r}")
    return replace(wall, wet=_YES_NO[value])


def _length(what: str, value: str) -> float:
    try:
        return parse_length(value)
    except LengthError as error:
        raise Refused(f"{what}: {error}") from None


FACTS: dict[str, tuple[str, Callable[[Wall, str], Wall]]] = {
    "kind": (f"one of {', '.join(KINDS)}", _kind),
    "bearing": ("yes, no or nobody said", _bearing),
    "spacing": ("a length on center", _spacing),
    "first mark": ("a length from the plate end to the first layout center", _first),
    "laid out from": ("start or end", _origin),
    "rated": ("no, or the rating in words", _rated),
    "wet": ("yes or no", _wet),
}
"""Fact -> (what it takes, how it is set)."""


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one fact of the named walls changed (ids with commas between).

    Raises:
        Refused: No such wall or fact, or a value the fact does not take.
    """
    names, fact, value = [n.strip() for n in text_of(fix, 0).split(",")], text_of(fix, 1), text_of(fix, 2)
    if fact not in FACTS:
        raise Refused(f"expected a fact of a wall, one of {', '.join(FACTS)}; got {fact!r}")
    setter = FACTS[fact][1]
    made = job
    levels = []
    for name in names:
        wall = find_wall(made, name)
        changed = setter(wall, value.strip())
        made = replace(made, walls=tuple(changed if w.id == name else w for w in made.walls))
        levels.append(wall.level)
    for level in dict.fromkeys(levels):
        made = settled(made, level, job)
    return made


VERB = Verb(
    "set_wall",
    ("walls, with commas", f"fact: {', '.join(FACTS)}", "value"),
    True,
    "Change a fact of walls.",
    run,
)
