"""Bayrun plans the low-voltage rough-in of a framed house: cables, holes, plates, lists and sheets.

Lengths are inches in float64 and carry ``_in`` in their names. CONTRIBUTING.md has the map of the packages.
"""

from __future__ import annotations

__version__ = "0.1.0"
