"""Where the faces of an energy model's walls lie: its planes have no thickness of their own."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from bayrun.files.gbxml_read import (
    EnergyRoom,
    Reading,
)
from bayrun.files.gbxml_rooms import (
    outline_of,
)
from bayrun.files.gbxml_walls import WallLine
from bayrun.files.ifc_walls import core_of
from bayrun.files.shell import (
    Point,
    ShellLayer,
    ShellOpening,
    ShellSpace,
    ShellWall,
    area_of,
)

_PLACES: tuple[tuple[str, float], ...] = (("outer face", 1.0), ("middle", 0.5), ("inner face", 0.0))


def judged_place(reading: Reading, lines: Sequence[WallLine], by_level: dict[str, list[EnergyRoom]]) -> float:
    """The share of an exterior wall's thickness inside its plane: which of three fits the areas best."""
    tries: list[tuple[float, int]] = []
    for index, (_, share) in enumerate(_PLACES):
        off = total = 0.0
        for name, rooms in by_level.items():
            bands = [
                _line_band(line, share, [r.shape for r in rooms], lines)
                for line in lines
                if line.level == name
            ]
            for room in rooms:
                if room.area_in2:
                    off += abs(_inner(room.shape, bands).area - room.area_in2)
                    total += room.area_in2
        tries.append((off / total if total else 0.0, index))
    known = any(r.area_in2 for rooms in by_level.values() for r in rooms)
    off, index = min(tries, key=lambda t: (round(t[0], 4), t[1])) if known else (0.0, 1)
    words, share = _PLACES[index]
    if known:
        reading.tell(
            "assumed",
            f"exterior surfaces are the {words} of their walls, interior ones the middle: so the rooms come "
            f"within {max(off * 100, 0.1):.1f} % of the areas in the file",
        )
    else:
        reading.tell("assumed", "surfaces are the middle of their walls: the file gives no areas to judge by")
    return share


def _toward_left(line: WallLine, shapes: Sequence[Any]) -> bool:
    """True where the room that an exterior wall belongs to lies left of its line."""
    from shapely.geometry import Point as Dot

    (ax, ay), (bx, by) = line.start, line.end
    length = math.dist(line.start, line.end)
    nx, ny = -(by - ay) / length, (bx - ax) / length
    score = 0
    for t in (0.1, 0.3, 0.5, 0.7, 0.9):
        x, y = ax + (bx - ax) * t, ay + (by - ay) * t
        for sign in (1, -1):
            spot = Dot(x + nx * 2.0 * sign, y + ny * 2.0 * sign)
            score += sign * any(s.contains(spot) for s in shapes)
    return score >= 0


def _sides(line: WallLine, share: float, shapes: Sequence[Any]) -> tuple[float, float]:
    """From the surface's line to the left and to the right face [in]."""
    if not line.exterior:
        return line.thickness_in / 2, line.thickness_in / 2
    inside, outside = line.thickness_in * share, line.thickness_in * (1 - share)
    return (inside, outside) if _toward_left(line, shapes) else (outside, inside)


def _line_band(line: WallLine, share: float, shapes: Sequence[Any], lines: Sequence[WallLine]) -> Any:
    from shapely.geometry import Polygon

    left, right = _sides(line, share, shapes)
    (ax, ay), (bx, by) = line.start, line.end
    length = math.dist(line.start, line.end)
    dx, dy = (bx - ax) / length, (by - ay) / length
    low, high = (_reach(p, line, lines) for p in (line.start, line.end))
    ax, ay, bx, by = ax - dx * low, ay - dy * low, bx + dx * high, by + dy * high
    return Polygon(
        [
            (ax - dy * left, ay + dx * left),
            (bx - dy * left, by + dx * left),
            (bx + dy * right, by - dx * right),
            (ax + dy * right, ay - dx * right),
        ]
    )


def _reach(point: Point, line: WallLine, lines: Sequence[WallLine]) -> float:
    """How far a wall goes past its end so that it reaches the far face of an interior wall it meets [in]."""
    most = 0.0
    for other in lines:
        if other is not line and other.level == line.level and not other.exterior:
            length = math.dist(other.start, other.end)
            dx, dy = (other.end[0] - other.start[0]) / length, (other.end[1] - other.start[1]) / length
            x, y = point[0] - other.start[0], point[1] - other.start[1]
            if abs(y * dx - x * dy) < 1.0 and -1.0 < x * dx + y * dy < length + 1.0:
                most = max(most, other.thickness_in / 2)
    return most


def _inner(shape: Any, bands: Sequence[Any]) -> Any:
    from shapely.ops import unary_union

    left = (
        shape.difference(unary_union(list(bands)))
        .buffer(-0.6, join_style="mitre")
        .buffer(0.6, join_style="mitre")
    )
    return max(getattr(left, "geoms", [left]), key=lambda g: (g.area, g.bounds if not g.is_empty else ()))


