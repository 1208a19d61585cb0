"""The backend that only remembers: for tests, and for comparing two drawings."""

from __future__ import annotations

from dataclasses import dataclass, field

from bayrun.drawings.backends import draw
from bayrun.drawings.scene import Arc, Circle, Dimension, Element, Hatch, Line, Polyline, Scene, Text


@dataclass(slots=True)
class Recorder:
    """Keeps every call as (what, element)."""

    calls: list[tuple[str, Element]] = field(default_factory=list)

    def line(self, line: Line) -> None:
        """Remember a line."""
        self.calls.append(("line", line))

    def polyline(self, line: Polyline) -> None:
        """Remember a polyline."""
        self.calls.append(("polyline", line))

    def circle(self, circle: Circle) -> None:
        """Remember a circle."""
        self.calls.append(("circle", circle))

    def arc(self, arc: Arc) -> None:
        """Remember an arc."""
        self.calls.append(("arc", arc))

    def hatch(self, hatch: Hatch) -> None:
        """Remember a hatch."""
        self.calls.append(("hatch", hatch))

    def text(self, text: Text) -> None:
        """Remember a text."""
        self.calls.append(("text", text))

    def dimension(self, dimension: Dimension) -> bool:
        """Remember a dimension whole."""
        self.calls.append(("dimension", dimension))
        return True


def record(scene: Scene) -> tuple[tuple[str, Element], ...]:
    """The calls a backend would get, in order."""
    recorder = Recorder()
    draw(scene, recorder)
    return tuple(recorder.calls)
