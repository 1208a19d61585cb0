"""A job kept open: stages already made for the same content are not made again."""

from __future__ import annotations

from bayrun.framing import Frame, lay_out
from bayrun.house import Job
from bayrun.jobs.plan import Plan, Progress, check
from bayrun.takeoff import takeoff

KEPT = 32
"""Plans kept for undo and comparison; the oldest goes first."""


class Session:
    """Memo of stages by content: a moved location keeps the frame, an undone edit keeps its plan."""

    def __init__(self) -> None:
        """An empty memo."""
        self._frames: dict[int, tuple[Job, Frame]] = {}
        self._plans: dict[int, Plan] = {}

    def plan(self, job: Job, progress: Progress | None = None) -> Plan:
        """The plan of a job, from the memo where the same job was planned before."""
        key = hash(job)
        known = self._plans.get(key)
        if known is not None and known.job == job:
            return known
        from bayrun.routing import route

        frame = self._frame(job)
        wiring = route(job, frame, progress)
        counted = takeoff(job, frame, wiring)
        made = Plan(job, frame, wiring, counted, check(job, frame, wiring, counted))
        self._plans[key] = made
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
        key = hash(building)
        known = self._frames.get(key)
        if known is not None and _same_building(known[0], job):
            return known[1]
        frame = lay_out(job)
        self._frames[key] = (job, frame)
        while len(self._frames) > KEPT:
            del self._frames[next(iter(self._frames))]
        return frame


def _same_building(a: Job, b: Job) -> bool:
    names = (
        "levels",
        "walls",
        "joints",
        "openings",
        "frames",
        "floor_openings",
        "beams",
        "posts",
        "barriers",
        "obstacles",
    )
    return all(getattr(a, n) == getattr(b, n) for n in names) and (
        a.practice.obstacle_margin_in == b.practice.obstacle_margin_in
    )
