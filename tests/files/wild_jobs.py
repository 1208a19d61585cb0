"""Random jobs drawn from the job file's own table: every key with odd values, and no sense as a house.

They serve the law that what is written reads back the same. Rooms are called ``outside``, the one room name
that needs no room.
"""

from __future__ import annotations

import random
from decimal import Decimal
from typing import Any

from bayrun import house, tables
from bayrun.files import codecs, jobtable
from bayrun.files.wishtable import JOB
from bayrun.house import Job

_TEXTS = [
    "plain words",
    "yes",
    "No",
    "off",
    "null",
    "~",
    "none",
    "true",
    "1:30",
    "2026-11-25",
    "0x1F",
    "1e3",
    ".inf",
    "12",
    "007",
    "4.50",
    "a: b",
    "a #b",
    "#a",
    "- a",
    "[a, b]",
    "{a: b}",
    "'single'",
    'say "hi"',
    "it's 5' 3-1/2\"",
    "back\\slash",
    "comma, comma",
    "ends with:",
    "&anchor",
    "*alias",
    "!tag",
    "%percent",
    "@at",
    "`tick`",
    "| pipe",
    "> fold",
    "? what",
    "---",
    "…",
    "é ü ½ 日本",
    "no\xa0break",
    " leading",
    "trailing ",
    "two  spaces",
    "<<",
    "=",
    "long " * 40 + "text",
    "x" * 300,
]
_ROOM_KEYS = ("room", "rooms", "swings_into")


class _Pool:
    """Ids for each kind, handed out in order; references pick any of them."""

    def __init__(self, rng: random.Random) -> None:
        self.rng = rng
        self.given: dict[str, int] = {}

    def new(self, kind: str) -> str:
        number = self.given.get(kind, 0)
        self.given[kind] = number + 1
        return f"{kind.replace(' ', '-')}.{number}"

    def any(self, kind: str) -> str:
        return f"{kind.replace(' ', '-')}.{self.rng.randrange(2)}"


def wild_job(seed: int) -> Job:
    """One job for a seed."""
    rng = random.Random(seed)
    job = _value(JOB, rng, _Pool(rng), "")
    assert isinstance(job, Job)
    return job


def _length(codec: codecs.Length, rng: random.Random) -> float:
    low = 0.01 if codec.over_zero else max(codec.least_in, -5000.0)
    high = min(codec.most_in, 5000.0)
    way = rng.randrange(4)
    if way == 0:
        return max(low, min(high, rng.randrange(-2000, 2000) / 16))
    if way == 1:
        return float(max(low, rng.randrange(0, 3)))
    if way == 2:
        return rng.uniform(low, high)
    return max(low, 1e-9 if low <= 0 else low)


def _text(codec: codecs.Text, rng: random.Random, pool: _Pool, key: str) -> str:
    if codec.kind:
        return pool.new(codec.kind)
    if codec.refers:
        return pool.any(codec.refers)
    if codec.as_id:
        return pool.new("free")
    if key in _ROOM_KEYS:
        return "outside"
    if codec.lines and rng.random() < 0.3:
        return "one line\n  and another: # this\n\nend"
    return rng.choice(_TEXTS)


