"""Shell to job: the framing that no architect's file holds is added here, every assumption named in the job.

The job then holds levels, walls with framing facts, joints, openings, rooms with their kinds, floors
and roof, stairs and beams. Locations, enclosure and runs are wished afterwards by their own rules.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import dataclass, field, replace

from bayrun.files.shell import Point, Shell, ShellJoint, ShellOpening, ShellWall
from bayrun.files.shell_frames import Aloft, aloft, beams_of, floor_over, rect_of, roof_over, stairs_of
from bayrun.files.shell_guess import (
    SUBFLOOR_IN,
    core_of_wall,
    header_depth_in,
    joist_for,
    kind_of_name,
    separates,
)
from bayrun.files.shell_rooms import RoomOutline, room_outline
from bayrun.geometry import at_least, at_most
from bayrun.house import (
    Assumption,
    FacePiece,
    Job,
    Joint,
    Layout,
    Level,
    OpenEdge,
    Opening,
    Plates,
    Practice,
    Revision,
    Room,
    Wall,
)
from bayrun.units import tape

SPACING_IN = 16.0
PLATES_IN = 4.5
"""One bottom and two top plates of 1-1/2 in [in]."""
OUTSIDE = "outside"
_LEAST_WALL_IN = 8.0
"""A wall shorter than this between its neighbors is a stub without a bay [in]."""
_FINISH_IN = 2.0
_JACK_AND_KING_IN = 3.0


@dataclass(slots=True)
class _Making:
    """One job while it is made from its shell."""

    shell: Shell
    assumptions: list[Assumption] = field(default_factory=list)
    walls: dict[str, Wall] = field(default_factory=dict)
    ids: dict[str, str] = field(default_factory=dict)
    narrowed: list[str] = field(default_factory=list)
    lowered: list[str] = field(default_factory=list)

    def assume(self, says: str, where: str = "", why: str = "") -> None:
        """One more thing nobody measured."""
        self.assumptions.append(Assumption(f"F{len(self.assumptions) + 1}", says, where, why))


def job_from_shell(
    shell: Shell, *, job_id: str = "imported", name: str = "Imported house", practice: Practice | None = None
) -> Job:
    """A job of a healed shell; nothing is wished in it yet.

    Args:
        shell: Read and healed.
        job_id, name: Of the job; the file's own names of people and places are not carried.
        practice: The firm's; the usual one where none is given.
    Returns:
        The job; ``assumptions`` names every fact that was not in the file (``F…``) and what the import
        mended, left out or did not understand (``I…``).
    Limits of use: walls are framed straight; a slanted wall is kept but floors are rectangles.
    """
    making = _Making(shell)
    stories = shell.stories
    zero_in = stories[0].elevation_in
    making.ids = _level_ids(shell)
    over = [aloft(shell, level, zero_in) for level in stories]
    plate_tops = [_plate_top_in(making, i, zero_in, over[i]) for i in range(len(stories))]
    levels = tuple(_level(making, i, zero_in, plate_tops[i]) for i in range(len(stories)))
    outlines = [room_outline(space, shell.walls) for space in shell.rooms]
    rooms, names = _rooms(making, outlines)
    _walls(making, outlines, names)
    frames, roofs = [], []
    for i, level in enumerate(levels):
        area = _area(making, level.id)
        here = [
            w for w in making.walls.values() if w.level in (level.id, levels[min(i + 1, len(levels) - 1)].id)
        ]
        if i + 1 < len(levels):
            up = levels[i + 1]
            frames.append(
                floor_over(
                    str(i + 1),
                    level.id,
                    up.id,
                    area,
                    over[i],
                    up.subfloor_z_in,
                    here,
                    _outer(making, level.id),
                    making.assume,
                )
            )
        else:
            plate_z = level.subfloor_z_in + level.plate_top_in
            frame, roof = roof_over(level.id, area, over[i], plate_z, here, making.assume)
            frames.append(frame)
            roofs.append(roof)
    stairs, holes = stairs_of(shell, making.ids, rooms, frames, making.assume)
    openings = _openings(making, levels)
    joints = _joints(making)
    return Job(
        id=job_id,
        name=name,
        revision=Revision(),
        levels=levels,
        rooms=rooms,
        walls=tuple(making.walls.values()),
        joints=joints,
        openings=openings,
        open_edges=_open_edges(making, outlines, rooms),
        frames=tuple(frames),
        floor_openings=holes,
        beams=beams_of(shell, zero_in),
        stairs=stairs,
        roofs=tuple(roofs),
        practice=practice or Practice(),
        assumptions=(*making.assumptions, *_told(shell)),
        note=f"Read from an {shell.source}. The assumptions name what nobody measured: check them first.",
    )


def _told(shell: Shell) -> list[Assumption]:
    told = [n for n in shell.notes if n.kind != "read"]
    return [
        Assumption(f"I{i}", note.text, "; ".join(note.names), f"import: {note.kind}")
        for i, note in enumerate(told, 1)
    ]


def _level_ids(shell: Shell) -> dict[str, str]:
    """Short names: the number in the file's name where they are all different, else counted from below."""
    stories = shell.stories
    numbers = [re.search(r"\d+", s.name) for s in stories]
    short = [m[0].lstrip("0") or "0" if m else "" for m in numbers]
    if "" in short or len(set(short)) < len(short):
        short = [str(i) for i in range(1, len(stories) + 1)]
    return {s.name: i for s, i in zip(stories, short, strict=True)}


