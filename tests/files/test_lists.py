"""The lists as CSV files and as one workbook."""

from __future__ import annotations

import csv
import datetime
import io

import openpyxl
import pytest

from bayrun.files.csvlists import csv_list, csv_lists, safe_text
from bayrun.files.workbook import workbook
from bayrun.takeoff import takeoff
from bayrun.takeoff.lists import Column, ListTable, lists
from bayrun.units import parse_length
from takeoff import small_house as small
from takeoff.planned_houses import every_house, planned

EVIL = ("=1+1", "+1", "-1", "@SUM(A1)", "\tx", "\r=1", " =1+1", "\n@x", '=HYPERLINK("http://x","y")')
NAMES = [
    *("drill", "pulls", "labels", "plates", "seals", "supports"),
    *("boxes", "material", "runs", "findings", "totals"),
]


def tables(letter: str) -> tuple[ListTable, ...]:
    house = planned(letter)
    return lists(house.job, house.frame, house.wiring, house.counted)


@pytest.mark.parametrize("text", EVIL)
def test_no_cell_runs_as_a_formula(text: str) -> None:
    # Source: the usual advice against CSV injection: cells starting with = + - @ tab or return.
    table = ListTable("x", "X", (Column(text),), ((text,),))
    rows = list(csv.reader(io.StringIO(csv_list(table).decode("utf-8"), newline="")))
    assert rows == [[f"'{text}"], [f"'{text}"]]
    assert safe_text("A-W26") == "A-W26"
    assert safe_text("5' 3-1/2\"") == "5' 3-1/2\""


def test_a_length_stands_in_inches_and_as_a_tape_reads() -> None:
    table = ListTable(
        "x", "X", (Column("At", "length"), Column("N", "number"), Column("", "blank")), ((63.5, -0.0, None),)
    )
    assert csv_list(table) == b'At (in),At,N,\r\n63.5,"5\' 3-1/2""",0,\r\n'


@every_house
def test_every_list_reads_back_with_its_rows(letter: str) -> None:
    found = csv_lists(tables(letter))
    assert list(found) == [f"{name}.csv" for name in NAMES]
    for table in tables(letter):
        rows = list(csv.reader(io.StringIO(found[f"{table.name}.csv"].decode("utf-8"), newline="")))
        assert len(rows) == len(table.rows) + 1
        assert {len(row) for row in rows} == {len(rows[0])}
        head = rows[0]
        for at, name in enumerate(head):
            if name.endswith(" (in)"):
                for row in rows[1:]:
                    assert parse_length(row[at + 1]) == pytest.approx(float(row[at]), abs=1 / 32 + 1e-9)
    assert csv_lists(tables(letter)) == found


@every_house
def test_the_workbook_reopens_with_real_numbers_and_frozen_heads(letter: str) -> None:
    house = planned(letter)
    text = workbook(house.job, tables(letter))
    assert workbook(house.job, tables(letter)) == text
    book = openpyxl.load_workbook(io.BytesIO(text))
    assert book.sheetnames == NAMES
    assert book.properties.created == datetime.datetime(2000, 1, 1)  # noqa: DTZ001 - as the file holds it
    for table in tables(letter):
        sheet = book[table.name]
        assert sheet.freeze_panes in ("A2", "C2")
        assert sheet.print_area
        assert sheet.print_title_rows == "$1:$1"
        assert sheet.max_row == len(table.rows) + 1
        heads = [cell.value for cell in sheet[1]]
        for column in table.columns:
            if column.kind == "length":
                at = heads.index(f"{column.head} (in)")
                values = [row[at].value for row in sheet.iter_rows(min_row=2)]
                assert all(isinstance(value, int | float) for value in values if value is not None)
    drill = book["drill"]
    assert drill.max_row == len(house.wiring.holes) + 1
    total = {row[0].value: row[1].value for row in book["totals"].iter_rows(min_row=2)}
    assert total["Runs planned"] == len(house.wiring.runs)


@pytest.mark.parametrize("text", [*EVIL, "{=1+1}", "http://x", "0123"])
def test_people_s_text_stays_text_in_the_workbook(text: str) -> None:
    table = ListTable("x", "X & Y", (Column("A"),), ((text,),))
    book = openpyxl.load_workbook(io.BytesIO(workbook(small.job(name="A & B"), (table,))))
    cell = book["x"]["A2"]
    assert cell.data_type == "s"
    assert str(cell.value).replace("_x000D_", "\r") == text
    assert cell.hyperlink is None


def test_an_empty_plan_still_gives_every_list() -> None:
    job, frame, wiring = small.job(0), small.frame(), small.wiring()
    found = lists(job, frame, wiring, takeoff(job, frame, wiring))
    assert [table.name for table in found] == NAMES
    assert openpyxl.load_workbook(io.BytesIO(workbook(job, found))).sheetnames == NAMES


def test_the_running_rest_of_a_box_ends_at_what_is_left() -> None:
    house = planned("a")
    (boxes,) = [table for table in tables("a") if table.name == "boxes"]
    last = {row[0]: row[7] for row in boxes.rows}
    assert last == {box.id: pytest.approx(box.left_ft) for box in house.counted.boxes}
