"""Proposed locations of a house by the firm's room rules, each with its reason. Nothing is added silently."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from bayrun.geometry import Rect, at_least, at_most, near
from bayrun.house import End, Job, Level, Location, Opening, Port, Room, Wall, WishedRun, room_at, wall_point
from bayrun.units import tape
from bayrun.wishes.records import Proposal
from bayrun.wishes.room_rules import (
    ACCESS_POINT,
    AREA_PER_ACCESS_POINT_FT2,
    DOORBELL,
    ROOM_RULES,
    SERVICE,
    THERMOSTAT,
    Rule,
    kind_of_room,
    rules_for,
)
from bayrun.wishes.spots import Spot, spots

APART_IN = 8.0
"""Least distance along a wall between two boxes at about one height, either face [in]. Common practice."""
SAME_HEIGHT_IN = 8.0
CEILING_CLEAR_IN = 4.0
"""Middle of a ceiling ring to the nearest joist or chord [in]. Common practice, no source."""
AIR_HANDLERS = ("air handler", "furnace", "heat pump")


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the rules would add, and what they could not place and why."""

    proposals: tuple[Proposal, ...]
    left_out: tuple[str, ...]


def propose(job: Job, rules: tuple[Rule, ...] = ROOM_RULES) -> tuple[Proposal, ...]:
    """Locations that the room rules would add to a house, in walking order by level and room.

    Args:
        job: Its rooms say their kind; locations it already has are kept and not proposed again.
        rules: The firm's own table, or ours.
    Returns:
        Proposals with ids ``L01`` …, going on from the highest such id in the job.
    """
    return plan_wishes(job, rules).proposals


def left_out(job: Job, rules: tuple[Rule, ...] = ROOM_RULES) -> tuple[str, ...]:
    """What the rules ask for and no wall or ceiling could take, one sentence each."""
    return plan_wishes(job, rules).left_out


def plan_wishes(job: Job, rules: tuple[Rule, ...] = ROOM_RULES) -> Wishes:
    """Proposals and what was left out, made together."""
    return _Planner(job, rules).run()


def walking_order(job: Job) -> tuple[Room, ...]:
    """Rooms level by level from the lowest, each level walked through its doors from where one comes in."""
    doors: dict[tuple[str, str], list[str]] = {}
    for opening in job.openings:
        on = job.wall(opening.wall).level
        inside = [r for r in opening.rooms if r != "outside"]
        if len(inside) == 2 and not opening.is_window:
            doors.setdefault((on, inside[0]), []).append(inside[1])
            doors.setdefault((on, inside[1]), []).append(inside[0])
    for edge in job.open_edges:
        if len(edge.rooms) == 2:
            doors.setdefault((edge.level, edge.rooms[0]), []).append(edge.rooms[1])
            doors.setdefault((edge.level, edge.rooms[1]), []).append(edge.rooms[0])
    front = front_door(job)
    starts = {(job.wall(front.wall).level, r) for r in front.rooms} if front else set()
    starts |= {pair for stair in job.stairs for pair in stair.rooms}
    order: list[Room] = []
    for level in sorted(job.levels, key=lambda q: q.subfloor_z_in):
        rooms = {r.name: r for r in job.rooms if r.level == level.id}
        entry = [name for name in rooms if (level.id, name) in starts]
        seen: list[str] = []

        for start in [*entry, *rooms]:
            todo = [start]
            while todo:
                name = todo.pop()
                if name in seen or name not in rooms:
                    continue
                seen.append(name)
                beyond = [n for n in rooms if n in doors.get((level.id, name), ()) and n not in seen]
                todo += reversed(beyond)
        order += [rooms[name] for name in seen]
    return tuple(order)


def front_door(job: Job) -> Opening | None:
    """The door a visitor rings at: the one called so, else an outside door of a hall or living room."""
    outside = [o for o in job.openings if _is_door(o) and job.wall(o.wall).exterior]
    named = [o for o in outside if "front" in o.kind]
    if named:
        return named[0]
    ranked = sorted(
        (o for o in outside if not _rooms_of_kind(job, o, ("garage", "unfinished"))),
        key=lambda o: (
            abs(job.level(job.wall(o.wall).level).subfloor_z_in),
            0 if _rooms_of_kind(job, o, ("hall",)) else 1 if _rooms_of_kind(job, o, ("living",)) else 2,
            o.id,
        ),
    )
    return ranked[0] if ranked else None


