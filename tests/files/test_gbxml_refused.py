"""An energy model that is no good gets one clear message: expected, got, and what to do."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from bayrun.files.gbxml import read_gbxml
from bayrun.files.house_file import READABLE, kind_of_file, read_house
from bayrun.files.shell import ImportRefused
from files.gbxml_house import Energy, gbxml


def refusal(folder: Path, data: bytes | str, name: str = "house.gbxml") -> str:
    """The message for these bytes."""
    path = folder / name
    path.write_bytes(data.encode() if isinstance(data, str) else data)
    with pytest.raises(ImportRefused) as said:
        read_house(path)
    return str(said.value)


def test_entities_and_document_types_are_refused(tmp_path: Path) -> None:
    rows = "".join(f'<!ENTITY a{i} "{f"&a{i - 1};" * 10}">' for i in range(1, 12))
    bomb = f'<?xml version="1.0"?><!DOCTYPE gbXML [<!ENTITY a0 "aaaaaaaaaa">{rows}]><gbXML>&a11;</gbXML>'
    assert refusal(tmp_path, bomb) == (
        "house.gbxml: expected a gbXML file without a document type declaration, got one (it can declare "
        "entities that grow without end); take the <!DOCTYPE …> out or export it again"
    )
    outside = '<!DOCTYPE gbXML SYSTEM "file:///etc/hostname"><gbXML/>'
    assert "without a document type declaration" in refusal(tmp_path, outside)


def test_cut_off_damaged_empty_and_deep(tmp_path: Path) -> None:
    text = gbxml()
    assert refusal(tmp_path, text[: len(text) // 2]) == (
        "house.gbxml: expected a gbXML file to its last tag, got one that stops in the middle (line 1); "
        "copy or export it again"
    )
    assert "got XML that is damaged at line 1" in refusal(tmp_path, text.replace("</Campus>", "</Camp>"))
    assert "got an empty file; export it again" in refusal(tmp_path, b"")
    assert "got elements nested 60 deep" in refusal(tmp_path, "<gbXML>" + "<a>" * 500)
    noise = random.Random(8).randbytes(10_000_000)
    assert "expected a gbXML file, got XML that is damaged at line 1" in refusal(tmp_path, noise)


def test_xml_of_another_kind_and_a_model_without_walls(tmp_path: Path) -> None:
    assert refusal(tmp_path, "<html><body/></html>", "page.xml") == (
        "page.xml: expected a gbXML file, whose first element is gbXML, got html; "
        "check that the right file was given"
    )
    assert "got gbXML without Campus and Building; export the whole model" in refusal(tmp_path, "<gbXML/>")
    bare = '<gbXML lengthUnit="Feet"><Campus><Building/></Campus></gbXML>'
    assert "expected walls, found none that can be read among 0 surfaces" in refusal(tmp_path, bare)
    odd = gbxml(Energy(per_inch=7.0, unit="Cubits"))
    assert "expected a unit of length (lengthUnit, such as Feet or Meters), got Cubits" in refusal(
        tmp_path, odd
    )


def test_seeded_damage_is_a_message_or_a_house_never_a_traceback(tmp_path: Path) -> None:
    text = gbxml(Energy(levels=2))
    chance = random.Random(21)
    path = tmp_path / "house.gbxml"
    refused: list[str] = []
    for _ in range(60):
        letters = list(text)
        for _ in range(12):
            at = chance.randrange(len(letters))
            # Figures are struck by other figures so that the file stays XML and its sense is what breaks.
            letters[at] = chance.choice("0123456789.-e") if letters[at].isdigit() else letters[at]
        for _ in range(30):
            at = chance.choice([i for i in range(0, len(letters), 97) if letters[i].isdigit()] or [0])
            letters[at] = "9"
        path.write_text("".join(letters), encoding="utf-8")
        try:
            read_gbxml(path)
        except ImportRefused as error:
            refused.append(str(error))
    assert all(said.startswith("house.gbxml: expected ") for said in refused)
    assert len(refused) < 60


@pytest.mark.parametrize(
    ("name", "data", "says"),
    [
        (
            "plan.dwg",
            b"AC1027" + bytes(40),
            "got a drawing in its closed form (DWG); save it as DXF and give that",
        ),
        ("plan.zip", b"PK\x03\x04more", "got a zip archive; unpack it and give the file inside"),
        ("plan.txt", b"a house\n", "got something else; check that the right file was given"),
    ],
)
def test_other_kinds_are_refused_by_naming_what_can_be_read(
    tmp_path: Path, name: str, data: bytes, says: str
) -> None:
    said = refusal(tmp_path, data, name)
    assert said == f"{name}: expected {READABLE}, {says}"


def test_the_kind_is_told_by_content_before_the_ending(tmp_path: Path) -> None:
    for name, data, kind in (
        ("a.txt", gbxml().encode(), "gbxml"),
        ("b.ifc", gbxml().encode(), "gbxml"),
        ("c.xml", b"  0\nSECTION\n  2\nHEADER\n", "dxf"),
        ("d.dxf", b"999\nmade by hand\n0\nSECTION\n", "dxf"),
        ("e.dxf", b"ISO-10303-21;\n", "ifc"),
        ("f.xml", b"<?xml version='1.0'?><ifcXML/>", "ifc"),
        ("g.dxf", b"nothing that tells", "dxf"),
    ):
        path = tmp_path / name
        path.write_bytes(data)
        assert kind_of_file(path) == kind, name
