"""Ports of the gear that runs end on, and what each location needs and gets."""

from __future__ import annotations

import re
from dataclasses import dataclass

from bayrun.house import Gear, Job, Location
from bayrun.wiring.devices import Device, device_at, four_pair


@dataclass(frozen=True, slots=True)
class GearPorts:
    """One piece of gear: what it takes, and what ends on it.

    Args:
        ports: As the job or its words say; None where neither does.
        runs: Ids of the runs that end on it and count: of its own kind where it is a data field.
    """

    gear: Gear
    ports: int | None
    runs: tuple[str, ...]

    @property
    def free(self) -> int | None:
        """Ports left; below zero where it is short; None where nobody said."""
        return None if self.ports is None else self.ports - len(self.runs)


@dataclass(frozen=True, slots=True)
class PlacePorts:
    """One location: its device, the cables it gets, and where they go.

    Args:
        gets: Counts by letter, as wished: ``2D 1X``.
        data: Four-pair runs that serve it.
        goes_to: Where its runs end, in words; several joined.
        to_enclosure: True where all its runs go to the enclosure.
        short: Four-pair cables it lacks for its device.
    """

    location: Location
    device: Device
    gets: str
    data: int
    goes_to: str
    to_enclosure: bool
    short: int


def ports_said(gear: Gear) -> int | None:
    """Ports of a gear: its own, else the number its words give (``24 ports``)."""
    if gear.ports is not None:
        return gear.ports
    match = re.search(r"\b(\d{1,3})[ -]?ports?\b", gear.what.lower())
    return int(match[1]) if match else None


def gear_ports(job: Job) -> tuple[GearPorts, ...]:
    """Every piece of gear that a run ends on, in the job's order.

    A field of data ports counts four-pair runs alone: coax beside it ends on its splitter.
    """
    data = {kind.letter for kind in job.practice.cables if four_pair(kind)}
    out = []
    for gear in job.gear:
        mine = [r for r in job.runs if r.gear == gear.id or gear.id in (r.from_end.id, r.to_end.id)]
        if "data" in gear.what.lower() or "switch" in gear.what.lower():
            mine = [r for r in mine if r.kind in data]
        if mine:
            out.append(GearPorts(gear, ports_said(gear), tuple(r.id for r in mine)))
    return tuple(out)


def place_ports(job: Job) -> tuple[PlacePorts, ...]:
    """Every location with what it needs and gets, in the job's order."""
    data = {kind.letter for kind in job.practice.cables if four_pair(kind)}
    gear = {g.id: g for g in job.gear}
    boxes = {box.id for box in job.enclosures}
    out = []
    for location in job.locations:
        device = device_at(location)
        mine = [r for r in job.runs if location.id in (r.from_end.id, r.to_end.id)]
        ends: list[str] = []
        for run in mine:
            other = run.from_end if run.to_end.id == location.id else run.to_end
            if other.type == "enclosure":
                words = f"{other.id}{f', {run.gear}' if run.gear else ''}"
            else:
                words = gear[other.id].what if other.id in gear else other.id
            if words not in ends:
                ends.append(words)
        four = sum(1 for r in mine if r.kind in data)
        inside = bool(mine) and all(boxes & {r.from_end.id, r.to_end.id} for r in mine)
        gets = " ".join(f"{port.count}{port.kind}" for port in location.ports) or "none"
        short = max(0, device.needs_data - four)
        out.append(PlacePorts(location, device, gets, four, "; ".join(ends), inside, short))
    return tuple(out)
