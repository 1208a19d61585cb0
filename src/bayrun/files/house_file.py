"""Which kind of house file is this? By what it holds first, by the ending of its name second."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from bayrun.files.shell import ImportRefused, Shell

READABLE = "an IFC (.ifc), gbXML (.gbxml, .xml), DXF (.dxf), PDF (.pdf) or tape (.tape, .csv) file"
"""What can be read, as a person is told."""
HouseKind = Literal["ifc", "gbxml", "dxf", "tape", "pdf", "picture"]
_ENDINGS: dict[str, HouseKind] = {
    ".ifc": "ifc", ".ifczip": "ifc", ".ifcxml": "ifc", ".gbxml": "gbxml", ".xml": "gbxml", ".dxf": "dxf",
    ".tape": "tape", ".csv": "tape", ".pdf": "pdf", ".png": "picture", ".jpg": "picture", ".jpeg": "picture",
}  # fmt: skip
_DXF = re.compile(rb"^\s*(999\r?\n[^\n]*\r?\n\s*)*0\s*\r?\n\s*SECTION\s*\r?\n", re.IGNORECASE)
_ROOT = re.compile(rb"<\s*(?:[\w.-]+:)?([A-Za-z][\w.-]*)[\s/>]")


@dataclass(frozen=True, slots=True)
class ReadOptions:
    """What a person says about a file that the file itself does not say, or says wrongly.

    Args:
        unit: The unit the drawing is drawn in (``inches``, ``feet``, ``millimeters`` …); empty: judged.
        drawing: Which of several drawings on one sheet, counted as the report numbers them; 0: judged.
        page: Of a PDF, from 1; 0: the one with most lines.
        scale: Of a PDF or a picture, as the sheet says it or by one known length; empty: judged.
    """

    unit: str = ""
    drawing: int = 0
    page: int = 0
    scale: str = ""


def kind_of_file(path: Path) -> HouseKind:
    """The kind of a house file.

    Raises:
        ImportRefused: Nothing that can be read; the message names what can.
    """
    if not path.is_file():
        raise ImportRefused(f"{path}: expected {READABLE}, found no such file")
    with path.open("rb") as file:
        head = file.read(65536)
    ending = _ENDINGS.get(path.suffix.lower())
    if not head:
        if ending == "ifc":
            return "ifc"
        raise ImportRefused(f"{path.name}: expected {READABLE}, got an empty file; export it again")
    if b"ISO-10303-21" in head[:4096]:
        return "ifc"
    if head.startswith(b"AutoCAD Binary DXF") or _DXF.match(head.removeprefix(b"\xef\xbb\xbf")):
        return "dxf"
    plain = head.replace(b"\x00", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n")
    if plain.startswith(b"<"):
        root = _ROOT.search(plain)
        name = root[1].decode("ascii", "replace").lower() if root else ""
        return "ifc" if name.startswith("ifc") or (ending == "ifc" and name != "gbxml") else "gbxml"
    if re.match(rb"AC10\d\d", head):
        raise ImportRefused(
            f"{path.name}: expected {READABLE}, got a drawing in its closed form (DWG); "
            "save it as DXF and give that"
        )
    if b"%PDF" in head[:1024]:
        return "pdf"
    if head.startswith((b"\x89PNG", b"\xff\xd8\xff")):
        return "picture"
    if head.startswith(b"PK") and (ending == "ifc" or _holds_ifc(path)):
        return "ifc"
    if head.startswith(b"PK"):
        raise ImportRefused(
            f"{path.name}: expected {READABLE}, got a zip archive; unpack it and give the file inside"
        )
    if ending is None:
        raise ImportRefused(
            f"{path.name}: expected {READABLE}, got something else; check that the right file was given"
        )
    return ending


def _holds_ifc(path: Path) -> bool:
    try:
        with zipfile.ZipFile(path) as archive:
            return any(name.lower().endswith(".ifc") for name in archive.namelist())
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError):
        return False


def read_house(
    path: str | Path, options: ReadOptions | None = None, told: Callable[[str], None] | None = None
) -> Shell:
    """Read a house file of any kind that can be read into a shell, not yet healed.

    This parses in the process that calls it: whoever reads a file of a stranger calls
    ``workers.house_worker.read_in_worker``, which puts this behind limits.

    Args:
        path: The file.
        options: What the person said about it.
        told: Called with each step in words.
    Raises:
        ImportRefused: It cannot be read; the message says what was expected, what was got and what to do.
    """
    path, options, told = Path(path), options or ReadOptions(), told or _silent
    kind = kind_of_file(path)
    if kind == "ifc":
        from bayrun.files.ifc import read_ifc

        return read_ifc(path, told)
    if kind == "tape":
        from bayrun.files.tape_in import read_tape

        told("reading the walk")
        return read_tape(path)
    if kind == "pdf":
        from bayrun.files.pdf_in import read_pdf

        told("reading the page")
        return read_pdf(path, options.page, options.scale, options.drawing)
    if kind == "picture":
        raise ImportRefused(
            f"{path.name}: expected {READABLE}, got a picture, which holds no lines. Say --underlay to "
            "make a "
            "picture of it to trace over, or walk the rooms with a tape"
        )
    told("reading the model" if kind == "gbxml" else "reading the drawing")
    if kind == "gbxml":
        from bayrun.files.gbxml import read_gbxml

        return read_gbxml(path)
    from bayrun.files.dxf_in import read_dxf

    return read_dxf(path, options.unit, options.drawing)


def _silent(words: str) -> None:
    """Nobody listens."""
