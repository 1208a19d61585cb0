"""IFC file to neutral shell: levels, walls, openings, spaces, slabs and stairs, with notes for the rest.

Reads attributes only (no geometry kernel), so a house takes about a second. Every element is read
for itself: a damaged one becomes a note by name, and the others still come through.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from bayrun.files.ifc_levels import Storey, level_pieces, levels_from
from bayrun.files.ifc_open import DAMAGED, IN_PER_M, Names, open_ifc, units_of
from bayrun.files.ifc_openings import OpeningFound, fit_openings, read_loose, read_opening
from bayrun.files.ifc_shapes import Shapes
from bayrun.files.ifc_walls import WallFound, footprint, read_wall
from bayrun.files.shell import (
    ImportRefused,
    NoteKind,
    Shell,
    ShellNote,
    ShellPiece,
    ShellSpace,
    SpaceRole,
    area_of,
)
from bayrun.geometry import at_most

_PIECES = {
    "IfcSlab": "slab", "IfcRoof": "roof", "IfcBeam": "beam", "IfcColumn": "column", "IfcStair": "stair",
    "IfcStairFlight": "stair", "IfcRamp": "ramp", "IfcCovering": "covering", "IfcFooting": "footing",
}  # fmt: skip
_OF_PARTS = ("IfcRoof", "IfcStair", "IfcRamp")
_MOST_NAMES = 8
_USED = ("IfcWall", "IfcDoor", "IfcWindow", "IfcOpeningElement", "IfcSpace", *_PIECES)


@dataclass(slots=True)
class Reading:
    """One file while it is read."""

    model: Any
    shapes: Shapes
    names: Names
    area_in2: float | None
    notes: list[ShellNote] = field(default_factory=list)
    remarks: dict[tuple[NoteKind, str], list[str]] = field(default_factory=dict)

    def remark(self, kind: NoteKind, text: str, name: str) -> None:
        """Remember that ``text`` holds for one more thing; told once for all of them."""
        self.remarks.setdefault((kind, text), []).append(name)

    def label(self, entity: Any) -> str:
        """Name of an element without the running number that some programs add."""
        name = self.names(getattr(entity, "Name", None)) or self.names(getattr(entity, "ObjectType", None))
        return re.sub(r":\d{3,}(:\d+)?$", "", name) or entity.is_a().removeprefix("Ifc").lower()

    def gather(self) -> tuple[ShellNote, ...]:
        """All notes, remarks counted and with each name once."""
        told = [
            ShellNote(kind, text.format(n=len(names)), len(names), _listed(names))
            for (kind, text), names in self.remarks.items()
        ]
        return tuple(self.notes + told)


def _listed(names: list[str]) -> tuple[str, ...]:
    """Each name once, in order, no more than a line holds."""
    once = sorted({n for n in names if n})
    return (
        tuple(once)
        if len(once) <= _MOST_NAMES
        else (*once[:_MOST_NAMES], f"and {len(once) - _MOST_NAMES} more")
    )


def read_ifc(path: str | Path) -> Shell:
    """Read an IFC2x3, IFC4 or IFC4x3 file into a shell, as it is: healing comes after.

    Args:
        path: The file.
    Returns:
        The shell; its notes name whatever was assumed, left out or not understood.
    Raises:
        ImportRefused: The file cannot be read, or has no walls; the message says what to do.
    """
    path = Path(path)
    model = open_ifc(path)
    try:
        return _read(path, model)
    except ImportRefused:
        raise
    except DAMAGED as error:
        raise ImportRefused(
            f"{path.name}: expected a building that holds together, got data that contradict themselves "
            f"({type(error).__name__}); export it again"
        ) from None


def _read(path: Path, model: Any) -> Shell:
    scale_in, angle_rad, area_in2, unit_remark = units_of(model)
    reading = Reading(model, Shapes(scale_in, angle_rad), Names(model), area_in2)
    if unit_remark:
        reading.notes.append(ShellNote("assumed", unit_remark))
    storeys = _storeys(reading)
    walls = _walls(reading)
    if not walls:
        raise ImportRefused(
            f"{path.name}: expected walls, found none that can be read "
            f"among {len(model.by_type('IfcElement'))} elements; export the architect's model with its walls"
        )
    spaces = _spaces(reading, storeys)
    levels = levels_from(storeys, [w for _, w in walls], spaces, reading.remark)
    spaces = tuple(_with_role(s, {level.name: level.role for level in levels}) for s in spaces)
    pieces = level_pieces(levels, walls, _said_level(reading), reading.remark, lambda w: _facts(reading, w))
    openings = fit_openings(
        _openings(reading), pieces, {level.name: level.elevation_in for level in levels}, reading.remark
    )
    parts = _pieces(reading, levels)
    _tell_rest(reading)
    return Shell(f"{model.schema} file", levels, pieces, openings, spaces, parts, (), reading.gather())


def _storeys(reading: Reading) -> list[Storey]:
    found = []
    for entity in reading.model.by_type("IfcBuildingStorey"):
        try:
            name = reading.names(entity.Name) or reading.names(entity.LongName) or "Level"
            stated = None if entity.Elevation is None else float(entity.Elevation) * reading.shapes.scale_in
            if entity.ObjectPlacement is not None:
                elevation = reading.shapes.placement(entity.ObjectPlacement).o[2]
                if stated is not None and abs(stated - elevation) > 1.0 and abs(elevation) < 1e-6:
                    # Some programs leave every storey at zero and state its height alone.
                    reading.remark(
                        "assumed", "levels placed by their stated height, not by their placement", name
                    )
                    elevation = stated
            else:
                elevation = stated or 0.0
            found.append(Storey(name, elevation, entity.id()))
        except DAMAGED:
            reading.remark("not understood", "{n} levels could not be read", "")
    found.sort(key=lambda s: (s.elevation_in, s.name))
    seen: Counter[str] = Counter()
    for storey in found:
        seen[storey.name] += 1
        if seen[storey.name] > 1:
            storey.name = f"{storey.name} ({seen[storey.name]})"
    if not found:
        reading.notes.append(
            ShellNote("assumed", "the file has no levels: levels are judged from the walls' heights")
        )
    return found


def _walls(reading: Reading) -> list[tuple[Any, WallFound]]:
    found = []
    for entity in reading.model.by_type("IfcWall"):
        if _is_part_of_wall(entity):
            continue
        label = reading.label(entity)
        try:
            wall = read_wall(entity, reading.shapes, label, reading.names)
        except DAMAGED:
            reading.remark("not understood", "{n} walls have damaged data", label)
            continue
        for remark in wall.remarks:
            reading.remark(
                "read" if remark != "without a solid" else "assumed", f"{{n}} walls {remark}", label
            )
        if wall.bands:
            found.append((entity, wall))
        else:
            reading.remark("not understood", "{n} walls without a line or outline that makes a wall", label)
    return found


def _is_part_of_wall(entity: Any, depth: int = 0) -> bool:
    """True for the studs, plates and panels a wall (or a wall type) is built of."""
    for link in getattr(entity, "Decomposes", ()) or ():
        whole = link.RelatingObject
        if whole is None or depth >= 8:
            continue
        if whole.is_a("IfcWall") or whole.is_a("IfcTypeObject") or _is_part_of_wall(whole, depth + 1):
            return True
    return False


def _said_level(reading: Reading) -> dict[int, str]:
    """Which level the file files each element under, by entity id."""
    said: dict[int, str] = {}
    for link in reading.model.by_type("IfcRelContainedInSpatialStructure"):
        try:
            if link.RelatingStructure.is_a("IfcBuildingStorey"):
                for element in link.RelatedElements:
                    said[element.id()] = reading.names(link.RelatingStructure.Name)
        except DAMAGED:
            continue
    return said


def properties(element: Any, set_name: str) -> dict[str, Any]:
    """The single values of one property set of an element, by name; its type's values where it has none."""
    found: dict[str, Any] = {}
    owners = [element] + [
        link.RelatingType
        for link in (*(getattr(element, "IsTypedBy", ()) or ()), *(getattr(element, "IsDefinedBy", ()) or ()))
        if link.is_a("IfcRelDefinesByType")
    ]
    for owner in owners:
        sets = list(getattr(owner, "HasPropertySets", ()) or ())
        sets += [
            link.RelatingPropertyDefinition
            for link in getattr(owner, "IsDefinedBy", ()) or ()
            if link.is_a("IfcRelDefinesByProperties")
        ]
        for one in sets:
            if one.is_a("IfcPropertySet") and one.Name == set_name:
                for prop in one.HasProperties or ():
                    if prop.is_a("IfcPropertySingleValue") and prop.NominalValue is not None:
                        found.setdefault(prop.Name, prop.NominalValue.wrappedValue)
    return found


