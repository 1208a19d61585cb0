"""Open an IFC file safely: one clear refusal instead of a traceback, units, and names without people."""

from __future__ import annotations

import math
import re
import zipfile
import zlib
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from bayrun.files.privacy import without_people
from bayrun.files.shell import ImportRefused
from bayrun.geometry import below
from bayrun.units.tape import MM_PER_IN

LARGEST_UNFOLDED_BYTES, MOST_FOLDED = 200_000_000, 60
"""What an archive may unfold to, and how many times its own size: text of this kind folds 5 to 20 times."""
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
_TAKEN_AS = (
    (r"IFC2X3", "IFC2X3"), (r"IFC2X([23]?_?(FINAL|TC1|RC\d?|ADD1))|IFC2X2?|IFC2\.?0", "IFC2X3"),
    (r"IFC4", "IFC4"), (r"IFC4_?(ADD[12]|ADD2_?TC1|RC\d|FINAL)|IFC4X[12](_\w+)?|IFC2X4(_\w+)?", "IFC4"),
    (r"IFC4X3(_ADD2)?|IFC4X3_(RC\d|TC1|ADD1|FINAL)", "IFC4X3_ADD2"),
)  # fmt: skip
"""Names of schemas in the wild and the one each is read by: what a house holds is the same in all of them."""
_PREFIX = {
    None: 1.0, "MICRO": 1e-6, "MILLI": 1e-3, "CENTI": 1e-2, "DECI": 1e-1,
    "DECA": 1e1, "HECTO": 1e2, "KILO": 1e3,
}  # fmt: skip
_ROOM_WORDS = frozenset({
    "attic", "bath", "bathroom", "bed", "bedroom", "closet", "den", "dining", "entry", "family",
    "foyer", "garage", "hall", "hallway", "kitchen", "laundry", "living", "loft", "nursery", "office",
    "pantry", "play", "porch", "powder", "room", "stair", "stairs", "storage", "study", "utility",
    "wall", "door", "window", "level", "floor", "roof", "basement", "default", "site", "building",
    "project",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Opened:
    """An IFC file as its parser holds it, and what had to be mended to open it."""

    model: Any
    mended: tuple[str, ...] = ()


def open_ifc(path: Path) -> Opened:
    """Open an IFC file of the exchange form (ISO 10303-21), or one inside a zip archive, with ifcopenshell.

    Raises:
        ImportRefused: It is missing, empty, cut off, of another kind, of an unknown schema, or damaged
            beyond reading; or ifcopenshell is not installed. The message says which and what to do.
    """
    data = _data(path)
    schema, rewritten, mended = _looked_at(path, data)
    try:
        import ifcopenshell
    except ImportError:
        if find_spec("ifcopenshell") is not None:
            raise MemoryError from None  # it is there, and could not be loaded within the limits
        raise ImportRefused(
            "reading IFC needs the package ifcopenshell, which is not installed: "
            "install Bayrun with its extra [ifc]"
        ) from None
    try:
        if rewritten is None:
            model = ifcopenshell.open(str(path))
        else:
            model = ifcopenshell.file.from_string(rewritten.decode("latin-1"))
        products = len(model.by_type("IfcProduct"))
    except MemoryError:
        raise
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
    return Opened(model, mended)


def _data(path: Path) -> bytes | None:
    """The bytes of a file inside an archive, unfolded under a limit; None where the file is no archive."""
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
        if file.read(2) != b"PK":
            return None
    return _unfolded(path)


def _unfolded(path: Path) -> bytes:
    """The one .ifc inside an archive; never more bytes than a house may have, whatever it promises."""
    wrong = f"{path.name}: expected one .ifc file in the archive"
    try:
        with zipfile.ZipFile(path) as archive:
            inside = [i for i in archive.infolist() if i.filename.lower().endswith(".ifc")]
            if len(inside) != 1:
                raise ImportRefused(f"{wrong}, got {len(inside)}; unpack it and give the right one")
            entry = inside[0]
            if entry.flag_bits & 1:
                raise ImportRefused(f"{wrong}, got one behind a password; unpack it and give the .ifc inside")
            most = min(LARGEST_UNFOLDED_BYTES, max(entry.compress_size, 1_000) * MOST_FOLDED)
            with archive.open(entry) as file:
                data = file.read(most + 1)
            if len(data) > most:
                raise ImportRefused(
                    f"{wrong}, got one that unfolds to more than {most / 1e6:,.0f} MB, far more than an "
                    "archive of a house does; unpack it and give the .ifc inside, if you trust it"
                )
            return data
    except (zipfile.BadZipFile, zlib.error, OSError, EOFError, NotImplementedError, RuntimeError, ValueError):
        raise ImportRefused(
            f"{path.name}: expected a zip archive that can be unpacked, got a damaged one; copy it again"
        ) from None


def _looked_at(path: Path, data: bytes | None) -> tuple[str, bytes | None, tuple[str, ...]]:
    """Checks that cost nothing, before a foreign parser sees the bytes.

    Returns:
        The schema's name, the whole text where it is not the file as it lies, and what was mended in it.
    """
    if data is None:
        size = path.stat().st_size
        with path.open("rb") as file:
            head = file.read(65536)
            file.seek(max(0, size - 4096))
            tail = file.read()
    else:
        head, tail = data[:65536], data[-4096:]
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
    schema = found[1].decode("ascii", "replace").strip().upper() if found else ""
    if not schema or found is None:
        raise ImportRefused(f"{path.name}: expected a header that names its schema, such as IFC4, got none")
    taken = next((new for old, new in _TAKEN_AS if re.fullmatch(old, schema)), None)
    if taken is None:
        raise ImportRefused(
            f"{path.name}: expected schema IFC2X3, IFC4 or IFC4X3, got {schema}; export it as IFC4"
        )
    begins = head.find(b"ISO-10303-21")
    if found[1] == taken.encode() and begins == 0:
        return taken, data, ()
    whole = path.read_bytes() if data is None else data
    whole = whole[: found.start(1)] + taken.encode() + whole[found.end(1) :]
    mended = []
    if taken != schema:
        mended.append(f"the header names {schema}, which is read as {taken}")
    if begins and head[:begins].strip(b"\xef\xbb\xbf \t\r\n"):
        mended.append("what stood before the header was passed over")
    return taken, whole[begins:], tuple(mended)


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
        clean, mails = without_people(str(text))
        hits = 0
        if self._phrases is not None:
            clean, hits = self._phrases.subn("", clean)
        self.taken_out += mails + hits
        return " ".join(clean.split())[:80]
