"""Shared holes at true size: every one is there, its circles lie inside and apart, the words agree."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from hand_made import planned

from bayrun.drawings.hole_sheet import hole_sheets, shared_holes
from bayrun.drawings.measure import measure_scene
from bayrun.drawings.scene import Circle
from bayrun.drawings.svg import svg
from bayrun.wiring import Circle as Placed
from bayrun.wiring import Hole, Wiring


@pytest.mark.parametrize("house", ["a", "b", "c"])
def test_every_shared_hole_is_drawn_once_at_true_size(house: str) -> None:
    job, _, wiring = planned(house)
    sheets = hole_sheets(job, wiring)
    ids = [t.text for s in sheets for t in s.scene.texts() if re.fullmatch(r"H\d+", t.text)]
    wanted = [h.id for h in wiring.holes if len(h.occupants) > 1 and not h.open_passage]
    assert sorted(ids) == sorted(wanted)
    rings = [e for s in sheets for e in s.scene.elements if isinstance(e, Circle) and e.layer == "T-HOLE"]
    by_id = {h.id: h.diameter_in for h in wiring.holes}
    assert [2 * ring.radius_in for ring in rings] == pytest.approx([by_id[i] for i in ids])
    for sheet in sheets:
        assert sheet.scene.per_paper_in == 1.0
        measure = measure_scene(sheet.scene)
        assert (measure.overlaps, measure.clipped, measure.outside, measure.struck) == ((), (), (), ())


@pytest.mark.parametrize("house", ["a", "b", "c"])
def test_cables_lie_inside_their_ring_and_apart(house: str) -> None:
    # Outside: plain plane geometry on what is drawn, not on what was planned.
    job, _, wiring = planned(house)
    for sheet in hole_sheets(job, wiring):
        circles = [e for e in sheet.scene.elements if isinstance(e, Circle)]
        rings = [c for c in circles if c.layer == "T-HOLE"]
        cables = [c for c in circles if c.layer == "T-CABL-SNGL"]
        held = 0
        for ring in rings:
            mine = [
                c for c in cables if math.dist(c.center, ring.center) + c.radius_in <= ring.radius_in + 1e-6
            ]
            held += len(mine)
            for i, a in enumerate(mine):
                for b in mine[:i]:
                    assert math.dist(a.center, b.center) >= a.radius_in + b.radius_in - 1e-4
        assert held == len(cables)


def test_how_full_by_hand() -> None:
    # By hand: two cables of 1/2 in in a 1 in hole fill 2 x 1/4 = 50 %.
    job, _, _ = planned("a")
    circles = (Placed(-0.25, 0.0, 0.25), Placed(0.25, 0.0, 0.25))
    hole = Hole(
        "H7", "m", "along", 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0, ("A", "B"), circles, room="Den", level="1"
    )
    (sheet,) = hole_sheets(job, Wiring((), (hole,)))
    words = {t.text for t in sheet.scene.texts()}
    assert '1" bit, 50% full' in words
    assert "Den, level 1, stud" in words
    assert svg(sheet.scene).startswith(
        b'<svg xmlns="http://www.w3.org/2000/svg" width="16.2in" height="9.25in"'
    )


def test_single_holes_and_open_ways_are_not_shown() -> None:
    job, _, wiring = planned("c")
    alone = tuple(h for h in wiring.holes if len(h.occupants) == 1 or h.open_passage)
    assert hole_sheets(job, replace(wiring, holes=alone)) == ()
    assert [h.id for h in shared_holes(wiring)] == sorted(
        (h.id for h in shared_holes(wiring)), key=lambda i: int(i[1:])
    )


def test_many_holes_take_more_sheets() -> None:
    job, _, wiring = planned("a")
    first = shared_holes(wiring)[0]
    many = tuple(replace(first, id=f"H{i}", diameter_in=2.0) for i in range(1, 60))
    sheets = hole_sheets(job, replace(wiring, holes=many))
    # By hand: cells of 2.24 x 3.37 in go 7 x 2 on 16.2 x 8.9 in; 59 holes take 5 sheets.
    assert [s.name for s in sheets] == [f"holes-{i}" for i in range(1, 6)]
    assert all(measure_scene(s.scene).overlaps == () for s in sheets)
