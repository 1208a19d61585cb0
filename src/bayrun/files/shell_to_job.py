"""Shell to job: the framing that no architect's file holds is added here, every assumption named in the job.

The job then holds levels, walls with framing facts, joints, openings, rooms with their kinds, floors
and roof, stairs and beams. Locations, enclosure and runs are wished afterwards by their own rules.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from bayrun.files.agree import agreed
from bayrun.files.shell import Shell
from bayrun.files.shell_frames import aloft, beams_of, floor_over, rect_of, roof_over, stairs_of
from bayrun.files.shell_guess import kind_of_name
from bayrun.files.shell_joists import joists_over
from bayrun.files.shell_levels import level_ids, level_of, plate_top_in, stories_over
from bayrun.files.shell_making import Making
from bayrun.files.shell_openings import make_open_edges, make_openings
from bayrun.files.shell_rooms import RoomOutline, room_outline
from bayrun.files.shell_walls import make_joints, make_outer, make_walls
from bayrun.house import Assumption, FloorFrame, Job, Practice, Revision, Roof, Room

_FINISH_IN = 2.0


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
    making = Making(shell)
    stories = shell.stories
    zero_in = stories[0].elevation_in
    making.ids = level_ids(shell)
    over = [aloft(shell, level, zero_in) for level in stories]
    upper = stories_over(shell)
    fields = [
        None if upper[i] is None else joists_over(shell, level, zero_in) for i, level in enumerate(stories)
    ]
    plate_tops = [plate_top_in(making, i, upper[i], zero_in, over[i], fields[i]) for i in range(len(stories))]
    levels = tuple(level_of(making, i, zero_in, plate_tops[i]) for i in range(len(stories)))
    for i, above in enumerate(upper):
        if i + 1 < len(stories) and above != i + 1:
            making.assume(
                f"level {levels[i].id} and level {levels[i + 1].id} lie beside each other (a split level): "
                "the way of cables between their halves is not in the file",
                f"levels {levels[i].id} and {levels[i + 1].id}",
                "draw a conduit, or give the half its own enclosure, where runs do not reach it",
            )
    outlines = [room_outline(space, shell.walls) for space in shell.rooms]
    rooms, names = _rooms(making, outlines)
    make_walls(making, outlines, names)
    frames: list[FloorFrame] = []
    roofs: list[Roof] = []
    for i, level in enumerate(levels):
        area, above = _area(making, level.id), upper[i]
        beside = {level.id} if above is None else {level.id, levels[above].id}
        here = [w for w in making.walls.values() if w.level in beside]
        if above is not None:
            up = levels[above]
            frames.append(
                floor_over(
                    str(len(frames) - len(roofs) + 1), level.id, up.id, area, over[i], fields[i],
                    up.subfloor_z_in, here, make_outer(making, level.id), making.assume,
                )
            )  # fmt: skip
        else:
            plate_z = level.subfloor_z_in + level.plate_top_in
            number = f"R{len(roofs) + 1}"
            frame, roof = roof_over(number, level.id, area, over[i], plate_z, here, making.assume)
            frames.append(frame)
            roofs.append(roof)
    if len(roofs) > 1:
        roofs = [replace(roof, frames=(roof.id,)) for roof in roofs]
    stairs, holes = stairs_of(shell, making.ids, rooms, frames, making.assume)
    openings = make_openings(making, levels)
    joints = make_joints(making)
    return Job(
        id=job_id,
        name=name,
        revision=Revision(),
        levels=levels,
        rooms=rooms,
        walls=tuple(making.walls.values()),
        joints=joints,
        openings=openings,
        open_edges=make_open_edges(making, outlines, rooms),
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
        Assumption(f"I{i}", agreed(note.text), "; ".join(note.names), f"import: {note.kind}")
        for i, note in enumerate(told, 1)
    ]


def _rooms(making: Making, outlines: list[RoomOutline]) -> tuple[tuple[Room, ...], dict[int, str]]:
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


def _area(making: Making, level: str) -> tuple[float, float, float, float]:
    """The rectangle around a story's walls, along center lines [in]."""
    points = [p for w in making.walls.values() if w.level == level for p in (w.start, w.end)]
    return rect_of(points)
