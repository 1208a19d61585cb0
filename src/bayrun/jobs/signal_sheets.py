"""List sheets of power, signal, ports and radio: what every run carries and every location gets."""

from __future__ import annotations

from bayrun.cables.ranges import Verdict
from bayrun.drawings.lists import Column, ListRow, ListSheet
from bayrun.house import Job
from bayrun.jobs.plan import Plan
from bayrun.radio.coverage import Coverage, coverage
from bayrun.radio.senders import access_points, enclosure_sender
from bayrun.rules.words import count_of
from bayrun.units import Figure, feet_and_inches
from bayrun.wiring.gear_ports import gear_ports, place_ports
from bayrun.wiring.powered import PoweredBundle, powered_bundles
from bayrun.wiring.signals import RunSignal, run_signals, supply

CAUTION = "Computed from the plan: test every run after it is terminated. House power is the electrician's."
RADIO_CAUTION = "Computed, about 6 dB either way: measure after the board is up."
_WORDS = {Verdict.HOLDS: "holds", Verdict.FAILS: "FAILS", Verdict.CANNOT_TELL: "cannot tell", None: "-"}
_MOST_BUNDLES = 8


def signal_sheets(plan: Plan) -> tuple[ListSheet, ...]:
    """Power and signal of every run, ports of every location, radio of every room."""
    signals = run_signals(plan.job, plan.wiring)
    return (_power(plan, signals), _ports(plan.job), *_radio(plan.job))


def _spread(figure: Figure, digits: int = 1) -> str:
    more = f" ± {figure.plus_minus:.{digits}f}" if figure.plus_minus else ""
    return f"{figure.value:.{digits}f}{more}"


def _group(signal: RunSignal) -> str:
    if signal.link is not None or signal.feed is not None:
        return "Four-pair runs: length for the heat, power over the cable"
    if signal.coax is not None:
        return "Coax: loss from the entry at 55 and 1000 MHz"
    if signal.fiber is not None:
        return "Fiber"
    if signal.drop is not None or signal.speaker is not None:
        return "Two-wire runs that feed: drop and gauge"
    return "Runs that carry no load to reckon"


def _carries(signal: RunSignal) -> str:
    """What the run feeds or loses, in a few words."""
    if signal.feed is not None:
        feed = signal.feed
        return (
            f"class {feed.power_class.number}: {feed.device_w.value:.0f} W wanted, "
            f"{feed.available_w.value:.1f} W there, {feed.device_v.value:.1f} V"
        )
    if signal.drop is not None:
        drop = signal.drop
        return f"{_spread(drop.drop_percent)} % of the supply, {drop.load_v.value:.1f} V left"
    if signal.speaker is not None:
        line = signal.speaker
        return f"{line.level_db.value:.2f} dB, wire {line.wire_share.value:.1f} % of the loudspeaker"
    return ""


def _signal(signal: RunSignal) -> str:
    if signal.link is not None:
        longest_ft = signal.link.longest_m.value / 0.3048
        return f"{signal.length_ft:.0f} of {longest_ft:.0f} ft"
    if signal.coax is not None:
        coax = signal.coax
        through = f", {coax.splitter}-way" if coax.splitter else ""
        told = f"{_spread(coax.low_db)}, {_spread(coax.high_db)} dB{through}"
        if coax.plan is not None:
            low, high = (at.level_dbmv.value for at in coax.plan.levels)
            return f"{told}: {low:.0f} and {high:.0f} dBmV"
        least, most = coax.entry_dbmv
        return f"{told}: entry {least:.0f} to {most:.0f} dBmV"
    if signal.fiber is not None:
        return f"{signal.fiber.loss_db.value:.2f} dB, {signal.fiber.left_db.value:.1f} dB to spare"
    if signal.enough_awg is not None:
        return f"{signal.enough_awg} AWG is enough"
    return ""


def _why(signal: RunSignal) -> str:
    """What is behind a verdict that is not plain."""
    parts = [signal.told] if signal.told else []
    for part in (signal.link, signal.feed):
        if part is not None and part.verdict is not Verdict.HOLDS:
            parts += part.reasons
    if signal.fiber is not None and signal.fiber.verdict is not Verdict.HOLDS:
        parts.append(signal.fiber.reason)
    if (signal.drop is not None or signal.speaker is not None) and signal.verdict is not Verdict.HOLDS:
        parts.append(
            "no usual gauge holds it for certain: shorten it or split the load"
            if signal.enough_awg is None
            else f"take {signal.enough_awg} AWG, or check the load's own sheet"
        )
    return "; ".join(parts)


