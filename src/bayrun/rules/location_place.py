"""Where a box can stand: not on a stud, in an opening or header, behind a door or a cabinet."""

from __future__ import annotations

import math

from bayrun.findings import Finding, Fix, Severity
from bayrun.framing.records import Member
from bayrun.geometry import Rect, at_least, at_most, below
from bayrun.house import Location, Opening, Wall, place_of_location, wall_point
from bayrun.house.places import finish_in
from bayrun.rules.case import Case
from bayrun.rules.words import found, member_says

ON_MEMBER, IN_OPENING, BEHIND_DOOR, BEHIND_CABINET, AT_JAMB = (
    "location-on-member",
    "location-in-opening",
    "location-behind-door",
    "location-behind-cabinet",
    "location-at-jamb",
)
FULL = ("stud", "end stud", "king", "jack", "backing", "post", "cripple")
HIDES = ("cabinet", "vanity", "mirror", "built-in")


def _on_walls(case: Case) -> list[tuple[Location, Wall, float]]:
    """Locations with a box in a framed wall, their wall, and their height above the subfloor [in]."""
    found_ = []
    for location in case.job.locations:
        wall = case.walls.get(location.wall or "")
        if location.mount != "wall" or wall is None or location.offset_in is None:
            continue
        if wall.framed and location.level == wall.level:
            found_.append((location, wall, location.height_in + finish_in(case.job, location)))
    return found_


def _box_rect(case: Case, location: Location, up_in: float) -> Rect:
    clause = case.adopted.clause("location-place")
    w, h = float(clause.value("box_width_in")) / 2, float(clause.value("box_height_in")) / 2
    at_in = location.offset_in or 0.0
    return Rect(at_in - w, up_in - h, at_in + w, up_in + h)


def check_on_member(case: Case) -> tuple[Finding, ...]:
    """Boxes whose place a stud takes: move it beside the stud. Source: common practice."""
    findings = []
    for location, wall, up_in in _on_walls(case):
        rect = _box_rect(case, location, up_in)
        hits = [m for m in _uprights(case, wall) if _rect_of(m).overlaps(rect)]
        if not hits:
            continue
        stud = hits[0]
        at_in = location.offset_in or 0.0
        on_it = any(at_least(at_in, m.along[0]) and at_most(at_in, m.along[1]) for m in hits)
        says = (
            f"The box of {location.id} {'stands on' if on_it else 'reaches into'} {member_says(stud)} "
            f"(edges at {found(stud.along[0])} and {found(stud.along[1])})."
        )
        findings.append(
            Finding(
                ON_MEMBER,
                Severity.STOP if on_it else Severity.FIX_SOON,
                (location.id, stud.id),
                place_of_location(case.job, location),
                says,
                location.offset_in,
                source=case.adopted.clause("location-place").source,
                fixes=_beside(case, location, wall, up_in),
            )
        )
    return tuple(findings)


def _uprights(case: Case, wall: Wall) -> list[Member]:
    return [m for m in case.frame.members if m.host == wall.id and m.role in FULL]


def _rect_of(member: Member) -> Rect:
    return Rect(member.along[0], member.up[0], member.along[1], member.up[1])


def _beside(
    case: Case, location: Location, wall: Wall, up_in: float, keep_in: float = 0.0
) -> tuple[Fix, ...]:
    """The nearest place beside a stud where the whole box is clear of members and openings."""
    half_in = float(case.adopted.value("location-place", "box_width_in")) / 2
    now_in = location.offset_in or 0.0
    members = [m for m in case.frame.members if m.host == wall.id]
    tries = [m.along[1] + half_in for m in members if m.role in FULL]
    tries += [m.along[0] - half_in for m in members if m.role in FULL]
    for to_in in sorted(tries, key=lambda t: (abs(t - now_in), t)):
        if not stands_clear(case, wall, to_in, up_in) or _at_jamb(case, wall, to_in, up_in, keep_in):
            continue
        by_in = abs(to_in - now_in)
        says = f"Move the box {found(by_in)} to {found(to_in)} from the wall's start, against the stud."
        return (Fix("move_location", (location.id, to_in), says),)
    return ()


