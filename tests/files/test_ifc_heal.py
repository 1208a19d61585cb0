"""Healing: joints as data, squared walls, doubles, outer walls, the origin; each told in the notes."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from bayrun.files.heal import heal_shell
from bayrun.files.ifc import read_ifc
from bayrun.files.shell import Shell, ShellSpace, ShellWall
from bayrun.files.shell_rooms import room_outline
from conftest import need
from ifc_model import Model, box_house


@pytest.fixture(autouse=True)
def _ifcopenshell() -> None:
    need(module="ifcopenshell")


def healed(model: Model, tmp_path: Path) -> Shell:
    """The healed shell of a model."""
    return heal_shell(read_ifc(model.write(tmp_path / "house.ifc")))


def notes(shell: Shell) -> str:
    """All notes as one text."""
    return "\n".join(str(note) for note in shell.notes)


def test_ends_are_brought_together_and_joints_written_down(tmp_path: Path) -> None:
    model = Model()
    box_house(model)
    shell = healed(model, tmp_path)
    middle = next(w for w in shell.walls if w.label == "Inner 2x4")
    mine = {j.end: j for j in shell.joints if j.wall == middle.id}
    assert {j.kind for j in mine.values()} == {"tee"}
    # It was drawn to the faces: half of 6-1/2 in short of the center lines.
    assert [mine[e].closed_in for e in ("start", "end")] == pytest.approx([3.25, 3.25], abs=1e-3)
    assert middle.length_in == pytest.approx(180, abs=1e-3)
    assert sum(j.kind == "corner" for j in shell.joints) == 8
    for joint in shell.joints:
        wall, other = shell.wall(joint.wall), shell.wall(joint.on_wall)
        point = wall.start if joint.end == "start" else wall.end
        assert other.at(joint.on_offset_in) == pytest.approx(point, abs=1e-3)
    assert '2 wall ends were brought onto the line of the wall they meet, by up to 3-1/4"' in notes(shell)


def test_an_end_too_far_away_is_left_free_and_told(tmp_path: Path) -> None:
    model = Model()
    model.storey("Floor", 0.0)
    model.wall("Floor", (0.0, 0.0), (200.0, 0.0), 6.5)
    model.wall("Floor", (100.0, 8.0), (100.0, 100.0), 4.5)  # 8 in: over (6-1/2 + 4-1/2) / 2 + 2 = 7-1/2
    shell = healed(model, tmp_path)
    assert shell.joints == ()
    assert "4 wall ends meet no other wall" in notes(shell)


def test_openings_keep_their_place_when_a_wall_grows_at_its_start(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.opening(walls["middle"], 40.0, 30.0, 0.0, 80.0, "door")
    before = read_ifc(model.write(tmp_path / "house.ifc"))
    shell = heal_shell(before)
    (old,), (new,) = before.openings, shell.openings
    was, now = before.wall(old.wall).at(old.offset_in), shell.wall(new.wall).at(new.offset_in)
    shift = (
        shell.walls[0].start[0] - before.walls[0].start[0],
        shell.walls[0].start[1] - before.walls[0].start[1],
    )
    assert now == pytest.approx(
        (was[0] + 3.25, was[1] + 3.25), abs=1e-3
    )  # the corner of the faces is the new zero
    assert shift is not None


@pytest.mark.parametrize("turn", [0.0, 17.0, 40.0, -28.5, 90.0])
def test_a_turned_plan_is_squared_up(turn: float, tmp_path: Path) -> None:
    straight, turned = Model(), Model(turn=turn, at=(4000.0, -9000.0))
    shells = []
    for model in (straight, turned):
        walls = box_house(model)
        model.opening(walls["front"], 30.0, 36.0, 0.0, 80.0, "door")
        model.space("Floor", ((3.25, 3.25), (117.75, 3.25), (117.75, 176.75), (3.25, 176.75)))
        shells.append(healed(model, tmp_path))
    first, second = shells
    for wall in second.walls:
        assert min(abs(wall.direction[0]), abs(wall.direction[1])) == pytest.approx(0, abs=1e-6)
    corners = [
        p
        for w in second.walls
        for o in (0.0, w.length_in)
        for p in (w.at(o, w.left_in), w.at(o, -w.right_in))
    ]
    # Faces run 3-1/4 in past the center lines' corners only across the walls: the outline starts at zero.
    assert (min(p[0] for p in corners), min(p[1] for p in corners)) == pytest.approx((0, 0), abs=1e-3)
    assert second.spaces[0].area_in2 == pytest.approx(first.spaces[0].area_in2, rel=1e-6)
    if turn in (17.0, 40.0, -28.5):
        assert f"the plan was turned by {-turn:.2f} degrees" in notes(second)
    assert {j.kind for j in second.joints} == {"corner", "tee"}
    assert len(second.joints) == len(first.joints) == 10


def test_a_slanted_wall_keeps_its_angle_and_a_hair_is_squared(tmp_path: Path) -> None:
    model = Model()
    box_house(model)
    model.wall("Floor", (10.0, 60.0), (110.0, 60.6), 4.5, name="Hair")  # 0.34 degrees
    model.wall("Floor", (130.0, 20.0), (200.0, 90.0), 4.5, name="Slanted")
    shell = healed(model, tmp_path)
    hair, slanted = (next(w for w in shell.walls if w.label == name) for name in ("Hair", "Slanted"))
    assert hair.direction == pytest.approx((1, 0), abs=1e-9)
    assert math.degrees(math.atan2(slanted.direction[1], slanted.direction[0])) == pytest.approx(45, abs=1e-3)
    assert "1 wall a hair out of square was squared" in notes(shell)
    assert "1 wall runs at a slant and is kept so" in notes(shell)


def test_a_wall_drawn_twice_is_counted_once(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    twin = model.wall("Floor", (120.0, 176.0), (120.0, 3.25), 4.5, name="Inner again")
    model.opening(twin, 50.0, 32.0, 0.0, 80.0, "door")
    model.opening(walls["middle"], 20.0, 32.0, 0.0, 80.0, "door")
    shell = healed(model, tmp_path)
    assert len(shell.story_walls) == 5
    assert [w.role for w in shell.walls].count("duplicate") == 1
    kept = next(w for w in shell.story_walls if "Inner" in w.label)
    assert [o.wall for o in shell.openings] == [kept.id, kept.id]
    assert "1 wall drawn twice in one place is counted once" in notes(shell)


def test_outer_walls_are_judged_by_the_outline(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.says(walls["middle"][0], IsExternal="IFCBOOLEAN(.T.)", LoadBearing="IFCBOOLEAN(.F.)")
    model.says(walls["front"][0], IsExternal="IFCBOOLEAN(.F.)", FireRating="IFCLABEL('1 hour')")
    shell = healed(model, tmp_path)
    assert {w.label: w.exterior for w in shell.walls} == {"Outer 2x6": True, "Inner 2x4": False}
    assert "1 wall the file calls exterior stands inside the house: taken as interior (Inner 2x4)" in notes(
        shell
    )
    assert "1 wall the file calls interior stands at the outside: taken as exterior (Outer 2x6)" in notes(
        shell
    )
    assert [w.fire_rating for w in shell.walls if w.fire_rating] == ["1 hour"]
    # One wall only is said not to bear and none is said to bear: nobody decided it.
    assert {w.load_bearing for w in shell.walls} == {None}


def test_bearing_stays_as_said_where_the_file_tells_them_apart(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.says(walls["middle"][0], LoadBearing="IFCBOOLEAN(.F.)")
    model.says(walls["front"][0], LoadBearing="IFCBOOLEAN(.T.)")
    shell = healed(model, tmp_path)
    assert {w.label: w.load_bearing for w in shell.walls if w.load_bearing is not None} == {
        "Inner 2x4": False, "Outer 2x6": True,
    }  # fmt: skip


def test_a_room_is_brought_out_to_its_walls(tmp_path: Path) -> None:
    model = Model()
    box_house(model)
    # Open to the right at the back: the partition stops, by hand, nothing stands on x = 117.75 above y = 120.
    model.space("Floor", ((3.25, 3.25), (117.75, 3.25), (117.75, 176.75), (3.25, 176.75)))
    shell = healed(model, tmp_path)
    outline = room_outline(shell.spaces[0], shell.walls)
    # By hand: 120 in between the center lines of the left wall and the partition, 180 in front to back.
    assert outline.area_in2 == pytest.approx(120 * 180, rel=1e-5)
    assert outline.open_edges == ()
    middle = next(w for w in shell.walls if w.label == "Inner 2x4")
    (contact,) = [c for c in outline.contacts if c.wall == middle.id]
    assert contact.side == "left"  # the partition runs up the sheet, the room is on its left
    short = replace(shell, walls=tuple(w for w in shell.walls if w is not middle))
    (gone,) = room_outline(short.spaces[0], short.walls).open_edges
    assert math.dist(*gone) == pytest.approx(173.5, abs=1e-3)


def test_a_room_meets_the_face_on_its_own_side() -> None:
    """A thick wall whose studs stand at its right face: 15 in of it to the left, 1-1/2 in to the right."""
    wall = ShellWall("W1", "", "1", (0.0, 0.0), (120.0, 0.0), 16.5, 97.0, left_in=15.0, right_in=1.5)
    above = ((10.0, 17.0), (100.0, 17.0), (100.0, 90.0), (10.0, 90.0))  # 2 in off the left face
    below = ((10.0, -90.0), (100.0, -90.0), (100.0, -3.0), (10.0, -3.0))  # 1-1/2 in off the right face
    far = ((10.0, 19.0), (100.0, 19.0), (100.0, 90.0), (10.0, 90.0))  # 4 in off: over the 3 in that is let be
    sides = [
        [(c.side, c.from_in, c.to_in) for c in room_outline(ShellSpace("", "", "1", p, 1.0), [wall]).contacts]
        for p in (above, below, far)
    ]
    assert sides == [[("left", 10.0, 100.0)], [("right", 10.0, 100.0)], []]


def test_healing_twice_changes_nothing_more(tmp_path: Path) -> None:
    model = Model()
    box_house(model)
    once = healed(model, tmp_path)
    again = heal_shell(once)
    assert again.walls == once.walls
    assert again.openings == once.openings
