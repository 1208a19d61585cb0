"""``bayrun import``: models by others become jobs that plan at once; every assumption is named; no people."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import pytest

from bayrun.files import read_job
from bayrun.files.planjson import read_plan_json
from bayrun.house.check import check_job
from cli.packs import Imported, bayrun, imported, pack_of, pages_of, starter
from conftest import need
from ifc_model import Model, box_house

MODELS = ("duplex", "flat")

every_model = pytest.mark.parametrize("name", MODELS)


@pytest.fixture(autouse=True)
def _ifcopenshell() -> None:
    need(module="ifcopenshell")


def squeezed(text: str) -> str:
    """Letters and figures alone, so that line ends and no-break spaces do not count."""
    return re.sub(r"[^\w]+", "", text)


def brought(name: str) -> Imported:
    """A model by others, imported."""
    made = imported(name)
    assert made.done.code == 0, made.done.err
    return made


@every_model
def test_exit_0_with_notes_and_a_job_that_reads(name: str) -> None:
    made = brought(name)
    assert made.done.out == ""
    lines = made.done.err.splitlines()
    assert any(line.startswith(f"{made.job}: ") and "assumptions to settle." in line for line in lines)
    assert lines[-1] == f"Next: bayrun plan {made.job}"
    job = read_job(made.job)
    # Outside: storeys, spaces and walls named in the files themselves (IFCBUILDINGSTOREY with a room in it).
    assert len(job.levels) == {"duplex": 2, "flat": 1}[name]
    assert len(job.locations) >= 10
    assert job.runs
    assert job.chosen_enclosure is not None
    assert [f for f in check_job(job) if f.severity == "stop"] == []
    assert f"{len(job.assumptions)} assumptions to settle" in made.done.err


@every_model
def test_every_assumption_is_in_the_file_and_on_the_cover(name: str) -> None:
    made, pack = brought(name), pack_of(name)
    job = read_job(made.job)
    assert len(job.assumptions) > 10
    assert len({one.id for one in job.assumptions}) == len(job.assumptions)
    pages = pages_of(pack.folder / "pack.pdf")
    walk = next(i for i, text in enumerate(pages) if "Walk the house first" in text)
    cover = squeezed(" ".join(pages[:walk]))
    text = squeezed(made.job.read_text(encoding="utf-8").replace("\\n", " "))
    for one in job.assumptions:
        assert squeezed(one.says) in cover, one
        assert squeezed(one.says) in text, one
    whole = " ".join(one.says for one in job.assumptions).lower()
    for subject in (
        "stud",
        "on center",
        "count as bearing",
        "headers",
        "locations were proposed",
        "enclosure bay",
    ):
        assert subject in whole, subject


@every_model
def test_a_full_pack_without_hand_editing(name: str) -> None:
    pack = pack_of(name)
    plan = read_plan_json(pack.bytes_of("plan.json"))
    assert len(plan.wiring.runs) >= 15
    assert len(plan.wiring.runs) + len(plan.wiring.unreached) == len(read_job(pack.job).runs)
    assert pack.done.code == (1 if any(f.severity == "stop" for f in plan.findings) else 0)
    lost = {run.run for run in plan.wiring.unreached}
    told = {about for f in plan.findings if f.severity == "stop" for about in f.about}
    assert lost <= told  # what could not be planned is told, and says stop
    files = {str(p.relative_to(pack.folder)) for p in pack.folder.rglob("*") if p.is_file()}
    assert {"pack.pdf", "lists.xlsx", "job.yaml", "plan.json", "drawings/enclosure-bay.dxf"} <= files


def people(model: Path) -> set[str]:
    """Names of people, firms and addresses in an IFC file, by a plain text search."""
    found = set()
    for kind in ("PERSON", "ORGANIZATION", "POSTALADDRESS", "TELECOMADDRESS"):
        for line in re.findall(rf"=\s*IFC{kind}\((.*?)\);", model.read_text(errors="replace")):
            found |= {word for word in re.findall(r"'([^']*)'", line) if len(word) > 2}
    head = re.search(r"FILE_NAME\s*\((.*?)\);", model.read_text(errors="replace"), re.DOTALL)
    assert head is not None
    for author in re.findall(r"\(([^()]*)\)", head[1])[:2]:
        found |= {word for word in re.findall(r"'([^']*)'", author) if len(word) > 2}
    return found


@every_model
def test_nobody_of_the_file_is_named_anywhere(name: str) -> None:
    made, pack = brought(name), pack_of(name)
    words = people(made.model)
    assert {"duplex": {"cskender", "Chicago"}, "flat": {"pipauwel", "Boston"}}[name] <= words
    texts = {
        "job.yaml": made.job.read_text(encoding="utf-8"),
        "plan.json": pack.bytes_of("plan.json").decode(),
        "pack.pdf": " ".join(pages_of(pack.folder / "pack.pdf")),
        **{p.name: p.read_text(encoding="utf-8") for p in (pack.folder / "lists").glob("*.csv")},
        **{p.name: p.read_text(encoding="utf-8") for p in (pack.folder / "drawings").iterdir()},
        "workbook": _workbook(pack.folder / "lists.xlsx"),
        "said": made.done.err.replace(str(made.job), ""),
    }
    for where, text in texts.items():
        for word in words:
            assert not re.search(rf"(?<!\w){re.escape(word)}(?!\w)", text, re.IGNORECASE), (where, word)


def _workbook(path: Path) -> str:
    with zipfile.ZipFile(path) as book:
        return " ".join(book.read(name).decode("utf-8", "replace") for name in book.namelist())


def small_model(folder: Path) -> Path:
    """A small house of our own as IFC."""
    model = Model()
    walls = box_house(model)
    model.opening(walls["middle"], 40.0, 32.0, 0.0, 80.0, "door", swing="SINGLE_SWING_LEFT")
    model.opening(walls["front"], 150.0, 36.0, 0.0, 80.0, "door")
    left = ((3.25, 3.25), (117.75, 3.25), (117.75, 176.75), (3.25, 176.75))
    right = ((122.25, 3.25), (236.75, 3.25), (236.75, 176.75), (122.25, 176.75))
    model.space("Floor", left, name="1", long_name="Living")
    model.space("Floor", right, name="2", long_name="Bedroom")
    return model.write(folder / "house.ifc")


def test_a_house_of_our_own_from_model_to_pack(tmp_path: Path) -> None:
    model, job = small_model(tmp_path), tmp_path / "job.yaml"
    done = bayrun("import", model, "--out", job, "--date", "2026-11-25")
    assert done.code == 0, done.err
    assert (done.out, read_job(job).revision.date) == ("", "2026-11-25")
    again = tmp_path / "again.yaml"
    assert bayrun("import", model, "--out", again, "--date", "2026-11-25").code == 0
    assert again.read_bytes() == job.read_bytes()
    planned = bayrun("plan", job, "--out", tmp_path / "out")
    assert planned.code in (0, 1), planned.err
    text = squeezed(" ".join(pages_of(tmp_path / "out" / "pack.pdf")))
    assert all(squeezed(one.says) in text for one in read_job(job).assumptions)


def test_a_job_file_that_is_there_is_left_alone(tmp_path: Path) -> None:
    model, job = small_model(tmp_path), tmp_path / "job.yaml"
    job.write_text("mine")
    done = bayrun("import", model, "--out", job)
    assert (done.code, done.out) == (2, "")
    assert done.err == (
        f"bayrun import: {job} is already there and was left as it is. Say --force to write over it.\n"
    )
    assert job.read_text() == "mine"
    assert bayrun("import", model, "--out", job, "--force").code == 0
    done = bayrun("import", model, "--out", model, "--force")
    assert done.code == 2
    assert done.err == (
        f"bayrun import: {model} would be written over by the job file: name another with --out.\n"
    )
    assert model.read_text().startswith("ISO-10303-21")


def bad_files(folder: Path) -> dict[str, str]:
    """Bad input: name → what the message must say."""
    whole = small_model(folder).read_bytes()
    for name, data in (
        ("empty.ifc", b""),
        ("garbage.ifc", bytes(range(256)) * 40),
        ("cut.ifc", whole[: len(whole) // 2]),
        ("job.yaml", starter().encode()),
        ("model.xml", b'<?xml version="1.0"?><ifcXML/>'),
    ):
        (folder / name).write_bytes(data)
    (folder / "folder.ifc").mkdir()
    return {
        "empty.ifc": "empty.ifc: expected an IFC file, got an empty file; export it again",
        "garbage.ifc": "garbage.ifc: expected an IFC file, which begins with ISO-10303-21, got something",
        "cut.ifc": "cut.ifc: expected END-ISO-10303-21 at the end, got a file that stops in the middle",
        "job.yaml": "job.yaml: expected an IFC (.ifc), gbXML (.gbxml, .xml), DXF (.dxf), PDF (.pdf) or tape",
        "model.xml": "model.xml: expected IFC in its text form (.ifc), got XML; export it as .ifc",
        "folder.ifc": "folder.ifc is a folder: expected an IFC, gbXML, DXF, PDF or tape file.",
        "gone.ifc": "gone.ifc is not there: expected an IFC, gbXML, DXF, PDF or tape file.",
    }


def test_bad_input_is_one_message_and_exit_2(tmp_path: Path) -> None:
    for name, says in bad_files(tmp_path).items():
        done = bayrun("import", tmp_path / name, "--out", tmp_path / "new.yaml")
        assert (done.code, done.out) == (2, ""), name
        line = done.err.splitlines()[-1]  # a slow machine tells its progress before
        assert line.startswith("bayrun import: ")
        assert says in line, (says, line)
        assert not (tmp_path / "new.yaml").exists()
    assert not [p.name for p in tmp_path.iterdir() if p.name.endswith(".part")]


def test_the_folder_of_the_job_file_must_be_there(tmp_path: Path) -> None:
    done = bayrun("import", small_model(tmp_path), "--out", tmp_path / "no" / "job.yaml")
    assert done.code == 2
    assert done.err == f"bayrun import: the folder {tmp_path / 'no'} is not there.\n"
