"""Does the gear fit into the enclosure: depth with the bend of its cables, and a place for each on the back.

Places are found by rows from the bottom, power lowest, with a lane for cables between pieces. A set of places
found is a proof that it fits; too much area or depth is a proof that it does not; else nobody can tell here.
Limits of use: up to 40 pieces, box 6 to 60 in a side. Source: geometry; the lane: common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from bayrun.cables.ranges import Limit, Verdict, refuse
from bayrun.geometry import at_most, below
from bayrun.units import Figure, tape

LANE_IN = 1.0
DOOR_IN = 0.25
MOST_PIECES = 40
Kind = Literal["power", "termination", "radio", "other"]
_ORDER: tuple[Kind, ...] = ("power", "other", "termination", "radio")


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of gear.

    Args:
        name: No two alike.
        width_in, height_in, depth_in: Its size on the back of the box [in].
        bend_in: Room in front of its cable ends for their bend [in]: cable diameter x its bend multiple.
        kind: Power goes lowest, terminations to the top where cables enter, radio on top of all.
    """

    name: str
    width_in: float
    height_in: float
    depth_in: float
    bend_in: float = 0.0
    kind: Kind = "other"


@dataclass(frozen=True, slots=True)
class Place:
    """Lower left corner of a piece in the box [in]."""

    name: str
    left_in: float
    bottom_in: float


@dataclass(frozen=True, slots=True)
class Fit:
    """Whether all of it fits, and where."""

    places: tuple[Place, ...]
    free_percent: Figure
    verdict: Verdict
    reason: str


def fit(
    pieces: tuple[Piece, ...], width_in: float, height_in: float, depth_in: float, lane_in: float = LANE_IN
) -> Fit:
    """Put gear into a box.

    Args:
        pieces: 1 to 40.
        width_in, height_in, depth_in: Clear inside of the box [in].
        lane_in: Kept free round each piece for cables [in].
    Raises:
        RangeError: Outside the range; every defect at once.
    """
    limits = [
        Limit("pieces of gear", len(pieces), 1, MOST_PIECES),
        Limit("the box's width", width_in, 6.0, 60.0, "in"),
        Limit("the box's height", height_in, 6.0, 60.0, "in"),
        Limit("the box's depth", depth_in, 2.0, 24.0, "in"),
        Limit("a lane for cables", lane_in, 0.0, 6.0, "in"),
    ]
    for piece in pieces:
        limits += [
            Limit(f"{name} of {piece.name}", size, 0.1, 60.0, "in")
            for name, size in (
                ("the width", piece.width_in),
                ("the height", piece.height_in),
                ("the depth", piece.depth_in),
            )
        ]
        limits.append(Limit(f"bend room of {piece.name}", piece.bend_in, 0.0, 12.0, "in"))
    names = [piece.name for piece in pieces]
    refuse(
        [told for told in (limit.told() for limit in limits) if told]
        + [f"{name} stands in the list twice" for name in sorted({n for n in names if names.count(n) > 1})]
    )
    area = math.fsum(piece.width_in * piece.height_in for piece in pieces)
    free = Figure(
        100 * (1 - area / (width_in * height_in)),
        "%",
        "area of the back no gear covers",
        "geometry",
        (("gear", f"{area:.0f} sq in"), ("box", f"{width_in:g} x {height_in:g} in")),
    )
    wrong = []
    for piece in pieces:
        need_in = piece.depth_in + piece.bend_in + DOOR_IN
        if not at_most(need_in, depth_in):
            wrong.append(
                f"{piece.name} needs {tape(need_in)} of depth with the bend of its cables and the door, the"
                f" box has {tape(depth_in)}"
            )
        if not at_most(piece.width_in, width_in) or not at_most(piece.height_in, height_in):
            wrong.append(f"{piece.name} is larger than the box")
    if free.value < 0:
        wrong.append(f"the gear covers {area:.0f} sq in, the box has {width_in * height_in:.0f}")
    if wrong:
        return Fit((), free, Verdict.FAILS, "; ".join(wrong))
    places = _rows(pieces, width_in, height_in, lane_in)
    if places is None:
        reason = "no arrangement in rows was found: try another by hand, or the next size of box"
        return Fit((), free, Verdict.CANNOT_TELL, reason)
    return Fit(places, free, Verdict.HOLDS, f"all {len(pieces)} have a place, {free.value:.0f} % stays free")


def _rows(
    pieces: tuple[Piece, ...], width_in: float, height_in: float, lane_in: float
) -> tuple[Place, ...] | None:
    """Places in rows: kinds from the bottom up, in each the tallest first; a lane between neighbors."""
    order = sorted(pieces, key=lambda p: (_ORDER.index(p.kind), -p.height_in, -p.width_in, p.name))
    places: list[Place] = []
    left_in = bottom_in = row_in = 0.0
    for piece in order:
        if left_in > 0 and below(width_in, left_in + piece.width_in):
            bottom_in, left_in, row_in = bottom_in + row_in + lane_in, 0.0, 0.0
        if below(height_in, bottom_in + piece.height_in):
            return None
        places.append(Place(piece.name, left_in, bottom_in))
        left_in += piece.width_in + lane_in
        row_in = max(row_in, piece.height_in)
    return tuple(places)


def next_size(
    pieces: tuple[Piece, ...], sizes_in: tuple[tuple[float, float, float], ...], lane_in: float = LANE_IN
) -> tuple[float, float, float] | None:
    """Smallest box of a table (width, height, depth [in]) in which the gear is sure to fit, or None.

    Raises:
        RangeError: As :func:`fit`.
    """
    for size in sorted(sizes_in, key=lambda s: (s[0] * s[1] * s[2], s)):
        if fit(pieces, *size, lane_in).verdict is Verdict.HOLDS:
            return size
    return None
