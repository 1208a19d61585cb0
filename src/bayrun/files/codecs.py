"""How each kind of value stands in a job file: read from a node, written as plain data, told as schema.

One codec serves the reader, the writer and the published JSON Schema, so the three cannot disagree.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Callable, Iterable
from dataclasses import MISSING, dataclass, field, fields
from decimal import Decimal
from typing import Any, Protocol

from bayrun.files.defects import Defect
from bayrun.files.yaml_text import Mapping, Node, Scalar, Sequence, is_true, said, scalar_kind
from bayrun.geometry import TOUCH_IN, at_least, below
from bayrun.units import LengthError, parse_length, tape

LARGEST_IN = 24_000.0
"""No house is 2,000 ft long; a larger number is a slip, and framing it would take for ever [in]."""
LENGTH = "a length such as 5' 3-1/2\", 5-3, 63.5 or 1613 mm"
_LONGEST_NUMBER = 40
_ID = re.compile(r"^\w[\w.-]*$")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\u2028\u2029\ufeff\ufffe\uffff]")
_MONEY = re.compile(r"^\d{1,12}(?:\.\d{1,9})?$")


class _Bad:
    """What a codec gives back for a value it refused."""


BAD = _Bad()


class Raw(str):
    """Text to be written as it stands: a length, a number, true or false."""


Plain = Any
Schema = dict[str, Any]


@dataclass(slots=True)
class Reference:
    """A place in the file that names something else in it."""

    kind: str
    name: str
    node: Scalar
    where: str


@dataclass(slots=True)
class Reading:
    """What is gathered while a file is read: defects, ids with their places, references to them."""

    file: str
    defects: list[Defect] = field(default_factory=list)
    ids: dict[str, dict[str, Scalar]] = field(default_factory=dict)
    references: list[Reference] = field(default_factory=list)
    wall_levels: dict[str, str] = field(default_factory=dict)
    later: list[Callable[[], None]] = field(default_factory=list)
    """Checks that need the whole file."""

    def refuse(self, node: Node, where: str, expected: str, got: str = "", suggestion: str = "") -> _Bad:
        """Note a defect at a node; returns BAD."""
        self.defects.append(
            Defect(self.file, node.line, node.column, where, expected, got or said(node), suggestion)
        )
        return BAD

    def name(self, kind: str, name: str, node: Scalar, where: str) -> None:
        """Note that this name is given here; the same name twice is a defect."""
        first = self.ids.setdefault(kind, {}).setdefault(name, node)
        if first is not node:
            self.refuse(node, where, f"each {kind} id once", f"“{name}” again", f"first at line {first.line}")

    def refer(self, kind: str, name: str, node: Scalar, where: str) -> None:
        """Note that this place names something; looked up when the whole file is read."""
        self.references.append(Reference(kind, name, node, where))

    def look_up(self) -> None:
        """Refuse every reference to something the file does not hold."""
        for check in self.later:
            check()
        for reference in self.references:
            known = self.ids.get(reference.kind, {})
            if reference.name not in known:
                what = f"the id of a {reference.kind}" if reference.kind != "room" else "the name of a room"
                level, _, _ = reference.name.rpartition("\x00")
                if level:
                    what += f" on level {level}"
                self.refuse(
                    reference.node, reference.where, what, "", near_miss(reference.name, known, level)
                )


def under(where: str, word: str) -> str:
    """A place inside a place, in words."""
    return f"{where} › {word}" if where else word


def near_miss(word: str, known: Iterable[str], level: str = "") -> str:
    """“did you mean …?”, or which words there are where they are few."""
    names = sorted({name for name in known if not level or name.startswith(f"{level}\x00")})
    shown = [name.rpartition("\x00")[2] for name in names]
    word = word.rpartition("\x00")[2]
    lowered = {name.lower(): name for name in reversed(shown)}
    close = difflib.get_close_matches(word.lower(), list(lowered), n=1, cutoff=0.6)
    if close:
        return f"did you mean “{lowered[close[0]]}”?"
    if not shown:
        return "there is none in this file"
    return f"there are {', '.join(shown)}" if len(shown) <= 8 else ""


class Codec(Protocol):
    """One kind of value."""

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        """The value, or BAD after noting the defect."""

    def write(self, value: Any) -> Plain:
        """The value as plain data."""

    def schema(self) -> Schema:
        """What JSON Schema says of it."""


@dataclass(frozen=True, slots=True)
class Text:
    """Any text; ids, names and references are texts with more to them."""

    kind: str = ""
    refers: str = ""
    as_id: bool = False
    lines: bool = False
    empty: bool = True
    expected: str = "a text"

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        if not isinstance(node, Scalar) or scalar_kind(node) == "null":
            return reading.refuse(node, where, self._expected())
        text = node.text
        control = _CONTROL.search(text)
        if control or (not self.lines and ("\n" in text or "\t" in text)):
            return reading.refuse(node, where, "one line of plain text", said(node))
        if self.as_id and (not _ID.match(text) or len(text) > 60):
            return reading.refuse(node, where, self._expected())
        if not self.empty and not text.strip():
            return reading.refuse(node, where, self._expected())
        if self.kind:
            reading.name(self.kind, text, node, where)
        if self.refers and text:
            reading.refer(self.refers, text, node, where)
        return text

    def _expected(self) -> str:
        if self.refers:
            return f"the id of a {self.refers}"
        return "an id of letters, digits, dots and dashes without spaces" if self.as_id else self.expected

    def write(self, value: Any) -> Plain:
        return word(value)

    def schema(self) -> Schema:
        if self.as_id or self.refers:
            return {"$ref": "#/$defs/id"}
        return {"$ref": "#/$defs/text"} if self.empty else {"$ref": "#/$defs/name"}


@dataclass(frozen=True, slots=True)
class Length:
    """A length as people write it; plain numbers are inches."""

    least_in: float = -LARGEST_IN
    most_in: float = LARGEST_IN
    over_zero: bool = False

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        kind = scalar_kind(node) if isinstance(node, Scalar) else ""
        if not isinstance(node, Scalar) or kind in ("null", "bool", "other number"):
            return reading.refuse(node, where, self._expected())
        if len(node.text) > _LONGEST_NUMBER:
            return reading.refuse(node, where, self._expected())
        try:
            value_in = parse_length(node.text)
        except (LengthError, ValueError, OverflowError, ZeroDivisionError):
            return reading.refuse(node, where, self._expected())
        least_in = TOUCH_IN * 2 if self.over_zero else self.least_in
        if below(value_in, least_in) or below(self.most_in, value_in):
            return reading.refuse(node, where, self._expected())
        return value_in

    def _expected(self) -> str:
        bounds = ", above 0" if self.over_zero else ""
        if not self.over_zero and below(-LARGEST_IN, self.least_in):
            bounds = f", at least {tape(self.least_in)}"
        if below(self.most_in, LARGEST_IN):
            bounds += f"{' and' if bounds else ','} at most {tape(self.most_in)}"
        return LENGTH + bounds

    def write(self, value: Any) -> Plain:
        return length_text(float(value))

    def schema(self) -> Schema:
        if self.over_zero:
            return {"$ref": "#/$defs/length_above_zero"}
        return {"$ref": "#/$defs/length_from_zero" if at_least(self.least_in, 0.0) else "#/$defs/length"}


def length_text(value_in: float) -> Raw:
    """A length as a tape reads it where it is exact to a sixteenth, else as decimal inches.

    Raises:
        ValueError: It is not a finite number.
    """
    if not math.isfinite(value_in):
        raise ValueError(f"a length must be finite, got {value_in}")
    if value_in * 16 == int(value_in * 16):
        text = tape(value_in)
        text = re.sub(r"' 0\"$", "'", text)
        return Raw("0" if text == '0"' else text)
    return Raw(number_text(value_in))


def word(text: str) -> str:
    """A text for writing: a small whole number such as level 1 needs no quotes, as texts are read raw."""
    return Raw(text) if re.fullmatch(r"0|[1-9]\d{0,8}", text) else str(text)


def number_text(value: float) -> str:
    """A number without exponent that reads back to the same float."""
    if value == int(value) and abs(value) < 1e15:
        return str(int(value))
    return format(Decimal(repr(value)), "f")


@dataclass(frozen=True, slots=True)
class Number:
    """A plain number in the unit its key names."""

    least: float = 0.0
    most: float = 1e6
    over_least: bool = False
    whole: bool = False

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        kind = scalar_kind(node) if isinstance(node, Scalar) else ""
        wanted = ("integer",) if self.whole else ("integer", "number")
        if not isinstance(node, Scalar) or kind not in wanted or len(node.text) > _LONGEST_NUMBER:
            return reading.refuse(node, where, self._expected())
        value = int(node.text) if self.whole else float(node.text)
        if not self.least <= value <= self.most or (self.over_least and value == self.least):
            return reading.refuse(node, where, self._expected())
        return value

    def _expected(self) -> str:
        what = "a whole number" if self.whole else "a number"
        lower = f"above {self.least:g}" if self.over_least else f"from {self.least:g}"
        return f"{what} {lower} to {self.most:g}"

    def write(self, value: Any) -> Plain:
        return Raw(str(int(value)) if self.whole else number_text(float(value)))

    def schema(self) -> Schema:
        low = "exclusiveMinimum" if self.over_least else "minimum"
        return {"type": "integer" if self.whole else "number", low: self.least, "maximum": self.most}


@dataclass(frozen=True, slots=True)
class Money:
    """A price in the job's currency, kept exactly as written."""

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        if not isinstance(node, Scalar) or not _MONEY.match(node.text):
            return reading.refuse(node, where, "a price such as 0.24")
        return Decimal(node.text)

    def write(self, value: Any) -> Plain:
        return Raw(format(value, "f"))

    def schema(self) -> Schema:
        return {"type": "number", "minimum": 0}


