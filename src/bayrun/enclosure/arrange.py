"""The automatic arrangement: where each piece of gear hangs, or why it cannot hang there.

First rows, weighed exactly (``rows``); where no rows fit, every place in turn (``search``). Pieces a person
placed stay where they are, and the rest goes around them; what conflicts is told, never moved. Gear is never
turned: its lettering and its vents have an up side. Limits of use: up to 40 pieces; the second search looks
    at a stated number of places and then says that it stopped.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.cables.ranges import Limit, Verdict, refuse
from bayrun.enclosure.gear import Piece, gear_table
from bayrun.enclosure.room import Place, Room, above_in, below_in, conflicts, depth_needed_in
from bayrun.enclosure.rows import MOST_IN_ROWS, best_rows, places_of
from bayrun.enclosure.search import Found, search
from bayrun.geometry import at_least, at_most, below
from bayrun.units import Figure, tape

MOST_PIECES = 40
SHOWN_TRIES = 3_000
"""Tries to show as much gear as goes in, where it is proven that not all does."""


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Where the gear hangs.

    Args:
        places: One for each piece that has a place, in the order of the pieces.
        homeless: Ids of pieces without one.
        free_percent: Of the back of the box no gear covers.
        needed_height_in: Least inside height for these pieces in rows at this width [in]; None where not
            known.
        too_deep: Ids of pieces that want more depth than the box has.
        clashes: (piece, other or empty, what) of places set by hand.
        verdict: ``holds``: all have a legal place; ``fails``: proven that not all can; else nobody can tell.
    """

    places: tuple[Place, ...]
    homeless: tuple[str, ...]
    free_percent: Figure
    needed_height_in: float | None
    too_deep: tuple[str, ...]
    clashes: tuple[tuple[str, str, str], ...]
    verdict: Verdict
    reason: str

    def place_of(self, piece: str) -> Place | None:
        """The place of a piece, or None."""
        return next((place for place in self.places if place.piece == piece), None)


def arrange(pieces: Sequence[Piece], room: Room, by_hand: Sequence[Place] = ()) -> Arrangement:
    """Give every piece a place.

    Args:
        pieces: 1 to 40, no two of one id.
        room: Of the box.
        by_hand: Places a person set; kept as they are.
    Raises:
        RangeError: Sizes outside the range; every defect at once.
    """
    _check(pieces, room)
    area_in2 = sum(p.width_in * p.height_in for p in pieces)
    back_in2 = room.width_in * room.height_in
    free = Figure(
        100 * (1 - area_in2 / back_in2),
        "%",
        "area of the back no gear covers",
        "geometry",
        (("gear", f"{area_in2:.0f} sq in"), ("back", f"{tape(room.width_in)} x {tape(room.height_in)}")),
    )
    deep = tuple(p.id for p in pieces if not at_most(depth_needed_in(p, room), room.depth_in))
    known = {p.id for p in pieces}
    hand = tuple(place for place in by_hand if place.piece in known)
    clashes = conflicts(pieces, hand, room)
    found = best_rows(pieces, room) if len(pieces) <= MOST_IN_ROWS else None
    needed_in = None if found is None else found.least_height_in + room.top_in + room.bottom_in
    too_wide = [p for p in pieces if not at_most(p.width_in, room.usable_width_in)]
    if not hand and found is not None and at_most(found.height_in, room.usable_height_in):
        places = places_of(found, pieces, room)
        words = f"all {len(pieces)} have a place, the best rows of all, {free.value:.0f} % stays free"
        return _told(places, (), free, needed_in, deep, clashes, Verdict.HOLDS, words, pieces, room)
    with_lanes_in2 = sum((p.width_in + room.lane_in) * _tall_in(p, room) for p in pieces)
    most_in2 = (room.usable_width_in + room.lane_in) * (room.usable_height_in + room.lane_in)
    if too_wide or free.value < 0 or with_lanes_in2 > most_in2 * (1 + 1e-9):
        words = _why_never(too_wide, area_in2, back_in2, (with_lanes_in2, most_in2), room)
        if needed_in is not None and not hand:
            words += _in_rows(needed_in, room)
        # As much as goes in is shown all the same.
        by_hand_ids = {place.piece for place in hand}
        able = [p for p in pieces if p not in too_wide or p.id in by_hand_ids]
        some = search(able, room, hand, SHOWN_TRIES).places
        homeless = tuple(p.id for p in pieces if all(p.id != place.piece for place in some))
        return _told(some, homeless, free, needed_in, deep, clashes, Verdict.FAILS, words, pieces, room)
    around = search(pieces, room, hand)
    homeless = tuple(p.id for p in pieces if all(p.id != place.piece for place in around.places))
    if around.complete:
        words = f"all {len(pieces)} have a place, {free.value:.0f} % stays free"
        if hand:
            words += f", {len(hand)} of them set by hand"
        return _told(around.places, (), free, needed_in, deep, clashes, Verdict.HOLDS, words, pieces, room)
    verdict, words = _why_not(around, hand, needed_in, room)
    return _told(around.places, homeless, free, needed_in, deep, clashes, verdict, words, pieces, room)


