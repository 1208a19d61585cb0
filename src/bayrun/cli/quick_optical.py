"""``bayrun quick optical --length 120 --application "10GBASE-SR OM4"``: loss budget of a fiber."""

from __future__ import annotations

import click

from bayrun.cables.optical import FiberLink, budget
from bayrun.cables.ranges import RangeError
from bayrun.cli.quick_figures import FEET, HELP, as_json, exit_code, figure_json, said
from bayrun.cli.talk import print_json, refuse


@click.command("optical", context_settings=HELP)
@click.option("--length", "length_ft", type=FEET, required=True, help="Length of the fiber [ft].")
@click.option("--application", default="10GBASE-SR OM3", show_default=True, help="What runs over it.")
@click.option("--connectors", type=int, default=2, show_default=True, help="Mated pairs.")
@click.option("--splices", type=int, default=0, show_default=True, help="Splices.")
@click.option("--split", "ways", type=int, default=1, show_default=True, help="Outputs of a splitter.")
@click.option("--split-excess", "excess_db", type=float, default=0.0, help="Its loss over an ideal one [dB].")
@click.option("--other", "other_db", type=float, default=0.0, help="Known loss outside the house [dB].")
@as_json
def optical(
    length_ft: float,
    application: str,
    connectors: int,
    splices: int,
    ways: int,
    excess_db: float,
    other_db: float,
    as_json: bool,
) -> None:
    """Loss budget of one fiber for an application.

    Exit code 0 when it holds, 1 when it does not, 2 for bad input.
    """
    try:
        told = budget(FiberLink(length_ft, connectors, splices, ways, excess_db, other_db), application)
    except RangeError as error:
        raise refuse("quick optical", str(error)) from None
    if as_json:
        print_json(
            {
                "verdict": told.verdict.value,
                "reason": told.reason,
                "application": told.application,
                "loss_db": figure_json(told.loss_db),
                "left_db": figure_json(told.left_db),
            }
        )
    else:
        click.echo(f"{told.application} over {length_ft:.0f} ft: {told.verdict.value}, {told.reason}")
        click.echo(f"  loses {said(told.loss_db)} at most, {said(told.left_db)} to spare")
        click.echo(f"  {told.left_db.source}; {told.loss_db.source}")
    raise SystemExit(exit_code(told.verdict.value))
