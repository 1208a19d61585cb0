"""Where a house's access points send from: its locations for them, or the enclosure where there is none."""

from __future__ import annotations

from itertools import pairwise

from bayrun.geometry import Rect
from bayrun.house import Enclosure, Job, ModelError, Room, location_point, wall_point
from bayrun.house.building import Point, Point3
from bayrun.radio.coverage import Sender
from bayrun.radio.screens import metal_within
from bayrun.tables.physics import physics_table
from bayrun.units import tape
from bayrun.wiring.devices import device_at

CEILING_GAP_IN = 1.0
"""An access point sends from about this far under the ceiling [in]."""


def access_points(job: Job) -> tuple[Sender, ...]:
    """The locations at which an access point will stand, in the job's order."""
    found = []
    for location in job.locations:
        if device_at(location).key != "access point":
            continue
        try:
            x, y, z = location_point(job, location)
        except ModelError:
            continue
        says = f"{location.id}, {location.mount} of {location.room}"
        found.append(Sender(location.id, x, y, z - CEILING_GAP_IN, 0.0, says))
    return tuple(found)


def enclosure_sender(job: Job, enclosure: Enclosure | None = None) -> Sender | None:
    """A radio inside the closed metal enclosure; None where the job has none."""
    box = job.chosen_enclosure if enclosure is None else enclosure
    if box is None:
        return None
    wall, level = job.wall(box.wall), job.level(box.level)
    sign = 1.0 if box.side == "left" else -1.0
    x, y = wall_point(wall, sum(box.bay_studs_in) / 2, sign * (wall.thickness_in / 2 + 1.0))
    loss_db = float(physics_table("radio")["coverage"]["metal_box_db"])
    z = level.subfloor_z_in + box.center_aff_in
    return Sender(box.id, x, y, z, loss_db, f"{box.id}, in the enclosure with its door shut, {box.room}")


def above_enclosure(job: Job) -> Sender | None:
    """The same radio on the ceiling of the enclosure's room, right before it; None where there is none."""
    inside = enclosure_sender(job)
    box = job.chosen_enclosure
    if inside is None or box is None:
        return None
    wall, level = job.wall(box.wall), job.level(box.level)
    sign = 1.0 if box.side == "left" else -1.0
    x, y = wall_point(wall, sum(box.bay_studs_in) / 2, sign * (wall.thickness_in / 2 + 18.0))
    z = level.subfloor_z_in + level.plate_top_in - level.ceiling_board_in - CEILING_GAP_IN
    return Sender(f"{box.id} ceiling", x, y, z, 0.0, f"ceiling of {box.room}, before {box.id}")


def ceiling_point(job: Job, room: Room, x_in: float, y_in: float) -> Point3:
    """Where an access point on the ceiling of a room sends from [in]."""
    level = job.level(room.level)
    z = level.subfloor_z_in + level.plate_top_in - level.ceiling_board_in - CEILING_GAP_IN
    return x_in, y_in, z


def clear_of_joists(job: Job, room: Room, point: Point) -> Point:
    """The point moved to the middle between the two members of the ceiling it lies nearest to."""
    for frame in job.frames:
        area = Rect(*frame.area)
        if frame.above_level != room.level or not area.holds(*point):
            continue
        across = point[1] if frame.direction == "x" else point[0]
        middles = [(a + b) / 2 for a, b in pairwise(frame.members_in())]
        if not middles:
            return point
        middle = min(middles, key=lambda m: (abs(m - across), m))
        return (point[0], middle) if frame.direction == "x" else (middle, point[1])
    return point


def inside_room(room: Room, point: Point) -> bool:
    """True where a plan point lies in a room."""
    x, y = point
    inside = False
    for (ax, ay), (bx, by) in zip(room.polygon, room.polygon[1:] + room.polygon[:1], strict=True):
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            inside = not inside
    return inside


def metal_words(job: Job, sender: Sender) -> str:
    """What metal stands near an access point, in words; empty where nothing does."""
    near_in = float(physics_table("radio")["coverage"]["metal_near_in"])
    close = metal_within(job, (sender.x_in, sender.y_in, sender.z_in), near_in)
    return "; ".join(f"{says}, {tape(away)} away" for says, away in close)
