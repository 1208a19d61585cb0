"""The way from a scene to any paper: one small interface, and the walk that feeds it."""

from __future__ import annotations

from typing import Protocol

from bayrun.drawings.scene import (
    Arc,
    Circle,
    Dimension,
    Element,
    Hatch,
    Line,
    Polyline,
    Scene,
    Symbol,
    Text,
)
from bayrun.drawings.symbols import symbol_parts


class Backend(Protocol):
    """What a paper must be able to draw. ``dimension`` answers False to be given its parts instead."""

    def line(self, line: Line) -> None:
        """A straight line."""

    def polyline(self, line: Polyline) -> None:
        """Straight pieces."""

    def circle(self, circle: Circle) -> None:
        """A circle."""

    def arc(self, arc: Arc) -> None:
        """Part of a circle."""

    def hatch(self, hatch: Hatch) -> None:
        """A filled shape."""

    def text(self, text: Text) -> None:
        """One line of text."""

    def dimension(self, dimension: Dimension) -> bool:
        """A true dimension; False where the backend has none."""


def draw(scene: Scene, backend: Backend) -> None:
    """Give every element of a scene to a backend, in order."""
    for element in scene.elements:
        _give(element, scene, backend)


def _give(element: Element, scene: Scene, backend: Backend) -> None:
    match element:
        case Line():
            backend.line(element)
        case Polyline():
            backend.polyline(element)
        case Circle():
            backend.circle(element)
        case Arc():
            backend.arc(element)
        case Hatch():
            backend.hatch(element)
        case Text():
            backend.text(element)
        case Dimension():
            if not backend.dimension(element):
                for part in element.parts(scene.per_paper_in):
                    _give(part, scene, backend)
        case Symbol():
            for part in symbol_parts(element, scene.per_paper_in):
                _give(part, scene, backend)
