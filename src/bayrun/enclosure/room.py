"""The room inside an enclosure: clear size, lanes, what entries at an edge keep free. Records and arithmetic
only.

Source: lanes and edges are common practice, no source (``tables/gear.toml``); a bend is the cable's own least
radius.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from bayrun.enclosure.gear import Piece, gear_table
from bayrun.geometry import at_least, at_most, below
from bayrun.house import Enclosure

Edge = Literal["top", "bottom"]


@dataclass(frozen=True, slots=True)
class Room:
    """The back of a box, its lower left inside corner at (0, 0).

    Args:
        width_in, height_in, depth_in: Clear inside [in].
        lane_in: Between pieces, for cables [in].
        edge_in: Between a piece and the sides of the box [in].
        top_in, bottom_in: Kept free under the top and over the bottom, where cables turn in [in].
        door_in: Kept between the deepest plug and the door [in].
        entry: The edge most low voltage enters by; terminations hang by it.
        power_edge: The edge power enters by.
        entry_x_in, power_x_in: Where on that edge, from the left inside [in].
    """

    width_in: float
    height_in: float
    depth_in: float
    lane_in: float = 1.0
    edge_in: float = 0.5
    top_in: float = 1.0
    bottom_in: float = 0.5
    door_in: float = 0.25
    entry: Edge = "top"
    power_edge: Edge = "bottom"
    entry_x_in: float | None = None
    power_x_in: float | None = None

    @property
    def usable_width_in(self) -> float:
        """Between the side lanes [in]."""
        return self.width_in - 2 * self.edge_in

    @property
    def usable_height_in(self) -> float:
        """Between the rooms of the entries [in]."""
        return self.height_in - self.top_in - self.bottom_in


@dataclass(frozen=True, slots=True)
class Place:
    """Lower left corner of a piece, from the lower left inside corner of the box [in]."""

    piece: str
    left_in: float
    bottom_in: float
    by_hand: bool = False


def room_of(box: Enclosure, bends_in: tuple[tuple[Edge, float], ...] = ()) -> Room:
    """The room inside a box.

    Args:
        box: Its outside; walls of the box are taken off.
        bends_in: (edge, widest least bend radius of the cables that enter there) pairs [in].
    """
    data = gear_table()["room"]
    side_in = data["side_in"]
    keeps = {"top": data["edge_in"], "bottom": data["edge_in"]}
    for edge, bend_in in bends_in:
        keeps[edge] = max(keeps[edge], bend_in)
    entry: Edge = max((e for e, _ in bends_in), key=lambda e: e == "top", default=_first_entry(box))
    low = [k for k in box.knockouts if k.use == "low voltage" and k.edge == entry]
    power = [k for k in box.knockouts if k.use == "power"]
    return Room(
        box.width_in - 2 * side_in,
        box.height_in - 2 * side_in,
        box.depth_in,
        data["lane_in"],
        data["edge_in"],
        keeps["top"],
        keeps["bottom"],
        data["door_in"],
        entry,
        power[0].edge if power else "bottom",
        sum(k.from_left_in for k in low) / len(low) - side_in if low else None,
        power[0].from_left_in - side_in if power else None,
    )


def _first_entry(box: Enclosure) -> Edge:
    return "top" if "top" in box.entries or not box.entries else "bottom"


def above_in(piece: Piece, room: Room) -> float:
    """Room kept over a piece for its cables, where they leave upward [in]."""
    return max(room.lane_in, piece.edge_room_in) if leaves(piece, room) == "top" else room.lane_in


def below_in(piece: Piece, room: Room) -> float:
    """Room kept under a piece for its cables, where they leave downward [in]."""
    return max(room.lane_in, piece.edge_room_in) if leaves(piece, room) == "bottom" else room.lane_in


def leaves(piece: Piece, room: Room) -> Edge:
    """The edge the cables of a piece leave by: power toward its feed, all else toward the entry."""
    return room.power_edge if piece.kind == "power" else room.entry


def depth_needed_in(piece: Piece, room: Room) -> float:
    """Depth of the box that a piece takes, plugs and door included [in]."""
    return piece.depth_in + piece.front_room_in + room.door_in


def conflicts(
    pieces: Iterable[Piece], places: Iterable[Place], room: Room
) -> tuple[tuple[str, str, str], ...]:
    """What is wrong with places: (piece, other piece or empty, what), each pair once, in the order given.

    ``overlaps`` lies on the other; ``lane`` is nearer than the lane or bend room; ``outside`` leaves the box;
    ``edge`` stands in the room of the sides or entries.
    """
    by_id = {piece.id: piece for piece in pieces}
    put = [(by_id[place.piece], place) for place in places]
    told: list[tuple[str, str, str]] = []
    for number, (piece, place) in enumerate(put):
        right_in, top_in = place.left_in + piece.width_in, place.bottom_in + piece.height_in
        inside = (
            at_least(place.left_in, 0.0)
            and at_least(place.bottom_in, 0.0)
            and at_most(right_in, room.width_in)
            and at_most(top_in, room.height_in)
        )
        if not inside:
            told.append((piece.id, "", "outside"))
        elif (
            below(place.left_in, room.edge_in)
            or below(room.width_in - room.edge_in, right_in)
            or below(place.bottom_in, room.bottom_in)
            or below(room.height_in - room.top_in, top_in)
        ):
            told.append((piece.id, "", "edge"))
        for other, where in put[number + 1 :]:
            told += _pair(piece, place, other, where, room)
    return tuple(told)


def _pair(one: Piece, at: Place, two: Piece, where: Place, room: Room) -> list[tuple[str, str, str]]:
    gap_x = max(where.left_in - at.left_in - one.width_in, at.left_in - where.left_in - two.width_in)
    over, under = (one, two) if at.bottom_in > where.bottom_in else (two, one)
    low, high = (where, at) if at.bottom_in > where.bottom_in else (at, where)
    gap_y = high.bottom_in - low.bottom_in - under.height_in
    if below(gap_x, 0.0) and below(gap_y, 0.0):
        return [(one.id, two.id, "overlaps")]
    if below(gap_x, room.lane_in) and below(gap_y, max(above_in(under, room), below_in(over, room))):
        return [(one.id, two.id, "lane")]
    return []
