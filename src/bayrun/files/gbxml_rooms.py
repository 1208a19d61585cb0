"""Rooms, levels and floors of an energy model, by the heights its surfaces really have."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any
from xml.etree.ElementTree import Element

from bayrun.files.gbxml_read import (
    FLAT,
    FLOOR_TYPES,
    LEVEL_APART_IN,
    EnergyRoom,
    Reading,
    Surface,
    number_of,
    title_of,
    unit_power,
)
from bayrun.files.shell import (
    Point,
    ShellLayer,
    ShellLevel,
    ShellPiece,
)
from bayrun.files.xml_safe import named, text_of
from bayrun.geometry import at_most
from bayrun.units import tape

FLOOR_IN = 11.5
"""Stated where the file has none: 2x10 joists with subfloor and ceiling (common practice, no source) [in]."""


def rooms_of(
    reading: Reading, root: Element, spaces: Sequence[Element], surfaces: Sequence[Surface],
    walls: Sequence[Surface],
) -> tuple[list[EnergyRoom], list[EnergyRoom]]:  # fmt: skip
    """The spaces people live in, and the ones without walls of their own: roofs and voids."""
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    area_in2 = unit_power(root, "areaUnit", 2, reading.scale_in)
    volume_in3 = unit_power(root, "volumeUnit", 3, reading.scale_in)
    rooms: list[EnergyRoom] = []
    roofs: list[EnergyRoom] = []
    lost: list[str] = []
    for element in spaces:
        space_id = element.get("id") or ""
        title = title_of(text_of(element, "Name") or space_id) or "Room"
        mine = [s for s in surfaces if space_id in s.spaces]
        level = [s for s in mine if abs(s.normal[2]) > 1 - FLAT and s.kind in FLOOR_TYPES]
        uprights = [s for s in walls if space_id in s.spaces]
        if not level:
            lost.append(title)
            continue
        low = min(s.z_in[0] for s in (uprights or level))
        floor = [s for s in level if abs(s.z_in[0] - low) < 6.0] or level
        shape = unary_union([Polygon(s.flat).buffer(0) for s in floor])
        shape = shape.buffer(0.05, join_style="mitre").buffer(-0.05, join_style="mitre").simplify(0.05)
        if shape.geom_type != "Polygon":
            shape = max(shape.geoms, key=lambda g: (g.area, g.bounds), default=None)
        if shape is None or shape.area < 144.0:
            lost.append(title)
            continue
        area = number_of(text_of(element, "Area"))
        volume = number_of(text_of(element, "Volume"))
        declared = area * area_in2 if area else None
        height = volume * volume_in3 / declared if volume and declared else None
        room = EnergyRoom(space_id, title, low, declared, height, shape)
        (rooms if uprights else roofs).append(room)
    if lost:
        reading.tell(
            "not understood", f"{len(lost)} spaces without a floor that can be read", len(lost), lost
        )
    if roofs:
        reading.tell(
            "left out",
            f"{len(roofs)} spaces without walls of their own: a roof or a void, no room",
            len(roofs),
            [r.title for r in roofs],
        )
    return rooms, roofs


def levels_of(
    reading: Reading, building: Element, rooms: Sequence[EnergyRoom], walls: Sequence[Surface]
) -> tuple[ShellLevel, ...]:
    """Levels by the real heights of floors; names from the file's storeys where they lie at that height."""
    heights = sorted(r.floor_in for r in rooms) or sorted(w.z_in[0] for w in walls)
    floors: list[list[float]] = []
    for z in heights:
        if floors and z - floors[-1][0] < LEVEL_APART_IN:
            floors[-1].append(z)
        else:
            floors.append([z])
    said: list[tuple[float, str]] = []
    for storey in named(building, "BuildingStorey"):
        try:
            z = float(text_of(storey, "Level")) * reading.scale_in
        except ValueError:
            continue
        said.append((z, title_of(text_of(storey, "Name") or storey.get("id") or "")))
    made: list[ShellLevel] = []
    unnamed: list[str] = []
    top = max(w.z_in[1] for w in walls)
    for i, cluster in enumerate(floors):
        z = min(cluster, key=lambda v: (-cluster.count(v), v))
        near = [n for s, n in said if abs(s - z) < 24.0 and n]
        name = near[0] if near else f"Level {i + 1}"
        if not near:
            unnamed.append(name)
        if name in [m.name for m in made]:
            name = f"{name} ({i + 1})"
        up = min(floors[i + 1]) if i + 1 < len(floors) else max(top, z + 84.0)
        inside = sorted(r.height_in for r in rooms if r.floor_in in cluster and r.height_in)
        ceiling = inside[len(inside) // 2] if inside else None
        made.append(ShellLevel(name, z, up - z, "story", ceiling))
    if unnamed:
        reading.tell(
            "mended",
            f"the file has {len(said)} storeys; its floors lie at {len(floors)} heights: "
            "levels are taken by height",
            len(unnamed),
            unnamed,
        )
    return tuple(made)


def level_of(levels: Sequence[ShellLevel], z_in: float) -> ShellLevel:
    """The level a height belongs to."""
    below = [v for v in levels if at_most(v.elevation_in, z_in + LEVEL_APART_IN / 2)]
    return below[-1] if below else levels[0]


def outline_of(shape: Any) -> tuple[Point, ...]:
    """The corners of a figure, the first one not repeated."""
    return tuple((float(x), float(y)) for x, y in shape.exterior.coords[:-1])


def pieces_of(
    reading: Reading, surfaces: Sequence[Surface], levels: Sequence[ShellLevel],
    layers: dict[str, tuple[ShellLayer, ...]], rooms: Sequence[EnergyRoom],
) -> tuple[ShellPiece, ...]:  # fmt: skip
    """Slabs and ceilings as pieces with a thickness, floors filed as ceilings among them."""
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    pieces: list[ShellPiece] = []
    low = levels[0].elevation_in
    floors = {r.id: r.floor_in for r in rooms}
    filed: list[str] = []
    bare = 0
    high_slabs: list[str] = []
    for index in range(len(levels) + 1):
        z = (
            levels[index].elevation_in
            if index < len(levels)
            else levels[-1].elevation_in + levels[-1].height_in
        )
        here = [
            s for s in surfaces
            if s.kind in FLOOR_TYPES
            and abs(s.normal[2]) > 1 - FLAT
            and abs(s.z_in[0] - z) < LEVEL_APART_IN / 2
        ]  # fmt: skip
        shut = [s for s in here if s.kind not in ("SlabOnGrade", "UndergroundSlab") or abs(z - low) < 6.0]
        high_slabs += [s.id for s in here if s not in shut]
        filed += [
            s.id for s in shut
            if s.kind == "Ceiling"
            and any(abs(floors.get(space, -1e9) - s.z_in[0]) < 6.0 for space in s.spaces)
        ]  # fmt: skip
        if not shut:
            continue
        thick = [sum(v.thickness_in for v in layers[s.construction]) for s in shut]
        bare += sum(t == 0.0 for t in thick)
        deep = max(thick) or FLOOR_IN
        merged = unary_union([Polygon(s.flat).buffer(0) for s in shut])
        merged = merged.buffer(0.1, join_style="mitre").buffer(-0.1, join_style="mitre").simplify(0.05)
        largest = max(getattr(merged, "geoms", [merged]), key=lambda g: (g.area, g.bounds))
        level = levels[min(index, len(levels) - 1)].name
        label = "slab" if index == 0 else "floor" if index < len(levels) else "top ceiling"
        # The plane is the top of the floor: heights of rooms in such files are counted up from it.
        pieces.append(ShellPiece("slab", label, level, outline_of(largest), z - deep, z))
    if filed:
        reading.tell(
            "mended",
            f"{len(filed)} floors filed as ceilings are taken as floors of the level above",
            len(filed),
        )
    if high_slabs:
        reading.tell(
            "left out",
            f"{len(high_slabs)} surfaces filed as slab on the ground lie above it: eaves, no floor",
            len(high_slabs),
            high_slabs,
        )
    if bare:
        reading.tell(
            "assumed",
            f"{bare} floors and ceilings have no thickness in the file: taken as {tape(FLOOR_IN)}",
            bare,
        )
    slopes = [s for s in surfaces if s.kind == "Roof" and abs(s.normal[2]) <= 1 - FLAT]
    if slopes:
        normals = [s.normal for s in slopes if abs(s.normal[2]) > FLAT]
        pitches = sorted({round(12 * math.hypot(x, y) / abs(z), 1) for x, y, z in normals})
        told = " and ".join(f"{p:g} in 12" for p in pitches)
        reading.tell(
            "read", f"{len(slopes)} roof slopes ({told}) are not carried: the roof is assumed", len(slopes)
        )
    return tuple(pieces)


def tell_openings(reading: Reading, rooms: Sequence[EnergyRoom], surfaces: Sequence[Surface]) -> None:
    """Rooms that nobody can enter: an energy model leaves inner doors out, since they pass no heat."""
    entered: set[str] = set()
    for s in surfaces:
        if s.kind == "Air" or any(h.shell_kind == "door" for h in s.openings):
            entered.update(s.spaces)
    shut = [r.title for r in rooms if r.id not in entered]
    if shut:
        reading.tell(
            "not understood",
            f"{len(shut)} rooms have no door in the file: doors inside a house are often left out of an "
            "energy model. Draw them in before switches are placed",
            len(shut),
            shut,
        )
