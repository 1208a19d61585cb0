"""Open jobs: the text from the store as a job, and its plan made in the background, once for each version.

A desk belongs to one kept job. Its plans are made by one thread, one after the other; whoever asks meanwhile
is told how far they are. A newer version waits for the older plan: that one is wanted to compare with.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field

from bayrun import store as kept
from bayrun.jobs import Job, Plan, Session
from bayrun.jobs.desk import read_text
from bayrun.jobs.sheet_view import Sheet, sheets_of

KEPT_DESKS = 8
"""Open at once; the one used longest ago is closed, its job stays in the store."""
KEPT_VERSIONS = 16
"""Plans of one job kept to compare with."""


@dataclass(frozen=True, slots=True)
class Work:
    """How far something is: what is being done, how many are done, of how many."""

    says: str
    done: int
    of: int


@dataclass(slots=True)
class Planning:
    """A plan in the making, or made."""

    future: Future[Plan]
    work: Work = Work("waiting for its turn", 0, 1)


@dataclass(slots=True)
class Desk:
    """One open job.

    Args:
        session: The memo of its stages.
        jobs: Jobs read already, by version in the store.
        plans: Plans made or in the making, by the same.
    """

    job_id: str
    session: Session = field(default_factory=Session)
    lock: threading.Lock = field(default_factory=threading.Lock)
    jobs: dict[int, Job] = field(default_factory=dict)
    plans: dict[int, Planning] = field(default_factory=dict)
    sheets: dict[int, tuple[Sheet, ...]] = field(default_factory=dict)
    planner: ThreadPoolExecutor = field(
        default_factory=lambda: ThreadPoolExecutor(1, thread_name_prefix="planner")
    )

    def job(self, row: kept.JobRow, text: str) -> Job:
        """The job of a version, read from its text once.

        Raises:
            TextRefused: The text is no job this program can read.
        """
        with self.lock:
            known = self.jobs.get(row.version)
        return known if known is not None else self.remember(row.version, read_text(text, row.name))

    def remember(self, version: int, job: Job) -> Job:
        """Keep a job that is read already."""
        with self.lock:
            self.jobs[version] = job
            while len(self.jobs) > KEPT_VERSIONS:
                del self.jobs[next(iter(self.jobs))]
        return job

    def made(self, version: int) -> Plan | None:
        """The plan of a version where it is made already, else None."""
        with self.lock:
            known = self.plans.get(version)
        if known is None or not known.future.done() or known.future.exception() is not None:
            return None
        return known.future.result()

    def drawings(self, version: int, plan: Plan) -> tuple[Sheet, ...]:
        """The drawings of a version's plan, made once."""
        with self.lock:
            known = self.sheets.get(version)
        if known is None:
            known = sheets_of(plan)
            with self.lock:
                self.sheets = {version: known}
        return known

    def planning(self, row: kept.JobRow, text: str) -> Planning:
        """The plan of a version, begun where it was not yet."""
        with self.lock:
            known = self.plans.get(row.version)
            if known is None:
                known = Planning(Future())
                self.plans[row.version] = known
                while len(self.plans) > KEPT_VERSIONS:
                    del self.plans[next(iter(self.plans))]
                self.planner.submit(self._make, known, row, text)
            return known

    def _make(self, planning: Planning, row: kept.JobRow, text: str) -> None:
        def tell(says: str, done: int, of: int) -> None:
            planning.work = Work(says, done, of)

        try:
            planning.future.set_result(self.session.plan(self.job(row, text), tell))
        except BaseException as error:
            planning.future.set_exception(error)

    def close(self) -> None:
        """Let the planner end."""
        self.planner.shutdown(wait=False, cancel_futures=True)


class Desks:
    """All open jobs of a server; used from several threads."""

    def __init__(self) -> None:
        """No job is open yet."""
        self._lock = threading.Lock()
        self._open: dict[str, Desk] = {}

    def of(self, job_id: str) -> Desk:
        """The desk of a job; the one used longest ago gives way."""
        with self._lock:
            desk = self._open.pop(job_id, None) or Desk(job_id)
            self._open[job_id] = desk
            while len(self._open) > KEPT_DESKS:
                self._open.pop(next(iter(self._open))).close()
            return desk

    def close(self) -> None:
        """Let all go."""
        with self._lock:
            for desk in self._open.values():
                desk.close()
            self._open.clear()


class Stopped(Exception):
    """A person stopped the work."""


@dataclass(slots=True)
class Task:
    """Long work a person waits for: making a pack."""

    id: str
    what: str
    work: Work = Work("waiting for its turn", 0, 1)
    stop: threading.Event = field(default_factory=threading.Event)
    future: Future[dict[str, bytes]] = field(default_factory=Future)

    def tell(self, says: str, done: int, of: int) -> None:
        """Progress; raises ``Stopped`` where a person asked for it."""
        if self.stop.is_set():
            raise Stopped
        self.work = Work(says, done, of)


class Tasks:
    """Packs in the making and those last made."""

    def __init__(self, most: int = 6) -> None:
        """Keep the ``most`` last ones."""
        self._most = most
        self._lock = threading.Lock()
        self._known: dict[str, Task] = {}
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="packer")

    def begin(self, task_id: str, what: str, make: Callable[[Task], dict[str, bytes]]) -> Task:
        """Begin long work; the same id again joins the task that is there, unless that failed or stopped."""
        with self._lock:
            known = self._known.get(task_id)
            if known is not None and not (known.future.done() and known.future.exception() is not None):
                return known
            task = Task(task_id, what)
            self._known.pop(task_id, None)
            self._known[task_id] = task
            while len(self._known) > self._most:
                self._known.pop(next(iter(self._known))).stop.set()

        def run() -> None:
            try:
                task.tell("beginning", 0, 1)
                task.future.set_result(make(task))
            except BaseException as error:
                task.future.set_exception(error)

        self._pool.submit(run)
        return task

    def get(self, task_id: str) -> Task | None:
        """A task that is kept still."""
        with self._lock:
            return self._known.get(task_id)

    def close(self) -> None:
        """Stop what runs."""
        with self._lock:
            for task in self._known.values():
                task.stop.set()
        self._pool.shutdown(wait=False, cancel_futures=True)
