"""What a radio signal meets in a house: walls with their openings, floors with their holes, metal things.

Made from the job alone. A framed wall counts by its boards and its empty bay; the share of solid studs is
left out (a stud takes about 3 dB, and stands in one twelfth of a wall). What lies outside the sheathing
is not counted: nobody lives there.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from bayrun.geometry import Rect, below, cut_interval, subtract_all
from bayrun.house import FloorFrame, Job, Level, Obstacle, Opening, Wall, plate_top_z_in, wall_point
from bayrun.house.building import Interval, Point, RectTuple
from bayrun.radio.slab import Layer
from bayrun.tables.physics import physics_table


@dataclass(frozen=True, slots=True)
class Upright:
    """One upright piece: a stretch of wall, or what fills an opening of it.

    Args:
        a, b: Its ends on the plan [in].
        z_in: Its lowest and highest height in the world [in].
        layers: What it is made of; empty lets everything through.
        flat_db: Loss at any angle, instead of layers: a steel door.
        says: In words.
    """

    a: Point
    b: Point
    z_in: Interval
    layers: tuple[Layer, ...]
    flat_db: float = 0.0
    says: str = ""


@dataclass(frozen=True, slots=True)
class Lying:
    """One lying piece: a stretch of a floor, at the height of its middle."""

    rect: RectTuple
    z_in: float
    layers: tuple[Layer, ...]
    says: str = ""


@dataclass(frozen=True, slots=True)
class Metal:
    """A metal thing by its upright box; signals through it lose a flat share, most go around."""

    rect: RectTuple
    z_in: Interval
    says: str


@dataclass(frozen=True, slots=True)
class Screens:
    """Everything of one house that stands in the way of radio."""

    uprights: tuple[Upright, ...]
    lying: tuple[Lying, ...]
    metal: tuple[Metal, ...]


def screens(job: Job) -> Screens:
    """All walls, openings, floors and metal things of a job, in the job's order."""
    uprights: list[Upright] = []
    for wall in job.walls:
        if wall.length_in > 0:
            uprights += _wall(job, wall)
    metal = tuple(found for found in (_metal(job, thing) for thing in job.obstacles) if found is not None)
    return Screens(tuple(uprights), _floors(job), metal)


def wall_layers(job: Job, wall: Wall) -> tuple[Layer, ...]:
    """Layers of a wall from its left face to its right, as far as the job says them."""
    data, board_in = physics_table("radio")["house"], job.level(wall.level).wall_board_in
    if not wall.framed:
        return (Layer("concrete", wall.thickness_in),)
    board = (Layer("plasterboard", board_in),) if board_in > 0 else ()
    inner = (*board, Layer("air", wall.thickness_in))
    if wall.exterior:
        return (*inner, Layer(str(data["sheathing"]), float(data["sheathing_in"])))
    extra = (Layer("plasterboard", wall.membrane_in),) if wall.membrane_in > 0 else ()
    return (*extra, *inner, *board, *extra)


def _wall(job: Job, wall: Wall) -> list[Upright]:
    level = job.level(wall.level)
    z0, z1 = level.subfloor_z_in, plate_top_z_in(level)
    layers, says = wall_layers(job, wall), f"wall {wall.id}"
    out: list[Upright] = []
    openings = sorted((o for o in job.openings if o.wall == wall.id), key=lambda o: (o.offset_in, o.id))
    gaps = [(o.offset_in, o.offset_in + o.width_in) for o in openings]
    for low, high in cut_interval(0.0, wall.length_in, gaps):
        out.append(Upright(wall_point(wall, low), wall_point(wall, high), (z0, z1), layers, says=says))
    for opening in openings:
        a = wall_point(wall, max(opening.offset_in, 0.0))
        b = wall_point(wall, min(opening.offset_in + opening.width_in, wall.length_in))
        sill, head = z0 + opening.sill_in, min(z0 + opening.head_in, z1)
        if below(z0, sill):
            out.append(Upright(a, b, (z0, sill), layers, says=says))
        if below(head, z1):
            out.append(Upright(a, b, (head, z1), layers, says=says))
        filled, flat_db = _filling(wall, opening)
        out.append(Upright(a, b, (sill, head), filled, flat_db, f"{opening.kind} in {says}"))
    return out


