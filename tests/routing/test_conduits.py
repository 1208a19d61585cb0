"""Conduits: the demo houses' own notes, bends by hand, holes held against the cables' limits."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from tests.demo import job

from bayrun.framing import Frame, lay_out
from bayrun.house import Conduit, Job, Practice
from bayrun.jobs import plan
from bayrun.jobs.conduit_sheet import conduit_sheet
from bayrun.routing.conduits import ConduitWay, bends_deg, conduit_ways, hole_for
from bayrun.wiring import Hole


@cache
def framed(house: str) -> tuple[Job, Frame]:
    return job(house), lay_out(job(house))


def ways(house: str, *conduits: Conduit, holes: tuple[Hole, ...] = ()) -> list[ConduitWay]:
    mine, frame = framed(house)
    return list(conduit_ways(replace(mine, conduits=conduits or mine.conduits), frame, holes))


def test_house_b_level_conduit_crosses_what_its_note_says() -> None:
    # tests/data/demo-houses.json, note of B-C1: "crosses the cripple at x=269-1/4 above the firebox header,
    # the firebox king stud and the studs at 285-1/4 and 301-1/4, then drops to B02 in its own bay".
    way = ways("B")[0]
    assert [h.at[0] for h in way.holes][:1] == [269.25]
    assert [h.at[0] for h in way.holes][2:] == [285.25, 301.25]
    assert "king" in way.holes[1].place
    assert all(h.why_not == "" and h.diameter_in == 1.75 for h in way.holes)
    assert way.bends_deg == 90.0
    assert way.points[-1][2] == pytest.approx(way.points[-2][2] - 48.0)  # 62 in to 14 in above the floor


def test_house_b_spare_conduits_rise_side_by_side_through_the_stacked_walls() -> None:
    # Note of B-C3: along the joist bay, then up riser B-R1 at 21' 2" and 21' 6-1/4".
    first, second = ways("B")[2:]
    assert first.points[-1][1] == 254.0
    assert second.points[-1][1] == 258.25
    for way in (first, second):
        assert [h.place.split(" plate")[0] for h in way.holes] == ["bottom", "top", "bottom", "top"]
        assert all(h.why_not == "" for h in way.holes)
        assert way.bends_deg == 270.0
        assert way.pull_points == 0


def test_house_a_conduit_in_one_bay_needs_no_hole() -> None:
    way = ways("A")[0]
    assert way.holes == ()
    assert way.length_in == pytest.approx(48.0)  # A01 at 62 in, A02 at 14 in, same bay
    assert way.bends_deg == 0.0


def test_what_nobody_said_is_cannot_tell() -> None:
    way = ways("A")[1]
    assert way.points == ()
    assert way.why.startswith("cannot tell: “outside service” is no location")


@pytest.mark.parametrize(
    ("points", "deg"),
    [
        ([(0, 0, 0), (0, 0, 10)], 0.0),
        ([(0, 0, 0), (0, 0, 10), (5, 0, 10)], 90.0),
        ([(0, 0, 0), (0, 0, 10), (5, 0, 10), (5, 0, 0)], 180.0),
        ([(0, 0, 0), (1, 0, 0), (2, 1, 0)], 45.0),
        ([(0, 0, 0), (0, 0, 0), (0, 0, 10), (5, 0, 10)], 90.0),
    ],
)
def test_bends_by_hand(points: list[tuple[float, float, float]], deg: float) -> None:
    assert bends_deg(points) == pytest.approx(deg)


def test_pull_boxes_by_the_sum_of_bends() -> None:
    # NEC 362.26: 360 degrees between pull points. Four quarter bends need none, a fifth one.
    corners = [(0.0, 0.0, 0.0), (9.0, 0.0, 0.0), (9.0, 9.0, 0.0), (9.0, 9.0, 9.0), (18.0, 9.0, 9.0)]
    five = [*corners, (18.0, 18.0, 9.0), (18.0, 18.0, 18.0)]
    for path, boxes in ((five[:-1], 0), (five, 1)):
        tube = Conduit("K1", "1 in flexible", 1.315, "here", "there", path=tuple(path))
        assert ways("A", tube)[0].pull_points == boxes


def test_a_tube_larger_than_its_hole_has_no_way() -> None:
    tube = Conduit("K1", "2 in flexible", 2.375, "B01", "B10", hole_in=2.0)
    assert "smaller than the tube" in ways("B", tube)[0].why


def test_a_hole_no_stud_may_have_is_told_at_each_stud() -> None:
    tube = Conduit("K1", "2 in", 2.375, "B01", "B02", hole_in=3.0, in_wall="B-102", hole_height_in=62.0)
    way = ways("B", tube)[0]
    assert way.holes
    assert all("more than this stud may have" in h.why_not for h in way.holes)


def test_the_hole_is_the_least_that_takes_the_tube() -> None:
    house = replace(job("A"), practice=replace(Practice(), bits_in=(1.0, 1.5, 2.0)))
    assert hole_for(house, Conduit("K", "1 in", 1.315, "a", "b")) == 1.5
    assert hole_for(house, Conduit("K", "2 in", 2.375, "a", "b")) == 2.375
    assert hole_for(house, Conduit("K", "2 in", 2.3, "a", "b")) == 2.375
    assert hole_for(house, Conduit("K", "1 in", 1.315, "a", "b", hole_in=1.75)) == 1.75


def test_two_conduits_never_share_a_hole() -> None:
    two = [Conduit(name, "1 in flexible", 1.315, "B01", "B10", hole_in=1.5) for name in ("K1", "K2")]
    first, second = ways("B", *two)
    assert first.holes
    assert not {h.at for h in first.holes} & {h.at for h in second.holes}


def test_a_cables_hole_too_near_is_told() -> None:
    way = ways("B")[2]
    x, y, z = way.holes[0].at
    other = Hole("H9", way.holes[0].member, "up", 0.0, 0.0, 0.0, x, y + 2.0, z, 1.0)
    told = ways("B", holes=(other,))[2].near
    assert told
    assert told[0].startswith('H9 leaves 5/8" of wood')  # 2 - (1.75 + 1) / 2


def test_the_page_of_house_b() -> None:
    page = conduit_sheet(plan(job("B")))
    assert page is not None
    assert page.heading == "Conduits: 3 of 4 ways known"
    assert [row.cells[0] for row in page.rows] == ["B-C1", "B-C2", "B-C3", "B-C4"]
    assert page.rows[2].cells[4] == "270°"
    assert "cannot tell" in page.rows[1].detail
