"""Openings of an IFC file: how far along their wall, how wide and how high, from their own geometry.

Source of the hinge rule: IFC4 ADD2 TC1, IfcDoorTypeOperationEnum: the hinges of SINGLE_SWING_LEFT are
on the left seen along the positive y-axis of the door's placement, and the leaf opens toward that y.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from bayrun.files.ifc_levels import Remark
from bayrun.files.ifc_shapes import Shapes, Vector
from bayrun.files.shell import OpeningKind, ShellOpening, ShellWall, Side

_DOOR = re.compile(r"door|slider|patio|french|\bt(ü|ue)r\b|porte", re.I)
_WINDOW = re.compile(r"window|fenster|fen(ê|e)tre|casement|double.?hung|transom|side ?lite", re.I)
_LEAST_IN = 3.0
"""A hole narrower or lower than this is for a pipe, not for people or light [in]."""


@dataclass(frozen=True, slots=True)
class OpeningFound:
    """One opening in the file's world, before it is fitted into a wall piece."""

    kind: OpeningKind
    label: str
    host_ref: str | None
    points: tuple[Vector, ...]
    ref: str
    fill_ids: tuple[int, ...] = ()
    hinge_toward: Vector | None = None
    swings_toward: Vector | None = None


def read_opening(host: Any, opening: Any, shapes: Shapes, label: Callable[[Any], str]) -> OpeningFound:
    """One hole of a wall with what fills it.

    Raises:
        ValueError: It has neither geometry of its own nor a filling with a size.
    """
    fills = [link.RelatedBuildingElement for link in opening.HasFillings or ()]
    points = tuple(p for s in shapes.of(opening) for p in s.points)
    kind: OpeningKind = "void"
    if any(f.is_a("IfcDoor") for f in fills):
        kind = "door"
    elif any(f.is_a("IfcWindow") for f in fills):
        kind = "window"
    main = next((f for f in fills if f.is_a("IfcDoor")), fills[0] if fills else None)
    if not points and main is not None:
        points = _box(main, shapes)
    if not points:
        raise ValueError("an opening without geometry or size")
    hinge, swing = _swing(main, shapes) if main is not None and main.is_a("IfcDoor") else (None, None)
    named = label(main) if main is not None else "opening"
    ids = tuple(f.id() for f in fills)
    return OpeningFound(kind, named, host.GlobalId, points, opening.GlobalId, ids, hinge, swing)


def read_loose(entity: Any, shapes: Shapes, label: Callable[[Any], str]) -> OpeningFound | None:
    """A door or window that no wall was cut for, by its own size and place; None where it has none."""
    points = _box(entity, shapes)
    if not points:
        return None
    door = entity.is_a("IfcDoor")
    hinge, swing = _swing(entity, shapes) if door else (None, None)
    return OpeningFound(
        "door" if door else "window",
        label(entity),
        None,
        points,
        entity.GlobalId,
        (entity.id(),),
        hinge,
        swing,
    )


def _box(fill: Any, shapes: Shapes) -> tuple[Vector, ...]:
    wide, high = getattr(fill, "OverallWidth", None), getattr(fill, "OverallHeight", None)
    if not wide or not high or fill.ObjectPlacement is None:
        return tuple(p for s in shapes.of(fill) for p in s.points)
    where = shapes.placement(fill.ObjectPlacement)
    w, h = float(wide) * shapes.scale_in, float(high) * shapes.scale_in
    return tuple(where.point(p) for p in ((0.0, 0.0, 0.0), (w, 0.0, 0.0), (w, 0.0, h), (0.0, 0.0, h)))


def _swing(door: Any, shapes: Shapes) -> tuple[Vector | None, Vector | None]:
    operation = getattr(door, "OperationType", None)
    for link in (*(getattr(door, "IsTypedBy", ()) or ()), *(getattr(door, "IsDefinedBy", ()) or ())):
        if link.is_a("IfcRelDefinesByType"):
            operation = operation or getattr(link.RelatingType, "OperationType", None)
    if operation not in ("SINGLE_SWING_LEFT", "SINGLE_SWING_RIGHT"):
        return None, None
    where = shapes.placement(door.ObjectPlacement)
    side = -1.0 if operation == "SINGLE_SWING_LEFT" else 1.0
    return (where.x[0] * side, where.x[1] * side, where.x[2] * side), where.y


def fit_openings(
    found: Sequence[OpeningFound],
    walls: Sequence[ShellWall],
    elevations: Mapping[str, float],
    remark: Remark,
) -> tuple[ShellOpening, ...]:
    """Every opening as an interval along its wall piece, in wall order, with ids ``O1`` …"""
    order = {wall.id: index for index, wall in enumerate(walls)}
    by_ref: dict[str, list[ShellWall]] = {}
    for wall in walls:
        by_ref.setdefault(wall.source_ref, []).append(wall)
    standing = [wall for wall in walls if wall.role == "wall"]
    fitted = []
    for one in (_as_built(one, remark) for one in found):
        hosts = by_ref.get(one.host_ref, []) if one.host_ref is not None else standing
        host = _host(one, hosts, elevations, loose=one.host_ref is None)
        if host is None:
            remark("not understood", f"{{n}} {one.kind}s that are in no wall", one.label)
            continue
        if one.host_ref is None:
            remark(
                "mended",
                f"{{n}} {one.kind}s that no wall was cut for were put into the nearest wall",
                one.label,
            )
        cut = _cut(one, host, elevations[host.level], remark)
        if cut is not None:
            fitted.append(cut)
    fitted = _once(fitted, remark)
    fitted.sort(
        key=lambda o: (order[o.wall], round(o.offset_in, 3), round(o.sill_in, 3), o.kind, o.source_ref)
    )
    return tuple(replace(opening, id=f"O{number}") for number, opening in enumerate(fitted, 1))


