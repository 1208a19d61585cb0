"""How tight a cable may bend and how hard it may be pulled.

The multiples come with each kind of cable as the firm buys it (data in, not a table in here);
the values below are the usual ones, to be offered where the data sheet is not at hand.

Source: four-pair 4 x outside diameter and 110 N (25 lbf) as TIA-568 has them, read on two published
installation guides; the other kinds from memory, marked so. EN 50174-2 asks 8 x for four-pair (secondary).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from bayrun.geometry import at_least

FOUR_PAIR_PULL_LBF = 25.0
"""Largest pull on one four-pair cable [lbf]; 110 N in the standard's own unit."""


@dataclass(frozen=True, slots=True)
class Handling:
    """What one kind of cable stands.

    Args:
        bend_x_diameter: Least inside bend radius as a multiple of the outside diameter.
        pull_lbf: Largest pull [lbf], or None where nothing is published: ask the data sheet.
        source: Where both come from.
    """

    bend_x_diameter: float
    pull_lbf: float | None
    source: str


FOUR_PAIR = Handling(
    4.0, FOUR_PAIR_PULL_LBF, "TIA-568: 4 x outside diameter, 110 N (25 lbf); read in installation guides"
)
COAX_SERIES_6 = Handling(10.0, 35.0, "10 x outside diameter, 35 to 40 lbf by maker; from memory")
FIBER_UNDER_PULL = Handling(
    20.0, 50.0, "20 x outside diameter under pull, 222 N (50 lbf); read in secondary sources"
)
FIBER_AT_REST = Handling(10.0, None, "10 x outside diameter at rest; read in secondary sources")


class HandlingError(ValueError):
    """A number that cannot be a bend or a pull."""


def _above_zero(name: str, value: float) -> float:
    if not math.isfinite(value) or value <= 0:
        raise HandlingError(f"expected {name} above 0, got {value:g}")
    return float(value)


def least_bend_radius_in(diameter_in: float, bend_x_diameter: float) -> float:
    """Least inside radius of a bend [in].

    Args:
        diameter_in: Outside diameter of the cable [in].
        bend_x_diameter: The kind's multiple, e.g. 4 for four-pair.
    Raises:
        HandlingError: One of them is not above zero.
    """
    multiple = _above_zero("a bend multiple", bend_x_diameter)
    return _above_zero("an outside diameter [in]", diameter_in) * multiple


def bends_within(radius_in: float, diameter_in: float, bend_x_diameter: float) -> bool:
    """Whether a bend of inside radius ``radius_in`` [in] is as wide as the kind asks; on the limit passes."""
    least_in = least_bend_radius_in(diameter_in, bend_x_diameter)
    return at_least(_above_zero("a bend radius [in]", radius_in), least_in)


def pull_limit_lbf(limits_lbf: tuple[float | None, ...]) -> float | None:
    """Largest pull on a group of cables pulled together: that of the weakest, as if it took the whole pull.

    Strengths are not added up: cables of a group never share a pull evenly (common practice, no source).

    Args:
        limits_lbf: Each cable's own limit [lbf]; None where unknown.
    Returns:
        The limit [lbf], or None where one cable's is unknown: that is "cannot tell", never a pass.
    Raises:
        HandlingError: No cables, or a limit not above zero.
    """
    if not limits_lbf:
        raise HandlingError("expected at least one cable in a pull, got none")
    known = [_above_zero("a pull limit [lbf]", limit) for limit in limits_lbf if limit is not None]
    return min(known) if len(known) == len(limits_lbf) else None


def pulls_within(pull_lbf: float, limits_lbf: tuple[float | None, ...]) -> bool | None:
    """Whether a pull [lbf] is at most the group's limit; None where a limit is unknown."""
    limit = pull_limit_lbf(limits_lbf)
    if not math.isfinite(pull_lbf) or pull_lbf < 0:
        raise HandlingError(f"expected a pull of 0 lbf or more, got {pull_lbf:g}")
    return None if limit is None else pull_lbf <= limit
