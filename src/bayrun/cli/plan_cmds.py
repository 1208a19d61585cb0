"""``bayrun plan``, ``check`` and ``demo``: from a job file to a pack, to findings, to a first look."""

from __future__ import annotations

import json
import os
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from bayrun.cli.talk import Told, refuse

if TYPE_CHECKING:
    from bayrun.findings import Finding
    from bayrun.house import Job
    from bayrun.jobs import Plan

MARKS = {"stop": "[#]", "fix soon": "[/]", "note": "[ ]", "cannot tell": "[?]"}


@click.command(help="Plan a job file and write its pack: PDF, drawings, lists, workbook, plan.json.")
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--out", type=click.Path(path_type=Path), default=None, help="Folder for the pack (default: JOB-pack)."
)
@click.option("--json", "as_json", is_flag=True, help="Print the totals as JSON on standard output.")
@click.option("--quiet", is_flag=True, help="No progress.")
def plan(job: Path, out: Path | None, as_json: bool, quiet: bool) -> None:
    """Plan a job file and write its pack."""
    out = out or job.with_name(f"{job.stem}-pack")
    made = make(job, out, "plan", Told(quiet))
    if as_json:
        from bayrun.files.planjson import to_plain

        click.echo(json.dumps(to_plain(made.totals), indent=2, sort_keys=True))
    raise SystemExit(1 if made.stops else 0)


def make(job: Path, out: Path, command: str, told: Told) -> Plan:
    """Read, plan, write; nothing half-written stays behind.

    Raises:
        SystemExit: With 2 and one clear message where the job or the folder cannot be used.
    """
    from bayrun.jobs import plan as plan_job
    from bayrun.jobs.pack import make_pack
    from bayrun.workers.typst_worker import TypesettingError

    read, text = _read(job, command)
    _look_at_folder(out, command)
    made = plan_job(read, told)
    try:
        files = make_pack(made, text, told)
    except TypesettingError as error:
        raise refuse(command, f"the sheets could not be set: {error}. Nothing was written.") from None
    _write(out, files, command)
    t = made.totals
    told.done(
        f"{out}: {t.runs} runs, {t.feet:,.0f} ft, {t.holes} holes, {t.plates} nail plates, "
        f"{t.stops} stop, {t.fix_soon} fix soon, {t.cannot_tell} cannot tell. Open {out / 'pack.pdf'}"
    )
    return made


def _read(path: Path, command: str) -> tuple[Job, str]:
    from bayrun.files import JobFileError, read_job

    if not path.exists():
        raise refuse(command, f"{path} is not there. “bayrun new {path}” writes a starter job file.")
    if path.is_dir():
        raise refuse(command, f"{path} is a folder: expected a job file (YAML).")
    try:
        return read_job(path), path.read_text(encoding="utf-8-sig")
    except JobFileError as error:
        click.echo(str(error), err=True)
        count = len(error.defects)
        raise refuse(
            command, f"{path} has {count} {'defect' if count == 1 else 'defects'}; nothing was written."
        ) from None
    except OSError as error:
        raise refuse(command, f"{path} cannot be read: {(error.strerror or str(error)).lower()}") from None


def _look_at_folder(out: Path, command: str) -> None:
    if out.exists() and not out.is_dir():
        raise refuse(command, f"{out} is a file: expected a folder for the pack.")
    if out.is_dir() and any(out.iterdir()) and not (out / "plan.json").exists():
        raise refuse(command, f"{out} holds other things and was left as it is: name an empty or new folder.")
    parent = out.resolve().parent
    if not parent.is_dir():
        raise refuse(command, f"the folder {parent} is not there.")
    if not os.access(parent, os.W_OK):
        raise refuse(command, f"the folder {parent} cannot be written.")


def _write(out: Path, files: dict[str, bytes], command: str) -> None:
    """Write beside, then rename: a reader never sees half a pack."""
    beside = out.with_name(f".{out.name}.{os.getpid()}.part")
    old = out.with_name(f".{out.name}.{os.getpid()}.old")
    try:
        beside.mkdir(parents=True)
        for name, data in files.items():
            path = beside / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
        if out.exists():
            out.replace(old)
        beside.replace(out)
    except OSError as error:
        if old.exists() and not out.exists():
            old.replace(out)
        raise refuse(command, f"{out} cannot be written: {(error.strerror or str(error)).lower()}") from None
    finally:
        shutil.rmtree(beside, ignore_errors=True)
        shutil.rmtree(old, ignore_errors=True)


@click.command(help="List what is wrong with a job's plan; exit 1 when a finding says stop.")
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON on standard output.")
@click.option("--quiet", is_flag=True, help="No progress.")
@click.option("--notes/--no-notes", default=True, help="Show notes too.")
def check(job: Path, as_json: bool, quiet: bool, notes: bool) -> None:
    """List the findings of a job's plan."""
    from bayrun.jobs import plan as plan_job

    told = Told(quiet)
    read, _ = _read(job, "check")
    made = plan_job(read, told)
    shown = [f for f in made.findings if notes or f.severity.value != "note"]
    if as_json:
        from bayrun.files.planjson import to_plain

        data = {"findings": [{"id": f.id, **to_plain(f)} for f in shown], "stops": len(made.stops)}
        click.echo(json.dumps(data, indent=2, sort_keys=True, ensure_ascii=False))
    else:
        for finding in shown:
            click.echo(_words(finding))
    counts = ", ".join(f"{sum(f.severity.value == name for f in made.findings)} {name}" for name in MARKS)
    told.done(f"{read.name}: {counts}.")
    raise SystemExit(1 if made.stops else 0)


def _words(finding: Finding) -> str:
    lines = [f"{MARKS[finding.severity.value]} {finding.severity.value.upper()}  {finding.place}"]
    lines.append(f"    {finding.says}")
    if finding.source is not None:
        lines.append(f"    {finding.source} ({finding.rule})")
    lines += [
        f"    cure: {fix.says}" + (f" (ask the {fix.request_to})" if fix.request_to else "")
        for fix in finding.fixes
    ]
    return "\n".join(lines)


@click.command(help="Plan the small demo house into ./bayrun-demo and say what to open.")
@click.option(
    "--out", type=click.Path(path_type=Path), default=Path("bayrun-demo"), help="Folder for the pack."
)
@click.option(
    "--house", type=click.Choice(["a", "b", "c"], case_sensitive=False), default="a", help="Which demo house."
)
def demo(out: Path, house: str) -> None:
    """Plan a demo house."""
    from bayrun.files.examples import example_file

    job = example_file(house.lower())
    made = make(job, out, "demo", Told())
    click.echo(f"The pack:      {out / 'pack.pdf'}", err=True)
    click.echo(
        f"The job file:  {out / 'job.yaml'}  (change it, then: bayrun plan {out / 'job.yaml'})", err=True
    )
    click.echo(f"The lists:     {out / 'lists.xlsx'} and {out / 'lists'}", err=True)
    click.echo("Demo houses are invented; member sizes are plausible, not engineered.", err=True)
    sys.exit(1 if made.stops else 0)
