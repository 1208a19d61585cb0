"""A PDF page as lines, arcs and texts in points, from its path objects; pages and pictures as an image."""

from __future__ import annotations

import math
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bayrun.files.dxf_open import Drawing, Segment, Swing, Words
from bayrun.files.shell import ImportRefused, Point

LARGEST_BYTES, MOST_PAGES = 80_000_000, 400
MOST_LINES = 120_000
"""A page of more lines is a scanned or shaded thing, not a floor plan."""
MOST_PIXELS = 40_000_000
"""A picture of more pixels is refused before it is unfolded (about 6,300 by 6,300)."""
UNDERLAY_PIXELS = 4_000_000
_LOOKED_AT = 30
_MOVE, _LINE, _CURVE = 2, 0, 1


@dataclass(frozen=True, slots=True)
class PdfPage:
    """One page taken apart.

    Args:
        number: From 1. pages: How many the file has.
        size_pt: Width and height in points, 72 to the inch.
        text: Everything written on it, in reading order.
    """

    drawing: Drawing
    number: int
    pages: int
    size_pt: Point
    text: str


def open_pdf(path: Path, page_number: int = 0) -> PdfPage:
    """The lines, arcs and texts of one page of a PDF.

    Args:
        path: The file.
        page_number: From 1; 0: the page with most lines among the first thirty.
    Raises:
        ImportRefused: It is no PDF that can be read, is locked, or has no such page.
    """
    if path.stat().st_size > LARGEST_BYTES:
        raise ImportRefused(
            f"{path.name}: expected a floor plan, got a PDF of more than {LARGEST_BYTES / 1e6:.0f} MB; "
            "give the one page alone"
        )
    document = _document(path)
    pages = len(document)
    if not 1 <= pages <= MOST_PAGES:
        raise ImportRefused(f"{path.name}: expected a PDF of 1 to {MOST_PAGES} pages, got {pages}")
    if page_number > pages:
        raise ImportRefused(f"{path.name}: expected page 1 to {pages}, got {page_number}")
    try:
        number = page_number or _busiest(document) + 1
        page = document[number - 1]
        drawing = Drawing(path.name)
        _take_paths(drawing, page)
        text = _take_words(drawing, page)
        return PdfPage(drawing, number, pages, (float(page.get_width()), float(page.get_height())), text)
    except (ImportRefused, MemoryError):
        raise
    except Exception as error:
        # Whatever a foreign parser stumbles over in a damaged file, a person gets one sentence.
        raise ImportRefused(
            f"{path.name}: expected a PDF page that can be read, got one that is damaged inside "
            f"({type(error).__name__}); print it to PDF again"
        ) from None


def _document(path: Path) -> Any:
    try:
        import pypdfium2  # type: ignore[import-untyped]
    except ImportError:
        raise ImportRefused("reading PDF needs the package pypdfium2, which is not installed") from None
    try:
        return pypdfium2.PdfDocument(str(path))
    except MemoryError:
        raise
    except Exception as error:
        locked = "password" in str(error).lower()
        raise ImportRefused(
            f"{path.name}: expected a PDF that can be read, got one that is "
            f"{'behind a password: save it without' if locked else 'damaged: print it to PDF again'}"
        ) from None


def _busiest(document: Any) -> int:
    counts = []
    for number in range(min(len(document), _LOOKED_AT)):
        page = document[number]
        counts.append(sum(1 for i, _ in enumerate(page.get_objects(filter=[2])) if i < MOST_LINES))
    return max(range(len(counts)), key=lambda i: (counts[i], -i))


def _take_paths(drawing: Drawing, page: Any) -> None:
    import pypdfium2.raw as raw  # type: ignore[import-untyped]

    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=8):
        matrix = _matrix(item)
        at, begun = (0.0, 0.0), (0.0, 0.0)
        curve: list[Point] = []
        for i in range(max(0, raw.FPDFPath_CountSegments(item))):
            segment = raw.FPDFPath_GetPathSegment(item, i)
            kind, point = raw.FPDFPathSegment_GetType(segment), _point(segment, matrix)
            if point is None:
                curve = []
                continue
            if kind == _MOVE:
                at = begun = point
            elif kind == _LINE:
                _line(drawing, at, point)
                at = point
            elif kind == _CURVE:
                curve.append(point)
                if len(curve) == 3:
                    _curve(drawing, at, curve[0], curve[1], curve[2])
                    at, curve = curve[2], []
            if raw.FPDFPathSegment_GetClose(segment):
                _line(drawing, at, begun)
                at = begun
        if len(drawing.segments) > MOST_LINES:
            raise ImportRefused(
                f"{drawing.name}: expected a floor plan, got a page of more than {MOST_LINES:,} lines; "
                "print the plan alone, without hatches and pictures"
            )


