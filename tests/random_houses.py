"""A seeded generator of plausible random houses, for laws that must hold in any house.

``random_house(seed)`` gives the same house for the same seed on every machine. Every length is a
multiple of 1/16 in, so coordinates compare exactly. The house is drawn in canonical coordinates
(``u`` along the spine wall, ``v`` across it) and turned by swapping the axes in half of the cases.
Sizes and habits follow the demo houses (common practice, no source); nothing here is imported from
framing or routing, so that it can serve as their outside check.
"""

from __future__ import annotations

import dataclasses
import itertools
import random
from dataclasses import dataclass, field
from decimal import Decimal

from bayrun.house import (
    Barrier,
    Beam,
    CableKind,
    EdgeMember,
    Enclosure,
    End,
    FacePiece,
    FloorFrame,
    FloorOpening,
    Gear,
    Job,
    Joint,
    Knockouts,
    Layer,
    Layout,
    Level,
    Location,
    Obstacle,
    Opening,
    Port,
    Practice,
    Revision,
    Roof,
    Room,
    SiteFacts,
    Stair,
    Wall,
    WishedRun,
)

GRID_IN = 6.0
"""Walls stand on a grid, so that two tees on one wall are at one place or clear of each other [in]."""

DEMO_CABLES: tuple[CableKind, ...] = tuple(
    CableKind(letter, name, thousandths / 1000, line, Decimal(price), box_ft)
    for letter, name, thousandths, line, price, box_ft in (
        ("D", "data four-pair", 230, "solid", "0.22", 1000.0),
        ("X", "coax series 6", 275, "long dash", "0.18", 1000.0),
        ("S", "speaker 16/4", 360, "dash dot", "0.45", 500.0),
        ("S2", "speaker 16/2 second leg", 260, "dash dot", "0.28", 500.0),
        ("B", "bell pair 18/2", 180, "short dash", "0.12", 500.0),
        ("K", "keypad 22/4", 160, "short dash", "0.14", 500.0),
        ("A", "contact 22/2", 130, "short dash", "0.09", 500.0),
        ("H", "shade 16/2", 240, "dotted double", "0.27", 500.0),
        ("T", "thermostat 18/8", 260, "short dash", "0.31", 250.0),
    )
)

Interval = tuple[float, float]


def sixteenth(value_in: float) -> float:
    """The nearest multiple of 1/16 in."""
    return round(value_in * 16) / 16


@dataclass
class _Line:
    """An inside wall before it has a thickness: ``axis`` u or v, at ``c``, from ``lo`` to ``hi``."""

    axis: str
    c: float
    lo: float
    hi: float
    spine: bool = False


@dataclass
class _Cell:
    """A room before it has a name, by its canonical rectangle."""

    u0: float
    v0: float
    u1: float
    v1: float
    stair: bool = False
    kind: str = ""
    name: str = ""

    @property
    def area_ft2(self) -> float:
        return (self.u1 - self.u0) * (self.v1 - self.v0) / 144


@dataclass
class _Draft:
    """Everything decided once for a house."""

    rng: random.Random
    u: float
    v: float
    middle_v: float
    swap: bool
    outer: float
    stair: _Cell | None
    shift_u: float
    shift_v: float
    lines: dict[str, list[_Line]] = field(default_factory=dict)
    cells: dict[str, list[_Cell]] = field(default_factory=dict)

    def rect(self, u0: float, v0: float, u1: float, v1: float) -> tuple[float, float, float, float]:
        return (v0, u0, v1, u1) if self.swap else (u0, v0, u1, v1)

    def point(self, u: float, v: float) -> tuple[float, float]:
        return (v, u) if self.swap else (u, v)

    def grid_u(self, u: float) -> float:
        return round((u - self.shift_u) / GRID_IN) * GRID_IN + self.shift_u

    def grid_v(self, v: float) -> float:
        return round((v - self.shift_v) / GRID_IN) * GRID_IN + self.shift_v


def random_house(seed: int) -> Job:
    """A plausible house of one to three stories on a slab or basement, with 10 to 60 locations.

    Args:
        seed: Any whole number; the same seed gives the same job.
    """
    for attempt in range(200):
        job = _attempt(random.Random(seed * 1009 + attempt), seed)
        if job is not None:
            return job
    raise AssertionError(f"seed {seed}: no consistent house in 200 attempts")


