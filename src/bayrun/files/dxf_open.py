"""Open a DXF drawing safely and take it apart: lines, arcs, texts and symbols, xrefs and blocks opened up."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from bayrun.files.shell import ImportRefused, Point

LARGEST_DXF_BYTES = 80_000_000
"""A house plan is a few megabytes; more than this is refused before it is read."""
_MOST_PARTS = 400_000
_DEEPEST = 8
DOOR = re.compile(r"door|(^|[-_ ])dr([-_ \d]|$)|t(ü|ue)r|porte", re.I)
WINDOW = re.compile(r"wind|glaz|fenster|(^|[-_ ])wdw|(^|[-_ ])win([-_ \d]|$)", re.I)
_DOORS_IN_TEXT = re.compile(r"tag|iden|note|sched", re.I)
UNITS_IN = {
    "inches": 1.0,
    "feet": 12.0,
    "millimeters": 1 / 25.4,
    "centimeters": 1 / 2.54,
    "meters": 1000 / 25.4,
}
INSUNITS = {1: "inches", 2: "feet", 4: "millimeters", 5: "centimeters", 6: "meters"}
"""Codes of the header's unit. Source: DXF reference, $INSUNITS (from memory: verify)."""


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight line in drawing units, on its layer without the name of the xref it came with."""

    a: Point
    b: Point
    layer: str


@dataclass(frozen=True, slots=True)
class Swing:
    """The arc a door leaf draws: its hinge and the two ends of the arc, in drawing units."""

    hinge: Point
    ends: tuple[Point, Point]
    radius: float
    layer: str


@dataclass(frozen=True, slots=True)
class Symbol:
    """An inserted block that is a door or a window: every point of it, and the swings in it."""

    kind: str
    name: str
    points: tuple[Point, ...]
    swings: tuple[Swing, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """A text: where it is, what it says, how high its letters are, in drawing units."""

    at: Point
    says: str
    high: float
    layer: str


@dataclass(slots=True)
class Drawing:
    """A drawing taken apart, in its own units."""

    name: str
    insunits: int = 0
    segments: list[Segment] = field(default_factory=list)
    swings: list[Swing] = field(default_factory=list)
    symbols: list[Symbol] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    prefixed: set[str] = field(default_factory=set)
    passed: dict[str, int] = field(default_factory=dict)
    parts: int = 0


def open_dxf(path: Path) -> Drawing:
    """Read a drawing's model space.

    Raises:
        ImportRefused: It is too large, cut off, damaged or no DXF; the message says which and what to do.
    """
    size = path.stat().st_size
    if size == 0:
        raise ImportRefused(f"{path.name}: expected a DXF file, got an empty file; export it again")
    if size > LARGEST_DXF_BYTES:
        raise ImportRefused(
            f"{path.name}: {size / 1e6:.0f} MB is more than the {LARGEST_DXF_BYTES / 1e6:.0f} MB a house "
            "plan may have; save the floor plan alone"
        )
    with path.open("rb") as file:
        head = file.read(4096)
        file.seek(max(0, size - 64))
        tail = file.read()
    binary = head.startswith(b"AutoCAD Binary DXF")
    if not binary and not re.search(rb"(^|\n)\s*0\s*\r?\n\s*SECTION\s*\r?\n", head):
        raise ImportRefused(
            f"{path.name}: expected a DXF file, which begins with a SECTION, got something else; "
            "check that the right file was given"
        )
    if b"EOF" not in tail:
        raise ImportRefused(
            f"{path.name}: expected EOF at the end, got a drawing that stops in the middle; "
            "copy or save it again"
        )
    from ezdxf.filemanagement import readfile

    try:
        document = readfile(str(path))
        drawing = Drawing(path.name, int(document.header.get("$INSUNITS", 0) or 0))
        _take(drawing, document.modelspace(), "0", 0, None)
    except (ImportRefused, MemoryError):
        raise
    except Exception as error:
        # Whatever a foreign parser stumbles over in a damaged file, a person gets one sentence.
        raise ImportRefused(
            f"{path.name}: expected a DXF drawing that holds together, got one that is damaged inside "
            f"({type(error).__name__}); save it again"
        ) from None
    return drawing


def bare_layer(drawing: Drawing, layer: str) -> str:
    """A layer's own name: ``house|A-WALL`` and ``house$0$A-WALL`` are ``A-WALL`` of an xref."""
    name = re.sub(r"^.*\$\d+\$", "", layer.rpartition("|")[2])
    if name != layer:
        drawing.prefixed.add(name)
    return name


