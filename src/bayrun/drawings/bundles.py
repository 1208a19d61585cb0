"""Runs on a plan as bundles: stretches that the same runs share, each drawn once with its count."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from bayrun.drawings.building import level_of
from bayrun.drawings.scene import Point
from bayrun.house import Job
from bayrun.wiring import Run

_SNAP_IN = 0.25
"""Ways closer than this on a plan are one line of ink at any scale we print [in]."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A straight stretch of a plan and the runs that go along it."""

    a: Point
    b: Point
    runs: tuple[str, ...]

    @property
    def length(self) -> float:
        """Length on the plan [in]."""
        return float(((self.b[0] - self.a[0]) ** 2 + (self.b[1] - self.a[1]) ** 2) ** 0.5)


def count_words(runs: Iterable[Run]) -> str:
    """What a bundle holds: ``7D 2X``."""
    counts: dict[str, int] = {}
    for run in runs:
        counts[run.kind] = counts.get(run.kind, 0) + 1
    order = sorted(counts, key=lambda kind: (-counts[kind], kind))
    return " ".join(f"{counts[kind]}{kind}" for kind in order)


def stretches(job: Job, runs: Iterable[Run], level: str) -> tuple[Stretch, ...]:
    """All stretches of a level's plan, square ones cut where ways join or part, equal neighbors joined.

    Vertical ways have no length on a plan and are left out.
    """
    pieces = (
        ((p.x, p.y), (q.x, q.y), run.id)
        for run in runs
        for p, q in pairwise(run.path)
        if level_of(job, (p.z + q.z) / 2).id == level
    )
    return merged(pieces)


def merged(pieces: Iterable[tuple[Point, Point, str]]) -> tuple[Stretch, ...]:
    """Pieces of way, each (from, to, run), as stretches without doubled ink."""
    square: dict[tuple[str, int], list[tuple[int, int, str]]] = {}
    other: dict[tuple[int, int, int, int], set[str]] = {}
    for p, q, run in pieces:
        ax, ay, bx, by = (round(v / _SNAP_IN) for v in (*p, *q))
        if (ax, ay) == (bx, by):
            continue
        if ay == by:
            square.setdefault(("x", ay), []).append((min(ax, bx), max(ax, bx), run))
        elif ax == bx:
            square.setdefault(("y", ax), []).append((min(ay, by), max(ay, by), run))
        else:
            ends = sorted(((ax, ay), (bx, by)))
            other.setdefault((*ends[0], *ends[1]), set()).add(run)
    out: list[Stretch] = []
    for (axis, at), taken in sorted(square.items()):
        marks = sorted({m for lo, hi, _ in taken for m in (lo, hi)})
        last: tuple[int, int, tuple[str, ...]] | None = None
        for lo, hi in pairwise(marks):
            here = tuple(sorted({run for a, b, run in taken if a <= lo and hi <= b}))
            if last is not None and last[2] == here and last[1] == lo:
                last = (last[0], hi, here)
                continue
            if last is not None and last[2]:
                out.append(_stretch(axis, at, last))
            last = (lo, hi, here)
        if last is not None and last[2]:
            out.append(_stretch(axis, at, last))
    for (x0, y0, x1, y1), ids in sorted(other.items()):
        a, b = (x0 * _SNAP_IN, y0 * _SNAP_IN), (x1 * _SNAP_IN, y1 * _SNAP_IN)
        out.append(Stretch(a, b, tuple(sorted(ids))))
    return tuple(out)


def _stretch(axis: str, at: int, piece: tuple[int, int, tuple[str, ...]]) -> Stretch:
    lo, hi, fixed = piece[0] * _SNAP_IN, piece[1] * _SNAP_IN, at * _SNAP_IN
    if axis == "x":
        return Stretch((lo, fixed), (hi, fixed), piece[2])
    return Stretch((fixed, lo), (fixed, hi), piece[2])
