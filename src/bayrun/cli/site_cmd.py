"""``bayrun site``: where the enclosure should hang, and when a second one pays."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from bayrun.cli.plan_cmds import read_file
from bayrun.cli.talk import Told, print_json, refuse

if TYPE_CHECKING:
    from bayrun.house import Job
    from bayrun.siting.plans import SitePlan
    from bayrun.siting.second import SecondBox
    from bayrun.siting.sites import HouseSites, Site

MOST_REASONS = 12


@click.command(
    help="Rank every bay for the enclosure: reasons, price, whole plans of the best, a second box."
)
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--best", default=12, show_default=True, type=click.IntRange(0, 60), help="Places planned whole."
)
@click.option("--all", "every", is_flag=True, help="List every bay, with all reasons against it.")
@click.option(
    "--trunk", default=2, show_default=True, type=click.IntRange(0, 48), help="Cables to a second box."
)
@click.option("--json", "as_json", is_flag=True, help="Print everything as JSON on standard output.")
@click.option("--quiet", is_flag=True, help="No progress.")
def site(job: Path, best: int, every: bool, trunk: int, as_json: bool, quiet: bool) -> None:
    """Rank every bay for the enclosure."""
    from bayrun.framing import lay_out
    from bayrun.house import ModelError
    from bayrun.siting.plans import best_plans, compare_candidates
    from bayrun.siting.second import second_box, second_words
    from bayrun.siting.sites import site_house

    told = Told(quiet)
    read, _ = read_file(job, "site")
    try:
        frame = lay_out(read)
        sites = site_house(read, frame, progress=told)
    except ModelError as error:
        raise refuse("site", f"{job} cannot be laid out: {error}.") from None
    plans = best_plans(sites, frame, best, told)
    named = compare_candidates(read, frame, progress=told) if best and read.enclosures else ()
    first = sites.fitting[0] if sites.fitting else None
    second = second_box(sites, first, trunk=trunk) if first is not None else None
    words = second_words(read, second) if first is not None else ""
    if as_json:
        print_json(_data(sites, plans, named, second, words))
    else:
        _print(read, sites, plans, named, words, every)
    fits = sum(s.ranked.fits for s in sites.sites)
    told.done(f"{read.name}: {len(sites.sites)} bay sides looked at, {fits} can take the box.")
    raise SystemExit(0 if sites.fitting else 1)


def _print(
    job: Job,
    sites: HouseSites,
    plans: tuple[SitePlan, ...],
    named: tuple[SitePlan, ...],
    words: str,
    every: bool,
) -> None:
    money = job.practice.currency
    if not sites.fitting:
        click.echo("No bay can take the box and reach every run. Reasons, most frequent first:")
    if plans:
        click.echo(f"Best places, each planned whole ({money}: cable, pulling and holes):")
        for n, plan in enumerate(plans, start=1):
            click.echo(f"{n:3}. {_line(plan, money)}")
            for note in _notes(plan):
                click.echo(f"     {note}")
    elif sites.fitting:
        click.echo(f"Best places by the least their runs can cost ({money}):")
        for n, one in enumerate(sites.fitting[:12], start=1):
            click.echo(f"{n:3}. {one.price:,.0f} {money}  {'; '.join(one.ranked.says)}")
    if named:
        click.echo("\nPlaces the job names:")
        for plan in named:
            chosen = job.chosen_enclosure
            mark = "* " if chosen is not None and chosen.id == plan.enclosure.id else "  "
            click.echo(f"  {mark}{plan.enclosure.id}: {_line(plan, money)}")
            for note in (*_notes(plan), *plan.about):
                click.echo(f"       {note}")
        click.echo("  * the one this job goes with")
    if words:
        click.echo(f"\n{words}")
    if every:
        click.echo("\nEvery bay side:")
        for one in sites.sites:
            click.echo(f"  {_why(one, money)}")
        return
    reasons = Counter(r.split(":")[0].split(",")[0] for s in sites.sites for r in s.ranked.against)
    if reasons:
        click.echo("\nAgainst the others, most frequent first (--all lists them bay by bay):")
        for reason, count in sorted(reasons.items(), key=lambda p: (-p[1], p[0]))[:MOST_REASONS]:
            click.echo(f"  {count:5}  {reason}")


def _line(plan: SitePlan, money: str) -> str:
    return (
        f"{plan.price:,.0f} {money}  {plan.feet:,.0f} ft, {plan.holes} holes, longest "
        f"{plan.longest_ft:,.0f} ft ({plan.longest_run}), {plan.stops} stop, {plan.fixes} fix soon: "
        f"{plan.place}"
    )


def _notes(plan: SitePlan) -> tuple[str, ...]:
    notes = []
    if plan.unreached:
        notes.append(f"without a way: {', '.join(plan.unreached)}")
    if plan.site is not None:
        notes.append("; ".join(plan.site.ranked.says[1:]))
        if not plan.site.clear_floor:
            notes.append("no clear floor to stand on before it")
    if plan.radio_inside is not None and plan.radio_ceiling is not None:
        notes.append(
            f"one access point serves {100 * plan.radio_inside:.0f} % of the house from the shut box, "
            f"{100 * plan.radio_ceiling:.0f} % from the ceiling before it (about 6 dB)"
        )
    return tuple(notes)


def _why(one: Site, money: str) -> str:
    place = one.ranked.says[0]
    if one.ranked.against:
        return f"no   level {one.ranked.level}, {place}: {'; '.join(one.ranked.against)}"
    if one.lost:
        return f"no   level {one.ranked.level}, {place}: {one.lost} cables find no way there"
    return (
        f"yes  level {one.ranked.level}, {place}: {one.price:,.0f} {money}; {'; '.join(one.ranked.says[1:])}"
    )


def _data(
    sites: HouseSites,
    plans: tuple[SitePlan, ...],
    named: tuple[SitePlan, ...],
    second: SecondBox | None,
    words: str,
) -> dict[str, Any]:
    return {
        "currency": sites.job.practice.currency,
        "bays": [_bay(s) for s in sites.sites],
        "plans": [_plan(p) for p in plans],
        "candidates": [_plan(p) for p in named],
        "second": None
        if second is None
        else {
            "bay": second.second.ranked.bay,
            "cables": second.cables,
            "one_price": round(second.one_price, 2),
            "two_price": round(second.two_price, 2),
            "trunk_price": round(second.trunk_price, 2),
            "saves": round(second.saves, 2),
        },
        "second_says": words,
    }


def _bay(one: Site) -> dict[str, Any]:
    r = one.ranked
    return {
        "bay": r.bay,
        "wall": r.wall,
        "level": r.level,
        "room": r.room,
        "side": r.side,
        "bay_studs_in": list(r.bay_studs_in),
        "clear_width_in": r.clear_width_in,
        "depth_in": r.depth_in,
        "ways": list(one.ways),
        "price": round(one.price, 2) if one.price < float("inf") else None,
        "lost": one.lost,
        "clear_floor": one.clear_floor,
        "fits": r.fits,
        "against": list(r.against),
        "says": list(r.says),
    }


def _plan(plan: SitePlan) -> dict[str, Any]:
    return {
        "enclosure": plan.enclosure.id,
        "bay": plan.site.ranked.bay if plan.site is not None else None,
        "wall": plan.enclosure.wall,
        "place": plan.place,
        "price": round(plan.price, 2),
        "feet": round(plan.feet, 1),
        "holes": plan.holes,
        "plates": plan.plates,
        "seals": plan.seals,
        "longest_run": plan.longest_run,
        "longest_ft": round(plan.longest_ft, 1),
        "unreached": list(plan.unreached),
        "stops": plan.stops,
        "fix_soon": plan.fixes,
        "cannot_tell": plan.cannot_tell,
        "about": list(plan.about),
        "radio_inside": plan.radio_inside,
        "radio_ceiling": plan.radio_ceiling,
    }
