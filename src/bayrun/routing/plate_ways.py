"""Ways out of bays through their plates."""

from __future__ import annotations

from bayrun.framing import Cover, to_wall
from bayrun.geometry import TOUCH_IN, near
from bayrun.house import (
    Wall,
    wall_point,
)
from bayrun.routing.allow import Allowed
from bayrun.routing.ends import Ends
from bayrun.routing.naming import box_terminal, is_box, terminal
from bayrun.routing.plates import Spot, spots
from bayrun.routing.prices import hole_price, seconds_price
from bayrun.routing.records import Cell, Place, Slot
from bayrun.units import tape

SUBFLOOR_IN = 0.75
RISERS_PER_LEVEL = 24
"""Bays of a middle level kept as ways from floor to floor; more only slow the search."""
NEIGHBORS = 2
"""Bays to each side of a served bay that may serve it sideways."""


class PlateWays(Ends):
    """Finds for each bay the legal holes up and down, clear of what lies over and under its plates."""

    def _wished_heights(self, cell: Cell) -> list[float]:
        return [h for h in self.served.get(cell.id, []) if cell.rect.v0 < h < cell.rect.v1]

    def _near_served(self, cells: list[Cell]) -> list[Cell]:
        if self.everywhere or any(c.host in self.wide for c in cells):
            return cells
        served = [c for c in cells if c.id in self.served]
        if not served:
            return []
        reach = 16.0 * (NEIGHBORS + 0.6)
        return [
            c
            for c in cells
            if any(c.rect.u0 < s.rect.u1 + reach and c.rect.u1 > s.rect.u0 - reach for s in served)
        ]

    def _plate_ways(self) -> None:
        middle = {f.above_level for f in self.job.frames} & {f.below_level for f in self.job.frames}
        risers: dict[str, list[Cell]] = {}
        kept = self._named_risers()
        for wall_id, cells in self.bays.items():
            near_cells = {c.id for c in self._near_served(cells)}
            wall = self.walls[wall_id]
            level = self.job.level(wall.level)
            top_in = level.plate_top_in - 1.5 * wall.plates.top
            bottom_in = 1.5 * wall.plates.bottom
            for cell in cells:
                full = near(cell.rect.v1, top_in) and near(cell.rect.v0, bottom_in)
                if cell.id in near_cells or cell.id in kept:
                    self._both_plates(wall, cell)
                elif full and wall.level in middle:
                    risers.setdefault(wall.level, []).append(cell)
        for level_id in sorted(risers):
            cells = risers[level_id]
            step = max(1, len(cells) // RISERS_PER_LEVEL)
            for cell in cells[::step]:
                self._both_plates(self.walls[cell.host], cell)

    def _named_risers(self) -> set[str]:
        """Bays that a person keeps as ways through stacked walls: taken whatever stands near them."""
        found: set[str] = set()
        for riser in self.job.risers:
            for wall in (self.walls[name] for name in riser.walls if name in self.walls):
                axis = 0 if abs(wall.direction[0]) >= abs(wall.direction[1]) else 1
                for at_in in riser.positions_in:
                    along = (at_in - wall.start[axis]) * wall.direction[axis]
                    found.update(c.id for c in self.bays.get(wall.id, []) if c.rect.u0 < along < c.rect.u1)
        return found

    def _both_plates(self, wall: Wall, cell: Cell) -> None:
        level = self.job.level(wall.level)
        if near(cell.rect.v1, level.plate_top_in - 1.5 * wall.plates.top):
            self._plate_way(wall, cell, top=True)
        if near(cell.rect.v0, 1.5 * wall.plates.bottom):
            if level.slab:
                self.barred.append((cell.id, "a slab is under it: no way down"))
            else:
                self._plate_way(wall, cell, top=False)

    def _plate_way(self, wall: Wall, cell: Cell, *, top: bool) -> None:
        """The way through one plate of a bay, or why there is none; from the memo where it is known."""
        if any(e.cell == cell.id and is_box(e.id) for e in self.endpoints):
            self._make_plate_way(wall, cell, top=top)  # at a box it depends on every run
            return
        key = (
            "plate",
            cell.id,
            cell.rect,
            top,
            self._wished_along(cell),
            self._feed(cell),
            cell.id in self.served,
        )
        places, barred, blocked = self.memo.of(key, lambda: self._recorded(wall, cell, top))
        self.places += places
        self.barred += barred
        self.blocked += blocked

    def _recorded(
        self, wall: Wall, cell: Cell, top: bool
    ) -> tuple[tuple[Place, ...], tuple[tuple[str, str], ...], tuple[tuple[str, float, str, str], ...]]:
        """What ``_make_plate_way`` adds, taken off again."""
        at = len(self.places), len(self.barred), len(self.blocked)
        self._make_plate_way(wall, cell, top=top)
        made = tuple(self.places[at[0] :]), tuple(self.barred[at[1] :]), tuple(self.blocked[at[2] :])
        del self.places[at[0] :], self.barred[at[1] :], self.blocked[at[2] :]
        return made

    def _make_plate_way(self, wall: Wall, cell: Cell, *, top: bool) -> None:
        plates = [
            m
            for m in self.frame.of(wall.id)
            if m.role == ("top plate" if top else "bottom plate")
            and m.along[0] - TOUCH_IN <= cell.rect.center[0] <= m.along[1] + TOUCH_IN
        ]
        if not plates:
            return
        plate = plates[0]
        covers = (self.over if top else self.under).get(plate.id, ())
        floors = [f for f in self.job.frames if (f.above_level if top else f.below_level) == wall.level]
        wished = self._wished_along(cell)
        clear = (cell.rect.u0, cell.rect.u1)
        where = "over" if top else "under"
        if not floors:
            self.barred.append((cell.id, f"no frame is given {where} it"))
            return
        for allowed in self._choose(wall, cell, top, clear, covers, wished):
            found = spots(clear, allowed, covers, wished, self._gap_in(allowed), 8 if allowed.plates else 12)
            if not found:
                continue
            by_space: dict[str, list[Spot]] = {}
            for spot in found:
                x, y = wall_point(wall, spot.along_in, spot.across_in)
                for floor in floors:
                    space = self._space_exactly(floor.id, x, y)
                    if space is not None:
                        by_space.setdefault(space.id, []).append(spot)
                        break
            for space_id, mine in by_space.items():
                self._add_plate_place(wall, cell, plate.id, space_id, allowed, mine, top=top)
            if by_space:
                if cell.id in self.served:
                    self._tell_moved(plate.id, covers, wished, found, allowed)
                return
        self._tell_blocked(cell, plate.id, covers, clear, where)

    def _gap_in(self, allowed: Allowed) -> float:
        return max(self.job.practice.hole_gap_in, allowed.diameter_in * 0.5)

    def _choose(
        self,
        wall: Wall,
        cell: Cell,
        top: bool,
        clear: tuple[float, float],
        covers: tuple[Cover, ...],
        wished: float,
    ) -> list[Allowed]:
        """Hole sizes to try: without steel first; at the enclosure the smallest that takes all runs."""
        if (wall.id, top) not in self._plates:
            self._plates[wall.id, top] = self.allowance.plate(wall, top=top)
        kinds = list(self._plates[wall.id, top])
        name = next((e.id.split("/")[0] for e in self.endpoints if e.cell == cell.id and is_box(e.id)), "")
        if not name or not kinds:
            return kinds
        box = next(b for b in self.boxes if box_terminal(self.job, b) == name)
        entries = max(1, len(box.entries))
        need = 0.0
        for run in self.job.runs:
            if name in (terminal(self.job, run.from_end), terminal(self.job, run.to_end)):
                need += self.job.practice.cable(run.kind).diameter_in ** 2
        need *= 1.15 if entries == 1 else 0.75
        for allowed in kinds:
            count = len(spots(clear, allowed, covers, wished, self._gap_in(allowed), 12))
            if count * self.job.practice.fill_max * allowed.diameter_in**2 >= need:
                return [allowed, *(k for k in kinds if k is not allowed)]
        best = max(
            kinds,
            key=lambda k: len(spots(clear, k, covers, wished, self._gap_in(k), 12)) * k.diameter_in**2,
        )
        return [best, *(k for k in kinds if k is not best)]

    def _wished_along(self, cell: Cell) -> float:
        for end in self.endpoints:
            if end.cell == cell.id and not end.drop:
                wall = self.walls[cell.host]
                along, _ = to_wall(wall, end.at[0], end.at[1])
                return along
        return cell.rect.center[0]

    def _feed(self, cell: Cell) -> str:
        """The way a person wished for this bay, or for the served bay beside it that it may stand in for."""
        if cell.id in self.served:
            return self.feeds.get(cell.id, "")
        reach = 16.0 * (NEIGHBORS + 0.6)
        wishes = {
            self.feeds.get(c.id, "")
            for c in self.bays.get(cell.host, [])
            if c.id in self.served and c.rect.u0 < cell.rect.u1 + reach and c.rect.u1 > cell.rect.u0 - reach
        }
        return wishes.pop() if len(wishes) == 1 else ""

    def _space_exactly(self, host: str, x: float, y: float) -> Cell | None:
        for cell in self.cells.values():
            if cell.host != host or cell.crossing_only or not cell.rect.holds(x, y):
                continue
            if cell.kind == "open" and any(b.holds(x, y) for b in cell.blocked):
                continue
            return cell
        return None

    def _add_plate_place(
        self,
        wall: Wall,
        cell: Cell,
        plate: str,
        space: str,
        allowed: Allowed,
        found: list[Spot],
        *,
        top: bool,
    ) -> None:
        level = self.job.level(wall.level)
        base = level.subfloor_z_in
        outer = level.plate_top_in if top else -SUBFLOOR_IN
        inner = level.plate_top_in - 1.5 * wall.plates.top if top else 1.5 * wall.plates.bottom
        middle = level.plate_top_in - 0.75 * wall.plates.top if top else 0.75 * wall.plates.bottom
        slots = []
        for spot in found:
            x, y = wall_point(wall, spot.along_in, spot.across_in)
            slots.append(
                Slot(
                    spot.along_in,
                    middle,
                    spot.across_in,
                    (x, y, base + middle),
                    (x, y, base + inner),
                    (x, y, base + outer),
                )
            )
        costs = self.job.practice.costs
        price = hole_price(costs, plates=allowed.plates, strap=allowed.strap, seal=True, ladder=top)
        if self._in_ac_bay(cell):
            price += seconds_price(costs, costs.ac_bay_s)
        if self._feed(cell) == ("down" if top else "up"):
            price += seconds_price(costs, costs.against_wish_s)
        self.places.append(
            Place(
                id=f"{plate}@{cell.id}>{space}",
                a=cell.id,
                b=space,
                member=plate,
                axis="up",
                diameter_in=allowed.diameter_in,
                slots=tuple(slots),
                open_price=price,
                wall=wall.id,
                level=wall.level,
                seal="fireblock",
                says="top plate" if top else "bottom plate",
            )
        )

    def _tell_moved(
        self,
        plate: str,
        covers: tuple[Cover, ...],
        wished: float,
        found: tuple[Spot, ...],
        allowed: Allowed,
    ) -> None:
        """Where something lies just over the wished spot, say which offset works."""
        radius_in = allowed.diameter_in / 2
        for cover in covers:
            r = cover.rect
            if r.u0 - radius_in < wished < r.u1 + radius_in and r.v0 < radius_in and r.v1 > -radius_in:
                spot = found[0]
                works = f"{tape(spot.along_in)} along the wall"
                if abs(spot.across_in) > TOUCH_IN:
                    works += f", {tape(abs(spot.across_in))} off its middle"
                self.blocked.append((plate, wished, cover.member, works))
                return

    def _tell_blocked(
        self,
        cell: Cell,
        plate: str,
        covers: tuple[Cover, ...],
        clear: tuple[float, float],
        where: str,
    ) -> None:
        hit = [c for c in covers if c.rect.u0 < clear[1] and c.rect.u1 > clear[0]]
        what = hit[0].member if hit else ""
        says = self._says(what)
        text = f"{says} lies {where} its plate" if what else f"the space {where} its plate is closed there"
        self.barred.append((cell.id, text))
        if what and cell.id in self.served:
            self.blocked.append((plate, self._wished_along(cell), what, ""))

    def _says(self, member_id: str) -> str:
        for m in self.frame.members:
            if m.id == member_id:
                return m.says or m.role
        for o in self.job.obstacles:
            if o.id == member_id:
                return o.kind
        return member_id
