"""What one member allows a hole: size, edge, gap, plates, strap, never. Routing and rules share it."""

from bayrun.limits.bore import (
    HoleLimits,
    clear_span,
    edge_min_in,
    fits_size,
    hole_limits,
    largest_bit_in,
    largest_hole_in,
    nearest_center_in,
    strap_over,
)
from bayrun.limits.members import (
    MemberLimits,
    across_plate_free,
    across_span,
    clear_between_in,
    limits_of,
    margins_of,
    piece_of,
    plates_for,
    strap_for,
    too_near,
)
from bayrun.limits.notches import NotchLimits, notch_allowed, notch_limits
from bayrun.limits.pieces import Kind, Piece, PieceRole
from bayrun.limits.steel import (
    margins_in,
    nail_plates_needed,
    plate_free_interval,
    strap_length_in,
    strap_needed,
)

__all__ = [
    "HoleLimits",
    "Kind",
    "MemberLimits",
    "NotchLimits",
    "Piece",
    "PieceRole",
    "across_plate_free",
    "across_span",
    "clear_between_in",
    "clear_span",
    "edge_min_in",
    "fits_size",
    "hole_limits",
    "largest_bit_in",
    "largest_hole_in",
    "limits_of",
    "margins_in",
    "margins_of",
    "nail_plates_needed",
    "nearest_center_in",
    "notch_allowed",
    "notch_limits",
    "piece_of",
    "plate_free_interval",
    "plates_for",
    "strap_for",
    "strap_length_in",
    "strap_needed",
    "strap_over",
    "too_near",
]
