"""``bayrun quick bundle``: answers and refusals as a person meets them."""

from __future__ import annotations

import json
import math

import pytest
from click.testing import CliRunner

from bayrun.cli.quick import quick


def ask(*words: str):
    return CliRunner().invoke(quick, ["bundle", *words])


def test_json_and_nothing_else():
    answer = ask("7x0.23", "--json")
    assert answer.exit_code == 0
    told = json.loads(answer.stdout)
    # Seven equal circles: 3 d (closed form). 7 of 0.23 in take 37 % of a 1 in hole; 7/8 in would be 48 %.
    assert told["diameter_in"] == pytest.approx(0.69, abs=1e-6)
    assert told["hole_in"] == 1.0
    assert len(told["circles"]) == 7
    assert [bit["bit_in"] for bit in told["bits"] if bit["takes"]] == [1.0, 1.125, 1.25, 1.375, 1.5, 2.0]
    assert all(math.hypot(x, y) + r <= 0.345 + 2e-6 for x, y, r in told["circles"])


def test_a_person_reads_the_bit():
    answer = ask("11x0.23", "2x0.275")
    assert answer.exit_code == 0
    # (11 x 0.23² + 2 x 0.275²) / 0.40 is 1.354² so the next bit is 1-3/8.
    assert "13 cables" in answer.stdout
    assert "Hole: 1-3/8 in, 39% full (at most 40%)" in answer.stdout


def test_no_bit_takes_it():
    answer = ask("9x0.36", "--bits", "3/4,1")
    assert answer.exit_code == 0
    assert "No bit given takes it at 40% fill (largest 1 in): split it over more holes." in answer.stdout
    assert json.loads(ask("9x0.36", "--bits", "3/4,1", "--json").stdout)["hole_in"] is None


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["11y0.23"], "'11y0.23': expected a count and an outside diameter in inches, such as 11x0.23"),
        (["0x0.3"], "expected a count of 1 or more, got 0"),
        (["-3x0.2"], "expected a count of 1 or more, got -3"),
        (["2x-0.2"], "expected an outside diameter above 0, got -0.2"),
        (["3xnan"], "got the diameter 'nan'"),
        (["600x0.2"], "expected at most 500 cables in one bundle, got 600"),
        (["9999999999x0.2"], "expected at most 500 cables"),
        ([], "no cables given"),
        (["2x0.2", "--fill", "0.7"], "--fill: expected a fill of at most 60%"),
        (["2x0.2", "--fill", "much"], "--fill 'much': expected a share"),
        (["2x0.2", "--bits", "1,zero"], "got 'zero'"),
    ],
)
def test_bad_input_is_one_message_and_exit_2(words, said):
    answer = ask(*words, "--json")
    assert answer.exit_code == 2
    assert answer.stdout == ""
    assert said in answer.stderr
    assert answer.stderr.count("\n") == 1


def test_all_that_is_wrong_is_told_at_once():
    answer = ask("0x0.3", "11y0.23", "--fill", "2")
    assert answer.exit_code == 2
    assert all(part in answer.stderr for part in ("0x0.3", "11y0.23", "--fill"))
