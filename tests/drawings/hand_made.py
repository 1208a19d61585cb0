"""A small scene made by hand, and the planned demo houses, for the tests of the drawings."""

from __future__ import annotations

from functools import cache
from pathlib import Path

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
    rectangle,
)
from bayrun.files.jobfile import read_job
from bayrun.framing import lay_out
from bayrun.framing.records import Frame
from bayrun.geometry import Rect
from bayrun.house import Job
from bayrun.routing import route
from bayrun.wiring import Wiring

EXAMPLES = Path(__file__).parents[2] / "examples"


def small_scene(*more: Element) -> Scene:
    """Ten feet of wall with one stud, a dimension, a symbol and a text; 48 real inches to one of paper."""
    elements: tuple[Element, ...] = (
        Line("A-WALL", (0.0, 0.0), (120.0, 0.0)),
        Polyline("A-WALL", ((0.0, 3.5), (120.0, 3.5)), weight_mm=0.5),
        Hatch("A-WALL-STUD", rectangle(16.0, 0.0, 17.5, 3.5), "wood cut"),
        Circle("T-HOLE", (40.0, 1.75), 0.5),
        Arc("A-DOOR", (60.0, 3.5), 30.0, 0.0, 90.0),
        Dimension("A-ANNO-DIMS", (0.0, 0.0), (87.5, 0.0), -20.0),
        Symbol("T-LOCN", "location", (100.0, 6.0), 5.0, about="A01"),
        Text("T-ANNO-IDEN", (60.0, 60.0), "A01 & <B02>", 9.0, "center"),
    )
    frame = Rect(-24.0, -48.0, 168.0, 96.0)
    return Scene("small", frame, 48.0, (*elements, *more), "A wall made by hand")


@cache
def planned(house: str) -> tuple[Job, Frame, Wiring]:
    """A demo house with its framing and runs; ``house`` is a, b or c."""
    job = read_job(EXAMPLES / f"house-{house}.yaml")
    frame = lay_out(job)
    return job, frame, route(job, frame)
