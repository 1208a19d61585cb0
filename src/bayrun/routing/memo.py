"""Parts of a passage graph that were made already, by what they were made from.

A moved location changes few bays; the rest of the graph is taken from the last one of the same building and
practice. What comes out is the same as without: each part is kept under everything it depends on.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import TypeVar

from bayrun.house import Job

_T = TypeVar("_T")
MOST = 20_000
"""Parts kept; when there are more, all are dropped."""


class Memo:
    """Parts of graphs of one building; another building starts it anew."""

    def __init__(self) -> None:
        """An empty memo."""
        self._scope: tuple[object, ...] = ()
        self._known: dict[Hashable, object] = {}

    def enter(self, job: Job) -> None:
        """Use it for a job: parts of another building or practice are dropped."""
        scope = (
            job.levels,
            job.rooms,
            job.walls,
            job.joints,
            job.openings,
            job.open_edges,
            job.frames,
            job.floor_openings,
            job.beams,
            job.posts,
            job.stairs,
            job.roofs,
            job.barriers,
            job.obstacles,
            job.enclosures,
            job.enclosure,
            job.practice,
        )
        alike = len(scope) == len(self._scope) and all(
            a is b or a == b for a, b in zip(scope, self._scope, strict=True)
        )
        if not alike:
            self._known.clear()
        self._scope = scope

    def of(self, key: Hashable, make: Callable[[], _T]) -> _T:
        """The part under a key, made where it is not there."""
        if key in self._known:
            return self._known[key]  # type: ignore[return-value]
        if len(self._known) >= MOST:
            self._known.clear()
        made = make()
        self._known[key] = made
        return made
