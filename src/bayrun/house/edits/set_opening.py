"""Move or resize an opening, or turn its swing."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.geometry import below
from bayrun.house.edits.add_opening import check_fits, header_depth_in
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.edits.reshaping import find_wall
from bayrun.house.job import Job
from bayrun.units import LengthError, parse_length, tape

FACTS = ("from start", "width", "sill", "height", "swings into", "hinge")


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one fact of an opening changed; lengths as a tape reads them.

    Raises:
        Refused: No such opening or fact, or it does not fit so.
    """
    name, fact, value = text_of(fix, 0), text_of(fix, 1), text_of(fix, 2)
    opening = next((o for o in job.openings if o.id == name), None)
    if opening is None:
        raise Refused(f"opening {name} is not in the job")
    wall = find_wall(job, opening.wall)
    if fact == "swings into":
        if value not in opening.rooms:
            raise Refused(f"it opens between {' and '.join(opening.rooms)}, not into {value}")
        made = replace(opening, swings_into=value, hinge_end=opening.hinge_end or "low")
    elif fact == "hinge":
        if value not in ("low", "high"):
            raise Refused(f"hinge: expected low (toward the wall's start) or high, got {value!r}")
        made = replace(opening, hinge_end="low" if value == "low" else "high")
    elif fact in FACTS:
        try:
            length_in = parse_length(value)
        except LengthError as error:
            raise Refused(f"{fact}: {error}") from None
        match fact:
            case "from start":
                made = replace(opening, offset_in=length_in)
            case "width":
                made = replace(opening, width_in=length_in, header_depth_in=header_depth_in(length_in))
            case "sill":
                made = replace(opening, sill_in=length_in)
            case _:
                made = replace(opening, height_in=length_in)
    else:
        raise Refused(f"expected a fact of an opening, one of {', '.join(FACTS)}; got {fact!r}")
    top_in = job.level(wall.level).plate_top_in - 1.5 * wall.plates.top
    if below(top_in, made.head_in + (made.header_depth_in if wall.framed else 0.0)):
        raise Refused(f"with its header it would reach over {tape(top_in)}, the underside of the plates")
    check_fits(job, wall, made)
    return replace(job, openings=tuple(made if o.id == name else o for o in job.openings))


VERB = Verb(
    "set_opening",
    ("opening", f"fact: {', '.join(FACTS)}", "value"),
    True,
    "Move, resize or turn an opening.",
    run,
)
