"""Paths: every wish planned or told, no jump, the right ends, the holes they name."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from bayrun.audit.defects import Defect, point_words
from bayrun.audit.places import LOOSE_IN, entry_at, location_at
from bayrun.audit.reading import V3, Bore, Way
from bayrun.audit.site import Site
from bayrun.geometry import at_most
from bayrun.house import Enclosure
from bayrun.units import tape


def enclosure_of(site: Site, end: tuple[str, str]) -> Enclosure | None:
    """The enclosure an end lies in: named itself, or by gear inside it."""
    kind, name = end
    if kind == "device":
        gear = next((g for g in site.job.gear if g.id == name), None)
        if gear is None or not gear.in_enclosure:
            return None
        name = gear.enclosure
    elif kind != "enclosure":
        return None
    standing = boxes_of(site)
    return next((e for e in standing if e.id == name), standing[0] if standing else None)


def boxes_of(site: Site) -> list[Enclosure]:
    """The enclosures that are built: the one the job goes with first, then the second ones it names."""
    job = site.job
    main = next((e for e in job.enclosures if e.id == job.enclosure), None) or next(
        iter(job.enclosures), None
    )
    if main is None:
        return []
    return [main, *(e for e in job.enclosures if e.id in job.second_enclosures and e.id != main.id)]


def end_words(site: Site, end: tuple[str, str]) -> str:
    """An end by its room."""
    kind, name = end
    if kind == "location":
        room = next((q.room for q in site.job.locations if q.id == name), "")
        return f"{room} ({name})" if room else name
    what = next((g.what for g in site.job.gear if g.id == name), "")
    box = enclosure_of(site, end)
    return what or (f"enclosure in {box.room}" if box else name)


def way_words(site: Site, run: Way) -> str:
    """A run by its two ends."""
    return f"{end_words(site, run.ends[0])} to {end_words(site, run.ends[1])}"


def check_wishes(site: Site) -> Iterator[Defect]:
    """Each wished run is planned or told as unreached, once, as it was wished."""
    plan, job = site.plan, site.job
    planned = Counter(r.id for r in plan.runs)
    told = Counter(str(row["run"]) for row in plan.list("unreached"))
    told_by_finding = {
        name for f in plan.list("findings") if f["rule"] == "run-blocked" for name in f["about"]
    }
    wishes = {w.id: w for w in job.runs}
    for name, wish in wishes.items():
        ends = ((wish.from_end.type, wish.from_end.id), (wish.to_end.type, wish.to_end.id))
        place = f"{end_words(site, ends[0])} to {end_words(site, ends[1])}"
        if planned[name] + told[name] == 0 and name not in told_by_finding:
            says = f"run {name} is wished, but neither planned nor told as unreached"
            yield Defect("run-lost", (name,), place, says)
        if planned[name] + told[name] > 1:
            says = f"run {name} stands {planned[name]} times as planned and {told[name]} times as unreached"
            yield Defect("run-not-wished", (name,), place, says)
    for run in plan.runs:
        wish_of = wishes.get(run.id)
        if wish_of is None:
            yield Defect("run-not-wished", (run.id,), way_words(site, run), f"nobody wished run {run.id}")
            continue
        ends = ((wish_of.from_end.type, wish_of.from_end.id), (wish_of.to_end.type, wish_of.to_end.id))
        if run.kind != wish_of.kind or run.ends != ends:
            says = f"run {run.id} is planned as {run.kind}, {run.ends}; wished was {wish_of.kind}, {ends}"
            yield Defect("run-not-wished", (run.id,), way_words(site, run), says, run.kind, wish_of.kind)
    for name in told:
        if name not in wishes:
            yield Defect("run-not-wished", (name,), "unreached runs", f"nobody wished run {name}")


def check_paths(site: Site) -> Iterator[Defect]:
    """Continuity, ends, and holes named on the way."""
    turns = _turns(site)
    for run in site.plan.runs:
        place = way_words(site, run)
        if len(run.points) < 2:
            yield Defect("path-broken", (run.id,), place, "a path of fewer than two points")
            continue
        for a, b in pairwise(run.points):
            if not _allowed(site, turns, a, b):
                says = f"run {run.id} jumps from {point_words(a)} to {point_words(b)}"
                yield Defect("path-broken", (run.id,), site.place_at(a), says, math.dist(a, b))
        yield from _ends(site, run)
        yield from _named_holes(site, run)


def _turns(site: Site) -> list[tuple[float, float]]:
    """Plan directions a cable may run in: square to the house, and along walls that stand askew."""
    found = {(1.0, 0.0), (0.0, 1.0)}
    for wall in site.job.walls:
        dx, dy = wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]
        size = math.hypot(dx, dy)
        found |= {(dx / size, dy / size), (-dy / size, dx / size)}
    return sorted(found)


def _allowed(site: Site, turns: list[tuple[float, float]], a: V3, b: V3) -> bool:
    dx, dy, dz = (q - p for p, q in zip(a, b, strict=True))
    flat, steep = math.hypot(dx, dy) > LOOSE_IN, abs(dz) > LOOSE_IN
    if flat and steep:
        return False
    if not flat:
        return True
    if any(abs(dx * uy - dy * ux) <= LOOSE_IN for ux, uy in turns):
        return True
    return site.job.practice.straight_in_open_space and any(
        at_most(f.z_bottom_in, a[2]) and at_most(a[2], f.z_top_in + 12.0) for f in site.job.frames
    )


def _ends(site: Site, run: Way) -> Iterator[Defect]:
    entries = run.entry.split("/")  # two of them where a run goes from one enclosure to another
    for word, end, got, entry in (
        ("start", run.ends[0], run.points[0], entries[0]),
        ("end", run.ends[1], run.points[-1], entries[-1]),
    ):
        wanted = end_point(site, end, entry)
        if wanted is None:
            says = f"the {word} of run {run.id} has no place in the job (entry {run.entry or 'not named'})"
            yield Defect("end-misplaced", (run.id, end[1]), end_words(site, end), says)
        elif math.dist(got, wanted) > LOOSE_IN:
            says = (
                f"run {run.id} has its {word} at {point_words(got)}, "
                f"{tape(math.dist(got, wanted))} from {end_words(site, end)} at {point_words(wanted)}"
            )
            yield Defect(
                "end-misplaced", (run.id, end[1]), end_words(site, end), says, math.dist(got, wanted), 0.0
            )


def end_point(site: Site, end: tuple[str, str], entry: str) -> V3 | None:
    """Where an end lies in the world, by the job alone; None where the job does not say."""
    kind, name = end
    if kind == "location":
        location = next((q for q in site.job.locations if q.id == name), None)
        return location_at(site.job, location) if location else None
    box = enclosure_of(site, end)
    if box is not None:
        return entry_at(site.job, box, entry)
    gear = next((g for g in site.job.gear if g.id == name), None)
    if gear is None or gear.x_in is None or gear.y_in is None or gear.z_in is None:
        return None
    return gear.x_in, gear.y_in, gear.z_in


def _named_holes(site: Site, run: Way) -> Iterator[Defect]:
    for point, name, member in zip(run.points, run.holes, run.members, strict=True):
        if not name:
            if member:
                says = f"run {run.id} names the member {member} but no hole in it"
                yield Defect("path-misses-hole", (run.id, member), site.place_at(point), says)
            continue
        hole = site.holes.get(name)
        if hole is None:
            says = f"run {run.id} passes hole {name}, which is not in the plan"
            yield Defect("path-misses-hole", (run.id, name), site.place_at(point), says)
            continue
        if member not in hole.members:
            says = f"run {run.id} passes hole {name} in {member or 'no member'}; it is in {hole.members[0]}"
            yield Defect("path-misses-hole", (run.id, name), site.place_of_hole(hole), says)
        off = from_axis(site, hole, point)
        if off is not None and off > hole.diameter_in / 2 + LOOSE_IN:
            says = f"run {run.id} says it passes hole {name} but stands {tape(off)} beside it"
            yield Defect("path-misses-hole", (run.id, name), site.place_of_hole(hole), says, off, 0.0)


def bore_direction(site: Site, hole: Bore) -> V3 | None:
    """Unit vector of the bit; None where the member is unknown."""
    if hole.axis == "up":
        return 0.0, 0.0, 1.0
    solid = site.solid(hole.members[0])
    if solid is None:
        return None
    if solid.wall is not None:
        (x0, y0), (x1, y1) = solid.wall.start, solid.wall.end
        size = math.hypot(x1 - x0, y1 - y0)
        ux, uy = (x1 - x0) / size, (y1 - y0) / size
        return (ux, uy, 0.0) if hole.axis == "along" else (-uy, ux, 0.0)
    return (0.0, 1.0, 0.0) if solid.runs_x == (hole.axis == "across") else (1.0, 0.0, 0.0)


def from_axis(site: Site, hole: Bore, p: V3) -> float | None:
    """How far a point lies from the middle line of a hole [in]; None where its direction is unknown."""
    axis = bore_direction(site, hole)
    if axis is None:
        return None
    d = (p[0] - hole.at[0], p[1] - hole.at[1], p[2] - hole.at[2])
    along = d[0] * axis[0] + d[1] * axis[1] + d[2] * axis[2]
    return math.dist(d, (along * axis[0], along * axis[1], along * axis[2]))