@dataclass(frozen=True, slots=True)
class YesNo:
    """true or false."""

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        if isinstance(node, Scalar) and scalar_kind(node) == "bool":
            return is_true(node)
        hint = ""
        if isinstance(node, Scalar) and node.text.lower() in ("yes", "on", "y", "1"):
            hint = "write true"
        elif isinstance(node, Scalar) and node.text.lower() in ("no", "off", "n", "0"):
            hint = "write false"
        return reading.refuse(node, where, "true or false", "", hint)

    def write(self, value: Any) -> Plain:
        return Raw("true" if value else "false")

    def schema(self) -> Schema:
        return {"type": "boolean"}


@dataclass(frozen=True, slots=True)
class OneOf:
    """One of a few words."""

    words: tuple[str, ...]

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        if isinstance(node, Scalar) and node.text in self.words:
            return node.text
        hint = near_miss(node.text, self.words) if isinstance(node, Scalar) else ""
        return reading.refuse(
            node, where, "one of: " + ", ".join(self.words), "", hint if "mean" in hint else ""
        )

    def write(self, value: Any) -> Plain:
        return str(value)

    def schema(self) -> Schema:
        return {"enum": list(self.words)}


@dataclass(frozen=True, slots=True)
class Maybe:
    """A value that may be absent on purpose: ``none`` where the default is something, else left out."""

    inner: Codec

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        if isinstance(node, Scalar) and (scalar_kind(node) == "null" or (node.plain and node.text == "none")):
            return None
        return self.inner.read(node, where, reading)

    def write(self, value: Any) -> Plain:
        return Raw("none") if value is None else self.inner.write(value)

    def schema(self) -> Schema:
        return {"anyOf": [self.inner.schema(), {"type": "null"}, {"const": "none"}]}


