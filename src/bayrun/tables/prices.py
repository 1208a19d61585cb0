"""What is loaded on the truck: packs and prices, as data. The prices are invented; a firm puts its own in."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from importlib import resources


@dataclass(frozen=True, slots=True)
class PackItem:
    """One thing a list may ask for, with how it is bought.

    Args:
        key: What the counting calls it.
        pack_size: Units in one pack.
        price: Of one pack; None where nobody has told it.
        spare: True where the firm's spare rate is added.
    """

    key: str
    item: str
    group: str
    unit: str
    pack: str
    pack_size: int
    price: Decimal | None
    spare: bool


class PriceTableError(ValueError):
    """The price table itself is at fault, not the job."""


def read_prices(text: str) -> tuple[PackItem, ...]:
    """Read a price table.

    Raises:
        PriceTableError: With every defect of the table at once.
    """
    try:
        told = tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        raise PriceTableError(f"price table: expected TOML, got a fault: {problem}") from None
    items, defects = [], []
    for number, row in enumerate(told.get("item", []), start=1):
        name = str(row.get("key", f"item {number}"))
        price: Decimal | None = None
        try:
            price = Decimal(str(row["price"])) if "price" in row else None
        except InvalidOperation:
            defects.append(f'price table, {name}: expected a price such as "4.50", got {row["price"]!r}')
        if price is not None and (not price.is_finite() or price < 0):
            defects.append(f"price table, {name}: expected a price of zero or more, got {price}")
        size = row.get("pack_size", 1)
        if not isinstance(size, int) or isinstance(size, bool) or size < 1:
            defects.append(f"price table, {name}: expected a pack size of 1 or more, got {size!r}")
            size = 1
        missing = [key for key in ("key", "item", "group", "unit", "pack") if not row.get(key)]
        if missing:
            defects.append(f"price table, {name}: expected {', '.join(missing)}, got nothing")
            continue
        key, item, group, unit, pack = (str(row[name]) for name in ("key", "item", "group", "unit", "pack"))
        items.append(PackItem(key, item, group, unit, pack, size, price, row.get("spare") == "rate"))
    keys = [item.key for item in items]
    defects += [
        f"price table: {key} stands there twice" for key in sorted({k for k in keys if keys.count(k) > 1})
    ]
    if defects:
        raise PriceTableError("; ".join(defects))
    return tuple(items)


def generic_prices() -> tuple[PackItem, ...]:
    """The table that comes with the program: packs of common practice, invented prices."""
    return read_prices(resources.files("bayrun.tables").joinpath("prices.toml").read_text(encoding="utf-8"))
