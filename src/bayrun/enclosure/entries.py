"""Which cables enter the enclosure by which knockout, through which bushing opening, and how full it gets.

The routes say whether a run arrives from above or below (``Run.entry``) and by which hole of the plate.
Cables keep the order they arrive in from left to right, so that none crosses another between plate and box;
where to part them among the knockouts of that edge is found exactly. The firm's fill holds for the opening of
the bushing.
Limits of use: round knockouts along the top and bottom edge. Source: hole sizes by trade size as in
``tables/gear.toml``; bushing openings are generic: measure yours.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from bayrun.cables import PackingCache
from bayrun.cables.ranges import Verdict
from bayrun.enclosure.gear import gear_table, hangs_in
from bayrun.enclosure.room import Edge
from bayrun.geometry import at_least, at_most
from bayrun.house import Enclosure, Job, Knockout
from bayrun.units import tape
from bayrun.wiring import Run, Wiring


@dataclass(frozen=True, slots=True)
class KnockoutUse:
    """One knockout and what enters by it.

    Args:
        number: Place among the knockouts of its edge, from the left, counted from 1.
        trade: Trade size of its hole, or empty where its diameter is none.
        opening_in: Of the bushing in it [in].
        runs: Run ids, from the left.
        fill: Share of the opening cable takes.
        bundle_in: Tight bundle [in]; 0 where nothing enters.
        fits: True where fill and true packing both hold.
        opened: True where the job calls it spare and the cables need it all the same.
    """

    edge: Edge
    number: int
    from_left_in: float
    diameter_in: float
    trade: str
    opening_in: float
    use: str
    runs: tuple[str, ...] = ()
    fill: float = 0.0
    bundle_in: float = 0.0
    fits: bool = True
    opened: bool = False

    @property
    def name(self) -> str:
        """``top 2``."""
        return f"{self.edge} {self.number}"


@dataclass(frozen=True, slots=True)
class Entries:
    """All knockouts of the box.

    Args:
        without: (edge, run ids) where cables arrive and the box has no knockout for them.
    """

    uses: tuple[KnockoutUse, ...]
    without: tuple[tuple[Edge, tuple[str, ...]], ...]
    verdict: Verdict
    reason: str


@dataclass(frozen=True, slots=True)
class Arrival:
    """One cable as it comes to the box.

    Args:
        from_left_in: Where it comes through the plate, from the left side of the box as one faces it [in].
    """

    run: str
    kind: str
    edge: Edge
    from_left_in: float
    diameter_in: float
    bend_in: float


def trade_of(diameter_in: float) -> tuple[str, float]:
    """(trade size or empty, bushing opening [in]) of a knockout hole."""
    for row in gear_table()["knockout"]:
        if at_least(diameter_in, row["least_in"]) and at_most(diameter_in, row["most_in"]):
            return row["trade"], float(row["bushing_in"])
    return "", max(diameter_in - 2 * gear_table()["bushing"]["wall_in"], 0.0)


def at_start(job: Job, run: Run, box: Enclosure) -> bool:
    """True where a run begins in this box."""
    return hangs_in(job, run.from_end, box)


def at_box(job: Job, run: Run, box: Enclosure) -> bool:
    """True where a run ends in this box."""
    return at_start(job, run, box) or hangs_in(job, run.to_end, box)


def arrivals(job: Job, wiring: Wiring, box: Enclosure) -> tuple[Arrival, ...]:
    """Every cable of the box, by edge and from the left, as one faces the box."""
    kinds = {kind.letter: kind for kind in job.practice.cables}
    holes = {hole.id: hole for hole in wiring.holes}
    middle_in = sum(box.bay_studs_in) / 2
    out = []
    for run in wiring.runs:
        if not at_box(job, run, box):
            continue
        path = run.path if at_start(job, run, box) else tuple(reversed(run.path))
        along_in = middle_in
        for point in path:
            hole = holes.get(point.hole)
            if hole is not None and hole.wall == box.wall and hole.axis == "up":
                along_in = hole.along_in
                break
        away_in = along_in - middle_in
        # Standing on the left of a wall's direction and looking at it, offsets run from right to left.
        left_in = box.width_in / 2 + (-away_in if box.side == "left" else away_in)
        kind = kinds.get(run.kind)
        diameter_in = kind.diameter_in if kind is not None else 0.25
        bend_in = diameter_in * (kind.bend_radius_x_diameter if kind is not None else 4.0)
        first: Edge = "top" if "top" in box.entries or not box.entries else "bottom"
        entry = run.entry_at(run.from_end if run.from_end.id == box.id else run.to_end)
        edge: Edge = "bottom" if entry == "bottom" else "top" if entry == "top" else first
        out.append(Arrival(run.id, run.kind, edge, left_in, diameter_in, bend_in))
    return tuple(sorted(out, key=lambda a: (a.edge != "top", round(a.from_left_in, 3), natural(a.run))))


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Sort key that puts A2 before A10."""
    parts = (part for part in re.split(r"(\d+)", text) if part)
    return tuple((0, int(p), "") if p.isdigit() else (1, 0, p) for p in parts)


