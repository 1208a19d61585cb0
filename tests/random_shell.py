"""Random houses, first part: the outline, the levels, and the rooms cut from it."""

from __future__ import annotations

import dataclasses
import random
from dataclasses import dataclass, field

from bayrun.house import (
    Layer,
    Level,
    Room,
)

GRID_IN = 6.0
"""Walls stand on a grid, so that two tees on one wall are at one place or clear of each other [in]."""

Interval = tuple[float, float]


def sixteenth(value_in: float) -> float:
    """The nearest multiple of 1/16 in."""
    return round(value_in * 16) / 16


@dataclass
class Line:
    """An inside wall before it has a thickness: ``axis`` u or v, at ``c``, from ``lo`` to ``hi``."""

    axis: str
    c: float
    lo: float
    hi: float
    spine: bool = False


@dataclass
class Cell:
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
class Draft:
    """Everything decided once for a house."""

    rng: random.Random
    u: float
    v: float
    middle_v: float
    swap: bool
    outer: float
    stair: Cell | None
    shift_u: float
    shift_v: float
    lines: dict[str, list[Line]] = field(default_factory=dict)
    cells: dict[str, list[Cell]] = field(default_factory=dict)

    def rect(self, u0: float, v0: float, u1: float, v1: float) -> tuple[float, float, float, float]:
        return (v0, u0, v1, u1) if self.swap else (u0, v0, u1, v1)

    def point(self, u: float, v: float) -> tuple[float, float]:
        return (v, u) if self.swap else (u, v)

    def grid_u(self, u: float) -> float:
        return round((u - self.shift_u) / GRID_IN) * GRID_IN + self.shift_u

    def grid_v(self, v: float) -> float:
        return round((v - self.shift_v) / GRID_IN) * GRID_IN + self.shift_v


def make_draft(rng: random.Random) -> Draft:
    u, v = sixteenth(rng.uniform(360, 840)), sixteenth(rng.uniform(288, 540))
    if rng.random() < 0.5:
        u, v = round(u / 12) * 12.0, round(v / 12) * 12.0
    draft = Draft(
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
    draft.stair = Cell(start, low, start + width, high, stair=True)
    return draft


def make_levels(
    rng: random.Random, stories: int, basement: bool
) -> tuple[list[Level], list[tuple[str, float]]]:
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


def cut_basement(draft: Draft) -> None:
    """One open space, or two with a bearing wall under the spine; the stair stands in one of them."""
    if draft.rng.random() < 0.5:
        draft.lines["B"] = [Line("u", draft.middle_v, 0.0, draft.u, spine=True)]
        draft.cells["B"] = [
            Cell(0.0, 0.0, draft.u, draft.middle_v),
            Cell(0.0, draft.middle_v, draft.u, draft.v),
        ]
    else:
        draft.lines["B"] = []
        draft.cells["B"] = [Cell(0.0, 0.0, draft.u, draft.v)]


def cut_level(draft: Draft, level: str) -> None:
    lines = [Line("u", draft.middle_v, 0.0, draft.u, spine=True)]
    cells: list[Cell] = []
    for low, high in ((0.0, draft.middle_v), (draft.middle_v, draft.v)):
        stair = draft.stair
        if stair is not None and stair.v0 == low:
            lines += [Line("v", stair.u0, low, high), Line("v", stair.u1, low, high)]
            cells.append(dataclasses.replace(stair))
            _split(draft, Cell(0.0, low, stair.u0, high), lines, cells)
            _split(draft, Cell(stair.u1, low, draft.u, high), lines, cells)
        else:
            _split(draft, Cell(0.0, low, draft.u, high), lines, cells)
    draft.lines[level], draft.cells[level] = lines, cells


def _split(draft: Draft, cell: Cell, lines: list[Line], cells: list[Cell]) -> None:
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
        lines.append(Line("v", at, cell.v0, cell.v1))
        _split(draft, dataclasses.replace(cell, u1=at), lines, cells)
        _split(draft, dataclasses.replace(cell, u0=at), lines, cells)
    else:
        at = draft.grid_v(cell.v0 + share * depth)
        if min(at - cell.v0, cell.v1 - at) < 48:
            cells.append(cell)
            return
        lines.append(Line("u", at, cell.u0, cell.u1))
        _split(draft, dataclasses.replace(cell, v1=at), lines, cells)
        _split(draft, dataclasses.replace(cell, v0=at), lines, cells)


def pick_garage(draft: Draft, cells: list[Cell]) -> Cell | None:
    corner = [
        cell
        for cell in cells
        if not cell.stair
        and cell.area_ft2 > 170
        and (cell.u0 == 0 or cell.u1 == draft.u)
        and (cell.v0 == 0 or cell.v1 == draft.v)
    ]
    return draft.rng.choice(corner) if corner else None


def name_rooms(rng: random.Random, level: str, cells: list[Cell], garage: Cell | None) -> None:
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


def make_room(draft: Draft, level: Level, cell: Cell) -> Room:
    x0, y0, x1, y1 = draft.rect(cell.u0, cell.v0, cell.u1, cell.v1)
    bare = cell.kind in ("garage", "unfinished")
    finish = 0.0 if bare else sum(layer.thickness_in for layer in level.floor_build_up)
    drop = 4.0 if cell.kind == "garage" and level.slab else 0.0
    return Room(cell.name, level.id, cell.kind, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)), finish, drop)
