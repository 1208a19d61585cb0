"""A house as plain data for a page: what stands where in plan inches, with its words.

Coordinates are those of the job: x to the right along the front, y toward the back, z up from the subfloor of
the first level [in]. Numbers are rounded to a thousandth; texts are ready to print.
"""

from __future__ import annotations

from typing import Any

from bayrun.drawings.building import wall_strip
from bayrun.house import (
    Enclosure,
    Job,
    Location,
    Obstacle,
    Opening,
    Wall,
    location_point,
    wall_name,
    wall_point,
)
from bayrun.house.places import enclosure_bottom_in, place_of_location
from bayrun.units import tape

Plain = dict[str, Any]


def r3(value: float) -> float:
    """A length rounded to a thousandth of an inch, without a negative zero."""
    return round(value, 3) + 0.0


def _points(points: tuple[tuple[float, float], ...]) -> list[list[float]]:
    return [[r3(x), r3(y)] for x, y in points]


def house_view(job: Job) -> Plain:
    """Everything a page draws of a house before it is planned.

    Returns:
        Plain data: levels, rooms, walls, openings, frames, obstacles, locations, enclosures, cables, and what
        nobody measured.
    """
    return {
        "id": job.id,
        "name": job.name,
        "revision": {
            "number": job.revision.number,
            "date": job.revision.date,
            "note": job.revision.note,
        },
        "levels": [
            {
                "id": level.id,
                "subfloor": r3(level.subfloor_z_in),
                "plate_top": r3(level.plate_top_in),
                "slab": level.slab,
                "says": f"level {level.id}, plates end {tape(level.plate_top_in)} above the subfloor",
            }
            for level in sorted(job.levels, key=lambda one: one.subfloor_z_in)
        ],
        "rooms": [
            {
                "name": room.name,
                "level": room.level,
                "kind": room.kind,
                "polygon": _points(room.polygon),
                "area_ft2": round(_area_in2(room.polygon) / 144, 1),
            }
            for room in job.rooms
        ],
        "walls": [_wall(job, wall) for wall in job.walls],
        "openings": [_opening(job, opening) for opening in job.openings],
        "frames": [
            {
                "id": frame.id,
                "kind": frame.kind,
                "above": frame.above_level or "",
                "below": frame.below_level or "",
                "area": [r3(v) for v in frame.area],
                "direction": frame.direction,
                "members": [r3(v) for v in frame.members_in()],
                "nominal": frame.nominal,
            }
            for frame in job.frames
        ],
        "stairs": [
            {
                "id": stair.id,
                "what": stair.what,
                "levels": sorted({level for level, _ in stair.rooms}),
                "rect": [r3(v) for v in stair.rect],
            }
            for stair in job.stairs
        ],
        "obstacles": [_obstacle(obstacle) for obstacle in job.obstacles],
        "locations": [_location(job, location) for location in job.locations],
        "enclosures": [_enclosure(job, enclosure) for enclosure in job.enclosures],
        "cables": [
            {"letter": kind.letter, "name": kind.name, "line": kind.line, "diameter": kind.diameter_in}
            for kind in job.practice.cables
        ],
        "assumptions": [
            {"id": a.id, "says": a.says, "where": a.where, "why": a.why} for a in job.assumptions
        ],
    }


def _area_in2(polygon: tuple[tuple[float, float], ...]) -> float:
    turns = zip(polygon, polygon[1:] + polygon[:1], strict=True)
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in turns)) / 2


def _wall(job: Job, wall: Wall) -> Plain:
    half = wall.thickness_in / 2
    bearing = {True: "bearing", False: "not bearing", None: "nobody said: counts as bearing"}[wall.bearing]
    return {
        "id": wall.id,
        "level": wall.level,
        "name": wall_name(wall),
        "start": [r3(v) for v in wall.start],
        "end": [r3(v) for v in wall.end],
        "plates": [r3(wall.plate_start_in), r3(wall.plate_end_in)],
        "polygon": _points(wall_strip(wall, wall.plate_start_in, wall.plate_end_in, half, -half)),
        "core": wall.core,
        "thickness": r3(wall.thickness_in),
        "spacing": r3(wall.spacing_in),
        "bearing": bearing,
        "exterior": wall.exterior,
        "rated": wall.rated or "",
        "framed": wall.framed,
        "kind": f"{'outside' if wall.exterior else 'inside'} {wall.core}",
        "first_mark": tape(wall.layout.first_mark_in) if wall.layout is not None else "",
        "laid_out_from": wall.layout.origin if wall.layout is not None else "",
        "wet": wall.wet,
        "length": tape(wall.length_in),
        "left": sorted({p.room for p in wall.left if p.room}),
        "right": sorted({p.room for p in wall.right if p.room}),
    }


