"""Label pairs: the same text at both ends, never renumbered, never mistaken for another."""

from __future__ import annotations

import hashlib
from collections import defaultdict

from bayrun.house import End, Job
from bayrun.takeoff.lengths import kind_name
from bayrun.takeoff.records import LabelPair
from bayrun.takeoff.words import end_place, far_end, natural
from bayrun.wiring import Run, Wiring

COPIES_EACH_END = 3
"""One 6 in from the end, one 24 in back, one at the plate or enclosure. Common practice, no source."""

PLAIN = "23456789ACDEFGHJKMNPRTUVWXY"
"""Letters and digits that cannot be taken for one another in handwriting: no 0 O, 1 I L S Z B."""

_LOOK_ALIKE = str.maketrans({"O": "0", "Q": "0", "I": "1", "L": "1", "S": "5", "Z": "2", "B": "8"})


def looks_like(text: str) -> str:
    """What a text looks like in a hurried hand: case, O/0, I/1/L, S/5, Z/2, B/8 are one."""
    return text.upper().translate(_LOOK_ALIKE)


def suffix(run_id: str) -> str:
    """Two plain characters from a run's own id, the same every time whatever other runs there are."""
    digest = hashlib.sha256(run_id.encode()).digest()
    return PLAIN[digest[0] % len(PLAIN)] + PLAIN[digest[1] % len(PLAIN)]


def label_pairs(job: Job, wiring: Wiring) -> tuple[LabelPair, ...]:
    """One pair for each planned run, in the order of run ids.

    The mark is the run id itself, which the job never reuses. Where two run ids look alike, every one but
    the first wished gets a suffix of plain characters made from its own id.
    """
    marks = _marks(job)
    ports = _ports(job)
    spare = {run.id for run in job.runs if run.spare}
    pairs = []
    for run in sorted(wiring.runs, key=lambda r: natural(r.id)):
        mark = marks.get(run.id, run.id)
        name = kind_name(job, run.kind)
        pairs.append(
            LabelPair(
                run=run.id,
                mark=mark,
                kind=run.kind,
                kind_name=name,
                room=_room(job, run),
                port=ports.get(run.id, 1),
                from_text=_text(job, mark, "to", run, run.to_end, ports.get(run.id, 1)),
                to_text=_text(job, mark, "from", run, run.from_end, ports.get(run.id, 1)),
                copies_each_end=COPIES_EACH_END,
                spare=run.id in spare,
            )
        )
    return tuple(pairs)


def _text(job: Job, mark: str, word: str, run: Run, other: End, port: int) -> str:
    """What a label says: the mark, then the other end by name, with its port where it is the served one."""
    at_port = f" port {port}" if other == far_end(run) and other.type == "location" else ""
    return f"{mark} {word} {end_place(job, other)}{at_port}"


def _room(job: Job, run: Run) -> str:
    end = far_end(run)
    if end.type == "location":
        return job.location(end.id).room
    return end_place(job, end)


def _marks(job: Job) -> dict[str, str]:
    """Marks of all wished runs, planned or not, so that a run that is blocked today keeps its mark."""
    marks: dict[str, str] = {}
    seen: set[str] = set()
    for run in job.runs:
        mark = run.id
        if looks_like(mark) in seen:
            mark = f"{run.id}-{suffix(run.id)}"
        number = 2
        while looks_like(mark) in seen:  # two digests may meet: rare, and mended the same way every time
            mark = f"{run.id}-{suffix(f'{run.id} {number}')}"
            number += 1
        seen.add(looks_like(mark))
        marks[run.id] = mark
    return marks


def _ports(job: Job) -> dict[str, int]:
    """Port numbers, counted at the location each run serves, over the ids of its runs."""
    at: dict[End, list[str]] = defaultdict(list)
    for run in job.runs:
        at[far_end(run)].append(run.id)
    return {run: i for ids in at.values() for i, run in enumerate(sorted(ids, key=natural), start=1)}
