"""What one quirk of a file comes to: small models of our own, written as text, in four units."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from bayrun.files.heal import heal_shell
from bayrun.files.ifc import read_ifc
from bayrun.files.ifc_studs import read_studs
from bayrun.files.shell import Shell
from conftest import need
from ifc_model import Model, box_house


@pytest.fixture(autouse=True)
def _ifcopenshell() -> None:
    need(module="ifcopenshell")


def read(model: Model, tmp_path: Path) -> Shell:
    """The shell of a model, as read."""
    return read_ifc(model.write(tmp_path / "house.ifc"))


def notes(shell: Shell) -> str:
    """All notes as one text."""
    return "\n".join(str(note) for note in shell.notes)


@pytest.mark.parametrize("unit", ["mm", "m", "ft", "in"])
def test_every_unit_comes_to_the_same_inches(unit: str, tmp_path: Path) -> None:
    model = Model(unit)
    walls = box_house(model)
    model.opening(walls["front"], 30.0, 36.0, 0.0, 80.0, "door")
    model.opening(walls["back"], 40.0, 48.0, 36.0, 44.0, "window")
    shell = read(model, tmp_path)
    front = next(
        w for w in shell.walls if w.start == pytest.approx((0, 0), abs=1e-3) and w.label == "Outer 2x6"
    )
    assert front.length_in == pytest.approx(240.0, abs=1e-4)  # nine written decimals of the file's unit
    assert front.thickness_in == pytest.approx(6.5, abs=1e-4)
    assert front.height_in == pytest.approx(97.0, abs=1e-4)
    door = next(o for o in shell.openings if o.kind == "door")
    assert (door.offset_in, door.width_in, door.sill_in, door.height_in) == pytest.approx(
        (30, 36, 0, 80), abs=1e-4
    )
    window = next(o for o in shell.openings if o.kind == "window")
    assert (window.sill_in, window.height_in) == pytest.approx((36, 44), abs=1e-4)


@pytest.mark.parametrize("sense", ["NEGATIVE", "POSITIVE"])
@pytest.mark.parametrize("axis", [True, False])
def test_layers_stand_on_the_side_the_file_says(sense: str, axis: bool, tmp_path: Path) -> None:
    """IFC4: layers are stacked from the offset toward +y or -y of the placement; the wall runs along +x."""
    model = Model()
    model.storey("Floor", 0.0)
    layers = (("Brick", 3.5), ("Air space", 1.0), ("Wood stud", 5.5), ("Gypsum board", 0.5))
    model.wall("Floor", (0.0, 0.0), (120.0, 0.0), 10.5, layers=layers, sense=sense, axis=axis)
    wall = read(model, tmp_path).walls[0]
    assert wall.direction == pytest.approx((1, 0), abs=1e-9)
    kinds = [layer.kind for layer in wall.layers]
    brick_left = sense == "NEGATIVE"  # stacked from +5.25 downward: the brick is at +y, left of +x
    assert kinds == (
        ["masonry", "air", "wood studs", "board"] if brick_left else ["board", "wood studs", "air", "masonry"]
    )
    assert (wall.core, wall.core_in) == ("wood studs", pytest.approx(5.5, abs=1e-4))
    # Core center by hand: 10.5/2 - (3.5 + 1.0 + 5.5/2) = -2.0 from the drawn line, toward the board.
    assert wall.start[1] == pytest.approx(-2.0 if brick_left else 2.0, abs=1e-3)
    assert wall.left_in + wall.right_in == pytest.approx(10.5, abs=1e-4)


def test_a_wall_without_an_axis_is_read_from_its_body(tmp_path: Path) -> None:
    model = Model()
    model.storey("Floor", 0.0)
    model.wall("Floor", (10.0, 20.0), (130.0, 20.0), 4.5, axis=False)
    shell = read(model, tmp_path)
    (wall,) = shell.walls
    assert wall.read_from == "body"
    assert wall.thickness_in == pytest.approx(4.5, abs=1e-3)
    assert sorted((wall.start, wall.end)) == [
        pytest.approx((10, 20), abs=1e-2),
        pytest.approx((130, 20), abs=1e-2),
    ]


def test_an_angled_body_comes_apart_into_its_straight_runs(tmp_path: Path) -> None:
    model = Model()
    model.storey("Floor", 0.0)
    where = model.place((0.0, 0.0, 0.0), on=model.placement("Floor"))
    outline = ((0.0, 0.0), (120.0, 0.0), (120.0, 90.0), (115.0, 90.0), (115.0, 5.0), (0.0, 5.0))
    shape = model.shape(model.prism(outline, 97.0))
    wall = model.add(f"IFCWALL({model.g()},$,'Bent',$,$,#{where},#{shape},$,$)")
    model.held["Floor"].append(wall)
    shell = heal_shell(read(model, tmp_path))
    assert len(shell.walls) == 2
    assert len({w.source_ref for w in shell.walls}) == 1
    assert [w.thickness_in for w in shell.walls] == pytest.approx([5, 5], abs=1e-2)
    corner = [j for j in shell.joints if j.kind == "corner"]
    assert {j.wall for j in corner} == {"W1", "W2"}
    assert "1 wall split into straight pieces" in notes(shell)


def test_a_hole_with_nothing_in_it_stays_a_void_and_a_niche_is_left_out(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.opening(walls["middle"], 60.0, 48.0, 0.0, 84.0)
    model.opening(walls["right"], 30.0, 20.0, 40.0, 30.0, depth_in=5.0)
    shell = read(model, tmp_path)
    (void,) = shell.openings
    assert (void.kind, void.sill_in) == ("void", pytest.approx(0, abs=1e-4))
    assert shell.wall(void.wall).label == "Inner 2x4"
    assert "1 niches that do not go through their wall (Outer 2x6)" in notes(shell)


def test_a_door_no_wall_was_cut_for_goes_into_the_nearest_wall(tmp_path: Path) -> None:
    model = Model()
    box_house(model)
    where = model.place((40.0, 0.0, 0.0), on=model.placement("Floor"))
    model.held["Floor"].append(model.unit_in(where, 32.0, 80.0, "door"))
    far = model.place((60.0, 90.0, 0.0), on=model.placement("Floor"))
    model.held["Floor"].append(model.unit_in(far, 30.0, 80.0, "door", name="Lost door"))
    shell = read(model, tmp_path)
    (door,) = shell.openings
    assert (door.offset_in, door.width_in) == pytest.approx((40, 32), abs=1e-3)
    assert "1 doors that no wall was cut for were put into the nearest wall" in notes(shell)
    assert "not understood: 1 doors that are in no wall (Lost door)" in notes(shell)


def test_an_opening_past_the_end_of_its_wall_is_cut_back_and_told(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.opening(walls["front"], 220.0, 40.0, 36.0, 30.0, "window")
    shell = read(model, tmp_path)
    (window,) = shell.openings
    assert window.offset_in + window.width_in == pytest.approx(240.0, abs=1e-3)
    assert "windows reached past the end of their wall and were cut back" in notes(shell)


@pytest.mark.parametrize(
    ("swing", "hinge"),
    [("SINGLE_SWING_LEFT", "low"), ("SINGLE_SWING_RIGHT", "high"), ("SLIDING_TO_LEFT", None)],
)
def test_hinges_as_the_standard_says(swing: str, hinge: str | None, tmp_path: Path) -> None:
    # IFC4, IfcDoorTypeOperationEnum: left hinges are left as seen along +y; the placement here is the wall's.
    model = Model()
    walls = box_house(model)
    model.opening(walls["front"], 30.0, 36.0, 0.0, 80.0, "door", swing=swing)
    (door,) = read(model, tmp_path).openings
    assert (door.hinge_end, door.swings_to) == (hinge, "left" if hinge else None)


def test_levels_by_real_elevation_and_a_wall_through_two_stories(tmp_path: Path) -> None:
    model = Model()
    box_house(model, "Ground")
    model.storey("Upper", 110.0)
    box_house(model, "Upper")
    model.storey("Roof", 210.0)
    model.wall("Ground", (60.0, 3.25), (60.0, 100.0), 5.0, 207.0, name="Tall wall")
    model.wall("Roof", (0.0, 0.0), (240.0, 0.0), 6.5, 20.0, name="Parapet wall")
    model.wall("Ground", (80.0, 3.25), (80.0, 100.0), 5.0, 97.0, z_in=110.0, name="Misfiled wall")
    shell = read(model, tmp_path)
    assert [(v.name, v.role) for v in shell.levels] == [
        ("Ground", "story"),
        ("Upper", "story"),
        ("Roof", "roof"),
    ]
    assert [v.height_in for v in shell.stories] == pytest.approx([110, 100], abs=1e-3)
    tall = [w for w in shell.walls if w.label == "Tall wall"]
    assert [(w.level, w.role) for w in tall] == [("Ground", "wall"), ("Upper", "wall")]
    assert [w.height_in for w in tall] == pytest.approx([110, 97], abs=1e-3)
    assert [w.role for w in shell.walls if w.label == "Parapet wall"] == ["parapet"]
    assert [w.level for w in shell.walls if w.label == "Misfiled wall"] == ["Upper"]
    assert "1 walls that run through several stories were cut at the floors (Tall wall)" in notes(shell)
    assert "walls stand in another level than the one they are filed under (Misfiled wall)" in notes(shell)


def test_without_levels_they_are_judged_from_the_walls(tmp_path: Path) -> None:
    model = Model()
    box_house(model)
    gone = ("IFCBUILDINGSTOREY", "SPATIALSTRUCTURE", "IFCRELAGGREGATES")
    text = "\n".join(line for line in model.text().split("\n") if not any(g in line for g in gone))
    (tmp_path / "house.ifc").write_text(text)
    shell = read_ifc(tmp_path / "house.ifc")
    assert [v.name for v in shell.stories] == ["Level 1"]
    assert len(shell.story_walls) == 5
    assert "the file has no levels: levels are judged from the walls' heights" in notes(shell)


def test_no_unit_is_told(tmp_path: Path) -> None:
    model = Model("m")
    box_house(model)
    text = model.text().replace("IFCUNITASSIGNMENT((#4,#5))", "IFCUNITASSIGNMENT((#5))")
    (tmp_path / "house.ifc").write_text(text)
    shell = read_ifc(tmp_path / "house.ifc")
    assert "the file states no unit of length: taken as meters" in notes(shell)
    assert max(w.length_in for w in shell.walls) == pytest.approx(240, abs=1e-3)


def test_a_foot_told_in_millimeters_is_a_foot(tmp_path: Path) -> None:
    model = Model("ft")
    box_house(model)
    text = model.text().replace("IFCLENGTHMEASURE(0.3048)", "IFCLENGTHMEASURE(304.8)")
    meter = "IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)"
    assert meter in text
    (tmp_path / "house.ifc").write_text(text.replace(meter, "IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)"))
    assert max(w.length_in for w in read_ifc(tmp_path / "house.ifc").walls) == pytest.approx(240, abs=1e-3)


def test_without_a_body_the_stated_layers_place_the_wall(tmp_path: Path) -> None:
    """A reference line on one face, drawn against the placement's x: the layers still lie toward its +y."""
    model = Model()
    model.storey("Floor", 0.0)
    where = model.place((0.0, 0.0, 0.0), on=model.placement("Floor"))
    shape = model.shape(axis=((120.0, 0.0), (0.0, 0.0)))
    wall = model.add(f"IFCWALL({model.g()},$,'Line only',$,$,#{where},#{shape},$,$)")
    material = model.add("IFCMATERIAL('Wood stud',$,$)")
    layer = model.add(f"IFCMATERIALLAYER(#{material},{model.n(5.5)},$,$,$,$,$)")
    stack = model.add(f"IFCMATERIALLAYERSET((#{layer}),$,$)")
    usage = model.add(f"IFCMATERIALLAYERSETUSAGE(#{stack},.AXIS2.,.POSITIVE.,0.,$)")
    model.add(f"IFCRELASSOCIATESMATERIAL({model.g()},$,$,$,(#{wall}),#{usage})")
    model.held["Floor"].append(wall)
    shell = read(model, tmp_path)
    (found,) = shell.walls
    assert found.thickness_in == pytest.approx(5.5, abs=1e-4)
    # By hand: from y = 0 to y = 5-1/2, so the center line runs at 2-3/4.
    assert (found.start[1], found.end[1]) == pytest.approx((2.75, 2.75), abs=1e-4)
    assert "1 walls without a height: the level's height taken (Line only)" in notes(shell)


