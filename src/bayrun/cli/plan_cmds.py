"""``bayrun plan`` and ``demo``: from a job file to a pack, to a first look."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from bayrun.cli.out_folder import default_folder, install, look
from bayrun.cli.price_lists import price_list_option, read_list
from bayrun.cli.talk import Told, print_json, reason, refuse, typed

if TYPE_CHECKING:
    from bayrun.house import Job
    from bayrun.jobs import Plan
    from bayrun.jobs.plan import Issued
    from bayrun.tables.prices import PriceList
    from bayrun.wiring import Frozen, Wiring

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
    help="The pack last issued: only what must move moves, names stay, and the pack lists what changed.",
)
@click.option(
    "--frozen",
    type=click.Path(path_type=Path),
    default=None,
    help="A file of done work (JSON: holes, runs, plates, boxes): no plan moves it.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the totals as JSON on standard output.")
@click.option("--prices", is_flag=True, help="Only print the prices the ways are weighed by; write nothing.")
@price_list_option()
@click.option("--quiet", is_flag=True, help="No progress.")
def plan(
    job: Path,
    out: Path | None,
    base: Path | None,
    frozen: Path | None,
    as_json: bool,
    prices: bool,
    price_list: Path | None,
    quiet: bool,
) -> None:
    """Plan a job file and write its pack."""
    if prices:
        _prices(read_file(job, "plan")[0], as_json)
        return
    made = make(job, out, "plan", Told(quiet), base, price_list, frozen)
    if as_json:
        from bayrun.files.planjson import to_plain

        print_json(to_plain(made.totals), sort_keys=True)
    raise SystemExit(1 if made.stops else 0)


def _prices(job: Job, as_json: bool) -> None:
    """Print what routing weighs, from the firm's table."""
    from bayrun.routing.prices import price_lines

    lines = price_lines(job.practice)
    if as_json:
        print_json(
            {
                "prices": [
                    {"what": p.what, "amount": float(p.amount), "unit": p.unit, "note": p.note} for p in lines
                ]
            }
        )
        return
    width = max(len(p.what) for p in lines)
    for p in lines:
        click.echo(f"{p.what:{width}}  {p.amount:>8} {p.unit:5}  {p.note}".rstrip())


def make(
    job: Path,
    out: Path | None,
    command: str,
    told: Told,
    base: Path | None = None,
    price_list: Path | None = None,
    frozen: Path | None = None,
) -> Plan:
    """Read, plan, write; nothing half-written stays behind.

    Args:
        base: Pack last issued, or its plan.json: only what must move moves, names are carried from it.
        price_list: The firm's price list; None takes the example.
        frozen: File of done work.

    Raises:
        SystemExit: With 2 and one clear message where the job or the folder cannot be used.
    """
    from bayrun.jobs.pack import make_pack
    from bayrun.rules.words import count_of
    from bayrun.workers.typst_worker import TypesettingError

    read, data = read_file(job, command)
    out = default_folder(job) if out is None else out
    look(out, job, data, command)
    issued = None if base is None else issued_plan(base, command)
    done = None if frozen is None else _done(frozen, read, issued, command)
    firm = read_list(price_list, command)
    made = planned(read, job, command, told, issued, certify=True, prices=firm, frozen=done)
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
    _changed(made)
    for finding in made.stops[:STOPS_TOLD]:
        click.echo(f"  stop: {finding.place}: {finding.says}", err=True)
    if len(made.stops) > STOPS_TOLD:
        more = len(made.stops) - STOPS_TOLD
        click.echo(f"  and {more} more that say stop: bayrun check {typed(job)}", err=True)
    return made


def _changed(made: Plan) -> None:
    """What is different from the plan it stands on, in two lines."""
    from bayrun.jobs.changes import heading, plan_changes, sums

    changes = plan_changes(made)
    if changes is not None:
        click.echo(f"  since revision {changes.since}: {heading(changes)}.", err=True)
        if changes.items:
            click.echo(f"  in all {sums(changes)}: the sheet “what changed”, lists/changes.csv.", err=True)
    for told in made.wiring.choices:
        if told.became == "not followed":
            click.echo(f"  {told.says}.", err=True)


def issued_plan(base: Path, command: str) -> Issued:
    """The pack last issued."""
    from bayrun.files.planjson import PlanFileError, read_plan_json
    from bayrun.jobs.plan import Issued

    path = base / "plan.json" if base.is_dir() else base
    try:
        read = read_plan_json(path.read_bytes())
    except OSError as error:
        raise refuse(command, f"the plan last issued, {path}, cannot be read: {reason(error)}") from None
    except PlanFileError as error:
        raise refuse(command, f"{path} is not a plan: {error}") from None
    try:
        job = read.job_record()
    except PlanFileError:  # of an earlier release: its ways and names count, its job cannot be compared
        job = None
    return Issued(read.wiring, read.takeoff, job, read.frame)


def _done(path: Path, job: Job, issued: Issued | None, command: str) -> Frozen:
    """The done work of a file."""
    from bayrun.files.frozenfile import FrozenFileError, read_frozen

    try:
        data = path.read_bytes()
    except OSError as error:
        raise refuse(command, f"the done work, {path}, cannot be read: {reason(error)}") from None
    try:
        if issued is None:
            return read_frozen(data, job)
        return read_frozen(data, job, issued.wiring, issued.frame)
    except FrozenFileError as error:
        for defect in error.defects:
            click.echo(f"{path}: {defect}", err=True)
        count = len(error.defects)
        words = "1 defect" if count == 1 else f"{count} defects"
        raise refuse(command, f"{path} has {words}; nothing was written.") from None


def planned(
    read: Job,
    path: Path,
    command: str,
    told: Told,
    issued: Wiring | Issued | None = None,
    certify: bool = False,
    prices: PriceList | None = None,
    frozen: Frozen | None = None,
) -> Plan:
    """The plan of a job; a house that contradicts itself is refused in one sentence."""
    from bayrun.house import ModelError
    from bayrun.jobs import plan as plan_job

    try:
        return plan_job(read, told, issued, certify, prices, frozen=frozen)
    except ModelError as error:
        raise refuse(command, f"{path} cannot be planned: {error}. Nothing was written.") from None


def read_file(path: Path, command: str) -> tuple[Job, bytes]:
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
