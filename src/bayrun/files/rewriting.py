"""Change fields of a job file in place: only the lines of what differs are touched.

The plain data of the job before and after are compared, and each difference becomes an edit of the lines
where that key or list entry stands. Every other byte stays: comments, spelling of lengths, order, spacing.
Entries of a list are matched by their id, so a removed entry takes the comment right above it along.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from bayrun.files.jobwrite import WIDTH, entry_lines, flow, pair_lines
from bayrun.files.yaml_text import Mapping, Node, Scalar, Sequence, compose

Plain = dict[str, Any]


class CannotEdit(Exception):
    """The file's own shape does not take this change in place."""


@dataclass(frozen=True, slots=True)
class Edit:
    """New lines for lines ``first`` up to, not including, ``beyond`` (from 0); equal for an insertion."""

    first: int
    beyond: int
    lines: tuple[str, ...]


def change_in_place(text: str, before: Plain, after: Plain) -> str:
    """The text with every difference between two plain jobs applied.

    Args:
        text: A job file that reads as ``before``.
        before, after: Plain data as the writer makes them.
    Raises:
        CannotEdit: The file is written in a way that its lines cannot be changed one by one.
    """
    root, _ = compose(text, "job")
    if not isinstance(root, Mapping) or root.flow:
        raise CannotEdit
    lines = text.split("\n")
    edits = _Changes(lines).mapping(root, before, after, "")
    # From the end, so that line numbers stay true; of several insertions at one line the last goes in first.
    for _, edit in sorted(enumerate(edits), key=lambda e: (e[1].first, e[1].beyond, e[0]), reverse=True):
        lines[edit.first : edit.beyond] = edit.lines
    return "\n".join(lines)


