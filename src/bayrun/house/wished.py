"""What is wished in the house: locations, gear, enclosure candidates, conduits and runs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Mount = Literal["wall", "ceiling", "exterior", "soffit", "contact", "coil", "conduit"]
Feed = Literal["up", "down"]


@dataclass(frozen=True, slots=True)
class Port:
    """``count`` cables of one kind at a location."""

    kind: str
    count: int


@dataclass(frozen=True, slots=True)
class Location:
    """A box or ring in a wall or ceiling. It holds ports; it is not a cable and not an outlet.

    On a wall: ``wall``, ``offset_in`` along it from its start, and ``side`` (the face it shows to).
    In a ceiling or soffit: ``x_in``, ``y_in``.

    Args:
        height_in: Above the finished floor of its room, to the middle of the box [in].
        slack_in: Cable left at the location; None takes the firm's slack for its mount [in].
        feed: Which way its cables should leave, where a person has said so.
        reason: Why it was proposed, for a location that a rule proposed.
    """

    id: str
    room: str
    level: str
    mount: Mount
    height_in: float
    wall: str | None = None
    offset_in: float | None = None
    side: Literal["left", "right", "exterior"] | None = None
    x_in: float | None = None
    y_in: float | None = None
    ports: tuple[Port, ...] = ()
    slack_in: float | None = None
    feed: Feed | None = None
    note: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Gear:
    """Something that cables end on: inside the enclosure, or a device elsewhere at a point."""

    id: str
    what: str
    in_enclosure: bool
    room: str = ""
    level: str = ""
    x_in: float | None = None
    y_in: float | None = None
    z_in: float | None = None
    slack_in: float | None = None


@dataclass(frozen=True, slots=True)
class Knockout:
    """One knockout of an enclosure: which edge, how far from its left end, how wide."""

    edge: Literal["top", "bottom"]
    from_left_in: float
    diameter_in: float
    use: Literal["low voltage", "power", "spare"] = "low voltage"


@dataclass(frozen=True, slots=True)
class AcFeed:
    """How the licensed electrician brings power to the enclosure. None means nobody said yet.

    Args:
        way: In words: from below, or down the next bay and through the shared stud.
        bay_studs_in: Centers of the studs of the bay it comes down, as wall offsets [in].
        hole_height_in: Height of its hole in the shared stud above the subfloor [in].
        staple_from_box_in, staple_from_emergence_in: Distance of the supports [in].
        clamped: True where the box has an internal clamp.
        tail_in: Free conductor inside [in].
        barrier: True where power and low voltage are parted inside.
        gfci, afci: As asked of the electrician; None where nobody said.
    """

    way: str
    from_panel: str = ""
    bay_studs_in: tuple[float, float] | None = None
    hole_height_in: float | None = None
    hole_diameter_in: float | None = None
    staple_from_box_in: float | None = None
    staple_from_emergence_in: float | None = None
    clamped: bool | None = None
    tail_in: float | None = None
    barrier: bool | None = None
    gfci: bool | None = None
    afci: bool | None = None


@dataclass(frozen=True, slots=True)
class Enclosure:
    """One candidate place for the flush media enclosure.

    Args:
        bay_studs_in: Centers of the two studs of its bay, as wall offsets [in].
        width_in, height_in, depth_in: Of the box, free values from the firm's table [in].
        center_aff_in: Middle of the box above the finished floor [in].
        entries: Which ends low voltage may enter.
        fixing_points: (from left, from bottom) of the screw places [in].
    """

    id: str
    wall: str
    level: str
    room: str
    side: Literal["left", "right"]
    bay_studs_in: tuple[float, float]
    width_in: float
    height_in: float
    depth_in: float
    center_aff_in: float = 48.0
    entries: tuple[Literal["top", "bottom"], ...] = ("top",)
    ac_feed: AcFeed | None = None
    fixing_points: tuple[tuple[float, float], ...] = ()
    knockouts: tuple[Knockout, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Conduit:
    """A conduit or sleeve; outside diameters decide holes, not trade sizes."""

    id: str
    size: str
    outside_diameter_in: float
    from_place: str
    to_place: str
    hole_in: float | None = None
    in_wall: str | None = None
    riser: str | None = None
    hole_height_in: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Riser:
    """A bay kept for ways up and down through stacked walls; ``positions_in`` are world coordinates."""

    id: str
    what: str
    walls: tuple[str, ...]
    positions_in: tuple[float, ...]
    frames: tuple[str, ...] = ()
    hole_in: float | None = None


@dataclass(frozen=True, slots=True)
class End:
    """One end of a run."""

    type: Literal["location", "enclosure", "device"]
    id: str


@dataclass(frozen=True, slots=True)
class WishedRun:
    """One cable end to end, as wished: ``from_end`` is the end it is pulled from.

    Args:
        id: Written on the cable; never reused.
        kind: Letter of the cable kind.
        gear: The gear it ends on inside the enclosure, where it does.
        spare: True where it is left unconnected and must be tagged.
    """

    id: str
    kind: str
    from_end: End
    to_end: End
    gear: str = ""
    spare: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class NowOrNever:
    """A deadline after which places cannot be reached, as a person listed them."""

    deadline: str
    why: str
    locations: tuple[str, ...] = ()
    items: tuple[str, ...] = ()
