"""The price of a plan to the cent: material, labor, trips, overhead, margin, tax; each line with source."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal

from bayrun.house import Job
from bayrun.tables.prices import EXAMPLE, PriceList, Value
from bayrun.takeoff.crew import CrewStep, crew_plan, days_of
from bayrun.takeoff.material import to_cent
from bayrun.takeoff.records import MaterialLine, Takeoff
from bayrun.takeoff.work import HourLine, Piece, Stage, hour_lines, pieces_of_work
from bayrun.units import Figure
from bayrun.wiring import Wiring

Part = Literal["material", "labor", "trips", "overhead", "margin", "tax"]
STAGE_WORDS: dict[Stage, str] = {"rough": "Rough-in", "trim": "Trim-out"}
STAGE_FACTORS = {"before drywall": "", "insulated": "insulated", "after drywall": "after drywall"}
"""When the work is done, and the factor of the price list on its hours."""

_Z80 = 0.8416212335729143
"""The 80 % point of the normal curve."""


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One line of an estimate.

    Args:
        price: To the cent, half up.
        low, high: What it lies between with the firm's spread.
        figure: The price with formula, inputs and source.
        because: Ids of the objects that ask for it.
        own: True where every price in it is the firm's, False where the example's stand in it.
    """

    id: str
    part: Part
    stage: Stage | None
    words: str
    count: Decimal
    unit: str
    each: Decimal | None
    price: Decimal | None
    low: Decimal
    high: Decimal
    figure: Figure
    because: tuple[str, ...] = ()
    own: bool = False


@dataclass(frozen=True, slots=True)
class Section:
    """One section as it is sold: cost with its share of overhead and margin, before tax."""

    stage: Stage
    part: Part
    words: str
    price: Decimal


@dataclass(frozen=True, slots=True)
class Estimate:
    """The price of a plan.

    Args:
        lines: Costs first, then overhead, margin and tax; ``total`` is their sum.
        sections: The price before tax by stage and part, as it is sold; they sum to ``before_tax``.
        p50, p80: The total that half and four fifths of such jobs stay under, if tasks vary independently.
        low, high: With every task at its low or high end at once.
        days: (stage, days on site).
    """

    lines: tuple[PriceLine, ...]
    sections: tuple[Section, ...]
    hours: tuple[HourLine, ...]
    steps: tuple[CrewStep, ...]
    days: tuple[tuple[Stage, int], ...]
    when: str
    currency: str
    cost: Decimal
    before_tax: Decimal
    tax: Decimal
    total: Decimal
    p50: Decimal
    p80: Decimal
    low: Decimal
    high: Decimal
    unpriced: tuple[str, ...]
    examples: int

    @property
    def person_hours(self) -> Decimal:
        """Hours of everyone, setting up included."""
        return sum((step.person_hours for step in self.steps), Decimal(0))


def estimate(
    job: Job, wiring: Wiring, counted: Takeoff, prices: PriceList, when: str = "before drywall"
) -> Estimate:
    """Price one plan.

    Material lines come as counted; labor is hours by task times the firm's hour; a trip is one day of the
    crew on site. Overhead is a share of cost, margin a share of the price before tax, tax a share of
    material and of labor as they are sold. Every line is rounded half up to the cent; totals add lines.

    Args:
        when: ``before drywall``, ``insulated`` or ``after drywall``: a factor on the rough work.
    Raises:
        KeyError: ``when`` is none of these.
    """
    hours = hour_lines(pieces_of_work(job, wiring, counted), prices, STAGE_FACTORS[when])
    rest = (line for line in counted.material if line.group not in ("Cable", "Tools to take"))
    material = (*cable_by_foot(job, counted, prices), *rest)
    return price_of(material, hours, prices, when=when, currency=job.practice.currency)


def cable_by_foot(job: Job, counted: Takeoff, prices: PriceList) -> tuple[MaterialLine, ...]:
    """Cable as it is charged: the feet cut and the rests too short to use, from whatever box they come.

    The load list counts boxes; a box that is half full afterwards is the firm's, not the customer's.
    """
    scrap = {check.kind: check.scrap_ft for check in counted.box_checks}
    found = []
    for letter in dict.fromkeys(box.kind for box in counted.boxes):
        mine = [box for box in counted.boxes if box.kind == letter]
        kind = next((k for k in job.practice.cables if k.letter == letter), None)
        each = None if kind is None else prices.cable_price(letter, kind.price_per_foot)
        uses = tuple((run, math.ceil(cut_in / 12 - 1e-6)) for box in mine for run, cut_in in box.cuts)
        feet, lost = sum(count for _, count in uses), math.ceil(scrap.get(letter, 0.0) - 1e-6)
        found.append(
            MaterialLine(
                item=f"Cable {kind.name if kind else letter}",
                group="Cable",
                unit="ft",
                needed=feet,
                spare=lost,
                packs=feet + lost,
                pack_size=1,
                pack="ft",
                unit_price=each,
                price=None if each is None else to_cent(each * (feet + lost)),
                because=tuple(run for run, _ in uses),
                reason="feet cut off the boxes, and rests too short to use",
                key=f"cable {letter}",
                uses=uses,
                own_price=any(row.key == letter and row.own for row in prices.cables),
            )
        )
    return tuple(found)


