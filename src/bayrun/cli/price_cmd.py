"""``bayrun price`` and ``bayrun change``: what a job costs, and what a change costs."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from bayrun.cli.price_lists import job_of, price_list_option, read_list
from bayrun.cli.talk import Told, print_json, refuse

if TYPE_CHECKING:
    from bayrun.jobs import Plan
    from bayrun.jobs.plan import Issued
    from bayrun.tables.prices import PriceList
    from bayrun.takeoff.change import ChangePrice
    from bayrun.takeoff.changes import Changes
    from bayrun.takeoff.price import Estimate

WHENS = ("before drywall", "insulated", "after drywall")
_WHEN = click.option(
    "--when", type=click.Choice(WHENS), default=WHENS[0], show_default=True, help="When the work is done."
)


@click.command(help="The price of a job, line by line to the cent; options priced as changes of it.")
@click.argument("job", type=click.Path(path_type=Path))
@price_list_option()
@_WHEN
@click.option("--option", "options", multiple=True, help="NAME=JOB: the same job with an option in it.")
@click.option("--json", "as_json", is_flag=True, help="Only JSON on standard output, every line explained.")
@click.option("--quiet", is_flag=True, help="No progress.")
def price(
    job: Path, price_list: Path | None, when: str, options: tuple[str, ...], as_json: bool, quiet: bool
) -> None:
    """Price a job."""
    from bayrun.jobs.money import plan_estimate, price_notice

    told = Told(quiet)
    prices = read_list(price_list, "price")
    pairs = [(name.strip(), Path(path)) for name, _, path in (one.partition("=") for one in options)]
    bad = [one for one, (name, path) in zip(options, pairs, strict=True) if not name or path == Path()]
    if bad:
        raise refuse("price", f"--option: expected NAME=JOB, got {', '.join(map(repr, bad))}")
    made = _plan(job, prices, told, "price")
    estimate = plan_estimate(made, when)
    changes = [(name, _option(made, path, prices, told, when)) for name, path in pairs]
    told.done(f"{job}: priced with {prices.name}.")
    if as_json:
        print_json(_estimate_json(estimate, changes))
        return
    _say(estimate, changes)
    if price_notice(estimate):
        click.echo(price_notice(estimate))


def _plan(path: Path, prices: PriceList, told: Told, command: str, base: Issued | None = None) -> Plan:
    from bayrun.house import ModelError
    from bayrun.jobs import plan

    read = job_of(path, command)
    try:
        return plan(read, told, base, prices=prices)
    except ModelError as error:
        raise refuse(command, f"{path} cannot be planned: {error}.") from None


def _priced(base: Issued, after: Plan, prices: PriceList, when: str, command: str) -> ChangePrice:
    from bayrun.takeoff.change import Planned, price_change

    if base.job is None or base.counted is None:
        raise refuse(command, "the plan last issued is of an earlier release and keeps no job to compare.")
    before = Planned(base.job, base.wiring, base.counted)
    return price_change(before, Planned(after.job, after.wiring, after.counted), prices, when)


def _option(made: Plan, path: Path, prices: PriceList, told: Told, when: str) -> ChangePrice:
    after = _plan(path, prices, told, "price", made.issued)
    return _priced(made.issued, after, prices, when, "price")


def _say(told: Estimate, changes: list[tuple[str, ChangePrice]]) -> None:
    for section in told.sections:
        click.echo(f"{section.words:44} {section.price:>12,.2f}")
    for line in told.lines:
        if line.part == "tax":
            click.echo(f"{line.words:44} {line.price:>12,.2f}")
    click.echo(f"{f'Total, {told.when}':44} {told.total:>12,.2f} {told.currency}")
    click.echo(
        f"Half of such jobs stay under {told.p50:,.2f}, four of five under {told.p80:,.2f}; "
        f"{told.person_hours:.1f} hours of people, "
        + ", ".join(f"{days} days {stage}" for stage, days in told.days)
    )
    if told.unpriced:
        click.echo(f"Not priced yet: {', '.join(told.unpriced)}")
    for name, one in changes:
        click.echo(f"{f'Option: {name}':44} {one.price:>12,.2f} {one.currency}  ({_short(one)})")
    if len(changes) > 1:
        whole = sum((one.price for _, one in changes), Decimal(0))
        click.echo(f"{'All options, each as if taken alone':44} {whole:>12,.2f} {told.currency}")


def _short(one: ChangePrice) -> str:
    parts = [f"{one.feet:+d} ft", f"{one.holes:+d} holes", f"{one.plates:+d} plates", f"{one.hours:+.2f} h"]
    return ", ".join(parts)


def _amount(value: Decimal | None) -> float | None:
    return None if value is None else float(value)


def _estimate_json(told: Estimate, changes: list[tuple[str, ChangePrice]]) -> dict[str, Any]:
    return {
        "when": told.when,
        "currency": told.currency,
        "cost": float(told.cost),
        "before_tax": float(told.before_tax),
        "tax": float(told.tax),
        "total": float(told.total),
        "p50": float(told.p50),
        "p80": float(told.p80),
        "low": float(told.low),
        "high": float(told.high),
        "person_hours": float(told.person_hours),
        "days": dict(told.days),
        "examples": told.examples,
        "unpriced": list(told.unpriced),
        "sections": [{"words": s.words, "price": float(s.price)} for s in told.sections],
        "lines": _lines_json(told.lines),
        "options": [{"name": name, **_change_json(one)} for name, one in changes],
    }


def _lines_json(lines: Any) -> list[dict[str, Any]]:
    return [
        {
            "id": line.id,
            "part": line.part,
            "stage": line.stage,
            "words": line.words,
            "count": float(line.count),
            "unit": line.unit,
            "each": _amount(line.each),
            "price": _amount(line.price),
            "low": float(line.low),
            "high": float(line.high),
            "own": line.own,
            "formula": line.figure.formula,
            "inputs": dict(line.figure.inputs),
            "source": line.figure.source,
            "because": list(line.because),
        }
        for line in lines
    ]


@click.command(
    help="What a change costs: two plans of one job in, extra feet, holes, plates, hours and price out."
)
@click.argument("before", type=click.Path(path_type=Path))
@click.argument("after", type=click.Path(path_type=Path))
@price_list_option()
@_WHEN
@click.option("--json", "as_json", is_flag=True, help="Only JSON on standard output, every line explained.")
@click.option("--quiet", is_flag=True, help="No progress.")
def change(before: Path, after: Path, price_list: Path | None, when: str, as_json: bool, quiet: bool) -> None:
    """Price a change; BEFORE is a job file or the pack last issued, AFTER the job with the change."""
    from bayrun.cli.plan_cmds import issued_plan
    from bayrun.jobs.changes import plan_changes

    told = Told(quiet)
    prices = read_list(price_list, "change")
    issued = before.is_dir() or before.suffix == ".json"
    base = issued_plan(before, "change") if issued else _plan(before, prices, told, "change").issued
    made = _plan(after, prices, told, "change", base)
    one = _priced(base, made, prices, when, "change")
    changes = plan_changes(made, when)
    told.done(f"{after} against {before}: priced with {prices.name}.")
    if as_json:
        print_json(_change_json(one))
        return
    click.echo(f"{f'Change, {one.when}':30} {one.price:>12,.2f} {one.currency} with tax")
    kinds = ", ".join(f"{kind} {feet:+d} ft" for kind, feet in one.feet_by_kind)
    click.echo(f"{_short(one)}" + (f" ({kinds})" if kinds else ""))
    for line in one.lines:
        amount = "no price" if line.price is None else f"{line.price:>10,.2f}"
        click.echo(f"  {amount}  {line.words}: {line.count:+f} {line.unit}")
    if changes is not None:
        _say_moved(changes)


def _say_moved(changes: Changes) -> None:
    """What was asked, and what else is different with the reason."""
    for asked in changes.asked:
        click.echo(f"  asked: {asked.says}")
    for item in changes.items:
        word = "as asked" if item.asked else "moved too"
        click.echo(f"  {word}: {item.thing} {item.id} {item.what}, {item.place}: {item.says}; {item.why}")
    if all(item.asked for item in changes.items):
        click.echo("  Nothing else moved.")


def _change_json(one: ChangePrice) -> dict[str, Any]:
    return {
        "when": one.when,
        "currency": one.currency,
        "feet": one.feet,
        "feet_by_kind": dict(one.feet_by_kind),
        "holes": one.holes,
        "plates": one.plates,
        "straps": one.straps,
        "seals": one.seals,
        "supports": one.supports,
        "hours": float(one.hours),
        "cost": float(one.cost),
        "before_tax": float(one.before_tax),
        "tax": float(one.tax),
        "price": float(one.price),
        "lines": _lines_json(one.lines),
        "touched": [
            {"thing": t.thing, "id": t.id, "what": t.what, "asked": t.asked, "place": t.place, "feet": t.feet}
            for t in one.touched
        ],
    }
