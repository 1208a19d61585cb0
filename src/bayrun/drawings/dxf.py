"""A scene as DXF: real inches, our layers, true dimensions. The same bytes every time."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, cast

from bayrun.drawings.backends import draw
from bayrun.drawings.font_widths import CAP_HEIGHT
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
    bounds,
)
from bayrun.drawings.style import DASHES, INK, LAYERS

_WEIGHTS = (
    *(0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53),
    *(60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211),
)
"""Line weights a DXF may carry [hundredths of a millimeter]."""
_HATCHES = {
    "wood cut": "ANSI31",
    "wood": "ANSI31",
    "concrete": "AR-CONC",
    "steel": "ANSI32",
    "steel face": "ANSI32",
}


def _weight(mm: float) -> int:
    return min(_WEIGHTS, key=lambda w: abs(w - mm * 100))


@contextmanager
def _fixed_stamps() -> Iterator[None]:
    """The writer's own switch for fixed dates and ids, set back afterwards."""
    from ezdxf._options import options  # heavy

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


@dataclass(slots=True)
class _Pages:
    """All that the writer asks of a file."""

    parts: list[str] = field(default_factory=list)

    def write(self, text: str) -> None:
        self.parts.append(text)


@dataclass(slots=True)
class DxfWriter:
    """Writes elements into the model space of a new drawing."""

    scene: Scene
    space: Any

    def _look(self, layer: str, weight_mm: float | None, dash: str | None) -> dict[str, Any]:
        look: dict[str, Any] = {"layer": layer}
        if weight_mm is not None:
            look["lineweight"] = _weight(weight_mm)
        if dash is not None:
            look["linetype"] = _linetype(dash)
        return look

    def line(self, line: Line) -> None:
        """A LINE."""
        self.space.add_line(line.a, line.b, dxfattribs=self._look(line.layer, line.weight_mm, line.dash))

    def polyline(self, line: Polyline) -> None:
        """An LWPOLYLINE; one filled with ink also gets a solid HATCH."""
        look = self._look(line.layer, line.weight_mm, line.dash)
        if line.fill == INK:
            self._solid(line.points, line.layer)
        if line.stroke:
            self.space.add_lwpolyline(line.points, close=line.closed, dxfattribs=look)

    def circle(self, circle: Circle) -> None:
        """A CIRCLE."""
        look = self._look(circle.layer, circle.weight_mm, circle.dash)
        self.space.add_circle(circle.center, circle.radius_in, dxfattribs=look)

    def arc(self, arc: Arc) -> None:
        """An ARC."""
        look = self._look(arc.layer, arc.weight_mm, arc.dash)
        self.space.add_arc(arc.center, arc.radius_in, arc.start_deg, arc.end_deg, dxfattribs=look)

    def hatch(self, hatch: Hatch) -> None:
        """Its outline and a HATCH."""
        self.space.add_lwpolyline(hatch.points, close=True, dxfattribs={"layer": hatch.layer})
        if hatch.pattern == "solid":
            self._solid(hatch.points, hatch.layer)
            return
        # The pattern's own pitch suits a house; a small piece takes a finer one so that it shows at all.
        box = bounds(hatch.points)
        fine = max(min(box.width, box.height) / 2, 0.25)
        entity = self.space.add_hatch(color=256, dxfattribs={"layer": hatch.layer})
        entity.set_pattern_fill(_HATCHES[hatch.pattern], scale=fine)
        entity.paths.add_polyline_path(hatch.points, is_closed=True)

    def _solid(self, points: tuple[Point, ...], layer: str) -> None:
        entity = self.space.add_hatch(color=256, dxfattribs={"layer": layer})
        entity.paths.add_polyline_path(points, is_closed=True)

    def text(self, text: Text) -> None:
        """A TEXT, as high as the capitals of the type."""
        from ezdxf.enums import TextEntityAlignment as Place  # heavy

        height = text.size_pt / POINTS_PER_IN * self.scene.per_paper_in * CAP_HEIGHT / 1000
        entity = self.space.add_text(
            text.text,
            height=height,
            rotation=text.angle,
            dxfattribs={"layer": text.layer, "style": "BAYRUN-BOLD" if text.bold else "BAYRUN"},
        )
        place = {"left": Place.LEFT, "center": Place.CENTER, "right": Place.RIGHT}[text.align]
        entity.set_placement(text.at, align=place)

    def dimension(self, dimension: Dimension) -> bool:
        """A true linear DIMENSION whose text reads as a tape."""
        height = dimension.size_pt / POINTS_PER_IN * self.scene.per_paper_in * CAP_HEIGHT / 1000
        base = (dimension.at, dimension.a[1]) if dimension.angle else (dimension.a[0], dimension.at)
        look = {"layer": dimension.layer}
        made = self.space.add_linear_dim(
            base=base,
            p1=dimension.a,
            p2=dimension.b,
            angle=dimension.angle,
            text=dimension.says,
            dimstyle="BAYRUN",
            override={
                "dimtxt": height,
                "dimtsz": height / 2,
                "dimexo": height / 2,
                "dimexe": height / 2,
                "dimgap": height / 3,
            },
            dxfattribs=look,
        )
        if dimension.text_at is not None:
            made.set_location(dimension.text_at)
        made.render()
        return True


