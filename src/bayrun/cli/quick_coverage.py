"""``bayrun quick coverage --distance 35 --wall "drywall partition"``: radio signal behind walls."""

from __future__ import annotations

import re
from dataclasses import replace

import click

from bayrun.cables.ranges import RangeError, one_of
from bayrun.cli.quick_figures import FEET, HELP, as_json, exit_code, figure_json, said
from bayrun.cli.talk import print_json, refuse
from bayrun.radio.coverage import deciding_band, usual_bands
from bayrun.radio.one_way import one_way
from bayrun.radio.slab import ready_stacks

_COUNTED = re.compile(r"^\s*(\d{1,2})\s*[x×]\s*(.+)$")


def _walls(texts: tuple[str, ...]) -> list[str]:
    """Names of walls, ``2x drywall partition`` written out."""
    out: list[str] = []
    for text in texts:
        match = _COUNTED.match(text)
        out += [match[2].strip()] * int(match[1]) if match else [text.strip()]
    return out


@click.command("coverage", context_settings=HELP)
@click.option("--distance", "distance_ft", type=FEET, required=True, help="From the access point [ft].")
@click.option(
    "--wall",
    "texts",
    multiple=True,
    help="A wall or floor on the way, once for each, or 2x before its name: "
    + ", ".join(name for name, _ in ready_stacks())
    + ".",
)
@click.option("--band", "names", multiple=True, help="2.4, 5 or 6 GHz; all three if not said.")
@click.option("--sent", "eirp_dbm", type=float, default=None, help="What the weaker side sends, EIRP [dBm].")
@click.option("--wanted", "wanted_dbm", type=float, default=None, help="What the client wants [dBm].")
@click.option("--in-enclosure", "boxed", is_flag=True, help="It stands in a metal enclosure, door shut.")
@as_json
def coverage(
    distance_ft: float,
    texts: tuple[str, ...],
    names: tuple[str, ...],
    eirp_dbm: float | None,
    wanted_dbm: float | None,
    boxed: bool,
    as_json: bool,
) -> None:
    """Radio signal at the end of a straight way through walls and floors.

    Exit code 0 when the signal holds in the 5 GHz band (or the only one asked), 1 when it does not or nobody
    can tell, 2 for bad input.
    """
    bands = usual_bands()
    known = [band.name for band in bands]
    asked = [f"{n.strip().upper().removesuffix('GHZ').strip()} GHz" for n in names] or known
    wrong = [told for told in (one_of("a band", name, known) for name in dict.fromkeys(asked)) if told]
    if wrong:
        raise refuse("quick coverage", "; ".join(wrong))
    try:
        told = []
        for band in bands:
            if band.name not in asked:
                continue
            if eirp_dbm is not None:
                band = replace(band, eirp_dbm=eirp_dbm)
            if wanted_dbm is not None:
                band = replace(band, wanted_dbm=wanted_dbm)
            told.append(one_way(distance_ft, _walls(texts), band, boxed=boxed))
    except RangeError as error:
        raise refuse("quick coverage", str(error)) from None
    decides = next((way for way in told if way.band.name == deciding_band()), told[0])
    if as_json:
        print_json(
            {
                "verdict": decides.verdict.value,
                "decided_in": decides.band.name,
                "bands": [
                    {
                        "band": way.band.name,
                        "ghz": way.band.ghz,
                        "sent_dbm": way.band.eirp_dbm,
                        "wanted_dbm": way.band.wanted_dbm,
                        "free_space_db": figure_json(way.free_db),
                        "walls": [
                            {"wall": name, "loss_db": figure_json(part)} for name, part in way.walls_db
                        ],
                        "box_db": way.box_db,
                        "level_dbm": figure_json(way.level_dbm),
                        "verdict": way.verdict.value,
                    }
                    for way in told
                ],
            }
        )
    else:
        for way in told:
            parts = [f"free space {way.free_db.value:.0f} dB"]
            parts += [f"{name} {part.value:.1f} dB" for name, part in way.walls_db]
            parts += [f"metal box {way.box_db:g} dB"] if way.box_db else []
            click.echo(
                f"{way.band.name}: {said(way.level_dbm, 0)} of {way.band.wanted_dbm:g} dBm wanted: "
                f"{way.verdict.value}"
            )
            click.echo(f"  sent {way.band.eirp_dbm:g} dBm, less {', '.join(parts)}")
        click.echo("Square on, between studs; furniture, people and metal take more: measure.")
    raise SystemExit(exit_code(decides.verdict.value))
