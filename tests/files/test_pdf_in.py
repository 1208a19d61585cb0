"""PDF pages become houses where they hold lines, pictures to trace over where they do not.

Outside values: the house as laid out by hand in ``dxf_house``; a door leaf of 30 in and 36 in.
"""

from __future__ import annotations

import json
import struct
import zlib
from pathlib import Path

import pytest

from bayrun.files.heal import heal_shell
from bayrun.files.pdf_in import read_pdf, read_scale, read_underlay
from bayrun.files.shell import ImportRefused, Shell
from bayrun.workers.house_worker import read_in_worker, underlay_in_worker
from cli.packs import bayrun
from conftest import need
from files.dxf_house import DOORS, ROOMS, WALLS
from files.pdf_house import plan_page, write_pdf


@pytest.fixture(autouse=True)
def _pypdfium2() -> None:
    need(module="pypdfium2")


def told(shell: Shell) -> str:
    """All notes as one text."""
    return "\n".join(str(n) for n in shell.notes)


def check_house(shell: Shell) -> None:
    """Walls, doors and rooms as laid out."""
    assert len(shell.walls) == len(WALLS)
    assert sorted(round(w.thickness_in, 1) for w in shell.walls) == sorted(t for _, _, t in WALLS)
    doors = sorted(o.width_in for o in shell.openings if o.kind == "door")
    assert doors == pytest.approx(sorted(w for _, _, w in DOORS), abs=0.1)
    rooms = {r.title: r.area_in2 for r in shell.rooms}
    assert rooms == {name.title(): pytest.approx(area, rel=0.002) for name, _, area in ROOMS}


def test_a_page_drawn_with_lines(tmp_path: Path) -> None:
    shell = heal_shell(read_pdf(write_pdf(tmp_path / "plan.pdf", plan_page())))
    check_house(shell)
    assert "scale: 1/4\" = 1', as the sheet says" in told(shell)
    everything = told(shell) + " ".join(r.title for r in shell.rooms)
    assert "Body" not in everything
    assert "Invented" not in everything


def test_a_scale_that_is_said_wins(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "plan.pdf", plan_page(per_in=1.0, scale_text=""))
    # 1 point an inch: the outer face is 480 in long, so its ends lie 480 points apart.
    shell = heal_shell(read_pdf(path, 0, "40' from 150,120 to 630,120"))
    check_house(shell)
    assert "scale: 40' 0\" between two points, as you said" in told(shell) or "between two points" in told(
        shell
    )


def test_a_scale_judged_by_the_doors_is_told(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "plan.pdf", plan_page(scale_text=""))
    shell = heal_shell(read_pdf(path))
    check_house(shell)
    assert "assumed: scale: 1 to 48 judged from the doors" in told(shell)


@pytest.mark.parametrize(
    ("text", "per_in"),
    [
        # By definition: so many inches of the house in an inch of paper.
        ("1/4\" = 1'-0\"", 48.0), ("SCALE 3/16\" = 1'", 64.0), ("1\" = 20'", 240.0), ("1:50", 50.0),
        ("10' from 0,0 to 72,0", 120.0),
    ],
)  # fmt: skip
def test_scales(text: str, per_in: float) -> None:
    found = read_scale(text)
    assert found is not None
    assert found[0] * 72.0 == pytest.approx(per_in)


@pytest.mark.parametrize(
    "text", ["", "no scale", "1:5", "9\" = 1'", "ten feet from 0,0 to 1,1", "1' from 3,3 to 3,3"]
)
def test_no_scales(text: str) -> None:
    assert read_scale(text) is None


def test_of_several_pages_the_one_with_most_lines(tmp_path: Path) -> None:
    notes = "BT /F1 12 Tf 100 100 Td (General notes) Tj ET\n10 10 m 90 10 l S"
    path = write_pdf(tmp_path / "set.pdf", notes, plan_page(), notes)
    shell = heal_shell(read_pdf(path))
    check_house(shell)
    assert "page 2 of 3 has most lines" in told(shell)
    with pytest.raises(ImportRefused, match=r"expected page 1 to 3, got 7"):
        read_pdf(path, 7)
    with pytest.raises(ImportRefused, match=r"got 1 of them on page 1: it is a scanned picture or a text"):
        read_pdf(path, 1)


def test_a_page_without_a_scale_is_refused_with_what_to_say(tmp_path: Path) -> None:
    lines = "\n".join(f"{x} 100 m {x} 600 l S" for x in range(100, 1000, 20))
    path = write_pdf(tmp_path / "plan.pdf", lines)
    with pytest.raises(ImportRefused, match="expected a scale, got a page that tells none"):
        read_pdf(path)
    with pytest.raises(ImportRefused, match="expected a scale such as"):
        read_pdf(path, 0, "quite large")


def test_a_damaged_pdf_is_one_sentence(tmp_path: Path) -> None:
    path = tmp_path / "plan.pdf"
    path.write_bytes(b"%PDF-1.4\nnothing of it")
    with pytest.raises(ImportRefused, match="expected a PDF that can be read, got one that is damaged"):
        read_pdf(path)


def _png(wide: int, high: int) -> bytes:
    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    row = b"\x00" + b"\xff" * wide
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(row * min(high, 4000)))
        + chunk(b"IEND", b"")
    )  # fmt: skip


def test_a_picture_of_too_many_pixels_is_refused_before_it_is_unfolded(tmp_path: Path) -> None:
    need(module="PIL")
    path = tmp_path / "photo.png"
    path.write_bytes(_png(30_000, 30_000))
    with pytest.raises(ImportRefused, match=r"at most 40 million pixels, got far more"):
        read_underlay(path, "picture")
    path.write_bytes(_png(7_000, 6_000))
    with pytest.raises(ImportRefused, match=r"at most 40 million pixels, got 7000 by 6000"):
        read_underlay(path, "picture")


def test_pages_and_pictures_to_trace_over(tmp_path: Path) -> None:
    """1 to 48 on paper: a pixel is 48 in by the pixels of an inch of paper."""
    page = underlay_in_worker(write_pdf(tmp_path / "plan.pdf", plan_page()))
    assert page.page == 1
    assert page.inches_per_px * page.size_px[0] == pytest.approx(17 * 48.0, rel=1e-3)
    assert page.png.startswith(b"\x89PNG")
    photo = tmp_path / "photo.png"
    photo.write_bytes(_png(800, 400))
    from bayrun.files.house_file import ReadOptions

    traced = underlay_in_worker(photo, ReadOptions(scale="20' from 0,0 to 400,0"))
    assert traced.inches_per_px == pytest.approx(240 / 400)
    assert underlay_in_worker(photo).inches_per_px == 0.0


def test_the_command_line(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "plan.pdf", plan_page())
    assert read_in_worker(path).walls
    done = bayrun("import", path, "--out", tmp_path / "job.yaml")
    assert done.code == 0, done.err
    assert (tmp_path / "job-import.html").is_file()
    done = bayrun("import", path, "--underlay", "--out", tmp_path / "job.yaml")
    assert done.code == 0, done.err
    facts = json.loads((tmp_path / "job-underlay.json").read_text())
    assert facts["scale"] == "1/4\" = 1', as the sheet says"
    assert (tmp_path / facts["picture"]).is_file()
    photo = tmp_path / "photo.png"
    photo.write_bytes(_png(80, 40))
    done = bayrun("import", photo, "--out", tmp_path / "other.yaml")
    assert (done.code, "Say --underlay" in done.err) == (2, True)
