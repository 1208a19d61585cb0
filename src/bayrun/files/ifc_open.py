"""Open an IFC file safely: one clear refusal instead of a traceback, units, and names without people."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

from bayrun.files.shell import ImportRefused
from bayrun.geometry import below
from bayrun.units.tape import MM_PER_IN

LARGEST_BYTES = 300_000_000
"""A house is a few megabytes; more than this is refused before it is read."""
IN_PER_M = 1000 / MM_PER_IN
DAMAGED = (
    RuntimeError,
    AttributeError,
    TypeError,
    ValueError,
    IndexError,
    KeyError,
    OverflowError,
    ZeroDivisionError,
)
"""What a file with missing or senseless attributes raises when it is read."""
_SCHEMAS = ("IFC2X3", "IFC4", "IFC4X1", "IFC4X2", "IFC4X3")
_PREFIX = {
    None: 1.0, "MICRO": 1e-6, "MILLI": 1e-3, "CENTI": 1e-2, "DECI": 1e-1,
    "DECA": 1e1, "HECTO": 1e2, "KILO": 1e3,
}  # fmt: skip
_MAIL = re.compile(r"[\w.+-]+@[\w-]+(\.[\w-]+)+")
_ROOM_WORDS = frozenset({
    "attic", "bath", "bathroom", "bed", "bedroom", "closet", "den", "dining", "entry", "family",
    "foyer", "garage", "hall", "hallway", "kitchen", "laundry", "living", "loft", "nursery", "office",
    "pantry", "play", "porch", "powder", "room", "stair", "stairs", "storage", "study", "utility",
    "wall", "door", "window", "level", "floor", "roof", "basement", "default", "site", "building",
    "project",
})  # fmt: skip


def open_ifc(path: Path) -> Any:
    """Open an IFC file of the exchange form (ISO 10303-21) with ifcopenshell.

    Raises:
        ImportRefused: It is missing, empty, cut off, of another kind, of an unknown schema, or damaged
            beyond reading; or ifcopenshell is not installed. The message says which and what to do.
    """
    schema = _looked_at(path)
    try:
        import ifcopenshell
    except ImportError:
        raise ImportRefused(
            "reading IFC needs the package ifcopenshell, which is not installed: "
            "install Bayrun with its extra [ifc]"
        ) from None
    try:
        model = ifcopenshell.open(str(path))
        products = len(model.by_type("IfcProduct"))
    except Exception as error:
        raise ImportRefused(
            f"{path.name}: expected a readable IFC file, got one that is damaged inside "
            f"(schema {schema}): {_plain(error)}; export it again"
        ) from None
    if not products:
        raise ImportRefused(
            f"{path.name}: expected a building with walls, got an IFC file without any element; "
            "export the whole model"
        )
    return model


def _looked_at(path: Path) -> str:
    """Checks that cost nothing, before a foreign parser sees the bytes; returns the schema's name."""
    if not path.is_file():
        raise ImportRefused(f"{path}: expected an IFC file, found no such file")
    size = path.stat().st_size
    if size == 0:
        raise ImportRefused(f"{path.name}: expected an IFC file, got an empty file; export it again")
    if size > LARGEST_BYTES:
        raise ImportRefused(
            f"{path.name}: {size / 1e6:.0f} MB is more than the {LARGEST_BYTES / 1e6:.0f} MB "
            "a house may have; "
            "export the house alone, without site, furniture and fittings"
        )
    with path.open("rb") as file:
        head = file.read(65536)
        file.seek(max(0, size - 4096))
        tail = file.read()
    if head.startswith(b"PK"):
        raise ImportRefused(
            f"{path.name}: expected an IFC file, got a zip archive; unpack it and give the .ifc inside"
        )
    if head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
        raise ImportRefused(f"{path.name}: expected IFC in its text form (.ifc), got XML; export it as .ifc")
    if b"ISO-10303-21" not in head[:4096]:
        raise ImportRefused(
            f"{path.name}: expected an IFC file, which begins with ISO-10303-21, got something else; "
            "check that the right file was given"
        )
    if b"END-ISO-10303-21" not in tail:
        raise ImportRefused(
            f"{path.name}: expected END-ISO-10303-21 at the end, got a file that stops in the middle; "
            "copy or export it again"
        )
    found = re.search(rb"FILE_SCHEMA\s*\(\s*\(\s*'([^']{1,40})'", head, re.IGNORECASE)
    schema = found[1].decode("ascii", "replace").upper() if found else ""
    if not schema:
        raise ImportRefused(f"{path.name}: expected a header that names its schema, such as IFC4, got none")
    if not schema.startswith(_SCHEMAS):
        raise ImportRefused(
            f"{path.name}: expected schema IFC2X3, IFC4 or IFC4X3, got {schema}; export it as IFC4"
        )
    return schema


