"""``bayrun access-points JOB``: where access points should hang, with their wired ways."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from bayrun.cli.plan_cmds import read_file
from bayrun.cli.talk import Told, print_json, refuse, typed

if TYPE_CHECKING:
    from bayrun.house import Job
    from bayrun.siting.access_points import Place


@click.command(
    help="Best places for access points: the most area served for certain, each with a legal wired way. "
    "Exit 1 where the area asked for cannot be served."
)
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--count", type=int, default=None, help="How many; left out: the fewest for --share.")
@click.option("--share", type=float, default=None, help="Part of what can be served, 0.5 to 1; 0.98 usual.")
@click.option("--margin", type=float, default=None, help="dB over what is wanted; the uncertainty usual.")
@click.option("--beside", is_flag=True, help="Those the job has stay; find places beside them.")
@click.option("--band", default=None, help="2.4, 5 or 6 GHz; 5 usual.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=None,
    help="Write the job with them here.",
)
@click.option("--json", "as_json", is_flag=True, help="Only JSON on standard output.")
@click.option("--quiet", is_flag=True, help="No progress.")
def access_points(
    job: Path,
    count: int | None,
    share: float | None,
    margin: float | None,
    beside: bool,
    band: str | None,
    out: Path | None,
    as_json: bool,
    quiet: bool,
) -> None:
    """Tell the best places, and write them into a job file where asked."""
    from bayrun.cables.ranges import RangeError, one_of
    from bayrun.framing import lay_out
    from bayrun.house import ModelError
    from bayrun.radio.coverage import deciding_band, usual_bands
    from bayrun.siting.access_points import USUAL_SHARE, best_access_points, place_words

    read, data = read_file(job, "access-points")
    bands = {one.name: one for one in usual_bands()}
    name = deciding_band() if band is None else f"{band.strip().upper().removesuffix('GHZ').strip()} GHz"
    wrong = one_of("a band", name, bands)
    if wrong:
        raise refuse("access-points", wrong)
    told = Told(quiet)
    told("looking for places", 1, 1)
    try:
        found = best_access_points(
            read,
            lay_out(read),
            count,
            margin_db=margin,
            share=USUAL_SHARE if share is None else share,
            band=bands[name],
            beside=beside,
        )
    except (RangeError, ModelError) as error:
        raise refuse("access-points", str(error)) from None
    if out is not None:
        _write(read, data, job, found.places, out)
    if as_json:
        print_json(
            {
                "band": found.band.name,
                "wanted_dbm": found.band.wanted_dbm,
                "margin_db": found.margin_db,
                "share": round(found.share, 6),
                "most_share": round(found.most_share, 6),
                "all_share": round(found.all_share, 6),
                "least_count": found.least_count,
                "tried": found.tried,
                "barred": found.barred,
                "now_share": None if found.now_share is None else round(found.now_share, 6),
                "places": [
                    {
                        "level": place.level,
                        "room": place.room,
                        "x_in": round(place.x_in, 4),
                        "y_in": round(place.y_in, 4),
                        "share": round(place.share, 6),
                        "cable_ft": round(place.reach.feet, 2),
                        "new_holes": place.reach.holes,
                        "price": round(place.reach.price, 2),
                        "way": place.reach.way,
                    }
                    for place in found.places
                ],
            }
        )
    else:
        told.done(
            f"{found.band.name}, {found.band.wanted_dbm:g} dBm held by {found.margin_db:g} dB: "
            f"{found.share:.1%} of the house with {len(found.places)}"
        )
        for number, place in enumerate(found.places, 1):
            click.echo(f"{number}. {place_words(place)}")
        if count is None:
            click.echo(f"Of {found.tried} places tried, no choice of fewer than {found.least_count} does it.")
        else:
            click.echo(f"Of {found.tried} places tried, no {count} serve over {found.most_share:.1%}.")
        if found.barred:
            click.echo(f"{found.barred} places have no legal wired way and were left out.")
        if found.now_share is not None:
            click.echo(f"The access points the job has serve {found.now_share:.1%} by the same measure.")
        click.echo("Good to about 6 dB: measure after the board is up.")
        if out is not None:
            click.echo(f"Written: {out}; plan it with bayrun plan {typed(out)}")
    raise SystemExit(0 if found.share + 1e-9 >= (share or USUAL_SHARE) * found.all_share else 1)


def _write(read: Job, data: bytes, path: Path, places: tuple[Place, ...], out: Path) -> None:
    from bayrun.cli.check_cmd import write_job
    from bayrun.files import rewrite
    from bayrun.files.yaml_text import decode
    from bayrun.siting.access_points import hang

    if out.is_dir() or not out.parent.is_dir():
        raise refuse(
            "access-points", f"the job cannot be written to {out}: expected a file in a folder that is there."
        )
    text = rewrite(decode(data, str(path)), read, hang(read, places))
    write_job(out, path, text.encode("utf-8"), "access-points")
