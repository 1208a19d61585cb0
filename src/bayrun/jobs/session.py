"""A job kept open: stages already made for the same content are not made again."""

from __future__ import annotations

from bayrun.framing import Frame, lay_out
from bayrun.house import Job
from bayrun.jobs.plan import Issued, Plan, Progress, plan_in
from bayrun.routing.memo import Memo
from bayrun.tables.prices import PriceList
from bayrun.wiring import Frozen

Building = tuple[object, ...]
"""What the framing of a job depends on."""
Key = tuple[Job, Frozen | None, tuple[int, ...]]
"""A plan's own content, and what it stands on by identity: the same object, not another like it."""
KEPT = 32
"""Plans kept for undo and comparison; the oldest goes first."""


class Session:
    """Memo of stages by content: a moved location keeps the frame, an undone edit keeps its plan.

    What comes out is byte for byte what the same call gives without a memo.
    """

    def __init__(self) -> None:
        """An empty memo."""
        self._frames: dict[Building, Frame] = {}
        self._plans: dict[Key, Plan] = {}
        self._held: dict[int, object] = {}
        self._memo = Memo()

    def plan(
        self,
        job: Job,
        progress: Progress | None = None,
        base: Issued | None = None,
        frozen: Frozen | None = None,
        prices: PriceList | None = None,
    ) -> Plan:
        """The plan of a job, from the memo where the same job was planned before on the same base.

        Args:
            base: The plan it stands on: only what must move moves. ``made.issued`` of an earlier plan.
            frozen: Work that is done and never moves.
            prices: The firm's price list; None takes the example.
        """
        stands_on = (None, None) if base is None else (base.wiring, base.counted)
        key = (job, frozen, tuple(self._name(thing) for thing in (*stands_on, prices)))
        known = self._plans.get(key)
        if known is not None:
            return known
        made = plan_in(job, self._frame(job), progress, base, prices=prices, frozen=frozen, memo=self._memo)
        self._plans[key] = made
        while len(self._plans) > KEPT:
            del self._plans[next(iter(self._plans))]
        return made

    def _name(self, thing: object) -> int:
        """A number for a large object, its own as long as it is held here."""
        if thing is None:
            return 0
        self._held[id(thing)] = thing
        while len(self._held) > 4 * KEPT:
            gone = next(iter(self._held))
            del self._held[gone]
            self._plans = {key: plan for key, plan in self._plans.items() if gone not in key[2]}
        return id(thing)

    def _frame(self, job: Job) -> Frame:
        building = (
            job.levels,
            job.walls,
            job.joints,
            job.openings,
            job.frames,
            job.floor_openings,
            job.beams,
            job.posts,
            job.barriers,
            job.obstacles,
            job.practice.obstacle_margin_in,
        )
        frame = self._frames.get(building)
        if frame is None:
            frame = lay_out(job)
            self._frames[building] = frame
        while len(self._frames) > KEPT:
            del self._frames[next(iter(self._frames))]
        return frame
