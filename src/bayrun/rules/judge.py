"""One hole in one piece against every clause that speaks of it. The plan's rules and ``quick hole`` share it.

A breach carries the cures that were tried on the same limits and found to work; no other is offered.
"""

from __future__ import annotations

from dataclasses import dataclass

from bayrun.findings import Severity, Source
from bayrun.geometry import at_least, at_most, below, near
from bayrun.limits import (
    HoleLimits,
    Piece,
    clear_span,
    fits_size,
    hole_limits,
    margins_in,
    nearest_center_in,
)
from bayrun.rules.words import cap, floor_text, found, percent
from bayrun.tables import Adopted


@dataclass(frozen=True, slots=True)
class Cure:
    """A change that makes one hole legal.

    Args:
        verb: ``redrill_hole`` (another bit or place) or ``ask`` (a trade answers first).
        diameter_in, center_in: Of the hole after it, center from the near face [in].
        says: One sentence.
        request_to: Trade that must answer, or empty.
        answer: What the trade would have to answer.
    """

    verb: str
    diameter_in: float
    center_in: float
    says: str
    request_to: str = ""
    answer: str = ""


@dataclass(frozen=True, slots=True)
class Breach:
    """One limit that one hole breaks."""

    rule: str
    severity: Severity
    says: str
    measured_in: float | None
    limit_in: float | None
    source: Source
    cures: tuple[Cure, ...] = ()


def judge(
    piece: Piece,
    diameter_in: float,
    center_in: float,
    adopted: Adopted,
    *,
    bits_in: tuple[float, ...] = (),
    least_in: float = 0.0,
    factory: bool = False,
    faces: tuple[str, str] = ("room side", "far side"),
) -> tuple[Breach, ...]:
    """Every limit that one hole breaks, other holes aside.

    Args:
        piece: What is drilled.
        diameter_in, center_in: Of the hole; center from the near face (joists: from the bottom) [in].
        adopted: Clauses in force.
        bits_in: Bits on the truck, for the cures [in].
        least_in: Smallest hole the bundle goes through; no smaller bit is offered [in].
        factory: True where nothing is drilled: a factory hole or opening is used.
        faces: What the near and the far face are called.
    """
    limits = hole_limits(piece, adopted)
    if limits.only_factory:
        return _factory(limits, diameter_in, factory)
    if factory and piece.kind in ("open-web truss", "gypsum"):
        return ()
    if limits.why_never:
        says = f"No hole here: {limits.why_never}."
        return (Breach("engineered-never", Severity.STOP, says, diameter_in, 0.0, limits.source),)
    if limits.cannot_tell:
        says = f"Cannot tell: {limits.cannot_tell}."
        return (Breach("engineered-never", Severity.CANNOT_TELL, says, diameter_in, None, limits.source),)
    if piece.role == "subfloor":
        return ()
    cures = _cures(piece, diameter_in, center_in, adopted, bits_in, least_in, faces)
    return (
        *_size(piece, limits, diameter_in, adopted, cures),
        *_edges(piece, limits, diameter_in, center_in, adopted, cures, faces),
    )


def _factory(limits: HoleLimits, diameter_in: float, factory: bool) -> tuple[Breach, ...]:
    largest_in = float(limits.largest or 0)
    what = "factory punched hole" if limits.clause.slug == "steel-punched" else "factory knockout"
    if below(largest_in, diameter_in):
        says = f"{found(diameter_in)} is more than the {what} of {cap(largest_in)}; cut nothing wider."
        return (Breach("factory-hole-size", Severity.STOP, says, diameter_in, largest_in, limits.source),)
    if not factory and limits.cannot_tell:
        says = f"Cannot tell: {limits.cannot_tell} of {cap(largest_in)}, with a grommet."
        return (
            Breach("engineered-never", Severity.CANNOT_TELL, says, diameter_in, largest_in, limits.source),
        )
    if not factory and limits.clause.slug != "steel-punched":
        says = f"Drill nothing: use the {what} of {cap(largest_in)} on the maker's chart; flanges never."
        return (Breach("engineered-never", Severity.STOP, says, diameter_in, largest_in, limits.source),)
    return ()


_SIZE_RULE = {"stud": "stud-hole-size", "joist": "joist-hole-size", "rafter": "joist-hole-size"}
_EDGE_RULE = {"stud": "stud-hole-edge", "joist": "joist-hole-edge", "rafter": "joist-hole-edge"}


