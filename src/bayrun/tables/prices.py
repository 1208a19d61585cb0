"""The firm's price list: packs, hours by task, factors, rates and bid rules, as one plain CSV table.

The table that comes with the program is an example: its prices are invented. A firm changes the rows it
wants; rows that it leaves out keep the example's figures, and every sheet says which they are.
"""

from __future__ import annotations

import csv
import difflib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from functools import cache
from importlib import resources

HEAD = (
    *("row", "key", "words", "group", "unit", "pack", "pack size", "price", "value", "low", "high"),
    *("people", "spare", "source"),
)
"""Columns of the table, in this order."""

EXAMPLE = "example prices; put in your own"


class PriceTableError(ValueError):
    """A price table that cannot be used, with every defect at once: ``file:line: expected …, got …``."""

    def __init__(self, defects: Iterable[str]) -> None:
        self.defects = tuple(defects)
        super().__init__("; ".join(self.defects))


@dataclass(frozen=True, slots=True)
class PackItem:
    """One thing a list may ask for, with how it is bought.

    Args:
        key: What the counting calls it.
        pack_size: Units in one pack.
        price: Of one pack; None where nobody has told it.
        spare: True where the firm's spare rate is added.
        own: True where the firm told it, False in the example's rows.
    """

    key: str
    item: str
    group: str
    unit: str
    pack: str
    pack_size: int
    price: Decimal | None
    spare: bool
    own: bool = False
    source: str = ""


@dataclass(frozen=True, slots=True)
class Value:
    """One figure of the firm with its spread: hours of a task, a factor, a rate, cables of a room, feet.

    Args:
        key, words: What it is, for the program and for a person.
        group: ``rough`` or ``trim`` for a task.
        unit: What it is counted by.
        value, low, high: The figure, and what it lies between on most jobs.
        price: In the job's currency, where the figure is money.
        people: How many a task takes at once.
        size: Square feet of the plan that a ``plan`` row speaks of, else 0.
        records: How many actual records the figure comes from; 0 where nobody counted.
        own: True where the firm told it, False in the example's rows.
    """

    key: str
    words: str
    group: str
    unit: str
    value: Decimal
    low: Decimal
    high: Decimal
    price: Decimal | None = None
    people: int = 1
    size: int = 0
    records: int = 0
    own: bool = False
    source: str = ""


@dataclass(frozen=True, slots=True)
class PriceList:
    """A firm's whole price list. ``cables``: prices a foot by letter; one not named has the job's own."""

    items: tuple[PackItem, ...]
    cables: tuple[Value, ...]
    tasks: tuple[Value, ...]
    factors: tuple[Value, ...]
    rates: tuple[Value, ...]
    rooms: tuple[Value, ...]
    plans: tuple[Value, ...]
    name: str = "the example price list"

    def task(self, key: str) -> Value:
        """The hours of one task; KeyError where there is none."""
        return _named(self.tasks, key)

    def factor(self, key: str) -> Value:
        """One factor on hours."""
        return _named(self.factors, key)

    def rate(self, key: str) -> Value:
        """One rate: percent, hours, people or money."""
        return _named(self.rates, key)

    def room(self, key: str) -> Value:
        """Cables of one kind of room: low is the small package, value the middle, high the large."""
        return _named(self.rooms, key)

    def plan(self, key: str) -> Value:
        """Feet of a run in one type of house."""
        return _named(self.plans, key)

    def money(self, key: str) -> Decimal:
        """The price of one rate, 0 where it has none."""
        return self.rate(key).price or Decimal(0)

    def cable_price(self, letter: str, told: Decimal) -> Decimal:
        """Price of a foot of one kind: this list's, else ``told``."""
        row = next((one for one in self.cables if one.key == letter), None)
        return told if row is None or row.price is None else row.price

    @property
    def examples(self) -> int:
        """How many rows are the example's own figures."""
        return sum(1 for one in self._all() if not one.own)

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return len(self._all())

    def _all(self) -> tuple[PackItem | Value, ...]:
        values = (*self.cables, *self.tasks, *self.factors, *self.rates, *self.rooms, *self.plans)
        return (*self.items, *values)


def _named(rows: tuple[Value, ...], key: str) -> Value:
    for row in rows:
        if row.key == key:
            return row
    raise KeyError(key)