def _opening(job: Job, opening: Opening) -> Plain:
    wall = job.wall(opening.wall)
    a, b = opening.offset_in, opening.offset_in + opening.width_in
    half = wall.thickness_in / 2
    view: Plain = {
        "id": opening.id,
        "wall": opening.wall,
        "level": wall.level,
        "kind": opening.kind,
        "window": opening.is_window,
        "polygon": _points(wall_strip(wall, a, b, half, -half)),
        "says": (
            f"{opening.kind}, rough opening {tape(opening.width_in)} wide, {tape(opening.height_in)} high"
        ),
        "swing": None,
        "from_start": tape(a),
        "width": tape(opening.width_in),
        "sill": tape(opening.sill_in),
        "height": tape(opening.height_in),
        "rooms": list(opening.rooms),
        "swings_into": opening.swings_into or "",
        "hinge": opening.hinge_end or "",
    }
    sides = {p.room: side for side, pieces in (("left", wall.left), ("right", wall.right)) for p in pieces}
    side = sides.get(opening.swings_into or "")
    if side and opening.hinge_end:
        across = half if side == "left" else -half
        hinge, far = (a, b) if opening.hinge_end == "low" else (b, a)
        out = across + (opening.width_in if side == "left" else -opening.width_in)
        view["swing"] = _points(
            (wall_point(wall, hinge, across), wall_point(wall, hinge, out), wall_point(wall, far, across))
        )
    return view


def _obstacle(obstacle: Obstacle) -> Plain:
    view: Plain = {"id": obstacle.id, "kind": obstacle.kind, "levels": list(obstacle.levels)}
    if obstacle.path:
        view |= {"shape": "path", "points": [[r3(x), r3(y)] for x, y, _ in obstacle.path]}
    elif obstacle.rect is not None:
        view |= {"shape": "rect", "rect": [r3(v) for v in obstacle.rect]}
    elif obstacle.center is not None and obstacle.diameter_in is not None and None not in obstacle.center:
        x, y = obstacle.center
        view |= {
            "shape": "circle",
            "at": [r3(x or 0.0), r3(y or 0.0)],
            "radius": r3(obstacle.diameter_in / 2),
        }
    else:
        view |= {"shape": "none"}
    return view


def _location(job: Job, location: Location) -> Plain:
    x, y, z = location_point(job, location)
    return {
        "id": location.id,
        "room": location.room,
        "level": location.level,
        "mount": location.mount,
        "at": [r3(x), r3(y), r3(z)],
        "wall": location.wall or "",
        "offset": None if location.offset_in is None else r3(location.offset_in),
        "side": location.side or "",
        "height": tape(location.height_in),
        "height_in": r3(location.height_in),
        "ports": [{"kind": p.kind, "count": p.count} for p in location.ports],
        "place": place_of_location(job, location),
        "note": location.note,
        "reason": location.reason,
    }


def _enclosure(job: Job, enclosure: Enclosure) -> Plain:
    wall = job.wall(enclosure.wall)
    chosen = job.chosen_enclosure
    low, high = enclosure.bay_studs_in
    half = wall.thickness_in / 2
    middle = (low + high) / 2
    near, far = (
        (half, half - enclosure.depth_in) if enclosure.side == "left" else (-half, enclosure.depth_in - half)
    )
    a, b = middle - enclosure.width_in / 2, middle + enclosure.width_in / 2
    bottom = job.level(enclosure.level).subfloor_z_in + enclosure_bottom_in(job, enclosure)
    return {
        "id": enclosure.id,
        "chosen": chosen is not None and chosen.id == enclosure.id,
        "level": enclosure.level,
        "room": enclosure.room,
        "wall": enclosure.wall,
        "side": enclosure.side,
        "polygon": _points(wall_strip(wall, a, b, near, far)),
        "z": [r3(bottom), r3(bottom + enclosure.height_in)],
        "says": (
            f"{tape(enclosure.width_in)} wide, {tape(enclosure.height_in)} high, "
            f"{tape(enclosure.depth_in)} deep, middle {tape(enclosure.center_aff_in)} above finished floor"
        ),
    }
