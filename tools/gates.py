"""What ``./check`` runs: style, format, types, the word scan and the tests; and the table of a long run."""

from __future__ import annotations

import datetime
import os
import platform
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ElementTree
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import programs
import set_up
import words


@dataclass(frozen=True)
class Outcome:
    """How one gate went.

    Args:
        name: The gate.
        passed: Whether it passed.
        seconds: Time it took [s].
        note: Counts, where there are any.
    """

    name: str
    passed: bool
    seconds: float
    note: str = ""

    def line(self) -> str:
        """One line of the table."""
        verdict = "passed" if self.passed else "FAILED"
        return f"{self.name:8} {verdict:7} {self.seconds:7.1f} s  {self.note}".rstrip()


def _timed(name: str, gate: Callable[[], bool]) -> Outcome:
    started = time.monotonic()
    passed = gate()
    outcome = Outcome(name, passed, time.monotonic() - started)
    print(outcome.line(), flush=True)
    return outcome


def _scan(checkout: Path) -> bool:
    try:
        lines = words.scan(checkout)
    except (OSError, subprocess.CalledProcessError) as error:
        lines = [f"the scan needs git and a git checkout: {error}"]
    print("".join(f"{line}\n" for line in lines), end="", flush=True)
    return not lines


def _test_counts(report: Path) -> tuple[str, list[str]]:
    """Read pytest's report: the counts, and the ten slowest tests as lines."""
    try:
        suites = list(ElementTree.parse(report).getroot().iter("testsuite"))
    except (OSError, ElementTree.ParseError):
        return "no report", []
    counts = {
        key: sum(int(s.get(key, "0")) for s in suites) for key in ("tests", "failures", "errors", "skipped")
    }
    bad = counts["failures"] + counts["errors"]
    text = f"{counts['tests'] - bad - counts['skipped']} passed, {bad} failed, {counts['skipped']} skipped"
    cases = [(float(c.get("time", "0")), f"{c.get('classname')}::{c.get('name')}") for c in _cases(suites)]
    slowest = [f"{seconds:9.1f} s  {name}" for seconds, name in sorted(cases, reverse=True)[:10]]
    return text, slowest


def _cases(suites: Sequence[ElementTree.Element]) -> list[ElementTree.Element]:
    return [case for suite in suites for case in suite.iter("testcase")]


def _commit(checkout: Path) -> str:
    try:
        command = ["git", "rev-parse", "--short", "HEAD"]
        return subprocess.run(
            command, cwd=checkout, capture_output=True, check=True, text=True
        ).stdout.strip()
    except (OSError, subprocess.CalledProcessError):
        return "unknown"


def write_table(
    checkout: Path, outcomes: Sequence[Outcome], slowest: Sequence[str], day: datetime.date
) -> Path:
    """Write the dated table of a long run under docs/checks/ and return its path."""
    path = checkout / "docs" / "checks" / f"long-{day.isoformat()}.txt"
    path.parent.mkdir(parents=True, exist_ok=True)
    whole = Outcome("all", all(o.passed for o in outcomes), sum(o.seconds for o in outcomes))
    lines = [
        f"./check --long, {day.isoformat()}, at {_commit(checkout)}",
        f"Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} cores",
        "",
        *(outcome.line() for outcome in outcomes),
        whole.line(),
        "",
        "Slowest tests",
        *slowest,
    ]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def run(checkout: Path, *, long: bool) -> int:
    """Run every gate and then the tests, whose closing line stays last; return 0 when all passed."""
    place = set_up.ensure(checkout, "dev")
    environment = {**os.environ, **place.environment()}
    environment.update(dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1"))
    environment.pop("PYTHONPATH", None)
    environment.pop("BAYRUN_LONG", None)
    if long:
        environment["BAYRUN_LONG"] = "1"

    def python(*arguments: str) -> bool:
        sys.stdout.flush()
        return subprocess.call([str(place.python), *arguments], cwd=checkout, env=environment) == 0

    outcomes = [
        _timed("style", lambda: python("-m", "ruff", "check", "--quiet", ".")),
        _timed("format", lambda: python("-m", "ruff", "format", "--check", "--quiet", ".")),
        _timed("types", lambda: python("-m", "mypy", "--no-error-summary")),
        _timed("page", lambda: programs.page_types(checkout)),
        _timed("words", lambda: _scan(checkout)),
    ]
    with tempfile.TemporaryDirectory(prefix="bayrun-check-") as folder:
        report = Path(folder) / "tests.xml"
        started = time.monotonic()
        passed = python("-m", "pytest", "-n", "2", "--durations=10", f"--junitxml={report}")
        note, slowest = _test_counts(report)
        outcomes.append(Outcome("tests", passed, time.monotonic() - started, note))
    if long:
        written = write_table(checkout, outcomes, slowest, datetime.date.today())  # noqa: DTZ011
        print(f"Written: {written.relative_to(checkout)}", file=sys.stderr)
    failed = [outcome.name for outcome in outcomes if not outcome.passed]
    if failed:
        print(f"./check FAILED: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0


def main(checkout: Path, arguments: Sequence[str]) -> int:
    """Read the arguments of ``./check`` and run it."""
    if set(arguments) - {"--long"}:
        print("Usage: ./check [--long]", file=sys.stderr)
        return 2
    try:
        return run(checkout, long="--long" in arguments)
    except set_up.SetupError as error:
        set_up.say(f"Set-up: {error}")
        return 2
    except KeyboardInterrupt:
        set_up.say("\nStopped.")
        return 130