def _facts(reading: Reading, wall: Any) -> tuple[bool | None, bool | None, str | None]:
    """Exterior, load bearing and fire rating as the file says them; None where it does not."""
    try:
        said = properties(wall, "Pset_WallCommon")
    except DAMAGED:
        return None, None, None
    outer, bearing, rating = said.get("IsExternal"), said.get("LoadBearing"), said.get("FireRating")
    text = reading.names(str(rating)) if rating else ""
    return (
        outer if isinstance(outer, bool) else None,
        bearing if isinstance(bearing, bool) else None,
        text if any(c.isdigit() for c in text) else None,
    )


def _spaces(reading: Reading, storeys: list[Storey]) -> tuple[ShellSpace, ...]:
    found = []
    by_entity = {s.entity_id: s.name for s in storeys}
    for entity in reading.model.by_type("IfcSpace"):
        name, long_name = reading.names(entity.Name), reading.names(entity.LongName)
        try:
            solids = reading.shapes.of(entity, ("Body", "FootPrint", "Facetation", ""))
            outlines = footprint(solids)
        except DAMAGED:
            outlines = []
        if not outlines:
            reading.remark("not understood", "{n} rooms without an outline", f"{long_name} {name}".strip())
            continue
        if len(outlines) > 1:
            reading.remark(
                "read", "{n} rooms in several parts: the largest part is kept", f"{long_name} {name}".strip()
            )
        heights = [p[2] for s in solids for p in s.points]
        level = next(
            (
                by_entity[link.RelatingObject.id()]
                for link in entity.Decomposes or ()
                if link.RelatingObject.id() in by_entity
            ),
            "",
        )
        if not level and storeys:
            below = [s for s in storeys if at_most(s.elevation_in, min(heights) + 12.0)] or storeys[:1]
            level = below[-1].name
        role: SpaceRole = "outside" if _outside(entity) else "room"
        found.append(
            ShellSpace(
                name,
                long_name,
                level,
                outlines[0],
                sum(area_of(o) for o in outlines),
                _declared_area(reading, entity),
                (max(heights) - min(heights)) or None,
                role,
                entity.GlobalId,
            )
        )
    if not found:
        reading.notes.append(
            ShellNote("not understood", "the file has no rooms: rooms must be found from the walls")
        )
    return tuple(sorted(found, key=lambda s: (s.level, s.name, s.long_name, s.polygon)))


