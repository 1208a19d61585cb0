"""Members, bays and the whole frame of a house. Records only; the laying-out is beside them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bayrun.geometry import Box, Rect

Material = Literal["wood", "steel", "concrete", "I-joist", "truss", "engineered", "gypsum"]
Role = Literal[
    "stud",
    "end stud",
    "king",
    "jack",
    "cripple",
    "backing",
    "post",
    "header",
    "sill",
    "bottom plate",
    "top plate",
    "joist",
    "rafter",
    "I-joist",
    "floor truss chord",
    "roof truss chord",
    "edge member",
    "beam",
    "barrier",
    "concrete",
    "subfloor",
]


@dataclass(frozen=True, slots=True)
class Member:
    """One piece of framing (a plate or header with all its plies is one).

    A wall member lies in its wall's coordinates: ``along`` from the wall's start, ``up`` from the
    level's subfloor, ``across`` from the center line, left positive. A frame member lies in the
    world: ``along`` is its own direction, ``across`` the other plan axis, ``up`` world z.

    Args:
        id: Stable and readable: ``A-W26/stud-4``, ``A-W01/A-D01/king-low``, ``A-W26/top``, ``A-roof/7``.
        host: Id of its wall, frame, beam, post or barrier.
        plies: How many pieces thick (double top plate: 2).
        bearing: Carries load, or counts so.
        box: World box; for a wall that is not square to the axes, the box around it.
    """

    id: str
    host: str
    level: str
    role: Role
    material: Material
    along: tuple[float, float]
    up: tuple[float, float]
    across: tuple[float, float]
    box: Box
    plies: int = 1
    bearing: bool = True
    exterior: bool = False
    says: str = ""

    @property
    def depth_in(self) -> float:
        """Across the wall for a wall member; vertical depth for a frame member [in]."""
        if self.role in ("joist", "rafter", "I-joist", "edge member", "beam") or "chord" in self.role:
            return self.up[1] - self.up[0]
        return self.across[1] - self.across[0]

    @property
    def never_drilled(self) -> bool:
        """True for trusses, flanges, beams, headers, posts: no hole without a written engineer's answer."""
        return self.material in ("truss", "engineered", "concrete") or self.role in (
            "header",
            "post",
            "beam",
            "edge member",
            "backing",
        )


@dataclass(frozen=True, slots=True)
class Bay:
    """One clear rectangle of a wall between members, in wall coordinates.

    Args:
        id: ``A-W26/bay-4`` (pieces cut by an opening or obstacle get a, b … after it).
        clear: ``u`` along the wall, ``v`` up from the subfloor [in].
        low, high: Ids of the members that bound it toward the start and the end of the wall.
        under, over: Ids of what bounds it below and above (plate, sill, header, or an obstacle).
    """

    id: str
    wall: str
    level: str
    clear: Rect
    depth_in: float
    low: str
    high: str
    under: str
    over: str

    @property
    def clear_width_in(self) -> float:
        """Clear width along the wall [in]."""
        return self.clear.width

    @property
    def center_in(self) -> float:
        """Middle of the bay along the wall [in]."""
        return (self.clear.u0 + self.clear.u1) / 2


@dataclass(frozen=True, slots=True)
class Cover:
    """What lies directly over or under a plate, in the plate's wall coordinates.

    Args:
        member: Id of the member lying there.
        rect: ``u`` along the wall, ``v`` across it [in].
    """

    member: str
    rect: Rect


@dataclass(frozen=True, slots=True)
class Frame:
    """All members and bays of a house, with what lies over and under each plate.

    ``over`` maps a top plate's id to its covers, ``under`` a bottom plate's; both as sorted pairs
    so that the record stays immutable and prints in one order.
    """

    members: tuple[Member, ...]
    bays: tuple[Bay, ...]
    over: tuple[tuple[str, tuple[Cover, ...]], ...] = ()
    under: tuple[tuple[str, tuple[Cover, ...]], ...] = ()

    def member(self, member_id: str) -> Member:
        """The member of this id; KeyError where there is none."""
        for member in self.members:
            if member.id == member_id:
                return member
        raise KeyError(member_id)

    def of(self, host: str) -> tuple[Member, ...]:
        """Members of one wall or frame, in order along it."""
        return tuple(m for m in self.members if m.host == host)

    def bays_of(self, wall: str) -> tuple[Bay, ...]:
        """Bays of one wall, in order along it."""
        return tuple(b for b in self.bays if b.wall == wall)