@dataclass(frozen=True, slots=True)
class ListOf:
    """A list of one kind of value."""

    inner: Codec
    noun: str = "entry"
    least: int = 0

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        if not isinstance(node, Sequence):
            return reading.refuse(node, where, f"a list, one “- {self.noun}” a line or in brackets")
        if len(node.items) < self.least:
            return reading.refuse(node, where, f"at least {self.least} entries")
        values = [
            self.inner.read(item, _entry(where, self.noun, item, at), reading)
            for at, item in enumerate(node.items, start=1)
        ]
        return BAD if any(value is BAD for value in values) else tuple(values)

    def write(self, value: Any) -> Plain:
        return [self.inner.write(item) for item in value]

    def schema(self) -> Schema:
        schema: Schema = {"type": "array", "items": self.inner.schema()}
        return schema | {"minItems": self.least} if self.least else schema


def _entry(where: str, noun: str, item: Node, at: int) -> str:
    """``wall A-W03`` for a record with an id, ``obstacles › 3rd obstacle`` for others."""
    if isinstance(item, Mapping):
        for key in ("id", "letter", "name"):
            name = item.get(key)
            if isinstance(name, Scalar) and name.text and len(name.text) <= 60:
                owner, _, _ = where.rpartition(" › ")
                return f"{owner} › {noun} {name.text}" if owner else f"{noun} {name.text}"
    return f"{where} › {ordinal(at)} {noun}"


