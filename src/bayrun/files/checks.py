"""What must hold between the values of one record of a job file, so that a Job can be trusted.

These are defects of the file, told with their place. Contradictions of a readable house (a location
on a stud, a box wider than its bay) are findings of ``house.check``.
"""

from __future__ import annotations

from bayrun import house
from bayrun.files.codecs import Reading
from bayrun.files.yaml_text import Mapping, Node, Scalar, Sequence
from bayrun.geometry import at_most, near
from bayrun.tables import check_amendments

OUTSIDE = "outside"
"""What a wall face or an opening shows to where there is no room."""


def _room(name: Node | None, level: str, where: str, reading: Reading) -> None:
    if isinstance(name, Scalar) and name.text and name.text != OUTSIDE:
        reading.refer("room", f"{level}\x00{name.text}", name, where)


def check_room(room: house.Room, node: Mapping, where: str, reading: Reading) -> None:
    """A room's name is its id on its level."""
    name = node.get("name")
    assert isinstance(name, Scalar)
    reading.name("room", f"{room.level}\x00{room.name}", name, f"{where} › name")


def check_wall(wall: house.Wall, node: Mapping, where: str, reading: Reading) -> None:
    """A wall has length, its plates run forward, and its faces show to rooms of its level."""
    reading.wall_levels[wall.id] = wall.level
    if near(wall.start[0], wall.end[0]) and near(wall.start[1], wall.end[1]):
        reading.refuse(node, where, "a start and an end that differ", "the same point twice")
    if at_most(wall.plate_end_in, wall.plate_start_in):
        end = node.get("plate_end") or node
        reading.refuse(end, f"{where} › plate_end", "an offset beyond plate_start")
    for side in ("left", "right"):
        pieces = node.get(side)
        for piece in pieces.items if isinstance(pieces, Sequence) else ():
            if isinstance(piece, Mapping):
                _room(piece.get("room"), wall.level, f"{where} › {side} › room", reading)


def check_piece(piece: house.FacePiece, node: Mapping, where: str, reading: Reading) -> None:
    """A stretch of a face runs forward."""
    if at_most(piece.to_in, piece.from_in):
        reading.refuse(node, where, "“to” beyond “from”")


def check_opening(opening: house.Opening, node: Mapping, where: str, reading: Reading) -> None:
    """An opening's rooms are rooms of its wall's level."""

    def look() -> None:
        level = reading.wall_levels.get(opening.wall)
        if level is None:
            return
        rooms = node.get("rooms")
        for room in rooms.items if isinstance(rooms, Sequence) else ():
            _room(room, level, f"{where} › rooms", reading)
        _room(node.get("swings_into"), level, f"{where} › swings_into", reading)

    reading.later.append(look)


def check_open_edge(edge: house.OpenEdge, node: Mapping, where: str, reading: Reading) -> None:
    """An open edge parts rooms of its level."""
    rooms = node.get("rooms")
    for room in rooms.items if isinstance(rooms, Sequence) else ():
        _room(room, edge.level, f"{where} › rooms", reading)


def check_stair(stair: house.Stair, node: Mapping, where: str, reading: Reading) -> None:
    """A stair joins rooms that the file holds."""
    rooms = node.get("rooms")
    for pair in rooms.items if isinstance(rooms, Sequence) else ():
        if isinstance(pair, Sequence) and len(pair.items) == 2 and isinstance(pair.items[0], Scalar):
            _room(pair.items[1], pair.items[0].text, f"{where} › rooms", reading)


def check_frame(frame: house.FloorFrame, node: Mapping, where: str, reading: Reading) -> None:
    """The members of a frame are known: by their positions, or by first, last and spacing."""
    rule = (frame.first_member_in, frame.last_member_in, frame.spacing_in)
    if not frame.positions_in and None in rule:
        expected = "“positions”, or “first_member”, “last_member” and “spacing”"
        reading.refuse(node, where, expected, "neither")
    if at_most(frame.z_top_in, frame.z_bottom_in):
        reading.refuse(node.get("z_top") or node, f"{where} › z_top", "a height above z_bottom")


def check_obstacle(obstacle: house.Obstacle, node: Mapping, where: str, reading: Reading) -> None:
    """An obstacle has a shape and a height."""
    if obstacle.rect is None and obstacle.center is None and not obstacle.path:
        reading.refuse(node, where, "a shape: “rect”, “center” with “diameter”, or “path”", "none")
    if obstacle.center is not None and obstacle.diameter_in is None:
        reading.refuse(node, where, "“diameter” beside “center”", "none")
    placed = obstacle.z_in is not None or obstacle.z_above_frame_bottom_in is not None
    if not obstacle.path and not placed:
        reading.refuse(node, where, "a height: “z”, or “z_above_frame_bottom” with “frames”", "none")


def check_gear(gear: house.Gear, node: Mapping, where: str, reading: Reading) -> None:
    """Gear that hangs outside the enclosure has a point."""
    if gear.level:
        _room(node.get("room"), gear.level, f"{where} › room", reading)
    if not gear.in_enclosure and None in (gear.x_in, gear.y_in, gear.z_in):
        reading.refuse(node, where, "“x”, “y” and “z” for gear outside the enclosure", "not all of them")


def check_location(location: house.Location, node: Mapping, where: str, reading: Reading) -> None:
    """A location stands in a room of its level, on a wall or at a plan point."""
    _room(node.get("room"), location.level, f"{where} › room", reading)
    on_wall = location.wall is not None and location.offset_in is not None
    at_point = location.x_in is not None and location.y_in is not None
    if not on_wall and not at_point:
        reading.refuse(node, where, "“wall” and “offset”, or “x” and “y”", "neither")


def check_enclosure(enclosure: house.Enclosure, node: Mapping, where: str, reading: Reading) -> None:
    """An enclosure hangs in a room of its level."""
    _room(node.get("room"), enclosure.level, f"{where} › room", reading)


def check_cable(cable: house.CableKind, node: Mapping, where: str, reading: Reading) -> None:
    """A letter names one kind of cable."""
    letter = node.get("letter")
    assert isinstance(letter, Scalar)
    reading.name("cable kind", cable.letter, letter, f"{where} › letter")


def check_practice(practice: house.Practice, node: Mapping, where: str, reading: Reading) -> None:
    """Bits are listed small to large."""
    if list(practice.bits_in) != sorted(set(practice.bits_in)):
        reading.refuse(
            node.get("bits") or node, f"{where} › bits", "each bit once, small to large", "another order"
        )
    rows = node.get("amendments")
    items = rows.items if isinstance(rows, Sequence) else []
    for item, amendment in zip(items, practice.amendments, strict=False):
        for defect in check_amendments((amendment,)):
            reading.refuse(item, f"{where} › amendments", "an amendment that can be used", defect)
