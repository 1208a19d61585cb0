"""Foreign bytes are read behind a fence: bombs, noise and loops end in one sentence, inside the limits."""

from __future__ import annotations

import itertools
import random
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from bayrun.files.heal import heal_shell
from bayrun.files.house_file import read_house
from bayrun.files.shell import ImportRefused, Shell, ShellNote, ShellWall
from bayrun.files.shell_json import from_plain, to_plain, too_much
from bayrun.workers.confine import child_environment
from bayrun.workers.house_worker import read_in_worker
from conftest import need
from ifc_model import Model, box_house

BOMB = """<?xml version="1.0"?>
<!DOCTYPE gbXML [<!ENTITY a "aaaaaaaaaa">{entities}]>
<gbXML><Campus><Name>&z;</Name></Campus></gbXML>"""


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """A small sound IFC file."""
    need(module="ifcopenshell")
    model = Model()
    walls = box_house(model)
    model.opening(walls["front"], 30.0, 36.0, 0.0, 80.0, "door")
    model.space("Floor", ((3.25, 3.25), (117.75, 3.25), (117.75, 176.75), (3.25, 176.75)))
    return model.write(tmp_path / "house.ifc")


def refused(path: Path, **limits: float) -> str:
    """What a person is told about a file that cannot be read."""
    with pytest.raises(ImportRefused) as told:
        read_in_worker(path, **limits)  # type: ignore[arg-type]
    text = str(told.value)
    assert "Traceback" not in text
    assert "\n" not in text
    return text


def test_the_shell_comes_home_as_it_was_made(house: Path) -> None:
    steps: list[str] = []
    assert read_in_worker(house, told=steps.append) == heal_shell(read_house(house))
    assert steps[0] == "opening the model"
    assert steps[-1] == "mending what the drawing leaves open"


def test_a_reader_that_takes_too_long_is_ended(house: Path) -> None:
    assert refused(house, seconds=0.01) == (
        "house.ifc: reading took longer than 0.01 seconds and was stopped; export the house alone, "
        "without site, furniture and fittings"
    )


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="limits of memory are the system's own")
def test_a_reader_that_needs_too_much_memory_is_ended(house: Path) -> None:
    text = refused(house, memory_bytes=150_000_000)
    assert text.startswith("house.ifc: ")
    assert "0.15 GB of memory" in text


def test_an_archive_that_unfolds_without_end(tmp_path: Path) -> None:
    path = tmp_path / "bomb.ifczip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("house.ifc", b"ISO-10303-21;" + b" " * 30_000_000)
    assert "got one that unfolds to more than" in refused(path)


def test_an_archive_with_one_model_is_read(house: Path, tmp_path: Path) -> None:
    path = tmp_path / "house.ifczip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.write(house, "model/house.ifc")
    assert read_in_worker(path).walls == read_in_worker(house).walls


def test_entities_that_grow_without_end(tmp_path: Path) -> None:
    names = "abcdefghijklmnopqrstuvwxyz"
    entities = "".join(f'<!ENTITY {n} "{f"&{m};" * 10}">' for m, n in itertools.pairwise(names))
    path = tmp_path / "house.gbxml"
    path.write_text(BOMB.format(entities=entities))
    assert "without a document type declaration" in refused(path)


@pytest.mark.parametrize("name", ["house.ifc", "house.dxf", "house.gbxml", "house.xml"])
def test_ten_megabytes_of_noise(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_bytes(random.Random(9).randbytes(10_000_000))
    assert refused(path).startswith(f"{name}: expected")


def test_noise_behind_a_sound_beginning(house: Path, tmp_path: Path) -> None:
    head = house.read_bytes()[:400]
    path = tmp_path / "half.ifc"
    noise = random.Random(3).randbytes(3_000_000)
    path.write_bytes(head + noise + b"\nENDSEC;\nEND-ISO-10303-21;\n")
    assert refused(path).startswith("half.ifc: ")


@pytest.mark.parametrize(
    "code",
    [
        "import socket; socket.socket()",
        "import subprocess; subprocess.run(['true'])",
        "import os; os.system('true')",
        "open('made', 'w')",
        "import os; os.remove('kept')",
    ],
)
def test_the_fence_holds(tmp_path: Path, code: str) -> None:
    (tmp_path / "kept").write_text("here")
    start = "from bayrun.workers.confine import confine\nimport socket, subprocess\n"
    start += "confine(memory_bytes=2_000_000_000, seconds=10)\n"
    done = subprocess.run(
        [sys.executable, "-c", start + code], env=child_environment(), cwd=tmp_path, capture_output=True,
        text=True, check=False, timeout=60,
    )  # fmt: skip
    assert done.returncode == 1
    assert "PermissionError: a reader of files may not" in done.stderr
    assert sorted(p.name for p in tmp_path.iterdir()) == ["kept"]


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="limits of file size are the system's own")
def test_no_byte_reaches_the_disk_even_past_the_hooks(tmp_path: Path) -> None:
    code = (
        "from bayrun.workers.confine import confine\nimport os\n"
        "fd = os.open('made', os.O_CREAT | os.O_WRONLY)\n"
        "confine(memory_bytes=2_000_000_000, seconds=10)\nos.write(fd, b'x')"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], env=child_environment(), cwd=tmp_path, capture_output=True, check=False,
        timeout=60,
    )  # fmt: skip
    assert done.returncode != 0
    assert (tmp_path / "made").read_bytes() == b""


def test_an_answer_of_another_kind_is_not_believed() -> None:
    wall = ShellWall("W1", "wall", "1", (0.0, 0.0), (100.0, 0.0), 4.5, 97.0)
    shell = Shell("file", walls=(wall,), notes=(ShellNote("read", "all", 1, ("a",)),))
    data = to_plain(shell)
    assert from_plain(Shell, data) == shell
    for spoil in (
        {"walls": "W1"},
        {"walls": [{**to_plain(wall), "height_in": float("nan")}]},
        {"walls": [{**to_plain(wall), "role": "ghost"}]},
        {"walls": [{**to_plain(wall), "start": [0.0]}]},
        {"source": 3},
        {"more": 1},
    ):
        with pytest.raises(ValueError, match="expected"):
            from_plain(Shell, {**data, **spoil})


def test_a_town_is_not_a_house() -> None:
    wall = ShellWall("W1", "wall", "1", (0.0, 0.0), (100.0, 0.0), 4.5, 97.0)
    assert too_much(Shell("file", walls=(wall,) * 4_001)) == "4,001 walls (at most 4,000)"
