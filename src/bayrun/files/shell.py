"""The neutral shell: what an imported plan says about a building, before any framing is assumed.

Every importer (IFC now, others later) reads its file into these records; healing closes what
the file left open; only then is a job made of it. Nothing in here is invented: what was read,
assumed, mended, left out or not understood stands in the notes, by name and count.

Lengths are inches. Plan coordinates are x to the right and y up the sheet, as the file has them;
after healing the lower left corner of the building is at (0, 0). ``offset_in`` along a wall
counts from its ``start``; left is left of the direction start → end. Angles are kept as they are.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal, TypeVar

Point = tuple[float, float]
LevelRole = Literal["story", "foundation", "roof", "other"]
WallRole = Literal["wall", "foundation", "parapet", "low wall", "duplicate", "outside the stories"]
OpeningKind = Literal["door", "window", "void"]
LayerKind = Literal["board", "wood studs", "steel studs", "masonry", "glass", "insulation", "air", "other"]
SpaceRole = Literal["room", "roof", "outside", "other"]
NoteKind = Literal["read", "assumed", "mended", "left out", "not understood"]
End = Literal["start", "end"]
_Record = TypeVar("_Record")
Side = Literal["left", "right"]


class ImportRefused(Exception):
    """A file that cannot be imported; the message says what was expected, what was got and what to do."""


@dataclass(frozen=True, slots=True)
class ShellNote:
    """One thing a person should know about the import.

    Args:
        kind: What was done with it.
        text: One sentence in words of the trade.
        count: How many things it speaks of.
        names: Those things by name, as far as that helps (each name once).
    """

    kind: NoteKind
    text: str
    count: int = 1
    names: tuple[str, ...] = ()

    def __str__(self) -> str:
        listed = f" ({', '.join(self.names)})" if self.names else ""
        return f"{self.kind}: {self.text}{listed}"


@dataclass(frozen=True, slots=True)
class ShellLevel:
    """One story, or a level that only carries a foundation or a roof.

    Args:
        elevation_in: Height of its floor in the file's own heights [in].
        height_in: To the next story, or to the top of its walls for the last one [in].
        ceiling_in: Typical clear height of its rooms, where the file has rooms with heights [in].
    """

    name: str
    elevation_in: float
    height_in: float
    role: LevelRole = "story"
    ceiling_in: float | None = None


@dataclass(frozen=True, slots=True)
class ShellLayer:
    """One layer of a wall, from its left face to its right face."""

    name: str
    thickness_in: float
    kind: LayerKind = "other"


@dataclass(frozen=True, slots=True)
class ShellWall:
    """One straight wall piece of one level.

    Args:
        id: ``W1`` … in reading order (level, then place).
        label: Type name in the file, without its running number.
        start, end: Center line of the core: the studs, else the masonry, else the whole wall [in].
        thickness_in: Face to face, all layers [in].
        core_in: Depth of the core [in].
        core: What the core is made of, as far as the file tells.
        left_in, right_in: From the core's center line to each face [in].
        base_in: Its bottom above the level's elevation [in].
        height_in: Bottom to top [in].
        exterior, load_bearing: None where the file does not say.
        layers: From the left face to the right face; empty where the file has none.
        read_from: ``axis`` (reference line and layers), ``body`` (its solid), ``parts`` (its members).
        spacing_in: Stud spacing, where its type's name or its own studs tell it [in].
        stud_centers_in: Centers of the full studs it is drawn with, along it from its start [in].
        source_ref: Id of the entity in the file; pieces of one wall share it.
    """

    id: str
    label: str
    level: str
    start: Point
    end: Point
    thickness_in: float
    height_in: float
    base_in: float = 0.0
    core_in: float = 0.0
    core: LayerKind = "other"
    left_in: float = 0.0
    right_in: float = 0.0
    exterior: bool | None = None
    load_bearing: bool | None = None
    fire_rating: str | None = None
    layers: tuple[ShellLayer, ...] = ()
    role: WallRole = "wall"
    read_from: Literal["axis", "body", "parts"] = "axis"
    source_ref: str = ""
    spacing_in: float | None = None
    stud_centers_in: tuple[float, ...] = ()

    @property
    def length_in(self) -> float:
        """From start to end along the center line [in]."""
        return math.dist(self.start, self.end)

    @property
    def direction(self) -> Point:
        """Unit vector from start to end."""
        length_in = self.length_in
        return (self.end[0] - self.start[0]) / length_in, (self.end[1] - self.start[1]) / length_in

    def at(self, offset_in: float, left_in: float = 0.0) -> Point:
        """The plan point at an offset along the wall and a distance to its left [in]."""
        (dx, dy), (x, y) = self.direction, self.start
        return x + dx * offset_in - dy * left_in, y + dy * offset_in + dx * left_in

    def place(self, point: Point) -> tuple[float, float]:
        """Offset along the wall and distance to the left of its center line of a plan point [in]."""
        dx, dy = self.direction
        x, y = point[0] - self.start[0], point[1] - self.start[1]
        return x * dx + y * dy, y * dx - x * dy


@dataclass(frozen=True, slots=True)
class ShellOpening:
    """A door, a window, or a hole with nothing in it.

    Args:
        wall: Id of its wall.
        offset_in: Its low edge along the wall, from the wall's start [in].
        sill_in: Its bottom above the level's elevation [in].
        hinge_end: The end of the opening where the hinges are, where the file tells.
        swings_to: The side of the wall the leaf opens to, where the file tells.
    """

    id: str
    wall: str
    kind: OpeningKind
    label: str
    offset_in: float
    width_in: float
    sill_in: float
    height_in: float
    hinge_end: Literal["low", "high"] | None = None
    swings_to: Side | None = None
    source_ref: str = ""


@dataclass(frozen=True, slots=True)
class ShellSpace:
    """A room as the file has it: ``polygon`` runs along its inner faces.

    Args:
        name: Number or short name. long_name: The name a person reads.
        area_in2: Of the polygon [in2]. declared_in2: What the file itself says, or None [in2].
        height_in: Clear height of the space, or None [in].
    """

    name: str
    long_name: str
    level: str
    polygon: tuple[Point, ...]
    area_in2: float
    declared_in2: float | None = None
    height_in: float | None = None
    role: SpaceRole = "room"
    source_ref: str = ""

    @property
    def title(self) -> str:
        """The name to print: the long one with the number where both are there."""
        if self.long_name and self.name and self.long_name != self.name:
            return f"{self.long_name} {self.name}"
        return self.long_name or self.name


@dataclass(frozen=True, slots=True)
class ShellPiece:
    """A slab, roof, beam, column, stair, ceiling or joist: its outline in plan and its heights.

    ``z_bottom_in`` and ``z_top_in`` are in the file's own heights, like a level's elevation.
    """

    kind: str
    label: str
    level: str
    polygon: tuple[Point, ...]
    z_bottom_in: float
    z_top_in: float
    source_ref: str = ""


@dataclass(frozen=True, slots=True)
class ShellJoint:
    """One end of a wall meets another wall.

    Args:
        kind: ``corner`` (both end there), ``tee`` (it ends on the other's run), ``inline`` (one line).
        on_offset_in: Where on the other wall's center line [in].
        closed_in: How far the end was moved to meet it; negative where it was shortened [in].
    """

    wall: str
    end: End
    kind: Literal["corner", "tee", "inline"]
    on_wall: str
    on_offset_in: float
    closed_in: float


@dataclass(frozen=True, slots=True)
class ShellTrace:
    """Something of the file for the picture of the import.

    Args:
        kind: ``drawn`` (a line as the file has it, under everything else) or ``lost`` (something that was
            not understood: its outline, its line, or the place where it stands).
        says: What it is, for the key of the picture.
    """

    level: str
    kind: Literal["drawn", "lost"]
    points: tuple[Point, ...]
    says: str = ""


@dataclass(frozen=True, slots=True)
class Shell:
    """Everything an import understood of a building, with notes for the rest.

    Args:
        turned_degrees: How far healing turned the plan to square it up, counterclockwise.
    """

    source: str
    levels: tuple[ShellLevel, ...] = ()
    walls: tuple[ShellWall, ...] = ()
    openings: tuple[ShellOpening, ...] = ()
    spaces: tuple[ShellSpace, ...] = ()
    pieces: tuple[ShellPiece, ...] = ()
    joints: tuple[ShellJoint, ...] = ()
    notes: tuple[ShellNote, ...] = ()
    traces: tuple[ShellTrace, ...] = ()
    turned_degrees: float = 0.0

    @property
    def stories(self) -> tuple[ShellLevel, ...]:
        """The levels people live on, low to high."""
        return tuple(level for level in self.levels if level.role == "story")

    @property
    def story_walls(self) -> tuple[ShellWall, ...]:
        """The walls that stand in a story: no foundation, parapet, low wall or duplicate."""
        return tuple(wall for wall in self.walls if wall.role == "wall")

    @property
    def rooms(self) -> tuple[ShellSpace, ...]:
        """The spaces that are rooms of a story."""
        return tuple(space for space in self.spaces if space.role == "room")

    def level(self, name: str) -> ShellLevel:
        """The level of this name; KeyError where there is none."""
        return _named(self.levels, "name", name)

    def wall(self, wall_id: str) -> ShellWall:
        """The wall of this id; KeyError where there is none."""
        return _named(self.walls, "id", wall_id)

    def openings_of(self, wall_id: str) -> tuple[ShellOpening, ...]:
        """The openings of one wall, from its start."""
        return tuple(
            sorted((o for o in self.openings if o.wall == wall_id), key=lambda o: (o.offset_in, o.id))
        )

    def noted(self, *notes: ShellNote) -> Shell:
        """The shell with notes added."""
        return replace(self, notes=self.notes + notes)


def _named(records: tuple[_Record, ...], field: str, value: str) -> _Record:
    for record in records:
        if getattr(record, field) == value:
            return record
    raise KeyError(value)


def area_of(polygon: tuple[Point, ...]) -> float:
    """Area of a plan polygon without its sign [in2]."""
    return abs(signed_area_of(polygon))


def signed_area_of(polygon: tuple[Point, ...]) -> float:
    """Area of a plan polygon: positive where it runs counterclockwise [in2]."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(polygon, polygon[1:] + polygon[:1], strict=True)) / 2
