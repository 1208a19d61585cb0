"""Hang gear outside the enclosure, on a shelf over it in the same room."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.boxes_of_gear import box_of_gear, gear_inside
from bayrun.house.edits.place_gear import KIND
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.job import Job
from bayrun.house.places import enclosure_top_in, wall_point

OVER_IN = 12.0
"""Shelf over the box's top: common practice, no source [in]."""


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with gear on a shelf 12 in over the box; several ids are joined by ``+``.

    Raises:
        Refused: No such gear inside, or runs end on it: those would have to go elsewhere too.
    """
    if job.chosen_enclosure is None:
        raise Refused("there is no enclosure to take gear out of")
    names = [name.strip() for name in text_of(fix, 0).split("+")]
    for name in names:
        what = gear_inside(job, name).what
        ends = [r.id for r in job.runs if r.gear == name]
        if ends:
            raise Refused(
                f"{what}: {len(ends)} {'run ends' if len(ends) == 1 else 'runs end'} on it in the box"
            )
    box = box_of_gear(job, names[0])
    wall, level = job.wall(box.wall), job.level(box.level)
    half_in = wall.thickness_in / 2 + level.wall_board_in
    x_in, y_in = wall_point(wall, sum(box.bay_studs_in) / 2, half_in if box.side == "left" else -half_in)
    z_in = level.subfloor_z_in + enclosure_top_in(job, box) + OVER_IN
    moved = {
        name: replace(
            job.gear_of(name),
            in_enclosure=False,
            room=box.room,
            level=box.level,
            x_in=x_in,
            y_in=y_in,
            z_in=z_in,
        )
        for name in names
    }
    kept = tuple(c for c in job.choices if c.kind != KIND or c.about.partition("/")[0] not in moved)
    return replace(job, gear=tuple(moved.get(g.id, g) for g in job.gear), choices=kept)


VERB = Verb("move_gear_out", ("gear",), True, "Hang gear on a shelf over the enclosure.", run)