_KINDS = ("item", "cable", "task", "factor", "rate", "room", "plan")
_NEEDS = {
    "item": ("words", "group", "unit", "pack"),
    "cable": ("price",),
    "task": ("value",),
    "factor": ("value",),
    "rate": (),
    "room": ("value",),
    "plan": ("value",),
}
_FREE_KEYS = ("item", "cable")
"""Kinds of rows where a firm may add keys of its own; the others are what the program reckons with."""


def read_price_list(text: str, name: str = "price list", base: PriceList | None = None) -> PriceList:
    """Read a firm's price list over the example's.

    A row changes the row of its kind and key; cells left empty keep what stood there, except that an
    item with an empty price has none. A row that says what the example says stays the example's.
    ``low`` and ``high`` left empty move with the value.

    Args:
        text: CSV with the head of ``HEAD``, comma or semicolon between the cells.
        name: Of the file, for messages.
        base: What the rows are laid over; None takes the example.
    Raises:
        PriceTableError: With every defect and its line.
    """
    base = generic_prices() if base is None else base
    reader = _Reader(name)
    rows = reader.rows(text.removeprefix("\ufeff"))
    items = {item.key: item for item in base.items}
    values: dict[str, dict[str, Value]] = {
        "cable": {one.key: one for one in base.cables},
        "task": {one.key: one for one in base.tasks},
        "factor": {one.key: one for one in base.factors},
        "rate": {one.key: one for one in base.rates},
        "room": {one.key: one for one in base.rooms},
        "plan": {one.key: one for one in base.plans},
    }
    seen: dict[tuple[str, str], int] = {}
    for line, cells in rows:
        kind, key = cells["row"], cells["key"]
        if not reader.known(line, kind, key, values):
            continue
        if (kind, key) in seen:
            got = f"{kind} {key!r} again, first on line {seen[kind, key]}"
            reader.tell(line, "key", "each row once", got)
            continue
        seen[kind, key] = line
        if kind == "item":
            items[key] = reader.item(line, cells, items.get(key))
        else:
            values[kind][key] = reader.value(line, cells, values[kind].get(key))
    if reader.defects:
        raise PriceTableError(reader.defects)
    return PriceList(
        items=tuple(items.values()),
        cables=tuple(values["cable"].values()),
        tasks=tuple(values["task"].values()),
        factors=tuple(values["factor"].values()),
        rates=tuple(values["rate"].values()),
        rooms=tuple(values["room"].values()),
        plans=tuple(values["plan"].values()),
        name=name,
    )


def _near(word: str, known: Iterable[str]) -> str:
    """A word as it was typed, with the nearest known one where there is one."""
    near = difflib.get_close_matches(word, list(known), 1)
    return f"{word!r}" + (f" ({near[0]}?)" if near else "")