def _told(
    places: tuple[Place, ...],
    homeless: tuple[str, ...],
    free: Figure,
    needed_in: float | None,
    deep: tuple[str, ...],
    clashes: tuple[tuple[str, str, str], ...],
    verdict: Verdict,
    words: str,
    pieces: Sequence[Piece],
    room: Room,
) -> Arrangement:
    """The answer, with depth and hand places told first: either makes it fail."""
    names = {p.id: p for p in pieces}
    wrong = [
        f"{names[i].name} wants {tape(depth_needed_in(names[i], room))} of depth with its plugs and the "
        f"door, the box has {tape(room.depth_in)}"
        for i in deep
    ]
    wrong += [clash_words(names, clash) for clash in clashes]
    if wrong:
        rest = [words] if verdict is not Verdict.HOLDS else []
        return Arrangement(
            places, homeless, free, needed_in, deep, clashes, Verdict.FAILS, "; ".join([*wrong, *rest])
        )
    return Arrangement(places, homeless, free, needed_in, deep, clashes, verdict, words)


def clash_words(names: dict[str, Piece], clash: tuple[str, str, str]) -> str:
    """One conflict of a hand place in words."""
    one, other, what = clash
    told = {
        "overlaps": "lies on",
        "lane": "leaves no lane or bend room to",
        "outside": "leaves the box",
        "edge": "stands in the room of the sides or the entry",
    }[what]
    second = f" {names[other].name}" if other else ""
    return f"{names[one].name}, placed by hand, {told}{second}"


def _tall_in(piece: Piece, room: Room) -> float:
    """Height of a piece with what its cables take over and under it [in]."""
    return piece.height_in + above_in(piece, room) + below_in(piece, room) - room.lane_in


def _in_rows(needed_in: float, room: Room) -> str:
    return f"; in rows it takes {tape(needed_in)} of inside height, the box has {tape(room.height_in)}"


def _why_never(
    too_wide: list[Piece], area_in2: float, back_in2: float, lanes_in2: tuple[float, float], room: Room
) -> str:
    if too_wide:
        return "; ".join(
            f"{p.name} is {tape(p.width_in)} wide, "
            f"between the side lanes there is {tape(room.usable_width_in)}"
            for p in too_wide
        )
    if area_in2 > back_in2:
        return f"the gear covers {area_in2:.0f} sq in, the back of the box has {back_in2:.0f}"
    needs, has = lanes_in2
    return f"the gear takes {needs:.0f} sq in with its lanes and bends, the box has {has:.0f}"


def _why_not(
    around: Found, hand: tuple[Place, ...], needed_in: float | None, room: Room
) -> tuple[Verdict, str]:
    least = ""
    if needed_in is not None and not hand:
        least = _in_rows(needed_in, room)
    if around.exhausted and not hand:
        return Verdict.FAILS, f"every place was tried and not all gear fits{least}"
    if around.exhausted:
        return Verdict.FAILS, "the rest of the gear finds no place around what was set by hand"
    return Verdict.CANNOT_TELL, f"no place was found for all of it in {around.tried:,} tries{least}"


def _check(pieces: Sequence[Piece], room: Room) -> None:
    limits = [
        Limit("pieces of gear", len(pieces), 1, MOST_PIECES),
        Limit("the box's inside width", room.width_in, 5.0, 60.0, "in"),
        Limit("the box's inside height", room.height_in, 5.0, 60.0, "in"),
        Limit("the box's depth", room.depth_in, 2.0, 24.0, "in"),
        Limit("a lane for cables", room.lane_in, 0.0, 6.0, "in"),
    ]
    for piece in pieces:
        sides = (("width", piece.width_in), ("height", piece.height_in), ("depth", piece.depth_in))
        limits += [Limit(f"the {side} of {piece.name}", size, 0.1, 60.0, "in") for side, size in sides]
        limits.append(Limit(f"bend room of {piece.name}", piece.edge_room_in, 0.0, 12.0, "in"))
        limits.append(Limit(f"plug room of {piece.name}", piece.front_room_in, 0.0, 12.0, "in"))
    ids = [piece.id for piece in pieces]
    refuse(
        [told for told in (limit.told() for limit in limits) if told]
        + [f"{i} stands in the list twice" for i in sorted({i for i in ids if ids.count(i) > 1})]
    )


def box_sizes_in() -> tuple[tuple[float, float, float], ...]:
    """(width, height, depth) of the generic boxes, small to large [in]."""
    data = gear_table()["boxes"]
    return tuple((data["width_in"], height_in, data["depth_in"]) for height_in in data["heights_in"])


def next_height_in(told: Arrangement, room: Room, outside_in: float) -> float | None:
    """The next generic height whose inside takes the gear in rows, taller than the box is; None where none
    does.

    Args:
        told: The arrangement in the box as it is.
        outside_in: Height of the box as it is [in].
    """
    if told.needed_height_in is None or told.too_deep:
        return None
    walls_in = outside_in - room.height_in
    for _, height_in, _ in box_sizes_in():
        if below(outside_in, height_in) and at_least(height_in - walls_in, told.needed_height_in):
            return height_in
    return None
