"""Seeded damage of small sound files of every kind: a house with notes, or one sentence naming the file."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from bayrun.files.heal import heal_shell
from bayrun.files.house_file import read_house
from bayrun.files.report_page import report_page
from bayrun.files.shell import ImportRefused
from bayrun.files.shell_to_job import job_from_shell
from conftest import count, need
from files.dxf_house import draw
from files.gbxml_house import gbxml
from files.pdf_house import plan_page, write_pdf
from files.test_tape_sketch import HOUSE
from ifc_model import Model, box_house


def _ifc(folder: Path) -> bytes:
    model = Model()
    walls = box_house(model)
    model.opening(walls["front"], 30.0, 36.0, 0.0, 80.0, "door")
    model.space("Floor", ((3.25, 3.25), (117.75, 3.25), (117.75, 176.75), (3.25, 176.75)))
    return model.text().encode()


SOUND: dict[str, Callable[[Path], bytes]] = {
    "house.ifc": _ifc,
    "house.dxf": lambda folder: draw(folder / "sound.dxf").read_bytes(),
    "house.gbxml": lambda folder: gbxml().encode(),
    "house.pdf": lambda folder: write_pdf(folder / "sound.pdf", plan_page()).read_bytes(),
    "house.tape": lambda folder: HOUSE.encode(),
}


def _cut(data: bytes, dice: random.Random) -> bytes:
    return data[: dice.randrange(len(data))]


def _flip(data: bytes, dice: random.Random) -> bytes:
    made = bytearray(data)
    for _ in range(dice.randint(1, 30)):
        made[dice.randrange(len(made))] = dice.randrange(256)
    return bytes(made)


def _shuffle_ids(data: bytes, dice: random.Random) -> bytes:
    """Numbers that refer to each other (entity ids, handles) exchanged."""
    found = sorted(set(re.findall(rb"#\d+", data))) or sorted(set(re.findall(rb"\b[0-9A-F]{2,4}\b", data)))
    if len(found) < 2:
        return data
    other = found[:]
    dice.shuffle(other)
    swap = dict(zip(found, other, strict=True))
    return re.sub(
        rb"#\d+" if found[0].startswith(b"#") else rb"\b[0-9A-F]{2,4}\b", lambda m: swap.get(m[0], m[0]), data
    )


def _drop_lines(data: bytes, dice: random.Random) -> bytes:
    lines = data.split(b"\n")
    kept = [line for line in lines if dice.random() > 0.03]
    return b"\n".join(kept)


def _mix_numbers(data: bytes, dice: random.Random) -> bytes:
    """Some numbers grow out of all measure, or become what no number is."""
    return re.sub(
        rb"\d+\.\d+",
        lambda m: (
            dice.choice([b"1.E300", b"-9999999.", b"0.", b"nan", m[0]]) if dice.random() < 0.02 else m[0]
        ),
        data,
    )


def _double(data: bytes, dice: random.Random) -> bytes:
    at = dice.randrange(len(data))
    return data[:at] + data[at // 2 :]


WAYS = (_cut, _flip, _shuffle_ids, _drop_lines, _mix_numbers, _double)


@pytest.mark.parametrize("name", sorted(SOUND))
@pytest.mark.parametrize("way", WAYS, ids=lambda w: w.__name__.strip("_"))
def test_damage_is_a_house_or_a_sentence(name: str, way: Callable[..., bytes], tmp_path: Path) -> None:
    need(module="ifcopenshell")
    need(module="pypdfium2")
    sound = SOUND[name](tmp_path)
    dice = random.Random(f"{name} {way.__name__}")
    path = tmp_path / name
    for _ in range(count(3, 60)):
        path.write_bytes(way(sound, dice))
        try:
            shell = heal_shell(read_house(path))
            if shell.stories:
                report_page(shell, job_from_shell(shell))
        except ImportRefused as refused:
            text = str(refused)
            assert text.startswith(name), text
            assert "expected" in text or name.endswith(".tape")
            assert "\n" not in text
            assert len(text) < 1500


def test_the_sound_ones_are_houses(tmp_path: Path) -> None:
    """Otherwise the test above would try nothing."""
    need(module="ifcopenshell")
    need(module="pypdfium2")
    for name, make in SOUND.items():
        path = tmp_path / name
        path.write_bytes(make(tmp_path))
        assert len(heal_shell(read_house(path)).rooms) >= 1, name


def test_levels_that_are_missing_or_lie_on_each_other(tmp_path: Path) -> None:
    need(module="ifcopenshell")
    text = _ifc(tmp_path).decode()
    path = tmp_path / "house.ifc"
    lines = [line for line in text.split("\n") if "IFCBUILDINGSTOREY" not in line]
    path.write_text("\n".join(lines))
    shell = heal_shell(read_house(path))
    assert len(shell.stories) == 1
    assert any("levels are judged from the walls' heights" in n.text for n in shell.notes)


@pytest.mark.parametrize("factor", [1000.0, 0.001])
def test_a_unit_that_cannot_be_is_told(tmp_path: Path, factor: float) -> None:
    """A house in meters that says millimeters, or the other way: walls of no house's size."""
    need(module="ifcopenshell")
    model = Model(unit="m" if factor > 1 else "mm")
    box_house(model)
    text = model.text()
    text = (
        text.replace(".LENGTHUNIT.,$,.METRE.", ".LENGTHUNIT.,.MILLI.,.METRE.")
        if factor > 1
        else text.replace(".LENGTHUNIT.,.MILLI.,.METRE.", ".LENGTHUNIT.,$,.METRE.")
    )
    path = tmp_path / "house.ifc"
    path.write_text(text)
    shell = heal_shell(read_house(path))
    assert any("taken as" in n.text and "times" in n.text for n in shell.notes), [str(n) for n in shell.notes]
    assert shell.walls[0].height_in == pytest.approx(97.0, abs=0.1)
