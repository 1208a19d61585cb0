"""Plain data back to records, by the records' own types."""

from __future__ import annotations

import dataclasses
import types
from decimal import Decimal, InvalidOperation
from enum import Enum
from functools import cache
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints


class PlainError(ValueError):
    """Plain data that do not fit a record: expected, got, where."""


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)


def from_plain(kind: Any, value: Any, where: str) -> Any:
    """One value as its type asks.

    Args:
        kind: A dataclass, ``tuple[…]``, ``Literal``, a union with None, an Enum, Decimal, text or a number.
        value: Plain data as JSON gives it. Fields that a record has a default for may be missing; fields
            that it lacks are passed over.
        where: Path into the file, for the message.
    Raises:
        PlainError: Expected, got, where.
    """
    origin = get_origin(kind)
    if origin in (Union, types.UnionType):
        if value is None and type(None) in get_args(kind):
            return None
        kinds = [k for k in get_args(kind) if k is not type(None)]
        for one in kinds[:-1]:
            try:
                return from_plain(one, value, where)
            except PlainError:
                continue
        return from_plain(kinds[-1], value, where)
    if origin is Literal:
        if value not in get_args(kind):
            raise PlainError(f"{where}: expected one of {', '.join(map(str, get_args(kind)))}, got {value!r}")
        return value
    if origin is tuple:
        return _tuple(get_args(kind), value, where)
    if isinstance(kind, type) and dataclasses.is_dataclass(kind):
        return _record(kind, value, where)
    if isinstance(kind, type) and issubclass(kind, Enum):
        try:
            return kind(value)
        except ValueError:
            known = ", ".join(str(one.value) for one in kind)
            raise PlainError(f"{where}: expected one of {known}, got {value!r}") from None
    return _simple(kind, value, where)


def _simple(kind: Any, value: Any, where: str) -> Any:
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if kind is float and number:
        return float(value)
    if kind is int and number and float(value).is_integer():
        return int(value)
    if kind in (str, bool) and isinstance(value, kind):
        return value
    if kind is Decimal and isinstance(value, str):
        try:
            return Decimal(value)
        except InvalidOperation:
            pass
    names = {
        float: "a number",
        int: "a whole number",
        str: "text",
        bool: "true or false",
        Decimal: "an amount",
    }
    raise PlainError(f"{where}: expected {names.get(kind, str(kind))}, got {value!r}")


def _tuple(kinds: tuple[Any, ...], value: Any, where: str) -> tuple[Any, ...]:
    if not isinstance(value, list):
        raise PlainError(f"{where}: expected a list, got {value!r}")
    if len(kinds) == 2 and kinds[1] is Ellipsis:
        return tuple(from_plain(kinds[0], one, f"{where}[{i}]") for i, one in enumerate(value))
    if len(kinds) != len(value):
        raise PlainError(f"{where}: expected {len(kinds)} values, got {len(value)}")
    pairs = zip(kinds, value, strict=True)
    return tuple(from_plain(kind, one, f"{where}[{i}]") for i, (kind, one) in enumerate(pairs))


def _record(kind: type, value: Any, where: str) -> Any:
    if not isinstance(value, dict):
        raise PlainError(f"{where}: expected {kind.__name__.lower()} with its fields, got {value!r}")
    hints, filled = _hints(kind), {}
    for field in dataclasses.fields(kind):
        if field.name in value:
            filled[field.name] = from_plain(hints[field.name], value[field.name], f"{where}.{field.name}")
        elif field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING:
            raise PlainError(f"{where}: expected {field.name}, got nothing")
    return kind(**filled)
