"""Cable boxes: laws, a brute force beside first fit, and the demo house's own case."""

from __future__ import annotations

import json
import random
from itertools import product

import pytest

from bayrun.house import CableKind, Practice
from bayrun.takeoff.boxes import assign_boxes
from bayrun.takeoff.lengths import cut_length_in
from bayrun.wiring import Box, PathPoint, Pull, Run
from conftest import ROOT, count
from takeoff import small_house as small
from takeoff.planned_houses import every_house, planned


def straight(run_id: str, length_in: float) -> Run:
    points = (PathPoint(0.0, 0.0, 0.0), PathPoint(0.0, length_in, 0.0))
    return small.run(run_id, path=points, slack_from_in=0.0, slack_to_in=0.0)


def assigned(
    feet: list[float], on_hand: tuple[float, ...], box_ft: float = 1000.0, together: bool = False
) -> tuple[tuple[Box, ...], tuple[Pull, ...], tuple[object, ...]]:
    kinds = (CableKind("D", "data four-pair", 0.23, box_ft=box_ft),)
    job = small.job(practice=Practice(cables=kinds, partial_boxes=tuple(("D", one) for one in on_hand)))
    runs = tuple(straight(f"R{i}", 12 * one) for i, one in enumerate(feet, start=1))
    groups = [runs] if together else [(run,) for run in runs]
    pulls = tuple(Pull(f"PL{i}", i, tuple(r.id for r in g), "", "") for i, g in enumerate(groups, start=1))
    return assign_boxes(job, small.wiring(runs), pulls)


def fewest_new(feet: list[float], on_hand: tuple[float, ...], reserve_ft: float) -> bool:
    """Brute force: can the boxes on hand alone feed all runs?"""
    for places in product(range(len(on_hand)), repeat=len(feet)):
        taken = [0.0] * len(on_hand)
        for one, at in zip(feet, places, strict=True):
            taken[at] += one
        if all(t <= have - reserve_ft for t, have in zip(taken, on_hand, strict=True)):
            return True
    return False


def check_laws(boxes: tuple[Box, ...], runs: dict[str, float], reserve_ft: float) -> None:
    cut = [run for box in boxes for run, _ in box.cuts]
    assert sorted(cut) == sorted(runs)
    for box in boxes:
        total_ft = sum(length_in for _, length_in in box.cuts) / 12
        assert total_ft <= box.start_ft - reserve_ft + 1e-9
        assert box.left_ft == pytest.approx(box.start_ft - total_ft)
        for run, length_in in box.cuts:
            assert length_in == runs[run]


def test_first_fit_against_brute_force() -> None:
    """First fit over all orders of opening, against every way to deal runs to boxes.

    Up to 8 runs and 3 boxes on hand. First fit is a heuristic: it may open a new box where a cleverer deal
    needs none. Measured over 1,000 seeded cases: it found a deal in 908 of the 912 that have
    one, and never opens more than one box too many.
    """
    chance, feasible, found = random.Random(20), 0, 0
    for _ in range(count(200, 1000)):
        feet = [float(chance.randint(20, 120)) for _ in range(chance.randint(4, 8))]
        spare = chance.uniform(1.0, 1.35)
        shares = sorted(chance.random() for _ in range(2))
        total = sum(feet) * spare + 15
        parts = (shares[0], shares[1] - shares[0], 1 - shares[1])
        on_hand = tuple(round(total * part) + 5.0 for part in parts)
        boxes, _, _ = assigned(feet, on_hand)
        check_laws(boxes, {f"R{i}": 12 * one for i, one in enumerate(feet, start=1)}, 5.0)
        new = sum(1 for box in boxes if not box.partial)
        possible = fewest_new(feet, on_hand, 5.0)
        assert new <= 1
        feasible += possible
        found += possible and new == 0
        assert possible or new == 1  # what brute force cannot do, first fit cannot either
    assert feasible > 40  # the cases are not all trivial
    assert found >= 0.97 * feasible, f"first fit found {found} of {feasible}"


def test_the_demo_house_opens_620_and_1000_and_leaves_480_whole() -> None:
    # Source: event A-E6 of the demo houses (tests/data): boxes 620, 480 and 1000 ft, the last 5 ft of each
    # not usable, 24 data runs at their baselines; best: open 620 and 1000, 480 whole. Cuts are whole feet.
    data = json.loads((ROOT / "tests" / "data" / "demo-houses.json").read_text(encoding="utf-8"))
    baselines = [
        run["baseline"]["A-ENC"]["total"] for run in data["houses"]["A"]["runs"] if run["kind"] == "D"
    ]
    assert len(baselines) == 24
    boxes, _, findings = assigned([one / 12 for one in baselines], (620.0, 480.0, 1000.0))
    assert findings == ()
    assert sorted(box.start_ft for box in boxes) == [620.0, 1000.0]
    assert all(box.partial for box in boxes)


def test_cables_of_one_pull_come_from_different_boxes() -> None:
    boxes, pulls, _ = assigned([50.0, 50.0, 50.0], (), together=True)
    assert len(boxes) == 3  # trap 14: enough feet in one box, but three cables come off at once
    assert len({box for _, box in pulls[0].boxes}) == 3
    alone, _, _ = assigned([50.0, 50.0, 50.0], ())
    assert len(alone) == 1


def test_the_reserve_is_never_planned() -> None:
    boxes, _, _ = assigned([95.0], (100.0,))
    assert [(box.start_ft, box.left_ft) for box in boxes] == [(100.0, 5.0)]  # on the limit passes
    boxes, _, _ = assigned([96.0], (100.0,))
    assert [box.start_ft for box in boxes] == [1000.0]


def test_a_run_longer_than_any_box_is_told_and_the_rest_is_dealt() -> None:
    boxes, _, findings = assigned([120.0, 40.0], (), box_ft=100.0)
    assert [run for box in boxes for run, _ in box.cuts] == ["R2"]
    (told,) = findings
    assert told.rule == "run-longer-than-box"  # type: ignore[attr-defined]
    assert told.says.startswith("Run R1 needs 120' 0\" of data four-pair; a full box gives 95' 0\"")  # type: ignore[attr-defined]
    spool, _, findings = assigned([120.0, 40.0], (200.0,), box_ft=100.0)
    assert [box.start_ft for box in spool] == [200.0]
    assert len(findings) == 1


@every_house
def test_planned_houses_keep_the_laws(letter: str) -> None:
    house = planned(letter)
    lengths = {run.id: cut_length_in(house.job, run) for run in house.wiring.runs}
    boxes = house.counted.boxes
    check_laws(boxes, lengths, 5.0)
    box_of = {run: box.id for box in boxes for run, _ in box.cuts}
    kinds = {run.id: run.kind for run in house.wiring.runs}
    order = {run: (pull.order, i) for pull in house.counted.pulls for i, run in enumerate(pull.runs)}
    for pull in house.counted.pulls:
        assert dict(pull.boxes) == {run: box_of[run] for run in pull.runs}
        assert len({box_of[run] for run in pull.runs}) == len(pull.runs)
    for box in boxes:
        assert all(kinds[run] == box.kind for run, _ in box.cuts)
        assert [run for run, _ in box.cuts] == sorted((run for run, _ in box.cuts), key=order.__getitem__)
