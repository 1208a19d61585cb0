"""The quick bid: a price range from rooms, stories and area, no drawing; and the model that replaces it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from bayrun.tables.prices import PriceList, Value
from bayrun.takeoff.labels import COPIES_EACH_END
from bayrun.takeoff.material import RING_SCREWS, to_cent
from bayrun.takeoff.price import Estimate, PriceLine
from bayrun.units import Figure

Package = Literal["small", "middle", "large"]
Range = tuple[Decimal, Decimal, Decimal]
"""Low, likely, high."""

SQUARE_FEET_A_POINT = 1200
"""One ceiling access point for so many square feet of a story. Common practice: 1,000 to 1,500."""

TOGETHER = Decimal("0.5")
"""How much of the lines' spread moves together (the house is slow, the runs are long). Our own rule."""

_ONCE = ("doorbell", "service")
"""Room rows that a house has once where nobody says otherwise."""


@dataclass(frozen=True, slots=True)
class BidLine:
    """One line of a quick bid.

    Args:
        key: The same in a bid and in a model: ``material/cable``, ``labor/holes`` …
        count: Low, likely, high in ``unit``.
        price: Low, likely, high, to the cent, before overhead and margin.
        figure: The likely price with formula, inputs and source.
    """

    key: str
    words: str
    unit: str
    count: Range
    price: Range
    figure: Figure


@dataclass(frozen=True, slots=True)
class Bid:
    """A quick bid.

    Args:
        cables, feet: Low, likely, high of cables and of feet of a run.
        total: Low, likely, high with overhead, margin and tax; half of the lines' spread moves together.
    """

    package: Package
    plan: str
    lines: tuple[BidLine, ...]
    cables: Range
    feet: Range
    total: Range


@dataclass(frozen=True, slots=True)
class Compared:
    """One line of a bid beside the model: what stands now, and the difference.

    Args:
        model: Cost in the model, or None where it has nothing for the line yet: the bid stands.
        within: True where the model lies in the bid's range.
    """

    key: str
    words: str
    bid: Range
    model: Decimal | None
    difference: Decimal | None
    within: bool | None


class BidError(ValueError):
    """A bid that cannot be made, with every defect at once."""


def quick_bid(
    rooms: Mapping[str, int],
    *,
    plan: str,
    area_ft2: float,
    stories: int = 1,
    package: Package = "middle",
    prices: PriceList,
) -> Bid:
    """A price range from counts by room, in five minutes and with no drawing.

    Cables come from the firm's row of each room and package; an access point for each 1,200 square feet of
    a story, a doorbell and a service entry are added unless the counts name them. Feet of a run are those of
    the plan type, scaled by the square root of the area. Hours and material follow from the firm's units
    and its ratios of locations, pulls, holes, supports and seals to cables.
    Limits of use: every cable is priced as data cable; no framing is known, so the range is wide and told.

    Args:
        rooms: Kind of room → how many; kinds are those of the price list.
        plan: A plan type of the price list.
        area_ft2: Floor area, all stories [square feet].
        package: ``small``, ``middle`` or ``large``: which figure of each room row.
    Raises:
        BidError: Unknown kinds, or counts and areas that no house has.
    """
    _check(rooms, plan, area_ft2, stories, prices)
    counts = dict.fromkeys(_ONCE, 1) | {"access point": _points(area_ft2, stories)} | dict(rooms)
    at = {"small": 0, "middle": 1, "large": 2}[package]
    likely = sum((_figures(prices.room(kind))[at] * many for kind, many in counts.items()), Decimal(0))
    cables: Range = (
        (likely * Decimal("0.85")).quantize(Decimal(1), ROUND_HALF_UP),
        likely,
        (likely * Decimal("1.20")).quantize(Decimal(1), ROUND_HALF_UP),
    )
    row = prices.plan(plan)
    scale = Decimal(str(round(math.sqrt(area_ft2 / row.size), 4))) if row.size else Decimal(1)
    low, mode, high = ((scale * each).quantize(Decimal(1), ROUND_HALF_UP) for each in _figures(row))
    feet: Range = (low, mode, high)
    lines = (
        *_material(cables, feet, prices),
        *_labor(cables, feet, counts, prices),
        _trips(cables, feet, counts, prices),
    )
    costs = [line.price for line in lines]
    material = [line.price for line in lines if line.key.startswith("material")]
    return Bid(package, plan, lines, cables, feet, _total(costs, material, prices))