def _outside(entity: Any) -> bool:
    said = {getattr(entity, "InteriorOrExteriorSpace", None), getattr(entity, "PredefinedType", None)}
    return "EXTERNAL" in said


def _with_role(space: ShellSpace, roles: dict[str, str]) -> ShellSpace:
    from dataclasses import replace

    if space.role == "room" and roles.get(space.level, "story") != "story":
        return replace(space, role="roof" if roles[space.level] == "roof" else "other")
    return space


def _declared_area(reading: Reading, entity: Any) -> float | None:
    """The floor area the file itself states, net before gross before whatever else is called area [in2]."""
    found: dict[str, float] = {}
    try:
        for link in entity.IsDefinedBy or ():
            if not link.is_a("IfcRelDefinesByProperties"):
                continue
            definition = link.RelatingPropertyDefinition
            if definition.is_a("IfcElementQuantity"):
                for quantity in definition.Quantities:
                    if quantity.is_a("IfcQuantityArea"):
                        scale = reading.area_in2 or IN_PER_M**2
                        if quantity.Unit is None and reading.area_in2 is None:
                            scale = reading.shapes.scale_in**2
                        found[quantity.Name or ""] = float(quantity.AreaValue) * scale
    except DAMAGED:
        return None
    for name in ("NetFloorArea", "GrossFloorArea", *sorted(n for n in found if "area" in n.lower())):
        if name in found:
            return found[name]
    return None


