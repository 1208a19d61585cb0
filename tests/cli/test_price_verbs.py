"""``bayrun price``, ``prices``, ``change`` and ``quick bid`` through the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cli.packs import bayrun
from conftest import ROOT

HOUSE = str(ROOT / "examples" / "house-c.yaml")


def with_one_more(folder: Path) -> Path:
    """House C with one more data cable to C03."""
    text = (ROOT / "examples" / "house-c.yaml").read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if "id: C03-D1" in line)
    path = folder / "more.yaml"
    path.write_text(text.replace(line, f"{line}\n{line.replace('C03-D1', 'C03-D2')}"), encoding="utf-8")
    return path


def test_a_price_explains_every_line() -> None:
    done = bayrun("price", HOUSE, "--quiet", "--json")
    told = json.loads(done.out)
    assert done.code == 0
    assert sum(line["price"] or 0 for line in told["lines"]) == pytest.approx(told["total"], abs=0.001)
    assert all(line["source"] and line["formula"] for line in told["lines"])
    assert told["examples"] > 0
    words = bayrun("price", HOUSE, "--quiet").out
    assert "Total, before drywall" in words
    assert "Example prices; put in your own" in words


def test_the_list_goes_out_changes_and_comes_in(tmp_path: Path) -> None:
    file = tmp_path / "mine.csv"
    out = bayrun("prices", "out", str(file))
    assert (out.code, out.out) == (0, "")
    assert "example figures; put in your own" in out.err
    assert bayrun("prices", "out", str(file)).code == 2  # never written over unasked
    text = file.read_text(encoding="utf-8")
    assert "rate,labor,One hour of one person,,hour,,,58.00," in text
    file.write_text(text.replace("hour,,,58.00,", "hour,,,80.00,"), encoding="utf-8")
    told = json.loads(bayrun("prices", "in", str(file), "--json").out)
    assert told["own"] == 1
    before, after = (
        json.loads(bayrun("price", HOUSE, "--quiet", "--json", *more).out)
        for more in ((), ("--price-list", str(file)))
    )
    cost = [sum(x["price"] for x in one["lines"] if x["part"] == "labor") for one in (before, after)]
    assert cost[1] == pytest.approx(cost[0] * 80 / 58, abs=0.5)  # each line is rounded by itself


def test_bad_rows_stand_on_lines_of_their_own(tmp_path: Path) -> None:
    file = tmp_path / "bad.csv"
    file.write_text("row,key,price\nrate,labor,abc\nrate,lebor,4\n", encoding="utf-8")
    for words in (("prices", "in", str(file)), ("price", HOUSE, "--price-list", str(file))):
        done = bayrun(*words)
        assert (done.code, done.out) == (2, "")
        lines = done.err.splitlines()
        assert lines[0] == "bad.csv:2: price: expected a number such as 4.50, got 'abc'"
        assert lines[1].startswith("bad.csv:3: key: expected one of labor, ")
        assert lines[1].endswith("got 'lebor' (labor?)")
        assert lines[2].endswith("has 2 defects; nothing was done.")


def test_learning_through_the_command_line(tmp_path: Path) -> None:
    mine, actual, new = tmp_path / "mine.csv", tmp_path / "actual.csv", tmp_path / "new.csv"
    bayrun("prices", "out", str(mine))
    actual.write_text("task,estimated,actual\n" + "hole,1.0,2.0\n" * 20, encoding="utf-8")
    done = bayrun("prices", "learn", str(mine), str(actual), "--out", str(new))
    assert done.code == 0
    assert "hole: actual over estimated 2.00" in done.out
    assert "20 records, weight 1.00: 0.015 to 0.0300 h (+100 %)" in done.out
    assert json.loads(bayrun("prices", "in", str(new), "--json").out)["own"] == 1


def test_a_change_is_priced_by_stage_and_an_option_is_a_change(tmp_path: Path) -> None:
    more = str(with_one_more(tmp_path))
    early = json.loads(bayrun("change", HOUSE, more, "--quiet", "--json").out)
    assert early["feet"] > 30
    assert {"thing": "run", "id": "C03-D2", "what": "added"}.items() <= early["touched"][0].items()
    late = bayrun("change", HOUSE, more, "--quiet", "--when", "after drywall").out
    assert "as asked: run C03-D2 added, " in late
    assert float(late.split()[3].replace(",", "")) > early["price"] > 0
    (option,) = json.loads(bayrun("price", HOUSE, "--quiet", "--json", "--option", f"Desk={more}").out)[
        "options"
    ]
    assert (option["name"], option["price"]) == ("Desk", early["price"])
    assert bayrun("price", HOUSE, "--option", "Desk").code == 2


def test_no_change_costs_nothing() -> None:
    same = bayrun("change", HOUSE, HOUSE, "--quiet").out
    assert "0.00 USD with tax" in same
    assert "Nothing else moved." in same


def test_a_bid_and_the_model_beside_it() -> None:
    words = ("quick", "bid", "bed=3", "living=1", "kitchen=1", "family=1", "--area", "1800", "--stories", "3")
    done = bayrun(*words, "--json")
    told = json.loads(done.out)
    assert (done.code, done.err) == (0, "")
    assert told["total"] == sorted(told["total"])
    assert told["examples"].startswith("example prices; put in your own")
    beside = json.loads(bayrun(*words, "--json", "--beside", HOUSE).out)["model"]
    assert beside["total"][0] == beside["total"][2]
    assert beside["difference"] == pytest.approx(beside["total"][1] - told["total"][1])
    assert "against the bid" in bayrun(*words, "--beside", HOUSE).out
    bad = bayrun("quick", "bid", "bed=x", "bd=2", "--area", "10")
    assert (bad.code, bad.out) == (2, "")
    assert "rooms: expected a kind and a count such as bed=3, got 'bed=x'" in bad.err
    assert "got 'bd'" in bad.err
