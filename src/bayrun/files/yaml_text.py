"""YAML text to nodes that know where they stand: YAML 1.2 scalars, and nothing clever.

A job file is written by hand and read by people, so the parts of YAML that surprise are refused:
aliases and anchors, tags, duplicate keys, keys that are not plain words, more than one document.
``yes``, ``no``, ``on``, ``off``, ``1:30`` and dates are text, as in YAML 1.2. The parser's events are
walked without recursion, so a deeply nested file is refused, not a crash.

Source: YAML 1.2.2, chapter 10.3 (core schema) for what is null, true, false and a number.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from bayrun.files.defects import Defect, JobFileError

LARGEST_BYTES = 8_000_000
DEEPEST = 24
MOST_NODES = 300_000
LONGEST_TEXT = 20_000

_NULL = ("", "~", "null", "Null", "NULL")
_TRUE = ("true", "True", "TRUE")
_FALSE = ("false", "False", "FALSE")
_NUMBER = re.compile(r"^[-+]?(?:\.\d+|\d+(?:\.\d*)?)(?:[eE][-+]?\d+)?$")
_INTEGER = re.compile(r"^[-+]?\d+$")
_OTHER_NUMBER = re.compile(r"^(?:0o[0-7]+|0x[0-9a-fA-F]+|[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN))$")
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\x80-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value as written; ``plain`` is False where it stands in quotes or a text block.

    ``last_line`` and ``end_column`` say where it ends (column after its last letter), from 1.
    """

    text: str
    plain: bool
    line: int
    column: int
    last_line: int = 0
    end_column: int = 0
    block: bool = False
    """A text block, after | or >."""


@dataclass(slots=True)
class Sequence:
    """A list and where it begins."""

    line: int
    column: int
    flow: bool = False
    """Written in brackets."""
    last_line: int = 0
    end_column: int = 0
    items: list[Node] = field(default_factory=list)


@dataclass(slots=True)
class Mapping:
    """Keys with their values, in the order of the file, and where it begins."""

    line: int
    column: int
    flow: bool = False
    """Written in brackets."""
    last_line: int = 0
    end_column: int = 0
    pairs: list[tuple[Scalar, Node]] = field(default_factory=list)

    def get(self, key: str) -> Node | None:
        """The value under a key, or None."""
        for name, value in self.pairs:
            if name.text == key:
                return value
        return None


Node = Scalar | Sequence | Mapping


def scalar_kind(scalar: Scalar) -> str:
    """``null``, ``bool``, ``integer``, ``number``, ``other number`` (hex, infinity …) or ``text``."""
    if not scalar.plain:
        return "text"
    if scalar.text in _NULL:
        return "null"
    if scalar.text in _TRUE or scalar.text in _FALSE:
        return "bool"
    if _INTEGER.match(scalar.text):
        return "integer"
    if _NUMBER.match(scalar.text):
        return "number"
    return "other number" if _OTHER_NUMBER.match(scalar.text) else "text"


def is_true(scalar: Scalar) -> bool:
    """True for the YAML 1.2 spellings of true."""
    return scalar.text in _TRUE


def to_plain(node: Node) -> object:
    """The node as JSON would have it, for checking against the JSON Schema."""
    if isinstance(node, Sequence):
        return [to_plain(item) for item in node.items]
    if isinstance(node, Mapping):
        return {key.text: to_plain(value) for key, value in node.pairs}
    kind = scalar_kind(node)
    if kind == "null":
        return None
    if kind == "bool":
        return is_true(node)
    if kind == "integer":
        return int(node.text)
    return float(node.text) if kind == "number" else node.text


def said(node: Node) -> str:
    """What was got, in words short enough for a message."""
    if isinstance(node, Sequence):
        return f"a list of {len(node.items)}"
    if isinstance(node, Mapping):
        if not node.pairs:
            return "an empty mapping"
        keys = ", ".join(key.text[:20] for key, _ in node.pairs[:3])
        return f"a mapping with {keys}{' …' if len(node.pairs) > 3 else ''}"
    if scalar_kind(node) == "null":
        return "nothing"
    text = node.text if len(node.text) <= 60 else node.text[:57] + "…"
    text = re.sub(r"\s+", " ", text)
    return text if scalar_kind(node) in ("integer", "number", "bool") else f"“{text}”"


