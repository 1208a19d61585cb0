"""No edge of a box gets more cable than its knockouts take, while another edge has room."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from tests.demo import job
from tests.laws import check_laws

from bayrun.enclosure.entries import trade_of
from bayrun.framing import lay_out
from bayrun.house import Job, Knockout
from bayrun.routing import route
from bayrun.routing.entries import opening_in, room_of
from bayrun.wiring import Wiring


def with_knockouts(*knockouts: Knockout) -> Job:
    house = job("B")
    box = replace(house.enclosures[0], knockouts=knockouts)
    return replace(house, enclosures=(box, *house.enclosures[1:]))


@cache
def planned(house: Job) -> Wiring:
    return route(house, lay_out(house))


def load(house: Job, edge: str) -> float:
    sizes = {k.letter: k.diameter_in for k in house.practice.cables}
    return sum(sizes[r.kind] ** 2 for r in planned(house).runs if r.entry == edge)


WIDE = (Knockout("top", 3.5, 2.0), Knockout("top", 10.75, 2.0), Knockout("bottom", 10.75, 2.0))
NARROW = (*WIDE[:2], Knockout("bottom", 10.75, 1.734))


@pytest.mark.parametrize("diameter_in", [0.875, 1.109, 1.375, 1.734, 1.984, 2.0, 1.2])
def test_openings_are_those_the_box_is_fitted_by(diameter_in: float) -> None:
    # The fitting out of the box has its own reading of the same table.
    assert opening_in(diameter_in) == pytest.approx(trade_of(diameter_in)[1])


def test_room_by_hand() -> None:
    # One knockout of 2 in with a bushing of 1.7965 in: 0.95 x 40 % x 1.7965^2.
    box = with_knockouts(*WIDE, Knockout("bottom", 1.5, 0.875, "power")).enclosures[0]
    assert room_of(box, "bottom", 0.4) == pytest.approx(0.95 * 0.4 * 1.7965**2)
    assert room_of(box, "top", 0.4) == pytest.approx(2 * 0.95 * 0.4 * 1.7965**2)
    assert room_of(replace(box, knockouts=()), "top", 0.4) == float("inf")


def test_a_narrow_knockout_sends_the_rest_around() -> None:
    wide, narrow = with_knockouts(*WIDE), with_knockouts(*NARROW)
    room = room_of(narrow.enclosures[0], "bottom", narrow.practice.fill_max)
    assert load(wide, "bottom") > room  # or there would be nothing to bring around
    assert load(narrow, "bottom") <= room
    assert load(narrow, "top") <= room_of(narrow.enclosures[0], "top", narrow.practice.fill_max)
    assert load(narrow, "top") + load(narrow, "bottom") == pytest.approx(
        load(wide, "top") + load(wide, "bottom")
    )
    assert planned(narrow).unreached == ()
    assert planned(narrow).cost >= planned(wide).cost
    check_laws(narrow, lay_out(narrow), planned(narrow))


def test_a_box_full_on_every_edge_is_planned_all_the_same() -> None:
    full = with_knockouts(Knockout("top", 3.5, 0.875), Knockout("bottom", 10.75, 0.875))
    assert planned(full).unreached == ()
    assert planned(full) == route(full, lay_out(full))
