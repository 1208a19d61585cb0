"""Measures a finished pack by another program's eyes: where its text really stands on the pages."""

from __future__ import annotations

import ctypes
from dataclasses import dataclass

import pypdfium2
import pypdfium2.raw as pdfium


@dataclass(frozen=True)
class PackMeasure:
    """What was found on the pages of a PDF.

    Args:
        overlaps: (page, text, text) of letters that lie on each other.
        clipped: (page, text) that passes the edge of its page.
        empty_pages: Pages with nothing between top line and bottom line.
        loose_fonts: Fonts that are not in the file.
        uncounted: Pages whose top line does not say ``page n of m``.
    """

    pages: int
    overlaps: tuple[tuple[int, str, str], ...]
    clipped: tuple[tuple[int, str], ...]
    empty_pages: tuple[int, ...]
    loose_fonts: tuple[str, ...]
    uncounted: tuple[int, ...]
    sizes: tuple[tuple[float, float], ...]


def measure_pack(data: bytes) -> PackMeasure:
    """Read the pages of a PDF and say what is wrong with them."""
    document = pypdfium2.PdfDocument(data)
    overlaps: list[tuple[int, str, str]] = []
    clipped: list[tuple[int, str]] = []
    empty: list[int] = []
    uncounted: list[int] = []
    loose: set[str] = set()
    sizes = []
    for number, page in enumerate(document, 1):
        width, height = page.get_size()
        sizes.append((round(width / 72, 2), round(height / 72, 2)))
        text = page.get_textpage()
        if f"page {number} of {len(document)}" not in text.get_text_bounded().replace("\u00a0", " "):
            uncounted.append(number)
        boxes = _letters(text)
        inside = [b for b in boxes if 60 < b[2] < height - 62]
        if len(inside) < 5:
            empty.append(number)
        for left, right, bottom, top, letter, _ in boxes:
            if left < 0 or bottom < 0 or right > width or top > height:
                clipped.append((number, letter))
        overlaps += [(number, a, b) for a, b in _overlapping(boxes)]
        loose |= _not_embedded(page)
    return PackMeasure(
        len(document),
        tuple(overlaps),
        tuple(clipped),
        tuple(empty),
        tuple(sorted(loose)),
        tuple(uncounted),
        tuple(sizes),
    )


_Letter = tuple[float, float, float, float, str, int]


def _letters(text: pypdfium2.PdfTextPage) -> list[_Letter]:
    """Ink boxes of the letters: (left, right, bottom, top, letter, its place in the text)."""
    out = []
    for index in range(text.count_chars()):
        letter = chr(pdfium.FPDFText_GetUnicode(text, index))
        if letter.isspace() or not letter.isprintable() or pdfium.FPDFText_IsGenerated(text, index) == 1:
            continue
        left, bottom, right, top = text.get_charbox(index)
        out.append((left, right, bottom, top, letter, index))
    return out


def _overlapping(boxes: list[_Letter]) -> list[tuple[str, str]]:
    """Letters whose ink meets by more than 0.6 pt; the next letter of a word may, by kerning."""
    found = []
    cells: dict[tuple[int, int], list[_Letter]] = {}
    for box in boxes:
        left, right, bottom, top, letter, index = box
        seen: set[int] = set()
        for i in range(int(left // 12), int(right // 12) + 1):
            for j in range(int(bottom // 12), int(top // 12) + 1):
                for other in cells.get((i, j), ()):
                    if id(other) in seen:
                        continue
                    seen.add(id(other))
                    wide = min(right, other[1]) - max(left, other[0])
                    high = min(top, other[3]) - max(bottom, other[2])
                    if wide > 0.6 and high > 0.6 and abs(index - other[5]) > 1:
                        found.append((other[4], letter))
                cells.setdefault((i, j), []).append(box)
    return found


def _not_embedded(page: pypdfium2.PdfPage) -> set[str]:
    out = set()
    for thing in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], max_depth=8):
        font = pdfium.FPDFTextObj_GetFont(thing.raw)
        if not font:
            continue
        if pdfium.FPDFFont_GetIsEmbedded(font) != 1:
            size = pdfium.FPDFFont_GetBaseFontName(font, None, 0)
            name = ctypes.create_string_buffer(size)
            pdfium.FPDFFont_GetBaseFontName(font, name, size)
            out.add(name.value.decode())
    return out
