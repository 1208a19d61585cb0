"""Names of holes carried from the plan last issued: chalked on wood, so never used for another hole."""

from __future__ import annotations

import re
from collections.abc import Sequence

from bayrun.wiring import Hole, Wiring

SAME_IN = 0.0625
"""Two holes of one member whose centers lie closer than a sixteenth are the same hole [in]."""
_NAME = re.compile(r"^H(\d+)$")


def carried_names(holes: Sequence[Hole], base: Wiring | None) -> tuple[str, ...]:
    """A name for each new hole, in order: its old one where it is the same hole, else one never used.

    Args:
        holes: New holes in the order of the building; their own ids are ignored.
        base: The plan last issued, or None for a first plan.
    Returns:
        ``H1`` … in order for a first plan. With a base, holes at the same spot of the same member keep
        their names and new ones count on from the highest ever used; gaps stay.
    """
    if base is None:
        return tuple(f"H{n}" for n in range(1, len(holes) + 1))
    old: dict[str, list[Hole]] = {}
    for hole in base.holes:
        old.setdefault(hole.member, []).append(hole)
    highest = max((int(m[1]) for h in base.holes if (m := _NAME.match(h.id))), default=0)
    taken: set[str] = set()
    names: list[str] = []
    for hole in holes:
        same = [
            h
            for h in old.get(hole.member, [])
            if h.id not in taken and max(abs(h.x - hole.x), abs(h.y - hole.y), abs(h.z - hole.z)) < SAME_IN
        ]
        if same:
            name = same[0].id
        else:
            highest += 1
            name = f"H{highest}"
        taken.add(name)
        names.append(name)
    return tuple(names)
