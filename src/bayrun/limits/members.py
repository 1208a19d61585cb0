"""The limits of one framing member, as routing, rules and takeoff ask for them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from bayrun.findings import Source
from bayrun.framing.records import Member
from bayrun.geometry import below
from bayrun.house import Knockouts, Wall
from bayrun.limits.bore import HoleLimits, clear_span, hole_limits
from bayrun.limits.pieces import Kind, Piece, PieceRole
from bayrun.limits.steel import nail_plates_needed, plate_free_interval, strap_needed
from bayrun.tables import Adopted

_ROLES: dict[str, PieceRole] = {
    "stud": "stud",
    "end stud": "stud",
    "king": "stud",
    "jack": "stud",
    "cripple": "stud",
    "sill": "stud",
    "backing": "backing",
    "post": "post",
    "header": "header",
    "bottom plate": "bottom plate",
    "top plate": "plate",
    "joist": "joist",
    "rafter": "rafter",
    "I-joist": "joist",
    "floor truss chord": "joist",
    "roof truss chord": "joist",
    "edge member": "edge",
    "beam": "beam",
    "barrier": "subfloor",
    "concrete": "post",
    "subfloor": "subfloor",
}


class Drilled(Protocol):
    """What the limits need to know of a planned hole; ``wiring.Hole`` is one."""

    @property
    def axis(self) -> str:
        """Which way the bit goes: along, up or across."""

    @property
    def along_in(self) -> float:
        """From the near end of the wall or joist [in]."""

    @property
    def up_in(self) -> float:
        """Height [in]."""

    @property
    def across_in(self) -> float:
        """From the wall's center line, left positive; for a joist from its bottom [in]."""

    @property
    def diameter_in(self) -> float:
        """Of the hole [in]."""

    @property
    def open_passage(self) -> bool:
        """True where nothing is drilled."""


@dataclass(frozen=True, slots=True)
class MemberLimits:
    """What one member allows holes, in floats for use along the way.

    Args:
        largest_in: Largest hole; None where none may be drilled; infinite where no code says [in].
        edge_min_in: Least wood to each edge [in].
        gap_min_in: Least wood to another hole, the code's or the firm's, whichever is more [in].
        strap_over_in: A hole larger than this asks a strap; None where none ever does [in].
        source: Where the size limit stands.
        why_never: Why there may be no hole; empty where there may.
        cannot_tell: What is missing; empty where nothing is. No hole is planned then.
        only_factory: Factory holes and openings may be used, nothing drilled.
        factory_in: Diameter of the factory holes where known [in].
        piece: The member in the clause's words.
    """

    largest_in: float | None
    edge_min_in: float
    gap_min_in: float
    strap_over_in: float | None
    source: Source
    why_never: str
    cannot_tell: str
    only_factory: bool
    factory_in: float | None
    piece: Piece


def piece_of(
    member: Member,
    *,
    wall: Wall | None = None,
    knockouts: Knockouts | None = None,
    doubled: bool | None = None,
) -> Piece:
    """A framing member in the words of the hole clauses.

    Args:
        member: From the frame.
        wall: Its wall; tells of sheathing (a waiver of the strap). None is the careful reading.
        knockouts: The maker's chart of its frame, for an I-joist.
        doubled: True where the framer has answered that it is doubled; None reads the plies.
    """
    role = _ROLES[member.role]
    kind: Kind = "sawn"
    if member.material == "I-joist" or member.role == "I-joist":
        kind = "I-joist"
    elif member.role == "floor truss chord":
        kind = "open-web truss"
    elif member.material == "truss":
        kind = "truss"
    elif member.material in ("engineered", "steel", "concrete", "gypsum"):
        kind = member.material
    if kind == "engineered" and role in ("edge", "beam", "header", "post"):
        kind = "sawn" if role == "edge" else kind
    return Piece(
        kind=kind,
        role=role,
        depth_in=member.depth_in,
        bearing=member.bearing,
        exterior=member.exterior,
        doubled=member.plies >= 2 and role == "stud" if doubled is None else doubled,
        sheathed=wall is not None and wall.sheathed,
        knockout_in=None if knockouts is None else knockouts.diameter_in,
    )


