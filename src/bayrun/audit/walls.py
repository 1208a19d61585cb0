"""What a framer's rules put in one wall: own arithmetic from marks, joints, posts and openings.

Written apart from the framing of the planner. Full-height wood is marked on a rod, one stick after the
other in order of right: end studs, tee backing, posts, kings; then a stud at each layout mark. A mark
that falls on standing wood adds no stud: the wood beside it is filled out to the mark's width.

Source: common framing practice, as in house/solids; plies and jacks of dressed 2x lumber (PS 20).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from bayrun.audit.places import PLY_IN, to_wall
from bayrun.audit.solids import Solid
from bayrun.geometry import TOUCH_IN, at_most, below
from bayrun.house import Job, Opening, Wall


@dataclass(slots=True)
class _Stick:
    low: float
    high: float
    role: str
    what: str


def marks_in(wall: Wall) -> list[float]:
    """Centers of the layout studs, low to high; none where only the end stud would stand [in]."""
    if wall.layout is None or at_most(wall.spacing_in, 0.0):
        return []
    length = wall.plate_end_in - wall.plate_start_in
    keep = 1.5 * wall.stud_width_in
    count = max(0, math.ceil((length - keep - wall.layout.first_mark_in) / wall.spacing_in + 1))
    from_origin = [wall.layout.first_mark_in + i * wall.spacing_in for i in range(count)]
    from_origin = [d for d in from_origin if below(d, length - keep)]
    if wall.layout.origin == "start":
        return [wall.plate_start_in + d for d in from_origin]
    return sorted(wall.plate_end_in - d for d in from_origin)


def _free(low: float, high: float, sticks: list[_Stick]) -> list[tuple[float, float]]:
    """What of an interval no stick stands on."""
    free = [(low, high)]
    for stick in sticks:
        left: list[tuple[float, float]] = []
        for a, b in free:
            left += [(a, min(b, stick.low)), (max(a, stick.high), b)]
        free = [(a, b) for a, b in left if b - a > TOUCH_IN]
    return free


def _posts(job: Job, wall: Wall) -> list[tuple[str, float, float]]:
    found = []
    for post in job.posts:
        if post.level != wall.level:
            continue
        x0, y0, x1, y1 = post.rect
        corners = [to_wall(job, wall, (x, y, 0.0)) for x in (x0, x1) for y in (y0, y1)]
        alongs, acrosses = [c[0] for c in corners], [c[1] for c in corners]
        half = wall.thickness_in / 2
        if (
            min(acrosses) < half
            and max(acrosses) > -half
            and min(alongs) < wall.length_in
            and max(alongs) > 0
        ):
            found.append((post.what, min(alongs), max(alongs)))
    return found


def _rod(job: Job, wall: Wall, openings: list[Opening]) -> list[_Stick]:
    """Every full-height stick along the wall."""
    sticks: list[_Stick] = []
    start, end, wide = wall.plate_start_in, wall.plate_end_in, wall.stud_width_in

    def stand(low: float, high: float, role: str, what: str) -> None:
        pieces = _free(max(low, start), min(high, end), sticks)
        sticks.extend(_Stick(a, b, role, what) for a, b in pieces)

    stand(start, start + wide, "end stud", "end stud")
    stand(end - wide, end, "end stud", "end stud")
    joints = [j for j in job.joints if j.kind == "tee" and j.on_wall == wall.id]
    for joint in sorted(joints, key=lambda j: (j.on_offset_in, j.wall)):
        half = joint.width_in / 2
        at = joint.on_offset_in
        stand(at - half, at + half, "backing", f"backing for wall {joint.wall}")
    for what, low, high in _posts(job, wall):
        stand(low, high, "post", what)
    for o in openings:
        low, high = o.offset_in, o.offset_in + o.width_in
        stand(low - 2 * PLY_IN, low - PLY_IN, "king", f"king of {o.kind} {o.id}")
        stand(high + PLY_IN, high + 2 * PLY_IN, "king", f"king of {o.kind} {o.id}")
    for mark in marks_in(wall):
        if any(o.offset_in - 2 * PLY_IN < mark < o.offset_in + o.width_in + 2 * PLY_IN for o in openings):
            continue
        low, high = mark - wide / 2, mark + wide / 2
        hit = [s for s in sticks if below(s.low, high) and below(low, s.high)]
        if not hit:
            sticks.append(_Stick(low, high, "stud", "stud"))
        for a, b in _free(low, high, sticks) if hit else ():
            beside = next(
                (s for s in hit if abs(s.high - a) <= TOUCH_IN or abs(s.low - b) <= TOUCH_IN), hit[0]
            )
            beside.low, beside.high = min(beside.low, a), max(beside.high, b)
    return sorted(sticks, key=lambda s: s.low)


def wall_solids(job: Job, wall: Wall) -> list[Solid]:
    """Every member of one wall that its facts ask for."""
    top = job.level(wall.level).plate_top_in
    plates = wall.plates

    def solid(
        role: str, what: str, along: tuple[float, float], up: tuple[float, float], plies: int = 1
    ) -> Solid:
        material = "wood"
        if role == "concrete":
            material = "concrete"
        elif wall.core.startswith("steel"):
            wood = (
                plates.material == "wood"
                if role.endswith("plate")
                else any(along[0] - TOUCH_IN < c < along[1] + TOUCH_IN for c in wall.wood_studs_in)
            )
            material = "wood" if wood else "steel"
        half = wall.thickness_in / 2
        return Solid(
            host=wall.id,
            role=role,
            material=material,
            what=what,
            along=along,
            up=up,
            across=(-half, half),
            wall=wall,
            bearing=wall.exterior or wall.bearing is not False,
            exterior=wall.exterior,
            plies=plies,
        )

    whole = (wall.plate_start_in, wall.plate_end_in)
    if wall.layout is None:
        return [solid("concrete", "concrete wall", whole, (0.0, top))]
    openings = sorted((o for o in job.openings if o.wall == wall.id), key=lambda o: (o.offset_in, o.id))
    floor, ceiling = PLY_IN * plates.bottom, top - PLY_IN * plates.top
    rod = _rod(job, wall, openings)
    found = [solid(s.role, s.what, (s.low, s.high), (floor, ceiling)) for s in rod]
    found.append(solid("top plate", "top plate", whole, (ceiling, top), plates.top))
    doors = [
        _Stick(o.offset_in, o.offset_in + o.width_in, "", "") for o in openings if below(o.sill_in, floor)
    ]
    for piece in _free(*whole, doors):
        found.append(solid("bottom plate", "bottom plate", piece, (0.0, floor), plates.bottom))
    for o in openings:
        found += _opening(o, rod, solid, floor, ceiling, marks_in(wall), wall.stud_width_in)
    return found


def _opening(
    o: Opening,
    rod: list[_Stick],
    solid: object,
    floor: float,
    ceiling: float,
    marks: list[float],
    wide: float,
) -> list[Solid]:
    """Jacks, header, sill and cripples of one opening."""
    assert callable(solid)
    low, high = o.offset_in, o.offset_in + o.width_in
    name = f"{o.kind} {o.id}"
    head = min(o.sill_in + o.height_in, ceiling)
    over = min(head + o.header_depth_in, ceiling)
    sill = o.sill_in - PLY_IN
    has_sill = below(floor, sill)
    found: list[Solid] = []
    for a, b in ((low - PLY_IN, low), (high, high + PLY_IN)):
        for piece in _free(a, b, rod)[:1]:
            found.append(solid("jack", f"jack of {name}", piece, (floor, head)))
    bare = _free(low - PLY_IN, high + PLY_IN, rod)
    if below(head, over) and bare:
        found.append(solid("header", f"header of {name}", (bare[0][0], bare[-1][1]), (head, over), 2))
    if has_sill:
        found.append(solid("sill", f"rough sill of {name}", (low, high), (sill, o.sill_in)))
    for mark in marks:
        if not low < mark < high:
            continue
        along = (max(mark - wide / 2, low), min(mark + wide / 2, high))
        if below(over, ceiling):
            found.append(solid("cripple", f"cripple over {name}", along, (over, ceiling)))
        if has_sill:
            found.append(solid("cripple", f"cripple under {name}", along, (floor, sill)))
    return found