def _is_door(opening: Opening) -> bool:
    return "door" in opening.kind and not opening.is_window and "overhead" not in opening.kind


def _rooms_of_kind(job: Job, opening: Opening, kinds: tuple[str, ...]) -> bool:
    level = job.wall(opening.wall).level
    return any(r.level == level and r.name in opening.rooms and kind_of_room(r) in kinds for r in job.rooms)


def area_ft2(room: Room) -> float:
    """Floor area to the wall center lines [ft2]."""
    points = room.polygon
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1], strict=True))
    return abs(twice) / 288


class _Planner:
    """Walks the rooms once; remembers what stands where, so that no two boxes meet."""

    def __init__(self, job: Job, rules: tuple[Rule, ...]) -> None:
        self.job, self.rules = job, rules
        self.rooms = walking_order(job)
        self.found: list[Proposal] = []
        self.out: list[str] = []
        self.tv: dict[tuple[str, str], Spot] = {}
        numbers = [int(q.id[1:]) for q in job.locations if q.id[:1] == "L" and q.id[1:].isdigit()]
        self.first = max(numbers, default=0) + 1

    def run(self) -> Wishes:
        """Room rules room by room, with what the house gets once put where it belongs in the walk."""
        access = self._access_points()
        entry, service, thermostat = front_door(self.job), self._service_room(), self._thermostat_room()
        if entry is None:
            self.out.append("doorbell: no outside door of a hall or living room is in the plan")
        for room in self.rooms:
            if (
                entry is not None
                and room.name in entry.rooms
                and room.level == self.job.wall(entry.wall).level
            ):
                self._doorbell(room, entry)
            for rule in rules_for(room, self.rules):
                self._on_wall(room, rule)
            if room is thermostat:
                self._thermostat(room)
            if room is service:
                self._on_wall(room, SERVICE)
            for point in access.get((room.level, room.name), ()):
                self._access_point(room, point)
        return Wishes(tuple(self.found), tuple(self.out))

    # ------------------------------------------------------------ taking a place

    def _all(self) -> tuple[Location, ...]:
        return (*self.job.locations, *(p.location for p in self.found))

    def _has(self, room: Room, rule: Rule) -> bool:
        """True where the job already has what the rule asks for."""
        return any(
            q.room == room.name
            and q.level == room.level
            and q.mount == rule.mount
            and (rule.mount == "ceiling" or at_most(abs(q.height_in - rule.height_in), SAME_HEIGHT_IN))
            and {p.kind for p in rule.ports} <= {p.kind for p in q.ports}
            for q in self.job.locations
        )

    def _free(self, wall: str, offset_in: float, height_in: float) -> bool:
        return not any(
            q.wall == wall
            and q.offset_in is not None
            and abs(q.offset_in - offset_in) < APART_IN
            and abs(q.height_in - height_in) < SAME_HEIGHT_IN
            for q in self._all()
        )

    def _take(
        self,
        room: Room,
        rule: Rule,
        why: str,
        ports: tuple[Port, ...] | None = None,
        note: str = "",
        **place: object,
    ) -> None:
        height = place.pop("height_in", rule.height_in)
        location = Location(
            id=f"L{self.first + len(self.found):02d}",
            room=room.name,
            level=room.level,
            mount=rule.mount,
            height_in=float(height),  # type: ignore[arg-type]
            ports=rule.ports if ports is None else ports,
            reason=f"proposed: {rule.why}",
            note=note,
            **place,  # type: ignore[arg-type]
        )
        self.found.append(Proposal(location, f"{rule.why}; {why}", rule.name))

    def _leave(self, room: Room, rule: Rule, why: str) -> None:
        floor = "" if len(self.job.levels) == 1 else f", level {room.level}"
        self.out.append(f"{rule.name} in {room.name}{floor}: {why}")

    # ------------------------------------------------------------ walls

    def _on_wall(self, room: Room, rule: Rule) -> None:
        if self._has(room, rule):
            return
        outside = rule.seat == "service"
        for mind in (True, False):
            free = [
                s
                for s in spots(self.job, room, mind_swings=mind, outside=outside)
                if self._free(s.wall, s.offset_in, rule.height_in)
                and (not outside or not self.job.wall(s.wall).separation)
            ]
            best = self._pick(room, rule, free)
            if best is not None:
                break
        else:
            wanted = "outside wall" if outside else "wall"
            self._leave(
                room, rule, f"no {wanted} has a place beside a stud, 6 in clear of openings and corners"
            )
            return
        if rule.seat == "tv":
            self.tv[room.level, room.name] = best
        side: Literal["left", "right", "exterior"] = "exterior" if outside else best.side
        why = f"{self._wall_words(room, rule, best)}: {best.says}"
        self._take(room, rule, why, wall=best.wall, offset_in=best.offset_in, side=side)

    def _wall_words(self, room: Room, rule: Rule, spot: Spot) -> str:
        kind = "outside" if spot.exterior else "inside"
        if rule.seat == "tv":
            return f"longest clear {kind} stretch, {tape(spot.stretch_length_in)}"
        if rule.seat == "under tv":
            screen = self.tv.get((room.level, room.name))
            if screen is not None and screen.wall == spot.wall and near(screen.offset_in, spot.offset_in):
                return "the same bay, under it"
            return (
                f"not under the screen, whose bay is taken; {kind} wall, {tape(spot.stretch_length_in)} clear"
            )
        return f"{kind} wall, {tape(spot.stretch_length_in)} clear"

    def _pick(self, room: Room, rule: Rule, free: list[Spot]) -> Spot | None:
        if not free:
            return None
        screen = self.tv.get((room.level, room.name))
        if rule.seat == "under tv" and screen is not None:
            same = [s for s in free if s.wall == screen.wall and near(s.offset_in, screen.offset_in)]
            if same:
                return same[0]
        used = {q.wall for q in self._all() if q.room == room.name and q.level == room.level}
        other = [s for s in free if s.wall not in used]
        pool = other if rule.seat in ("second", "any") and other else free
        return min(
            pool, key=lambda s: (s.exterior, -s.stretch_length_in, s.off_middle_in, s.wall, s.offset_in)
        )

    # ------------------------------------------------------------ once a house

    def _doorbell(self, room: Room, door: Opening) -> None:
        if any(p.kind == "B" for q in self.job.locations for p in q.ports) or any(
            p.rule == DOORBELL.name for p in self.found
        ):
            return
        middle = door.offset_in + door.width_in / 2
        latch_high = door.hinge_end == "low"
        beside = [
            s
            for s in spots(self.job, room, outside=True)
            if s.wall == door.wall and self._free(s.wall, s.offset_in, DOORBELL.height_in)
        ]
        if not beside:
            self._leave(room, DOORBELL, "no place beside a stud within reach of the front door")
            return
        best = min(
            beside,
            key=lambda s: (
                abs(s.offset_in - middle) > door.width_in / 2 + 36,
                (s.offset_in > middle) != latch_high,
                abs(s.offset_in - middle),
            ),
        )
        away = abs(best.offset_in - middle) - door.width_in / 2
        why = f"outside, {tape(away)} from the rough opening of the {door.kind}"
        self._take(room, DOORBELL, why, wall=best.wall, offset_in=best.offset_in, side="exterior")

    def _service_room(self) -> Room | None:
        if any(
            q.mount == "exterior" and abs(q.height_in - SERVICE.height_in) < 1 for q in self.job.locations
        ):
            return None
        above = [r for r in self.rooms if self.job.level(r.level).subfloor_z_in > -12]
        ranked = [r for kind in SERVICE.rooms for r in above if kind_of_room(r) == kind]
        for room in ranked:
            lowest = min(self.job.level(r.level).subfloor_z_in for r in above)
            if near(self.job.level(room.level).subfloor_z_in, lowest) and any(
                not self.job.wall(s.wall).separation for s in spots(self.job, room, outside=True)
            ):
                return room
        self.out.append("service-entry: no room on the ground floor has a clear place in an outside wall")
        return None

    def _thermostat_room(self) -> Room | None:
        if any(THERMOSTAT.why in q.reason or any(p.kind == "T" for p in q.ports) for q in self.job.locations):
            return None
        for kind in THERMOSTAT.rooms:
            for room in self.rooms:
                inside = [s for s in spots(self.job, room) if not s.exterior]
                if kind_of_room(room) == kind and inside:
                    return room
        self.out.append("thermostat: no hall or living room has a clear place on an inside wall")
        return None

    def _thermostat(self, room: Room) -> None:
        device = air_handler(self.job)
        free = [
            s
            for s in spots(self.job, room)
            if not s.exterior and self._free(s.wall, s.offset_in, THERMOSTAT.height_in)
        ]
        best = self._pick(room, THERMOSTAT, free)
        if best is None:
            self._leave(room, THERMOSTAT, "no inside wall has a place left")
            return
        note = "" if device else "no cable yet: the job does not say where the air handler stands"
        self._take(
            room,
            THERMOSTAT,
            f"inside wall away from the outside ones: {best.says}",
            THERMOSTAT.ports if device else (),
            note,
            wall=best.wall,
            offset_in=best.offset_in,
            side=best.side,
        )

    # ------------------------------------------------------------ ceilings

    def _access_points(self) -> dict[tuple[str, str], list[tuple[float, float]]]:
        """Places for access points by (level, room): spread so that no room of the floor is far from one."""
        places: dict[tuple[str, str], list[tuple[float, float]]] = {}
        for level in self.job.levels:
            rooms = [r for r in self.rooms if r.level == level.id]
            lived = [r for r in rooms if kind_of_room(r) not in ("garage", "unfinished", "")] or rooms
            if not lived or any(q.mount == "ceiling" and q.level == level.id for q in self.job.locations):
                continue
            spread = sum(area_ft2(r) for r in lived)
            wanted = max(1, math.ceil(spread / AREA_PER_ACCESS_POINT_FT2 - 1e-9))
            ceilings = [
                (r, p)
                for r in lived
                if kind_of_room(r) in ACCESS_POINT.rooms
                for p in self._ceiling(level, r)
            ]
            chosen: list[tuple[Room, tuple[float, float]]] = []
            for _ in range(wanted):
                left = [c for c in ceilings if c not in chosen]
                if not left:
                    break
                chosen.append(min(left, key=lambda c: self._farthest(lived, [*chosen, c])))
            if len(chosen) < wanted:
                self.out.append(
                    f"{ACCESS_POINT.name} on level {level.id}: {wanted} wanted for {spread:.0f} square feet, "
                    f"{len(chosen)} placed: no other room has a clear place between joists"
                )
            for room, point in chosen:
                places.setdefault((level.id, room.name), []).append(point)
        return places

    def _farthest(
        self, lived: list[Room], chosen: list[tuple[Room, tuple[float, float]]]
    ) -> tuple[float, int, float, float]:
        far = max(min(math.dist(_middle(room), point) for _, point in chosen) for room in lived)
        room, (x, y) = chosen[-1]
        # a hall a few feet off the best point beats a bedroom on it
        return round(far / 36), ACCESS_POINT.rooms.index(kind_of_room(room)), x, y

    def _ceiling(self, level: Level, room: Room) -> list[tuple[float, float]]:
        """Clear places between joists near the middle of a room's ceiling; a large room has five."""
        mx, my = _middle(room)
        xs, ys = [p[0] for p in room.polygon], [p[1] for p in room.polygon]
        centers = [(mx, my)]
        if area_ft2(room) > AREA_PER_ACCESS_POINT_FT2 / 2:
            dx, dy = (max(xs) - min(xs)) / 4, (max(ys) - min(ys)) / 4
            centers += [(mx + a * dx, my + b * dy) for a in (-1, 1) for b in (-1, 1)]
        solid = _aloft(self.job, level)
        found = [self._clear_ceiling(level, room, center, solid) for center in centers]
        return [point for point in found if point is not None]

    def _clear_ceiling(
        self, level: Level, room: Room, center: tuple[float, float], solid: list[Rect]
    ) -> tuple[float, float] | None:
        cx, cy = center
        tries = sorted(
            ((cx + dx * 2.0, cy + dy * 2.0) for dx in range(-12, 13) for dy in range(-12, 13)),
            key=lambda p: (abs(p[0] - cx) + abs(p[1] - cy), p),
        )
        for x, y in tries:
            x, y = round(x * 16) / 16, round(y * 16) / 16
            clear = not any(r.grown(CEILING_CLEAR_IN).holds(x, y) for r in solid)
            if clear and room_at(self.job, level.id, x, y) is room:
                return x, y
        return None

    def _access_point(self, room: Room, point: tuple[float, float]) -> None:
        level = self.job.level(room.level)
        height = level.plate_top_in - level.ceiling_board_in - room.floor_finish_in + room.floor_drop_in
        why = f"near the middle of the ceiling, {tape(CEILING_CLEAR_IN)} and more from joists"
        self._take(room, ACCESS_POINT, why, height_in=height, x_in=point[0], y_in=point[1])


