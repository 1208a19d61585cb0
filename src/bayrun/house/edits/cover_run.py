"""Steel over a run that lies nearer to a face than nails and screws reach."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, keep, text_of
from bayrun.house.job import Job

STEEL = "steel over run"


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with steel of 1/16 in over one run in one wall, kept as a choice ``steel over run``.

    Raises:
        Refused: There is no such run or wall.
    """
    name, host, face = text_of(fix, 0), text_of(fix, 1), text_of(fix, 2)
    if all(wall.id != host for wall in job.walls):
        raise Refused(f"wall {host} is not in the job")
    return keep(job, STEEL, f"{name}@{host}", face, signed)


VERB = Verb("cover_run", ("run", "wall", "face"), True, "Steel of 1/16 in over a run, all the way.", run)
