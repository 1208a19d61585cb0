"""gbXML file to neutral shell: an energy model's spaces and surfaces as levels, walls, openings and rooms.

An energy model has surfaces without thickness, sorted for heat and not for building. Walls get the
thickness of their construction, or a stated one; where their planes lie in them (outer face, middle, inner
face) is judged by the areas the file gives for its spaces. Everything taken so is told.

Source: gbXML schema 6.01, names of elements and units (from memory: verify).
"""

from __future__ import annotations

from pathlib import Path
from xml.etree.ElementTree import Element

from bayrun.files.gbxml_faces import band_of, judged_place, masonry_told, openings_of_line, space_of, wall_of
from bayrun.files.gbxml_read import (
    UPRIGHT,
    WALL_TYPES,
    Reading,
    Surface,
    clean,
    layers_of_construction,
    scale_of,
    surface_of,
    tell_rest,
)
from bayrun.files.gbxml_rooms import (
    level_of,
    levels_of,
    outline_of,
    pieces_of,
    rooms_of,
    tell_openings,
)
from bayrun.files.gbxml_walls import Face, wall_lines
from bayrun.files.shell import (
    ImportRefused,
    Shell,
    ShellOpening,
    ShellSpace,
    ShellWall,
)
from bayrun.files.xml_safe import named, read_xml, text_of
from bayrun.units import tape

EXTERIOR_IN, INTERIOR_IN = 6.5, 4.5
"""Stated thicknesses where the file has none: 2x6 and 2x4 studs with 1/2 in board on both faces (common
practice, no source) [in]."""


def read_gbxml(path: str | Path) -> Shell:
    """Read a gbXML file into a shell, as it is: healing comes after.

    Args:
        path: The file.
    Returns:
        The shell; its notes name whatever was assumed, left out or not understood. The site's address and
        the file's authors are not read.
    Raises:
        ImportRefused: The file cannot be read, or has no walls; the message says what to do.
    """
    path = Path(path)
    root = read_xml(path, "a gbXML file")
    if root.tag != "gbXML":
        raise ImportRefused(
            f"{path.name}: expected a gbXML file, whose first element is gbXML, got {clean(root.tag)}; "
            "check that the right file was given"
        )
    reading = Reading(path)
    campus = next(named(root, "Campus"), None)
    building = None if campus is None else next(named(campus, "Building"), None)
    if campus is None or building is None:
        raise ImportRefused(
            f"{path.name}: expected a building with spaces and surfaces, got gbXML without Campus and "
            "Building; export the whole model"
        )
    raw = list(named(campus, "Surface"))
    reading.scale_in = scale_of(reading, root, raw)
    surfaces = [s for s in (surface_of(reading, e) for e in raw) if s is not None]
    if reading.bad:
        reading.tell(
            "not understood",
            f"{len(reading.bad)} surfaces or openings without a plane that can be read",
            len(reading.bad),
            reading.bad,
        )
    walls = [s for s in surfaces if s.kind in WALL_TYPES and abs(s.normal[2]) < UPRIGHT]
    if not walls:
        raise ImportRefused(
            f"{path.name}: expected walls, found none that can be read among {len(raw)} surfaces; "
            "export the model with its surfaces"
        )
    tell_rest(reading, surfaces)
    try:
        return _shell(reading, root, building, surfaces, walls)
    except (ImportRefused, MemoryError):
        raise
    except Exception as error:
        # Whatever breaks inside geometry of a damaged file, a person gets one sentence.
        raise ImportRefused(
            f"{path.name}: expected spaces and surfaces that hold together, got data that contradict "
            f"themselves ({type(error).__name__}); export it again"
        ) from None


def _shell(
    reading: Reading, root: Element, building: Element, surfaces: list[Surface], walls: list[Surface]
) -> Shell:
    spaces = list(named(building, "Space"))
    rooms, roofs = rooms_of(reading, root, spaces, surfaces, walls)
    levels = levels_of(reading, building, rooms, walls)
    layers = {
        e: layers_of_construction(root, e, reading.scale_in)
        for e in sorted({s.construction for s in surfaces})
    }
    faces = []
    for s in walls:
        level = level_of(levels, s.z_in[0])
        thick = sum(layer.thickness_in for layer in layers[s.construction])
        inside = s.kind == "InteriorWall" or len(s.spaces) > 1
        faces.append(
            Face(
                s.id,
                level.name,
                s.construction,
                not inside,
                thick or (INTERIOR_IN if inside else EXTERIOR_IN),
                s.flat,
                s.z_in[0] - level.elevation_in,
                s.z_in[1] - s.z_in[0],
                s.openings,
                level.elevation_in,
            )
        )
    bare = [f for f in faces if not layers[f.construction]]
    if bare:
        told = {tape(f.thickness_in) for f in bare}
        reading.tell(
            "assumed",
            f"{len(bare)} wall surfaces have no thickness in the file: taken as "
            f"{' and '.join(sorted(told))} thick",
            len(bare),
        )
    lines, remarks = wall_lines(faces)
    reading.notes.extend(remarks)
    shapes = {r.id: r.shape for r in rooms}
    by_level = {
        level.name: [r for r in rooms if level_of(levels, r.floor_in).name == level.name] for level in levels
    }
    place = judged_place(reading, lines, by_level)
    names = {c.get("id") or "": clean(text_of(c, "Name")) for c in named(root, "Construction")}
    masonry = masonry_told(reading, lines, layers, names)
    made: list[ShellWall] = []
    openings: list[ShellOpening] = []
    for number, line in enumerate(lines, 1):
        around = [shapes[r.id] for r in by_level[line.level]]
        wall = wall_of(f"W{number}", line, place, around, layers[line.construction], names, masonry)
        made.append(wall)
        openings.extend(openings_of_line(reading, wall, line, len(openings)))
    tell_openings(reading, rooms, surfaces)
    found = []
    for level in levels:
        bands = [band_of(w, made) for w in made if w.level == level.name]
        for room in by_level[level.name]:
            found.append(space_of(room, level.name, bands))
    top = levels[-1].name
    found += [
        ShellSpace(r.title, "", top, outline_of(r.shape), r.shape.area, r.area_in2, r.height_in, "roof", r.id)
        for r in roofs
    ]
    reading.tell(
        "read",
        f"{len(spaces)} spaces and {len(surfaces)} surfaces in the file: {len(rooms)} rooms on "
        f"{len(levels)} levels, {len(walls)} wall surfaces in {len(made)} straight walls, "
        f"{len(openings)} openings",
        len(spaces),
    )
    pieces = pieces_of(reading, surfaces, levels, layers, rooms)
    return Shell(
        "energy model (gbXML file)", levels, tuple(made), tuple(openings), tuple(found), pieces, (),
        tuple(reading.notes),
    )  # fmt: skip