def _middle(room: Room) -> tuple[float, float]:
    """A point well inside a room: the middle of its largest upright slab."""
    ys = sorted({p[1] for p in room.polygon})
    best, size = room.polygon[0], -1.0
    for low, high in itertools.pairwise(ys):
        middle = (low + high) / 2
        edges = zip(room.polygon, room.polygon[1:] + room.polygon[:1], strict=True)
        xs = sorted(
            x0 + (middle - y0) * (x1 - x0) / (y1 - y0)
            for (x0, y0), (x1, y1) in edges
            if (y0 > middle) != (y1 > middle)
        )
        for a, b in zip(xs[::2], xs[1::2], strict=False):
            if (b - a) * (high - low) > size:
                best, size = ((a + b) / 2, middle), (b - a) * (high - low)
    return best


def _aloft(job: Job, level: Level) -> list[Rect]:
    """Plan rectangles over a level that a ceiling ring keeps clear of: members, voids, beams, obstacles."""
    found: list[Rect] = []
    over = [f for f in job.frames if f.above_level == level.id]
    names = {f.id for f in over}
    for frame in over:
        x0, y0, x1, y1 = frame.area
        half = frame.member_width_in / 2
        if frame.direction == "x":
            found += [Rect(x0, at - half, x1, at + half) for at in frame.members_in()]
        else:
            found += [Rect(at - half, y0, at + half, y1) for at in frame.members_in()]
        found += [Rect(*edge.rect) for edge in frame.edge_members]
    found += [Rect(*o.rect) for o in job.floor_openings if names & set(o.frames)]
    ceiling = level.subfloor_z_in + level.plate_top_in
    for beam in job.beams:
        if names & set(beam.in_frames) or (beam.z_in and at_least(beam.z_in[1], ceiling - 1)):
            found.append(Rect(*beam.rect))
    for obstacle in job.obstacles:
        here = level.id in obstacle.levels or bool(names & set(obstacle.frames))
        if here and obstacle.rect is not None:
            found.append(Rect(*obstacle.rect))
        if here and obstacle.center is not None and obstacle.diameter_in and None not in obstacle.center:
            x, y = obstacle.center
            r = obstacle.diameter_in / 2
            found.append(Rect((x or 0) - r, (y or 0) - r, (x or 0) + r, (y or 0) + r))
    return found


