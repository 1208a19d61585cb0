"""What a file's words and sizes are taken to mean in the trade: room kinds, cores, header depths.

Everything here is an assumption; whoever uses it says so in the job, by name.
"""

from __future__ import annotations

import re

from bayrun.files.shell import ShellWall
from bayrun.geometry import at_most
from bayrun.units import fraction

_ROOM_WORDS: tuple[tuple[str, str], ...] = (
    ("garage", r"garage|carport"),
    ("bath", r"bath|powder|toilet|\bwc\b|shower|rest ?room|\bbad\b|dusche"),
    ("closet", r"closet|linen|storage|pantry|wardrobe|abstell"),
    ("kitchen", r"kitchen|k(ü|ue)che"),
    ("laundry", r"laundry|wash|hauswirtschaft"),
    ("bed", r"bed|guest|nursery|schlaf|kinder"),
    ("office", r"office|study|\bden\b|library|arbeit|b(ü|ue)ro"),
    ("mechanical", r"mechanical|furnace|plant|heizung|boiler"),
    ("utility", r"utility|tech"),
    ("hall", r"hall|foyer|entry|corridor|vestibule|passage|stair|landing|mud|diele|flur|treppe"),
    ("dining", r"dining|essen|esszimmer"),
    ("living", r"living|family|great|media|lounge|loft|flex|rec |wohn"),
    ("unfinished", r"unfinished|basement|crawl|keller"),
)
_LENGTH = r"(\d{1,4}(?:\.\d+)?)\s*(mm|cm|\"|''|”|″|in\b\.?|inch)?"
_SPACING = re.compile(
    rf"(?:@|\bat|\bo\.?\s?c\.?|\be\s?=|\ba\s?=|spac\w*|c/c)\s*[:=]?\s*{_LENGTH}"
    rf"|{_LENGTH}\s*(?:o\.?\s?c\.?\b|on cent|c/c|centers|ctrs|cc\b)",
    re.I,
)
_SPACINGS_IN = (8.0, 12.0, 16.0, 19.2, 24.0, 32.0)
_NOMINAL = re.compile(r"(?<![\d./])2\s?[xX×]\s?(2|3|4|6|8|10|12)(?![\d.])")
LEAST_HABITABLE_IN2 = 70 * 144.0
"""A room people live in has at least 70 square feet. Source: IRC R304.1 (from memory: verify) [in2]."""
_SMALL_IN2 = 35 * 144.0
_DRESSED: tuple[tuple[str, float], ...] = (
    ("2x2", 1.5), ("2x3", 2.5), ("2x4", 3.5), ("2x6", 5.5), ("2x8", 7.25), ("2x10", 9.25), ("2x12", 11.25),
)  # fmt: skip
"""Nominal and dressed depth [in]. Source: PS 20 (BUILDING 1.1)."""
BOARD_IN = 0.5
_HEADERS: tuple[tuple[float, float], ...] = ((48.0, 5.5), (72.0, 7.25), (96.0, 9.25))
_JOISTS: tuple[tuple[str, float], ...] = (("2x6", 5.5), ("2x8", 7.25), ("2x10", 9.25), ("2x12", 11.25))
SUBFLOOR_IN = 0.75


def kind_of_name(name: str, area_in2: float) -> tuple[str, bool]:
    """A room's kind from its name, and whether the name told it; without a telling name, by its size."""
    for kind, pattern in _ROOM_WORDS:
        if re.search(pattern, name, re.IGNORECASE):
            return kind, True
    if area_in2 < _SMALL_IN2:
        return "closet", False
    return ("bed" if area_in2 >= LEAST_HABITABLE_IN2 else "hall"), False


def nearest_lumber(depth_in: float) -> tuple[str, float]:
    """The dressed size nearest to a depth, the smaller of two as near [in]."""
    return min(_DRESSED, key=lambda d: (round(abs(d[1] - depth_in), 4), d[1]))


