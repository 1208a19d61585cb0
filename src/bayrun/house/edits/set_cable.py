"""Another cable for a run, or another rating for a cable the firm buys."""

from __future__ import annotations

import re
from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job
from bayrun.house.wished import Location, Port


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one run of another cable kind; its id stays, the ports of its location follow.

    Raises:
        Refused: No such run, or a cable the firm does not have.
    """
    name, letter = text_of(fix, 0), text_of(fix, 1)
    wished = next((r for r in job.runs if r.id == name), None)
    if wished is None:
        raise Refused(f"run {name} is not in the job")
    if not any(kind.letter == letter for kind in job.practice.cables):
        known = ", ".join(kind.letter for kind in job.practice.cables)
        raise Refused(f"the firm has no cable {letter!r}: expected one of {known}")
    ends = {e.id for e in (wished.from_end, wished.to_end) if e.type == "location"}
    # The end it is pulled to holds its port; a second leg's start has none for it.
    at = wished.to_end.id if wished.to_end.id in ends else next(iter(sorted(ends)), "")
    locations = tuple(_swap(q, wished.kind, letter) if q.id == at else q for q in job.locations)
    runs = tuple(replace(r, kind=letter) if r.id == name else r for r in job.runs)
    return replace(job, runs=runs, locations=locations)


def _swap(location: Location, old: str, new: str) -> Location:
    counts = {port.kind: port.count for port in location.ports}
    if not counts.get(old):
        return location
    counts[old] -= 1
    counts[new] = counts.get(new, 0) + 1
    return replace(location, ports=tuple(Port(kind, n) for kind, n in counts.items() if n))


def rate(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job whose firm buys one of its cables with a higher temperature rating.

    Raises:
        Refused: A cable the firm does not have, or no rating such cable has.
    """
    letter, celsius = text_of(fix, 0), number_of(fix, 1)
    if celsius not in (60, 75, 90):
        raise Refused(f"expected a rating of 60, 75 or 90 C, got {celsius:g}")
    if not any(kind.letter == letter for kind in job.practice.cables):
        raise Refused(f"the firm has no cable {letter!r}")
    cables = tuple(
        replace(kind, rating_c=int(celsius)) if kind.letter == letter else kind
        for kind in job.practice.cables
    )
    return replace(job, practice=replace(job.practice, cables=cables))


def gauge(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job whose firm buys one of its two-wire cables in a thicker gauge.

    Its name tells the new gauge; its outside diameter grows with the conductor (ASTM B258) until the data
    sheet's own is put in.

    Raises:
        Refused: A cable the firm does not have, whose name tells no gauge, or a gauge that is not thicker.
    """
    letter, awg = text_of(fix, 0), number_of(fix, 1)
    kind = next((k for k in job.practice.cables if k.letter == letter), None)
    if kind is None:
        raise Refused(f"the firm has no cable {letter!r}")
    match = re.search(r"\b(\d{2})(/\d{1,2})\b", kind.name)
    if match is None:
        raise Refused(f"the name of {kind.name} tells no gauge: set it in the job")
    if not 10 <= awg < int(match[1]):
        raise Refused(f"expected a gauge thicker than {match[1]} AWG down to 10, got {awg:g}")
    name = f"{kind.name[: match.start()]}{awg:.0f}{match[2]}{kind.name[match.end() :]}"
    grown = 92.0 ** ((int(match[1]) - awg) / 39.0)
    made = replace(kind, name=name, diameter_in=round(kind.diameter_in * grown, 3))
    cables = tuple(made if k.letter == letter else k for k in job.practice.cables)
    return replace(job, practice=replace(job.practice, cables=cables))


GAUGE_VERB = Verb("set_gauge", ("cable", "AWG"), True, "Buy a cable in a thicker gauge.", gauge)
VERB = Verb("set_cable", ("run", "cable"), True, "Take another cable for a run.", run)
RATE_VERB = Verb("rate_cable", ("cable", "rating in C"), True, "Buy a cable of a higher heat rating.", rate)
