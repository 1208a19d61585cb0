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

_SNAP_IN = 1 / 64
"""Points nearer than this are one node [in]; far under what a staple covers."""

Node = tuple[int, int, int]
Stretch = tuple[Node, Node]


def supports(job: Job, wiring: Wiring) -> tuple[Support, ...]:
    """Staples by wall and hangers by open space, so that no cable hangs free farther than the firm's spacing.

    A hole through framing holds the cable as a staple does. A stretch that several runs share is
    supported once, with a staple for every two cables. Each box or ring gets its first staple within
    12 in. Source: spacing is the firm's (``support_every_in``); the NEC gives no interval for
    low-voltage cable (800.24, 722.24: neat and workmanlike), and takes a hole as a support (334.30).
    """
    every_in = job.practice.support_every_in
    held = {_node((p.x, p.y, p.z)) for run in wiring.runs for p in run.path if p.hole}
    boxes: dict[Node, set[str]] = defaultdict(set)
    for run in wiring.runs:
        for point in (run.path[:1] + run.path[-1:]) if run.path else ():
            boxes[_node((point.x, point.y, point.z))].add(run.id)
    counts: dict[tuple[str, str], int] = defaultdict(int)
    runs_at: dict[tuple[str, str], set[str]] = defaultdict(set)
    ends: dict[Node, tuple[tuple[str, str], set[str]]] = {}
    for (a, b), runs in _stretches(wiring).items():
        start, end = _point(a), _point(b)
        middle = tuple((u + v) / 2 for u, v in zip(start, end, strict=True))
        place = _place(job, (middle[0], middle[1], middle[2]))
        length_in = math.dist(start, end)
        between = max(0, math.ceil(length_in / every_in - TOUCH_IN) - 1)
        counts[place] += between * _pieces(place, len(runs))
        runs_at[place] |= runs
        for node in (a, b):
            if node not in held:
                known = ends.setdefault(node, (place, set()))
                known[1].update(runs)
    for node, (place, runs) in sorted(ends.items()):
        counts[place] += _pieces(place, len(boxes[node] or runs) if node in boxes else len(runs))
    found = []
    for number, place in enumerate(sorted(counts, key=lambda p: (p[1] != "staple", natural(p[0]))), start=1):
        if counts[place]:
            runs_here = tuple(sorted(runs_at[place], key=natural))
            found.append(
                Support(f"SP{number}", runs_here, place[0], counts[place], every_in, place[1], FIRST_IN)
            )
    return tuple(found)


def _pieces(place: tuple[str, str], cables: int) -> int:
    return math.ceil(cables / CABLES_A_STAPLE) if place[1] == "staple" else 1


def _node(point: Point3) -> Node:
    return (round(point[0] / _SNAP_IN), round(point[1] / _SNAP_IN), round(point[2] / _SNAP_IN))


def _point(node: Node) -> Point3:
    return (node[0] * _SNAP_IN, node[1] * _SNAP_IN, node[2] * _SNAP_IN)


def _stretches(wiring: Wiring) -> dict[Stretch, set[str]]:
    """Every piece of way between nodes where something turns, ends, branches or is held, with its runs.

    Pieces that lie on one another are cut at each other's ends first, so that a shared way is counted once.
    """
    lines: dict[tuple[int, int, int], list[tuple[int, int, str]]] = defaultdict(list)
    slanted: dict[Stretch, set[str]] = defaultdict(set)
    held: set[Node] = set()
    for run in wiring.runs:
        nodes = [_node((p.x, p.y, p.z)) for p in run.path]
        held |= {n for n, p in zip(nodes, run.path, strict=True) if p.hole}
        held |= set(nodes[:1] + nodes[-1:])
        for a, b in pairwise(nodes):
            axes = [i for i in range(3) if a[i] != b[i]]
            if len(axes) == 1:
                axis = axes[0]
                others = [a[i] for i in range(3) if i != axis]
                lines[axis, others[0], others[1]].append(
                    (min(a[axis], b[axis]), max(a[axis], b[axis]), run.id)
                )
            elif axes:
                slanted[min(a, b), max(a, b)].add(run.id)
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


def _place(job: Job, point: Point3) -> tuple[str, str]:
    """(place in words, ``staple`` or ``hanger``) of a point of a way."""
    x_in, y_in, z_in = point
    for level in job.levels:
        if below(z_in, level.subfloor_z_in) or below(level.subfloor_z_in + level.plate_top_in, z_in):
            continue
        for wall in job.walls:
            if wall.level == level.id and wall.framed and _in_wall(wall, x_in, y_in):
                return f"level {level.id}, {wall_name(wall)}", "staple"
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


def _in_wall(wall: Wall, x_in: float, y_in: float) -> bool:
    dx, dy = wall.direction
    px, py = x_in - wall.start[0], y_in - wall.start[1]
    along_in, across_in = px * dx + py * dy, py * dx - px * dy
    return (
        at_most(wall.plate_start_in, along_in)
        and at_most(along_in, wall.plate_end_in)
        and at_most(abs(across_in), wall.thickness_in / 2)
    )
