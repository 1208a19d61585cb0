"""A job kept open: stages already made for the same content are not made again."""

from __future__ import annotations

from bayrun.framing import Frame, lay_out
from bayrun.house import Job
from bayrun.jobs.plan import Plan, Progress, plan_in

Building = tuple[object, ...]
"""What the framing of a job depends on."""
KEPT = 32
"""Plans kept for undo and comparison; the oldest goes first."""


class Session:
    """Memo of stages by content: a moved location keeps the frame, an undone edit keeps its plan."""

    def __init__(self) -> None:
        """An empty memo."""
        self._frames: dict[Building, Frame] = {}
        self._plans: dict[Job, Plan] = {}

    def plan(self, job: Job, progress: Progress | None = None) -> Plan:
        """The plan of a job, from the memo where the same job was planned before."""
        known = self._plans.get(job)
        if known is not None:
            return known
        made = plan_in(job, self._frame(job), progress)
        self._plans[job] = made
        while len(self._plans) > KEPT:
            del self._plans[next(iter(self._plans))]
        return made

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
