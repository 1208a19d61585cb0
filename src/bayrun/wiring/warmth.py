"""How warm a run lies: its share in the attic at the attic's heat, the rest at the house's."""

from __future__ import annotations

import math
from itertools import pairwise

from bayrun.geometry import at_least
from bayrun.house import Job, plate_top_z_in
from bayrun.tables.physics import physics_table
from bayrun.units import Figure
from bayrun.wiring.records import Hole, Run

OVERHANG_IN = 36.0
"""Roofs reach no farther over their frames than this [in]. Common practice, no source."""
PLATES_IN = 4.0
"""A hole through the top plates has its middle no farther under the attic than this [in]."""


def attic_c(job: Job) -> float:
    """Heat of the attic on the day that counts [C]: the job's own, else the usual."""
    if job.facts.attic_f is not None:
        return (job.facts.attic_f - 32.0) / 1.8
    return float(physics_table("devices")["around"]["attic_c"])


def house_c() -> float:
    """Heat inside walls and floors on such a day [C]."""
    return float(physics_table("devices")["around"]["house_c"])


def attic_floor_z_in(job: Job, x_in: float, y_in: float) -> float | None:
    """World height from which a point lies in the attic; None where a floor or nothing is over it [in].

    Outside all frames the overhang of the nearest roof counts: soffits are as hot.
    """
    over = [f for f in job.frames if f.rect.holds(x_in, y_in)]
    if not over:
        over = [f for f in job.frames if f.rect.grown(OVERHANG_IN).holds(x_in, y_in)]
    tops = [
        plate_top_z_in(job.level(f.above_level))
        for f in over
        if f.below_level is None and f.above_level is not None
    ]
    return max(tops, default=None)


def in_attic(job: Job, x_in: float, y_in: float, z_in: float) -> bool:
    """True where a point lies over the plates under a roof."""
    floor = attic_floor_z_in(job, x_in, y_in)
    return floor is not None and at_least(z_in, floor)


def attic_share(job: Job, run: Run) -> float:
    """Part of a run's way that lies in the attic, 0 to 1; slack counts as in the house."""
    hot = math.fsum(
        math.dist((a.x, a.y, a.z), (b.x, b.y, b.z))
        for a, b in pairwise(run.path)
        if in_attic(job, (a.x + b.x) / 2, (a.y + b.y) / 2, (a.z + b.z) / 2)
    )
    return hot / run.length_in if run.length_in > 0 else 0.0


def run_celsius(job: Job, run: Run) -> Figure:
    """Mean temperature of a run's conductors [C]: resistance goes straight with it."""
    share, data = attic_share(job, run), physics_table("devices")["around"]
    said = job.facts.attic_f is not None
    return Figure(
        share * attic_c(job) + (1 - share) * house_c(),
        "C",
        "share in the attic x its heat + the rest x the house's",
        "the job's attic_f; the house " + data["document"] if said else data["document"],
        (
            ("in the attic", f"{share:.0%}"),
            ("attic", f"{attic_c(job):.0f} C"),
            ("house", f"{house_c():.0f} C"),
        ),
    )


def hole_celsius(job: Job, hole: Hole) -> float:
    """Heat around a bundle in a hole [C]: the attic's where it goes on there, as through the top plates."""
    up_in = PLATES_IN if hole.axis == "up" else 0.0
    return attic_c(job) if in_attic(job, hole.x, hole.y, hole.z + up_in) else house_c()
