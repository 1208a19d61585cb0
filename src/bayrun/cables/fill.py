"""How full a hole is, and the smallest bit that takes a bundle.

A hole takes a bundle when both hold: the cables' area is at most the firm's fill, and they truly fit as
circles. On the limit passes.

Source: 40 % is the fill for three and more conductors in a raceway, NEC chapter 9 table 1 (from memory); for
a bored hole it is common practice, not code. 60 % is the "tight" end of that practice and never passed here.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.cables.circles import Circle
from bayrun.cables.packing import BundleError, PackingCache, checked
from bayrun.geometry import TOUCH_IN, at_most

DEFAULT_FILL = 0.40
HIGHEST_FILL = 0.60


class FillError(ValueError):
    """A fill that no firm may set, or bits that are no bits."""


@dataclass(frozen=True, slots=True)
class HoleChoice:
    """The smallest hole on the truck that takes a bundle.

    Args:
        bit_in: Its diameter [in].
        fill: Share of its area taken by cable.
        circles: A place for each cable, around the hole's center.
        capacity: Where all cables are of one size, how many of them this hole takes; else None.
    """

    bit_in: float
    fill: float
    circles: tuple[Circle, ...]
    capacity: int | None


def _hole(hole_diameter_in: float) -> float:
    if not (math.isfinite(hole_diameter_in) and hole_diameter_in > 0):
        raise FillError(f"expected a hole diameter above 0 in, got {hole_diameter_in:g}")
    return float(hole_diameter_in)


def checked_fill(fill_max: float) -> float:
    """The firm's fill, or a message: above zero and at most 60 %."""
    if not math.isfinite(fill_max) or fill_max <= 0:
        raise FillError(f"expected a fill above 0 and at most {HIGHEST_FILL:.0%}, got {fill_max:g}")
    if fill_max > HIGHEST_FILL:
        raise FillError(
            f"expected a fill of at most {HIGHEST_FILL:.0%} of the hole's area, got {fill_max:.4g}"
            f" ({fill_max:.4g} means {fill_max * 100:.4g} %): a fuller hole cannot be pulled"
        )
    return float(fill_max)


def fill_fraction(hole_diameter_in: float, diameters_in: Sequence[float]) -> float:
    """Share of a hole's area taken by cable: the sum of d squared over D squared.

    Args:
        hole_diameter_in: Diameter of the hole [in].
        diameters_in: Outside diameter of each cable [in]; none is a fill of 0.
    """
    hole = _hole(hole_diameter_in)
    if not diameters_in:
        return 0.0
    return math.fsum(size * size for size in checked(diameters_in)) / (hole * hole)


def within_fill(
    hole_diameter_in: float, diameters_in: Sequence[float], fill_max: float = DEFAULT_FILL
) -> bool:
    """Whether a bundle's area is at most the firm's fill of the hole; on the limit passes.

    Compared as the diameter of a hole that is just full enough, so that the touch of geometry applies.
    """
    hole, limit = _hole(hole_diameter_in), checked_fill(fill_max)
    return at_most(math.sqrt(fill_fraction(hole, diameters_in) / limit) * hole, hole)


def capacity_at_fill(
    hole_diameter_in: float, cable_diameter_in: float, fill_max: float = DEFAULT_FILL
) -> int:
    """Most cables of one size that a hole takes: by the fill, and by true packing where that is less.

    Args:
        hole_diameter_in: Diameter of the hole [in].
        cable_diameter_in: Outside diameter of the cable [in].
        fill_max: The firm's fill.
    Raises:
        FillError, BundleError: A number outside its range, or room for over 500 cables.
    """
    (cable,) = checked([cable_diameter_in])
    hole, limit = _hole(hole_diameter_in), checked_fill(fill_max)
    # The touch of geometry lies on the hole's diameter.
    count = math.floor(limit * ((hole + TOUCH_IN) / cable) ** 2)
    cache = PackingCache()
    while count and cache.fits(hole, [cable] * count) is None:
        count -= 1
    return count


def hole_for(
    diameters_in: Sequence[float],
    fill_max: float,
    bits_in: Sequence[float],
    cache: PackingCache | None = None,
) -> HoleChoice | None:
    """Smallest bit on the truck whose hole takes a bundle by the firm's fill and by true packing.

    Args:
        diameters_in: Outside diameter of each cable [in].
        fill_max: The firm's fill, at most 0.60.
        bits_in: Diameters of the bits on the truck [in], in any order.
        cache: Packings already known, where many bundles are asked about.
    Returns:
        The choice, or None where no bit is large enough: split the bundle over more holes.
    Raises:
        FillError: The fill or a bit is outside its range. BundleError: the diameters are no bundle.
    """
    sizes, limit = checked(diameters_in), checked_fill(fill_max)
    if not bits_in:
        raise FillError("expected at least one bit on the truck, got none")
    cache = cache or PackingCache()
    for bit in sorted({_hole(size) for size in bits_in}):
        if not within_fill(bit, sizes, limit):
            continue
        circles = cache.fits(bit, sizes)
        if circles is not None:
            kinds = Counter(sizes)
            capacity = capacity_at_fill(bit, sizes[0], limit) if len(kinds) == 1 else None
            return HoleChoice(bit, fill_fraction(bit, sizes), circles, capacity)
    return None


__all__ = [
    "DEFAULT_FILL",
    "HIGHEST_FILL",
    "BundleError",
    "FillError",
    "HoleChoice",
    "capacity_at_fill",
    "checked_fill",
    "fill_fraction",
    "hole_for",
    "within_fill",
]