def _check(rooms: Mapping[str, int], plan: str, area_ft2: float, stories: int, prices: PriceList) -> None:
    kinds, plans = [row.key for row in prices.rooms], [row.key for row in prices.plans]
    defects = [
        f"room: expected one of {', '.join(kinds)}, got {kind!r}" for kind in rooms if kind not in kinds
    ]
    defects += [
        f"{kind}: expected a count from 0 to 200, got {many}"
        for kind, many in rooms.items()
        if not 0 <= many <= 200
    ]
    if not any(rooms.values()):
        defects.append("rooms: expected at least one room such as bed=3, got none")
    if plan not in plans:
        defects.append(f"plan type: expected one of {', '.join(plans)}, got {plan!r}")
    if not 100 <= area_ft2 <= 100_000:
        defects.append(f"area: expected 100 to 100,000 square feet, got {area_ft2:g}")
    if not 1 <= stories <= 6:
        defects.append(f"stories: expected 1 to 6, got {stories}")
    if defects:
        raise BidError("; ".join(defects))


def _points(area_ft2: float, stories: int) -> int:
    return stories * max(1, math.ceil(area_ft2 / stories / SQUARE_FEET_A_POINT - 1e-9))


def _figures(row: Value) -> Range:
    return row.low, row.value, row.high


def _times(a: Range, b: Range) -> Range:
    """A product of two ranges: shares of spread add in quadrature, as for independent errors.

    Never wider than the product of the ends. Source: the usual propagation of relative errors.
    """
    likely = a[1] * b[1]
    if not likely:
        return a[0] * b[0], likely, a[2] * b[2]

    def share(end: int) -> Decimal:
        squares = sum(((one[end] - one[1]) / one[1]) ** 2 for one in (a, b))
        return Decimal(str(math.sqrt(squares)))

    return max(a[0] * b[0], likely * (1 - share(0))), likely, min(a[2] * b[2], likely * (1 + share(2)))


def _per(a: Range, row: Value) -> Range:
    """How many things share so many cables each: the most cables a thing is the fewest things."""
    return a[0] / row.high, a[1] / row.value, a[2] / row.low


def _line(
    key: str,
    words: str,
    unit: str,
    count: Range,
    each: Range,
    inputs: Sequence[tuple[str, str]],
    source: str,
    packs: Range = (Decimal(0), Decimal(0), Decimal(0)),
) -> BidLine:
    low, likely, high = (to_cent(amount) for amount in _more(_times(count, each), packs))
    told = ("count", " to ".join(f"{one:.0f}" for one in dict.fromkeys(count)))
    money = ("each", " to ".join(f"{one:.4f}" for one in dict.fromkeys(each)))
    figure = Figure(
        float(likely),
        "money",
        "count × each, and what whole packs cost more; at the likely figures",
        source,
        (told, money, *inputs),
        plus_minus=float((high - low) / 2),
    )
    return BidLine(key, words, unit, count, (low, likely, high), figure)


def _unit_price(key: str, prices: PriceList) -> Decimal:
    item = next((one for one in prices.items if one.key == key), None)
    return Decimal(0) if item is None or item.price is None else item.price / item.pack_size


