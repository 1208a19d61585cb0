"""Every place in turn: the exact but slower search, for gear that no rows take and for gear around hand
places.

A piece is tried where the sums of other pieces and lanes allow it to lie (normal patterns: any arrangement
can be pushed down and left until every piece lies there, so trying them all is a proof; after Christofides
and Whitlock 1977). Each piece carries its lane to the right and the room of its cables over and under it.
Limits of use: it stops after a stated number of tries and says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bayrun.enclosure.gear import Piece
from bayrun.enclosure.room import Place, Room, above_in, below_in
from bayrun.geometry import TOUCH_IN, at_least, at_most

MOST_TRIES = 20_000
MOST_SPOTS = 48
"""Places along a side; with more, the search is no proof any more."""
_Block = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Found:
    """What the search found.

    Args:
        places: Of all pieces where ``complete``; else of the most pieces it could place.
        exhausted: True where every place was tried.
        tried: How many.
    """

    places: tuple[Place, ...]
    complete: bool
    exhausted: bool
    tried: int


class _Search:
    """One run; owned by ``search``."""

    def __init__(self, pieces: Sequence[Piece], room: Room, hand: Sequence[Place], most_tries: int) -> None:
        self.room = room
        self.most_tries = most_tries
        placed = {place.piece: place for place in hand}
        rank = {"power": 0, "termination": 1, "network": 2, "other": 3, "radio": 4, "": 3}
        self.rest = sorted(
            (p for p in pieces if p.id not in placed),
            key=lambda p: (rank[p.kind], -p.width_in * p.height_in, p.id),
        )
        self.fixed = [self._block(p, placed[p.id].left_in, placed[p.id].bottom_in)
                      for p in pieces if p.id in placed]  # fmt: skip
        self.tried = 0
        self.whole = True
        self.best: list[Place] = []
        widths = [p.width_in + room.lane_in for p in self.rest]
        heights = [self._tall(p) for p in self.rest]
        left, bottom = room.edge_in, room.bottom_in
        xs = self._sums(widths, left, room.width_in, [b[2] for b in self.fixed])
        ys = self._sums(heights, bottom, room.height_in, [b[3] for b in self.fixed])
        self.xs, self.ys = xs, ys

    def _tall(self, piece: Piece) -> float:
        return piece.height_in + above_in(piece, self.room) + below_in(piece, self.room) - self.room.lane_in

    def _block(self, piece: Piece, left_in: float, bottom_in: float) -> _Block:
        """What a piece at a place keeps for itself: lane at the right, cables over and under it."""
        under_in = below_in(piece, self.room) - self.room.lane_in
        return (
            left_in,
            bottom_in - under_in,
            left_in + piece.width_in + self.room.lane_in,
            bottom_in + piece.height_in + above_in(piece, self.room),
        )

    def _sums(self, sizes: list[float], start: float, end: float, more: list[float]) -> list[float]:
        """Where a piece may begin: sums of other sizes from the start, and from each fixed piece's end."""
        found = {round(start, 9)} | {round(m, 9) for m in more}
        for size in sizes:
            found |= {round(at + size, 9) for at in found if at + size < end}
            if len(found) > 4000:
                self.whole = False
                break
        ordered = sorted(found)
        if len(ordered) > MOST_SPOTS:
            self.whole = False
            step = len(ordered) / MOST_SPOTS
            ordered = [ordered[int(i * step)] for i in range(MOST_SPOTS)]
        return ordered

    def run(self) -> Found:
        places: list[Place] = []
        done = self._next(0, list(self.fixed), places)
        exhausted = self.whole and self.tried < self.most_tries
        return Found(tuple(places if done else self.best), done, exhausted, self.tried)

    def _next(self, number: int, blocks: list[_Block], places: list[Place]) -> bool:
        if len(places) > len(self.best):
            self.best = list(places)
        if number == len(self.rest):
            return True
        piece = self.rest[number]
        for left_in, bottom_in in self._spots(piece):
            if self.tried >= self.most_tries:
                return False
            self.tried += 1
            block = self._block(piece, left_in, bottom_in)
            if any(_meets(block, other) for other in blocks):
                continue
            blocks.append(block)
            places.append(Place(piece.id, left_in, bottom_in))
            if self._next(number + 1, blocks, places):
                return True
            blocks.pop()
            places.pop()
        return False

    def _spots(self, piece: Piece) -> Iterator[tuple[float, float]]:
        """Places for a piece, those its kind likes first."""
        room = self.room
        under_in = below_in(piece, room) - room.lane_in
        over_in = above_in(piece, room) - room.lane_in
        top_in = room.height_in - room.top_in - piece.height_in - over_in
        right_in = room.width_in - room.edge_in - piece.width_in
        low = room.power_edge == "bottom" if piece.kind == "power" else room.entry == "bottom"
        heights = [y + under_in for y in self.ys if at_most(y + under_in, top_in)]
        if not low:
            heights = sorted({*heights, top_in} if at_least(top_in, room.bottom_in) else set(), reverse=True)
        for bottom_in in heights:
            for left_in in self.xs:
                if at_most(left_in, right_in):
                    yield left_in, bottom_in


def _meets(one: _Block, two: _Block) -> bool:
    return (
        one[0] < two[2] - TOUCH_IN
        and two[0] < one[2] - TOUCH_IN
        and one[1] < two[3] - TOUCH_IN
        and two[1] < one[3] - TOUCH_IN
    )


def search(
    pieces: Sequence[Piece], room: Room, hand: Sequence[Place] = (), most_tries: int = MOST_TRIES
) -> Found:
    """Places for every piece, those set by hand kept.

    Args:
        pieces: All pieces.
        hand: Places that stay.
        most_tries: Where it stops.
    Returns:
        The places in the order of the pieces, the hand ones among them.
    """
    run = _Search(pieces, room, hand, most_tries).run()
    at = {place.piece: place for place in (*run.places, *hand)}
    return Found(tuple(at[p.id] for p in pieces if p.id in at), run.complete, run.exhausted, run.tried)
