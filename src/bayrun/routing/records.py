"""Cells, places and endpoints of the passage graph. Records only.

A *cell* is clear space a cable may lie in: a bay, a strip between two joists, an attic. A *place* is
where a cable passes from one cell to another: a few slots for holes through one member, a factory
knockout, a sleeve, or a gap with no wood in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bayrun.geometry import Rect
from bayrun.routing.zones import Dear
from bayrun.wiring.records import Axis

Point3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Cell:
    """Clear space.

    Args:
        kind: ``bay`` (in a wall), ``strip`` (between two joists), ``open`` (attic, open-web floor).
        host: Wall or frame id.
        rect: For a bay, along × up in the wall; else the plan rectangle [in].
        run_z: World height cables run at in a strip or open space [in].
        blocked: Plan rectangles nothing may run through, in open space.
        axis: Direction of the frame's members.
        along_only: True where nothing may run along it (a sprinkler main lies there): crossing only.
    """

    id: str
    kind: Literal["bay", "strip", "open"]
    host: str
    level: str
    rect: Rect
    run_z: float = 0.0
    blocked: tuple[Rect, ...] = ()
    axis: Literal["x", "y"] = "x"
    crossing_only: bool = False
    factor: float = 1.0
    says: str = ""
    straight: bool = False
    """Cables run in straight lines here, by the firm's setting; square to the framing otherwise."""
    dear: tuple[Dear, ...] = ()
    """Where length counts more: under a low roof, along power."""
    line: tuple[float, float, float, float, float] = (0.0, 0.0, 1.0, 0.0, 0.0)
    """Of a bay's wall: start x and y, direction x and y, height of its subfloor in the world [in]."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One spot where a hole may go.

    Args:
        along_in, up_in, across_in: As in ``wiring.Hole``.
        at: Center in the world [in].
        a, b: Where the cable leaves the wood on the side of cell ``a`` and of cell ``b`` [in].
    """

    along_in: float
    up_in: float
    across_in: float
    at: Point3
    a: Point3
    b: Point3


@dataclass(frozen=True, slots=True)
class Place:
    """A way from one cell to another.

    Args:
        member: Member drilled; empty for a gap. ``plies`` are others the same bit passes.
        diameter_in: Largest hole planned here [in]; 0 for a gap.
        slots: Where holes may go, best first.
        fixed: A knockout or sleeve: the hole is there already, at its full size.
        open_price: What opening one hole costs [micro-currency].
        seal: Assembly the hole must be sealed in, or empty.
        set_by: ``choice`` where a person set this one hole and its bit, ``done`` where it is drilled already;
            empty where the plan decides.
        bit_in: The bit that was said or drilled; 0 where the smallest that takes what lies there is used
            [in].
    """

    id: str
    a: str
    b: str
    member: str
    axis: Axis
    diameter_in: float
    slots: tuple[Slot, ...]
    open_price: int
    plies: tuple[str, ...] = ()
    fixed: bool = False
    wall: str = ""
    level: str = ""
    seal: str = ""
    says: str = ""
    set_by: str = ""
    bit_in: float = 0.0


@dataclass(frozen=True, slots=True)
class Endpoint:
    """Where a run begins or ends: a point in a cell, with what it takes to get there from the cell.

    Args:
        id: Location or gear id, or ``enclosure/top``.
        at: The point [in].
        cell: Cell it lies in, or hangs from.
        drop: True where the cable leaves the cell's running height straight up or down to ``at``.
        extra_in: Length past the point that routing should weigh (the way through the enclosure) [in].
    """

    id: str
    at: Point3
    cell: str
    drop: bool = False
    extra_in: float = 0.0