def _filling(wall: Wall, opening: Opening) -> tuple[tuple[Layer, ...], float]:
    """What fills an opening: glass, a door leaf taken as shut, or nothing."""
    data, kind = physics_table("radio")["house"], opening.kind.lower()
    if opening.is_window or "patio" in kind or "sliding glass" in kind:
        return (Layer("glass", 0.125), Layer("air", 0.5), Layer("glass", 0.125)), 0.0
    if "overhead" in kind:
        return (), float(data["steel_door_db"])
    if "cased" in kind or "opening" in kind:
        return (), 0.0
    return (Layer("wood", float(data["outside_door_in" if wall.exterior else "door_in"])),), 0.0


def _floors(job: Job) -> tuple[Lying, ...]:
    out: list[Lying] = []
    for frame in job.frames:
        if frame.below_level is None:
            continue
        holes = [Rect(*o.rect) for o in job.floor_openings if frame.id in o.frames]
        z = (frame.z_bottom_in + frame.z_top_in) / 2
        for piece in subtract_all(frame.rect, holes):
            rect = (piece.u0, piece.v0, piece.u1, piece.v1)
            out.append(Lying(rect, z, floor_layers(job, frame), f"floor of level {frame.below_level}"))
    ordered = sorted(job.levels, key=lambda level: level.subfloor_z_in)
    for lower, upper in itertools.pairwise(ordered):
        if not any(frame.below_level == upper.id for frame in job.frames):
            out += _assumed(job, lower, upper)
    return tuple(out)


def _assumed(job: Job, lower: Level, upper: Level) -> list[Lying]:
    """A usual wood floor under a level that nobody drew a floor for."""
    points = [p for room in job.rooms if room.level == upper.id for p in room.polygon]
    if not points:
        return []
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    data = physics_table("radio")["house"]
    layers = (
        Layer("plasterboard", max(lower.ceiling_board_in, 0.25)),
        Layer("air", 9.25),
        Layer(str(data["deck"]), float(data["deck_in"])),
    )
    rect = (min(xs), min(ys), max(xs), max(ys))
    return [Lying(rect, upper.subfloor_z_in - 1.0, layers, f"floor of level {upper.id}, taken for wood")]


def floor_layers(job: Job, frame: FloorFrame) -> tuple[Layer, ...]:
    """Layers of a floor from the ceiling under it up to its deck."""
    data = physics_table("radio")["house"]
    deck = Layer(str(data["deck"]), float(data["deck_in"]))
    air = Layer("air", min(max(frame.member_depth_in, 1.0), 60.0))
    if frame.above_level is None:
        return air, deck
    board_in = job.level(frame.above_level).ceiling_board_in
    return (Layer("plasterboard", board_in), air, deck) if board_in > 0 else (air, deck)


def is_metal(thing: Obstacle) -> bool:
    """True for what the table names as metal: ducts, panels, furnaces … thick enough to matter."""
    data = physics_table("radio")["coverage"]
    if thing.is_power_run or not any(word in thing.kind.lower() for word in data["metal_words"]):
        return False
    return thing.diameter_in is None or not below(thing.diameter_in, float(data["metal_least_in"]))


def _metal(job: Job, thing: Obstacle) -> Metal | None:
    if not is_metal(thing) or "pvc" in thing.kind.lower():
        return None
    z = thing.z_in
    if z is None:
        levels = [level for level in job.levels if level.id in thing.levels]
        if not levels:
            return None
        z = (min(v.subfloor_z_in for v in levels), max(plate_top_z_in(v) for v in levels))
    if thing.rect is not None:
        return Metal(thing.rect, z, thing.kind)
    if thing.center is None or thing.diameter_in is None:
        return None
    x, y = thing.center
    if x is None or y is None:
        return None
    r = thing.diameter_in / 2
    return Metal((x - r, y - r, x + r, y + r), z, thing.kind)


def metal_within(job: Job, at: tuple[float, float, float], near_in: float) -> tuple[tuple[str, float], ...]:
    """Metal things near a point: (words, distance [in]), nearest first."""
    found = []
    for thing in screens(job).metal:
        x0, y0, x1, y1 = thing.rect
        gaps = (
            max(x0 - at[0], 0.0, at[0] - x1),
            max(y0 - at[1], 0.0, at[1] - y1),
            max(thing.z_in[0] - at[2], 0.0, at[2] - thing.z_in[1]),
        )
        away = math.hypot(*gaps)
        if below(away, near_in):
            found.append((thing.says, away))
    return tuple(sorted(found, key=lambda one: (one[1], one[0])))