class _Reader:
    """Reads rows and gathers what is wrong with them."""

    def __init__(self, name: str, own: bool = True) -> None:
        self.name, self.own = name, own
        self.defects: list[str] = []

    def tell(self, line: int, column: str, expected: str, got: str) -> None:
        """Note one defect."""
        self.defects.append(f"{self.name}:{line}: {column}: expected {expected}, got {got}")

    def rows(self, text: str) -> list[tuple[int, dict[str, str]]]:
        """(line, cells by column) of every row that is not empty."""
        first = text.split("\n", 1)[0]
        mark = ";" if first.count(";") > first.count(",") else ","
        reader = csv.reader(text.splitlines(keepends=True), delimiter=mark, strict=True)
        found: list[tuple[int, dict[str, str]]] = []
        try:
            head = [word.strip().lower() for word in next(reader, [])]
            missing = [word for word in ("row", "key") if word not in head]
            unknown = [word for word in head if word and word not in HEAD]
            if missing:
                self.tell(1, "head", f"the columns {', '.join(HEAD)}", ", ".join(head) or "an empty file")
                return []
            for word in unknown:
                self.tell(1, "head", f"one of {', '.join(HEAD)}", _near(word, HEAD))
            for cells in reader:
                if not any(cell.strip() for cell in cells):
                    continue
                if len(cells) > len(head) and any(cell.strip() for cell in cells[len(head) :]):
                    self.tell(reader.line_num, "row", f"at most {len(head)} cells", f"{len(cells)}")
                    continue
                told = dict.fromkeys(HEAD, "")
                told |= {word: cell.strip() for word, cell in zip(head, cells, strict=False) if word in told}
                told = {word: cell.removeprefix("'").strip() for word, cell in told.items()}
                found.append((reader.line_num, told))
        except csv.Error as problem:
            self.tell(reader.line_num, "row", "a line of CSV", f"a fault: {problem}")
        return found

    def known(self, line: int, kind: str, key: str, values: dict[str, dict[str, Value]]) -> bool:
        """True where the row's kind and key are ones the program reckons with."""
        if kind not in _KINDS:
            self.tell(line, "row", f"one of {', '.join(_KINDS)}", _near(kind, _KINDS))
            return False
        if not key:
            self.tell(line, "key", "a key", "nothing")
            return False
        if self.own and kind not in _FREE_KEYS and key not in values[kind]:
            self.tell(line, "key", f"one of {', '.join(values[kind])}", _near(key, values[kind]))
            return False
        return True

    def item(self, line: int, cells: dict[str, str], was: PackItem | None) -> PackItem:
        """A pack row over what stood there."""
        if was is None:
            for column in _NEEDS["item"]:
                if not cells[column]:
                    self.tell(line, column, "a text for a new item", "nothing")
        was = was or PackItem(cells["key"], cells["key"], "Other", "each", "each", 1, None, False)
        size = self.whole(line, cells, "pack size", was.pack_size)
        spare = cells["spare"].lower()
        if spare not in ("", "yes", "no"):
            self.tell(line, "spare", "yes or no", repr(cells["spare"]))
        new = replace(
            was,
            item=cells["words"] or was.item,
            group=cells["group"] or was.group,
            unit=cells["unit"] or was.unit,
            pack=cells["pack"] or was.pack,
            pack_size=size,
            price=self.amount(line, cells, "price"),
            spare=was.spare if not spare else spare == "yes",
        )
        own, source = self._whose(cells, new == was, was.own, was.source)
        return replace(new, own=own, source=source)

    def _whose(self, cells: dict[str, str], same: bool, own: bool, source: str) -> tuple[bool, str]:
        """Whose a row is and where it is from: one that stands as in the example stays the example's."""
        told = cells["source"]
        if not self.own:
            return False, told
        if same and told in ("", source):
            return own, source
        return True, self.name if told in ("", source) else told

    def value(self, line: int, cells: dict[str, str], was: Value | None) -> Value:
        """A row of one figure over what stood there."""
        kind, new = cells["row"], was is None
        was = was or Value(
            cells["key"], cells["key"], "", "ft", Decimal(0), Decimal(0), Decimal(0), own=self.own
        )
        if new:
            for column in _NEEDS[kind]:
                if not cells[column]:
                    self.tell(line, column, f"a figure for {kind} {cells['key']!r}", "nothing")
        told = self.amount(line, cells, "value")
        price = self.amount(line, cells, "price")
        value = was.value if told is None else told
        low, high = self.amount(line, cells, "low"), self.amount(line, cells, "high")
        moved = value / was.value if was.value else Decimal(1)
        low = low if low is not None else was.low * moved if was.value else value
        high = high if high is not None else was.high * moved if was.value else value
        if not low <= value <= high:
            self.tell(line, "low, high", f"a low and a high around {value}", f"{low} and {high}")
        self._sensible(line, kind, cells["key"], value)
        people = self.whole(line, cells, "people", was.people)
        if people > 2:
            self.tell(line, "people", "1 or 2", str(people))
        changed = replace(
            was,
            words=cells["words"] or was.words,
            group=cells["group"] or was.group,
            unit=cells["unit"] or was.unit,
            value=value,
            low=low,
            high=high,
            price=was.price if price is None else price,
            people=people,
            size=self.whole(line, cells, "pack size", was.size) if kind == "plan" else was.size,
        )
        own, source = self._whose(cells, changed == was and not new, was.own, was.source)
        return replace(changed, own=own, source=source)

    def _sensible(self, line: int, kind: str, key: str, value: Decimal) -> None:
        if kind == "rate" and key in ("overhead", "margin", "material tax", "labor tax"):
            most = Decimal(100)
            if value >= most:
                self.tell(line, "value", f"{key} in percent, under 100", str(value))
        elif kind == "rate" and key == "day hours" and not 1 <= value <= 16:
            self.tell(line, "value", "hours of a day, 1 to 16", str(value))
        elif kind == "rate" and key in ("crew", "ladders") and value != int(value):
            self.tell(line, "value", "a whole number", str(value))
        elif kind == "rate" and key == "crew" and not 1 <= value <= 8:
            self.tell(line, "value", "1 to 8 people", str(value))
        elif kind == "factor" and value < 1:
            self.tell(line, "value", "a factor of 1 or more", str(value))
        elif kind == "plan" and value <= 0:
            self.tell(line, "value", "feet above zero", str(value))

    def amount(self, line: int, cells: dict[str, str], column: str) -> Decimal | None:
        """A number of zero or more, or None where the cell is empty."""
        text = cells[column]
        if not text:
            return None
        try:
            number = Decimal(text)
        except InvalidOperation:
            self.tell(line, column, "a number such as 4.50", repr(text))
            return None
        if not number.is_finite() or number < 0 or number > 10_000_000:
            self.tell(line, column, "a number from zero to ten million", repr(text))
            return None
        return number

    def whole(self, line: int, cells: dict[str, str], column: str, was: int) -> int:
        """A whole number of 1 or more; ``was`` where the cell is empty."""
        text = cells[column]
        if not text:
            return was
        if not text.isdecimal() or not 1 <= int(text) <= 1_000_000:
            self.tell(line, column, "a whole number of 1 or more", repr(text))
            return was
        return int(text)


