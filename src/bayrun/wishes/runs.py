"""The runs that proposed locations ask for, named after them."""

from __future__ import annotations

from collections.abc import Iterable

from bayrun.house import End, Job, Location, WishedRun

AIR_HANDLERS = ("air handler", "furnace", "heat pump")


def air_handler(job: Job) -> str:
    """Id of the device a thermostat's cable goes to, or empty."""
    for gear in job.gear:
        if not gear.in_enclosure and any(word in gear.what.lower() for word in AIR_HANDLERS):
            return gear.id
    return ""


def runs_for(
    locations: Iterable[Location], enclosure_id: str, thermostat_device: str = ""
) -> tuple[WishedRun, ...]:
    """One run for each cable of each port, from the enclosure, named after its location: ``L01-D1``.

    Args:
        thermostat_device: Where thermostat cables go instead of the enclosure; without it they get no run,
            since a thermostat on the enclosure would be wrong.
    """
    made: list[WishedRun] = []
    for location in locations:
        count: dict[str, int] = {}
        for port in location.ports:
            if port.kind == "T" and not thermostat_device:
                continue
            source = End("device", thermostat_device) if port.kind == "T" else End("enclosure", enclosure_id)
            for _ in range(port.count):
                count[port.kind] = count.get(port.kind, 0) + 1
                name = f"{location.id}-{port.kind}{count[port.kind]}"
                made.append(WishedRun(name, port.kind, source, End("location", location.id)))
    return tuple(made)
