"""What other trades put in the house: bodies of obstacles in the world, by the job alone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.audit.places import inside_share, on_segment, to_wall
from bayrun.audit.reading import V3
from bayrun.geometry import TOUCH_IN, Rect
from bayrun.house import Job, Obstacle, Wall


@dataclass(frozen=True, slots=True)
class Body:
    """One solid part of an obstacle, maker's clearance included.

    Args:
        flat: The plan rectangle around it [in].
        round: (x, y, radius) of an upright pipe; None for a box.
        z: World heights [in].
        crossing_over_in: A main: may be crossed square this far above its top; nothing runs along it [in].
    """

    obstacle: Obstacle
    flat: tuple[float, float, float, float]
    z: tuple[float, float]
    round: tuple[float, float, float] | None = None
    crossing_over_in: float | None = None

    def share_inside(self, p: V3, q: V3) -> tuple[float, float] | None:
        """(from, to) as shares of a segment inside this body, or None."""
        x0, y0, x1, y1 = self.flat
        part = inside_share(p, q, (x0, y0, self.z[0]), (x1, y1, self.z[1]), TOUCH_IN)
        if part is None or self.round is None:
            return part
        x, y, r = self.round
        a, b = on_segment(p, q, part[0]), on_segment(p, q, part[1])
        return part if _from_line(a, b, x, y) < r - TOUCH_IN else None

    def near_bore(self, at: Sequence[float], radius_in: float) -> bool:
        """True where an upright bore at a point runs into the body."""
        if self.round is not None:
            x, y, r = self.round
            return math.hypot(at[0] - x, at[1] - y) < r + radius_in - TOUCH_IN
        x0, y0, x1, y1 = self.flat
        dx, dy = max(x0 - at[0], at[0] - x1, 0.0), max(y0 - at[1], at[1] - y1, 0.0)
        return math.hypot(dx, dy) < radius_in - TOUCH_IN

    def in_wall(self, job: Job, wall: Wall) -> Rect | None:
        """The part of a wall's core it takes, along and up; None where it stands clear of it."""
        x0, y0, x1, y1 = self.flat
        corners = [to_wall(job, wall, (x, y, 0.0)) for x in (x0, x1) for y in (y0, y1)]
        us, vs = [c[0] for c in corners], [c[1] for c in corners]
        half = wall.thickness_in / 2
        if not (min(vs) < half - TOUCH_IN and max(vs) > -half + TOUCH_IN):
            return None
        base = job.level(wall.level).subfloor_z_in
        return Rect(min(us), self.z[0] - base, max(us), self.z[1] - base)


def _from_line(a: V3, b: V3, x: float, y: float) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = dx * dx + dy * dy
    t = 0.0 if size < 1e-18 else max(0.0, min(1.0, ((x - a[0]) * dx + (y - a[1]) * dy) / size))
    return math.hypot(a[0] + t * dx - x, a[1] + t * dy - y)


def bodies(job: Job) -> list[Body]:
    """Every body; power runs have none (separation is judged by the rules)."""
    return [body for obstacle in job.obstacles for body in _bodies(job, obstacle)]


def _bodies(job: Job, o: Obstacle) -> list[Body]:
    if o.path:
        return []
    frames = [f for f in job.frames if f.id in o.frames]
    heights: list[tuple[float, float]] = [o.z_in] if o.z_in else []
    if not heights:
        size = o.diameter_in or 6.0
        for f in frames:
            if o.z_above_frame_bottom_in is not None:
                middle = f.z_bottom_in + o.z_above_frame_bottom_in
                heights.append((middle - size / 2, middle + size / 2))
    grow = o.clearance_in
    found: list[Body] = []
    for i, z in enumerate(heights):
        if z[1] - z[0] < TOUCH_IN:
            continue
        rect = o.chase
        pipe: tuple[float, float, float] | None = None
        if rect is None and o.rect is not None:
            x0, y0, x1, y1 = o.rect
            rect = (x0 - grow, y0 - grow, x1 + grow, y1 + grow)
        if rect is None and o.center is not None and o.diameter_in:
            r = o.diameter_in / 2 + grow
            cx, cy = o.center
            area = frames[i].area if i < len(frames) else None
            if cx is not None and cy is not None:
                rect = (cx - r, cy - r, cx + r, cy + r)
                pipe = (cx, cy, r)
            elif area is not None and cy is not None:  # a main along x, from end to end of its frame
                rect = (area[0], cy - r, area[2], cy + r)
            elif area is not None and cx is not None:
                rect = (cx - r, area[1], cx + r, area[3])
        if rect is not None:
            found.append(Body(o, rect, z, pipe, o.passes_over_in))
    return found
