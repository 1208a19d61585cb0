"""Holes: in their members, where they say they are, and what the adopted code allows, exactly."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from bayrun.audit.defects import Defect, point_words
from bayrun.audit.places import LOOSE_IN, to_world
from bayrun.audit.reading import Bore
from bayrun.audit.site import Site
from bayrun.audit.solids import Solid
from bayrun.geometry import below, near
from bayrun.house import FloorFrame
from bayrun.units import tape

BIT_OUT_IN = 6.0
"""A bit through a plate needs this much clear way beyond it [in]. Common practice, no source."""
SUBFLOOR_IN = 0.75


def check_holes(site: Site) -> Iterator[Defect]:
    """Every hole by itself, then holes of one member together."""
    for name, n in Counter(h.id for h in site.plan.holes).items():
        if n > 1:
            yield Defect("id-twice", (name,), "holes", f"{n} holes are called {name}")
    for hole in site.plan.holes:
        solids = [(name, site.solid(name)) for name in hole.members]
        for name, solid in solids:
            if solid is None:
                says = f"hole {hole.id} is in {name}, which does not stand in this house"
                yield Defect("hole-in-nothing", (hole.id, name), site.place_at(hole.at), says)
        found = [s for _, s in solids if s is not None]
        if not found:
            continue
        yield from _placed(site, hole, found)
        for solid in found:
            yield from _legal(site, hole, solid)
        if not hole.open_passage:
            yield from _bit(site, hole)
        if hole.axis == "up":
            yield from _way_out(site, hole, found[0])
    yield from _spacing(site)


# places


def _placed(site: Site, hole: Bore, solids: list[Solid]) -> Iterator[Defect]:
    """Tape coordinates equal world coordinates, and the circle lies in the wood of every ply."""
    main = solids[0]
    place = site.place_of_hole(hole)
    if main.wall is not None:
        x, y = to_world(main.wall, hole.along_in, hole.across_in)
        told = (x, y, site.job.level(main.wall.level).subfloor_z_in + hole.up_in)
    else:
        along = hole.along_in + main.along[0]
        z = hole.up_in
        local = main.local(site.job, hole.at)
        told = (along, local[1], z) if main.runs_x else (local[1], along, z)
        if main.role != "barrier" and abs(hole.across_in - (z - main.up[0])) > LOOSE_IN:
            says = (
                f"hole {hole.id} is told {tape(hole.across_in)} above the bottom of {main.what}, "
                f"its height says {tape(z - main.up[0])}"
            )
            yield Defect("hole-misplaced", (hole.id,), place, says, hole.across_in, z - main.up[0])
    if math.dist(told, hole.at) > LOOSE_IN:
        says = (
            f"hole {hole.id} is told at {point_words(hole.at)}; its tape coordinates give {point_words(told)}"
        )
        yield Defect("hole-misplaced", (hole.id,), place, says, math.dist(told, hole.at), 0.0)
    radius = hole.diameter_in / 2
    if radius <= 0:
        yield Defect("hole-misplaced", (hole.id,), place, f"hole {hole.id} has no size", hole.diameter_in)
        return
    bit = {"along": 0, "across": 1, "up": 2}[hole.axis]
    mouths: list[float] = []
    for solid in solids:
        local = solid.local(site.job, hole.at)
        mouths += [solid.low[bit], solid.high[bit]]
        for k, word in enumerate(("along", "across", "up")):
            if k == bit or (k == 2 and solid.anywhere_above):
                continue
            low, high = solid.low[k] + radius, solid.high[k] - radius
            if below(local[k], low - LOOSE_IN) or below(high + LOOSE_IN, local[k]):
                says = (
                    f"hole {hole.id}, {tape(hole.diameter_in)} wide, leaves {solid.what} {word}: center at "
                    f"{tape(local[k])} in {tape(solid.low[k])} to {tape(solid.high[k])}"
                )
                yield Defect("hole-misplaced", (hole.id,), place, says, local[k])
    at = solids[0].local(site.job, hole.at)[bit]
    if below(at, min(mouths) - LOOSE_IN) or below(max(mouths) + LOOSE_IN, at):
        says = f"hole {hole.id} does not lie between the faces of {main.what}"
        yield Defect("hole-misplaced", (hole.id,), place, says, at)


def _bit(site: Site, hole: Bore) -> Iterator[Defect]:
    bits = site.job.practice.bits_in
    if not any(near(hole.diameter_in, b) for b in bits):
        says = f"hole {hole.id} is {tape(hole.diameter_in)}; no bit on the truck makes it"
        yield Defect("hole-not-a-bit", (hole.id,), site.place_of_hole(hole), says, hole.diameter_in)


def _way_out(site: Site, hole: Bore, plate: Solid) -> Iterator[Defect]:
    """Nothing lies over a hole in a top plate or under one in a bottom plate."""
    if plate.wall is None:
        return
    level = site.job.level(plate.wall.level)
    base = level.subfloor_z_in
    top = plate.role == "top plate"
    face = base + plate.up[1] if top else base - (0.0 if level.slab else SUBFLOOR_IN)
    low, high = (face, face + BIT_OUT_IN) if top else (face - BIT_OUT_IN, face)
    x, y, _ = hole.at
    radius = hole.diameter_in / 2
    where = "over" if top else "under"
    if not top and level.slab:
        says = f"hole {hole.id} goes down into a slab"
        yield Defect("plate-hole-barred", (hole.id,), site.place_of_hole(hole), says)
    for i in site.near.of((x - radius, y - radius, low), (x + radius, y + radius, high)):
        solid = site.solids[i]
        if (
            solid.wall is not None
            or solid.role == "barrier"
            or not (solid.up[0] < high and solid.up[1] > low)
        ):
            continue
        x0, y0, x1, y1 = solid.flat
        off = math.hypot(max(x0 - x, x - x1, 0.0), max(y0 - y, y - y1, 0.0))
        if below(off, radius - LOOSE_IN):
            says = f"{solid.what} lies directly {where} hole {hole.id}"
            yield Defect(
                "plate-hole-barred", (hole.id, site.name(i)), site.place_of_hole(hole), says, off, radius
            )
    for body in site.bodies:
        if body.z[0] < high and body.z[1] > low and body.near_bore(hole.at, radius - LOOSE_IN):
            says = f"{body.obstacle.kind} lies directly {where} hole {hole.id}"
            yield Defect("plate-hole-barred", (hole.id, body.obstacle.id), site.place_of_hole(hole), says)


# the code's figures


def _legal(site: Site, hole: Bore, solid: Solid) -> Iterator[Defect]:
    """Size and edges by the adopted clauses; a copy apart from the one that routing and rules share.

    Source: IRC R602.6 (studs), R502.8.1 and R802.7.1 (joists, rafters), R502.8.2 (engineered), R603.2.6.1
        (steel), edge of plates by practice: figures of ``tables/clauses.toml`` as exact fractions.
    """
    if solid.role == "barrier":
        yield from _sleeve(site, hole, solid)
        return
    place = site.place_of_hole(hole)
    if solid.never:
        says = f"hole {hole.id} is in {solid.what}, which is never drilled"
        yield Defect("hole-never", (hole.id, hole.members[0]), place, says, hole.diameter_in, 0.0)
        return
    if solid.material == "I-joist":
        yield from _knockout(site, hole, solid)
        return
    if solid.material == "steel" and not solid.role.endswith("plate"):
        clause = site.adopted.clause("steel-punched")
        depth = Fraction(solid.across[1] - solid.across[0])
        most = min(clause.value("width_in"), clause.value("share") * depth)
        if not hole.open_passage:
            says = f"hole {hole.id} is drilled in a steel stud: cables pass its punched holes only"
            yield Defect("hole-never", (hole.id,), place, says, hole.diameter_in, 0.0)
        elif below(float(most), hole.diameter_in):
            says = f"a punched hole of {tape(hole.diameter_in)} is over {tape(float(most))} in {solid.what}"
            yield Defect("hole-too-big", (hole.id,), place, says, hole.diameter_in, float(most))
        return
    if hole.open_passage:
        says = f"hole {hole.id} is told as an opening that is there already; {solid.what} has none"
        yield Defect("knockout-moved", (hole.id,), place, says)
    size, edge, clause_words = _figures(site, solid)
    diameter = Fraction(hole.diameter_in)
    if size is not None and below(float(size), float(diameter)):
        says = (
            f"hole {hole.id} is {tape(hole.diameter_in)} in {solid.what}; "
            f"at most {float(size):.4g} in by {clause_words}"
        )
        yield Defect("hole-too-big", (hole.id,), place, says, hole.diameter_in, float(size))
    local = solid.local(site.job, hole.at)
    k = 2 if hole.axis == "across" else 1
    wood = min(local[k] - solid.low[k], solid.high[k] - local[k]) - hole.diameter_in / 2
    if below(wood + LOOSE_IN, float(edge)):
        says = (
            f"hole {hole.id} leaves {tape(max(wood, 0.0))} of wood at the edge of {solid.what}; "
            f"at least {tape(float(edge))} by {clause_words}"
        )
        yield Defect("hole-near-edge", (hole.id,), place, says, wood, float(edge))


def _figures(site: Site, solid: Solid) -> tuple[Fraction | None, Fraction, str]:
    """(largest hole, least edge, where it stands) of a wood member that may be drilled."""
    adopted = site.adopted
    if solid.role in ("joist", "rafter"):
        clause = adopted.clause(f"{solid.role}-bore")
        depth = Fraction(solid.up[1]) - Fraction(solid.up[0])
        return clause.value("share") * depth, clause.value("edge_in"), str(clause.source)
    if solid.role.endswith("plate"):
        clause = adopted.clause("plate-wood")
        return None, clause.value("edge_in"), str(clause.source)
    clause = adopted.clause("stud-bore")
    share = clause.value("bearing" if solid.bearing or solid.exterior else "non_bearing")
    depth = Fraction(solid.across[1]) - Fraction(solid.across[0])
    return share * depth, clause.value("edge_in"), str(clause.source)


def _frame_of(site: Site, solid: Solid) -> FloorFrame | None:
    return next((f for f in site.job.frames if f.id == solid.host), None)


def _knockout(site: Site, hole: Bore, solid: Solid) -> Iterator[Defect]:
    """I-joists take cables at the maker's knockouts alone: their rhythm from each bearing, at mid-depth."""
    frame = _frame_of(site, solid)
    place = site.place_of_hole(hole)
    if frame is None or frame.knockouts is None:
        says = f"hole {hole.id} passes {solid.what}, whose hole chart nobody has"
        yield Defect("hole-never", (hole.id,), place, says)
        return
    if not hole.open_passage:
        says = f"hole {hole.id} is drilled in {solid.what}: cables pass its knockouts only"
        yield Defect("hole-never", (hole.id,), place, says)
    chart = frame.knockouts
    if not near(hole.diameter_in, chart.diameter_in):
        told = tape(hole.diameter_in)
        says = f"the maker's knockout in {solid.what} is {tape(chart.diameter_in)}, told {told}"
        yield Defect("hole-too-big", (hole.id,), place, says, hole.diameter_in, chart.diameter_in)
    local = solid.local(site.job, hole.at)
    area = (frame.area[0], frame.area[2]) if frame.direction == "x" else (frame.area[1], frame.area[3])
    spans = frame.spans_in or (area,)
    steps = [(local[0] - low) / chart.every_in for low, high in spans if low < local[0] < high]
    if not any(abs(s - round(s)) * chart.every_in <= 1e-3 and round(s) >= 1 for s in steps):
        says = (
            f"{solid.what} has no knockout at {tape(local[0])} along it: they stand every "
            f"{tape(chart.every_in)} from each bearing"
        )
        yield Defect("knockout-moved", (hole.id,), place, says, local[0])
    flange = frame.flange_depth_in or 1.5
    edge = min(local[2] - solid.up[0], solid.up[1] - local[2]) - hole.diameter_in / 2
    if below(edge + LOOSE_IN, flange):
        says = f"hole {hole.id} cuts a flange of {solid.what}"
        yield Defect("hole-never", (hole.id,), place, says, edge, flange)
    middle = (solid.up[0] + solid.up[1]) / 2
    if abs(local[2] - middle) > 1e-3:
        says = f"the knockouts of {solid.what} stand at mid-depth; this is {tape(abs(local[2] - middle))} off"
        yield Defect("knockout-moved", (hole.id,), place, says, local[2], middle)


