"""The price of a change: two plans in, the differences out, and what else moved."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from bayrun.geometry import at_most
from bayrun.house import Job
from bayrun.tables.prices import EXAMPLE, PriceList
from bayrun.takeoff.lengths import kind_name
from bayrun.takeoff.material import to_cent
from bayrun.takeoff.price import STAGE_FACTORS, PriceLine
from bayrun.takeoff.price import cable_by_foot as _cable_by_foot
from bayrun.takeoff.records import MaterialLine, Takeoff
from bayrun.takeoff.words import end_place, natural
from bayrun.takeoff.work import HOUR, Piece, Reach, pieces_of_work
from bayrun.units import Figure
from bayrun.wiring import Hole, Run, Wiring

What = Literal["added", "removed", "moved"]


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan as counted."""

    job: Job
    wiring: Wiring
    counted: Takeoff


@dataclass(frozen=True, slots=True)
class Touched:
    """One object that a change adds, removes or moves.

    Args:
        thing: ``run``, ``hole`` or ``location``.
        asked: True where the change itself names it: a new, gone or moved wish. False: something else moved.
        feet: Difference of what is cut [ft], for a run.
    """

    thing: str
    id: str
    what: What
    asked: bool
    place: str
    feet: int = 0


@dataclass(frozen=True, slots=True)
class ChangePrice:
    """What a change comes to.

    Args:
        when: ``before drywall``, ``insulated`` or ``after drywall``.
        feet, feet_by_kind: Cable more or less, as it is cut [ft].
        holes, plates, straps, seals, supports: More or less of each.
        hours: Of people, with the factor of the stage.
        lines: The differences, priced; ``price`` is the change with overhead, margin and tax.
        touched: What was added, removed or moved, what the change asked for first.
    """

    when: str
    currency: str
    feet: int
    feet_by_kind: tuple[tuple[str, int], ...]
    holes: int
    plates: int
    straps: int
    seals: int
    supports: int
    hours: Decimal
    lines: tuple[PriceLine, ...]
    cost: Decimal
    before_tax: Decimal
    tax: Decimal
    price: Decimal
    touched: tuple[Touched, ...]

    @property
    def else_moved(self) -> tuple[Touched, ...]:
        """What the change did not ask for and that is different all the same."""
        return tuple(one for one in self.touched if not one.asked)


def price_change(
    before: Planned, after: Planned, prices: PriceList, when: str = "before drywall"
) -> ChangePrice:
    """Price the difference of two plans.

    Material counts at the price of one unit (a pack's price over its size), so that an extra cable does not
    pay for a whole pack. Hours are the difference of each task times the stage's factor on rough work. Once
    the walls are insulated or closed, rough work and material that fall away give no credit: they are in the
    wall; and one trip is added. Overhead, margin and tax as in the estimate.

    Args:
        before: The plan as agreed.
        after: The plan with the change, made with the first as its base.
        when: When the change is made.
    Raises:
        KeyError: ``when`` is none of the three.
    """
    factor = STAGE_FACTORS[when]
    late = when != "before drywall"
    material = _material(before, after, prices, credit=not late)
    labor = _labor(before, after, prices, factor, credit=not late)
    trips = [_trip(prices)] if late and (material or labor) else []
    lines = (*material, *labor, *trips)
    cost = sum((line.price for line in lines if line.price is not None), Decimal("0.00"))
    overhead, margin = prices.rate("overhead").value / 100, prices.rate("margin").value / 100
    before_tax = to_cent(cost * (1 + overhead) / (1 - margin))
    tax = Decimal("0.00")
    for name, part in (("material tax", "material"), ("labor tax", "labor")):
        base = sum((line.price or Decimal(0) for line in lines if line.part == part), Decimal(0))
        sold = to_cent(base * (1 + overhead) / (1 - margin))
        tax += to_cent(sold * prices.rate(name).value / 100)
    feet = _feet_by_kind(before, after)
    return ChangePrice(
        when=when,
        currency=after.job.practice.currency,
        feet=sum(count for _, count in feet),
        feet_by_kind=feet,
        holes=_more(before, after, lambda p: sum(not h.open_passage for h in p.wiring.holes)),
        plates=_more(before, after, lambda p: sum(plate.pieces for plate in p.counted.plates)),
        straps=_more(before, after, lambda p: len(p.counted.straps)),
        seals=_more(before, after, lambda p: len(p.counted.seals)),
        supports=_more(before, after, lambda p: sum(one.count for one in p.counted.supports)),
        hours=sum((line.count for line in lines if line.part == "labor"), Decimal("0.00")),
        lines=lines,
        cost=cost,
        before_tax=before_tax,
        tax=tax,
        price=before_tax + tax,
        touched=what_moved(before, after),
    )


