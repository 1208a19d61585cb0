"""Places a stiff cable cannot turn behind: stud holes that open into a bay narrower than its bend.

A cable that comes through a stud lies level; to turn up or down it needs its least radius before the next
stud. In a narrow bay it can only go straight on, through a hole at the same height in the stud across.
Limits of use: bays alone. In strips, attics and open floors a crew leads a cable in as wide a loop as it
wants; corners that send it back the way it came are told by the rules.
Source: the least radius by the firm's table, measured to the middle of the cable; arithmetic.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from bayrun.geometry import below
from bayrun.house import CableKind
from bayrun.routing.records import Cell, Place

LEVEL_IN = 0.5
"""Two holes whose heights differ by less lie in one line: the cable eases over [in]. Our own figure."""


def bend_in(kind: CableKind) -> float:
    """Least radius of a cable, to its middle [in]."""
    return (kind.bend_radius_x_diameter + 0.5) * kind.diameter_in


def tight_places(
    cells: Sequence[Cell], places: Sequence[Place], radii_in: Mapping[str, float]
) -> dict[str, tuple[int, ...]]:
    """Stud places behind which a cable would have to turn in too narrow a bay.

    Args:
        cells, places: Of the passage graph.
        radii_in: Least radius to the middle of the cable, by its letter [in].
    Returns:
        Indexes of places, rising, by letter.
    """
    most_in = max(radii_in.values(), default=0.0)
    narrow = {c.id: c for c in cells if c.kind == "bay" and below(c.rect.u1 - c.rect.u0, most_in)}
    beside: dict[str, list[int]] = {}
    for i, place in enumerate(places):
        if place.axis == "along" and place.member:
            for name in (place.a, place.b):
                if name in narrow:
                    beside.setdefault(name, []).append(i)
    ends: list[tuple[float, int]] = []
    for cell_id, mine in sorted(beside.items()):
        cell = narrow[cell_id]
        middle = cell.rect.center[0]
        low = [i for i in mine if places[i].slots[0].along_in < middle]
        high = [i for i in mine if i not in low]
        for here, across in ((low, high), (high, low)):
            ends += [
                (cell.rect.width, i) for i in here if not any(_level(places[i], places[k]) for k in across)
            ]
    return {
        letter: tuple(sorted({i for wide_in, i in ends if below(wide_in, radius_in)}))
        for letter, radius_in in radii_in.items()
    }


def _level(a: Place, b: Place) -> bool:
    return any(below(abs(p.up_in - q.up_in), LEVEL_IN) for p in a.slots for q in b.slots)
