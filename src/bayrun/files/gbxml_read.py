"""What a gbXML file holds, in inches: surfaces, their openings, constructions and units."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

from bayrun.files.gbxml_walls import Hole
from bayrun.files.ifc_walls import kind_of_layer
from bayrun.files.privacy import without_people
from bayrun.files.shell import (
    ImportRefused,
    NoteKind,
    Point,
    ShellLayer,
    ShellNote,
)
from bayrun.files.xml_safe import named, text_of
from bayrun.units import tape

UNITS_IN = {
    "inches": 1.0, "feet": 12.0, "yards": 36.0, "miles": 63360.0, "millimeters": 1 / 25.4,
    "centimeters": 1 / 2.54, "meters": 1000 / 25.4, "kilometers": 1e6 / 25.4,
}  # fmt: skip
LEVEL_APART_IN = 60.0
"""Floors closer than this are steps of one level [in]."""
FLAT, UPRIGHT = 0.1, 0.1
WALL_TYPES = frozenset({"ExteriorWall", "InteriorWall", "UndergroundWall"})
FLOOR_TYPES = frozenset(
    {"InteriorFloor", "RaisedFloor", "SlabOnGrade", "UndergroundSlab", "ExposedFloor", "Ceiling",
     "UndergroundCeiling", "Roof"}
)  # fmt: skip
Spot = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Surface:
    """One planar surface of the file, in inches."""

    id: str
    kind: str
    spaces: tuple[str, ...]
    points: tuple[Spot, ...]
    construction: str
    openings: tuple[Hole, ...]

    @property
    def z_in(self) -> tuple[float, float]:
        """Lowest and highest point [in]."""
        zs = [p[2] for p in self.points]
        return min(zs), max(zs)

    @property
    def normal(self) -> Spot:
        """Unit normal."""
        return _normal(self.points)

    @property
    def flat(self) -> tuple[Point, ...]:
        """Seen from above."""
        return tuple((p[0], p[1]) for p in self.points)


@dataclass(slots=True)
class Reading:
    """One file while it is read."""

    path: Path
    scale_in: float = 1.0
    notes: list[ShellNote] = field(default_factory=list)
    bad: list[str] = field(default_factory=list)

    def tell(self, kind: NoteKind, text: str, count: int = 1, names: Sequence[str] = ()) -> None:
        """One more note; a long list of names is cut."""
        once = sorted(set(names))
        listed = (*once[:8], f"and {len(once) - 8} more") if len(once) > 8 else tuple(once)
        self.notes.append(ShellNote(kind, text, count, listed))


@dataclass(frozen=True, slots=True)
class EnergyRoom:
    """One space of the file before its walls have a thickness: its floor is drawn along wall planes."""

    id: str
    title: str
    floor_in: float
    area_in2: float | None
    height_in: float | None
    shape: Any


def clean(text: str) -> str:
    """A text on one line, without people, firms and addresses."""
    return without_people(text)[0][:60]


def title_of(name: str) -> str:
    """A name a person reads: DINING_ROOM becomes Dining room, BEDROOM2 becomes Bedroom 2."""
    words = " ".join(clean(name).replace("_", " ").split())
    if words.isupper() and len(words) > 3:
        words = words.capitalize()
    return re.sub(r"(?<=[a-z])(?=\d)", " ", words)


def scale_of(reading: Reading, root: Element, surfaces: Sequence[Element]) -> float:
    """Inches in the file's unit of length; judged by the height of the walls where it names none."""
    said = (root.get("lengthUnit") or "").strip()
    if said.lower() in UNITS_IN:
        return UNITS_IN[said.lower()]
    heights = []
    for surface in surfaces:
        if surface.get("surfaceType") in WALL_TYPES:
            zs = [p[2] for p in _points(surface, 1.0)]
            if zs and max(zs) > min(zs):
                heights.append(max(zs) - min(zs))
    middle = sorted(heights)[len(heights) // 2] if heights else 0.0
    for unit in ("feet", "meters", "inches", "millimeters", "centimeters"):
        if 84.0 <= middle * UNITS_IN[unit] <= 180.0:
            why = (
                f"names a unit of length nobody knows ({clean(said)})" if said else "names no unit of length"
            )
            reading.tell(
                "assumed",
                f"the file {why}: taken as {unit}, which makes its walls "
                f"{tape(middle * UNITS_IN[unit])} high",
            )
            return UNITS_IN[unit]
    raise ImportRefused(
        f"{reading.path.name}: expected a unit of length (lengthUnit, such as Feet or Meters), got "
        f"{clean(said) or 'none'}, and no unit makes its walls as high as a story; name it in the file"
    )


def _points(element: Element, scale_in: float) -> tuple[Spot, ...]:
    """The corners of an element's own plane; empty where they cannot be read."""
    plane = next(named(element, "PlanarGeometry"), None)
    loop = None if plane is None else next(named(plane, "PolyLoop"), None)
    if loop is None:
        return ()
    found: list[Spot] = []
    for corner in named(loop, "CartesianPoint"):
        try:
            x, y, z = (float(c.text or "") * scale_in for c in named(corner, "Coordinate"))
        except ValueError:
            return ()
        if not all(math.isfinite(v) and abs(v) < 1e7 for v in (x, y, z)):
            return ()
        # Float noise must not part what meets.
        spot = (round(x, 3) + 0.0, round(y, 3) + 0.0, round(z, 3) + 0.0)
        if not found or spot != found[-1]:
            found.append(spot)
    if len(found) > 1 and found[0] == found[-1]:
        found.pop()
    return tuple(found) if len(found) >= 3 and _normal(found) != (0.0, 0.0, 0.0) else ()


def _normal(points: Sequence[Spot]) -> Spot:
    x = y = z = 0.0
    for a, b in zip(points, [*points[1:], points[0]], strict=True):
        x += (a[1] - b[1]) * (a[2] + b[2])
        y += (a[2] - b[2]) * (a[0] + b[0])
        z += (a[0] - b[0]) * (a[1] + b[1])
    length = math.sqrt(x * x + y * y + z * z)
    return (x / length, y / length, z / length) if length > 1.0 else (0.0, 0.0, 0.0)


def surface_of(reading: Reading, element: Element) -> Surface | None:
    """One surface of the file; None, and told, where its plane cannot be read."""
    name = clean(element.get("id") or text_of(element, "Name") or "a surface without a name")
    points = _points(element, reading.scale_in)
    if not points:
        reading.bad.append(name)
        return None
    holes = []
    for opening in named(element, "Opening"):
        spots = _points(opening, reading.scale_in)
        title = clean(opening.get("id") or f"an opening of {name}")
        if spots:
            holes.append(Hole(title, opening.get("openingType") or "", spots))
        else:
            reading.bad.append(title)
    spaces = tuple(
        dict.fromkeys(
            a.get("spaceIdRef") or "" for a in named(element, "AdjacentSpaceId") if a.get("spaceIdRef")
        )
    )
    kind = element.get("surfaceType") or ""
    return Surface(name, kind, spaces, points, element.get("constructionIdRef") or "", tuple(holes))


def number_of(text: str) -> float | None:
    """A positive number, or None."""
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) and value > 0 else None


