"""Cables as cuts from boxes: fewest new boxes, least scrap; proven where it can be, else with a bound."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import permutations
from typing import Any

USEFUL_FT = 25
"""A rest shorter than this is scrap: too short for the next job [ft]. Common practice, no source."""

_MOST_ORDERED = 4
"""Up to so many boxes on hand are tried in every order; more are tried from small and from large."""

_MOST_CHOICES = 1500
"""Cuts times boxes up to which the whole question is handed to the solver."""

_MANY_CHOICES = 700
"""Beyond so many choices a node takes long, so the solver gets fewer."""

_MOST_PATTERNS = 6000
"""Ways to fill one box up to which the solver works with whole patterns."""

_NODES, _FEW_NODES = 3000, 100
"""Nodes of the search before the solver stops: a count and not a time, so that the answer never changes."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One cable to cut, in whole feet; cuts of one ``group`` come off at once, so from different boxes."""

    run: str
    feet: int
    group: str


@dataclass(frozen=True, slots=True)
class Stock:
    """What may be opened.

    Args:
        on_hand_ft: Feet that are left in each opened box.
        box_ft: Feet in a new box; as many as are needed can be bought.
        reserve_ft: Last feet of any box, never planned.
        useful_ft: A rest shorter than this is scrap.
    """

    on_hand_ft: tuple[float, ...]
    box_ft: float
    reserve_ft: float
    useful_ft: float = USEFUL_FT

    def usable_ft(self, start_ft: float) -> int:
        """Whole feet that may be planned from a box."""
        return max(0, math.floor(start_ft - self.reserve_ft + 1e-6))


@dataclass(slots=True)
class Opened:
    """One box that is opened, with its cuts."""

    start_ft: float
    usable_ft: int
    partial: bool
    cuts: list[Cut] = field(default_factory=list)

    @property
    def used_ft(self) -> int:
        """Feet cut off it."""
        return sum(cut.feet for cut in self.cuts)

    @property
    def left_ft(self) -> float:
        """Feet left, the reserve among them."""
        return self.start_ft - self.used_ft

    def takes(self, cut: Cut) -> bool:
        """True where the cut fits above the reserve and nothing else of its group comes from here."""
        return self.used_ft + cut.feet <= self.usable_ft and all(one.group != cut.group for one in self.cuts)


@dataclass(frozen=True, slots=True)
class Deal:
    """Which box feeds what, and how good that is.

    Args:
        new, scrap_ft, opened: New boxes, feet in rests too short to use, boxes opened in all.
        least_new: No deal opens fewer new boxes than this.
        proven: True where no deal is better in (new boxes, then scrap, then boxes opened).
        how: How that is known, in words.
        unplaced: Cuts that only a spool on hand is long enough for, and none is left.
    """

    boxes: tuple[Opened, ...]
    new: int
    scrap_ft: float
    opened: int
    least_new: int
    proven: bool
    how: str
    unplaced: tuple[str, ...] = ()


