"""The passage graph of one house: cells, places, endpoints, and why some ways are barred."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.framing import Frame
from bayrun.house import (
    Job,
    Location,
)
from bayrun.routing.memo import Memo
from bayrun.routing.naming import BOX, box_terminal, is_box, terminal
from bayrun.routing.plate_ways import SUBFLOOR_IN, PlateWays
from bayrun.routing.records import Cell, Endpoint, Place
from bayrun.routing.spaces import (
    adjoining_ways,
    barrier_ways,
)
from bayrun.routing.studs import heights_for, sideways

__all__ = [
    "BOX",
    "SUBFLOOR_IN",
    "Passages",
    "box_terminal",
    "is_box",
    "passages",
    "passages_everywhere",
    "terminal",
]


@dataclass(frozen=True, slots=True)
class Passages:
    """Everything the solver needs, and what it could not offer.

    Args:
        barred: Per cell, in words, what bars a way that one would look for.
        blocked_plates: (plate, along, what lies over or under, what works instead).
    """

    cells: tuple[Cell, ...]
    places: tuple[Place, ...]
    endpoints: tuple[Endpoint, ...]
    barred: tuple[tuple[str, str], ...]
    blocked_plates: tuple[tuple[str, float, str, str], ...]
    missing: tuple[tuple[str, str], ...]
    """(location or gear id, why it has no place in the frame)."""


class _Builder(PlateWays):
    """Builds the graph of one house."""

    def build(self) -> Passages:
        self._spaces()
        self._wall_cells()
        self._ends()
        self._plate_ways()
        for wall_id, cells in self.bays.items():
            wall = self.walls[wall_id]
            wished = [at for c in cells for at in self._wished_heights(c)]
            level = self.job.level(wall.level)
            near_cells = self._near_served(cells)
            heights = heights_for(level.plate_top_in, wished)
            key = ("sideways", wall_id, heights, tuple((c.id, c.rect) for c in near_cells))
            self.places += self.memo.of(
                key,
                lambda w=wall, near=near_cells, at=heights: tuple(  # type: ignore[misc]
                    sideways(self.allowance, w, list(self.frame.of(w.id)), near, at)
                ),
            )
        cells_now = list(self.cells.values())
        self.places += barrier_ways(self.allowance, self.frame, cells_now)
        self.places += adjoining_ways(self.job, cells_now)
        return Passages(
            tuple(self.cells.values()),
            tuple(self.places),
            tuple(self.endpoints),
            tuple(self.barred),
            tuple(dict.fromkeys(self.blocked)),
            tuple(self.missing),
        )


def passages(job: Job, frame: Frame, memo: Memo | None = None) -> Passages:
    """Build the passage graph of one house.

    Bays near what is served are enough as a rule; where an end is cut off, every bay of its wall is taken.

    Args:
        memo: Parts made before for the same building; the graph is the same with or without.
    """
    memo = memo or Memo()
    memo.enter(job)
    first = _Builder(job, frame, memo=memo).build()
    walls = _cut_off(job, first)
    return _Builder(job, frame, wide=walls, memo=memo).build() if walls else first


def _cut_off(job: Job, found: Passages) -> frozenset[str]:
    """Walls of ends that hang together with no cell their run must reach."""
    group: dict[str, str] = {c.id: c.id for c in found.cells}

    def root(cell: str) -> str:
        while group[cell] != cell:
            group[cell] = group[group[cell]]
            cell = group[cell]
        return cell

    for place in found.places:
        group[root(place.a)] = root(place.b)
    cells: dict[str, list[str]] = {}
    for end in found.endpoints:
        cells.setdefault(end.id.split("/")[0], []).append(end.cell)
    hosts = {c.id: c.host for c in found.cells}
    walls: set[str] = set()
    for run in job.runs:
        ends = [cells.get(terminal(job, end), []) for end in (run.from_end, run.to_end)]
        if all(ends) and not {root(c) for c in ends[0]} & {root(c) for c in ends[1]}:
            walls.update(hosts[c] for side in ends for c in side)
    return frozenset(walls & {w.id for w in job.walls})


def passages_everywhere(
    job: Job, frame: Frame, spots: Sequence[Location] = ()
) -> tuple[Passages, tuple[Endpoint, ...]]:
    """The graph with ways out of every bay, and where each asked spot would stand in it.

    Args:
        spots: Places somebody asks about; they are not woven into the graph. One that has no place in
            the framing is told in ``missing``.
    """
    builder = _Builder(job, frame, everywhere=True, spots=spots)
    return builder.build(), tuple(builder.spots)
