"""Proposal: one location that a rule would add, with its reason. Records only."""

from __future__ import annotations

from dataclasses import dataclass

from bayrun.house import Location


@dataclass(frozen=True, slots=True)
class Proposal:
    """One location that a rule would add; nothing is added before a person, or an import, takes it.

    Args:
        location: Complete, with its ports and ``reason``.
        why: The rule in one line, and why this wall and this place.
        rule: Slug of the rule, e.g. ``living-tv-high``.
    """

    location: Location
    why: str
    rule: str = ""
