"""``bayrun quick heat --watts 20``: how warm a flush enclosure gets; with --bundle, a powered bundle."""

from __future__ import annotations

import click

from bayrun.cables.bundle_heat import bundle_heat
from bayrun.cables.power_over_cable import power_class
from bayrun.cables.ranges import RangeError
from bayrun.cli.quick_figures import CELSIUS, HELP, as_json, exit_code, fahrenheit, figure_json, said
from bayrun.cli.talk import print_json, refuse
from bayrun.enclosure import FlushBox, balance, runtime_minutes, vent_m3_h, watts_allowed
from bayrun.units import LengthError, parse_length

CFM_PER_M3_H = 1 / 1.699


def _inches(ctx: click.Context, param: click.Parameter, value: str) -> float:
    try:
        return parse_length(value)
    except LengthError as error:
        raise click.BadParameter(str(error), ctx=ctx, param=param) from error


@click.command("heat", context_settings=HELP)
@click.option("--watts", type=float, default=None, help="All watts lost in the enclosure.")
@click.option(
    "--height", "height_in", callback=_inches, default="28", show_default=True, help="Of its face [in]."
)
@click.option(
    "--width", "width_in", callback=_inches, default="14-1/4", show_default=True, help="Of its face [in]."
)
@click.option("--bright-door", is_flag=True, help="Bare bright metal door, not painted.")
@click.option("--insulated-back", is_flag=True, help="Insulation or foil behind it.")
@click.option("--room", "room_c", type=CELSIUS, default="77F", show_default=True, help="The room in front.")
@click.option(
    "--limit", "most_c", type=CELSIUS, default=None, help="Warmest air its gear stands; 104F usual."
)
@click.option("--battery", default=None, help="Battery outside, volts x amp-hours, such as 12x9.")
@click.option(
    "--bundle", "cables", type=int, default=None, help="Instead: this many powered cables together."
)
@click.option("--awg", type=int, default=23, show_default=True, help="Gauge of those cables.")
@click.option("--class", "number", type=int, default=8, show_default=True, help="Class of power on them.")
@click.option(
    "--rating", "rating_c", type=int, default=60, show_default=True, help="Rating of the cable [C]."
)
@click.option(
    "--around", "around_c", type=CELSIUS, default="86F", show_default=True, help="Around the bundle."
)
@as_json
def heat(
    watts: float | None,
    height_in: float,
    width_in: float,
    bright_door: bool,
    insulated_back: bool,
    room_c: float,
    most_c: float | None,
    battery: str | None,
    cables: int | None,
    awg: int,
    number: int,
    rating_c: int,
    around_c: float,
    as_json: bool,
) -> None:
    """How warm a flush enclosure gets, or whether a bundle of powered cables may carry its current.

    Exit code 0 when it holds, 1 when it does not (or nobody can tell), 2 for bad input.
    """
    if (watts is None) == (cables is None):
        raise refuse("quick heat", "expected either --watts for an enclosure or --bundle for cables")
    try:
        if cables is not None:
            raise SystemExit(_bundle(cables, awg, number, rating_c, around_c, as_json))
        box = FlushBox(height_in, width_in, bright_door, insulated_back)
        told = balance(box, watts or 0.0, room_c, None, most_c)
        allowed = watts_allowed(box, 40.0 if most_c is None else most_c, room_c)
        air = vent_m3_h(watts or 0.0, 8.0)
        lasts = None if battery is None else runtime_minutes(*_battery(battery), watts or 0.0)
    except RangeError as error:
        raise refuse("quick heat", str(error)) from None
    if as_json:
        print_json(
            {
                "verdict": told.verdict.value,
                "reason": told.reason,
                "inside_c": figure_json(told.inside_c),
                "door_c": figure_json(told.door_c),
                "front_w": round(told.front_w, 6),
                "back_w": round(told.back_w, 6),
                "watts_allowed": figure_json(allowed),
                "vent_m3_h": figure_json(air),
                "battery_min": None if lasts is None else figure_json(lasts),
            }
        )
    else:
        spread_f = (told.inside_c.plus_minus or 0.0) * 1.8
        click.echo(
            f"{watts:g} W in it, room {fahrenheit(room_c)}: inside {fahrenheit(told.inside_c.value)}"
            f" ± {spread_f:.0f} °F: {told.verdict.value}"
        )
        click.echo(f"  {told.reason}")
        click.echo(f"  {told.front_w:.1f} W leave by the door, {told.back_w:.1f} W by the back")
        click.echo(f"  the limit is reached at {said(allowed, 0)}")
        click.echo(f"  a fan that holds it to 14 °F over the room moves {air.value * CFM_PER_M3_H:.0f} cfm")
        if lasts is not None:
            click.echo(f"  battery: {said(lasts, 0)}, half of that when it is old")
    raise SystemExit(exit_code(told.verdict.value))


def _battery(text: str) -> tuple[float, float]:
    volts, _, amp_hours = text.lower().partition("x")
    try:
        return float(volts), float(amp_hours)
    except ValueError:
        raise RangeError(f"--battery {text!r}: expected volts x amp-hours such as 12x9") from None


def _bundle(cables: int, awg: int, number: int, rating_c: int, around_c: float, as_json: bool) -> int:
    """Print the verdict on a bundle; its exit code."""
    told = bundle_heat(cables, awg, power_class(number), rating_c, around_c)
    if as_json:
        print_json(
            {
                "verdict": told.verdict.value,
                "reason": told.reason,
                "needed_a": figure_json(told.needed_a),
                "allowed_a": figure_json(told.allowed_a),
                "allowed_2020_a": None if told.allowed_2020_a is None else figure_json(told.allowed_2020_a),
            }
        )
    else:
        click.echo(
            f"{cables} cables of {awg} AWG rated {rating_c} °C, class {number} on all, {fahrenheit(around_c)}"
            f" around: {told.verdict.value}"
        )
        click.echo(f"  {told.reason}")
        click.echo(f"  {told.allowed_a.source}")
        click.echo("  Inside insulation a bundle is hotter than the table reckons: keep it small there.")
    return exit_code(told.verdict.value)
