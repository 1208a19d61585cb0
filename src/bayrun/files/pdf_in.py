"""PDF to neutral shell: where a page holds lines, walls are judged from them as from any drawn plan.

A page has no unit. Its scale is what a person says, what the sheet says of itself, or what its doors bear
out; each is told. A page or picture without lines is no house, but can lie under a plan traced by hand.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path

from bayrun.files.dxf_in import shell_of_drawing
from bayrun.files.pdf_open import PdfPage, open_pdf, underlay_of_pdf, underlay_of_picture
from bayrun.files.shell import ImportRefused, Point, Shell, ShellNote
from bayrun.geometry import at_most
from bayrun.units import LengthError, parse_length, tape

POINTS_PER_IN = 72.0
_FEET = re.compile(r"(\d+(?:\s+\d+/\d+|/\d+|\.\d+)?)\s*(?:\"|''|”|″|in\.?)\s*=\s*(\d+)\s*(?:'|’|′|ft\.?)"
                   r"(?:\s*-?\s*0\s*(?:\"|”|″)?)?")  # fmt: skip
_RATIO = re.compile(r"\b1\s*:\s*(\d{2,3})\b")
_KNOWN = re.compile(
    r"(?P<length>.+?)\s+from\s+(?P<x0>-?[\d.]+)\s*,\s*(?P<y0>-?[\d.]+)\s+to\s+(?P<x1>-?[\d.]+)\s*,\s*"
    r"(?P<y1>-?[\d.]+)", re.I,
)  # fmt: skip
_USUAL = {False: (48.0, 96.0, 64.0, 32.0, 24.0), True: (50.0, 100.0, 20.0, 25.0, 200.0)}
"""Scales of house plans on inch and on metric paper: 1/4 in to the foot is 1 to 48 (common practice)."""
_ISO = math.sqrt(2.0)
"""The sides of metric paper. Source: ISO 216."""
_LEAF_IN = 32.0
_FEWEST_LINES = 24


@dataclass(frozen=True, slots=True)
class Underlay:
    """A page or picture to trace over.

    Args:
        png: The picture. size_px: Its width and height.
        page: Of a PDF, from 1; 0 for a picture.
        inches_per_px: In the house, where the scale is known; 0 where nobody has said it.
        told: Where the scale comes from.
    """

    png: bytes
    size_px: Point
    page: int
    inches_per_px: float
    told: str


def read_pdf(path: Path, page_number: int = 0, scale: str = "", drawing_number: int = 0) -> Shell:
    """Read the floor plan on one page of a PDF into a shell of one level.

    Args:
        path: The file.
        page_number: From 1; 0: the page with most lines.
        scale: ``1/4" = 1'``, ``1:50``, or a known length as ``20' from 100,200 to 400,200`` in points from
            the page's lower left corner; empty: judged.
        drawing_number: Which drawing of the page; 0: judged.
    Raises:
        ImportRefused: It cannot be read, holds too few lines, or tells no scale.
    """
    page = open_pdf(path, page_number)
    lines = len(page.drawing.segments)
    if lines < _FEWEST_LINES:
        raise ImportRefused(
            f"{path.name}: expected a page drawn with lines, got {lines} of them on page {page.number}: it "
            "is a "
            "scanned picture or a text. Say --underlay to make a picture of it to trace over"
        )
    per_point_in, told, sure = scale_of_page(page, scale)
    shell = shell_of_drawing(page.drawing, f"page {page.number} of a PDF", "", drawing_number, per_point_in)
    notes = [ShellNote("read" if sure else "assumed", f"scale: {told}; the unit of everything else")]
    if page.pages > 1 and not page_number:
        notes.append(
            ShellNote(
                "assumed",
                f"page {page.number} of {page.pages} has most lines and is taken as the one plan; another "
                "is read "
                "with --page and its number",
            )
        )
    return shell.noted(*notes)


def scale_of_page(page: PdfPage, said: str = "") -> tuple[float, str, bool]:
    """Inches of the house in a point of the page, where that comes from, and whether it was said.

    Raises:
        ImportRefused: What was said is no scale, or nothing on the page tells one.
    """
    if said:
        found = read_scale(said)
        if found is None:
            raise ImportRefused(
                f"{page.drawing.name}: expected a scale such as 1/4\" = 1', 1:50, or 20' from 100,200 to "
                "400,200, "
                f"got {said[:60]!r}"
            )
        return found[0], f"{found[1]}, as you said", True
    written = read_scale(page.text)
    if written is not None:
        return written[0], f"{written[1]}, as the sheet says", True
    radii = sorted(s.radius for s in page.drawing.swings)
    if radii:
        leaf = radii[len(radii) // 2]
        metric = abs(max(page.size_pt) / max(min(page.size_pt), 1.0) - _ISO) < 0.01
        fitting = [u for u in _USUAL[metric] if 26.0 <= leaf * u / POINTS_PER_IN <= 38.0]
        if fitting:
            best = min(fitting, key=lambda u: abs(leaf * u / POINTS_PER_IN - _LEAF_IN))
            wide = tape(leaf * best / POINTS_PER_IN)
            words = (
                f"1 to {best:g} judged from the doors, whose leaves are then {wide} wide. Say --scale to "
                f"change it"
            )
            return best / POINTS_PER_IN, words, False
    raise ImportRefused(
        f"{page.drawing.name}: expected a scale, got a page that tells none and has no door to judge it "
        "by; say "
        "--scale with what the sheet says, or with one known length on it"
    )


def read_scale(text: str) -> tuple[float, str] | None:
    """Inches of the house in a point, and the scale in words; None where the text tells none."""
    known = _KNOWN.search(text)
    if known:
        try:
            length_in = parse_length(known["length"].strip())
            ends = [(float(known[f"x{i}"]), float(known[f"y{i}"])) for i in (0, 1)]
        except (LengthError, ValueError):
            return None
        apart = math.dist(ends[0], ends[1])
        if apart < 1.0 or not at_most(1.0, length_in):
            return None
        return length_in / apart, f"{tape(length_in)} between two points"
    feet = _FEET.search(text)
    if feet:
        try:
            paper_in = parse_length(f'{feet[1].strip()}"')
        except LengthError:
            return None
        if not (at_most(0.05, paper_in) and at_most(paper_in, 6.0)):
            return None
        return float(feet[2]) * 12.0 / paper_in / POINTS_PER_IN, f"{feet[1].strip()}\" = {feet[2]}'"
    ratio = _RATIO.search(text)
    if ratio and 10 <= int(ratio[1]) <= 500:
        return float(ratio[1]) / POINTS_PER_IN, f"1 to {ratio[1]}"
    return None


def read_underlay(path: Path, kind: str, page_number: int = 0, scale: str = "") -> Underlay:
    """A page or a picture to trace over, with its scale where it is known.

    Raises:
        ImportRefused: It cannot be read, or what was said is no scale.
    """
    if kind == "picture":
        png, size, share = underlay_of_picture(path)
        found = read_scale(scale) if scale else None
        if scale and (found is None or "between" not in found[1]):
            raise ImportRefused(
                f"{path.name}: expected a known length on the picture such as 20' from 100,200 to 400,200 "
                "(pixels "
                f"from its lower left corner), got {scale[:60]!r}"
            )
        per_px = found[0] / share if found else 0.0
        return Underlay(png, size, 0, per_px, found[1] if found else "nobody has said the scale")
    page = open_pdf(path, page_number)
    png, size, pixels_per_point = underlay_of_pdf(path, page.number)
    try:
        per_point, told, _ = scale_of_page(page, scale)
    except ImportRefused:
        if scale:
            raise
        per_point, told = 0.0, "nobody has said the scale"
    return Underlay(png, size, page.number, per_point / pixels_per_point, told)