def _take(
    drawing: Drawing, entities: Iterable[Any], parent: str, depth: int, symbol: list[Point] | None
) -> None:
    for entity in entities:
        drawing.parts += 1
        if drawing.parts > _MOST_PARTS:
            raise ImportRefused(
                f"{drawing.name}: expected a house plan, got more than {_MOST_PARTS} lines and texts; "
                "save the floor plan alone"
            )
        kind = entity.dxftype()
        layer = bare_layer(drawing, entity.dxf.get("layer", "0"))
        layer = parent if layer == "0" else layer
        if kind == "INSERT":
            _insert(drawing, entity, layer, depth, symbol)
        elif kind in ("LINE", "LWPOLYLINE", "POLYLINE"):
            _lines(drawing, entity, kind, layer, symbol)
        elif kind == "ARC":
            _arc(drawing, entity, layer, symbol)
        elif kind in ("TEXT", "MTEXT", "ATTRIB") and symbol is None:
            says = entity.plain_text() if kind == "MTEXT" else entity.dxf.text
            high = float(entity.dxf.get("char_height" if kind == "MTEXT" else "height", 0.0))
            at = entity.dxf.insert
            if says.strip():
                drawing.words.append(Words((float(at.x), float(at.y)), says, high, layer))
        elif kind not in ("TEXT", "MTEXT", "ATTRIB", "ATTDEF", "POINT", "DIMENSION", "VIEWPORT"):
            drawing.passed[kind] = drawing.passed.get(kind, 0) + 1


def _insert(drawing: Drawing, entity: Any, layer: str, depth: int, symbol: list[Point] | None) -> None:
    name = str(entity.dxf.get("name", ""))
    own = re.sub(r"^.*\$\d+\$", "", name.rpartition("|")[2])
    if depth >= _DEEPEST:
        drawing.passed["blocks nested too deep"] = drawing.passed.get("blocks nested too deep", 0) + 1
        return
    kind = ""
    if symbol is None:
        # The block's own name says more than the layer it happens to lie on.
        for text in (own, layer):
            if not kind and not _DOORS_IN_TEXT.search(text):
                kind = "door" if DOOR.search(text) else "window" if WINDOW.search(text) else ""
    parts = (
        [part for single in entity.multi_insert() for part in single.virtual_entities()]
        if (entity.mcount > 1)
        else list(entity.virtual_entities())
    )
    if not kind:
        _take(drawing, parts, layer, depth + 1, symbol)
        if symbol is None:
            _take(drawing, entity.attribs, layer, depth + 1, None)
        return
    inside = Drawing(drawing.name, parts=drawing.parts)
    points: list[Point] = []
    _take(inside, parts, layer, depth + 1, points)
    drawing.parts = inside.parts
    if points:
        drawing.symbols.append(Symbol(kind, own, tuple(points), tuple(inside.swings)))


def _lines(drawing: Drawing, entity: Any, kind: str, layer: str, symbol: list[Point] | None) -> None:
    if kind == "LINE":
        ends = [(float(p.x), float(p.y)) for p in (entity.dxf.start, entity.dxf.end)]
        pieces = [(ends[0], ends[1])]
    else:
        pieces = []
        for part in entity.virtual_entities():
            if part.dxftype() == "LINE":
                a, b = part.dxf.start, part.dxf.end
                pieces.append(((float(a.x), float(a.y)), (float(b.x), float(b.y))))
            elif part.dxftype() == "ARC":
                _arc(drawing, part, layer, symbol)
    for p, q in pieces:
        if not all(math.isfinite(v) and abs(v) < 1e9 for v in (*p, *q)):
            continue
        if symbol is not None:
            symbol += [p, q]
        elif math.dist(p, q) > 1e-9:
            drawing.segments.append(Segment(p, q, layer))


def _arc(drawing: Drawing, entity: Any, layer: str, symbol: list[Point] | None) -> None:
    sweep = (float(entity.dxf.end_angle) - float(entity.dxf.start_angle)) % 360.0
    a, b, center = entity.start_point, entity.end_point, entity.dxf.center
    if hasattr(entity, "ocs"):
        center = entity.ocs().to_wcs(center)
    ends = ((float(a.x), float(a.y)), (float(b.x), float(b.y)))
    if symbol is not None:
        symbol += [*ends, (float(center.x), float(center.y))]
    if 40.0 <= sweep <= 100.0:
        drawing.swings.append(
            Swing((float(center.x), float(center.y)), ends, float(entity.dxf.radius), layer)
        )
