"""Swap advice when a box runs short, and lengths from jacket marks."""

from __future__ import annotations

import random
from itertools import product

import pytest

from bayrun.takeoff.cutting import Cut
from bayrun.takeoff.marks import MarkError, cut_by_marks
from bayrun.takeoff.short import NEW, Stands, on_the_stand, swap_advice
from conftest import count
from takeoff.planned_houses import planned


def test_84_left_91_needed_78_elsewhere() -> None:
    # The constructed case of the trade: one box has 84 ft and the next run needs 91; a run of 78 ft waits
    # at a box that has enough for the 91. Change the two, and nothing new is opened.
    boxes = (Stands("BX-D-1", 84.0, 5.0), Stands("BX-D-2", 100.0, 5.0))
    planned_from = {"A09-D1": "BX-D-1", "A11-D1": "BX-D-2"}
    told = swap_advice(boxes, planned_from, (Cut("A09-D1", 91, "1"), Cut("A11-D1", 78, "2")), 1000.0, 5.0)
    assert (told.new, told.never, told.proven) == (0, (), True)
    assert [(s.run, s.from_box, s.to_box) for s in told.swaps] == [
        ("A09-D1", "BX-D-1", "BX-D-2"),
        ("A11-D1", "BX-D-2", "BX-D-1"),
    ]
    assert told.says == (
        "BX-D-1 has 84 ft left (79 ft to use) and is planned to give 91 ft. Pull A09-D1 (91 ft) from BX-D-2. "
        "Pull A11-D1 (78 ft) from BX-D-1. Nothing new is opened."
    )


def test_a_new_box_only_where_no_swap_helps() -> None:
    boxes = (Stands("1", 84.0, 5.0), Stands("2", 95.0, 5.0))
    told = swap_advice(boxes, {"a": "1", "b": "2"}, (Cut("a", 91, "1"), Cut("b", 78, "2")), 1000.0, 5.0)
    assert (told.new, [(s.run, s.to_box) for s in told.swaps]) == (1, [("a", NEW)])
    assert told.says.endswith("Pull a (91 ft) from a new box. 1 new box is opened.")


def test_a_run_that_no_box_is_long_enough_for() -> None:
    told = swap_advice((Stands("1", 84.0, 5.0),), {"a": "1"}, (Cut("a", 120, "1"),), 100.0, 5.0)
    assert told.never == ("a",)
    assert "No box is long enough for a (120 ft): bring a longer spool; a run is never spliced." in told.says


def test_enough_is_said_so() -> None:
    told = swap_advice((Stands("1", 96.0, 5.0),), {"a": "1"}, (Cut("a", 91, "1"),), 100.0, 5.0)
    assert told.enough
    assert told.swaps == ()


def test_fewest_new_boxes_and_fewest_changes_by_brute_force() -> None:
    chance, short = random.Random(45), 0
    for _ in range(count(40, 400)):
        runs = chance.randint(3, 6)
        cuts = tuple(Cut(f"r{i}", chance.randint(20, 90), str(i // 2)) for i in range(runs))
        boxes = tuple(Stands(f"b{j}", float(chance.randint(60, 240)), 5.0) for j in range(3))
        planned_from = {cut.run: f"b{chance.randrange(3)}" for cut in cuts}
        told = swap_advice(boxes, planned_from, cuts, 500.0, 5.0)
        best = (99, 99)
        for places in product(range(4), repeat=runs):  # the fourth is a new box
            left = [*(box.usable_ft for box in boxes), 495]
            seen = set()
            for cut, j in zip(cuts, places, strict=True):
                left[j] -= cut.feet
                seen.add((cut.group, j))
            if min(left) >= 0 and len(seen) == runs:
                names = [*(box.id for box in boxes), NEW]
                moved = sum(planned_from[c.run] != names[j] for c, j in zip(cuts, places, strict=True))
                best = min(best, (int(3 in places), moved))
        if told.enough:
            continue
        short += 1
        assert (told.new, len(told.swaps)) == best
    assert short > 15


def test_the_stand_of_a_planned_house() -> None:
    house = planned("a")
    pull = house.counted.pulls[2]
    run, box = next((run, box) for run, box in pull.boxes if box.startswith("BX-D"))
    stand, planned_from, todo = on_the_stand(house.counted.boxes, house.counted.pulls, run, {box: 30.0}, 5.0)
    assert planned_from[run] == box
    assert next(one for one in stand if one.id == box).left_ft == 30.0
    assert run in {cut.run for cut in todo}
    assert not {cut.run for cut in todo} & {one for p in house.counted.pulls[:2] for one in p.runs}
    told = swap_advice(stand, planned_from, todo, 1000.0, 5.0)
    assert not told.enough
    dealt = {cut.run: planned_from[cut.run] for cut in todo} | {s.run: s.to_box for s in told.swaps}
    for one in stand:
        assert sum(c.feet for c in todo if dealt[c.run] == one.id) <= one.usable_ft
    with pytest.raises(KeyError):
        on_the_stand(house.counted.boxes, house.counted.pulls, "Z99", {}, 5.0)


@pytest.mark.parametrize(
    ("start", "end", "rolls", "expected", "feet"),
    [
        (412.0, 334.0, None, None, 78.0),
        (334.0, 412.0, None, None, 78.0),
        (970.0, 48.0, 1000.0, 78.0, 78.0),  # over the roll-over: 30 + 48
        (970.0, 48.0, 1000.0, None, 78.0),
        (100.0, 900.0, 1000.0, 800.0, 800.0),  # a long pull is not taken for a short one
    ],
)
def test_marks(start: float, end: float, rolls: float | None, expected: float | None, feet: float) -> None:
    told, warn = cut_by_marks(start, end, rolls_over_at=rolls, expected_ft=expected)
    assert told.value == pytest.approx(feet)
    assert warn == ""
    assert told.plus_minus == 1.0


def test_marks_in_meters_and_far_from_the_plan() -> None:
    told, warn = cut_by_marks(100.0, 130.48, unit="m", expected_ft=78.0)
    assert told.value == pytest.approx(100.0)  # 30.48 m are 100 ft by the inch of 25.4 mm
    assert warn == "78 ft were planned and the marks say 100 ft: read them again."
    with pytest.raises(
        MarkError, match="start mark: expected a number of zero or more and at most 1000, got 1200"
    ):
        cut_by_marks(1200.0, 40.0, rolls_over_at=1000.0)
    with pytest.raises(MarkError, match="expected two different marks, got 40 twice"):
        cut_by_marks(40.0, 40.0)
