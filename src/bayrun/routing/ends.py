"""Where runs begin and end in the passage graph."""

from __future__ import annotations

from collections.abc import Iterable

from bayrun.framing import to_wall
from bayrun.geometry import TOUCH_IN, at_most, near
from bayrun.house import (
    Enclosure,
    Location,
    enclosure_entries,
    location_point,
    plate_top_z_in,
    wall_name,
)
from bayrun.routing.ground import Ground
from bayrun.routing.naming import box_terminal
from bayrun.routing.records import Cell, Endpoint
from bayrun.units import tape


class Ends(Ground):
    """Places every end of a run in the cell it lies in, or tells why it has none."""

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
        low = at[2] < plate_top_z_in(self.job.level(level))
        if (stands and low) or not hung:  # gear on a floor is reached from over or under, a ceiling from over
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
