"""Bundles that carry power over four-pair cable: how many cables, which class, how hot it is around them."""

from __future__ import annotations

from dataclasses import dataclass

from bayrun.cables.bundle_heat import RATINGS_C, BundleHeat, bundle_heat
from bayrun.cables.power_over_cable import PowerClass, power_class
from bayrun.cables.ranges import RangeError, Verdict
from bayrun.house import Job
from bayrun.wiring.devices import awg_of, four_pair
from bayrun.wiring.records import Hole, Wiring
from bayrun.wiring.signals import RunSignal
from bayrun.wiring.warmth import hole_celsius

USUAL_RATING_C = 60
"""Rating of a cable that nobody said: the least of the table, the careful side [C]."""


@dataclass(frozen=True, slots=True)
class PoweredBundle:
    """The four-pair cables of one hole, some of them powered.

    Args:
        cables: All four-pair cables in the hole: the printed table counts them.
        powered: Run ids of those that carry power.
        heaviest: The greatest class among them; all are reckoned at it.
        celsius: Around the bundle [C].
        rating_c: Of its cable [C]; ``rated`` tells whether the firm said it.
        heat: Held against the printed table; None where the table has no figure: ``told`` says why.
    """

    hole: Hole
    cables: int
    powered: tuple[str, ...]
    heaviest: PowerClass
    celsius: float
    rating_c: int
    rated: bool
    heat: BundleHeat | None
    told: str = ""

    @property
    def verdict(self) -> Verdict:
        """Of the printed table; cannot tell where it has no figure."""
        return Verdict.CANNOT_TELL if self.heat is None else self.heat.verdict

    @property
    def load(self) -> float:
        """Needed over allowed amperes; infinite where nothing is allowed."""
        if self.heat is None or self.heat.allowed_a.value <= 0:
            return float("inf")
        return self.heat.needed_a.value / self.heat.allowed_a.value


def powered_bundles(job: Job, wiring: Wiring, signals: tuple[RunSignal, ...]) -> tuple[PoweredBundle, ...]:
    """Every hole with two or more four-pair cables of which one is powered, in plan order."""
    feeds = {s.run: s for s in signals if s.feed is not None}
    kinds = {kind.letter: kind for kind in job.practice.cables}
    data = {r.id: kinds[r.kind] for r in wiring.runs if r.kind in kinds and four_pair(kinds[r.kind])}
    out = []
    for hole in wiring.holes:
        inside = [run for run in hole.occupants if run in data]
        powered = tuple(run for run in inside if run in feeds)
        if len(inside) < 2 or not powered:
            continue
        number = max(feeds[run].device.cable_class for run in powered)
        ratings = [data[run].rating_c for run in inside]
        said = all(rating is not None for rating in ratings)
        least = min(rating or USUAL_RATING_C for rating in ratings)
        rating = max((r for r in RATINGS_C if r <= least), default=USUAL_RATING_C)
        thinnest = max(awg_of(data[run]) or 24 for run in inside)
        around, heat, told = hole_celsius(job, hole), None, ""
        try:
            heat = bundle_heat(len(inside), thinnest, power_class(number), rating, around)
        except RangeError as error:
            told = str(error)
        out.append(
            PoweredBundle(hole, len(inside), powered, power_class(number), around, rating, said, heat, told)
        )
    return tuple(out)
