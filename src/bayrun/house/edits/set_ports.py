"""How many cables of one kind a location gets."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.ports_of import with_ports
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with so many cables of one kind at a location.

    Raises:
        Refused: No such location or cable, or a count that makes no sense.
    """
    count = number_of(fix, 2)
    if int(count) != count:
        raise Refused(f"expected a whole number of cables, got {count:g}")
    return with_ports(job, text_of(fix, 0), text_of(fix, 1), int(count))


VERB = Verb("set_ports", ("location", "cable", "how many"), True, "How many cables of a kind it gets.", run)
