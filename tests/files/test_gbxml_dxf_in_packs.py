"""gbXML and DXF through the command line: jobs that plan to whole packs untouched; bad files exit 2."""

from __future__ import annotations

from pathlib import Path

import pytest

from bayrun.files import read_job
from bayrun.files.house_file import READABLE
from bayrun.house.check import check_job
from cli.packs import Done, bayrun
from conftest import shared_file
from files.dxf_house import Look, draw
from files.gbxml_house import Energy, gbxml


def planned(folder: Path, model: Path, rooms: int, walls: int, openings: int) -> Done:
    """Import a model and plan it; the pack is there and the counts are right."""
    job_file = folder / "job.yaml"
    done = bayrun("import", model, "--out", job_file, "--date", "2026-11-25")
    assert done.code == 0, done.err
    job = read_job(job_file)
    assert (len(job.rooms), len(job.walls), len(job.openings)) == (rooms, walls, openings)
    assert job.chosen_enclosure is not None
    assert job.locations
    assert job.runs
    assert [f for f in check_job(job) if f.severity == "stop"] == []
    plan = bayrun("plan", job_file, "--out", folder / "pack")
    # 1: planned, with findings that a person settles; 2 would be a refusal.
    assert plan.code in (0, 1), plan.err
    assert " 0 stop" in plan.err.splitlines()[-1] + plan.out
    assert (folder / "pack" / "pack.pdf").stat().st_size > 10_000
    again = folder / "again.yaml"
    assert bayrun("import", model, "--out", again, "--date", "2026-11-25").code == 0
    assert again.read_bytes() == job_file.read_bytes()
    return done


@pytest.mark.parametrize(
    "look", [Look(), Look(per_inch=25.4, insunits=1)], ids=("inches", "mm called inches")
)
def test_a_drawing_becomes_a_pack(tmp_path: Path, look: Look) -> None:
    planned(tmp_path, draw(tmp_path / "plan.dxf", look), rooms=4, walls=7, openings=8)
    job = read_job(tmp_path / "job.yaml")
    assert [r.kind for r in sorted(job.rooms, key=lambda r: r.name)] == ["bath", "bed", "kitchen", "living"]
    told = [a.says for a in job.assumptions if "taken as millimeters" in a.says]
    assert len(told) == (look.per_inch > 1)


def test_an_energy_model_of_our_own_becomes_a_pack(tmp_path: Path) -> None:
    model = tmp_path / "house.xml"
    model.write_text(gbxml(Energy(levels=2, floors_as_ceilings=True)), encoding="utf-8")
    planned(tmp_path, model, rooms=4, walls=10, openings=4)


def test_an_energy_model_by_others_becomes_a_pack(tmp_path: Path) -> None:
    planned(
        tmp_path, shared_file("houses/detached_gbxml/detached_house.gbxml"), rooms=10, walls=26, openings=11
    )


def test_bad_files_are_one_message_and_exit_2(tmp_path: Path) -> None:
    drawing, energy = draw(tmp_path / "good.dxf").read_bytes(), gbxml().encode()
    for name, data, says in (
        ("cut.dxf", drawing[: len(drawing) // 2], "cut.dxf: expected EOF at the end"),
        ("cut.xml", energy[: len(energy) // 2], "cut.xml: expected a gbXML file to its last tag"),
        (
            "bomb.xml",
            b'<!DOCTYPE a [<!ENTITY b "c">]><gbXML>&b;</gbXML>',
            "without a document type declaration",
        ),
        (
            "house.doc",
            b"a letter",
            f"house.doc: expected {READABLE}",
        ),
    ):
        (tmp_path / name).write_bytes(data)
        done = bayrun("import", tmp_path / name, "--out", tmp_path / "new.yaml")
        assert (done.code, done.out) == (2, ""), name
        line = done.err.splitlines()[-1]
        assert line.startswith("bayrun import: ")
        assert says in line
        assert not (tmp_path / "new.yaml").exists()
