"""``bayrun quick drop --length 150 --amps 0.5``: volts lost on a two-wire run."""

from __future__ import annotations

from dataclasses import replace

import click

from bayrun.cables.direct_current import (
    Drop,
    Wire,
    drop_at_current,
    drop_at_power,
    gauge_that_holds,
    load_kind,
)
from bayrun.cables.ranges import RangeError
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


@click.command("drop", context_settings=HELP)
@click.option("--length", "length_ft", type=FEET, required=True, help="One way [ft].")
@click.option("--kind", default="device", show_default=True, help="device, alarm, bell or shade.")
@click.option("--volts", "supply_v", type=float, default=None, help="Supply [V]; the kind's usual one.")
@click.option("--amps", "current_a", type=float, default=None, help="Current it draws, running [A].")
@click.option("--watts", "power_w", type=float, default=None, help="Power it draws whatever the volts [W].")
@click.option("--awg", type=int, default=18, show_default=True, help="Gauge of the two wires.")
@click.option("--stranded", is_flag=True, help="Stranded wire.")
@click.option("--drop", "most_percent", type=float, default=None, help="What the wire may take [%].")
@temperature()
@as_json
def drop(
    length_ft: float,
    kind: str,
    supply_v: float | None,
    current_a: float | None,
    power_w: float | None,
    awg: int,
    stranded: bool,
    most_percent: float | None,
    celsius: float,
    as_json: bool,
) -> None:
    """Volts at the end of a two-wire run: a device, a bell, a shade. Power-limited wiring only.

    Exit code 0 when it holds, 1 when it does not (or nobody can tell), 2 for bad input.
    """
    if (current_a is None) == (power_w is None):
        raise refuse("quick drop", "expected either --amps or --watts")
    wire = Wire(length_ft, awg, celsius, stranded)
    try:
        load = load_kind(kind)
        volts = load.supply_v if supply_v is None else supply_v
        limit = load.most_drop_percent if most_percent is None else most_percent

        def at(gauge: int) -> Drop:
            run = replace(wire, awg=gauge)
            if current_a is not None:
                return drop_at_current(run, volts, current_a * load.start_factor, limit)
            return drop_at_power(run, volts, (power_w or 0.0) * load.start_factor, limit)

        told = at(awg)
        enough = gauge_that_holds(lambda gauge: at(gauge).verdict)
    except RangeError as error:
        raise refuse("quick drop", str(error)) from None
    if as_json:
        print_json(
            {
                "verdict": told.verdict.value,
                "limit_percent": limit,
                "start_factor": load.start_factor,
                "enough_awg": enough,
                "load_v": figure_json(told.load_v),
                "drop_v": figure_json(told.drop_v),
                "drop_percent": figure_json(told.drop_percent),
                "current_a": figure_json(told.current_a),
                "wire_ohm": figure_json(told.wire_ohm),
            }
        )
    else:
        start = f", start at {load.start_factor:g} x counted" if load.start_factor != 1 else ""
        click.echo(
            f"{load.says}: {volts:g} V over {length_ft:.0f} ft of {awg} AWG at {fahrenheit(celsius)}{start}:"
            f" {told.verdict.value}"
        )
        click.echo(
            f"  {said(told.load_v)} arrive; the wire takes {said(told.drop_v)}"
            f" ({told.drop_percent.value:.1f} % of {limit:g} % allowed; usual limit, no source)"
        )
        if enough is None:
            click.echo("  no usual gauge is enough: raise the supply or bring it nearer")
        else:
            click.echo(f"  thinnest that is enough: {enough} AWG")
    raise SystemExit(exit_code(told.verdict.value))