class _Changes:
    """Differences to edits; a part that cannot be edited line by line is written anew whole."""

    def __init__(self, lines: list[str]) -> None:
        self.lines = lines

    # ------------------------------------------------------------ where things stand

    def last(self, node: Node) -> int:
        """Index of the last line of a node."""
        if isinstance(node, Scalar):
            line = node.last_line - 1
            if node.block:
                line -= node.end_column == 1
                while not self.lines[line].strip():
                    line -= 1
            return line
        if node.flow:
            return node.last_line - 1
        children = node.items if isinstance(node, Sequence) else [value for _, value in node.pairs]
        ends = [self.last(child) for child in children]
        if isinstance(node, Mapping):
            ends += [key.line - 1 for key, _ in node.pairs]
        return max(ends)

    def tail(self, node: Node) -> str:
        """The comment behind a value on its last line, with the space before it."""
        if isinstance(node, Scalar) and node.block:
            return ""
        if isinstance(node, Scalar) or node.flow:
            rest = self.lines[self.last(node)][node.end_column - 1 :]
            return rest if re.match(r"\s+#", rest) else ""
        return ""

    def above(self, first: int) -> int:
        """First line of the comment that stands right above a line, at its indent."""
        indent = re.match(r" *", self.lines[first])
        assert indent is not None
        while first > 0 and re.match(rf"{indent[0]}#", self.lines[first - 1]):
            first -= 1
        return first

    # ------------------------------------------------------------ mappings

    def mapping(self, node: Mapping, before: Plain, after: Plain, path: str) -> list[Edit]:
        """Edits that bring a mapping in block style from before to after."""
        if node.flow:
            raise CannotEdit
        indent = node.column - 1
        here = {key.text: (key, value) for key, value in node.pairs}
        edits: list[Edit] = []
        for name in before:
            if name not in after and name in here:
                edits.append(self._removed(node, *here[name]))
        at: Node | None = None
        for name, value in after.items():
            if name not in here:
                edits.append(self._added(node, name, value, at, path))
                continue
            if before.get(name) != value:
                edits += self._changed(*here[name], before.get(name), value, f"{path}.{name}".lstrip("."))
            at = here[name][1]
        assert indent >= 0
        return edits

    def _removed(self, node: Mapping, key: Scalar, value: Node) -> Edit:
        if self.lines[key.line - 1][: key.column - 1].strip():
            raise CannotEdit
        first, beyond = self.above(key.line - 1), self.last(value) + 1
        if node.column == 1:
            while beyond < len(self.lines) - 1 and not self.lines[beyond].strip():
                beyond += 1
        return Edit(first, beyond, ())

    def _added(self, node: Mapping, name: str, value: Any, after: Node | None, path: str) -> Edit:
        first_key, first_value = node.pairs[0]
        if after is None and self.lines[first_key.line - 1][: first_key.column - 1].strip():
            after = first_value
        line = self.last(after) + 1 if after is not None else self.above(first_key.line - 1)
        new = pair_lines(name, value, node.column - 1, f"{path}.{name}".lstrip("."), {})
        if node.column == 1 and isinstance(value, list | dict) and len(new) > 1:
            new = ["", *new]
        return Edit(line, line, tuple(new))

    def _changed(self, key: Scalar, node: Node, before: Any, after: Any, path: str) -> list[Edit]:
        try:
            if isinstance(before, dict) and isinstance(after, dict) and isinstance(node, Mapping):
                return self.mapping(node, before, after, path)
            records = isinstance(before, list) and isinstance(after, list)
            if records and isinstance(node, Sequence) and _records(before) and _records(after):
                return self.sequence(node, before, after, path)
        except CannotEdit:
            pass
        first, beyond = key.line - 1, self.last(node) + 1
        prefix = self.lines[first][: key.column - 1]
        new = pair_lines(key.text, after, key.column - 1, path, {})
        new[0] = prefix + new[0][key.column - 1 :]
        tail = self.tail(node)
        if tail and len(new) == 1:
            new[0] += tail
        elif tail:
            new = [f"{' ' * (key.column - 1)}{tail.strip()}", *new] if not prefix.strip() else new
        return [Edit(first, beyond, tuple(new))]

    # ------------------------------------------------------------ lists of records

    def sequence(self, node: Sequence, before: list[Plain], after: list[Plain], path: str) -> list[Edit]:
        """Edits that bring a list of records, one dash a line, from before to after."""
        if node.flow or len(node.items) != len(before) or not before or not after:
            raise CannotEdit
        for item in node.items:
            if not re.fullmatch(rf"\s{{{node.column - 1}}}- +", self.lines[item.line - 1][: item.column - 1]):
                raise CannotEdit
        old_names, new_names = _names(before), _names(after)
        kept = [name for name in new_names if name in old_names]
        if kept != [name for name in old_names if name in new_names]:
            raise CannotEdit
        places = dict(zip(old_names, zip(node.items, before, strict=True), strict=True))
        edits: list[Edit] = []
        for name in old_names:
            if name not in new_names:
                item = places[name][0]
                edits.append(Edit(self.above(item.line - 1), self.last(item) + 1, ()))
        line = self.above(node.items[0].line - 1)
        in_flow = all(not isinstance(item, Mapping) or item.flow for item in node.items)
        for name, value in zip(new_names, after, strict=True):
            if name in places:
                item, old = places[name]
                if old != value:
                    edits += self._entry(item, old, value, node.column - 1, path)
                line = self.last(item) + 1
                continue
            edits.append(Edit(line, line, tuple(self._new_entry(value, node.column - 1, path, in_flow))))
        return edits

    def _entry(self, item: Node, before: Plain, after: Plain, indent: int, path: str) -> list[Edit]:
        in_flow = isinstance(item, Mapping) and item.flow
        if isinstance(item, Mapping) and not item.flow:
            try:
                return self.mapping(item, before, after, path)
            except CannotEdit:
                pass
        new = self._new_entry(after, indent, path, in_flow)
        if len(new) == 1:
            new[0] += self.tail(item)
        return [Edit(item.line - 1, self.last(item) + 1, tuple(new))]

    def _new_entry(self, value: Plain, indent: int, path: str, in_flow: bool) -> list[str]:
        short = f"{' ' * indent}- {flow(value)}"
        return [short] if in_flow and len(short) <= WIDTH else entry_lines(value, indent, path, {})


def _records(items: Any) -> bool:
    return bool(items) and all(isinstance(item, dict) for item in items)


def _names(items: list[Plain]) -> list[str]:
    """What each record of a list is matched by: its id, its place, else all it says; counted where alike."""
    names: list[str] = []
    for item in items:
        if "id" in item or "letter" in item:
            name = str(item.get("id", item.get("letter")))
        elif "deadline" in item:
            name = str(item["deadline"])
        elif "name" in item:
            name = f"{item.get('level', '')}/{item['name']}"
        elif "wall" in item and "end" in item:
            name = f"{item['wall']}/{item['end']}"
        else:
            name = flow(item)
        count = sum(1 for other in names if other.partition("\x00")[0] == name)
        names.append(f"{name}\x00{count}")
    return names