def air_handler(job: Job) -> str:
    """Id of the device a thermostat's cable goes to, or empty."""
    for gear in job.gear:
        if not gear.in_enclosure and any(word in gear.what.lower() for word in AIR_HANDLERS):
            return gear.id
    return ""


def runs_for(
    locations: Iterable[Location], enclosure_id: str, thermostat_device: str = ""
) -> tuple[WishedRun, ...]:
    """One run for each cable of each port, from the enclosure, named after its location: ``L01-D1``.

    Args:
        thermostat_device: Where thermostat cables go instead of the enclosure; without it they get no run,
            since a thermostat on the enclosure would be wrong.
    """
    made: list[WishedRun] = []
    for location in locations:
        count: dict[str, int] = {}
        for port in location.ports:
            if port.kind == "T" and not thermostat_device:
                continue
            source = End("device", thermostat_device) if port.kind == "T" else End("enclosure", enclosure_id)
            for _ in range(port.count):
                count[port.kind] = count.get(port.kind, 0) + 1
                name = f"{location.id}-{port.kind}{count[port.kind]}"
                made.append(WishedRun(name, port.kind, source, End("location", location.id)))
    return tuple(made)


def with_proposals(job: Job, proposals: Iterable[Proposal], enclosure_id: str) -> Job:
    """The job with proposals taken, and their runs; what an import does before a person looks."""
    added = tuple(p.location for p in proposals)
    runs = runs_for(added, enclosure_id, air_handler(job))
    return replace(job, locations=(*job.locations, *added), runs=(*job.runs, *runs))


def location_plan_point(job: Job, location: Location) -> tuple[float, float]:
    """Plan point of a location [in]."""
    if location.wall is not None and location.offset_in is not None:
        wall: Wall = job.wall(location.wall)
        return wall_point(wall, location.offset_in)
    return location.x_in or 0.0, location.y_in or 0.0
