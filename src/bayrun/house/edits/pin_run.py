"""Pin a run to places it must pass."""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, keep, text_of
from bayrun.house.hole_choices import ChoiceError, spot_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the run's places kept as a choice ``pin run``, in order from the end it is pulled from.

    Raises:
        Refused: There is no such run, or a place is none.
    """
    name, places = text_of(fix, 0), text_of(fix, 1)
    if all(wished.id != name for wished in job.runs):
        raise Refused(f"run {name} is not in the job")
    try:
        spots = [spot_of(part) for part in places.split(";") if part.strip()]
    except ChoiceError as error:
        raise Refused(f"run {name}: {error}") from None
    return keep(job, "pin run", name, "; ".join(str(spot) for spot in spots), signed)


VERB = Verb("pin_run", ("run", "places in order"), True, "Pin a run to places it must pass.", run)
