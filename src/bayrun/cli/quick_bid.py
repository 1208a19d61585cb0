"""``bayrun quick bid bed=3 living=1 --area 1560``: a price range with no drawing, and the model beside it."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import click

from bayrun.cli.price_lists import job_of, price_list_option, read_list
from bayrun.cli.quick_figures import HELP, as_json, figure_json
from bayrun.cli.talk import print_json, refuse

if TYPE_CHECKING:
    from bayrun.tables.prices import PriceList
    from bayrun.takeoff.bid import Bid, Compared, Range


@click.command("bid", context_settings=HELP)
@click.argument("rooms", nargs=-1)
@click.option("--area", "area_ft2", type=float, required=True, help="Floor area of all stories [ft2].")
@click.option("--stories", type=int, default=1, show_default=True, help="Stories, a basement among them.")
@click.option("--plan", "plan_type", default=None, help="Plan type of the price list [default: by stories].")
@click.option(
    "--package", type=click.Choice(["small", "middle", "large"]), default="middle", show_default=True
)
@price_list_option()
@click.option(
    "--beside", type=click.Path(path_type=Path), default=None, help="A job file: its plan takes lines over."
)
@as_json
def bid(
    rooms: tuple[str, ...],
    area_ft2: float,
    stories: int,
    plan_type: str | None,
    package: Literal["small", "middle", "large"],
    price_list: Path | None,
    beside: Path | None,
    as_json: bool,
) -> None:
    """A price range from ROOMS such as bed=3 living=1 office=1 camera=2, with no drawing.

    With --beside the lines that the job's plan has replace the bid's, with the difference. Exit code 2 for
    bad input.
    """
    from bayrun.tables.prices import EXAMPLE
    from bayrun.takeoff.bid import BidError, quick_bid

    prices = read_list(price_list, "quick bid")
    usual = {1: "one story", 2: "two stories"}.get(stories, "three stories")
    counts, defects = _counts(rooms)
    try:
        told = quick_bid(
            counts,
            plan=plan_type or usual,
            area_ft2=area_ft2,
            stories=stories,
            package=package,
            prices=prices,
        )
    except BidError as error:
        defects.append(str(error))
    if defects:
        raise refuse("quick bid", "; ".join(defects))
    model = None if beside is None else _beside(told, beside, prices)
    notice = f"{EXAMPLE}: {prices.examples} of {prices.rows} rows" if prices.examples else ""
    if as_json:
        print_json(_bid_json(told, model, notice))
        return
    _say(told, model)
    if notice:
        click.echo(f"{notice[0].upper()}{notice[1:]} of {prices.name} are invented.")


def _counts(rooms: tuple[str, ...]) -> tuple[dict[str, int], list[str]]:
    counts: dict[str, int] = {}
    defects = []
    for text in rooms:
        kind, _, many = text.partition("=")
        if not many.isdecimal() or len(many) > 6:
            defects.append(f"rooms: expected a kind and a count such as bed=3, got {text!r}")
        elif kind in counts:
            defects.append(f"rooms: expected each kind once, got {kind!r} twice")
        else:
            counts[kind.strip()] = int(many)
    return counts, defects


def _beside(told: Bid, path: Path, prices: PriceList) -> tuple[tuple[Compared, ...], Range]:
    from bayrun.house import ModelError
    from bayrun.jobs import plan
    from bayrun.jobs.money import plan_estimate
    from bayrun.takeoff.bid import beside_the_model

    try:
        made = plan(job_of(path, "quick bid"), prices=prices)
    except ModelError as error:
        raise refuse("quick bid", f"{path} cannot be planned: {error}.") from None
    return beside_the_model(told, plan_estimate(made), prices)


def _say(told: Bid, model: tuple[tuple[Compared, ...], Range] | None) -> None:
    low, likely, high = told.total
    cables = " to ".join(f"{one:.0f}" for one in (told.cables[0], told.cables[2]))
    click.echo(
        f"{told.package} package, {told.plan}: likely {likely:,.0f}, "
        f"between {low:,.0f} and {high:,.0f} with tax"
    )
    click.echo(
        f"  {told.cables[1]:.0f} cables ({cables}), {told.feet[1]:.0f} ft each "
        f"({told.feet[0]} to {told.feet[2]})"
    )
    if model is None:
        for line in told.lines:
            low, likely, high = line.price
            click.echo(f"  {line.words:28} {likely:>10,.2f}  ({low:,.2f} to {high:,.2f})")
        return
    rows, total = model
    for row in rows:
        if row.model is None or row.difference is None:
            click.echo(f"  {row.words:28} {row.bid[1]:>10,.2f}  bid, not modeled yet")
        else:
            inside = "" if row.within else ", outside the bid's range"
            click.echo(
                f"  {row.words:28} {row.model:>10,.2f}  bid {row.bid[1]:,.2f}, {row.difference:+,.2f}{inside}"
            )
    change = total[1] - told.total[1]
    click.echo(f"Now {total[1]:,.2f} ({total[0]:,.2f} to {total[2]:,.2f}), {change:+,.2f} against the bid")


def _floats(told: Range) -> list[float]:
    return [float(round(one, 6)) for one in told]


def _bid_json(told: Bid, model: tuple[tuple[Compared, ...], Range] | None, notice: str) -> dict[str, Any]:
    data: dict[str, Any] = {
        "package": told.package,
        "plan": told.plan,
        "cables": _floats(told.cables),
        "feet_of_a_run": _floats(told.feet),
        "total": _floats(told.total),
        "lines": [
            {
                "key": line.key,
                "words": line.words,
                "unit": line.unit,
                "count": _floats(line.count),
                "price": _floats(line.price),
                "figure": figure_json(line.figure),
            }
            for line in told.lines
        ],
        "examples": notice or None,
        "model": None,
    }
    if model is not None:
        rows, total = model
        data["model"] = {
            "total": _floats(total),
            "difference": float(total[1] - told.total[1]),
            "lines": [
                {
                    "key": row.key,
                    "bid": _floats(row.bid),
                    "model": _one(row.model),
                    "difference": _one(row.difference),
                    "within": row.within,
                }
                for row in rows
            ],
        }
    return data


def _one(value: Decimal | None) -> float | None:
    return None if value is None else float(value)
