"""Where things stand: wall coordinates to the world, heights above floor and subfloor, places in words."""

from __future__ import annotations

from bayrun.geometry import at_least, at_most
from bayrun.house.building import Level, Point, Point3, Room, Side, Wall
from bayrun.house.job import Job, ModelError
from bayrun.house.wished import Enclosure, Location
from bayrun.units import tape


def wall_point(wall: Wall, along_in: float, across_in: float = 0.0) -> Point:
    """Plan point at an offset along a wall; ``across_in`` is positive to the left of its direction [in]."""
    dx, dy = wall.direction
    return (
        wall.start[0] + dx * along_in - dy * across_in,
        wall.start[1] + dy * along_in + dx * across_in,
    )


def plate_top_z_in(level: Level) -> float:
    """World height of the top of the plates of a level [in]."""
    return level.subfloor_z_in + level.plate_top_in


def room_at(job: Job, level: str, x_in: float, y_in: float) -> Room | None:
    """The room whose polygon holds the point, or None."""
    for room in job.rooms:
        if room.level == level and _inside(room.polygon, x_in, y_in):
            return room
    return None


def _inside(polygon: tuple[Point, ...], x: float, y: float) -> bool:
    inside = False
    for (x0, y0), (x1, y1) in zip(polygon, polygon[1:] + polygon[:1], strict=True):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            inside = not inside
    return inside


def face_room(wall: Wall, side: Side, along_in: float) -> str:
    """Name of the room a wall face shows to at an offset; empty where nobody said."""
    for piece in wall.left if side == "left" else wall.right:
        if at_least(along_in, piece.from_in) and at_most(along_in, piece.to_in):
            return piece.room
    return ""


def side_room(wall: Wall, side: Side) -> str:
    """The room that the longest stretch of a wall face shows to."""
    pieces = wall.left if side == "left" else wall.right
    return max(pieces, key=lambda p: (p.to_in - p.from_in, p.room)).room if pieces else ""


def wall_name(wall: Wall, along_in: float | None = None) -> str:
    """A wall by the rooms it parts: ``wall Laundry / Dining``; its id follows for the drawing."""
    if along_in is None:
        left, right = side_room(wall, "left"), side_room(wall, "right")
    else:
        left, right = face_room(wall, "left", along_in), face_room(wall, "right", along_in)
    rooms = [room for room in (left, right) if room]
    if not rooms:
        return f"wall {wall.id}"
    if len(rooms) == 2 and rooms[0] == rooms[1]:
        rooms = rooms[:1]
    return f"wall {' / '.join(rooms)} ({wall.id})"


def finish_in(job: Job, location: Location) -> float:
    """Floor build-up under a location: its room's, else its level's [in]."""
    try:
        room = job.room(location.room, location.level)
    except KeyError:
        return sum(layer.thickness_in for layer in job.level(location.level).floor_build_up)
    return room.floor_finish_in - room.floor_drop_in


def location_point(job: Job, location: Location) -> Point3:
    """World point of the middle of a location's box [in].

    Raises:
        ModelError: It has neither a wall with an offset nor a plan point.
    """
    level = job.level(location.level)
    z = level.subfloor_z_in + finish_in(job, location) + location.height_in
    if location.wall is not None and location.offset_in is not None:
        x, y = wall_point(job.wall(location.wall), location.offset_in)
        return x, y, z
    if location.x_in is None or location.y_in is None:
        raise ModelError(f"location {location.id} in {location.room} needs a wall with an offset, or x and y")
    return location.x_in, location.y_in, z


def above_finished_floor_in(job: Job, level: str, room: str) -> float:
    """What to add to a height above finished floor to get above the level's subfloor [in]."""
    try:
        found = job.room(room, level)
    except KeyError:
        return sum(layer.thickness_in for layer in job.level(level).floor_build_up)
    return found.floor_finish_in - found.floor_drop_in


def enclosure_bottom_in(job: Job, enclosure: Enclosure) -> float:
    """Bottom of the box above the subfloor of its level [in]."""
    add_in = above_finished_floor_in(job, enclosure.level, enclosure.room)
    return enclosure.center_aff_in - enclosure.height_in / 2 + add_in


def enclosure_top_in(job: Job, enclosure: Enclosure) -> float:
    """Top of the box above the subfloor of its level [in]."""
    return enclosure_bottom_in(job, enclosure) + enclosure.height_in


def enclosure_entries(job: Job, enclosure: Enclosure) -> tuple[tuple[str, Point3], ...]:
    """(``top`` or ``bottom``, world point) of each end of the box where low voltage may enter."""
    wall, level = job.wall(enclosure.wall), job.level(enclosure.level)
    x, y = wall_point(wall, sum(enclosure.bay_studs_in) / 2)
    heights = {"top": enclosure_top_in(job, enclosure), "bottom": enclosure_bottom_in(job, enclosure)}
    return tuple((entry, (x, y, level.subfloor_z_in + heights[entry])) for entry in enclosure.entries)


def place_of_location(job: Job, location: Location) -> str:
    """Where a location is, in words: room, wall, distance, height."""
    if location.wall is None or location.offset_in is None:
        where = f"{location.mount} at x {tape(location.x_in or 0.0)}, y {tape(location.y_in or 0.0)}"
        return f"{location.room}, {where}"
    name = wall_name(job.wall(location.wall), location.offset_in)
    height = f"{tape(location.height_in)} above finished floor"
    return f"{location.room}, {name} at {tape(location.offset_in)}, {height}"
