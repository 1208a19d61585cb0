"""Everything about what hangs in the chosen enclosure: places, knockouts, coils, power, heat, ports.

Computed from the job and its plan, the same for the same input; read by the rules, the sheets and the lists.
Limits of use: planning figures with assumed sizes where nobody said them; each assumption is named.
Source: the modules of this package.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from bayrun.cables.ranges import RangeError, Verdict
from bayrun.enclosure.arrange import Arrangement, arrange, next_height_in
from bayrun.enclosure.entries import Arrival, Entries, arrivals, assign, at_box, at_start
from bayrun.enclosure.gear import Piece, gear_table, pieces_of
from bayrun.enclosure.heat import BoxHeat, FlushBox, balance, openings_needed
from bayrun.enclosure.plugs import Plug, PowerList, power_list
from bayrun.enclosure.ports import PortMap, port_map
from bayrun.enclosure.room import Edge, Place, Room, room_of
from bayrun.enclosure.slack import Coils, Slacked, coil_slack
from bayrun.geometry import at_least, at_most
from bayrun.house import Enclosure, Gear, Job
from bayrun.wiring import Wiring

HAND = "place gear"
"""Kind of the choice that keeps a piece where a person put it."""
ROOM_C = 25.0


@dataclass(frozen=True, slots=True)
class Cord:
    """One patch cord between a termination and a switch."""

    from_piece: str
    to_piece: str
    count: int
    length_in: float | None
    """The usual length that reaches; None: longer than any listed."""


@dataclass(frozen=True, slots=True)
class FitOut:
    """The whole enclosure.

    Args:
        unknown: Gear whose size neither the job nor its words tell.
        next_height_in: The next generic height that takes the gear [in]; None where the box does, or none
            would.
        move_out: Pieces that would make the rest fit if they hung outside, the fewest; empty where it fits.
        watts_unknown: Ids of pieces whose watts nobody told.
        heat: None where no watts are known, or they are beyond the model: then ``heat_says`` tells why.
        openings_in2: Openings of the door that would surely hold the heat [sq in]; None: not needed or not
            enough.
    """

    box: Enclosure
    pieces: tuple[Piece, ...]
    unknown: tuple[Gear, ...]
    room: Room
    arrangement: Arrangement | None
    next_height_in: float | None
    move_out: tuple[str, ...]
    arrivals: tuple[Arrival, ...]
    entries: Entries
    coils: Coils | None
    power: PowerList | None
    power_says: str
    heat_w: float
    watts_unknown: tuple[str, ...]
    heat: BoxHeat | None
    heat_says: str
    openings_in2: float | None
    ports: PortMap
    cords: tuple[Cord, ...]

    def piece(self, piece_id: str) -> Piece:
        """The piece of this id; KeyError where there is none."""
        for piece in self.pieces:
            if piece.id == piece_id:
                return piece
        raise KeyError(piece_id)


def fit_out(job: Job, wiring: Wiring, box: Enclosure | None = None) -> FitOut | None:
    """The enclosure of a plan with all that hangs in it; None where the job has none.

    Args:
        box: Another candidate than the chosen one.
    """
    box = job.chosen_enclosure if box is None else box
    if box is None or box.wall not in {wall.id for wall in job.walls}:
        return None
    pieces, unknown = pieces_of(job, box)
    coming = arrivals(job, wiring, box)
    room = room_of(box, _bends(coming))
    arrangement = arrange(pieces, room, hand_places(job, pieces)) if pieces and _possible(room) else None
    power, power_says = _power(pieces)
    warm = tuple(p for p in pieces if p.heat_w is not None)
    watts_unknown = tuple(p.id for p in pieces if p.watts is None)
    heat_w = math.fsum(p.heat_w or 0.0 for p in warm)
    heat, heat_says, openings_in2 = _heat(job, box, heat_w)
    ports = port_map(job, box, pieces)
    taller = None
    out: tuple[str, ...] = ()
    if arrangement is not None and arrangement.verdict is not Verdict.HOLDS:
        taller = next_height_in(arrangement, room, box.height_in)
        out = _move_out(job, pieces, room)
    return FitOut(
        box,
        pieces,
        unknown,
        room,
        arrangement,
        taller,
        out,
        coming,
        assign(job, box, coming),
        _coils(job, wiring, box, coming, room),
        power,
        power_says,
        heat_w,
        watts_unknown,
        heat,
        heat_says,
        openings_in2,
        ports,
        _cords(ports, pieces, arrangement),
    )


def _possible(room: Room) -> bool:
    """True where the box is large enough to speak of: a contradiction of the house is told elsewhere."""
    smallest_in = min(room.width_in, room.height_in)
    return at_least(smallest_in, 5.0) and at_least(room.depth_in, 2.0) and at_most(room.depth_in, 24.0)


def _bends(coming: Sequence[Arrival]) -> tuple[tuple[Edge, float], ...]:
    edges: list[tuple[Edge, float]] = []
    for edge in ("top", "bottom"):
        bends = [a.bend_in for a in coming if a.edge == edge]
        if bends:
            edges.append((edge, max(bends)))
    # The edge with more cables is where terminations hang.
    edges.sort(key=lambda pair: (-sum(a.edge == pair[0] for a in coming), pair[0] != "top"))
    return tuple(edges)


def hand_places(job: Job, pieces: Sequence[Piece]) -> tuple[Place, ...]:
    """Places a person set, for the pieces there are; a choice that cannot be read is left to
    ``unread_places``."""
    known = {piece.id for piece in pieces}
    return tuple(
        Place(choice.about, *at, by_hand=True)
        for choice in job.choices
        if choice.kind == HAND and choice.about in known and (at := read_place(choice.value)) is not None
    )


def read_place(value: str) -> tuple[float, float] | None:
    """(left, bottom) of a kept choice [in]; None where it is no such pair."""
    parts = value.split()
    try:
        left_in, bottom_in = (float(part) for part in parts)
    except ValueError:
        return None
    return (left_in, bottom_in) if abs(left_in) < 1e4 and abs(bottom_in) < 1e4 else None


def lost_places(job: Job, pieces: Sequence[Piece]) -> tuple[str, ...]:
    """Hand places that hold for nothing: of gear that is gone, or unreadable."""
    known = {piece.id for piece in pieces}
    return tuple(
        choice.about
        for choice in job.choices
        if choice.kind == HAND and (choice.about not in known or read_place(choice.value) is None)
    )


def _coils(job: Job, wiring: Wiring, box: Enclosure, coming: Sequence[Arrival], room: Room) -> Coils | None:
    by_run = {a.run: a for a in coming}
    wound = []
    for run in wiring.runs:
        if at_box(job, run, box):
            length_in = run.slack_from_in if at_start(job, run, box) else run.slack_to_in
            a = by_run[run.id]
            wound.append(Slacked(run.id, length_in, a.diameter_in, a.bend_in))
    if not wound or not _possible(room):
        return None
    try:
        return coil_slack(wound, room.width_in, room.height_in, room.depth_in)
    except RangeError:
        return None


def _power(pieces: Sequence[Piece]) -> tuple[PowerList | None, str]:
    plugs = tuple(Plug(p.id, p.watts or 0.0, p.plug_in, p.heat_w) for p in pieces if p.plug_in > 0)
    outlets = sum(p.outlets for p in pieces)
    if not plugs:
        return None, "nothing in the box has a plug"
    if not outlets:
        return None, f"{len(plugs)} plugs and no receptacle in the box"
    try:
        return power_list(plugs, outlets, gear_table()["feed"]["pitch_in"]), ""
    except RangeError as error:
        return None, str(error)


def _heat(job: Job, box: Enclosure, heat_w: float) -> tuple[BoxHeat | None, str, float | None]:
    face = FlushBox(
        box.height_in,
        box.width_in,
        insulated_back=box.insulated_back,
        gypsum_in=job.level(box.level).wall_board_in,
        vent_in2=box.door_vent_in2,
    )
    if heat_w <= 0:
        return None, "no watts are known inside", None
    try:
        told = balance(face, heat_w, ROOM_C)
    except RangeError as error:
        openings = _openings(face, heat_w)
        return None, str(error), openings
    openings = None if told.verdict is Verdict.HOLDS else _openings(face, heat_w)
    return told, told.reason, openings


def _openings(face: FlushBox, heat_w: float) -> float | None:
    try:
        return openings_needed(face, heat_w, ROOM_C)
    except RangeError:
        return None


def _move_out(job: Job, pieces: Sequence[Piece], room: Room) -> tuple[str, ...]:
    """Fewest pieces that, hung outside, let the rest fit: those no run ends on, the largest first."""
    ending = {run.gear for run in job.runs}
    loose = sorted(
        (p for p in pieces if p.gear not in ending and p.kind != "power" and "/" not in p.id),
        key=lambda p: (-p.width_in * p.height_in, p.id),
    )
    for count in range(1, min(len(loose), 6) + 1):
        out = {p.id for p in loose[:count]}
        rest = [p for p in pieces if p.id not in out]
        if rest and arrange(rest, room).verdict is Verdict.HOLDS:
            return tuple(p.id for p in loose[:count])
    return ()


def _cords(ports: PortMap, pieces: Sequence[Piece], arrangement: Arrangement | None) -> tuple[Cord, ...]:
    """Cords from terminations to switches, each pair of pieces once."""
    counts: dict[tuple[str, str], int] = {}
    for row in ports.rows:
        if row.switch and row.piece and row.switch != row.piece:
            counts[row.piece, row.switch] = counts.get((row.piece, row.switch), 0) + 1
    data = gear_table()["cords"]
    by_id = {p.id: p for p in pieces}
    out = []
    for (one, two), count in sorted(counts.items()):
        a = None if arrangement is None else arrangement.place_of(one)
        b = None if arrangement is None else arrangement.place_of(two)
        length_in = None
        if a is not None and b is not None:
            far_in = math.dist(
                (a.left_in + by_id[one].width_in / 2, a.bottom_in + by_id[one].height_in / 2),
                (b.left_in + by_id[two].width_in / 2, b.bottom_in + by_id[two].height_in / 2),
            )
            wanted = far_in + data["dress_in"]
            length_in = next((c for c in data["lengths_in"] if c >= wanted), None)
        out.append(Cord(one, two, count, length_in))
    return tuple(out)


def with_height(box: Enclosure, height_in: float) -> Enclosure:
    """The box at another height about the same middle; screw places near its top stay as far from the top."""
    added_in = height_in - box.height_in
    points = tuple(
        (x_in, y_in + added_in if y_in > box.height_in / 2 else y_in) for x_in, y_in in box.fixing_points
    )
    return replace(box, height_in=height_in, fixing_points=points)
