"""Lengths as a tape reads them, and numbers that say where they come from."""

from bayrun.units.figure import Figure
from bayrun.units.tape import LengthError, feet_and_inches, fraction, parse_length, tape

__all__ = ["Figure", "LengthError", "feet_and_inches", "fraction", "parse_length", "tape"]
