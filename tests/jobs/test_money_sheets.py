"""Price, crew plan, load list and material by day as sheets and tables: whole, and the same numbers."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from functools import cache

import pytest

from bayrun.files import read_job
from bayrun.jobs import Plan, plan
from bayrun.jobs.money import BY_OTHERS, money_sheets, money_tables, plan_estimate, price_notice
from conftest import ROOT


@cache
def made(letter: str) -> Plan:
    return plan(read_job(ROOT / "examples" / f"house-{letter}.yaml"))


HOUSES = pytest.mark.parametrize("letter", ["a", "c"])


@HOUSES
def test_the_sheets_are_whole(letter: str) -> None:
    sheets = {sheet.title: sheet for sheet in money_sheets(made(letter))}
    assert list(sheets) == ["scope and price", "crew plan", "load list", "material by day"]
    assert all(sheet.rows and sheet.caution for sheet in sheets.values())
    told = plan_estimate(made(letter))
    scope = sheets["scope and price"]
    assert f"{told.total:,.2f}" in scope.heading
    groups = list(dict.fromkeys(row.group for row in scope.rows))
    assert groups[:3] == ["Included", "By others", "Price, before drywall"]
    # The printed prices add to the printed total.
    printed = [Decimal(row.cells[2].replace(",", "")) for row in scope.rows if row.group == groups[2]]
    assert sum(printed[:-2]) == printed[-2] == told.total
    assert "Example prices; put in your own" in scope.note


@HOUSES
def test_ac_work_has_no_price_but_a_name(letter: str) -> None:
    scope = money_sheets(made(letter))[0]
    (power,) = [row for row in scope.rows if row.cells[0].startswith("Power to the enclosure")]
    assert power.cells[1:] == ("by the licensed electrician", "")
    assert ("Power to the enclosure, its circuit and grounding", "by the licensed electrician") in BY_OTHERS
    words = " ".join(line.words.lower() for line in plan_estimate(made(letter)).lines)
    assert not any(word in words for word in ("power", "circuit", "electric", "grounding"))


@HOUSES
def test_tables_say_the_same_as_the_sheets(letter: str) -> None:
    tables = {table.name: table for table in money_tables(made(letter))}
    assert list(tables) == ["price", "hours", "crew", "load", "by-day"]
    told = plan_estimate(made(letter))
    for table in tables.values():
        assert all(len(row) == len(table.columns) for row in table.rows)
    heads = [column.head for column in tables["price"].columns]
    at = next(i for i, head in enumerate(heads) if head.startswith("Price ("))
    lines = [row for row in tables["price"].rows if row[0] != "total"]
    assert sum(row[at] for row in lines if row[at] is not None) == told.total  # type: ignore[misc]
    hours = [column.head for column in tables["hours"].columns].index("Hours")
    crew = [column.head for column in tables["crew"].columns]
    worked = sum(
        float(row[crew.index("Hours")]) * str(row[crew.index("Who")]).count("and") * 1.0  # type: ignore[arg-type]
        + float(row[crew.index("Hours")])  # type: ignore[arg-type]
        for row in tables["crew"].rows
    )
    assert worked == pytest.approx(sum(float(row[hours]) for row in tables["hours"].rows))  # type: ignore[arg-type]


def test_a_plan_with_no_run_has_no_price() -> None:
    empty = made("c")
    assert money_sheets(replace(empty, wiring=replace(empty.wiring, runs=()))) == ()


def test_the_notice_falls_away_with_the_last_example() -> None:
    told = plan_estimate(made("c"))
    assert price_notice(replace(told, examples=0)) == ""
    assert price_notice(replace(told, examples=1)).startswith(
        "Example prices; put in your own: 1 line stands"
    )
