"""From a job to a whole plan: frame, wiring, counting, findings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from bayrun.findings import Finding, Severity
from bayrun.framing import Frame, lay_out
from bayrun.house import Job
from bayrun.routing.memo import Memo
from bayrun.tables.prices import PriceList, generic_prices
from bayrun.takeoff import Takeoff, Totals, takeoff, totals
from bayrun.wiring import Frozen, Wiring

Progress = Callable[[str, int, int], None]
"""Called with (what is being done, how many are done, of how many); (…, 1, 1) where it is not counted."""


@dataclass(frozen=True, slots=True)
class Issued:
    """A plan that was handed out: what a new one stands on and is compared with.

    Args:
        counted: Its lists: pulls, boxes and supports keep their names; None where only the wiring is known.
        job, frame: As it was planned, for the comparison; None where they are not known.
    """

    wiring: Wiring
    counted: Takeoff | None = None
    job: Job | None = None
    frame: Frame | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """One job as planned.

    Args:
        findings: Every finding, worst first, those of the counting included.
        prices: The price list it was counted with; the example where the firm gave none.
    """

    job: Job
    frame: Frame
    wiring: Wiring
    counted: Takeoff
    findings: tuple[Finding, ...]
    prices: PriceList = field(default_factory=generic_prices)
    base: Issued | None = None
    """The plan it stands on, where one was given."""

    @property
    def issued(self) -> Issued:
        """This plan as the base of the next one."""
        return Issued(self.wiring, self.counted, self.job, self.frame)

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
    job: Job,
    progress: Progress | None = None,
    base: Wiring | Issued | None = None,
    certify: bool = False,
    prices: PriceList | None = None,
    *,
    frozen: Frozen | None = None,
) -> Plan:
    """Frame, route, count and check one job.

    Args:
        job: As ``files.read_job`` gives it.
        progress: Told of each step as it begins.
        base: The plan last issued: only what must move moves, and every name is carried from it.
        certify: Also find what no plan on the same passage graph can undercut.
        prices: The firm's price list; None takes the example.
        frozen: Work that is done and never moves.
    Returns:
        The plan; a run that cannot be reached is a finding, never an error.
    """
    if progress is not None:
        progress("framing the house", 1, 1)
    return plan_in(job, lay_out(job), progress, base, certify, prices, frozen=frozen)


def plan_in(
    job: Job,
    frame: Frame,
    progress: Progress | None = None,
    base: Wiring | Issued | None = None,
    certify: bool = False,
    prices: PriceList | None = None,
    *,
    frozen: Frozen | None = None,
    memo: Memo | None = None,
) -> Plan:
    """Route, count and check a job in framing that is already laid out.

    Args:
        frame: ``lay_out(job)``.
        base: The plan last issued, or None.
        certify: Also find what no plan on the same passage graph can undercut.
        prices: The firm's price list; None takes the example.
        frozen: Work that is done and never moves.
        memo: Parts of passage graphs made before for the same building.
    """
    from bayrun.routing import route

    if progress is not None:
        progress("finding a way for every run", 1, 1)
    issued = Issued(base) if isinstance(base, Wiring) else base
    before = None if issued is None else issued.wiring
    wiring = route(job, frame, progress, base=before, frozen=frozen, certify=certify, memo=memo)
    if progress is not None:
        progress("counting and checking", 1, 1)
    firm = generic_prices() if prices is None else prices
    counted = takeoff(job, frame, wiring, firm, None if issued is None else issued.counted)
    return Plan(job, frame, wiring, counted, check(job, frame, wiring, counted), firm, issued)
