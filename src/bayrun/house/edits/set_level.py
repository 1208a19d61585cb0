"""How high a level's plates are, or whether it stands on a slab."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.geometry import at_least
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.job import Job
from bayrun.units import LengthError, parse_length, tape

FACTS = ("plates at", "slab")


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one fact of a level changed; what stands on it keeps its own heights.

    Levels and frames over it move up or down with the plates.

    Raises:
        Refused: No such level or fact, or a value the fact does not take.
    """
    name, fact, value = (text_of(fix, i) for i in range(3))
    level = next((one for one in job.levels if one.id == name), None)
    if level is None:
        raise Refused(f"there is no level {name}")
    if fact == "slab":
        if value not in ("yes", "no"):
            raise Refused(f"slab: expected yes or no, got {value!r}")
        return replace(
            job, levels=tuple(replace(o, slab=value == "yes") if o.id == name else o for o in job.levels)
        )
    if fact != "plates at":
        raise Refused(f"expected a fact of a level, one of {', '.join(FACTS)}; got {fact!r}")
    try:
        top_in = parse_length(value)
    except LengthError as error:
        raise Refused(f"plates at: {error}") from None
    if not 60.0 < top_in < 240.0:
        raise Refused(f"expected the top of the plates 5' to 20' above the subfloor, got {tape(top_in)}")
    by_in = top_in - level.plate_top_in
    from_z_in = level.subfloor_z_in + level.plate_top_in
    return replace(
        job,
        levels=tuple(
            replace(
                o,
                plate_top_in=top_in,
                stud_length_in=None if o.stud_length_in is None else o.stud_length_in + by_in,
            )
            if o.id == name
            else replace(o, subfloor_z_in=o.subfloor_z_in + by_in)
            if at_least(o.subfloor_z_in, from_z_in)
            else o
            for o in job.levels
        ),
        frames=tuple(
            replace(f, z_bottom_in=f.z_bottom_in + by_in, z_top_in=f.z_top_in + by_in)
            if at_least(f.z_bottom_in, from_z_in)
            else f
            for f in job.frames
        ),
    )


VERB = Verb(
    "set_level", ("level", f"fact: {', '.join(FACTS)}", "value"), True, "Change a fact of a level.", run
)
