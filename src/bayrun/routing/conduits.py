"""Ways of conduits: through the same framing as the cables, each in a hole of its own, with their bends.

A conduit goes from a location or a device to another, or up a named riser to the attic over it. One that is
wished level in a wall goes through its studs at the height said; any other takes the least way by the firm's
table, holes at the size it asks for. Two never share a hole.
Limits of use: corners count as square bends of 90 degrees, as a crew bends them; sweeps between are theirs to
choose. Cables are planned apart: where a cable's hole stands too near, the sheet says so.
Source: NEC 362.26 for the sum of bends, from memory: verify; hole limits as for cables.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from bayrun.framing import Frame, to_wall
from bayrun.geometry import TOUCH_IN, Rect, at_least, at_most, below, near
from bayrun.house import (
    CableKind,
    Conduit,
    End,
    Gear,
    Job,
    Wall,
    WishedRun,
    location_point,
    plate_top_z_in,
    wall_name,
)
from bayrun.limits.bore import clear_span
from bayrun.limits.pieces import Piece
from bayrun.routing.allow import Allowance
from bayrun.routing.route import route
from bayrun.tables import adopt_careful
from bayrun.units import tape
from bayrun.wiring import Hole

LETTER = "CND"
EIGHTH = 0.125


@dataclass(frozen=True, slots=True)
class ConduitHole:
    """One hole of a conduit: where, in words, and whether the wood may have it.

    Args:
        member: Id of the member drilled.
        place: In words.
        at: Center in the world [in].
        why_not: What speaks against it; empty where it is legal.
    """

    member: str
    place: str
    at: tuple[float, float, float]
    diameter_in: float
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class ConduitWay:
    """The way of one conduit.

    Args:
        points: Its corners in the world [in]; empty without a way.
        bends_deg: Sum of its bends from end to end.
        pull_points: Boxes it needs between so that no part bends more than the code lets it.
        why: Why there is no way, or what is not known; empty with one.
        near: Holes of the plan nearer than the firm's gap, in words.
    """

    conduit: Conduit
    points: tuple[tuple[float, float, float], ...]
    length_in: float
    bends_deg: float
    holes: tuple[ConduitHole, ...]
    pull_points: int
    way: str
    why: str = ""
    near: tuple[str, ...] = ()


def hole_for(job: Job, conduit: Conduit) -> float:
    """The hole a conduit is given: as wished, else the firm's least bit that takes it, else the next 1/8."""
    if conduit.hole_in is not None:
        return conduit.hole_in
    fitting = [b for b in job.practice.bits_in if at_least(b, conduit.outside_diameter_in)]
    return min(fitting, default=math.ceil(conduit.outside_diameter_in / EIGHTH - 1e-9) * EIGHTH)


def conduit_ways(job: Job, frame: Frame, holes: Sequence[Hole] = ()) -> tuple[ConduitWay, ...]:
    """The way of every conduit of a job, in its order.

    Args:
        frame: ``framing.lay_out(job)``.
        holes: Of the plan, to be told where one stands too near.
    """
    most_deg = float(
        adopt_careful(job.practice.editions, job.practice.amendments)
        .clause("conduit-bends")
        .value("most_deg")
    )
    made: dict[str, ConduitWay] = {}
    riser_at = _riser_places(job)
    free: dict[float, list[tuple[Conduit, End, End, tuple[Gear, ...]]]] = {}
    for conduit in job.conduits:
        if len(conduit.path) >= 2:
            made[conduit.id] = _way(conduit, conduit.path, (), "as the job file has it", most_deg)
            continue
        at_in = riser_at.get(conduit.id)
        a, b = (_end(job, conduit, p, at_in) for p in (conduit.from_place, conduit.to_place))
        unknown = [p for p, e in ((conduit.from_place, a), (conduit.to_place, b)) if e is None]
        if unknown:
            why = f"cannot tell: “{unknown[0]}” is no location, device or attic over a riser of this job"
            made[conduit.id] = ConduitWay(conduit, (), 0.0, 0.0, (), 0, "", why)
        elif conduit.in_wall is not None and conduit.hole_height_in is not None:
            made[conduit.id] = _level_in_wall(job, frame, conduit, most_deg)
        else:
            assert a is not None
            assert b is not None
            gear = tuple(g for g in (a[1], b[1]) if g is not None)
            free.setdefault(hole_for(job, conduit), []).append((conduit, a[0], b[0], gear))
    for hole_in, asked in sorted(free.items()):
        made.update(_least_ways(job, frame, hole_in, asked, most_deg, riser_at))
    gap_in = job.practice.hole_gap_in
    return tuple(replace(made[c.id], near=_near(made[c.id], holes, gap_in)) for c in job.conduits)


