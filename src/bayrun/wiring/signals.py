"""Power and signal of every run as it lies: class and watts, volts lost, level of coax, budget of fiber.

Each run is reckoned by what its name and its ends say; what nobody said is taken the careful way and told.
Limits of use: those of each formula; a run outside them is told in words, never guessed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from bayrun.cables.coax import CoaxPath, LevelPlan, level_plan, path_loss_db
from bayrun.cables.direct_current import (
    Drop,
    SpeakerLine,
    Wire,
    drop_at_power,
    gauge_that_holds,
    load_kind,
    speaker_line,
)
from bayrun.cables.optical import FiberBudget, FiberLink, budget
from bayrun.cables.power_over_cable import Delivered, SwitchBudget, deliver, power_class, switch_budget
from bayrun.cables.ranges import RangeError, Verdict
from bayrun.cables.twisted_pair import Link, LinkReport, report
from bayrun.house import CableKind, Job, Location
from bayrun.house.edits.add_gear import COAX
from bayrun.tables.physics import physics_table
from bayrun.units import Figure
from bayrun.wiring.devices import (
    Device,
    awg_of,
    category_of,
    coax_of,
    device_at,
    four_pair,
    is_fiber,
    load_words,
)
from bayrun.wiring.records import Run, Wiring
from bayrun.wiring.warmth import run_celsius

SERVICE = "cable modem"
"""Coax levels are held against this window: the only one that was read."""
SPLITTERS = (("2", 2), ("3", 3), ("4", 4), ("8", 8))


@dataclass(frozen=True, slots=True)
class CoaxLevel:
    """Coax of one location.

    Args:
        low_db, high_db: Loss from the entry, at the service's low and high frequency.
        plan: Levels, where the job says those at the entry.
        entry_dbmv: (least, most) at the entry for which the location is content at both; the least over
            the most: no level is.
        splitter: Ways of the splitter on the way, or empty.
    """

    low_db: Figure
    high_db: Figure
    plan: LevelPlan | None
    entry_dbmv: tuple[float, float]
    splitter: str


@dataclass(frozen=True, slots=True)
class RunSignal:
    """One run: what its kind asks for is there, the rest is None.

    Args:
        length_ft: With slack; for a second loudspeaker the way from the amplifier.
        enough_awg: Thinnest usual gauge whose drop or loss would be held, for two-wire runs that feed.
        told: What could not be reckoned, and why.
    """

    run: str
    kind: CableKind
    location: str
    device: Device
    length_ft: float
    celsius: Figure
    link: LinkReport | None = None
    feed: Delivered | None = None
    drop: Drop | None = None
    speaker: SpeakerLine | None = None
    coax: CoaxLevel | None = None
    fiber: FiberBudget | None = None
    enough_awg: int | None = None
    told: str = ""

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """Every verdict that was given."""
        parts = (self.link, self.feed, self.drop, self.speaker, self.fiber)
        found = [part.verdict for part in parts if part is not None]
        if self.coax is not None and self.coax.plan is not None:
            found.append(self.coax.plan.verdict)
        return tuple(found)

    @property
    def verdict(self) -> Verdict | None:
        """The gravest verdict; None where nothing is asked; cannot tell where a part is missing."""
        found = self.verdicts
        if Verdict.FAILS in found:
            return Verdict.FAILS
        if Verdict.CANNOT_TELL in found or self.told:
            return Verdict.CANNOT_TELL
        return Verdict.HOLDS if found else None


def run_signals(job: Job, wiring: Wiring) -> tuple[RunSignal, ...]:
    """Every planned run, in the plan's order; runs of cables the firm lacks are left out."""
    kinds = {kind.letter: kind for kind in job.practice.cables}
    ends = {location.id: location for location in job.locations}
    coax = _coax_ways(job, wiring, kinds)
    before = _before(wiring)
    out: list[RunSignal] = []
    fed: set[str] = set()
    for run in wiring.runs:
        kind = kinds.get(run.kind)
        if kind is None:
            continue
        found = _signal(job, run, kind, _far(run, ends), coax, before)
        # One device takes its power over its first cable.
        if found.feed is not None and found.location in fed:
            found = _with(found, feed=None)
        if found.feed is not None:
            fed.add(found.location)
        out.append(found)
    return tuple(out)


