"""``bayrun audit``: a pack held against its own job by arithmetic apart from the planner's."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from bayrun.cli.talk import refuse

if TYPE_CHECKING:
    from bayrun.jobs.audit import PackError

MOST_FAULTS = 20


@click.command(help="Check a pack's plan against its job by separate arithmetic; exit 1 with defects named.")
@click.argument("pack", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the defects as JSON on standard output.")
def audit(pack: Path, as_json: bool) -> None:
    """Audit a pack folder."""
    from bayrun.jobs.audit import PackError, audit_pack

    try:
        found = audit_pack(*_files(pack), str(pack))
    except PackError as error:
        _tell(error)
        count = len(error.faults)
        raise refuse(
            "audit", f"{pack} cannot be audited: {count} {'fault' if count == 1 else 'faults'}."
        ) from None
    if as_json:
        data = {
            "job": found.job,
            "members": found.members,
            "holes": found.holes,
            "runs": found.runs,
            "defects": [
                {
                    "kind": d.kind,
                    "about": list(d.about),
                    "place": d.place,
                    "says": d.says,
                    "measured": d.measured,
                    "expected": d.expected,
                }
                for d in found.defects
            ],
        }
        click.echo(json.dumps(data, indent=2, sort_keys=True, ensure_ascii=False))
    else:
        for defect in found.defects:
            click.echo(f"{defect.kind}  {defect.place}\n    {defect.says}")
    counts = f"{found.members} members, {found.holes} holes, {found.runs} runs"
    if not found.defects:
        click.echo(f"nothing found: {counts} checked by separate arithmetic", err=as_json)
        raise SystemExit(0)
    count = len(found.defects)
    click.echo(f"{count} {'defect' if count == 1 else 'defects'} found; {counts} checked", err=True)
    raise SystemExit(1)


def _files(pack: Path) -> tuple[bytes, bytes]:
    """Bytes of the pack's job and plan file.

    Raises:
        PackError: The folder or a file of it is missing or cannot be read; all at once.
    """
    from bayrun.jobs.audit import PackError

    if not pack.is_dir():
        got = "a file" if pack.exists() else "nothing"
        raise PackError((f"{pack}: expected a pack folder with job.yaml and plan.json, got {got}",))
    read: list[bytes] = []
    faults: list[str] = []
    for name in ("job.yaml", "plan.json"):
        path = pack / name
        try:
            read.append(path.read_bytes())
        except FileNotFoundError:
            faults.append(f"{path}: expected this file of the pack, got none")
        except OSError as error:
            faults.append(f"{path} cannot be read: {(error.strerror or str(error)).lower()}")
    if faults:
        raise PackError(tuple(faults))
    return read[0], read[1]


def _tell(error: PackError) -> None:
    """Every fault on stderr, up to what a person reads."""
    for fault in error.faults[:MOST_FAULTS]:
        click.echo(fault, err=True)
    more = len(error.faults) - MOST_FAULTS
    if more > 0:
        click.echo(f"… and {more} more", err=True)
