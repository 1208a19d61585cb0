"""Change fields of a job file in place, with ruamel.yaml, so that comments stay where people put them.

The plain data of the job before and after are compared; only what differs is touched. Records of a list
are matched by their id, so a moved or removed entry takes its own comments along.
"""

from __future__ import annotations

import io
import re
from typing import Any

from bayrun.files.codecs import Raw

_ID_KEYS = ("id", "letter", "deadline")


def change_in_place(text: str, before: dict[str, Any], after: dict[str, Any]) -> str:
    """The text with every difference between two plain jobs applied.

    Args:
        text: A job file that reads as ``before``.
        before, after: Plain data as the writer makes them.
    """
    from ruamel.yaml import YAML

    yaml = YAML(typ="rt")
    yaml.preserve_quotes = True
    yaml.width = 100_000
    yaml.allow_duplicate_keys = False
    sequence, offset = _list_indent(text)
    yaml.indent(mapping=_mapping_indent(text), sequence=sequence, offset=offset)
    tree = yaml.load(text)
    _apply(tree, before, after)
    out = io.StringIO()
    yaml.dump(tree, out)
    return out.getvalue()


def _list_indent(text: str) -> tuple[int, int]:
    """How far the file's lists are set in: (entry's text, its dash), both from the key above."""
    match = re.search(r"^( *)[\w.]+:[ ]*(?:#.*)?\n(?:[ ]*(?:#.*)?\n)*( *)-( +)\S", text, re.M)
    if match is None or len(match[2]) < len(match[1]):
        return 4, 2
    offset = len(match[2]) - len(match[1])
    return offset + 1 + len(match[3]), offset


def _mapping_indent(text: str) -> int:
    match = re.search(r"^( *)\w[\w.]*:[ ]*(?:#.*)?\n\1( +)\w[\w.]*:", text, re.M)
    return len(match[2]) if match else 2


def _apply(tree: Any, before: dict[str, Any], after: dict[str, Any]) -> None:
    """Bring one mapping from before to after."""
    for key in list(before):
        if key not in after and key in tree:
            del tree[key]
    for key, value in after.items():
        old = before.get(key)
        if old == value:
            continue
        here = tree.get(key)
        if isinstance(old, dict) and isinstance(value, dict) and isinstance(here, dict):
            _apply(here, old, value)
        elif (
            isinstance(old, list)
            and isinstance(value, list)
            and isinstance(here, list)
            and _records(old + value)
        ):
            tree[key] = _apply_list(here, old, value)
        else:
            tree[key] = _grown(value)


def _records(items: list[Any]) -> bool:
    return all(isinstance(item, dict) for item in items)


def _name(item: dict[str, Any]) -> str:
    """What a record is matched by: its id, else all of its values."""
    for key in _ID_KEYS:
        if key in item:
            return str(item[key])
    if "name" in item and "level" in item:
        return f"{item['level']}/{item['name']}"
    return repr(sorted((str(k), str(v)) for k, v in item.items()))


def _apply_list(tree: Any, before: list[dict[str, Any]], after: list[dict[str, Any]]) -> Any:
    """Bring one list of records from before to after; entries stay the objects they were."""
    if len(tree) != len(before):
        return _grown(after)
    olds: dict[str, list[tuple[dict[str, Any], Any]]] = {}
    for item, node in zip(before, tree, strict=True):
        olds.setdefault(_name(item), []).append((item, node))
    if len(before) == len(after) and not any(key in item for item in before for key in (*_ID_KEYS, "name")):
        for item, node, value in zip(before, list(tree), after, strict=True):
            _apply(node, item, value)
        return tree
    nodes: list[Any] = []
    for value in after:
        same = olds.get(_name(value))
        if same:
            item, node = same.pop(0)
            _apply(node, item, value)
            nodes.append(node)
        else:
            nodes.append(_grown(value))
    kept = [id(node) for node in nodes]
    for at in range(len(tree) - 1, -1, -1):
        if id(tree[at]) not in kept:
            del tree[at]
    for at, node in enumerate(nodes):
        if at < len(tree) and tree[at] is node:
            continue
        for old in range(at, len(tree)):
            if tree[old] is node:
                del tree[old]
                break
        tree.insert(at, node)
    return tree


def _grown(value: Any, *, inside: bool = False) -> Any:
    """Plain data as ruamel's own: short lists and records inside a record on one line."""
    from ruamel.yaml.comments import CommentedMap, CommentedSeq
    from ruamel.yaml.scalarstring import DoubleQuotedScalarString

    if isinstance(value, dict):
        grown = CommentedMap((key, _grown(item, inside=True)) for key, item in value.items())
        if inside and len(str(value)) < 90:
            grown.fa.set_flow_style()
        return grown
    if isinstance(value, list):
        items = CommentedSeq(_grown(item, inside=True) for item in value)
        if not _records(value) or not value:
            items.fa.set_flow_style()
        return items
    if isinstance(value, Raw):
        if value in ("true", "false"):
            return value == "true"
        if re.fullmatch(r"-?\d{1,15}", value):
            return int(value)
        if re.fullmatch(r"-?\d+\.\d+", value) and "e" not in repr(float(value)):
            return float(value)
        return str(value)
    from bayrun.files.jobwrite import scalar

    return DoubleQuotedScalarString(value) if scalar(value, True) != value else str(value)
