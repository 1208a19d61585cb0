"""Where on a wall a box may stand: beside a stud, clear of openings, door swings, corners and cabinets.

Plain arithmetic on the plan; the frame itself is laid out later from the same facts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bayrun.geometry import at_least, at_most, below, cut_interval
from bayrun.house import FacePiece, Job, Obstacle, Opening, Room, Wall, wall_name, wall_point

STUD_CLEAR_IN = 2.5
"""Middle of a box to the nearest layout stud's center: the box is nailed to the stud's side [in].
Common practice, no source."""
WOOD_CLEAR_IN = 1.75
"""Middle of a box to the nearest wood of a king, corner or tee [in]. Common practice, no source."""
LEAST_DEPTH_IN = 2.0
"""A plate under this takes no 3/4 in hole with 5/8 in of wood on each side [in]. Source: IRC R602.6 edge."""
JAMB_CLEAR_IN = 6.0
"""Middle of a box to the edge of an opening, or to a corner of the room [in]. Common practice, no source."""
FRAMING_BESIDE_OPENING_IN = 3.0
"""One jack and one king each side of a rough opening [in]. Source: IRC R602.7; framing practice."""
LEAF_STANDS_IN = 12.0
"""A leaf that is open covers a wall that turns this near to its hinge [in]. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One place for a box on one face of a wall.

    Args:
        offset_in: Along the wall from its start [in].
        stretch_in: The clear wall it stands in, between openings and corners: (from, to) [in].
        says: Which wall, and why it is clear, in words.
    """

    wall: str
    side: Literal["left", "right"]
    offset_in: float
    stretch_in: tuple[float, float]
    exterior: bool
    says: str

    @property
    def stretch_length_in(self) -> float:
        """Length of its clear stretch [in]."""
        return self.stretch_in[1] - self.stretch_in[0]

    @property
    def off_middle_in(self) -> float:
        """How far it stands from the middle of its stretch [in]."""
        return abs(self.offset_in - (self.stretch_in[0] + self.stretch_in[1]) / 2)


def layout_centers_in(wall: Wall) -> tuple[float, ...]:
    """Centers of the layout studs as offsets from the wall's start, openings not regarded [in]."""
    if wall.layout is None:
        return ()
    low, high = wall.plate_start_in, wall.plate_end_in
    reach = 1.5 * wall.stud_width_in
    count = max(0, int((high - low - wall.layout.first_mark_in - reach) / wall.spacing_in + 1e-9) + 1)
    if wall.layout.origin == "start":
        return tuple(low + wall.layout.first_mark_in + i * wall.spacing_in for i in range(count))
    return tuple(high - wall.layout.first_mark_in - i * wall.spacing_in for i in reversed(range(count)))


def wood_in(job: Job, wall: Wall) -> tuple[tuple[float, float], ...]:
    """Ends, tee backing, posts and the framing of openings along a wall, layout studs apart [in]."""
    low, high = wall.plate_start_in, wall.plate_end_in
    taken = [(low, low + wall.stud_width_in), (high - wall.stud_width_in, high)]
    for joint in job.joints:
        if joint.on_wall == wall.id and joint.kind == "tee":
            half = joint.width_in / 2
            taken.append((joint.on_offset_in - half, joint.on_offset_in + half))
    for opening in _openings(job, wall):
        beside = FRAMING_BESIDE_OPENING_IN
        taken.append((opening.offset_in - beside, opening.offset_in + opening.width_in + beside))
    for post in job.posts:
        if post.level == wall.level:
            hit = _shadow(wall, post.rect, wall.thickness_in / 2)
            if hit is not None:
                taken.append(hit)
    return tuple(sorted(taken))


def _openings(job: Job, wall: Wall) -> tuple[Opening, ...]:
    return tuple(o for o in job.openings if o.wall == wall.id)