def _power(plan: Plan, signals: tuple[RunSignal, ...]) -> ListSheet:
    lengths = {row.run: row for row in plan.counted.lengths}
    order = dict.fromkeys(_group(s) for s in signals)
    ranks = {name: n for n, name in enumerate(sorted(order, key=_rank))}
    rows = []
    for signal in sorted(signals, key=lambda s: ranks[_group(s)]):
        row = lengths.get(signal.run)
        place = "" if row is None else row.to_place
        device = f"{signal.device.key}, " if signal.device.key else ""
        rows.append(
            ListRow(
                (
                    signal.run,
                    f"{device}{place}",
                    feet_and_inches(signal.length_ft * 12),
                    f"{signal.celsius.value * 1.8 + 32:.0f}",
                    _carries(signal),
                    _signal(signal),
                    _WORDS[signal.verdict],
                ),
                _why(signal),
                _group(signal),
            )
        )
    bundles = powered_bundles(plan.job, plan.wiring, signals)
    rows += [
        _bundle_row(b) for b in sorted(bundles, key=lambda b: (-b.load, -b.cables, b.hole.id))[:_MOST_BUNDLES]
    ]
    verdicts = [s.verdict for s in signals]
    fails, doubts = verdicts.count(Verdict.FAILS), verdicts.count(Verdict.CANNOT_TELL)
    heading = f"Power and signal of {count_of(len(signals), 'run')}: {fails} fail, {doubts} cannot be told"
    return ListSheet(
        "power and signal",
        heading,
        (
            Column("run", "id"),
            Column("serves", share=1.3),
            Column("length", "number"),
            Column("°F", "number"),
            Column("power", share=1.1),
            Column("signal, gauge", share=1.1),
            Column("verdict"),
        ),
        tuple(rows),
        note=_supply_words(plan.job, signals),
        caution=CAUTION,
        tick=False,
        field="measured",
        wide=True,
    )


def _rank(name: str) -> int:
    starts = ("Four-pair", "Coax", "Fiber", "Two-wire")
    return next((n for n, start in enumerate(starts) if name.startswith(start)), len(starts))


def _bundle_row(bundle: PoweredBundle) -> ListRow:
    rated = f"rated {bundle.rating_c} °C" + ("" if bundle.rated else ", nobody said more")
    amps = "" if bundle.heat is None else (
        f"{bundle.heat.needed_a.value:.2f} of {bundle.heat.allowed_a.value:.2f} A a conductor"
    )  # fmt: skip
    cells = (
        bundle.hole.id,
        f"{bundle.cables} four-pair cables, {len(bundle.powered)} powered, class {bundle.heaviest.number}",
        "",
        f"{bundle.celsius * 1.8 + 32:.0f}",
        amps,
        rated,
        _WORDS[bundle.verdict],
    )
    reason = bundle.told if bundle.heat is None else bundle.heat.reason
    detail = "" if bundle.verdict is Verdict.HOLDS else reason
    return ListRow(cells, detail, "Bundles that carry power, the fullest first")


def _supply_words(job: Job, signals: tuple[RunSignal, ...]) -> str:
    found = supply(job, signals)
    lying = (
        "Attic and house heat as the °F column says; drops at start-up; two cords of 10 ft on each data run."
    )
    if not found.loads:
        return f"No device is fed over four-pair cable. {lying}"
    running = sum(load.supply_w.value for _, load in found.loads)
    reserved = sum(load.power_class.supply_w for _, load in found.loads)
    asks = (
        f"{count_of(len(found.loads), 'device')} over four-pair cable: {running:.0f} W running, "
        f"{reserved:.0f} W may be reserved at start-up."
    )
    if found.budget is None:
        least = max(running / 0.8, reserved)
        return f"{asks} Nobody said what the switch gives: it takes {least:.0f} W at least. {lying}"
    return f"{asks} {found.gear}: {found.budget.verdict.value}, {found.budget.reason}. {lying}"


