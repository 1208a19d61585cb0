"""A scene as SVG at its true paper size. Text stays text; nothing but text is ever taken from people."""

from __future__ import annotations

from dataclasses import dataclass, field
from xml.sax.saxutils import escape

from bayrun.drawings.backends import draw
from bayrun.drawings.scene import (
    POINTS_PER_IN,
    Arc,
    Circle,
    Dimension,
    Hatch,
    Line,
    Point,
    Polyline,
    Scene,
    Text,
)
from bayrun.drawings.style import CONCRETE, DASHES, INK, LAYERS, PAPER, STEEL, WOOD, WOOD_CUT

FONT = "Noto Sans"
_PT_PER_MM = 72 / 25.4
_FILLS = {
    "wood cut": WOOD_CUT,
    "wood": WOOD,
    "concrete": CONCRETE,
    "steel": STEEL,
    "steel face": STEEL,
    "solid": INK,
}


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _safe(text: str) -> str:
    # Control characters have no place in XML at all.
    return escape("".join(c for c in text if c >= " " or c == "\u00a0"), {'"': "&quot;"})


@dataclass(slots=True)
class SvgWriter:
    """Writes elements as they come, grouped by nothing: order is what lies on top."""

    scene: Scene
    out: list[str] = field(default_factory=list)

    def _xy(self, p: Point) -> tuple[str, str]:
        frame, k = self.scene.frame, POINTS_PER_IN / self.scene.per_paper_in
        return _n((p[0] - frame.u0) * k), _n((frame.v1 - p[1]) * k)

    def _size(self, length: float) -> str:
        return _n(length * POINTS_PER_IN / self.scene.per_paper_in)

    def _pen(self, layer: str, weight_mm: float | None, dash: str | None, color: str | None) -> str:
        known = LAYERS[layer]
        weight = known.weight_mm if weight_mm is None else weight_mm
        pattern = DASHES[known.dash if dash is None else dash]
        text = f'stroke="{color or known.color}" stroke-width="{_n(weight * _PT_PER_MM)}"'
        if pattern:
            text += ' stroke-dasharray="' + " ".join(_n(p * POINTS_PER_IN) for p in pattern) + '"'
        return text

    def _path(self, points: tuple[Point, ...], closed: bool) -> str:
        text = "".join(("L" if i else "M") + " ".join(self._xy(p)) for i, p in enumerate(points))
        return text + ("Z" if closed else "")

    def line(self, line: Line) -> None:
        """A straight line."""
        pen = self._pen(line.layer, line.weight_mm, line.dash, line.color)
        self.out.append(f'<path d="{self._path((line.a, line.b), False)}" fill="none" {pen}/>')

    def polyline(self, line: Polyline) -> None:
        """Straight pieces."""
        pen = self._pen(line.layer, line.weight_mm, line.dash, line.color) if line.stroke else 'stroke="none"'
        path = self._path(line.points, line.closed)
        self.out.append(f'<path d="{path}" fill="{line.fill or "none"}" {pen} stroke-linejoin="round"/>')

    def circle(self, circle: Circle) -> None:
        """A circle."""
        x, y = self._xy(circle.center)
        pen = self._pen(circle.layer, circle.weight_mm, circle.dash, circle.color)
        radius = self._size(circle.radius_in)
        self.out.append(f'<circle cx="{x}" cy="{y}" r="{radius}" fill="{circle.fill or "none"}" {pen}/>')

    def arc(self, arc: Arc) -> None:
        """Part of a circle, as short pieces."""
        pen = self._pen(arc.layer, arc.weight_mm, arc.dash, arc.color)
        self.out.append(f'<path d="{self._path(arc.points, False)}" fill="none" {pen}/>')

    def hatch(self, hatch: Hatch) -> None:
        """A filled shape; wood seen at its end carries one diagonal."""
        pen = self._pen(hatch.layer, None, None, None)
        path = self._path(hatch.points, True)
        self.out.append(f'<path d="{path}" fill="{_FILLS[hatch.pattern]}" {pen}/>')
        if hatch.pattern in ("wood cut", "steel") and len(hatch.points) == 4:
            diagonals = [(hatch.points[0], hatch.points[2])]
            if hatch.pattern == "steel":
                diagonals.append((hatch.points[1], hatch.points[3]))
            for a, b in diagonals:
                self.line(Line(hatch.layer, a, b, 0.09))

    def text(self, text: Text) -> None:
        """One line of text; white under it where it asks for it."""
        if text.halo:
            box = text.box(self.scene.per_paper_in)
            x, y = self._xy((box.u0, box.v1))
            size = f'width="{self._size(box.width)}" height="{self._size(box.height)}"'
            self.out.append(f'<rect x="{x}" y="{y}" {size} fill="{PAPER}"/>')
        x, y = self._xy(text.at)
        anchor = {"left": "start", "center": "middle", "right": "end"}[text.align]
        turn = f' transform="rotate({_n(-text.angle)} {x} {y})"' if text.angle else ""
        weight = ' font-weight="700"' if text.bold else ""
        color = text.color or (LAYERS[text.layer].color if text.role == "dimension" else INK)
        self.out.append(
            f'<text x="{x}" y="{y}" font-family="{FONT}" font-size="{_n(text.size_pt)}" '
            f'text-anchor="{anchor}"{weight} fill="{color}"{turn} xml:space="preserve">'
            f"{_safe(text.text)}</text>"
        )

    def dimension(self, dimension: Dimension) -> bool:
        """SVG has no dimensions: it is drawn by its parts."""
        return False


def svg(scene: Scene) -> bytes:
    """The scene as an SVG file, at true paper size.

    Returns:
        UTF-8 bytes, the same for the same scene.
    """
    writer = SvgWriter(scene)
    draw(scene, writer)
    k = 1 / scene.per_paper_in
    width, height = scene.frame.width * k, scene.frame.height * k
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width)}in" height="{_n(height)}in" '
        f'viewBox="0 0 {_n(width * POINTS_PER_IN)} {_n(height * POINTS_PER_IN)}" role="img">'
        f"<title>{_safe(scene.says or scene.name)}</title>"
    )
    return "\n".join([head, *writer.out, "</svg>", ""]).encode("utf-8")