def _shadow(
    wall: Wall, rect: tuple[float, float, float, float], within_in: float
) -> tuple[float, float] | None:
    """Stretch of a wall that a plan rectangle covers that comes within ``within_in`` of its center line."""
    dx, dy = wall.direction
    alongs, acrosses = [], []
    for x in (rect[0], rect[2]):
        for y in (rect[1], rect[3]):
            ox, oy = x - wall.start[0], y - wall.start[1]
            alongs.append(ox * dx + oy * dy)
            acrosses.append(-ox * dy + oy * dx)
    if below(within_in, min(acrosses)) or below(max(acrosses), -within_in):
        return None
    return (min(alongs), max(alongs)) if max(alongs) > 0 and min(alongs) < wall.length_in else None


def _obstacle_rect(obstacle: Obstacle) -> tuple[float, float, float, float] | None:
    if obstacle.chase is not None:
        return obstacle.chase
    if obstacle.rect is not None and not obstacle.frames:
        return obstacle.rect
    if obstacle.center is not None and obstacle.diameter_in:
        x, y = obstacle.center
        if x is not None and y is not None:
            r = obstacle.diameter_in / 2 + obstacle.clearance_in
            return x - r, y - r, x + r, y + r
    return None


def blocked_in(job: Job, wall: Wall) -> tuple[tuple[float, float], ...]:
    """Stretches with a pipe, cabinet, panel, mirror or stair in or against the wall, at any height [in].

    A cabinet on the far side of the wall counts too: its screws and its back are no place for a box.
    """
    found = []
    for obstacle in job.obstacles:
        rect = _obstacle_rect(obstacle)
        if rect is None or (obstacle.levels and wall.level not in obstacle.levels):
            continue
        hit = _shadow(wall, rect, wall.thickness_in / 2 + 2.0)
        if hit is not None:
            found.append((hit[0] - WOOD_CLEAR_IN, hit[1] + WOOD_CLEAR_IN))
    return tuple(found)


def swing_in(
    job: Job, wall: Wall, side: Literal["left", "right"], room: Room
) -> tuple[tuple[float, float], ...]:
    """Stretches of a face that an open door covers: its own wall beyond the hinge, and the wall it swings to.

    Where nobody said how a door hinges, both ends are taken; where nobody said into which room, both rooms.
    """
    found = []
    for opening in job.openings:
        if "door" not in opening.kind or "overhead" in opening.kind or opening.is_window:
            continue
        if room.name not in opening.rooms or opening.swings_into not in (None, room.name):
            continue
        host = job.wall(opening.wall)
        if host.level != room.level:
            continue
        a, b, width = opening.offset_in, opening.offset_in + opening.width_in, opening.width_in
        ends = [(a - width, a)] if opening.hinge_end in ("low", None) else []
        ends += [(b, b + width)] if opening.hinge_end in ("high", None) else []
        middle = (a + b) / 2
        if host.id == wall.id:
            if _shows(host, side, room, middle):
                found += ends
            continue
        if not _turns(host, wall):
            continue
        # fully open the leaf stands square to its wall, against a wall that turns within a foot of the hinge
        into = 1.0 if _shows(host, "left", room, middle) else -1.0
        reach = into * (host.thickness_in / 2 + width)
        for low, high in ends:
            near = (max(low, a - LEAF_STANDS_IN), min(high, b + LEAF_STANDS_IN))
            corners = [wall_point(host, u, v) for u in near for v in (0.0, reach)]
            xs, ys = [c[0] for c in corners], [c[1] for c in corners]
            hit = _shadow(wall, (min(xs), min(ys), max(xs), max(ys)), wall.thickness_in / 2)
            if hit is not None:
                found.append(hit)
    return tuple(found)


def _turns(a: Wall, b: Wall) -> bool:
    """True where two walls are not parallel."""
    return abs(a.direction[0] * b.direction[1] - a.direction[1] * b.direction[0]) > 0.5


