"""Levels of an imported house: their names, how high their plates are, which story lies over which."""

from __future__ import annotations

import re
from typing import Any

from bayrun.files.shell import Shell
from bayrun.files.shell_frames import Aloft
from bayrun.files.shell_guess import SUBFLOOR_IN, joist_for
from bayrun.files.shell_joists import JoistField
from bayrun.files.shell_making import Making
from bayrun.geometry import at_least
from bayrun.house import Level
from bayrun.units import tape

PLATES_IN = 4.5
"""One bottom and two top plates of 1-1/2 in [in]."""
_LEAST_STORY_IN = 60.0
"""Floors closer than this are steps of a split level, not stories over each other [in]."""
_LEAST_SHARE = 0.1
"""A story that covers less of the one under it does not lie over it."""


def level_ids(shell: Shell) -> dict[str, str]:
    """Short names: the number in the file's name where they are all different, else counted from below."""
    stories = shell.stories
    numbers = [re.search(r"\d+", s.name) for s in stories]
    short = [m[0].lstrip("0") or "0" if m else "" for m in numbers]
    if "" in short or len(set(short)) < len(short):
        short = [str(i) for i in range(1, len(stories) + 1)]
    return {s.name: i for s, i in zip(stories, short, strict=True)}


def stories_over(shell: Shell) -> tuple[int | None, ...]:
    """For each story the one that lies over it, as an index into the stories; None under a roof.

    The halves of a split level lie beside each other: a story lies over another where it is at least 60 in
    higher and its walls cover some of the same ground.
    """
    stories = shell.stories
    grounds = [_ground(shell, s.name) for s in stories]
    found: list[int | None] = []
    for i, story in enumerate(stories):
        above = [
            j
            for j in range(i + 1, len(stories))
            if at_least(stories[j].elevation_in, story.elevation_in + _LEAST_STORY_IN)
            and _shares(grounds[i], grounds[j])
        ]
        found.append(above[0] if above else None)
    return tuple(found)


def _ground(shell: Shell, level: str) -> Any:
    from shapely.geometry import MultiPoint

    points = [p for w in shell.story_walls if w.level == level for p in (w.start, w.end)]
    points += [p for s in shell.rooms if s.level == level for p in s.polygon]
    return MultiPoint(points).convex_hull


def _shares(lower: Any, upper: Any) -> bool:
    least = min(lower.area, upper.area)
    if least < 1.0:
        # A wall alone has no ground: it counts where it stands on the other's.
        return bool(lower.distance(upper) < 1.0)
    return bool(lower.intersection(upper).area >= _LEAST_SHARE * least)


def plate_top_in(
    making: Making,
    index: int,
    above: int | None,
    zero_in: float,
    over: Aloft | None,
    field: JoistField | None,
) -> float:
    """Top of the plates over a story's subfloor: the underside of what lies on them [in]."""
    stories = making.shell.stories
    level = stories[index]
    where = f"level {making.ids[level.name]}"
    if field is not None:
        top_in = field.z_bottom_in + zero_in - level.elevation_in
    elif above is not None:
        # The joists hang under the upper subfloor; the plates carry them.
        thick = over.top_in - over.bottom_in if over else 10.0
        top_in = stories[above].elevation_in - level.elevation_in - SUBFLOOR_IN - joist_for(thick)[1]
    elif over is not None:
        top_in = over.bottom_in + zero_in - level.elevation_in
    else:
        tops = sorted(w.base_in + w.height_in for w in making.shell.story_walls if w.level == level.name)
        top_in = tops[len(tops) // 2] if tops else level.height_in
    if not 60.0 < top_in < 240.0:
        top_in = min(max(level.height_in - 12.0, 84.0), 144.0)
        making.assume(
            f"plates end {tape(top_in)} above the subfloor", where, "the heights in the file contradict"
        )
    return round(top_in, 4)


def level_of(making: Making, index: int, zero_in: float, plate_top_in: float) -> Level:
    """One story as a level of the job, its plates and its ground told as assumptions."""
    shell, level = making.shell, making.shell.stories[index]
    level_id = making.ids[level.name]
    ground = [p for p in shell.pieces if p.kind == "slab" and abs(p.z_top_in - level.elevation_in) < 2.0]
    joists = any(
        re.search(r"joist|truss|wood|timber", p.label, re.I) for p in ground if p.z_top_in - p.z_bottom_in > 4
    )
    slab = index == 0 and not joists
    where = f"level {level_id}"
    making.assume(
        f"double top plate and single bottom plate, together {tape(PLATES_IN)}; "
        f"plates end {tape(plate_top_in)} above the subfloor", where, "the file has no framing",
    )  # fmt: skip
    if slab:
        making.assume(
            "the floor is a slab on the ground: nothing can go down",
            where,
            "" if ground else "no floor in the file",
        )
    drops = sorted(
        p.z_bottom_in - level.elevation_in
        for p in shell.pieces
        if p.kind == "ceiling" and 72 < p.z_bottom_in - level.elevation_in < plate_top_in - 2
    )
    if drops:
        making.assume(
            f"the ceiling hangs at {tape(drops[0])}, {tape(plate_top_in - drops[0])} under the plates: "
            "planned as board on the joists", where, "dropped ceilings are not planned",
        )  # fmt: skip
    return Level(
        level_id, round(level.elevation_in - zero_in, 4), plate_top_in, slab=slab,
        stud_length_in=round(plate_top_in - PLATES_IN, 4),
    )  # fmt: skip