def spacing_of_name(text: str) -> float | None:
    """The stud or joist spacing that a type's name tells, ``2x6 at 16`` or ``studs 600 mm c/c`` [in].

    A spacing within 1/2 % of one that is built is that one (406 mm is 16 in); others count from 8 to 32 in.
    """
    for found in _SPACING.finditer(text):
        number, unit = (found[1], found[2]) if found[1] else (found[3], found[4])
        value = float(number)
        metric = unit in ("mm", "MM") or (unit is None and value >= 200)
        spacing_in = value / 25.4 if metric else value / 2.54 if (unit or "").lower() == "cm" else value
        near = next((s for s in _SPACINGS_IN if at_most(abs(s - spacing_in), 0.005 * s)), None)
        if near is not None:
            return near
        if _SPACINGS_IN[0] < spacing_in < _SPACINGS_IN[-1]:
            return round(spacing_in, 4)
    return None


def lumber_of_name(text: str) -> tuple[str, float] | None:
    """The lumber that a type's name tells, ``Exterior - 2x6 Stud``: nominal and dressed depth [in]."""
    found = _NOMINAL.search(text)
    if found is None:
        return None
    return next((d for d in _DRESSED if d[0] == f"2x{found[1]}"), None)


def core_of_wall(wall: ShellWall) -> tuple[str, float, bool, str]:
    """What a wall's core is taken to be.

    Returns:
        Its name, its depth [in], whether it has studs, and what was assumed (empty: the file told it).
    """
    if wall.core == "steel studs":
        depth_in = round(wall.core_in * 8) / 8
        return f"steel {fraction(depth_in)}", depth_in, True, ""
    if wall.core == "glass":
        depth_in = max(round(wall.core_in * 16) / 16, 1.0)
        return f"glass {fraction(depth_in)}", depth_in, False, "a glazed wall: nothing is run inside it"
    if wall.core == "masonry":
        depth_in = round(wall.core_in * 16) / 16
        return f"concrete {fraction(depth_in)}", depth_in, False, "no studs: nothing is run inside it"
    named = lumber_of_name(wall.label)
    if named is not None and at_most(named[1], wall.thickness_in):
        if wall.core == "wood studs" and at_most(abs(named[1] - wall.core_in), 1 / 16):
            return named[0], named[1], True, ""
        says = f"{fraction(wall.thickness_in)} in thick, taken as {named[0]} wood studs by its name"
        return named[0], named[1], True, says
    if wall.core == "wood studs":
        nominal, depth_in = nearest_lumber(wall.core_in)
        off = abs(depth_in - wall.core_in) > 1 / 16
        return (
            nominal,
            depth_in,
            True,
            f"{fraction(wall.core_in)} in of studs taken as {nominal}" if off else "",
        )
    boards_in = sum(layer.thickness_in for layer in wall.layers if layer.kind == "board")
    inside_in = wall.thickness_in - (boards_in or 2 * BOARD_IN)
    nominal, depth_in = nearest_lumber(inside_in)
    return nominal, depth_in, True, f"{fraction(wall.thickness_in)} in thick, taken as {nominal} wood studs"


def header_depth_in(width_in: float) -> float:
    """A header by the width of its opening; common practice, no source, never a size to build from [in]."""
    return next((depth for most, depth in _HEADERS if at_most(width_in, most)), 11.25)


def joist_for(thickness_in: float) -> tuple[str, float]:
    """The deepest sawn joist that fits in a floor this thick with its subfloor: nominal and depth [in]."""
    room_in = thickness_in - SUBFLOOR_IN + 1 / 8
    fitting = [j for j in _JOISTS if at_most(j[1], room_in)]
    return fitting[-1] if fitting else _JOISTS[0]


def separates(wall: ShellWall) -> str:
    """Why a wall is taken as fire rated; empty where nothing says so."""
    if wall.fire_rating:
        return f"{wall.fire_rating} (as the file says)"
    if re.search(r"party|demising|dimising|dwelling unit|separation|fire ?wall", wall.label, re.IGNORECASE):
        return "party wall, rating not in the file"
    return ""
