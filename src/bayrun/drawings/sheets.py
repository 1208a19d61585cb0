"""A sheet: a drawing with its heading, scale and caution. Records only."""

from __future__ import annotations

from dataclasses import dataclass

from bayrun.drawings.scene import Scene
from bayrun.drawings.style import TABLOID, Paper, Scale


@dataclass(frozen=True, slots=True)
class Sheet:
    """One drawing sheet of the pack.

    Args:
        name: For files: ``plan-1``.
        kind: Name of the sheet in the top line: ``plan``, ``enclosure bay``.
        where: Level or wall, by its rooms, in the top line.
        heading: A sentence of the trade.
        caution: The one that fits this sheet.
        left_over: Words of the panel that found no room; the pack prints them as a list behind the sheet.
    """

    name: str
    kind: str
    where: str
    heading: str
    scene: Scene
    scale: Scale
    caution: str
    paper: Paper = TABLOID
    left_over: tuple[str, ...] = ()

    def _repr_svg_(self) -> str:
        """The drawing as notebooks show it."""
        from bayrun.drawings.svg import svg

        return svg(self.scene).decode("utf-8")
