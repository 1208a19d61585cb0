"""Clear space of a house as cells of the passage graph."""

from __future__ import annotations

from collections.abc import Sequence

from bayrun.framing import Bay, Frame
from bayrun.geometry import Rect, subtract_all
from bayrun.house import (
    Job,
    Location,
    enclosure_bottom_in,
    enclosure_top_in,
    wall_name,
)
from bayrun.routing.allow import Allowance, Allowed
from bayrun.routing.memo import Memo
from bayrun.routing.records import Cell, Endpoint, Place
from bayrun.routing.spaces import (
    is_open,
    joist_ways,
    open_cell,
    strip_cells,
)
from bayrun.routing.zones import power_in_wall
from bayrun.units import tape


class Ground:
    """Clear space of one house: bays, strips and open spaces, less what boxes and the electrician take.

    Args:
        everywhere: Every bay gets its ways out, not only those near what is wished.
        spots: Places somebody asks about; they are not woven in.
        wide: Walls of which every bay is taken.
        memo: Parts made before for the same building.
    """

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
