"""Runs that could not be planned: where they stopped and what bars the way."""

from __future__ import annotations

from bayrun.findings import Finding, Severity, Source
from bayrun.house import End, Job, place_of_location
from bayrun.rules.case import Case

SLUG = "run-blocked"


def end_words(job: Job, end: End) -> str:
    """An end of a run in words: the room and wall of a location, the enclosure's room, a device."""
    if end.type == "location":
        try:
            return f"{end.id} in {place_of_location(job, job.location(end.id))}"
        except KeyError:
            return end.id
    if end.type == "enclosure":
        box = next((e for e in job.enclosures if e.id == end.id), job.chosen_enclosure)
        return "the enclosure" if box is None else f"the enclosure in {box.room}"
    gear = next((g for g in job.gear if g.id == end.id), None)
    return end.id if gear is None else f"{gear.what}{f' in {gear.room}' if gear.room else ''}"


def check(case: Case) -> tuple[Finding, ...]:
    """Each wished run the plan could not bring to its end, and any the plan lost without a word."""
    wished = {run.id: run for run in case.job.runs}
    source = Source("common practice", confirmed="practice")
    findings = []
    told = set()
    for unreached in case.wiring.unreached:
        told.add(unreached.run)
        run = wished.get(unreached.run)
        ends = "" if run is None else f" from {end_words(case.job, run.from_end)}"
        goal = "its end" if run is None else end_words(case.job, run.to_end)
        says = (
            f"Run {unreached.run}{ends} does not reach {goal}: it comes as far as {unreached.last_place}; "
            f"{unreached.barred_by} bars the way."
        )
        place = unreached.last_place if run is None else end_words(case.job, run.from_end)
        findings.append(Finding(SLUG, Severity.STOP, (unreached.run,), place, says, source=source))
    for name, run in wished.items():
        if name not in told and name not in case.runs:
            says = f"Run {name} is wished and neither planned nor told as blocked."
            place = end_words(case.job, run.from_end)
            findings.append(Finding(SLUG, Severity.STOP, (name,), place, says, source=source))
    return tuple(findings)
