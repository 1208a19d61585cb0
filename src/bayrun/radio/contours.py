"""Lines of equal level over a net of spots, for drawing: marching squares, joined to polylines.

The field is averaged with its neighbors once before the lines are drawn, so that every door jamb does not
make a tooth; the figures of rooms are taken from the field as it is.
"""

from __future__ import annotations

import math

from bayrun.house.building import Point
from bayrun.radio.coverage import Net

Line = tuple[Point, ...]
_EDGES: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((3, 0),),
    2: ((0, 1),),
    3: ((3, 1),),
    4: ((1, 2),),
    5: ((3, 2), (0, 1)),
    6: ((0, 2),),
    7: ((3, 2),),
    8: ((2, 3),),
    9: ((2, 0),),
    10: ((3, 0), (1, 2)),
    11: ((2, 1),),
    12: ((1, 3),),
    13: ((1, 0),),
    14: ((0, 3),),
}
"""Corners over the level (bits: low left, low right, high right, high left) to pairs of cell edges
(bottom, right, top, left) that the line joins."""


def smoothed(net: Net, values: tuple[float, ...]) -> tuple[float, ...]:
    """Each spot averaged with its neighbors that lie in rooms [same unit]."""
    out = list(values)
    for index, value in enumerate(values):
        if not math.isfinite(value):
            continue
        row, column = divmod(index, net.columns)
        total, weight = 4 * value, 4.0
        for dr, dc, w in (
            (0, 1, 2),
            (0, -1, 2),
            (1, 0, 2),
            (-1, 0, 2),
            (1, 1, 1),
            (1, -1, 1),
            (-1, 1, 1),
            (-1, -1, 1),
        ):
            r, c = row + dr, column + dc
            if 0 <= r < net.rows and 0 <= c < net.columns:
                near = values[r * net.columns + c]
                if math.isfinite(near):
                    total, weight = total + w * near, weight + w
        out[index] = total / weight
    return tuple(out)


def contour(net: Net, values: tuple[float, ...], level: float) -> tuple[Line, ...]:
    """Polylines on which the field has a level; cells that touch the outside have none.

    Args:
        values: One a spot; infinite where there is none.
        level: In the field's unit. A spot exactly on it counts as over it.
    Returns:
        The lines in a fixed order, each from end to end or closed.
    """
    pieces: list[tuple[Point, Point]] = []
    for row in range(net.rows - 1):
        for column in range(net.columns - 1):
            low = row * net.columns + column
            corners = (low, low + 1, low + net.columns + 1, low + net.columns)
            heights = [values[i] for i in corners]
            if not all(math.isfinite(h) for h in heights):
                continue
            code = sum(1 << bit for bit, h in enumerate(heights) if h >= level)
            for first, second in _EDGES.get(code, ()):
                a, b = (_cut(net, corners, heights, edge, level) for edge in (first, second))
                if math.dist(a, b) > 1e-9:
                    pieces.append((a, b))
    return _joined(pieces)


def _cut(net: Net, corners: tuple[int, ...], heights: list[float], edge: int, level: float) -> Point:
    i, j = edge, (edge + 1) % 4
    # From the lower spot to the higher index, so that two cells that share an edge agree to the last bit.
    if corners[i] > corners[j]:
        i, j = j, i
    share = (level - heights[i]) / (heights[j] - heights[i])
    (x0, y0), (x1, y1) = net.spot(corners[i]), net.spot(corners[j])
    return x0 + (x1 - x0) * share, y0 + (y1 - y0) * share


def _joined(pieces: list[tuple[Point, Point]]) -> tuple[Line, ...]:
    """Pieces chained where their ends are one point."""

    def key(p: Point) -> tuple[int, int]:
        return round(p[0] * 1e6), round(p[1] * 1e6)

    ends: dict[tuple[int, int], list[int]] = {}
    for number, (a, b) in enumerate(pieces):
        ends.setdefault(key(a), []).append(number)
        ends.setdefault(key(b), []).append(number)
    used = [False] * len(pieces)
    lines: list[Line] = []

    def grow(line: list[Point]) -> None:
        while True:
            free = [n for n in ends[key(line[-1])] if not used[n]]
            if not free:
                return
            used[free[0]] = True
            a, b = pieces[free[0]]
            line.append(b if key(a) == key(line[-1]) else a)

    for number, (a, b) in enumerate(pieces):
        if used[number]:
            continue
        used[number] = True
        line = [a, b]
        grow(line)
        line.reverse()
        grow(line)
        lines.append(tuple(line))
    return tuple(lines)
