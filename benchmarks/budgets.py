"""Print the budgets beside what this machine measures: ``.venv/bin/python benchmarks/budgets.py``.

Nothing is asserted: a slow machine is not a defect. A budget whose part is not there yet says so.
"""

from __future__ import annotations

import argparse
import importlib.util
import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
NOT_BUILT = "not built yet"


@dataclass(frozen=True)
class Budget:
    """One line of the table: what, how much is allowed, and how it is measured."""

    what: str
    allowed: str
    measure: Callable[[int], str]


def child(*arguments: str, cwd: Path = ROOT) -> tuple[float, float, int]:
    """Run ``python -m bayrun`` once; return CPU seconds, wall seconds and the exit code."""
    before, started = os.times(), time.perf_counter()
    command = [sys.executable, "-P", "-m", "bayrun", *arguments]
    done = subprocess.run(command, cwd=cwd, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    wall_s, after = time.perf_counter() - started, os.times()
    cpu_s = after.children_user + after.children_system - before.children_user - before.children_system
    return cpu_s, wall_s, done.returncode


def has_command(name: str) -> bool:
    """Whether the command line offers a command."""
    return child(name, "--help")[2] == 0


def has_package(name: str) -> bool:
    """Whether a package of Bayrun is there."""
    return importlib.util.find_spec(f"bayrun.{name}") is not None


def help_cpu(repeats: int) -> str:
    """CPU of ``bayrun --help``: the best of several, in new processes."""
    runs = [child("--help") for _ in range(repeats)]
    return f"{min(runs)[0]:.2f} s CPU" if not any(code for _, _, code in runs) else "failed"


def house_a(repeats: int) -> str:
    """House A from its job file to the whole pack, each time in a new process and an empty folder."""
    job = ROOT / "examples" / "house-a.yaml"
    if not job.exists() or not has_command("plan"):
        return NOT_BUILT
    walls = []
    for _ in range(repeats):
        with tempfile.TemporaryDirectory() as folder:
            cpu_s, wall_s, code = child("plan", str(job), "--out", str(Path(folder) / "pack"))
            if code not in (0, 1):
                return f"failed with exit code {code}"
            walls.append((wall_s, cpu_s))
    wall_s, cpu_s = min(walls)
    return f"{wall_s:.1f} s ({cpu_s:.1f} s CPU)"


def later(package: str) -> Callable[[int], str]:
    """A budget whose part is still to come: says whether it is missing or only unmeasured."""
    return lambda _repeats: "built, not measured yet" if has_package(package) else NOT_BUILT


BUDGETS = (
    Budget("bayrun --help", "0.6 s CPU", help_cpu),
    Budget("house A, job file to whole pack, cold", "4 s", house_a),
    Budget("a moved location re-planned and re-checked, server running", "150 ms", later("web")),
    Budget("250 cables routed", "1.5 s", later("routing")),
    Budget("250 cables, lower bound", "30 s", later("routing")),
    Budget("1,000 mixed houses on two cores", "15 min", later("fleet")),
    Budget("a page edit drawn", "50 ms", later("web")),
    Budget("server without its workers", "600 MB", later("web")),
)


def main() -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description="Print the budgets beside what this machine measures.")
    parser.add_argument("--repeats", type=int, default=3, help="the best of so many (default 3)")
    repeats = max(1, parser.parse_args().repeats)
    print(f"Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} cores")
    print(f"{'':60} {'budget':>10}   measured")
    for budget in BUDGETS:
        print(f"{budget.what:60} {budget.allowed:>10}   {budget.measure(repeats)}", flush=True)


if __name__ == "__main__":
    main()