def _far(run: Run, ends: dict[str, Location]) -> Location | None:
    """The location a run serves: the end it is pulled to, else the one it comes from."""
    for end in (run.to_end, run.from_end):
        if end.type == "location" and end.id in ends:
            return ends[end.id]
    return None


def _before(wiring: Wiring) -> dict[str, Run]:
    """For each run that starts at a location, the run that feeds that location from elsewhere."""
    feeds: dict[str, list[Run]] = {}
    for run in wiring.runs:
        if run.from_end.type != "location" and run.to_end.type == "location":
            feeds.setdefault(run.to_end.id, []).append(run)
    return {
        run.id: feeds[run.from_end.id][0]
        for run in wiring.runs
        if run.from_end.type == "location" and run.to_end.type == "location" and run.from_end.id in feeds
    }


def _signal(
    job: Job,
    run: Run,
    kind: CableKind,
    location: Location | None,
    coax: dict[str, tuple[CoaxPath, str]],
    before: dict[str, Run],
) -> RunSignal:
    device = Device("") if location is None else device_at(location)
    length_ft, celsius = run.length_in / 12, run_celsius(job, run)
    if run.id in before and load_words(kind) == "speaker":
        length_ft += before[run.id].length_in / 12
    parts = RunSignal(run.id, kind, "" if location is None else location.id, device, length_ft, celsius)
    try:
        if four_pair(kind):
            return _data(parts, run)
        if coax_of(kind):
            return _coax(job, parts, coax)
        if is_fiber(kind):
            return _with(parts, fiber=budget(FiberLink(length_ft), fiber_application(kind)))
        return _two_wire(parts)
    except RangeError as error:
        return _with(parts, told=str(error))


def _with(parts: RunSignal, **more: object) -> RunSignal:
    from dataclasses import replace

    return replace(parts, **more)  # type: ignore[arg-type]


def _data(parts: RunSignal, run: Run) -> RunSignal:
    data = physics_table("devices")["link"]
    warm = min(max(parts.celsius.value, 20.0), 60.0)
    told, link, feed = [], None, None
    try:
        link = report(
            Link(category_of(parts.kind), parts.length_ft, data["cords_ft"], data["connections"], warm)
        )
    except RangeError as error:
        told.append(str(error))
    if parts.device.cable_class:
        try:
            length_ft = parts.length_ft + data["cords_ft"]
            awg = awg_of(parts.kind) or 24
            known = power_class(parts.device.cable_class)
            feed = deliver(parts.device.cable_w, length_ft, awg, parts.celsius.value, known)
        except RangeError as error:
            told.append(str(error))
    return _with(parts, link=link, feed=feed, told="; ".join(dict.fromkeys(told)))


def _two_wire(parts: RunSignal) -> RunSignal:
    use, loads = load_words(parts.kind), physics_table("devices")["loads"]
    awg = awg_of(parts.kind)
    if not use:
        return parts
    if awg is None:
        return _with(parts, told=f"the name of {parts.kind.name} does not tell its gauge")
    if use == "speaker":
        ohm = parts.device.speaker_ohm or float(loads["speaker_ohm"])

        def speaker(gauge: int) -> SpeakerLine:
            return speaker_line(Wire(parts.length_ft, gauge, parts.celsius.value, True), ohm)

        return _with(parts, speaker=speaker(awg), enough_awg=_enough(lambda gauge: speaker(gauge).verdict))
    load = load_kind(use)
    own = {"bell": parts.device.bell_w, "alarm": parts.device.alarm_w, "shade": parts.device.shade_w}[use]
    watts = (own or float(loads[f"{use}_w"])) * load.start_factor

    def drop(gauge: int) -> Drop:
        wire = Wire(parts.length_ft, gauge, parts.celsius.value, use != "bell")
        return drop_at_power(wire, load.supply_v, watts, load.most_drop_percent)

    return _with(parts, drop=drop(awg), enough_awg=_enough(lambda gauge: drop(gauge).verdict))


def _enough(check: Callable[[int], Verdict]) -> int | None:
    return gauge_that_holds(check)


