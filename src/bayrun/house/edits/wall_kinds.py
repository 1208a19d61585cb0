"""Kinds of wall a person draws, and what each is made of."""

from __future__ import annotations

from bayrun.house.edits.records import Refused

KINDS: dict[str, tuple[str, float, bool]] = {
    "outside 2x6": ("2x6", 5.5, True),
    "outside 2x4": ("2x4", 3.5, True),
    "inside 2x4": ("2x4", 3.5, False),
    "inside 2x6": ("2x6", 5.5, False),
}
"""Name -> core, depth of its studs [in], outside wall. Dressed sizes: the table of lumber (PS 20)."""


def kind_of(name: str) -> tuple[str, float, bool]:
    """What a kind is made of.

    Raises:
        Refused: There is no such kind; the known ones are named.
    """
    if name not in KINDS:
        raise Refused(f"expected a kind of wall, one of {', '.join(KINDS)}; got {name!r}")
    return KINDS[name]
