"""What to load: every line rounded to packs, priced, and traced back to what asks for it."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from bayrun.house import Job, Location, Wall
from bayrun.tables.prices import PackItem, PriceList
from bayrun.takeoff.records import LabelPair, MaterialLine
from bayrun.takeoff.seals import EXTERIOR, FIRESTOP
from bayrun.takeoff.words import far_end, natural, separation_words, walls_of
from bayrun.units import feet_and_inches, fraction
from bayrun.wiring import Box, Grommet, NailPlate, Seal, Strap, Support, Wiring

CENT = Decimal("0.01")

STRAP_NAILS = 16
"""Eight 10d nails on each side of the opening. Source: IRC R602.6.1, confirmed."""

RING_SCREWS = 2
"""Screws for one ring or box. Common practice, no source."""

CABLES_ONE_GANG = 4
"""More cables than this take two gangs. Common practice, no source."""


def to_cent(amount: Decimal) -> Decimal:
    """An amount to the cent, half up."""
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)


@dataclass(slots=True)
class _Asked:
    count: int = 0
    uses: list[tuple[str, int]] = field(default_factory=list)
    reason: str = ""


class _List:
    """Gathers what is asked for; a line is one item with one detail (size, kind)."""

    def __init__(self, prices: Iterable[PackItem]) -> None:
        self._items = {item.key: item for item in prices}
        self._asked: dict[tuple[str, str], _Asked] = defaultdict(_Asked)

    def ask(self, key: str, count: int, because: str, reason: str, detail: str = "") -> None:
        """Add ``count`` of an item for one object."""
        if count <= 0:
            return
        asked = self._asked[key, detail]
        asked.count += count
        asked.uses.append((because, count))
        asked.reason = reason

    def ask_once(self, key: str, because: str, reason: str, detail: str = "") -> None:
        """One piece of an item, however many objects ask for it."""
        asked = self._asked[key, detail]
        asked.uses.append((because, 0 if asked.uses else 1))
        asked.count, asked.reason = 1, reason

    def lines(self, spare_rate: float) -> list[MaterialLine]:
        """Lines in the order of the price table, then of asking; what it lacks stands last, unpriced."""
        order = {key: i for i, key in enumerate(self._items)}
        found = []
        for key, detail in sorted(self._asked, key=lambda asked: order.get(asked[0], len(order))):
            asked = self._asked[key, detail]
            item = self._items.get(key) or PackItem(key, key, "Other", "each", "each", 1, None, False)
            name = f"{item.item}, {detail}" if detail else item.item
            spare = spares(asked.count, spare_rate) if item.spare else 0
            packs = -(-(asked.count + spare) // item.pack_size)
            price = None if item.price is None else to_cent(item.price * packs)
            because = tuple(dict.fromkeys(name for name, _ in asked.uses))
            found.append(
                MaterialLine(
                    name,
                    item.group,
                    item.unit,
                    asked.count,
                    spare,
                    packs,
                    item.pack_size,
                    item.pack,
                    item.price,
                    price,
                    because,
                    asked.reason,
                    key=key,
                    uses=tuple(asked.uses),
                    own_price=item.own,
                )
            )
        return found


def spares(count: int, rate: float) -> int:
    """Spares for a count: the rate, up to the next whole one.

    The rate is read as printed (0.10 is a tenth), so that 30 at 10 % gives 3 and never 4.
    """
    return math.ceil(count * Fraction(repr(rate)))


def material(
    job: Job,
    wiring: Wiring,
    *,
    prices: PriceList,
    plates: tuple[NailPlate, ...],
    straps: tuple[Strap, ...],
    grommets: tuple[Grommet, ...],
    supports: tuple[Support, ...],
    seals: tuple[Seal, ...],
    boxes: tuple[Box, ...],
    labels: tuple[LabelPair, ...],
) -> tuple[MaterialLine, ...]:
    """The whole material list. Each line names the objects that ask for it, and why.

    Cable boxes come first: those on hand cost nothing more, new ones their feet times the price a foot.
    """
    found = _List(prices.items)
    _boxes_and_rings(job, wiring, found)
    _trim(job, wiring, found)
    for plate in plates:
        size = f"{fraction(plate.width_in)} x {fraction(plate.length_in)} in"
        found.ask("nail plate", plate.pieces, plate.id, 'a hole nearer than 1-1/4" to a face', size)
    for strap in straps:
        size = f"at least {feet_and_inches(strap.length_in)} long"
        found.ask("strap", 1, strap.id, "a top plate cut by more than half", size)
        found.ask("strap nail", STRAP_NAILS, strap.id, "eight on each side of the opening")
    for support in supports:
        why = "keep cables from hanging free farther than the firm's spacing"
        found.ask(support.kind, support.count, support.id, why)
    for grommet in grommets:
        size = f"{fraction(grommet.size_in)} in hole"
        found.ask("grommet", 1, grommet.id, "the edge of steel cuts jackets", size)
    for seal in seals:
        key = {EXTERIOR: "exterior sealant", FIRESTOP: "firestop"}.get(seal.material, "fireblock sealant")
        found.ask(key, 1, seal.id, "every hole through a plate, a separation or the outer skin is closed")
    for pair in labels:
        count = 2 * pair.copies_each_end
        found.ask("label", count, pair.run, f"{pair.copies_each_end} at each end of a run")
        if pair.spare:
            found.ask("spare tag", 2, pair.run, "a cable left without a connector is tagged at both ends")
    for hole in sorted(wiring.holes, key=lambda h: (round(h.diameter_in * 64), natural(h.id))):
        if not hole.open_passage:
            size = f"{fraction(hole.diameter_in)} in"
            found.ask_once("bit", hole.id, "drills the holes of this size", size)
    for conduit in job.conduits:
        found.ask("conduit", 1, conduit.id, "wished", conduit.size)
        found.ask("pull string", 1, conduit.id, "so that a cable can be drawn in later")
    return (*_cable(job, boxes, prices), *found.lines(job.practice.spare_rate))


def _cable(job: Job, boxes: tuple[Box, ...], prices: PriceList) -> list[MaterialLine]:
    lines = []
    for letter in sorted({box.kind for box in boxes}, key=natural):
        kind = next((k for k in job.practice.cables if k.letter == letter), None)
        name = kind.name if kind else letter
        for partial in (True, False):
            mine = [box for box in boxes if box.kind == letter and box.partial is partial]
            if not mine:
                continue
            feet = math.ceil(sum(length_in for box in mine for _, length_in in box.cuts) / 12 - 1e-6)
            size = round(mine[0].start_ft)
            told = None if kind is None else prices.cable_price(letter, kind.price_per_foot)
            each = None if partial or told is None else to_cent(told * Decimal(size))
            what = ", ".join(f"{box.start_ft:g}" for box in mine)
            runs = tuple(run for box in mine for run, _ in box.cuts)
            lines.append(
                MaterialLine(
                    item=f"Cable {name}, " + (f"on hand: {what} ft" if partial else f"new box of {size} ft"),
                    group="Cable",
                    unit="ft",
                    needed=feet,
                    spare=0,
                    packs=len(mine),
                    pack_size=size,
                    pack="opened box" if partial else f"box of {size} ft",
                    unit_price=each,
                    price=Decimal("0.00") if partial else None if each is None else to_cent(each * len(mine)),
                    because=tuple(dict.fromkeys((*(box.id for box in mine), *runs))),
                    reason="paid before"
                    if partial
                    else "runs cannot be spliced; boxes stand side by side in a pull",
                    key=f"cable {letter}",
                    uses=tuple(
                        (run, math.ceil(cut_in / 12 - 1e-6)) for box in mine for run, cut_in in box.cuts
                    ),
                    own_price=any(row.key == letter and row.own for row in prices.cables),
                )
            )
    return lines


def planned_locations(job: Job, wiring: Wiring) -> tuple[Location, ...]:
    """Locations that at least one planned run ends at, in the order of their ids."""
    ends = {end.id for run in wiring.runs for end in (run.from_end, run.to_end) if end.type == "location"}
    return tuple(sorted((one for one in job.locations if one.id in ends), key=lambda one: natural(one.id)))


def _boxes_and_rings(job: Job, wiring: Wiring, found: _List) -> None:
    walls = walls_of(job)
    for location in planned_locations(job, wiring):
        cables = _cables_at(wiring, location.id)
        wall = walls.get(location.wall or "")
        parts = wall is not None and bool(separation_words(job, wall, location.offset_in))
        key = box_key(location, wall, cables, parts)
        if key:
            found.ask(key, 1, location.id, _BOX_WHY[key])
            found.ask("ring screw", RING_SCREWS, location.id, f"{RING_SCREWS} for each ring or box")
    used = {end.id for run in wiring.runs for end in (run.from_end, run.to_end) if end.type == "enclosure"}
    for box in job.enclosures:
        if box.id in used:
            size = f"{fraction(box.width_in)} x {fraction(box.height_in)} x {fraction(box.depth_in)} in"
            found.ask("enclosure", 1, box.id, "every home run ends here", size)
            screws = len(box.fixing_points) or 4
            found.ask("enclosure screw", screws, box.id, "one for each fixing point")


_BOX_WHY = {
    "ring": "open back in an inside wall",
    "ring two gang": "more than four cables at one place",
    "closed box": "an outer wall or a separation must stay tight",
    "ceiling ring": "a ceiling location",
    "soffit box": "a soffit is outdoors",
}


def box_key(location: Location, wall: Wall | None, cables: int, separated: bool) -> str:
    """What a location is built with; empty where it takes no box (a contact, a coil, a conduit end).

    Args:
        separated: True where its wall parts dwelling and garage there.
    """
    if location.mount in ("contact", "coil", "conduit"):
        return ""
    if location.mount == "exterior" or (
        location.mount == "wall" and wall is not None and (wall.exterior or separated or wall.rated)
    ):
        return "closed box"
    if location.mount == "ceiling":
        return "ceiling ring"
    if location.mount == "soffit":
        return "soffit box"
    return "ring two gang" if cables > CABLES_ONE_GANG else "ring"


def _cables_at(wiring: Wiring, location: str) -> int:
    return sum(1 for run in wiring.runs for end in (run.from_end, run.to_end) if end.id == location)


def _trim(job: Job, wiring: Wiring, found: _List) -> None:
    spare = {run.id for run in job.runs if run.spare}
    for location in planned_locations(job, wiring):
        ports = [r for r in wiring.runs if far_end(r).id == location.id and r.id not in spare]
        if location.mount == "wall" and ports:
            word = "port" if len(ports) == 1 else "ports"
            found.ask("wall plate", 1, location.id, "one for each wall location", f"{len(ports)} {word}")
    kinds = {kind.letter: kind for kind in job.practice.cables}
    for run in sorted(wiring.runs, key=lambda r: natural(r.id)):
        kind = kinds.get(run.kind)
        if kind is not None and kind.connector and run.id not in spare:
            found.ask("connector", 2, run.id, "one at each end of a run", kind.connector)