def _packs(keys: Sequence[str], prices: PriceList) -> Range:
    """What whole packs cost beyond the pieces used: nothing, half a pack of each, a pack of each."""
    rows = {one.key: one.price or Decimal(0) for one in prices.items}
    whole = sum((rows.get(key, Decimal(0)) for key in keys), Decimal(0))
    return Decimal(0), whole / 2, whole


def _same(value: Decimal) -> Range:
    return value, value, value


def _material(cables: Range, feet: Range, prices: PriceList) -> list[BidLine]:
    locations = _per(cables, prices.rate("cables a location"))
    screws = RING_SCREWS * _unit_price("ring screw", prices)
    ring, closed = (screws + _unit_price(key, prices) for key in ("ring", "closed box"))
    protect = _same(Decimal(0))
    for key, ratio in (("staple", "supports"), ("nail plate", "plates"), ("fireblock sealant", "seals")):
        each = _same(_unit_price(key, prices))
        protect = _more(protect, _times(each, _figures(prices.rate(f"{ratio} a cable"))))
    enclosure = _same(_unit_price("enclosure", prices) + sum(_packs(("enclosure screw",), prices)[2:]))
    lengths = (("feet of a run", " to ".join(f"{each}" for each in feet)),)
    cable = _same(prices.cable_price("D", _usual_cable_price()))
    labels, ends = (_times(cables, _same(Decimal(count))) for count in (2 * COPIES_EACH_END, 2))
    one, at = _same(Decimal(1)), prices.name

    def unit(key: str) -> Range:
        return _same(_unit_price(key, prices))

    def packs(*keys: str) -> Range:
        return _packs(keys, prices)

    held = packs("staple", "hanger", "hanger", "fireblock sealant", "exterior sealant", "nail plate")
    rings = (ring, (ring + closed) / 2, closed)
    return [
        _line("material/cable", "Cable", "ft", _times(cables, feet), cable, lengths, at),
        _line("material/boxes", "Boxes and rings", "each", locations, rings, (), at, packs("ring screw")),
        _line("material/enclosure", "Enclosure", "each", one, enclosure, (), at),
        _line("material/protect", "Supports, plates, seals", "cables", cables, protect, (), at, held),
        _line(
            "material/labels", "Labels", "each", labels, unit("label"), (), at, packs("label", "spare tag")
        ),
        _line(
            "material/connectors",
            "Connectors",
            "ends",
            ends,
            unit("connector"),
            (),
            at,
            packs(*["connector"] * 5),
        ),
        _line("material/wall plates", "Wall plates", "each", locations, unit("wall plate"), (), at),
    ]


def _usual_cable_price() -> Decimal:
    from bayrun.tables.firm import usual_cable_rows

    return next(Decimal(row["price_per_foot"]) for row in usual_cable_rows() if row["letter"] == "D")


_TASKS = (
    ("labor/start", "Load, walk, day set-up", ("load", "walk", "day")),
    ("labor/mark and boxes", "Mark out and set boxes", ("mark", "box")),
    ("labor/enclosure", "Hang the enclosure", ("enclosure",)),
    ("labor/holes", "Drill, conduits", ("hole", "conduit")),
    ("labor/pull", "Pull", ("pull set-up", "pull", "pull more")),
    ("labor/dress", "Label, coil, staple", ("label", "coil", "staple", "hanger")),
    ("labor/protect", "Plates, straps, seals", ("nail plate", "strap", "grommet", "seal")),
    ("labor/check", "Tone, photographs", ("tone", "photo")),
    (
        "labor/trim",
        "Terminate, plates, devices",
        (
            "find",
            "jack",
            "plate",
            "ceiling device",
            "soffit device",
            "exterior device",
        ),
    ),
    ("labor/enclosure trim", "Enclosure trim, hand-over", ("enclosure trim", "hand-over")),
)
"""Lines of a bid and the tasks of a model that they stand for."""


_REACHED = ("labor/mark and boxes", "labor/holes", "labor/pull", "labor/dress")
"""Work of which some is done from a ladder or in an attic: likely half of it, at most all."""


