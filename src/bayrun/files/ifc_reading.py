"""One IFC file while it is read: its model, its shapes, remarks, and what its elements are called."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from bayrun.files.ifc_kernel import Kernel
from bayrun.files.ifc_open import Names
from bayrun.files.ifc_shapes import Shape, Shapes
from bayrun.files.shell import NoteKind, Point, ShellNote, ShellTrace

_MOST_NAMES = 8


@dataclass(slots=True)
class Reading:
    """One file while it is read."""

    model: Any
    shapes: Shapes
    names: Names
    kernel: Kernel
    area_in2: float | None
    notes: list[ShellNote] = field(default_factory=list)
    remarks: dict[tuple[NoteKind, str], list[str]] = field(default_factory=dict)
    lost: list[tuple[float, Point, str]] = field(default_factory=list)

    def remark(self, kind: NoteKind, text: str, name: str) -> None:
        """Remember that ``text`` holds for one more thing; told once for all of them."""
        self.remarks.setdefault((kind, text), []).append(name)

    def label(self, entity: Any) -> str:
        """Name of an element without the running number that some programs add."""
        name = self.names(getattr(entity, "Name", None)) or self.names(getattr(entity, "ObjectType", None))
        return re.sub(r":\d{3,}(:\d+)?$", "", name) or entity.is_a().removeprefix("Ifc").lower()

    def solids(self, product: Any, names: tuple[str, ...] = ("Body", "Facetation", "")) -> tuple[Shape, ...]:
        """The solids of an element: by its attributes, and by the kernel where these do not tell it all."""
        before = dict(self.shapes.unknown)
        found = self.shapes.of(product, names)
        missed = self.shapes.unknown != before
        if product.Representation is None or not (missed or any(s.clipped for s in found)):
            return found
        real = self.kernel.shape(product)
        if real and missed:
            self.shapes.unknown = before
        return real or found

    def lose(self, entity: Any, says: str) -> None:
        """Something that was not understood stands here: its place for the picture, where it tells one."""
        from bayrun.files.ifc_open import DAMAGED

        try:
            x, y, z = self.shapes.placement(entity.ObjectPlacement).o
        except DAMAGED:
            return
        self.lost.append((z, (x, y), says))

    def traces(self, level_of: Any) -> tuple[ShellTrace, ...]:
        """The places of what was not understood, on their levels."""
        return tuple(ShellTrace(level_of(z), "lost", (point,), says) for z, point, says in self.lost)

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


def is_part_of_wall(entity: Any, depth: int = 0) -> bool:
    """True for the studs, plates and panels a wall (or a wall type) is built of."""
    for link in getattr(entity, "Decomposes", ()) or ():
        whole = link.RelatingObject
        if whole is None or depth >= 8:
            continue
        if (
            whole.is_a("IfcWall")
            or whole.is_a("IfcCurtainWall")
            or whole.is_a("IfcTypeObject")
            or is_part_of_wall(whole, depth + 1)
        ):
            return True
    return False


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
