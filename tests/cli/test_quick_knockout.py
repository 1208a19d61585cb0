"""``quick knockout`` and ``quick slack``: verdicts, JSON, refusals. Sums by hand beside the checks."""

from __future__ import annotations

import json

import pytest

from cli.packs import bayrun


def test_a_knockout_by_trade_size() -> None:
    # 22 x 0.0529 = 1.164; trade 1-1/4: 1.5465 squared 2.392, 48.7 %; trade 1-1/2: 3.227, 36.1 %.
    done = bayrun("quick", "knockout", "22x0.23", "--json")
    told = json.loads(done.out)
    assert (done.code, told["trade"]) == (0, "1-1/2")
    by_trade = {row["trade"]: row for row in told["knockouts"]}
    assert by_trade["1-1/4"]["fill"] == pytest.approx(1.1638 / 2.3917, rel=1e-3)
    assert not by_trade["1-1/4"]["takes"]
    assert by_trade["2"]["takes"]
    words = bayrun("quick", "knockout", "22x0.23")
    assert "Knock out trade size 1-1/2" in words.out
    assert bayrun("quick", "knockout", "22x0.23", "--fill", "0.5").out.count("too small") == 3


def test_a_bundle_for_no_knockout() -> None:
    # 0.4 x 2.2815 squared / 0.0529 = 39.4: 39 go through the largest, 40 do not.
    assert bayrun("quick", "knockout", "39x0.23").code == 0
    done = bayrun("quick", "knockout", "40x0.23")
    assert done.code == 1
    assert "split the bundle over more knockouts" in done.out


def test_slack_holds_and_fails() -> None:
    done = bayrun("quick", "slack", "24x0.23", "--json")
    told = json.loads(done.out)
    assert (done.code, told["verdict"]) == (0, "holds")
    assert told["behind_in"] == 3.375
    assert told["inside_in"] >= 2 * 4 * 0.23
    assert bayrun("quick", "slack", "160x0.23").code == 1
    assert "too thick" in bayrun("quick", "slack", "160x0.23").out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("knockout",), "no cables given: expected a count and an outside diameter"),
        (("knockout", "ax0.2", "3xb"), "'ax0.2': expected"),
        (("knockout", "3x0.23", "--fill", "0.9"), "--fill: expected a fill of at most 60%"),
        (("slack", "3x0.23", "--length", "soon"), "--length"),
        (("slack", "3x0.23", "--length", "9000"), "0 to 600 in"),
        (("slack", "3x0.23", "--length", "0"), "expected a length of slack above 0"),
        (("slack", "3x0.23", "--width", "3"), "the box's inside width 5 to 60 in"),
        (("slack", "3x0.23", "--bend", "0"), "--bend: expected 1 to 40 times the diameter, got 0"),
    ],
)
def test_refusals(words: tuple[str, ...], told: str) -> None:
    done = bayrun("quick", *words)
    assert done.code == 2
    assert told in done.err
    assert done.out == ""