def _plain(error: Exception) -> str:
    text = " ".join(str(error).split())
    return re.sub(r"(/[\w.-]+){2,}", "…", text)[:160] or type(error).__name__


def units_of(model: Any) -> tuple[float, float, float | None, str]:
    """The file's units: inches in its length unit, radians in its angle unit, in2 in its area unit, a remark.

    The remark is empty unless the file states no length unit: then meters are taken, as the file form's
    own base unit, and told.
    """
    length_in, angle_rad, area_in2 = None, 1.0, None
    for assignment in model.by_type("IfcUnitAssignment"):
        for entity in assignment.Units:
            try:
                kind = getattr(entity, "UnitType", None)
                if kind == "LENGTHUNIT" and length_in is None:
                    length_in = _factor(entity, 1) * IN_PER_M
                elif kind == "AREAUNIT" and area_in2 is None:
                    area_in2 = _factor(entity, 2) * IN_PER_M**2
                elif kind == "PLANEANGLEUNIT":
                    angle_rad = _factor(entity, 1)
            except DAMAGED:
                continue
    if length_in is None or not math.isfinite(length_in) or not below(0.0, length_in):
        return IN_PER_M, angle_rad, area_in2, "the file states no unit of length: taken as meters"
    return length_in, angle_rad, area_in2, ""


def _factor(entity: Any, power: int) -> float:
    """SI base units in one unit."""
    if entity.is_a("IfcConversionBasedUnit"):
        measure = entity.ConversionFactor
        return float(measure.ValueComponent.wrappedValue) * _factor(measure.UnitComponent, power)
    return float(_PREFIX[entity.Prefix] ** power)


class Names:
    """Takes people, firms, addresses and e-mails that the file names out of every text that is carried on."""

    def __init__(self, model: Any) -> None:
        self.taken_out = 0
        phrases: set[str] = set()
        for entity_class, fields in (
            ("IfcPerson", ("FamilyName", "GivenName", "MiddleNames", "Identification", "Id")),
            ("IfcOrganization", ("Name",)),
            ("IfcPostalAddress", ("AddressLines", "Town", "PostalCode", "PostalBox", "InternalLocation")),
            ("IfcTelecomAddress", ("TelephoneNumbers", "ElectronicMailAddresses", "WWWHomePageURL")),
        ):
            for entity in model.by_type(entity_class):
                for name in fields:
                    try:
                        value = getattr(entity, name, None)
                    except DAMAGED:
                        continue
                    phrases.update(str(v) for v in (value if isinstance(value, tuple) else (value,)) if v)
        kept = (" ".join(p.split()) for p in phrases)
        useful = sorted(
            {p.lower() for p in kept if len(p) >= 4 and p.lower() not in _ROOM_WORDS},
            key=lambda p: (-len(p), p),
        )
        self._phrases = (
            re.compile("|".join(rf"(?<!\w){re.escape(p)}(?!\w)" for p in useful), re.I) if useful else None
        )

    def __call__(self, text: str | None) -> str:
        """The text on one line, without people, firms and addresses."""
        if not text:
            return ""
        clean = "".join(c if c.isprintable() else " " for c in str(text))
        clean, mails = _MAIL.subn("", clean)
        hits = 0
        if self._phrases is not None:
            clean, hits = self._phrases.subn("", clean)
        self.taken_out += mails + hits
        return " ".join(clean.split())[:80]