def decode(data: bytes, name: str) -> str:
    """Bytes of a file as text.

    Raises:
        JobFileError: It is too large or not UTF-8; says at which line and column.
    """
    if len(data) > LARGEST_BYTES:
        raise JobFileError(
            (
                Defect(
                    name, 1, 1, "the whole file", f"at most {LARGEST_BYTES:,} bytes", f"{len(data):,} bytes"
                ),
            )
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start]
        line = before.count(b"\n") + 1
        last = before[before.rfind(b"\n") + 1 :].decode("utf-8", "replace")
        got = f"byte {data[error.start]:#04x}"
        raise JobFileError(
            (
                Defect(
                    name,
                    line,
                    len(last) + 1,
                    "the file's text",
                    "UTF-8 text",
                    got,
                    "save the file as plain text in UTF-8",
                ),
            )
        ) from None


def compose(text: str, name: str) -> tuple[Node, tuple[Defect, ...]]:
    """Read YAML text into nodes.

    Args:
        text: The whole file.
        name: Its name for messages.
    Returns:
        The root, and the defects that did not stop the reading (duplicate keys, aliases, tags).
    Raises:
        JobFileError: The text is not YAML, is empty, or is larger or deeper than a job file may be.
    """
    control = _CONTROL.search(text)
    if control:
        line, column = _place(text, control.start())
        raise JobFileError(
            (
                Defect(
                    name,
                    line,
                    column,
                    "the file's text",
                    "plain text",
                    f"the control character U+{ord(control[0]):04X}",
                    "is this really a job file?",
                ),
            )
        )
    try:
        return _Builder(name).build(_events(text))
    except yaml.YAMLError as error:
        raise JobFileError((_syntax(text, name, error),)) from None


def _events(text: str) -> Iterator[Any]:
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    yield from yaml.parse(text, Loader=loader)


def _place(text: str, index: int) -> tuple[int, int]:
    line = text.count("\n", 0, index) + 1
    return line, index - (text.rfind("\n", 0, index) + 1) + 1


def _syntax(text: str, name: str, error: yaml.YAMLError) -> Defect:
    """One defect for text that is not YAML; the parser's words are kept, with what most often helps."""
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    last = text.splitlines() or [""]
    if line > len(last):  # the fault was seen at the end of the file: point at its last line
        line, column = len(last), len(last[-1]) + 1
    problem = str(getattr(error, "problem", None) or "text that YAML cannot read")
    context = str(getattr(error, "context", "") or "")
    lines = text.split("\n")
    here = lines[line - 1] if line <= len(lines) else ""
    hint = "check the indentation, the colons and the quotes just above this place"
    if "\t" in here[: max(column, 1)] or "\\t" in problem:
        problem, hint = "a tab", "indent with spaces: YAML allows no tabs there"
    elif "mapping values are not allowed" in problem:
        hint = "put a text that holds a colon into quotes, or check the indentation"
    elif "',' or" in problem:
        hint = "a bracket opened before this place is not closed"
    elif "quoted scalar" in context:
        hint = "a quote opened before this place is not closed"
    problem = re.sub(r"\s+", " ", problem)[:120]
    return Defect(name, line, column, "the file's YAML", "YAML that can be read", problem, hint)