def fiber_application(kind: CableKind) -> str:
    """What is taken to run over a fiber, by its name: 10GBASE-SR over OM3 or OM4, else a carrier's GPON."""
    text = kind.name.upper()
    for grade in ("OM4", "OM3"):
        if grade in text:
            return f"10GBASE-SR {grade}"
    from bayrun.cables.optical import applications

    return next((name for name in applications() if "GPON" in name), "10GBASE-SR OM3")


def _coax_ways(job: Job, wiring: Wiring, kinds: dict[str, CableKind]) -> dict[str, tuple[CoaxPath, str]]:
    """For each coax run its way from the entry to its location, and the splitter on it."""
    runs = [run for run in wiring.runs if run.kind in kinds and coax_of(kinds[run.kind])]
    ends = {location.id: location for location in job.locations}
    entry = [
        run for run in runs if (q := _far(run, ends)) is not None and device_at(q).key == "service entry"
    ]
    others = [run for run in runs if run not in entry]
    splitters = _splitters(len(others))
    way_in = entry[0] if entry else None
    out = {}
    for run in runs:
        pieces = [run] if way_in is None or run in entry else [way_in, run]
        warm = sum(run_celsius(job, r).value * r.length_in for r in pieces) / sum(r.length_in for r in pieces)
        segments = tuple((coax_of(kinds[r.kind]), r.length_in / 12) for r in pieces)
        passed = () if run in entry else splitters
        connectors = 2 * len(pieces)
        path = CoaxPath(segments, passed, connectors, 0 if run in entry else 1, min(max(warm, -40.0), 70.0))
        out[run.id] = (path, " + ".join(passed))
    return out


def _splitters(outputs: int) -> tuple[str, ...]:
    """Splitters one behind the other that give so many outputs; none for one."""
    if outputs <= 1:
        return ()
    for name, ways in SPLITTERS:
        if outputs <= ways:
            return (name,)
    return ("8", *_splitters(-(-outputs // 8)))


def coax_gain_db(job: Job) -> float:
    """Gain of the amplifier or, below zero, loss of the pad in the enclosure, from the words of the gear."""
    total = 0.0
    for gear in job.gear:
        match = COAX.search(gear.what)
        if match and gear.in_enclosure:
            total += float(match[2]) * (1 if match[1] == "amplifier" else -1)
    return total


def _coax(job: Job, parts: RunSignal, ways: dict[str, tuple[CoaxPath, str]]) -> RunSignal:
    path, splitter = ways[parts.run]
    row = next(r for r in physics_table("coax")["service"] if r["key"] == SERVICE)
    low, high = path_loss_db(path, row["low_mhz"]), path_loss_db(path, row["high_mhz"])
    gain = coax_gain_db(job) if splitter or parts.device.key != "service entry" else 0.0
    spread = [loss.plus_minus or 0.0 for loss in (low, high)]
    least = max(
        row["least_dbmv"] + loss.value + more - gain for loss, more in zip((low, high), spread, strict=True)
    )
    most = min(
        row["most_dbmv"] + loss.value - more - gain for loss, more in zip((low, high), spread, strict=True)
    )
    facts, plan = job.facts, None
    if facts.coax_low_dbmv is not None:
        top = facts.coax_low_dbmv if facts.coax_high_dbmv is None else facts.coax_high_dbmv
        plan = level_plan(
            path, SERVICE, facts.coax_low_dbmv + min(gain, 0.0), top + min(gain, 0.0), max(gain, 0.0)
        )
    return _with(parts, coax=CoaxLevel(low, high, plan, (least, most), splitter))


@dataclass(frozen=True, slots=True)
class Supply:
    """Power over the cable of the whole house.

    Args:
        gear: Id of the gear that feeds; empty where none says it does.
        loads: (run, what it draws) of every powered run.
        budget: Held against the supply; None where nobody said what it gives.
    """

    gear: str
    loads: tuple[tuple[str, Delivered], ...]
    budget: SwitchBudget | None


def supply(job: Job, signals: tuple[RunSignal, ...]) -> Supply:
    """What the powered devices ask of the gear that feeds them, all of it together."""
    loads = tuple((s.run, s.feed) for s in signals if s.feed is not None)
    feeding = [gear for gear in job.gear if gear.supply_w]
    watts = sum(gear.supply_w or 0.0 for gear in feeding)
    held = switch_budget(tuple(load for _, load in loads), watts) if feeding and loads else None
    return Supply(feeding[0].id if feeding else "", loads, held)
