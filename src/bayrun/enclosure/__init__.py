"""The media enclosure as a box with gear in it: places, knockouts, coils, power, heat, ports."""

from __future__ import annotations

from bayrun.enclosure.arrange import Arrangement, arrange, box_sizes_in, next_height_in
from bayrun.enclosure.entries import Arrival, Entries, KnockoutUse, arrivals, assign, trade_of
from bayrun.enclosure.fit_out import Cord, FitOut, fit_out, hand_places, lost_places, with_height
from bayrun.enclosure.gear import Piece, pieces_of
from bayrun.enclosure.heat import BoxHeat, FlushBox, balance, openings_needed, vent_m3_h, watts_allowed
from bayrun.enclosure.plugs import Plug, PowerList, power_list
from bayrun.enclosure.ports import PortMap, Termination, port_map
from bayrun.enclosure.room import Place, Room, conflicts, room_of
from bayrun.enclosure.runtime import peukert_minutes, runtime_minutes
from bayrun.enclosure.slack import Coils, Slacked, coil_slack

__all__ = [
    "Arrangement",
    "Arrival",
    "BoxHeat",
    "Coils",
    "Cord",
    "Entries",
    "FitOut",
    "FlushBox",
    "KnockoutUse",
    "Piece",
    "Place",
    "Plug",
    "PortMap",
    "PowerList",
    "Room",
    "Slacked",
    "Termination",
    "arrange",
    "arrivals",
    "assign",
    "balance",
    "box_sizes_in",
    "coil_slack",
    "conflicts",
    "fit_out",
    "hand_places",
    "lost_places",
    "next_height_in",
    "openings_needed",
    "peukert_minutes",
    "pieces_of",
    "port_map",
    "power_list",
    "room_of",
    "runtime_minutes",
    "trade_of",
    "vent_m3_h",
    "watts_allowed",
    "with_height",
]
