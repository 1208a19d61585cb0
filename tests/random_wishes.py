"""Random houses, last part: the enclosure, locations, gear and runs."""

from __future__ import annotations

import dataclasses
import itertools
import random

from bayrun.house import (
    Enclosure,
    End,
    Gear,
    Job,
    Location,
    Port,
    Wall,
    WishedRun,
)
from random_shell import Interval, sixteenth
from random_wood import clear_at, frame_rects, is_near, plan_point, stud_centers


def make_enclosure(rng: random.Random, job: Job) -> Enclosure | None:
    """A bay of full height, 14-1/2 in clear, with room for holes in the plate over it."""
    found = []
    for wall in job.walls:
        if wall.exterior or not wall.framed or wall.wet or wall.separation or wall.level != "1":
            continue
        level = job.level(wall.level)
        rects = [r for f in job.frames if f.above_level == wall.level for r in frame_rects(job, f)]
        centers = stud_centers(wall)
        for a, b in itertools.pairwise(centers):
            middle = (a + b) / 2
            clear = [clear_at(job, wall, up, middle) for up in (12.0, 48.0, 88.0, level.plate_top_in - 5)]
            if b - a != 16 or any(c != (a + 0.75, b - 0.75) for c in clear):
                continue
            x, y = plan_point(wall, middle)
            if is_near(rects, x, y, 2.5) or any(
                o.center and abs(o.center[0] - x) < 12 and abs(o.center[1] - y) < 12  # type: ignore[operator]
                for o in job.obstacles
            ):
                continue
            for side, pieces in (("left", wall.left), ("right", wall.right)):
                room = next((p.room for p in pieces if p.from_in < a and b < p.to_in), "")
                if room and job.room(room).kind in (
                    "hall",
                    "closet",
                    "laundry",
                    "utility",
                    "office",
                    "bed",
                    "living",
                ):
                    rank = ("closet", "laundry", "utility", "hall", "office", "living", "bed").index(
                        job.room(room).kind
                    )
                    found.append((rank, rng.random(), wall, side, room, (a, b)))
    if not found:
        return None
    _, _, wall, side, room, studs = min(found, key=lambda f: f[:2])
    return Enclosure(
        "ENC",
        wall.id,
        wall.level,
        room,
        side,
        studs,
        14.25,
        28.0,
        3.625,
        48.0,
        ("top",),  # type: ignore[arg-type]
    )


_PORTS = ((("D", 1),), (("D", 2),), (("D", 2), ("X", 1)), (("D", 4),), (("K", 1),), (("X", 1),))


def with_locations(rng: random.Random, job: Job) -> Job:
    wanted = rng.randint(10, 60)
    locations: list[Location] = []
    runs: list[WishedRun] = []
    gear = [Gear("PATCH", "patch field and coax splitter", True)]
    air = _air_handler(rng, job)
    if air:
        gear.append(air)
    front = next(o for o in job.openings if o.kind == "front door")
    spot = _wall_spot(rng, job, job.wall(front.wall), 48.0, (front.offset_in - 24, front.offset_in - 3))
    enc = job.enclosures[0].id

    def add(location: Location) -> None:
        locations.append(location)
        for port in location.ports:
            for n in range(1, port.count + 1):
                source = End("device", "AIR") if port.kind == "T" else End("enclosure", enc)
                runs.append(
                    WishedRun(
                        f"{location.id}-{port.kind}{n}", port.kind, source, End("location", location.id)
                    )
                )

    if spot:
        room = next(r for r in front.rooms if r != "outside")
        add(
            Location(
                "L01",
                room,
                "1",
                "exterior",
                48.0,
                front.wall,
                spot,
                "exterior",
                ports=(Port("D", 1), Port("B", 1)),
            )
        )
    for _ in range(wanted * 6):
        if len(locations) >= wanted:
            break
        location = _random_location(rng, job, f"L{len(locations) + 1:02d}", air is not None)
        if location is not None and not any(
            o.wall == location.wall
            and o.offset_in is not None
            and o.height_in == location.height_in
            and abs(o.offset_in - (location.offset_in or 0)) < 4
            for o in locations
            if location.wall
        ):
            add(location)
    speakers = [o.id for o in locations if any(p.kind == "S" for p in o.ports)]
    for a, b in zip(speakers[::2], speakers[1::2], strict=False):
        runs.append(WishedRun(f"{b}-S2-1", "S2", End("location", a), End("location", b)))
    return dataclasses.replace(job, locations=tuple(locations), runs=tuple(runs), gear=tuple(gear))


