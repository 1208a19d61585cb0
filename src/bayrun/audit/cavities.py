"""Where cables lie: in walls, floors and attics only, through wood only at holes, never in another trade."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from bayrun.audit.defects import Defect
from bayrun.audit.obstacles import Body
from bayrun.audit.paths import boxes_of, from_axis
from bayrun.audit.places import (
    LOOSE_IN,
    box_heights,
    inside_share,
    left_over,
    location_at,
    on_segment,
    to_wall,
)
from bayrun.audit.reading import V3, Bore, Way
from bayrun.audit.site import Site
from bayrun.geometry import TOUCH_IN, at_most
from bayrun.house import Barrier, Wall
from bayrun.units import tape

SUBFLOOR_IN = 0.75
"""Panel between a bottom plate and the joists: drilled with the plate [in]. Common practice, no source."""
PLATE_REACH_IN = 3.0
"""A floor or attic is followed this far past its frame: over the plates it bears on [in]. Our own figure."""
ATTIC_IN = 96.0
"""How high an attic is followed over its chords; the job need not give the deck [in]. Our own figure."""
DROP_IN = 4.0
"""A drop to a ceiling place may stand beside the chord it meets: this far from it in plan [in]. Our own."""
DEVICE_IN = 12.0
"""A cable to a device leaves the wall or ceiling within this of it in plan [in]. Our own figure."""


class Cavities:
    """Clear space of the house, to hold segments against."""

    def __init__(self, site: Site) -> None:
        """Collect walls, frames, drops and bodies of the job."""
        self.site = site
        job = site.job
        self.walls: list[tuple[Wall, V3, V3]] = []
        for wall in job.walls:
            if wall.layout is None:
                continue
            half, top = wall.thickness_in / 2, job.level(wall.level).plate_top_in
            low = (wall.plate_start_in, -half, -SUBFLOOR_IN)
            self.walls.append((wall, low, (wall.plate_end_in, half, top)))
        self.spaces: list[tuple[V3, V3]] = []
        for f in job.frames:
            x0, y0, x1, y1 = f.area
            over = ATTIC_IN if f.below_level is None else SUBFLOOR_IN
            self.spaces.append(
                (
                    (x0 - PLATE_REACH_IN, y0 - PLATE_REACH_IN, f.z_bottom_in),
                    (x1 + PLATE_REACH_IN, y1 + PLATE_REACH_IN, f.z_top_in + over),
                )
            )
        self.bodies: list[Body] = site.bodies
        self.openings = {w.id: [o for o in job.openings if o.wall == w.id] for w in job.walls}

    def bare(self, p: V3, q: V3) -> float:
        """How much of a segment lies in no wall, floor or attic [in]; doors and windows are none."""
        taken: list[tuple[float, float]] = []
        for low, high in self.spaces:
            part = inside_share(p, q, low, high, -LOOSE_IN)
            if part is not None:
                taken.append(part)
        free = left_over(taken)
        if not free:
            return 0.0
        for wall, low, high in self.walls:
            a, b = to_wall(self.site.job, wall, p), to_wall(self.site.job, wall, q)
            part = inside_share(a, b, low, high, -LOOSE_IN)
            if part is None:
                continue
            cuts: list[tuple[float, float]] = []
            for o in self.openings[wall.id]:
                hole_low = (o.offset_in, low[1] - 1.0, o.sill_in)
                hole_high = (o.offset_in + o.width_in, high[1] + 1.0, o.sill_in + o.height_in)
                cut = inside_share(a, b, hole_low, hole_high, LOOSE_IN)
                if cut is not None:
                    cuts.append(cut)
            taken += _minus(part, cuts)
        return math.fsum(b - a for a, b in left_over(taken)) * math.dist(p, q)


def _minus(part: tuple[float, float], cuts: list[tuple[float, float]]) -> list[tuple[float, float]]:
    left = [part]
    for a, b in cuts:
        left = [
            piece for lo, hi in left for piece in ((lo, min(hi, a)), (max(lo, b), hi)) if piece[1] > piece[0]
        ]
    return left


def check_cavities(site: Site) -> Iterator[Defect]:
    """Open rooms, wood without holes, obstacles, separations and the enclosure, run by run."""
    cavities = Cavities(site)
    judged: dict[tuple[V3, V3], list[int]] = {}
    hung: dict[tuple[V3, V3], float] = {}
    for run in site.plan.runs:
        mine = [site.holes[h] for h in dict.fromkeys(run.holes) if h in site.holes]
        for p, q in pairwise(run.points):
            if math.dist(p, q) <= LOOSE_IN:
                continue
            if (p, q) not in hung:
                hung[p, q] = cavities.bare(p, q)
                judged[p, q] = site.near.of(p, q)
            if hung[p, q] > 0.01 and not _is_drop(site, run, p, q):
                says = f"run {run.id} hangs {tape(hung[p, q])} in a room, door or window"
                yield Defect("path-in-open-room", (run.id,), site.place_at(p), says, hung[p, q], 0.0)
            yield from _wood(site, run, mine, p, q, judged[p, q])
            yield from _obstacles(site, cavities, run, p, q)
            yield from _separations(site, run, p, q)
    yield from _bores_and_obstacles(site, cavities)


def _is_drop(site: Site, run: Way, p: V3, q: V3) -> bool:
    """True for the straight drop to a ceiling place, soffit or device of this run."""
    for kind, name in run.ends:
        at: V3 | None = None
        near = DROP_IN
        if kind == "location":
            location = next((x for x in site.job.locations if x.id == name), None)
            level = next((lv for lv in site.job.levels if location and lv.id == location.level), None)
            at = location_at(site.job, location) if location else None
            aloft = (
                level is not None
                and at is not None
                and (at[2] > level.subfloor_z_in + level.plate_top_in - 3.0)
            )
            if location is not None and location.wall is not None and not aloft:
                at = None
        elif kind == "device":
            gear = next((g for g in site.job.gear if g.id == name and not g.in_enclosure), None)
            if gear is not None and gear.x_in is not None and gear.y_in is not None and gear.z_in is not None:
                at, near = (gear.x_in, gear.y_in, gear.z_in), DEVICE_IN
        if at is not None and all(math.hypot(e[0] - at[0], e[1] - at[1]) <= near for e in (p, q)):
            return True
    return False


def _wood(site: Site, run: Way, mine: list[Bore], p: V3, q: V3, nearby: list[int]) -> Iterator[Defect]:
    for i in nearby:
        solid = site.solids[i]
        part = solid.met_by(site.job, p, q)
        if part is None or (part[1] - part[0]) * math.dist(p, q) <= LOOSE_IN:
            continue
        ends = (on_segment(p, q, part[0]), on_segment(p, q, part[1]))
        if any(_inside_hole(site, hole, i, ends) for hole in mine):
            continue
        never = solid.never or solid.role == "barrier"
        says = f"run {run.id} passes {solid.what} with no hole of its own there"
        if never:
            says = f"run {run.id} passes {solid.what}, where nothing is drilled"
        kind = "crosses-never-member" if never else "crosses-without-hole"
        yield Defect(kind, (run.id, site.name(i)), site.place_of(solid), says)


def _inside_hole(site: Site, hole: Bore, index: int, ends: tuple[V3, V3]) -> bool:
    if index not in {site.by_id.get(name) for name in hole.members}:
        return False
    offs = [from_axis(site, hole, e) for e in ends]
    return all(off is not None and off <= hole.diameter_in / 2 + LOOSE_IN for off in offs)


def _obstacles(site: Site, cavities: Cavities, run: Way, p: V3, q: V3) -> Iterator[Defect]:
    for body in cavities.bodies:
        part = body.share_inside(p, q)
        if part is not None and not _at_device(
            site, run, on_segment(p, q, part[0]), on_segment(p, q, part[1])
        ):
            says = f"run {run.id} runs into {body.obstacle.kind} ({body.obstacle.id})"
            yield Defect("obstacle-entered", (run.id, body.obstacle.id), site.place_at(p), says)
        elif body.crossing_over_in is not None:
            yield from _main(site, body, run, p, q)
    yield from _enclosure(site, run, p, q)


def _main(site: Site, body: Body, run: Way, p: V3, q: V3) -> Iterator[Defect]:
    """A main may be crossed square, well above it, and nothing runs along over it."""
    x0, y0, x1, y1 = body.flat
    over = body.crossing_over_in or 0.0
    low, high = (x0, y0, body.z[0]), (x1, y1, body.z[1] + over)
    if inside_share(p, q, low, high, TOUCH_IN) is None:
        return
    says = f"run {run.id} passes less than {tape(over)} above {body.obstacle.kind} ({body.obstacle.id})"
    gap = min(p[2], q[2]) - body.z[1]
    yield Defect("obstacle-entered", (run.id, body.obstacle.id), site.place_at(p), says, gap, over)


def _at_device(site: Site, run: Way, p: V3, q: V3) -> bool:
    """True where the part inside is the run's own device: the obstacle is what it ends on."""
    for (kind, name), end in ((run.ends[0], run.points[0]), (run.ends[1], run.points[-1])):
        device = kind == "device" and any(g.id == name and not g.in_enclosure for g in site.job.gear)
        if device and all(math.hypot(e[0] - end[0], e[1] - end[1]) <= DEVICE_IN for e in (p, q)):
            return True
    return False