def _end(job: Job, conduit: Conduit, place: str, at_in: float | None) -> tuple[End, Gear | None] | None:
    """An end in the graph; the foot of its riser stands for the attic over it."""
    if any(q.id == place for q in job.locations):
        return End("location", place), None
    if any(g.id == place and not g.in_enclosure and g.x_in is not None for g in job.gear):
        return End("device", place), None
    riser = next((r for r in job.risers if r.id == conduit.riser), None)
    walls = _riser_walls(job, conduit)
    if riser is None or "attic" not in place.lower() or at_in is None or not walls:
        return None
    foot = [f for f in job.frames if f.below_level == walls[0].level and f.id in (riser.frames or (f.id,))]
    if not foot:
        return None
    x, y = _riser_point(walls[0], at_in)
    name = f"{conduit.id}.{riser.id}"
    z = (foot[0].z_bottom_in + foot[0].z_top_in) / 2
    return End("device", name), Gear(name, "the foot of its riser", False, "", walls[0].level, x, y, z)


def _riser_walls(job: Job, conduit: Conduit) -> list[Wall]:
    """The stacked walls of a conduit's riser, low to high."""
    riser = next((r for r in job.risers if r.id == conduit.riser), None)
    by_id = {w.id: w for w in job.walls}
    found = [by_id[name] for name in riser.walls if name in by_id] if riser is not None else []
    return sorted(found, key=lambda w: job.level(w.level).subfloor_z_in)


def _riser_point(wall: Wall, at_in: float) -> tuple[float, float]:
    flat = abs(wall.direction[0]) >= abs(wall.direction[1])
    return (at_in, wall.start[1]) if flat else (wall.start[0], at_in)


def _up_the_riser(
    job: Job, frame: Frame, conduit: Conduit, at_in: float, hole_in: float
) -> tuple[float, tuple[ConduitHole, ...]]:
    """(height at which it ends in the attic, its holes through the plates of the stacked walls)."""
    allowance, holes = Allowance.of(job), []
    over, under = dict(frame.over), dict(frame.under)
    top_z = 0.0
    for wall in _riser_walls(job, conduit):
        level = job.level(wall.level)
        x, y = _riser_point(wall, at_in)
        along = to_wall(wall, x, y)[0]
        for role in ("bottom plate", "top plate"):
            plate = next(
                (m for m in frame.of(wall.id) if m.role == role and m.along[0] <= along <= m.along[1]), None
            )
            if plate is None:
                continue
            top = role == "top plate"
            z = level.subfloor_z_in + (plate.up[0] + plate.up[1]) / 2
            kinds = [k for k in allowance.plate(wall, top=top) if near(k.diameter_in, hole_in)]
            why = "" if kinds else f"a hole of {tape(hole_in)} is more than this plate may have"
            covers = (over if top else under).get(plate.id, ())
            half = hole_in / 2
            lying = [
                c.member for c in covers if c.rect.overlaps(Rect(along - half, -half, along + half, half))
            ]
            if lying and not why:
                says = next((m.says or m.role for m in frame.members if m.id == lying[0]), lying[0])
                why = f"{says} lies {'over' if top else 'under'} it"
            place = f"{role} at {tape(along)} of {wall_name(wall, along)}"
            holes.append(ConduitHole(plate.id, place, (x, y, z), hole_in, why))
        top_z = plate_top_z_in(level) + 6.0
    return top_z, tuple(holes)


