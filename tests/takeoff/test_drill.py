"""The drill list: each hole once, in an order a person walks, with words a tape can follow."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import pairwise, permutations

import pytest

from bayrun.framing.records import Cover
from bayrun.geometry import Rect
from bayrun.house import FloorFrame, Layout, Level, Obstacle, Opening, Room, Stair
from bayrun.takeoff.drill import drill_rows, hole_spot, walking_order
from bayrun.takeoff.walking import FLIGHT_IN, NO_DOOR_IN, Spot, Walk, room_spot, start_spot
from bayrun.takeoff.words import hole_level, hole_room, natural
from conftest import count
from takeoff import small_house as small
from takeoff.planned_houses import every_house, planned


def walked_in(letter: str, order: list[str]) -> float:
    house = planned(letter)
    holes = {hole.id: hole for hole in house.wiring.holes}
    spots = [start_spot(house.job), *(hole_spot(house.job, holes[name]) for name in order)]
    return Walk(house.job).along(spots)


@every_house
def test_each_hole_stands_once_and_rooms_are_not_mixed(letter: str) -> None:
    rows = planned(letter).counted.drill
    assert sorted(row.hole for row in rows) == sorted(hole.id for hole in planned(letter).wiring.holes)
    assert [row.row for row in rows] == [f"R{i}" for i in range(1, len(rows) + 1)]
    rooms = [(row.level, row.room) for row in rows]
    changes = [room for i, room in enumerate(rooms) if i == 0 or rooms[i - 1] != room]
    assert len(changes) == len(set(changes))
    bands = ["floor", "reach", "ladder", "open passage"]
    for before, after in pairwise(rows):
        if (before.level, before.room) == (after.level, after.room):
            first = (bands.index(before.band), before.bit_in)
            assert first <= (bands.index(after.band), after.bit_in)


@every_house
def test_walking_order_is_no_longer_on_foot_than_id_order(letter: str) -> None:
    house = planned(letter)
    by_id = sorted((hole.id for hole in house.wiring.holes), key=natural)
    ours = [row.hole for row in house.counted.drill]
    assert walked_in(letter, ours) <= walked_in(letter, by_id) + 1e-6


@pytest.mark.parametrize("seed", range(10))
def test_walking_order_beats_shuffled_ids(seed: int) -> None:
    """The same house with its holes numbered in any order: the list hardly cares, id order walks far more."""
    house = planned("a")
    names = [hole.id for hole in house.wiring.holes]
    shuffled = names[:]
    random.Random(seed).shuffle(shuffled)
    renamed = dict(zip(names, shuffled, strict=True))
    wiring = replace(
        house.wiring, holes=tuple(replace(hole, id=renamed[hole.id]) for hole in house.wiring.holes)
    )
    walk = Walk(house.job)
    start = start_spot(house.job)
    ours = [hole_spot(house.job, hole) for hole in walking_order(house.job, wiring)]
    by_id = [hole_spot(house.job, hole) for hole in sorted(wiring.holes, key=lambda h: natural(h.id))]
    assert walk.along([start, *ours]) < walk.along([start, *by_id])


def test_room_order_against_brute_force() -> None:
    """Nearest next and reversals, against every order of up to 6 stops: within 5 %, nearly always the best.

    Source: brute force over all permutations. The gap is that of the heuristic, not hidden.
    """
    chance, best_found, cases = random.Random(7), 0, count(60, 300)
    walk = Walk(small.job())
    for _ in range(cases):
        spots = [Spot("1", "Laundry", chance.uniform(0, 600), chance.uniform(0, 400)) for _ in range(6)]
        start = Spot("1", "Laundry", 0.0, 0.0)
        ours = walk.along([start, *(spots[i] for i in walk.order(start, list(enumerate(spots))))])
        best = min(walk.along([start, *order]) for order in permutations(spots))
        assert best - 1e-6 <= ours <= 1.05 * best
        best_found += ours <= best + 1e-6
    assert best_found >= 0.95 * cases, f"{best_found} of {cases}"


def test_ways_go_through_doors_and_stairs() -> None:
    upper = Room("Loft", "2", "living", ((0.0, 0.0), (120.0, 0.0), (120.0, 96.0), (0.0, 96.0)))
    job = small.job(
        rooms=(*small.job().rooms, upper),
        levels=(Level("1", 0.0, 97.125), Level("2", 120.0, 97.125)),
        openings=(Opening("O1", "W1", "door", 20.0, 34.0, 0.0, 82.5, 5.5, ("Dining", "Laundry")),),
        stairs=(Stair("S1", "stair", (("1", "Laundry"), ("2", "Loft")), (80.0, 40.0, 100.0, 60.0)),),
    )
    walk = Walk(job)
    dining, laundry = Spot("1", "Dining", -30.0, 77.0), Spot("1", "Laundry", 30.0, 77.0)
    # By hand: the door's middle is (0, 37): 50 in from each spot (30-40-50).
    assert walk.between(dining, laundry) == pytest.approx(100.0)
    # The stair's middle is (90, 50): from (90, 90) 40 in, up one flight, 40 in to (50, 50).
    below, loft = Spot("1", "Laundry", 90.0, 90.0), Spot("2", "Loft", 50.0, 50.0)
    assert walk.between(below, loft) == pytest.approx(40 + FLIGHT_IN + 40)
    assert walk.between(loft, below) == pytest.approx(walk.between(below, loft))
    # Dining to Loft passes door and stair: 50, then from (0, 37) to (90, 50), one flight, 40.
    assert walk.between(dining, loft) == pytest.approx(50 + math.hypot(90, 13) + FLIGHT_IN + 40)
    nowhere = Spot("1", "Shed", 30.0, 177.0)
    assert walk.between(laundry, nowhere) == pytest.approx(100 + NO_DOOR_IN)


def test_without_an_enclosure_the_day_starts_at_the_front_door() -> None:
    door = Opening("O1", "W1", "front door", 20.0, 36.0, 0.0, 82.5, 5.5, ("outside", "Laundry"))
    job = small.job(enclosures=(), openings=(door,))
    assert start_spot(job) == Spot("1", "Laundry", 0.0, 38.0)
    bare = small.job(enclosures=())
    assert start_spot(bare) == room_spot(bare.rooms[0])


def rows_of(hole: object, **changes: object) -> object:
    (row,) = drill_rows(small.job(**changes), small.frame(), small.wiring(holes=(hole,)), (), ())  # type: ignore[arg-type]
    return row


def test_a_stud_in_words_from_the_end_a_tape_hooks_on() -> None:
    row = rows_of(small.stud_hole("H1", 1, 18.75, 1.0))
    # The plate begins 2-3/4 in from the wall's start: the stud's center reads 16 in on the tape.
    assert row.member == 'stud, its center 16" from the front end of the plate'  # type: ignore[attr-defined]
    assert row.where == "center 4' 0\" above the subfloor"  # type: ignore[attr-defined]
    assert row.margins == (("Dining side", 1.25), ("Laundry side", 1.25))  # type: ignore[attr-defined]
    assert (row.band, row.bearing) == ("reach", "no")  # type: ignore[attr-defined]


def test_a_wall_laid_out_from_its_far_end_is_read_from_there() -> None:
    walls = (small.wall(layout=Layout("end", 16.0)),)
    row = rows_of(small.plate_hole("H1", 100.0, 0.75), walls=walls)
    assert row.where == "center 7' 8\" from the back end of the plate"  # type: ignore[attr-defined]
    assert row.band == "ladder"  # type: ignore[attr-defined]


def test_an_unknown_wall_is_told_as_unknown() -> None:
    row = rows_of(small.plate_hole("H1", 100.0, 0.75), walls=(small.wall(bearing=None),))
    assert row.bearing == "unknown"  # type: ignore[attr-defined]


def test_what_lies_over_and_near_is_named() -> None:
    pipe = Obstacle("P1", "vent pipe 2 in", center=(4.0, 100.0), diameter_in=2.0, z_in=(0.0, 200.0))
    far = Obstacle("P2", "duct 8 in", center=(40.0, 100.0), diameter_in=8.0, z_in=(0.0, 200.0))
    power = Obstacle("P3", "power run 14/2", path=((0.0, 106.0, 110.0), (50.0, 106.0, 110.0)))
    covers = (("W1/top", (Cover("W1/stud-1", Rect(103.0, -1.75, 104.5, 1.75)),)),)
    frame = replace(small.frame(), over=covers)
    wiring = small.wiring(holes=(small.plate_hole("H1", 100.0, 1.0),))
    (row,) = drill_rows(small.job(obstacles=(pipe, far, power)), frame, wiring, (), ())
    # By hand: stud from 103, hole's edge at 100.5: 2-1/2; pipe's face at 3 in; power: the bit's way ends at
    # 95.625 + 1.5 + 12 = 109.125, so hypot(6, 0.875) = 6-1/16.
    assert row.check == (
        'over: attic (roof trusses); stud over the plate 2-1/2" toward the back; '
        "vent pipe 2 in 3\" from the bit's way; power run 14/2 6-1/16\" from the bit's way"
    )


def test_a_hole_is_drilled_from_the_side_it_serves() -> None:
    names = {
        "H1": small.plate_hole("H1", 58.75, 0.75, room="Dining"),
        "H2": small.plate_hole("H2", 140.0, 0.75),
    }
    job = small.job()
    # H1 stands over the enclosure's bay, which opens to Laundry; H2 feeds L1, whose room is Dining.
    assert {name: hole_room(job, hole) for name, hole in names.items()} == {"H1": "Laundry", "H2": "Dining"}
    other = small.plate_hole("H3", 20.0, 0.75, occupants=(), room="Laundry")
    assert hole_room(job, other) == "Laundry"  # as routed, where nothing says more


def test_a_hole_in_a_floor_belongs_to_the_room_under_it() -> None:
    joist = FloorFrame(
        "F", "I-joists", (-120.0, 0.0, 120.0, 192.0), "x", 2.5, 11.875, 97.125, 109.0, "1", "2"
    )
    hole = replace(
        small.plate_hole("H1", 100.0, 1.5), member="F/1", axis="across", wall="", level="", x=60.0, z=103.0
    )
    assert hole_room(small.job(frames=(joist,)), hole) == "Laundry"
    assert hole_room(small.job(), hole) == "Attic"  # over the plates of the top level
    assert hole_level(small.job(), hole) == "1"


def test_an_obstacle_that_lies_over_a_plate_is_told_once_by_what_it_is() -> None:
    duct = Obstacle("P1", "duct 6 in", rect=(-10.0, 106.0, 10.0, 112.0), z_in=(97.125, 103.0))
    frame = replace(small.frame(), over=(("W1/top", (Cover("P1", Rect(106.0, -1.75, 112.0, 1.75)),)),))
    wiring = small.wiring(holes=(small.plate_hole("H1", 100.0, 1.0),))
    (row,) = drill_rows(small.job(obstacles=(duct,)), frame, wiring, (), ())
    assert row.check == 'over: attic (roof trusses); duct 6 in over the plate 5-1/2" toward the back'


def test_the_outdoor_face_is_no_room() -> None:
    row = rows_of(small.plate_hole("H1", 100.0, 0.75), walls=(small.wall(left=()),))
    assert row.margins == (("outside face", 1.375), ("Laundry side", 1.375))  # type: ignore[attr-defined]
