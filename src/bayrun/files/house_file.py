"""Which kind of house file is this? By what it holds first, by the ending of its name second."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Literal

from bayrun.files.shell import ImportRefused, Shell

READABLE = "an IFC (.ifc), gbXML (.gbxml, .xml) or DXF (.dxf) file"
"""What can be read, as a person is told."""
HouseKind = Literal["ifc", "gbxml", "dxf"]
_ENDINGS: dict[str, HouseKind] = {
    ".ifc": "ifc", ".ifczip": "ifc", ".ifcxml": "ifc", ".gbxml": "gbxml", ".xml": "gbxml", ".dxf": "dxf",
}  # fmt: skip
_DXF = re.compile(rb"^\s*(999\r?\n[^\n]*\r?\n\s*)*0\s*\r?\n\s*SECTION\s*\r?\n", re.IGNORECASE)
_ROOT = re.compile(rb"<\s*(?:[\w.-]+:)?([A-Za-z][\w.-]*)[\s/>]")


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
    if head.startswith((b"%PDF", b"\x89PNG", b"\xff\xd8\xff")):
        raise ImportRefused(
            f"{path.name}: expected {READABLE}, got a PDF or a picture, which is not read; "
            "ask for the drawing itself"
        )
    if head.startswith(b"PK") and ending != "ifc":
        raise ImportRefused(
            f"{path.name}: expected {READABLE}, got a zip archive; unpack it and give the file inside"
        )
    if ending is None:
        raise ImportRefused(
            f"{path.name}: expected {READABLE}, got something else; check that the right file was given"
        )
    return ending


def read_house(path: str | Path) -> Shell:
    """Read a house file of any kind that can be read into a shell, not yet healed.

    Raises:
        ImportRefused: It cannot be read; the message says what was expected, what was got and what to do.
    """
    path = Path(path)
    kind = kind_of_file(path)
    if kind == "ifc":
        from bayrun.files.ifc import read_ifc

        return read_ifc(path)
    if kind == "gbxml":
        from bayrun.files.gbxml import read_gbxml

        return read_gbxml(path)
    from bayrun.files.dxf_in import read_dxf

    return read_dxf(path)
