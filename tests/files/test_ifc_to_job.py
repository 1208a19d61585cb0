"""Shell to job: framing is added and every assumption named; the job frames, writes and reads back."""

from __future__ import annotations

from pathlib import Path

import pytest

from bayrun.files.heal import heal_shell
from bayrun.files.ifc import read_ifc
from bayrun.files.jobfile import parse_job
from bayrun.files.jobwrite import write_job
from bayrun.files.shell_guess import core_of_wall, header_depth_in, joist_for, kind_of_name
from bayrun.files.shell_to_job import job_from_shell
from bayrun.framing import lay_out
from bayrun.house import Job
from bayrun.house.check import check_job
from conftest import need, shared_file
from ifc_model import Model, box_house

DUPLEX, FLAT = "houses/duplex/Duplex_A_20110907.ifc", "houses/flat/04_Flat.ifc"
LAYERS = (("Wood siding", 0.5), ("Wood stud", 5.5), ("Gypsum board", 0.5))


@pytest.fixture(autouse=True)
def _ifcopenshell() -> None:
    need(module="ifcopenshell")


def two_rooms(tmp_path: Path) -> Job:
    """A box with a partition, a bath and a room without a telling name, a window pair one over the other."""
    model = Model()
    walls = box_house(model)
    model.opening(walls["middle"], 40.0, 32.0, 0.0, 80.0, "door", swing="SINGLE_SWING_LEFT")
    model.opening(walls["right"], 60.0, 40.0, 12.0, 20.0, "window")
    model.opening(walls["right"], 60.0, 40.0, 40.0, 30.0, "window")
    model.opening(walls["front"], 150.0, 36.0, 0.0, 80.0, "door")
    left = ((3.25, 3.25), (117.75, 3.25), (117.75, 176.75), (3.25, 176.75))
    right = ((122.25, 3.25), (236.75, 3.25), (236.75, 176.75), (122.25, 176.75))
    model.space("Floor", left, name="1", long_name="Bath")
    model.space("Floor", right, name="2", long_name="Chamber")
    return job_from_shell(heal_shell(read_ifc(model.write(tmp_path / "house.ifc"))))


def said(job: Job) -> str:
    """All assumptions as one text."""
    return "\n".join(f"{a.id}: {a.says} [{a.where}] {a.why}" for a in job.assumptions)


def test_a_small_house_becomes_a_job_with_its_assumptions_named(tmp_path: Path) -> None:
    job = two_rooms(tmp_path)
    assert [(r.name, r.kind) for r in job.rooms] == [("Bath 1", "bath"), ("Chamber 2", "living")]
    # By hand: 6-1/2 less two 1/2 in boards is 5-1/2: 2x6; 4-1/2 less two is 3-1/2: 2x4.
    assert {(w.core, w.thickness_in, w.exterior) for w in job.walls} == {
        ("2x6", 5.5, True),
        ("2x4", 3.5, False),
    }
    door, front = (next(o for o in job.openings if o.kind == kind) for kind in ("door", "outside door"))
    assert set(door.rooms) == {"Bath 1", "Chamber 2"}
    assert (door.hinge_end, door.swings_into) == ("low", "Bath 1")
    assert set(front.rooms) == {"outside", "Chamber 2"}
    (window,) = (o for o in job.openings if o.kind == "window")
    assert (window.sill_in, window.head_in) == pytest.approx((12, 70), abs=1e-3)
    text = said(job)
    for part in (
        "studs at 16 in on center in 5 walls",
        "double top plate and single bottom plate",
        "roof trusses at 24 in",
        "windows that stand over each other are framed as one opening",
        "rooms whose name does not tell their use: Chamber 2 as living",
        "taken as 2x6 wood studs",
        "5 walls count as bearing",
        "the floor is a slab",
    ):
        assert part in text, part
    assert len({a.id for a in job.assumptions}) == len(job.assumptions)


def test_corners_run_through_once_and_plates_meet(tmp_path: Path) -> None:
    job = two_rooms(tmp_path)
    corners = [j for j in job.joints if j.kind.startswith("corner")]
    assert len(corners) == 8
    for joint in corners:
        (back,) = [j for j in corners if j.wall == joint.on_wall and j.on_wall == joint.wall]
        assert {joint.kind, back.kind} == {"corner, runs through", "corner, butts"}
        # Half of the 5-1/2 in core of the other wall, past it or short of it.
        assert joint.plate_shift_in == (-2.75 if "through" in joint.kind else 2.75)
    (middle,) = (w for w in job.walls if w.core == "2x4")
    assert [j.kind for j in job.joints if j.wall == middle.id] == ["tee", "tee"]
    # 180 in between center lines less half of 5-1/2 at each end.
    assert middle.plate_end_in - middle.plate_start_in == pytest.approx(174.5, abs=1e-3)


def test_the_job_frames_and_reads_back_the_same(tmp_path: Path) -> None:
    job = two_rooms(tmp_path)
    frame = lay_out(job)
    assert frame.bays
    # BUILDING 1.2: the clear bay between two layout studs is 14-1/2 in.
    assert any(abs(bay.clear_width_in - 14.5) < 1e-6 for bay in frame.bays)
    assert parse_job(write_job(job), "job") == job


@pytest.mark.parametrize(
    ("name", "area_ft2", "kind", "told"),
    [
        ("Primary bath", 60, "bath", True),
        ("Küche 5", 100, "kitchen", True),
        ("Treppenhaus", 140, "hall", True),
        ("Bedroom 2 A203", 240, "bed", True),
        ("Room 7", 20, "closet", False),
        ("Room 8", 50, "hall", False),
        ("Chamber", 70, "bed", False),
    ],
)
def test_kinds_of_rooms(name: str, area_ft2: float, kind: str, told: bool) -> None:
    assert kind_of_name(name, area_ft2 * 144) == (kind, told)


