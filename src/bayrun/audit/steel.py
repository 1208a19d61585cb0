"""Nail plates, straps, grommets and seals: what every hole asks for, counted again."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator
from typing import Any

from bayrun.audit.defects import Defect
from bayrun.audit.reading import Bore
from bayrun.audit.site import Site
from bayrun.audit.solids import Solid
from bayrun.geometry import TOUCH_IN, at_most, below
from bayrun.units import tape


def _wood(site: Site, hole: Bore) -> list[Solid]:
    found = [s for s in (site.solid(name) for name in hole.members) if s is not None]
    return [s for s in found if s.material in ("wood", "engineered") and s.role not in ("backing", "barrier")]


def near_faces(site: Site, hole: Bore) -> dict[str, float]:
    """Faces of the wood nearer to a drilled hole than the clause keeps clear, with the wood left [in].

    Source: NEC 300.4(A)(1), 1-1/4 in; on it passes. One hole through several plies is one: least over all.
    """
    if hole.open_passage:
        return {}
    keep = float(site.adopted.value("nail-plate", "edge_in"))
    faces: dict[str, float] = {}
    for solid in _wood(site, hole):
        local = solid.local(site.job, hole.at)
        if hole.axis == "across":
            sides = {"bottom": local[2] - solid.up[0], "top": solid.up[1] - local[2]}
        else:
            sides = {"left": solid.across[1] - local[1], "right": local[1] - solid.across[0]}
        for side, to_face in sides.items():
            wood = to_face - hole.diameter_in / 2
            faces[side] = min(wood, faces.get(side, math.inf))
    return {side: wood for side, wood in faces.items() if below(wood, keep)}


def check_plates(site: Site) -> Iterator[Defect]:
    """A plate on every near face, nowhere else, and wide enough."""
    told: dict[tuple[str, str], list[Any]] = defaultdict(list)
    for row in site.plan.list("plates"):
        told[row["hole"], row["side"]].append(row)
    wanted: dict[tuple[str, str], float] = {}
    for hole in site.plan.holes:
        for side, wood in near_faces(site, hole).items():
            wanted[hole.id, side] = wood
            rows = told.get((hole.id, side), [])
            place = site.place_of_hole(hole)
            if not rows:
                left = tape(max(wood, 0.0))
                says = f"hole {hole.id} leaves {left} to its {side} face and has no nail plate there"
                yield Defect("plate-missing", (hole.id,), place, says, wood, 1.25)
            for row in rows[:1]:
                yield from _covers(site, hole, row)
    for (hole_id, side), rows in told.items():
        extra = len(rows) - (1 if (hole_id, side) in wanted else 0)
        if extra > 0:
            ids = tuple(str(r["id"]) for r in rows[-extra:])
            says = f"{extra} nail plate more than hole {hole_id} asks for on its {side} face"
            place = site.place_of_hole(site.holes[hole_id]) if hole_id in site.holes else "plate list"
            yield Defect("plate-extra", (*ids, hole_id), place, says, len(rows), len(rows) - extra)


def _covers(site: Site, hole: Bore, row: Any) -> Iterator[Defect]:
    bit = {"along": 0, "across": 1, "up": 2}[hole.axis]
    solids = [s for s in (site.solid(name) for name in hole.members) if s is not None]
    through = sum(s.high[bit] - s.low[bit] for s in solids)
    width, length, pieces = row["width_in"], row["length_in"], row["pieces"]
    ways = [(width, length), (length, width)]
    fits = any(
        math.ceil(through / a - 1e-6) * math.ceil(hole.diameter_in / b - 1e-6) <= pieces
        for a, b in ways
        if a > 0 < b
    )
    if not fits:
        says = f"plates of {tape(width)} by {tape(length)}, {pieces:.0f} of them, do not cover hole {hole.id}"
        yield Defect("plate-small", (str(row["id"]), hole.id), site.place_of_hole(hole), says)


def check_straps(site: Site) -> Iterator[Defect]:
    """A strap over each cut of more than half a loaded wood top plate, unless panels cover the wall.

    Source: IRC R602.6.1. Holes that one saw cut across the plate would meet count together.
    """
    tops: dict[int, list[Bore]] = defaultdict(list)
    for hole in site.plan.holes:
        index = site.by_id.get(hole.members[0])
        if index is not None and not hole.open_passage and site.solids[index].role == "top plate":
            tops[index].append(hole)
    told = Counter(str(row["hole"]) for row in site.plan.list("straps"))
    lengths = {str(row["hole"]): float(row["length_in"]) for row in site.plan.list("straps")}
    share = site.adopted.value("plate-tie", "share")
    past = float(site.adopted.value("plate-tie", "past_in"))
    asked: set[str] = set()
    for index, holes in sorted(tops.items()):
        solid = site.solids[index]
        if (
            solid.material != "wood"
            or not (solid.bearing or solid.exterior)
            or (solid.wall and solid.wall.sheathed)
        ):
            continue
        limit = float(share) * (solid.across[1] - solid.across[0])
        for group in _clusters(holes):
            cut = max(
                sum(o.diameter_in for o in group if abs(o.along_in - h.along_in) < o.diameter_in / 2)
                for h in group
            )
            cut = max(cut, sum(h.diameter_in for h in group) if len(group) > 1 else cut)
            if at_most(cut, limit):
                continue
            names = tuple(h.id for h in group)
            place = site.place_of_hole(group[0])
            mine = [n for n in names if told[n]]
            asked.update(mine[:1])
            span = max(h.along_in + h.diameter_in / 2 for h in group) - min(
                h.along_in - h.diameter_in / 2 for h in group
            )
            if not mine:
                where = ", ".join(names)
                says = f"the top plate is cut {tape(cut)} wide at {where}, over {tape(limit)}, with no strap"
                yield Defect("strap-missing", names, place, says, cut, limit)
            elif below(lengths[mine[0]], span + 2 * past):
                says = (
                    f"the strap at {mine[0]} is {tape(lengths[mine[0]])}; "
                    f"the cut and 6 in past it at each side ask {tape(span + 2 * past)}"
                )
                yield Defect("strap-missing", (mine[0],), place, says, lengths[mine[0]], span + 2 * past)
    for name, count in told.items():
        more = count - (1 if name in asked else 0)
        if more > 0:
            place = site.place_of_hole(site.holes[name]) if name in site.holes else "strap list"
            yield Defect(
                "strap-extra",
                (name,),
                place,
                f"{more} strap more than hole {name} asks for",
                count,
                count - more,
            )


def _clusters(holes: list[Bore]) -> list[list[Bore]]:
    """Holes along a plate, those together whose widths overlap."""
    groups: list[list[Bore]] = []
    reach = -math.inf
    for hole in sorted(holes, key=lambda h: h.along_in - h.diameter_in / 2):
        if hole.along_in - hole.diameter_in / 2 < reach - TOUCH_IN:
            groups[-1].append(hole)
        else:
            groups.append([hole])
        reach = max(reach, hole.along_in + hole.diameter_in / 2)
    return groups


def check_grommets(site: Site) -> Iterator[Defect]:
    """One grommet for each steel member a cable passes. Source: NEC 300.4(B)(1), kept for all cable."""
    wanted: Counter[tuple[str, str]] = Counter()
    for hole in site.plan.holes:
        for name in hole.members:
            solid = site.solid(name)
            if solid is not None and solid.material == "steel":
                wanted[hole.id, name] += 1
    told = Counter((str(r["hole"]), str(r["member"])) for r in site.plan.list("grommets"))
    for hole_id, name in sorted(set(wanted) | set(told)):
        want, got = wanted[hole_id, name], told[hole_id, name]
        if want != got:
            place = site.place_of_hole(site.holes[hole_id]) if hole_id in site.holes else "grommet list"
            says = f"hole {hole_id} in {name} has {got} grommets, {want} steel members ask for {want}"
            yield Defect("grommet-wrong", (hole_id, name), place, says, got, want)
