"""Steel that protects and ties: nail plates per face, straps over cut top plates."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from bayrun.geometry import below
from bayrun.limits.bore import strap_over
from bayrun.limits.pieces import Piece
from bayrun.tables import Adopted

Face = Literal["near", "far"]


def margins_in(depth_in: float, diameter_in: float, center_in: float | None = None) -> tuple[float, float]:
    """Wood between a hole and the two faces: (near, far), near being where ``center_in`` counts from [in].

    Args:
        depth_in: Depth of the piece [in].
        diameter_in: Of the hole [in].
        center_in: From the near face; None is the middle of the depth [in].
    """
    half = Fraction(diameter_in) / 2
    depth = Fraction(depth_in)
    center = depth / 2 if center_in is None else Fraction(center_in)
    return float(center - half), float(depth - center - half)


def plate_free_interval(depth_in: float, diameter_in: float, adopted: Adopted) -> tuple[float, float] | None:
    """Centers, from one face, at which a hole needs no nail plate; None where every center needs one [in].

    Source: NEC 300.4(A)(1): 1-1/4 in from the edge of the hole to the edge of the wood; on it passes.
    """
    keep = adopted.value("nail-plate", "edge_in") + Fraction(diameter_in) / 2
    low, high = float(keep), float(Fraction(depth_in) - keep)
    if below(high, low):
        return None
    return (low, high) if low <= high else ((low + high) / 2,) * 2


def nail_plates_needed(
    depth_in: float, diameter_in: float, center_in: float | None, adopted: Adopted
) -> tuple[Face, ...]:
    """The faces that need a steel plate over a hole in wood.

    One hole through a double plate, or through a king and its jack, is one hole: one plate per face over all
    plies.

    Args:
        depth_in, diameter_in, center_in: As in ``margins_in``.
    Returns:
        ``near``, ``far``, both or none.
    Source: NEC 300.4(A)(1); before 2020 the low-voltage articles do not cite it and it is our practice.
    """
    keep_in = float(adopted.value("nail-plate", "edge_in"))
    near_in, far_in = margins_in(depth_in, diameter_in, center_in)
    faces: list[Face] = []
    if below(near_in, keep_in):
        faces.append("near")
    if below(far_in, keep_in):
        faces.append("far")
    return tuple(faces)


def strap_needed(piece: Piece, cut_in: float, adopted: Adopted) -> bool:
    """True where a top plate cut this wide needs a steel strap.

    Only bearing or exterior top plates; on half the width none is needed; wood panels over that whole side of
    the wall waive it.

    Source: IRC R602.6.1.
    """
    if piece.role != "plate" or piece.kind != "sawn" or not piece.loaded or piece.sheathed:
        return False
    return below(float(strap_over(piece, adopted)), cut_in)


def strap_length_in(cut_in: float, adopted: Adopted) -> float:
    """Least length of the strap over a cut: 6 in past it at each side [in]. Source: IRC R602.6.1."""
    return float(Fraction(cut_in) + 2 * adopted.value("plate-tie", "past_in"))