def _at_jamb(case: Case, wall: Wall, along_in: float, up_in: float, keep_in: float) -> bool:
    """True where a box is nearer than ``keep_in`` to an opening beside it."""
    half_in = float(case.adopted.value("location-place", "box_width_in")) / 2 + keep_in
    return any(
        o.wall == wall.id
        and at_least(up_in, o.sill_in)
        and at_most(up_in, o.head_in)
        and below(o.offset_in - half_in, along_in)
        and below(along_in, o.offset_in + o.width_in + half_in)
        for o in case.job.openings
    )


def stands_clear(case: Case, wall: Wall, along_in: float, up_in: float) -> bool:
    """True where a box at an offset and a height above the subfloor meets no member, opening or wall end."""
    half_in = float(case.adopted.value("location-place", "box_width_in")) / 2
    if below(along_in - half_in, wall.plate_start_in) or below(wall.plate_end_in, along_in + half_in):
        return False
    rect = Rect(along_in - half_in, up_in - 2.0, along_in + half_in, up_in + 2.0)
    members = (m for m in case.frame.members if m.host == wall.id)
    return not any(_rect_of(m).overlaps(rect) for m in members) and _opening_at(case, wall, rect) is None


def _opening_at(case: Case, wall: Wall, rect: Rect) -> Opening | None:
    for o in case.job.openings:
        room = Rect(o.offset_in, o.sill_in, o.offset_in + o.width_in, o.head_in + o.header_depth_in)
        if o.wall == wall.id and room.overlaps(rect):
            return o
    return None


def check_in_opening(case: Case) -> tuple[Finding, ...]:
    """Boxes drawn in a door or window, or in its header. Source: arithmetic; headers are never cut."""
    findings = []
    for location, wall, up_in in _on_walls(case):
        opening = _opening_at(case, wall, _box_rect(case, location, up_in))
        if opening is None:
            continue
        what = "in the header of" if below(opening.head_in, up_in) else "in"
        says = f"The box of {location.id} lands {what} the {opening.kind} {opening.id}: no wall to hold it."
        findings.append(
            Finding(
                IN_OPENING,
                Severity.STOP,
                (location.id, opening.id),
                place_of_location(case.job, location),
                says,
                location.offset_in,
                source=case.adopted.clause("built-up" if "header" in what else "location-place").source,
                fixes=_beside(case, location, wall, up_in),
            )
        )
    return tuple(findings)


def check_behind_door(case: Case) -> tuple[Finding, ...]:
    """Boxes a door's leaf covers when it stands open: a note. Source: common practice."""
    findings = []
    for location, wall, up_in in _on_walls(case):
        for door in case.job.openings:
            if door.swings_into != location.room or door.hinge_end is None or door.wall not in case.walls:
                continue
            if case.walls[door.wall].level != location.level or below(door.head_in, up_in):
                continue
            if not _leaf_covers(case, door, location, wall):
                continue
            says = (
                f"The box of {location.id} stands behind the {door.kind} {door.id} when it is open "
                f"({found(door.width_in)} leaf)."
            )
            findings.append(
                Finding(
                    BEHIND_DOOR,
                    Severity.NOTE,
                    (location.id, door.id),
                    place_of_location(case.job, location),
                    says,
                    source=case.adopted.clause("location-place").source,
                )
            )
    return tuple(findings)


