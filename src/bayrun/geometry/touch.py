"""The one comparison of lengths: on the limit passes."""

from __future__ import annotations

TOUCH_IN = 1e-6
"""Two lengths closer than this touch [in]. Far under a sixteenth, far over float noise."""


def below(a_in: float, b_in: float) -> bool:
    """True where ``a_in`` is under ``b_in`` by more than a touch."""
    return a_in < b_in - TOUCH_IN


def at_least(a_in: float, b_in: float) -> bool:
    """True where ``a_in`` reaches ``b_in``; on the limit passes."""
    return not below(a_in, b_in)


def at_most(a_in: float, b_in: float) -> bool:
    """True where ``a_in`` does not pass ``b_in``; on the limit passes."""
    return not below(b_in, a_in)


def near(a_in: float, b_in: float) -> bool:
    """True where two lengths touch."""
    return abs(a_in - b_in) <= TOUCH_IN


def clamp(value_in: float, low_in: float, high_in: float) -> float:
    """``value_in`` brought inside ``low_in`` … ``high_in``."""
    return min(max(value_in, low_in), high_in)
