"""``bayrun quick knockout 22x0.23``: the knockout of an enclosure that takes a bundle; ``quick slack``: its
coils."""

from __future__ import annotations

import click

from bayrun.cli.quick_bundle import read_item
from bayrun.cli.quick_figures import HELP, as_json, figure_json
from bayrun.cli.talk import print_json, refuse


def _cables(command: str, items: tuple[str, ...]) -> list[float]:
    """Diameters as typed; one message with all that is wrong, exit 2."""
    read = [read_item(text) for text in items]
    wrong = [item for item in read if isinstance(item, str)]
    if not items:
        wrong = ["no cables given: expected a count and an outside diameter in inches, such as 11x0.23"]
    sizes = [item.diameter_in for item in read if not isinstance(item, str) for _ in range(item.count)]
    if len(sizes) > 500:
        wrong.append(f"expected at most 500 cables, got {len(sizes)}")
    if wrong:
        raise refuse(command, "; ".join(wrong))
    return sizes


def _length(command: str, option: str, text: str) -> float:
    from bayrun.units import LengthError, parse_length

    try:
        return parse_length(text)
    except LengthError as error:
        raise refuse(command, f"{option}: {error}") from None


@click.command(context_settings={"ignore_unknown_options": True, **HELP})
@click.argument("items", nargs=-1, metavar="COUNTxDIAMETER...", type=click.UNPROCESSED)
@click.option(
    "--fill", type=float, default=0.4, show_default=True, help="Share of the bushing cable may take."
)
@as_json
def knockout(items: tuple[str, ...], fill: float, as_json: bool) -> None:
    """Which knockout of an enclosure takes a bundle through its bushing, by trade size.

    Exit code 0 when one does, 1 when the bundle must be split, 2 for bad input.
    """
    from bayrun.cables import FillError, PackingCache, fill_fraction, within_fill
    from bayrun.enclosure.gear import gear_table
    from bayrun.units import tape

    sizes = _cables("quick knockout", items)
    data, cache = gear_table(), PackingCache()
    rows = []
    try:
        for row in data["knockout"]:
            opening_in = float(row["bushing_in"])
            takes = within_fill(opening_in, sizes, fill) and cache.fits(opening_in, sizes) is not None
            rows.append((row, fill_fraction(opening_in, sizes), takes))
    except FillError as error:
        raise refuse("quick knockout", f"--fill: {error}") from None
    chosen = next((row for row, _, takes in rows if takes), None)
    if as_json:
        print_json(
            {
                "trade": None if chosen is None else chosen["trade"],
                "fill_max": fill,
                "source": data["bushing"]["document"],
                "knockouts": [
                    {
                        "trade": row["trade"],
                        "hole_in": row["diameter_in"],
                        "bushing_in": row["bushing_in"],
                        "fill": round(share, 6),
                        "takes": takes,
                        "known": row["known"],
                    }
                    for row, share, takes in rows
                ],
            }
        )
    else:
        click.echo(
            f"{len(sizes)} {'cable' if len(sizes) == 1 else 'cables'}, at most {fill:.0%} of the bushing"
        )
        for row, share, takes in rows:
            mark = "takes it" if takes else "too small"
            hole = tape(round(row["diameter_in"] * 32) / 32)
            click.echo(f"  trade {row['trade']:>5} ({hole} hole): {share:4.0%} full, {mark}")
        click.echo(
            f"Knock out trade size {chosen['trade']}, with its bushing before the first cable."
            if chosen is not None
            else "None takes it: split the bundle over more knockouts."
        )
        click.echo("Bushing openings are generic: measure yours.")
    raise SystemExit(0 if chosen is not None else 1)


@click.command(context_settings={"ignore_unknown_options": True, **HELP})
@click.argument("items", nargs=-1, metavar="COUNTxDIAMETER...", type=click.UNPROCESSED)
@click.option("--length", default="71", show_default=True, help="Of each cable inside the box: 71, or 6'.")
@click.option("--width", default="14", show_default=True, help="Clear inside of the box.")
@click.option("--height", default="27-3/4", show_default=True, help="Clear inside of the box.")
@click.option("--depth", default="3-5/8", show_default=True, help="Of the box.")
@click.option("--bend", "bend_x", type=float, default=4.0, show_default=True, help="Bend radius x diameter.")
@as_json
def slack(
    items: tuple[str, ...], length: str, width: str, height: str, depth: str, bend_x: float, as_json: bool
) -> None:
    """Does the coiled slack go into the enclosure behind its cover.

    Exit code 0 when it does, 1 when it does not or nobody can tell, 2 for bad input.
    """
    from bayrun.cables.ranges import RangeError, Verdict
    from bayrun.enclosure.slack import Slacked, coil_slack

    sizes = _cables("quick slack", items)
    name = "quick slack"
    length_in = _length(name, "--length", length)
    inside = [_length(name, f"--{side}", text) for side, text in
              (("width", width), ("height", height), ("depth", depth))]  # fmt: skip
    if not 1 <= bend_x <= 40:
        raise refuse(name, f"--bend: expected 1 to 40 times the diameter, got {bend_x:g}")
    cables = [Slacked(f"cable {n}", length_in, d, d * bend_x) for n, d in enumerate(sizes, 1)]
    try:
        told = coil_slack(cables, inside[0], inside[1], inside[2])
    except RangeError as error:
        raise refuse(name, str(error)) from None
    if told is None:
        raise refuse(name, "expected a length of slack above 0")
    if as_json:
        print_json(
            {
                "verdict": told.verdict.value,
                "coils": told.coils,
                "cables": told.cables,
                "turns": told.turns,
                "across_in": round(told.across_in, 6),
                "inside_in": round(told.inside_in, 6),
                "stack_in": figure_json(told.stack_in),
                "behind_in": round(told.depth_in, 6),
                "reason": told.reason,
            }
        )
    else:
        click.echo(f"{len(sizes)} {'cable' if len(sizes) == 1 else 'cables'}: {told.verdict.value}")
        click.echo(f"  {told.reason}")
        click.echo("  A coil is as loose as the hand that winds it: try one.")
    raise SystemExit(0 if told.verdict is Verdict.HOLDS else 1)
