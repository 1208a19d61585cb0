"""Rooms of an IFC file: their outlines, their heights, and the areas the file itself states."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from bayrun.files.ifc_levels import Storey
from bayrun.files.ifc_open import DAMAGED, IN_PER_M
from bayrun.files.ifc_outline import footprint
from bayrun.files.ifc_reading import Reading
from bayrun.files.shell import ShellNote, ShellSpace, SpaceRole, area_of
from bayrun.geometry import at_most


def read_spaces(reading: Reading, storeys: Sequence[Storey]) -> tuple[ShellSpace, ...]:
    """Every room of the file that has an outline, in order of level and name."""
    found = []
    by_entity = {s.entity_id: s.name for s in storeys}
    for entity in reading.model.by_type("IfcSpace"):
        name, long_name = reading.names(entity.Name), reading.names(entity.LongName)
        try:
            solids = reading.solids(entity, ("Body", "FootPrint", "Facetation", ""))
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
                if link.RelatingObject is not None and link.RelatingObject.id() in by_entity
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


def with_role(space: ShellSpace, roles: Mapping[str, str]) -> ShellSpace:
    """The space, a room no longer where its level is no story."""
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