def deal(cuts: Sequence[Cut], stock: Stock) -> Deal:
    """Deal cuts to boxes: fewest new boxes, then least scrap, then fewest opened, then the largest rest.

    First fit and best fit by length, over the orders in which boxes on hand are opened, give a good deal.
    Where simple bounds do not prove it best, the solver HiGHS is asked: over whole patterns where
    a box holds few cuts, over every choice where there are not too many. It stops by a count of nodes;
    then the bound it reached is told. Cuts that fit no box are the caller's to leave out.

    Limits of use: beyond ``_MOST_CHOICES`` the deal is that of first and best fit, with its bound. First
    fit by length takes at most 11/9 of the fewest boxes and 6/9 more where no group ties boxes.
    Source: G. Dósa, "The tight bound of first fit decreasing bin-packing algorithm", 2007.
    Raises:
        ValueError: A cut that no box can give.
    """
    widest = max([stock.usable_ft(stock.box_ft), *map(stock.usable_ft, stock.on_hand_ft)], default=0)
    bad = [cut.run for cut in cuts if cut.feet > widest]
    if bad:
        raise ValueError(f"expected cuts of at most {widest} ft, got longer ones: {', '.join(bad)}")
    best, unplaced = _by_fitting(cuts, stock)
    if unplaced:
        rest = deal([cut for cut in cuts if cut not in unplaced], stock)
        return replace(rest, proven=False, unplaced=tuple(cut.run for cut in unplaced))
    new, scrap_ft, opened, _ = _worth(best, stock)
    least = _least_new(cuts, stock)
    how = "by length alone"
    if new == least and not scrap_ft and opened == _least_opened(cuts, stock, new):
        return Deal(tuple(best), new, scrap_ft, opened, least, True, how)
    many = len(cuts) * (len(stock.on_hand_ft) + new)
    if many <= _MOST_CHOICES:
        found, bound, proven = _by_choices(cuts, stock, new)
        if found is not None and _worth(found, stock)[:3] < (new, scrap_ft, opened):
            best = found
            new, scrap_ft, opened, _ = _worth(best, stock)
        least, how = max(least, bound), "by trying every deal that could be better"
        if proven:
            return Deal(tuple(best), new, scrap_ft, opened, new, True, how)
    if least < new:
        patterns = _by_patterns(cuts, stock)
        if patterns is not None:
            packed, bound = patterns
            least, how = max(least, bound), "by the patterns that fill a box"
            if packed is not None and _worth(packed, stock) < _worth(best, stock):
                best = packed
                new, scrap_ft, opened, _ = _worth(best, stock)
    proven = new == least and not scrap_ft and opened == _least_opened(cuts, stock, new)
    return Deal(tuple(best), new, scrap_ft, opened, least, proven, how)


def _worth(boxes: Sequence[Opened], stock: Stock) -> tuple[int, float, int, float]:
    """New boxes, scrap feet, boxes opened, and the largest single rest as a negative."""
    new = sum(1 for box in boxes if not box.partial)
    scrap_ft = sum(box.left_ft for box in boxes if box.left_ft < stock.useful_ft - 1e-6)
    return new, round(scrap_ft, 6), len(boxes), -max((box.left_ft for box in boxes), default=0.0)


def _ordered(cuts: Sequence[Cut]) -> list[Cut]:
    return sorted(cuts, key=lambda cut: (-cut.feet, cut.run))


def _by_fitting(cuts: Sequence[Cut], stock: Stock) -> tuple[list[Opened], list[Cut]]:
    """The best of first and best fit over the orders of opening what is on hand; and what found no box."""
    on_hand = sorted(stock.on_hand_ft)
    orders: list[tuple[float, ...]] = []
    if len(on_hand) <= _MOST_ORDERED:
        for count in range(len(on_hand) + 1):
            orders += sorted(set(permutations(on_hand, count)))
    else:
        orders = [tuple(on_hand), tuple(reversed(on_hand)), ()]
    tries = [_fit(cuts, stock, order, tight) for order in orders for tight in (False, True)]
    return min(tries, key=lambda tried: (len(tried[1]), *_worth(tried[0], stock)))


def _fit(
    cuts: Sequence[Cut], stock: Stock, on_hand: tuple[float, ...], tight: bool
) -> tuple[list[Opened], list[Cut]]:
    unplaced: list[Cut] = []
    boxes = [Opened(feet, stock.usable_ft(feet), True) for feet in on_hand]
    for cut in _ordered(cuts):
        taking = [box for box in boxes if box.takes(cut)]
        if not taking:
            full = stock.usable_ft(stock.box_ft)
            if cut.feet > full:
                unplaced.append(cut)
                continue
            boxes.append(Opened(stock.box_ft, full, False))
            taking = [boxes[-1]]
        box = min(taking, key=lambda one: one.usable_ft - one.used_ft) if tight else taking[0]
        box.cuts.append(cut)
    return [box for box in boxes if box.cuts], unplaced


