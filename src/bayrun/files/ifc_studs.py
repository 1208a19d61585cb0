"""A wall that was drawn stick by stick in IFC: its studs and plates where they really stand."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

from bayrun.files.ifc_open import DAMAGED, Names, open_ifc, units_of
from bayrun.files.ifc_shapes import Shape, Shapes
from bayrun.files.ifc_walls import parts_of, read_wall
from bayrun.files.shell import ImportRefused, ShellWall


@dataclass(frozen=True, slots=True)
class Stick:
    """One piece of lumber in a wall.

    Args:
        role: ``stud`` (upright) or ``plate`` (lying, or a header or sill).
        from_in, to_in: Along the wall from its start [in].
        bottom_in, top_in: Above the bottom of the lowest piece [in].
        depth_in: Across the wall [in].
    """

    role: str
    from_in: float
    to_in: float
    bottom_in: float
    top_in: float
    depth_in: float

    @property
    def center_in(self) -> float:
        """Middle along the wall [in]."""
        return (self.from_in + self.to_in) / 2


@dataclass(frozen=True, slots=True)
class ElementedWall:
    """One wall built of sticks, as its own members tell.

    Args:
        length_in: Over its members, from the first stud's outer face to the last one's [in].
        spacing_in: The commonest distance between centers of neighboring full studs, or None [in].
        openings: (low, high, sill, head) of each hole cut in it [in].
    """

    label: str
    length_in: float
    height_in: float
    sticks: tuple[Stick, ...]
    spacing_in: float | None
    openings: tuple[tuple[float, float, float, float], ...]

    @property
    def studs(self) -> tuple[Stick, ...]:
        """Upright pieces, from the start of the wall, long before short."""
        return tuple(s for s in self.sticks if s.role == "stud")

    @property
    def plates(self) -> tuple[Stick, ...]:
        """Lying pieces, from the bottom."""
        return tuple(s for s in self.sticks if s.role == "plate")

    @property
    def full_studs(self) -> tuple[Stick, ...]:
        """The studs that run from bottom to top plate."""
        longest = max((s.top_in - s.bottom_in for s in self.studs), default=0.0)
        return tuple(s for s in self.studs if s.top_in - s.bottom_in > longest - 0.25)


def read_studs(path: str | Path) -> ElementedWall:
    """The first wall of an IFC file that is drawn with its members.

    Raises:
        ImportRefused: The file cannot be read, or no wall of it has members.
    """
    path = Path(path)
    model = open_ifc(path).model
    scale_in, angle_rad, _, _ = units_of(model)
    shapes, names = Shapes(scale_in, angle_rad), Names(model)
    try:
        for wall in sorted(model.by_type("IfcWall"), key=lambda w: (names(w.Name), w.GlobalId)):
            found = _framed(wall, shapes, names)
            if found is not None:
                return found
    except DAMAGED as error:
        raise ImportRefused(
            f"{path.name}: expected a wall with studs, got data that contradict themselves "
            f"({type(error).__name__})"
        ) from None
    raise ImportRefused(f"{path.name}: expected a wall drawn with its studs and plates, found none")


def _framed(wall: Any, shapes: Shapes, names: Names) -> ElementedWall | None:
    solids = [s for part in parts_of(wall) if part.is_a("IfcMember") for s in shapes.of(part)]
    if not solids:
        return None
    band = read_wall(wall, shapes, names(wall.Name), names).bands[0]
    line = ShellWall("", "", "", band.start, band.end, band.thickness_in, 0.0)
    floor = min(p[2] for s in solids for p in s.points)
    rough = [_stick(s, line, floor) for s in solids]
    first = min(s.from_in for s in rough)
    sticks = tuple(
        sorted(
            (
                Stick(s.role, s.from_in - first, s.to_in - first, s.bottom_in, s.top_in, s.depth_in)
                for s in rough
            ),
            key=lambda s: (
                s.role,
                round(s.from_in, 4),
                -round(s.top_in - s.bottom_in, 4),
                round(s.bottom_in, 4),
            ),
        )
    )
    openings = []
    for link in wall.HasOpenings or ():
        points = [p for s in shapes.of(link.RelatedOpeningElement) for p in s.points]
        along = [line.place((p[0], p[1]))[0] - first for p in points]
        openings.append(
            (min(along), max(along), min(p[2] for p in points) - floor, max(p[2] for p in points) - floor)
        )
    framed = ElementedWall(
        names(wall.Name),
        max(s.to_in for s in sticks),
        max(s.top_in for s in sticks),
        sticks,
        None,
        tuple(sorted(openings)),
    )
    full = framed.full_studs
    gaps = Counter(round(b.center_in - a.center_in, 2) for a, b in pairwise(full))
    common = max(gaps.items(), key=lambda g: (g[1], g[0]))[0] if gaps else None
    return ElementedWall(framed.label, framed.length_in, framed.height_in, sticks, common, framed.openings)


def _stick(solid: Shape, line: ShellWall, floor: float) -> Stick:
    places = [line.place((p[0], p[1])) for p in solid.points]
    along, across = [p[0] for p in places], [p[1] for p in places]
    heights = [p[2] - floor for p in solid.points]
    upright = max(heights) - min(heights) > max(along) - min(along)
    return Stick(
        "stud" if upright else "plate",
        min(along),
        max(along),
        min(heights),
        max(heights),
        max(across) - min(across),
    )
