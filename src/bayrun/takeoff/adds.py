"""Unit prices of what is added later: one more cable, one more location, by when it is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from bayrun.house import CableKind, Job
from bayrun.tables.prices import PriceList
from bayrun.takeoff.labels import COPIES_EACH_END
from bayrun.takeoff.material import RING_SCREWS, to_cent
from bayrun.takeoff.price import STAGE_FACTORS
from bayrun.takeoff.records import Takeoff
from bayrun.takeoff.work import Piece, hour_lines


@dataclass(frozen=True, slots=True)
class AddPrice:
    """One kind of addition.

    Args:
        feet: What a cable of this kind measures in this house, cut, as the mean [ft].
        prices: (when, price with tax) in the order of ``STAGE_FACTORS``.
    """

    words: str
    feet: int
    prices: tuple[tuple[str, Decimal], ...]


def add_prices(job: Job, counted: Takeoff, prices: PriceList) -> tuple[AddPrice, ...]:
    """What one more cable of each kind costs at a place that has a box, and what a new location costs.

    A cable has the mean length of its kind in this plan, its two ends, labels and its own pull. A location
    has a mark, a box, a plate, a hole and a seal in a top plate more. Once the walls are insulated or
    closed a trip of the crew is added. Limits of use: a price of the plan's mean run; a change planned by
    ``bayrun change`` has its own way, holes and plates.
    """
    found = []
    for kind in job.practice.cables:
        rows = [row for row in counted.lengths if row.kind == kind.letter]
        if not rows:
            continue
        mean = Decimal(sum(round(row.cut_in / 12) for row in rows)) / len(rows)
        feet = int(mean.quantize(Decimal(1), ROUND_HALF_UP))
        found.append(
            AddPrice(
                f"One more cable, {kind.name}",
                feet,
                _prices(kind, feet, False, prices),
            )
        )
        if kind.letter == "D":
            found.append(
                AddPrice(f"One more location with one {kind.name}", feet, _prices(kind, feet, True, prices))
            )
    return tuple(found)


def _prices(kind: CableKind, feet: int, location: bool, prices: PriceList) -> tuple[tuple[str, Decimal], ...]:
    return tuple((when, _price(kind, feet, location, prices, when)) for when in STAGE_FACTORS)


def _price(kind: CableKind, feet: int, location: bool, prices: PriceList, when: str) -> Decimal:
    one = Decimal(1)
    counts = [("label", one), ("coil", one), ("tone", one), ("jack", Decimal(2)), ("pull set-up", one)]
    counts.append(("pull", Decimal(feet)))
    units = [("label", 2 * COPIES_EACH_END)]
    if kind.connector:
        units.append(("connector", 2))
    if location:
        counts += [(task, one) for task in ("mark", "box", "find", "plate", "hole", "seal")]
        units += [("ring", 1), ("ring screw", RING_SCREWS), ("wall plate", 1), ("fireblock sealant", 1)]
    pieces = [Piece(task, "", "", "", count, ("one more",)) for task, count in counts]
    hours = hour_lines(pieces, prices, STAGE_FACTORS[when])
    labor = sum((to_cent(line.hours * prices.money("labor")) for line in hours), Decimal(0))
    material = to_cent(feet * prices.cable_price(kind.letter, kind.price_per_foot)) + _units(units, prices)
    trip = Decimal(0) if when == "before drywall" else prices.money("trip")
    return sold(material, labor, trip, prices)


def _units(units: Sequence[tuple[str, int]], prices: PriceList) -> Decimal:
    rows = {item.key: item for item in prices.items}
    return sum(
        (
            to_cent(row.price * count / row.pack_size)
            for key, count in units
            if (row := rows.get(key)) is not None and row.price is not None
        ),
        Decimal(0),
    )


def sold(material: Decimal, labor: Decimal, trips: Decimal, prices: PriceList) -> Decimal:
    """Cost as it is sold, with overhead, margin and tax, to the cent."""
    overhead, margin = prices.rate("overhead").value / 100, prices.rate("margin").value / 100

    def sell(cost: Decimal) -> Decimal:
        return to_cent(cost * (1 + overhead) / (1 - margin))

    tax = to_cent(sell(material) * prices.rate("material tax").value / 100)
    tax += to_cent(sell(labor) * prices.rate("labor tax").value / 100)
    return sell(material + labor + trips) + tax
