"""From a job to a whole plan: frame, wiring, counting, findings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from bayrun.findings import Finding, Severity
from bayrun.framing import Frame, lay_out
from bayrun.house import Job
from bayrun.takeoff import Takeoff, Totals, takeoff, totals
from bayrun.wiring import Wiring

Progress = Callable[[str, int, int], None]
"""Called with (what is done, done, of how many)."""


@dataclass(frozen=True, slots=True)
class Plan:
    """One job as planned.

    Args:
        findings: Every finding, worst first, those of the counting included.
    """

    job: Job
    frame: Frame
    wiring: Wiring
    counted: Takeoff
    findings: tuple[Finding, ...]

    @property
    def stops(self) -> tuple[Finding, ...]:
        """The findings that say stop."""
        return tuple(f for f in self.findings if f.severity is Severity.STOP)

    @property
    def totals(self) -> Totals:
        """The numbers of the cover."""
        return totals(self.job, self.wiring, self.counted, self.findings)


def check(job: Job, frame: Frame, wiring: Wiring, counted: Takeoff) -> tuple[Finding, ...]:
    """Every finding of a plan, each once, worst first."""
    from bayrun.house.check import check_job
    from bayrun.rules.catalogue import check_all

    found = (
        *check_job(job),
        *check_all(job, frame, wiring, plates=counted.plates, straps=counted.straps, seals=counted.seals),
    )
    found = (*found, *counted.findings)
    return tuple(sorted(dict.fromkeys(found), key=lambda f: f.order))


def plan(job: Job, progress: Progress | None = None) -> Plan:
    """Frame, route, count and check one job.

    Args:
        job: As ``files.read_job`` gives it.
        progress: Told of each step that takes time.
    Returns:
        The plan; a run that cannot be reached is a finding, never an error.
    """
    from bayrun.routing import route

    frame = lay_out(job)
    if progress is not None:
        progress("framed", len(frame.members), len(frame.members))
    wiring = route(job, frame, progress)
    counted = takeoff(job, frame, wiring)
    findings = check(job, frame, wiring, counted)
    if progress is not None:
        progress("checked", len(findings), len(findings))
    return Plan(job, frame, wiring, counted, findings)
