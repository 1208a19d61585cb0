"""Seals: every plate hole, separation and outer box closed again, once, and rated ones with firestop."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from bayrun.audit.defects import Defect
from bayrun.audit.reading import Bore
from bayrun.audit.site import Site
from bayrun.house import Barrier


def _rated(kind: str) -> bool:
    words = kind.lower()
    return any(word in words for word in ("hour", "rated", "party"))


def _asks(site: Site, hole: Bore) -> tuple[bool, bool]:
    """(asks for a seal, for a listed firestop) of one hole.

    Source: IRC R302.11 (plate holes between levels and to attics), R302.4.1 (rated), R302.5.3 (garage).
    """
    barriers: dict[str, Barrier] = {b.id: b for b in site.job.barriers}
    for name in hole.members:
        solid = site.solid(name)
        if solid is None:
            continue
        if solid.role == "barrier":
            return True, _rated(barriers[solid.host].kind) if solid.host in barriers else False
        if solid.role.endswith("plate") and hole.axis == "up":
            return True, bool(solid.wall and solid.wall.rated)
    return False, False


def check_seals(site: Site) -> Iterator[Defect]:
    """One seal a hole, none for others; boxes in the outer skin and in rated walls too."""
    rows = site.plan.list("seals")
    told = Counter(str(row["hole"]) for row in rows if row["hole"])
    materials = {str(row["hole"]): str(row["material"]) for row in rows if row["hole"]}
    for hole in site.plan.holes:
        asks, firestop = _asks(site, hole)
        place = site.place_of_hole(hole)
        got = told[hole.id]
        if asks and not got:
            says = f"hole {hole.id} opens a plate or separation and is closed by no seal"
            yield Defect("seal-missing", (hole.id,), place, says, got, 1)
        if got > int(asks):
            says = f"hole {hole.id} has {got} seals, it asks for {int(asks)}"
            yield Defect("seal-extra", (hole.id,), place, says, got, int(asks))
        if asks and got and firestop and "firestop" not in materials[hole.id].lower():
            says = f"hole {hole.id} passes a rated assembly and is closed with {materials[hole.id]}"
            yield Defect("seal-weak", (hole.id,), place, says, materials[hole.id], "listed firestop")
    for name in sorted(set(told) - set(site.holes)):
        yield Defect("seal-extra", (name,), "seal list", f"a seal for hole {name}, which is not in the plan")
    yield from _boxes(site)


def _boxes(site: Site) -> Iterator[Defect]:
    rows = [row for row in site.plan.list("seals") if not row["hole"]]
    told = Counter(str(row["location"]) for row in rows)
    planned = {name for run in site.plan.runs for kind, name in run.ends if kind == "location"}
    walls = {w.id: w for w in site.job.walls}
    for location in site.job.locations:
        wall = walls.get(location.wall or "")
        asks = location.id in planned and (
            location.mount == "exterior"
            or (location.mount in ("wall", "contact") and wall is not None and bool(wall.rated))
        )
        if asks and not told[location.id]:
            says = f"the box of {location.id} opens the outer skin or a rated wall and has no seal"
            yield Defect(
                "seal-missing", (location.id,), f"level {location.level}, {location.room}", says, 0, 1
            )
    for name, count in sorted(told.items()):
        if count > 1 or name not in planned:
            says = f"{count} seals for the box of {name or 'nothing'}"
            yield Defect("seal-extra", (name,), "seal list", says, count, int(name in planned))