@cache
def generic_prices() -> PriceList:
    """The price list that comes with the program: packs and hours of common practice, invented prices."""
    text = resources.files("bayrun.tables").joinpath("prices.csv").read_text(encoding="utf-8")
    reader = _Reader("prices.csv", own=False)
    found: dict[str, list[Value]] = {kind: [] for kind in _KINDS}
    items = []
    for line, cells in reader.rows(text):
        if cells["row"] == "item":
            items.append(reader.item(line, cells, None))
        elif reader.known(line, cells["row"], cells["key"], {}):
            found[cells["row"]].append(reader.value(line, cells, None))
    if reader.defects:
        raise PriceTableError(reader.defects)
    cables, tasks, factors, rates, rooms, plans = (tuple(found[kind]) for kind in _KINDS[1:])
    return PriceList(tuple(items), cables, tasks, factors, rates, rooms, plans)


class _Lines:
    """What a CSV writer writes to, without a file."""

    def __init__(self) -> None:
        self.lines: list[str] = []

    def write(self, line: str) -> None:
        """Keep one line."""
        self.lines.append(line)


def price_list_csv(prices: PriceList) -> str:
    """The whole list as the CSV that ``read_price_list`` reads back to the same figures."""
    text = _Lines()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(HEAD)
    for item in prices.items:
        price = "" if item.price is None else f"{item.price}"
        spare = "yes" if item.spare else "no"
        words = (item.item, item.group, item.unit, item.pack, str(item.pack_size))
        writer.writerow(_safe(["item", item.key, *words, price, "", "", "", "", spare, item.source]))
    pairs = (
        *(("cable", one) for one in prices.cables),
        *(("task", one) for one in prices.tasks),
        *(("factor", one) for one in prices.factors),
        *(("rate", one) for one in prices.rates),
        *(("room", one) for one in prices.rooms),
        *(("plan", one) for one in prices.plans),
    )
    for kind, one in pairs:
        price = "" if one.price is None else f"{one.price}"
        figures = [f"{one.value}", f"{one.low}", f"{one.high}"]
        if one.price is not None and not one.value:
            figures = ["", "", ""]
        people = str(one.people) if kind == "task" else ""
        size = str(one.size) if one.size else ""
        front = [kind, one.key, one.words, one.group, one.unit, "", size, price]
        writer.writerow(_safe([*front, *figures, people, "", one.source]))
    return "".join(text.lines)


def _safe(cells: list[str]) -> list[str]:
    """Texts that no spreadsheet takes for a formula."""
    return [f"'{cell}" if cell.startswith(("=", "+", "-", "@")) else cell for cell in cells]