def _attempt(rng: random.Random, seed: int) -> Job | None:
    draft = _draft(rng)
    stories = rng.choices((1, 2, 3), (5, 4, 1))[0]
    basement = rng.random() < 0.4
    if stories == 1 and not basement:
        draft.stair = None
    levels, frames_z = _levels(rng, stories, basement)
    rooms: list[Room] = []
    walls: list[Wall] = []
    joints: list[Joint] = []
    openings: list[Opening] = []
    garage: _Cell | None = None
    for level in levels:
        top = level is levels[-1]
        if level.id == "B":
            _cut_basement(draft)
        else:
            _cut_level(draft, level.id)
        cells = draft.cells[level.id]
        if level.id == "1" and rng.random() < 0.5:
            garage = _pick_garage(draft, cells)
        _name_rooms(rng, level.id, cells, garage if level.id == "1" else None)
        rooms += [_room(draft, level, cell) for cell in cells]
        level_walls, level_joints = _walls(draft, level, top)
        level_openings = _openings(draft, level, level_walls, level_joints)
        if level_openings is None:
            return None
        walls += level_walls
        joints += level_joints
        openings += level_openings
    frames, beams, floor_openings, stairs = _frames(draft, levels, frames_z)
    job = Job(
        id=f"R{seed}",
        name=f"Random house {seed} (invented)",
        revision=Revision("1", "2026-01-05"),
        levels=tuple(levels),
        rooms=tuple(rooms),
        walls=tuple(walls),
        joints=tuple(joints),
        openings=tuple(openings),
        frames=tuple(frames),
        floor_openings=tuple(floor_openings),
        beams=tuple(beams),
        stairs=tuple(stairs),
        roofs=(_roof(draft),),
        barriers=_barriers(draft, garage),
        practice=Practice(cables=DEMO_CABLES),
        facts=SiteFacts(cover="1/2 in gypsum", fireblock_material="mineral wool and sealant"),
    )
    job = dataclasses.replace(job, obstacles=tuple(_obstacles(draft, job)))
    enclosure = _enclosure(rng, job)
    if enclosure is None:
        return None
    job = dataclasses.replace(job, enclosures=(enclosure,), enclosure=enclosure.id)
    job = _with_locations(rng, job)
    return job if len(job.locations) >= 10 else None


# ---------------------------------------------------------------- the shell


def _draft(rng: random.Random) -> _Draft:
    u, v = sixteenth(rng.uniform(360, 840)), sixteenth(rng.uniform(288, 540))
    if rng.random() < 0.5:
        u, v = round(u / 12) * 12.0, round(v / 12) * 12.0
    draft = _Draft(
        rng,
        u,
        v,
        0.0,
        rng.random() < 0.5,
        5.5 if rng.random() < 0.7 else 3.5,
        None,
        rng.choice((0.0, 0.0, 1.25, 2.0625)),
        rng.choice((0.0, 0.0, 0.5, 3.1875)),
    )
    draft.middle_v = draft.grid_v(v * rng.uniform(0.42, 0.58))
    low, high = (0.0, draft.middle_v) if rng.random() < 0.5 else (draft.middle_v, v)
    width = rng.choice((84.0, 90.0, 96.0, 102.0))
    start = draft.grid_u(rng.uniform(78, u - 78 - width))
    draft.stair = _Cell(start, low, start + width, high, stair=True)
    return draft


def _levels(rng: random.Random, stories: int, basement: bool) -> tuple[list[Level], list[tuple[str, float]]]:
    """The levels, and (kind, depth) of the frame over each but the last."""
    levels: list[Level] = []
    over: list[tuple[str, float]] = []
    z_in = 0.0
    for n in range(1, stories + 1):
        plate_top_in = rng.choice((97.125, 109.125)) if n > 1 else rng.choice((97.125, 109.125, 121.125))
        if n > 1:
            z_in += levels[-1].plate_top_in + over[-1][1] + 0.75
        finish = rng.choice(
            (("vinyl", 0.25), ("wood", 0.75), ("carpet and pad", 0.625), ("tile and bed", 0.375))
        )
        levels.append(
            Level(
                id=str(n),
                subfloor_z_in=z_in,
                plate_top_in=plate_top_in,
                floor_build_up=(Layer(*finish),),
                slab=n == 1 and not basement,
                stud_length_in=plate_top_in - 4.5,
            )
        )
        over.append(_floor_kind(rng))
    if basement:
        kind = _floor_kind(rng)
        below = Level("B", -0.75 - kind[1] - 97.5, 97.5, ceiling_board_in=0.5, slab=True)
        return [below, *levels], [kind, *over]
    return levels, over


def _floor_kind(rng: random.Random) -> tuple[str, float]:
    return rng.choice(
        (
            ("sawn joists", 9.25),
            ("sawn joists", 11.25),
            ("I-joists", 11.875),
            ("I-joists", 14.0),
            ("open-web floor trusses", 16.0),
        )
    )


def _cut_basement(draft: _Draft) -> None:
    """One open space, or two with a bearing wall under the spine; the stair stands in one of them."""
    if draft.rng.random() < 0.5:
        draft.lines["B"] = [_Line("u", draft.middle_v, 0.0, draft.u, spine=True)]
        draft.cells["B"] = [
            _Cell(0.0, 0.0, draft.u, draft.middle_v),
            _Cell(0.0, draft.middle_v, draft.u, draft.v),
        ]
    else:
        draft.lines["B"] = []
        draft.cells["B"] = [_Cell(0.0, 0.0, draft.u, draft.v)]


