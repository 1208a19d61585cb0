"""IFC file to neutral shell: levels, walls, openings, spaces, slabs and stairs, with notes for the rest.

Attributes are read first, and the geometry kernel is asked only for what they do not tell, so a house takes
about a second. Every element is read for itself: a damaged one becomes a note by name, and the others still
come through.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

from bayrun.files.ifc_kernel import Kernel
from bayrun.files.ifc_levels import Storey, level_at, level_pieces, levels_from
from bayrun.files.ifc_open import DAMAGED, Names, open_ifc, units_of
from bayrun.files.ifc_openings import OpeningFound, fit_openings, read_loose, read_opening
from bayrun.files.ifc_parts import read_pieces, tell_rest
from bayrun.files.ifc_reading import Reading, is_part_of_wall, properties
from bayrun.files.ifc_shapes import Shapes
from bayrun.files.ifc_spaces import read_spaces, with_role
from bayrun.files.ifc_walls import WallFound, read_wall
from bayrun.files.shell import ImportRefused, NoteKind, Shell, ShellNote
from bayrun.units.tape import tape


def read_ifc(path: str | Path, told: Callable[[str], None] | None = None) -> Shell:
    """Read an IFC2x3, IFC4 or IFC4x3 file into a shell, as it is: healing comes after.

    Args:
        path: The file.
        told: Called with each step in words.
    Returns:
        The shell; its notes name whatever was assumed, left out or not understood.
    Raises:
        ImportRefused: The file cannot be read, or has no walls; the message says what to do.
    """
    path = Path(path)
    told = told or (lambda words: None)
    told("opening the model")
    opened = open_ifc(path)
    try:
        shell = _read(path, opened.model, told)
    except ImportRefused:
        raise
    except DAMAGED as error:
        raise ImportRefused(
            f"{path.name}: expected a building that holds together, got data that contradict themselves "
            f"({type(error).__name__}); export it again"
        ) from None
    return shell.noted(*(ShellNote("mended", words) for words in opened.mended))


_LIKELY_HEIGHT_IN, _POSSIBLE_HEIGHT_IN = (84.0, 160.0), (40.0, 600.0)
_WRONG_BY = ((1000.0, "a thousand"), (0.001, "a thousandth"), (1 / 25.4, "1 in 25.4"), (25.4, "25.4"),
             (12.0, "twelve"), (1 / 12.0, "a twelfth"), (0.3048, "0.3048"), (1 / 0.3048, "3.28"),
             (39.3700787, "39.37"), (0.0254, "0.0254"), (100.0, "a hundred"), (0.01, "a hundredth"),
             (304.8, "304.8"), (1 / 304.8, "1 in 304.8"))  # fmt: skip
"""How a unit of length is mistaken for another: meters, millimeters, feet, inches, centimeters."""


def _is_likely(walls: list[tuple[Any, WallFound]]) -> bool:
    heights = sorted(h for _, w in walls if (h := w.z_top_in - w.z_bottom_in) > 0.0)
    return bool(heights) and _LIKELY_HEIGHT_IN[0] <= heights[len(heights) // 2] <= _LIKELY_HEIGHT_IN[1]


def _scale_told(walls: list[tuple[Any, WallFound]]) -> tuple[float, str] | None:
    """What to multiply all lengths by where the walls have no house's height, and that in words."""
    heights = sorted(h for _, w in walls if (h := w.z_top_in - w.z_bottom_in) > 0.0)
    if not heights:
        return None
    middle = heights[len(heights) // 2]
    if _POSSIBLE_HEIGHT_IN[0] <= middle <= _POSSIBLE_HEIGHT_IN[1]:
        return None
    for factor, words in _WRONG_BY:
        if _LIKELY_HEIGHT_IN[0] <= middle * factor <= _LIKELY_HEIGHT_IN[1]:
            return factor, words
    return None


def _read(path: Path, model: Any, told: Callable[[str], None]) -> Shell:
    scale_in, angle_rad, area_in2, unit_remark = units_of(model)
    reading = Reading(model, Shapes(scale_in, angle_rad), Names(model), Kernel(model), area_in2)
    walls = _walls(reading, told)
    wrong = _scale_told(walls)
    # Far too small a unit leaves no wall at all: then each likely mistake is tried.
    tries = [wrong] if wrong is not None else [w for w in _WRONG_BY if w[0] > 1.0] if not walls else []
    for wrong in tries:
        told("reading again in the unit the walls bear out")
        shapes = Shapes(scale_in * wrong[0], angle_rad)
        again = Reading(model, shapes, reading.names, Kernel(model, wrong[0]), area_in2)
        found = _walls(again, told)
        if not _is_likely(found):
            continue
        reading, walls = again, found
        heights = sorted(w.z_top_in - w.z_bottom_in for _, w in walls)
        unit_remark = (
            f"the file's unit of length makes no house: all lengths taken as {wrong[1]} times as long, walls "
            f"are then {tape(heights[len(heights) // 2])} high. Check one wall with a tape"
        )
        break
    if unit_remark:
        kind: NoteKind = "mended" if "makes no house" in unit_remark else "assumed"
        reading.notes.append(ShellNote(kind, unit_remark))
    storeys = _storeys(reading)
    if not walls:
        raise ImportRefused(
            f"{path.name}: expected walls, found none that can be read "
            f"among {len(model.by_type('IfcElement'))} elements; export the architect's model with its walls"
        )
    told("reading rooms, doors and windows")
    spaces = read_spaces(reading, storeys)
    levels = levels_from(storeys, [w for _, w in walls], spaces, reading.remark)
    spaces = tuple(with_role(s, {level.name: level.role for level in levels}) for s in spaces)
    pieces = level_pieces(levels, walls, _said_level(reading), reading.remark, lambda w: _facts(reading, w))
    openings = fit_openings(
        _openings(reading), pieces, {level.name: level.elevation_in for level in levels}, reading.remark
    )
    told("reading floors, roofs and stairs")
    parts = read_pieces(reading, levels)
    tell_rest(reading)
    traces = reading.traces(lambda z_in: level_at(levels, z_in).name)
    return Shell(
        f"{model.schema} file", levels, pieces, openings, spaces, parts, (), reading.gather(), traces
    )


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


def _walls(reading: Reading, told: Callable[[str], None]) -> list[tuple[Any, WallFound]]:
    found = []
    entities = [*reading.model.by_type("IfcWall"), *reading.model.by_type("IfcCurtainWall")]
    for number, entity in enumerate(entities, 1):
        if number % 50 == 1:
            told(f"reading walls: {number} of {len(entities)}")
        if is_part_of_wall(entity):
            continue
        label = reading.label(entity)
        try:
            wall = read_wall(entity, reading.shapes, label, reading.names, reading.solids)
        except DAMAGED:
            reading.remark("not understood", "{n} walls have damaged data", label)
            reading.lose(entity, f"wall {label}, damaged data")
            continue
        for remark in wall.remarks:
            reading.remark(
                "read" if remark != "without a solid" else "assumed", f"{{n}} walls {remark}", label
            )
        if wall.bands:
            found.append((entity, wall))
        else:
            reading.remark("not understood", "{n} walls without a line or outline that makes a wall", label)
            reading.lose(entity, f"wall {label}, no line or outline")
    return found


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
