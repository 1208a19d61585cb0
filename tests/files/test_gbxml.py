"""Energy models become houses: one small model of our own for each quirk, and one by others if there.

Outside values: areas worked out by hand from planes and thicknesses (``clear_areas_in2``), counts of the
surfaces written, and the model's own statements.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from bayrun.files.gbxml import read_gbxml
from bayrun.files.heal import heal_shell
from bayrun.files.shell import Shell
from conftest import shared_file
from files.gbxml_house import FEET, METERS, Energy, clear_areas_in2, gbxml

DETACHED = "houses/detached_gbxml/detached_house.gbxml"


def shell_of(folder: Path, look: Energy) -> Shell:
    """The healed shell of a model written this way."""
    path = folder / "house.gbxml"
    path.write_text(gbxml(look), encoding="utf-8")
    return heal_shell(read_gbxml(path))


def told(shell: Shell, words: str) -> list[str]:
    """The notes that hold these words."""
    return [str(n) for n in shell.notes if words in str(n)]


def check_rooms(shell: Shell, look: Energy) -> None:
    """Two rooms on each level, with the areas worked out by hand."""
    want = sorted(clear_areas_in2(look) * look.levels)
    have = sorted(r.area_in2 for r in shell.rooms)
    assert have == pytest.approx(want, rel=0.001)


def test_a_house_of_two_rooms_to_the_inch(tmp_path: Path) -> None:
    look = Energy()
    shell = shell_of(tmp_path, look)
    assert [r.title for r in shell.rooms] == ["Living room", "Bedroom 1"]
    check_rooms(shell, look)
    # 7 wall surfaces: front and back of two rooms are one wall each.
    assert len(shell.story_walls) == 5
    assert [(o.kind, o.width_in, o.sill_in, o.height_in) for o in shell.openings] == [
        ("door", pytest.approx(36.0), 0.0, pytest.approx(80.0)),
        ("window", pytest.approx(48.0), pytest.approx(36.0), pytest.approx(44.0)),
    ]
    assert {(w.thickness_in, w.core, w.exterior) for w in shell.story_walls} == {
        (6.5, "wood studs", True), (4.5, "wood studs", False),
    }  # fmt: skip
    assert told(shell, "4 wall surfaces that follow each other in one line make 2 walls")
    assert not any("Nowhere" in str(n) for n in shell.notes)


@pytest.mark.parametrize(("place", "words"), [(0.0, "outer face"), (0.5, "middle"), (1.0, "inner face")])
def test_where_the_planes_lie_is_judged_by_the_areas(tmp_path: Path, place: float, words: str) -> None:
    look = Energy(place=place)
    shell = shell_of(tmp_path, look)
    check_rooms(shell, look)
    assert told(shell, f"exterior surfaces are the {words} of their walls")


def test_without_areas_the_middle_is_taken_and_told(tmp_path: Path) -> None:
    shell = shell_of(tmp_path, Energy(areas=False))
    check_rooms(shell, Energy(place=0.5))
    assert told(shell, "surfaces are the middle of their walls: the file gives no areas to judge by")


@pytest.mark.parametrize(("per_inch", "unit"), [(FEET, "Feet"), (1.0, "Inches"), (25.4, "Millimeters")])
def test_units_of_the_file(tmp_path: Path, per_inch: float, unit: str) -> None:
    look = Energy(per_inch=per_inch, unit=unit)
    check_rooms(shell_of(tmp_path, look), look)


@pytest.mark.parametrize(("per_inch", "unit"), [(FEET, "feet"), (METERS, "meters"), (25.4, "millimeters")])
def test_a_missing_unit_is_judged_by_the_height_of_the_walls(
    tmp_path: Path, per_inch: float, unit: str
) -> None:
    shell = shell_of(tmp_path, Energy(per_inch=per_inch, unit=None))
    check_rooms(shell, Energy())
    assert told(
        shell, f"the file names no unit of length: taken as {unit}, which makes its walls 9' 0\" high"
    )


def test_stated_thickness_where_the_file_has_none(tmp_path: Path) -> None:
    shell = shell_of(tmp_path, Energy(thickness=False))
    assert {w.thickness_in for w in shell.story_walls} == {6.5, 4.5}
    assert told(shell, '7 wall surfaces have no thickness in the file: taken as 4-1/2" and 6-1/2" thick')
    assert told(shell, 'floors and ceilings have no thickness in the file: taken as 11-1/2"')


def test_floors_filed_as_ceilings_and_levels_by_height(tmp_path: Path) -> None:
    look = Energy(levels=2, floors_as_ceilings=True, storeys=False)
    shell = shell_of(tmp_path, look)
    check_rooms(shell, look)
    assert [(v.name, round(v.elevation_in, 2)) for v in shell.levels] == [
        ("Floor 1", 0.0),
        ("Level 2", 108.0),
    ]
    assert told(shell, "2 floors filed as ceilings are taken as floors of the level above")
    assert told(shell, "the file has 1 storey; its floors lie at 2 heights")
    floor = next(p for p in shell.pieces if p.label == "floor")
    assert (floor.z_bottom_in, floor.z_top_in) == (pytest.approx(97.5), pytest.approx(108.0))


def test_a_wall_given_once_from_each_side_is_one_wall(tmp_path: Path) -> None:
    look = Energy(doubled=True)
    shell = shell_of(tmp_path, look)
    assert len(shell.story_walls) == 5
    check_rooms(shell, look)
    assert told(shell, "1 wall surface given twice, once from each side, is counted once")


def test_what_is_no_house_is_named(tmp_path: Path) -> None:
    plane = (
        "<PlanarGeometry><PolyLoop>"
        + "".join(
            "<CartesianPoint>" + "".join(f"<Coordinate>{v}</Coordinate>" for v in p) + "</CartesianPoint>"
            for p in ((0, -5, 0), (3, -5, 0), (3, -5, 3))
        )
        + "</PolyLoop></PlanarGeometry>"
    )
    extra = (
        f'<Surface id="tree" surfaceType="Shade">{plane}</Surface>'
        f'<Surface id="odd" surfaceType="Portal">{plane}</Surface>'
        '<Surface id="torn" surfaceType="ExteriorWall"><PlanarGeometry/></Surface>'
    )
    shell = shell_of(tmp_path, Energy(extra=extra))
    assert told(shell, "1 shading surface is no part of the house")
    assert told(shell, "not understood: 1 surface of other types (Portal) (odd)")
    assert told(shell, "1 surface or opening without a plane that can be read (torn)")


def test_a_house_by_others_has_the_files_own_counts_and_areas() -> None:
    path = shared_file(DETACHED)
    text = path.read_text(encoding="utf-8")
    shell = heal_shell(read_gbxml(path))
    # By a text search, not by our reader: 11 spaces of which ROOF has no walls, 40 walls, 11 openings.
    assert len(re.findall(r"<\w+:Space id=", text)) == len(shell.spaces) == 11
    assert [s.title for s in shell.spaces if s.role == "roof"] == ["Roof"]
    walls = len(re.findall(r'surfaceType="(?:Ex|In)teriorWall"', text))
    assert walls == 40 == sum(len(w.source_ref.split("+")) for w in shell.walls)
    assert len(re.findall(r"openingType=", text)) == len(shell.openings) == 11
    stated = {n: float(a) for n, a in re.findall(r"<\w+:Name>(\w+)</\w+:Name>\s*<\w+:Area>([\d.]+)<", text)}
    assert len(shell.rooms) == 10
    for room in shell.rooms:
        assert room.area_in2 / 1550.0031 == pytest.approx(stated[room.source_ref], rel=0.02), room.title
    assert told(shell, "9 floors filed as ceilings")
    assert told(shell, "8 rooms have no door in the file")
