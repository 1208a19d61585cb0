"""``bayrun quick link --length 250``: loss, delay and length of a four-pair run as it lies, hot or not."""

from __future__ import annotations

import click

from bayrun.cables.ranges import M_PER_FT, RangeError
from bayrun.cables.twisted_pair import Link, report
from bayrun.cli.quick_figures import (
    FEET,
    HELP,
    as_json,
    exit_code,
    fahrenheit,
    figure_json,
    said,
    temperature,
)
from bayrun.cli.talk import print_json, refuse


@click.command("link", context_settings=HELP)
@click.option("--length", "length_ft", type=FEET, required=True, help="Fixed cable in the house [ft].")
@click.option("--category", default="6", show_default=True, help="5e, 6 or 6A.")
@click.option(
    "--cords", "cords_ft", type=FEET, default="16", show_default=True, help="All cords together [ft]."
)
@click.option("--cord-awg", type=int, default=24, show_default=True, help="Gauge of the cords: 24 or 26.")
@click.option("--connections", type=int, default=2, show_default=True, help="Mated connections, 0 to 4.")
@click.option("--screened", is_flag=True, help="Screened cable.")
@temperature()
@as_json
def link(
    length_ft: float,
    category: str,
    cords_ft: float,
    cord_awg: int,
    connections: int,
    screened: bool,
    celsius: float,
    as_json: bool,
) -> None:
    """Loss, length and delay of one four-pair run, at the temperature where it lies.

    Exit code 0 when it holds, 1 when it does not (or nobody can tell), 2 for bad input.
    """
    named = {"5E": "5e", "6": "6", "6A": "6A"}.get(category.strip().upper(), category)
    run = Link(named, length_ft, cords_ft, connections, max(celsius, 20.0), screened, cord_awg)
    try:
        told = report(run)
    except RangeError as error:
        raise refuse("quick link", str(error)) from None
    if as_json:
        print_json(
            {
                "verdict": told.verdict.value,
                "reasons": list(told.reasons),
                "longest_horizontal_m": figure_json(told.longest_m),
                "printed_length_m": None if told.table_m is None else figure_json(told.table_m),
                "delay_ns": figure_json(told.delay_ns),
                "loop_ohm": figure_json(told.loop_ohm),
                "losses": [
                    {
                        "mhz": at.mhz,
                        "loss_db": figure_json(at.loss_db),
                        "limit_db": figure_json(at.limit_db),
                        "limit_is": at.limit.known,
                        "verdict": at.verdict.value,
                    }
                    for at in told.losses
                ],
            }
        )
    else:
        warm = f" (counted as {fahrenheit(20)})" if celsius < 20 else ""
        click.echo(
            f"Category {named}: {length_ft:.0f} ft fixed at {fahrenheit(celsius)}{warm}, {cords_ft:.0f} ft of"
            f" cords, {connections} connections: {told.verdict.value}"
        )
        for reason in told.reasons:
            click.echo(f"  {reason}")
        click.echo(
            f"Longest fixed cable here: {told.longest_m.value / M_PER_FT:.0f} ft"
            f" ({told.longest_m.value:.1f} m)"
        )
        for at in told.losses:
            click.echo(
                f"  {at.mhz:g} MHz: loses {said(at.loss_db, 1)}, limit {at.limit_db.value:.1f} dB"
                f" ({at.limit.document}, {at.limit.known}): {at.verdict.value}"
            )
        click.echo(f"Delay {told.delay_ns.value:.0f} ns; loop at most {told.loop_ohm.value:.1f} ohm a pair")
        click.echo("Crosstalk and return loss come from how it is terminated: only a tester tells them.")
    raise SystemExit(exit_code(told.verdict.value))
