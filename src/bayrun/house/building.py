"""The building as the plan tells it: levels, walls with their framing facts, frames, obstacles.

Plan coordinates: x to the right along the front, y toward the back, walls by their framing
center line. Offsets along a wall count from its ``start``; left is left of the direction
start → end. z counts up from the subfloor of the first level. All lengths in inches.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from bayrun.geometry import Rect

Point = tuple[float, float]
Point3 = tuple[float, float, float]
Interval = tuple[float, float]
RectTuple = tuple[float, float, float, float]
End_ = Literal["start", "end"]
Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a build-up."""

    name: str
    thickness_in: float


@dataclass(frozen=True, slots=True)
class Level:
    """One story.

    Args:
        id: Short name printed on sheets: ``1``, ``2``, ``B``.
        subfloor_z_in: Top of the subfloor or slab [in].
        plate_top_in: Top of the top plate above the subfloor [in]; in a basement without framed
            outer walls, the underside of the joists.
        ceiling_board_in, wall_board_in: Drywall thickness [in].
        floor_build_up: Finish layers on the subfloor; a room may say otherwise.
        slab: True where the subfloor is a slab on the ground: nothing can go down.
        grade_z_in: Outside grade, where it is known [in].
    """

    id: str
    subfloor_z_in: float
    plate_top_in: float
    ceiling_board_in: float = 0.625
    wall_board_in: float = 0.5
    floor_build_up: tuple[Layer, ...] = ()
    slab: bool = False
    stud_length_in: float | None = None
    grade_z_in: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Room:
    """A room by its name; ``polygon`` runs along wall center lines.

    Args:
        kind: ``bed``, ``bath``, ``hall``, ``closet``, ``living``, ``kitchen``, ``laundry``, ``garage`` …
        floor_finish_in: Build-up of this room's floor [in].
        floor_drop_in: How far its subfloor lies below the level's (a garage slab) [in].
    """

    name: str
    level: str
    kind: str
    polygon: tuple[Point, ...]
    floor_finish_in: float = 0.0
    floor_drop_in: float = 0.0


@dataclass(frozen=True, slots=True)
class Layout:
    """How the studs were laid out: from which plate end, and where the first stud's center is.

    ``first_mark_in`` counts from that plate end to the center of the first layout stud [in].
    """

    origin: End_ = "start"
    first_mark_in: float = 16.0


@dataclass(frozen=True, slots=True)
class Plates:
    """Plies of the bottom and top plate and what they are made of."""

    bottom: int = 1
    top: int = 2
    material: str = "wood"


