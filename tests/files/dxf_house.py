"""A four-room house of our own as a DXF drawing: 40 by 28 ft, drawn as an architect would draw it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

Point = tuple[float, float]
EXTERIOR_IN, INTERIOR_IN = 6.5, 4.5
OUTER_IN = (480.0, 336.0)
WALLS: tuple[tuple[Point, Point, float], ...] = (
    ((0.0, 3.25), (480.0, 3.25), EXTERIOR_IN),
    ((0.0, 332.75), (480.0, 332.75), EXTERIOR_IN),
    ((3.25, 0.0), (3.25, 336.0), EXTERIOR_IN),
    ((476.75, 0.0), (476.75, 336.0), EXTERIOR_IN),
    ((240.0, 6.5), (240.0, 329.5), INTERIOR_IN),
    ((6.5, 168.0), (237.75, 168.0), INTERIOR_IN),
    ((242.25, 200.0), (473.5, 200.0), INTERIOR_IN),
)
# wall, low edge along it in plan, width
DOORS: tuple[tuple[int, float, float], ...] = (
    (0, 60.0, 36.0),
    (4, 60.0, 30.0),
    (5, 100.0, 30.0),
    (6, 300.0, 28.0),
)
WINDOWS: tuple[tuple[int, float, float], ...] = (
    (0, 150.0, 48.0),
    (0, 330.0, 48.0),
    (2, 230.0, 48.0),
    (1, 350.0, 24.0),
)
ROOMS: tuple[tuple[str, Point, float], ...] = (
    # name, where its text stands, clear area by hand [in2]
    ("LIVING", (110.0, 90.0), 231.25 * 159.25),
    ("KITCHEN", (110.0, 250.0), 231.25 * 159.25),
    ("BEDROOM 1", (350.0, 100.0), 231.25 * 191.25),
    ("BATH", (350.0, 270.0), 231.25 * 127.25),
)


@dataclass(frozen=True)
class Look:
    """How the same house is drawn."""

    per_inch: float = 1.0
    insunits: int | None = 1
    wall_layer: str = "A-WALL"
    door_layer: str = "A-DOOR"
    window_layer: str = "A-GLAZ"
    text_layer: str = "A-ROOM-NAME"
    door_block: str = "DOOR-SGL"
    window_block: str = "WIN-DH"
    swings: bool = True
    loose: bool = False
    at: Point = (0.0, 0.0)
    texts: bool = True
    walls: tuple[tuple[Point, Point, float], ...] = WALLS
    doors: tuple[tuple[int, float, float], ...] = DOORS
    bare: tuple[tuple[int, float, float], ...] = ()
    """Breaks in a wall with nothing in them."""


def _hole(
    walls: tuple[tuple[Point, Point, float], ...], wall: int, low: float, width: float
) -> tuple[float, float, float, float]:
    (ax, ay), (bx, _by), thick = walls[wall]
    if ax == bx:
        return ax - thick, low, ax + thick, low + width
    return low, ay - thick, low + width, ay + thick


def draw(path: Path, look: Look | None = None) -> Path:
    """Write the house in one way of drawing it."""
    from ezdxf.filemanagement import new
    from shapely.geometry import LineString, box
    from shapely.ops import unary_union

    look = look or Look()
    k = look.per_inch
    document = new("R2010")
    if look.insunits is None:
        del document.header["$INSUNITS"]
    else:
        document.header["$INSUNITS"] = look.insunits
    space = document.modelspace()

    def at(p: Point) -> Point:
        return (p[0] + look.at[0]) * k, (p[1] + look.at[1]) * k

    bands = [LineString((a, b)).buffer(t / 2, cap_style="flat") for a, b, t in look.walls]
    holes = [box(*_hole(look.walls, *o)) for o in (*look.doors, *WINDOWS, *look.bare)]
    shape = unary_union(bands).difference(unary_union(holes))
    for part in getattr(shape, "geoms", [shape]):
        for ring in (part.exterior, *part.interiors):
            points = [(float(x), float(y)) for x, y in ring.coords]
            for a, b in pairwise(points):
                space.add_line(at(a), at(b), dxfattribs={"layer": look.wall_layer})
    door = document.blocks.new(look.door_block)
    door.add_line((0, 0), (0, k))
    if look.swings:
        door.add_arc((0, 0), k, 0, 90)
    else:
        door.add_lwpolyline([(0, 0), (k, 0), (k, 0.1 * k), (0, 0.1 * k), (0, 0)])
    window = document.blocks.new(look.window_block)
    for y in (-2.0, 0.0, 2.0):
        window.add_line((0, y * k), (k, y * k))
    for wall, low, width in look.doors:
        (ax, ay), (bx, _), thick = look.walls[wall]
        upright = ax == bx
        hinge = (ax - thick / 2, low) if upright else (low, ay + thick / 2)
        _place(
            space,
            look,
            look.door_block,
            look.door_layer,
            at(hinge),
            90.0 if upright else 0.0,
            width,
            even=True,
        )
    for wall, low, width in WINDOWS:
        (ax, ay), (bx, _), _ = look.walls[wall]
        upright = ax == bx
        where = (ax, low) if upright else (low, ay)
        _place(space, look, look.window_block, look.window_layer, at(where), 90.0 if upright else 0.0, width)
    for name, where, _ in ROOMS if look.texts else ():
        space.add_text(name, height=8 * k, dxfattribs={"layer": look.text_layer}).set_placement(at(where))
    document.saveas(path)
    return path


def _place(
    space: Any,
    look: Look,
    block: str,
    layer: str,
    where: Point,
    turn: float,
    width: float,
    even: bool = False,
) -> None:
    parts = space.doc.blocks.get(block)
    for part in parts if look.loose else ():
        part.dxf.layer = layer
    insert = space.add_blockref(
        block, where,
        dxfattribs={"layer": layer, "rotation": turn, "xscale": width, "yscale": width if even else 1.0},
    )  # fmt: skip
    if look.loose:
        insert.explode()
