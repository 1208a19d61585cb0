"""Gear on the back of a box: places are real, rows are the best of all, proofs both ways. Plain geometry."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations
from random import Random

import pytest
from boxes import ROOM, overlaps, piece

from bayrun.cables.ranges import RangeError, Verdict
from bayrun.enclosure.arrange import arrange, next_height_in
from bayrun.enclosure.gear import Piece
from bayrun.enclosure.room import Place, Room, conflicts
from bayrun.enclosure.rows import best_rows, places_of
from bayrun.enclosure.search import search

GEAR = (
    piece("strip", 10, 2, 2, kind="power"),
    piece("switch", 9, 5, 1.5, kind="network", metal=True),
    piece("patch", 6, 4, kind="termination", edge_room_in=1.5),
    piece("router", 6, 6, 1.25, kind="radio"),
)


def test_places_are_real_and_power_is_low_and_terminations_high() -> None:
    told = arrange(GEAR, ROOM)
    assert told.verdict is Verdict.HOLDS
    at = {place.piece: place for place in told.places}
    assert set(at) == {p.id for p in GEAR}
    assert overlaps(list(GEAR), told.places, ROOM.lane_in) == 0
    assert conflicts(GEAR, told.places, ROOM) == ()
    assert at["strip"].bottom_in == ROOM.bottom_in
    assert at["strip"].bottom_in < at["switch"].bottom_in < at["patch"].bottom_in
    # 10x2 + 9x5 + 6x4 + 6x6 = 125 of 14 x 27.75 = 388.5 sq in.
    assert told.free_percent.value == pytest.approx(100 * (1 - 125 / 388.5))


def test_the_box_turned_over_turns_the_order_over() -> None:
    room = replace(ROOM, entry="bottom", power_edge="top", top_in=0.5, bottom_in=1.0)
    at = {place.piece: place for place in arrange(GEAR, room).places}
    assert at["strip"].bottom_in + 2 == pytest.approx(room.height_in - room.top_in)
    assert at["patch"].bottom_in < at["switch"].bottom_in < at["strip"].bottom_in


def test_a_radio_does_not_share_a_row_with_metal_where_another_way_is() -> None:
    room = replace(ROOM, width_in=15.0)
    gear = (
        piece("plain", 6, 4, kind="network"),
        piece("metal", 6, 4, kind="network", metal=True),
        piece("radio", 6, 4, kind="radio"),
    )
    at = {place.piece: place for place in arrange(gear, room).places}
    assert at["radio"].bottom_in == at["plain"].bottom_in != at["metal"].bottom_in
    # Where the radio is metal's only neighbor, they share a row rather than lose the box.
    low = replace(room, height_in=6.0, top_in=0.5)
    assert arrange(gear[1:], low).verdict is Verdict.HOLDS


def test_more_cables_hang_nearer_the_entry() -> None:
    few = piece("few", 8, 4, kind="termination", cables=2)
    many = piece("many", 8, 4, kind="termination", cables=24)
    for gear in ((few, many), (many, few)):
        at = {place.piece: place for place in arrange(gear, ROOM).places}
        assert at["many"].bottom_in > at["few"].bottom_in


def test_warm_pieces_are_spread() -> None:
    gear = tuple(piece(f"g{n}", 5, 4, heat_w=w) for n, w in enumerate((20.0, 20.0, 0.0, 0.0)))
    at = {place.piece: place for place in arrange(gear, ROOM).places}
    assert at["g0"].bottom_in != at["g1"].bottom_in


def _lowest_in(pieces: tuple[Piece, ...], room: Room) -> float:
    """Least height of rows, by cutting every order of the pieces at every place: no table over subsets."""
    best = float("inf")
    for order in permutations(pieces):
        for cuts in range(1 << (len(order) - 1)):
            rows, row = [], [order[0]]
            for n, one in enumerate(order[1:]):
                if cuts >> n & 1:
                    rows.append(row)
                    row = []
                row.append(one)
            rows.append(row)
            if any(sum(p.width_in for p in r) + (len(r) - 1) * room.lane_in > room.usable_width_in + 1e-9
                   for r in rows):  # fmt: skip
                continue
            tall = 0.0
            for r in rows:
                over = max(
                    max(room.lane_in, p.edge_room_in) if p.kind != "power" else room.lane_in for p in r
                )
                under = max(
                    max(room.lane_in, p.edge_room_in) if p.kind == "power" else room.lane_in for p in r
                )
                tall += max(p.height_in for p in r) + over + under - room.lane_in
            best = min(best, tall - room.lane_in)
    return best


def test_the_least_height_is_that_of_trying_every_order() -> None:
    chance = Random(7)
    kinds = ("power", "other", "termination", "radio")
    for _ in range(25):
        gear = tuple(
            piece(str(n), chance.uniform(2, 9), chance.uniform(1, 7), kind=chance.choice(kinds),
                  edge_room_in=chance.choice((0.0, 2.0)))
            for n in range(chance.randint(1, 5))
        )  # fmt: skip
        found = best_rows(gear, ROOM)
        assert found is not None
        assert found.least_height_in == pytest.approx(_lowest_in(gear, ROOM))


def test_random_gear_never_overlaps() -> None:
    chance = Random(3)
    kinds = ("power", "other", "termination", "radio")
    held = 0
    for _ in range(60):
        room = replace(
            ROOM, entry=chance.choice(("top", "bottom")), power_edge=chance.choice(("top", "bottom"))
        )
        gear = tuple(
            piece(str(n), chance.uniform(2, 9), chance.uniform(1, 7), kind=chance.choice(kinds),
                  edge_room_in=chance.choice((0.0, 0.75, 2.0)))
            for n in range(chance.randint(1, 9))
        )  # fmt: skip
        told = arrange(gear, room)
        held += told.verdict is Verdict.HOLDS
        assert overlaps(list(gear), told.places, room.lane_in) == 0
        assert conflicts(gear, told.places, room) == ()
        assert (told.verdict is Verdict.HOLDS) == (not told.homeless)
    assert 20 < held < 60


def test_proofs_that_it_does_not_fit() -> None:
    deep = arrange((piece("switch", 9, 5, 2.5, front_room_in=1.0),), ROOM)
    assert deep.verdict is Verdict.FAILS
    assert 'switch wants 3-3/4" of depth with its plugs and the door, the box has 3-5/8"' in deep.reason
    on_it = arrange((piece("switch", 9, 5, 2.5, front_room_in=0.875),), ROOM)
    assert on_it.verdict is Verdict.HOLDS
    wide = arrange((piece("board", 13.0625, 5),), ROOM)
    assert wide.verdict is Verdict.FAILS
    assert 'board is 13-1/16" wide, between the side lanes there is 13"' in wide.reason
    assert arrange((piece("board", 13, 5),), ROOM).verdict is Verdict.HOLDS
    much = tuple(piece(str(n), 13, 11) for n in range(3))
    assert "the gear covers 429 sq in, the back of the box has 388" in arrange(much, ROOM).reason
    # 11 + 1 + 11 + 1 + 5 = 29 of 26-1/4 between the entries: no place left, every one was tried.
    tall = (piece("a", 13, 11), piece("b", 13, 11), piece("c", 8, 5))
    told = arrange(tall, ROOM)
    assert told.verdict is Verdict.FAILS
    assert "the gear takes 390 sq in with its lanes and bends, the box has 382" in told.reason
    assert told.homeless == ("c",)
    assert "in rows it takes 2' 6-1/2\" of inside height, the box has 2' 3-3/4\"" in told.reason


def test_a_proof_by_trying_every_place() -> None:
    # 9 + 1 + 9 = 19 is more than 13 wide, and 10 + 1 + 16 more than 26-1/4 high: two cannot lie at all.
    told = arrange((piece("a", 9, 10), piece("b", 9, 16)), ROOM)
    assert told.verdict is Verdict.FAILS
    assert "every place was tried and not all gear fits" in told.reason
    assert told.homeless == ("a",)


def test_a_way_that_no_rows_have_is_found_by_the_search() -> None:
    # One tall piece with three low ones stacked beside it: rows would take 20 + 3 lanes, the box has 22.
    room = replace(ROOM, height_in=23.5)
    gear = (piece("tall", 6, 20), *(piece(f"low{n}", 6, 6) for n in range(3)))
    rows = best_rows(gear, room)
    assert rows is not None
    assert rows.least_height_in > room.usable_height_in
    told = arrange(gear, room)
    assert told.verdict is Verdict.HOLDS
    assert overlaps(list(gear), told.places, room.lane_in) == 0


def test_a_place_by_hand_stays_and_the_rest_goes_around_it() -> None:
    hand = Place("router", 0.5, 0.5, by_hand=True)
    told = arrange(GEAR, ROOM, (hand,))
    assert told.verdict is Verdict.HOLDS
    assert told.place_of("router") == hand
    assert overlaps(list(GEAR), told.places, ROOM.lane_in) == 0
    assert "1 of them set by hand" in told.reason


@pytest.mark.parametrize(
    ("places", "said"),
    [
        ((Place("router", 1, 5), Place("patch", 3, 6)), "placed by hand, lies on patch"),
        ((Place("router", 0.5, 5), Place("patch", 7.25, 5)), "leaves no lane or bend room to patch"),
        ((Place("router", 9, 5),), "router, placed by hand, leaves the box"),
        ((Place("router", 0.25, 5),), "stands in the room of the sides or the entry"),
    ],
)
def test_hand_places_that_conflict_are_told_and_kept(places: tuple[Place, ...], said: str) -> None:
    told = arrange(GEAR, ROOM, places)
    assert told.verdict is Verdict.FAILS
    assert said in told.reason
    assert all(told.place_of(place.piece) == place for place in places)


def test_lane_and_bend_room_on_the_limit_are_kept() -> None:
    side = (Place("router", 0.5, 5), Place("patch", 7.5, 5))
    assert conflicts(GEAR, side, ROOM) == ()
    # The cables of the patch leave upward and take 1-1/2 in: 5 + 4 + 1.5 = 10.5.
    over = (Place("patch", 0.5, 5), Place("router", 0.5, 10.5))
    assert conflicts(GEAR, over, ROOM) == ()
    near = (Place("patch", 0.5, 5), Place("router", 0.5, 10.4375))
    assert conflicts(GEAR, near, ROOM) == (("patch", "router", "lane"),)


def test_the_next_size_is_the_smallest_that_takes_it() -> None:
    gear = (piece("a", 13, 11), piece("b", 13, 11), piece("c", 8, 5))
    told = arrange(gear, ROOM)
    # 11 + 1 + 11 + 1 + 5 and 1-1/2 for the entries: 30-1/2 inside, 30-3/4 outside: 36 of 14 21 28 36 42.
    assert told.needed_height_in == pytest.approx(30.5)
    assert next_height_in(told, ROOM, 28.0) == 36.0
    assert next_height_in(told, ROOM, 36.0) == 42.0
    deep = arrange((piece("d", 5, 5, 4.0),), ROOM)
    assert next_height_in(deep, ROOM, 28.0) is None


def test_the_search_says_when_it_stopped() -> None:
    gear = tuple(piece(str(n), 4.1 + n / 10, 4.3 + n / 7) for n in range(14))
    told = arrange(gear, ROOM)
    assert told.verdict in (Verdict.CANNOT_TELL, Verdict.FAILS)
    if told.verdict is Verdict.CANNOT_TELL:
        assert "tries" in told.reason
    assert search(gear, ROOM).tried <= 20_000


def test_the_same_gear_lies_the_same_way() -> None:
    assert arrange(GEAR, ROOM) == arrange(GEAR, ROOM)
    rows = best_rows(GEAR, ROOM)
    assert rows is not None
    assert places_of(rows, GEAR, ROOM) == arrange(GEAR, ROOM).places


def test_refusal_tells_all() -> None:
    with pytest.raises(RangeError) as told:
        arrange((piece("a", 0, 5), piece("a", 5, 5, edge_room_in=99)), replace(ROOM, width_in=2.0))
    for part in (
        "the box's inside width 5 to 60 in",
        "the width of a 0.1 to 60 in",
        "bend room of a 0 to 12 in",
        "a stands in the list twice",
    ):
        assert part in str(told.value)
