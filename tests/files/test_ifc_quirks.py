"""IFC as it comes: one small file of our own for each quirk, and what a person is told of it.

Expected lengths are the ones the file was written with, or reckoned by hand beside the check.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from bayrun.files.heal import heal_shell
from bayrun.files.ifc import read_ifc
from bayrun.files.shell import Shell
from bayrun.files.shell_guess import lumber_of_name, spacing_of_name
from bayrun.files.shell_to_job import job_from_shell
from bayrun.framing import lay_out
from bayrun.house import Job
from bayrun.house.check import check_job
from conftest import need
from ifc_model import Model, box_house, brep, face_set, product, solid_shape


@pytest.fixture(autouse=True)
def _ifcopenshell() -> None:
    need(module="ifcopenshell")


def healed(model: Model, tmp_path: Path) -> Shell:
    """The healed shell of a small file."""
    return heal_shell(read_ifc(model.write(tmp_path / "house.ifc")))


def told(shell: Shell) -> str:
    """All notes as one text."""
    return "\n".join(str(n) for n in shell.notes)


def assumed(job: Job) -> str:
    """All assumptions as one text."""
    return "\n".join(f"{a.says} [{a.where}] {a.why}" for a in job.assumptions)


def floor(schema: str = "IFC4") -> Model:
    """A model with one level."""
    model = Model(schema=schema)
    model.storey("Floor", 0.0)
    return model


# -- bodies of every form ----------------------------------------------------------------------------


def _csg(model: Model) -> int:
    where = model.add(f"IFCAXIS2PLACEMENT3D(#{model.add('IFCCARTESIANPOINT((0.,0.,0.))')},$,$)")
    block = model.add(f"IFCBLOCK(#{where},{model.n(120.0)},{model.n(5.0)},{model.n(97.0)})")
    return model.add(f"IFCCSGSOLID(#{block})")


def _clipped_short(model: Model) -> int:
    """An extrusion of 200 in, of which a plane leaves 120 in: only a kernel knows."""
    whole = model.box(0.0, 200.0, 0.0, 5.0, 97.0)
    point = model.add(f"IFCCARTESIANPOINT(({model.n(120.0)},0.,0.))")
    axis = model.add("IFCDIRECTION((-1.,0.,0.))")
    ref = model.add("IFCDIRECTION((0.,1.,0.))")
    place = model.add(f"IFCAXIS2PLACEMENT3D(#{point},#{axis},#{ref})")
    half = model.add(f"IFCHALFSPACESOLID(#{model.add(f'IFCPLANE(#{place})')},.T.)")
    return model.add(f"IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#{whole},#{half})")


def _turned(model: Model) -> int:
    """A square turned about an axis: a class that attributes do not tell."""
    outline = ((0.0, 0.0), (5.0, 0.0), (5.0, 97.0), (0.0, 97.0))
    points = [model.add(f"IFCCARTESIANPOINT(({model.n(x)},{model.n(y)}))") for x, y in (*outline, outline[0])]
    line = model.add(f"IFCPOLYLINE(({','.join(f'#{p}' for p in points)}))")
    area = model.add(f"IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#{line})")
    # Local z of the solid along x of the world, local x along y, local y up: swept 120 in along x.
    x, z = model.add("IFCDIRECTION((0.,1.,0.))"), model.add("IFCDIRECTION((1.,0.,0.))")
    at = model.add("IFCCARTESIANPOINT((0.,0.,0.))")
    place = model.add(f"IFCAXIS2PLACEMENT3D(#{at},#{z},#{x})")
    far = model.add(f"IFCCARTESIANPOINT((0.,0.,{model.n(120.0)}))")
    way = model.add(f"IFCPOLYLINE((#{at},#{far}))")
    side = model.add("IFCDIRECTION((1.,0.,0.))")
    return model.add(f"IFCFIXEDREFERENCESWEPTAREASOLID(#{area},#{place},#{way},$,$,#{side})")


@pytest.mark.parametrize(
    ("form", "make"),
    [
        ("Brep", lambda m: brep(m, 0.0, 120.0, 0.0, 5.0, 0.0, 97.0)),
        ("Tessellation", lambda m: face_set(m, 0.0, 120.0, 0.0, 5.0, 0.0, 97.0)),
        ("CSG", _csg),
        ("Clipping", _clipped_short),
        ("AdvancedSweptSolid", _turned),
    ],
)
def test_a_wall_without_an_axis_of_any_body(form: str, make: object, tmp_path: Path) -> None:
    model = floor()
    shape = solid_shape(model, make(model), form=form)  # type: ignore[operator]
    product(model, "Floor", "IFCWALL", shape, name="Body only")
    shell = healed(model, tmp_path)
    (wall,) = shell.walls
    assert wall.length_in == pytest.approx(120.0, abs=0.01)
    assert wall.thickness_in == pytest.approx(5.0, abs=0.01)
    assert wall.height_in == pytest.approx(97.0, abs=0.01)
    assert "not understood: 1 pieces" not in told(shell)


def test_a_wall_cut_by_the_roof_ends_where_it_really_ends(tmp_path: Path) -> None:
    """Extruded 20 ft and cut by a level plane at 8 ft 1 in: the height is the cut one."""
    model = floor()
    walls = box_house(model)
    whole = model.box(0.0, 240.0, -2.25, 2.25, 240.0)
    point = model.add(f"IFCCARTESIANPOINT((0.,0.,{model.n(97.0)}))")
    up = model.add("IFCDIRECTION((0.,0.,1.))")
    place = model.add(f"IFCAXIS2PLACEMENT3D(#{point},#{up},$)")
    half = model.add(f"IFCHALFSPACESOLID(#{model.add(f'IFCPLANE(#{place})')},.F.)")
    cut = model.add(f"IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#{whole},#{half})")
    product(model, "Floor", "IFCWALL", solid_shape(model, cut, form="Clipping"), name="Under the roof")
    shell = healed(model, tmp_path)
    assert len(walls) == 5
    (wall,) = (w for w in shell.walls if w.label == "Under the roof")
    assert wall.height_in == pytest.approx(97.0, abs=0.01)


@pytest.mark.parametrize("schema", ["IFC2X3", "IFC4", "IFC4X3_ADD2"])
def test_every_schema_gives_the_same_house(schema: str, tmp_path: Path) -> None:
    model = Model(schema=schema)
    walls = box_house(model)
    model.opening(walls["front"], 30.0, 36.0, 0.0, 80.0)
    text = model.text()
    if schema == "IFC2X3":
        # Older entities have fewer attributes at their end.
        for name in ("IFCWALL", "IFCOPENINGELEMENT"):
            text = "\n".join(
                line[: line.rindex(",$)")] + ");" if f"={name}(" in line else line
                for line in text.split("\n")
            )
    path = tmp_path / "house.ifc"
    path.write_text(text)
    shell = heal_shell(read_ifc(path))
    assert len(shell.walls) == 5
    assert [o.width_in for o in shell.openings] == pytest.approx([36.0])
    assert len(shell.rooms) == 2


# -- rooms -------------------------------------------------------------------------------------------


def test_rooms_are_found_where_the_file_has_none(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.opening(walls["middle"], 40.0, 32.0, 0.0, 80.0, "door")
    shell = healed(model, tmp_path)
    # By hand: 120 less 3-1/4 and 2-1/4 wide, 180 less twice 3-1/4 deep.
    assert [r.area_in2 for r in shell.rooms] == pytest.approx([114.5 * 173.5] * 2, rel=1e-3)
    assert "the file has no rooms: 2 were found from the walls" in told(shell)
    job = job_from_shell(shell)
    assert [r.name for r in job.rooms] == ["Room 1", "Room 2"]
    assert not [f for f in check_job(job) if f.severity.name == "STOP"]


def test_a_gap_is_closed_for_the_room_and_told_with_its_place(tmp_path: Path) -> None:
    model = floor()
    corners = [(0.0, 0.0), (240.0, 0.0), (240.0, 180.0), (0.0, 180.0)]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        model.wall("Floor", a, b, 6.5, name="Outer")
    model.wall("Floor", (120.0, 3.25), (120.0, 130.0), 4.5, name="Short")
    shell = healed(model, tmp_path)
    assert len(shell.rooms) == 2
    # From the end at 130 in to the outer wall's inner face: 180 - 3.25 - 130.
    assert "1 gap in walls up to 3' 10-3/4\" wide was closed to find rooms" in told(shell)
    (gap,) = (t for t in shell.traces if t.says.startswith("gap"))
    assert gap.points[0] == pytest.approx((120.0 + 3.25, 130.0 + 3.25), abs=0.01)


def test_a_room_the_file_forgot_is_added_to_its_others(tmp_path: Path) -> None:
    model = Model()
    box_house(model)
    model.space("Floor", ((3.25, 3.25), (117.75, 3.25), (117.75, 176.75), (3.25, 176.75)), long_name="Bath")
    shell = healed(model, tmp_path)
    assert sorted(r.title for r in shell.rooms) == ["Bath 1", "Room 2"]
    assert "1 room the file does not have" in told(shell)


# -- studs and joists --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "spacing_in"),
    [
        ("2x6 at 16", 16.0), ("Exterior 2x4 @ 24\" o.c.", 24.0), ("Wood studs 16\" OC", 16.0),
        ("2x4 - 16 in. on center", 16.0), ("2x6 stud 406mm o.c.", 16.0), ("studs @ 19.2 oc", 19.2),
        ("600 mm c/c", 600 / 25.4), ("Basic Wall:Generic - 260mm", None), ("Partition (92mm Stud)", None),
        ("Wall at grid 3", None),
    ],
)  # fmt: skip
def test_spacing_by_name(name: str, spacing_in: float | None) -> None:
    assert spacing_of_name(name) == (None if spacing_in is None else pytest.approx(spacing_in, abs=1e-3))


def test_lumber_by_name() -> None:
    # Dressed sizes: PS 20.
    assert lumber_of_name("Exterior - 2x6 Stud") == ("2x6", 5.5)
    assert lumber_of_name("2 x 4 partition") == ("2x4", 3.5)
    assert lumber_of_name("Tile 12x12") is None


def test_a_type_name_tells_spacing_and_lumber(tmp_path: Path) -> None:
    model = floor()
    corners = [(0.0, 0.0), (240.0, 0.0), (240.0, 180.0), (0.0, 180.0)]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        model.wall("Floor", a, b, 8.0, name="Exterior 2x6 at 24 o.c.")
    model.wall("Floor", (120.0, 3.25), (120.0, 176.75), 4.5, name="Partition")
    job = job_from_shell(healed(model, tmp_path))
    assert [(w.core, w.spacing_in) for w in job.walls if w.exterior] == [("2x6", 24.0)] * 4
    assert [(w.core, w.spacing_in) for w in job.walls if not w.exterior] == [("2x4", 16.0)]
    text = assumed(job)
    assert "studs at 24 in on center in 4 walls, as the type's name says" in text
    assert "studs at 16 in on center in 1 wall, laid out from" in text


def _stick(model: Model, host: int, x0: float, x1: float, z0: float, z1: float) -> None:
    where = model.place((0.0, 0.0, z0), on=model.placement("Floor"))
    shape = model.shape(model.box(x0, x1, 0.0, 3.5, z1 - z0))
    stick = model.add(f"IFCMEMBER({model.g()},$,'stick',$,$,#{where},#{shape},$,$)")
    model.add(f"IFCRELAGGREGATES({model.g()},$,$,$,#{host},(#{stick}))")


def test_studs_that_are_drawn_become_the_wall_s_layout(tmp_path: Path) -> None:
    """Ten feet of sticks: end studs, then 16 on center from 15-1/4 in, as a crew lays out."""
    model = floor()
    where = model.place((0.0, 0.0, 0.0), on=model.placement("Floor"))
    wall = model.add(f"IFCWALL({model.g()},$,'Framed',$,$,#{where},$,$,$)")
    model.held["Floor"].append(wall)
    for z0 in (0.0, 94.0, 95.5):
        _stick(model, wall, 0.0, 120.0, z0, z0 + 1.5)
    centers = [0.75, *(15.25 + 16.0 * i for i in range(7)), 119.25]
    for center in centers:
        _stick(model, wall, center - 0.75, center + 0.75, 1.5, 94.0)
    shell = healed(model, tmp_path)
    (read,) = shell.walls
    assert read.read_from == "body"
    assert read.stud_centers_in == pytest.approx(centers, abs=1e-3)
    assert read.spacing_in == pytest.approx(16.0)
    job = job_from_shell(shell)
    (made,) = job.walls
    assert made.layout is not None
    assert made.layout.first_mark_in == pytest.approx(15.25, abs=1e-3)
    studs = sorted(
        (m.along[0] + m.along[1]) / 2 for m in lay_out(job).members if m.host == made.id and m.role == "stud"
    )
    assert studs == pytest.approx([c for c in centers if 1.0 < c < 119.0], abs=1e-3)
    assert "studs where the file draws them in 1 wall: at 16 in on center" in assumed(job)


def test_studs_that_one_element_holds_together_count_each(tmp_path: Path) -> None:
    model = floor()
    where = model.place((0.0, 0.0, 0.0), on=model.placement("Floor"))
    wall = model.add(f"IFCWALL({model.g()},$,'Framed',$,$,#{where},$,$,$)")
    model.held["Floor"].append(wall)
    _stick(model, wall, 0.0, 120.0, 0.0, 1.5)
    _stick(model, wall, 0.0, 120.0, 94.0, 97.0)
    centers = [0.75, *(24.0 * i for i in range(1, 5)), 119.25]
    up = model.place((0.0, 0.0, 1.5), on=model.placement("Floor"))
    studs = model.shape(*(model.box(c - 0.75, c + 0.75, 0.0, 3.5, 92.5) for c in centers))
    held = model.add(f"IFCMEMBER({model.g()},$,'studs',$,$,#{up},#{studs},$,$)")
    model.add(f"IFCRELAGGREGATES({model.g()},$,$,$,#{wall},(#{held}))")
    (read,) = healed(model, tmp_path).walls
    assert read.stud_centers_in == pytest.approx(centers, abs=1e-3)
    assert read.spacing_in == pytest.approx(24.0)


def test_joists_that_are_drawn_are_kept(tmp_path: Path) -> None:
    model = Model()
    for name, z in (("One", 0.0), ("Two", 107.0)):
        model.storey(name, z)
        corners = [(0.0, 0.0), (240.0, 0.0), (240.0, 180.0), (0.0, 180.0)]
        for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
            model.wall(name, a, b, 6.5, name="Outer")
    lines = [12.0 + 16.0 * i for i in range(14)]
    for x in lines:
        shape = model.shape(model.box(x - 0.75, x + 0.75, 0.0, 180.0, 9.25))
        product(model, "Two", "IFCBEAM", shape, name="Floor joist 2x10", z_in=-10.0)
    job = job_from_shell(healed(model, tmp_path))
    (frame,) = (f for f in job.frames if f.below_level is not None)
    assert (frame.kind, frame.direction, frame.nominal) == ("sawn joists", "y", "2x10")
    # Zero moves to the outer corner of the faces, 3-1/4 in out.
    assert frame.positions_in == pytest.approx([x + 3.25 for x in lines], abs=1e-3)
    assert (frame.z_bottom_in, frame.z_top_in) == pytest.approx((97.0, 106.25), abs=1e-3)
    assert job.levels[0].plate_top_in == pytest.approx(97.0, abs=1e-3)
    assert "sawn joists 2x10 where the file draws them: 14 of them front to back" in assumed(job)
    joists = [m for m in lay_out(job).members if m.host == frame.id and m.role == "joist"]
    assert len(joists) == 14


# -- openings ----------------------------------------------------------------------------------------


def test_doors_filed_as_windows_and_the_other_way(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.opening(walls["front"], 30.0, 72.0, 0.0, 80.0, "window", name="Patio door 6068")
    model.opening(walls["back"], 30.0, 36.0, 36.0, 48.0, "door", name="Window 3040")
    shell = healed(model, tmp_path)
    assert sorted((o.kind, o.label) for o in shell.openings) == [
        ("door", "Patio door 6068"), ("window", "Window 3040")
    ]  # fmt: skip
    assert "1 door filed as windows" in told(shell) or "1 door filed" in told(shell)


def test_a_loose_door_in_an_empty_hole_is_one_opening(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.opening(walls["front"], 30.0, 36.0, 0.0, 80.0)
    where = model.place((31.0, 0.0, 0.0), on=walls["front"][1])
    model.held["Floor"].append(model.unit_in(where, 34.0, 79.0, "door", name="Loose door"))
    shell = healed(model, tmp_path)
    (one,) = shell.openings
    assert (one.kind, one.label, one.width_in) == ("door", "Loose door", pytest.approx(36.0))
    assert "stands in holes that nothing fills" in told(shell) or "nothing fills" in told(shell)


# -- levels ------------------------------------------------------------------------------------------


def _half(model: Model, name: str, z_in: float, x0: float) -> None:
    model.storey(name, z_in)
    corners = [(x0, 0.0), (x0 + 200.0, 0.0), (x0 + 200.0, 180.0), (x0, 180.0)]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        model.wall(name, a, b, 6.5, name="Outer")


def test_the_halves_of_a_split_level_lie_beside_each_other(tmp_path: Path) -> None:
    model = Model()
    _half(model, "Low", 0.0, 0.0)
    _half(model, "Half up", 48.0, 220.0)
    _half(model, "Top", 107.0, 0.0)
    job = job_from_shell(healed(model, tmp_path))
    over = {f.above_level: f.below_level for f in job.frames}
    ids = [level.id for level in job.levels]
    assert over == {ids[0]: ids[2], ids[1]: None, ids[2]: None}
    assert [r.id for r in job.roofs] == ["R1", "R2"]
    # The plates of the low half end under the floor of the top one, not at the half level.
    assert 85.0 < job.levels[0].plate_top_in < 107.0
    assert not [f for f in check_job(job) if f.severity.name == "STOP"]


def test_roof_layers_filed_as_levels_are_no_stories(tmp_path: Path) -> None:
    model = Model()
    box_house(model)
    for name, z in (("T.O. Plate", 97.0), ("Roof insulation", 109.0), ("Ridge", 180.0)):
        model.storey(name, z)
    shell = healed(model, tmp_path)
    assert [v.name for v in shell.stories] == ["Floor"]
    assert len(job_from_shell(shell).levels) == 1


def test_a_plan_far_from_zero_and_turned_keeps_its_angle(tmp_path: Path) -> None:
    model = Model(turn=33.0, at=(5_000_000.0, -3_000_000.0))
    box_house(model)
    shell = healed(model, tmp_path)
    assert shell.turned_degrees == pytest.approx(-33.0, abs=0.01)
    assert {round(math.degrees(math.atan2(*reversed(w.direction)))) % 90 for w in shell.walls} == {0}
    assert len(shell.rooms) == 2
    assert "the plan was turned by -33.00 degrees" in told(shell)


def test_a_glazed_wall_holds_nothing(tmp_path: Path) -> None:
    model = Model()
    box_house(model)
    shape = model.shape(model.box(60.0, 110.0, 60.0, 64.0, 97.0))
    product(model, "Floor", "IFCCURTAINWALL", shape, name="Glass front")
    job = job_from_shell(healed(model, tmp_path))
    (glass,) = (w for w in job.walls if w.core.startswith("glass"))
    assert not glass.framed
    assert "Glass front: a glazed wall: nothing is run inside it" in assumed(job)


def test_what_is_damaged_is_told_and_shown_where_it_stands(tmp_path: Path) -> None:
    model = Model()
    box_house(model)
    where = model.place((60.0, 60.0, 0.0), on=model.placement("Floor"))
    wall = model.add(f"IFCWALL({model.g()},$,'Torn',$,$,#{where},$,$,$)")
    model.held["Floor"].append(wall)
    shell = healed(model, tmp_path)
    assert "1 wall without a line or outline that makes a wall (Torn)" in told(shell)
    (lost,) = (t for t in shell.traces if t.kind == "lost")
    assert lost.says == "wall Torn, no line or outline"
    assert lost.points[0] == pytest.approx((63.25, 63.25), abs=0.01)