def _air_handler(rng: random.Random, job: Job) -> Gear | None:
    """A device in the open of the garage or basement, 60 in above its subfloor."""
    for room in job.rooms:
        if room.kind not in ("garage", "unfinished"):
            continue
        rects = [r for f in job.frames if f.above_level == room.level for r in frame_rects(job, f)]
        rects += [b.rect for b in job.beams] + [o.rect for o in job.floor_openings]
        rects += [o.rect for o in job.obstacles if o.rect]
        (x0, y0), (x1, y1) = room.polygon[0], room.polygon[2]
        for _ in range(30):
            x, y = sixteenth(rng.uniform(x0 + 18, x1 - 18)), sixteenth(rng.uniform(y0 + 18, y1 - 18))
            if not is_near(rects, x, y, 1.5):
                z = job.level(room.level).subfloor_z_in + 60
                return Gear("AIR", "air handler", False, room.name, room.level, x, y, z, 36.0)
    return None


def _wall_spot(rng: random.Random, job: Job, wall: Wall, up_in: float, span: Interval) -> float | None:
    """An offset in a bay, at least 2-1/2 in from its studs, clear of pipes; None where there is none."""
    for _ in range(12):
        along = sixteenth(rng.uniform(*span))
        gap = clear_at(job, wall, up_in, along)
        if gap is None or min(along - gap[0], gap[1] - along) < 2.5:
            continue
        x, y = plan_point(wall, along)
        if any(
            o.center and abs(o.center[0] - x) < 4 and abs(o.center[1] - y) < 4  # type: ignore[operator]
            for o in job.obstacles
        ):
            continue
        enclosure = job.enclosures[0]
        if (
            wall.id == enclosure.wall
            and enclosure.bay_studs_in[0] - 1 < along < enclosure.bay_studs_in[1] + 1
        ):
            continue
        return along
    return None


def _random_location(rng: random.Random, job: Job, name: str, air: bool) -> Location | None:
    room = rng.choice(job.rooms)
    if room.kind in ("closet", "bath") and rng.random() < 0.8:
        return None
    level = job.level(room.level)
    add = room.floor_finish_in - room.floor_drop_in
    (x0, y0), (x1, y1) = room.polygon[0], room.polygon[2]
    if rng.random() < 0.22:
        frame = next(f for f in job.frames if f.above_level == room.level)
        x, y = sixteenth(rng.uniform(x0 + 12, x1 - 12)), sixteenth(rng.uniform(y0 + 12, y1 - 12))
        solid = frame_rects(job, frame) + [o.rect for o in job.floor_openings if frame.id in o.frames]
        solid += [b.rect for b in job.beams if room.level == "B"]
        solid += [
            o.rect for o in job.obstacles if o.rect and (frame.id in o.frames or room.level in o.levels)
        ]
        if is_near(solid, x, y, 2.5):
            return None
        height = level.plate_top_in - level.ceiling_board_in - add
        ports = (Port("D", 1),) if rng.random() < 0.6 else (Port("S", 1),)
        return Location(name, room.name, room.level, "ceiling", height, x_in=x, y_in=y, ports=ports)
    faces = [
        (wall, side, piece)
        for wall in job.walls
        if wall.level == room.level and wall.framed
        for side, pieces in (("left", wall.left), ("right", wall.right))
        for piece in pieces
        if piece.room == room.name
    ]
    if not faces:
        return None
    wall, side, piece = rng.choice(faces)
    kind = rng.random()
    if kind < 0.06 and air and not wall.exterior and room.kind == "hall":
        height, ports = 60.0, (Port("T", 1),)
    elif kind < 0.12 and wall.exterior:
        height, ports = 84.0, (Port("H", 1),)
    else:
        height = rng.choice((14.0, 14.0, 14.0, 44.0, 48.0, 62.0))
        ports = tuple(Port(k, n) for k, n in rng.choice(_PORTS))
    along = _wall_spot(rng, job, wall, height + add, (piece.from_in + 4, piece.to_in - 4))
    if along is None:
        return None
    return Location(name, room.name, room.level, "wall", height, wall.id, along, side, ports=ports)  # type: ignore[arg-type]
