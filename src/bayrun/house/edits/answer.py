"""Write down what a trade answered; an answer that changes the building changes it in the job."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, keep, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the answer; ``doubled`` holds for one stud, ``non-bearing`` for one inside wall.

    Any other answer is kept in words and changes no verdict: its fact is set in the job file.

    Raises:
        Refused: Nobody signed it, or it contradicts what the job knows.
    """
    about, value = text_of(fix, 0), text_of(fix, 1)
    if not signed.by.strip():
        whom = fix.request_to or "trade"
        raise Refused(f"an answer about {about} counts only with the name of who gave it (the {whom})")
    made = job
    if value == "non-bearing":
        made = _non_bearing(job, about)
    elif value == "doubled":
        _check_stud(job, about)
    kept = keep(made, "answer", about, value, signed)
    open_now = tuple(c for c in kept.choices if not (c.kind == "request" and c.about == f"{about}/{value}"))
    return replace(kept, choices=open_now)


def _non_bearing(job: Job, about: str) -> Job:
    wall = next((w for w in job.walls if w.id == about), None)
    if wall is None:
        raise Refused(f"wall {about} is not in the job")
    if wall.exterior:
        raise Refused(f"wall {about} is an exterior wall: it counts with the bearing ones in any case")
    answered = replace(wall, bearing=False)
    return replace(job, walls=tuple(answered if w.id == about else w for w in job.walls))


def _check_stud(job: Job, about: str) -> None:
    host, _, piece = about.partition("/")
    wall = next((w for w in job.walls if w.id == host), None)
    if wall is None or not piece:
        raise Refused(f"{about} is no stud of a wall in the job: name it as the finding does")
    if wall.steel:
        raise Refused(f"{about} is a steel stud: its maker answers for holes, doubling it changes nothing")


VERB = Verb(
    "answer", ("stud or wall", "doubled, non-bearing, or words"), True, "Write down a trade's answer.", run
)