def unit_power(root: Element, name: str, power: int, scale_in: float) -> float:
    """Inches to a power in the file's unit of area or volume; that of its length where it names none."""
    said = re.sub(r"^(square|cubic)", "", (root.get(name) or "").strip().lower())
    return float(UNITS_IN.get(said, scale_in) ** power)


def layers_of_construction(root: Element, construction: str, scale_in: float) -> tuple[ShellLayer, ...]:
    """The layers of a construction, outside first; empty unless every one of them has a thickness."""
    by_id = {tag: {e.get("id"): e for e in named(root, tag)} for tag in ("Construction", "Layer", "Material")}
    found = by_id["Construction"].get(construction)
    made: list[ShellLayer] = []
    for layer_ref in [] if found is None else named(found, "LayerId"):
        layer = by_id["Layer"].get(layer_ref.get("layerIdRef"))
        for ref in [] if layer is None else named(layer, "MaterialId"):
            material = by_id["Material"].get(ref.get("materialIdRef"))
            measure = None if material is None else next(named(material, "Thickness"), None)
            value = None if measure is None else number_of((measure.text or "").strip())
            if material is None or measure is None or value is None:
                return ()
            unit = UNITS_IN.get((measure.get("unit") or "").strip().lower(), scale_in)
            name = clean(text_of(material, "Name")) or "unnamed layer"
            made.append(ShellLayer(name, value * unit, kind_of_layer(name, value * unit)))
    total = sum(layer.thickness_in for layer in made)
    return tuple(made) if 1.0 < total < 40.0 else ()


def tell_rest(reading: Reading, surfaces: Sequence[Surface]) -> None:
    """Tell what is neither wall nor floor: shades, air, leaning walls, skylights, other types."""
    shades = [s.id for s in surfaces if s.kind == "Shade"]
    if shades:
        reading.tell("left out", f"{len(shades)} shading surfaces are no part of the house", len(shades))
    airs = [s.id for s in surfaces if s.kind == "Air"]
    if airs:
        reading.tell(
            "read", f"{len(airs)} surfaces of air: the rooms are open to each other there", len(airs)
        )
    leaning = [s.id for s in surfaces if s.kind in WALL_TYPES and abs(s.normal[2]) >= UPRIGHT]
    if leaning:
        reading.tell(
            "left out",
            f"{len(leaning)} wall surfaces lean or lie: no studs are planned in them",
            len(leaning),
            leaning,
        )
    other = [s for s in surfaces if s.kind not in WALL_TYPES | FLOOR_TYPES | {"Shade", "Air"}]
    if other:
        kinds = ", ".join(sorted({clean(s.kind) or "no type" for s in other}))
        reading.tell(
            "not understood",
            f"{len(other)} surfaces of other types ({kinds})",
            len(other),
            [s.id for s in other],
        )
    skylights = [h.id for s in surfaces if s.kind not in WALL_TYPES for h in s.openings]
    if skylights:
        reading.tell(
            "left out",
            f"{len(skylights)} openings not in a wall (skylights, stairs)",
            len(skylights),
            skylights,
        )
