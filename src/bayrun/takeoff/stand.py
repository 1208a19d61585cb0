"""The stand and the crew of two: where each stands in a pull, and what another box would save."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from dataclasses import dataclass, replace
from itertools import pairwise

from bayrun.house import Job
from bayrun.takeoff.lengths import kind_name
from bayrun.takeoff.pulls import boxes_at_once, pulls
from bayrun.takeoff.supports import place_of
from bayrun.takeoff.words import natural
from bayrun.wiring import Pull, Run, Wiring


def two_people(job: Job, run: Run) -> str:
    """Where two stand while a run is pulled: one feeds at the boxes, one leads where most of the way lies."""
    lengths: dict[str, float] = defaultdict(float)
    points = [(p.x, p.y, p.z) for p in run.path]
    for a, b in pairwise(points):
        words = place_of(job, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2))[0]
        lengths[_space(words)] += math.dist(a, b)
    where = max(sorted(lengths), key=lambda space: lengths[space], default="")
    return f"one feeds at the boxes, one leads {where}" if where else "one feeds at the boxes, one leads"


def _space(words: str) -> str:
    if words.startswith("attic"):
        return "in the attic"
    if words.startswith("crawl"):
        return "in the crawl space"
    if words.startswith("floor space over level"):
        return f"from a ladder on level {words.rsplit(' ', 1)[-1]}"
    return "from hole to hole"


@dataclass(frozen=True, slots=True)
class TripCount:
    """How many pulls a plan needs, the fewest its boxes allow, and what one more box of a kind would save.

    Args:
        least: No grouping needs fewer: runs of a kind over its boxes on the stand, rounded up.
        savings: (kind in words, boxes ready now, pulls saved by one more), the most first.
    """

    trips: int
    least: int
    savings: tuple[tuple[str, int, int], ...]


def trip_count(job: Job, wiring: Wiring, grouped: tuple[Pull, ...]) -> TripCount:
    """Count pulls, and what another box on the stand would save; a kind whose boxes fill it is left out.

    Limits of use: groups are made one after the other, the longest run first, so fewer pulls may exist, down
    to ``least``.
    """
    kinds = Counter(run.kind for run in wiring.runs)
    ready = {kind: boxes_at_once(job, wiring, kind) for kind in kinds}
    least = max((-(-count // ready[kind]) for kind, count in kinds.items()), default=0)
    found = []
    for kind in sorted(kinds, key=natural):
        if ready[kind] >= min(job.practice.stand_boxes, kinds[kind]):
            continue
        told = dict(job.practice.stand_boxes_by_kind) | {kind: ready[kind] + 1}
        practice = replace(job.practice, stand_boxes_by_kind=tuple(told.items()))
        saved = len(grouped) - len(pulls(replace(job, practice=practice), wiring))
        if saved > 0:
            found.append((kind_name(job, kind), ready[kind], saved))
    return TripCount(len(grouped), least, tuple(sorted(found, key=lambda one: -one[2])))
