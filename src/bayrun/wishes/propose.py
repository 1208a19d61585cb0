"""Proposed locations of a house by the firm's room rules, each with its reason. Nothing is added silently."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from bayrun.geometry import at_most, near
from bayrun.house import Job, Location, Opening, Port, Room
from bayrun.units import tape
from bayrun.wishes.ceilings import CEILING_CLEAR_IN, clear_ceilings, middle_of
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
from bayrun.wishes.runs import air_handler, runs_for
from bayrun.wishes.spots import Spot, spots
from bayrun.wishes.walking import area_ft2, front_door, walking_order

APART_IN = 8.0
"""Least distance along a wall between two boxes at about one height, either face [in]. Common practice."""
SAME_HEIGHT_IN = 8.0


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
                for p in clear_ceilings(self.job, level, r)
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
        far = max(min(math.dist(middle_of(room), point) for _, point in chosen) for room in lived)
        room, (x, y) = chosen[-1]
        # a hall a few feet off the best point beats a bedroom on it
        return round(far / 36), ACCESS_POINT.rooms.index(kind_of_room(room)), x, y

    def _access_point(self, room: Room, point: tuple[float, float]) -> None:
        level = self.job.level(room.level)
        height = level.plate_top_in - level.ceiling_board_in - room.floor_finish_in + room.floor_drop_in
        why = f"near the middle of the ceiling, {tape(CEILING_CLEAR_IN)} and more from joists"
        self._take(room, ACCESS_POINT, why, height_in=height, x_in=point[0], y_in=point[1])


def with_proposals(job: Job, proposals: Iterable[Proposal], enclosure_id: str) -> Job:
    """The job with proposals taken, and their runs; what an import does before a person looks."""
    added = tuple(p.location for p in proposals)
    runs = runs_for(added, enclosure_id, air_handler(job))
    return replace(job, locations=(*job.locations, *added), runs=(*job.runs, *runs))
