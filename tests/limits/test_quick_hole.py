"""``quick hole`` at the command line: exit codes, JSON alone on stdout, clear refusals."""

from __future__ import annotations

import json
from typing import Any

import pytest
from click.testing import CliRunner

from bayrun.cli.quick_hole import hole


def ask(*words: str) -> tuple[int, dict[str, Any]]:
    """Exit code and JSON of one question."""
    result = CliRunner().invoke(hole, [*words, "--json"])
    return result.exit_code, json.loads(result.stdout)


def test_the_answer_has_every_key() -> None:
    code, told = ask("--member", "2x4", "--bearing", "--size", "1-1/4")
    assert code == 0
    assert told["legal"] is True
    assert told["limit_in"] == 1.4
    assert told["margins_in"] == [1.125, 1.125]
    assert told["plates"] == 2
    assert told["strap"] is False
    assert told["clause"] == "IRC 2021 R602.6"
    assert told["confirmed"] == "confirmed"
    assert told["severity"] == "note"
    assert {"source", "findings", "fixes", "assumed"} <= set(told)


def test_a_stop_exits_one_with_fixes() -> None:
    code, told = ask("--member", "2x4", "--size", "1-1/2")
    assert (code, told["legal"], told["severity"]) == (1, False, "stop")
    says = [fix["says"] for fix in told["fixes"]]
    assert says[0] == 'Use the 1-3/8" bit.'
    assert {fix["request_to"] for fix in told["fixes"]} == {"", "framer"}
    assert "nobody said whether the wall bears, so it counts as bearing" in told["assumed"]


def test_no_fix_is_offered_that_would_not_cure() -> None:
    # 2-1/8 is over 60 %: neither doubling nor a non-bearing answer makes it legal.
    _, told = ask("--member", "2x4", "--size", "2-1/8")
    assert [fix["request_to"] for fix in told["fixes"]] == [""]


@pytest.mark.parametrize(
    ("words", "limit_in", "legal"),
    [
        (("--member", "2x6", "--exterior", "--non-bearing", "--size", "2.2"), 2.2, True),
        (("--member", "2x6", "--role", "joist", "--size", "1-13/16"), 1.833333, False),
        (("--member", "2x10", "--role", "joist", "--size", "3", "--along", "5-0"), 3.083333, True),
        (("--member", "2x8", "--role", "rafter", "--size", "2-7/16"), 2.416667, False),
        (("--member", "2x4", "--role", "king", "--size", "1"), 1.4, True),
        (("--member", "2x4", "--role", "plate", "--size", "2"), 1.75, True),
        (("--member", "2x10", "--role", "header", "--size", "1/2"), None, False),
        (("--member", "2x12", "--role", "beam", "--size", "1/2"), None, False),
        (("--member", "truss", "--size", "1/2"), None, False),
        (("--member", "openweb", "--size", "1/2"), None, False),
        (("--member", "lvl", "--size", "1/2"), None, False),
        (("--member", "ijoist", "--size", "1/2"), None, False),
        (("--member", "steel", "--non-bearing", "--size", "1"), 1.5, True),
    ],
)
def test_every_member_kind(words: tuple[str, ...], limit_in: float | None, legal: bool) -> None:
    code, told = ask(*words)
    assert (told["limit_in"], told["legal"], code) == (limit_in, legal, 0 if legal else 1)


def test_a_wide_plate_hole_asks_a_strap() -> None:
    _, told = ask("--member", "2x4", "--role", "plate", "--size", "2")
    assert told["strap"] is True
    assert any('at least 14" long' in f["says"] for f in told["findings"])


def test_edition_2017_calls_plates_practice() -> None:
    _, told = ask("--member", "2x4", "--size", "1-1/4", "--edition", "2017")
    (plate,) = [f for f in told["findings"] if f["rule"] == "nail-plate"]
    assert plate["source"] == "NEC 2017 300.4(A)(1)"
    assert "does not bind low voltage" in plate["says"]


def test_edition_nobody_read_is_to_verify() -> None:
    _, told = ask("--member", "2x4", "--size", "1", "--edition", "IRC 2024")
    assert (told["confirmed"], told["severity"]) == ("from memory", "cannot tell")
    assert "verify" in told["source"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ("--member", "2x4", "--size", "1", "--edition", "2015"),
            "IRC 2018, 2021, 2024; NEC 2017, 2020, 2023",
        ),
        (("--member", "2x4", "--size", "five"), "'--size': expected a length such as"),
        (("--member", "2x4", "--size", "0"), "--size: expected a diameter over zero"),
        (("--member", "2x4", "--size", "-1", "--centre", "9"), '--centre: expected 0 to 3-1/2"'),
        (("--member", "2x5", "--size", "1"), "'2x5' is not one of"),
        (("--member", "2x4", "--size", "1", "--depth", "4"), 'a 2x4 is 3-1/2" deep'),
    ],
)
def test_bad_input_is_one_clear_message(words: tuple[str, ...], told: str) -> None:
    result = CliRunner().invoke(hole, list(words))
    assert result.exit_code == 2
    assert result.stdout == ""
    assert told in result.stderr
    assert "Traceback" not in result.stderr


def test_what_an_installer_reads() -> None:
    result = CliRunner().invoke(hole, ["--member", "2x4", "--bearing", "--size", "1-1/2"])
    lines = result.stdout.splitlines()
    assert lines[0] == 'STOP: 1-1/2" hole in a 3-1/2" bearing stud'
    assert lines[1] == 'Largest hole: 1.40" (1-3/8" by the tape)  [IRC 2021 R602.6]'
    assert "2-1/8" not in result.stdout