def _shows(wall: Wall, side: str, room: Room, at_in: float) -> bool:
    pieces = wall.left if side == "left" else wall.right
    return any(p.room == room.name and at_least(at_in, p.from_in) and at_most(at_in, p.to_in) for p in pieces)


def faces_of(job: Job, room: Room) -> tuple[tuple[Wall, Literal["left", "right"], FacePiece], ...]:
    """Every stretch of wall face that shows to a room, in the job's order of walls."""
    found: list[tuple[Wall, Literal["left", "right"], FacePiece]] = []
    for wall in job.walls:
        if wall.level != room.level:
            continue
        found.extend((wall, "left", piece) for piece in wall.left if piece.room == room.name)
        found.extend((wall, "right", piece) for piece in wall.right if piece.room == room.name)
    return tuple(found)


def spots(job: Job, room: Room, *, mind_swings: bool = True, outside: bool = False) -> tuple[Spot, ...]:
    """Every place for a box on the walls of a room, wall by wall from low to high.

    A box stands at a stud's side, ``STUD_CLEAR_IN`` from its center, at least 6 in from openings and corners,
    behind no open door, away from pipes, cabinets and panels, and never in a rated, concrete or wet wall,
    nor in furring whose plate takes no hole.

    Args:
        mind_swings: False lets a box stand behind an open door, for rooms where nothing else is left.
        outside: For boxes on the outer face of outside walls, where doors and corners inside do not matter.
    """
    found: list[Spot] = []
    for wall, side, piece in faces_of(job, room):
        if not wall.framed or wall.rated or wall.wet or below(wall.thickness_in, LEAST_DEPTH_IN):
            continue
        if wall.exterior or not outside:
            found += _on_face(job, room, wall, side, piece, mind_swings and not outside, outside)
    return tuple(found)


def _on_face(
    job: Job,
    room: Room,
    wall: Wall,
    side: Literal["left", "right"],
    piece: FacePiece,
    mind_swings: bool,
    outside: bool,
) -> list[Spot]:
    corner = 0.0 if outside else JAMB_CLEAR_IN + _corner_half(job, wall)
    low, high = piece.from_in + corner, piece.to_in - corner
    if not below(low, high):
        return []
    gone = [
        (o.offset_in - JAMB_CLEAR_IN, o.offset_in + o.width_in + JAMB_CLEAR_IN) for o in _openings(job, wall)
    ]
    stretches = cut_interval(low, high, gone)
    taken = [(a - WOOD_CLEAR_IN, b + WOOD_CLEAR_IN) for a, b in wood_in(job, wall)]
    taken += blocked_in(job, wall)
    if mind_swings:
        taken += swing_in(job, wall, side, room)
    studs = layout_centers_in(wall)
    face = wall_name(wall, (piece.from_in + piece.to_in) / 2)
    doors = "clear of door swings" if mind_swings else "behind a door that may stand open: look"
    clear = "openings" if outside else f"openings and corners, {doors}"
    found = []
    for stretch in stretches:
        for stud in studs:
            for at in (stud - STUD_CLEAR_IN, stud + STUD_CLEAR_IN):
                if below(at, stretch[0]) or below(stretch[1], at):
                    continue
                if any(a < at < b for a, b in taken):
                    continue
                if not all(at_least(abs(at - other), STUD_CLEAR_IN) for other in studs):
                    continue
                says = f"{face}, beside a stud, 6 in and more from {clear}"
                found.append(Spot(wall.id, side, at, stretch, wall.exterior, says))
    return found


def _corner_half(job: Job, wall: Wall) -> float:
    """Half the thickest wall that ends on this one or takes its ends: a face begins there [in]."""
    near = [j.width_in for j in job.joints if j.on_wall == wall.id]
    near += [job.wall(j.on_wall).thickness_in for j in job.joints if j.wall == wall.id and j.on_wall]
    return max(near, default=wall.thickness_in) / 2
