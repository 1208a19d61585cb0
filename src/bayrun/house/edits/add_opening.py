"""A door, a window or a cased opening in a wall."""

from __future__ import annotations

import re
from dataclasses import replace

from bayrun.findings import Fix
from bayrun.geometry import at_most, below
from bayrun.house.building import Opening, Wall
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.edits.reshaping import find_wall
from bayrun.house.job import Job
from bayrun.house.places import face_room
from bayrun.units import tape

# Kind -> sill, height of the rough opening [in]. Common practice, no source: each can be changed.
KINDS: dict[str, tuple[float, float]] = {
    "door": (0.0, 82.5),
    "outside door": (0.0, 82.5),
    "cased opening": (0.0, 82.5),
    "window": (36.0, 48.0),
    "overhead door": (0.0, 84.0),
}
BESIDE_IN = 3.0
"""Jack and king stud at each side [in]."""


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one opening more: its middle at an offset, with its header over it.

    Raises:
        Refused: No such wall or kind, or it does not fit between its neighbors.
    """
    wall, kind = find_wall(job, text_of(fix, 0)), text_of(fix, 1)
    middle_in, width_in = number_of(fix, 2), number_of(fix, 3)
    if kind not in KINDS:
        raise Refused(f"expected a kind of opening, one of {', '.join(KINDS)}; got {kind!r}")
    if below(width_in, 10.0) or below(240.0, width_in):
        raise Refused(f"expected a rough opening 10\" to 20' wide, got {tape(width_in)}")
    sill_in, height_in = KINDS[kind]
    header_in = header_depth_in(width_in) if wall.framed else 0.0
    under_in = job.level(wall.level).plate_top_in - 1.5 * wall.plates.top
    height_in = min(height_in, under_in - header_in - sill_in)
    rooms = tuple(dict.fromkeys(r for s in ("left", "right") if (r := _face(wall, s, middle_in))))
    inside = [r for r in rooms if r != "outside"]
    swings = inside[0] if kind in ("door", "outside door") and inside else None
    made = Opening(
        _next(job, kind), wall.id, kind, round(middle_in - width_in / 2, 4), width_in, sill_in, height_in,
        header_in, rooms, swings, "low" if swings else None,
    )  # fmt: skip
    check_fits(job, wall, made)
    return replace(job, openings=(*job.openings, made))


def _face(wall: Wall, side: str, at_in: float) -> str:
    return face_room(wall, "left" if side == "left" else "right", at_in)


def header_depth_in(width_in: float) -> float:
    """A usual header over a rough opening; the plans have the last word. Common practice, no source [in]."""
    return next(d for w, d in ((48.0, 5.5), (72.0, 7.25), (96.0, 9.25), (1e9, 11.25)) if at_most(width_in, w))


def check_fits(job: Job, wall: Wall, opening: Opening) -> None:
    """Refuse an opening that does not fit between the plate ends and its neighbors.

    Raises:
        Refused: With the neighbor, or the stretch there is.
    """
    low_in, high_in = opening.offset_in - BESIDE_IN, opening.offset_in + opening.width_in + BESIDE_IN
    if below(low_in, wall.plate_start_in) or below(wall.plate_end_in, high_in):
        raise Refused(
            f"a {opening.kind} {tape(opening.width_in)} wide does not fit there: with its studs it takes "
            f"{tape(high_in - low_in)} between {tape(wall.plate_start_in)} and {tape(wall.plate_end_in)}"
        )
    for other in job.openings:
        if other.wall == wall.id and other.id != opening.id:
            ends_in = other.offset_in + other.width_in + BESIDE_IN
            if below(low_in, ends_in) and below(other.offset_in - BESIDE_IN, high_in):
                raise Refused(f"it runs into the {other.kind} {other.id}")
    for location in job.locations:
        if location.wall == wall.id and location.offset_in is not None:
            at_in = location.offset_in
            if below(opening.offset_in - 1.125, at_in) and below(
                at_in, opening.offset_in + opening.width_in + 1.125
            ):
                raise Refused(f"location {location.id} is there: move or strike it first")


def _next(job: Job, kind: str) -> str:
    letter = "N" if kind == "window" else "D"
    taken = {o.id for o in job.openings}
    numbers = [int(m[1]) for o in job.openings if (m := re.search(rf"{letter}(\d+)$", o.id))]
    number = max(numbers, default=0) + 1
    while f"{letter}{number:02d}" in taken:
        number += 1
    return f"{letter}{number:02d}"


VERB = Verb(
    "add_opening",
    ("wall", f"kind: {', '.join(KINDS)}", "middle, from the wall's start", "width of the rough opening"),
    True,
    "A door, window or cased opening.",
    run,
)