def _more(before: Planned, after: Planned, count: Callable[[Planned], int]) -> int:
    return count(after) - count(before)


def _feet_by_kind(before: Planned, after: Planned) -> tuple[tuple[str, int], ...]:
    feet: Counter[str] = Counter()
    for sign, plan in ((-1, before), (1, after)):
        for row in plan.counted.lengths:
            feet[kind_name(plan.job, row.kind)] += sign * round(row.cut_in / 12)
    return tuple((kind, feet[kind]) for kind in sorted(feet, key=natural) if feet[kind])


def _charged(plan: Planned, prices: PriceList) -> dict[tuple[str, str], MaterialLine]:
    cable = _cable_by_foot(plan.job, plan.counted, prices)
    rest = (line for line in plan.counted.material if line.group not in ("Cable", "Tools to take"))
    return {(line.key, line.item): line for line in (*cable, *rest)}


def _material(before: Planned, after: Planned, prices: PriceList, credit: bool) -> list[PriceLine]:
    old, new = _charged(before, prices), _charged(after, prices)
    found = []
    for key in sorted({*old, *new}, key=lambda pair: (natural(pair[0]), natural(pair[1]))):
        line = new.get(key) or old[key]
        count = (new[key].needed if key in new else 0) - (old[key].needed if key in old else 0)
        if not count or (count < 0 and not credit and line.group != "Trim"):
            continue
        each = None if line.unit_price is None else line.unit_price / line.pack_size
        price = None if each is None else to_cent(each * count)
        asked = {name for name, _ in new[key].uses} if key in new else set()
        was = {name for name, _ in old[key].uses} if key in old else set()
        inputs = (
            ("more", f"{count} {line.unit}"),
            ("price of a pack", "not told" if line.unit_price is None else f"{line.unit_price}"),
            ("in a pack", f"{line.pack_size}"),
        )
        source = prices.name if line.own_price else EXAMPLE
        figure = Figure(float(price or 0), "money", "difference × price of a pack ÷ its size", source, inputs)
        because = tuple(sorted(asked ^ was or asked | was, key=natural))
        found.append(
            PriceLine(
                f"material/{line.key}/{line.item}",
                "material",
                "trim" if line.group == "Trim" else "rough",
                line.item,
                Decimal(count),
                line.unit,
                each,
                price,
                price or Decimal(0),
                price or Decimal(0),
                figure,
                because,
                line.own_price,
            )
        )
    return found


def _labor(
    before: Planned, after: Planned, prices: PriceList, stage_factor: str, credit: bool
) -> list[PriceLine]:
    old, new = _counts(before), _counts(after)
    rate, found = prices.money("labor"), []
    for task in prices.tasks:
        reaches: tuple[Reach, ...] = ("", "ladder", "attic", "crawl")
        for reach in reaches:
            more, because = new.get((task.key, reach), _NONE)
            less, was = old.get((task.key, reach), _NONE)
            count = more - less
            if not count or (count < 0 and not credit and task.group == "rough"):
                continue
            names = [name for name in (reach, stage_factor if task.group == "rough" else "") if name]
            factors = [prices.factor(name) for name in names]
            hours = count * task.value * task.people
            for factor in factors:
                hours *= factor.value
            hours = hours.quantize(HOUR, ROUND_HALF_UP)
            price = to_cent(hours * rate)
            inputs = (
                ("more", f"{count} {task.unit}"),
                ("hours each", f"{task.value}"),
                ("people at once", f"{task.people}"),
                *((factor.words, f"times {factor.value}") for factor in factors),
                ("an hour", f"{rate}"),
            )
            formula = "difference × hours each × people × factors, to 0.01 h, × price of an hour"
            figure = Figure(float(price), "money", formula, task.source, inputs)
            words = ", ".join([task.words, *(factor.words.lower() for factor in factors)])
            found.append(
                PriceLine(
                    f"labor/{task.key}/{reach}",
                    "labor",
                    "trim" if task.group == "trim" else "rough",
                    words,
                    hours,
                    "h",
                    rate,
                    price,
                    price,
                    price,
                    figure,
                    tuple(sorted(because ^ was or because | was, key=natural)),
                    task.own and prices.rate("labor").own,
                )
            )
    return found


