"""A file that is no good gets one clear message: expected, got, and what to do. Never a traceback."""

from __future__ import annotations

import random
import zipfile
from pathlib import Path

import pytest

from bayrun.files.heal import heal_shell
from bayrun.files.ifc import read_ifc
from bayrun.files.ifc_studs import read_studs
from bayrun.files.shell import ImportRefused
from conftest import count, need
from ifc_model import Model, box_house


@pytest.fixture(autouse=True)
def _ifcopenshell() -> None:
    need(module="ifcopenshell")


def good_text() -> str:
    """A small sound file: a box with a door and a room."""
    model = Model()
    walls = box_house(model)
    model.opening(walls["front"], 30.0, 36.0, 0.0, 80.0, "door")
    model.space("Floor", ((3.25, 3.25), (117.75, 3.25), (117.75, 176.75), (3.25, 176.75)))
    return model.text()


def refusal(tmp_path: Path, data: bytes, name: str = "house.ifc") -> str:
    """The message for these bytes."""
    path = tmp_path / name
    path.write_bytes(data)
    with pytest.raises(ImportRefused) as told:
        read_ifc(path)
    return str(told.value)


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(ImportRefused, match="expected an IFC file, found no such file"):
        read_ifc(tmp_path / "none.ifc")


def test_an_empty_file(tmp_path: Path) -> None:
    said = refusal(tmp_path, b"")
    assert said == "house.ifc: expected an IFC file, got an empty file; export it again"


def test_garbage(tmp_path: Path) -> None:
    said = refusal(tmp_path, random.Random(4).randbytes(20_000))
    assert said == (
        "house.ifc: expected an IFC file, which begins with ISO-10303-21, got something else; "
        "check that the right file was given"
    )


def test_a_file_that_stops_in_the_middle(tmp_path: Path) -> None:
    text = good_text()
    said = refusal(tmp_path, text[: len(text) // 2].encode())
    assert said == (
        "house.ifc: expected END-ISO-10303-21 at the end, got a file that stops in the middle; "
        "copy or export it again"
    )


def test_an_archive_is_opened_where_it_holds_one_model(tmp_path: Path) -> None:
    path = tmp_path / "house.ifczip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("house.ifc", good_text())
    assert len(read_ifc(path).walls) == 5
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("other.ifc", good_text())
    with pytest.raises(ImportRefused, match=r"expected one \.ifc file in the archive, got 2; unpack it"):
        read_ifc(path)
    path.write_bytes(path.read_bytes()[:500])
    with pytest.raises(ImportRefused, match="expected a zip archive that can be unpacked, got a damaged one"):
        read_ifc(path)


def test_the_xml_form(tmp_path: Path) -> None:
    assert "got XML; export it as .ifc" in refusal(tmp_path, b"\xef\xbb\xbf<?xml version='1.0'?><ifcXML/>")


def test_a_schema_nobody_reads(tmp_path: Path) -> None:
    said = refusal(tmp_path, good_text().replace("('IFC4')", "('AP214')").encode())
    assert said == "house.ifc: expected schema IFC2X3, IFC4 or IFC4X3, got AP214; export it as IFC4"
    headless = good_text().replace("FILE_SCHEMA(('IFC4'));\n", "").encode()
    assert "expected a header that names its schema, such as IFC4, got none" in refusal(tmp_path, headless)


@pytest.mark.parametrize(
    ("named", "taken"),
    [
        ("ifc2x_final", "IFC2X3"),
        ("IFC2X2_FINAL", "IFC2X3"),
        ("IFC4X1", "IFC4"),
        ("IFC4X3_RC2", "IFC4X3_ADD2"),
    ],
)
def test_old_names_of_schemas_are_mended_and_told(tmp_path: Path, named: str, taken: str) -> None:
    path = tmp_path / "house.ifc"
    model = Model(schema=taken)
    box_house(model)
    path.write_text("made by hand\n" + model.text().replace(f"('{taken}')", f"('{named}')"))
    told = [n.text for n in read_ifc(path).notes if n.kind == "mended"]
    assert f"the header names {named.upper()}, which is read as {taken}" in told
    assert "what stood before the header was passed over" in told


def test_a_building_without_walls(tmp_path: Path) -> None:
    model = Model()
    model.storey("Floor", 0.0)
    model.space("Floor", ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0)))
    said = refusal(tmp_path, model.text().encode())
    assert said == (
        "house.ifc: expected walls, found none that can be read among 0 elements; "
        "export the architect's model with its walls"
    )


def test_walls_without_studs_are_no_framed_wall(tmp_path: Path) -> None:
    path = tmp_path / "house.ifc"
    path.write_text(good_text())
    with pytest.raises(ImportRefused, match="expected a wall drawn with its studs and plates, found none"):
        read_studs(path)


def _said(path: Path) -> str | None:
    """The refusal of a file, or None where it is read and healed."""
    try:
        heal_shell(read_ifc(path))
    except ImportRefused as told:
        return str(told)
    return None


def test_no_damage_ever_gives_a_traceback(tmp_path: Path) -> None:
    """Seeded damage of a sound file: read with notes, or refused by a message that names the file."""
    text, dice = good_text(), random.Random(11)
    path, read, refused = tmp_path / "house.ifc", 0, 0
    for _ in range(count(60, 600)):
        lines = text.split("\n")
        for _ in range(dice.randint(1, 4)):
            at = dice.randrange(8, len(lines) - 3)
            way = dice.randrange(4)
            if way == 0:
                del lines[at]
            elif way == 1:
                cut = dice.randrange(1, max(2, len(lines[at])))
                lines[at] = (
                    lines[at][:cut] + dice.choice(["$", "#1", "''", "-1.E99", "0.", "()"]) + lines[at][cut:]
                )
            elif way == 2:
                lines[at] = (
                    lines[at].replace("#", "#9", 1) if dice.random() < 0.5 else lines[at].replace("1", "$", 1)
                )
            else:
                other = dice.randrange(8, len(lines) - 3)
                lines[at], lines[other] = lines[other], lines[at]
        path.write_text("\n".join(lines))
        said = _said(path)
        if said is None:
            read += 1
            continue
        refused += 1
        assert said.startswith("house.ifc: expected")
        assert str(tmp_path) not in said
    assert read > 5
    assert refused > 0