def _enclosure(site: Site, run: Way, p: V3, q: V3) -> Iterator[Defect]:
    """No cable passes behind or through a box itself."""
    for box in boxes_of(site):
        wall = site.job.wall(box.wall)
        low_z, high_z = box_heights(site.job, box)
        base = site.job.level(box.level).subfloor_z_in
        middle, half = sum(box.bay_studs_in) / 2, box.width_in / 2
        deep = wall.thickness_in / 2
        a, b = to_wall(site.job, wall, p), to_wall(site.job, wall, q)
        low, high = (middle - half, -deep, low_z - base), (middle + half, deep, high_z - base)
        if inside_share(a, b, low, high, LOOSE_IN) is not None:
            says = f"run {run.id} passes through the enclosure itself"
            yield Defect("obstacle-entered", (run.id, box.id), site.place_at(p), says)


def _bores_and_obstacles(site: Site, cavities: Cavities) -> Iterator[Defect]:
    for hole in site.plan.holes:
        if hole.axis != "up" or hole.open_passage:
            continue
        for body in cavities.bodies:
            if body.z[0] < hole.at[2] < body.z[1] and body.near_bore(hole.at, hole.diameter_in / 2):
                says = f"hole {hole.id} runs into {body.obstacle.kind} ({body.obstacle.id})"
                about = (hole.id, body.obstacle.id)
                yield Defect("obstacle-entered", about, site.place_of_hole(hole), says)


