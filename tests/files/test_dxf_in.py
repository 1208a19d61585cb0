"""Drawings become houses: one four-room house of our own, drawn in the ways that offices draw.

Outside values: the house's walls, openings and clear areas as laid out by hand in ``dxf_house``.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from bayrun.files.dxf_in import read_dxf
from bayrun.files.heal import heal_shell
from bayrun.files.shell import ImportRefused, Shell
from files.dxf_house import DOORS, ROOMS, WALLS, WINDOWS, Look, draw

MM = 25.4


def shell_of(folder: Path, look: Look) -> Shell:
    """The healed shell of the house drawn this way."""
    return heal_shell(read_dxf(draw(folder / "plan.dxf", look)))


def told(shell: Shell, words: str) -> list[str]:
    """The notes that hold these words."""
    return [str(n) for n in shell.notes if words in str(n)]


def check_house(shell: Shell, names: bool = True) -> None:
    """Walls, doors, windows and rooms as laid out."""
    assert len(shell.walls) == len(shell.story_walls) == len(WALLS)
    assert sorted(round(w.thickness_in, 2) for w in shell.walls) == sorted(t for _, _, t in WALLS)
    assert sum(bool(w.exterior) for w in shell.walls) == 4
    for kind, laid in (("door", DOORS), ("window", WINDOWS)):
        have = sorted(o.width_in for o in shell.openings if o.kind == kind)
        assert have == pytest.approx(sorted(w for _, _, w in laid), abs=0.05), kind
    assert len(shell.openings) == len(DOORS) + len(WINDOWS)
    rooms = {r.title: r.area_in2 for r in shell.rooms}
    if names:
        want = {name.title(): area for name, _, area in ROOMS}
        assert rooms == {n: pytest.approx(a, rel=0.001) for n, a in want.items()}
    else:
        areas = sorted(r.area_in2 for r in shell.rooms)
        assert areas == pytest.approx(sorted(a for _, _, a in ROOMS), rel=0.001)


def test_drawn_in_inches_with_named_layers(tmp_path: Path) -> None:
    shell = shell_of(tmp_path, Look())
    check_house(shell)
    assert told(shell, "walls are taken from 1 layer by their names (A-WALL)")
    assert not told(shell, "not understood")
    front = next(o for o in shell.openings if o.kind == "door" and o.width_in > 35)
    wall = shell.wall(front.wall)
    # By hand: the front door's hinge is 5' 0" from the outer corner, and the leaf opens into the house.
    assert (front.hinge_end, front.swings_to) == ("low", "left")
    assert wall.at(front.offset_in)[0] == pytest.approx(60.0, abs=0.05)


@pytest.mark.parametrize(
    ("per_inch", "code", "words"),
    [
        (
            MM,
            1,
            "inches ($INSUNITS 1), but then door leaves are 63' 6\" wide: taken as millimeters",
        ),
        (MM, None, "the header names no unit ($INSUNITS absent or 0): taken as millimeters"),
        (MM, 0, "the header names no unit ($INSUNITS absent or 0): taken as millimeters"),
        (1.0, 6, "the header says meters ($INSUNITS 6)"),
        (1.0, 20, "the header names a unit no house is drawn in ($INSUNITS 20): taken as inches"),
        (1 / 12, 4, "taken as feet, door leaves are then 2' 6\" wide"),
        (0.0254, 1, "taken as meters, door leaves are then 2' 6\" wide"),
        (2.54, 1, "taken as centimeters, door leaves are then 2' 6\" wide"),
    ],
)
def test_a_wrong_or_absent_unit_is_judged_by_the_doors(
    tmp_path: Path, per_inch: float, code: int | None, words: str
) -> None:
    shell = shell_of(tmp_path, Look(per_inch=per_inch, insunits=code))
    check_house(shell)
    assert told(shell, words), [str(n) for n in shell.notes]


@pytest.mark.parametrize(("per_inch", "code"), [(1.0, 1), (MM, 4), (1 / 12, 2)])
def test_a_right_unit_is_taken_without_a_word(tmp_path: Path, per_inch: float, code: int) -> None:
    shell = shell_of(tmp_path, Look(per_inch=per_inch, insunits=code))
    check_house(shell)
    assert not told(shell, "INSUNITS")


@pytest.mark.parametrize(
    "look",
    [
        Look(wall_layer="house|A-WALL", door_layer="house$0$A-DOOR", text_layer="house|A-ANNO"),
        Look(wall_layer="0", door_layer="0", window_layer="0", text_layer="0"),
        Look(swings=False),
        Look(loose=True),
        Look(at=(250_000.0, -90_000.0)),
        Look(per_inch=MM, insunits=4, door_block="B17", window_block="B18"),
    ],
    ids=("xref", "one layer", "no swings", "loose lines", "far away", "blocks told by layer"),
)
def test_other_ways_to_draw_the_same_house(tmp_path: Path, look: Look) -> None:
    check_house(shell_of(tmp_path, look))


def test_what_was_done_is_told(tmp_path: Path) -> None:
    xref = shell_of(tmp_path, Look(wall_layer="house|A-WALL"))
    assert told(xref, "1 layer carries the name of an xref before its own: read by their own (A-WALL)")
    plain = shell_of(tmp_path, Look(wall_layer="0"))
    assert told(plain, "no layer is named for walls")
    bare = shell_of(tmp_path, Look(texts=False))
    check_house(bare, names=False)
    assert told(bare, "4 rooms without a name in them")
    assert told(bare, "a plan has no heights: walls 8' 1-1/8\" high")


def test_one_plan_of_a_sheet_with_two_and_texts_of_people_stay_out(tmp_path: Path) -> None:
    from ezdxf.filemanagement import readfile

    path = draw(tmp_path / "sheet.dxf")
    document = readfile(str(path))
    space = document.modelspace()
    for x0, x1, y in ((2000.0, 2200.0, 0.0), (2000.0, 2200.0, 6.0)):
        space.add_line((x0, y), (x1, y), dxfattribs={"layer": "A-WALL"})
    space.add_text("DRAWN BY J DOE, 1 ELM STREET", height=8).set_placement((900, -200))
    document.saveas(path)
    shell = heal_shell(read_dxf(path))
    check_house(shell)
    assert told(shell, "the sheet holds 2 drawings apart from each other")
    assert "DOE" not in str(shell).upper()


def test_sizes_in_texts_are_held_against_the_walls(tmp_path: Path) -> None:
    from ezdxf.filemanagement import readfile

    path = draw(tmp_path / "plan.dxf")
    document = readfile(str(path))
    # By hand: the living room is 231-1/4 by 159-1/4 in, the bath 231-1/4 by 127-1/4 in.
    document.modelspace().add_text("19'-3 1/4\" x 13'-3 1/4\"", height=5).set_placement((100, 70))
    document.modelspace().add_text("12'-0\" x 8'-0\"", height=5).set_placement((350, 250))
    document.saveas(path)
    shell = heal_shell(read_dxf(path))
    assert told(shell, "1 room whose text states another size than is drawn (Bath)")
    living = next(r for r in shell.rooms if r.title == "Living")
    assert living.declared_in2 == pytest.approx(231.25 * 159.25)


def test_a_binary_drawing_is_read(tmp_path: Path) -> None:
    from ezdxf.filemanagement import readfile

    document = readfile(str(draw(tmp_path / "plan.dxf")))
    document.saveas(tmp_path / "binary.dxf", fmt="bin")
    check_house(heal_shell(read_dxf(tmp_path / "binary.dxf")))


@pytest.mark.parametrize("low", [6.5, 10.5], ids=("no nib", "a nib of 4 in"))
def test_a_door_hard_in_a_corner_is_in_its_own_wall(tmp_path: Path, low: float) -> None:
    shell = shell_of(tmp_path, Look(doors=(DOORS[0], (4, low, 30.0), *DOORS[2:])))
    check_house(shell)
    split = next(w for w in shell.walls if w.start[0] == w.end[0] and 200 < w.start[0] < 300)
    (door,) = shell.openings_of(split.id)
    assert (door.kind, split.at(door.offset_in)[1]) == ("door", pytest.approx(low, abs=0.05))


def test_a_break_with_nothing_in_it_is_a_cased_opening(tmp_path: Path) -> None:
    shell = shell_of(tmp_path, Look(doors=(DOORS[0], *DOORS[2:]), bare=(DOORS[1],)))
    assert [o.width_in for o in shell.openings if o.kind == "void"] == [pytest.approx(30.0)]
    assert len(shell.walls) == len(WALLS)
    assert len(shell.rooms) == len(ROOMS)
    assert told(shell, "1 break in a wall without door or window is cased openings")


def test_two_walls_in_one_line_across_a_hall_stay_two(tmp_path: Path) -> None:
    walls = (
        *WALLS[:4],
        ((220.0, 6.5), (220.0, 329.5), 4.5),
        ((262.0, 6.5), (262.0, 329.5), 4.5),
        ((6.5, 168.0), (217.75, 168.0), 4.5),
        ((264.25, 168.0), (473.5, 168.0), 4.5),
    )
    doors = ((0, 60.0, 36.0), (4, 60.0, 30.0), (5, 60.0, 30.0), (6, 100.0, 30.0), (7, 300.0, 30.0))
    shell = shell_of(tmp_path, Look(walls=walls, doors=doors, texts=False))
    assert len(shell.walls) == 8
    assert sorted(round(o.width_in) for o in shell.openings if o.kind == "door") == [30, 30, 30, 30, 36]
    # By hand: four rooms, and between them a hall 37-1/2 in wide over the whole depth.
    assert len(shell.rooms) == 5
    assert min(r.area_in2 for r in shell.rooms) == pytest.approx(37.5 * 323.0, rel=0.001)


def _single(path: Path, *, text: bool = True) -> Path:
    """Two rooms, one line a wall, as a hand sketch is drawn; a door by its swing in the middle wall."""
    from ezdxf.filemanagement import new

    document = new("R2010")
    document.header["$INSUNITS"] = 1
    space = document.modelspace()
    corners = [(0, 0), (240, 0), (240, 144), (0, 144)]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        space.add_line(a, b)
    space.add_line((120, 0), (120, 50))
    space.add_line((120, 82), (120, 144))
    space.add_arc((120, 50), 32, 0, 90)
    for name, at in (("KITCHEN", (40, 70)), ("BATH", (160, 110))) if text else ():
        space.add_text(name, height=6).set_placement(at)
    document.saveas(path)
    return path


def test_walls_of_one_line_get_a_stated_thickness(tmp_path: Path) -> None:
    shell = heal_shell(read_dxf(_single(tmp_path / "sketch.dxf")))
    assert len(shell.walls) == 5
    assert {w.thickness_in for w in shell.walls} == {4.5}
    assert [(o.kind, round(o.width_in)) for o in shell.openings] == [("door", 32)]
    # By hand: lines 120 by 144 apart, less half of 4-1/2 in on each side.
    areas = {r.title: r.area_in2 for r in shell.rooms}
    assert areas == {
        "Kitchen": pytest.approx(115.5 * 139.5, rel=1e-3),
        "Bath": pytest.approx(115.5 * 139.5, rel=1e-3),
    }
    assert told(shell, "walls are drawn as single lines")


def test_a_person_s_unit_wins_over_the_header(tmp_path: Path) -> None:
    path = draw(tmp_path / "house.dxf", Look(per_inch=MM, insunits=1))
    shell = heal_shell(read_dxf(path, "millimeters"))
    assert told(shell, "the header says inches ($INSUNITS 1): read in millimeters, as you said")
    assert len(shell.walls) == len(WALLS)


def test_another_drawing_of_the_sheet_can_be_asked_for(tmp_path: Path) -> None:
    from ezdxf.filemanagement import readfile

    path = draw(tmp_path / "house.dxf", Look(at=(2000.0, 0.0)))
    document = readfile(str(path))
    space = document.modelspace()
    corners = [(0, 0), (120, 0), (120, 96), (0, 96)]
    inner = [(6, 6), (114, 6), (114, 90), (6, 90)]
    for ring in (corners, inner):
        for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
            space.add_line(a, b, dxfattribs={"layer": "A-WALL"})
    document.saveas(path)
    shell = heal_shell(read_dxf(path))
    assert len(shell.walls) == len(WALLS)
    (note,) = (n for n in shell.notes if "the sheet holds 2 drawings" in n.text)
    assert "drawing 2 is taken, the one with most room names and walls" in note.text
    assert [n.partition(",")[0] for n in note.names] == ["1: 9' 6\" by 7' 6\"", "2: 39' 6\" by 27' 6\""]
    assert "4 room names" in note.names[1]
    small = heal_shell(read_dxf(path, "", 1))
    assert len(small.walls) == 4
    with pytest.raises(ImportRefused, match="expected drawing 1 to 2, got 3"):
        read_dxf(path, "", 3)


def test_what_became_nothing_is_in_the_picture(tmp_path: Path) -> None:
    from ezdxf.filemanagement import readfile

    path = draw(tmp_path / "house.dxf")
    document = readfile(str(path))
    document.modelspace().add_line((60, 60), (120, 90), dxfattribs={"layer": "A-FURN"})
    document.modelspace().add_blockref(
        "DOOR-SGL", (100, 100), dxfattribs={"xscale": 30, "yscale": 30, "layer": "A-DOOR"}
    )
    document.saveas(path)
    shell = heal_shell(read_dxf(path))
    assert any(t.kind == "drawn" and t.points == ((60.0, 60.0), (120.0, 90.0)) for t in shell.traces)
    assert [t.says for t in shell.traces if t.kind == "lost"] == ["door on no wall: DOOR-SGL"]