def test_a_wall_drawn_stick_by_stick(tmp_path: Path) -> None:
    model = Model("in")
    model.storey("Floor", 0.0)
    wall, where = model.wall("Floor", (0.0, 0.0), (64.0, 0.0), 3.5, body=False, name="Framed")
    parts = []
    boxes = [(2.0 + x, 3.5 + x, 1.5, 94.0) for x in (0.0, 16.0, 32.0, 48.0, 58.5)]
    boxes += [(2.0, 62.0, 0.0, 1.5), (2.0, 62.0, 94.0, 97.0)]
    for x0, x1, z0, z1 in boxes:
        place = model.place((0.0, 0.0, z0), on=where)
        shape = model.shape(model.box(x0, x1, -1.75, 1.75, z1 - z0))
        parts.append(model.add(f"IFCMEMBER({model.g()},$,'Stick',$,$,#{place},#{shape},$,$)"))
    inside = ",".join(f"#{part}" for part in parts)
    model.add(f"IFCRELAGGREGATES({model.g()},$,$,$,#{wall},({inside}))")
    framed = read_studs(model.write(tmp_path / "house.ifc"))
    assert (framed.length_in, framed.height_in) == pytest.approx((60, 97), abs=1e-4)
    assert [s.center_in for s in framed.studs] == pytest.approx([0.75, 16.75, 32.75, 48.75, 59.25], abs=1e-4)
    assert (framed.spacing_in, len(framed.plates)) == (16.0, 2)
    (read_wall,) = read_ifc(tmp_path / "house.ifc").walls
    assert (read_wall.read_from, read_wall.height_in) == ("parts", pytest.approx(97, abs=1e-4))


