"""Names of pulls, boxes and supports carried from the plan last issued: they stand on paper and on boxes."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from bayrun.takeoff.records import Takeoff
from bayrun.wiring import Box, Pull, Support

_NUMBER = re.compile(r"^(.*?)(\d+)$")


def carried_ids(
    new: Sequence[str], old: Sequence[str], alike: Callable[[int, int], float], used: Sequence[str]
) -> tuple[str, ...]:
    """Ids for new things: those of the old things most like them, else numbers never used.

    Args:
        new: Ids as counted, whose words before the number say the kind (``PL``, ``BX-D-``).
        old: Ids of the plan last issued.
        alike: How much a new one (by place) is like an old one; 0 for not at all.
        used: Every id that must not be given again, the old ones among them.
    Returns:
        One id for each new thing, no two the same.
    """
    pairs = sorted(
        (-weight, n, o) for n in range(len(new)) for o in range(len(old)) if (weight := alike(n, o)) > 0
    )
    given: dict[int, str] = {}
    taken: set[int] = set()
    for _, n, o in pairs:
        if n not in given and o not in taken:
            given[n] = old[o]
            taken.add(o)
    highest: dict[str, int] = {}
    for name in (*old, *used):
        found = _NUMBER.match(name)
        if found:
            highest[found[1]] = max(highest.get(found[1], 0), int(found[2]))
    for n, name in enumerate(new):
        if n in given:
            continue
        found = _NUMBER.match(name)
        stem = found[1] if found else f"{name}-"
        highest[stem] = highest.get(stem, 0) + 1
        given[n] = f"{stem}{highest[stem]}"
    return tuple(given[n] for n in range(len(new)))


def carried_supports(supports: tuple[Support, ...], base: Takeoff | None) -> tuple[Support, ...]:
    """Supports of the same place and kind keep their names."""
    if base is None:
        return supports
    old = base.supports

    def alike(n: int, o: int) -> float:
        return float((supports[n].place, supports[n].kind) == (old[o].place, old[o].kind))

    ids = carried_ids([s.id for s in supports], [s.id for s in old], alike, base.retired)
    return tuple(replace(s, id=i) for s, i in zip(supports, ids, strict=True))


def carried_pulls(
    pulls: tuple[Pull, ...], boxes: tuple[Box, ...], base: Takeoff | None
) -> tuple[tuple[Pull, ...], tuple[Box, ...]]:
    """Pulls and boxes with the most runs in common keep their names; pulls name boxes by the new ones."""
    if base is None:
        return pulls, boxes
    old_pulls, old_boxes = base.pulls, base.boxes

    def same_runs(n: int, o: int) -> float:
        return float(len(set(pulls[n].runs) & set(old_pulls[o].runs)))

    def same_box(n: int, o: int) -> float:
        a, b = boxes[n], old_boxes[o]
        if (a.kind, a.start_ft, a.partial) != (b.kind, b.start_ft, b.partial):
            return 0.0
        return 0.5 + len({run for run, _ in a.cuts} & {run for run, _ in b.cuts})

    pull_ids = carried_ids([p.id for p in pulls], [p.id for p in old_pulls], same_runs, base.retired)
    box_ids = carried_ids([b.id for b in boxes], [b.id for b in old_boxes], same_box, base.retired)
    named = {b.id: i for b, i in zip(boxes, box_ids, strict=True)}
    made = tuple(
        replace(p, id=i, boxes=tuple((run, named.get(box, box)) for run, box in p.boxes))
        for p, i in zip(pulls, pull_ids, strict=True)
    )
    return made, tuple(replace(b, id=named[b.id]) for b in boxes)


def retired(base: Takeoff | None, kept: Sequence[str]) -> tuple[str, ...]:
    """Names that were given once and stand for nothing now: never given again."""
    if base is None:
        return ()
    before = (*base.retired, *(x.id for group in (base.pulls, base.boxes, base.supports) for x in group))
    return tuple(sorted(set(before) - set(kept)))
