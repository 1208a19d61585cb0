"""Staples in walls and hangers in open space: how many, where, how far apart."""

from __future__ import annotations

import math
from collections import defaultdict
from itertools import pairwise

from bayrun.geometry import TOUCH_IN, at_most, below
from bayrun.house import Job, Wall, room_at, wall_name
from bayrun.house.building import Point3
from bayrun.takeoff.words import natural
from bayrun.wiring import Support, Wiring

FIRST_IN = 12.0
"""First support within this of a box [in]. Common practice, no source; NEC 334.30 asks it of power."""

CABLES_A_STAPLE = 2
"""Cables under one staple that is not marked for more. Common practice, no source."""

CABLES_A_HANGER = 25
"""Cables in one hanger. Common practice, no source."""

BUNDLE_IN = 12.0
"""Turns nearer than this share a support; in open space nearer ways are one bundle [in]. Our own figure."""

_FINE_IN = 1 / 64
"""In a wall, points nearer than this are one [in]; far under what a staple covers."""

_HELD_IN = 6.0
"""A point of a way this near to a hole is held by it [in]. Our own figure."""

Node = tuple[int, int, int]
Stretch = tuple[Node, Node]
Where = tuple[str, str]
"""(place in words, ``staple`` or ``hanger``)."""


def supports(job: Job, wiring: Wiring) -> tuple[Support, ...]:
    """Staples by wall and hangers by open space, so that no cable hangs free farther than the firm's spacing.

    A hole through framing holds the cable as a staple does. A stretch that several runs share is
    supported once: a staple for every two cables, a hanger for every bundle. Each box or ring gets its
    first staple within 12 in, each turn or branch one of its own.
    Limits of use: ways in open space are put on a grid of 12 in, so that what hangs side by side counts as
    one bundle; the count is a quantity to load, not a place for each hanger.
    Source: spacing is the firm's (``support_every_in``); the NEC gives no interval for low-voltage cable
    (800.24, 722.24: neat and workmanlike), and takes a hole as a support (334.30).
    """
    every_in = job.practice.support_every_in
    pieces: dict[Where, list[tuple[Node, Node, str]]] = defaultdict(list)
    held: dict[Where, set[Node]] = defaultdict(set)
    for run in wiring.runs:
        points = [(p.x, p.y, p.z) for p in run.path]
        holes = [point for point, p in zip(points, run.path, strict=True) if p.hole]
        for a, b in pairwise(points):
            where = place_of(job, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2))
            start, end = _node(a, _snap(where)), _node(b, _snap(where))
            if start != end:
                pieces[where].append((start, end, run.id))
            for point, node in ((a, start), (b, end)):
                if any(at_most(math.dist(point, hole), _HELD_IN) for hole in holes):
                    held[where].add(node)
    found: list[Support] = []
    for where in sorted(pieces, key=lambda w: (w[1] != "staple", natural(w[0]))):
        count = _count(where, _stretches(pieces[where], held[where]), held[where], every_in)
        runs = tuple(sorted({run for _, _, run in pieces[where]}, key=natural))
        if count:
            number = f"SP{len(found) + 1}"
            found.append(Support(number, runs, where[0], count, every_in, where[1], FIRST_IN))
    return tuple(found)


def _snap(where: Where) -> float:
    return _FINE_IN if where[1] == "staple" else BUNDLE_IN


def _count(where: Where, stretches: dict[Stretch, set[str]], held: set[Node], every_in: float) -> int:
    """Supports between the nodes of all stretches, and one at each node that no hole holds."""
    total = 0
    near = {_coarse(node, where) for node in held}
    ends: dict[Node, set[str]] = defaultdict(set)
    for (a, b), runs in stretches.items():
        length_in = math.dist(a, b) * _snap(where)
        total += max(0, math.ceil(length_in / every_in - TOUCH_IN) - 1) * _pieces(where[1], len(runs))
        for node in {_coarse(a, where), _coarse(b, where)} - near:
            ends[node] |= runs
    return total + sum(_pieces(where[1], len(runs)) for runs in ends.values())


