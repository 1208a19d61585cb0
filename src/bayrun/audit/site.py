"""The house as the audit sees it: expected members matched to the plan's, and words for places."""

from __future__ import annotations

from collections import defaultdict

from bayrun.audit.aloft import aloft_solids
from bayrun.audit.defects import Defect, point_words
from bayrun.audit.obstacles import Body, bodies
from bayrun.audit.places import in_polygon
from bayrun.audit.reading import V3, Bore, PlanTold, Told
from bayrun.audit.solids import Nearby, Solid
from bayrun.audit.walls import wall_solids
from bayrun.house import Job, wall_name
from bayrun.tables import Adopted, adopt_careful
from bayrun.units import tape

SAME_IN = 2e-5
"""A told member within this of an expected one is that one: rounding aside [in]."""
MOVED_IN = 24.0
"""A told and an expected piece this near to each other are one piece that was moved [in]. Our own figure."""


class Site:
    """Job, plan and expected wood, with every told id bound to what really stands there.

    Args:
        job: The house.
        plan: What the plan tells.
    """

    def __init__(self, job: Job, plan: PlanTold) -> None:
        """Lay the wood out and match the plan's members to it."""
        self.job, self.plan = job, plan
        self.adopted: Adopted = adopt_careful(job.practice.editions, job.practice.amendments)
        self.solids: list[Solid] = [s for wall in job.walls for s in wall_solids(job, wall)]
        self.solids += aloft_solids(job)
        self.near = Nearby(job, self.solids)
        self.bodies: list[Body] = bodies(job)
        self.by_id: dict[str, int] = {}
        self.unmatched_told: list[Told] = []
        self.unmatched: list[int] = []
        self._match()
        self.told_id = {i: name for name, i in self.by_id.items()}
        self.holes: dict[str, Bore] = {h.id: h for h in plan.holes}
        self.diameters = {kind.letter: kind.diameter_in for kind in job.practice.cables}

    def _match(self) -> None:
        hosts: dict[tuple[str, str], list[int]] = defaultdict(list)
        for i, solid in enumerate(self.solids):
            hosts[solid.host, solid.role].append(i)
        free = set(range(len(self.solids)))
        for told in self.plan.members:
            for i in hosts[told.host, told.role]:
                if i in free and _same(told, self.solids[i]):
                    free.discard(i)
                    self.by_id.setdefault(told.id, i)
                    break
            else:
                self.unmatched_told.append(told)
        self.unmatched = sorted(free)

    def solid(self, member_id: str) -> Solid | None:
        """The expected member that a told id stands for; None where nothing stands there."""
        index = self.by_id.get(member_id)
        return None if index is None else self.solids[index]

    def name(self, index: int) -> str:
        """A member by the plan's id for it, else by what it is."""
        return self.told_id.get(index) or f"{self.solids[index].host}/{self.solids[index].what}"

    def place_of(self, solid: Solid) -> str:
        """Where a member stands, in words."""
        middle = (solid.along[0] + solid.along[1]) / 2
        if solid.wall is not None:
            return f"level {solid.wall.level}, {wall_name(solid.wall, middle)} at {tape(middle)}"
        axis = "y" if solid.runs_x else "x"
        return f"{solid.what} at {axis} {tape((solid.across[0] + solid.across[1]) / 2)} ({solid.host})"

    def place_at(self, p: V3) -> str:
        """A world point by its room, else by coordinates alone."""
        for level in reversed(self.job.levels):
            if p[2] < level.subfloor_z_in - 12.0:
                continue
            for room in self.job.rooms:
                if room.level == level.id and in_polygon(room.polygon, p[0], p[1]):
                    over = "over " if p[2] > level.subfloor_z_in + level.plate_top_in else ""
                    return f"level {level.id}, {over}{room.name}, {point_words(p)}"
            break
        return point_words(p)

    def place_of_hole(self, hole: Bore) -> str:
        """Where a hole is, in words."""
        solid = self.solid(hole.members[0])
        if solid is None:
            return self.place_at(hole.at)
        if solid.wall is None:
            return f"{solid.what} ({solid.host}), {point_words(hole.at)}"
        height = f", {tape(hole.up_in)} above subfloor" if hole.axis == "along" else ""
        name = wall_name(solid.wall, hole.along_in)
        return f"level {solid.wall.level}, {name}, {solid.what} at {tape(hole.along_in)}{height}"

    def defect(
        self,
        kind: str,
        about: tuple[str, ...],
        place: str,
        says: str,
        measured: float | str | None = None,
        expected: float | str | None = None,
    ) -> Defect:
        """One defect."""
        return Defect(kind, about, place, says, measured, expected)


def _same(told: Told, solid: Solid) -> bool:
    pairs = [
        *zip(told.along, solid.along, strict=True),
        *zip(told.across, solid.across, strict=True),
        (told.up[0], solid.up[0]),
    ]
    if not solid.anywhere_above:
        pairs.append((told.up[1], solid.up[1]))
    return all(abs(a - b) <= SAME_IN for a, b in pairs)