def _plate_top_in(making: _Making, index: int, zero_in: float, over: Aloft | None) -> float:
    """Top of the plates over a story's subfloor: the underside of what lies on them [in]."""
    stories = making.shell.stories
    level = stories[index]
    where = f"level {making.ids[level.name]}"
    if index + 1 < len(stories):
        # The joists hang under the upper subfloor; the plates carry them.
        thick = over.top_in - over.bottom_in if over else 10.0
        top_in = stories[index + 1].elevation_in - level.elevation_in - SUBFLOOR_IN - joist_for(thick)[1]
    elif over is not None:
        top_in = over.bottom_in + zero_in - level.elevation_in
    else:
        tops = sorted(w.base_in + w.height_in for w in making.shell.story_walls if w.level == level.name)
        top_in = tops[len(tops) // 2] if tops else level.height_in
    if not 60.0 < top_in < 240.0:
        top_in = min(max(level.height_in - 12.0, 84.0), 144.0)
        making.assume(
            f"plates end {tape(top_in)} above the subfloor", where, "the heights in the file contradict"
        )
    return round(top_in, 4)


def _level(making: _Making, index: int, zero_in: float, plate_top_in: float) -> Level:
    shell, level = making.shell, making.shell.stories[index]
    level_id = making.ids[level.name]
    ground = [p for p in shell.pieces if p.kind == "slab" and abs(p.z_top_in - level.elevation_in) < 2.0]
    joists = any(
        re.search(r"joist|truss|wood|timber", p.label, re.I) for p in ground if p.z_top_in - p.z_bottom_in > 4
    )
    slab = index == 0 and not joists
    where = f"level {level_id}"
    making.assume(
        f"double top plate and single bottom plate, together {tape(PLATES_IN)}; "
        f"plates end {tape(plate_top_in)} above the subfloor", where, "the file has no framing",
    )  # fmt: skip
    if slab:
        making.assume(
            "the floor is a slab on the ground: nothing can go down",
            where,
            "" if ground else "no floor in the file",
        )
    drops = sorted(
        p.z_bottom_in - level.elevation_in
        for p in shell.pieces
        if p.kind == "ceiling" and 72 < p.z_bottom_in - level.elevation_in < plate_top_in - 2
    )
    if drops:
        making.assume(
            f"the ceiling hangs at {tape(drops[0])}, {tape(plate_top_in - drops[0])} under the plates: "
            "planned as board on the joists", where, "dropped ceilings are not planned",
        )  # fmt: skip
    return Level(
        level_id, round(level.elevation_in - zero_in, 4), plate_top_in, slab=slab,
        stud_length_in=round(plate_top_in - PLATES_IN, 4),
    )  # fmt: skip


def _rooms(making: _Making, outlines: list[RoomOutline]) -> tuple[tuple[Room, ...], dict[int, str]]:
    taken: Counter[tuple[str, str]] = Counter()
    rooms: list[Room] = []
    names: dict[int, str] = {}
    guesses: dict[int, str] = {}
    for number, outline in enumerate(outlines):
        space = outline.space
        level = making.ids[space.level]
        base = space.title or "Room"
        taken[level, base] += 1
        name = base if taken[level, base] == 1 else f"{base} ({taken[level, base]})"
        kind, told = kind_of_name(base, space.area_in2)
        if not told and _holds_stair(making.shell, outline):
            kind = "hall"
        if not told:
            guesses[number] = kind
        names[number] = name
        rooms.append(
            Room(name, level, kind, outline.polygon, floor_finish_in=_finish_in(making.shell, outline))
        )
    if guesses and not any(room.kind == "living" for room in rooms):
        # A home has a place to sit: the largest of the rooms that do not tell.
        largest = max(guesses, key=lambda n: (outlines[n].space.area_in2, -n))
        if guesses[largest] == "bed":
            guesses[largest] = "living"
            rooms[largest] = replace(rooms[largest], kind="living")
    guessed = [f"{names[n]} as {kind}" for n, kind in guesses.items()]
    if guessed:
        making.assume(
            f"rooms whose name does not tell their use: {', '.join(guessed)}",
            "",
            "judged by their size and their stairs",
        )
    if not rooms:
        making.assume("the file has no rooms: nothing is wished until rooms are drawn")
    return tuple(rooms), names


def _holds_stair(shell: Shell, outline: RoomOutline) -> bool:
    """True where a stair of this level begins inside the room."""
    x0, y0, x1, y1 = rect_of(outline.space.polygon)
    floor = shell.level(outline.space.level).elevation_in
    for piece in shell.pieces:
        if piece.kind == "stair" and abs(piece.z_bottom_in - floor) < 24.0:
            a, b, c, d = rect_of(piece.polygon)
            if x0 <= (a + c) / 2 <= x1 and y0 <= (b + d) / 2 <= y1:
                return True
    return False


def _finish_in(shell: Shell, outline: RoomOutline) -> float:
    """Thickness of the finish floor drawn under a room, 0 where none is [in]."""
    x0, y0, x1, y1 = rect_of(outline.space.polygon)
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    floor = shell.level(outline.space.level).elevation_in
    for piece in shell.pieces:
        thick = piece.z_top_in - piece.z_bottom_in
        if piece.kind == "slab" and thick < _FINISH_IN and abs(piece.z_bottom_in - floor) < 0.5:
            a, b, c, d = rect_of(piece.polygon)
            if a <= x <= c and b <= y <= d:
                return round(thick, 4)
    return 0.0


def _walls(making: _Making, outlines: list[RoomOutline], names: dict[int, str]) -> None:
    faces: dict[tuple[str, str], list[FacePiece]] = {}
    for number, outline in enumerate(outlines):
        for c in outline.contacts:
            if at_least(c.to_in - c.from_in, 1.0):
                piece = FacePiece(names[number], round(c.from_in, 4) + 0.0, round(c.to_in, 4))
                faces.setdefault((c.wall, c.side), []).append(piece)
    assumed: dict[str, list[str]] = {}
    stubs = []
    shifts: dict[tuple[str, str], ShellJoint] = {(j.wall, j.end): j for j in making.shell.joints}
    for wall in making.shell.story_walls:
        core, depth_in, framed, why = core_of_wall(wall)
        ends = [_shift_in(making, shifts.get((wall.id, end))) for end in ("start", "end")]
        plate_start, plate_end = ends[0], wall.length_in - ends[1]
        if plate_end - plate_start < _LEAST_WALL_IN:
            stubs.append(f"{wall.label} ({wall.id})")
            continue
        if why:
            assumed.setdefault(f"{wall.label}: {why}", []).append(wall.id)
        rated = separates(wall)
        sides = {side: _faces(faces.get((wall.id, side), []), wall, side) for side in ("left", "right")}
        making.walls[wall.id] = Wall(
            wall.id, making.ids[wall.level], wall.start, wall.end, core, depth_in,
            round(plate_start, 4), round(plate_end, 4), SPACING_IN,
            bearing=wall.load_bearing, exterior=bool(wall.exterior), rated=rated or None,
            layout=Layout() if framed else None, plates=Plates(),
            left=sides["left"], right=sides["right"],
        )  # fmt: skip
        if rated:
            assumed.setdefault(f"{wall.label}: {rated}; no box or hole until somebody says", []).append(
                wall.id
            )
    framed_walls = [w for w in making.walls.values() if w.framed]
    making.assume(
        f"studs at 16 in on center in {len(framed_walls)} walls, laid out from each wall's start, "
        "first center at 16 in", "", "the file has no studs",
    )  # fmt: skip
    steel = [w.id for w in framed_walls if w.steel]
    if steel:
        making.assume(
            f"{len(steel)} walls have steel studs, as the file says; their plates are taken as wood",
            ", ".join(steel), "the file does not tell plates",
        )  # fmt: skip
    for says, where in sorted(assumed.items()):
        making.assume(says, ", ".join(where), "by the layers and names in the file")
    unknown = [w.id for w in making.walls.values() if w.bearing is None]
    if unknown:
        making.assume(
            f"{len(unknown)} walls count as bearing", ", ".join(unknown), "the file does not say which bear"
        )
    if stubs:
        making.assume(f"{len(stubs)} stubs of wall too short for a bay are left out", ", ".join(stubs), "")


def _shift_in(making: _Making, joint: ShellJoint | None) -> float:
    """How far the plates stop short of (+) or pass (-) a joint [in]."""
    if joint is None or joint.kind == "inline":
        return 0.0
    other = core_of_wall(making.shell.wall(joint.on_wall))[1] / 2
    if joint.kind == "corner" and _runs_through(joint, making.shell):
        return -other
    return other


def _runs_through(joint: ShellJoint, shell: Shell) -> bool:
    """At a corner the wall named first runs through and the other one butts against it."""
    return _place(joint.wall) < _place(joint.on_wall) and any(
        j.wall == joint.on_wall and j.on_wall == joint.wall and j.kind == "corner" for j in shell.joints
    )


def _place(wall_id: str) -> int:
    return int(re.sub(r"\D", "", wall_id) or 0)


def _faces(pieces: list[FacePiece], wall: ShellWall, side: str) -> tuple[FacePiece, ...]:
    """Stretches of one face in order, without overlaps; outside where an exterior wall shows to no room."""
    found: list[FacePiece] = []
    for piece in sorted(pieces, key=lambda p: (p.from_in, p.to_in, p.room)):
        start = max(piece.from_in, found[-1].to_in if found else 0.0)
        if piece.to_in - start < 1.0:
            continue
        if found and found[-1].room == piece.room and start - found[-1].to_in < 1.0:
            found[-1] = FacePiece(piece.room, found[-1].from_in, piece.to_in)
        else:
            found.append(FacePiece(piece.room, start, piece.to_in))
    if not found and wall.exterior:
        return (FacePiece(OUTSIDE, 0.0, round(wall.length_in, 4)),)
    return tuple(found)


def _area(making: _Making, level: str) -> tuple[float, float, float, float]:
    """The rectangle around a story's walls, along center lines [in]."""
    points = [p for w in making.walls.values() if w.level == level for p in (w.start, w.end)]
    return rect_of(points)


def _outer(making: _Making, level: str) -> tuple[float, float, float, float]:
    """The rectangle of a story's outer faces, where its rims stand: of the studs, or of the masonry [in]."""
    points = []
    for wall in making.shell.story_walls:
        made = making.walls.get(wall.id)
        if made is None or made.level != level:
            continue
        # Studs that only fur out a masonry wall do not carry the rim: the wall behind them does.
        furred = made.framed and any(layer.kind == "masonry" for layer in wall.layers)
        half = made.thickness_in / 2
        sides = (wall.left_in, -wall.right_in) if furred else (half, -half)
        points += [wall.at(o, side) for o in (0.0, wall.length_in) for side in sides]
    return tuple(round(v, 4) for v in rect_of(points))  # type: ignore[return-value]


def _joints(making: _Making) -> tuple[Joint, ...]:
    found = []
    for joint in making.shell.joints:
        if joint.wall not in making.walls or joint.on_wall not in making.walls:
            continue
        wall, other = making.walls[joint.wall], making.walls[joint.on_wall]
        kind = joint.kind
        if kind == "corner":
            through = _runs_through(joint, making.shell)
            kind_text = "corner, runs through" if through else "corner, butts"
        else:
            kind_text = kind
        shift = round(_shift_in(making, joint), 4)
        found.append(
            Joint(wall.id, joint.end, kind_text, other.id, joint.on_offset_in, wall.thickness_in, shift)
        )
    return tuple(found)


def _openings(making: _Making, levels: tuple[Level, ...]) -> tuple[Opening, ...]:
    """Openings of the walls that stayed; stacked or overlapping ones become one framed opening."""
    made: list[Opening] = []
    joined: list[str] = []
    plate_tops = {level.id: level.plate_top_in for level in levels}
    for wall_id, wall in making.walls.items():
        groups: list[list[ShellOpening]] = []
        for opening in making.shell.openings_of(wall_id):
            last = groups[-1] if groups else []
            if last and opening.offset_in < max(o.offset_in + o.width_in for o in last) - 1.0:
                last.append(opening)
            else:
                groups.append([opening])
        for group in groups:
            if len(group) > 1:
                joined.append(f"{wall_id}: {len(group)}")
            made.append(_opening(making, wall, group, plate_tops[wall.level]))
    if joined:
        making.assume(
            "windows that stand over each other are framed as one opening, lowest sill to highest head",
            ", ".join(joined), "the file does not tell the frame between them",
        )  # fmt: skip
    if making.narrowed:
        making.assume(
            "openings so near the end of their wall that no jack and king stud fit are planned narrower",
            ", ".join(making.narrowed), "the file does not tell the studs there",
        )  # fmt: skip
    if making.lowered:
        making.assume(
            "openings that reach so near the plates that no full header fits are planned with what fits",
            ", ".join(making.lowered), "ask the framer",
        )  # fmt: skip
    if made:
        making.assume(
            "openings are taken as rough openings, with headers 5-1/2 in deep to 4 ft, 7-1/4 to 6 ft, "
            "9-1/4 to 8 ft, 11-1/4 beyond", f"{len(made)} openings",
            "the file has no framing: not sizes to build from",
        )  # fmt: skip
    return tuple(made)


def _opening(making: _Making, wall: Wall, group: list[ShellOpening], plate_top_in: float) -> Opening:
    first = min(group, key=lambda o: (o.kind != "door", o.offset_in, o.id))
    low, high = min(o.offset_in for o in group), max(o.offset_in + o.width_in for o in group)
    sill, head = min(o.sill_in for o in group), max(o.sill_in + o.height_in for o in group)
    sill = 0.0 if abs(sill) < 0.5 else max(sill, 0.0)
    beside = _JACK_AND_KING_IN if wall.framed else 0.0
    first_in, last_in = wall.plate_start_in + beside, wall.plate_end_in - beside
    if low < first_in - 1e-6 or high > last_in + 1e-6:
        making.narrowed.append(first.id)
        low, high = min(max(low, first_in), last_in), max(min(high, last_in), first_in)
    header = header_depth_in(high - low)
    under_in = plate_top_in - 1.5 * wall.plates.top
    if wall.framed and head + header > under_in + 1e-6:
        making.lowered.append(first.id)
        head = min(head, under_in)
        header = under_in - head
    middle = (low + high) / 2
    left, right = (_shown(wall.left, middle), _shown(wall.right, middle))
    rooms = tuple(dict.fromkeys(r for r in (left, right) if r))
    into = {"left": left, "right": right}.get(first.swings_to or "")
    if first.kind == "door":
        kind = (
            "overhead door"
            if "overhead" in first.label.lower()
            else "outside door"
            if wall.exterior
            else "door"
        )
    elif first.kind == "window":
        kind = "window"
    else:
        kind = "cased opening" if sill < 1.0 else "opening"
    return Opening(
        first.id, wall.id, kind, round(low, 4), round(high - low, 4), round(sill, 4), round(head - sill, 4),
        round(header, 4), rooms, into or None, first.hinge_end,
        note="" if len(group) == 1 else f"{len(group)} units over each other",
    )  # fmt: skip


def _shown(pieces: tuple[FacePiece, ...], at_in: float) -> str:
    return next((p.room for p in pieces if at_most(p.from_in, at_in) and at_most(at_in, p.to_in)), "")


def _open_edges(
    making: _Making, outlines: list[RoomOutline], rooms: tuple[Room, ...]
) -> tuple[OpenEdge, ...]:
    """Edges without a wall that two rooms share, each once."""
    found: list[OpenEdge] = []
    for i, outline in enumerate(outlines):
        for a, b in outline.open_edges:
            mine = rooms[i]
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            for j in range(i + 1, len(outlines)):
                if rooms[j].level != mine.level:
                    continue
                for c, d in outlines[j].open_edges:
                    other = ((c[0] + d[0]) / 2, (c[1] + d[1]) / 2)
                    length = min(math.dist(a, b), math.dist(c, d))
                    if math.dist(middle, other) < max(12.0, length / 2) and _parallel(a, b, c, d):
                        found.append(OpenEdge(mine.level, (mine.name, rooms[j].name), (_tidy(a), _tidy(b))))
                        break
    return tuple(found)


def _tidy(point: Point) -> Point:
    return round(point[0], 4), round(point[1], 4)


def _parallel(a: Point, b: Point, c: Point, d: Point) -> bool:
    ax, ay, bx, by = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    return abs(ax * by - ay * bx) < 0.05 * math.hypot(ax, ay) * math.hypot(bx, by)
