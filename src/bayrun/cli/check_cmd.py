"""``bayrun check``: the findings of a job's plan, and their fixes put into the job file."""

from __future__ import annotations

import os
import shutil
import sys
import textwrap
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from bayrun.cli.plan_cmds import MARKS, planned, read_file
from bayrun.cli.rulebook_cmd import read_overlay
from bayrun.cli.talk import Told, print_json, reason, refuse, typed

if TYPE_CHECKING:
    from bayrun.findings import Finding
    from bayrun.house import Job
    from bayrun.jobs.cure import Cured

_APPLY = "Put a fix into the job file: RULE for all its findings, RULE:ID for one, RULE:ID#2 for its 2nd fix."


@click.command(help="List what is wrong with a job's plan; exit 1 when a finding says stop.")
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON on standard output.")
@click.option("--quiet", is_flag=True, help="No progress.")
@click.option("--notes/--no-notes", default=True, help="Show notes too.")
@click.option(
    "--amendments",
    type=click.Path(path_type=Path),
    default=None,
    help="File of local amendments (TOML), in force for this check; with --apply they go into the job.",
)
@click.option("--apply", "applied", multiple=True, metavar="RULE[:ID]", help=_APPLY)
@click.option(
    "--answer",
    "answers",
    multiple=True,
    metavar="ABOUT=ANSWER",
    help="Record what a trade answered, e.g. A-W26/stud-5=doubled or A-W26=non-bearing; takes --by.",
)
@click.option("--by", default="", help="Who decided or answered.")
@click.option("--date", default="", help="When, e.g. 2026-05-04.")
@click.option("--reason", "why", default="", help="Why.")
@click.option(
    "--out", type=click.Path(path_type=Path), default=None, help="Write the edited job here, not over JOB."
)
def check(
    job: Path,
    as_json: bool,
    quiet: bool,
    notes: bool,
    amendments: Path | None,
    applied: tuple[str, ...],
    answers: tuple[str, ...],
    by: str,
    date: str,
    why: str,
    out: Path | None,
) -> None:
    """List the findings of a job's plan, or apply their fixes."""
    told = Told(quiet)
    found, data = read_file(job, "check")
    edits = bool(applied or answers)
    if not edits and (out is not None or by or date or why):
        raise refuse("check", "--out, --by, --date and --reason go with --apply or --answer.")
    read = found
    if amendments is not None:
        from bayrun.jobs.cure import with_amendments

        read = with_amendments(found, read_overlay(amendments, "check"))
    if edits:
        _apply(job, out, (found, read), data, applied, answers, (by, date, why), told, as_json, notes)
        return
    made = planned(read, job, "check", told)
    shown = [f for f in made.findings if notes or f.severity.value != "note"]
    if as_json:
        print_json({"findings": [_plain(f) for f in shown], "stops": len(made.stops)}, sort_keys=True)
    else:
        _echo(shown)
    told.done(f"{read.name}: {_counts(made.findings)}.")
    raise SystemExit(1 if made.stops else 0)


def _counts(findings: tuple[Finding, ...]) -> str:
    return ", ".join(f"{sum(f.severity.value == name for f in findings)} {name}" for name in MARKS)


def _plain(finding: Finding) -> dict[str, Any]:
    from bayrun.files.planjson import to_plain

    return {"id": finding.id, **to_plain(finding)}


def _echo(findings: list[Finding]) -> None:
    width = shutil.get_terminal_size().columns if sys.stdout.isatty() else 0
    for finding in findings:
        click.echo(words_of(finding, width))


def words_of(finding: Finding, width: int = 0) -> str:
    """A finding in a few lines, folded to a terminal's width; 0 leaves lines whole, for other programs."""
    lines = [f"{MARKS[finding.severity.value]} {finding.severity.value.upper()}  {finding.place}"]
    lines.append(f"    {finding.says}")
    source = "" if finding.source is None else f"{finding.source} "
    lines.append(f"    {source}({finding.id if finding.fixes else finding.rule})")
    many = len(finding.fixes) > 1
    lines += [
        f"    cure{f' #{number}' if many else ''}: {fix.says}"
        + (f" (ask the {fix.request_to})" if fix.request_to else "")
        for number, fix in enumerate(finding.fixes, 1)
    ]
    if width > 40:
        lines = [textwrap.fill(line, width - 1, subsequent_indent="    ") for line in lines]
    return "\n".join(lines)