def load_words(piece: Piece) -> str:
    """How the piece counts, as a finding says it."""
    if piece.role in ("joist", "rafter"):
        return f"{piece.role}"
    parts = ["exterior" if piece.exterior else "bearing" if piece.bearing else "non-bearing"]
    parts += ["doubled"] if piece.doubled else []
    return f"{', '.join(parts)} stud"


def _size(
    piece: Piece, limits: HoleLimits, diameter_in: float, adopted: Adopted, cures: tuple[Cure, ...]
) -> tuple[Breach, ...]:
    if limits.largest is None or piece.role in ("plate", "bottom plate"):
        return ()  # a plate is judged by its edges and its strap
    if fits_size(piece, diameter_in, adopted):
        return ()
    largest_in = float(limits.largest)
    says = (
        f"{found(diameter_in)} hole takes {percent(diameter_in / piece.depth_in)} of a "
        f"{found(piece.depth_in)} {load_words(piece)}; the limit is "
        f"{percent(largest_in / piece.depth_in)}, {cap(largest_in)}."
    )
    return (
        Breach(_SIZE_RULE[piece.role], Severity.STOP, says, diameter_in, largest_in, limits.source, cures),
    )


def _edges(
    piece: Piece,
    limits: HoleLimits,
    diameter_in: float,
    center_in: float,
    adopted: Adopted,
    cures: tuple[Cure, ...],
    faces: tuple[str, str],
) -> tuple[Breach, ...]:
    near_in, far_in = margins_in(piece.depth_in, diameter_in, center_in)
    edge_in, face = (near_in, faces[0]) if at_most(near_in, far_in) else (far_in, faces[1])
    least_in = float(limits.edge_min)
    if at_least(edge_in, least_in):
        return ()
    plate = piece.role in ("plate", "bottom plate")
    rule = "plate-hole-edge" if plate else _EDGE_RULE.get(piece.role, "stud-hole-edge")
    severity = Severity.FIX_SOON if plate and at_least(edge_in, 0.0) else Severity.STOP
    if below(edge_in, 0.0):
        left = f"The hole breaks out of the wood by {found(-edge_in)} at the {face}"
    else:
        left = f"The hole leaves {found(edge_in)} of wood at the {face}"
    says = f"{left}; at least {floor_text(least_in)} must stay."
    return (Breach(rule, severity, says, edge_in, least_in, limits.edge_clause.source, cures),)


def _cures(
    piece: Piece,
    diameter_in: float,
    center_in: float,
    adopted: Adopted,
    bits_in: tuple[float, ...],
    least_in: float,
    faces: tuple[str, str],
) -> tuple[Cure, ...]:
    """Changes that leave nothing broken, the lightest first."""
    cures: list[Cure] = []
    moved_in = nearest_center_in(piece, diameter_in, center_in, adopted)
    if moved_in is not None:
        says = f"Move the hole: center {found(moved_in)} from the {faces[0]}, same bit."
        cures.append(Cure("redrill_hole", diameter_in, moved_in, says))
    smaller = [
        bit
        for bit in bits_in
        if below(bit, diameter_in) and at_least(bit, least_in) and clear_span(piece, bit, adopted) is not None
    ]
    if smaller:
        bit_in = max(smaller)
        at_in = nearest_center_in(piece, bit_in, center_in, adopted)
        assert at_in is not None
        where = "" if near(at_in, center_in) else f", center {found(at_in)} from the {faces[0]}"
        cures.append(Cure("redrill_hole", bit_in, at_in, f"Use the {found(bit_in)} bit{where}."))
    cures += _requests(piece, diameter_in, center_in, adopted)
    return tuple(cures)


def _requests(piece: Piece, diameter_in: float, center_in: float, adopted: Adopted) -> list[Cure]:
    """What a framer could answer that makes the size legal; only where the size is what is wrong."""
    if piece.role != "stud" or piece.kind != "sawn" or fits_size(piece, diameter_in, adopted):
        return []
    cures: list[Cure] = []
    for wanted, ask, says in (
        (piece.but(doubled=True), "doubled", "Ask the framer to double this stud (not a third in a row)"),
        (piece.but(bearing=False), "non-bearing", "Ask the framer or engineer whether this wall bears"),
    ):
        at_in = nearest_center_in(wanted, diameter_in, center_in, adopted)
        if at_in is not None:
            told = f"{says}; until the answer is recorded this hole is not drilled."
            cures.append(Cure("ask", diameter_in, at_in, told, "framer", ask))
    return cures