def _linetype(dash: str) -> str:
    return "Continuous" if not dash else "BAYRUN-" + dash.upper().replace(" ", "-")


def dxf(scene: Scene) -> bytes:
    """The scene as a DXF drawing of the 2010 format, in inches.

    Returns:
        The file, the same bytes for the same scene: dates and ids are fixed.
    """
    from ezdxf.document import Drawing  # heavy

    with _fixed_stamps():
        drawing = Drawing.new("R2010")
        drawing.header["$INSUNITS"] = 1
        drawing.header["$MEASUREMENT"] = 0
        drawing.header["$LUNITS"] = 4
        drawing.header["$LUPREC"] = 4
        drawing.header["$LTSCALE"] = 1.0
        drawing.header["$DIMASSOC"] = 1
        drawing.styles.add("BAYRUN", font="NotoSans-Regular.ttf")
        drawing.styles.add("BAYRUN-BOLD", font="NotoSans-Bold.ttf")
        for name, pattern in DASHES.items():
            if pattern:
                drawing.linetypes.add(
                    _linetype(name), _pattern(pattern, scene.per_paper_in), description=name
                )
        for layer in LAYERS.values():
            drawing.layers.add(
                layer.name,
                color=layer.aci,
                linetype=_linetype(layer.dash),
                lineweight=_weight(layer.weight_mm),
            )
            drawing.layers.get(layer.name).description = layer.holds
        style = drawing.dimstyles.duplicate_entry("Standard", "BAYRUN")
        style.dxf.dimtxsty = "BAYRUN"
        style.dxf.dimtad = 1
        style.dxf.dimlunit = 4
        style.dxf.dimclrd = style.dxf.dimclre = style.dxf.dimclrt = 256
        draw(scene, DxfWriter(scene, drawing.modelspace()))
        f = scene.frame
        drawing.header["$EXTMIN"] = (f.u0, f.v0, 0.0)
        drawing.header["$EXTMAX"] = (f.u1, f.v1, 0.0)
        for kind in sorted(drawing.entitydb.dxf_types_in_use()):
            drawing.classes.add_class(kind)  # else the writer adds them itself, in the order of hashes
        stream = _Pages()
        drawing.write(cast(Any, stream))
    return "".join(stream.parts).encode("utf-8")


def _pattern(pattern: tuple[float, ...], per_paper_in: float) -> list[float]:
    lengths = [part * per_paper_in * (1 if i % 2 == 0 else -1) for i, part in enumerate(pattern)]
    return [math.fsum(abs(x) for x in lengths), *lengths]
