"""Walls of an IFC file: reference line and layers, or the solid's footprint, to straight pieces.

Source of the layer rule: IFC4 ADD2 TC1, IfcMaterialLayerSetUsage: layers are stacked from
OffsetFromReferenceLine toward the positive or negative AXIS2 (y) of the element's placement.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any

from bayrun.files.ifc_outline import BROADEST_IN, footprint, strips
from bayrun.files.ifc_shapes import Shape, Shapes, Transform
from bayrun.files.shell import LayerKind, Point, ShellLayer
from bayrun.files.shell_guess import spacing_of_name

_KINDS: tuple[tuple[LayerKind, str], ...] = (
    ("board", r"gypsum|plaster|drywall|wallboard|gwb|gips"),
    ("insulation", r"insul|foam|wool|d(ä|ae)mm"),
    ("steel studs", r"(metal|steel|light.?gauge).*(stud|fram|furring)|(stud|fram|furring).*(metal|steel)"),
    ("wood studs", r"stud|timber|lumber|fram(e|ing)|wood.*cavity|st(ä|ae)nder|\b2 ?x ?[346]\b"),
    ("masonry", r"brick|block|masonry|concrete|cmu|stone|beton|mauer|ziegel"),
    ("air", r"\bair\b|air.?space|cavity|luft"),
)
_WIDEST_STUD_IN, _FULL_STUD = 4.0, 0.8
"""A part this narrow along its wall and this share of its height is a full stud."""
_SAME_IN = 0.25
"""Drawn and stated faces of a wall may differ by this much before it is told [in]."""


SolidsOf = Callable[[Any], tuple[Shape, ...]]
"""Gives the solids of an element, by whatever means the reader has."""


@dataclass(frozen=True, slots=True)
class Band:
    """One straight stretch of a wall in plan, before levels are known: face to face and core."""

    start: Point
    end: Point
    thickness_in: float
    core_in: float
    core: LayerKind
    left_in: float
    right_in: float
    layers: tuple[ShellLayer, ...]
    read_from: str


@dataclass(slots=True)
class WallFound:
    """What one wall of the file came to: stretches in plan, heights, and remarks by kind.

    ``spacing_in`` and ``stud_centers_in`` (along the first stretch) are there where its name or its own
    studs tell them.
    """

    label: str
    bands: list[Band] = field(default_factory=list)
    z_bottom_in: float = 0.0
    z_top_in: float = 0.0
    remarks: list[str] = field(default_factory=list)
    spacing_in: float | None = None
    stud_centers_in: tuple[float, ...] = ()


def kind_of_layer(name: str, thickness_in: float) -> LayerKind:
    """What a material name says a layer is; a thin layer without a telling name is ``other``."""
    for kind, pattern in _KINDS:
        if re.search(pattern, name, re.IGNORECASE):
            return kind
    return "other"


def core_of(layers: Sequence[ShellLayer]) -> tuple[float, float, LayerKind]:
    """From the left face: where the core starts and ends, and what it is.

    Studs are the core where the layers name one field of studs. Two fields of studs with masonry
    between them (a party wall) count by their masonry. Without either, boards are taken off both faces.
    """
    edges = [0.0]
    for layer in layers:
        edges.append(edges[-1] + layer.thickness_in)
    studs = [i for i, layer in enumerate(layers) if layer.kind in ("wood studs", "steel studs")]
    stones = [i for i, layer in enumerate(layers) if layer.kind == "masonry"]
    if studs and studs[-1] - studs[0] == len(studs) - 1:
        return edges[studs[0]], edges[studs[-1] + 1], layers[studs[0]].kind
    if stones:
        return edges[stones[0]], edges[stones[-1] + 1], "masonry"
    inner = [i for i, layer in enumerate(layers) if layer.kind != "board"]
    if not inner:
        return 0.0, edges[-1], "other"
    kinds = {layers[i].kind for i in inner}
    return edges[inner[0]], edges[inner[-1] + 1], kinds.pop() if len(kinds) == 1 else "other"


def material_of(wall: Any) -> Any:
    """The material usage or layer set of a wall or of its type, or None."""
    for owner in (wall, *_types(wall)):
        for link in getattr(owner, "HasAssociations", ()) or ():
            if link.is_a("IfcRelAssociatesMaterial") and link.RelatingMaterial is not None:
                material = link.RelatingMaterial
                if material.is_a("IfcMaterialLayerSetUsage") or material.is_a("IfcMaterialLayerSet"):
                    return material
    return None


def _types(element: Any) -> list[Any]:
    links = list(getattr(element, "IsTypedBy", ()) or ()) + [
        link for link in getattr(element, "IsDefinedBy", ()) or () if link.is_a("IfcRelDefinesByType")
    ]
    return [link.RelatingType for link in links]


def layers_of(material: Any, scale_in: float, clean: Any) -> tuple[ShellLayer, ...]:
    """The layers of a layer set in the file's order; layers without thickness are left out."""
    layer_set = material.ForLayerSet if material.is_a("IfcMaterialLayerSetUsage") else material
    found = []
    for layer in layer_set.MaterialLayers:
        thickness_in = float(layer.LayerThickness) * scale_in
        if thickness_in > 1e-6:
            own = getattr(layer, "Name", None) or ""
            name = clean((layer.Material.Name if layer.Material else "") or own or "unnamed layer")
            found.append(ShellLayer(name, thickness_in, kind_of_layer(f"{name} {own}", thickness_in)))
    return tuple(found)


