"""A larger piece of gear: more ports, or a stronger supply."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job

MOST = {"ports": 1000.0, "supply_w": 5000.0}


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one piece of gear that takes more cables or gives more watts.

    Raises:
        Refused: No such gear, or a figure that makes no sense.
    """
    name, what, value = text_of(fix, 0), text_of(fix, 1), number_of(fix, 2)
    gear = next((g for g in job.gear if g.id == name), None)
    if gear is None:
        raise Refused(f"gear {name} is not in the job")
    if what not in MOST:
        raise Refused(f"expected ports or supply_w of {name}, got {what!r}")
    if not 0.0 < value <= MOST[what]:
        raise Refused(f"expected {what} of {name} above 0 and at most {MOST[what]:g}, got {value:g}")
    made = replace(gear, ports=int(value)) if what == "ports" else replace(gear, supply_w=value)
    return replace(job, gear=tuple(made if g.id == name else g for g in job.gear))


VERB = Verb("set_gear", ("gear", "ports or supply_w", "how many or how much"), True, "Take larger gear.", run)