def _coarse(node: Node, where: Where) -> Node:
    """One support serves every turn and branch within a foot."""
    x, y, z = (round(at * _snap(where) / BUNDLE_IN) for at in node)
    return x, y, z


def _pieces(kind: str, cables: int) -> int:
    return math.ceil(cables / (CABLES_A_STAPLE if kind == "staple" else CABLES_A_HANGER))


def _node(point: Point3, snap_in: float) -> Node:
    return (round(point[0] / snap_in), round(point[1] / snap_in), round(point[2] / snap_in))


def _stretches(pieces: list[tuple[Node, Node, str]], held: set[Node]) -> dict[Stretch, set[str]]:
    """Every piece of way between nodes where something turns, ends, branches or is held, with its runs.

    Pieces that lie on one another are cut at each other's ends first, so that a shared way is counted once.
    """
    lines: dict[tuple[int, int, int], list[tuple[int, int, str]]] = defaultdict(list)
    slanted: dict[Stretch, set[str]] = defaultdict(set)
    for a, b, run in pieces:
        axes = [i for i in range(3) if a[i] != b[i]]
        if len(axes) == 1:
            axis = axes[0]
            others = [a[i] for i in range(3) if i != axis]
            lines[axis, others[0], others[1]].append((min(a[axis], b[axis]), max(a[axis], b[axis]), run))
        else:
            slanted[min(a, b), max(a, b)].add(run)
    found = dict(slanted)
    for key in sorted(lines):
        found.update(_cut_line(key, lines[key], held))
    return found


def _cut_line(
    key: tuple[int, int, int], pieces: list[tuple[int, int, str]], held: set[Node]
) -> dict[Stretch, set[str]]:
    axis = key[0]

    def node(at: int) -> Node:
        other = list(key[1:])
        other.insert(axis, at)
        return (other[0], other[1], other[2])

    ends = sorted({end for low, high, _ in pieces for end in (low, high)})
    parts: list[tuple[int, int, frozenset[str]]] = []
    for low, high in pairwise(ends):
        runs = frozenset(run for a, b, run in pieces if a <= low and high <= b)
        if not runs:
            continue
        last = parts[-1] if parts else None
        if last and last[1] == low and last[2] == runs and node(low) not in held:
            parts[-1] = (last[0], high, runs)
        else:
            parts.append((low, high, runs))
    return {(node(low), node(high)): set(runs) for low, high, runs in parts}


def place_of(job: Job, point: Point3) -> tuple[str, str]:
    """(place in words, ``staple`` or ``hanger``) of a point of a way."""
    x_in, y_in, z_in = point
    for level in job.levels:
        if below(z_in, level.subfloor_z_in) or below(level.subfloor_z_in + level.plate_top_in, z_in):
            continue
        for wall in job.walls:
            along_in = _along_in(wall, x_in, y_in)
            if wall.level == level.id and wall.framed and along_in is not None:
                return f"level {level.id}, {wall_name(wall, along_in)}", "staple"
        room = room_at(job, level.id, x_in, y_in)
        return f"level {level.id}, open space of {room.name if room else 'the level'}", "hanger"
    under = [lv for lv in job.levels if at_most(lv.subfloor_z_in + lv.plate_top_in, z_in)]
    if not under:
        return "crawl space", "hanger"
    top = max(under, key=lambda lv: lv.subfloor_z_in)
    above = [lv for lv in job.levels if at_most(z_in, lv.subfloor_z_in)]
    if above:
        return f"floor space over level {top.id}", "hanger"
    return f"attic or roof space over level {top.id}", "hanger"


def _along_in(wall: Wall, x_in: float, y_in: float) -> float | None:
    """Offset along a wall of a point inside it, or None outside."""
    dx, dy = wall.direction
    px, py = x_in - wall.start[0], y_in - wall.start[1]
    along_in, across_in = px * dx + py * dy, py * dx - px * dy
    if below(along_in, wall.plate_start_in) or below(wall.plate_end_in, along_in):
        return None
    return along_in if at_most(abs(across_in), wall.thickness_in / 2) else None
