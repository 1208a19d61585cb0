"""What is drilled, in the words a clause uses: kind, role, depth, load."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

Kind = Literal["sawn", "I-joist", "open-web truss", "truss", "engineered", "steel", "concrete", "gypsum"]
PieceRole = Literal[
    "stud",
    "plate",
    "bottom plate",
    "joist",
    "rafter",
    "beam",
    "header",
    "post",
    "subfloor",
    "edge",
    "backing",
]


@dataclass(frozen=True, slots=True)
class Piece:
    """One member as the hole rules see it.

    Args:
        kind: What it is made as.
        role: What it does. King, jack and cripple are studs; ``plate`` is a top plate with all its plies.
        depth_in: Actual depth the hole is measured against, never the nominal one: across the wall for studs
            and plates, vertical for joists [in].
        bearing: True where it carries load or nobody said.
        exterior: True in an exterior wall; it counts with bearing ones.
        doubled: True where two studs stand together as one.
        sheathed: True where wood structural panels cover one whole side of the wall.
        knockout_in: Of the factory knockouts of an I-joist, by its maker's chart; None: no chart [in].
    """

    kind: Kind
    role: PieceRole
    depth_in: float
    bearing: bool = True
    exterior: bool = False
    doubled: bool = False
    sheathed: bool = False
    knockout_in: float | None = None

    @property
    def loaded(self) -> bool:
        """Bearing or exterior: the clauses treat both alike."""
        return self.bearing or self.exterior

    @property
    def depth(self) -> Fraction:
        """The depth as an exact fraction [in]."""
        return Fraction(self.depth_in)

    def but(self, **changes: object) -> Piece:
        """The piece with some facts changed, to ask "what if"."""
        return replace(self, **changes)  # type: ignore[arg-type]
