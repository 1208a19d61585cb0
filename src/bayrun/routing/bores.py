"""A hole where somebody said or drilled it, as a way between the two clear spaces it joins."""

from __future__ import annotations

from dataclasses import dataclass

from bayrun.framing import Frame, Member
from bayrun.geometry import TOUCH_IN, Rect, at_least, at_most, below, near
from bayrun.house import Job, Wall, plate_top_z_in, wall_name, wall_point
from bayrun.routing.build import SUBFLOOR_IN, Passages
from bayrun.routing.prices import hole_price
from bayrun.routing.records import Cell, Place, Point3, Slot
from bayrun.routing.spaces import MOST_JOIST_IN
from bayrun.units import tape

MOST_DRILLED_IN = 9.0
"""A person with an extension may drill so much wood at once; more is another wall [in]. Our own figure."""
SIDE_OF_BOARD_IN = 1.25
"""How far from a board the two sides of a way through it stand [in]."""


@dataclass(frozen=True, slots=True)
class Bore:
    """One hole somebody set: how it lies in its member.

    Args:
        member: As the framing names it.
        at_in: Up a stud above its subfloor, along a plate from its wall's start, along a joist [in].
        across_in: As ``wiring.Hole.across_in``; None for the middle of the wood [in].
        diameter_in: Of the bit [in].
    """

    member: Member
    at_in: float
    across_in: float | None
    diameter_in: float


