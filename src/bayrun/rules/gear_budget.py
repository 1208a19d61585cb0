"""Ports and watts of the gear: enough positions for the runs, enough ports for devices, enough power."""

from __future__ import annotations

import math

from bayrun.cables.power_over_cable import switch_budget
from bayrun.cables.ranges import RangeError, Verdict
from bayrun.findings import Finding, Fix, Severity, Source
from bayrun.rules.case import Case
from bayrun.rules.words import count_of
from bayrun.wiring.devices import four_pair
from bayrun.wiring.gear_ports import gear_ports, place_ports
from bayrun.wiring.signals import Supply, supply

PORTS, SWITCH = "port-budget", "switch-budget"
SIZES = (8, 12, 16, 24, 32, 48, 64, 96)
"""Usual sizes of fields and switches [ports]. Common practice, no source."""
SUPPLIES_W = (30.0, 65.0, 95.0, 120.0, 150.0, 190.0, 250.0, 370.0, 500.0, 740.0, 1000.0, 1500.0)
"""Usual supplies of switches over all ports [W]. Common practice, no source."""
PRACTICE = Source("common practice", confirmed="practice")
IEEE = Source("IEEE 802.3", "", "clauses 33 and 145", "confirmed")


def check_ports(case: Case) -> tuple[Finding, ...]:
    """Gear on which more runs end than it takes, and devices without the data cable they want.

    Source: plain counting; what a device wants is common practice.
    """
    job, findings = case.job, []
    for held in gear_ports(job):
        if held.ports is None or held.free is None or held.free >= 0:
            continue
        count = len(held.runs)
        size = next((s for s in SIZES if s >= count), None)
        fixes: tuple[Fix, ...] = ()
        if size is not None:
            says = f"Take a {held.gear.id} of {size} ports."
            fixes = (Fix("set_gear", (held.gear.id, "ports", float(size)), says),)
        findings.append(
            Finding(
                PORTS, Severity.FIX_SOON, (held.gear.id,), held.gear.room or "the enclosure",
                f"{count_of(count, 'run')} end on {held.gear.what} ({held.gear.id}); it takes {held.ports}: "
                f"{count_of(-held.free, 'run')} would hang loose.",
                float(count), float(held.ports), "ports", PRACTICE, fixes,
            )
        )  # fmt: skip
    letter = next((kind.letter for kind in job.practice.cables if four_pair(kind)), None)
    for place in place_ports(job):
        if not place.short or letter is None:
            continue
        q = place.location
        fixes = ()
        if q.mount not in ("contact", "coil", "conduit") and job.chosen_enclosure is not None:
            says = f"Give {q.id} {count_of(place.device.needs_data, 'data cable')}."
            fixes = (Fix("set_ports", (q.id, letter, float(place.data + place.short)), says),)
        findings.append(
            Finding(
                PORTS, Severity.FIX_SOON, (q.id,), f"{q.id} in {q.room}",
                f"{q.id} in {q.room} is for a {place.device.key} and gets {place.gets}: it wants "
                f"{count_of(place.device.needs_data, 'data cable')} and has {place.data}.",
                float(place.data), float(place.device.needs_data), "data cables", PRACTICE, fixes,
            )
        )  # fmt: skip
    return tuple(findings)


def check_supply(case: Case) -> tuple[Finding, ...]:
    """Watts of all devices fed over four-pair cable against the gear that feeds them.

    Source: IEEE 802.3 for class powers; a fifth kept free is common practice.
    """
    found = supply(case.job, case.signals)
    if not found.loads:
        return ()
    about = (found.gear,) if found.gear else ("power-over-cable",)
    if found.budget is None:
        least_w = _least_w(found)
        says = (
            f"Cannot tell: {count_of(len(found.loads), 'device')} take power over data cable and nobody "
            f"said what feeds them; it must give at least {least_w:.0f} W, start-up and a free fifth counted."
        )
        ports = next((s for s in SIZES if s >= _data_runs(case)), SIZES[-1])
        return (
            Finding(
                SWITCH, Severity.CANNOT_TELL, about, "the enclosure", says, None, least_w, "W", IEEE,
                _switches(found, ports),
            ),
        )  # fmt: skip
    if found.budget.verdict is Verdict.HOLDS:
        return ()
    severity = Severity.FIX_SOON if found.budget.verdict is Verdict.FAILS else Severity.NOTE
    says = f"The supply of {found.gear} is short: {found.budget.reason}."
    fixes = tuple(
        Fix("set_gear", (found.gear, "supply_w", watts), f"Take a {found.gear} that gives {watts:g} W.")
        for watts in SUPPLIES_W
        if _holds(found, watts)
    )[:1]
    # Where several pieces feed, only their sum is known: no single one is told to grow.
    feeding = sum(1 for gear in case.job.gear if gear.supply_w)
    return (
        Finding(
            SWITCH, severity, about, "the enclosure", says, found.budget.running_w.value,
            found.budget.supply_w, "W", IEEE, fixes if feeding == 1 else (),
        ),
    )  # fmt: skip


def _least_w(found: Supply) -> float:
    running = math.fsum(load.supply_w.value for _, load in found.loads)
    reserved = math.fsum(load.power_class.supply_w for _, load in found.loads)
    return max(running / 0.8, reserved)


def _data_runs(case: Case) -> int:
    letters = {kind.letter for kind in case.job.practice.cables if four_pair(kind)}
    return sum(1 for run in case.job.runs if run.kind in letters and not run.spare)


def _holds(found: Supply, watts: float) -> bool:
    try:
        return switch_budget(tuple(load for _, load in found.loads), watts).verdict is Verdict.HOLDS
    except RangeError:
        return False


def _switches(found: Supply, ports: int) -> tuple[Fix, ...]:
    watts = next((w for w in SUPPLIES_W if _holds(found, w)), None)
    if watts is None:
        return ()
    says = f"Put a switch of {ports} ports that gives {watts:g} W in the enclosure."
    return (Fix("add_switch", (float(ports), watts), says),)
