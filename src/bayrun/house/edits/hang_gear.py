"""One more piece of gear in the enclosure, named in words."""

from __future__ import annotations

import re
from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.boxes_of_gear import box_of
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.job import Job
from bayrun.house.wished import Gear


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with the gear in one enclosure; its size is the usual one of its words until somebody says it.

    Raises:
        Refused: No such enclosure, or words without a letter.
    """
    box, what = box_of(job, text_of(fix, 0)), text_of(fix, 1).strip()
    word = re.search(r"[A-Za-z]+", what)
    if word is None:
        raise Refused(f"expected words for the gear, got {what!r}")
    taken = {g.id for g in job.gear} | {e.id for e in job.enclosures} | {q.id for q in job.locations}
    name, number = word[0].upper()[:8], 1
    while name in taken:
        number += 1
        name = f"{word[0].upper()[:8]}{number}"
    chosen = job.chosen_enclosure
    home = "" if chosen is not None and chosen.id == box.id else box.id
    return replace(job, gear=(*job.gear, Gear(name, what, True, enclosure=home)))


VERB = Verb("hang_gear", ("enclosure", "what it is, in words"), True, "Hang one more piece of gear.", run)
