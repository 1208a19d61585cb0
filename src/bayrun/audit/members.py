"""Members and bays of the plan against the walls and frames of the job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from bayrun.audit.defects import Defect
from bayrun.audit.obstacles import Body
from bayrun.audit.reading import Told
from bayrun.audit.site import MOVED_IN, SAME_IN, Site
from bayrun.audit.solids import Solid
from bayrun.geometry import TOUCH_IN, Rect, below, near
from bayrun.house import Wall, wall_name
from bayrun.units import tape

FULL = ("stud", "end stud", "king", "backing", "post")
LEAST_BAY_IN = 1.0
"""A slit narrower than this takes no hand [in]. Common practice, no source."""


def check_members(site: Site) -> Iterator[Defect]:
    """Missing, extra, moved and mistold members."""
    twice = [name for name, n in Counter(m.id for m in site.plan.members).items() if n > 1]
    for name in twice:
        yield Defect("id-twice", (name,), "members", f"two members are called {name}")
    open_places = list(site.unmatched)
    extra: list[Told] = []
    for told in site.unmatched_told:
        best = min(
            (i for i in open_places if _could_be(told, site.solids[i])),
            key=lambda i: (_apart(told, site.solids[i]), i),
            default=None,
        )
        if best is None:
            extra.append(told)
            continue
        open_places.remove(best)
        solid = site.solids[best]
        yield Defect(
            "member-moved",
            (told.id,),
            site.place_of(solid),
            f"{solid.what} stands {_moves(told, solid)}",
            _span(told.along),
            _span(solid.along),
        )
    for told in extra:
        yield Defect(
            "member-extra",
            (told.id,),
            told.host,
            f"a {told.role} from {_span(told.along)} that the walls and frames do not ask for",
            _span(told.along),
        )
    for i in open_places:
        solid = site.solids[i]
        yield Defect(
            "member-missing",
            (solid.host,),
            site.place_of(solid),
            f"{solid.what} from {_span(solid.along)} is not in the plan",
            None,
            _span(solid.along),
        )
    told_by_id = {m.id: m for m in site.plan.members}
    for name, i in site.by_id.items():
        yield from _mistold(site, told_by_id[name], site.solids[i])


def _mistold(site: Site, told: Told, solid: Solid) -> Iterator[Defect]:
    for word, got, want in (
        ("made of", told.material, solid.material),
        ("bearing", str(told.bearing).lower(), str(solid.bearing).lower()),
        ("exterior", str(told.exterior).lower(), str(solid.exterior).lower()),
        ("plies", str(told.plies), str(solid.plies)),
    ):
        if got != want:
            says = f"{solid.what} is told as {word} {got}, the job says {want}"
            yield Defect("member-mistold", (told.id,), site.place_of(solid), says, got, want)
    box = solid.box(site.job)
    count = 5 if solid.anywhere_above else 6
    if any(abs(a - b) > 10 * SAME_IN for a, b in zip(told.box[:count], box[:count], strict=True)):
        says = f"the world box of {solid.what} is not where its own coordinates put it"
        yield Defect("member-mistold", (told.id,), site.place_of(solid), says)


def _could_be(told: Told, solid: Solid) -> bool:
    return told.host == solid.host and told.role == solid.role and _apart(told, solid) <= MOVED_IN


def _apart(told: Told, solid: Solid) -> float:
    return max(
        abs(a - b)
        for mine, theirs in ((told.along, solid.along), (told.up, solid.up), (told.across, solid.across))
        for a, b in zip(mine, theirs, strict=True)
    )


def _moves(told: Told, solid: Solid) -> str:
    words = []
    for word, got, want in (
        ("along", told.along, solid.along),
        ("up", told.up, solid.up),
        ("across", told.across, solid.across),
    ):
        if any(abs(a - b) > SAME_IN for a, b in zip(got, want, strict=True)):
            words.append(f"{word} {_span(got)}, by the layout {_span(want)}")
    return "; ".join(words)


def _span(pair: tuple[float, float]) -> str:
    return f"{tape(pair[0])} to {tape(pair[1])}"


def check_bays(site: Site) -> Iterator[Defect]:
    """Each bay is bounded by real faces, holds nothing, and no clear gap is left out."""
    solids: dict[str, list[Solid]] = {}
    for s in site.solids:
        if s.wall is not None:
            solids.setdefault(s.host, []).append(s)
    walls = {w.id: w for w in site.job.walls}
    rects: dict[str, list[Rect]] = {}
    fixed: dict[str, tuple[list[Rect], list[Rect]]] = {}
    bounds: list[tuple[str, str, Rect, tuple[Rect, ...], list[Rect]]] = []
    walls_of = {row["id"]: row["wall"] for row in site.plan.list("bays")}
    for row in site.plan.list("bays"):
        wall = walls.get(row["wall"])
        rect = Rect(*row["clear"])
        if wall is None or not wall.framed:
            yield Defect("bay-wrong", (row["id"],), row["wall"], "a bay in a wall without studs")
            continue
        rects.setdefault(wall.id, []).append(rect)
        if wall.id not in fixed:
            hard = [Rect(s.along[0], s.up[0], s.along[1], s.up[1]) for s in solids[wall.id]]
            fixed[wall.id] = (hard, _soft(site, wall))
        hard, soft = fixed[wall.id]
        place = f"level {wall.level}, {wall_name(wall, rect.center[0])} at {tape(rect.center[0])}"
        if abs(row["depth_in"] - wall.thickness_in) > SAME_IN:
            says = f"the bay is told {tape(row['depth_in'])} deep, the studs are {tape(wall.thickness_in)}"
            yield Defect("bay-wrong", (row["id"],), place, says, row["depth_in"], wall.thickness_in)
        for other in (*hard, *soft):
            if _overlap(rect, other):
                yield Defect("bay-wrong", (row["id"],), place, "wood or another trade stands in the bay")
                break
        bounds.append((row["id"], place, rect, (*hard, *soft), soft))
    for name, place, rect, others, soft in bounds:
        mates = rects[str(walls_of[name])]
        loose = _loose_sides(rect, (*others, *(r for r in mates if r is not rect)), soft)
        if loose:
            says = (
                f"the bay is told {tape(rect.width)} wide and {tape(rect.height)} high; "
                f"no face bounds it at its {' and '.join(loose)}"
            )
            yield Defect("bay-wrong", (name,), place, says, rect.width)
    for wall_id, mine in solids.items():
        yield from _missing_bays(site, walls[wall_id], mine, rects.get(wall_id, []))


def _soft(site: Site, wall: Wall) -> list[Rect]:
    """What another trade takes of a wall's core with its margin, along and up."""
    margin = site.job.practice.obstacle_margin_in
    return [r for body in site.bodies for r in _in_wall(site, wall, body, margin)]


