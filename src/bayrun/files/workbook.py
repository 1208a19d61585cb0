"""All lists in one XLSX workbook: real numbers, frozen headers, print areas, the same bytes every time."""

from __future__ import annotations

import datetime
import io
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from bayrun.house import Job
from bayrun.takeoff.lists import ListTable
from bayrun.units import tape

CREATED = datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC).replace(tzinfo=None)
"""Stamp of every workbook, so that the same plan gives the same bytes; the revision is printed."""

_LONGEST = 32_000
"""A cell holds no more characters than this (the format's own limit is 32,767)."""


def workbook(job: Job, tables: Sequence[ListTable]) -> bytes:
    """One workbook with a sheet for each list.

    People's text is written as text, never as a formula; lengths are inches as real numbers with the tape
    reading beside them; money keeps its two places.
    """
    import xlsxwriter

    file = io.BytesIO()
    book = xlsxwriter.Workbook(
        file,
        {
            "in_memory": True,
            "strings_to_formulas": False,
            "strings_to_urls": False,
            "strings_to_numbers": False,
            "nan_inf_to_errors": False,
        },
    )
    book.set_properties({"title": f"{job.name}: lists", "created": CREATED})
    styles = {
        "head": book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1}),
        "text": book.add_format({"text_wrap": True, "valign": "top"}),
        "count": book.add_format({"num_format": "0", "valign": "top"}),
        "number": book.add_format({"num_format": "#,##0.##", "valign": "top"}),
        "length": book.add_format({"num_format": "0.0000", "valign": "top"}),
        "money": book.add_format({"num_format": "#,##0.00", "valign": "top"}),
        "blank": book.add_format({"bottom": 4}),
    }
    for table in tables:
        _sheet(book, styles, job, table)
    book.close()
    return file.getvalue()


def _sheet(book: Any, styles: dict[str, Any], job: Job, table: ListTable) -> None:
    sheet = book.add_worksheet(table.name)
    column_at, heads = 0, []
    for column in table.columns:
        if column.kind == "length":
            heads += [(f"{column.head} (in)", 10), (column.head, column.width)]
        else:
            heads.append((column.head, column.width))
    for column_at, (head, width) in enumerate(heads):
        sheet.set_column(column_at, column_at, width)
        sheet.write_string(0, column_at, head, styles["head"])
    for row_at, row in enumerate(table.rows, start=1):
        column_at = 0
        for column, cell in zip(table.columns, row, strict=True):
            if column.kind == "length":
                if isinstance(cell, int | float):
                    sheet.write_number(row_at, column_at, round(float(cell), 6), styles["length"])
                    sheet.write_string(row_at, column_at + 1, tape(float(cell)), styles["text"])
                column_at += 2
                continue
            if cell is None:
                sheet.write_blank(row_at, column_at, None, styles["blank"])
            elif isinstance(cell, str):
                sheet.write_string(row_at, column_at, cell[:_LONGEST], styles["text"])
            else:
                style = styles["money" if isinstance(cell, Decimal) else column.kind]
                sheet.write_number(row_at, column_at, cell, style)
            column_at += 1
    last_row, last_column = len(table.rows), len(heads) - 1
    sheet.freeze_panes(1, 2 if len(heads) > 4 else 0)
    sheet.repeat_rows(0)
    sheet.print_area(0, 0, last_row, last_column)
    sheet.set_landscape()
    sheet.set_paper(1)
    sheet.fit_to_pages(1, 0)
    sheet.hide_gridlines(0)
    if table.rows:
        sheet.autofilter(0, 0, last_row, last_column)
    revision = f"revision {job.revision.number} {job.revision.date}".strip()
    head_text = f"{job.name}, {table.title}".replace("&", "&&")
    sheet.set_header(f"&L{head_text[:180]}&R{revision[:60]}")
    sheet.set_footer("&LVerify with the local inspector&RPage &P of &N")
