"""A drawing without a backend: what stands where, in real inches, on which layer.

x to the right, y up. Sizes of type are points on paper; ``Scene.per_paper_in`` says how many real inches one
inch of paper shows, so every text has a box in real inches that can be measured for overlap and clipping.
"""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from bayrun.drawings.font_widths import BOLD, REGULAR
from bayrun.drawings.style import LEAST_PT
from bayrun.geometry import Rect
from bayrun.units import tape

Point = tuple[float, float]
Align = Literal["left", "center", "right"]
POINTS_PER_IN = 72.0
_ABOVE, _BELOW = 0.74, 0.23
"""Ink above and under the base line, as shares of the size (capitals 0.714, descenders 0.22)."""


def plain_text(text: str) -> str:
    """Text as the vendored font can print it, on one line; feet and inches keep together.

    Signs it lacks become words, other letters it lacks a question mark (``lost_letters`` tells of them); a
    blank inside ``7' 3-1/2"`` becomes one that does not break.
    """
    text = unicodedata.normalize("NFC", text)
    for sign, word in (("≤", "at most "), ("≥", "at least "), ("→", "to"), ("←", "from"), ("\t", " ")):
        text = text.replace(sign, word)
    text = " ".join(text.split())
    out = []
    for i, c in enumerate(text):
        keep = c == " " and i and text[i - 1] == "'" and i + 1 < len(text) and text[i + 1].isdigit()
        out.append("\u00a0" if keep else c if ord(c) in REGULAR else "?")
    return "".join(out)


def lost_letters(text: str) -> bool:
    """True where ``plain_text`` cannot print every letter."""
    return plain_text(text).count("?") > text.count("?")


