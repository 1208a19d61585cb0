"""What a run to a spot would cost: held against the plan of that one run alone, made by the solver."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from tests.demo import HOUSES, job

from bayrun.framing import Frame, lay_out
from bayrun.house import Job, Location
from bayrun.routing import route
from bayrun.siting.reach import Reach, Spot, reach


@cache
def framed(house: str) -> tuple[Job, Frame]:
    return job(house), lay_out(job(house))


def spot_of(location: Location) -> Spot | None:
    if location.mount == "wall":
        return Spot(
            location.id,
            location.level,
            "wall",
            wall=location.wall,
            along_in=location.offset_in,
            height_in=location.height_in,
        )
    if location.mount == "ceiling" and location.x_in is not None:
        return Spot(location.id, location.level, x_in=location.x_in, y_in=location.y_in)
    return None


@pytest.mark.parametrize("house", HOUSES)
def test_a_spot_costs_what_the_plan_of_that_run_alone_costs(house: str) -> None:
    # The plan of one run alone is the outside value: other code lays it (solver and route), on a graph with
    # ways out of fewer bays; so a spot may be a little cheaper, never dearer. 10 % is our own figure.
    mine, frame = framed(house)
    spots = [s for q in mine.locations if (s := spot_of(q)) is not None]
    found = {r.spot: r for r in reach(mine, frame, spots)}
    same = checked = 0
    for run in mine.runs[::4]:
        name = run.to_end.id if run.to_end.type == "location" else run.from_end.id
        if name not in found or "enclosure" not in (run.from_end.type, run.to_end.type):
            continue
        alone = route(replace(mine, runs=(replace(run, kind="D"),)), frame)
        assert found[name].legal
        price = alone.cost / 1e6
        assert 0.9 * price - 0.01 <= found[name].price <= price + 0.01, name
        same += abs(found[name].price - price) < 0.01
        checked += 1
        drilled = sum(1 for h in alone.holes if not h.open_passage)
        if abs(found[name].price - price) < 0.01:
            assert found[name].holes == drilled
            assert found[name].feet == pytest.approx(alone.runs[0].length_in / 12, abs=1.5)
    assert checked >= 4
    assert same >= checked / 2


def test_open_holes_of_a_plan_are_free() -> None:
    mine, frame = framed("A")
    whole = route(mine, frame)
    spots = [s for at in mine.locations if (s := spot_of(at)) is not None]
    pairs = list(zip(reach(mine, frame, spots), reach(mine, frame, spots, wiring=whole), strict=True))
    assert all(beside.price <= alone.price for alone, beside in pairs)
    cheaper = [(alone, beside) for alone, beside in pairs if beside.price < alone.price]
    assert len(cheaper) > len(pairs) / 2
    assert all(beside.holes <= alone.holes for alone, beside in cheaper)


def answer(house: str, spot: Spot) -> Reach:
    mine, frame = framed(house)
    return reach(mine, frame, [spot])[0]


def test_a_spot_outside_the_house_is_no_way_and_says_so() -> None:
    found = answer("A", Spot("far", "1", x_in=5000.0, y_in=5000.0))
    assert not found.legal
    assert found.price == float("inf")
    assert found.barred_by


def test_a_spot_in_a_window_is_no_way_and_says_where() -> None:
    mine, _ = framed("A")
    window = next(o for o in mine.openings if o.is_window and o.width_in > 30)
    middle = window.offset_in + window.width_in / 2
    found = answer(
        "A",
        Spot(
            "w",
            mine.wall(window.wall).level,
            "wall",
            wall=window.wall,
            along_in=middle,
            height_in=window.sill_in + 20,
        ),
    )
    assert not found.legal
    assert "no clear bay at" in found.barred_by


def test_without_an_enclosure_nothing_is_reached() -> None:
    mine, frame = framed("A")
    bare = replace(mine, enclosures=(), enclosure="", runs=())
    found = reach(bare, frame, [Spot("x", "1", x_in=100.0, y_in=100.0)])
    assert [r.barred_by for r in found] == ["the job has no enclosure"]
