"""Which cable box feeds which run, and how good that deal is known to be."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bayrun.findings import Finding, Severity, Source
from bayrun.geometry import at_most
from bayrun.house import CableKind, Job
from bayrun.takeoff.cutting import USEFUL_FT, Cut, Deal, Stock, deal
from bayrun.takeoff.lengths import cut_length_in, kind_name
from bayrun.takeoff.records import BoxCheck
from bayrun.takeoff.words import end_place, natural
from bayrun.units import feet_and_inches
from bayrun.wiring import Box, Pull, Run, Wiring


def assign_boxes(
    job: Job, wiring: Wiring, pulls: tuple[Pull, ...], useful_ft: float = USEFUL_FT
) -> tuple[tuple[Box, ...], tuple[Pull, ...], tuple[Finding, ...]]:
    """Give every run a box, and every pull its boxes: ``deal_boxes`` without its checks."""
    dealt = deal_boxes(job, wiring, pulls, useful_ft)
    return dealt.boxes, dealt.pulls, dealt.findings


@dataclass(frozen=True, slots=True)
class Dealt:
    """Boxes with their cuts, pulls with their boxes, and what is known of the deal of each kind."""

    boxes: tuple[Box, ...]
    pulls: tuple[Pull, ...]
    checks: tuple[BoxCheck, ...]
    findings: tuple[Finding, ...]


def deal_boxes(job: Job, wiring: Wiring, pulls: tuple[Pull, ...], useful_ft: float = USEFUL_FT) -> Dealt:
    """Give every run a box, and every pull its boxes.

    Fewest new boxes, then least scrap (rests under ``useful_ft``), then fewest boxes opened. The last
    ``reserve_ft`` of a box are never planned. Cables of one kind in one pull come from different
    boxes, because they come off at the same time. How good the deal is known to be stands in its check.

    Args:
        useful_ft: A rest shorter than this is scrap [ft].
    Returns:
        Boxes, pulls with their boxes, one check for each kind, a finding for each run longer than a full box.
    """
    pull_of = {run: pull.id for pull in pulls for run in pull.runs}
    order = {run: (pull.order, i) for pull in pulls for i, run in enumerate(pull.runs)}
    boxes: list[Box] = []
    checks: list[BoxCheck] = []
    findings: list[Finding] = []
    for letter in sorted({run.kind for run in wiring.runs}, key=natural):
        runs = [run for run in wiring.runs if run.kind == letter]
        kind = next((k for k in job.practice.cables if k.letter == letter), CableKind(letter, letter, 0.0))
        fitting = []
        for run in sorted(runs, key=lambda one: natural(one.id)):
            told = _too_long(job, kind, run)
            if told is not None:
                findings.append(told)
            if told is None or _on_hand_takes(job, kind, cut_length_in(job, run)):
                fitting.append(run)
        cuts = [
            Cut(run.id, round(cut_length_in(job, run) / 12), pull_of.get(run.id, run.id)) for run in fitting
        ]
        on_hand = tuple(feet for have, feet in job.practice.partial_boxes if have == letter)
        dealt = deal(cuts, Stock(on_hand, kind.box_ft, kind.reserve_ft, useful_ft))
        checks.append(_check(job, kind, dealt))
        in_order = sorted(dealt.boxes, key=lambda box: min(order.get(cut.run, (0, 0)) for cut in box.cuts))
        for number, opened in enumerate(in_order, start=1):
            boxes.append(
                Box(
                    id=f"BX-{letter}-{number}",
                    kind=letter,
                    start_ft=opened.start_ft,
                    cuts=tuple(
                        (cut.run, 12.0 * cut.feet)
                        for cut in sorted(opened.cuts, key=lambda cut: order.get(cut.run, (0, 0)))
                    ),
                    left_ft=opened.left_ft,
                    partial=opened.partial,
                )
            )
    box_of = {run: box.id for box in boxes for run, _ in box.cuts}
    tied = tuple(
        replace(pull, boxes=tuple((run, box_of[run]) for run in pull.runs if run in box_of)) for pull in pulls
    )
    return Dealt(tuple(boxes), tied, tuple(checks), tuple(findings))


def _check(job: Job, kind: CableKind, dealt: Deal) -> BoxCheck:
    name = kind_name(job, kind.letter)
    new = f"{dealt.new} new {'box' if dealt.new == 1 else 'boxes'}"
    if dealt.proven:
        says = f"{name}: {new}; no deal needs fewer or leaves less scrap"
    elif dealt.least_new == dealt.new:
        says = f"{name}: {new}; no deal needs fewer"
    else:
        says = f"{name}: {new}; no deal needs fewer than {dealt.least_new}"
    if dealt.scrap_ft:
        says += f" ({dealt.scrap_ft:.0f} ft in rests too short to use)"
    return BoxCheck(
        kind.letter,
        name,
        dealt.new,
        dealt.opened,
        dealt.scrap_ft,
        dealt.least_new,
        dealt.proven,
        says,
        dealt.how,
    )


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
