"""``bayrun quick marks --start 412 --end 334``: feet of cable between two jacket marks."""

from __future__ import annotations

from typing import Literal

import click

from bayrun.cli.quick_figures import HELP, as_json, figure_json, said
from bayrun.cli.talk import print_json, refuse
from bayrun.takeoff.marks import MarkError, cut_by_marks


@click.command("marks", context_settings=HELP)
@click.option("--start", type=float, required=True, help="Mark at the end that was pulled first.")
@click.option("--end", type=float, required=True, help="Mark at the end that was cut.")
@click.option("--unit", type=click.Choice(["ft", "m"]), default="ft", show_default=True, help="As printed.")
@click.option("--rolls-over", type=float, default=None, help="The mark after which it begins at 0 again.")
@click.option("--planned", "planned_ft", type=float, default=None, help="Feet that were planned.")
@as_json
def marks(
    start: float,
    end: float,
    unit: Literal["ft", "m"],
    rolls_over: float | None,
    planned_ft: float | None,
    as_json: bool,
) -> None:
    """Feet of cable between two jacket marks. Exit code 1 where they are far from the plan."""
    try:
        told, warn = cut_by_marks(start, end, unit=unit, rolls_over_at=rolls_over, expected_ft=planned_ft)
    except MarkError as error:
        raise refuse("quick marks", str(error)) from None
    if as_json:
        print_json({"length_ft": figure_json(told), "warning": warn or None})
    else:
        click.echo(f"{said(told, 0)} of cable: {told.formula}")
        if warn:
            click.echo(f"  {warn}")
    raise SystemExit(1 if warn else 0)