def price_of(
    material: Sequence[MaterialLine],
    hours: Sequence[HourLine],
    prices: PriceList,
    *,
    when: str = "before drywall",
    currency: str = "USD",
) -> Estimate:
    """Price material lines and hour lines; see ``estimate``."""
    stages: tuple[Stage, ...] = ("rough", "trim")
    steps = tuple(step for stage in stages for step in crew_plan(hours, stage, prices))
    days = tuple((stage, days_of([s for s in steps if s.stage == stage])) for stage in stages)
    hours = (*hours, *(_set_up(stage, count, prices) for stage, count in days if count))
    costs = [*(_material(line, prices) for line in material), *(_labor(line, prices) for line in hours)]
    costs += [_trips(stage, count, prices) for stage, count in days if count]
    if prices.money("permit"):
        costs.append(_permit(prices))
    cost = _sum(costs)
    overhead_rate, margin_rate = prices.rate("overhead").value / 100, prices.rate("margin").value / 100
    overhead = to_cent(cost * overhead_rate)
    before_tax = to_cent((cost + overhead) / (1 - margin_rate))
    margin = before_tax - cost - overhead
    sections = _sections(costs, before_tax)
    taxes = _taxes(sections, prices)
    tax = _sum(taxes)
    factor = before_tax / cost if cost else Decimal(1)
    spread = _Spread(costs, hours, prices, factor * (1 + prices.rate("labor tax").value / 100))
    lines = (
        *costs,
        _share("overhead", prices.rate("overhead"), cost, overhead, "cost × percent"),
        _share("margin", prices.rate("margin"), before_tax, margin, "price before tax × percent"),
        *taxes,
    )
    total = before_tax + tax
    return Estimate(
        lines=lines,
        sections=sections,
        hours=tuple(hours),
        steps=steps,
        days=days,
        when=when,
        currency=currency,
        cost=cost,
        before_tax=before_tax,
        tax=tax,
        total=total,
        p50=to_cent(total + spread.mean),
        p80=to_cent(total + spread.mean + spread.deviation * Decimal(str(_Z80))),
        low=to_cent(total - spread.down),
        high=to_cent(total + spread.up),
        unpriced=tuple(line.words for line in costs if line.price is None),
        examples=sum(1 for line in lines if not line.own and line.price),
    )


def _sum(lines: Iterable[PriceLine]) -> Decimal:
    return sum((line.price for line in lines if line.price is not None), Decimal("0.00"))


def _material(line: MaterialLine, prices: PriceList) -> PriceLine:
    stage: Stage = "trim" if line.group == "Trim" else "rough"
    price = line.price or Decimal("0.00")
    source = f"{prices.name}: {line.key}" if line.own_price else EXAMPLE
    figure = Figure(
        float(price),
        "money",
        "packs × price of a pack",
        source,
        (
            ("needed", f"{line.needed} {line.unit}"),
            ("spare", f"{line.spare}"),
            ("packs", f"{line.packs} {line.pack}"),
            ("price of a pack", "not told" if line.unit_price is None else f"{line.unit_price}"),
            ("why", line.reason),
        ),
    )
    return PriceLine(
        f"material/{line.key or line.item}/{line.item}",
        "material",
        stage,
        line.item,
        Decimal(line.packs),
        line.pack,
        line.unit_price,
        line.price,
        price,
        price,
        figure,
        line.because,
        line.own_price or line.price == 0,
    )


def _labor(line: HourLine, prices: PriceList) -> PriceLine:
    rate = prices.money("labor")
    price = to_cent(line.hours * rate)
    figure = replace(
        line.figure,
        value=float(price),
        unit="money",
        formula=f"{line.figure.formula}, × price of an hour, to the cent",
        inputs=(*line.figure.inputs, ("hours", f"{line.hours}"), ("an hour", f"{rate}")),
    )
    return PriceLine(
        f"labor/{line.task}/{line.reach}",
        "labor",
        line.stage,
        line.words,
        line.hours,
        "h",
        rate,
        price,
        to_cent(line.low * rate),
        to_cent(line.high * rate),
        figure,
        line.because,
        line.own and prices.rate("labor").own,
    )


