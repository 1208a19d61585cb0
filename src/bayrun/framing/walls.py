"""Lay out every member of one framed wall from its plates, layout, joints and openings.

Order of right: ends, tee backing and posts first, then kings and jacks, then layout studs. A stud
that would overlap what already stands is left out, and what stands takes its room, so that the
clear bays are the ones a tape finds.

Source: framing practice as in BUILDING 1.2 (first stud's edge at 15-1/4 in from the plate end, so its
center is at 16; cripples keep the layout over and under openings; one king and one jack each side).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bayrun.framing.records import Material, Member, Role
from bayrun.geometry import TOUCH_IN, Box, cut_interval, near
from bayrun.house import Job, Opening, Wall, plate_top_z_in, wall_point

PLY_IN = 1.5
"""Thickness of one plate, jack, king or sill: dressed 2x lumber [in]. Source: PS 20."""
SLIVER_IN = 0.75
"""A stud of which less than this would be left is taken up by its neighbor [in]."""


@dataclass(slots=True)
class _Piece:
    """One full-height piece while the wall is laid out (its interval may still grow)."""

    low_in: float
    high_in: float
    name: str
    role: Role
    says: str = ""


def layout_centers_in(wall: Wall) -> tuple[tuple[int, float], ...]:
    """(number, center) of each layout stud as offsets from the wall's start, in wall order [in].

    Numbers count from the layout's origin, so an opening never renumbers the studs beyond it.
    """
    if wall.layout is None:
        return ()
    room_in = 1.5 * wall.stud_width_in
    low_in, high_in = wall.plate_start_in, wall.plate_end_in
    centers: list[tuple[int, float]] = []
    number = 1
    if wall.layout.origin == "start":
        at_in = low_in + wall.layout.first_mark_in
        while at_in < high_in - room_in - TOUCH_IN:
            centers.append((number, at_in))
            number, at_in = number + 1, low_in + wall.layout.first_mark_in + number * wall.spacing_in
    else:
        at_in = high_in - wall.layout.first_mark_in
        while at_in > low_in + room_in + TOUCH_IN:
            centers.append((number, at_in))
            number, at_in = number + 1, high_in - wall.layout.first_mark_in - number * wall.spacing_in
    return tuple(sorted(centers, key=lambda pair: pair[1]))


def _openings(job: Job, wall: Wall) -> tuple[Opening, ...]:
    return tuple(sorted((o for o in job.openings if o.wall == wall.id), key=lambda o: (o.offset_in, o.id)))


def _posts(job: Job, wall: Wall) -> Iterator[tuple[str, float, float]]:
    half_in = wall.thickness_in / 2
    for post in job.posts:
        if post.level != wall.level:
            continue
        x0, y0, x1, y1 = post.rect
        dx, dy = wall.direction
        alongs = [(x - wall.start[0]) * dx + (y - wall.start[1]) * dy for x in (x0, x1) for y in (y0, y1)]
        acrosses = [-(x - wall.start[0]) * dy + (y - wall.start[1]) * dx for x in (x0, x1) for y in (y0, y1)]
        if (
            min(acrosses) < half_in
            and max(acrosses) > -half_in
            and min(alongs) < wall.length_in
            and max(alongs) > 0
        ):
            yield post.id, min(alongs), max(alongs)


def _full_height(job: Job, wall: Wall) -> list[_Piece]:
    low_in, high_in = wall.plate_start_in, wall.plate_end_in
    wood_in = wall.stud_width_in
    pieces: list[_Piece] = []

    def add(a_in: float, b_in: float, name: str, role: Role, says: str) -> None:
        taken = [(p.low_in, p.high_in) for p in pieces]
        for i, (lo, hi) in enumerate(cut_interval(max(a_in, low_in), min(b_in, high_in), taken)):
            pieces.append(_Piece(lo, hi, name if i == 0 else f"{name}-{i + 1}", role, says))

    add(low_in, low_in + wood_in, "end-low", "end stud", "end stud")
    add(high_in - wood_in, high_in, "end-high", "end stud", "end stud")
    tees = [j for j in job.joints if j.on_wall == wall.id and j.kind == "tee"]
    for joint in sorted(tees, key=lambda j: (j.on_offset_in, j.wall)):
        half_in = joint.width_in / 2
        at_in = joint.on_offset_in
        add(
            at_in - half_in,
            at_in + half_in,
            f"tee-{joint.wall}",
            "backing",
            f"backing for the wall {joint.wall}",
        )
    for post_id, a_in, b_in in _posts(job, wall):
        add(a_in, b_in, post_id, "post", "post")
    for o in _openings(job, wall):
        a_in, b_in = o.offset_in, o.offset_in + o.width_in
        add(a_in - 2 * PLY_IN, a_in - PLY_IN, f"{o.id}/king-low", "king", f"king stud of {o.kind} {o.id}")
        add(b_in + PLY_IN, b_in + 2 * PLY_IN, f"{o.id}/king-high", "king", f"king stud of {o.kind} {o.id}")
    return pieces


def _take_studs(job: Job, wall: Wall, pieces: list[_Piece]) -> list[tuple[int, float]]:
    """Add layout studs to ``pieces``; return those that stand in an opening (they become cripples)."""
    cripples: list[tuple[int, float]] = []
    openings = _openings(job, wall)
    for number, center_in in layout_centers_in(wall):
        inside = [
            o
            for o in openings
            if o.offset_in - 2 * PLY_IN < center_in < o.offset_in + o.width_in + 2 * PLY_IN
        ]
        if inside:
            if any(o.offset_in < center_in < o.offset_in + o.width_in for o in inside):
                cripples.append((number, center_in))
            continue
        lo, hi = center_in - wall.stud_width_in / 2, center_in + wall.stud_width_in / 2
        hit = [p for p in pieces if p.low_in < hi - TOUCH_IN and p.high_in > lo + TOUCH_IN]
        if not hit:
            pieces.append(_Piece(lo, hi, f"stud-{number}", "stud", f"stud {number}"))
            continue
        for a, b in cut_interval(lo, hi, [(p.low_in, p.high_in) for p in pieces]):
            # what stands beside it takes the stud's room, and never reaches over other wood
            beside = next((p for p in hit if near(p.high_in, a) or near(p.low_in, b)), hit[0])
            beside.low_in, beside.high_in = min(beside.low_in, a), max(beside.high_in, b)
    pieces.sort(key=lambda p: p.low_in)
    return cripples


class WallCarpenter:
    """Makes the members of one wall; keeps the wall's heights and box arithmetic in one place."""

    def __init__(self, job: Job, wall: Wall) -> None:
        """Take one framed or concrete wall of the job."""
        self.job, self.wall = job, wall
        self.level = job.level(wall.level)
        self.top_in = plate_top_z_in(self.level) - self.level.subfloor_z_in
        self.under_in = PLY_IN * wall.plates.bottom
        self.over_in = self.top_in - PLY_IN * wall.plates.top
        self.half_in = wall.thickness_in / 2

    def _box(self, along: tuple[float, float], up: tuple[float, float]) -> Box:
        corners = [wall_point(self.wall, a, s) for a in along for s in (-self.half_in, self.half_in)]
        z = self.level.subfloor_z_in
        xs, ys = [c[0] for c in corners], [c[1] for c in corners]
        return Box(min(xs), min(ys), z + up[0], max(xs), max(ys), z + up[1])

    def make(
        self,
        name: str,
        role: Role,
        along: tuple[float, float],
        up: tuple[float, float],
        says: str,
        plies: int = 1,
    ) -> Member:
        """One member of this wall."""
        wall = self.wall
        material: Material = "wood"
        if role == "concrete":
            material = "concrete"
        elif wall.steel and not self._is_wood(role, along):
            material = "steel"
        return Member(
            id=f"{wall.id}/{name}",
            host=wall.id,
            level=wall.level,
            role=role,
            material=material,
            along=along,
            up=up,
            across=(-self.half_in, self.half_in),
            box=self._box(along, up),
            plies=plies,
            bearing=wall.counts_as_bearing,
            exterior=wall.exterior,
            says=says,
        )

    def _is_wood(self, role: Role, along: tuple[float, float]) -> bool:
        if "plate" in role:
            return self.wall.plates.material == "wood"
        return any(along[0] - TOUCH_IN <= c <= along[1] + TOUCH_IN for c in self.wall.wood_studs_in)

    def members(self) -> list[Member]:
        """Every member of the wall: plates, studs, backing, openings' framing."""
        wall = self.wall
        if not wall.framed:
            span = (wall.plate_start_in, wall.plate_end_in)
            return [self.make("concrete", "concrete", span, (0.0, self.top_in), "concrete wall")]
        pieces = _full_height(self.job, wall)
        cripples = _take_studs(self.job, wall, pieces)
        made = self._plates()
        for p in pieces:
            made.append(
                self.make(p.name, p.role, (p.low_in, p.high_in), (self.under_in, self.over_in), p.says)
            )
        full = [(p.low_in, p.high_in) for p in pieces]
        for o in _openings(self.job, wall):
            made += self._opening(o, full, cripples)
        return made

    def _plates(self) -> list[Member]:
        wall = self.wall
        span = (wall.plate_start_in, wall.plate_end_in)
        doors = [
            (o.offset_in, o.offset_in + o.width_in)
            for o in _openings(self.job, wall)
            if o.sill_in < self.under_in - TOUCH_IN
        ]
        cut = cut_interval(*span, doors)
        made = [
            self.make(
                "bottom" if len(cut) == 1 else f"bottom-{i + 1}",
                "bottom plate",
                piece,
                (0.0, self.under_in),
                "bottom plate",
                wall.plates.bottom,
            )
            for i, piece in enumerate(cut)
        ]
        made.append(
            self.make("top", "top plate", span, (self.over_in, self.top_in), "top plate", wall.plates.top)
        )
        return made

    def _opening(
        self, o: Opening, full: list[tuple[float, float]], cripples: list[tuple[int, float]]
    ) -> list[Member]:
        a, b = o.offset_in, o.offset_in + o.width_in
        head_in = min(o.head_in, self.over_in)
        header_top_in = min(head_in + o.header_depth_in, self.over_in)
        made: list[Member] = []
        for name, lo, hi in (("jack-low", a - PLY_IN, a), ("jack-high", b, b + PLY_IN)):
            for piece in cut_interval(lo, hi, full)[:1]:
                up = (self.under_in, head_in)
                made.append(self.make(f"{o.id}/{name}", "jack", piece, up, f"jack of {o.kind} {o.id}"))
        if header_top_in > head_in + TOUCH_IN:
            wide = cut_interval(a - PLY_IN, b + PLY_IN, full)
            if wide:
                span = (wide[0][0], wide[-1][1])
                up = (head_in, header_top_in)
                made.append(self.make(f"{o.id}/header", "header", span, up, f"header of {o.kind} {o.id}", 2))
        sill_low_in = o.sill_in - PLY_IN
        if sill_low_in > self.under_in + TOUCH_IN:
            up = (sill_low_in, o.sill_in)
            made.append(self.make(f"{o.id}/sill", "sill", (a, b), up, f"rough sill of {o.kind} {o.id}"))
        half_in = self.wall.stud_width_in / 2
        for number, center_in in cripples:
            if not a < center_in < b:
                continue
            span = (max(center_in - half_in, a), min(center_in + half_in, b))
            if self.over_in - header_top_in > TOUCH_IN:
                up = (header_top_in, self.over_in)
                says = f"cripple {number} over {o.kind} {o.id}"
                made.append(self.make(f"{o.id}/cripple-over-{number}", "cripple", span, up, says))
            if sill_low_in > self.under_in + TOUCH_IN:
                up = (self.under_in, sill_low_in)
                says = f"cripple {number} under {o.kind} {o.id}"
                made.append(self.make(f"{o.id}/cripple-under-{number}", "cripple", span, up, says))
        return made