def read_wall(
    wall: Any, shapes: Shapes, label: str, clean: Any, solids_of: SolidsOf | None = None
) -> WallFound:
    """One wall (with its parts, where it is built of parts) as straight stretches in plan.

    Raises:
        ValueError, RuntimeError, AttributeError, TypeError: The file's data for it are damaged.
    """
    found = WallFound(label)
    told = shapes.of(wall)
    solids = told if solids_of is None else solids_of(wall)
    solids_of = solids_of or shapes.of
    from_parts = not solids
    # Each stick for itself: a file may hold all studs of a wall in one element.
    sticks: list[tuple[Shape, ...]] = [(s,) for part in parts_of(wall) for s in solids_of(part)]
    if from_parts:
        solids = tuple(s for stick in sticks for s in stick)
    where = shapes.placement(wall.ObjectPlacement)
    heights = [p[2] for solid in solids for p in solid.points]
    if heights:
        found.z_bottom_in, found.z_top_in = min(heights), max(heights)
    else:
        found.z_bottom_in = found.z_top_in = where.o[2]
        found.remarks.append("without a solid")
    if any(solid.clipped for solid in solids):
        found.remarks.append("clipped in a way that could not be reckoned: taken unclipped")
    material = material_of(wall)
    layers = layers_of(material, shapes.scale_in, clean) if material is not None else ()
    axis = _axis(wall, shapes, where)
    if axis:
        # A wall's own layers tell its faces; what other walls cut off it at a joint does not make it thinner.
        flat = tuple((p[0], p[1]) for s in (told or solids) for p in s.points)
        if len(axis) > 2:
            found.remarks.append("with a bent reference line")
        source = "parts" if from_parts and solids else "axis"
        for a, b in pairwise(axis):
            if math.dist(a, b) > 1.0:
                found.bands.append(
                    _from_axis(
                        a, b, where, material, layers, flat, len(axis) == 2, source, found, shapes.scale_in
                    )
                )
    elif solids:
        polygons = footprint(solids)
        for polygon in polygons:
            found.bands.extend(_from_outline(s, e, t, where, material, layers) for s, e, t in strips(polygon))
        if len(found.bands) > 1:
            found.remarks.append("split into straight pieces")
        if not found.bands:
            found.remarks.append("no two faces that run along each other")
    if wall.is_a("IfcCurtainWall"):
        found.bands = [replace(band, core="glass") for band in found.bands]
    texts = [label, *(layer.name for layer in layers), *(clean(t.Name) for t in _types(wall))]
    found.spacing_in = next((s for s in map(spacing_of_name, texts) if s is not None), None)
    if sticks and len(found.bands) == 1:
        _note_studs(found, sticks)
    return found


def _note_studs(found: WallFound, sticks: Sequence[tuple[Shape, ...]]) -> None:
    """Where the full studs of a wall stand that is drawn with its members, and how far apart."""
    band = found.bands[0]
    length = math.dist(band.start, band.end)
    dx, dy = (band.end[0] - band.start[0]) / length, (band.end[1] - band.start[1]) / length
    full: list[float] = []
    for stick in sticks:
        points = [p for solid in stick for p in solid.points]
        if not points:
            continue
        along = [(p[0] - band.start[0]) * dx + (p[1] - band.start[1]) * dy for p in points]
        high = max(p[2] for p in points) - min(p[2] for p in points)
        wide = max(along) - min(along)
        if wide <= _WIDEST_STUD_IN and high >= _FULL_STUD * (found.z_top_in - found.z_bottom_in):
            full.append(round((min(along) + max(along)) / 2, 4) + 0.0)
    found.stud_centers_in = tuple(sorted(set(full)))
    gaps = Counter(round(b - a, 2) for a, b in pairwise(found.stud_centers_in) if b - a >= 8.0)
    if gaps:
        common, often = max(gaps.items(), key=lambda g: (g[1], g[0]))
        if often >= 2 or len(gaps) == 1:
            found.spacing_in = common


def parts_of(element: Any, depth: int = 0) -> list[Any]:
    """All elements an element is built of, parts of parts included."""
    if depth > 8:
        return []
    found: list[Any] = []
    for link in getattr(element, "IsDecomposedBy", ()) or ():
        for part in link.RelatedObjects:
            found.append(part)
            found.extend(parts_of(part, depth + 1))
    return found


