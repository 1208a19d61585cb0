"""The mark-out list: every box and ring, from a corner a tape hooks on, with both heights.

Distances run along the wall as its room sees it, from the nearer inside corner of the framing to the middle
of the box. Ceiling places are told from the two nearest walls.
"""

from __future__ import annotations

import math

from bayrun.drawings import cautions
from bayrun.drawings.lists import Column, ListRow, ListSheet
from bayrun.drawings.wall_view import WallView
from bayrun.geometry import below
from bayrun.house import Job, Location, above_finished_floor_in, location_point, wall_name
from bayrun.house.building import Side
from bayrun.units import tape


def mark_out_list(job: Job) -> ListSheet:
    """Every location of a job, level by level and room by room, in order from the hooked corner."""
    order = {level.id: i for i, level in enumerate(sorted(job.levels, key=lambda lv: lv.subfloor_z_in))}
    ordered = sorted(job.locations, key=lambda lo: (order.get(lo.level, 0), lo.room, lo.id))
    rows = []
    for location in ordered:
        where, distance = place_from_corner(job, location)
        finish_in = above_finished_floor_in(job, location.level, location.room)
        rows.append(
            ListRow(
                (
                    location.id,
                    where,
                    distance,
                    tape(location.height_in),
                    tape(location.height_in + finish_in),
                    cables_words(job, location) or "none",
                ),
                detail="; ".join(text for text in (location.note, location.reason) if text),
                group=f"{location.room}, level {location.level}",
            )
        )
    many = "1 box or ring" if len(rows) == 1 else f"{len(rows)} boxes and rings"
    return ListSheet(
        "mark-out list",
        f"Mark {many} on the studs before anybody drills",
        (
            Column("id", "id"),
            Column("wall as seen, and where from", share=1.0),
            Column("to its middle", "text"),
            Column("over finish", "number"),
            Column("over subfloor", "number"),
            Column("cables"),
        ),
        tuple(rows),
        note="Heights are to the middle of the box. Hook the tape on the framing, not on board. "
        "Match the electrician's boxes where they stand side by side.",
        caution=cautions.MARK,
        wide=True,
    )


def cables_words(job: Job, location: Location) -> str:
    """The runs that end at a location: ``2D 1X``."""
    counts: dict[str, int] = {}
    for run in job.runs:
        ends = (run.from_end, run.to_end)
        if any(end.type == "location" and end.id == location.id for end in ends):
            counts[run.kind] = counts.get(run.kind, 0) + 1
    return " ".join(f"{counts[kind]}{kind}" for kind in sorted(counts, key=lambda k: (-counts[k], k)))


def place_from_corner(job: Job, location: Location) -> tuple[str, str]:
    """(where to hook, distance) of a location in words.

    Returns:
        For a wall: the wall, the corner by hand as seen, and the distance. For a ceiling: the two walls.
    """
    if location.wall is not None and location.offset_in is not None:
        wall = job.wall(location.wall)
        outside = location.side == "exterior"
        side: Side = "left" if location.side == "left" else "right"
        if outside:
            side = "left" if not any(piece.room for piece in wall.left) else "right"
        view = WallView(job, wall, side, location.offset_in)
        name = wall_name(wall, location.offset_in)
        seen = "outside" if outside or not view.room else view.room
        corner = "corner" if view.hook_is_corner and seen != "outside" else "end of the wall"
        words = f"{name}, seen from {seen}: from the {view.hook_hand} {corner}"
        return words, tape(abs(location.offset_in - view.hook_in))
    x, y, _ = location_point(job, location)
    (name_x, far_x), (name_y, far_y) = _nearest(job, location, x, y, 0), _nearest(job, location, x, y, 1)
    if not name_x or not name_y:
        return "on the plan, from the front left corner of the house", f"{tape(x)} right, {tape(y)} back"
    return f"{location.mount}: from {name_x}, and from {name_y}", f"{tape(far_x)}; {tape(far_y)}"


def _nearest(job: Job, location: Location, x: float, y: float, axis: int) -> tuple[str, float]:
    """The nearest wall across one plan axis whose stretch faces the point, and how far its face is [in]."""
    best: tuple[float, str] | None = None
    for wall in job.walls:
        if wall.level != location.level:
            continue
        dx, dy = wall.direction
        if abs((dx, dy)[axis]) > 0.01:
            continue
        along = (x - wall.start[0]) * dx + (y - wall.start[1]) * dy
        if along < 0 or along > wall.length_in:
            continue
        away = abs((x - wall.start[0]) * -dy + (y - wall.start[1]) * dx) - wall.thickness_in / 2
        if below(0.0, away) and (best is None or away < best[0]):
            best = away, wall_name(wall, along)
    return (best[1], best[0]) if best is not None else ("", math.inf)
