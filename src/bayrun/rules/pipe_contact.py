"""Plastic sprinkler pipe: nothing of ours touches it, hangs from it, or runs along it."""

from __future__ import annotations

from collections.abc import Iterator

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import below
from bayrun.house import FloorFrame, Obstacle
from bayrun.rules.case import Case
from bayrun.rules.lines import Piece3, angle_deg, near_stretch, pieces_of
from bayrun.rules.words import floor_text, found

SLUG = "cpvc-contact"
CROSSING_DEG = 60.0
"""From here a run crosses the pipe; under it, it runs along. Common practice, no source [degrees]."""


ASKED = "whether this pipe can move, and which materials its listing lets touch it"
ASK_SAYS = f"Ask the sprinkler contractor {ASKED}; until the answer is in the job the run is led elsewhere."


def is_cpvc(obstacle: Obstacle) -> bool:
    """True for a pipe that is called CPVC."""
    return "cpvc" in obstacle.kind.lower()


def check(case: Case) -> tuple[Finding, ...]:
    """Runs nearer to a CPVC pipe than its owner wants, or under it, or along it.

    Source: the pipe's own listing, from memory: a stop that says verify.
    """
    clause = case.adopted.clause("cpvc-contact")
    radius_of = {kind.letter: kind.diameter_in / 2 for kind in case.job.practice.cables}
    findings = []
    for pipe in case.job.obstacles:
        if not is_cpvc(pipe) or not pipe.diameter_in:
            continue
        want_in = max(pipe.passes_over_in or 0.0, pipe.clearance_in)
        worst: dict[str, tuple[float, str]] = {}
        for frame, line in _lines(case, pipe):
            for run in case.wiring.runs:
                radius_in = pipe.diameter_in / 2 + radius_of.get(run.kind, 0.0)
                for piece in pieces_of(run):
                    near = near_stretch(piece, line, radius_in + want_in)
                    if near is None:
                        if not _under(piece, line, radius_in, frame):
                            continue
                        have_in, how = 0.0, "passes under"
                    else:
                        have_in = near[1] - radius_in
                        how = "crosses" if angle_deg(piece, line) >= CROSSING_DEG else "runs along"
                        how = "touches" if below(have_in, 0.0) else how
                    if run.id not in worst or below(have_in, worst[run.id][0]):
                        worst[run.id] = (have_in, how)
        for run_id, (have_in, how) in sorted(worst.items()):
            gap = "" if how in ("touches", "passes under") else f" with {found(have_in)} between them"
            says = (
                f"Run {run_id} {how} the {pipe.kind}{gap}. Cross it square and over it, "
                f"{floor_text(want_in)} clear, held by the joists; nothing touches it or hangs from it."
            )
            findings.append(
                Finding(
                    SLUG,
                    Severity.STOP,
                    (run_id, pipe.id),
                    f"{pipe.kind} {pipe.id}",
                    says,
                    have_in,
                    want_in,
                    source=clause.source,
                    fixes=(Fix("ask", (pipe.id, ASKED), ASK_SAYS, "sprinkler contractor"),),
                )
            )
    return tuple(findings)


def _lines(case: Case, pipe: Obstacle) -> Iterator[tuple[FloorFrame | None, Piece3]]:
    """The pipe's center line in each frame it stands in, or upright."""
    if pipe.center is None:
        return
    x, y = pipe.center
    if x is not None and y is not None:
        if pipe.z_in is not None:
            yield None, ((x, y, pipe.z_in[0]), (x, y, pipe.z_in[1]))
        return
    for name in pipe.frames:
        frame = case.frames.get(name)
        if frame is None or pipe.z_above_frame_bottom_in is None:
            continue
        z, area = frame.z_bottom_in + pipe.z_above_frame_bottom_in, frame.rect
        if y is not None:
            yield frame, ((area.u0, y, z), (area.u1, y, z))
        elif x is not None:
            yield frame, ((x, area.v0, z), (x, area.v1, z))


def _under(piece: Piece3, line: Piece3, radius_in: float, frame: FloorFrame | None) -> bool:
    """True where a piece in the pipe's own frame crosses below it: it would hang against it."""
    if frame is None:
        return False
    (a, b), ((x0, y0, z), (x1, y1, _)) = piece, line
    high_in = max(a[2], b[2])
    if not below(high_in, z - radius_in) or below(min(a[2], b[2]), frame.z_bottom_in):
        return False
    flat: Piece3 = ((a[0], a[1], 0.0), (b[0], b[1], 0.0))
    return near_stretch(flat, ((x0, y0, 0.0), (x1, y1, 0.0)), radius_in) is not None
