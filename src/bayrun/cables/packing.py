"""The true size of a bundle: round cables of any sizes in the smallest circle found, and whether it fits.

A fill percentage alone lies for small bundles and for mixed sizes; here every cable has its place, so that
"fits" is shown by a drawing that can be measured.

Limits of use: cables are taken round, straight and hard. Twist, ties and hurry make a real bundle larger;
that room is the firm's fill (``bayrun.cables.fill``), not a factor hidden in here.

Source of the checks: published packings of equal circles (data compiled by E. Specht) and of unequal ones
(arXiv 1306.0694, Table 4); see tests/cables.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from bayrun.cables.circles import Circle, Packing, Point, settle
from bayrun.cables.corners import HEARTS, lay
from bayrun.geometry import at_most, below

Effort = Literal["quick", "fair", "best"]
EFFORTS: tuple[Effort, ...] = ("quick", "fair", "best")
Step = Literal["quick", "fair", "thorough", "best"]
STEPS: tuple[Step, ...] = ("quick", "fair", "thorough")
"""How far a question about a hole goes: it must not wait as long as "best" may take."""
FAIR_COUNT = 40
"""Up to here the default effort is "fair" (about 0.1 s to 0.6 s); above it "quick"."""
MOST = 500
"""More cables than this in one bundle is a slip of the pen."""
_DIGITS = 9
_HOPE = {"quick": 1.35, "fair": 1.04}
"""A layout larger than the hole by more than this is not worth the next effort: no search wins that much."""


class BundleError(ValueError):
    """Diameters that are no bundle; the message names every wrong one."""


def checked(diameters_in: Sequence[float]) -> tuple[float, ...]:
    """The diameters as floats, or one message with all that is wrong with them.

    Args:
        diameters_in: Outside diameter of each cable [in].
    Raises:
        BundleError: None given, more than 500, or one that is not a length above zero.
    """
    sizes = tuple(float(size) for size in diameters_in)
    if not sizes:
        raise BundleError("expected at least one cable diameter, got none")
    if len(sizes) > MOST:
        raise BundleError(f"expected at most {MOST} cables in one bundle, got {len(sizes)}")
    wrong = [
        f"cable {place}: expected an outside diameter above 0 in, got {size:g}"
        for place, size in enumerate(sizes, 1)
        if not math.isfinite(size) or size <= 0
    ]
    if wrong:
        raise BundleError("; ".join(wrong))
    if max(sizes) > min(sizes) * 1e6:
        raise BundleError("expected cables of like size, got one over a million times another")
    return sizes


def _radius(ratios: Sequence[float], effort: Step) -> tuple[float, list[Point]]:
    """Smallest circle found for radii given largest first, largest 1."""
    best = min((settle(ratios, lay(ratios, h)) for h in HEARTS if h <= len(ratios)), key=lambda one: one[0])
    if effort == "quick" or len(ratios) < 3:
        return best
    from bayrun.cables import crowd, search

    if effort == "fair":
        tries = [search.search(ratios, search.FAIR)]
    elif ratios[-1] < ratios[0]:
        if effort == "best" and crowd.LEAST <= len(ratios) <= crowd.MOST:
            # Two sets of throws: the one misses 19 radii by a little over half a percent.
            tries = [crowd.search_mixed(ratios, seed=seed) for seed in (20, 21)]
        else:
            tries = [search.search(ratios, search.BEST_MIXED)]
    elif len(ratios) <= 8:
        tries = [search.search(ratios, replace(search.BEST_EQUAL, islands=3))]
    else:
        # Equal circles have narrow best valleys: more sets of throws find what one may miss (25, 34 circles).
        plans = [(search.BEST_EQUAL, 20), (search.BEST_EQUAL_AGAIN, 1)]
        if effort == "best":
            plans.append((search.BEST_EQUAL, 2))
        tries = [search.search(ratios, plan, seed) for plan, seed in plans]
    return min([best, *tries], key=lambda one: one[0])


def _pack_sorted(sizes: Sequence[float], effort: Step) -> Packing:
    """Pack diameters given largest first."""
    # Rounded shares, so that a bundle in other units walks the very same way.
    ratios = [round(size / sizes[0], 12) for size in sizes]
    _, points = _radius(ratios, effort)
    radii = [size / 2 for size in sizes]
    radius, points = settle(radii, [(x * radii[0], y * radii[0]) for x, y in points])
    circles = tuple(Circle(x, y, r) for (x, y), r in zip(points, radii, strict=True))
    return Packing(2 * radius, circles)


def _in_order(packed: Packing, sizes: Sequence[float], order: Sequence[int]) -> tuple[Circle, ...]:
    """Circles of a packing (largest first) handed back in the order asked."""
    placed: list[Circle | None] = [None] * len(sizes)
    for circle, index in zip(packed.circles, order, strict=True):
        placed[index] = Circle(circle.x_in, circle.y_in, sizes[index] / 2)
    return tuple(circle for circle in placed if circle is not None)


def _order(sizes: Sequence[float]) -> list[int]:
    return sorted(range(len(sizes)), key=lambda index: (-sizes[index], index))


def pack(diameters_in: Sequence[float], *, effort: Effort | None = None) -> Packing:
    """Smallest circle found round a bundle of cables.

    Args:
        diameters_in: Outside diameter of each cable [in]; any sizes, the result scales with them.
        effort: "quick" (a millisecond, 200 cables in tens of ms), "fair" (some 0.2 s for 13 cables) or "best"
            (seconds to a minute); left out, "fair" up to 40 cables and "quick" above.
    Returns:
        Its diameter and every cable's place, in the order asked: disjoint and inside to 1e-9 of the size.
        The diameter is measured on the layout returned, so it is never below the least possible.
    Raises:
        BundleError: The diameters are no bundle.
    Limits of use: smallest *found*; only "best" is held to published values by the tests.
    """
    sizes = checked(diameters_in)
    if effort is None:
        effort = "fair" if len(sizes) <= FAIR_COUNT else "quick"
    elif effort not in EFFORTS:
        raise BundleError(f"expected effort quick, fair or best, got {effort!r}")
    order = _order(sizes)
    packed = _pack_sorted([sizes[index] for index in order], effort)
    return Packing(packed.diameter_in, _in_order(packed, sizes, order))


def _cannot(hole_diameter_in: float, largest_first: Sequence[float]) -> bool:
    """Quick proofs that a hole is too small: the two largest side by side, and plain area."""
    if below(hole_diameter_in, sum(largest_first[:2])):
        return True
    return below(hole_diameter_in, math.sqrt(math.fsum(size * size for size in largest_first)))


class PackingCache:
    """Remembers the best packing of every bundle asked about; owned by the caller, one for each plan.

    Bundles are keyed by their diameters, sorted and rounded to 1e-9 in; one packing answers for holes of all
    sizes. With the same questions in the same order it gives the same answers.
    """

    __slots__ = ("_done", "_kept")

    def __init__(self) -> None:
        self._kept: dict[tuple[float, ...], Packing] = {}
        self._done: dict[tuple[float, ...], int] = {}

    def fits(self, hole_diameter_in: float, diameters_in: Sequence[float]) -> tuple[Circle, ...] | None:
        """Places for cables in a hole, around its center; see ``fits``."""
        if not (math.isfinite(hole_diameter_in) and hole_diameter_in > 0):
            raise BundleError(f"expected a hole diameter above 0 in, got {hole_diameter_in:g}")
        if not diameters_in:
            return ()
        sizes = checked(diameters_in)
        order = _order(sizes)
        key = tuple(round(sizes[index], _DIGITS) for index in order)
        if key[-1] <= 0:
            raise BundleError("expected cables of at least a billionth of an inch")
        if _cannot(hole_diameter_in, key):
            return None
        packed = self._within(hole_diameter_in, key)
        return None if packed is None else _in_order(packed, sizes, order)

    def _within(self, hole_diameter_in: float, key: tuple[float, ...]) -> Packing | None:
        """The packing kept for a bundle, with no more effort than the hole asks for."""
        tried = self._done.get(key, 0)
        while True:
            kept = self._kept.get(key)
            if kept is not None and at_most(kept.diameter_in, hole_diameter_in):
                return kept
            if tried == len(STEPS):
                break
            if kept is not None:
                if below(hole_diameter_in * _HOPE[STEPS[tried - 1]], kept.diameter_in):
                    break
                larger = self._from_larger(hole_diameter_in, key)
                if larger is not None:
                    self._kept[key] = larger
                    return larger
            fresh = _pack_sorted(key, STEPS[tried])
            tried += 1
            self._done[key] = tried
            if kept is None or fresh.diameter_in < kept.diameter_in:
                self._kept[key] = fresh
        larger = self._from_larger(hole_diameter_in, key)
        if larger is not None:
            self._kept[key] = larger
        return larger

    def _from_larger(self, hole_diameter_in: float, key: tuple[float, ...]) -> Packing | None:
        """The layout of a larger bundle that holds this one: fewer cables never stop fitting."""
        for other, packed in self._kept.items():
            if len(other) <= len(key) or not at_most(packed.diameter_in, hole_diameter_in):
                continue
            circles, spot = [], 0
            for size in key:
                # Both lists run from the largest down: each cable takes the next place of its own size.
                while spot < len(other) and other[spot] != size:
                    spot += 1
                if spot == len(other):
                    break
                circles.append(packed.circles[spot])
                spot += 1
            else:
                return Packing(packed.diameter_in, tuple(circles))
        return None


def fits(hole_diameter_in: float, diameters_in: Sequence[float]) -> tuple[Circle, ...] | None:
    """Places for cables in one hole, where a layout is found.

    Args:
        hole_diameter_in: Diameter of the hole [in].
        diameters_in: Outside diameter of each cable [in]; none at all always fits.
    Returns:
        Circles around the hole's center in the order asked, or None: proved too small, or no layout found.
    Raises:
        BundleError: A diameter is not a length above zero.
    Limits of use: None is not a proof. Ask a ``PackingCache`` where many holes are asked about.
    """
    return PackingCache().fits(hole_diameter_in, diameters_in)
