"""How an imported wall's studs are laid out: as drawn, as its name says, or as is usual; each is told."""

from __future__ import annotations

from bayrun.files.shell import ShellWall
from bayrun.geometry import at_least, below
from bayrun.house import Layout
from bayrun.units import fraction, tape

SPACING_IN = 16.0
_ON_LAYOUT_IN = 0.25
"""A drawn stud this near a mark of the layout stands on it [in]."""


def layout_of(wall: ShellWall, plate_start_in: float, plate_end_in: float) -> tuple[float, Layout, str]:
    """Spacing, layout, and the sentence that tells where they come from, ``{walls}`` standing for the count.

    Args:
        wall: Healed.
        plate_start_in, plate_end_in: Where its plates begin and end along it [in].
    """
    if wall.spacing_in is not None and wall.stud_centers_in:
        first, on, of = _first_mark(wall, plate_start_in, plate_end_in)
        if on >= 2:
            says = (
                f"studs where the file draws them in {{walls}}: at {fraction(wall.spacing_in)} in on center, "
                f"first center {tape(first)} from the wall's start; {on} of {of} drawn studs stand on it"
            )
            return wall.spacing_in, Layout("start", round(first, 4)), says
    if wall.spacing_in is not None:
        gap = fraction(wall.spacing_in)
        says = (
            f"studs at {gap} in on center in {{walls}}, as the type's name says; laid out from each wall's "
            f"start, first center at {gap} in"
        )
        return wall.spacing_in, Layout("start", wall.spacing_in), says
    says = "studs at 16 in on center in {walls}, laid out from each wall's start, first center at 16 in"
    return SPACING_IN, Layout(), says


def _first_mark(wall: ShellWall, start_in: float, end_in: float) -> tuple[float, int, int]:
    """The first center past the plate's start on the layout most drawn studs share, and how many do.

    The studs at the plate's ends stand there on any layout, so they do not vote.
    """
    gap = wall.spacing_in or SPACING_IN
    inner = [c for c in wall.stud_centers_in if below(start_in + 3.0, c) and below(c, end_in - 3.0)]
    ranked = []
    for center in inner:
        on = [c for c in inner if abs((c - center + gap / 2) % gap - gap / 2) <= _ON_LAYOUT_IN]
        ranked.append((-len(on), center))
    if not ranked:
        return gap, 0, 0
    count, phase = min(ranked)
    first = (phase - start_in) % gap
    if not at_least(first, 1.0):
        first += gap
    return first, -count, len(inner)
