"""Cables as things with a size: bundles, holes, bends and pulls; one subject a file."""

from __future__ import annotations

from bayrun.cables.circles import Circle, Packing
from bayrun.cables.fill import FillError, HoleChoice, capacity_at_fill, fill_fraction, hole_for, within_fill
from bayrun.cables.packing import BundleError, PackingCache, fits, pack

__all__ = [
    "BundleError",
    "Circle",
    "FillError",
    "HoleChoice",
    "Packing",
    "PackingCache",
    "capacity_at_fill",
    "fill_fraction",
    "fits",
    "hole_for",
    "pack",
    "within_fill",
]
