"""``bayrun plan``, ``check`` and ``demo``: from a job file to a pack, to findings, to a first look."""

from __future__ import annotations

import shutil
import sys
import textwrap
from pathlib import Path
from typing import TYPE_CHECKING

import click

from bayrun.cli.out_folder import default_folder, install, look
from bayrun.cli.talk import Told, print_json, reason, refuse, typed

if TYPE_CHECKING:
    from bayrun.findings import Finding
    from bayrun.house import Job
    from bayrun.jobs import Plan
    from bayrun.wiring import Wiring

MARKS = {"stop": "[#]", "fix soon": "[/]", "note": "[ ]", "cannot tell": "[?]"}
STOPS_TOLD = 5
"""Findings that say stop and are told after planning; the others by their number."""


@click.command(help="Plan a job file and write its pack: PDF, drawings, lists, workbook, plan.json.")
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=None,
    help="Folder for the pack (default: JOB-pack beside JOB; a pack's own job.yaml renews its pack).",
)
@click.option(
    "--base",
    type=click.Path(path_type=Path),
    default=None,
    help="The pack last issued: holes that stay keep the names chalked on the wood.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the totals as JSON on standard output.")
@click.option("--quiet", is_flag=True, help="No progress.")
def plan(job: Path, out: Path | None, base: Path | None, as_json: bool, quiet: bool) -> None:
    """Plan a job file and write its pack."""
    made = make(job, out, "plan", Told(quiet), base)
    if as_json:
        from bayrun.files.planjson import to_plain

        print_json(to_plain(made.totals), sort_keys=True)
    raise SystemExit(1 if made.stops else 0)


def make(job: Path, out: Path | None, command: str, told: Told, base: Path | None = None) -> Plan:
    """Read, plan, write; nothing half-written stays behind.

    Args:
        base: Pack last issued, or its plan.json: names are carried from it.

    Raises:
        SystemExit: With 2 and one clear message where the job or the folder cannot be used.
    """
    from bayrun.jobs.pack import make_pack
    from bayrun.rules.words import count_of
    from bayrun.workers.typst_worker import TypesettingError

    read, data = _read(job, command)
    out = default_folder(job) if out is None else out
    look(out, job, data, command)
    issued = None if base is None else _issued(base, command)
    made = _planned(read, job, command, told, issued, certify=True)
    try:
        files = make_pack(made, data, told)
    except TypesettingError as error:
        raise refuse(command, f"the sheets could not be set: {error}. Nothing was written.") from None
    install(out, files, command)
    t = made.totals
    parts = [count_of(t.runs, "run"), f"{t.feet:,.0f} ft", count_of(t.holes, "hole")]
    parts += [count_of(t.plates, "nail plate"), f"{t.stops} stop", f"{t.fix_soon} fix soon"]
    parts.append(f"{t.cannot_tell} cannot tell")
    if t.unreached:
        parts.insert(1, f"{count_of(t.unreached, 'run')} not planned")
    told.done(f"{out}: {', '.join(parts)}. Open {out / 'pack.pdf'}")
    for finding in made.stops[:STOPS_TOLD]:
        click.echo(f"  stop: {finding.place}: {finding.says}", err=True)
    if len(made.stops) > STOPS_TOLD:
        more = len(made.stops) - STOPS_TOLD
        click.echo(f"  and {more} more that say stop: bayrun check {typed(job)}", err=True)
    return made


def _issued(base: Path, command: str) -> Wiring:
    """The wiring of the pack last issued."""
    from bayrun.files.planjson import PlanFileError, read_plan_json

    path = base / "plan.json" if base.is_dir() else base
    try:
        return read_plan_json(path.read_bytes()).wiring
    except OSError as error:
        raise refuse(command, f"the plan last issued, {path}, cannot be read: {reason(error)}") from None
    except PlanFileError as error:
        raise refuse(command, f"{path} is not a plan: {error}") from None


def _planned(
    read: Job, path: Path, command: str, told: Told, issued: Wiring | None = None, certify: bool = False
) -> Plan:
    from bayrun.house import ModelError
    from bayrun.jobs import plan as plan_job

    try:
        return plan_job(read, told, issued, certify)
    except ModelError as error:
        raise refuse(command, f"{path} cannot be planned: {error}. Nothing was written.") from None


def _read(path: Path, command: str) -> tuple[Job, bytes]:
    """The job, and the file's own bytes: read once, for a pipe gives them only once."""
    from bayrun.files import JobFileError, parse_job
    from bayrun.files.yaml_text import decode

    if path.is_dir():
        raise refuse(command, f"{path} is a folder: expected a job file (YAML).")
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        raise refuse(
            command, f"{path} is not there. “bayrun new {typed(path)}” writes a starter job file."
        ) from None
    except OSError as error:
        raise refuse(command, f"{path} cannot be read: {reason(error)}") from None
    try:
        return parse_job(decode(data, str(path)), str(path)), data
    except JobFileError as error:
        click.echo(str(error), err=True)
        count = len(error.defects)
        raise refuse(
            command, f"{path} has {count} {'defect' if count == 1 else 'defects'}; nothing was written."
        ) from None


@click.command(help="List what is wrong with a job's plan; exit 1 when a finding says stop.")
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON on standard output.")
@click.option("--quiet", is_flag=True, help="No progress.")
@click.option("--notes/--no-notes", default=True, help="Show notes too.")
def check(job: Path, as_json: bool, quiet: bool, notes: bool) -> None:
    """List the findings of a job's plan."""
    told = Told(quiet)
    read, _ = _read(job, "check")
    made = _planned(read, job, "check", told)
    shown = [f for f in made.findings if notes or f.severity.value != "note"]
    if as_json:
        from bayrun.files.planjson import to_plain

        data = {"findings": [{"id": f.id, **to_plain(f)} for f in shown], "stops": len(made.stops)}
        print_json(data, sort_keys=True)
    else:
        width = shutil.get_terminal_size().columns if sys.stdout.isatty() else 0
        for finding in shown:
            click.echo(_words(finding, width))
    counts = ", ".join(f"{sum(f.severity.value == name for f in made.findings)} {name}" for name in MARKS)
    told.done(f"{read.name}: {counts}.")
    raise SystemExit(1 if made.stops else 0)


def _words(finding: Finding, width: int = 0) -> str:
    """A finding in a few lines, folded to a terminal's width; 0 leaves lines whole, for other programs."""
    lines = [f"{MARKS[finding.severity.value]} {finding.severity.value.upper()}  {finding.place}"]
    lines.append(f"    {finding.says}")
    if finding.source is not None:
        lines.append(f"    {finding.source} ({finding.rule})")
    lines += [
        f"    cure: {fix.says}" + (f" (ask the {fix.request_to})" if fix.request_to else "")
        for fix in finding.fixes
    ]
    if width > 40:
        lines = [textwrap.fill(line, width - 1, subsequent_indent="    ") for line in lines]
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

    try:
        job = example_file(house.lower())
    except FileNotFoundError as error:
        raise refuse("demo", f"{error}: run it from the project's own folder.") from None
    made = make(job, out, "demo", Told())
    click.echo(f"The pack:      {out / 'pack.pdf'}", err=True)
    click.echo(
        f"The job file:  {out / 'job.yaml'}  (change it, then: bayrun plan {typed(out / 'job.yaml')})",
        err=True,
    )
    click.echo(f"The lists:     {out / 'lists.xlsx'} and {out / 'lists'}", err=True)
    click.echo("Demo houses are invented; member sizes are plausible, not engineered.", err=True)
    sys.exit(1 if made.stops else 0)