def test_no_assumed_truss_lies_over_a_wall_that_runs_its_way(tmp_path: Path) -> None:
    """Nobody measured the first truss, so it is put where it blocks no plate; at 24 in it would."""
    job = two_rooms(tmp_path)
    (roof,) = job.frames
    (middle,) = (w for w in job.walls if w.core == "2x4")
    assert roof.direction == "y"
    gap_in = min(abs(at - middle.start[0]) for at in roof.members_in())
    assert gap_in >= (middle.thickness_in + roof.member_width_in) / 2
    assert (
        "so placed that few of them lie over a wall that runs their way: the first thing to measure"
        in said(job)
    )


def test_openings_too_near_a_corner_or_the_plates_are_planned_with_what_fits(tmp_path: Path) -> None:
    model = Model()
    walls = box_house(model)
    model.opening(walls["front"], 1.0, 36.0, 0.0, 80.0, "door")
    model.opening(walls["back"], 60.0, 60.0, 20.0, 70.0, "window")
    model.opening(walls["left"], 60.0, 60.0, 20.0, 76.0, "window", name="High window")
    job = job_from_shell(heal_shell(read_ifc(model.write(tmp_path / "house.ifc"))))
    assert [f.says for f in check_job(job)] == []
    window, high = sorted((o for o in job.openings if o.kind == "window"), key=lambda o: o.head_in)
    assert (high.head_in, high.header_depth_in) == pytest.approx((94.0, 0.0), abs=1e-3)
    # Walls 97 in high, two plates of 1-1/2: 94 in; the head stands at 90, so 4 in of the 7-1/4 header fit.
    assert window.header_depth_in == pytest.approx(4.0, abs=1e-3)
    text = said(job)
    assert "no jack and king stud fit are planned narrower" in text
    assert "no full header fits are planned with what fits" in text


def test_sizes_against_the_lumber_table() -> None:
    # PS 20 (BUILDING 1.1): 2x12 is 11-1/4 deep; with a 3/4 in subfloor it fills 12 in.
    assert joist_for(12.0) == ("2x12", 11.25)
    assert joist_for(10.0) == ("2x10", 9.25)
    assert joist_for(305 / 25.4) == ("2x12", 11.25)
    assert [header_depth_in(w) for w in (36, 48, 49, 72, 96, 97)] == [5.5, 5.5, 7.25, 7.25, 9.25, 11.25]


def test_layers_name_the_core(tmp_path: Path) -> None:
    model = Model()
    model.storey("Floor", 0.0)
    steel = (("Gypsum board", 0.625), ("Metal stud layer", 3.625), ("Gypsum board", 0.625))
    block = (("Plaster", 0.5), ("Concrete block", 7.625), ("Plaster", 0.5))
    model.wall("Floor", (0.0, 0.0), (120.0, 0.0), 6.5, layers=LAYERS, name="a wood")
    model.wall("Floor", (0.0, 60.0), (120.0, 60.0), 4.875, layers=steel, name="b steel")
    model.wall("Floor", (0.0, 120.0), (120.0, 120.0), 8.625, layers=block, name="c party wall of block")
    job = job_from_shell(heal_shell(read_ifc(model.write(tmp_path / "house.ifc"))))
    cores = {w.core: w for w in job.walls}
    assert set(cores) == {"2x6", "steel 3-5/8", "concrete 7-5/8"}
    assert cores["concrete 7-5/8"].layout is None
    assert cores["concrete 7-5/8"].rated == "party wall, rating not in the file"
    assert cores["steel 3-5/8"].plates.material == "wood"
    assert core_of_wall(heal_shell(read_ifc(tmp_path / "house.ifc")).walls[0])[0] in cores


@pytest.mark.parametrize(
    ("name", "levels", "walls", "rooms", "openings"), [(DUPLEX, 2, 36, 20, 28), (FLAT, 1, 15, 9, 15)]
)
def test_the_real_houses_become_jobs(name: str, levels: int, walls: int, rooms: int, openings: int) -> None:
    """Openings: the duplex's 36 in walls, of which four stacks of three windows are framed as one each."""
    job = job_from_shell(heal_shell(read_ifc(shared_file(name))))
    counts = (len(job.levels), len(job.walls), len(job.rooms), len(job.openings))
    assert counts == (levels, walls, rooms, openings)
    assert all(room.kind for room in job.rooms)
    for opening in job.openings:
        wall = job.wall(opening.wall)
        assert wall.plate_start_in - 1e-6 <= opening.offset_in
        assert opening.offset_in + opening.width_in <= wall.plate_end_in + 1e-6
        # Each shows to a room or to the outside on both sides.
        assert len(opening.rooms) == 2, opening.id
    frame = lay_out(job)
    assert len({m.id for m in frame.members}) == len(frame.members)
    assert [f.says for f in check_job(job)] == []
    assert parse_job(write_job(job), "job") == job


def test_the_duplex_floor_is_the_files_own_depth() -> None:
    job = job_from_shell(heal_shell(read_ifc(shared_file(DUPLEX))))
    (floor,) = (f for f in job.frames if f.below_level == "2")
    # The file: 305 mm of wood joists with subfloor under a second story at 3.1 m.
    assert floor.member_depth_in == 11.25
    assert floor.z_top_in == pytest.approx(3100 / 25.4 - 0.75, abs=1e-3)
    assert job.level("1").plate_top_in == pytest.approx(floor.z_bottom_in)
    assert [s.rooms for s in job.stairs] == [
        (("1", "Room B105"), ("2", "Hallway B201")),
        (("1", "Stair A105"), ("2", "Hallway A201")),
    ]
