"""Ports of a location and the runs that serve them: shared by the edits that change either."""

from __future__ import annotations

from dataclasses import replace

from bayrun.house.edits.records import Refused
from bayrun.house.job import Job
from bayrun.house.wished import End, Port, WishedRun

MOST_PORTS = 12
"""Of one kind at one location: more is a typing slip."""


def with_ports(job: Job, location_id: str, kind: str, count: int) -> Job:
    """The job with ``count`` cables of one kind to a location: runs are added at the end or taken from it.

    A new run starts where the location's other runs of that kind start, else at the enclosure. A run id once
    used for this location is not used again while the job knows it.

    Raises:
        Refused: No such location or cable, a count that makes no sense, or nowhere for the run to start.
    """
    location = next((q for q in job.locations if q.id == location_id), None)
    if location is None:
        raise Refused(f"location {location_id} is not in the job")
    if not any(c.letter == kind for c in job.practice.cables):
        known = ", ".join(c.letter for c in job.practice.cables)
        raise Refused(f"the firm has no cable {kind!r}: expected one of {known}")
    if not 0 <= count <= MOST_PORTS:
        raise Refused(f"expected 0 to {MOST_PORTS} cables {kind} at {location_id}, got {count}")
    mine = [r for r in job.runs if r.kind == kind and location_id in (r.from_end.id, r.to_end.id)]
    runs = job.runs
    if len(mine) > count:
        gone = {r.id for r in mine[count:]}
        runs = tuple(r for r in runs if r.id not in gone)
    elif len(mine) < count:
        box = job.chosen_enclosure
        source = mine[-1].from_end if mine else End("enclosure", box.id) if box is not None else None
        if source is None:
            raise Refused("place the enclosure first: a run needs somewhere to start")
        gear = mine[-1].gear if mine else _usual_gear(job, kind)
        taken = {r.id for r in job.runs}
        number = 1
        while len(mine) < count:
            while f"{location_id}-{kind}{number}" in taken:
                number += 1
            made = WishedRun(
                f"{location_id}-{kind}{number}", kind, source, End("location", location_id), gear
            )
            taken.add(made.id)
            mine.append(made)
            runs = (*runs, made)
    ports = [p for p in location.ports if p.kind != kind]
    at = next((i for i, p in enumerate(location.ports) if p.kind == kind), len(ports))
    if count:
        ports.insert(at, Port(kind, count))
    changed = replace(location, ports=tuple(ports))
    return replace(
        job, runs=runs, locations=tuple(changed if q.id == location_id else q for q in job.locations)
    )


def _usual_gear(job: Job, kind: str) -> str:
    """What most runs of this kind end on inside the enclosure, or nothing."""
    names = [r.gear for r in job.runs if r.kind == kind and r.gear]
    return max(sorted(set(names)), key=names.count) if names else ""
