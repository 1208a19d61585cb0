"""Runs in an engineered floor over a basement or crawl space: a board closes it."""

from __future__ import annotations

from bayrun.findings import Finding, Severity
from bayrun.geometry import at_most, below
from bayrun.house import FloorFrame
from bayrun.rules.case import Case
from bayrun.rules.lines import pieces_of
from bayrun.rules.words import count_of, found
from bayrun.wiring import Run

SLUG = "floor-membrane"
ENGINEERED = ("I-joist", "open-web", "truss")


def check(case: Case) -> tuple[Finding, ...]:
    """A note for each engineered floor over the lowest level, or over a crawl space, that runs go through.

    Source: IRC R302.13, from memory: told as something to ask, never as a pass.
    """
    clause = case.adopted.clause("floor-membrane")
    board_in = float(clause.value("board_in"))
    lowest = min(case.job.levels, key=lambda level: level.subfloor_z_in, default=None)
    findings = []
    for frame in case.job.frames:
        if frame.below_level is None or not any(word in frame.kind for word in ENGINEERED):
            continue
        over_crawl = frame.above_level is None
        over_basement = lowest is not None and frame.above_level == lowest.id and len(case.job.levels) > 1
        if not over_crawl and not (over_basement and _is_basement(case, lowest.id if lowest else "")):
            continue
        inside = [run.id for run in case.wiring.runs if _in_frame(run, frame)]
        if not inside:
            continue
        place = f"{frame.kind} over {'the crawl space' if over_crawl else 'the basement'}"
        says = (
            f"{count_of(len(inside), 'run')} go{'es' if len(inside) == 1 else ''} through this floor. The "
            f"code may ask {found(board_in)} gypsum under it: ask, and look at these runs before it is up; "
            "after it they cannot be reached."
        )
        findings.append(
            Finding(
                SLUG, Severity.NOTE, (frame.id,), place, says, float(len(inside)), None, "runs", clause.source
            )
        )
    return tuple(findings)


def _is_basement(case: Case, level_id: str) -> bool:
    """True for a level called B, or whose floor lies under the grade."""
    level = case.job.level(level_id)
    deep = level.grade_z_in is not None and below(level.subfloor_z_in, level.grade_z_in)
    return level_id.upper().startswith("B") or deep


def _in_frame(run: Run, frame: FloorFrame) -> bool:
    return any(
        frame.rect.holds((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        and at_most(frame.z_bottom_in, (a[2] + b[2]) / 2)
        and at_most((a[2] + b[2]) / 2, frame.z_top_in)
        for a, b in pieces_of(run)
    )
