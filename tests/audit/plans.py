"""Plans of houses as plain data, made once for all tests of the audit."""

from __future__ import annotations

import dataclasses
import json
from functools import cache
from typing import Any

from bayrun.files import read_job
from bayrun.files.planjson import plan_json
from bayrun.house import Job
from bayrun.jobs import Plan
from bayrun.jobs import plan as plan_job
from conftest import ROOT


def as_plan(job: Job) -> dict[str, Any]:
    """plan.json of a job, parsed."""
    return plan_data(plan_job(job))


def plan_data(made: Plan) -> dict[str, Any]:
    """plan.json of a plan already made, parsed."""
    told = tuple(f for f in made.findings if f not in made.counted.findings)
    data: dict[str, Any] = json.loads(plan_json(made.job, made.frame, made.wiring, made.counted, told))
    return data


@cache
def heavy() -> tuple[Job, str]:
    """House A by a firm with one big bit, every wall bearing: nail plates and straps all over."""
    job = read_job(ROOT / "examples" / "house-a.yaml")
    walls = tuple(dataclasses.replace(wall, bearing=None) for wall in job.walls)
    practice = dataclasses.replace(job.practice, bits_in=(2.0,))
    job = dataclasses.replace(job, walls=walls, practice=practice)
    return job, json.dumps(as_plan(job))


@cache
def example(house: str) -> tuple[Job, str]:
    """A demo house's job, and its plan.json as text; ``heavy`` is the one of nail plates and straps."""
    if house == "heavy":
        return heavy()
    job = read_job(ROOT / "examples" / f"house-{house}.yaml")
    return job, json.dumps(as_plan(job))