def _ports(job: Job) -> ListSheet:
    rows = []
    for place in place_ports(job):
        needs = f"{place.device.needs_data} data" if place.device.needs_data else ""
        verdict = f"{place.short} short" if place.short else "-" if not needs else "holds"
        cells = (
            place.location.id,
            place.location.room,
            place.device.key or place.location.note.split(",")[0].split(";")[0],
            needs,
            place.gets,
            place.goes_to or "nothing ends here",
            verdict,
        )
        where = f"Level {place.location.level}"
        apart = "not all of its runs go to the enclosure" if place.goes_to and not place.to_enclosure else ""
        rows.append(ListRow(cells, apart, where))
    for gear in gear_ports(job):
        ports = "nobody said" if gear.ports is None else f"{gear.ports}"
        free = (
            "cannot tell"
            if gear.free is None
            else f"{gear.free} free"
            if gear.free >= 0
            else f"{-gear.free} short"
        )
        cells = (
            gear.gear.id,
            gear.gear.room or "enclosure",
            gear.gear.what,
            ports,
            f"{len(gear.runs)}",
            "",
            free,
        )
        rows.append(ListRow(cells, "", "Gear: ports it has, runs that end on it"))
    boxes = sorted({e.id for r in job.runs for e in (r.from_end, r.to_end) if e.type == "enclosure"})
    away = [p for p in place_ports(job) if p.goes_to and not p.to_enclosure]
    heading = (
        f"Ports of {count_of(len(job.locations), 'location')}: {count_of(len(boxes), 'box', 'boxes')}, "
        f"{count_of(len(away), 'location')} not served from a box alone"
    )
    return ListSheet(
        "ports",
        heading,
        (
            Column("location", "id"),
            Column("room", share=0.8),
            Column("device", share=1.2),
            Column("needs"),
            Column("gets"),
            Column("goes to", share=1.0),
            Column("verdict"),
        ),
        tuple(rows),
        note="Devices as the job says, else as the note of the location reads (common practice, no source).",
        caution=CAUTION,
        wide=True,
    )


def _radio(job: Job) -> tuple[ListSheet, ...]:
    senders = access_points(job)
    boxed = enclosure_sender(job)
    if not senders and boxed is None:
        return ()
    found = coverage(job, senders or (boxed,))  # type: ignore[arg-type]
    rows = tuple(
        _room_row(found, level.id, room.name)
        for level in job.levels
        for room in job.rooms
        if room.level == level.id
    )
    dark = sum(s.verdict is Verdict.FAILS for s in found.rooms)
    held = sum(s.verdict is Verdict.HOLDS for s in found.rooms)
    none = "none is dark" if not dark else f"{dark} dark"
    told = f"{held} of {len(found.rooms)} hold for certain, {none}"
    return (
        ListSheet(
            "radio by room",
            f"Radio of {count_of(len(rows), 'room')} in {count_of(len(found.bands), 'band')}: {told}",
            (
                Column("room", share=1.0),
                *(Column(f"{band.name}: half, worst", share=0.7) for band in found.bands),
                Column("served by", share=0.5),
            ),
            tuple(row for row in rows if row is not None),
            note=_radio_note(found),
            caution=RADIO_CAUTION,
            tick=False,
            field="measured",
        ),
    )


def _radio_note(found: Coverage) -> str:
    spread = max(signal.half_dbm.plus_minus or 0.0 for signal in found.rooms)
    wanted = ", ".join(f"{band.wanted_dbm:g} in {band.name}" for band in found.bands)
    return f"dBm, each ± {spread:.0f} dB; wanted {wanted}. Half: what half of the room has at least."


def _room_row(found: Coverage, level: str, room: str) -> ListRow | None:
    try:
        signals = [found.of_room(level, room, band.name) for band in found.bands]
    except KeyError:
        return None
    marks = {Verdict.HOLDS: "holds", Verdict.CANNOT_TELL: "measure", Verdict.FAILS: "DARK"}
    cells = tuple(f"{s.half_dbm.value:.0f}, {s.worst_dbm.value:.0f}: {marks[s.verdict]}" for s in signals)
    return ListRow((room, *cells, signals[0].sender), "", f"Level {level}")
