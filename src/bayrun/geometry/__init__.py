"""Points, boxes and rectangles: numbers only, and the one place where lengths are compared."""

from bayrun.geometry.boxes import Box, Rect, cut_interval, subtract, subtract_all
from bayrun.geometry.touch import TOUCH_IN, at_least, at_most, below, clamp, near

__all__ = [
    "TOUCH_IN",
    "Box",
    "Rect",
    "at_least",
    "at_most",
    "below",
    "clamp",
    "cut_interval",
    "near",
    "subtract",
    "subtract_all",
]