def _cut_level(draft: _Draft, level: str) -> None:
    lines = [_Line("u", draft.middle_v, 0.0, draft.u, spine=True)]
    cells: list[_Cell] = []
    for low, high in ((0.0, draft.middle_v), (draft.middle_v, draft.v)):
        stair = draft.stair
        if stair is not None and stair.v0 == low:
            lines += [_Line("v", stair.u0, low, high), _Line("v", stair.u1, low, high)]
            cells.append(dataclasses.replace(stair))
            _split(draft, _Cell(0.0, low, stair.u0, high), lines, cells)
            _split(draft, _Cell(stair.u1, low, draft.u, high), lines, cells)
        else:
            _split(draft, _Cell(0.0, low, draft.u, high), lines, cells)
    draft.lines[level], draft.cells[level] = lines, cells


def _split(draft: _Draft, cell: _Cell, lines: list[_Line], cells: list[_Cell]) -> None:
    """Cut a rectangle in two until the pieces are rooms: 40 to 330 ft2, no side under 4 ft."""
    rng = draft.rng
    width, depth = cell.u1 - cell.u0, cell.v1 - cell.v0
    wide = width >= depth
    must = cell.area_ft2 > 330 or max(width, depth) > 300
    may = cell.area_ft2 > 70 and max(width, depth) > 108
    if not must and not (may and rng.random() < 0.6):
        cells.append(cell)
        return
    share = rng.uniform(0.32, 0.68)
    if wide:
        at = draft.grid_u(cell.u0 + share * width)
        if min(at - cell.u0, cell.u1 - at) < 48:
            cells.append(cell)
            return
        lines.append(_Line("v", at, cell.v0, cell.v1))
        _split(draft, dataclasses.replace(cell, u1=at), lines, cells)
        _split(draft, dataclasses.replace(cell, u0=at), lines, cells)
    else:
        at = draft.grid_v(cell.v0 + share * depth)
        if min(at - cell.v0, cell.v1 - at) < 48:
            cells.append(cell)
            return
        lines.append(_Line("u", at, cell.u0, cell.u1))
        _split(draft, dataclasses.replace(cell, v1=at), lines, cells)
        _split(draft, dataclasses.replace(cell, v0=at), lines, cells)


def _pick_garage(draft: _Draft, cells: list[_Cell]) -> _Cell | None:
    corner = [
        cell
        for cell in cells
        if not cell.stair
        and cell.area_ft2 > 170
        and (cell.u0 == 0 or cell.u1 == draft.u)
        and (cell.v0 == 0 or cell.v1 == draft.v)
    ]
    return draft.rng.choice(corner) if corner else None


def _name_rooms(rng: random.Random, level: str, cells: list[_Cell], garage: _Cell | None) -> None:
    wanted = ["living", "kitchen", "hall"] if level == "1" else ["bed", "bath", "hall"]
    for cell in sorted(cells, key=lambda c: -c.area_ft2):
        if level == "B":
            cell.kind = "unfinished"
        elif cell is garage:
            cell.kind = "garage"
        elif cell.stair:
            cell.kind = "hall"
        elif wanted and cell.area_ft2 > 60:
            cell.kind = wanted.pop(0)
        elif cell.area_ft2 < 40:
            cell.kind = rng.choice(("closet", "bath", "closet", "utility"))
        elif cell.area_ft2 < 90:
            cell.kind = rng.choice(("bath", "laundry", "office", "hall", "hall", "closet"))
        else:
            cell.kind = rng.choice(("bed", "bed", "living", "office", "bed"))
    counts: dict[str, int] = {}
    words = {"bed": "Bed", "living": "Living room", "unfinished": "Basement"}
    for cell in cells:
        counts[cell.kind] = counts.get(cell.kind, 0) + 1
        word = "Stair hall" if cell.stair else words.get(cell.kind, cell.kind.capitalize())
        cell.name = f"{word} {level}{counts[cell.kind]:02d}"


def _room(draft: _Draft, level: Level, cell: _Cell) -> Room:
    x0, y0, x1, y1 = draft.rect(cell.u0, cell.v0, cell.u1, cell.v1)
    bare = cell.kind in ("garage", "unfinished")
    finish = 0.0 if bare else sum(layer.thickness_in for layer in level.floor_build_up)
    drop = 4.0 if cell.kind == "garage" and level.slab else 0.0
    return Room(cell.name, level.id, cell.kind, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)), finish, drop)


# ---------------------------------------------------------------- walls, joints, openings


