"""``bayrun schema`` and ``bayrun new``: the job file's keys, and a starter to grow from."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import click


@click.command(help="Print the JSON Schema of the job file (draft 2020-12) on standard output.")
@click.option("--plan", is_flag=True, help="Print the schema of plan.json instead.")
def schema(plan: bool) -> None:
    """Print the JSON Schema of the job file or of plan.json."""
    from bayrun.files import job_schema
    from bayrun.files.planschema import plan_schema

    click.echo(json.dumps(plan_schema() if plan else job_schema(), indent=2, ensure_ascii=False))


@click.command(help="Write a small starter job file (job.yaml), with comments that say what each part is.")
@click.argument("job", type=click.Path(dir_okay=False, path_type=Path), default=Path("job.yaml"))
@click.option("--name", default="", help="What people call the job.")
@click.option("--date", default="", help="Date of revision 1, printed on sheets, as 2026-11-25.")
@click.option("--force", is_flag=True, help="Write over a file that is already there.")
def new(job: Path, name: str, date: str, force: bool) -> None:
    """Write a starter job file."""
    from bayrun.files import JobFileError, parse_job
    from bayrun.files.starter import starter_job

    if job.exists() and not force:
        _refuse(f"{job} is already there and was left as it is. Say --force to write over it.")
    job_id = re.sub(r"[^\w.-]+", "-", job.stem).strip("-.") or "job"
    text = starter_job(job_id, name or "A new job", date)
    try:
        parse_job(text, str(job))
    except JobFileError as error:
        defect = error.defects[0]
        _refuse(f"{defect.where}: expected {defect.expected}, got {defect.got}")
    beside = job.with_name(f".{job.name}.{os.getpid()}.part")
    try:
        beside.write_text(text, encoding="utf-8", newline="\n")
        beside.replace(job)
    except OSError as error:
        beside.unlink(missing_ok=True)
        _refuse(f"{job} cannot be written: {(error.strerror or str(error)).lower()}")
    click.echo(f"{job} is a small house to grow from. Next: bayrun plan {job}", err=True)


def _refuse(says: str) -> None:
    click.echo(f"bayrun new: {says}", err=True)
    raise SystemExit(2)
