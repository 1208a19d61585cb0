"""Solids seen from above: their outlines in plan, and the straight wall pieces inside an outline."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bayrun.files.ifc_shapes import Shape, Vector
from bayrun.files.shell import Point, area_of

BROADEST_IN = 26.0
"""Two faces farther apart than this are not the two sides of one wall [in]."""


def footprint(solids: Sequence[Shape]) -> list[tuple[Point, ...]]:
    """Outlines in plan of solids of any kind: the union of their faces seen from above.

    Each outline runs counterclockwise; largest first. Holes in plan are not told.
    """
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    flats = []
    for solid in solids:
        faces = (solid.profile,) if solid.profile and _upright(solid.push) else solid.faces
        for face in faces:
            polygon = tuple((p[0], p[1]) for p in face)
            if area_of(polygon) > 1e-3:
                shape = Polygon(polygon)
                flats.append(shape if shape.is_valid else shape.buffer(0))
    if not flats:
        return []
    merged = (
        unary_union(flats).buffer(1e-3, join_style="mitre").buffer(-1e-3, join_style="mitre").simplify(1e-3)
    )
    shapes = sorted(getattr(merged, "geoms", [merged]), key=lambda s: (-s.area, s.bounds))
    outlines = []
    for shape in shapes:
        if shape.area > 1e-2:
            loop = [(float(x), float(y)) for x, y in shape.exterior.coords[:-1]]
            outlines.append(tuple(loop) if shape.exterior.is_ccw else tuple(reversed(loop)))
    return outlines


def _upright(push: Vector) -> bool:
    return abs(push[2]) > 0.999 * math.sqrt(push[0] ** 2 + push[1] ** 2 + push[2] ** 2)


def strips(polygon: tuple[Point, ...]) -> list[tuple[Point, Point, float]]:
    """Straight wall pieces inside an outline: (start, end, thickness), thin ones first.

    Two edges that run against each other, no farther apart than a wall is thick, with the outline's
    inside between them, are the two faces of one piece. So L, T and U runs come apart by themselves.
    """
    edges = [(a, b) for a, b in zip(polygon, polygon[1:] + polygon[:1], strict=True) if math.dist(a, b) > 0.5]
    edges = _joined(edges)
    pairs = []
    for i, (a, b) in enumerate(edges):
        length = math.dist(a, b)
        dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        for c, d in edges[i + 1 :]:
            other = math.dist(c, d)
            if (d[0] - c[0]) * dx + (d[1] - c[1]) * dy > -0.999 * other:
                continue
            # Counterclockwise: the inside is left of each edge.
            gaps = [(p[1] - a[1]) * dx - (p[0] - a[0]) * dy for p in (c, d)]
            gap = sum(gaps) / 2
            along = sorted((p[0] - a[0]) * dx + (p[1] - a[1]) * dy for p in (c, d))
            low, high = max(0.0, along[0]), min(length, along[1])
            if 0.5 < gap <= BROADEST_IN and high - low > min(gap, 6.0) and high - low >= 0.9 * gap:
                start = (a[0] + dx * low - dy * gap / 2, a[1] + dy * low + dx * gap / 2)
                end = (a[0] + dx * high - dy * gap / 2, a[1] + dy * high + dx * gap / 2)
                pairs.append((gap, start, end))
    pairs.sort(key=lambda p: (round(p[0], 3), -math.dist(p[1], p[2]), p[1]))
    kept: list[tuple[Point, Point, float]] = []
    for gap, start, end in pairs:
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        if not any(_inside(middle, piece) for piece in kept):
            kept.append((start, end, gap))
    return kept


def _inside(point: Point, piece: tuple[Point, Point, float]) -> bool:
    (start, end, thickness) = piece
    length = math.dist(start, end)
    dx, dy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    x, y = point[0] - start[0], point[1] - start[1]
    return 0 <= x * dx + y * dy <= length and abs(y * dx - x * dy) < thickness / 2


def _joined(edges: list[tuple[Point, Point]]) -> list[tuple[Point, Point]]:
    """Edges of one straight line that follow each other become one edge."""
    found: list[tuple[Point, Point]] = []
    for a, b in edges:
        if found and math.dist(found[-1][1], a) < 0.5:
            c, d = found[-1]
            turn = (d[0] - c[0]) * (b[1] - a[1]) - (d[1] - c[1]) * (b[0] - a[0])
            if abs(turn) < 1e-3 * math.dist(a, b) * math.dist(c, d):
                found[-1] = (c, b)
                continue
        found.append((a, b))
    return found
