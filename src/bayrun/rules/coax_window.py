"""Levels of coax at every location, low and high, against the window of its service."""

from __future__ import annotations

import math

from bayrun.cables.ranges import Verdict
from bayrun.findings import Finding, Fix, Severity, Source
from bayrun.rules.case import Case
from bayrun.rules.words import count_of
from bayrun.wiring.signals import RunSignal, coax_gain_db

SLUG = "coax-window"
DOCSIS = Source("DOCSIS", "3.0", "downstream, one channel, -15 to +15 dBmV", "confirmed")


def check(case: Case) -> tuple[Finding, ...]:
    """Locations whose level leaves the window, or may; one finding where nobody measured the entry.

    Source: DOCSIS window (read); cable, splitter and connector losses by tables/coax.toml.
    """
    told = [s for s in case.signals if s.coax is not None]
    told = [s for s in told if s.device.key != "service entry"]
    if not told:
        return ()
    window = _window(told)
    if case.job.facts.coax_low_dbmv is None:
        asks = (
            f"it must bring {math.ceil(window[0])} to {math.floor(window[1])} dBmV"
            if window[0] <= window[1]
            else "no one level suits all of them: an amplifier or fewer splitters"
        )
        says = (
            f"Cannot tell: nobody measured the level at the coax entry; for "
            f"{count_of(len(told), 'location')} {asks}."
        )
        return (Finding(SLUG, Severity.CANNOT_TELL, ("coax-entry",), "service entry", says, source=DOCSIS),)
    low, high = _entry(case)
    fixes = _fixes(case, window, low, high)
    findings = []
    for signal in told:
        assert signal.coax is not None
        plan = signal.coax.plan
        if plan is None or plan.verdict is Verdict.HOLDS:
            continue
        worst = min(plan.levels, key=lambda at: min(at.level_dbmv.value + 15.0, 15.0 - at.level_dbmv.value))
        level = worst.level_dbmv.value
        fails = plan.verdict is Verdict.FAILS
        limit = -15.0 if level < 0 else 15.0
        says = (
            f"Coax run {signal.run} brings {level:.0f} dBmV at {worst.mhz:.0f} MHz to {signal.location}"
            f" ({'outside' if fails else 'within doubt of'} -15 to +15 dBmV)."
        )
        findings.append(
            Finding(
                SLUG, Severity.FIX_SOON if fails else Severity.NOTE, (signal.run,), signal.location, says,
                level, limit, "dBmV", DOCSIS, fixes,
            )
        )  # fmt: skip
    return tuple(findings)


def _entry(case: Case) -> tuple[float, float]:
    facts = case.job.facts
    low = facts.coax_low_dbmv or 0.0
    return low, low if facts.coax_high_dbmv is None else facts.coax_high_dbmv


def _window(told: list[RunSignal]) -> tuple[float, float]:
    """Least and most level at the entry (both frequencies) for which every location holds beyond doubt."""
    pairs = [s.coax.entry_dbmv for s in told if s.coax is not None]
    return max(least for least, _ in pairs), min(most for _, most in pairs)


def _fixes(case: Case, window: tuple[float, float], low: float, high: float) -> tuple[Fix, ...]:
    """The smallest change of gain in whole dB that brings both ends into everybody's window."""
    now = coax_gain_db(case.job)
    for change in sorted(range(-40, 41), key=lambda dB: (abs(dB), dB)):
        gain = now + change
        inside = all(window[0] <= level + change <= window[1] for level in (low, high))
        if change and inside and -30 <= gain <= 40:
            if gain == 0:
                says = "Take the amplifier or pad off the coax."
            elif gain > 0:
                says = f"Put a coax amplifier of {gain:g} dB before the splitter."
            else:
                says = f"Put a pad of {-gain:g} dB before the splitter."
            return (Fix("set_coax_gain", (float(gain),), says),)
    return ()