def _apply(
    path: Path,
    out: Path | None,
    jobs: tuple[Job, Job],
    data: bytes,
    applied: tuple[str, ...],
    answers: tuple[str, ...],
    signed: tuple[str, str, str],
    told: Told,
    as_json: bool,
    notes: bool,
) -> None:
    """Apply fixes, write the edited job, say what changed and what remains."""
    from bayrun.files import rewrite
    from bayrun.files.yaml_text import decode
    from bayrun.house import ModelError
    from bayrun.house.edits import Signed
    from bayrun.jobs.cure import CureError, answer_of, asked_of, cure

    to = path if out is None else out
    if not to.parent.is_dir() or to.is_dir() or (out is None and not path.is_file()):
        where = (
            "a file of its own: name one with --out" if out is None else "a file in a folder that is there"
        )
        raise refuse("check", f"the edited job cannot be written to {to}: expected {where}.")
    found, read = jobs
    try:
        done = cure(
            read,
            [asked_of(one) for one in applied],
            [answer_of(one) for one in answers],
            Signed(*signed),
            told,
        )
    except CureError as error:
        raise refuse("check", f"{str(error).rstrip('.')}. Nothing was written.") from None
    except ModelError as error:
        raise refuse("check", f"{path} cannot be planned: {error}. Nothing was written.") from None
    text = rewrite(decode(data, str(path)), found, done.after.job)
    write_job(to, path, text.encode("utf-8"))
    if as_json:
        print_json(_as_json(done, notes), sort_keys=True)
    else:
        _tell(done)
    told.done(f"{typed(to)} is written. {done.after.job.name}: {_counts(done.after.findings)}.")
    raise SystemExit(1 if done.after.stops else 0)


def write_job(to: Path, like: Path, data: bytes, command: str = "check") -> None:
    """The whole file or nothing: the old one stays until the new one is complete."""
    place = Path(os.path.realpath(to))
    beside = place.parent / f".{place.name}.{os.getpid()}.part"
    try:
        beside.write_bytes(data)
        source = place if place.exists() else like
        if source.is_file():
            shutil.copymode(source, beside)
        os.replace(beside, place)
    except OSError as error:
        raise refuse(command, f"{to} cannot be written: {reason(error)}. It is as it was.") from None
    finally:
        beside.unlink(missing_ok=True)


def _tell(done: Cured) -> None:
    for step in done.steps:
        place = "" if step.finding is None else f"{step.finding.place}: "
        whom = f" (asked of the {step.fix.request_to})" if step.fix.request_to else ""
        click.echo(f"applied: {place}{step.fix.says}{whom}")
    for finding in done.gone:
        click.echo(f"gone: {finding.place}: {finding.says}")
    for finding, why in done.remains:
        click.echo(f"remains ({why}): {finding.place}: {finding.says}")
    for finding in done.closed:
        click.echo(f"gone too: {finding.place}: {finding.says}")
    for finding in done.opened:
        click.echo(f"new, {finding.severity.value}: {finding.place}: {finding.says}")
    if not done.opened:
        click.echo("No new finding opened.")


def _as_json(done: Cured, notes: bool) -> dict[str, Any]:
    from bayrun.files.planjson import to_plain

    shown = [f for f in done.after.findings if notes or f.severity.value != "note"]
    return {
        "applied": [
            {"finding": None if step.finding is None else step.finding.id, "fix": to_plain(step.fix)}
            for step in done.steps
        ],
        "gone": [f.id for f in done.gone],
        "gone_too": [f.id for f in done.closed],
        "remains": [{"id": f.id, "why": why} for f, why in done.remains],
        "opened": [_plain(f) for f in done.opened],
        "findings": [_plain(f) for f in shown],
        "stops": len(done.after.stops),
    }
