"""Signal and power of runs: too long for their heat, too thin for their load, wrong for their place."""

from __future__ import annotations

from collections.abc import Callable

from bayrun.cables.ranges import Verdict
from bayrun.findings import Finding, Fix, Severity, Source
from bayrun.geometry import below
from bayrun.house import CableKind
from bayrun.rules.cable_runs import fiber_instead, is_four_pair
from bayrun.rules.case import Case
from bayrun.rules.run_blocked import end_words
from bayrun.wiring import Run
from bayrun.wiring.devices import awg_of, coax_of, conductors_of, is_fiber, load_words
from bayrun.wiring.signals import RunSignal

HOT, FEED, DROP, PLACE = "run-too-long-hot", "power-at-device", "wire-too-thin", "cable-wrong-for-place"
TIA = Source("TIA-568-C.2", "", "clause 6.4.7", "confirmed")
IEEE = Source("IEEE 802.3", "", "clauses 33 and 145", "confirmed")
OHM = Source("common practice", "", "drop by Ohm's law; the limit is practice", "practice")
PRACTICE = Source("common practice", confirmed="practice")
CHANNEL_IN = 90.0 / 0.0254
Suits = Callable[[CableKind], bool]


def check_hot(case: Case) -> tuple[Finding, ...]:
    """Four-pair runs within 90 m that are too long for the heat they lie in. Source: TIA-568-C.2 6.4.7."""
    findings = []
    for signal in case.signals:
        if signal.link is None or below(CHANNEL_IN, signal.length_ft * 12):
            continue
        longest_ft = signal.link.longest_m.value / 0.3048
        if signal.length_ft <= longest_ft:
            continue
        run = case.runs[signal.run]
        fahrenheit = signal.celsius.value * 1.8 + 32
        says = (
            f"Run {run.id} is {signal.length_ft:.0f} ft and lies at about {fahrenheit:.0f} F: in that heat a "
            f"link is at most {longest_ft:.0f} ft. Keep it out of the attic, or shorten it."
        )
        findings.append(
            Finding(
                HOT, Severity.FIX_SOON, (run.id,), end_words(case.job, run.from_end), says,
                signal.length_ft, longest_ft, "ft", TIA, fiber_instead(case, run.id),
            )
        )  # fmt: skip
    return tuple(findings)


def check_feed(case: Case) -> tuple[Finding, ...]:
    """Devices that do not get their watts or volts over their cable. Source: IEEE 802.3."""
    findings = []
    for signal in case.signals:
        if signal.feed is None or signal.feed.verdict is Verdict.HOLDS:
            continue
        feed, run = signal.feed, case.runs[signal.run]
        fails = feed.verdict is Verdict.FAILS
        says = (
            f"The {signal.device.key or 'device'} at {signal.location} on run {run.id} "
            f"{'does not get' if fails else 'may not get'} its power: {'; '.join(feed.reasons)}."
        )
        findings.append(
            Finding(
                FEED, Severity.FIX_SOON if fails else Severity.CANNOT_TELL, (run.id,),
                end_words(case.job, run.to_end), says, feed.device_w.value, feed.available_w.value, "W", IEEE,
            )
        )  # fmt: skip
    return tuple(findings)


def check_drop(case: Case) -> tuple[Finding, ...]:
    """Two-wire runs whose wire is too thin for what they feed. Source: Ohm's law; limits common practice."""
    findings = []
    for signal in case.signals:
        part = signal.drop or signal.speaker
        if part is None or part.verdict is Verdict.HOLDS:
            continue
        run = case.runs[signal.run]
        share = signal.drop.drop_percent if signal.drop is not None else None
        if share is None and signal.speaker is not None:
            share = signal.speaker.wire_share
        what = "of the loudspeaker" if signal.speaker is not None else "of its supply"
        value = 0.0 if share is None else share.value
        most = 5.0 if signal.speaker is not None else _most(signal)
        advice = (
            f"{signal.enough_awg} AWG is enough"
            if signal.enough_awg is not None
            else "no usual gauge holds it"
        )
        says = (
            f"Run {run.id} ({signal.kind.name}, {signal.length_ft:.0f} ft) loses {value:.1f} % {what}; "
            f"{most:g} % is the habit: {advice}. The load's own sheet decides."
        )
        fails = part.verdict is Verdict.FAILS
        findings.append(
            Finding(
                DROP, Severity.FIX_SOON if fails else Severity.NOTE, (run.id,),
                end_words(case.job, run.to_end), says, value, most, "%", OHM, _thicker(case, signal),
            )
        )  # fmt: skip
    return tuple(findings)


