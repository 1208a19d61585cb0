"""``bayrun import``: a house drawn by others becomes a job file, with a report of what was understood."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import TYPE_CHECKING

import click

from bayrun.cli.talk import Told, reason, refuse, typed

if TYPE_CHECKING:
    from bayrun.files.house_file import ReadOptions

UNITS = ("inches", "feet", "millimeters", "centimeters", "meters")
EXPECTED = "an IFC, gbXML, DXF, PDF or tape file"


@click.command(
    name="import",
    help="Read a house from an IFC, gbXML, DXF, PDF or tape file into a job file; framing is assumed and "
    "named, locations proposed. A report with a picture of each level is written beside the job.",
)
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--out", type=click.Path(dir_okay=False, path_type=Path), default=Path("job.yaml"), help="Job file."
)
@click.option("--name", default="", help="Name of the job; the file's own names are not carried.")
@click.option("--date", default="", help="Date of revision 1, as 2026-11-25.")
@click.option("--unit", type=click.Choice(UNITS), help="The unit of a drawing, where its header lies.")
@click.option("--drawing", type=click.IntRange(1, 50), help="Which drawing of a sheet with several.")
@click.option("--page", type=click.IntRange(1, 400), help="Which page of a PDF.")
@click.option(
    "--scale",
    default="",
    help="Scale of a PDF: 1/4\" = 1', 1:50, or a known length: 20' from 100,200 to 400,200.",
)
@click.option("--underlay", is_flag=True, help="Only make a picture of a PDF page or photo to trace over.")
@click.option(
    "--against",
    type=click.Path(dir_okay=False, path_type=Path),
    help="A job file: list what moved since it was drawn and what that touches; writes no job.",
)
@click.option(
    "--pack", type=click.Path(path_type=Path), help="With --against: the pack last issued, to name its holes."
)
@click.option("--force", is_flag=True, help="Write over a job file and a report that are already there.")
def bring(
    file: Path,
    out: Path,
    name: str,
    date: str,
    unit: str | None,
    drawing: int | None,
    page: int | None,
    scale: str,
    underlay: bool,
    against: Path | None,
    pack: Path | None,
    force: bool,
) -> None:
    """Read a house into a job file."""
    from bayrun.files.house_file import ReadOptions
    from bayrun.files.jobwrite import write_job
    from bayrun.files.shell import ImportRefused
    from bayrun.jobs.bring_in import bring_in
    from bayrun.rules.words import count_of

    told = Told()
    report = out.with_name(f"{out.stem}-import.html")
    options = ReadOptions(unit=unit or "", drawing=drawing or 0, page=page or 0, scale=scale)
    if underlay:
        _underlay(file, out, options, force, told)
        return
    if against is not None:
        _against(file, against, pack, options, force, told)
        return
    _can_write(file, (out, report), force)
    try:
        found = bring_in(file, name=name, date=date, progress=told, options=options)
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
    put(report, found.report())
    put(out, write_job(job, head=head))
    told.done(
        f"{out}: {count_of(len(job.levels), 'level')}, {count_of(len(job.rooms), 'room')}, "
        f"{count_of(len(job.walls), 'wall')}, {count_of(len(job.openings), 'opening')}; "
        f"{count_of(len(job.locations), 'location')} proposed, {count_of(len(job.runs), 'run')}; "
        f"{count_of(len(job.assumptions), 'assumption')} to settle."
    )
    for words in found.said:
        click.echo(f"  {words}", err=True)
    click.echo(f"Look first: {report} (a picture of each level, and what to check)", err=True)
    click.echo(f"Next: bayrun plan {typed(out)}", err=True)


def _underlay(file: Path, out: Path, options: ReadOptions, force: bool, told: Told) -> None:
    """A picture to trace over, and beside it its scale; no job."""
    from bayrun.files.shell import ImportRefused
    from bayrun.workers.house_worker import underlay_in_worker

    picture, facts = (out.with_name(f"{out.stem}-underlay.{end}") for end in ("png", "json"))
    _can_write(file, (picture, facts), force)
    try:
        made = underlay_in_worker(file, options, lambda words: told(words, 1, 1))
    except ImportRefused as error:
        raise refuse("import", str(error)) from None
    wide, high = made.size_px
    record = {
        "picture": picture.name, "page": made.page, "width_px": int(wide), "height_px": int(high),
        "inches_per_px": round(made.inches_per_px, 6) or None, "scale": made.told,
    }  # fmt: skip
    put(picture, made.png)
    put(facts, json.dumps(record, indent=2) + "\n")
    size = (
        f"{wide * made.inches_per_px / 12:.0f} by {high * made.inches_per_px / 12:.0f} ft"
        if made.inches_per_px
        else ""
    )
    told.done(
        f"{picture}: {int(wide)} by {int(high)} pixels{f', {size} of the house' if size else ''}; "
        f"{made.told}."
    )


def _against(file: Path, job: Path, pack: Path | None, options: ReadOptions, force: bool, told: Told) -> None:
    """What moved between a job and a new drawing of its house: a list on standard output, and a page."""
    from bayrun.files import JobFileError, read_job
    from bayrun.files.shell import ImportRefused
    from bayrun.jobs.bring_in import hold_against
    from bayrun.rules.words import count_of

    page = job.with_name(f"{job.stem}-changes.html")
    _can_write(file, (page,), force)
    try:
        old = read_job(job)
        held = hold_against(file, old, holes=_holes(pack), progress=told, options=options)
    except (JobFileError, ImportRefused) as error:
        raise refuse("import", str(error)) from None
    put(page, held.page())
    found = held.found
    for change in found.changes:
        click.echo(f"{change.what} {change.kind}, level {change.level}: {change.says}")
    for touched in found.touched:
        click.echo(f"touched: {touched.says}")
    told.done(
        f"{page}: {count_of(len(found.changes), 'change')}, {count_of(found.same, 'wall')} as they were, "
        f"{count_of(sum(t.what == 'location' for t in found.touched), 'location')} touched."
    )


def _holes(pack: Path | None) -> tuple[tuple[str, str, float], ...]:
    """The holes of a pack with the wall or frame each is in, and where along it."""
    from bayrun.files.planjson import PlanFileError, read_plan_json

    if pack is None:
        return ()
    path = pack / "plan.json" if pack.is_dir() else pack
    try:
        plan = read_plan_json(path.read_bytes())
    except (OSError, PlanFileError) as error:
        words = reason(error) if isinstance(error, OSError) else str(error)
        raise refuse("import", f"{path}: expected the plan of a pack: {words}") from None
    return tuple((h.id, h.member.partition("/")[0], h.along_in) for h in plan.wiring.holes)


def _can_write(file: Path, written: tuple[Path, ...], force: bool) -> None:
    """Refuse before anything is read: a file that is not there, a place that cannot be written."""
    if file.is_dir():
        raise refuse("import", f"{file} is a folder: expected {EXPECTED}.")
    if not file.exists():
        raise refuse("import", f"{file} is not there: expected {EXPECTED}.")
    if not written[0].absolute().parent.is_dir():
        raise refuse("import", f"the folder {written[0].parent} is not there.")
    for path in written:
        if path.exists() and path.samefile(file):
            raise refuse("import", f"{file} would be written over by the job file: name another with --out.")
        if path.exists() and not force:
            raise refuse(
                "import", f"{path} is already there and was left as it is. Say --force to write over it."
            )


def put(out: Path, what: str | bytes) -> None:
    """Write a file whole or not at all."""
    beside = out.with_name(f".{out.name}.{os.getpid()}.part")
    try:
        if isinstance(what, bytes):
            beside.write_bytes(what)
        else:
            beside.write_text(what, encoding="utf-8", newline="\n")
        beside.replace(out)
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise refuse("import", f"{out} cannot be written: {reason(error)}") from None
