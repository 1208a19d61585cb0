"""``bayrun quick speaker --length 50 --ohms 8``: what speaker wire takes, and the gauge that is enough."""

from __future__ import annotations

from dataclasses import replace

import click

from bayrun.cables.direct_current import Wire, gauge_that_holds, line_speakers, speaker_line
from bayrun.cables.ranges import RangeError
from bayrun.cli.quick_figures import FEET, HELP, as_json, exit_code, figure_json, said, temperature
from bayrun.cli.talk import print_json, refuse


@click.command("speaker", context_settings=HELP)
@click.option("--length", "length_ft", type=FEET, required=True, help="One way [ft].")
@click.option("--ohms", "load_ohm", type=float, default=8.0, show_default=True, help="Loudspeaker [ohm].")
@click.option("--awg", type=int, default=16, show_default=True, help="Gauge of the two wires.")
@click.option("--stranded", is_flag=True, help="Stranded wire.")
@click.option("--line", "line_v", type=float, default=None, help="Constant-voltage line: 25 or 70.7 [V].")
@click.option("--watts", "taps_w", type=float, default=None, help="Taps on that line, altogether [W].")
@temperature()
@as_json
def speaker(
    length_ft: float,
    load_ohm: float,
    awg: int,
    stranded: bool,
    line_v: float | None,
    taps_w: float | None,
    celsius: float,
    as_json: bool,
) -> None:
    """Level lost in speaker wire, and the gauge that is enough.

    Exit code 0 when it holds, 1 when it does not (or nobody can tell), 2 for bad input.
    """
    if (line_v is None) != (taps_w is None):
        raise refuse("quick speaker", "expected --line and --watts together")
    wire = Wire(length_ft, awg, celsius, stranded)
    try:
        if line_v is not None and taps_w is not None:
            line = line_speakers(wire, line_v, taps_w)
            verdict = line.verdict
            enough = gauge_that_holds(
                lambda gauge: line_speakers(replace(wire, awg=gauge), line_v, taps_w).verdict
            )
            figures = {
                "load_v": line.load_v,
                "drop_v": line.drop_v,
                "drop_percent": line.drop_percent,
                "current_a": line.current_a,
                "wire_ohm": line.wire_ohm,
            }
            words = f"{said(line.load_v, 1)} at the far end; the wire takes {said(line.drop_percent, 1)}"
        else:
            told = speaker_line(wire, load_ohm)
            verdict = told.verdict
            enough = gauge_that_holds(lambda gauge: speaker_line(replace(wire, awg=gauge), load_ohm).verdict)
            figures = {
                "level_db": told.level_db,
                "wire_share_percent": told.wire_share,
                "damping": told.damping,
                "longest_ft": told.longest_ft,
                "wire_ohm": told.wire_ohm,
            }
            words = (
                f"{said(told.level_db)}, wire {told.wire_share.value:.1f} % of the loudspeaker (at most 5 %:"
                f" {told.longest_ft.value:.0f} ft of {awg} AWG); damping {told.damping.value:.0f}"
            )
    except RangeError as error:
        raise refuse("quick speaker", str(error)) from None
    if as_json:
        values = {name: figure_json(figure) for name, figure in figures.items()}
        print_json({"verdict": verdict.value, "enough_awg": enough, **values})
    else:
        click.echo(f"{length_ft:.0f} ft of {awg} AWG: {verdict.value}")
        click.echo(f"  {words}")
        click.echo(
            "  no usual gauge is enough: bring the amplifier nearer"
            if enough is None
            else f"  thinnest that is enough: {enough} AWG (common practice, no source)"
        )
    raise SystemExit(exit_code(verdict.value))
