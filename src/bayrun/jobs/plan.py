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
"""Called with (what is being done, how many are done, of how many); (…, 1, 1) where it is not counted."""


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
    from bayrun.rules.overlaps import each_once

    own = check_all(job, frame, wiring, plates=counted.plates, straps=counted.straps, seals=counted.seals)
    found = (*each_once(check_job(job), own), *counted.findings)
    return tuple(sorted(dict.fromkeys(found), key=lambda f: f.order))


def plan(
    job: Job, progress: Progress | None = None, base: Wiring | None = None, certify: bool = False
) -> Plan:
    """Frame, route, count and check one job.

    Args:
        job: As ``files.read_job`` gives it.
        progress: Told of each step as it begins.
        base: The plan last issued: names chalked on wood are carried from it.
        certify: Also find what no plan on the same passage graph can undercut.
    Returns:
        The plan; a run that cannot be reached is a finding, never an error.
    """
    if progress is not None:
        progress("framing the house", 1, 1)
    return plan_in(job, lay_out(job), progress, base, certify)


def plan_in(
    job: Job,
    frame: Frame,
    progress: Progress | None = None,
    base: Wiring | None = None,
    certify: bool = False,
) -> Plan:
    """Route, count and check a job in framing that is already laid out.

    Args:
        frame: ``lay_out(job)``.
        base: The plan last issued, or None.
        certify: Also find what no plan on the same passage graph can undercut.
    """
    from bayrun.routing import route

    if progress is not None:
        progress("finding a way for every run", 1, 1)
    wiring = route(job, frame, progress, base=base, certify=certify)
    if progress is not None:
        progress("counting and checking", 1, 1)
    counted = takeoff(job, frame, wiring)
    return Plan(job, frame, wiring, counted, check(job, frame, wiring, counted))
