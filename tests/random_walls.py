"""Random houses, second part: walls, joints, faces and openings."""

from __future__ import annotations

import dataclasses

from bayrun.house import (
    FacePiece,
    Joint,
    Layout,
    Level,
    Opening,
    Wall,
)
from random_shell import Cell, Draft, Interval, Line, sixteenth


def make_walls(draft: Draft, level: Level, top: bool) -> tuple[list[Wall], list[Joint]]:
    rng = draft.rng
    raw: list[tuple[Line, bool]] = [
        (Line("u", 0.0, 0.0, draft.u), True),
        (Line("u", draft.v, 0.0, draft.u), True),
        (Line("v", 0.0, 0.0, draft.v), True),
        (Line("v", draft.u, 0.0, draft.v), True),
    ]
    raw += [(line, False) for line in draft.lines[level.id]]
    cells = draft.cells[level.id]
    outer_spacing = 24.0 if draft.outer == 5.5 and rng.random() < 0.3 else 16.0
    walls: list[Wall] = []
    for n, (line, exterior) in enumerate(raw, start=1):
        a = (line.lo, line.c) if line.axis == "u" else (line.c, line.lo)
        b = (line.hi, line.c) if line.axis == "u" else (line.c, line.hi)
        start, end = draft.point(*a), draft.point(*b)
        concrete = exterior and level.id == "B"
        left, right = _faces(draft, cells, start, end)
        kinds = {c.kind for c in cells for piece in (*left, *right) if piece.room == c.name}
        wet = not exterior and "bath" in kinds and not line.spine and rng.random() < 0.6
        separation = "dwelling to garage" if not exterior and "garage" in kinds else ""
        if concrete:
            core, thickness = "concrete 8", 8.0
        elif exterior:
            core, thickness = ("2x6" if draft.outer == 5.5 else "2x4"), draft.outer
        else:
            core, thickness = ("2x6", 5.5) if wet or (line.spine and rng.random() < 0.3) else ("2x4", 3.5)
        spacing = outer_spacing if exterior else rng.choice((16.0, 16.0, 16.0, 16.0, 24.0))
        bearing: bool | None = (exterior and line.axis == "u") or (line.spine and not top)
        if not exterior and not line.spine:
            bearing = None if rng.random() < 0.1 else False
        mark = spacing if rng.random() < 0.7 else sixteenth(rng.uniform(4, spacing))
        layout = None if concrete else Layout("start" if rng.random() < 0.7 else "end", mark)
        walls.append(
            Wall(
                id=f"L{level.id}-W{n:02d}",
                level=level.id,
                start=start,
                end=end,
                core=core,
                thickness_in=thickness,
                plate_start_in=0.0,
                plate_end_in=line.hi - line.lo,
                spacing_in=spacing,
                bearing=bearing,
                exterior=exterior,
                layout=layout,
                left=left,
                right=right,
                separation=separation,
                wet=wet,
                sheathed=exterior and not concrete,
            )
        )
    joints = [_joint(wall, which, walls) for wall in walls for which in ("start", "end")]
    placed = []
    for wall in walls:
        low = next(j for j in joints if j.wall == wall.id and j.end == "start").plate_shift_in
        high = next(j for j in joints if j.wall == wall.id and j.end == "end").plate_shift_in
        placed.append(dataclasses.replace(wall, plate_start_in=low, plate_end_in=wall.length_in - high))
    return placed, joints


def runs_along_x(wall: Wall) -> bool:
    return wall.start[1] == wall.end[1]


def _joint(wall: Wall, which: str, walls: list[Wall]) -> Joint:
    """As the demo data say it: x-walls run through at corners, y-walls butt, inside walls make tees."""
    node = wall.start if which == "start" else wall.end
    for other in walls:
        if other is wall or runs_along_x(other) == runs_along_x(wall):
            continue
        along = node[0] - other.start[0] if runs_along_x(other) else node[1] - other.start[1]
        off_line = node[1] - other.start[1] if runs_along_x(other) else node[0] - other.start[0]
        if off_line or not 0 <= along <= other.length_in:
            continue
        half = other.thickness_in / 2
        if 0 < along < other.length_in:
            return Joint(wall.id, which, "tee", other.id, along, wall.thickness_in, half)  # type: ignore[arg-type]
        kind, shift = ("corner, runs through", -half) if runs_along_x(wall) else ("corner, butts", half)
        return Joint(wall.id, which, kind, other.id, along, wall.thickness_in, shift)  # type: ignore[arg-type]
    raise AssertionError(f"wall {wall.id} ends on nothing at its {which}")


def _faces(
    draft: Draft, cells: list[Cell], start: tuple[float, float], end: tuple[float, float]
) -> tuple[tuple[FacePiece, ...], tuple[FacePiece, ...]]:
    """Left of +x is +y; left of +y is -x."""
    along_x = start[1] == end[1]
    const, low, high = (start[1], start[0], end[0]) if along_x else (start[0], start[1], end[1])
    sides: dict[str, list[FacePiece]] = {"more": [], "less": []}
    for cell in cells:
        x0, y0, x1, y1 = draft.rect(cell.u0, cell.v0, cell.u1, cell.v1)
        r0, r1, a, b = (y0, y1, x0, x1) if along_x else (x0, x1, y0, y1)
        a, b = max(a, low), min(b, high)
        if a < b and const in (r0, r1):
            finish = "5/8 in gypsum" if cell.kind == "garage" else "1/2 in gypsum"
            sides["more" if r0 == const else "less"].append(FacePiece(cell.name, a - low, b - low, finish))
    for pieces in sides.values():
        if not pieces:
            pieces.append(FacePiece("outside", 0.0, high - low, "siding on sheathing"))
        pieces.sort(key=lambda p: p.from_in)
    more, less = tuple(sides["more"]), tuple(sides["less"])
    return (more, less) if along_x else (less, more)


