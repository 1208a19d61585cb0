"""Read and print lengths the way a tape reads.

Inside the program a length is inches in a float (``_in``). What people write is
parsed here and nowhere else; what they read is rounded to the nearest 1/16 in.

Source: US tapes are marked in feet, inches and sixteenths (common practice, no source);
1 in = 25.4 mm exactly (International yard and pound agreement of 1959).
"""

from __future__ import annotations

import math
import re
from fractions import Fraction

MM_PER_IN = 25.4
SIXTEENTHS = 16
LARGEST_IN = 12_000_000.0
"""A length beyond this (about 190 miles) is a slip of the pen, not a house [in]."""

_UNICODE_FRACTIONS = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
}
_MARKS = {"′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "''": '"', "–": "-", "—": "-", "−": "-"}
_NUMBER = r"(?:\d+(?:\.\d*)?|\.\d+)"
# The whole inches never end inside the fraction: 11/16 is a fraction, not 1 and 1/16.
_INCH_PART = rf"(?:(?:(?P<whole>{_NUMBER})(?![\d.]*\s*/))?(?:[\s-]*(?P<top>\d+)\s*/\s*(?P<bottom>\d+))?)"
_METRIC = re.compile(rf"^(?P<sign>-)?\s*(?P<value>{_NUMBER})\s*(?P<unit>mm|cm|m)$")
_FEET = re.compile(
    rf"^(?P<sign>-)?\s*(?P<feet>{_NUMBER})\s*(?:'|ft\.?|feet|foot)[\s-]*{_INCH_PART}\s*(?:\"|in\.?|inches|inch)?$"
)
_FEET_DASH = re.compile(
    r"^(?P<sign>-)?\s*(?P<feet>\d+)\s*-\s*(?P<whole>\d+(?:\.\d+)?)(?:[\s-]+(?P<top>\d+)\s*/\s*(?P<bottom>\d+))?$"
)
_INCHES = re.compile(rf"^(?P<sign>-)?\s*{_INCH_PART}\s*(?:\"|in\.?|inches|inch)?$")
_EXPECTED = 'a length such as 5\' 3-1/2", 5-3, 63.5, 63 1/2" or 1613 mm'


class LengthError(ValueError):
    """A text that cannot be read as a length; its message says what was expected and got."""


def _value(match: re.Match[str]) -> float:
    groups = match.groupdict()
    inches = Fraction(0)
    if groups.get("feet"):
        inches += Fraction(groups["feet"]) * 12
    if groups.get("whole"):
        inches += Fraction(groups["whole"])
    if groups.get("top"):
        if int(groups["bottom"]) == 0:
            raise LengthError(f"expected {_EXPECTED}, got a fraction over zero")
        inches += Fraction(int(groups["top"]), int(groups["bottom"]))
    return float(-inches if groups.get("sign") else inches)


def parse_length(text: str | float) -> float:
    """Read a length as people write it.

    Args:
        text: ``5' 3-1/2"``, ``5-3`` (feet-inches), ``63.5`` or ``63 1/2"`` (inches), ``1613 mm``,
            ``½``; a plain number is inches.
    Returns:
        The length [in].
    Raises:
        LengthError: The text is not a length, or is beyond any building.
    """
    if isinstance(text, bool):
        raise LengthError(f"expected {_EXPECTED}, got {text!r}")
    if isinstance(text, int | float):
        value_in = float(text)
    else:
        clean = text.strip().lower()
        for mark, plain in _MARKS.items():
            clean = clean.replace(mark, plain)
        for mark, plain in _UNICODE_FRACTIONS.items():
            clean = re.sub(rf"(?<=\d)\s*{mark}", f" {plain}", clean).replace(mark, plain)
        value_in = _parse(clean, text)
    if not math.isfinite(value_in) or abs(value_in) > LARGEST_IN:
        raise LengthError(f"expected {_EXPECTED}, got {text!r}, which no building holds")
    return value_in


def _parse(clean: str, text: str) -> float:
    metric = _METRIC.match(clean)
    if metric:
        scale = {"mm": 1, "cm": 10, "m": 1000}[metric["unit"]]
        # Exact until the last step: 368.3 mm is 14.5 in, and not a hair more.
        value_in = float(Fraction(metric["value"]) * scale / Fraction(str(MM_PER_IN)))
        return -value_in if metric["sign"] else value_in
    for pattern in (_FEET, _FEET_DASH, _INCHES):
        match = pattern.match(clean)
        if match and any(match.groupdict().get(k) for k in ("feet", "whole", "top")):
            return _value(match)
    raise LengthError(f"expected {_EXPECTED}, got {text!r}")


def fraction(length_in: float) -> str:
    """Inches to the nearest 1/16 as a tape reads them, no feet: ``14-1/2``."""
    sixteenths = _sixteenths(abs(length_in))
    sign = "-" if length_in < 0 and sixteenths else ""
    return sign + _inches(sixteenths)


def _sixteenths(length_in: float) -> int:
    return math.floor(length_in * SIXTEENTHS + 0.5)


def _inches(sixteenths: int) -> str:
    whole, part = divmod(sixteenths, SIXTEENTHS)
    if not part:
        return str(whole)
    rest = Fraction(part, SIXTEENTHS)
    return f"{whole}-{rest}" if whole else f"{rest}"


def tape(length_in: float) -> str:
    """Print a length as a tape reads it, to the nearest 1/16 in.

    Under two feet it is inches alone, as a carpenter says it: ``14-1/2"``; from there feet and
    inches: ``7' 3-1/2"``.
    """
    sixteenths = _sixteenths(abs(length_in))
    sign = "-" if length_in < 0 and sixteenths else ""
    if sixteenths < 24 * SIXTEENTHS:
        return f'{sign}{_inches(sixteenths)}"'
    return sign + feet_and_inches(sixteenths / SIXTEENTHS)


def feet_and_inches(length_in: float) -> str:
    """Always feet and inches, to the nearest 1/16 in: ``0' 6"``, ``41' 3-3/8"``."""
    sixteenths = _sixteenths(abs(length_in))
    feet, rest = divmod(sixteenths, 12 * SIXTEENTHS)
    sign = "-" if length_in < 0 and sixteenths else ""
    return f"{sign}{feet}' {_inches(rest)}\""
