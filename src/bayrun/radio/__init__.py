"""Radio inside a house: what walls take from a signal, and distance; one subject a file."""

from __future__ import annotations

from bayrun.radio.path_loss import free_space_db, home_loss_db, site_loss_db
from bayrun.radio.slab import Layer, averaged_loss_db, ready_stack, stack_loss_db

__all__ = [
    "Layer",
    "averaged_loss_db",
    "free_space_db",
    "home_loss_db",
    "ready_stack",
    "site_loss_db",
    "stack_loss_db",
]
