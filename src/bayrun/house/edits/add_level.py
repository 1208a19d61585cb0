"""One story more, on top."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.building import Level
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job
from bayrun.units import tape

FLOOR_IN = 10.0
"""Joists of 2x10 with 3/4 in of subfloor, less what the tape rounds: the framer's figure replaces it [in]."""


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with a level over the highest one, its plates at the given height; nothing stands on it yet.

    Raises:
        Refused: The name is taken, or the height is none.
    """
    name, plate_top_in = text_of(fix, 0), number_of(fix, 1)
    if any(level.id == name for level in job.levels):
        raise Refused(f"there is a level {name} already")
    if not 60.0 < plate_top_in < 240.0:
        raise Refused(
            f"expected the top of the plates 5' to 20' above the subfloor, got {tape(plate_top_in)}"
        )
    top = max(job.levels, key=lambda one: one.subfloor_z_in, default=None)
    z_in = 0.0 if top is None else top.subfloor_z_in + top.plate_top_in + FLOOR_IN
    made = Level(name, z_in, plate_top_in, slab=top is None, stud_length_in=plate_top_in - 4.5)
    return replace(job, levels=(*job.levels, made))


VERB = Verb(
    "add_level", ("name", "top of the plates above the subfloor"), True, "One story more, on top.", run
)