def _leaf_covers(case: Case, door: Opening, location: Location, wall: Wall) -> bool:
    """True where an open leaf lies on the wall at the location: beside its hinge on the door's own wall, or
    on the wall it opens against."""
    door_wall = case.walls[door.wall]
    hinge_in = door.offset_in if door.hinge_end == "low" else door.offset_in + door.width_in
    at_in = location.offset_in or 0.0
    if wall.id == door.wall:
        away_in = hinge_in - at_in if door.hinge_end == "low" else at_in - hinge_in
        return below(0.0, away_in) and at_most(away_in, door.width_in)
    crossing = abs(wall.direction[0] * door_wall.direction[0] + wall.direction[1] * door_wall.direction[1])
    if crossing > 0.1:
        return False
    hinge = wall_point(door_wall, hinge_in)
    box = wall_point(wall, at_in)
    # The wall it opens against stands within a hand of the hinge; the leaf then covers its width of it.
    beside_in = abs(
        (box[0] - hinge[0]) * door_wall.direction[0] + (box[1] - hinge[1]) * door_wall.direction[1]
    )
    return at_most(beside_in, 8.0) and at_most(math.dist(hinge, box), door.width_in + 3.0)


def check_behind_cabinet(case: Case) -> tuple[Finding, ...]:
    """Boxes behind a cabinet, vanity or mirror. Source: common practice."""
    findings = []
    for location, wall, up_in in _on_walls(case):
        x, y = wall_point(wall, location.offset_in or 0.0)
        for thing in case.job.obstacles:
            if thing.rect is None or thing.z_in is None or not any(word in thing.kind for word in HIDES):
                continue
            if thing.levels and location.level not in thing.levels:
                continue
            reach_in = wall.thickness_in / 2 + 1.0
            if not Rect(*thing.rect).grown(reach_in).holds(x, y):
                continue
            if not _faces(wall, location, thing.rect):
                continue
            z_in = case.job.level(wall.level).subfloor_z_in + up_in  # heights of things count in the world
            if below(z_in, thing.z_in[0]) or below(thing.z_in[1], z_in):
                continue
            says = f"The box of {location.id} is behind the {thing.kind}: reach it or move it before cover."
            findings.append(
                Finding(
                    BEHIND_CABINET,
                    Severity.NOTE,
                    (location.id, thing.id),
                    place_of_location(case.job, location),
                    says,
                    source=case.adopted.clause("location-place").source,
                )
            )
    return tuple(findings)


def _faces(wall: Wall, location: Location, rect: tuple[float, float, float, float]) -> bool:
    """True where a thing stands on the side of the wall the location shows to."""
    mx, my = (rect[0] + rect[2]) / 2 - wall.start[0], (rect[1] + rect[3]) / 2 - wall.start[1]
    dx, dy = wall.direction
    across_in = -mx * dy + my * dx
    side = "left" if across_in > 0 else "right"
    return location.side in (None, side)


def check_at_jamb(case: Case) -> tuple[Finding, ...]:
    """Boxes so near a door or window that its casing meets the plate: a note. Source: common practice."""
    clause = case.adopted.clause("location-place")
    keep_in, half_in = float(clause.value("jamb_in")), float(clause.value("box_width_in")) / 2
    findings = []
    for location, wall, up_in in _on_walls(case):
        at_in = location.offset_in or 0.0
        for opening in case.job.openings:
            if opening.wall != wall.id or below(up_in, opening.sill_in) or below(opening.head_in, up_in):
                continue
            low_in, high_in = opening.offset_in, opening.offset_in + opening.width_in
            gap_in = max(low_in - at_in, at_in - high_in) - half_in
            if below(gap_in, 0.0) or at_least(gap_in, keep_in):
                continue
            says = (
                f"The box of {location.id} is {found(gap_in)} from the {opening.kind} {opening.id}: its jamb "
                f"studs and casing take {found(keep_in)}."
            )
            place = place_of_location(case.job, location)
            about = (location.id, opening.id)
            findings.append(
                Finding(
                    AT_JAMB, Severity.NOTE, about, place, says, gap_in, keep_in, source=clause.source,
                    fixes=_beside(case, location, wall, up_in, keep_in),
                )
            )  # fmt: skip
    return tuple(findings)
