"""Two revisions of one plan: what moved, and which locations, runs and holes it touches."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

from bayrun.files.dxf_in import read_dxf
from bayrun.files.heal import heal_shell
from bayrun.files.revision import Revision, compare
from bayrun.files.revision_page import revision_page
from bayrun.files.shell_to_job import job_from_shell
from bayrun.house import Job
from cli.packs import bayrun
from files.dxf_house import DOORS, WALLS, Look, draw


def job_of(folder: Path, look: Look | None = None, name: str = "plan.dxf") -> Job:
    """The job of the house drawn this way."""
    return job_from_shell(heal_shell(read_dxf(draw(folder / name, look))))


def moved(wall: int, x: float, y: float) -> Look:
    """The house with one wall moved."""
    walls = list(WALLS)
    (ax, ay), (bx, by), thick = walls[wall]
    walls[wall] = ((ax + x, ay + y), (bx + x, by + y), thick)
    return Look(walls=tuple(walls))


def said(found: Revision) -> str:
    """Every change and what it touches as one text."""
    return "\n".join([*(c.says for c in found.changes), *(t.says for t in found.touched)])


def test_the_same_plan_moves_nothing(tmp_path: Path) -> None:
    old = job_of(tmp_path)
    found = compare(old, old)
    assert found.changes == ()
    assert found.touched == ()
    assert found.same == len(WALLS)


def test_the_same_plan_drawn_elsewhere_in_another_unit(tmp_path: Path) -> None:
    old = job_of(tmp_path)
    new = job_of(tmp_path, Look(per_inch=25.4, insunits=4, at=(9000.0, -500.0)), "other.dxf")
    assert compare(old, new).changes == ()


def test_a_wall_that_moved_is_told_by_how_much_and_which_way(tmp_path: Path) -> None:
    old = job_of(tmp_path)
    found = compare(old, job_of(tmp_path, moved(6, 0.0, 7.0), "new.dxf"))
    # Wall 6 runs from left to right between the bedroom and the bath; up the sheet is the back.
    assert 'moved 7" to the back' in said(found)
    assert [(c.what, c.kind, round(c.by_in, 2)) for c in found.changes if c.what == "wall"] == [
        ("wall", "moved", 7.0)
    ]
    assert {c.says.split(" was ")[0] for c in found.changes if c.what == "room"} == {"Bedroom 1", "Bath"}
    assert found.same == len(WALLS) - 1


def test_a_bump_out_moves_zero_but_not_the_house(tmp_path: Path) -> None:
    """The left wall goes out by 2 ft: everything else is where it was."""
    walls = (
        ((-24.0, 3.25), (480.0, 3.25), 6.5),
        ((-24.0, 332.75), (480.0, 332.75), 6.5),
        ((-20.75, 0.0), (-20.75, 336.0), 6.5),
        WALLS[3],
        WALLS[4],
        ((-17.5, 168.0), (237.75, 168.0), 4.5),
        WALLS[6],
    )
    found = compare(job_of(tmp_path), job_of(tmp_path, Look(walls=walls), "new.dxf"))
    assert [round(v, 2) for v in found.shift_in] == [-24.0, 0.0]
    assert [(c.kind, round(c.by_in, 1)) for c in found.changes if c.what == "wall" and c.kind == "moved"] == [
        ("moved", 24.0)
    ]
    assert sum(c.kind == "longer" for c in found.changes if c.what == "wall") == 3


def test_openings_that_move_come_and_go(tmp_path: Path) -> None:
    old = job_of(tmp_path)
    doors = (DOORS[0], (4, 80.0, 30.0), (5, 100.0, 36.0), DOORS[3], (6, 390.0, 30.0))
    text = said(compare(old, job_of(tmp_path, Look(doors=doors), "new.dxf")))
    assert 'moved 20" along it' in text
    assert "was 2' 6\" wide and is 3' 0\"" in text or 'was 30" wide and is 36"' in text
    assert "is new in" in text
    back = said(compare(job_of(tmp_path, Look(doors=doors), "new.dxf"), old))
    assert "is gone" in back


def test_locations_runs_and_holes_on_what_moved_are_touched(tmp_path: Path) -> None:
    from bayrun.files.jobfile import read_job

    path = draw(tmp_path / "plan.dxf")
    done = bayrun("import", path, "--out", tmp_path / "job.yaml")
    assert done.code == 0, done.err
    old = read_job(tmp_path / "job.yaml")
    host = next(x.wall for x in old.locations if x.wall)
    wall = old.wall(host or "")
    (dx, dy) = wall.direction
    new = replace(
        old,
        walls=tuple(
            replace(
                w,
                start=(w.start[0] - dy * 5, w.start[1] + dx * 5),
                end=(w.end[0] - dy * 5, w.end[1] + dx * 5),
            )
            if w.id == host
            else w
            for w in old.walls
        ),
    )
    found = compare(old, new, (("H1", host or "", 20.0), ("H2", "elsewhere", 20.0)))
    there = {x.id for x in old.locations if x.wall == host}
    assert {t.id for t in found.touched if t.what == "location"} >= there
    runs = {r.id for r in old.runs if {r.from_end.id, r.to_end.id} & there}
    assert {t.id for t in found.touched if t.what == "run"} >= runs
    assert [t.id for t in found.touched if t.what == "hole"] == ["H1"]
    page = revision_page(old, new, found)
    pictures = page.split("<svg")[1:]
    assert len(pictures) == len(old.levels)
    ElementTree.fromstring("<svg" + pictures[0].split("</svg>")[0] + "</svg>")
    assert "<script" not in page


def test_a_location_where_a_door_comes_is_touched(tmp_path: Path) -> None:
    old = job_of(tmp_path)
    from bayrun.house import Location

    wall = next(
        w
        for w in old.walls
        if not w.exterior and not any(o.wall == w.id and o.offset_in > 100 for o in old.openings)
    )
    spot = Location("L1", "Bath", "1", "wall box", 14.0, wall.id, 150.0, "left")  # type: ignore[arg-type]
    old = replace(old, locations=(spot,))
    first = next(o for o in old.openings if "door" in o.kind)
    door = replace(first, id="O99", wall=wall.id, offset_in=140.0, width_in=30.0)
    found = compare(old, replace(old, openings=(*old.openings, door)))
    (touched,) = found.touched
    assert "a door now stands there or within a jamb of it" in touched.says


def test_the_command_line_lists_and_draws(tmp_path: Path) -> None:
    path = draw(tmp_path / "plan.dxf")
    assert bayrun("import", path, "--out", tmp_path / "job.yaml").code == 0
    kept = (tmp_path / "job.yaml").read_bytes()
    new = draw(tmp_path / "new.dxf", moved(6, 0.0, 7.0))
    done = bayrun("import", new, "--against", tmp_path / "job.yaml")
    assert done.code == 0, done.err
    assert 'moved 7" to the back' in done.out
    assert "job-changes.html" in done.err
    assert (tmp_path / "job-changes.html").is_file()
    assert (tmp_path / "job.yaml").read_bytes() == kept
    done = bayrun("import", new, "--against", tmp_path / "none.yaml")
    assert done.code == 2