def limits_of(
    member: Member,
    adopted: Adopted,
    *,
    wall: Wall | None = None,
    knockouts: Knockouts | None = None,
    doubled: bool | None = None,
    firm_gap_in: float = 0.0,
) -> MemberLimits:
    """What one framing member allows holes.

    Args:
        member: From the frame.
        adopted: The clauses in force (``tables.adopt_careful(practice.editions)``).
        wall, knockouts, doubled: As in ``piece_of``.
        firm_gap_in: The firm's least wood between holes (``practice.hole_gap_in``) [in].
    """
    piece = piece_of(member, wall=wall, knockouts=knockouts, doubled=doubled)
    limits = hole_limits(piece, adopted)
    largest_in: float | None = float("inf") if limits.largest is None else float(limits.largest)
    factory_in = float(limits.largest) if limits.only_factory and limits.largest is not None else None
    if not limits.allowed or limits.only_factory:
        largest_in = None
    strap_over_in = None
    if strap_needed(piece, member.depth_in, adopted):
        strap_over_in = float(adopted.value("plate-tie", "share") * piece.depth)
    return MemberLimits(
        largest_in=largest_in,
        edge_min_in=float(limits.edge_min),
        gap_min_in=max(float(limits.gap_min), firm_gap_in),
        strap_over_in=strap_over_in,
        source=limits.source,
        why_never=limits.why_never,
        cannot_tell=limits.cannot_tell,
        only_factory=limits.only_factory,
        factory_in=factory_in,
        piece=piece,
    )


def exact_limits(limits: MemberLimits, adopted: Adopted) -> HoleLimits:
    """The exact clause behind ``limits_of``."""
    return hole_limits(limits.piece, adopted)


def across_span(member: Member, diameter_in: float, adopted: Adopted) -> tuple[float, float] | None:
    """Where a hole's center may lie by structure, in the coordinate ``Hole.across_in`` uses.

    For studs and plates that is from the wall's center line, left positive; for joists from the bottom.

    Returns:
        (low, high) [in], or None where no center is allowed.
    """
    piece = piece_of(member)
    span = clear_span(piece, diameter_in, adopted)
    if span is None:
        return None
    base_in = _base_in(member)
    return base_in + span[0], base_in + span[1]


def across_plate_free(member: Member, diameter_in: float, adopted: Adopted) -> tuple[float, float] | None:
    """Where a hole's center needs no nail plate, in the coordinate of ``Hole.across_in``; None: nowhere."""
    span = plate_free_interval(member.depth_in, diameter_in, adopted)
    if span is None:
        return None
    base_in = _base_in(member)
    return base_in + span[0], base_in + span[1]


def _base_in(member: Member) -> float:
    return 0.0 if _vertical(member) else member.across[0]


def _vertical(member: Member) -> bool:
    """True where the hole is measured up the member (joists), not across a wall."""
    return _ROLES[member.role] in ("joist", "rafter", "beam", "edge")


def margins_of(hole: Drilled, member: Member) -> tuple[float, float]:
    """Wood beside a hole: to the right and the left face of a wall, or to bottom and top of a joist [in]."""
    center_in = hole.across_in - _base_in(member)
    return center_in - hole.diameter_in / 2, member.depth_in - center_in - hole.diameter_in / 2


def plates_for(hole: Drilled, member: Member, adopted: Adopted) -> tuple[str, ...]:
    """The faces of a member that need a steel nail plate over a hole: for takeoff and rules alike.

    Holes through several plies (double plate, king and jack) count once: one plate per face over all plies.
    Steel studs take a grommet in their punched hole, no plate; nor do openings that are not drilled.

    Returns:
        ``right``, ``left`` in the wall's direction; ``bottom``, ``top`` for joists; in that order.
    """
    if hole.open_passage or member.material not in ("wood", "engineered"):
        return ()
    if _ROLES[member.role] in ("subfloor", "backing"):
        return ()
    names = ("bottom", "top") if _vertical(member) else ("right", "left")
    center_in = hole.across_in - _base_in(member)
    faces = nail_plates_needed(member.depth_in, hole.diameter_in, center_in, adopted)
    return tuple(name for name, face in zip(names, ("near", "far"), strict=True) if face in faces)


def strap_for(hole: Drilled, member: Member, adopted: Adopted, *, wall: Wall | None = None) -> bool:
    """True where a hole in a top plate asks a steel strap (bearing or exterior, over half the width)."""
    if hole.open_passage:
        return False
    return strap_needed(piece_of(member, wall=wall), hole.diameter_in, adopted)


def clear_between_in(a: Drilled, b: Drilled) -> float:
    """Clear wood between two holes of one member, along its faces [in]."""
    if a.axis == "along":  # a stud: up and across
        du, dv = a.up_in - b.up_in, a.across_in - b.across_in
    else:  # a plate or joist: along and across
        du, dv = a.along_in - b.along_in, a.across_in - b.across_in
    return float((du * du + dv * dv) ** 0.5 - (a.diameter_in + b.diameter_in) / 2)


def too_near(a: Drilled, b: Drilled, gap_in: float) -> bool:
    """True where two holes leave less wood between them than ``gap_in``."""
    return below(clear_between_in(a, b), gap_in)
