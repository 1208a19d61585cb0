"""What is solid along one wall, by the framer's rules alone: enough to see a location on a stud.

The full framing, with ids and every ply, is laid out elsewhere; here only offsets matter. Layout studs
count from the plate end, a tee takes backing as wide as the wall that ends there, an opening has one
jack and one king a side, and studs inside it become cripples.

Source: common framing practice, no source; IRC R602.3 for the parts of an opening, from memory.
"""

from __future__ import annotations

from dataclasses import dataclass

from bayrun.geometry import at_most, below
from bayrun.house.building import Opening, Wall
from bayrun.house.job import Job

_JACK_IN = 1.5
_BOTH_IN = 3.0
"""Jack and king, each 1-1/2 in."""
_NEAR_END_IN = 2.25
"""A layout stud this close to a plate end is the end stud itself."""


@dataclass(frozen=True, slots=True)
class Solid:
    """One thing a location cannot stand in, between two offsets along the wall [in]."""

    what: str
    from_in: float
    to_in: float

    def holds(self, along_in: float) -> bool:
        """True where an offset lies inside, edges not counted."""
        return below(self.from_in, along_in) and below(along_in, self.to_in)


def layout_stud_centers_in(wall: Wall) -> tuple[float, ...]:
    """Centers of the layout studs, low to high, as offsets from the wall's start [in]."""
    if wall.layout is None or at_most(wall.spacing_in, 0.0):
        return ()
    forward = wall.layout.origin == "start"
    first_in, last_in = wall.plate_start_in + _NEAR_END_IN, wall.plate_end_in - _NEAR_END_IN
    at_in = wall.plate_start_in + wall.layout.first_mark_in
    if not forward:
        at_in = wall.plate_end_in - wall.layout.first_mark_in
    centers = []
    while below(first_in, at_in) and below(at_in, last_in):
        centers.append(at_in)
        at_in += wall.spacing_in if forward else -wall.spacing_in
    return tuple(sorted(centers))


def openings_of(job: Job, wall: Wall) -> tuple[Opening, ...]:
    """The openings of a wall, low to high."""
    return tuple(sorted((o for o in job.openings if o.wall == wall.id), key=lambda o: (o.offset_in, o.id)))


def fixed_solids(job: Job, wall: Wall) -> tuple[Solid, ...]:
    """What stands full height whatever the layout: end studs, tee backing, posts, kings and jacks."""
    if not wall.framed:
        return ()
    start_in, end_in, half_in = wall.plate_start_in, wall.plate_end_in, wall.stud_width_in
    solids = [
        Solid("the end stud", start_in, start_in + half_in),
        Solid("the end stud", end_in - half_in, end_in),
    ]
    for joint in job.joints:
        if joint.on_wall == wall.id and joint.kind == "tee":
            low_in, high_in = joint.on_offset_in - joint.width_in / 2, joint.on_offset_in + joint.width_in / 2
            solids.append(
                Solid(f"the backing for wall {joint.wall}", max(low_in, start_in), min(high_in, end_in))
            )
    solids += _posts(job, wall)
    for opening in openings_of(job, wall):
        low_in, high_in = opening.offset_in, opening.offset_in + opening.width_in
        name = f"{opening.kind} {opening.id}"
        solids.append(Solid(f"the king and jack stud of {name}", low_in - _BOTH_IN, low_in))
        solids.append(Solid(f"the king and jack stud of {name}", high_in, high_in + _BOTH_IN))
    return tuple(solids)


def _posts(job: Job, wall: Wall) -> list[Solid]:
    """Posts that stand in a wall square to the axes; a post in a skew wall is left to the framing."""
    if wall.start[0] != wall.end[0] and wall.start[1] != wall.end[1]:
        return []
    axis = 0 if wall.start[1] == wall.end[1] else 1
    found = []
    for post in job.posts:
        low, high = (post.rect[axis], post.rect[axis + 2])
        across_low, across_high = post.rect[1 - axis], post.rect[3 - axis]
        line = wall.start[1 - axis]
        wall_low, wall_high = sorted((wall.start[axis], wall.end[axis]))
        on_line = at_most(across_low, line) and at_most(line, across_high)
        if post.level != wall.level or not on_line or not (below(wall_low, high) and below(low, wall_high)):
            continue
        from_in, to_in = sorted((abs(low - wall.start[axis]), abs(high - wall.start[axis])))
        found.append(Solid(f"post {post.id}", from_in, to_in))
    return found


def solids_at(job: Job, wall: Wall, above_subfloor_in: float) -> tuple[Solid, ...]:
    """Everything a box in this wall would hit at one height.

    Args:
        above_subfloor_in: Height of its middle above the level's subfloor [in].
    """
    if not wall.framed:
        return ()
    solids = list(fixed_solids(job, wall))
    openings = openings_of(job, wall)
    for opening in openings:
        low_in, high_in = opening.offset_in, opening.offset_in + opening.width_in
        name = f"{opening.kind} {opening.id}"
        head_in = opening.head_in
        if at_most(opening.sill_in, above_subfloor_in) and at_most(above_subfloor_in, head_in):
            solids.append(Solid(name, low_in, high_in))
        elif below(head_in, above_subfloor_in) and at_most(
            above_subfloor_in, head_in + opening.header_depth_in
        ):
            solids.append(Solid(f"the header of {name}", low_in - _JACK_IN, high_in + _JACK_IN))
    half_in = wall.stud_width_in / 2
    for center_in in layout_stud_centers_in(wall):
        inside = [
            o
            for o in openings
            if below(o.offset_in - _BOTH_IN, center_in)
            and below(center_in, o.offset_in + o.width_in + _BOTH_IN)
        ]
        cripple = any(
            below(o.offset_in, center_in)
            and below(center_in, o.offset_in + o.width_in)
            and (
                below(o.head_in + o.header_depth_in, above_subfloor_in) or below(above_subfloor_in, o.sill_in)
            )
            for o in inside
        )
        if not inside or cripple:
            what = "the cripple stud" if inside else "the stud"
            solids.append(Solid(what, center_in - half_in, center_in + half_in))
    return tuple(sorted(solids, key=lambda s: (s.from_in, s.to_in, s.what)))


def nearest_clear_in(solids: tuple[Solid, ...], wall: Wall, along_in: float, half_in: float) -> float | None:
    """The offset nearest to one wished where a box of this half width stands clear, to the next 1/16 [in]."""
    places = [wall.plate_start_in + half_in, wall.plate_end_in - half_in]
    places += [edge for s in solids for edge in (s.from_in - half_in, s.to_in + half_in)]
    clear = [
        at_in
        for at_in in places
        if at_most(wall.plate_start_in + half_in, at_in)
        and at_most(at_in, wall.plate_end_in - half_in)
        and not any(below(s.from_in, at_in + half_in) and below(at_in - half_in, s.to_in) for s in solids)
    ]
    return min(clear, key=lambda at_in: (abs(at_in - along_in), at_in)) if clear else None