def _labor(cables: Range, feet: Range, devices: Mapping[str, int], prices: PriceList) -> list[BidLine]:
    found = []
    for key, words, _ in _TASKS:
        hours = _hours(key, cables, feet, devices, prices)
        rate = prices.money("labor")
        figure_inputs = (("hours", " to ".join(f"{one:.1f}" for one in hours)),)
        found.append(_line(key, words, "h", hours, _same(rate), figure_inputs, prices.name))
    return found


def _hours(key: str, cables: Range, feet: Range, devices: Mapping[str, int], prices: PriceList) -> Range:
    """Hours of people of one line, low, likely and high: counts of a usual plan times the firm's units."""
    locations = _per(cables, prices.rate("cables a location"))
    pulls = _per(cables, prices.rate("cables a pull"))
    one = _same(Decimal(1))
    ends = _times(cables, _same(Decimal(2)))
    longest, more = _times(pulls, feet), _times(_less(cables, pulls), feet)

    def ratio(name: str) -> Range:
        return _times(cables, _figures(prices.rate(name)))

    def many(kind: str) -> Range:
        return _same(Decimal(devices.get(kind, 0)))

    attic = prices.factor("attic").value
    overhead: Range = (Decimal(1), (1 + attic) / 2, attic) if key in _REACHED else _same(Decimal(1))
    rooms = _times(locations, _same(Decimal("0.6")))
    counts: dict[str, list[tuple[str, Range]]] = {
        "labor/start": [("load", one), ("walk", one)],
        "labor/mark and boxes": [("mark", locations), ("box", locations)],
        "labor/enclosure": [("enclosure", one)],
        "labor/holes": [("hole", ratio("holes a cable")), ("conduit", (Decimal(0), Decimal(2), Decimal(5)))],
        "labor/pull": [("pull set-up", pulls), ("pull", longest), ("pull more", more)],
        "labor/dress": [("label", cables), ("coil", cables), ("staple", ratio("supports a cable"))],
        "labor/protect": [("seal", ratio("seals a cable")), ("nail plate", ratio("plates a cable"))],
        "labor/check": [("tone", cables), ("photo", rooms)],
        "labor/trim": [
            *(("find", locations), ("jack", ends), ("plate", locations)),
            ("ceiling device", many("access point")),
            ("soffit device", many("camera")),
            ("exterior device", many("doorbell")),
        ],
        "labor/enclosure trim": [("enclosure trim", one), ("hand-over", one)],
    }
    total = _same(Decimal(0))
    for task, count in counts[key]:
        row = prices.task(task)
        person = _times(count, _figures(row))
        total = _more(total, _times(_times(person, _same(Decimal(row.people))), overhead))
    if key == "labor/start":
        day = prices.task("day")
        days = _days(cables, feet, devices, prices)
        total = _more(total, _times(_times(days, _figures(day)), _same(prices.rate("crew").value)))
    return total


def _more(a: Range, b: Range) -> Range:
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def _less(a: Range, b: Range) -> Range:
    zero = Decimal(0)
    return max(zero, a[0] - b[0]), max(zero, a[1] - b[1]), max(zero, a[2] - b[2])


def _days(cables: Range, feet: Range, devices: Mapping[str, int], prices: PriceList) -> Range:
    """Days of the crew on site: the hours of both stages, each to whole days."""
    work_h = (prices.rate("day hours").value - prices.task("day").value) * prices.rate("crew").value
    stages = (
        [key for key, _, _ in _TASKS if key not in ("labor/start", "labor/trim", "labor/enclosure trim")],
        ["labor/trim", "labor/enclosure trim"],
    )
    days = [Decimal(0)] * 3
    for keys in stages:
        hours = [Decimal(0)] * 3
        for key in keys:
            hours = [a + b for a, b in zip(hours, _hours(key, cables, feet, devices, prices), strict=True)]
        days = [d + Decimal(math.ceil(h / work_h)) for d, h in zip(days, hours, strict=True)]
    return days[0], days[1], days[2]