def _axis(wall: Any, shapes: Shapes, where: Transform) -> tuple[Point, ...]:
    if wall.Representation is None:
        return ()
    for representation in wall.Representation.Representations:
        if representation.RepresentationIdentifier == "Axis" and representation.Items:
            points = [where.point(p) for p in shapes.curve(representation.Items[0])]
            flat: list[Point] = []
            for p in points:
                if not flat or math.dist(flat[-1], (p[0], p[1])) > 1e-3:
                    flat.append((p[0], p[1]))
            return tuple(_straightened(flat)) if len(flat) > 1 else ()
    return ()


def _straightened(points: list[Point]) -> list[Point]:
    """The line without corners that do not bend."""
    kept = [points[0]]
    for here, following in zip(points[1:], [*points[2:], None], strict=True):
        if following is not None:
            ax, ay, bx, by = (
                here[0] - kept[-1][0],
                here[1] - kept[-1][1],
                following[0] - here[0],
                following[1] - here[1],
            )
            if (
                abs(ax * by - ay * bx) < 1e-4 * math.hypot(ax, ay) * math.hypot(bx, by)
                and ax * bx + ay * by > 0
            ):
                continue
        kept.append(here)
    return kept


def _from_axis(
    a: Point,
    b: Point,
    where: Transform,
    material: Any,
    layers: tuple[ShellLayer, ...],
    flat: tuple[Point, ...],
    single: bool,
    source: str,
    found: WallFound,
    scale_in: float,
) -> Band:
    length = math.dist(a, b)
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    stated: tuple[float, float] | None = None
    total = sum(layer.thickness_in for layer in layers)
    if layers and material.is_a("IfcMaterialLayerSetUsage"):
        offset = float(material.OffsetFromReferenceLine) * scale_in
        sign = 1.0 if material.DirectionSense == "POSITIVE" else -1.0
        # Toward +y of the placement: is that left of the line?
        y_is_left = where.y[0] * -dy + where.y[1] * dx >= 0
        ends = sorted((offset, offset + sign * total))
        stated = (ends[0], ends[1]) if y_is_left else (-ends[1], -ends[0])
        if (sign > 0) == y_is_left:
            layers = layers[::-1]
    low, high = stated or (-total / 2, total / 2)
    if flat and single:
        across = [(p[1] - a[1]) * dx - (p[0] - a[0]) * dy for p in flat]
        along = [(p[0] - a[0]) * dx + (p[1] - a[1]) * dy for p in flat]
        drawn = (min(across), max(across))
        if drawn[1] - drawn[0] <= BROADEST_IN * 1.5:
            if stated and max(abs(drawn[0] - stated[0]), abs(drawn[1] - stated[1])) > _SAME_IN:
                found.remarks.append("drawn faces differ from stated layers")
            low, high = drawn
        reach = (high - low) + 2.0
        if min(along) < -reach or max(along) > length + reach or max(along) - min(along) < length - 2 * reach:
            found.remarks.append("drawn longer or shorter than its reference line")
            a, b = (
                (a[0] + dx * min(along), a[1] + dy * min(along)),
                (a[0] + dx * max(along), a[1] + dy * max(along)),
            )
    if high - low < 0.5:
        found.remarks.append("without a thickness")
        low, high = -2.25, 2.25
    return _band(a, b, low, high, layers, source)


def _from_outline(
    start: Point,
    end: Point,
    thickness_in: float,
    where: Transform,
    material: Any,
    layers: tuple[ShellLayer, ...],
) -> Band:
    if (end[0] - start[0]) * where.x[0] + (end[1] - start[1]) * where.x[1] < 0:
        start, end = end, start
    if layers and material.is_a("IfcMaterialLayerSetUsage"):
        length = math.dist(start, end)
        dx, dy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
        if (material.DirectionSense == "POSITIVE") == (where.y[0] * -dy + where.y[1] * dx >= 0):
            layers = layers[::-1]
    return _band(start, end, -thickness_in / 2, thickness_in / 2, layers, "body")


def _band(a: Point, b: Point, low: float, high: float, layers: tuple[ShellLayer, ...], source: str) -> Band:
    """A stretch from a line and its two faces (left positive): the line is moved to the core's center."""
    thickness = high - low
    total = sum(layer.thickness_in for layer in layers)
    if not layers or abs(total - thickness) > max(1.0, 0.1 * thickness):
        core_left, core_right, kind = 0.0, thickness, core_of(layers)[2] if layers else "other"
        layers = ()
    else:
        core_left, core_right, kind = core_of(layers)
    middle = high - (core_left + core_right) / 2
    length = math.dist(a, b)
    nx, ny = -(b[1] - a[1]) / length, (b[0] - a[0]) / length
    move = (nx * middle, ny * middle)
    return Band(
        (a[0] + move[0], a[1] + move[1]),
        (b[0] + move[0], b[1] + move[1]),
        thickness,
        core_right - core_left,
        kind,
        high - middle,
        middle - low,
        layers,
        source,
    )
