"""Our plain symbols, made of lines: locations, enclosure, hole, seal, marks of findings."""

from __future__ import annotations

import math

from bayrun.drawings.scene import Circle, Element, Hatch, Line, Point, Polyline, Symbol, Text, turned
from bayrun.drawings.style import INK, PAPER

MEANING: dict[str, str] = {
    "location": "Location in a wall: the square is on its room's side",
    "ceiling": "Location in a ceiling",
    "through": "Location through the wall, to the outside",
    "device": "Device that a run ends on, not in the enclosure",
    "enclosure": "Media enclosure: the filled head is the open side",
    "hole": "Drilled hole, with its id",
    "passage": "Way through without drilling",
}
"""What each symbol says in the key, in the order of the key."""


def symbol_parts(symbol: Symbol, per_paper_in: float) -> tuple[Element, ...]:
    """The elements a symbol is made of.

    Raises:
        ValueError: There is no symbol of this name.
    """
    s, layer = symbol.size_in, symbol.layer

    def at(*points: Point) -> tuple[Point, ...]:
        return tuple(turned(list(points), symbol.angle, symbol.at))

    def square() -> tuple[Point, ...]:
        return at((-s / 2, -s / 2), (s / 2, -s / 2), (s / 2, s / 2), (-s / 2, s / 2))

    match symbol.name:
        case "location":
            return (Polyline(layer, square(), closed=True, fill=PAPER),)
        case "through":
            tail = at((0, s / 2), (0, s * 1.3))
            return Polyline(layer, square(), closed=True, fill=PAPER), Line(layer, tail[0], tail[1])
        case "ceiling":
            return (Circle(layer, symbol.at, s / 2, fill=PAPER),)
        case "device":
            points = at((0, -s / 2), (s / 2, 0), (0, s / 2), (-s / 2, 0))
            return (Polyline(layer, points, closed=True, fill=PAPER),)
        case "enclosure":
            body = at((-s / 2, -s / 4), (s / 2, -s / 4), (s / 2, s / 4), (-s / 2, s / 4))
            head = at((-s / 2, -s / 4), (s / 2, -s / 4), (s / 2, 0), (-s / 2, 0))
            return Polyline(layer, body, closed=True, fill=PAPER), Polyline(
                layer, head, closed=True, fill=INK
            )
        case "hole":
            return Circle(layer, symbol.at, s / 2, fill=PAPER), Circle(layer, symbol.at, s / 8, fill=INK)
        case "passage":
            a, b = at((0, -s / 2), (0, s / 2))
            return Circle(layer, symbol.at, s / 2, fill=PAPER, weight_mm=0.18), Line(layer, a, b, 0.18)
        case "seal":
            k = s / 2 * math.sqrt(0.5)
            (a, b), (c, d) = (at((-k, -k), (k, k)), at((-k, k), (k, -k)))
            return Circle(layer, symbol.at, s / 2, fill=PAPER), Line(layer, a, b), Line(layer, c, d)
        case "balloon":
            x, y = symbol.at
            size_pt = 9.0
            drop = 0.26 * size_pt / 72 * per_paper_in
            return (
                Circle(layer, symbol.at, s / 2, fill=PAPER),
                Text(layer, (x, y - drop), symbol.letter, size_pt, "center", bold=True),
            )
        case "stop":
            return (Polyline(layer, square(), closed=True, fill=INK),)
        case "fix soon":
            half = at((-s / 2, -s / 2), (0, -s / 2), (0, s / 2), (-s / 2, s / 2))
            return Polyline(layer, square(), closed=True, fill=PAPER), Hatch(layer, half, "solid")
        case "note":
            return (Polyline(layer, square(), closed=True, fill=PAPER),)
    raise ValueError(f"expected the name of a symbol, got {symbol.name!r}")