def _value(codec: Any, rng: random.Random, pool: _Pool, key: str) -> Any:
    if isinstance(codec, codecs.Record):
        return _record(codec, rng, pool)
    if isinstance(codec, codecs.ListOf):
        two = isinstance(codec.inner, codecs.Record) and any(
            isinstance(k.codec, codecs.Text) and k.codec.kind for k in codec.inner.keys
        )
        many = 2 if two else rng.randrange(max(codec.least, 0), codec.least + 4)
        return tuple(_value(codec.inner, rng, pool, key) for _ in range(many))
    if isinstance(codec, codecs.Fixed):
        values = [_value(inner, rng, pool, "room" if key == "rooms" else key) for inner in codec.inners]
        if codec.rising:
            half = len(values) // 2
            pairs = [sorted(pair) for pair in zip(values[:half], values[half:], strict=True)]
            values = [low for low, _ in pairs] + [high for _, high in pairs]
        return tuple(values)
    if isinstance(codec, codecs.Maybe):
        return None if rng.random() < 0.4 else _value(codec.inner, rng, pool, key)
    if isinstance(codec, codecs.Length):
        return _length(codec, rng)
    if isinstance(codec, codecs.Number):
        value = rng.uniform(codec.least, min(codec.most, codec.least + 50))
        return max(int(value), int(codec.least)) if codec.whole else value
    if isinstance(codec, codecs.Money):
        return Decimal(rng.randrange(10**6)).scaleb(-rng.randrange(5))
    if isinstance(codec, codecs.YesNo):
        return rng.random() < 0.5
    if isinstance(codec, codecs.OneOf):
        return rng.choice(codec.words)
    if isinstance(codec, codecs.Pairs):
        words = rng.sample(_TEXTS, rng.randrange(4))
        return tuple((word, rng.choice(_TEXTS)) for word in words)
    if isinstance(codec, codecs.Text):
        return _text(codec, rng, pool, key)
    if codec is jobtable.PORTS:
        return tuple(house.Port(rng.choice("DXS"), rng.randrange(1, 9)) for _ in range(rng.randrange(3)))
    if codec is jobtable.END:
        kind = rng.choice(("location", "enclosure", "device"))
        return house.End(kind, pool.any("gear" if kind == "device" else kind))  # type: ignore[arg-type]
    if codec is jobtable.DATE:
        return rng.choice(("", "2026-02-28"))
    assert codec is jobtable.LETTER
    return rng.choice(("D", "S2", "ABC9"))


def _record(record: codecs.Record, rng: random.Random, pool: _Pool) -> Any:
    values = {
        key.attribute: record.default(key.attribute)
        if not record.required(key) and rng.random() < 0.25
        else _value(key.codec, rng, pool, key.key)
        for key in record.keys
    }
    made = record.make
    if record is JOB:
        # Other records refer to these, so they are always there.
        for key in record.keys:
            if isinstance(key.codec, codecs.ListOf) and values[key.attribute] == ():
                values[key.attribute] = _value(key.codec, rng, pool, key.key)
        values["practice"] = _value(next(k.codec for k in JOB.keys if k.key == "practice"), rng, pool, "")
    elif made is house.CableKind:
        values["letter"] = f"K{pool.given.setdefault('cable', 0)}"
        pool.given["cable"] += 1
    elif made is house.Room:
        values["name"] = pool.new("room name")
    elif made is house.Wall:
        values["start"], values["end"] = (0.0, 1.0), (1 / 3, 2.0)
        values["plate_start_in"], values["plate_end_in"] = -2.75, 100.1
    elif made is house.FacePiece:
        values["from_in"], values["to_in"] = 0.0, 12.7
    elif made is house.FloorFrame:
        values["positions_in"], values["z_bottom_in"], values["z_top_in"] = (1.0, 2.5), -1.1, 2.2
    elif made is house.Obstacle:
        values["rect"], values["z_in"] = (0.0, 0.0, 1.5, 2.5), (0.0, 1.0)
        if rng.random() < 0.5:
            values["rect"], values["center"], values["diameter_in"] = None, (None, 7.7), 2.375
        else:
            values["center"] = None
    elif made is house.Gear:
        values["x_in"] = values["y_in"] = values["z_in"] = 1.25
    elif made is house.Location:
        values["x_in"] = values["y_in"] = 7.0
    elif made is house.Practice:
        values["bits_in"] = (0.5, 0.8, 1.0)
    elif made is tables.Amendment:
        # Only an amendment of the tables can be read; the words about it stay wild.
        values |= {"clause": "stud-bore", "name": "edge_in", "value": "3/4"}
        values |= {"date": "2026-01-15", "edition": rng.choice(("", "2021"))}
    return made(**values)
