"""Dear stretches: headroom against the demo's own figure, power by hand, and what a plan makes of both."""

from __future__ import annotations

from dataclasses import fields, replace
from decimal import Decimal

import pytest
from tests.demo import house_data, job
from tests.laws import check_laws

from bayrun.framing import lay_out
from bayrun.geometry import Rect
from bayrun.house import Costs, Job, Obstacle, Practice
from bayrun.routing import route
from bayrun.routing.prices import price_lines
from bayrun.routing.spaces import REACH_IN
from bayrun.routing.zones import (
    Dear,
    l_extra,
    leg_extra,
    low_roof,
    power_in_wall,
    power_over_plan,
    slope_over,
)
from bayrun.wiring import Wiring


def test_headroom_over_the_box_is_the_demos_figure() -> None:
    # Source: tests/data/demo-houses.json, headroom_at_box 2' 11-5/16" by its headroom_rule, which rounds the
    # top chord up to a sixteenth: so ours may be up to 1/16 more.
    found = str(house_data("A"))
    assert "'headroom_at_box': 35.3125" in found
    slope = slope_over(job("A"), job("A").frame("A-roof"))
    assert slope is not None
    assert 35.3125 <= slope.between_chords_in(58.75) <= 35.3125 + 1 / 16


def test_headroom_by_hand_at_eave_and_ridge() -> None:
    # 6 in 12, heel 12, chords 3-1/2: at the outer face 12 - 3.5 = 8.5 to the deck; at the ridge, 182.75 on,
    # 91.375 more. The top chord takes 3.5 x sqrt(1.25) = 3.913 off both.
    slope = slope_over(job("A"), job("A").frame("A-roof"))
    assert slope is not None
    assert slope.under_deck_in(-2.75) == pytest.approx(8.5)
    assert slope.under_deck_in(180.0) == pytest.approx(8.5 + 91.375)
    assert slope.between_chords_in(180.0) == pytest.approx(8.5 + 91.375 - 3.5 * 1.25**0.5)
    assert slope.reaches(36.0) == pytest.approx((36 - (8.5 - 3.5 * 1.25**0.5)) * 2)


def low_heel(heel_in: float) -> Job:
    house = job("A")
    return replace(house, roofs=tuple(replace(r, heel_in=heel_in) for r in house.roofs))


def test_no_way_up_where_the_deck_is_too_near_the_plate() -> None:
    # Heel 1 in: 3 in over the plate's top is reached 4 in further in, past the plate's middle.
    house = low_heel(1.0)
    shut, _ = low_roof(house, house.frame("A-roof"), REACH_IN)
    assert [(r.v0, r.v1) for r in shut] == [(-19.0, pytest.approx(1.25)), (pytest.approx(358.75), 379.0)]
    wiring = route(house, lay_out(house))
    check_laws(house, lay_out(house), wiring)
    for hole in wiring.holes:
        if "top" in hole.member and hole.z > 90:
            assert not any(r.holds(hole.x, hole.y) for r in shut), hole.id


def test_between_two_trusses_a_cable_comes_out_over_them_it_does_not() -> None:
    # Heel 5-1/2 in, chords 3-1/2: 5.5 in over the plate; over the chord 2 in at the face, 3 in 2 in further.
    house = low_heel(5.5)
    shut, dear = low_roof(house, house.frame("A-roof"), REACH_IN)
    assert shut == ()
    over = [d for d in dear if d.axis is not None]
    assert [d.axis for d in over] == [0, 0]  # trusses run along y: across them is along x
    assert over[0].rect.v1 == pytest.approx(-0.75)
    wiring = route(house, lay_out(house))
    assert wiring.unreached == ()
    for run in wiring.runs:
        for p, q in zip(run.path, run.path[1:], strict=False):
            if (
                p.z > 100
                and abs(p.x - q.x) > 1
                and not run.id.startswith(("A15", "A18", "A19", "A20", "A14"))
            ):
                assert p.y > -0.75, run.id


def test_an_unknown_roof_costs_and_bars_nothing() -> None:
    house = replace(job("A"), roofs=())
    assert low_roof(house, house.frame("A-roof"), REACH_IN) == ((), ())


def test_a_named_roof_wins_over_the_nearest_ridge() -> None:
    house = job("A")
    far = replace(house.roofs[1], id="porch", heel_in=30.0, frames=("A-roof",))
    slope = slope_over(replace(house, roofs=(*house.roofs, far)), house.frame("A-roof"))
    assert slope is not None
    assert slope.heel_in == 30.0


ALONG_X = Dear(Rect(0.0, -6.0, 100.0, 6.0), 0.5, 0)


@pytest.mark.parametrize(
    ("a", "b", "extra_in"),
    [
        ((0.0, 0.0), (100.0, 0.0), 50.0),  # all along: half as much again
        ((-50.0, 3.0), (50.0, 3.0), 25.0),  # half of it along
        ((50.0, -40.0), (50.0, 40.0), 0.0),  # square across: free
        ((0.0, 7.0), (100.0, 7.0), 0.0),  # far enough: free
    ],
)
def test_power_costs_along_and_not_across(
    a: tuple[float, float], b: tuple[float, float], extra_in: float
) -> None:
    assert leg_extra([ALONG_X], a, b) == pytest.approx(extra_in)


