"""Placements and solids of an IFC file as plain points in inches: attributes only, no geometry kernel.

A solid becomes a ``Shape``: its points, its faces in space, and where it is an extrusion its
profile and how far it was pushed. That is enough for wall lines, openings, rooms and members,
and takes milliseconds. What is not known here is named by its class, never guessed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

Vector = tuple[float, float, float]
Loop = tuple[Vector, ...]
ARC_STEPS = 16
"""Chords in a full circle of a curved edge; a house's arcs are doors' swings and pipes."""


def _add(a: Vector, b: Vector) -> Vector:
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def _times(a: Vector, k: float) -> Vector:
    return a[0] * k, a[1] * k, a[2] * k


def dot(a: Vector, b: Vector) -> float:
    """Inner product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """Outer product."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def unit(a: Vector) -> Vector:
    """The vector at length one; ValueError for a vector without a direction."""
    length = math.sqrt(dot(a, a))
    if not math.isfinite(length) or length < 1e-12:
        raise ValueError("a direction of length zero")
    return _times(a, 1 / length)


@dataclass(frozen=True, slots=True)
class Transform:
    """Three axes (not always of length one) and an origin."""

    x: Vector = (1.0, 0.0, 0.0)
    y: Vector = (0.0, 1.0, 0.0)
    z: Vector = (0.0, 0.0, 1.0)
    o: Vector = (0.0, 0.0, 0.0)

    def turn(self, v: Vector) -> Vector:
        """A direction of the inner system in the outer one."""
        return _add(_add(_times(self.x, v[0]), _times(self.y, v[1])), _times(self.z, v[2]))

    def point(self, v: Vector) -> Vector:
        """A point of the inner system in the outer one."""
        return _add(self.turn(v), self.o)

    def then(self, inner: Transform) -> Transform:
        """The inner transform first, then this one."""
        return Transform(self.turn(inner.x), self.turn(inner.y), self.turn(inner.z), self.point(inner.o))

    def undone(self) -> Transform:
        """The inverse; ValueError where axes fall together."""
        yz, zx, xy = cross(self.y, self.z), cross(self.z, self.x), cross(self.x, self.y)
        volume = dot(self.x, yz)
        if abs(volume) < 1e-15:
            raise ValueError("a transform without volume")
        rows = tuple(_times(row, 1 / volume) for row in (yz, zx, xy))
        x, y, z = (tuple(row[i] for row in rows) for i in range(3))
        turned = Transform(x, y, z)  # type: ignore[arg-type]
        return Transform(turned.x, turned.y, turned.z, _times(turned.turn(self.o), -1))


IDENTITY = Transform()


@dataclass(frozen=True, slots=True)
class Shape:
    """One solid in the file's world, in inches.

    Args:
        faces: Outer loops of its faces; for an extrusion its two ends and its sides.
        profile: Outer loop of an extrusion, at its start.
        push: From start to end of the extrusion.
        clipped: True where other solids were cut away and only the first one is told here.
    """

    faces: tuple[Loop, ...]
    profile: Loop = ()
    push: Vector = (0.0, 0.0, 0.0)
    clipped: bool = False

    @property
    def points(self) -> tuple[Vector, ...]:
        """Every corner, with repeats."""
        return tuple(point for face in self.faces for point in face)


class Shapes:
    """Reads placements and solids of one file, and remembers what it did not know.

    Args:
        scale_in: Inches in one length unit of the file.
        angle_rad: Radians in one angle unit of the file.
    """

    def __init__(self, scale_in: float, angle_rad: float) -> None:
        self.scale_in = scale_in
        self.angle_rad = angle_rad
        self.unknown: dict[str, int] = {}
        self._placements: dict[int, Transform] = {}

    # -- placements ---------------------------------------------------------------------------

    def _point(self, entity: Any) -> Vector:
        values = [float(v) * self.scale_in for v in entity.Coordinates]
        if not all(math.isfinite(v) for v in values):
            raise ValueError("a coordinate that is not a number")
        return values[0], values[1] if len(values) > 1 else 0.0, values[2] if len(values) > 2 else 0.0

    @staticmethod
    def _direction(entity: Any, other: Vector) -> Vector:
        if entity is None:
            return other
        values = [float(v) for v in entity.DirectionRatios]
        return unit((values[0], values[1], values[2] if len(values) > 2 else 0.0))

    def axes(self, entity: Any) -> Transform:
        """An axis placement, flat or in space."""
        if entity is None:
            return IDENTITY
        origin = self._point(entity.Location)
        if entity.is_a("IfcAxis2Placement2D"):
            x = self._direction(entity.RefDirection, (1.0, 0.0, 0.0))
            return Transform(x, (-x[1], x[0], 0.0), (0.0, 0.0, 1.0), origin)
        z = self._direction(getattr(entity, "Axis", None), (0.0, 0.0, 1.0))
        ref = self._direction(getattr(entity, "RefDirection", None), (1.0, 0.0, 0.0))
        flat = _add(ref, _times(z, -dot(ref, z)))
        if dot(flat, flat) < 1e-12:
            flat = cross((0.0, 1.0, 0.0), z) if abs(z[1]) < 0.9 else cross((1.0, 0.0, 0.0), z)
        x = unit(flat)
        return Transform(x, cross(z, x), z, origin)

    def placement(self, entity: Any, depth: int = 0) -> Transform:
        """Where an element stands in the file's world.

        Raises:
            ValueError: The chain of placements runs in a circle or deeper than any building.
        """
        if entity is None:
            return IDENTITY
        if depth > 60:
            raise ValueError("placements that run in a circle")
        known = self._placements.get(entity.id())
        if known is not None:
            return known
        if not entity.is_a("IfcLocalPlacement"):
            self._miss(entity)
            return IDENTITY
        outer = self.placement(entity.PlacementRelTo, depth + 1)
        result = outer.then(self.axes(entity.RelativePlacement))
        self._placements[entity.id()] = result
        return result

    def _operator(self, entity: Any) -> Transform:
        x = self._direction(entity.Axis1, (1.0, 0.0, 0.0))
        y = self._direction(entity.Axis2, (0.0, 1.0, 0.0))
        z = self._direction(getattr(entity, "Axis3", None), cross(x, y))
        x = unit(_add(x, _times(z, -dot(x, z))))
        y = unit(_add(y, _times(_add(_times(z, dot(y, z)), _times(x, dot(y, x))), -1)))
        first = 1.0 if entity.Scale is None else float(entity.Scale)
        second = getattr(entity, "Scale2", None)
        third = getattr(entity, "Scale3", None)
        return Transform(
            _times(x, first),
            _times(y, first if second is None else float(second)),
            _times(z, first if third is None else float(third)),
            self._point(entity.LocalOrigin),
        )

    # -- curves and profiles ------------------------------------------------------------------

    def curve(self, entity: Any) -> Loop:
        """A curve as points, arcs as chords; empty where its class is not known here."""
        if entity.is_a("IfcPolyline"):
            return tuple(self._point(p) for p in entity.Points)
        if entity.is_a("IfcIndexedPolyCurve"):
            return self._indexed(entity)
        if entity.is_a("IfcCompositeCurve"):
            found: list[Vector] = []
            for segment in entity.Segments:
                part = self.curve(segment.ParentCurve)
                if not segment.SameSense:
                    part = part[::-1]
                found.extend(part[1:] if found and part and math.dist(found[-1], part[0]) < 1e-3 else part)
            return tuple(found)
        if entity.is_a("IfcTrimmedCurve"):
            return self._trimmed(entity)
        if entity.is_a("IfcCircle") or entity.is_a("IfcEllipse"):
            return self._arc(entity, 0.0, 2 * math.pi)[:-1]
        self._miss(entity)
        return ()

    def _indexed(self, entity: Any) -> Loop:
        flat = [tuple(float(v) * self.scale_in for v in row) for row in entity.Points.CoordList]
        points = [(p[0], p[1], p[2] if len(p) > 2 else 0.0) for p in flat]
        if not entity.Segments:
            return tuple(points)
        found: list[Vector] = []
        for segment in entity.Segments:
            chain = [points[int(i) - 1] for i in segment.wrappedValue]
            if segment.is_a("IfcArcIndex"):
                chain = list(_arc_through(chain[0], chain[1], chain[2]))
            found.extend(chain[1:] if found else chain)
        return tuple(found)

    def _arc(self, circle: Any, start: float, end: float) -> Loop:
        axes = self.axes(circle.Position)
        a = float(circle.Radius if circle.is_a("IfcCircle") else circle.SemiAxis1) * self.scale_in
        b = float(circle.Radius if circle.is_a("IfcCircle") else circle.SemiAxis2) * self.scale_in
        steps = max(2, math.ceil(abs(end - start) / (2 * math.pi) * ARC_STEPS))
        turns = [start + (end - start) * i / steps for i in range(steps + 1)]
        return tuple(axes.point((a * math.cos(t), b * math.sin(t), 0.0)) for t in turns)

    def _trimmed(self, entity: Any) -> Loop:
        basis, ends = entity.BasisCurve, []
        for trims in (entity.Trim1, entity.Trim2):
            point = next((t for t in trims if hasattr(t, "is_a") and t.is_a("IfcCartesianPoint")), None)
            value = next((float(t.wrappedValue) for t in trims if t.is_a("IfcParameterValue")), None)
            ends.append((point, value))
        if basis.is_a("IfcLine"):
            origin, along = self._point(basis.Pnt), self._direction(basis.Dir.Orientation, (1.0, 0.0, 0.0))
            step = float(basis.Dir.Magnitude) * self.scale_in
            return tuple(
                self._point(p) if p is not None else _add(origin, _times(along, step * (v or 0.0)))
                for p, v in ends
            )
        if basis.is_a("IfcCircle"):
            turns = []
            back = self.axes(basis.Position).undone()
            for p, v in ends:
                if v is not None:
                    turns.append(v * self.angle_rad)
                else:
                    local = back.point(self._point(p))
                    turns.append(math.atan2(local[1], local[0]))
            first, last = (turns[0], turns[1]) if entity.SenseAgreement else (turns[1], turns[0])
            while last <= first + 1e-9:
                last += 2 * math.pi
            arc = self._arc(basis, first, last)
            return arc if entity.SenseAgreement else arc[::-1]
        self._miss(basis)
        return ()

    def profile(self, entity: Any) -> Loop:
        """The outer loop of a profile in its own plane; empty where its class is not known here."""
        if entity.is_a("IfcArbitraryClosedProfileDef"):
            loop = self.curve(entity.OuterCurve)
            return loop[:-1] if len(loop) > 3 and math.dist(loop[0], loop[-1]) < 1e-3 else loop
        if entity.is_a("IfcDerivedProfileDef"):
            operator = self._operator(entity.Operator)
            return tuple(operator.point(p) for p in self.profile(entity.ParentProfile))
        axes = self.axes(getattr(entity, "Position", None))
        if entity.is_a("IfcCircleProfileDef"):
            r = float(entity.Radius) * self.scale_in
            turns = [2 * math.pi * i / ARC_STEPS for i in range(ARC_STEPS)]
            return tuple(axes.point((r * math.cos(t), r * math.sin(t), 0.0)) for t in turns)
        # Steel shapes are told by the rectangle around them: enough for a beam in a plan.
        for wide, high in (
            ("XDim", "YDim"),
            ("OverallWidth", "OverallDepth"),
            ("FlangeWidth", "Depth"),
            ("Width", "Depth"),
        ):
            w, h = getattr(entity, wide, None), getattr(entity, high, None)
            if w is not None and h is not None:
                a, b = float(w) * self.scale_in / 2, float(h) * self.scale_in / 2
                return tuple(axes.point(p) for p in ((-a, -b, 0.0), (a, -b, 0.0), (a, b, 0.0), (-a, b, 0.0)))
        self._miss(entity)
        return ()

    # -- solids -------------------------------------------------------------------------------

    def of(self, product: Any, names: Sequence[str] = ("Body", "Facetation", "")) -> tuple[Shape, ...]:
        """The solids of an element in the file's world, from its first representation that has any."""
        if product.Representation is None:
            return ()
        where = self.placement(product.ObjectPlacement)
        for name in names:
            found: list[Shape] = []
            for representation in product.Representation.Representations:
                if name in ("", representation.RepresentationIdentifier or "") and (
                    name
                    or representation.RepresentationIdentifier
                    not in ("Axis", "FootPrint", "Box", "Annotation")
                ):
                    for item in representation.Items:
                        found.extend(self.solid(item, where))
            if found:
                return tuple(found)
        return ()

    def solid(self, item: Any, where: Transform, depth: int = 0) -> tuple[Shape, ...]:
        """One item as shapes; empty (and remembered by its class) where it is not known here."""
        if depth > 40:
            raise ValueError("solids nested without end")
        kind = item.is_a()
        if item.is_a("IfcExtrudedAreaSolid"):
            return self._extrusion(item, where)
        if item.is_a("IfcBooleanResult"):
            first = self.solid(item.FirstOperand, where, depth + 1)
            if item.Operator == "UNION":
                return first + self.solid(item.SecondOperand, where, depth + 1)
            return tuple(Shape(s.faces, s.profile, s.push, True) for s in first)
        if item.is_a("IfcCsgSolid"):
            return self.solid(item.TreeRootExpression, where, depth + 1)
        if item.is_a("IfcMappedItem"):
            source = item.MappingSource
            inner = where.then(self._operator(item.MappingTarget)).then(
                self.axes(source.MappingOrigin).undone()
            )
            items = source.MappedRepresentation.Items
            return tuple(shape for part in items for shape in self.solid(part, inner, depth + 1))
        if item.is_a("IfcManifoldSolidBrep"):
            return self._faces(item.Outer.CfsFaces, where)
        if item.is_a("IfcFaceBasedSurfaceModel"):
            return self._faces((f for s in item.FbsmFaces for f in s.CfsFaces), where)
        if item.is_a("IfcShellBasedSurfaceModel"):
            return self._faces((f for s in item.SbsmBoundary for f in s.CfsFaces), where)
        if item.is_a("IfcTessellatedFaceSet"):
            return self._tessellated(item, where)
        if kind in ("IfcBlock", "IfcBoundingBox"):
            names = ("XLength", "YLength", "ZLength") if kind == "IfcBlock" else ("XDim", "YDim", "ZDim")
            w, d, h = (float(getattr(item, n)) * self.scale_in for n in names)
            base = self.axes(item.Position) if kind == "IfcBlock" else Transform(o=self._point(item.Corner))
            place = where.then(base)
            loop = tuple(place.point(p) for p in ((0.0, 0.0, 0.0), (w, 0.0, 0.0), (w, d, 0.0), (0.0, d, 0.0)))
            return (_pushed(loop, place.turn((0.0, 0.0, h))),)
        self._miss(item)
        return ()

    def _extrusion(self, item: Any, where: Transform) -> tuple[Shape, ...]:
        place = where.then(self.axes(item.Position))
        push = place.turn(
            _times(
                self._direction(item.ExtrudedDirection, (0.0, 0.0, 1.0)), float(item.Depth) * self.scale_in
            )
        )
        areas = (
            item.SweptArea.Profiles if item.SweptArea.is_a("IfcCompositeProfileDef") else (item.SweptArea,)
        )
        loops = (tuple(place.point(p) for p in self.profile(area)) for area in areas)
        return tuple(_pushed(loop, push) for loop in loops if len(loop) >= 3)

    def _faces(self, faces: Iterable[Any], where: Transform) -> tuple[Shape, ...]:
        loops: list[Loop] = []
        for face in faces:
            outer = next((b for b in face.Bounds if b.is_a("IfcFaceOuterBound")), face.Bounds[0])
            loop = self._loop(outer.Bound)
            if len(loop) >= 3:
                loops.append(tuple(where.point(p) for p in loop))
        return (Shape(tuple(loops)),) if loops else ()

    def _loop(self, bound: Any) -> Loop:
        if bound.is_a("IfcPolyLoop"):
            return tuple(self._point(p) for p in bound.Polygon)
        if bound.is_a("IfcEdgeLoop"):
            found = []
            for edge in bound.EdgeList:
                start = edge.EdgeElement.EdgeStart if edge.Orientation else edge.EdgeElement.EdgeEnd
                found.append(self._point(start.VertexGeometry))
            return tuple(found)
        self._miss(bound)
        return ()

    def _tessellated(self, item: Any, where: Transform) -> tuple[Shape, ...]:
        points = [
            where.point(
                (float(p[0]) * self.scale_in, float(p[1]) * self.scale_in, float(p[2]) * self.scale_in)
            )
            for p in item.Coordinates.CoordList
        ]
        if item.is_a("IfcPolygonalFaceSet"):
            rows: list[Sequence[int]] = [face.CoordIndex for face in item.Faces]
        else:
            rows = list(item.CoordIndex)
        order = getattr(item, "PnIndex", None)
        loops = tuple(
            tuple(points[(order[int(i) - 1] if order else int(i)) - 1] for i in row)
            for row in rows
            if len(row) >= 3
        )
        return (Shape(loops),) if loops else ()

    def _miss(self, entity: Any) -> None:
        name = entity.is_a()
        self.unknown[name] = self.unknown.get(name, 0) + 1


