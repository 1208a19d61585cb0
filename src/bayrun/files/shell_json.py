"""The neutral shell as plain data and back: how a reading comes home from the process that made it.

What comes back is checked against the records' own types and against the size of a house, since it was made
from bytes nobody trusts.
"""

from __future__ import annotations

import math
import types
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import lru_cache
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from bayrun.files.shell import Shell

MOST = {"levels": 60, "walls": 4_000, "openings": 8_000, "spaces": 2_000, "pieces": 8_000, "joints": 16_000,
        "notes": 600, "traces": 12_000}  # fmt: skip
"""What a house with its outbuildings can hold, with room to spare; more is a town or a trap."""
_Record = TypeVar("_Record")


def to_plain(value: Any) -> Any:
    """A record as dictionaries, lists and numbers, in the order of its fields."""
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: to_plain(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, tuple):
        return [to_plain(v) for v in value]
    return value


def from_plain(kind: type[_Record], data: Any) -> _Record:
    """A record of this kind from plain data.

    Raises:
        ValueError: Something in it is of another type, not finite, missing or too much.
    """
    return _maker(kind)(data)  # type: ignore[no-any-return, arg-type]


def too_much(shell: Shell) -> str:
    """What a shell has more of than a house can, in words; empty where all is well."""
    words = {"spaces": "rooms", "pieces": "slabs, beams and stairs", "traces": "loose lines"}
    over = [
        f"{len(getattr(shell, name)):,} {words.get(name, name)} (at most {most:,})"
        for name, most in MOST.items()
        if len(getattr(shell, name)) > most
    ]
    return " and ".join(over)


@lru_cache(maxsize=256)
def _maker(hint: Any) -> Callable[[Any], Any]:
    """The function that makes a value of one type from plain data."""
    if is_dataclass(hint):
        return _record(hint)
    origin = get_origin(hint)
    if origin is tuple:
        return _tuple(get_args(hint))
    if origin is Literal:
        allowed = get_args(hint)
        return lambda data: _one_of(data, allowed)
    if origin in (Union, types.UnionType):
        (inner,) = (a for a in get_args(hint) if a is not type(None))
        make = _maker(inner)
        return lambda data: None if data is None else make(data)
    if hint is float:
        return _number
    return lambda data: _exactly(data, hint)


def _record(kind: Any) -> Callable[[Any], Any]:
    makers = {name: _maker(hint) for name, hint in get_type_hints(kind).items() if name in _names(kind)}

    def make(data: Any) -> Any:
        if not isinstance(data, dict) or set(data) != set(makers):
            raise ValueError(f"expected a {kind.__name__}")
        return kind(**{name: makers[name](value) for name, value in data.items()})

    return make


def _names(kind: Any) -> frozenset[str]:
    return frozenset(f.name for f in fields(kind))


def _tuple(args: tuple[Any, ...]) -> Callable[[Any], Any]:
    if len(args) == 2 and args[1] is Ellipsis:
        one = _maker(args[0])
        return lambda data: tuple(one(v) for v in _list(data))
    each = [_maker(a) for a in args]

    def make(data: Any) -> Any:
        values = _list(data)
        if len(values) != len(each):
            raise ValueError(f"expected {len(each)} values")
        return tuple(m(v) for m, v in zip(each, values, strict=True))

    return make


def _list(data: Any) -> list[Any]:
    if not isinstance(data, list) or len(data) > 2_000_000:
        raise ValueError("expected a list")
    return data


def _number(data: Any) -> float:
    if isinstance(data, bool) or not isinstance(data, (int, float)) or not math.isfinite(data):
        raise ValueError("expected a number")
    return float(data)


def _one_of(data: Any, allowed: tuple[Any, ...]) -> Any:
    if data not in allowed:
        raise ValueError(f"expected one of {allowed}")
    return data


def _exactly(data: Any, kind: type) -> Any:
    if type(data) is not kind:
        raise ValueError(f"expected {kind.__name__}")
    return data