def ordinal(number: int) -> str:
    """1st, 2nd, 3rd, 4th …"""
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"


@dataclass(frozen=True, slots=True)
class Fixed:
    """A list of a fixed number of values, such as a point or a rectangle."""

    inners: tuple[Codec, ...]
    expected: str
    rising: bool = False
    """The second half must not lie below the first: an interval or a rectangle."""

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        if not isinstance(node, Sequence) or len(node.items) != len(self.inners):
            return reading.refuse(node, where, self.expected)
        values = [
            inner.read(item, f"{where}, {ordinal(at)} value", reading)
            for at, (inner, item) in enumerate(zip(self.inners, node.items, strict=True), start=1)
        ]
        if any(value is BAD for value in values):
            return BAD
        half = len(values) // 2
        if self.rising and any(low > high for low, high in zip(values[:half], values[half:], strict=True)):
            return reading.refuse(node, where, self.expected, "the larger number first")
        return tuple(values)

    def write(self, value: Any) -> Plain:
        return [inner.write(item) for inner, item in zip(self.inners, value, strict=True)]

    def schema(self) -> Schema:
        count = len(self.inners)
        items = [inner.schema() for inner in self.inners]
        return {"type": "array", "prefixItems": items, "items": False, "minItems": count, "maxItems": count}


@dataclass(frozen=True, slots=True)
class Pairs:
    """A mapping of free words to texts, kept in order: ``{IRC: 2021}``."""

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        if not isinstance(node, Mapping):
            return reading.refuse(node, where, "words with values, such as IRC: 2021")
        text = Text(empty=False)
        values = [
            (text.read(key, where, reading), text.read(value, f"{where} › {key.text[:40]}", reading))
            for key, value in node.pairs
        ]
        return BAD if any(BAD in pair for pair in values) else tuple(values)

    def write(self, value: Any) -> Plain:
        return {name: word(text) for name, text in value}

    def schema(self) -> Schema:
        return {"type": "object", "additionalProperties": {"$ref": "#/$defs/name"}}


