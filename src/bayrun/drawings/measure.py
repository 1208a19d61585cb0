"""What can be measured on a drawing: texts that overlap, are cut off at the frame, are struck by a line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from bayrun.drawings.scene import (
    Circle,
    Dimension,
    Line,
    Point,
    Polyline,
    Scene,
    Symbol,
    Text,
    element_points,
)
from bayrun.geometry import Rect


class Ground:
    """Rectangles or segments in a coarse grid, so that only near ones are looked at.

    Args:
        cell: Side of a grid square [in].
    """

    def __init__(self, cell: float) -> None:
        self.cell = cell
        self.squares: dict[tuple[int, int], list[int]] = {}
        self.kept: list[tuple[Rect, Point | None, Point | None, str]] = []

    def _cells(self, box: Rect) -> Iterator[tuple[int, int]]:
        c = self.cell
        for i in range(int(box.u0 // c), int(box.u1 // c) + 1):
            for j in range(int(box.v0 // c), int(box.v1 // c) + 1):
                yield i, j

    def add_box(self, box: Rect, about: str = "") -> None:
        """Keep a rectangle."""
        self._keep(box, None, None, about)

    def add_segment(self, a: Point, b: Point, about: str = "") -> None:
        """Keep a segment, in pieces no longer than a few squares so that a diagonal stays cheap."""
        length = max(abs(b[0] - a[0]), abs(b[1] - a[1]))
        straight = abs(b[0] - a[0]) < self.cell / 4 or abs(b[1] - a[1]) < self.cell / 4
        count = 1 if straight else int(length // (2 * self.cell)) + 1
        for i in range(count):
            p = (a[0] + (b[0] - a[0]) * i / count, a[1] + (b[1] - a[1]) * i / count)
            q = (a[0] + (b[0] - a[0]) * (i + 1) / count, a[1] + (b[1] - a[1]) * (i + 1) / count)
            box = Rect(min(p[0], q[0]), min(p[1], q[1]), max(p[0], q[0]), max(p[1], q[1]))
            self._keep(box, p, q, about)

    def _keep(self, box: Rect, a: Point | None, b: Point | None, about: str) -> None:
        index = len(self.kept)
        self.kept.append((box, a, b, about))
        for cell in self._cells(box):
            self.squares.setdefault(cell, []).append(index)

    def _near(self, box: Rect) -> Iterator[tuple[Rect, Point | None, Point | None, str]]:
        seen: set[int] = set()
        for cell in self._cells(box):
            for index in self.squares.get(cell, ()):
                if index not in seen:
                    seen.add(index)
                    yield self.kept[index]

    def hits(self, box: Rect, besides: str = "") -> int:
        """How many kept things lie inside the box, those about ``besides`` left out."""
        count = 0
        for other, a, b, about in self._near(box):
            if besides and about == besides:
                continue
            if a is None or b is None:
                count += box.overlaps(other)
            else:
                count += box.crossed_by(a[0], a[1], b[0], b[1])
        return count

    def crossings(self, a: Point, b: Point, besides: str = "") -> int:
        """How many kept things a segment passes through."""
        box = Rect(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
        count = 0
        for other, p, q, about in self._near(box):
            if besides and about == besides:
                continue
            if p is None or q is None:
                count += other.crossed_by(a[0], a[1], b[0], b[1])
            else:
                count += _cross(a, b, p, q)
        return count


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


@dataclass(frozen=True, slots=True)
class SceneMeasure:
    """What was found on one drawing.

    Args:
        overlaps: Pairs of texts whose ink meets.
        clipped: Texts that pass the frame.
        struck: Texts without white under them that a line passes through.
        outside: Kinds and layers of lines and shapes that pass the frame.
    """

    name: str
    texts: int
    overlaps: tuple[tuple[str, str], ...]
    clipped: tuple[str, ...]
    struck: tuple[str, ...]
    outside: tuple[str, ...] = ()


def segments(elements: Iterable[object], per_paper_in: float) -> Iterator[tuple[Point, Point]]:
    """Every straight piece of lines, polylines and dimensions."""
    for element in elements:
        if isinstance(element, Line):
            yield element.a, element.b
        elif isinstance(element, Polyline) and element.stroke:
            points = element.points + (element.points[:1] if element.closed else ())
            yield from pairwise(points)
        elif isinstance(element, Dimension):
            yield from segments((p for p in element.parts(per_paper_in) if isinstance(p, Line)), per_paper_in)


def measure_scene(scene: Scene) -> SceneMeasure:
    """Overlapping, clipped and struck texts of a drawing.

    Texts are measured by the vendored font's own widths, so the boxes are those of the printed ink.
    """
    ground = Ground(scene.paper(0.5))
    placed: list[tuple[Rect, str]] = []
    overlaps: list[tuple[str, str]] = []
    clipped: list[str] = []
    for text in scene.texts():
        box = text.box(scene.per_paper_in).grown(-scene.paper(0.003))
        for other, said in placed:
            if box.overlaps(other):
                overlaps.append((said, text.text))
        placed.append((box, text.text))
        f = scene.frame
        if box.u0 < f.u0 or box.v0 < f.v0 or box.u1 > f.u1 or box.v1 > f.v1:
            clipped.append(text.text)
    for a, b in segments(scene.elements, scene.per_paper_in):
        ground.add_segment(a, b)
    struck = tuple(
        t.text
        for t in scene.texts()
        if not t.halo and ground.hits(t.box(scene.per_paper_in).grown(-scene.paper(0.01)))
    )
    frame = scene.frame.grown(scene.paper(0.005))
    outside = tuple(
        f"{type(element).__name__} on {element.layer}"
        for element in scene.elements
        if any(not frame.holds(*point) for point in element_points(element))
    )
    return SceneMeasure(scene.name, len(placed), tuple(overlaps), tuple(clipped), struck, outside)


def keep_clear(elements: Iterable[object], per_paper_in: float, ground: Ground) -> None:
    """Add the boxes of symbols, circles and texts to a ground that labels must stay off."""
    for element in elements:
        if isinstance(element, Symbol):
            ground.add_box(element.box, element.about)
        elif isinstance(element, Text):
            ground.add_box(element.box(per_paper_in))
        elif isinstance(element, Dimension):
            for part in element.parts(per_paper_in):
                if isinstance(part, Text):
                    ground.add_box(part.box(per_paper_in))
        elif isinstance(element, Circle):
            (x, y), r = element.center, element.radius_in
            ground.add_box(Rect(x - r, y - r, x + r, y + r))
