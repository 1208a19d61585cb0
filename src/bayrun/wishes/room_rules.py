"""The firm's room rules as data: what each kind of room gets, at which height, on which kind of wall.

Source of every count and height here: common practice, no source (runs by room and heights to the middle
of the box as low-voltage crews commonly quote them). A firm hands its own table to ``propose``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bayrun.house import Port, Room
from bayrun.house.wished import Mount

Seat = Literal["tv", "under tv", "second", "any", "ceiling", "entry", "service", "thermostat"]
"""How a place is looked for: the wall for a screen, the same bay under it, another wall, and so on."""

AREA_PER_ACCESS_POINT_FT2 = 1500.0
"""One ceiling access point a floor, and one more for every further piece of this size [ft2]; where 6 GHz is
wanted take 600 to 1,000. Common practice, no source."""
LOW_IN = 14.0
TV_IN = 62.0
COUNTER_IN = 44.0
SWITCH_LINE_IN = 48.0
THERMOSTAT_IN = 60.0
SERVICE_IN = 36.0


@dataclass(frozen=True, slots=True)
class Rule:
    """One location that a kind of room gets.

    Args:
        name: Slug.
        rooms: Kinds of rooms, best first where only one room of the house gets it.
        height_in: Middle of the box above the finished floor; a ceiling's is its own height [in].
        why: One line for the person who decides.
    """

    name: str
    rooms: tuple[str, ...]
    mount: Mount
    height_in: float
    ports: tuple[Port, ...]
    seat: Seat
    why: str


ROOM_RULES: tuple[Rule, ...] = (
    Rule(
        "living-tv-high",
        ("living",),
        "wall",
        TV_IN,
        (Port("D", 2), Port("X", 1)),
        "tv",
        "a screen on the wall takes 2 data and 1 coax behind it",
    ),
    Rule(
        "living-tv-low",
        ("living",),
        "wall",
        LOW_IN,
        (Port("D", 2),),
        "under tv",
        "what stands under the screen takes 2 data of its own",
    ),
    Rule(
        "bed-tv",
        ("bed",),
        "wall",
        TV_IN,
        (Port("D", 1), Port("X", 1)),
        "tv",
        "a bedroom screen takes 1 data and 1 coax",
    ),
    Rule(
        "bed-desk", ("bed",), "wall", LOW_IN, (Port("D", 1),), "second", "a desk or night stand takes 1 data"
    ),
    Rule("office-desk", ("office",), "wall", LOW_IN, (Port("D", 2),), "any", "a desk takes 2 data"),
    Rule(
        "office-second",
        ("office",),
        "wall",
        LOW_IN,
        (Port("D", 2),),
        "second",
        "a printer or second desk takes 2 data on another wall",
    ),
    Rule(
        "kitchen-counter",
        ("kitchen",),
        "wall",
        COUNTER_IN,
        (Port("D", 1),),
        "any",
        "a counter screen or desk nook takes 1 data",
    ),
    Rule(
        "garage-wall",
        ("garage",),
        "wall",
        SWITCH_LINE_IN,
        (Port("D", 1),),
        "any",
        "a door operator or vehicle charger takes 1 data",
    ),
)
"""What each room of a kind gets."""

ACCESS_POINT = Rule(
    "access-point",
    ("hall", "living", "dining", "office", "bed", "kitchen", "unfinished", "garage"),
    "ceiling",
    0.0,
    (Port("D", 1),),
    "ceiling",
    "every floor takes a ceiling access point, and one more for each further 1,500 square feet",
)
DOORBELL = Rule(
    "doorbell",
    ("hall", "living", "kitchen", "office"),
    "exterior",
    SWITCH_LINE_IN,
    (Port("D", 1), Port("B", 1)),
    "entry",
    "the front door takes 1 data and 1 bell pair",
)
SERVICE = Rule(
    "service-entry",
    (
        "garage",
        "mechanical",
        "utility",
        "laundry",
        "unfinished",
        "closet",
        "kitchen",
        "hall",
        "office",
        "living",
    ),
    "exterior",
    SERVICE_IN,
    (Port("D", 2), Port("X", 1)),
    "service",
    "the carriers' entry takes 2 data and 1 coax, with a conduit where the ground allows",
)
THERMOSTAT = Rule(
    "thermostat",
    ("hall", "living", "bed", "kitchen", "office"),
    "wall",
    THERMOSTAT_IN,
    (Port("T", 1),),
    "thermostat",
    "a thermostat stands on an inside wall; its cable goes to the air handler, not to the box",
)
SITE_RULES: tuple[Rule, ...] = (ACCESS_POINT, DOORBELL, SERVICE, THERMOSTAT)
"""What the house gets once, or once a floor."""

_ALIKE: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("garage", ("garage", "carport")),
    ("bath", ("bath", "powder", "toilet", "wc", "shower", "restroom")),
    ("bed", ("bed", "guest room", "nursery")),
    ("office", ("office", "study", "den", "library")),
    ("kitchen", ("kitchen", "pantry kitchen")),
    ("laundry", ("laundry", "wash")),
    ("mechanical", ("mechanical", "furnace", "plant room")),
    ("utility", ("utility", "tech")),
    ("closet", ("closet", "linen", "storage", "pantry", "wardrobe")),
    ("dining", ("dining",)),
    ("living", ("living", "family", "great room", "media", "lounge", "loft", "flex", "rec room")),
    ("unfinished", ("unfinished", "basement", "crawl")),
    ("hall", ("hall", "foyer", "entry", "corridor", "vestibule", "passage", "stair", "landing", "mud")),
)
KINDS = tuple(kind for kind, _ in _ALIKE)


def kind_of_room(room: Room) -> str:
    """The kind of a room in this table's words: its own kind, else what its name says, else empty."""
    if "dining" in room.name.lower():
        return "dining"  # often given as a living space, and no place for a screen
    for text in (room.kind.strip().lower(), room.name.strip().lower()):
        if text in KINDS:
            return text
        for kind, words in _ALIKE:
            if any(word in text for word in words):
                return kind
    return ""


def rules_for(room: Room, table: tuple[Rule, ...] = ROOM_RULES) -> tuple[Rule, ...]:
    """The rules of one room, in the table's order."""
    kind = kind_of_room(room)
    return tuple(rule for rule in table if kind in rule.rooms)
