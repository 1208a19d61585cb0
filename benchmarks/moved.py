"""One location moved: what each stage takes, in a session that is already open.

    .venv/bin/python benchmarks/moved.py [--moves N] [A B C many]

Prints for each house the median over moves: the passage graph, the valid plan (kept runs and those that must
move), the polishing, the whole routing, counting, rules, and all of it; how many other runs moved at most;
and whether the result has the same bytes as without the session. Times are CPU milliseconds of this process,
so that a busy machine does not count. Nothing is asserted. Budgets: valid plan 10 ms, polished 100 ms (solver
state alone), all of it 150 ms in house B, 500 ms with 250 cables, at most 5 other runs moved.
"""

from __future__ import annotations

import argparse
import importlib
import random
import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from bayrun.files import read_job
from bayrun.house import Job
from bayrun.jobs.plan import plan
from bayrun.jobs.session import Session
from bayrun.takeoff.changes import moved_runs

ROOT = Path(__file__).resolve().parent.parent
STAGES = ("graph", "valid", "polish", "route", "count", "rules", "all")


class Clock:
    """Sums the CPU time of calls by stage."""

    def __init__(self) -> None:
        """Nothing measured yet."""
        self.spent: dict[str, float] = {}

    def wrap(self, owner: Any, name: str, stage: str) -> None:
        """Count the calls of a function or method under a stage."""
        inner: Callable[..., Any] = getattr(owner, name)

        def timed(*args: Any, **named: Any) -> Any:
            started = time.process_time()
            try:
                return inner(*args, **named)
            finally:
                self.spent[stage] = self.spent.get(stage, 0.0) + time.process_time() - started

        setattr(owner, name, timed)


def watched() -> Clock:
    """A clock on the stages of a plan."""
    clock = Clock()
    route = importlib.import_module("bayrun.routing.route")
    jobs_plan = importlib.import_module("bayrun.jobs.plan")
    solver = importlib.import_module("bayrun.routing.solver").Solver
    for name in ("passages", "settle", "standing", "weave"):
        clock.wrap(route, name, "graph")
    clock.wrap(route.Keeper, "keep", "valid")
    clock.wrap(solver, "solve", "valid")
    clock.wrap(solver, "polish", "polish")
    clock.wrap(importlib.import_module("bayrun.routing"), "route", "route")
    clock.wrap(jobs_plan, "takeoff", "count")
    clock.wrap(jobs_plan, "check", "rules")
    clock.wrap(Session, "plan", "all")
    return clock


def moved(job: Job, dice: random.Random) -> tuple[Job, str]:
    """One location of a wall with runs, elsewhere along it, clear of openings and corners by chance."""
    used = {end.id for run in job.runs for end in (run.from_end, run.to_end)}
    walls = {w.id: w for w in job.walls}
    here = [q for q in job.locations if q.id in used and q.wall and q.offset_in is not None]
    q = dice.choice(here)
    assert q.wall is not None
    wall = walls[q.wall]
    to_in = round(dice.uniform(wall.plate_start_in + 8, wall.plate_end_in - 8) * 16) / 16
    changed = tuple(replace(one, offset_in=to_in) if one.id == q.id else one for one in job.locations)
    return replace(job, locations=changed), q.id


def house(name: str) -> Job:
    """A demo house by its letter, or the random one with 250 cables."""
    if name == "many":
        from budgets import many_cables

        return many_cables()
    return read_job(ROOT / "examples" / f"house-{name.lower()}.yaml")


def measure(name: str, moves: int, clock: Clock) -> None:
    """Print one line for a house."""
    from bayrun.files.planjson import plan_json

    dice, session, job = random.Random(f"moved {name}"), Session(), house(name)
    base = session.plan(job)
    rows: list[dict[str, float]] = []
    most, alike = 0, True
    for n in range(moves):
        after, which = moved(job, dice)
        clock.spent.clear()
        made = session.plan(after, base=base.issued)
        rows.append(dict(clock.spent))
        own = {r.id for r in job.runs if which in (r.from_end.id, r.to_end.id)}
        most = max(most, len(set(moved_runs(base.wiring, made.wiring)) - own))
        if n == 0:
            cold = plan(after, base=base.issued)
            first, second = (plan_json(p.job, p.frame, p.wiring, p.counted, p.findings) for p in (made, cold))
            alike = first == second
    middle = {s: 1000 * statistics.median(row.get(s, 0.0) for row in rows) for s in STAGES}
    figures = "  ".join(f"{s} {middle[s]:6.1f}" for s in STAGES)
    same = "the same bytes as cold" if alike else "OTHER BYTES THAN COLD"
    print(f"{name:5} {len(job.runs):4} cables  {figures}  others moved {most}  {same}", flush=True)


def main() -> None:
    """Print a line for each house."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("houses", nargs="*", default=["A", "B", "C", "many"])
    parser.add_argument("--moves", type=int, default=9)
    asked = parser.parse_args()
    clock = watched()
    print("CPU ms, median of moves:")
    for name in asked.houses:
        measure(name, asked.moves, clock)


if __name__ == "__main__":
    main()
