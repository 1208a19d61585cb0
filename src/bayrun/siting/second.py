"""When a second enclosure pays: what it saves in cable and holes, what the trunk to it costs.

Every haul goes to the nearer of the two boxes; the trunk is some cables between them. Prices are those of
the ranking: each cable pays its part of a hole, so savings are fair, not exact.
Limits of use: the second box's own price, its outlet, its switch and the time to dress it are told apart and
not guessed: they are the break-even a person holds the saving against.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bayrun.house import Job
from bayrun.routing.everywhere import Share
from bayrun.routing.prices import MICRO, inch_price
from bayrun.siting.sites import HouseSites, Site

TRUNK_CABLES = 2
"""Data cables between two boxes: one in use, one spare. Common practice, no source."""
TRUNK_KIND = "D"
WORTH_CABLES = 4
"""A second box for fewer cables than this is no second box but a longer run. Our own figure."""


@dataclass(frozen=True, slots=True)
class SecondBox:
    """A second enclosure beside a first one.

    Args:
        first, second: The two bays.
        one_price: All runs with the first alone [currency].
        two_price: The same with both, each run to the nearer, without the trunk [currency].
        trunk_price: The trunk between them [currency].
        moved: (place, kind, count) of what goes to the second one.
    """

    first: Site
    second: Site
    one_price: float
    two_price: float
    trunk_price: float
    moved: tuple[tuple[str, str, int], ...]

    @property
    def saves(self) -> float:
        """Saved in cable, pulling and holes, trunk paid: what the second box may cost at most [currency]."""
        return self.one_price - self.two_price - self.trunk_price

    @property
    def cables(self) -> int:
        """How many cables go to the second one."""
        return sum(count for _, _, count in self.moved)


def second_box(
    sites: HouseSites, first: Site, *, trunk: int = TRUNK_CABLES, kind: str = TRUNK_KIND
) -> SecondBox | None:
    """The best place for a second enclosure, given the first; None where no other bay fits or serves.

    Args:
        first: One of ``sites.fitting``.
        trunk: Cables between the two.
        kind: Letter of their kind.
    """
    rows = {bay: i for i, bay in enumerate(sites.bays)}
    if first.ranked.bay not in rows or not sites.hauls:
        return None
    counts = np.array([h.count for h in sites.hauls], dtype=float)
    mine = sites.price[rows[first.ranked.bay]]
    one = float((mine * counts).sum())
    between = trunk_prices(sites, first, kind)
    best: SecondBox | None = None
    for site in sites.sites:
        row = rows.get(site.ranked.bay)
        if row is None or site.ranked.bay == first.ranked.bay or not site.ranked.fits:
            continue
        theirs = sites.price[row]
        both = np.minimum(mine, theirs)
        if not np.isfinite(both).all() or not np.isfinite(between[row]):
            continue
        moved = tuple(
            (h.terminal, h.kind, h.count)
            for h, a, b in zip(sites.hauls, theirs, mine, strict=True)
            if a < b - 1e-9
        )
        found = SecondBox(first, site, one, float((both * counts).sum()), trunk * float(between[row]), moved)
        if found.cables >= WORTH_CABLES and (best is None or found.saves > best.saves + 1e-9):
            best = found
    return best


def trunk_prices(sites: HouseSites, first: Site, kind: str) -> list[float]:
    """Price of one cable from the first bay to every bay, in the order of ``sites.bays`` [currency]."""
    house, practice = sites.everywhere, sites.job.practice
    cable = practice.cable(kind)
    start = next(s for s in sites.starts if s.name == first.ranked.bay)
    tree = house.trees([start], cable, Share.AREA)[0]
    inch = inch_price(practice.costs, cable)
    found = []
    for other in sites.starts:
        ends = [float(tree.price[n]) + length_in * inch for n, length_in in house.doors(other).items()]
        found.append(min(ends, default=float("inf")) / MICRO)
    return found


def second_words(job: Job, found: SecondBox | None) -> str:
    """When a second enclosure pays, in words with numbers."""
    money = job.practice.currency
    if found is None:
        return (
            f"A second enclosure: no other bay would serve {WORTH_CABLES} cables or more for less than "
            "the first one."
        )
    where = found.second.ranked.says[0]
    gain = found.one_price - found.two_price
    start = (
        f"A second enclosure on the {where}, level {found.second.ranked.level}, would take {found.cables} "
        f"cables and spare {gain:,.0f} {money} of cable, pulling and holes; a trunk to it costs "
        f"{found.trunk_price:,.0f} {money}. "
    )
    if found.saves <= 0:
        return start + "It does not pay: the trunk alone costs more than it spares."
    return start + (
        f"It pays where box, outlet, switch and the time to dress it cost less than {found.saves:,.0f} "
        f"{money} together, or where the first one is full."
    )
