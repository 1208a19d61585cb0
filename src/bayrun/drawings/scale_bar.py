"""The bar that checks the printer: two inches of paper, and what they are at the drawing's scale."""

from __future__ import annotations

from bayrun.drawings.scene import Element, Point, Polyline, Text, plain_text, rectangle
from bayrun.drawings.style import INK, Scale
from bayrun.units import tape


def scale_words(scale: Scale, where: str = "house") -> str:
    """What is printed beside the bar.

    Args:
        where: What the two inches are measured in: the house, the box.
    """
    return plain_text(
        f"this bar is 2 inches on paper and {tape(2 * scale.per_paper_in)} in the {where}, at {scale.says}"
    )


def scale_bar(at: Point, scale: Scale, where: str = "house") -> list[Element]:
    """Four half inches of paper, filled in turn, with their words at the right.

    Args:
        at: Lower left corner of the bar [in].
        where: As for ``scale_words``.
    """
    k = scale.per_paper_in
    x, y = at
    out: list[Element] = []
    for i in range(4):
        corners = rectangle(x + i * 0.5 * k, y, x + (i + 1) * 0.5 * k, y + 0.06 * k)
        out.append(Polyline("A-ANNO-SYMB", corners, True, INK if i % 2 == 0 else None, 0.18))
    out.append(Text("A-ANNO-SYMB", (x + 2.1 * k, y), scale_words(scale, where)))
    return out