_NONE: tuple[Decimal, frozenset[str]] = (Decimal(0), frozenset())


def _counts(plan: Planned) -> dict[tuple[str, Reach], tuple[Decimal, frozenset[str]]]:
    pieces: Sequence[Piece] = pieces_of_work(plan.job, plan.wiring, plan.counted)
    found: dict[tuple[str, Reach], tuple[Decimal, frozenset[str]]] = {}
    for piece in pieces:
        count, because = found.get((piece.task, piece.reach), _NONE)
        found[piece.task, piece.reach] = (count + piece.count, because | set(piece.because))
    return found


def _trip(prices: PriceList) -> PriceLine:
    row = prices.rate("trip")
    each = row.price or Decimal(0)
    figure = Figure(float(each), "money", "one trip: the crew has gone", row.source, (("each", f"{each}"),))
    words, one = "One trip of the crew", Decimal(1)
    return PriceLine(
        "trips/change",
        "trips",
        "rough",
        words,
        one,
        row.unit,
        each,
        to_cent(each),
        each,
        each,
        figure,
        (),
        row.own,
    )


def what_moved(before: Planned, after: Planned) -> tuple[Touched, ...]:
    """Runs, holes and locations that differ: those the change names first, then what else moved.

    A run counts as moved where its way differs by more than a touch, a hole where none of the same size is
    left at its place. Ids are those of the later plan where it has them.
    """
    found = [*_locations(before.job, after.job)]
    asked_places = {one.id for one in found}
    old, new = ({run.id: run for run in plan.wiring.runs} for plan in (before, after))
    cut_old, cut_new = (
        {row.run: round(row.cut_in / 12) for row in plan.counted.lengths} for plan in (before, after)
    )
    asked_runs = set()
    for run in sorted({*old, *new}, key=natural):
        if run in old and run in new and _same_way(old[run], new[run]):
            continue
        plan, one = (after, new[run]) if run in new else (before, old[run])
        what: What = "moved" if run in old and run in new else "added" if run in new else "removed"
        asked = what != "moved" or bool({one.from_end.id, one.to_end.id} & asked_places)
        if asked:
            asked_runs.add(run)
        place = f"{end_place(plan.job, one.from_end)} to {end_place(plan.job, one.to_end)}"
        feet = cut_new.get(run, 0) - cut_old.get(run, 0)
        found.append(Touched("run", run, what, asked, place, feet))
    found += _holes(before, after, asked_runs)
    return tuple(sorted(found, key=lambda one: (not one.asked, one.thing != "location", one.thing != "run")))


def _locations(before: Job, after: Job) -> list[Touched]:
    old, new = ({one.id: one for one in job.locations} for job in (before, after))
    found = []
    for name in sorted({*old, *new}, key=natural):
        what: What = "moved" if name in old and name in new else "added" if name in new else "removed"
        if what == "moved" and old[name] == new[name]:
            continue
        found.append(Touched("location", name, what, True, (new.get(name) or old[name]).room))
    return found


def _same_way(a: Run, b: Run) -> bool:
    if len(a.path) != len(b.path):
        return False
    return all(
        at_most(math.dist((p.x, p.y, p.z), (q.x, q.y, q.z)), 0) for p, q in zip(a.path, b.path, strict=True)
    )


def _holes(before: Planned, after: Planned, asked_runs: set[str]) -> list[Touched]:
    def key(hole: Hole) -> tuple[str, str, int, int, int, int]:
        spot = (round(16 * each) for each in (hole.x, hole.y, hole.z, hole.diameter_in))
        x, y, z, size = spot
        return hole.member, hole.axis, x, y, z, size

    old, new = ({key(h): h for h in plan.wiring.holes if not h.open_passage} for plan in (before, after))
    rooms = {row.hole: row.room for plan in (before, after) for row in plan.counted.drill}
    found = []
    for spot in sorted({*old} ^ {*new}):
        hole = new.get(spot) or old[spot]
        what: What = "added" if spot in new else "removed"
        asked = bool(hole.occupants) and set(hole.occupants) <= asked_runs
        found.append(Touched("hole", hole.id, what, asked, rooms.get(hole.id, "")))
    return sorted(found, key=lambda one: (one.what, natural(one.id)))