def _in_wall(site: Site, wall: Wall, body: Body, margin: float) -> list[Rect]:
    if body.obstacle.levels and wall.level not in body.obstacle.levels:
        return []
    rect = body.in_wall(site.job, wall)
    if rect is None:
        return []
    return [rect.grown(margin)]


def _overlap(a: Rect, b: Rect) -> bool:
    return a.u0 < b.u1 - SAME_IN and b.u0 < a.u1 - SAME_IN and a.v0 < b.v1 - SAME_IN and b.v0 < a.v1 - SAME_IN


def _loose_sides(rect: Rect, faces: tuple[Rect, ...], soft: list[Rect]) -> list[str]:
    """Sides of a bay that lie on no face of wood, of another trade's margin, or of the bay beside it.

    Where an obstacle leaves a slit too narrow for a hand, the bay may end at the obstacle's line.
    """
    around = rect.grown(LEAST_BAY_IN + 2 * SAME_IN)
    faces = tuple(o for o in faces if o.overlaps(around))
    beside_u = [o for o in faces if _meets(o.v0, o.v1, rect.v0, rect.v1)]
    beside_v = [o for o in faces if _meets(o.u0, o.u1, rect.u0, rect.u1)]
    us = [edge for o in soft for edge in (o.u0, o.u1)]
    vs = [edge for o in soft for edge in (o.v0, o.v1)]
    sides = {
        "low end": ([rect.u0 - o.u1 for o in beside_u], rect.u0, us),
        "high end": ([o.u0 - rect.u1 for o in beside_u], rect.u1, us),
        "bottom": ([rect.v0 - o.v1 for o in beside_v], rect.v0, vs),
        "top": ([o.v0 - rect.v1 for o in beside_v], rect.v1, vs),
    }
    loose = []
    for name, (gaps, at, lines) in sides.items():
        gap = min((g for g in gaps if g > -SAME_IN), default=None)
        slit = any(abs(at - line) < SAME_IN for line in lines)
        if gap is None or gap > (LEAST_BAY_IN + SAME_IN if slit else SAME_IN):
            loose.append(name)
    return loose


def _meets(a0: float, a1: float, b0: float, b1: float) -> bool:
    return below(a0, b1) and below(b0, a1)


def _missing_bays(site: Site, wall: Wall, mine: list[Solid], rects: list[Rect]) -> Iterator[Defect]:
    full = sorted((s for s in mine if s.role in FULL), key=lambda s: s.along[0])
    openings = [o for o in site.job.openings if o.wall == wall.id]
    soft = _soft(site, wall)
    for low, high in pairwise(full):
        a, b = low.along[1], high.along[0]
        if b - a < LEAST_BAY_IN or near(b - a, LEAST_BAY_IN):
            continue
        if any(o.offset_in < b - TOUCH_IN and o.offset_in + o.width_in > a + TOUCH_IN for o in openings):
            continue
        gap = Rect(a, full[0].up[0], b, full[0].up[1])
        if any(_overlap(gap, r) for r in soft):
            continue
        if not any(near(r.u0, a) and near(r.u1, b) for r in rects) and not any(
            abs(r.u0 - a) < SAME_IN and abs(r.u1 - b) < SAME_IN for r in rects
        ):
            place = f"level {wall.level}, {wall_name(wall, (a + b) / 2)} at {tape((a + b) / 2)}"
            says = (
                f"the clear space of {tape(b - a)} between {low.what} and {high.what} is no bay of the plan"
            )
            yield Defect("bay-missing", (wall.id,), place, says, None, b - a)