def test_people_and_addresses_are_not_carried(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.add("IFCPERSON($,'Quillfeather','Ottoline',$,$,$,$,$)")
    model.add("IFCORGANIZATION($,'Quillfeather Holdings',$,$,$)")
    model.add("IFCPOSTALADDRESS($,$,$,$,('12 Invented Lane'),$,'Nowhereton',$,'00000',$)")
    outline = ((3.25, 3.25), (117.75, 3.25), (117.75, 176.75), (3.25, 176.75))
    model.space(
        "Floor", outline, long_name="Ottoline Quillfeather office a.b@example.org", name="12 Invented Lane"
    )
    model.opening(walls["front"], 30.0, 36.0, 0.0, 80.0, "door", name="Door for Quillfeather Holdings")
    shell = heal_shell(read(model, tmp_path))
    told = repr(shell)
    for word in ("Quillfeather", "Ottoline", "Invented Lane", "Nowhereton", "example.org", str(tmp_path)):
        assert word not in told
    assert shell.spaces[0].title == "office"
    assert "names, addresses or e-mails of people and firms were taken out of texts" in notes(shell)


def test_shuffled_lines_give_the_same_shell(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.opening(walls["front"], 30.0, 36.0, 0.0, 80.0, "door")
    model.opening(walls["back"], 40.0, 48.0, 36.0, 44.0, "window")
    model.space("Floor", ((3.25, 3.25), (117.75, 3.25), (117.75, 176.75), (3.25, 176.75)))
    first = heal_shell(read(model, tmp_path))
    head, body = (tmp_path / "house.ifc").read_text().split("DATA;\n")
    lines = body.replace("ENDSEC;\nEND-ISO-10303-21;\n", "").split("\n")
    random.Random(3).shuffle(lines)
    (tmp_path / "house.ifc").write_text(
        f"{head}DATA;\n" + "\n".join(lines) + "\nENDSEC;\nEND-ISO-10303-21;\n"
    )
    assert heal_shell(read_ifc(tmp_path / "house.ifc")) == first
