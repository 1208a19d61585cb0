"""Rooms and openings of a drawn plan: what its walls close, named by the texts inside; breaks and marks."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from bayrun.files.dxf_marks import Mark, Reading, covers
from bayrun.files.dxf_open import Words
from bayrun.files.dxf_units import Plan, closed_by
from bayrun.files.privacy import without_people
from bayrun.files.shell import OpeningKind, ShellOpening, ShellSpace, ShellTrace, ShellWall, Side, area_of
from bayrun.files.shell_guess import kind_of_name
from bayrun.units import LengthError, parse_length

DOOR_HEAD_IN, WINDOW_SILL_IN = 80.0, 36.0
_NAMES_ROOMS = re.compile(r"room|raum|area|name|iden|spce|space", re.I)
"""Layers whose texts name rooms: elsewhere a text must tell a use of a room to be carried as its name."""
_SIZES = re.compile(r"(\d[\d'’\"”\-–/ .]*)\s*[x×X]\s*(\d[\d'’\"”\-–/ .]*)")
_SQUARE = re.compile(r"(\d+(?:\.\d+)?)\s*(?:s\.?\s?f\.?|sq\.?\s?ft\.?)(?=\W|$)", re.I)


def openings_of(reading: Reading, plan: Plan, walls: Sequence[ShellWall]) -> tuple[ShellOpening, ...]:
    """Breaks in the walls and marks on them as openings, in wall order, with ids ``O1`` …"""
    found: list[ShellOpening] = []
    used: set[int] = set()
    for run, wall in zip(plan.runs, walls, strict=True):
        here: list[tuple[float, float, list[int]]] = [(a, b, []) for a, b in run.gaps]
        for i, mark in enumerate(plan.marks):
            if i in used or not covers(run.strip, mark):
                continue
            places = [run.strip.place(p) for p in mark.ends]
            low, high = sorted(p[0] for p in places)
            used.add(i)
            for k, (a, b, inside) in enumerate(here):
                if min(b, high) - max(a, low) > 0.5 * min(b - a, high - low):
                    # A break in the faces is the truth; a symbol over an unbroken wall adds its own.
                    here[k] = (
                        (a, b, [*inside, i])
                        if k < len(run.gaps)
                        else (min(a, low), max(b, high), [*inside, i])
                    )
                    break
            else:
                here.append((max(low, 0.0), min(high, run.strip.length_in), [i]))
        for a, b, inside in sorted(here):
            found.append(_opening(f"O{len(found) + 1}", wall, a, b, [plan.marks[i] for i in inside]))
    missed = [m for i, m in enumerate(plan.marks) if i not in used]
    reading.lost += [
        ShellTrace("Level 1", "lost", tuple(m.ends), f"{m.kind} on no wall: {m.name}") for m in missed
    ]
    lost = [m.name for m in missed]
    if lost:
        reading.tell("not understood", f"{len(lost)} doors or windows that lie on no wall", len(lost), lost)
    voids = sum(o.kind == "void" for o in found)
    if voids:
        reading.tell("assumed", f"{voids} breaks in a wall without door or window are cased openings", voids)
    return tuple(found)


def _opening(
    opening_id: str, wall: ShellWall, low: float, high: float, marks: Sequence[Mark]
) -> ShellOpening:
    kinds = [m.kind for m in marks]
    kind: OpeningKind = "door" if "door" in kinds else "window" if "window" in kinds else "void"
    name = next((m.name for m in marks if m.kind == kind), "cased opening")
    hinge: Any = None
    side: Side | None = None
    swings = [m for m in marks if m.hinge is not None and m.leaf is not None]
    if len(swings) == 1 and swings[0].hinge and swings[0].leaf:
        along = wall.place(swings[0].hinge)[0]
        hinge = "low" if along < (low + high) / 2 else "high"
        side = "left" if wall.place(swings[0].leaf)[1] > 0 else "right"
    sill = WINDOW_SILL_IN if kind == "window" else 0.0
    return ShellOpening(
        opening_id, wall.id, kind, name[:60], low, high - low, sill, DOOR_HEAD_IN - sill, hinge, side, ""
    )


def spaces_of(reading: Reading, plan: Plan, level: str) -> tuple[ShellSpace, ...]:
    """Rooms the walls close, named by the texts in them."""
    from shapely.geometry import Point as Dot

    shapes = closed_by(plan.runs)
    found: list[ShellSpace] = []
    bare, shared, differ = 0, [], []
    placed: set[int] = set()
    for shape in shapes:
        inside = [
            (i, w) for i, w in enumerate(reading.drawing.words) if shape.contains(Dot(reading.at(w.at)))
        ]
        placed.update(i for i, _ in inside)
        names, stated = _said(inside)
        told = [n for n in names if kind_of_name(n, 1e6)[1]]
        name = " / ".join(dict.fromkeys(told)) if told else (names[0] if names else "")
        if len(told) > 1:
            shared.append(name)
        bare += not name
        outline = tuple((float(x), float(y)) for x, y in shape.exterior.coords[:-1])
        found.append(
            ShellSpace(name or "Room", "", level, outline, area_of(outline), stated, None, "room", "")
        )
        if stated and abs(area_of(outline) / stated - 1) > 0.05:
            differ.append(name or "Room")
    if bare:
        reading.tell("not understood", f"{bare} rooms without a name in them", bare)
    if shared:
        reading.tell(
            "assumed",
            f"{len(shared)} rooms open to each other, with several names in one: kept as one",
            len(shared),
            shared,
        )
    if differ:
        reading.tell(
            "not understood",
            f"{len(differ)} rooms whose text states another size than is drawn",
            len(differ),
            differ,
        )
    lost = [
        w.says for i, w in enumerate(reading.drawing.words)
        if i not in placed and len(w.says) < 30 and kind_of_name(w.says, 1e6)[1] and _is_name(w.says)
    ]  # fmt: skip
    if lost:
        names = [" ".join(n.split()) for n in lost]
        reading.tell(
            "not understood", f"{len(lost)} room names stand where walls close no room", len(lost), names
        )
    if not found:
        reading.tell("not understood", "the walls close no room: look for wide breaks in them")
    return tuple(found)


def _said(inside: Sequence[tuple[int, Words]]) -> tuple[list[str], float | None]:
    """Names in a room, biggest letters first, and the area its texts state [in2]."""
    names: list[tuple[float, int, str]] = []
    stated: float | None = None
    for i, w in inside:
        for line in re.split(r"\n|\\P", w.says):
            text, _ = without_people(re.sub(r"%%[a-zA-Z]", "", line))
            square, sizes = _SQUARE.search(text), _SIZES.search(text)
            if square:
                stated = float(square[1]) * 144.0 or None
            elif sizes:
                try:
                    stated = stated or parse_length(sizes[1].strip()) * parse_length(sizes[2].strip())
                except LengthError:
                    continue
            elif _is_name(text) and (kind_of_name(text, 1e6)[1] or _NAMES_ROOMS.search(w.layer)):
                names.append((-w.high, i, text.title() if text.isupper() and len(text) > 3 else text))
    return [n for _, _, n in sorted(names)], stated


def _is_name(text: str) -> bool:
    letters = sum(c.isalpha() for c in text)
    return (
        letters >= 2 and letters >= 0.5 * len(text.replace(" ", "")) and len(text) <= 40 and "@" not in text
    )
