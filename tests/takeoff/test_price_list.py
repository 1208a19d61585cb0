"""The firm's price list as one plain table: in, out, and every bad row at once."""

from __future__ import annotations

from decimal import Decimal

import pytest

from bayrun.tables.prices import HEAD, PriceTableError, generic_prices, price_list_csv, read_price_list

TOP = "row,key,words,group,unit,pack,pack size,price,value,low,high,people,spare,source\n"


def test_the_example_is_sound_and_says_it_is_an_example() -> None:
    example = generic_prices()
    assert example.examples == example.rows > 80
    assert len({item.key for item in example.items}) == len(example.items)
    for one in (*example.tasks, *example.factors, *example.rooms, *example.plans):
        assert one.low <= one.value <= one.high, one.key
        assert one.source
    assert all(item.source.startswith("example, invented") for item in example.items)
    assert all(one.people in (1, 2) for one in example.tasks)


def test_out_and_in_again_is_the_same_table() -> None:
    example = generic_prices()
    text = price_list_csv(example)
    assert text.splitlines()[0] == ",".join(HEAD)
    again = read_price_list(text, "mine.csv")
    assert price_list_csv(again) == text
    assert again.examples == example.examples  # nothing was changed, so the figures are still the example's
    mine = read_price_list(text.replace("box of 50,50,24.00", "box of 50,50,26.00"), "mine.csv")
    assert mine.rows - mine.examples == 1
    assert next(item for item in mine.items if item.own).source == "mine.csv"
    assert [(i.key, i.price, i.pack_size, i.spare) for i in again.items] == [
        (i.key, i.price, i.pack_size, i.spare) for i in example.items
    ]


def test_a_few_rows_change_only_those() -> None:
    mine = read_price_list(
        TOP + "task,hole,,,,,,,0.020,,,,,\nrate,labor,,,,,,72.50,,,,,,\ncable,D,,,,,,0.31,,,,,,\n"
    )
    example = generic_prices()
    assert mine.rows - mine.examples == 3
    assert mine.money("labor") == Decimal("72.50")
    assert mine.cable_price("D", Decimal("0.24")) == Decimal("0.31")
    assert mine.cable_price("X", Decimal("0.21")) == Decimal("0.21")
    hole, was = mine.task("hole"), example.task("hole")
    assert hole.value == Decimal("0.020")
    assert hole.low == was.low * hole.value / was.value  # the spread moves with the figure
    assert (hole.words, hole.people, hole.own) == (was.words, was.people, True)
    assert mine.task("strap") == example.task("strap")


def test_semicolons_and_a_mark_at_the_start_are_read() -> None:
    text = "\ufeff" + TOP.replace(",", ";") + "rate;labor;;;;;;60.00;;;;;;\n"
    assert read_price_list(text).money("labor") == Decimal("60.00")


def test_a_new_item_of_the_firm() -> None:
    mine = read_price_list(TOP + "item,flag tape,Flag tape,Labels,roll,roll,1,3.25,,,,,no,\n")
    assert mine.items[-1].key == "flag tape"
    assert mine.items[-1].price == Decimal("3.25")


def test_every_bad_row_is_told_at_once_with_its_line() -> None:
    rows = [
        "item,strap,,,,,0,four,,,,,maybe,",
        "itm,strap,,,,,,,,,,,,",
        "task,hol,,,,,,,0.02,,,,,",
        "task,seal,,,,,,,0.02,0.03,0.04,,,",
        "task,pull,,,,,,,0.02,,,3,,",
        "factor,attic,,,,,,,0.5,,,,,",
        "rate,margin,,,,,,,120,,,,,",
        "rate,labor,,,,,,-4,,,,,,",
        "rate,labor,,,,,,40,,,,,,",
        "item,new thing,,,,,,1.00,,,,,,",
        ",x,,,,,,,,,,,,",
        "task,,,,,,,,,,,,,",
    ]
    with pytest.raises(PriceTableError) as told:
        read_price_list(TOP + "\n".join(rows) + "\n", "mine.csv")
    assert [text for text in told.value.defects if "one of" not in text] == [
        "mine.csv:2: pack size: expected a whole number of 1 or more, got '0'",
        "mine.csv:2: spare: expected yes or no, got 'maybe'",
        "mine.csv:2: price: expected a number such as 4.50, got 'four'",
        "mine.csv:5: low, high: expected a low and a high around 0.02, got 0.03 and 0.04",
        "mine.csv:6: people: expected 1 or 2, got 3",
        "mine.csv:7: value: expected a factor of 1 or more, got 0.5",
        "mine.csv:8: value: expected margin in percent, under 100, got 120",
        "mine.csv:9: price: expected a number from zero to ten million, got '-4'",
        "mine.csv:10: key: expected each row once, got rate 'labor' again, first on line 9",
        "mine.csv:11: words: expected a text for a new item, got nothing",
        "mine.csv:11: group: expected a text for a new item, got nothing",
        "mine.csv:11: unit: expected a text for a new item, got nothing",
        "mine.csv:11: pack: expected a text for a new item, got nothing",
        "mine.csv:13: key: expected a key, got nothing",
    ]
    near = [text for text in told.value.defects if "one of" in text]
    assert (
        near[0]
        == "mine.csv:3: row: expected one of item, cable, task, factor, rate, room, plan, got 'itm' (item?)"
    )
    assert near[1].startswith("mine.csv:4: key: expected one of load, walk, mark, ")
    assert near[1].endswith("got 'hol' (hole?)")
    assert near[2].endswith("got ''")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "p.csv:1: head: expected the columns row, key, words, group"),
        ("name,cost\n", "got name, cost"),
        ("row,key,prize\n", "got 'prize' (price?)"),
        ("row,key,price\nrate,labor,4,5,6\n", "p.csv:2: row: expected at most 3 cells, got 5"),
        ('row,key,price\nrate,labor,"4\n', "p.csv:2: row: expected a line of CSV, got a fault"),
    ],
)
def test_what_is_no_price_list(text: str, says: str) -> None:
    with pytest.raises(PriceTableError) as told:
        read_price_list(text, "p.csv")
    assert says in str(told.value)


def test_a_text_that_a_spreadsheet_would_run_is_guarded_both_ways() -> None:
    mine = read_price_list(TOP + "item,strap,'=1+1,,,,,,,,,,,\n")
    assert next(item for item in mine.items if item.key == "strap").item == "=1+1"
    assert ",'=1+1," in price_list_csv(mine)