def _least_new(cuts: Sequence[Cut], stock: Stock) -> int:
    """New boxes that any deal opens: by feet, by what comes off at once, by what fills over half a box."""
    full = stock.usable_ft(stock.box_ft)
    hand = [stock.usable_ft(feet) for feet in stock.on_hand_ft]
    rest = sum(cut.feet for cut in cuts) - sum(hand)
    by_feet = -(-rest // full) if rest > 0 and full else 0
    largest_group = max(Counter(cut.group for cut in cuts).values(), default=0)
    big = sum(1 for cut in cuts if 2 * cut.feet > full)
    room = sum(feet // (full // 2 + 1) for feet in hand) if full else 0
    return max(by_feet, largest_group - len(hand), big - room, 0)


def _least_opened(cuts: Sequence[Cut], stock: Stock, new: int) -> int:
    """Boxes that any deal with so many new ones opens: by feet, and by what must come off at once."""
    full = stock.usable_ft(stock.box_ft)
    rest = sum(cut.feet for cut in cuts) - new * full
    opened = new
    for feet in sorted((stock.usable_ft(f) for f in stock.on_hand_ft), reverse=True):
        if rest <= 0:
            break
        rest, opened = rest - feet, opened + 1
    return max(opened, max(Counter(cut.group for cut in cuts).values(), default=0))


def _by_choices(cuts: Sequence[Cut], stock: Stock, most_new: int) -> tuple[list[Opened] | None, int, bool]:
    """Every cut to every box as one mixed-integer program.

    Returns:
        (the deal or None, least new boxes, whether it is the best).
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import coo_matrix

    items, hand = _ordered(cuts), sorted(stock.on_hand_ft, reverse=True)
    starts = [*hand, *([stock.box_ft] * most_new)]
    usable = [stock.usable_ft(feet) for feet in starts]
    n, m = len(items), len(starts)
    is_open, scrapped, scrap = n * m, n * m + m, n * m + 2 * m
    entries: list[tuple[int, int, float]] = []
    low: list[float] = []
    high: list[float] = []

    def row(terms: list[tuple[int, float]], least: float, most: float) -> None:
        entries.extend((len(low), column, weight) for column, weight in terms)
        low.append(least)
        high.append(most)

    for i in range(n):
        row([(i * m + j, 1.0) for j in range(m)], 1, 1)
    groups: dict[str, list[int]] = {}
    for i, cut in enumerate(items):
        groups.setdefault(cut.group, []).append(i)
    for j in range(m):
        feet = [(i * m + j, float(items[i].feet)) for i in range(n)]
        row([*feet, (is_open + j, -float(usable[j]))], -np.inf, 0)
        for members in groups.values():
            if len(members) > 1:
                row([*((i * m + j, 1.0) for i in members), (is_open + j, -1.0)], -np.inf, 0)
        # rest >= useful where the box is open and not scrapped; scrap >= rest where it is scrapped
        rest_from = [(column, -weight) for column, weight in feet]
        useful = min(stock.useful_ft, starts[j])
        row([*rest_from, (is_open + j, starts[j] - useful), (scrapped + j, useful)], 0, np.inf)
        row(
            [(scrap + j, 1.0), *feet, (is_open + j, -starts[j]), (scrapped + j, -starts[j])],
            -starts[j],
            np.inf,
        )
        alike = j + 1 < m and math.isclose(starts[j], starts[j + 1]) and (j + 1 < len(hand) or j >= len(hand))
        if alike:
            row([(is_open + j, 1.0), (is_open + j + 1, -1.0)], 0, np.inf)
    top = np.ones(n * m + 3 * m)
    top[scrap:] = [min(stock.useful_ft, feet) for feet in starts]
    for k in range(most_new):  # new boxes are alike: the k-th holds nothing longer than the k-th cut
        top[[i * m + len(hand) + k for i in range(min(k, n))]] = 0
    a_foot = m + 1.0
    a_new = a_foot * (m * math.ceil(stock.useful_ft) + 1)
    cost = np.zeros(n * m + 3 * m)
    cost[is_open : is_open + m] = [1.0 + (a_new if j >= len(hand) else 0.0) for j in range(m)]
    cost[scrap:] = a_foot
    whole = np.ones(n * m + 3 * m)
    whole[scrap:] = 0
    rows, columns, weights = zip(*entries, strict=True)
    matrix = coo_matrix((weights, (rows, columns)), shape=(len(low), len(cost)))
    told: Any = milp(
        cost,
        constraints=LinearConstraint(matrix.tocsc(), low, high),
        integrality=whole,
        bounds=Bounds(0, top),
        options={"node_limit": _NODES if n * m <= _MANY_CHOICES else _FEW_NODES, "mip_rel_gap": 0.0},
    )
    bound = 0
    if told.mip_dual_bound is not None and math.isfinite(told.mip_dual_bound):
        bound = max(0, math.ceil((told.mip_dual_bound - (a_new - 1) - 1e-4) / a_new))
    if told.x is None:
        return None, bound, False
    boxes = [Opened(feet, usable[j], j < len(hand)) for j, feet in enumerate(starts)]
    for i, cut in enumerate(items):
        boxes[max(range(m), key=lambda j: float(told.x[i * m + j]))].cuts.append(cut)
    return [box for box in boxes if box.cuts], bound, told.status == 0


def _by_patterns(cuts: Sequence[Cut], stock: Stock) -> tuple[list[Opened] | None, int] | None:
    """Whole patterns of one box as integer variables: strong where a box holds few cuts.

    Groups are left out of the program, so it bounds every deal, and gives one only where it ties none.
    Returns:
        (the deal or None, least new boxes), or None where there are too many patterns.
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import coo_matrix

    feet = sorted({cut.feet for cut in cuts}, reverse=True)
    demand = Counter(cut.feet for cut in cuts)
    kinds = [(start, count, True) for start, count in sorted(Counter(stock.on_hand_ft).items())]
    kinds.append((stock.box_ft, len(cuts), False))
    columns: list[tuple[int, tuple[int, ...]]] = []
    for number, (start, _, _) in enumerate(kinds):
        made = _patterns(
            feet, [demand[f] for f in feet], stock.usable_ft(start), _MOST_PATTERNS - len(columns)
        )
        if made is None:
            return None
        columns += [(number, pattern) for pattern in made]
    entries = [
        (i, c, float(count))
        for c, (_, pattern) in enumerate(columns)
        for i, count in enumerate(pattern)
        if count
    ]
    entries += [(len(feet) + number, c, 1.0) for c, (number, _) in enumerate(columns)]
    low = [*(float(demand[f]) for f in feet), *(0.0 for _ in kinds)]
    high = [*(np.inf for _ in feet), *(float(count) for _, count, _ in kinds)]
    rows, places, weights = zip(*entries, strict=True)
    a_new = float(len(stock.on_hand_ft) + 1)
    cost = [1.0 if kinds[number][2] else a_new for number, _ in columns]
    told: Any = milp(
        cost,
        constraints=LinearConstraint(
            coo_matrix((weights, (rows, places)), shape=(len(low), len(columns))).tocsc(), low, high
        ),
        integrality=np.ones(len(columns)),
        bounds=Bounds(0, np.inf),
        options={"node_limit": _NODES, "mip_rel_gap": 0.0},
    )
    bound = 0
    if told.mip_dual_bound is not None and math.isfinite(told.mip_dual_bound):
        bound = max(0, math.ceil((told.mip_dual_bound - (a_new - 1) - 1e-6) / a_new))
    if told.x is None:
        return None, bound
    left = {f: [cut for cut in _ordered(cuts) if cut.feet == f] for f in feet}
    boxes = []
    for (number, pattern), times in zip(columns, told.x, strict=True):
        start, _, partial = kinds[number]
        for _ in range(round(times)):
            box = Opened(start, stock.usable_ft(start), partial)
            for f, count in zip(feet, pattern, strict=True):
                for cut in left[f][:count]:
                    if not box.takes(cut):
                        return None, bound  # a group ties boxes in a way that patterns do not see
                    box.cuts.append(cut)
                left[f] = left[f][count:]
            boxes.append(box)
    return [box for box in boxes if box.cuts], bound


def _patterns(feet: list[int], most: list[int], room: int, limit: int) -> list[tuple[int, ...]] | None:
    """Every way to fill a box to which no further cut can be added; None where there are too many."""
    found: list[tuple[int, ...]] = []
    chosen = [0] * len(feet)

    def add(at: int, left: int) -> bool:
        if at == len(feet):
            if not any(chosen[i] < most[i] and feet[i] <= left for i in range(len(feet))):
                found.append(tuple(chosen))
            return len(found) <= limit
        for count in range(min(most[at], left // feet[at]), -1, -1):
            chosen[at] = count
            if not add(at + 1, left - count * feet[at]):
                return False
        chosen[at] = 0
        return True

    return found if limit > 0 and add(0, room) else None
