"""``bayrun quick coax --length 100 --entry 10 --splitter 2``: level at one location, low and high."""

from __future__ import annotations

import click

from bayrun.cables.coax import CoaxPath, level_plan
from bayrun.cables.ranges import RangeError
from bayrun.cli.quick_figures import FEET, HELP, as_json, exit_code, figure_json, said, temperature
from bayrun.cli.talk import print_json, refuse


@click.command("coax", context_settings=HELP)
@click.option("--length", "length_ft", type=FEET, required=True, help="Coax to the location [ft].")
@click.option("--entry", "low_dbmv", type=float, required=True, help="Level at the entry [dBmV].")
@click.option(
    "--entry-high", "high_dbmv", type=float, default=None, help="At the high frequency, if another."
)
@click.option(
    "--service", default="cable modem", show_default=True, help="cable modem, antenna or satellite."
)
@click.option("--kind", default="RG-6", show_default=True, help="RG-6, RG-59 or RG-11.")
@click.option("--splitter", "splitters", multiple=True, help="2, 3, '3 low', '3 high', 4, 8; once for each.")
@click.option("--connectors", type=int, default=4, show_default=True, help="F connectors on the way.")
@click.option("--barrels", type=int, default=1, show_default=True, help="Barrels in wall plates.")
@click.option("--gain", "gain_db", type=float, default=0.0, help="Amplifier on the way [dB].")
@temperature()
@as_json
def coax(
    length_ft: float,
    low_dbmv: float,
    high_dbmv: float | None,
    service: str,
    kind: str,
    splitters: tuple[str, ...],
    connectors: int,
    barrels: int,
    gain_db: float,
    celsius: float,
    as_json: bool,
) -> None:
    """Level at one location, at the service's low and high frequency.

    Exit code 0 when it holds, 1 when it does not (or nobody can tell), 2 for bad input.
    """
    path = CoaxPath(((kind, length_ft),), splitters, connectors, barrels, celsius)
    try:
        told = level_plan(path, service, low_dbmv, high_dbmv, gain_db)
    except RangeError as error:
        raise refuse("quick coax", str(error)) from None
    if as_json:
        print_json(
            {
                "verdict": told.verdict.value,
                "service": told.service,
                "window": told.source,
                "tilt_db": round(told.tilt_db, 6),
                "levels": [
                    {
                        "mhz": at.mhz,
                        "verdict": at.verdict.value,
                        "loss_db": figure_json(at.loss_db),
                        "level_dbmv": figure_json(at.level_dbmv),
                    }
                    for at in told.levels
                ],
            }
        )
    else:
        click.echo(f"{told.service}, {length_ft:.0f} ft of {kind}: {told.verdict.value}")
        for at in told.levels:
            click.echo(
                f"  {at.mhz:g} MHz: {said(at.level_dbmv, 1)} arrive, {said(at.loss_db, 1)} lost:"
                f" {at.verdict.value}"
            )
        click.echo(f"  tilt {told.tilt_db:.1f} dB; window: {told.source}")
        click.echo("  Unused ports: close each with 75 ohm.")
    raise SystemExit(exit_code(told.verdict.value))
