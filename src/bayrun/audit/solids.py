"""One piece of wood, steel or board as the audit expects it, and a quick way to ask what a cable meets."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.audit.places import inside_share, to_wall, to_world
from bayrun.audit.reading import V3
from bayrun.geometry import TOUCH_IN
from bayrun.house import Job, Wall

CELL_IN = 48.0


@dataclass(frozen=True, slots=True)
class Solid:
    """One expected member.

    Args:
        host: Wall, frame, beam or barrier it belongs to.
        what: In words: ``stud``, ``king of door A-D01``.
        along, up, across: As in plan.json: wall coordinates, or world ones for what lies aloft [in].
        wall: Its wall; None aloft.
        flat: Aloft: (x0, y0, x1, y1) [in].
        anywhere_above: Its top is not given by the job (a board up to the roof deck).
    """

    host: str
    role: str
    material: str
    what: str
    along: tuple[float, float]
    up: tuple[float, float]
    across: tuple[float, float]
    wall: Wall | None = None
    flat: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    bearing: bool = True
    exterior: bool = False
    plies: int = 1
    anywhere_above: bool = False

    @property
    def never(self) -> bool:
        """Never drilled: trusses, engineered pieces, concrete, headers, posts, beams, edges, backing."""
        return self.material in ("truss", "engineered", "concrete") or self.role in (
            "header", "post", "beam", "edge member", "backing",
        )  # fmt: skip

    @property
    def aloft(self) -> bool:
        """True for what lies in a floor or roof."""
        return self.wall is None

    def local(self, job: Job, p: V3) -> V3:
        """A world point as (along, across, up) of this member [in]."""
        if self.wall is not None:
            return to_wall(job, self.wall, p)
        if self.runs_x:
            return p[0], p[1], p[2]
        return p[1], p[0], p[2]

    @property
    def runs_x(self) -> bool:
        """Aloft: True where ``along`` is the world's x."""
        return self.along == (self.flat[0], self.flat[2])

    @property
    def low(self) -> V3:
        """Low corner as (along, across, up)."""
        return self.along[0], self.across[0], self.up[0]

    @property
    def high(self) -> V3:
        """High corner as (along, across, up)."""
        return self.along[1], self.across[1], self.up[1]

    def box(self, job: Job) -> tuple[float, ...]:
        """World box x0, y0, z0, x1, y1, z1 [in]."""
        if self.wall is None:
            return (self.flat[0], self.flat[1], self.up[0], self.flat[2], self.flat[3], self.up[1])
        base = job.level(self.wall.level).subfloor_z_in
        corners = [to_world(self.wall, a, c) for a in self.along for c in self.across]
        xs, ys = [c[0] for c in corners], [c[1] for c in corners]
        return (min(xs), min(ys), base + self.up[0], max(xs), max(ys), base + self.up[1])

    def met_by(self, job: Job, p: V3, q: V3) -> tuple[float, float] | None:
        """(from, to) as shares of the segment inside this member; touching a face is not inside."""
        return inside_share(self.local(job, p), self.local(job, q), self.low, self.high, TOUCH_IN)


class Nearby:
    """Solids by plan squares, so that a segment is held against few of them."""

    def __init__(self, job: Job, solids: Sequence[Solid]) -> None:
        """File every solid under the squares it covers."""
        self.boxes = [s.box(job) for s in solids]
        self.solids = solids
        self.cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        for i, b in enumerate(self.boxes):
            for cell in self._squares(b[0], b[1], b[3], b[4]):
                self.cells[cell].append(i)

    @staticmethod
    def _squares(x0: float, y0: float, x1: float, y1: float) -> list[tuple[int, int]]:
        a, b, c, d = (int(v // CELL_IN) for v in (x0 - 0.01, y0 - 0.01, x1 + 0.01, y1 + 0.01))
        return [(i, j) for i in range(a, c + 1) for j in range(b, d + 1)]

    def of(self, p: V3, q: V3) -> list[int]:
        """Indexes of solids whose world box the segment's box meets, in order."""
        low = [min(a, b) for a, b in zip(p, q, strict=True)]
        high = [max(a, b) for a, b in zip(p, q, strict=True)]
        found = {i for cell in self._squares(low[0], low[1], high[0], high[1]) for i in self.cells[cell]}
        return sorted(
            i
            for i in found
            if all(
                self.boxes[i][k] < high[k] + TOUCH_IN and self.boxes[i][k + 3] > low[k] - TOUCH_IN
                for k in range(3)
            )
        )
