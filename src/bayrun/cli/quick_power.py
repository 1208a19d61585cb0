"""``bayrun quick power 25.5 --length 150``: what arrives over four-pair cable."""

from __future__ import annotations

import click

from bayrun.cables.power_over_cable import deliver, power_class, switch_budget
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


@click.command("power", context_settings=HELP)
@click.argument("watts", nargs=-1, required=True, type=float, metavar="WATTS...")
@click.option("--length", "length_ft", type=FEET, required=True, help="Longest channel, cords included [ft].")
@click.option("--awg", type=int, default=23, show_default=True, help="Gauge of the cable.")
@temperature()
@click.option("--class", "number", type=int, default=None, help="Class of the supply; the smallest enough.")
@click.option("--switch", "switch_w", type=float, default=None, help="What the switch gives altogether [W].")
@as_json
def power(
    watts: tuple[float, ...],
    length_ft: float,
    awg: int,
    celsius: float,
    number: int | None,
    switch_w: float | None,
    as_json: bool,
) -> None:
    """Volts and watts at devices fed over four-pair cable, WATTS each.

    Exit code 0 when it holds, 1 when it does not (or nobody can tell), 2 for bad input.
    """
    try:
        kind = None if number is None else power_class(number)
        loads = tuple(deliver(each, length_ft, awg, celsius, kind) for each in watts)
        budget = None if switch_w is None else switch_budget(loads, switch_w)
    except RangeError as error:
        raise refuse("quick power", str(error)) from None
    verdicts = [load.verdict for load in loads] + ([budget.verdict] if budget else [])
    code = max(exit_code(verdict) for verdict in verdicts)
    if as_json:
        print_json(
            {
                "devices": [
                    {
                        "class": load.power_class.number,
                        "verdict": load.verdict.value,
                        "reasons": list(load.reasons),
                        "device_w": figure_json(load.device_w),
                        "device_v": figure_json(load.device_v),
                        "current_a": figure_json(load.current_a),
                        "supply_w": figure_json(load.supply_w),
                        "cable_w": figure_json(load.cable_w),
                        "available_w": figure_json(load.available_w),
                        "loop_ohm": figure_json(load.loop_ohm),
                    }
                    for load in loads
                ],
                "switch": None
                if budget is None
                else {
                    "verdict": budget.verdict.value,
                    "reason": budget.reason,
                    "running_w": figure_json(budget.running_w),
                    "starting_w": figure_json(budget.starting_w),
                    "free_w": figure_json(budget.free_w),
                },
            }
        )
    else:
        click.echo(f"{length_ft:.0f} ft of {awg} AWG, conductors at {fahrenheit(celsius)}:")
        for load in loads:
            kind = load.power_class
            click.echo(
                f"{load.device_w.value:g} W device, class {kind.number} ({kind.supply_w:g} W supply,"
                f" {kind.pairs} pairs): {load.verdict.value}"
            )
            click.echo(
                f"  arrives {said(load.device_v, 2)}, {said(load.current_a, 3)}; supply gives"
                f" {said(load.supply_w, 2)}, {load.cable_w.value:.2f} W stay in the cable"
            )
            for reason in load.reasons:
                click.echo(f"  {reason}")
        if budget is not None:
            click.echo(f"Switch: {budget.verdict.value}: {budget.reason}")
    raise SystemExit(code)
