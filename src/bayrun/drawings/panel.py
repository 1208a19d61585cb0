"""The panel beside a drawing: key of what it uses, its table, its notes. In paper inches, top down."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bayrun.drawings.scene import Element, Line, Point, Symbol, Text, plain_text, text_width_pt
from bayrun.drawings.style import LEAST_PT
from bayrun.geometry import Rect


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the panel.

    Args:
        words: Its text; it wraps.
        symbol: Name of a symbol drawn before it, or empty.
        line: (layer, weight [mm] or None, dash or None, letter on it) of a sample drawn before it.
        lead: A short text before it: a number, a letter.
        heading: A heading of its own.
    """

    words: str
    symbol: str = ""
    line: tuple[str, float | None, str | None, str] | None = None
    lead: str = ""
    heading: bool = False


_INDENT_IN = 0.46
_PITCH_IN = 0.152
_SYMBOL_IN = {"hole": 0.085, "passage": 0.085, "enclosure": 0.2}


def wrap(text: str, width_in: float, size_pt: float, *, bold: bool = False) -> tuple[str, ...]:
    """Lines of a text that fit a width [inches of paper]; words longer than the width stand alone."""
    lines: list[str] = []
    for word in plain_text(text).split(" "):
        both = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_pt(both, size_pt, bold=bold) <= width_in * 72:
            lines[-1] = both
        else:
            lines.append(word)
    return tuple(lines)


def flow(
    rows: Sequence[Row], columns: Sequence[Rect], per_paper_in: float, size_pt: float = LEAST_PT
) -> tuple[tuple[Element, ...], tuple[Row, ...]]:
    """Set rows into columns, top down.

    Args:
        columns: In real inches.
    Returns:
        The elements, and the rows that found no room.
    """
    k, out = per_paper_in, list[Element]()
    column, used = 0, 0.0
    for index, row in enumerate(rows):
        if column >= len(columns):
            return tuple(out), tuple(rows[index:])
        indent, lines, need = _measured(row, columns[column].width / k, size_pt)
        # A heading keeps its first row with it.
        after = rows[index + 1] if row.heading and index + 1 < len(rows) else None
        want = need + (0.0 if after is None else _measured(after, columns[column].width / k, size_pt)[2])
        if used + want > columns[column].height / k:
            column, used = column + 1, 0.0
            if column >= len(columns):
                return tuple(out), tuple(rows[index:])
        if row.heading and used > 0:
            used += 0.07
        box = columns[column]
        x, y = box.u0, box.v1 - (used + _PITCH_IN - 0.035) * k
        out += _row(row, (x, y), lines, indent, k, size_pt)
        used += need
    return tuple(out), ()


def _measured(row: Row, width_in: float, size_pt: float) -> tuple[float, tuple[str, ...], float]:
    """Indent, lines and height of a row in a column of a width [inches of paper]."""
    indent = 0.0 if row.heading or not (row.symbol or row.line or row.lead) else _INDENT_IN
    lines = wrap(row.words, width_in - indent, size_pt, bold=row.heading)
    return indent, lines, len(lines) * _PITCH_IN + (0.05 if not row.heading else 0.08)


def _row(row: Row, at: Point, lines: Iterable[str], indent: float, k: float, size_pt: float) -> list[Element]:
    x, y = at
    middle = y + 0.042 * k
    out: list[Element] = []
    if row.symbol:
        out.append(Symbol("T-LOCN", row.symbol, (x + 0.2 * k, middle), _SYMBOL_IN.get(row.symbol, 0.11) * k))
    if row.line is not None:
        layer, weight, dash, letter = row.line
        left, right = x + 0.02 * k, x + 0.38 * k
        if letter:
            gap = (text_width_pt(letter, size_pt, bold=True) / 72 / 2 + 0.025) * k
            mid = (left + right) / 2
            out.append(Line(layer, (left, middle), (mid - gap, middle), weight, dash))
            out.append(Line(layer, (mid + gap, middle), (right, middle), weight, dash))
            out.append(Text("A-ANNO-LEGN", (mid, y), letter, size_pt, "center", bold=True))
        else:
            out.append(Line(layer, (left, middle), (right, middle), weight, dash))
    if row.lead:
        out.append(Text("A-ANNO-LEGN", (x, y), plain_text(row.lead), size_pt, bold=True))
    for i, words in enumerate(lines):
        at_line = (x + indent * k, y - i * _PITCH_IN * k)
        out.append(Text("A-ANNO-LEGN", at_line, words, size_pt, bold=row.heading))
    return out