def masonry_told(
    reading: Reading,
    lines: Sequence[WallLine],
    layers: dict[str, tuple[ShellLayer, ...]],
    names: dict[str, str],
) -> bool:
    """True where every interior wall is masonry by its construction: then studs are planned, and told."""
    inside = [line for line in lines if not line.exterior]
    stone = [line for line in inside if any(layer.kind == "masonry" for layer in layers[line.construction])]
    if not inside or len(stone) < len(inside):
        return False
    reading.tell(
        "assumed",
        f"look here first: all {len(stone)} interior walls are masonry in the energy model, which names "
        "layers for heat and not for building; they are planned as wood studs of the same thickness. If they "
        "are masonry, nothing in them holds",
        len(stone),
        [names.get(line.construction) or line.construction for line in stone],
    )
    return True


def wall_of(
    wall_id: str, line: WallLine, share: float, shapes: Sequence[Any], layers: tuple[ShellLayer, ...],
    names: dict[str, str], studs_inside: bool,
) -> ShellWall:  # fmt: skip
    """One wall of its line: the center line of its core, its layers from the left face."""
    left, right = _sides(line, share, shapes)
    label = names.get(line.construction) or ("exterior wall" if line.exterior else "interior wall")
    if studs_inside and not line.exterior:
        layers = ()
    toward_left = line.exterior and _toward_left(line, shapes)
    # The file lists layers from the outside in; a shell lists them from the left face.
    layers = layers[::-1] if toward_left else layers
    low, high, core = core_of(layers) if layers else (0.0, line.thickness_in, "other")
    middle = left - (low + high) / 2
    length = math.dist(line.start, line.end)
    dx, dy = (line.end[0] - line.start[0]) / length, (line.end[1] - line.start[1]) / length
    start = (line.start[0] - dy * middle, line.start[1] + dx * middle)
    end = (line.end[0] - dy * middle, line.end[1] + dx * middle)
    return ShellWall(
        wall_id, label, line.level, start, end, line.thickness_in, line.height_in, line.base_in,
        high - low, core, left - middle, right + middle, line.exterior, None, None, layers, "wall", "body",
        "+".join(line.refs),
    )  # fmt: skip


def band_of(wall: ShellWall, walls: Sequence[ShellWall]) -> Any:
    """A wall's footprint in plan, carried to the far face of the interior walls it meets."""
    from shapely.geometry import Polygon

    low = high = 0.0
    for other in walls:
        if other is wall or other.level != wall.level or other.exterior:
            continue
        for at_end, point in ((False, wall.start), (True, wall.end)):
            along, left = other.place(point)
            if abs(left) <= other.thickness_in / 2 + 1.0 and -1.0 < along < other.length_in + 1.0:
                reach = other.thickness_in / 2
                low, high = (low, max(high, reach)) if at_end else (max(low, reach), high)
    a, b = -low, wall.length_in + high
    return Polygon(
        [
            wall.at(a, wall.left_in),
            wall.at(b, wall.left_in),
            wall.at(b, -wall.right_in),
            wall.at(a, -wall.right_in),
        ]
    )


def space_of(room: EnergyRoom, level: str, bands: Sequence[Any]) -> ShellSpace:
    """One room along the inner faces of its walls."""
    inner = _inner(room.shape, bands)
    outline = outline_of(inner if inner.area > 144.0 else room.shape)
    return ShellSpace(
        room.title, "", level, outline, area_of(outline), room.area_in2, room.height_in, "room", room.id
    )


def openings_of_line(reading: Reading, wall: ShellWall, line: WallLine, before: int) -> list[ShellOpening]:
    """The doors, windows and holes of one wall, offsets from its start [in]."""
    found: list[ShellOpening] = []
    for hole in line.holes:
        along = sorted(wall.place((p[0], p[1]))[0] for p in hole.points)
        low, high = min(p[2] for p in hole.points), max(p[2] for p in hole.points)
        sill = low - line.elevation_in
        kind = hole.shell_kind
        if kind == "door" and 0.0 < sill < 6.0:
            # A threshold: the rough opening goes down to the subfloor.
            sill = 0.0
        width = along[-1] - along[0]
        if width < 6.0 or high - low < 6.0:
            reading.tell("left out", "an opening too small for a door or a window", 1, (hole.id,))
            continue
        found.append(
            ShellOpening(
                f"O{before + len(found) + 1}",
                wall.id,
                kind,
                hole.kind or kind,
                along[0],
                width,
                sill,
                high - line.elevation_in - sill,
                None,
                None,
                hole.id,
            )
        )
    return found