def text_width_pt(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Width of a line of text in the vendored font, without kerning [pt]; never under what is printed."""
    table = BOLD if bold else REGULAR
    return sum(table.get(ord(c), 1000) for c in text) * size_pt / 1000


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    layer: str
    a: Point
    b: Point
    weight_mm: float | None = None
    dash: str | None = None
    color: str | None = None


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight pieces, open or closed; ``fill`` is a color or None."""

    layer: str
    points: tuple[Point, ...]
    closed: bool = False
    fill: str | None = None
    weight_mm: float | None = None
    dash: str | None = None
    color: str | None = None
    stroke: bool = True


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle."""

    layer: str
    center: Point
    radius_in: float
    fill: str | None = None
    weight_mm: float | None = None
    dash: str | None = None
    color: str | None = None


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, counterclockwise from ``start_deg`` to ``end_deg``."""

    layer: str
    center: Point
    radius_in: float
    start_deg: float
    end_deg: float
    weight_mm: float | None = None
    dash: str | None = None
    color: str | None = None

    @property
    def points(self) -> tuple[Point, ...]:
        """The arc as short straight pieces."""
        sweep = (self.end_deg - self.start_deg) % 360 or 360.0
        count = max(2, math.ceil(sweep / 7.5))
        angles = (math.radians(self.start_deg + sweep * i / count) for i in range(count + 1))
        x, y = self.center
        return tuple((x + self.radius_in * math.cos(t), y + self.radius_in * math.sin(t)) for t in angles)


@dataclass(frozen=True, slots=True)
class Hatch:
    """A filled shape.

    Args:
        pattern: ``wood cut`` and ``steel`` are seen at the end; ``wood``, ``steel face``, ``concrete``,
            ``solid`` are faces.
    """

    layer: str
    points: tuple[Point, ...]
    pattern: str


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; ``at`` is its base line's left end, middle or right end before turning.

    Args:
        angle: 0, or 90 to read from the right.
        halo: White under the text, so that a line below it does not strike it through.
        role: ``label``, ``dimension``, ``note``: what a placement may do with it.
    """

    layer: str
    at: Point
    text: str
    size_pt: float = LEAST_PT
    align: Align = "left"
    angle: float = 0.0
    bold: bool = False
    halo: bool = False
    color: str | None = None
    role: str = "note"

    def box(self, per_paper_in: float) -> Rect:
        """Box of its ink in real inches; around it where it is turned by anything but a quarter."""
        unit = self.size_pt / POINTS_PER_IN * per_paper_in
        width = text_width_pt(self.text, self.size_pt, bold=self.bold) / POINTS_PER_IN * per_paper_in
        left = {"left": 0.0, "center": -width / 2, "right": -width}[self.align]
        corners = [
            (left, -_BELOW * unit),
            (left + width, -_BELOW * unit),
            (left + width, _ABOVE * unit),
            (left, _ABOVE * unit),
        ]
        return bounds(turned(corners, self.angle, self.at))


@dataclass(frozen=True, slots=True)
class Dimension:
    """A true dimension between ``a`` and ``b``, along x (``angle`` 0) or y (90).

    Args:
        at: Where the dimension line stands: its y for an x dimension, its x for a y dimension [in].
        text: Printed instead of the measured length; None prints that, as a tape reads.
        text_at: Middle of the text; None sets it over the middle of the line.
    """

    layer: str
    a: Point
    b: Point
    at: float
    angle: float = 0.0
    text: str | None = None
    size_pt: float = LEAST_PT
    text_at: Point | None = None

    @property
    def measured_in(self) -> float:
        """What it measures [in]."""
        return abs(self.b[1] - self.a[1]) if self.angle else abs(self.b[0] - self.a[0])

    @property
    def says(self) -> str:
        """What is printed on it."""
        return plain_text(tape(self.measured_in) if self.text is None else self.text)

    @property
    def ends(self) -> tuple[Point, Point]:
        """The two ends of its line."""
        if self.angle:
            return (self.at, self.a[1]), (self.at, self.b[1])
        return (self.a[0], self.at), (self.b[0], self.at)

    def middle(self, per_paper_in: float) -> Point:
        """Middle of its text [in]."""
        if self.text_at is not None:
            return self.text_at
        (x0, y0), (x1, y1) = self.ends
        lift = 0.62 * self.size_pt / POINTS_PER_IN * per_paper_in
        if self.angle:
            return self.at - lift, (y0 + y1) / 2
        return (x0 + x1) / 2, self.at + lift

    def parts(self, per_paper_in: float) -> tuple[Element, ...]:
        """Line, ticks, witness lines and text, for a backend without dimensions of its own."""
        (x0, y0), (x1, y1) = self.ends
        tick, gap = 0.045 * per_paper_in, 0.03 * per_paper_in
        out: list[Element] = [Line(self.layer, (x0, y0), (x1, y1))]
        for (x, y), (px, py) in (((x0, y0), self.a), ((x1, y1), self.b)):
            out.append(Line(self.layer, (x - tick, y - tick), (x + tick, y + tick), 0.35))
            far = (px - x) if self.angle else (py - y)
            if abs(far) > gap * 1.5:
                sign = math.copysign(1.0, far)
                start, end = (
                    ((px - sign * gap, py), (x - sign * gap, y))
                    if self.angle
                    else ((px, py - sign * gap), (x, y - sign * gap))
                )
                out.append(Line(self.layer, start, end, 0.09))
        mx, my = self.middle(per_paper_in)
        drop = 0.26 * self.size_pt / POINTS_PER_IN * per_paper_in
        base = (mx + drop, my) if self.angle else (mx, my - drop)
        turn = 90.0 if self.angle else 0.0
        # A text moved off its line reads level beside it.
        if self.angle and self.text_at is not None:
            base, turn = (mx, my - drop), 0.0
        out.append(
            Text(self.layer, base, self.says, self.size_pt, "center", turn, halo=True, role="dimension")
        )
        return tuple(out)


@dataclass(frozen=True, slots=True)
class Symbol:
    """One of our plain symbols by its name; ``size_in`` is its real size, ``angle`` turns it."""

    layer: str
    name: str
    at: Point
    size_in: float
    angle: float = 0.0
    letter: str = ""
    about: str = ""
    """Id of what it stands for."""

    @property
    def box(self) -> Rect:
        """The square around it."""
        x, y = self.at
        half = self.size_in / 2
        return Rect(x - half, y - half, x + half, y + half)


Element = Line | Polyline | Circle | Arc | Hatch | Text | Dimension | Symbol


@dataclass(frozen=True, slots=True)
class Scene:
    """A whole drawing.

    Args:
        name: For files: ``plan-1``.
        frame: What is drawn, in real inches; nothing may stand outside.
        per_paper_in: Real inches to one inch of paper.
        says: What the drawing shows, in a sentence: its alternative text.
    """

    name: str
    frame: Rect
    per_paper_in: float
    elements: tuple[Element, ...]
    says: str = ""

    def paper(self, inches: float) -> float:
        """So many inches of paper in real inches."""
        return inches * self.per_paper_in

    def texts(self) -> Iterator[Text]:
        """Every text, those of dimensions and symbols among them."""
        from bayrun.drawings.symbols import symbol_parts  # symbols are made of elements

        for element in self.elements:
            if isinstance(element, Text):
                yield element
            elif isinstance(element, Dimension):
                yield from (p for p in element.parts(self.per_paper_in) if isinstance(p, Text))
            elif isinstance(element, Symbol):
                yield from (p for p in symbol_parts(element, self.per_paper_in) if isinstance(p, Text))

    def plus(self, elements: tuple[Element, ...]) -> Scene:
        """The scene with more on top."""
        return replace(self, elements=self.elements + elements)


def turned(points: list[Point], angle: float, about: Point) -> list[Point]:
    """Points turned by ``angle`` degrees around the origin, then moved to ``about``."""
    x0, y0 = about
    cos, sin = round(math.cos(math.radians(angle)), 12), round(math.sin(math.radians(angle)), 12)
    return [(x0 + x * cos - y * sin, y0 + x * sin + y * cos) for x, y in points]


def bounds(points: list[Point] | tuple[Point, ...]) -> Rect:
    """The upright rectangle around points."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return Rect(min(xs), min(ys), max(xs), max(ys))


def element_points(element: Element) -> tuple[Point, ...]:
    """Points that bound the geometry of an element; texts have none of their own."""
    match element:
        case Line():
            return element.a, element.b
        case Polyline() | Hatch() | Arc():
            return element.points
        case Circle():
            (x, y), r = element.center, element.radius_in
            return (x - r, y - r), (x + r, y + r)
        case Dimension():
            return (element.a, element.b, *element.ends)
        case Symbol():
            box = element.box
            return (box.u0, box.v0), (box.u1, box.v1)
        case Text():
            return ()


def rectangle(u0: float, v0: float, u1: float, v1: float) -> tuple[Point, ...]:
    """Corners of an upright rectangle."""
    return (u0, v0), (u1, v0), (u1, v1), (u0, v1)