class _Builder:
    """Events to nodes with a stack of open lists and mappings."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.defects: list[Defect] = []
        self.open: list[Sequence | Mapping] = []
        self.keys: list[Scalar | None] = []
        self.seen: list[dict[str, Scalar]] = []
        self.root: Node | None = None
        self.count = 0

    def build(self, events: Iterator[Any]) -> tuple[Node, tuple[Defect, ...]]:
        documents = 0
        for event in events:
            line, column = event.start_mark.line + 1, event.start_mark.column + 1
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self.stop(
                        line, column, "one document", "a second one after “---”", "keep one job in a file"
                    )
            elif isinstance(event, yaml.NodeEvent):
                self.node(event, line, column)
            elif isinstance(event, yaml.SequenceEndEvent | yaml.MappingEndEvent):
                group = self.open.pop()
                if group.flow:
                    end: Any = event.end_mark
                    group.last_line, group.end_column = end.line + 1, end.column + 1
                self.keys.pop()
                self.seen.pop()
        if self.root is None:
            self.stop(1, 1, "a job", "an empty file", "“bayrun new” writes a starter file")
        assert self.root is not None
        return self.root, tuple(self.defects)

    def node(self, event: Any, line: int, column: int) -> None:
        self.count += 1
        if self.count > MOST_NODES:
            self.stop(line, column, f"at most {MOST_NODES:,} values", "more than that", "")
        if event.anchor is not None:
            what = "an alias" if isinstance(event, yaml.AliasEvent) else "an anchor"
            mark = "*" if isinstance(event, yaml.AliasEvent) else "&"
            self.tell(
                line,
                column,
                "values written out",
                f"{what}, “{mark}{event.anchor}”",
                "write the value again, or put a text that begins with & or * into quotes",
            )
        if getattr(event, "tag", None) is not None:
            self.tell(line, column, "no tags", f"the tag “{event.tag}”"[:80], "leave the tag out")
        if isinstance(event, yaml.ScalarEvent):
            if len(event.value) > LONGEST_TEXT:
                self.stop(
                    line, column, f"a text of at most {LONGEST_TEXT:,} letters", f"{len(event.value):,}", ""
                )
            end: Any = event.end_mark
            plain = bool(event.implicit[0]) and event.style in (None, "")
            self.place(
                Scalar(
                    event.value,
                    plain,
                    line,
                    column,
                    end.line + 1,
                    end.column + 1,
                    event.style in ("|", ">"),
                )
            )
        elif isinstance(event, yaml.AliasEvent):
            self.place(Scalar("", True, line, column, line, column))
        else:
            kind = Sequence if isinstance(event, yaml.SequenceStartEvent) else Mapping
            group: Sequence | Mapping = kind(line, column, bool(event.flow_style))
            self.place(group)
            self.open.append(group)
            self.keys.append(None)
            self.seen.append({})
            if len(self.open) > DEEPEST:
                self.stop(line, column, f"at most {DEEPEST} levels of nesting", "more", "a bracket too many?")

    def place(self, node: Node) -> None:
        """Put a node where it belongs: the root, the open list, or as key or value of the open mapping."""
        if not self.open:
            self.root = node
            return
        parent = self.open[-1]
        if isinstance(parent, Sequence):
            parent.items.append(node)
            return
        key = self.keys[-1]
        if key is not None:
            parent.pairs.append((key, node))
            self.keys[-1] = None
            return
        if not isinstance(node, Scalar):
            self.tell(node.line, node.column, "a word as key", said(node), "is a dash or a bracket too many?")
            node = Scalar(f"\x00{node.line}:{node.column}", False, node.line, node.column)
        first = self.seen[-1].setdefault(node.text, node)
        if first is not node:
            self.tell(
                node.line,
                node.column,
                "each key once",
                f"“{node.text[:60]}” again",
                f"it stands at line {first.line} already",
            )
        self.keys[-1] = node

    def tell(self, line: int, column: int, expected: str, got: str, suggestion: str) -> None:
        self.defects.append(Defect(self.name, line, column, self.where(), expected, got, suggestion))

    def stop(self, line: int, column: int, expected: str, got: str, suggestion: str) -> None:
        self.tell(line, column, expected, got, suggestion)
        raise JobFileError(tuple(self.defects))

    def where(self) -> str:
        """The keys on the way here, and the number of each list entry."""
        words: list[str] = []
        for group, key in zip(self.open, self.keys, strict=True):
            if isinstance(group, Sequence):
                words.append(f"entry {len(group.items) + 1}")
            elif key is not None:
                words.append(key.text.lstrip("\x00")[:40])
        return " › ".join(words) or "the file"
