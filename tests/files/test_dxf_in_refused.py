"""A drawing that is no good gets one clear message: expected, got, and what to do. Never a traceback."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from bayrun.files.dxf_in import read_dxf
from bayrun.files.shell import ImportRefused
from files.dxf_house import Look, draw


def refusal(folder: Path, data: bytes, name: str = "plan.dxf") -> str:
    """The message for these bytes."""
    path = folder / name
    path.write_bytes(data)
    with pytest.raises(ImportRefused) as said:
        read_dxf(path)
    return str(said.value)


def test_empty_cut_off_and_noise(tmp_path: Path) -> None:
    whole = draw(tmp_path / "good.dxf").read_bytes()
    assert refusal(tmp_path, b"") == "plan.dxf: expected a DXF file, got an empty file; export it again"
    assert refusal(tmp_path, whole[: len(whole) // 2]) == (
        "plan.dxf: expected EOF at the end, got a drawing that stops in the middle; copy or save it again"
    )
    assert refusal(tmp_path, random.Random(3).randbytes(10_000_000)) == (
        "plan.dxf: expected a DXF file, which begins with a SECTION, got something else; "
        "check that the right file was given"
    )


def test_damaged_inside(tmp_path: Path) -> None:
    torn = b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n 10\nabc\n  0\nENDSEC\n  0\nEOF\n"
    said = refusal(tmp_path, torn)
    assert said.startswith(
        "plan.dxf: expected a DXF drawing that holds together, got one that is damaged inside"
    )


def test_no_walls_and_no_unit(tmp_path: Path) -> None:
    bare = b"  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n"
    assert "got a drawing" in refusal(tmp_path, bare) or "found none" in refusal(tmp_path, bare)
    single = b"".join(
        b"  0\nLINE\n  8\nA-WALL\n 10\n%d.0\n 20\n0.0\n 11\n%d.0\n 21\n90.0\n" % (x, x)
        for x in range(0, 900, 90)
    )
    head = b"  0\nSECTION\n  2\nHEADER\n  9\n$INSUNITS\n 70\n1\n  0\nENDSEC\n"
    said = refusal(tmp_path, head + b"  0\nSECTION\n  2\nENTITIES\n" + single + b"  0\nENDSEC\n  0\nEOF\n")
    assert "expected walls drawn as two lines 3 to 14 in apart, found none among 10 lines" in said


def test_seeded_damage_is_a_message_or_a_house(tmp_path: Path) -> None:
    whole = draw(tmp_path / "good.dxf", Look()).read_bytes()
    start = whole.index(b"ENTITIES")
    chance = random.Random(17)
    path = tmp_path / "plan.dxf"
    refused: list[str] = []
    for _ in range(20):
        data = bytearray(whole)
        for _ in range(25):
            data[chance.randrange(start, len(data) - 20)] = chance.choice(b"0123456789.-AZ")
        path.write_bytes(bytes(data))
        try:
            read_dxf(path)
        except ImportRefused as error:
            refused.append(str(error))
    assert refused
    assert all(said.startswith("plan.dxf: expected ") for said in refused)