def _least_ways(
    job: Job,
    frame: Frame,
    hole_in: float,
    asked: Sequence[tuple[Conduit, End, End, tuple[Gear, ...]]],
    most_deg: float,
    riser_at: Mapping[str, float],
) -> dict[str, ConduitWay]:
    """Conduits of one hole size, laid by the router as if each were a cable that fills its hole."""
    size_in = max(c.outside_diameter_in for c, _, _, _ in asked)
    if below(hole_in, size_in):
        why = f"its hole of {tape(hole_in)} is smaller than the tube, {tape(size_in)} outside"
        return {c.id: ConduitWay(c, (), 0.0, 0.0, (), 0, "", why) for c, _, _, _ in asked}
    tube = CableKind(LETTER, "conduit", size_in, price_per_foot=Decimal("0.00"), bend_radius_x_diameter=1.0)
    practice = replace(job.practice, cables=(tube,), bits_in=(hole_in,), least_hole_in=hole_in, fill_max=1.0)
    runs = tuple(WishedRun(c.id, LETTER, a, b) for c, a, b, _ in asked)
    gear = (*job.gear, *(g for _, _, _, extra in asked for g in extra))
    wiring = route(replace(job, runs=runs, gear=gear, practice=practice, choices=()), frame)
    told = {u.run: u.barred_by for u in wiring.unreached}
    walls = {w.id: w for w in job.walls}
    members = {m.id: m for m in frame.members}
    found: dict[str, ConduitWay] = {}
    for conduit, _, _, _ in asked:
        if conduit.id in told:
            why = f"no way with a hole of {tape(hole_in)}: {told[conduit.id]}"
            found[conduit.id] = ConduitWay(conduit, (), 0.0, 0.0, (), 0, "", why)
            continue
        run = wiring.run(conduit.id)
        points = tuple((p.x, p.y, p.z) for p in run.path)
        mine = tuple(
            ConduitHole(
                h.member, _words(walls.get(h.wall), members[h.member].says, h), (h.x, h.y, h.z), h.diameter_in
            )
            for h in (wiring.hole(name) for name in run.holes)
        )
        way = run.way
        if any(g.id.startswith(f"{conduit.id}.") for g in gear):
            top_z, plates = _up_the_riser(job, frame, conduit, riser_at[conduit.id], hole_in)
            points, mine = (*points, (points[-1][0], points[-1][1], top_z)), (*mine, *plates)
            way += f"; up the riser {conduit.riser} to the attic"
        found[conduit.id] = _way(conduit, points, mine, way, most_deg)
    return found


def _riser_places(job: Job) -> dict[str, float]:
    """Where in its riser each conduit stands: the riser's positions in turn [in]."""
    taken: dict[str, int] = {}
    found: dict[str, float] = {}
    for conduit in job.conduits:
        riser = next((r for r in job.risers if r.id == conduit.riser), None)
        if riser is not None and riser.positions_in:
            number = taken.get(riser.id, 0)
            taken[riser.id] = number + 1
            found[conduit.id] = riser.positions_in[min(number, len(riser.positions_in) - 1)]
    return found


def _words(wall: Wall | None, says: str, hole: Hole) -> str:
    if wall is None:
        return f"{says} at {tape(hole.along_in)}"
    what = "plate" if hole.axis == "up" else "stud"
    height = f", {tape(hole.up_in)} above subfloor" if hole.axis == "along" else ""
    return f"{what} at {tape(hole.along_in)} of {wall_name(wall, hole.along_in)}{height}"


def _way(
    conduit: Conduit,
    points: tuple[tuple[float, float, float], ...],
    holes: tuple[ConduitHole, ...],
    way: str,
    most_deg: float,
) -> ConduitWay:
    length_in = sum(math.dist(p, q) for p, q in itertools.pairwise(points))
    bends = bends_deg(points)
    pull_points = max(0, math.ceil(bends / most_deg - 1e-9) - 1)
    return ConduitWay(conduit, points, length_in, bends, holes, pull_points, way)