def _separations(site: Site, run: Way, p: V3, q: V3) -> Iterator[Defect]:
    for barrier in site.job.barriers:
        sleeve = barrier.pass_point
        if barrier.needs_seal and sleeve is None:
            continue
        for line in barrier.lines:
            at = _crossing(p, q, line)
            if at is None or not any(lo < at[2] < hi for lo, hi in _heights(site, barrier)):
                continue
            if sleeve is not None:
                off = math.dist(at, (sleeve.x_in, sleeve.y_in, sleeve.z_in))
                if at_most(off, sleeve.diameter_in / 2 + barrier.depth_in):
                    continue
            says = f"run {run.id} crosses the {barrier.kind} ({barrier.id}), where nothing may pass"
            yield Defect("separation-crossed", (run.id, barrier.id), site.place_at(at), says)


def _heights(site: Site, barrier: Barrier) -> list[tuple[float, float]]:
    job = site.job
    found = [
        (lv.subfloor_z_in, lv.subfloor_z_in + lv.plate_top_in) for lv in job.levels if lv.id in barrier.levels
    ]
    found += [(f.z_bottom_in, f.z_top_in) for f in job.frames if f.id in barrier.frames]
    if "attic" in barrier.levels:
        found.append((max(lv.subfloor_z_in + lv.plate_top_in for lv in job.levels), math.inf))
    return found


def _crossing(p: V3, q: V3, line: tuple[tuple[float, float], tuple[float, float]]) -> V3 | None:
    """Where a segment goes from one side of a plan line to the other, within its length."""
    (ax, ay), (bx, by) = line
    length = math.hypot(bx - ax, by - ay)
    nx, ny = (ay - by) / length, (bx - ax) / length
    s = (p[0] - ax) * nx + (p[1] - ay) * ny
    t = (q[0] - ax) * nx + (q[1] - ay) * ny
    if s * t >= 0 or min(abs(s), abs(t)) <= TOUCH_IN:
        return None
    at = on_segment(p, q, s / (s - t))
    along = ((at[0] - ax) * (bx - ax) + (at[1] - ay) * (by - ay)) / length
    return at if TOUCH_IN < along < length - TOUCH_IN else None