def _openings(reading: Reading) -> list[OpeningFound]:
    found: list[OpeningFound] = []
    placed: set[int] = set()
    for link in reading.model.by_type("IfcRelVoidsElement"):
        try:
            host, opening = link.RelatingBuildingElement, link.RelatedOpeningElement
            if not host.is_a("IfcWall"):
                reading.remark(
                    "left out",
                    "{n} holes in things that are not walls",
                    host.is_a().removeprefix("Ifc").lower(),
                )
                for fill in opening.HasFillings or ():
                    placed.add(fill.RelatedBuildingElement.id())
                    reading.remark(
                        "left out", "{n} windows and doors not in a wall (skylights, hatches)",
                        reading.label(fill.RelatedBuildingElement),
                    )  # fmt: skip
                continue
            one = read_opening(host, opening, reading.shapes, reading.label)
            placed.update(one.fill_ids)
            if getattr(opening, "PredefinedType", None) == "RECESS":
                reading.remark(
                    "left out", "{n} niches that do not go through their wall", reading.label(host)
                )
            else:
                found.append(one)
        except DAMAGED:
            reading.remark("not understood", "{n} openings could not be read", "")
    for entity in (*reading.model.by_type("IfcDoor"), *reading.model.by_type("IfcWindow")):
        if entity.id() in placed:
            continue
        try:
            loose = read_loose(entity, reading.shapes, reading.label)
        except DAMAGED:
            loose = None
        if loose is None:
            reading.remark(
                "not understood", "{n} doors and windows without a size or a place", reading.label(entity)
            )
        else:
            found.append(loose)
    return found


def _pieces(reading: Reading, levels: Iterable[Any]) -> tuple[ShellPiece, ...]:
    found: list[ShellPiece] = []
    ordered = sorted(levels, key=lambda level: level.elevation_in)
    for entity_class, kind in _PIECES.items():
        for entity in reading.model.by_type(entity_class):
            if entity_class in _OF_PARTS and entity.Representation is None and entity.IsDecomposedBy:
                continue
            label = reading.label(entity)
            try:
                solids = reading.shapes.of(entity)
                outlines = footprint(solids)
                heights = [p[2] for s in solids for p in s.points]
            except DAMAGED:
                reading.remark("not understood", f"{{n}} {kind}s have damaged data", label)
                continue
            if not outlines:
                reading.remark("not understood", f"{{n}} {kind}s without an outline", label)
                continue
            low, high = min(heights), max(heights)
            own = "roof" if kind == "slab" and entity.PredefinedType == "ROOF" else kind
            if kind == "covering":
                own = str(entity.PredefinedType or "covering").lower()
            below = [level for level in ordered if at_most(level.elevation_in, high + 1.0)] or ordered[:1]
            found.append(
                ShellPiece(
                    own, label, below[-1].name if below else "", outlines[0], low, high, entity.GlobalId
                )
            )
    return tuple(sorted(found, key=lambda p: (p.kind, p.z_bottom_in, p.label, p.polygon)))


def _tell_rest(reading: Reading) -> None:
    """Everything of the file that this reader does not use, by class and count."""
    for entity in reading.model.by_type("IfcElement"):
        if not any(entity.is_a(used) for used in _USED) and not _is_part_of_wall(entity):
            if entity.is_a("IfcFeatureElement"):
                continue
            kind = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", entity.is_a().removeprefix("Ifc")).lower()
            reading.remark("left out", f"{{n}} things of class {kind} are not used", reading.label(entity))
    for name, count in sorted(reading.shapes.unknown.items()):
        reading.notes.append(
            ShellNote("not understood", f"{count} pieces of geometry of class {name}", count)
        )
    if reading.names.taken_out:
        reading.notes.append(
            ShellNote("left out", "names, addresses or e-mails of people and firms were taken out of texts",
                      reading.names.taken_out)
        )  # fmt: skip