def fixed_wood(wall: Wall, joints: list[Joint]) -> list[Interval]:
    """End studs and tee backing of a wall: where no opening may stand."""
    p0, p1 = wall.plate_start_in, wall.plate_end_in
    taken = [(p0, p0 + 1.5), (p1 - 1.5, p1)]
    taken += [
        (j.on_offset_in - j.width_in / 2, j.on_offset_in + j.width_in / 2)
        for j in joints
        if j.on_wall == wall.id and j.kind == "tee"
    ]
    return taken


def gaps_between(low: float, high: float, taken: list[Interval]) -> list[Interval]:
    gaps, at = [], low
    for a, b in sorted(taken):
        if a > at:
            gaps.append((at, min(a, high)))
        at = max(at, b)
    if at < high:
        gaps.append((at, high))
    return [(a, b) for a, b in gaps if b > a]


_HEADERS = ((40.0, 5.5), (64.0, 7.25), (100.0, 9.25), (1e9, 11.25))


def make_openings(draft: Draft, level: Level, walls: list[Wall], joints: list[Joint]) -> list[Opening] | None:
    """Doors that join every room, a front door, windows; None where a room has no way in."""
    rng = draft.rng
    cells = {cell.name: cell for cell in draft.cells[level.id]}
    taken = {wall.id: fixed_wood(wall, joints) for wall in walls}
    made: list[Opening] = []

    def place(
        wall: Wall, low: float, high: float, width: float, sill: float, kind: str, rooms: tuple[str, ...]
    ) -> bool:
        fits = [(a, b) for a, b in gaps_between(low, high, taken[wall.id]) if b - a >= width + 9]
        if not fits or not wall.framed:
            return False
        a, b = rng.choice(fits)
        offset = sixteenth(rng.uniform(a + 4.5, b - 4.5 - width))
        header = next(depth for limit, depth in _HEADERS if width <= limit)
        swings = next((r for r in reversed(rooms) if r != "outside"), None) if "door" in kind else None
        hinge = rng.choice(("low", "high")) if swings else None
        made.append(
            Opening(
                f"L{level.id}-{'N' if sill else 'D'}{len(made) + 1:02d}",
                wall.id,
                kind,
                offset,
                width,
                sill,
                82.5 - sill,
                header,
                rooms,
                swings,
                hinge,
            )
        )
        taken[wall.id].append((offset - 3, offset + width + 3))
        return True

    pairs = [
        (wall, max(a.from_in, b.from_in), min(a.to_in, b.to_in), a.room, b.room)
        for wall in walls
        if not wall.exterior
        for a in wall.left
        for b in wall.right
        if min(a.to_in, b.to_in) - max(a.from_in, b.from_in) > 45
    ]
    rng.shuffle(pairs)
    pairs.sort(key=lambda p: -sum(cells[name].kind == "hall" for name in p[3:]))
    joined = {next((n for n, c in cells.items() if c.stair), next(iter(cells)))}
    progress = True
    while len(joined) < len(cells) and progress:
        progress = False
        for wall, low, high, left, right in pairs:
            if (left in joined) == (right in joined):
                continue
            width = rng.choice((26.5, 30.5, 32.5, 34.5))
            small = [width, 26.5]
            if any(place(wall, low, high, w, 0.0, "door", (left, right)) for w in small):
                joined |= {left, right}
                progress = True
                break
    if len(joined) < len(cells):
        return None
    if level.id == "B":
        return made
    fronts = [
        (wall, piece)
        for wall in walls
        if wall.exterior
        for piece in (*wall.left, *wall.right)
        if piece.room in cells
    ]
    if level.id == "1":
        doors = [f for f in fronts if cells[f[1].room].kind in ("hall", "living", "kitchen")]
        rng.shuffle(doors)
        if not any(
            place(w, p.from_in, p.to_in, 38.5, 0.0, "front door", ("outside", p.room)) for w, p in doors
        ):
            return None
        for wall, piece in fronts:
            if cells[piece.room].kind == "garage" and any(
                place(
                    wall, piece.from_in, piece.to_in, width, 0.0, "overhead opening", ("outside", piece.room)
                )
                for width in (192.0, 96.0)
            ):
                break
    for wall, piece in fronts:
        if cells[piece.room].kind in ("closet", "garage") or rng.random() < 0.25:
            continue
        width = rng.choice((24.5, 30.5, 36.5, 48.5, 60.5, 72.5))
        sill = rng.choice((24.0, 30.0, 36.0, 44.0))
        place(wall, piece.from_in, piece.to_in, width, sill, "window", ("outside", piece.room))
    return made
