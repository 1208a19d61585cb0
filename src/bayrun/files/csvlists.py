"""Every list as one CSV file that a spreadsheet opens without running anything in it."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from decimal import Decimal

from bayrun.takeoff.lists import Cell, Column, ListTable
from bayrun.units import tape

_RUNS_AS_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def safe_text(text: str) -> str:
    """A text that no spreadsheet takes for a formula: an apostrophe goes before = + - @, tab or return.

    White space before such a sign does not hide it.
    """
    return (
        f"'{text}"
        if text.startswith(_RUNS_AS_FORMULA) or text.lstrip().startswith(_RUNS_AS_FORMULA)
        else text
    )


def csv_list(table: ListTable) -> bytes:
    """One list as UTF-8 CSV with a header line; a length stands twice: in inches, and as a tape reads."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    head: list[str] = []
    for column in table.columns:
        head += [f"{column.head} (in)", column.head] if column.kind == "length" else [column.head]
    writer.writerow([safe_text(word) for word in head])
    for row in table.rows:
        cells: list[str] = []
        for column, cell in zip(table.columns, row, strict=True):
            cells += _cells(column, cell)
        writer.writerow(cells)
    return text.getvalue().encode("utf-8")


def _cells(column: Column, cell: Cell) -> list[str]:
    if column.kind == "length":
        if cell is None or isinstance(cell, str):
            return ["", safe_text(cell or "")]
        return [_number(float(cell)), tape(float(cell))]
    if cell is None:
        return [""]
    if isinstance(cell, str):
        return [safe_text(cell)]
    if isinstance(cell, Decimal):
        return [str(cell)]
    return [_number(float(cell))]


def _number(value: float) -> str:
    """A number with at most six places, no -0, no exponent."""
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def csv_lists(tables: Sequence[ListTable]) -> dict[str, bytes]:
    """File name → bytes for all lists: ``drill.csv``, ``pulls.csv`` …"""
    return {f"{table.name}.csv": csv_list(table) for table in tables}
