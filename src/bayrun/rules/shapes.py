"""How near a straight way comes to a thing of another trade. Numbers only."""

from __future__ import annotations

import math
from collections.abc import Callable

from bayrun.framing.bays import obstacle_heights
from bayrun.house import Job, Obstacle
from bayrun.rules.lines import Piece3, Point3, at, from_piece_in

Gap = Callable[[Point3], float]
_STEPS = 60


def gaps_of(job: Job, obstacle: Obstacle) -> tuple[Gap, ...]:
    """Distance from a point to each solid an obstacle is made of, 0 inside it; none where it has no place.

    A box stands on its plan rectangle, a pipe upright on its center, or lies in its frames along the axis it
    has no coordinate in. A power run is no solid: it is judged by separation. Lengths in inches.
    """
    if obstacle.path:
        return ()
    heights = obstacle_heights(job, obstacle)
    if obstacle.rect is not None:
        return tuple(_box(obstacle.rect, z) for z in heights)
    if obstacle.center is None or not obstacle.diameter_in:
        return ()
    x, y = obstacle.center
    radius_in = obstacle.diameter_in / 2
    if x is not None and y is not None:
        return tuple(_upright(x, y, radius_in, z) for z in heights)
    gaps = []
    for frame in job.frames:
        if frame.id not in obstacle.frames or obstacle.z_above_frame_bottom_in is None:
            continue
        z, area = frame.z_bottom_in + obstacle.z_above_frame_bottom_in, frame.rect
        if y is not None:
            gaps.append(_pipe(((area.u0, y, z), (area.u1, y, z)), radius_in))
        elif x is not None:
            gaps.append(_pipe(((x, area.v0, z), (x, area.v1, z)), radius_in))
    return tuple(gaps)


def _box(rect: tuple[float, float, float, float], z: tuple[float, float]) -> Gap:
    def gap(point: Point3) -> float:
        dx = max(rect[0] - point[0], 0.0, point[0] - rect[2])
        dy = max(rect[1] - point[1], 0.0, point[1] - rect[3])
        dz = max(z[0] - point[2], 0.0, point[2] - z[1])
        return math.hypot(dx, dy, dz)

    return gap


def _upright(x: float, y: float, radius_in: float, z: tuple[float, float]) -> Gap:
    def gap(point: Point3) -> float:
        flat = max(0.0, math.hypot(point[0] - x, point[1] - y) - radius_in)
        return math.hypot(flat, max(z[0] - point[2], 0.0, point[2] - z[1]))

    return gap


def _pipe(line: Piece3, radius_in: float) -> Gap:
    return lambda point: max(0.0, from_piece_in(point, line) - radius_in)


def nearest_in(piece: Piece3, gap: Gap, within_in: float = math.inf) -> float:
    """Least distance from a straight piece to a solid without a hollow; infinite where over a bound [in].

    The distance to such a solid is convex along a straight way, so halving finds its least value. It changes
    by no more than the way gone, so a middle farther off than half the piece and the bound settles it.
    """
    if gap(at(piece, 0.5)) - math.dist(*piece) / 2 > within_in:
        return math.inf
    low, high = 0.0, 1.0
    for _ in range(_STEPS):
        a, b = low + (high - low) / 3, high - (high - low) / 3
        if gap(at(piece, a)) > gap(at(piece, b)):
            low = a
        else:
            high = b
    return min(gap(at(piece, share)) for share in (0.0, (low + high) / 2, 1.0))
