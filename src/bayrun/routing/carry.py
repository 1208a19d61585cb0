"""Names of holes carried from the plan last issued: chalked on wood, so never used for another hole."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from bayrun.house.hole_choices import Spot
from bayrun.wiring import Hole, Wiring

SAME_IN = 0.0625
"""Two holes whose centers lie closer than a sixteenth are the same hole [in]."""
_NAME = re.compile(r"^H(\d+)$")


def carried_names(
    holes: Sequence[Hole],
    base: Wiring | None,
    moved: Mapping[int, Spot] | None = None,
    reserved: Sequence[str] = (),
) -> tuple[str, ...]:
    """A name for each new hole, in order: its old one where it is the same hole, else one never used.

    Args:
        holes: New holes in the order of the building; one with an id, a drilled one, keeps it.
        base: The plan last issued, or None for a first plan.
        reserved: Names that stand on wood without a hole of the plan: never given again.
        moved: Place in ``holes`` of each one that somebody moved, and the spot on its member it came from.
    Returns:
        ``H1`` … in order for a first plan. With a base, holes at the same spot keep their names, moved ones
        take theirs along, and new ones count on from the highest ever used; gaps stay.
    """
    base = base or Wiring((), ())
    used = (*(h.id for h in base.holes), *base.retired, *(h.id for h in holes), *reserved)
    highest = max((int(m[1]) for name in used if (m := _NAME.match(name))), default=0)
    names: dict[int, str] = {n: hole.id for n, hole in enumerate(holes) if hole.id}
    old = _Old(base)
    old.taken.update(names.values())
    for n, hole in enumerate(holes):
        found = old.same(hole) if n not in names else None
        if found is not None:
            names[n] = old.take(found)
    for n, spot in sorted((moved or {}).items()):
        found = old.at(spot) if n not in names else None
        if found is not None:
            names[n] = old.take(found)
    made: list[str] = []
    for n in range(len(holes)):
        if n not in names:
            highest += 1
            names[n] = f"H{highest}"
        made.append(names[n])
    return tuple(made)


class _Old:
    """The holes of the plan last issued, each given away once."""

    def __init__(self, base: Wiring) -> None:
        self.by_axis: dict[str, list[Hole]] = {}
        self.by_wall: dict[str, list[Hole]] = {}
        self.by_member: dict[str, list[Hole]] = {}
        self.taken: set[str] = set()
        for hole in base.holes:
            self.by_axis.setdefault(f"{hole.axis} {round(hole.z)}", []).append(hole)
            self.by_wall.setdefault(hole.wall, []).append(hole)
            self.by_member.setdefault(hole.member, []).append(hole)

    def take(self, hole: Hole) -> str:
        """Its name, for one new hole only."""
        self.taken.add(hole.id)
        return hole.id

    def same(self, hole: Hole) -> Hole | None:
        """The old hole at the same place: in the wood of its wall, or in the house where the wall is new."""
        if hole.wall:
            for h in self.by_wall.get(hole.wall, []):
                off = (h.along_in - hole.along_in, h.up_in - hole.up_in, h.across_in - hole.across_in)
                if h.id not in self.taken and h.axis == hole.axis and max(map(abs, off)) < SAME_IN:
                    return h
        for z in (round(hole.z) - 1, round(hole.z), round(hole.z) + 1):
            for h in self.by_axis.get(f"{hole.axis} {z}", []):
                off = (h.x - hole.x, h.y - hole.y, h.z - hole.z)
                if h.id not in self.taken and max(map(abs, off)) < SAME_IN:
                    return h
        return None

    def at(self, spot: Spot) -> Hole | None:
        """The old hole at a spot of its member."""
        for h in self.by_member.get(spot.member, []):
            at_in = h.up_in if h.axis == "along" else h.along_in
            if h.id not in self.taken and abs(at_in - spot.at_in) < SAME_IN:
                return h
        return None
