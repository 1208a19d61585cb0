"""The passage graph of one house: cells, places, endpoints, and why some ways are barred."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bayrun.framing import Bay, Cover, Frame, to_wall
from bayrun.geometry import TOUCH_IN, Rect, at_most, near, subtract_all
from bayrun.house import (
    Enclosure,
    End,
    Job,
    Location,
    Wall,
    enclosure_bottom_in,
    enclosure_entries,
    enclosure_top_in,
    location_point,
    plate_top_z_in,
    wall_name,
    wall_point,
)
from bayrun.routing.allow import Allowance, Allowed
from bayrun.routing.memo import Memo
from bayrun.routing.plates import Spot, spots
from bayrun.routing.prices import hole_price, seconds_price
from bayrun.routing.records import Cell, Endpoint, Place, Slot
from bayrun.routing.spaces import (
    adjoining_ways,
    barrier_ways,
    is_open,
    joist_ways,
    open_cell,
    strip_cells,
)
from bayrun.routing.studs import heights_for, sideways
from bayrun.routing.zones import power_in_wall
from bayrun.units import tape

BOX = "enclosure"
SUBFLOOR_IN = 0.75
RISERS_PER_LEVEL = 24
"""Bays of a middle level kept as ways from floor to floor; more only slow the search."""
NEIGHBORS = 2
"""Bays to each side of a served bay that may serve it sideways."""


@dataclass(frozen=True, slots=True)
class Passages:
    """Everything the solver needs, and what it could not offer.

    Args:
        barred: Per cell, in words, what bars a way that one would look for.
        blocked_plates: (plate, along, what lies over or under, what works instead).
    """

    cells: tuple[Cell, ...]
    places: tuple[Place, ...]
    endpoints: tuple[Endpoint, ...]
    barred: tuple[tuple[str, str], ...]
    blocked_plates: tuple[tuple[str, float, str, str], ...]
    missing: tuple[tuple[str, str], ...]
    """(location or gear id, why it has no place in the frame)."""


def box_terminal(job: Job, box: Enclosure) -> str:
    """Name of an enclosure in the graph: ``enclosure`` for the chosen one, with its id for a second one."""
    chosen = job.chosen_enclosure
    return BOX if chosen is not None and chosen.id == box.id else f"{BOX}:{box.id}"


def is_box(end_id: str) -> bool:
    """True for the name of an enclosure or one of its entries in the graph."""
    return end_id.split("/")[0].split(":")[0] == BOX


def terminal(job: Job, end: End) -> str:
    """Name of one end of a run in the graph."""
    box = job.enclosure_at(end)
    if box is not None:
        return box_terminal(job, box)
    return BOX if end.type == "enclosure" else end.id


class _Builder:
    """Builds the graph; ``everywhere`` gives every bay its ways out, not only those near what is wished."""

    def __init__(
        self,
        job: Job,
        frame: Frame,
        *,
        everywhere: bool = False,
        spots: Sequence[Location] = (),
        wide: frozenset[str] = frozenset(),
        memo: Memo | None = None,
    ) -> None:
        self.job, self.frame = job, frame
        self.everywhere, self.asked, self.wide = everywhere, spots, wide
        self.memo = memo or Memo()
        self.spots: list[Endpoint] = []
        self.allowance = Allowance.of(job)
        self.walls = {w.id: w for w in job.walls}
        self.cells: dict[str, Cell] = {}
        self.bays: dict[str, list[Cell]] = {}
        self.places: list[Place] = []
        self.endpoints: list[Endpoint] = []
        self.barred: list[tuple[str, str]] = []
        self.blocked: list[tuple[str, float, str, str]] = []
        self.missing: list[tuple[str, str]] = []
        self.over = dict(frame.over)
        self.under = dict(frame.under)
        self.boxes = job.built_enclosures
        self.served: dict[str, list[float]] = {}
        self.feeds: dict[str, str] = {}
        self._plates: dict[tuple[str, bool], tuple[Allowed, ...]] = {}

    def build(self) -> Passages:
        self._spaces()
        self._wall_cells()
        self._ends()
        self._plate_ways()
        for wall_id, cells in self.bays.items():
            wall = self.walls[wall_id]
            wished = [at for c in cells for at in self._wished_heights(c)]
            level = self.job.level(wall.level)
            near_cells = self._near_served(cells)
            heights = heights_for(level.plate_top_in, wished)
            key = ("sideways", wall_id, heights, tuple((c.id, c.rect) for c in near_cells))
            self.places += self.memo.of(
                key,
                lambda w=wall, near=near_cells, at=heights: tuple(  # type: ignore[misc]
                    sideways(self.allowance, w, list(self.frame.of(w.id)), near, at)
                ),
            )
        cells_now = list(self.cells.values())
        self.places += barrier_ways(self.allowance, self.frame, cells_now)
        self.places += adjoining_ways(self.job, cells_now)
        return Passages(
            tuple(self.cells.values()),
            tuple(self.places),
            tuple(self.endpoints),
            tuple(self.barred),
            tuple(dict.fromkeys(self.blocked)),
            tuple(self.missing),
        )

    # cells

    def _spaces(self) -> None:
        cells, places = self.memo.of("spaces", self._make_spaces)
        self.cells.update((c.id, c) for c in cells)
        self.places += places

    def _make_spaces(self) -> tuple[tuple[Cell, ...], tuple[Place, ...]]:
        cells: list[Cell] = []
        places: list[Place] = []
        for floor in self.job.frames:
            if is_open(floor):
                cells.append(open_cell(self.job, self.frame, floor))
                continue
            strips = strip_cells(self.job, self.frame, floor)
            cells += strips
            places += joist_ways(self.allowance, self.frame, floor, strips)
        return tuple(cells), tuple(places)

    def _wall_cells(self) -> None:
        boxes, ac = self._box_rects(), self._ac_bays()
        key = ("bays", tuple(boxes), tuple(ac))
        for cell in self.memo.of(key, lambda: self._make_bays(boxes, ac)):
            self.cells[cell.id] = cell
            self.bays.setdefault(cell.host, []).append(cell)

    def _make_bays(
        self, boxes: Sequence[tuple[str, Rect]], ac: Sequence[tuple[str, float, float]]
    ) -> tuple[Cell, ...]:
        made: list[Cell] = []
        for bay in self.frame.bays:
            rects = subtract_all(bay.clear, [r for wall, r in boxes if wall == bay.wall])
            for i, rect in enumerate(sorted(rects, key=lambda r: (r.v0, r.u0))):
                if any(bay.wall == w and low < rect.center[0] < high for w, low, high in ac):
                    continue
                suffix = "" if len(rects) == 1 else f"/{i + 1}"
                wall = self.walls[bay.wall]
                cell = Cell(
                    f"{bay.id}{suffix}",
                    "bay",
                    bay.wall,
                    bay.level,
                    rect,
                    says=self._bay_words(bay),
                    dear=power_in_wall(self.job, wall, rect),
                    line=(*wall.start, *wall.direction, self.job.level(wall.level).subfloor_z_in),
                )
                made.append(cell)
        return tuple(made)

    def _bay_words(self, bay: Bay) -> str:
        wall = self.walls[bay.wall]
        return f"bay at {tape(bay.center_in)} of {wall_name(wall, bay.center_in)}"

    def _box_rects(self) -> list[tuple[str, Rect]]:
        found = []
        for box in self.boxes:
            low, high = box.bay_studs_in
            bottom, top = enclosure_bottom_in(self.job, box), enclosure_top_in(self.job, box)
            found.append((box.wall, Rect(low, bottom, high, top)))
        return found

    def _feed_bays(self) -> list[tuple[str, float, float]]:
        """Bays the electrician's cable comes down on its way to a box: (wall, low stud, high stud)."""
        found = []
        for box in self.boxes:
            if box.ac_feed is None or box.ac_feed.bay_studs_in is None:
                continue
            low, high = box.ac_feed.bay_studs_in
            if not low < sum(box.bay_studs_in) / 2 < high:  # else inside the box's own bay, by its own hole
                found.append((box.wall, low, high))
        return found

    def _in_ac_bay(self, cell: Cell) -> bool:
        """True in the bay the electrician's cable comes down, where a location keeps it open for us too."""
        return any(
            cell.host == wall and low < cell.rect.center[0] < high for wall, low, high in self._feed_bays()
        )

    def _ac_bays(self) -> list[tuple[str, float, float]]:
        """The bays left to the electrician: those of the feed that no location of ours stands in."""
        return [
            (wall, low, high)
            for wall, low, high in self._feed_bays()
            if not any(
                q.wall == wall and q.offset_in is not None and low < q.offset_in < high
                for q in self.job.locations
            )
        ]

    # endpoints

    def _ends(self) -> None:
        used = {end.id for run in self.job.runs for end in (run.from_end, run.to_end)}
        if self.everywhere and not self.job.runs:
            used = {location.id for location in self.job.locations}
        for location in self.job.locations:
            if location.id in used:
                self._location_end(location)
        for gear in self.job.gear:
            if gear.id in used and not gear.in_enclosure:
                if gear.x_in is None or gear.y_in is None or gear.z_in is None:
                    self.missing.append((gear.id, f"{gear.what}: nobody said where it stands"))
                else:
                    self._free_end(gear.id, gear.level, (gear.x_in, gear.y_in, gear.z_in), gear.what)
        for box in self.boxes:
            self._enclosure_ends(box)
        woven = len(self.endpoints)
        for spot in self.asked:
            self._location_end(spot)
        self.endpoints, self.spots = self.endpoints[:woven], self.endpoints[woven:]

    def _location_end(self, location: Location) -> None:
        at = location_point(self.job, location)
        level = self.job.level(location.level)
        if location.wall is None or location.offset_in is None or at[2] > plate_top_z_in(level) - 0.5:
            self._free_end(location.id, location.level, at, f"location {location.id} in {location.room}")
            return
        up_in = at[2] - level.subfloor_z_in
        cell = self._cell_at(self.bays.get(location.wall, []), location.offset_in, up_in)
        wall = self.walls[location.wall]
        if cell is None:
            why = f"no clear bay at {tape(location.offset_in)} along {wall_name(wall, location.offset_in)}"
            self.missing.append((location.id, why))
            return
        self.served.setdefault(cell.id, []).append(up_in)
        if location.feed is not None:
            self.feeds.setdefault(cell.id, location.feed)
        self.endpoints.append(Endpoint(location.id, at, cell.id))

    @staticmethod
    def _cell_at(cells: Iterable[Cell], along_in: float, up_in: float) -> Cell | None:
        """The bay that holds a point, or the one beside it where a box is nailed to that stud."""
        best: tuple[float, Cell] | None = None
        for cell in cells:
            r = cell.rect
            off = max(r.u0 - along_in, along_in - r.u1, 0.0) + max(r.v0 - up_in, up_in - r.v1, 0.0)
            if off < 2.5 and (best is None or off < best[0] - TOUCH_IN):
                best = (off, cell)
        return best[1] if best else None

    def _free_end(self, end_id: str, level: str, at: tuple[float, float, float], what: str) -> None:
        """An end in a ceiling, soffit or room: it hangs from the space over it or stands on the one under."""
        for wall in self.job.walls:
            if wall.level != level or not wall.framed:
                continue
            along, across = to_wall(wall, at[0], at[1])
            if at_most(abs(across), wall.thickness_in / 2) and along >= 0 and at_most(along, wall.length_in):
                up_in = at[2] - self.job.level(level).subfloor_z_in
                cell = self._cell_at(self.bays.get(wall.id, []), along, up_in)
                if cell is not None and up_in < self.job.level(level).plate_top_in - 1.5:
                    self.served.setdefault(cell.id, []).append(up_in)
                    self.endpoints.append(Endpoint(end_id, at, cell.id))
                    return
        over = [f for f in self.job.frames if f.above_level == level]
        under = [f for f in self.job.frames if f.below_level == level]
        for floor in over:
            cell = self._space_at(floor.id, at[0], at[1])
            if cell is not None:
                self.endpoints.append(Endpoint(end_id, at, cell.id, drop=True))
        hung = any(e.id == end_id for e in self.endpoints)
        stands = any(g.id == end_id for g in self.job.gear)
        if stands or not hung:  # gear on a floor may be reached from over or under, a ceiling only from over
            for floor in under:
                cell = self._space_at(floor.id, at[0], at[1])
                if cell is not None:
                    self.endpoints.append(Endpoint(end_id, at, cell.id, drop=True))
        if not any(e.id == end_id for e in self.endpoints):
            self.missing.append((end_id, f"{what}: no framing over or under it reaches it"))

    def _space_at(self, host: str, x: float, y: float) -> Cell | None:
        """The strip or space of a frame over a plan point, or the nearest strip beside a joist."""
        best: tuple[float, Cell] | None = None
        for cell in self.cells.values():
            if cell.host != host or cell.crossing_only:
                continue
            r = cell.rect
            off = max(r.u0 - x, x - r.u1, 0.0) + max(r.v0 - y, y - r.v1, 0.0)
            if off < 4.0 and (best is None or off < best[0] - TOUCH_IN):
                best = (off, cell)
        return best[1] if best else None

    def _enclosure_ends(self, box: Enclosure) -> None:
        name = box_terminal(self.job, box)
        center = sum(box.bay_studs_in) / 2
        level = self.job.level(box.level)
        for entry, at in enclosure_entries(self.job, box):
            up_in = at[2] - level.subfloor_z_in
            for cell in self.bays.get(box.wall, []):
                r = cell.rect
                touches = near(r.v0, up_in) if entry == "top" else near(r.v1, up_in)
                if touches and r.u0 < center < r.u1:
                    extra = box.width_in / 2 + box.height_in
                    self.served.setdefault(cell.id, []).append(up_in)
                    self.endpoints.append(Endpoint(f"{name}/{entry}", at, cell.id, extra_in=extra))

    # ways

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
        for wall_id, cells in self.bays.items():
            near_cells = {c.id for c in self._near_served(cells)}
            wall = self.walls[wall_id]
            level = self.job.level(wall.level)
            top_in = level.plate_top_in - 1.5 * wall.plates.top
            bottom_in = 1.5 * wall.plates.bottom
            for cell in cells:
                full = near(cell.rect.v1, top_in) and near(cell.rect.v0, bottom_in)
                if cell.id in near_cells:
                    self._both_plates(wall, cell)
                elif full and wall.level in middle:
                    risers.setdefault(wall.level, []).append(cell)
        for level_id in sorted(risers):
            cells = risers[level_id]
            step = max(1, len(cells) // RISERS_PER_LEVEL)
            for cell in cells[::step]:
                self._both_plates(self.walls[cell.host], cell)

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


def passages(job: Job, frame: Frame, memo: Memo | None = None) -> Passages:
    """Build the passage graph of one house.

    Bays near what is served are enough as a rule; where an end is cut off, every bay of its wall is taken.

    Args:
        memo: Parts made before for the same building; the graph is the same with or without.
    """
    memo = memo or Memo()
    memo.enter(job)
    first = _Builder(job, frame, memo=memo).build()
    walls = _cut_off(job, first)
    return _Builder(job, frame, wide=walls, memo=memo).build() if walls else first


def _cut_off(job: Job, found: Passages) -> frozenset[str]:
    """Walls of ends that hang together with no cell their run must reach."""
    group: dict[str, str] = {c.id: c.id for c in found.cells}

    def root(cell: str) -> str:
        while group[cell] != cell:
            group[cell] = group[group[cell]]
            cell = group[cell]
        return cell

    for place in found.places:
        group[root(place.a)] = root(place.b)
    cells: dict[str, list[str]] = {}
    for end in found.endpoints:
        cells.setdefault(end.id.split("/")[0], []).append(end.cell)
    hosts = {c.id: c.host for c in found.cells}
    walls: set[str] = set()
    for run in job.runs:
        ends = [cells.get(terminal(job, end), []) for end in (run.from_end, run.to_end)]
        if all(ends) and not {root(c) for c in ends[0]} & {root(c) for c in ends[1]}:
            walls.update(hosts[c] for side in ends for c in side)
    return frozenset(walls & {w.id for w in job.walls})


def passages_everywhere(
    job: Job, frame: Frame, spots: Sequence[Location] = ()
) -> tuple[Passages, tuple[Endpoint, ...]]:
    """The graph with ways out of every bay, and where each asked spot would stand in it.

    Args:
        spots: Places somebody asks about; they are not woven into the graph. One that has no place in
            the framing is told in ``missing``.
    """
    builder = _Builder(job, frame, everywhere=True, spots=spots)
    return builder.build(), tuple(builder.spots)
