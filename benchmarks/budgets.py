"""Print the budgets beside what this machine measures: ``.venv/bin/python benchmarks/budgets.py``.

Nothing is asserted: a slow machine is not a defect. A budget whose part is not there yet says so. Lines
without a budget are there to be compared between two states of the program.
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
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache, partial
from itertools import count, cycle
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bayrun.house import Job

ROOT = Path(__file__).resolve().parent.parent
NOT_BUILT = "not built yet"
CABLES = 250
SEED = 312
"""Of the first 400 seeds the house with the most cables that all reach their ends: 119, at 59 locations."""


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


def has_package(name: str) -> bool:
    """Whether a package of Bayrun is there."""
    return importlib.util.find_spec(f"bayrun.{name}") is not None


def told(runs: list[tuple[float, float, int]]) -> str:
    """The best of several runs in new processes, or that they failed."""
    failed = [code for _, _, code in runs if code not in (0, 1)]
    if failed:
        return f"failed with exit code {failed[0]}"
    cpu_s, wall_s, _ = min(runs, key=lambda run: run[1])
    return f"{wall_s:.1f} s ({cpu_s:.1f} s CPU)"


def help_cpu(repeats: int) -> str:
    """CPU of ``bayrun --help``: the best of several, in new processes."""
    runs = [child("--help") for _ in range(repeats)]
    return f"{min(runs)[0]:.2f} s CPU" if not any(code for _, _, code in runs) else "failed"


def pack_of(job: Path, repeats: int) -> str:
    """From a job file to the whole pack, each time in a new process and an empty folder."""
    runs = []
    for _ in range(repeats):
        with tempfile.TemporaryDirectory() as folder:
            runs.append(child("plan", str(job), "--out", str(Path(folder) / "pack")))
    return told(runs)


def house(letter: str) -> Path:
    """The job file of a demo house."""
    return ROOT / "examples" / f"house-{letter}.yaml"


def house_pack(letter: str, repeats: int) -> str:
    """A demo house to its whole pack."""
    return pack_of(house(letter), repeats)


def house_check(letter: str, repeats: int) -> str:
    """``bayrun check`` of a demo house, the best of two."""
    return told([child("check", str(house(letter))) for _ in range(min(2, repeats))])


@cache
def many_cables() -> Job:
    """The random house, given a data port more at each location in turn until it has 250 cables.

    Holes may be 60 % full here: at 40 % the plate over one bay of an enclosure takes fewer than 250.
    """
    from bayrun.house import End, Port, WishedRun

    if str(ROOT / "tests") not in sys.path:
        sys.path.insert(0, str(ROOT / "tests"))
    from random_houses import random_house

    job = random_house(SEED)
    enclosure = End("enclosure", job.enclosures[0].id)
    numbers = {one.id: count(90) for one in job.locations}
    added: dict[str, int] = dict.fromkeys(numbers, 0)
    runs = list(job.runs)
    for location in cycle(job.locations):
        if len(runs) >= CABLES:
            break
        name = f"{location.id}-D{next(numbers[location.id])}"
        runs.append(WishedRun(name, "D", enclosure, End("location", location.id)))
        added[location.id] += 1
    locations = tuple(
        replace(one, ports=(*one.ports, Port("D", added[one.id]))) if added[one.id] else one
        for one in job.locations
    )
    practice = replace(job.practice, fill_max=0.60)
    return replace(job, locations=locations, runs=tuple(runs), practice=practice)


def routed(job_of: Callable[[], Job], _repeats: int) -> str:
    """Cables routed a second, in a process that has routed before; framing is told apart."""
    from bayrun.framing import lay_out
    from bayrun.routing import route

    job = job_of()
    begun = time.perf_counter()
    frame = lay_out(job)
    framed_s, begun = time.perf_counter() - begun, time.perf_counter()
    wiring = route(job, frame)
    routed_s = time.perf_counter() - begun
    reached = len(wiring.runs)
    lost = f", {len(wiring.unreached)} not reached" if wiring.unreached else ""
    pace = f"{reached / routed_s:.0f} cables/s"
    return f"{routed_s:.2f} s: {pace} ({reached} cables{lost}; framing {framed_s:.2f} s)"


def bounded(_repeats: int) -> str:
    """The lower bound of the 250 cables' cost, once, routing not counted."""
    from bayrun.framing import lay_out
    from bayrun.routing import route

    job = many_cables()
    frame = lay_out(job)
    begun = time.perf_counter()
    route(job, frame)
    routed_s, begun = time.perf_counter() - begun, time.perf_counter()
    check = route(job, frame, certify=True).certificate
    bounded_s = time.perf_counter() - begun - routed_s
    if check is None:
        return f"{bounded_s:.1f} s, no bound"
    return f"{bounded_s:.1f} s"


def house_job(letter: str) -> Job:
    """A demo house."""
    from bayrun.files import read_job

    return read_job(house(letter))


def many_pack(_repeats: int) -> str:
    """The house of 250 cables from its job file to the whole pack, once."""
    from bayrun.files.jobwrite import write_job

    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "many.yaml"
        job.write_text(write_job(many_cables()), encoding="utf-8")
        return pack_of(job, 1)


def later(package: str) -> Callable[[int], str]:
    """A budget whose part is still to come: says whether it is missing or only unmeasured."""
    return lambda _repeats: "built, not measured yet" if has_package(package) else NOT_BUILT


def budgets() -> Iterator[Budget]:
    """Every line, those of one kind together."""
    yield Budget("bayrun --help", "0.6 s CPU", help_cpu)
    yield Budget("house A, job file to whole pack, cold", "4 s", partial(house_pack, "a"))
    for letter in "abc":
        yield Budget(f"house {letter.upper()}, bayrun check, cold", "", partial(house_check, letter))
    for letter in "abc":
        what = f"house {letter.upper()} routed"
        yield Budget(what, "", partial(routed, partial(house_job, letter)))
    yield Budget(f"{CABLES} cables routed (a random house)", "1.5 s", partial(routed, many_cables))
    yield Budget(f"{CABLES} cables, job file to whole pack, cold", "", many_pack)
    yield Budget(f"{CABLES} cables, lower bound", "30 s", bounded)
    yield Budget("a moved location re-planned and re-checked, server running", "150 ms", later("web"))
    yield Budget("1,000 mixed houses on two cores", "15 min", later("fleet"))
    yield Budget("a page edit drawn", "50 ms", later("web"))
    yield Budget("server without its workers", "600 MB", later("web"))


def main() -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description="Print the budgets beside what this machine measures.")
    parser.add_argument("--repeats", type=int, default=3, help="the best of so many (default 3)")
    repeats = max(1, parser.parse_args().repeats)
    print(f"Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} cores")
    print(f"{'':60} {'budget':>10}   measured")
    begun = time.perf_counter()
    for budget in budgets():
        print(f"{budget.what:60} {budget.allowed:>10}   {budget.measure(repeats)}", flush=True)
    print(f"Measured in {time.perf_counter() - begun:.0f} s.")


if __name__ == "__main__":
    main()
