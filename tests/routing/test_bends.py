"""A stiff cable is not led into a bay it cannot turn in: bays and holes by hand, radii as printed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.demo import job
from tests.laws import check_laws

from bayrun.framing import lay_out
from bayrun.geometry import Rect
from bayrun.house import CableKind
from bayrun.routing import route
from bayrun.routing.bends import bend_in, tight_places
from bayrun.routing.build import passages
from bayrun.routing.records import Cell, Place, Slot


def stud(name: str, a: str, b: str, at: float, *ups: float) -> Place:
    slots = tuple(Slot(at, up, 0.0, (at, 0.0, up), (at, 0.0, up), (at, 0.0, up)) for up in ups)
    return Place(name, a, b, name, "along", 1.0, slots, 1)


def bay(name: str, low: float, high: float) -> Cell:
    return Cell(name, "bay", "W", "1", Rect(low, 0.0, high, 96.0))


WIDE, SLIT, FAR = bay("wide", 0, 14.5), bay("slit", 16, 18), bay("far", 19.5, 34)


def test_radius_by_the_printed_multiple() -> None:
    # Source: TIA-568, inside radius 4 x the outside diameter of four-pair: 0.23 in gives 0.92 in; half a
    # diameter more to the middle of the cable.
    assert bend_in(CableKind("D", "data four-pair", 0.23)) == pytest.approx(0.92 + 0.115)


def test_a_slit_is_passed_straight_and_never_turned_in() -> None:
    left, right = stud("L", "wide", "slit", 15.25, 26.0), stud("R", "slit", "far", 18.75, 26.0)
    other = stud("R2", "slit", "far", 18.75, 80.0)  # no hole at its height in the stud across
    found = tight_places([WIDE, SLIT, FAR], [left, right, other], {"X": 2.9, "D": 1.0})
    assert found == {"X": (2,), "D": ()}
    assert tight_places([WIDE, SLIT, FAR], [left], {"X": 2.9})["X"] == (0,)
    assert tight_places([WIDE, SLIT, FAR], [left], {"X": 2.0})["X"] == ()  # on the limit it turns


def test_no_stiff_run_of_a_demo_house_turns_in_a_slit() -> None:
    # Every cable of the house made as stiff as a thick coax of 10 x 0.40 in.
    house = job("B")
    stiff = tuple(replace(k, bend_radius_x_diameter=4.2 / k.diameter_in - 0.5) for k in house.practice.cables)
    house = replace(house, practice=replace(house.practice, cables=stiff))
    frame = lay_out(house)
    graph = passages(house, frame)
    tight = tight_places(graph.cells, graph.places, {"D": 4.2})["D"]
    assert tight
    wiring = route(house, frame)
    assert wiring.unreached == ()
    check_laws(house, frame, wiring)
    shut = {(graph.places[i].member, slot.up_in) for i in tight for slot in graph.places[i].slots}
    assert not [h.id for h in wiring.holes if h.axis == "along" and (h.member, h.up_in) in shut]
