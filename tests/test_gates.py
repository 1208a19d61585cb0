"""``./check``: every gate runs, one failure fails the whole, and a long run leaves its table."""

from __future__ import annotations

import datetime
import subprocess
from pathlib import Path
from typing import Any

import pytest

import gates
import programs
import set_up
from gates import Outcome

REPORT = """<testsuites><testsuite tests="5" failures="1" errors="1" skipped="1">
<testcase classname="tests.test_a" name="test_slow" time="2.5"/>
<testcase classname="tests.test_b" name="test_slower[1-2]" time="31.0"/>
</testsuite></testsuites>"""


class Machine:
    """Stands in for the programs that the gates start."""

    def __init__(self, failing: str = "") -> None:
        self.failing, self.started, self.environments = failing, [], []  # type: ignore[var-annotated]

    def call(self, command: list[str], *, cwd: Path, env: dict[str, str]) -> int:
        assert cwd.is_dir()
        name = command[2]
        self.started.append(name if name != "ruff" else f"ruff {command[3]}")
        self.environments.append(env)
        for argument in command:
            if argument.startswith("--junitxml="):
                Path(argument.removeprefix("--junitxml=")).write_text(REPORT)
        return 1 if self.started[-1] == self.failing else 0


def run(monkeypatch: pytest.MonkeyPatch, checkout: Path, machine: Machine, *, long: bool = False) -> int:
    def ensure(where: Path, level: str, **_: Any) -> set_up.Place:
        assert level == "dev"
        return set_up.checkout_place(where)

    monkeypatch.setattr(set_up, "ensure", ensure)
    monkeypatch.setattr(subprocess, "call", machine.call)
    monkeypatch.setattr(gates, "_scan", lambda _: machine.failing != "words")
    monkeypatch.setattr(programs, "page_types", lambda _: machine.failing != "page")
    monkeypatch.setattr(gates, "_commit", lambda _: "abc1234")
    return gates.run(checkout, long=long)


ALL = ["ruff check", "ruff format", "mypy", "pytest"]


def test_every_gate_runs_and_the_tests_are_last(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    machine = Machine()
    assert run(monkeypatch, tmp_path, machine) == 0
    assert machine.started == ALL
    assert "BAYRUN_LONG" not in machine.environments[-1]
    assert not (tmp_path / "docs").exists()


@pytest.mark.parametrize("failing", [*ALL, "page", "words"])
def test_one_failure_fails_the_whole_and_stops_nothing(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str], failing: str
) -> None:
    machine = Machine(failing)
    assert run(monkeypatch, tmp_path, machine) == 1
    assert machine.started == ALL
    assert "./check FAILED: " in capsys.readouterr().err


def test_long_run_raises_counts_and_writes_its_table(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    machine = Machine("pytest")
    assert run(monkeypatch, tmp_path, machine, long=True) == 1
    assert machine.environments[-1]["BAYRUN_LONG"] == "1"
    (table,) = (tmp_path / "docs" / "checks").glob("long-????-??-??.txt")
    text = table.read_text()
    assert "2 passed, 2 failed, 1 skipped" in text
    assert text.endswith(
        "     31.0 s  tests.test_b::test_slower[1-2]\n      2.5 s  tests.test_a::test_slow\n"
    )
    assert str(tmp_path) not in text


def test_table_reads_as_a_table(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(gates, "_commit", lambda _: "abc1234")
    outcomes = [Outcome("style", True, 0.24), Outcome("tests", False, 61.5, "9 passed, 1 failed, 0 skipped")]
    path = gates.write_table(tmp_path, outcomes, ["     61.0 s  a::b"], datetime.date(2026, 3, 4))
    assert path == tmp_path / "docs" / "checks" / "long-2026-03-04.txt"
    lines = path.read_text().splitlines()
    assert lines[0] == "./check --long, 2026-03-04, at abc1234"
    assert lines[3:6] == [
        "style    passed      0.2 s",
        "tests    FAILED     61.5 s  9 passed, 1 failed, 0 skipped",
        "all      FAILED     61.7 s",
    ]


def test_lost_report_is_told(tmp_path: Path) -> None:
    assert gates._test_counts(tmp_path / "none.xml") == ("no report", [])


def test_unknown_argument_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert gates.main(tmp_path, ["--lnog"]) == 2
    assert capsys.readouterr().err == "Usage: ./check [--long]\n"
