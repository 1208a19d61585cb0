"""Layers, pens and papers of the sheets.

Ink first, color second: every difference that matters is also one of weight, dash, mark or word, so
that a black and white print says the same.

Source: layer names follow the discipline-major-minor pattern of the US National CAD Standard (A architecture,
S structure, E electrical, T telecommunications); pens are the ISO 128 series of line widths [mm].
"""

from __future__ import annotations

from dataclasses import dataclass

INK = "#20242a"
FAINT = "#6b7077"
RULE = "#c9c4b8"
WOOD = "#eadfc8"
WOOD_CUT = "#d9c7a3"
CONCRETE = "#e4e2dc"
STEEL = "#d6d9dc"
ACCENT = "#1b4f7a"
PAPER = "#ffffff"

LEAST_PT = 9.0
"""Smallest type inside a drawing [pt]; lists use 11."""

DASHES: dict[str, tuple[float, ...]] = {
    "": (),
    "long dash": (0.16, 0.05),
    "short dash": (0.06, 0.04),
    "dash dot": (0.14, 0.04, 0.02, 0.04),
    "dotted double": (0.015, 0.04),
    "hidden": (0.05, 0.05),
    "center": (0.2, 0.04, 0.04, 0.04),
}
"""Dash patterns: on, off … [inches on paper]."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: what it holds, its pen, its dash and its color."""

    name: str
    holds: str
    weight_mm: float
    color: str = INK
    dash: str = ""
    aci: int = 7
    """Index color in a DXF (7 is black or white, whichever shows)."""


LAYERS: dict[str, Layer] = {
    layer.name: layer
    for layer in (
        Layer("A-WALL", "wall faces", 0.35),
        Layer("A-WALL-STUD", "studs and plates", 0.18, aci=32),
        Layer("A-WALL-HDLN", "lines above the cut: cased openings", 0.18, FAINT, "hidden", 8),
        Layer("A-DOOR", "doors and swings", 0.18, FAINT, "", 8),
        Layer("A-GLAZ", "windows", 0.18, FAINT, "", 8),
        Layer("A-FLOR-STRS", "stairs", 0.13, FAINT, "", 8),
        Layer("A-AREA-IDEN", "room names", 0.25),
        Layer("A-ANNO-TEXT", "notes", 0.18),
        Layer("A-ANNO-DIMS", "dimensions", 0.18, ACCENT, "", 5),
        Layer("A-ANNO-LEGN", "key", 0.18),
        Layer("A-ANNO-SYMB", "scale bar and arrows", 0.25),
        Layer("S-JOIS", "joists and trusses", 0.09, RULE, "center", 9),
        Layer("S-JOIS-ANNO", "direction of joists and trusses", 0.18, FAINT, "", 8),
        Layer("S-BEAM", "beams and posts", 0.25, FAINT, "long dash", 8),
        Layer("E-POWR", "power of the licensed electrician", 0.25, FAINT, "short dash", 1),
        Layer("X-OBST", "pipes, ducts, cabinets of other trades", 0.18, FAINT, "", 8),
        Layer("T-CABL-BNDL", "bundles of runs", 0.5, INK, "", 7),
        Layer("T-CABL-SNGL", "single runs", 0.3, INK, "", 7),
        Layer("T-LOCN", "locations", 0.35, INK, "", 7),
        Layer("T-ENCL", "enclosure", 0.5, INK, "", 7),
        Layer("T-ENCL-KNOC", "knockouts and fixing points", 0.18, INK, "", 7),
        Layer("T-HOLE", "drilled holes", 0.25, INK, "", 3),
        Layer("T-PLTE", "nail plates and straps", 0.7, INK, "", 1),
        Layer("T-RADI", "lines of equal radio signal", 0.18, INK, "", 4),
        Layer("T-RADI-EDGE", "line of the wanted signal", 0.7, INK, "", 4),
        Layer("T-RADI-DOUB", "where the signal may hold or not", 0.18, FAINT, "", 8),
        Layer("T-ANNO-IDEN", "ids of locations, holes and bundles", 0.18),
        Layer("T-ANNO-LEAD", "leaders", 0.13, FAINT, "", 8),
    )
}


@dataclass(frozen=True, slots=True)
class Scale:
    """An architectural scale: so many real inches to one inch of paper.

    Source: the usual US architect's scales (common practice, no source).
    """

    says: str
    per_paper_in: float


PLAN_SCALES = (
    Scale('1/4" = 1\' 0"', 48.0),
    Scale('3/16" = 1\' 0"', 64.0),
    Scale('1/8" = 1\' 0"', 96.0),
    Scale('3/32" = 1\' 0"', 128.0),
    Scale('1/16" = 1\' 0"', 192.0),
    Scale('1/32" = 1\' 0"', 384.0),
)
DETAIL_SCALES = (
    Scale('1-1/2" = 1\' 0"', 8.0),
    Scale('1" = 1\' 0"', 12.0),
    Scale('3/4" = 1\' 0"', 16.0),
    Scale('1/2" = 1\' 0"', 24.0),
    Scale('3/8" = 1\' 0"', 32.0),
)


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper and what the drawing may use of it, inside margins, top line and bottom line [in].

    Args:
        body_width_in, body_height_in: The drawing area.
    """

    name: str
    width_in: float
    height_in: float

    @property
    def body_width_in(self) -> float:
        """Width of the drawing area: margins of 0.4 in at both sides."""
        return self.width_in - 0.8

    @property
    def body_height_in(self) -> float:
        """Height of the drawing area under the heading and over the bottom line."""
        return self.height_in - 1.75


TABLOID = Paper("tabloid", 17.0, 11.0)
TABLOID_UPRIGHT = Paper("tabloid upright", 11.0, 17.0)
LETTER = Paper("letter", 8.5, 11.0)