class Boring:
    """Makes ways through holes that were set, in one house."""

    def __init__(self, job: Job, frame: Frame, passages: Passages) -> None:
        """Take the passage graph: its cells are what a hole can join."""
        self.job, self.frame = job, frame
        self.walls: dict[str, Wall] = {w.id: w for w in job.walls}
        self.bays: dict[str, list[Cell]] = {}
        self.spaces: dict[str, list[Cell]] = {}
        for cell in passages.cells:
            (self.bays if cell.kind == "bay" else self.spaces).setdefault(cell.host, []).append(cell)
        self.covers = {**dict(frame.over), **dict(frame.under)}
        self.says = {m.id: m.says or m.role for m in frame.members}

    def place(self, bore: Bore, name: str, set_by: str) -> Place | str:
        """The way through one hole, or in words why no cable can pass there.

        Args:
            name: Of the place, unique in the graph.
            set_by: ``choice`` or ``done``.
        """
        m = bore.member
        if m.host in self.walls:
            if "plate" in m.role:
                return self._plate(self.walls[m.host], bore, name, set_by)
            return self._stud(self.walls[m.host], bore, name, set_by)
        if m.role == "barrier":
            return self._board(bore, name, set_by)
        return self._joist(bore, name, set_by)

    def _world(self, wall: Wall, along_in: float, up_in: float, across_in: float) -> Point3:
        x, y = wall_point(wall, along_in, across_in)
        return x, y, self.job.level(wall.level).subfloor_z_in + up_in

    def _stud(self, wall: Wall, bore: Bore, name: str, set_by: str) -> Place | str:
        m, up_in = bore.member, bore.at_in
        if below(up_in, m.up[0]) or below(m.up[1], up_in):
            return f"the wood there goes from {tape(m.up[0])} to {tape(m.up[1])} above the subfloor"
        at_height = [c for c in self.bays.get(wall.id, []) if c.rect.v0 < up_in < c.rect.v1]
        lows = [c for c in at_height if at_most(c.rect.u1, m.along[0])]
        highs = [c for c in at_height if at_least(c.rect.u0, m.along[1])]
        if not lows or not highs:
            return f"no clear bay lies on one side of it at {tape(up_in)}"
        a = max(lows, key=lambda c: (c.rect.u1, c.id))
        b = min(highs, key=lambda c: (c.rect.u0, c.id))
        if below(MOST_DRILLED_IN, b.rect.u0 - a.rect.u1):
            return f"no clear bay lies within {tape(MOST_DRILLED_IN)} on both sides of it at {tape(up_in)}"
        between = [
            o
            for o in self.frame.of(wall.id)
            if at_least(o.along[0], a.rect.u1)
            and at_most(o.along[1], b.rect.u0)
            and o.up[0] < up_in < o.up[1]
        ]
        across_in = 0.0 if bore.across_in is None else bore.across_in
        middle_in = (m.along[0] + m.along[1]) / 2
        slot = Slot(
            middle_in,
            up_in,
            across_in,
            self._world(wall, middle_in, up_in, across_in),
            self._world(wall, a.rect.u1, up_in, across_in),
            self._world(wall, b.rect.u0, up_in, across_in),
        )
        plies = tuple(o.id for o in between if o is not m and "plate" not in o.role)
        price = hole_price(self.job.practice.costs, ladder=up_in > 78.0)
        return self._made(name, a, b, bore, slot, "along", price, set_by, plies, wall=wall)

    def _plate(self, wall: Wall, bore: Bore, name: str, set_by: str) -> Place | str:
        m, along_in = bore.member, bore.at_in
        top = m.role == "top plate"
        if below(along_in, m.along[0]) or below(m.along[1], along_in):
            return f"the plate there goes from {tape(m.along[0])} to {tape(m.along[1])} along its wall"
        face_in = m.up[0] if top else m.up[1]
        cells = [
            c
            for c in self.bays.get(wall.id, [])
            if near(c.rect.v1 if top else c.rect.v0, face_in)
            and at_least(along_in, c.rect.u0)
            and at_most(along_in, c.rect.u1)
        ]
        if not cells:
            where = f"{tape(along_in)} along {wall_name(wall)}"
            return f"no clear bay opens there: wood or a box stands at {where}"
        across_in = 0.0 if bore.across_in is None else bore.across_in
        x, y = wall_point(wall, along_in, across_in)
        space = self._space(wall, top, x, y)
        if space is None:
            return self._closed(m, along_in, across_in, top)
        level = self.job.level(wall.level)
        base = level.subfloor_z_in
        outer = plate_top_z_in(level) if top else base - SUBFLOOR_IN
        middle_in = (m.up[0] + m.up[1]) / 2
        slot = Slot(
            along_in, middle_in, across_in, (x, y, base + middle_in), (x, y, base + face_in), (x, y, outer)
        )
        price = hole_price(self.job.practice.costs, seal=True, ladder=top)
        return self._made(
            name, cells[0], space, bore, slot, "up", price, set_by, (), wall=wall, seal="fireblock",
            says="top plate" if top else "bottom plate",
        )  # fmt: skip

    def _space(self, wall: Wall, top: bool, x: float, y: float) -> Cell | None:
        for floor in self.job.frames:
            if (floor.above_level if top else floor.below_level) != wall.level:
                continue
            for cell in self.spaces.get(floor.id, []):
                closed = cell.kind == "open" and any(r.holds(x, y) for r in cell.blocked)
                if not cell.crossing_only and cell.rect.holds(x, y) and not closed:
                    return cell
        return None

    def _closed(self, plate: Member, along_in: float, across_in: float, top: bool) -> str:
        where = "over" if top else "under"
        for cover in self.covers.get(plate.id, ()):
            r: Rect = cover.rect
            if not (along_in < r.u0 - TOUCH_IN or along_in > r.u1 + TOUCH_IN) and not (
                across_in < r.v0 or across_in > r.v1
            ):
                return f"{self.says.get(cover.member, cover.member)} lies {where} it"
        return f"the space {where} it is closed there"

    def _joist(self, bore: Bore, name: str, set_by: str) -> Place | str:
        m = bore.member
        floor = next((f for f in self.job.frames if f.id == m.host), None)
        if floor is None:
            return f"{m.says or m.role} is no member that a cable may cross"
        axis = floor.direction
        at_in = m.along[0] + bore.at_in
        strips = [(c, _uv(axis, c.rect)) for c in self.spaces.get(m.host, []) if c.kind == "strip"]
        here = [(c, r) for c, r in strips if at_least(at_in, r.u0) and at_most(at_in, r.u1)]
        lows = [(r.v1, c.id, c, r) for c, r in here if at_most(r.v1, m.across[0])]
        highs = [(r.v0, c.id, c, r) for c, r in here if at_least(r.v0, m.across[1])]
        if not lows or not highs:
            return f"no clear space lies on both sides of it at {tape(bore.at_in)}"
        v0, _, a, _ = max(lows, key=lambda one: one[:2])
        v1, _, b, _ = min(highs, key=lambda one: one[:2])
        if below(MOST_JOIST_IN, v1 - v0):
            return f"too much wood stands together at {tape(bore.at_in)}"
        plies = [
            o
            for o in self.frame.of(m.host)
            if o is not m
            and at_least(o.across[0], v0)
            and at_most(o.across[1], v1)
            and o.along[0] < at_in < o.along[1]
        ]
        across_in = a.run_z - m.up[0] if bore.across_in is None else bore.across_in
        z = m.up[0] + across_in

        def world(v: float) -> Point3:
            return (at_in, v, z) if axis == "x" else (v, at_in, z)

        slot = Slot(bore.at_in, z, across_in, world((v0 + v1) / 2), world(v0), world(v1))
        price = hole_price(self.job.practice.costs, ladder=True)
        return self._made(name, a, b, bore, slot, "across", price, set_by, tuple(o.id for o in plies))

    def _board(self, bore: Bore, name: str, set_by: str) -> Place | str:
        m = bore.member
        flat = m.box.y1 - m.box.y0 < m.box.x1 - m.box.x0
        at_in = m.along[0] + bore.at_in
        middle = (m.box.y0 + m.box.y1) / 2 if flat else (m.box.x0 + m.box.x1) / 2
        away = self.job.practice.obstacle_margin_in + SIDE_OF_BOARD_IN
        cells = [
            c
            for host in self.spaces.values()
            for c in host
            if c.kind == "open" and m.box.z0 < c.run_z < m.box.z1
            and c.rect.holds(*((at_in, middle) if flat else (middle, at_in)))
        ]  # fmt: skip
        if not cells:
            return "no open space lies on both sides of that board"
        cell = cells[0]
        z = cell.run_z if bore.across_in is None else m.up[0] + bore.across_in

        def world(across: float) -> Point3:
            return (at_in, across, z) if flat else (across, at_in, z)

        slot = Slot(bore.at_in, z, z - m.up[0], world(middle), world(middle - away), world(middle + away))
        price = hole_price(self.job.practice.costs, seal=True, ladder=True)
        barrier = next((b for b in self.job.barriers if b.id == m.host), None)
        kind = barrier.kind if barrier is not None else m.says
        return self._made(name, cell, cell, bore, slot, "across", price, set_by, (), seal=kind, says=kind)

    def _made(
        self,
        name: str,
        a: Cell,
        b: Cell,
        bore: Bore,
        slot: Slot,
        axis: str,
        price: int,
        set_by: str,
        plies: tuple[str, ...],
        *,
        wall: Wall | None = None,
        seal: str = "",
        says: str = "",
    ) -> Place:
        level = wall.level if wall is not None else (a.level if a.kind != "bay" else b.level)
        return Place(
            id=name,
            a=a.id,
            b=b.id,
            member=bore.member.id,
            axis="along" if axis == "along" else "up" if axis == "up" else "across",
            diameter_in=bore.diameter_in,
            slots=(slot,),
            open_price=price,
            plies=plies,
            wall=wall.id if wall is not None else "",
            level=level,
            seal=seal,
            says=says or bore.member.says,
            set_by=set_by,
        )


def _uv(axis: str, rect: Rect) -> Rect:
    return rect if axis == "x" else Rect(rect.v0, rect.u0, rect.v1, rect.u1)
