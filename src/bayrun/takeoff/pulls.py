"""Which runs are pulled together, from which stand, in which order."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from bayrun.geometry import at_most
from bayrun.house import End, Job
from bayrun.house.building import Point3
from bayrun.takeoff.lengths import cut_length_in
from bayrun.takeoff.ways import way_words
from bayrun.takeoff.words import end_place, far_end, natural, outward
from bayrun.wiring import Pull, Run, Wiring

SHARED_SHARE = 0.5
"""Runs are pulled together when they share at least this much of the shorter way. Our own figure."""

ARM_IN = 24.0
"""Ways nearer than this to each other are one way for whoever pulls [in]. Our own figure."""

STEP_IN = 12.0
"""Ways are compared every so far [in]."""

BOXES_FOR_ONE_PLACE = 2
"""Boxes of a kind brought where one location takes several. Common practice, no source."""

FILL_STOP = 0.60
"""Cables pulled through one hole together never take more of it than this. Common practice, no source."""


def boxes_at_once(job: Job, wiring: Wiring, letter: str) -> int:
    """How many boxes of one kind stand ready at once.

    The firm's own number where it is told (``stand_boxes_by_kind``); else the boxes on hand or the
    boxes that the lengths alone need, at least two where a location takes several cables of the kind, and
    never more than the stand holds.
    """
    practice = job.practice
    told = dict(practice.stand_boxes_by_kind).get(letter)
    if told is not None:
        return max(1, min(told, practice.stand_boxes))
    runs = [run for run in wiring.runs if run.kind == letter]
    kind = next((k for k in practice.cables if k.letter == letter), None)
    usable_in = 12 * (kind.box_ft - kind.reserve_ft) if kind else math.inf
    by_length = math.ceil(sum(cut_length_in(job, run) for run in runs) / usable_in) if usable_in > 0 else 1
    at_one_place = max(Counter(far_end(run) for run in runs).values(), default=1)
    on_hand = sum(1 for have, _ in practice.partial_boxes if have == letter)
    return max(1, min(practice.stand_boxes, max(min(BOXES_FOR_ONE_PLACE, at_one_place), by_length, on_hand)))


def pulls(job: Job, wiring: Wiring) -> tuple[Pull, ...]:
    """Every run in exactly one pull, the longest way first while the boxes are full.

    A pull starts with the longest run that is left and takes along the runs that share the most of its
    way, counted from the enclosure, as long as a box for each stands ready and the bundle fits every
    hole it goes through. Runs that do not go to the enclosure are pulled from their own end.
    """
    left = sorted(wiring.runs, key=lambda r: (-r.length_in, natural(r.id)))
    ready = {letter: boxes_at_once(job, wiring, letter) for letter in sorted({r.kind for r in wiring.runs})}
    stand_boxes = max(1, job.practice.stand_boxes)
    ways = {run.id: _walked(run) for run in left}
    length_in = {run.id: (run.path_in, run.length_in) for run in left}
    fills = _Fills(job, wiring)
    groups = []
    while left:
        group = [left.pop(0)]
        first = group[0].id
        shared = {run.id: _shared_in(ways[first], ways[run.id]) for run in left}
        near = [
            run
            for run in left
            if length_in[run.id][0] > 0 < length_in[first][0]
            and at_most(SHARED_SHARE * min(length_in[first][0], length_in[run.id][0]), shared[run.id])
        ]
        while len(group) < stand_boxes:
            many = Counter(one.kind for one in group)
            ranked = [
                (-shared[run.id], -length_in[run.id][1], natural(run.id), run)
                for run in near
                if run not in group and many[run.kind] < ready[run.kind] and fills.fits([*group, run])
            ]
            if not ranked:
                break
            following = min(ranked, key=lambda one: one[:3])[3]
            left.remove(following)
            group.append(following)
        groups.append(sorted(group, key=lambda r: (-r.length_in, natural(r.id))))
    found = []
    for number, group in enumerate(groups, start=1):
        found.append(
            Pull(
                id=f"PL{number}",
                order=number,
                runs=tuple(run.id for run in group),
                stand=_stand(job, group[0]),
                way=_group_way(job, wiring, group),
            )
        )
    return tuple(found)


def _stand(job: Job, run: Run) -> str:
    """Where the boxes stand: at the enclosure, else at the end the run is pulled from."""
    end = run.to_end if run.to_end.type == "enclosure" else run.from_end
    article = "the " if end.type == "enclosure" else ""
    return f"boxes at {article}{end_place(job, end)}"


def _shared_in(first: Sequence[Point3], second: Sequence[Point3]) -> float:
    """Length of the way two runs share from the stand on [in]; 0 where they start apart.

    Both ways are ``_walked`` in equal steps from the stand; they are shared as long as they lie within
    an arm's reach of each other: two holes side by side are one way for whoever pulls.
    """
    shared = 0
    for p, q in zip(first, second, strict=False):
        if not at_most(math.dist(p, q), ARM_IN):
            break
        shared += 1
    return max(0, shared - 1) * STEP_IN


def _walked(run: Run) -> list[Point3]:
    """Points along a way from the stand outward, every ``STEP_IN``."""
    points = [(p.x, p.y, p.z) for p in outward(run)]
    found, ahead_in = points[:1], STEP_IN
    for a, b in pairwise(points):
        length_in = math.dist(a, b)
        while at_most(ahead_in, length_in) and length_in > 0:
            t = ahead_in / length_in
            found.append((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t))
            ahead_in += STEP_IN
        ahead_in -= length_in
    return found


class _Fills:
    """Whether bundles pulled together fit every hole they go through."""

    def __init__(self, job: Job, wiring: Wiring) -> None:
        sizes = {kind.letter: kind.diameter_in for kind in job.practice.cables}
        self.square = {run.id: sizes.get(run.kind, 0.0) ** 2 for run in wiring.runs}
        self.most = {hole.id: FILL_STOP * hole.diameter_in**2 + 1e-9 for hole in wiring.holes}
        self.holes: dict[str, list[str]] = {run.id: [] for run in wiring.runs}
        for hole in wiring.holes:
            for run in hole.occupants:
                if run in self.holes:
                    self.holes[run].append(hole.id)

    def fits(self, group: list[Run]) -> bool:
        """True where the bundle pulled together fills no hole beyond 60 %."""
        area: dict[str, float] = {}
        for run in group:
            for hole in self.holes[run.id]:
                area[hole] = area.get(hole, 0.0) + self.square[run.id]
        return all(filled <= self.most[hole] for hole, filled in area.items())


def _group_way(job: Job, wiring: Wiring, group: list[Run]) -> str:
    """The longest run's way, then where the others leave it."""
    words = way_words(job, wiring, group[0])
    holes = set(group[0].holes)
    leaving: dict[tuple[End, tuple[str, ...]], list[str]] = {}
    for run in group[1:]:
        if far_end(run) != far_end(group[0]):
            own = [h for h in run.holes if h not in holes]
            own = own[::-1] if run.to_end.type == "enclosure" else own
            leaving.setdefault((far_end(run), tuple(own)), []).append(run.id)
    told = []
    for (end, own_holes), runs in leaving.items():
        by = (
            f" by {'hole' if len(own_holes) == 1 else 'holes'} {', '.join(own_holes[:4])}"
            if own_holes
            else ""
        )
        told.append(
            f"{', '.join(runs)} {'leaves' if len(runs) == 1 else 'leave'} to {end_place(job, end)}{by}"
        )
    return "; ".join([words, *told])
