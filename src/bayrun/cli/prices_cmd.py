"""``bayrun prices out``, ``in`` and ``learn``: the firm's price list as one plain table."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import click

from bayrun.cli.price_lists import bad_rows, job_of, read_list, read_text
from bayrun.cli.talk import print_json, reason, refuse, typed


@click.group(help="The firm's price list: packs, hours, factors, rates and bid rules as one plain CSV table.")
def prices() -> None:
    """Read and write the firm's price list."""


@prices.command(name="out", help="Write the price list to change; without FILE to standard output.")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False), required=False)
@click.option("--from", "source", type=click.Path(path_type=Path), default=None, help="A list of your own.")
@click.option(
    "--job", type=click.Path(path_type=Path), default=None, help="Add the cable prices of this job."
)
@click.option("--force", is_flag=True, help="Write over a file that is already there.")
def out(file: Path | None, source: Path | None, job: Path | None, force: bool) -> None:
    """Write the price list."""
    from bayrun.tables.prices import Value, price_list_csv

    told = read_list(source, "prices out")
    if job is not None:
        named = {row.key for row in told.cables}
        more = tuple(
            Value(k.letter, k.name, "", "ft", Decimal(0), Decimal(0), Decimal(0), k.price_per_foot)
            for k in job_of(job, "prices out").practice.cables
            if k.letter not in named
        )
        told = replace(told, cables=(*told.cables, *(replace(row, source=f"job {job.name}") for row in more)))
    text = price_list_csv(told)
    if file is None:
        click.echo(text, nl=False)
        return
    _write(file, text, force, "prices out")
    click.echo(
        f"{file}: {told.rows} rows, {told.examples} of them example figures; put in your own. "
        f"Next: bayrun prices in {typed(file)}",
        err=True,
    )


def _write(file: Path, text: str, force: bool, command: str) -> None:
    if file.exists() and not force:
        raise refuse(command, f"{file} is already there and was left as it is. Say --force to write over it.")
    try:
        file.write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise refuse(command, f"{file} cannot be written: {reason(error)}") from None


@prices.command(name="in", help="Check a price list: every bad row at once, with its line.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Only JSON on standard output.")
def take_in(file: Path, as_json: bool) -> None:
    """Check a price list."""
    told = read_list(file, "prices in")
    own = told.rows - told.examples
    if as_json:
        print_json({"rows": told.rows, "own": own, "examples": told.examples})
    else:
        click.echo(
            f"{file}: {own} of {told.rows} rows are yours, {told.examples} are example figures. "
            f"Use it: bayrun plan JOB --price-list {typed(file)}"
        )


@prices.command(name="learn", help="New hours from what tasks really took: a CSV of task, estimated, actual.")
@click.argument("file", type=click.Path(path_type=Path))
@click.argument("actuals", type=click.Path(path_type=Path))
@click.option(
    "--out", "target", type=click.Path(path_type=Path, dir_okay=False), default=None, help="New list."
)
@click.option("--force", is_flag=True, help="Write over a file that is already there.")
@click.option("--json", "as_json", is_flag=True, help="Only JSON on standard output.")
def learn_from(file: Path, actuals: Path, target: Path | None, force: bool, as_json: bool) -> None:
    """Learn hours from actual records."""
    from bayrun.tables.prices import PriceTableError, price_list_csv
    from bayrun.takeoff.learn import learn, read_actuals

    told = read_list(file, "prices learn")
    try:
        records = read_actuals(read_text(actuals, "prices learn"), actuals.name, told)
    except PriceTableError as error:
        raise bad_rows(error.defects, actuals, "prices learn") from None
    new, learned = learn(told, records)
    if target is not None:
        _write(target, price_list_csv(new), force, "prices learn")
    if as_json:
        print_json(
            [
                {
                    "task": one.task,
                    "n": one.n,
                    "median_ratio": float(one.ratio),
                    "quartiles": [float(each) for each in one.spread],
                    "was_h": float(one.was),
                    "now_h": float(one.now),
                    "left_out": list(one.left_out),
                    "says": one.says,
                }
                for one in learned
            ]
        )
        return
    for one in learned:
        spread = f"{one.spread[0]:.2f} to {one.spread[1]:.2f}"
        click.echo(f"{one.task}: actual over estimated {one.ratio:.2f} (middle half {spread}); {one.says}")
    if not learned:
        click.echo("No records: nothing changes.")