def _pushed(loop: Loop, push: Vector) -> Shape:
    top = tuple(_add(p, push) for p in loop)
    sides = tuple(
        (a, b, d, c) for a, b, c, d in zip(loop, loop[1:] + loop[:1], top, top[1:] + top[:1], strict=True)
    )
    return Shape((loop, top, *sides), loop, push)


def _arc_through(a: Vector, b: Vector, c: Vector) -> Loop:
    """Chords of the arc through three points of one plane z."""
    d = 2 * (a[0] * (b[1] - c[1]) + b[0] * (c[1] - a[1]) + c[0] * (a[1] - b[1]))
    if abs(d) < 1e-9:
        return a, b, c
    sa, sb, sc = (p[0] ** 2 + p[1] ** 2 for p in (a, b, c))
    x = (sa * (b[1] - c[1]) + sb * (c[1] - a[1]) + sc * (a[1] - b[1])) / d
    y = (sa * (c[0] - b[0]) + sb * (a[0] - c[0]) + sc * (b[0] - a[0])) / d
    r = math.hypot(a[0] - x, a[1] - y)
    first, middle, last = (math.atan2(p[1] - y, p[0] - x) for p in (a, b, c))
    turn = 2 * math.pi
    sweep = (last - first) % turn
    if (middle - first) % turn > sweep:
        sweep -= turn
    steps = max(2, math.ceil(abs(sweep) / turn * ARC_STEPS))
    angles = [first + sweep * i / steps for i in range(steps + 1)]
    inner = tuple((x + r * math.cos(t), y + r * math.sin(t), a[2]) for t in angles[1:-1])
    return (a, *inner, c)
