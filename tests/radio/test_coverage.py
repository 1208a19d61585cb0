"""Coverage: sums done by hand, walls counted by another library, the home formula of ITU-R P.1238-10.

Geometry is checked with shapely (an independent library); the levels of a whole house against the home
formula, which knows no walls, within the uncertainty both carry.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, box

from bayrun.cables.ranges import RangeError, Verdict
from bayrun.house import Job, Level, Obstacle, Opening, Revision, Room, Wall
from bayrun.radio import averaged_loss_db, home_loss_db
from bayrun.radio.contours import contour, smoothed
from bayrun.radio.coverage import (
    Band,
    Net,
    Sender,
    coverage,
    figure,
    nets,
    room_verdict,
    spread_db,
    usual_bands,
    way_loss_db,
)
from bayrun.radio.one_way import one_way
from bayrun.radio.screens import screens, wall_layers
from bayrun.radio.senders import above_enclosure, access_points, enclosure_sender, metal_words
from demo import HOUSES, job

FIVE = Band("5 GHz", 5.25, 23.0, -67.0)


def free_db(inches: float, ghz: float) -> float:
    # Definition: (4 pi d f / c)^2 as dB, here by the rounded 32.45 form (km, MHz) and its exact constant.
    return (
        20 * math.log10(inches * 0.0254)
        + 20 * math.log10(ghz * 1e9)
        + 20 * math.log10(4 * math.pi / 299792458)
    )


def two_rooms(**changes: object) -> Job:
    """Two rooms of 20 by 20 ft with one 2x4 wall between, 8 ft high."""
    facts: dict[str, object] = {
        "id": "two",
        "name": "Two rooms",
        "revision": Revision("1"),
        "levels": (Level("1", 0.0, 97.125),),
        "rooms": (
            Room("Left", "1", "living", ((0, 0), (240, 0), (240, 240), (0, 240))),
            Room("Right", "1", "living", ((240, 0), (480, 0), (480, 240), (240, 240))),
        ),
        "walls": (Wall("W1", "1", (240.0, 0.0), (240.0, 240.0), "2x4", 3.5, 0.0, 240.0),),
    }
    return Job(**{**facts, **changes})  # type: ignore[arg-type]


def loss(
    house: Job, start: tuple[float, float, float], end: tuple[float, float, float], band: Band = FIVE
) -> float:
    found = way_loss_db(screens(house), Sender("S", *start), np.array([end], dtype=float), (band,))
    return float(found[0, 0])


def test_in_one_room_it_is_free_space() -> None:
    assert loss(two_rooms(), (60, 60, 90), (180, 60, 90)) == pytest.approx(free_db(120, 5.25), abs=1e-9)


def test_ten_meters_as_published() -> None:
    # 66.85 dB at 10 m and 5.25 GHz, by definition.
    assert loss(two_rooms(walls=()), (0, 60, 36), (1000 / 2.54, 60, 36)) == pytest.approx(66.85, abs=0.01)


def test_nearer_than_a_meter_counts_as_a_meter() -> None:
    assert loss(two_rooms(), (60, 60, 36), (61, 60, 36)) == pytest.approx(
        free_db(1000 / 25.4, 5.25), abs=1e-9
    )


@pytest.mark.parametrize("degrees", [0.0, 15.0, 45.0, 65.0])
def test_one_wall_takes_what_its_layers_take_at_that_angle(degrees: float) -> None:
    house = two_rooms()
    rise = 100 * math.tan(math.radians(degrees))
    start, end = (190.0, 5.0, 60.0), (290.0, 5.0 + rise, 60.0)
    wall = averaged_loss_db(wall_layers(house, house.walls[0]), 5.25, degrees).value
    away = 100 / math.cos(math.radians(degrees))
    assert loss(house, start, end) == pytest.approx(free_db(away, 5.25) + wall, abs=1e-6)


def test_flatter_than_75_degrees_counts_as_75() -> None:
    house = two_rooms()
    layers = wall_layers(house, house.walls[0])
    found = loss(house, (239.0, 5.0, 60.0), (241.0, 105.0, 60.0)) - free_db(math.hypot(2, 100), 5.25)
    assert found == pytest.approx(averaged_loss_db(layers, 5.25, 75.0).value, abs=1e-6)


def door(kind: str, **changes: object) -> Opening:
    facts: dict[str, object] = {
        "id": "N1", "wall": "W1", "kind": kind, "offset_in": 40.0, "width_in": 38.0, "sill_in": 0.0,
        "height_in": 82.0, "header_depth_in": 5.5,
    }  # fmt: skip
    return Opening(**{**facts, **changes})  # type: ignore[arg-type]


def test_openings_let_through_what_fills_them() -> None:
    start, end = (190.0, 60.0, 60.0), (290.0, 60.0, 60.0)
    bare = free_db(100, 5.25)
    cased = two_rooms(openings=(door("cased opening"),))
    assert loss(cased, start, end) == pytest.approx(bare, abs=1e-9)
    # Over the header the wall is whole again.
    over = loss(cased, (190.0, 60.0, 90.0), (290.0, 60.0, 90.0))
    assert over == pytest.approx(loss(two_rooms(), (190.0, 60.0, 90.0), (290.0, 60.0, 90.0)), abs=1e-9)
    leaf = loss(two_rooms(openings=(door("door"),)), start, end) - bare
    # Wood of 38 mm takes 0.62 dB at 2.4 GHz and of 89 mm 3.24 at 5.25 (thin-film library): a leaf is between.
    assert 0.2 < leaf < 3.2
    assert loss(two_rooms(openings=(door("overhead door"),)), start, end) == pytest.approx(
        bare + 12.0, abs=1e-9
    )


def test_under_a_sill_and_over_a_head_the_wall_is_whole() -> None:
    window = two_rooms(openings=(door("window", sill_in=36.0, height_in=40.0),))
    low, high = ((190.0, 60.0, z) for z in (20.0, 85.0))
    for start in (low, high):
        end = (290.0, 60.0, start[2])
        assert loss(window, start, end) == pytest.approx(loss(two_rooms(), start, end), abs=1e-9)
    glass = loss(window, (190.0, 60.0, 50.0), (290.0, 60.0, 50.0)) - free_db(100, 5.25)
    wall = loss(two_rooms(), (190.0, 60.0, 50.0), (290.0, 60.0, 50.0)) - free_db(100, 5.25)
    assert abs(glass - wall) > 0.1


def test_a_closed_box_takes_its_decibels_from_every_spot() -> None:
    house = two_rooms()
    open_, shut = Sender("S", 100, 100, 60), Sender("S", 100, 100, 60, 20.0)
    levels = [coverage(house, (one,), (FIVE,)).levels_dbm[0][0] for one in (open_, shut)]
    for before, after in zip(*levels, strict=True):
        assert after == pytest.approx(before - 20.0) or not math.isfinite(before)


def test_a_floor_counts_once_between_two_levels() -> None:
    upper = (Level("1", 0.0, 97.125), Level("2", 110.0, 97.125))
    rooms = (*two_rooms().rooms, Room("Up", "2", "bed", ((0, 0), (480, 0), (480, 240), (0, 240))))
    house = two_rooms(levels=upper, rooms=rooms)
    lying = screens(house).lying
    assert [piece.says for piece in lying] == ["floor of level 2, taken for wood"]
    found = loss(house, (100, 100, 90), (100, 100, 146)) - free_db(56, 5.25)
    assert found == pytest.approx(averaged_loss_db(lying[0].layers, 5.25).value, abs=1e-6)


def test_metal_in_the_way_takes_its_share_and_metal_beside_it_nothing() -> None:
    duct = Obstacle("O1", "supply duct", ("1",), rect=(100.0, 50.0, 120.0, 70.0), z_in=(0.0, 96.0))
    house = two_rooms(obstacles=(duct,))
    bare = free_db(120, 5.25)
    assert loss(house, (60, 60, 40), (180, 60, 40)) == pytest.approx(bare + 12.0, abs=1e-9)
    assert loss(house, (60, 80, 40), (180, 80, 40)) == pytest.approx(bare, abs=1e-9)
    assert "supply duct" in metal_words(house, Sender("A1", 90.0, 60.0, 40.0))
    assert metal_words(house, Sender("A1", 30.0, 60.0, 40.0)) == ""
    # A cabinet of wood and a plastic pipe are no metal.
    for kind in ("kitchen cabinets", "vent pipe 2 in", "PVC duct"):
        assert screens(two_rooms(obstacles=(replace(duct, kind=kind),))).metal == ()


@pytest.mark.parametrize("house", HOUSES)
def test_walls_on_the_way_are_those_another_library_finds(house: str) -> None:
    # Level ways at one height: pieces that stand at that height and cross the way on the plan, by shapely.
    home = job(house)
    found = screens(home)
    dice = np.random.default_rng(5)
    band = Band("5 GHz", 5.5, 23.0, -67.0)
    for _ in range(60):
        a, b = dice.uniform(30, 500, 2), dice.uniform(30, 500, 2)
        z = float(dice.uniform(10, 90))
        way = LineString([a, b])
        lost = free_db(max(way.length, 1000 / 25.4), 5.5)
        heading = (b - a) / way.length
        for piece in found.uprights:
            if not piece.z_in[0] <= z < piece.z_in[1] or not way.crosses(LineString([piece.a, piece.b])):
                continue
            along = np.subtract(piece.b, piece.a) / math.dist(piece.a, piece.b)
            degrees = min(math.degrees(math.asin(min(1.0, abs(float(np.dot(heading, along)))))), 75.0)
            if piece.layers:
                lost += averaged_loss_db(piece.layers, 5.5, degrees).value
            lost += piece.flat_db
        for thing in found.metal:
            x0, y0, x1, y1 = thing.rect
            shape, through = box(x0, y0, x1, y1), way.intersection(box(x0, y0, x1, y1)).length > 1e-3
            if through and thing.z_in[0] < z < thing.z_in[1] and not shape.contains(way.boundary.geoms[1]):
                lost += 12.0
        # Straight lines between the angles of the table make up to half a dB over several walls.
        assert loss(home, (*a, z), (*b, z), band) == pytest.approx(lost, abs=0.8)


@pytest.mark.parametrize("house", HOUSES)
def test_a_whole_house_agrees_with_the_home_formula(house: str) -> None:
    # P.1238-10 for a house at 5.2 GHz counts walls by its exponent, and floors; both are good to about 6 dB.
    home = job(house)
    sender = access_points(home)[0]
    level = min(home.levels, key=lambda v: abs(v.subfloor_z_in + v.plate_top_in - sender.z_in)).id
    net = next(n for n in nets(home, 36.0) if n.level == level)
    told = coverage(home, (sender,), (FIVE,), 36.0)
    values = told.levels_dbm[[n.level for n in told.nets].index(level)][0]
    gaps = []
    for index, value in enumerate(values):
        x, y = net.spot(index)
        away_m = math.dist((x, y, net.z_in), (sender.x_in, sender.y_in, sender.z_in)) * 0.0254
        if math.isfinite(value) and away_m >= 1.0:
            gaps.append(value - (23.0 - home_loss_db(away_m, 5.25).value))
    assert abs(float(np.mean(gaps))) < spread_db()


def test_the_strongest_access_point_serves() -> None:
    house = two_rooms()
    left, right = Sender("L", 120, 120, 90), Sender("R", 360, 120, 90)
    both = coverage(house, (left, right), (FIVE,))
    alone = coverage(house, (left,), (FIVE,))
    assert both.of_room("1", "Left", "5 GHz").sender == "L"
    assert both.of_room("1", "Right", "5 GHz").sender == "R"
    for before, after in zip(alone.levels_dbm[0][0], both.levels_dbm[0][0], strict=True):
        assert after >= before
    assert coverage(house, (left, right), (FIVE,)) == both


def test_a_net_covers_each_room_by_its_area() -> None:
    for house in HOUSES:
        home = job(house)
        for net in nets(home):
            for room in (r for r in home.rooms if r.level == net.level):
                xy = room.polygon
                area = (
                    abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(xy, xy[1:] + xy[:1], strict=True))) / 2
                )
                spots = net.rooms.count(room.name)
                edge = sum(math.dist(a, b) for a, b in zip(xy, xy[1:] + xy[:1], strict=True))
                assert abs(spots * net.step_in**2 - area) <= edge * net.step_in


def figure_of(dbm: float) -> object:
    return figure(dbm, FIVE, Sender("S", 0, 0, 0), "made up")


@pytest.mark.parametrize(
    ("half", "worst", "verdict"),
    [
        (-50.0, -61.0, Verdict.HOLDS),  # -61 - 6 = -67, on the limit
        (-50.0, -61.1, Verdict.CANNOT_TELL),
        (-73.0, -80.0, Verdict.CANNOT_TELL),  # -73 + 6 = -67
        (-73.1, -80.0, Verdict.FAILS),
    ],
)
def test_a_room_s_verdict_carries_the_uncertainty(half: float, worst: float, verdict: Verdict) -> None:
    assert room_verdict(figure_of(half), figure_of(worst), FIVE) is verdict  # type: ignore[arg-type]


def test_every_figure_carries_six_db_and_more_behind_a_metal_door() -> None:
    home = job("A")
    for signal in coverage(home, access_points(home)).rooms:
        assert signal.half_dbm.plus_minus == signal.worst_dbm.plus_minus == 6.0
        assert signal.worst_dbm.value <= signal.half_dbm.value
    boxed = enclosure_sender(home)
    assert boxed is not None
    # The square root of 6² + 5².
    assert coverage(home, (boxed,)).rooms[0].half_dbm.plus_minus == pytest.approx(7.81, abs=0.01)


@pytest.mark.parametrize("house", HOUSES)
def test_a_radio_in_the_box_serves_fewer_rooms_than_on_the_ceiling(house: str) -> None:
    home = job(house)
    boxed, ceiling = enclosure_sender(home), above_enclosure(home)
    assert boxed is not None
    assert ceiling is not None
    inside, outside = (coverage(home, (one,), step_in=24.0) for one in (boxed, ceiling))
    held = [sum(s.verdict is Verdict.HOLDS for s in c.rooms) for c in (inside, outside)]
    assert held[0] < held[1]


def test_access_points_are_known_by_word_or_by_device() -> None:
    home = job("A")
    assert [s.id for s in access_points(home)] == ["A03"]
    named = tuple(replace(q, device="access point") if q.id == "A18" else q for q in home.locations)
    assert [s.id for s in access_points(replace(home, locations=named))] == ["A03", "A18"]


def test_one_way_is_the_sum_of_its_parts() -> None:
    told = one_way(100 / 12, ("drywall partition", "wood floor"), FIVE, boxed=True)
    parts = told.free_db.value + sum(part.value for _, part in told.walls_db) + 20.0
    assert told.level_dbm.value == pytest.approx(23.0 - parts, abs=1e-12)
    assert told.free_db.value == pytest.approx(free_db(100, 5.25), abs=1e-9)


def test_bad_input_is_told_whole() -> None:
    with pytest.raises(RangeError) as told:
        one_way(1.0, ("mud",), replace(FIVE, ghz=60.0))
    for text in ("a distance 3.28084 to", "1 to 10 GHz", "a wall to be one of", "got mud"):
        assert text in str(told.value)
    with pytest.raises(RangeError, match="access points"):
        coverage(two_rooms(), ())
    with pytest.raises(RangeError, match="the step of the net"):
        nets(two_rooms(), 1.0)


def flat(columns: int, rows: int, step: float = 10.0) -> Net:
    return Net("1", 0.0, 0.0, step, columns, rows, ("R",) * (columns * rows), 0.0)


def test_a_contour_of_a_cone_is_a_circle() -> None:
    # 2 pi r by hand; the field is the distance from the middle.
    net = flat(81, 81, 5.0)
    values = tuple(math.dist(net.spot(i), (200.0, 200.0)) for i in range(len(net.rooms)))
    lines = contour(net, values, 120.0)
    assert len(lines) == 1
    assert math.dist(lines[0][0], lines[0][-1]) < 1e-6
    length = sum(math.dist(a, b) for a, b in zip(lines[0], lines[0][1:], strict=False))
    assert length == pytest.approx(2 * math.pi * 120, rel=2e-3)
    assert all(abs(math.dist(p, (200.0, 200.0)) - 120) < 0.1 for p in lines[0])


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.lists(st.floats(-90, -30), min_size=36, max_size=36), st.floats(-80, -40))
def test_a_contour_lies_between_spots_over_and_under_it(values: list[float], level: float) -> None:
    net = flat(6, 6)
    over = [v >= level for v in values]
    sides = sum(
        over[r * 6 + c] != over[r * 6 + c + 1] for r in range(6) for c in range(5)
    ) + sum(over[r * 6 + c] != over[(r + 1) * 6 + c] for r in range(5) for c in range(6))  # fmt: skip
    points = {
        (round(x, 6), round(y, 6)) for line in contour(net, tuple(values), level) for x, y in line
    }  # fmt: skip
    assert len(points) <= sides
    assert bool(points) == (sides > 0) or len(points) == 0
    for x, y in points:
        assert x % 10 == pytest.approx(0, abs=1e-5) or x % 10 == pytest.approx(10, abs=1e-5) or y % 10 == (
            pytest.approx(0, abs=1e-5)
        ) or y % 10 == pytest.approx(10, abs=1e-5)  # fmt: skip


def test_smoothing_keeps_a_slope_and_the_outside() -> None:
    net = flat(5, 5)
    slope = tuple(float(net.spot(i)[0]) for i in range(25))
    assert smoothed(net, slope)[12] == pytest.approx(slope[12])
    holed = (*slope[:12], -math.inf, *slope[13:])
    assert smoothed(net, holed)[12] == -math.inf
    assert all(math.isfinite(v) for i, v in enumerate(smoothed(net, holed)) if i != 12)


def test_the_usual_bands_are_those_of_a_home() -> None:
    assert [band.name for band in usual_bands()] == ["2.4 GHz", "5 GHz", "6 GHz"]
