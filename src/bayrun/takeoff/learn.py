"""Estimates that learn: what tasks really took, against what was estimated; new figures with their count."""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation

from bayrun.tables.prices import PriceList, PriceTableError, Value

LEAST_RECORDS = 5
"""Fewer records of a task than this do not move its figure. Our own rule."""

FULL_RECORDS = 20
"""From so many records on, the figure is theirs alone; between, they weigh n / 20. Our own rule."""

FAR_OFF = Decimal(5)
"""A record more than five times over or under its estimate is asked about and left out. Our own rule."""

HEAD = ("task", "estimated", "actual")
_PLACES = Decimal("0.0001")


@dataclass(frozen=True, slots=True)
class Actual:
    """One record: a task on one job, the hours that were estimated and the hours it took."""

    task: str
    estimated_h: Decimal
    actual_h: Decimal
    where: str = ""


@dataclass(frozen=True, slots=True)
class Learned:
    """What the records say of one task.

    Args:
        n: Records that count.
        ratio: Median of actual over estimated hours.
        spread: The middle half of the ratios (from the lower to the upper quartile).
        was, now: Hours of one unit before and after; the same where there are too few records.
        left_out: Places of records too far off to count.
        says: What was done with it, in words.
    """

    task: str
    n: int
    ratio: Decimal
    spread: tuple[Decimal, Decimal]
    was: Decimal
    now: Decimal
    left_out: tuple[str, ...]
    says: str


def learn(prices: PriceList, records: Sequence[Actual]) -> tuple[PriceList, tuple[Learned, ...]]:
    """New hours by task from actual records.

    The median of actual over estimated hours corrects the figure of a task, and the quartiles of the same
    ratios become its low and high. Under ``LEAST_RECORDS`` records nothing moves; from ``FULL_RECORDS``
    on the records count alone; between them they weigh n / ``FULL_RECORDS`` against the old figure. The
    table keeps n. Estimates must have been made with this list's figures, or the ratio means nothing.
    Source: the median and quartiles by linear interpolation between order statistics (the seventh
    definition of Hyndman and Fan 1996); the weighing is our own rule.

    Raises:
        KeyError: A record names a task that the list lacks.
    """
    by_task: dict[str, list[Actual]] = defaultdict(list)
    for record in records:
        prices.task(record.task)
        by_task[record.task].append(record)
    told, tasks = [], []
    for row in prices.tasks:
        mine = by_task.get(row.key)
        if not mine:
            tasks.append(row)
            continue
        changed, learned = _learn_one(row, mine)
        tasks.append(changed)
        told.append(learned)
    return replace(prices, tasks=tuple(tasks)), tuple(told)


def _learn_one(row: Value, records: Sequence[Actual]) -> tuple[Value, Learned]:
    ratios, left_out = [], []
    for record in records:
        ratio = record.actual_h / record.estimated_h
        if ratio > FAR_OFF or ratio * FAR_OFF < 1:
            left_out.append(record.where or record.task)
        else:
            ratios.append(ratio)
    ratios.sort()
    n = len(ratios)
    one = Decimal(1)
    low, middle, high = (quantile(ratios, q) for q in (0.25, 0.5, 0.75)) if n else (one, one, one)
    out = f"; {len(left_out)} too far off, left out" if left_out else ""
    if n < LEAST_RECORDS:
        says = f"{n} of at least {LEAST_RECORDS} records: the figure stays{out}"
        return row, Learned(row.key, n, middle, (low, high), row.value, row.value, tuple(left_out), says)
    weight = min(one, Decimal(n) / FULL_RECORDS)

    def mixed(old: Decimal, ratio: Decimal) -> Decimal:
        return (weight * row.value * ratio + (1 - weight) * old).quantize(_PLACES, ROUND_HALF_UP)

    now = mixed(row.value, middle)
    new = replace(
        row,
        value=now,
        low=min(now, mixed(row.low, low)),
        high=max(now, mixed(row.high, high)),
        records=n,
        own=True,
        source=f"{n} actual records, weight {weight:.2f}",
    )
    percent = 100 * (now - row.value) / row.value if row.value else Decimal(0)
    says = f"{n} records, weight {weight:.2f}: {row.value} to {now} h ({percent:+.0f} %){out}"
    return new, Learned(row.key, n, middle, (low, high), row.value, now, tuple(left_out), says)


def quantile(ordered: Sequence[Decimal], share: float) -> Decimal:
    """A quantile of ordered values, by linear interpolation between them."""
    at = Decimal(str(share)) * (len(ordered) - 1)
    below = int(at)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (at - below) * (ordered[above] - ordered[below])


def read_actuals(text: str, name: str, prices: PriceList) -> tuple[Actual, ...]:
    """Records from a CSV with the columns task, estimated, actual (hours); others are passed over.

    Raises:
        PriceTableError: With every bad row and its line.
    """
    lines = text.removeprefix("\ufeff").splitlines(keepends=True)
    mark = ";" if lines and lines[0].count(";") > lines[0].count(",") else ","
    reader = csv.reader(lines, delimiter=mark)
    head = [word.strip().lower() for word in next(reader, [])]
    missing = [word for word in HEAD if word not in head]
    if missing:
        got = ", ".join(head) or "an empty file"
        raise PriceTableError([f"{name}:1: head: expected the columns {', '.join(HEAD)}, got {got}"])
    known = {row.key for row in prices.tasks}
    found, defects = [], []
    for cells in reader:
        if not any(cell.strip() for cell in cells):
            continue
        row = dict(zip(head, (cell.strip() for cell in cells), strict=False))
        where = f"{name}:{reader.line_num}"
        if row.get("task") not in known:
            expected = f"expected one of {', '.join(sorted(known))}"
            defects.append(f"{where}: task: {expected}, got {row.get('task', '')!r}")
        hours = {}
        for column in HEAD[1:]:
            try:
                hours[column] = Decimal(row.get(column, ""))
            except InvalidOperation:
                hours[column] = Decimal(-1)
            if not hours[column].is_finite() or not 0 < hours[column] <= 10_000:
                defects.append(f"{where}: {column}: expected hours above 0, got {row.get(column, '')!r}")
        found.append(Actual(row.get("task", ""), hours["estimated"], hours["actual"], where))
    if defects:
        raise PriceTableError(defects)
    return tuple(found)
