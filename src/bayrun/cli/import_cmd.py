"""``bayrun import``: a house drawn by others becomes a job file."""

from __future__ import annotations

import os
from pathlib import Path

import click

from bayrun.cli.talk import Told, reason, refuse, typed


@click.command(
    name="import",
    help="Read a house from an IFC, gbXML or DXF file into a job file; framing is assumed and named, "
    "locations proposed.",
)
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--out", type=click.Path(dir_okay=False, path_type=Path), default=Path("job.yaml"), help="Job file."
)
@click.option("--date", default="", help="Date of revision 1, as 2026-11-25.")
@click.option("--force", is_flag=True, help="Write over a job file that is already there.")
def bring(file: Path, out: Path, date: str, force: bool) -> None:
    """Read a house into a job file."""
    from bayrun.files.jobwrite import write_job
    from bayrun.files.shell import ImportRefused
    from bayrun.jobs.bring_in import bring_in
    from bayrun.rules.words import count_of

    told = Told()
    if file.is_dir():
        raise refuse("import", f"{file} is a folder: expected an IFC, gbXML or DXF file.")
    if not file.exists():
        raise refuse("import", f"{file} is not there: expected an IFC, gbXML or DXF file.")
    if not out.absolute().parent.is_dir():
        raise refuse("import", f"the folder {out.parent} is not there.")
    if out.exists() and out.samefile(file):
        raise refuse("import", f"{file} would be written over by the job file: name another with --out.")
    if out.exists() and not force:
        raise refuse("import", f"{out} is already there and was left as it is. Say --force to write over it.")
    try:
        found = bring_in(file, date=date, progress=told)
    except ImportRefused as error:
        raise refuse("import", str(error)) from None
    job = found.job
    head = (
        f"{job.name}\n\nRead from a file drawn by others. What nobody measured is assumed, and each\n"
        "assumption is named under “assumptions”: settle them with a tape first. Locations are\n"
        "proposals, each with its reason.\n\n"
        "AC power, structure and fire blocking are the work of licensed trades; the local code and the\n"
        "inspector have the last word."
    )
    beside = out.with_name(f".{out.name}.{os.getpid()}.part")
    try:
        beside.write_text(write_job(job, head=head), encoding="utf-8", newline="\n")
        beside.replace(out)
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise refuse("import", f"{out} cannot be written: {reason(error)}") from None
    told.done(
        f"{out}: {count_of(len(job.levels), 'level')}, {count_of(len(job.rooms), 'room')}, "
        f"{count_of(len(job.walls), 'wall')}, {count_of(len(job.openings), 'opening')}; "
        f"{count_of(len(job.locations), 'location')} proposed, {count_of(len(job.runs), 'run')}; "
        f"{count_of(len(job.assumptions), 'assumption')} to settle."
    )
    for words in found.said:
        click.echo(f"  {words}", err=True)
    click.echo(f"Next: bayrun plan {typed(out)}", err=True)