def _matrix(item: Any) -> Any:
    """The object's place on the page, through the forms it stands in."""
    matrix = item.get_matrix()
    holder = item.container if hasattr(item, "container") else None
    while holder is not None:
        matrix = matrix.multiply(holder.get_matrix())
        holder = getattr(holder, "container", None)
    return matrix


def _point(segment: Any, matrix: Any) -> Point | None:
    import ctypes

    import pypdfium2.raw as raw

    x, y = ctypes.c_float(), ctypes.c_float()
    if not raw.FPDFPathSegment_GetPoint(segment, x, y):
        return None
    px, py = matrix.on_point(x.value, y.value)
    return (float(px), float(py)) if math.isfinite(px) and math.isfinite(py) else None


def _line(drawing: Drawing, a: Point, b: Point) -> None:
    if math.dist(a, b) > 1e-6:
        drawing.segments.append(Segment(a, b, "page"))


def _curve(drawing: Drawing, a: Point, c: Point, d: Point, b: Point) -> None:
    """A curve that is nearly a quarter of a circle is the swing of a door; others are passed over.

    The center lies where the lines square to both ends meet.
    """
    ax, ay, bx, by = c[0] - a[0], c[1] - a[1], b[0] - d[0], b[1] - d[1]
    cross = ax * by - ay * bx
    if abs(cross) < 1e-9:
        return
    # (center - a) . (c - a) = 0 and (center - b) . (b - d) = 0
    p, q = a[0] * ax + a[1] * ay, b[0] * bx + b[1] * by
    center = ((p * by - q * ay) / cross, (q * ax - p * bx) / cross)
    first, last = math.dist(center, a), math.dist(center, b)
    if first < 1e-6 or abs(first - last) > 0.03 * first:
        return
    dot = (a[0] - center[0]) * (b[0] - center[0]) + (a[1] - center[1]) * (b[1] - center[1])
    sweep = math.degrees(math.acos(max(-1.0, min(1.0, dot / (first * last)))))
    if 40.0 <= sweep <= 100.0:
        drawing.swings.append(Swing(center, (a, b), (first + last) / 2, "page"))


def _take_words(drawing: Drawing, page: Any) -> str:
    texts = page.get_textpage()
    for i in range(min(texts.count_rects(), 4_000)):
        left, bottom, right, top = texts.get_rect(i)
        says = texts.get_text_bounded(left, bottom, right, top).strip()
        if says:
            middle = ((left + right) / 2, (bottom + top) / 2)
            drawing.words.append(Words(middle, says[:200], abs(top - bottom), "page"))
    return str(texts.get_text_bounded())[:20_000]


def underlay_of_pdf(path: Path, page_number: int) -> tuple[bytes, Point, float]:
    """A page as a small PNG: its bytes, its size in pixels, and pixels in a point."""
    document = _document(path)
    page = document[page_number - 1]
    wide, high = float(page.get_width()), float(page.get_height())
    scale = min(3.0, math.sqrt(UNDERLAY_PIXELS / max(wide * high, 1.0)))
    image = page.render(scale=scale).to_pil().convert("L")
    return _png(image), (float(image.width), float(image.height)), scale


def underlay_of_picture(path: Path) -> tuple[bytes, Point, float]:
    """A picture as a small PNG without anything it says of who made it where; pixels in one of its own.

    Raises:
        ImportRefused: It cannot be read, or has more pixels than a plan needs.
    """
    try:
        from PIL import Image, ImageOps
    except ImportError:
        raise ImportRefused("reading pictures needs the package pillow, which is not installed") from None
    try:
        with warnings.catch_warnings(), Image.open(path, formats=("PNG", "JPEG")) as picture:
            warnings.simplefilter("ignore")  # our own limit is lower than the library's warning
            pixels = picture.width * picture.height
            if pixels > MOST_PIXELS:
                raise ImportRefused(
                    f"{path.name}: expected a picture of at most {MOST_PIXELS / 1e6:.0f} million pixels, got "
                    f"{picture.width} by {picture.height}; save it smaller"
                )
            image = ImageOps.exif_transpose(picture).convert("L")
            share = min(1.0, math.sqrt(UNDERLAY_PIXELS / pixels))
            image = image.resize((max(1, round(image.width * share)), max(1, round(image.height * share))))
    except (ImportRefused, MemoryError):
        raise
    except Image.DecompressionBombError:
        raise ImportRefused(
            f"{path.name}: expected a picture of at most {MOST_PIXELS / 1e6:.0f} million pixels, got far "
            "more; save it smaller"
        ) from None
    except Exception:
        raise ImportRefused(
            f"{path.name}: expected a PNG or JPEG picture, got one that is damaged; save it again"
        ) from None
    return _png(image), (float(image.width), float(image.height)), share


def _png(image: Any) -> bytes:
    import io

    held = io.BytesIO()
    image.save(held, format="PNG", optimize=False)
    return held.getvalue()
