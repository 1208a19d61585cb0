"""``bayrun audit``: a pack held against its own job by arithmetic apart from the planner's."""

from __future__ import annotations

import json
from pathlib import Path

import click

from bayrun.cli.talk import refuse

MOST_FAULTS = 20


@click.command(help="Check a pack's plan against its job by separate arithmetic; exit 1 with defects named.")
@click.argument("pack", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the defects as JSON on standard output.")
def audit(pack: Path, as_json: bool) -> None:
    """Audit a pack folder."""
    from bayrun.jobs.audit import PackError, audit_pack

    try:
        found = audit_pack(pack)
    except PackError as error:
        for fault in error.faults[:MOST_FAULTS]:
            click.echo(fault, err=True)
        more = len(error.faults) - MOST_FAULTS
        if more > 0:
            click.echo(f"… and {more} more", err=True)
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