@dataclass(frozen=True, slots=True)
class ShortText:
    """A text of its own small grammar, such as ``2D 1X``."""

    parse: Callable[[str], Any]
    """Gives the value, or None where the text does not fit."""
    show: Callable[[Any], str]
    expected: str
    pattern: str
    refer: Callable[[Any], tuple[tuple[str, str], ...]] = lambda _: ()

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        if not isinstance(node, Scalar) or len(node.text) > 200:
            return reading.refuse(node, where, self.expected)
        value = self.parse(node.text.strip())
        if value is None:
            return reading.refuse(node, where, self.expected)
        for kind, name in self.refer(value):
            reading.refer(kind, name, node, where)
        return value

    def write(self, value: Any) -> Plain:
        return self.show(value)

    def schema(self) -> Schema:
        return {"type": "string", "pattern": self.pattern}


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a record.

    Args:
        key: The word in the file.
        attribute: Field of the dataclass.
        codec: Its kind of value.
        says: What it is, for the schema; a unit where it is not a length.
        needed: Must stand in the file although the dataclass has a default.
        shown: Written even where it has its default, because a person will look for it.
    """

    key: str
    attribute: str
    codec: Codec
    says: str
    needed: bool = False
    shown: bool = False


Check = Callable[[Any, Mapping, str, Reading], None]


@dataclass(frozen=True, slots=True)
class Record:
    """A mapping that becomes one dataclass of the house.

    Args:
        make: The dataclass.
        noun: What it is called in a message.
        keys: Its keys, in the order they are written.
        checks: What must hold between its values; run when every key could be read.
    """

    make: type
    noun: str
    keys: tuple[Key, ...]
    checks: tuple[Check, ...] = ()

    @property
    def title(self) -> str:
        """Name of its schema."""
        return self.make.__name__

    def default(self, attribute: str) -> Any:
        """The default of a field, MISSING where it has none."""
        for one in fields(self.make):
            if one.name == attribute:
                return one.default_factory() if one.default_factory is not MISSING else one.default
        raise KeyError(attribute)

    def required(self, key: Key) -> bool:
        """True where the key must stand in the file."""
        return key.needed or self.default(key.attribute) is MISSING

    def read(self, node: Node, where: str, reading: Reading) -> Any:
        if not isinstance(node, Mapping):
            hint = f"with {', '.join(k.key for k in self.keys if self.required(k))}" if self.keys else ""
            return reading.refuse(node, where, f"the keys of a {self.noun}", "", hint)
        known = {key.key: key for key in self.keys}
        whole = where or "the job"
        values: dict[str, Any] = {}
        for name, value in node.pairs:
            key = known.get(name.text)
            if key is None:
                self._unknown(name, node, whole, reading)
            elif key.attribute not in values:
                values[key.attribute] = key.codec.read(value, under(where, key.key), reading)
        bad = any(value is BAD for value in values.values())
        missing = [key.key for key in self.keys if self.required(key) and key.attribute not in values]
        if missing:
            word = "the key" if len(missing) == 1 else "the keys"
            listed = ", ".join(f"“{key}”" for key in missing)
            reading.refuse(node, whole, f"{word} {listed}", "none")
        if missing or bad:
            return BAD
        made = self.make(**values)
        before = len(reading.defects)
        for check in self.checks:
            check(made, node, where, reading)
        return made if len(reading.defects) == before else BAD

    def _unknown(self, name: Scalar, node: Mapping, where: str, reading: Reading) -> None:
        if name.text.startswith("\x00"):
            return
        taken = {other.text for other, _ in node.pairs}
        free = [key.key for key in self.keys if key.key not in taken]
        hint = near_miss(name.text, free)
        got = f"the unknown key “{name.text[:60]}”"
        reading.refuse(name, where, f"a key of a {self.noun}", got, hint if "mean" in hint else "")

    def write(self, value: Any) -> Plain:
        written: dict[str, Plain] = {}
        for key in self.keys:
            item = getattr(value, key.attribute)
            if key.shown or self.required(key) or item != self.default(key.attribute):
                written[key.key] = key.codec.write(item)
        return written

    def schema(self) -> Schema:
        return {"$ref": f"#/$defs/{self.title}"}

    def definition(self) -> Schema:
        """Its own schema, for ``$defs``."""
        properties: Schema = {}
        for key in self.keys:
            schema = key.codec.schema()
            properties[key.key] = schema | {"description": key.says} if key.says else schema
        text = (self.make.__doc__ or "").strip().split("\n")[0]
        return {
            "title": self.noun,
            "description": text,
            "type": "object",
            "properties": properties,
            "required": [key.key for key in self.keys if self.required(key)],
            "additionalProperties": False,
        }