def assign(job: Job, box: Enclosure, coming: Sequence[Arrival]) -> Entries:
    """Part the cables among the knockouts of their edges.

    Spares are opened only where the knockouts meant for low voltage are not enough; those for power never.
    """
    cache_of = PackingCache()
    fill_max = job.practice.fill_max
    uses: list[KnockoutUse] = []
    without: list[tuple[Edge, tuple[str, ...]]] = []
    for edge in ("top", "bottom"):
        here = [a for a in coming if a.edge == edge]
        knockouts = sorted(
            (k for k in box.knockouts if k.edge == edge), key=lambda k: (k.from_left_in, k.diameter_in)
        )
        numbered = list(enumerate(knockouts, 1))
        usable = [(n, k) for n, k in numbered if k.use != "power"]
        parts = _part(here, [k for _, k in usable], fill_max)
        if here and not usable:
            without.append((edge, tuple(a.run for a in here)))
        given = {n: part for (n, _), part in zip(usable, parts, strict=True)} if parts else {}
        for number, knockout in numbered:
            uses.append(_use(knockout, edge, number, given.get(number, ()), fill_max, cache_of))
    return _told(uses, without, fill_max)


def _use(
    knockout: Knockout,
    edge: Edge,
    number: int,
    cables: Sequence[Arrival],
    fill_max: float,
    cache_of: PackingCache,
) -> KnockoutUse:
    trade, opening_in = trade_of(knockout.diameter_in)
    sizes = [a.diameter_in for a in cables]
    fill = sum(d * d for d in sizes) / (opening_in * opening_in) if sizes and opening_in else 0.0
    fits = True
    bundle_in = 0.0
    if sizes:
        from bayrun.cables import pack

        bundle_in = pack(sizes, effort="quick").diameter_in
        fits = at_most(fill, fill_max) and cache_of.fits(opening_in, sizes) is not None
    return KnockoutUse(
        edge,
        number,
        knockout.from_left_in,
        knockout.diameter_in,
        trade,
        opening_in,
        knockout.use,
        tuple(a.run for a in cables),
        fill,
        bundle_in,
        fits,
        bool(sizes) and knockout.use == "spare",
    )


def _part(
    here: Sequence[Arrival], knockouts: Sequence[Knockout], fill_max: float
) -> tuple[tuple[Arrival, ...], ...]:
    """Consecutive shares of the cables, one for each knockout, possibly empty: exact over every way to part
    them.

    Least too much over the firm's fill first, then the fewest spares opened, then the least full opening.
    """
    if not knockouts:
        return ()
    area = [0.0]
    for arrival in here:
        area.append(area[-1] + arrival.diameter_in**2)
    openings = [trade_of(k.diameter_in)[1] for k in knockouts]
    count = len(here)

    @cache
    def best(at: int, number: int) -> tuple[tuple[float, int, float], tuple[int, ...]]:
        if number == len(knockouts):
            lost = 0.0 if at == count else 1e9
            return (lost, 0, 0.0), ()
        found: list[tuple[tuple[float, int, float], tuple[int, ...]]] = []
        for end in range(at, count + 1):
            share = (area[end] - area[at]) / max(openings[number] ** 2, 1e-9)
            (over, spares, fullest), ends = best(end, number + 1)
            cost = (
                round(over + max(share - fill_max, 0.0), 9),
                spares + (end > at and knockouts[number].use == "spare"),
                round(max(fullest, share), 9),
            )
            found.append((cost, (end, *ends)))
        return min(found)

    _, ends = best(0, 0)
    starts = (0, *ends[:-1])
    return tuple(tuple(here[a:b]) for a, b in zip(starts, ends, strict=True))


def _told(uses: list[KnockoutUse], without: list[tuple[Edge, tuple[str, ...]]], fill_max: float) -> Entries:
    wrong = [
        f"the {use.edge} knockout {tape(use.from_left_in)} from the left is {100 * use.fill:.0f} % full, "
        f"the firm fills {100 * fill_max:.0f} %"
        for use in uses
        if not use.fits
    ]
    wrong += [
        f"{len(runs)} {'run comes' if len(runs) == 1 else 'runs come'} to the {edge} of the box, "
        "which has no knockout for low voltage there"
        for edge, runs in without
    ]
    spare = sum(1 for use in uses if not use.runs and use.use != "power")
    used = sum(1 for use in uses if use.runs)
    if wrong:
        return Entries(tuple(uses), tuple(without), Verdict.FAILS, "; ".join(wrong))
    if not used:
        return Entries(tuple(uses), (), Verdict.HOLDS, "no cable enters yet")
    fullest = max(use.fill for use in uses)
    reason = f"{used} used, {spare} left for later, the fullest {100 * fullest:.0f} % of its opening"
    return Entries(tuple(uses), (), Verdict.HOLDS, reason)
