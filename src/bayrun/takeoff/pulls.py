"""Which runs are pulled together, from which stand, in which order."""

from __future__ import annotations

import math

from bayrun.geometry import at_most
from bayrun.house import Job
from bayrun.takeoff.lengths import cut_length_in
from bayrun.takeoff.ways import way_words
from bayrun.takeoff.words import end_place, natural
from bayrun.wiring import Pull, Run, Wiring

SHARED_SHARE = 0.5
"""Runs are pulled together when they share at least this much of the shorter way. Our own figure."""

FEWEST_BOXES = 2
"""Boxes of one kind on the stand where nobody said and lengths ask for fewer. Common practice, no source."""

FILL_STOP = 0.60
"""Cables pulled through one hole together never take more of it than this. Common practice, no source."""


def boxes_at_once(job: Job, wiring: Wiring, letter: str) -> int:
    """How many boxes of one kind stand ready at once.

    The firm's own number where it is told (``stand_boxes_by_kind``); else the boxes on hand or the
    boxes that the lengths alone need, at least two, and never more than the stand holds.
    """
    practice = job.practice
    told = dict(practice.stand_boxes_by_kind).get(letter)
    if told is not None:
        return max(1, min(told, practice.stand_boxes))
    runs = [run for run in wiring.runs if run.kind == letter]
    kind = next((k for k in practice.cables if k.letter == letter), None)
    usable_in = 12 * (kind.box_ft - kind.reserve_ft) if kind else math.inf
    by_length = math.ceil(sum(cut_length_in(job, run) for run in runs) / usable_in) if usable_in > 0 else 1
    on_hand = sum(1 for have, _ in practice.partial_boxes if have == letter)
    return max(1, min(practice.stand_boxes, max(FEWEST_BOXES, by_length, on_hand)))


def pulls(job: Job, wiring: Wiring) -> tuple[Pull, ...]:
    """Every run in exactly one pull, the longest way first while the boxes are full.

    A pull starts with the longest run that is left and takes along the runs that share the most of its
    way, counted from the enclosure, as long as a box for each stands ready and the bundle fits every
    hole it goes through. Runs that do not go to the enclosure are pulled from their own end.
    """
    left = sorted(wiring.runs, key=lambda r: (-r.length_in, natural(r.id)))
    ready = {letter: boxes_at_once(job, wiring, letter) for letter in sorted({r.kind for r in wiring.runs})}
    stand_boxes = max(1, job.practice.stand_boxes)
    groups = []
    while left:
        group = [left.pop(0)]
        while len(group) < stand_boxes:
            ranked = [
                (-_shared_in(group[0], run), -run.length_in, natural(run.id), run)
                for run in left
                if _joins(job, wiring, group, run, ready)
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
    return (
        f"boxes at the {end_place(job, end)}"
        if end.type == "enclosure"
        else f"boxes at {end_place(job, end)}"
    )


def _outward(run: Run) -> tuple[tuple[float, float, float], ...]:
    points = run.path[::-1] if run.to_end.type == "enclosure" else run.path
    return tuple((p.x, p.y, p.z) for p in points)


def _shared_in(a: Run, b: Run) -> float:
    """Length of the way two runs share from the stand on [in]; 0 where they start apart."""
    if (a.to_end.type == "enclosure") != (b.to_end.type == "enclosure"):
        return 0.0
    first, second = _outward(a), _outward(b)
    if not first or not second or not _near(first[0], second[0]):
        return 0.0
    shared_in = 0.0
    for i in range(1, min(len(first), len(second))):
        if not _near(first[i], second[i]):
            # Two ways that go on along one line part where the shorter piece ends.
            shared_in += _same_line(first[i - 1], first[i], second[i])
            break
        shared_in += math.dist(first[i - 1], first[i])
    return shared_in


def _near(a: tuple[float, float, float], b: tuple[float, float, float]) -> bool:
    return at_most(math.dist(a, b), 1.0)


def _same_line(at: tuple[float, ...], a: tuple[float, ...], b: tuple[float, ...]) -> float:
    to_a, to_b = math.dist(at, a), math.dist(at, b)
    if not to_a or not to_b:
        return 0.0
    dot = sum((p - o) * (q - o) for p, q, o in zip(a, b, at, strict=True)) / (to_a * to_b)
    return min(to_a, to_b) if dot > 0.999 else 0.0


def _joins(job: Job, wiring: Wiring, group: list[Run], run: Run, ready: dict[str, int]) -> bool:
    if sum(1 for one in group if one.kind == run.kind) >= ready[run.kind]:
        return False
    shorter_in = min(group[0].path_in, run.path_in)
    if not at_most(SHARED_SHARE * shorter_in, _shared_in(group[0], run)) or shorter_in <= 0:
        return False
    return _fits(job, wiring, [*group, run])


def _fits(job: Job, wiring: Wiring, group: list[Run]) -> bool:
    """True where the bundle pulled together fills no hole beyond 60 %."""
    sizes = {kind.letter: kind.diameter_in for kind in job.practice.cables}
    together = {run.id: sizes.get(run.kind, 0.0) for run in group}
    for hole in wiring.holes:
        area = sum(together[i] ** 2 for i in hole.occupants if i in together)
        if area > FILL_STOP * hole.diameter_in**2 + 1e-9:
            return False
    return True


def _group_way(job: Job, wiring: Wiring, group: list[Run]) -> str:
    """The longest run's way, then where the others leave it."""
    words = way_words(job, wiring, group[0])
    far = {run.id: run.from_end if run.to_end.type == "enclosure" else run.to_end for run in group}
    others = [run for run in group[1:] if far[run.id] != far[group[0].id]]
    if not others:
        return words
    holes = set(group[0].holes)
    leaving = []
    for run in others:
        own = [h for h in run.holes if h not in holes]
        outward = own[::-1] if run.to_end.type == "enclosure" else own
        by = f" by {'hole' if len(outward) == 1 else 'holes'} {', '.join(outward[:4])}" if outward else ""
        leaving.append(f"{run.id} leaves to {end_place(job, far[run.id])}{by}")
    return f"{words}; " + "; ".join(leaving)
