"""Which cable box feeds which run: first fit decreasing, boxes on hand before new ones."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import permutations

from bayrun.findings import Finding, Severity, Source
from bayrun.geometry import at_most
from bayrun.house import CableKind, Job
from bayrun.takeoff.lengths import cut_length_in, kind_name
from bayrun.takeoff.words import end_place, natural
from bayrun.units import feet_and_inches
from bayrun.wiring import Box, Pull, Run, Wiring

_MOST_ORDERED = 4
"""Up to so many boxes on hand are tried in every order; more are tried from small and from large."""


@dataclass(slots=True)
class _Open:
    start_in: float
    reserve_in: float
    partial: bool
    left_in: float
    cuts: list[tuple[str, float]] = field(default_factory=list)
    pulls: set[str] = field(default_factory=set)

    def takes(self, cut_in: float, pull: str) -> bool:
        """True where the cut fits above the reserve and no other cable of the same pull comes from here."""
        return pull not in self.pulls and at_most(cut_in, self.left_in - self.reserve_in)

    def cut(self, run: str, cut_in: float, pull: str) -> None:
        """Take one cut off the box."""
        self.cuts.append((run, cut_in))
        self.pulls.add(pull)
        self.left_in -= cut_in


def assign_boxes(
    job: Job, wiring: Wiring, pulls: tuple[Pull, ...]
) -> tuple[tuple[Box, ...], tuple[Pull, ...], tuple[Finding, ...]]:
    """Give every run a box, and every pull its boxes.

    Runs are placed longest first into the first box that takes them: boxes on hand, in the order that
    opens the fewest new boxes and leaves the largest single rest, then new full boxes. The last
    ``reserve_ft`` of a box are never planned. Cables of one kind in one pull come from different
    boxes, because they come off at the same time.
    Limits of use: first fit decreasing is not always the fewest boxes (at most 11/9 of the fewest and 6/9
    more, by a published proof, where no pull ties boxes: Dósa 2007).

    Returns:
        (boxes, the pulls with their boxes, a finding for each run longer than a full box).
    """
    pull_of = {run: pull.id for pull in pulls for run in pull.runs}
    order = {run: (pull.order, i) for pull in pulls for i, run in enumerate(pull.runs)}
    boxes: list[Box] = []
    findings: list[Finding] = []
    for letter in sorted({run.kind for run in wiring.runs}, key=natural):
        runs = [run for run in wiring.runs if run.kind == letter]
        kind = next((k for k in job.practice.cables if k.letter == letter), CableKind(letter, letter, 0.0))
        fitting = []
        for run in runs:
            told = _too_long(job, kind, run)
            if told is not None:
                findings.append(told)
            if told is None or _on_hand_takes(job, kind, cut_length_in(job, run)):
                fitting.append(run)
        for number, opened in enumerate(_fill(job, kind, fitting, pull_of), start=1):
            cuts = tuple(sorted(opened.cuts, key=lambda cut: order.get(cut[0], (0, 0))))
            boxes.append(
                Box(
                    id=f"BX-{letter}-{number}",
                    kind=letter,
                    start_ft=opened.start_in / 12,
                    cuts=cuts,
                    left_ft=opened.left_in / 12,
                    partial=opened.partial,
                )
            )
    box_of = {run: box.id for box in boxes for run, _ in box.cuts}
    tied = tuple(
        replace(pull, boxes=tuple((run, box_of[run]) for run in pull.runs if run in box_of)) for pull in pulls
    )
    return tuple(boxes), tied, tuple(findings)


def _on_hand_takes(job: Job, kind: CableKind, cut_in: float) -> bool:
    return any(
        letter == kind.letter and at_most(cut_in, 12 * (feet - kind.reserve_ft))
        for letter, feet in job.practice.partial_boxes
    )


def _too_long(job: Job, kind: CableKind, run: Run) -> Finding | None:
    cut_in, most_in = cut_length_in(job, run), 12 * (kind.box_ft - kind.reserve_ft)
    if at_most(cut_in, most_in):
        return None
    return Finding(
        rule="run-longer-than-box",
        severity=Severity.FIX_SOON,
        about=(run.id,),
        place=f"{end_place(job, run.from_end)} to {end_place(job, run.to_end)}",
        says=(
            f"Run {run.id} needs {feet_and_inches(cut_in)} of {kind_name(job, run.kind)}; a full box gives "
            f"{feet_and_inches(most_in)} and a run cannot be spliced. "
            "Bring a longer spool or shorten the way."
        ),
        measured=cut_in,
        limit=most_in,
        source=Source("common practice", confirmed="practice"),
    )


def _fill(job: Job, kind: CableKind, runs: list[Run], pull_of: dict[str, str]) -> list[_Open]:
    """Boxes with their cuts, the best over the orders in which boxes on hand are opened."""
    on_hand = sorted(feet for letter, feet in job.practice.partial_boxes if letter == kind.letter)
    orders: list[tuple[float, ...]] = []
    if len(on_hand) <= _MOST_ORDERED:
        for count in range(len(on_hand) + 1):
            orders += sorted(set(permutations(on_hand, count)))
    else:
        orders = [tuple(on_hand), tuple(reversed(on_hand)), ()]
    tries = [_first_fit(job, kind, runs, pull_of, order) for order in orders]
    return min(tries, key=_worth)


def _worth(boxes: list[_Open]) -> tuple[int, int, float]:
    """Fewest new boxes, then fewest opened, then the largest single rest."""
    new = sum(1 for box in boxes if not box.partial)
    return new, len(boxes), -max((box.left_in for box in boxes), default=0.0)


def _first_fit(
    job: Job, kind: CableKind, runs: list[Run], pull_of: dict[str, str], on_hand: tuple[float, ...]
) -> list[_Open]:
    reserve_in = 12 * kind.reserve_ft
    boxes = [_Open(12 * feet, reserve_in, True, 12 * feet) for feet in on_hand]
    for run in sorted(runs, key=lambda r: (-cut_length_in(job, r), natural(r.id))):
        cut_in, pull = cut_length_in(job, run), pull_of.get(run.id, run.id)
        box = next((box for box in boxes if box.takes(cut_in, pull)), None)
        if box is None:
            if not at_most(cut_in, 12 * (kind.box_ft - kind.reserve_ft)):
                continue  # too long for any new box: told as a finding
            box = _Open(12 * kind.box_ft, reserve_in, False, 12 * kind.box_ft)
            boxes.append(box)
        box.cut(run.id, cut_in, pull)
    return [box for box in boxes if box.cuts]