def test_the_l_that_keeps_away_from_power_costs_less() -> None:
    assert l_extra([ALONG_X], (0.0, 0.0), (100.0, 50.0), True) == pytest.approx(50.0)
    assert l_extra([ALONG_X], (0.0, 0.0), (100.0, 50.0), False) == 0.0


def powered(house: Job, *points: tuple[float, float, float]) -> Job:
    line = Obstacle("PWR", "power run 14/2", ("1",), path=points, circuits=1)
    return replace(house, obstacles=(*house.obstacles, line))


def test_zones_narrow_with_height_and_end_at_the_firms_distance() -> None:
    house = powered(replace(job("A"), obstacles=()), (0.0, 100.0, 100.0), (200.0, 100.0, 100.0))
    (zone,) = power_over_plan(house, Rect(0, 0, 600, 360), 100.0, 1.0)
    assert (zone.rect.v0, zone.rect.v1, zone.axis) == (94.0, 106.0, 0)
    (zone,) = power_over_plan(house, Rect(0, 0, 600, 360), 103.6, 1.0)  # 3.6 above: sqrt(36 - 12.96) = 4.8
    assert zone.rect.v1 == pytest.approx(104.8)
    assert power_over_plan(house, Rect(0, 0, 600, 360), 106.5, 1.0) == ()


def test_power_down_a_bay_is_a_zone_of_that_wall_alone() -> None:
    house = job("A")
    wall = house.wall("A-W26")
    x, y = wall.start[0] + wall.direction[0] * 30, wall.start[1] + wall.direction[1] * 30
    house = powered(house, (x, y, 12.0), (x, y, 90.0))
    found = [d for d in power_in_wall(house, wall, Rect(20.0, 0.0, 40.0, 97.0)) if d.axis == 1]
    assert [d.rect.u0 for d in found] == pytest.approx([24.0])
    assert power_in_wall(house, house.wall("A-W05"), Rect(0.0, 0.0, 200.0, 97.0)) == ()


def along_power_in(wiring: Wiring, y: float, z: float, low: float, high: float) -> float:
    total = 0.0
    for run in wiring.runs:
        for p, q in zip(run.path, run.path[1:], strict=False):
            if abs(p.y - q.y) < 1e-6 and abs(p.y - y) < 6 and abs(p.z - z) < 6 and abs(p.x - q.x) > 1:
                total += max(0.0, min(max(p.x, q.x), high) - max(min(p.x, q.x), low))
    return total


def test_runs_step_aside_from_power_and_cross_it() -> None:
    free = job("A")
    frame = lay_out(free)
    before = route(free, frame)
    # A power run laid exactly along the attic stretch that most cables share.
    shared: dict[float, float] = {}
    z = next(p.z for r in before.runs for p in r.path if p.z > 100)
    for run in before.runs:
        for p, q in zip(run.path, run.path[1:], strict=False):
            if abs(p.y - q.y) < 1e-6 and abs(p.z - z) < 0.1 and abs(p.x - q.x) > 24:
                shared[p.y] = shared.get(p.y, 0.0) + abs(p.x - q.x)
    y = max(shared, key=lambda k: shared[k])
    house = powered(free, (10.0, y, z), (600.0, y, z))
    after = route(house, frame)
    check_laws(house, frame, after)
    assert not after.unreached
    was, now = (along_power_in(w, y, z, 10.0, 600.0) for w in (before, after))
    assert now < 0.5 * was
    blind = replace(
        house, practice=replace(house.practice, costs=replace(house.practice.costs, power_along_factor=1.0))
    )
    # Nothing asks it to step aside; the few points more to turn at may still change a way or two.
    assert along_power_in(route(blind, frame), y, z, 10.0, 600.0) > 0.8 * was


def test_every_price_of_the_firm_shows_in_the_list() -> None:
    # A price that a plan is weighed by and nobody prints would be a hidden price.
    plain = price_lines(job("A").practice)
    for field in fields(Costs):
        value = getattr(Costs(), field.name)
        other = value + Decimal("1.50") if isinstance(value, Decimal) else value * 1.5
        practice = job("A").practice
        changed = replace(practice, costs=replace(practice.costs, **{field.name: other}))
        assert price_lines(changed) != plain, field.name


def test_the_list_of_prices_by_hand() -> None:
    # 48.00 an hour: a hole of 45 s is 0.60, a seal of 60 s and 0.80 1.60, a plate of 35 s and 0.55 1.02.
    lines = {p.what: p.amount for p in price_lines(Practice())}
    assert lines["a hole"] == Decimal("0.60")
    assert lines["more for a seal"] == Decimal("1.60")
    assert lines["more for each nail plate"] == Decimal("1.02")
    assert lines["leaving a bay the way nobody wished"] == Decimal("40.00")
