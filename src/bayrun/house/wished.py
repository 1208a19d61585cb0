"""What is wished in the house: locations, gear, enclosure candidates, conduits and runs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Mount = Literal["wall", "ceiling", "exterior", "soffit", "contact", "coil", "conduit"]
Feed = Literal["up", "down"]
GearKind = Literal["", "power", "termination", "network", "radio", "other"]


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
        device: What will stand there, in the device table's words (``camera`` …); empty: as its note says.
        device_w: What that device takes at most [W]; None takes the usual of its kind.
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
    device: str = ""
    device_w: float | None = None


@dataclass(frozen=True, slots=True)
class Gear:
    """Something that cables end on: inside the enclosure, or a device elsewhere at a point.

    Args:
        ports: Cables it takes; None where nobody said.
        supply_w: What it can give over all its cables together [W]; None where it feeds none, or nobody said.
        kind: What it is in the enclosure, for its place there; empty: as its words say.
        width_in, height_in, depth_in: Its size on the back of the box [in]; None: the usual of its words.
        positions: Terminations it offers, by letter of the cable kind: 24D 8X.
        watts: Drawn from the outlet [W]; 0 where it needs none.
        heat_w: What of that stays in the box as heat [W]; None: all of it.
        plug_in: Width of its plug along the strip [in]; 0 where it has none.
        outlets: Receptacle outlets it offers to the others.
        metal: A metal case: it shades an antenna beside it.
        enclosure: Which enclosure it is mounted in; empty: the chosen one.
    """

    id: str
    what: str
    in_enclosure: bool
    room: str = ""
    level: str = ""
    x_in: float | None = None
    y_in: float | None = None
    z_in: float | None = None
    slack_in: float | None = None
    ports: int | None = None
    supply_w: float | None = None
    kind: GearKind = ""
    width_in: float | None = None
    height_in: float | None = None
    depth_in: float | None = None
    positions: tuple[Port, ...] = ()
    watts: float | None = None
    heat_w: float | None = None
    plug_in: float | None = None
    outlets: int | None = None
    metal: bool | None = None
    enclosure: str = ""


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
        door_vent_in2: Free area of the openings at the door's bottom, and as much again at its top [sq in].
        metal: A metal box or door; None where nobody said.
        insulated_back: Insulation or foil behind it: no heat leaves at the back.
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
    door_vent_in2: float = 0.0
    metal: bool | None = None
    insulated_back: bool = False


@dataclass(frozen=True, slots=True)
class Conduit:
    """A conduit or sleeve; outside diameters decide holes, not trade sizes.

    Args:
        path: Its way in the world from pull point to pull point, corner by corner; empty: nobody said [in].
    """

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
    path: tuple[tuple[float, float, float], ...] = ()


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
