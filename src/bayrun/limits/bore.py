"""What one piece allows one hole: size, edge, gap to the next, or why there may be none at all."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bayrun.findings import Source
from bayrun.geometry import at_most, below, clamp
from bayrun.limits.pieces import Piece
from bayrun.tables import Adopted, Clause

Interval = tuple[float, float]


@dataclass(frozen=True, slots=True)
class HoleLimits:
    """What one clause allows holes in one piece, exactly.

    Args:
        clause: The clause the size comes from.
        largest: Largest diameter by the size clause alone; None where there is none to print [in].
        edge_min: Least wood from the hole to each edge of the piece [in].
        edge_clause: Where that stands.
        gap_min: Least wood to another hole, where a code says so; else 0 [in].
        why_never: Why no hole may be drilled at all; empty where one may.
        cannot_tell: What is missing to say; empty where nothing is.
        only_factory: True where only factory holes or openings may be used.
    """

    clause: Clause
    largest: Fraction | None
    edge_min: Fraction
    edge_clause: Clause
    gap_min: Fraction = Fraction(0)
    why_never: str = ""
    cannot_tell: str = ""
    only_factory: bool = False

    @property
    def allowed(self) -> bool:
        """True where a person may drill it at all."""
        return not self.why_never and not self.cannot_tell

    @property
    def source(self) -> Source:
        """Where the size limit stands in print."""
        return self.clause.source


def hole_limits(piece: Piece, adopted: Adopted) -> HoleLimits:
    """The limits of holes in a piece.

    Source: IRC R602.6 (studs), R502.8.1 and R802.7.1 (sawn joists, rafters), R502.8.2 (engineered wood); by
        the adopted edition in ``tables/clauses.toml``.
    """
    never = _never(piece)
    if never:
        slug, why = never
        return _none(adopted.clause(slug), why_never=why)
    if piece.kind == "I-joist":
        return _i_joist(piece, adopted)
    if piece.kind == "steel":
        return _steel(piece, adopted)
    if piece.role == "stud":
        clause = adopted.clause("stud-bore")
        share = "bearing" if piece.loaded else "non_bearing"
        if piece.loaded and piece.doubled:
            share = "doubled"
        return HoleLimits(clause, clause.value(share) * piece.depth, clause.value("edge_in"), clause)
    if piece.role in ("joist", "rafter"):
        clause = adopted.clause(f"{piece.role}-bore")
        return HoleLimits(
            clause,
            clause.value("share") * piece.depth,
            clause.value("edge_in"),
            clause,
            clause.value("gap_in"),
        )
    if piece.role in ("plate", "bottom plate"):
        wood = adopted.clause("plate-wood")
        edge = wood.value("edge_in")
        return HoleLimits(wood, max(piece.depth - 2 * edge, Fraction(0)), edge, wood)
    wood = adopted.clause("plate-wood")
    return HoleLimits(wood, None, Fraction(0), wood)


def _never(piece: Piece) -> tuple[str, str] | None:
    if piece.kind == "truss":
        return "truss-roof", "no chord or web of a truss is drilled"
    if piece.kind == "open-web truss":
        return "truss-floor", "no chord or web of an open-web truss is drilled: pass through its openings"
    if piece.kind == "engineered":
        return "engineered", "engineered wood is drilled only as its maker or an engineer allows"
    if piece.role == "header":
        return "built-up", "a header is not drilled: go over it through the cripples, or around"
    if piece.role in ("beam", "post"):
        return "built-up", f"a {piece.role} is not drilled without the engineer's written answer"
    if piece.role == "edge":
        return "built-up", "a rim or trimmer is not drilled without the framer's answer"
    if piece.role == "backing":
        return "built-up", "corner and tee backing is solid: go around it"
    if piece.kind == "concrete":
        return "built-up", "concrete is not drilled: use its sleeves"
    return None


def _none(clause: Clause, why_never: str = "", cannot_tell: str = "") -> HoleLimits:
    return HoleLimits(clause, None, Fraction(0), clause, why_never=why_never, cannot_tell=cannot_tell)


def _i_joist(piece: Piece, adopted: Adopted) -> HoleLimits:
    clause = adopted.clause("engineered")
    if piece.knockout_in is None:
        return _none(
            clause,
            cannot_tell="nobody has the maker's hole chart of this I-joist; its flanges are never drilled",
        )
    return HoleLimits(clause, Fraction(piece.knockout_in), Fraction(0), clause, only_factory=True)


def _steel(piece: Piece, adopted: Adopted) -> HoleLimits:
    clause = adopted.clause("steel-punched")
    largest = min(clause.value("width_in"), clause.value("share") * piece.depth)
    if piece.role in ("plate", "bottom plate"):
        wood = adopted.clause("plate-wood")
        edge = wood.value("edge_in")
        return HoleLimits(wood, max(piece.depth - 2 * edge, Fraction(0)), edge, wood)
    told = (
        "a hole drilled in a bearing steel stud is its maker's to answer: use the factory punched holes"
        if piece.loaded
        else ""
    )
    return HoleLimits(clause, largest, Fraction(0), clause, cannot_tell=told, only_factory=True)


def largest_hole_in(piece: Piece, adopted: Adopted) -> float | None:
    """Largest diameter by the size clause alone; None where no hole is allowed or nothing is printed [in].

    For a top plate that is the share above which it needs a strap (it may be larger with one).
    """
    limits = hole_limits(piece, adopted)
    if piece.role == "plate" and limits.allowed and piece.kind != "steel":
        return float(strap_over(piece, adopted)) if piece.loaded else None
    if piece.role == "bottom plate" and limits.allowed:
        return None
    return None if limits.largest is None or limits.why_never else float(limits.largest)


def strap_over(piece: Piece, adopted: Adopted) -> Fraction:
    """A cut wider than this asks a strap on a bearing or exterior top plate [in]. Source: IRC R602.6.1."""
    return adopted.value("plate-tie", "share") * piece.depth


def edge_min_in(piece: Piece, adopted: Adopted) -> float:
    """Least wood between a hole and each edge of the piece [in]."""
    return float(hole_limits(piece, adopted).edge_min)


def clear_span(piece: Piece, diameter_in: float, adopted: Adopted) -> Interval | None:
    """Where the center of a hole may lie, from one edge of the piece, by structure alone.

    Args:
        piece: What is drilled.
        diameter_in: Of the hole [in].
    Returns:
        (low, high) from the edge the depth is counted from [in]; one point when both are the same; None where
        no center is allowed.
    """
    limits = hole_limits(piece, adopted)
    if not limits.allowed:
        return None
    if limits.largest is not None and below(float(limits.largest), diameter_in):
        return None
    half = Fraction(diameter_in) / 2
    low, high = float(limits.edge_min + half), float(piece.depth - limits.edge_min - half)
    if below(high, low):
        return None
    return (low, high) if low <= high else ((low + high) / 2,) * 2


def nearest_center_in(piece: Piece, diameter_in: float, wanted_in: float, adopted: Adopted) -> float | None:
    """The allowed center nearest to a wanted one, from the same edge; None where there is none [in]."""
    span = clear_span(piece, diameter_in, adopted)
    return None if span is None else clamp(wanted_in, *span)


def largest_bit_in(piece: Piece, bits_in: tuple[float, ...], adopted: Adopted) -> float | None:
    """The largest bit on the truck that some legal center admits; None where none does [in]."""
    legal = [bit for bit in bits_in if clear_span(piece, bit, adopted) is not None]
    return max(legal) if legal else None


def fits_size(piece: Piece, diameter_in: float, adopted: Adopted) -> bool:
    """True where the size clause allows this diameter; on the limit passes."""
    largest = hole_limits(piece, adopted).largest
    return largest is None or at_most(diameter_in, float(largest))