def _trips(cables: Range, feet: Range, devices: Mapping[str, int], prices: PriceList) -> BidLine:
    days = _days(cables, feet, devices, prices)
    return _line("trips", "Trips", "days", days, _same(prices.money("trip")), (), prices.name)


def _total(costs: Sequence[Range], material: Sequence[Range], prices: PriceList) -> Range:
    """With overhead, margin and tax; of the lines' spread to either side, half adds up and half cancels."""
    mode = sum((one[1] for one in costs), Decimal(0))
    taxed = sum((one[1] for one in material), Decimal(0))
    if not mode:
        return _same(Decimal("0.00"))
    down = _joint([one[1] - one[0] for one in costs])
    up = _joint([one[2] - one[1] for one in costs])
    low, likely, high = (_sold(cost, taxed * cost / mode, prices) for cost in (mode - down, mode, mode + up))
    return low, likely, high


def _joint(spreads: Sequence[Decimal]) -> Decimal:
    """Standard sum of spreads whose correlation is ``TOGETHER``."""
    squares = sum((one**2 for one in spreads), Decimal(0))
    whole = sum(spreads, Decimal(0))
    return Decimal(str(math.sqrt((1 - TOGETHER) * squares + TOGETHER * whole**2)))


def _sold(cost: Decimal, material: Decimal, prices: PriceList) -> Decimal:
    overhead, margin = prices.rate("overhead").value / 100, prices.rate("margin").value / 100
    factor = (1 + overhead) / (1 - margin)
    tax = material * factor * prices.rate("material tax").value / 100
    tax += (cost - material) * factor * prices.rate("labor tax").value / 100
    return to_cent(cost * factor + tax)


def bid_key(line: PriceLine) -> str:
    """The line of a bid that a line of a model belongs to; empty for overhead, margin and tax."""
    name = line.id.split("/")
    if line.part == "material":
        return _material_key(name[1])
    if line.part == "labor":
        task = "day" if name[1].startswith("day") else name[1]
        return next((key for key, _, tasks in _TASKS if task in tasks), "")
    return "trips" if line.part == "trips" else ""


def _material_key(key: str) -> str:
    if key.startswith("cable "):
        return "material/cable"
    groups = {
        "material/boxes": ("ring", "ring two gang", "closed box", "ceiling ring", "soffit box", "ring screw"),
        "material/enclosure": ("enclosure", "enclosure screw"),
        "material/labels": ("label", "spare tag"),
        "material/connectors": ("connector",),
        "material/wall plates": ("wall plate",),
    }
    return next((name for name, keys in groups.items() if key in keys), "material/protect")


def beside_the_model(bid: Bid, model: Estimate, prices: PriceList) -> tuple[tuple[Compared, ...], Range]:
    """Each line of a bid replaced by the model's where the model has one, with the difference.

    Returns:
        (lines in the order of the bid, total with overhead, margin and tax as it stands now: lines of the
        model are exact, those that still stand on the bid keep their range).
    """
    sums: dict[str, Decimal] = {}
    for line in model.lines:
        key = bid_key(line)
        if key and line.price is not None:
            sums[key] = sums.get(key, Decimal(0)) + line.price
    rows, costs, material = [], [], []
    for one in bid.lines:
        told = sums.get(one.key)
        now = one.price if told is None else _same(told)
        costs.append(now)
        if one.key.startswith("material"):
            material.append(now)
        difference = None if told is None else told - one.price[1]
        within = None if told is None else one.price[0] <= told <= one.price[2]
        rows.append(Compared(one.key, one.words, one.price, told, difference, within))
    whole = all(row.model is not None for row in rows)
    return tuple(rows), _same(model.total) if whole else _total(costs, material, prices)
