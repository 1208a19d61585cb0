"""The media enclosure as a box with gear in it: how warm it gets, what is plugged in, a battery."""

from __future__ import annotations

from bayrun.enclosure.heat import BoxHeat, FlushBox, balance, vent_m3_h, watts_allowed
from bayrun.enclosure.plugs import Plug, PowerList, power_list
from bayrun.enclosure.runtime import peukert_minutes, runtime_minutes

__all__ = [
    "BoxHeat",
    "FlushBox",
    "Plug",
    "PowerList",
    "balance",
    "peukert_minutes",
    "power_list",
    "runtime_minutes",
    "vent_m3_h",
    "watts_allowed",
]
