"""Bundles of powered four-pair cable: the amperes the printed table allows in that heat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bayrun.cables.bundle_heat import RATINGS_C
from bayrun.cables.ranges import Verdict
from bayrun.findings import Finding, Fix, Severity, Source
from bayrun.house import Job
from bayrun.rules.case import Case
from bayrun.rules.words import count_of
from bayrun.wiring.devices import four_pair
from bayrun.wiring.powered import PoweredBundle, powered_bundles
from bayrun.wiring.signals import run_signals

SLUG = "bundle-heat"
NEC = Source("NEC", "2017", "Table 725.144", "confirmed")


def check(case: Case) -> tuple[Finding, ...]:
    """One finding for the fullest bundle whose conductors may get too hot; the others are counted.

    A stop where the table binds (over 60 W a cable); cannot tell where it does not bind, or has no figure.
    Source: NEC 2017 Table 725.144, 840.160 (60 W), ambient factors of Table 310.15(B)(2)(a).
    """
    signals = case.signals
    bundles = powered_bundles(case.job, case.wiring, signals)
    bad = [b for b in bundles if b.verdict is not Verdict.HOLDS]
    if not bad:
        return ()
    worst = max(bad, key=lambda b: (b.verdict is Verdict.FAILS, b.load, b.cables))
    severity = Severity.STOP if worst.verdict is Verdict.FAILS else Severity.CANNOT_TELL
    reason = worst.told if worst.heat is None else worst.heat.reason
    fahrenheit = worst.celsius * 1.8 + 32
    rated = (
        f"cable rated {worst.rating_c} C" if worst.rated else "cable whose rating nobody said (60 C counts)"
    )
    says = (
        f"Hole {worst.hole.id} holds {count_of(worst.cables, 'data cable')}, {len(worst.powered)} of them "
        f"powered up to class {worst.heaviest.number}, at {fahrenheit:.0f} F, {rated}: {reason}."
    )
    if len(bad) > 1:
        says += f" {count_of(len(bad) - 1, 'more bundle')} like it."
    measured = None if worst.heat is None else worst.heat.needed_a.value
    allowed = None if worst.heat is None else worst.heat.allowed_a.value
    place = worst.hole.room or "the house"
    return (
        Finding(
            SLUG, severity, (worst.hole.id,), place, says, measured, allowed, "A", NEC, _fixes(case, bad),
        ),
    )  # fmt: skip


def _fixes(case: Case, bad: Sequence[PoweredBundle]) -> tuple[Fix, ...]:
    """A higher rating of the one cable kind in them, where that cures every bundle."""
    used = {case.runs[run].kind for b in bad for run in b.hole.occupants if run in case.runs}
    kinds = [k for k in case.job.practice.cables if k.letter in used and four_pair(k)]
    if len(kinds) != 1:
        return ()
    kind = kinds[0]
    for rating in RATINGS_C:
        if rating <= (kind.rating_c or RATINGS_C[0]):
            continue
        if _all_hold(_rated(case.job, kind.letter, rating), case):
            says = f"Buy {kind.name} rated {rating} C, by the print on its jacket."
            return (Fix("rate_cable", (kind.letter, float(rating)), says),)
    return ()


def _rated(job: Job, letter: str, rating: int) -> Job:
    cables = tuple(replace(k, rating_c=rating) if k.letter == letter else k for k in job.practice.cables)
    return replace(job, practice=replace(job.practice, cables=cables))


def _all_hold(job: Job, case: Case) -> bool:
    signals = run_signals(job, case.wiring)
    return all(b.verdict is Verdict.HOLDS for b in powered_bundles(job, case.wiring, signals))
