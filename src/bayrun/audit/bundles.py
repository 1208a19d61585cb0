"""What lies in each hole: who, as which circles, how full."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from itertools import combinations

from bayrun.audit.defects import Defect
from bayrun.audit.places import LOOSE_IN
from bayrun.audit.reading import Bore
from bayrun.audit.site import Site
from bayrun.geometry import at_most, near
from bayrun.units import tape


def check_bundles(site: Site) -> Iterator[Defect]:
    """Occupants agree both ways; circles are disjoint, inside, of the right size; fill is kept."""
    passing: dict[str, list[str]] = {}
    for run in site.plan.runs:
        for name in run.holes:
            if name:
                passing.setdefault(name, []).append(run.id)
    kinds = {r.id: r.kind for r in site.plan.runs}
    for hole in site.plan.holes:
        yield from _occupants(site, hole, passing.get(hole.id, []))
        yield from _circles(site, hole, kinds)


def _occupants(site: Site, hole: Bore, passing: list[str]) -> Iterator[Defect]:
    place = site.place_of_hole(hole)
    listed = Counter(hole.occupants)
    walked = Counter(passing)
    for run in sorted(set(listed) | set(walked)):
        if listed[run] == walked[run] == 1:
            continue
        if not listed[run]:
            says = f"run {run} passes hole {hole.id}, which does not list it"
        elif not walked[run]:
            says = f"hole {hole.id} lists run {run}, whose path does not pass it"
        else:
            says = f"run {run} stands {listed[run]} times in hole {hole.id} and passes it {walked[run]} times"
        yield Defect("occupants-differ", (hole.id, run), place, says, listed[run], walked[run])
    if not listed and not walked:
        yield Defect("occupants-differ", (hole.id,), place, f"hole {hole.id} is drilled for nobody")


def _circles(site: Site, hole: Bore, kinds: dict[str, str]) -> Iterator[Defect]:
    place = site.place_of_hole(hole)
    if len(hole.circles) != len(hole.occupants):
        says = f"hole {hole.id} lists {len(hole.occupants)} runs and draws {len(hole.circles)} circles"
        yield Defect("circle-wrong", (hole.id,), place, says, len(hole.circles), len(hole.occupants))
    for name, (x, y, r) in zip(hole.occupants, hole.circles, strict=False):
        wanted = site.diameters.get(kinds.get(name, ""))
        if wanted is not None and not near(2 * r, wanted):
            says = f"run {name} is drawn {2 * r:.3f} in thick in hole {hole.id}; its cable is {wanted:.3f} in"
            yield Defect("circle-wrong", (hole.id, name), place, says, 2 * r, wanted)
        if math.hypot(x, y) + r > hole.diameter_in / 2 + LOOSE_IN:
            says = f"run {name} does not lie inside hole {hole.id} of {tape(hole.diameter_in)}"
            yield Defect(
                "circle-outside", (hole.id, name), place, says, math.hypot(x, y) + r, hole.diameter_in / 2
            )
    for i, j in combinations(range(min(len(hole.circles), len(hole.occupants))), 2):
        (ax, ay, ar), (bx, by, br) = hole.circles[i], hole.circles[j]
        apart = math.hypot(ax - bx, ay - by)
        if apart < ar + br - LOOSE_IN:
            pair = (hole.occupants[i], hole.occupants[j])
            says = f"runs {pair[0]} and {pair[1]} overlap in hole {hole.id}"
            yield Defect("circles-overlap", (hole.id, *pair), place, says, apart, ar + br)
    if at_most(hole.diameter_in, 0.0):
        return
    runs = [site.diameters.get(kinds.get(name, ""), 0.0) for name in hole.occupants]
    fill = math.fsum(d * d for d in runs) / hole.diameter_in**2
    most = min(site.job.practice.fill_max, float(site.adopted.value("fill", "never_over")))
    if fill > most + 1e-9:
        says = f"hole {hole.id} is {fill:.1%} full; the firm's most is {most:.0%}, never over 60 %"
        yield Defect("hole-too-full", (hole.id,), place, says, fill, most)