@dataclass(frozen=True, slots=True)
class FacePiece:
    """A stretch of one wall face: the room it shows to, and its finish."""

    room: str
    from_in: float
    to_in: float
    finish: str = ""


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall with its framing facts.

    Args:
        core: ``2x4``, ``2x6``, ``steel 3-5/8``, ``concrete 8`` …
        thickness_in: Depth of the studs (core depth, no boards) [in].
        spacing_in: Stud spacing on center [in].
        bearing: None means nobody said: it counts as bearing.
        rated: What the fire rating is, or None.
        membrane_in: Boards that run through behind the studs' ends (party walls) [in].
        layout: None for a wall without studs (concrete).
        plate_start_in, plate_end_in: Where the plates begin and end, as offsets from ``start`` [in].
        wood_studs_in: In a steel wall, centers of the studs that are wood [in].
    """

    id: str
    level: str
    start: Point
    end: Point
    core: str
    thickness_in: float
    plate_start_in: float
    plate_end_in: float
    spacing_in: float = 16.0
    stud_width_in: float = 1.5
    bearing: bool | None = None
    exterior: bool = False
    rated: str | None = None
    membrane_in: float = 0.0
    layout: Layout | None = Layout()
    plates: Plates = Plates()
    left: tuple[FacePiece, ...] = ()
    right: tuple[FacePiece, ...] = ()
    separation: str = ""
    wet: bool = False
    outside_foam_in: float = 0.0
    sheathed: bool = False
    """Wood structural panels cover one whole side (waives the plate strap on that side)."""
    wood_studs_in: tuple[float, ...] = ()
    note: str = ""

    @property
    def length_in(self) -> float:
        """From start to end along the center line [in]."""
        return math.dist(self.start, self.end)

    @property
    def direction(self) -> Point:
        """Unit vector from start to end."""
        length = self.length_in
        return (self.end[0] - self.start[0]) / length, (self.end[1] - self.start[1]) / length

    @property
    def framed(self) -> bool:
        """True where the wall has studs."""
        return self.layout is not None

    @property
    def steel(self) -> bool:
        """True for light steel framing."""
        return self.core.startswith("steel")

    @property
    def counts_as_bearing(self) -> bool:
        """Bearing, exterior, or unknown: the careful reading."""
        return self.exterior or self.bearing is not False


@dataclass(frozen=True, slots=True)
class Joint:
    """How one end of a wall meets another wall. Joints are data, never found by comparing.

    Args:
        wall: The wall whose end this is.
        end: Which end.
        kind: ``corner, runs through``, ``corner, butts``, ``tee``, ``inline``.
        on_wall, on_offset_in: The wall it meets and the offset there [in].
        width_in: Thickness of the wall that ends here: a tee takes backing that wide [in].
        plate_shift_in: How far the plate stops short of (+) or passes (-) the node [in].
    """

    wall: str
    end: End_
    kind: str
    on_wall: str
    on_offset_in: float
    width_in: float
    plate_shift_in: float


@dataclass(frozen=True, slots=True)
class Opening:
    """A door, window or cased opening; offsets and sizes of the rough opening, heights above subfloor."""

    id: str
    wall: str
    kind: str
    offset_in: float
    width_in: float
    sill_in: float
    height_in: float
    header_depth_in: float
    rooms: tuple[str, ...] = ()
    swings_into: str | None = None
    hinge_end: Literal["low", "high"] | None = None
    note: str = ""

    @property
    def head_in(self) -> float:
        """Top of the rough opening above the subfloor [in]."""
        return self.sill_in + self.height_in

    @property
    def is_window(self) -> bool:
        """True where there is wall under it."""
        return self.sill_in > 0


@dataclass(frozen=True, slots=True)
class OpenEdge:
    """Two rooms of one space: a line with no wall on it."""

    level: str
    rooms: tuple[str, ...]
    line: tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Knockouts:
    """A maker's chart reduced to its data: factory knockouts in an I-joist web."""

    diameter_in: float
    every_in: float
    source: str


@dataclass(frozen=True, slots=True)
class EdgeMember:
    """A rim, trimmer, header or gable truss of a frame, by its plan rectangle."""

    name: str
    rect: RectTuple
    drop_dead: bool = True


@dataclass(frozen=True, slots=True)
class FloorFrame:
    """One field of joists or trusses, all in one direction.

    Args:
        kind: ``sawn joists``, ``I-joists``, ``open-web floor trusses``, ``roof trusses``,
            ``low-slope roof trusses``, ``ceiling joists``.
        above_level: Level whose ceiling it is; None for a floor over the ground.
        below_level: Level whose floor it is; None for a roof.
        area: Plan rectangle [in].
        direction: Axis the members run along.
        positions_in: Centers of the members across the direction; empty means
            ``first_member_in``, every ``spacing_in``, to ``last_member_in``.
        z_bottom_in, z_top_in: Lowest and highest face of the members (bottom chord of roof trusses) [in].
        spans_in: Intervals along the direction between bearings.
        chord_depth_in: Depth of one chord of an open-web truss [in].
        knockouts: The maker's chart of an I-joist; None means nobody has it: cannot tell.
    """

    id: str
    kind: str
    area: RectTuple
    direction: Literal["x", "y"]
    member_width_in: float
    member_depth_in: float
    z_bottom_in: float
    z_top_in: float
    above_level: str | None = None
    below_level: str | None = None
    spacing_in: float | None = None
    first_member_in: float | None = None
    last_member_in: float | None = None
    positions_in: tuple[float, ...] = ()
    flange_depth_in: float | None = None
    chord_depth_in: float | None = None
    spans_in: tuple[Interval, ...] = ()
    knockouts: Knockouts | None = None
    edge_members: tuple[EdgeMember, ...] = ()
    nominal: str = ""
    note: str = ""

    @property
    def rect(self) -> Rect:
        """The plan area."""
        return Rect(*self.area)

    def members_in(self) -> tuple[float, ...]:
        """Centers of the repeated members across the direction, low to high [in]."""
        if self.positions_in:
            return self.positions_in
        if self.first_member_in is None or self.last_member_in is None or not self.spacing_in:
            return ()
        count = int((self.last_member_in - self.first_member_in) / self.spacing_in + 1e-9) + 1
        return tuple(self.first_member_in + i * self.spacing_in for i in range(count))


