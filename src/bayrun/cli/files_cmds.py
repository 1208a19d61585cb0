"""``bayrun schema`` and ``bayrun new``: the job file's keys, and a starter to grow from."""

from __future__ import annotations

import os
import re
from pathlib import Path

import click

from bayrun.cli.talk import print_json, reason, refuse, typed

_OPTIONS = {"revision › date": "--date", "name": "--name", "id": "the file's name"}
"""Place in the starter → what the person typed it as."""


@click.command(help="Print the JSON Schema of the job file (draft 2020-12) on standard output.")
@click.option("--plan", is_flag=True, help="Print the schema of plan.json instead.")
def schema(plan: bool) -> None:
    """Print the JSON Schema of the job file or of plan.json."""
    from bayrun.files import job_schema
    from bayrun.files.planschema import plan_schema

    print_json(plan_schema() if plan else job_schema())


@click.command(help="Write a small starter job file (job.yaml), with comments that say what each part is.")
@click.argument("job", type=click.Path(dir_okay=False, path_type=Path), default=Path("job.yaml"))
@click.option("--name", default="", help="What people call the job.")
@click.option("--date", default="", help="Date of revision 1, printed on sheets, as 2026-11-25.")
@click.option("--force", is_flag=True, help="Write over a file that is already there.")
def new(job: Path, name: str, date: str, force: bool) -> None:
    """Write a starter job file."""
    from bayrun.files import JobFileError, parse_job
    from bayrun.files.starter import starter_job

    if not job.absolute().parent.is_dir():
        raise refuse("new", f"the folder {job.parent} is not there.")
    if job.exists() and not force:
        raise refuse("new", f"{job} is already there and was left as it is. Say --force to write over it.")
    job_id = re.sub(r"[^\w.-]+", "-", job.stem).strip("-.") or "job"
    text = starter_job(job_id, name or "A new job", date)
    try:
        parse_job(text, str(job))
    except JobFileError as error:
        defect = error.defects[0]
        where = _OPTIONS.get(defect.where, defect.where)
        raise refuse("new", f"{where}: expected {defect.expected}, got {defect.got}") from None
    beside = job.with_name(f".{job.name}.{os.getpid()}.part")
    try:
        beside.write_text(text, encoding="utf-8", newline="\n")
        beside.replace(job)
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise refuse("new", f"{job} cannot be written: {reason(error)}") from None
    click.echo(f"{job} is a small house to grow from. Next: bayrun plan {typed(job)}", err=True)