def _sleeve(site: Site, hole: Bore, solid: Solid) -> Iterator[Defect]:
    """A board is passed at its sleeve where it has one; else by a sealed hole where a seal is allowed."""
    barrier = next((b for b in site.job.barriers if b.id == solid.host), None)
    if barrier is None:
        return
    place = site.place_of_hole(hole)
    point = barrier.pass_point
    if point is not None:
        off = math.dist(hole.at, (point.x_in, point.y_in, point.z_in))
        if off > LOOSE_IN or not near(hole.diameter_in, point.diameter_in):
            says = f"hole {hole.id} is not the sleeve {point.id} of the {barrier.kind}"
            yield Defect("knockout-moved", (hole.id, point.id), place, says, off, 0.0)
    elif not barrier.needs_seal:
        says = f"hole {hole.id} passes the {barrier.kind}, where nothing may pass"
        yield Defect("hole-never", (hole.id, barrier.id), place, says)


def _spacing(site: Site) -> Iterator[Defect]:
    """Wood between holes of one member: the code's in joists, the firm's everywhere; drilled ones only."""
    by_member: dict[int, list[Bore]] = {}
    for hole in site.plan.holes:
        for i in {site.by_id[name] for name in hole.members if name in site.by_id}:
            by_member.setdefault(i, []).append(hole)
    told: set[tuple[str, str]] = set()
    for i, holes in by_member.items():
        solid = site.solids[i]
        for a, b in combinations(holes, 2):
            if a.axis != b.axis or (a.open_passage and b.open_passage) or (a.id, b.id) in told:
                continue
            gap = site.job.practice.hole_gap_in
            if solid.role in ("joist", "rafter"):
                gap = max(gap, float(site.adopted.value(f"{solid.role}-bore", "gap_in")))
            bit = {"along": 0, "across": 1, "up": 2}[a.axis]
            pairs = zip(solid.local(site.job, a.at), solid.local(site.job, b.at), strict=True)
            flat = math.hypot(*(p - q for k, (p, q) in enumerate(pairs) if k != bit))
            wood = flat - (a.diameter_in + b.diameter_in) / 2
            if below(wood + LOOSE_IN, gap):
                told.add((a.id, b.id))
                left = tape(max(wood, 0.0))
                says = f"holes {a.id} and {b.id} leave {left} of wood in {solid.what}, at least {tape(gap)}"
                yield Defect("holes-too-near", (a.id, b.id), site.place_of_hole(a), says, wood, gap)