def _most(signal: RunSignal) -> float:
    from bayrun.cables.direct_current import load_kind

    return load_kind(load_words(signal.kind)).most_drop_percent


def _thicker(case: Case, signal: RunSignal) -> tuple[Fix, ...]:
    """The firm's thinnest cable of the same use that is thick enough, with as many conductors."""
    if signal.enough_awg is None:
        return ()
    use, count = load_words(signal.kind), conductors_of(signal.kind) or 2
    fits = [
        kind
        for kind in case.job.practice.cables
        if load_words(kind) == use
        and (awg_of(kind) or 99) <= signal.enough_awg
        and (conductors_of(kind) or 2) >= count
        and kind.letter != signal.kind.letter
    ]
    if fits:
        kind = max(fits, key=lambda k: (awg_of(k) or 0, -k.diameter_in, k.letter))
        return (Fix("set_cable", (signal.run, kind.letter), f"Pull {kind.name} for {signal.run} instead."),)
    mine = [s for s in case.signals if s.kind.letter == signal.kind.letter]
    enough = [s.enough_awg for s in mine]
    if any(awg is None for awg in enough) or awg_of(signal.kind) is None:
        return ()
    awg = min(awg for awg in enough if awg is not None)
    says = f"Buy {signal.kind.name} in {awg} AWG, and put in its diameter from the data sheet."
    return (Fix("set_gauge", (signal.kind.letter, float(awg)), says),)


def check_place(case: Case) -> tuple[Finding, ...]:
    """Cable in the ground or under the slab that is not for wet places, and cable hotter than its rating.

    Source: common practice, from memory: conduit in the ground fills with water.
    """
    wet = {q.id: q for q in case.job.locations if q.mount == "conduit"}
    findings = []
    signals = {s.run: s for s in case.signals}
    for run in case.wiring.runs:
        kind = next((k for k in case.job.practice.cables if k.letter == run.kind), None)
        if kind is None:
            continue
        here = next((e.id for e in (run.from_end, run.to_end) if e.id in wet), None)
        if here is not None and not _for_wet(kind) and "ground" in wet[here].note.lower():
            findings.append(_wrong(case, run, kind, f"goes into conduit in the ground at {here}", _for_wet))
            continue
        signal = signals.get(run.id)
        if signal is not None and kind.rating_c is not None and signal.celsius.value > kind.rating_c:
            fahrenheit = signal.celsius.value * 1.8 + 32
            why = f"lies at about {fahrenheit:.0f} F, over its rating of {kind.rating_c} C"
            findings.append(_wrong(case, run, kind, why, _hot_kinds(signal.celsius.value)))
    return tuple(findings)


def _for_wet(kind: CableKind) -> bool:
    text = f"{kind.name} {kind.listing}".lower()
    return any(word in text for word in ("outdoor", "wet", "burial", "gel")) or is_fiber(kind)


def _wrong(case: Case, run: Run, kind: CableKind, why: str, suits: Suits) -> Finding:
    says = f"Run {run.id} is {kind.name}, which {why}."
    same = is_four_pair(kind)
    better = [k for k in case.job.practice.cables if suits(k) and is_four_pair(k) == same and _like(k, kind)]
    fixes = tuple(
        Fix("set_cable", (run.id, k.letter), f"Pull {k.name} for {run.id} instead.") for k in better[:1]
    )
    place = end_words(case.job, run.to_end)
    return Finding(
        PLACE, Severity.FIX_SOON, (run.id,), place, says, source=PRACTICE, fixes=fixes,
    )  # fmt: skip


def _like(kind: CableKind, other: CableKind) -> bool:
    """True where one cable can do the other's work: same use, as many conductors, no thinner."""
    return (
        load_words(kind) == load_words(other)
        and coax_of(kind) == coax_of(other)
        and (conductors_of(kind) or 0) >= (conductors_of(other) or 0)
        and (awg_of(kind) or 0) <= (awg_of(other) or 99)
    )


def _hot_kinds(celsius: float) -> Suits:
    return lambda kind: kind.rating_c is not None and kind.rating_c >= celsius
