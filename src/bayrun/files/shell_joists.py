"""Joists that a file draws one by one: their way, their places and sizes, kept as framing facts."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from bayrun.files.shell import Shell, ShellLevel, ShellPiece
from bayrun.files.shell_guess import nearest_lumber
from bayrun.geometry import at_least, at_most

_LEAST = 3
_SAME_IN = 1.0
"""Members whose lines are this near are one member in pieces, or two that lap [in]."""
_UNDER_IN, _OVER_IN = 60.0, 24.0


@dataclass(frozen=True, slots=True)
class JoistField:
    """The joists over one story as drawn, in heights above the first story's subfloor.

    Args:
        positions_in: Centers across their direction, low to high [in].
        spacing_in: The commonest distance between neighbors [in].
        nominal: ``2x10`` where the size is one that is sawn; else the depth in words.
    """

    kind: str
    direction: Literal["x", "y"]
    positions_in: tuple[float, ...]
    spacing_in: float
    width_in: float
    depth_in: float
    z_bottom_in: float
    z_top_in: float
    nominal: str
    count: int


def joists_over(shell: Shell, level: ShellLevel, zero_in: float) -> JoistField | None:
    """The joists drawn over a story, or None where fewer than three run one way."""
    low = level.elevation_in + _UNDER_IN
    high = level.elevation_in + level.height_in + _OVER_IN
    drawn = [
        p for p in shell.pieces
        if p.kind == "joist" and at_least(p.z_bottom_in, low) and at_most(p.z_top_in, high)
    ]  # fmt: skip
    ways: dict[Literal["x", "y"], list[ShellPiece]] = {"x": [], "y": []}
    for piece in drawn:
        wide, deep = _extent(piece)
        if max(wide, deep) >= 4 * min(wide, deep):
            ways["x" if wide > deep else "y"].append(piece)
    direction = max(ways, key=lambda way: (len(ways[way]), way))
    members = ways[direction]
    axis = 1 if direction == "x" else 0
    lines: list[float] = []
    for at in sorted(_middle(p, axis) for p in members):
        if not lines or at - lines[-1] > _SAME_IN:
            lines.append(at)
    if len(lines) < _LEAST:
        return None
    gaps = Counter(round(b - a, 1) for a, b in pairwise(lines))
    spacing_in = max(gaps.items(), key=lambda g: (g[1], -g[0]))[0]
    width_in = _common(min(_extent(p)) for p in members)
    bottom_in, top_in = (
        _common(getattr(p, n) - zero_in for p in members) for n in ("z_bottom_in", "z_top_in")
    )
    names = " ".join(p.label for p in members)
    depth_in = round(top_in - bottom_in, 4)
    nominal, dressed_in = nearest_lumber(depth_in)
    kind = "sawn joists"
    if re.search(r"truss|open.?web", names, re.I):
        kind = "open-web floor trusses"
    elif re.search(r"i-?joist|\btji\b|\blpi\b", names, re.I) or (width_in > 1.6 and depth_in > 9.0):
        kind = "I-joists"
    if kind != "sawn joists" or abs(dressed_in - depth_in) > 0.2:
        nominal = ""
    return JoistField(
        kind, direction, tuple(round(at, 4) + 0.0 for at in lines), spacing_in, round(width_in, 4), depth_in,
        round(bottom_in, 4), round(top_in, 4), nominal, len(lines),
    )  # fmt: skip


def _extent(piece: ShellPiece) -> tuple[float, float]:
    xs, ys = [p[0] for p in piece.polygon], [p[1] for p in piece.polygon]
    return max(xs) - min(xs), max(ys) - min(ys)


def _middle(piece: ShellPiece, axis: int) -> float:
    along = [p[axis] for p in piece.polygon]
    return (min(along) + max(along)) / 2


def _common(values: Iterable[float]) -> float:
    """The middle one of some lengths [in]."""
    ordered = sorted(values)
    return float(ordered[len(ordered) // 2])