def _set_up(stage: Stage, days: int, prices: PriceList) -> HourLine:
    """The daily set-up of a stage, after its days are known."""
    crew = int(prices.rate("crew").value)
    day = prices.task("day")
    row = replace(day, people=crew, words=f"{day.words} ({STAGE_WORDS[stage].lower()})")
    piece = Piece("day", "", "", "", Decimal(days), (f"{days} {'day' if days == 1 else 'days'}",))
    line = hour_lines((piece,), replace(prices, tasks=(row,)))[0]
    return replace(line, stage=stage, task=f"day {stage}")


def _trips(stage: Stage, days: int, prices: PriceList) -> PriceLine:
    row = prices.rate("trip")
    return _plain(
        f"trips/{stage}", "trips", stage, row, Decimal(days), "one trip for each day of the crew plan"
    )


def _permit(prices: PriceList) -> PriceLine:
    return _plain(
        "trips/permit", "trips", "rough", prices.rate("permit"), Decimal(1), "as the firm's list says"
    )


def _plain(name: str, part: Part, stage: Stage, row: Value, count: Decimal, formula: str) -> PriceLine:
    each = row.price or Decimal(0)
    price = to_cent(count * each)
    inputs = (("count", f"{count}"), ("each", f"{each}"))
    figure = Figure(float(price), "money", formula, row.source, inputs)
    words = f"{row.words}, {STAGE_WORDS[stage].lower()}"
    return PriceLine(
        name, part, stage, words, count, row.unit, each, price, price, price, figure, (), row.own
    )


def _share(part: Part, row: Value, of: Decimal, price: Decimal, formula: str) -> PriceLine:
    inputs = (("of", f"{of}"), ("percent", f"{row.value}"))
    figure = Figure(float(price), "money", formula, row.source, inputs)
    return PriceLine(
        part, part, None, row.words, row.value, "%", of, price, price, price, figure, (), row.own
    )


def _sections(costs: Sequence[PriceLine], before_tax: Decimal) -> tuple[Section, ...]:
    """Cost by stage and part with its share of overhead and margin; rounding goes to the largest rests."""
    words: dict[Part, str] = {"material": "material", "labor": "labor", "trips": "trips and fees"}
    stages: tuple[Stage, ...] = ("rough", "trim")
    keys = [(stage, part) for stage in stages for part in words]
    sums = {key: _sum(line for line in costs if (line.stage, line.part) == key) for key in keys}
    whole = sum(sums.values(), Decimal(0))
    if not whole:
        return ()
    exact = {key: before_tax * each / whole for key, each in sums.items()}
    cents = {key: int(value * 100) for key, value in exact.items()}
    missing = int(before_tax * 100) - sum(cents.values())
    by_rest = sorted(keys, key=lambda key: (-(exact[key] * 100 - cents[key]), keys.index(key)))
    for key in by_rest[:missing]:
        cents[key] += 1
    return tuple(
        Section(stage, part, f"{STAGE_WORDS[stage]}, {words[part]}", Decimal(cents[stage, part]) / 100)
        for stage, part in keys
        if cents[stage, part]
    )


def _taxes(sections: Sequence[Section], prices: PriceList) -> list[PriceLine]:
    found = []
    for name, part in (("material tax", "material"), ("labor tax", "labor")):
        row = prices.rate(name)
        base = sum((one.price for one in sections if one.part == part), Decimal(0))
        price = to_cent(base * row.value / 100)
        if row.value:
            line = _share("tax", row, base, price, f"{part} as it is sold × percent")
            found.append(replace(line, id=f"tax/{part}"))
    return found


class _Spread:
    """How far a total may lie off, in money as it is sold.

    Each task varies as a triangle from low over its figure to high; all of one task moves together, tasks
    move independently; the sum is taken as normal. Source of the formulas: mean (a + b + c) / 3 and variance
    (a² + b² + c² - ab - ac - bc) / 18 of a triangular distribution; our own choice of distribution.
    """

    def __init__(
        self, costs: Sequence[PriceLine], hours: Sequence[HourLine], prices: PriceList, factor: Decimal
    ) -> None:
        rate = prices.money("labor") * factor
        tasks: dict[str, list[Decimal]] = {}
        for line in hours:
            sums = tasks.setdefault(line.task, [Decimal(0)] * 3)
            for i, each in enumerate((line.low, line.hours, line.high)):
                sums[i] += each
        mean, variance = Decimal(0), Decimal(0)
        for low, mode, high in tasks.values():
            mean += (low + mode + high) / 3 - mode
            variance += (low**2 + mode**2 + high**2 - low * mode - low * high - mode * high) / 18
        self.mean = mean * rate
        self.deviation = Decimal(str(math.sqrt(variance))) * rate
        self.down = sum((line.hours - line.low for line in hours), Decimal(0)) * rate
        self.up = sum((line.high - line.hours for line in hours), Decimal(0)) * rate