def _walls(draft: _Draft, level: Level, top: bool) -> tuple[list[Wall], list[Joint]]:
    rng = draft.rng
    raw: list[tuple[_Line, bool]] = [
        (_Line("u", 0.0, 0.0, draft.u), True),
        (_Line("u", draft.v, 0.0, draft.u), True),
        (_Line("v", 0.0, 0.0, draft.v), True),
        (_Line("v", draft.u, 0.0, draft.v), True),
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


def _along_x(wall: Wall) -> bool:
    return wall.start[1] == wall.end[1]


def _joint(wall: Wall, which: str, walls: list[Wall]) -> Joint:
    """As the demo data say it: x-walls run through at corners, y-walls butt, inside walls make tees."""
    node = wall.start if which == "start" else wall.end
    for other in walls:
        if other is wall or _along_x(other) == _along_x(wall):
            continue
        along = node[0] - other.start[0] if _along_x(other) else node[1] - other.start[1]
        off_line = node[1] - other.start[1] if _along_x(other) else node[0] - other.start[0]
        if off_line or not 0 <= along <= other.length_in:
            continue
        half = other.thickness_in / 2
        if 0 < along < other.length_in:
            return Joint(wall.id, which, "tee", other.id, along, wall.thickness_in, half)  # type: ignore[arg-type]
        kind, shift = ("corner, runs through", -half) if _along_x(wall) else ("corner, butts", half)
        return Joint(wall.id, which, kind, other.id, along, wall.thickness_in, shift)  # type: ignore[arg-type]
    raise AssertionError(f"wall {wall.id} ends on nothing at its {which}")


def _faces(
    draft: _Draft, cells: list[_Cell], start: tuple[float, float], end: tuple[float, float]
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


def _fixed(wall: Wall, joints: list[Joint]) -> list[Interval]:
    """End studs and tee backing of a wall: where no opening may stand."""
    p0, p1 = wall.plate_start_in, wall.plate_end_in
    taken = [(p0, p0 + 1.5), (p1 - 1.5, p1)]
    taken += [
        (j.on_offset_in - j.width_in / 2, j.on_offset_in + j.width_in / 2)
        for j in joints
        if j.on_wall == wall.id and j.kind == "tee"
    ]
    return taken


def _gaps(low: float, high: float, taken: list[Interval]) -> list[Interval]:
    gaps, at = [], low
    for a, b in sorted(taken):
        if a > at:
            gaps.append((at, min(a, high)))
        at = max(at, b)
    if at < high:
        gaps.append((at, high))
    return [(a, b) for a, b in gaps if b > a]


_HEADERS = ((40.0, 5.5), (64.0, 7.25), (100.0, 9.25), (1e9, 11.25))


def _openings(draft: _Draft, level: Level, walls: list[Wall], joints: list[Joint]) -> list[Opening] | None:
    """Doors that join every room, a front door, windows; None where a room has no way in."""
    rng = draft.rng
    cells = {cell.name: cell for cell in draft.cells[level.id]}
    taken = {wall.id: _fixed(wall, joints) for wall in walls}
    made: list[Opening] = []

    def place(
        wall: Wall, low: float, high: float, width: float, sill: float, kind: str, rooms: tuple[str, ...]
    ) -> bool:
        fits = [(a, b) for a, b in _gaps(low, high, taken[wall.id]) if b - a >= width + 9]
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


# ---------------------------------------------------------------- floors and roof


def _frames(
    draft: _Draft, levels: list[Level], over: list[tuple[str, float]]
) -> tuple[list[FloorFrame], list[Beam], list[FloorOpening], list[Stair]]:
    rng, half = draft.rng, draft.outer / 2
    frames: list[FloorFrame] = []
    beams: list[Beam] = []
    floor_openings: list[FloorOpening] = []
    stairs: list[Stair] = []
    direction = "x" if draft.swap else "y"
    for below, above, (kind, depth) in zip(levels, levels[1:], over, strict=False):
        z0 = below.subfloor_z_in + below.plate_top_in
        width = {"sawn joists": 1.5, "I-joists": 2.5}.get(kind, 3.5)
        spacing = rng.choice((16.0, 16.0, 12.0)) if width < 3 else rng.choice((16.0, 24.0))
        positions, first = [], sixteenth(rng.uniform(4, spacing))
        while first + len(positions) * spacing < draft.u - 3.5:
            positions.append(first + len(positions) * spacing)
        edges = [
            EdgeMember("rim", draft.rect(-half, -half, draft.u + half, -half + 1.5)),
            EdgeMember("rim", draft.rect(-half, draft.v + half - 1.5, draft.u + half, draft.v + half)),
            EdgeMember("rim", draft.rect(-half, -half + 1.5, -half + 1.5, draft.v + half - 1.5)),
            EdgeMember(
                "rim", draft.rect(draft.u + half - 1.5, -half + 1.5, draft.u + half, draft.v + half - 1.5)
            ),
        ]
        frame_id = f"F{below.id}{above.id}"
        stair = draft.stair
        if stair is not None:
            u0 = stair.u0 + 3.25 + 3.0
            u1 = u0 + 38.5
            low, high = stair.v0 + 20, min(stair.v1 - 36, stair.v0 + 20 + 130)
            trimmers = [(u0 - 3, u0), (u1, u1 + 3)]
            positions = [
                p for p in positions if all(p + width / 2 <= a or p - width / 2 >= b for a, b in trimmers)
            ]
            for a, b in trimmers:
                edges.append(EdgeMember("stair trimmer", draft.rect(a, stair.v0, b, stair.v1)))
            edges.append(EdgeMember("stair header", draft.rect(u0, low - 3, u1, low)))
            edges.append(EdgeMember("stair header", draft.rect(u0, high, u1, high + 3)))
            rect = draft.rect(u0, low, u1, high)
            floor_openings.append(FloorOpening(f"FO-{frame_id}", (frame_id,), "stair", rect))
            names = tuple(
                (
                    lv.id,
                    next(
                        c.name
                        for c in draft.cells[lv.id]
                        if c.u0 <= u0 and u1 <= c.u1 and c.v0 <= low and high <= c.v1
                    ),
                )
                for lv in (below, above)
            )
            stairs.append(Stair(f"ST-{frame_id}", "stair", names, rect))
        frames.append(
            FloorFrame(
                id=frame_id,
                kind=kind,
                area=draft.rect(0.0, 0.0, draft.u, draft.v),
                direction=direction,  # type: ignore[arg-type]
                member_width_in=width,
                member_depth_in=depth,
                z_bottom_in=z0,
                z_top_in=z0 + depth,
                above_level=below.id,
                below_level=above.id,
                spacing_in=spacing,
                positions_in=tuple(positions),
                flange_depth_in=1.5 if kind == "I-joists" else None,
                chord_depth_in=1.5 if "trusses" in kind else None,
                spans_in=((0.0, draft.middle_v), (draft.middle_v, draft.v)),
                knockouts=Knockouts(1.5, 12.0, "invented chart")
                if kind == "I-joists" and rng.random() < 0.8
                else None,
                edge_members=tuple(edges),
                nominal={9.25: "2x10", 11.25: "2x12"}.get(depth, ""),
            )
        )
        if below.id == "B" and not draft.lines["B"]:
            rect = draft.rect(0.0, draft.middle_v - 2, draft.u, draft.middle_v + 2)
            beams.append(Beam("BM1", "steel beam, dropped under the joists", rect, (), (z0 - 9.5, z0)))
    frames.append(_roof_frame(draft, levels[-1], direction))
    return frames, beams, floor_openings, stairs


def _roof_frame(draft: _Draft, top: Level, direction: str) -> FloorFrame:
    rng, half = draft.rng, draft.outer / 2
    z0 = top.subfloor_z_in + top.plate_top_in
    trusses = rng.random() < 0.65
    spacing, depth = (24.0, 3.5) if trusses else (16.0, rng.choice((5.5, 7.25)))
    positions, first = [], sixteenth(rng.uniform(5, spacing))
    while first + len(positions) * spacing < draft.u - 4:
        positions.append(first + len(positions) * spacing)
    out = 16.0 if trusses else 0.0
    gables = tuple(
        EdgeMember("gable truss", draft.rect(a, 0.0, a + 1.5, draft.v)) for a in (-half, draft.u + half - 1.5)
    )
    return FloorFrame(
        id="ROOF",
        kind="roof trusses" if trusses else "ceiling joists",
        area=draft.rect(0.0, -out, draft.u, draft.v + out),
        direction=direction,  # type: ignore[arg-type]
        member_width_in=1.5,
        member_depth_in=depth,
        z_bottom_in=z0,
        z_top_in=z0 + depth,
        above_level=top.id,
        spacing_in=spacing,
        positions_in=tuple(positions),
        spans_in=((0.0, draft.v),) if trusses else ((0.0, draft.middle_v), (draft.middle_v, draft.v)),
        edge_members=gables if trusses else (),
    )


def _roof(draft: _Draft) -> Roof:
    return Roof(
        "RF",
        float(draft.rng.choice((4, 5, 6, 8))),
        12.0,
        draft.rng.choice((4.0, 8.0, 12.0)),
        "y" if draft.swap else "x",
        draft.v / 2,
        16.0,
    )


def _barriers(draft: _Draft, garage: _Cell | None) -> tuple[Barrier, ...]:
    if garage is None:
        return ()
    g = garage
    lines = [
        (draft.point(g.u0, g.v0), draft.point(g.u0, g.v1), g.u0 not in (0.0, draft.u)),
        (draft.point(g.u1, g.v0), draft.point(g.u1, g.v1), g.u1 not in (0.0, draft.u)),
        (draft.point(g.u0, g.v0), draft.point(g.u1, g.v0), g.v0 not in (0.0, draft.v)),
        (draft.point(g.u0, g.v1), draft.point(g.u1, g.v1), g.v1 not in (0.0, draft.v)),
    ]
    inside = tuple((a, b) for a, b, keep in lines if keep)
    return (Barrier("BAR1", "dwelling-garage separation", inside, ("1",), needs_seal=True),)


# ---------------------------------------------------------------- what stands in a wall


def stud_centers(wall: Wall) -> list[float]:
    """Centers of the layout studs, as offsets from the wall's start [in]."""
    if wall.layout is None:
        return []
    p0, p1, step, centers = wall.plate_start_in, wall.plate_end_in, wall.spacing_in, []
    at = p0 + wall.layout.first_mark_in if wall.layout.origin == "start" else p1 - wall.layout.first_mark_in
    while p0 + 2.25 < at < p1 - 2.25:
        centers.append(at)
        at += step if wall.layout.origin == "start" else -step
    return sorted(centers)


def solid_at(job: Job, wall: Wall, up_in: float) -> list[Interval]:
    """What is solid or open (an opening) along a wall at one height above the subfloor [in]."""
    taken = _fixed(wall, list(job.joints))
    here = [o for o in job.openings if o.wall == wall.id]
    for o in here:
        a, b = o.offset_in, o.offset_in + o.width_in
        taken += [(a - 3, a), (b, b + 3)]
        if o.sill_in - 1.5 <= up_in <= o.head_in:
            taken.append((a, b))
        elif o.head_in < up_in <= o.head_in + o.header_depth_in:
            taken.append((a - 1.5, b + 1.5))
    return taken + [(s - wall.stud_width_in / 2, s + wall.stud_width_in / 2) for s in stud_centers(wall)]


def clear_at(job: Job, wall: Wall, up_in: float, along_in: float) -> Interval | None:
    """The clear stretch that holds an offset at a height, or None where wood or an opening is."""
    for a, b in _gaps(wall.plate_start_in, wall.plate_end_in, solid_at(job, wall, up_in)):
        if a < along_in < b:
            return a, b
    return None


def frame_rects(job: Job, frame: FloorFrame) -> list[tuple[float, float, float, float]]:
    """Plan rectangles of the members of a frame (floor openings not cut out)."""
    half, (x0, y0, x1, y1) = frame.member_width_in / 2, frame.area
    rects = [
        (p - half, y0, p + half, y1) if frame.direction == "y" else (x0, p - half, x1, p + half)
        for p in frame.members_in()
    ]
    return rects + [edge.rect for edge in frame.edge_members]


def _near(rects: list[tuple[float, float, float, float]], x: float, y: float, margin: float) -> bool:
    return any(a - margin < x < c + margin and b - margin < y < d + margin for a, b, c, d in rects)


def _at(wall: Wall, along_in: float) -> tuple[float, float]:
    dx, dy = (1.0, 0.0) if _along_x(wall) else (0.0, 1.0)
    return wall.start[0] + dx * along_in, wall.start[1] + dy * along_in


def _obstacles(draft: _Draft, job: Job) -> list[Obstacle]:
    """Vent pipes in wet walls, a duct along one floor bay, a trunk duct in the basement, a power run."""
    rng, made = draft.rng, []
    for wall in job.walls:
        if not wall.wet or rng.random() < 0.3:
            continue
        level = job.level(wall.level)
        rects = [
            r for f in job.frames if wall.level in (f.above_level, f.below_level) for r in frame_rects(job, f)
        ]
        for _ in range(20):
            along = sixteenth(rng.uniform(wall.plate_start_in + 8, wall.plate_end_in - 8))
            x, y = _at(wall, along)
            gap = clear_at(job, wall, level.plate_top_in - 4, along)
            low = clear_at(job, wall, 12.0, along)
            if (
                gap
                and low
                and min(along - max(gap[0], low[0]), min(gap[1], low[1]) - along) > 1.5
                and not _near(rects, x, y, 1.5)
                and not any(
                    o.wall == wall.id and o.offset_in - 5 < along < o.offset_in + o.width_in + 5
                    for o in job.openings
                )
            ):
                z = (level.subfloor_z_in, level.subfloor_z_in + level.plate_top_in + 20)
                made.append(
                    Obstacle(
                        f"O{len(made) + 1}",
                        "vent pipe 2 in in wet wall",
                        (wall.level,),
                        None,
                        z,
                        (x, y),
                        2.375,
                        clearance_in=0.25,
                    )
                )
                break
    for frame in job.frames:
        if frame.below_level is None or rng.random() < 0.4:
            continue
        members = frame.members_in()
        bays = [(a, b) for a, b in itertools.pairwise(members) if b - a - frame.member_width_in > 8]
        if not bays:
            continue
        a, b = rng.choice(bays)
        middle = sixteenth((a + b) / 2)
        low = sixteenth(rng.uniform(24, draft.middle_v - 60))
        rect = draft.rect(middle - 3, low, middle + 3, low + 48)
        if any(
            r[0] < rect[2] and rect[0] < r[2] and r[1] < rect[3] and rect[1] < r[3]
            for r in frame_rects(job, frame)
        ):
            continue
        if any(
            r[0] < rect[2] and rect[0] < r[2] and r[1] < rect[3] and rect[1] < r[3]
            for r in (o.rect for o in job.floor_openings)
        ):
            continue
        made.append(
            Obstacle(
                f"O{len(made) + 1}",
                "exhaust duct 6 in along a joist bay",
                (),
                rect,
                frames=(frame.id,),
                z_above_frame_bottom_in=frame.member_depth_in / 2,
            )
        )
    if job.levels[0].id == "B" and rng.random() < 0.5:
        z = job.levels[0].subfloor_z_in + job.levels[0].plate_top_in
        v = draft.grid_v(draft.middle_v / 2)
        made.append(
            Obstacle(
                f"O{len(made) + 1}",
                "main trunk duct 8 x 20 in under the joists",
                ("B",),
                draft.rect(48.0, v - 10, draft.u - 48, v + 10),
                (z - 8, z),
            )
        )
    return made


# ---------------------------------------------------------------- enclosure and locations


def _enclosure(rng: random.Random, job: Job) -> Enclosure | None:
    """A bay of full height, 14-1/2 in clear, with room for holes in the plate over it."""
    found = []
    for wall in job.walls:
        if wall.exterior or not wall.framed or wall.wet or wall.separation or wall.level != "1":
            continue
        level = job.level(wall.level)
        rects = [r for f in job.frames if f.above_level == wall.level for r in frame_rects(job, f)]
        centers = stud_centers(wall)
        for a, b in itertools.pairwise(centers):
            middle = (a + b) / 2
            clear = [clear_at(job, wall, up, middle) for up in (12.0, 48.0, 88.0, level.plate_top_in - 5)]
            if b - a != 16 or any(c != (a + 0.75, b - 0.75) for c in clear):
                continue
            x, y = _at(wall, middle)
            if _near(rects, x, y, 2.5) or any(
                o.center and abs(o.center[0] - x) < 12 and abs(o.center[1] - y) < 12  # type: ignore[operator]
                for o in job.obstacles
            ):
                continue
            for side, pieces in (("left", wall.left), ("right", wall.right)):
                room = next((p.room for p in pieces if p.from_in < a and b < p.to_in), "")
                if room and job.room(room).kind in (
                    "hall",
                    "closet",
                    "laundry",
                    "utility",
                    "office",
                    "bed",
                    "living",
                ):
                    rank = ("closet", "laundry", "utility", "hall", "office", "living", "bed").index(
                        job.room(room).kind
                    )
                    found.append((rank, rng.random(), wall, side, room, (a, b)))
    if not found:
        return None
    _, _, wall, side, room, studs = min(found, key=lambda f: f[:2])
    return Enclosure(
        "ENC",
        wall.id,
        wall.level,
        room,
        side,
        studs,
        14.25,
        28.0,
        3.625,
        48.0,
        ("top",),  # type: ignore[arg-type]
    )


_PORTS = ((("D", 1),), (("D", 2),), (("D", 2), ("X", 1)), (("D", 4),), (("K", 1),), (("X", 1),))


def _with_locations(rng: random.Random, job: Job) -> Job:
    wanted = rng.randint(10, 60)
    locations: list[Location] = []
    runs: list[WishedRun] = []
    gear = [Gear("PATCH", "patch field and coax splitter", True)]
    air = _air_handler(rng, job)
    if air:
        gear.append(air)
    front = next(o for o in job.openings if o.kind == "front door")
    spot = _wall_spot(rng, job, job.wall(front.wall), 48.0, (front.offset_in - 24, front.offset_in - 3))
    enc = job.enclosures[0].id

    def add(location: Location) -> None:
        locations.append(location)
        for port in location.ports:
            for n in range(1, port.count + 1):
                source = End("device", "AIR") if port.kind == "T" else End("enclosure", enc)
                runs.append(
                    WishedRun(
                        f"{location.id}-{port.kind}{n}", port.kind, source, End("location", location.id)
                    )
                )

    if spot:
        room = next(r for r in front.rooms if r != "outside")
        add(
            Location(
                "L01",
                room,
                "1",
                "exterior",
                48.0,
                front.wall,
                spot,
                "exterior",
                ports=(Port("D", 1), Port("B", 1)),
            )
        )
    for _ in range(wanted * 6):
        if len(locations) >= wanted:
            break
        location = _random_location(rng, job, f"L{len(locations) + 1:02d}", air is not None)
        if location is not None and not any(
            o.wall == location.wall
            and o.offset_in is not None
            and o.height_in == location.height_in
            and abs(o.offset_in - (location.offset_in or 0)) < 4
            for o in locations
            if location.wall
        ):
            add(location)
    speakers = [o.id for o in locations if any(p.kind == "S" for p in o.ports)]
    for a, b in zip(speakers[::2], speakers[1::2], strict=False):
        runs.append(WishedRun(f"{b}-S2-1", "S2", End("location", a), End("location", b)))
    return dataclasses.replace(job, locations=tuple(locations), runs=tuple(runs), gear=tuple(gear))


def _air_handler(rng: random.Random, job: Job) -> Gear | None:
    """A device in the open of the garage or basement, 60 in above its subfloor."""
    for room in job.rooms:
        if room.kind not in ("garage", "unfinished"):
            continue
        rects = [r for f in job.frames if f.above_level == room.level for r in frame_rects(job, f)]
        rects += [b.rect for b in job.beams] + [o.rect for o in job.floor_openings]
        rects += [o.rect for o in job.obstacles if o.rect]
        (x0, y0), (x1, y1) = room.polygon[0], room.polygon[2]
        for _ in range(30):
            x, y = sixteenth(rng.uniform(x0 + 18, x1 - 18)), sixteenth(rng.uniform(y0 + 18, y1 - 18))
            if not _near(rects, x, y, 1.5):
                z = job.level(room.level).subfloor_z_in + 60
                return Gear("AIR", "air handler", False, room.name, room.level, x, y, z, 36.0)
    return None


def _wall_spot(rng: random.Random, job: Job, wall: Wall, up_in: float, span: Interval) -> float | None:
    """An offset in a bay, at least 2-1/2 in from its studs, clear of pipes; None where there is none."""
    for _ in range(12):
        along = sixteenth(rng.uniform(*span))
        gap = clear_at(job, wall, up_in, along)
        if gap is None or min(along - gap[0], gap[1] - along) < 2.5:
            continue
        x, y = _at(wall, along)
        if any(
            o.center and abs(o.center[0] - x) < 4 and abs(o.center[1] - y) < 4  # type: ignore[operator]
            for o in job.obstacles
        ):
            continue
        enclosure = job.enclosures[0]
        if (
            wall.id == enclosure.wall
            and enclosure.bay_studs_in[0] - 1 < along < enclosure.bay_studs_in[1] + 1
        ):
            continue
        return along
    return None


def _random_location(rng: random.Random, job: Job, name: str, air: bool) -> Location | None:
    room = rng.choice(job.rooms)
    if room.kind in ("closet", "bath") and rng.random() < 0.8:
        return None
    level = job.level(room.level)
    add = room.floor_finish_in - room.floor_drop_in
    (x0, y0), (x1, y1) = room.polygon[0], room.polygon[2]
    if rng.random() < 0.22:
        frame = next(f for f in job.frames if f.above_level == room.level)
        x, y = sixteenth(rng.uniform(x0 + 12, x1 - 12)), sixteenth(rng.uniform(y0 + 12, y1 - 12))
        solid = frame_rects(job, frame) + [o.rect for o in job.floor_openings if frame.id in o.frames]
        solid += [b.rect for b in job.beams if room.level == "B"]
        solid += [
            o.rect for o in job.obstacles if o.rect and (frame.id in o.frames or room.level in o.levels)
        ]
        if _near(solid, x, y, 2.5):
            return None
        height = level.plate_top_in - level.ceiling_board_in - add
        ports = (Port("D", 1),) if rng.random() < 0.6 else (Port("S", 1),)
        return Location(name, room.name, room.level, "ceiling", height, x_in=x, y_in=y, ports=ports)
    faces = [
        (wall, side, piece)
        for wall in job.walls
        if wall.level == room.level and wall.framed
        for side, pieces in (("left", wall.left), ("right", wall.right))
        for piece in pieces
        if piece.room == room.name
    ]
    if not faces:
        return None
    wall, side, piece = rng.choice(faces)
    kind = rng.random()
    if kind < 0.06 and air and not wall.exterior and room.kind == "hall":
        height, ports = 60.0, (Port("T", 1),)
    elif kind < 0.12 and wall.exterior:
        height, ports = 84.0, (Port("H", 1),)
    else:
        height = rng.choice((14.0, 14.0, 14.0, 44.0, 48.0, 62.0))
        ports = tuple(Port(k, n) for k, n in rng.choice(_PORTS))
    along = _wall_spot(rng, job, wall, height + add, (piece.from_in + 4, piece.to_in - 4))
    if along is None:
        return None
    return Location(name, room.name, room.level, "wall", height, wall.id, along, side, ports=ports)  # type: ignore[arg-type]
