"""The media enclosure as a box with gear in it: how warm it gets, how long a battery lasts."""

from __future__ import annotations

from bayrun.enclosure.heat import BoxHeat, FlushBox, balance, vent_m3_h, watts_allowed
from bayrun.enclosure.runtime import peukert_minutes, runtime_minutes

__all__ = [
    "BoxHeat",
    "FlushBox",
    "balance",
    "peukert_minutes",
    "runtime_minutes",
    "vent_m3_h",
    "watts_allowed",
]