def bends_deg(points: Sequence[tuple[float, float, float]]) -> float:
    """Sum of the turns of a line of points [degrees]."""
    steps = [
        tuple(q - p for p, q in zip(a, b, strict=True))
        for a, b in itertools.pairwise(points)
        if math.dist(a, b) > TOUCH_IN
    ]
    total = 0.0
    for u, v in itertools.pairwise(steps):
        dot = sum(p * q for p, q in zip(u, v, strict=True)) / (math.hypot(*u) * math.hypot(*v))
        total += math.degrees(math.acos(min(1.0, max(-1.0, dot))))
    return round(total, 6)


def _level_in_wall(job: Job, frame: Frame, conduit: Conduit, most_deg: float) -> ConduitWay:
    """Level through the studs of its wall at the height said, then up or down to its two boxes."""
    wall = next((w for w in job.walls if w.id == conduit.in_wall), None)
    ends = [
        next((q for q in job.locations if q.id == p), None) for p in (conduit.from_place, conduit.to_place)
    ]
    if wall is None or any(q is None or q.wall != wall.id or q.offset_in is None for q in ends):
        why = f"cannot tell: both its ends must stand in wall {conduit.in_wall}, where it is wished level"
        return ConduitWay(conduit, (), 0.0, 0.0, (), 0, "", why)
    first, last = (location_point(job, q) for q in ends if q is not None)
    offsets = [q.offset_in or 0.0 for q in ends if q is not None]
    level = job.level(wall.level)
    room = next(q.room for q in ends if q is not None)
    finish = next(
        (r.floor_finish_in - r.floor_drop_in for r in job.rooms if r.name == room and r.level == wall.level),
        0.0,
    )
    up_in = (conduit.hole_height_in or 0.0) + finish
    z = level.subfloor_z_in + up_in
    low, high = sorted(offsets)
    adopted = adopt_careful(job.practice.editions, job.practice.amendments)
    hole_in = hole_for(job, conduit)
    piece = Piece("sawn", "stud", wall.thickness_in, wall.counts_as_bearing, wall.exterior)
    span = clear_span(piece, hole_in, adopted)
    middle = wall.thickness_in / 2
    fits = span is not None and at_least(middle, span[0]) and at_most(middle, span[1])
    dx, dy = wall.direction
    holes = []
    for m in sorted(frame.of(wall.id), key=lambda m: m.along[0]):
        center = (m.along[0] + m.along[1]) / 2
        if not (low < center < high and m.up[0] < up_in < m.up[1]) or "plate" in m.role:
            continue
        why = ""
        if m.never_drilled and m.role != "backing":
            why = f"{m.says or m.role}: nothing is drilled"
        elif not fits:
            why = f"a hole of {tape(hole_in)} is more than this stud may have"
        place = (
            f"{m.says or m.role} at {tape(center)} of {wall_name(wall, center)}, {tape(up_in)} above subfloor"
        )
        at = (wall.start[0] + dx * center, wall.start[1] + dy * center, z)
        holes.append(ConduitHole(m.id, place, at, hole_in, why))
    points = (first, (first[0], first[1], z), (last[0], last[1], z), last)
    clean = tuple(p for i, p in enumerate(points) if i == 0 or math.dist(p, points[i - 1]) > TOUCH_IN)
    way = f"level in {wall_name(wall)} at {tape(up_in)} above subfloor, through {len(holes)} members"
    return _way(conduit, clean, tuple(holes), way, most_deg)


def _near(way: ConduitWay, holes: Sequence[Hole], gap_in: float) -> tuple[str, ...]:
    found = []
    for mine in way.holes:
        for other in holes:
            if mine.member not in (other.member, *other.plies):
                continue
            apart = (
                math.dist(mine.at, (other.x, other.y, other.z)) - (mine.diameter_in + other.diameter_in) / 2
            )
            if below(apart, gap_in):
                found.append(f"{other.id} leaves {tape(max(apart, 0.0))} of wood to it in the {mine.place}")
    return tuple(found)
