"""What stands around the walls of an IFC file: slabs, roofs, beams, joists, stairs; and what is not used."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from bayrun.files.ifc_open import DAMAGED
from bayrun.files.ifc_outline import footprint
from bayrun.files.ifc_reading import Reading, is_part_of_wall
from bayrun.files.shell import ShellLevel, ShellNote, ShellPiece
from bayrun.geometry import at_most

_PIECES = {
    "IfcSlab": "slab", "IfcRoof": "roof", "IfcBeam": "beam", "IfcColumn": "column", "IfcStair": "stair",
    "IfcMember": "member", "IfcStairFlight": "stair", "IfcRamp": "ramp", "IfcCovering": "covering",
    "IfcFooting": "footing",
}  # fmt: skip
_OF_PARTS = ("IfcRoof", "IfcStair", "IfcRamp")
_USED = ("IfcWall", "IfcCurtainWall", "IfcDoor", "IfcWindow", "IfcOpeningElement", "IfcSpace", *_PIECES)


_JOIST = re.compile(r"joist|\btji\b|floor truss|i-?beam floor|balken(?!kon)|deckenbalken", re.I)


def _kind(entity: Any, usual: str, label: str) -> str:
    """What a piece is: a beam or member that is called a joist is one."""
    if usual in ("beam", "member"):
        said = str(getattr(entity, "PredefinedType", None) or "")
        if said in ("JOIST", "HOLLOWCORE") or _JOIST.search(label):
            return "joist" if said != "HOLLOWCORE" else usual
    return usual


def read_pieces(reading: Reading, levels: Iterable[ShellLevel]) -> tuple[ShellPiece, ...]:
    """Slabs, roofs, beams, columns, stairs and coverings, each as its outline and its heights."""
    found: list[ShellPiece] = []
    ordered = sorted(levels, key=lambda level: level.elevation_in)
    for entity_class, usual in _PIECES.items():
        for entity in reading.model.by_type(entity_class):
            if entity_class in _OF_PARTS and entity.Representation is None and entity.IsDecomposedBy:
                continue
            label = reading.label(entity)
            kind = _kind(entity, usual, label)
            if kind == "member" or (entity_class == "IfcMember" and is_part_of_wall(entity)):
                continue
            try:
                solids = reading.solids(entity)
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


def tell_rest(reading: Reading) -> None:
    """Everything of the file that this reader does not use, by class and count."""
    for entity in reading.model.by_type("IfcElement"):
        used = any(entity.is_a(name) for name in _USED)
        if entity.is_a("IfcMember") and _kind(entity, "member", reading.label(entity)) == "member":
            used = False
        if not used and not is_part_of_wall(entity):
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
