"""What one piece allows a notch: depth, length, zone. A cable in a notch always takes a steel plate."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bayrun.findings import Source
from bayrun.geometry import at_least, at_most
from bayrun.limits.pieces import Piece
from bayrun.tables import Adopted


@dataclass(frozen=True, slots=True)
class NotchLimits:
    """What a clause allows a notch in one piece.

    Args:
        depth_in: Largest depth; 0 where no notch is allowed [in].
        length_in: Largest length along the piece; None where the clause has none [in].
        end_depth_in: Largest depth at the very end of a joist; None for studs [in].
        no_notch: Shares of the span between which none is allowed, or None.
        source: Where it stands.
        why_never: Why there may be none at all.
    """

    depth_in: float
    length_in: float | None
    end_depth_in: float | None
    no_notch: tuple[float, float] | None
    source: Source
    why_never: str = ""


def notch_limits(piece: Piece, adopted: Adopted) -> NotchLimits:
    """The limits of notches in a piece.

    Source: IRC R602.6 (studs), R502.8.1 and R802.7.1 (joists, rafters).
    """
    if piece.kind == "sawn" and piece.role == "stud":
        clause = adopted.clause("stud-notch")
        share = clause.value("bearing" if piece.loaded else "non_bearing")
        return NotchLimits(float(share * piece.depth), None, None, None, clause.source)
    if piece.kind == "sawn" and piece.role in ("joist", "rafter"):
        clause = adopted.clause(f"{piece.role}-notch")
        return NotchLimits(
            float(clause.value("share") * piece.depth),
            float(clause.value("length_share") * piece.depth),
            float(clause.value("end_share") * piece.depth),
            (float(clause.value("clear_from_share")), float(clause.value("clear_to_share"))),
            clause.source,
        )
    if piece.kind == "sawn" and piece.role == "plate":
        clause = adopted.clause("plate-tie")
        return NotchLimits(float(clause.value("share") * piece.depth), None, None, None, clause.source)
    clause = adopted.clause("engineered" if piece.kind in ("I-joist", "engineered") else "built-up")
    return NotchLimits(0.0, 0.0, 0.0, None, clause.source, f"no notch in a {piece.kind} {piece.role}")


def notch_allowed(
    piece: Piece,
    adopted: Adopted,
    *,
    depth_in: float,
    length_in: float = 0.0,
    center_from_bearing_in: float | None = None,
    span_in: float | None = None,
    at_end: bool = False,
) -> bool:
    """True where a notch keeps every limit; on the limit passes.

    Args:
        depth_in, length_in: Of the notch [in].
        center_from_bearing_in, span_in: Where along a joist; both or neither. Without them a notch away
            from the end of a joist is refused: nobody said that it keeps out of the middle third [in].
        at_end: True for a notch at the end of a joist, over its bearing.
    """
    limits = notch_limits(piece, adopted)
    if limits.why_never:
        return False
    if at_end and limits.end_depth_in is not None:
        return at_most(depth_in, limits.end_depth_in)
    if not at_most(depth_in, limits.depth_in):
        return False
    if limits.length_in is not None and not at_most(length_in, limits.length_in):
        return False
    if limits.no_notch is None:
        return True
    if center_from_bearing_in is None or span_in is None:
        return False
    half = Fraction(length_in) / 2
    low, high = float(center_from_bearing_in - half), float(center_from_bearing_in + half)
    return at_most(high, limits.no_notch[0] * span_in) or at_least(low, limits.no_notch[1] * span_in)