@dataclass(frozen=True, slots=True)
class FloorOpening:
    """A hole in frames: a stair or a void."""

    id: str
    frames: tuple[str, ...]
    what: str
    rect: RectTuple


@dataclass(frozen=True, slots=True)
class Beam:
    """A beam: flush in frames, or dropped below them (then ``z_in`` is given)."""

    id: str
    what: str
    rect: RectTuple
    in_frames: tuple[str, ...] = ()
    z_in: Interval | None = None


@dataclass(frozen=True, slots=True)
class Post:
    """A post, by its plan rectangle on one level."""

    id: str
    what: str
    level: str
    rect: RectTuple


@dataclass(frozen=True, slots=True)
class Stair:
    """A stair and the (level, room) pairs it joins."""

    id: str
    what: str
    rooms: tuple[tuple[str, str], ...]
    rect: RectTuple


@dataclass(frozen=True, slots=True)
class Roof:
    """Slope of a roof, for the headroom over a place.

    Args:
        pitch_rise, pitch_run: 6 in 12 is 6 and 12.
        heel_in: Height of the truss at the outer face of the plate [in].
        ridge_axis, ridge_at_in: The ridge line, e.g. along ``x`` at y = 180; None where there is none.
        frames: Attic frames it lies over; empty where nobody said: the nearest ridge counts.
    """

    id: str
    pitch_rise: float
    pitch_run: float
    heel_in: float
    ridge_axis: Literal["x", "y"] | None = None
    ridge_at_in: float | None = None
    overhang_in: float = 0.0
    deck: str = ""
    access: str = ""
    frames: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PassPoint:
    """The one legal way through a barrier: a sleeve."""

    id: str
    x_in: float
    y_in: float
    z_in: float
    diameter_in: float


@dataclass(frozen=True, slots=True)
class Barrier:
    """A separation that every cable crossing it must be sealed through, or may not cross at all.

    Args:
        kind: In words: ``dwelling-garage separation``, ``draftstop …``, ``2-hour party wall …``.
        lines: Plan lines it stands on; empty where it is a ceiling or every plate hole.
        levels: Levels it stands on, or ``attic``.
        frames: Frames whose depth it fills.
        needs_seal: False with lines means nothing passes.
        pass_point: The sleeve, where there is one.
        depth_in: Thickness of its board [in].
    """

    id: str
    kind: str
    lines: tuple[tuple[Point, Point], ...] = ()
    levels: tuple[str, ...] = ()
    frames: tuple[str, ...] = ()
    needs_seal: bool = False
    pass_point: PassPoint | None = None
    legal_way: str = ""
    depth_in: float = 0.625
    note: str = ""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something of another trade that a cable or a hole must keep clear of.

    Exactly one shape is given: ``rect`` with ``z_in``; ``center`` and ``diameter_in`` with ``z_in``;
    or ``path`` (a power run). ``frames`` with ``z_above_frame_bottom_in`` places it in a floor.

    Args:
        kind: In words: ``vent pipe 2 in``, ``power panel``, ``power run 14/2``, ``kitchen cabinets`` …
        clearance_in: Margin the firm or the maker wants around it [in].
        passes_over_in: Least height of a square crossing above it (a sprinkler main) [in].
    """

    id: str
    kind: str
    levels: tuple[str, ...] = ()
    rect: RectTuple | None = None
    z_in: Interval | None = None
    center: tuple[float | None, float | None] | None = None
    diameter_in: float | None = None
    path: tuple[Point3, ...] = ()
    circuits: int = 0
    wall: str | None = None
    frames: tuple[str, ...] = ()
    z_above_frame_bottom_in: float | None = None
    clearance_in: float = 0.0
    passes_over_in: float | None = None
    chase: RectTuple | None = None
    rule: str = ""
    note: str = ""

    @property
    def is_power_run(self) -> bool:
        """True for a power cable: judged by separation, not by collision."""
        return bool(self.path)