def _as_built(one: OpeningFound, remark: Remark) -> OpeningFound:
    """A door that is filed as a window, or a window filed as a door, by its name."""
    if one.kind == "window" and _DOOR.search(one.label) and not _WINDOW.search(one.label):
        remark("mended", "{n} doors filed as windows are taken as doors by their names", one.label)
        return replace(one, kind="door")
    if one.kind == "door" and _WINDOW.search(one.label) and not _DOOR.search(one.label):
        remark("mended", "{n} windows filed as doors are taken as windows by their names", one.label)
        return replace(one, kind="window")
    return one


def _once(fitted: Sequence[ShellOpening], remark: Remark) -> list[ShellOpening]:
    """A hole that nothing fills, with a loose door or window standing in it, is one opening: the hole."""
    kept: list[ShellOpening] = []
    units = [o for o in fitted if o.kind != "void"]
    taken: set[int] = set()
    for hole in fitted:
        if hole.kind != "void":
            continue
        inside = [
            (i, u) for i, u in enumerate(units)
            if u.wall == hole.wall and i not in taken and _shared(u, hole) > 0.7 * u.width_in
        ]  # fmt: skip
        if not inside:
            kept.append(hole)
            continue
        _i, unit = inside[0]
        taken.update(i for i, _ in inside)
        remark("mended", f"{{n}} {unit.kind}s stand in holes that nothing fills in the file: one opening",
               unit.label)  # fmt: skip
        kept.append(
            replace(unit, offset_in=hole.offset_in, width_in=hole.width_in,
                    sill_in=hole.sill_in, height_in=hole.height_in, source_ref=hole.source_ref)
        )  # fmt: skip
    return [*kept, *(u for i, u in enumerate(units) if i not in taken)]


def _shared(a: ShellOpening, b: ShellOpening) -> float:
    """How much of their wall two openings share, 0 where they stand at different heights [in]."""
    if min(a.sill_in + a.height_in, b.sill_in + b.height_in) - max(a.sill_in, b.sill_in) < 0.5 * a.height_in:
        return 0.0
    return min(a.offset_in + a.width_in, b.offset_in + b.width_in) - max(a.offset_in, b.offset_in)


def _host(
    one: OpeningFound, walls: Sequence[ShellWall], elevations: Mapping[str, float], *, loose: bool
) -> ShellWall | None:
    x, y = (sum(p[i] for p in one.points) / len(one.points) for i in (0, 1))
    z = (min(p[2] for p in one.points) + max(p[2] for p in one.points)) / 2
    ranked = []
    for index, wall in enumerate(walls):
        along, left = wall.place((x, y))
        aside = abs(left - (wall.left_in - wall.right_in) / 2)
        beyond = max(0.0, -along, along - wall.length_in)
        base = elevations[wall.level] + wall.base_in
        over = max(0.0, base - z, z - base - wall.height_in)
        if loose and (aside > wall.thickness_in / 2 + 6.0 or beyond > 1.0 or over > 1.0):
            continue
        ranked.append((over, beyond + aside, index, wall))
    return min(ranked, key=lambda r: r[:3])[3] if ranked else None


def _cut(one: OpeningFound, wall: ShellWall, elevation_in: float, remark: Remark) -> ShellOpening | None:
    places = [wall.place((p[0], p[1])) for p in one.points]
    low, high = min(p[0] for p in places), max(p[0] for p in places)
    across = min(max(p[1] for p in places), wall.left_in) - max(min(p[1] for p in places), -wall.right_in)
    heights = [p[2] - elevation_in for p in one.points]
    sill, head = min(heights), max(heights)
    # A wall built of parts has its hole in the parts; the hole entity is often drawn shallow there.
    if one.kind == "void" and across < 0.8 * wall.thickness_in and wall.read_from != "parts":
        remark("left out", "{n} niches that do not go through their wall", wall.label)
        return None
    floor, top = wall.base_in, wall.base_in + wall.height_in
    if low < -0.25 or high > wall.length_in + 0.25:
        remark("mended", f"{{n}} {one.kind}s reached past the end of their wall and were cut back", one.label)
    if head > top + 0.25 or sill < floor - 0.25:
        remark(
            "mended",
            f"{{n}} {one.kind}s reached past the top or bottom of their wall and were cut back",
            one.label,
        )
    low, high = max(0.0, low), min(wall.length_in, high)
    sill, head = max(sill, floor), min(head, top)
    if high - low < _LEAST_IN or head - sill < _LEAST_IN:
        remark("left out", f"{{n}} {one.kind}s under 3 in wide or high", one.label)
        return None
    if high - low > 0.9 * wall.length_in:
        remark("read", f"{{n}} {one.kind}s take nearly the whole length of their wall", one.label)
    if one.kind == "window" and sill <= 2.0 and head - sill >= 75.0:
        remark("read", "{n} windows begin at the floor: look whether they are doors", one.label)
    hinge: Literal["low", "high"] | None = None
    side: Side | None = None
    dx, dy = wall.direction
    if one.hinge_toward is not None and one.swings_toward is not None:
        along = one.hinge_toward[0] * dx + one.hinge_toward[1] * dy
        left = one.swings_toward[1] * dx - one.swings_toward[0] * dy
        if math.hypot(along, 0) > 0.5 and abs(left) > 0.5:
            hinge, side = ("high" if along > 0 else "low"), ("left" if left > 0 else "right")
    return ShellOpening(
        "", wall.id, one.kind, one.label, low, high - low, sill, head - sill, hinge, side, one.ref
    )
