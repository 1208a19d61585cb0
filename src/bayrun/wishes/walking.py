"""How a crew walks a house: in by the front door, room after room through the doors, level by level."""

from __future__ import annotations

from bayrun.house import Job, Opening, Room
from bayrun.wishes.room_rules import kind_of_room


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
        (o for o in outside if not _has_kind(job, o, ("garage", "unfinished"))),
        key=lambda o: (
            abs(job.level(job.wall(o.wall).level).subfloor_z_in),
            0 if _has_kind(job, o, ("hall",)) else 1 if _has_kind(job, o, ("living",)) else 2,
            o.id,
        ),
    )
    return ranked[0] if ranked else None


def _is_door(opening: Opening) -> bool:
    return "door" in opening.kind and not opening.is_window and "overhead" not in opening.kind


def _has_kind(job: Job, opening: Opening, kinds: tuple[str, ...]) -> bool:
    level = job.wall(opening.wall).level
    return any(r.level == level and r.name in opening.rooms and kind_of_room(r) in kinds for r in job.rooms)


def area_ft2(room: Room) -> float:
    """Floor area to the wall center lines [ft2]."""
    points = room.polygon
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1], strict=True))
    return abs(twice) / 288
