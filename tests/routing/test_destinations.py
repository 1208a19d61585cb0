"""Runs that do not go to the enclosure, and a second enclosure: planned, told, checked, drawn, audited."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from tests.demo import job
from tests.laws import check_laws

from audit.plans import plan_data
from bayrun.audit import audit
from bayrun.drawings.pack import drawing_sheets
from bayrun.files import parse_job, write_job
from bayrun.house import End, Gear, Job, WishedRun
from bayrun.house.check import check_job
from bayrun.jobs import Plan, plan

MAIN, SECOND = End("enclosure", "B-ENC1"), End("enclosure", "B-ENC2")


def two_boxes() -> Job:
    """House B with both its candidates built: the basement on the second, two trunks between them."""
    house = job("B")
    low = {q.id for q in house.locations if q.level == "B"}
    runs = [
        replace(r, from_end=SECOND) if r.to_end.id in low and r.from_end == MAIN else r for r in house.runs
    ]
    runs += [
        WishedRun("TRUNK-1", "D", MAIN, SECOND),
        WishedRun("TRUNK-2", "D", MAIN, SECOND),
        WishedRun("TV-TV", "D", End("location", "B01"), End("location", "B10")),
        WishedRun("CAM-2", "D", End("device", "NVR"), End("location", "B25")),
    ]
    gear = Gear("NVR", "recorder for the cameras", in_enclosure=True, enclosure="B-ENC2")
    return replace(house, second_enclosures=("B-ENC2",), runs=tuple(runs), gear=(*house.gear, gear))


@cache
def made() -> Plan:
    return plan(two_boxes())


def test_every_run_ends_at_its_own_box() -> None:
    wiring = made().wiring
    assert wiring.unreached == ()
    check_laws(two_boxes(), made().frame, wiring)
    trunk, desk = wiring.run("TRUNK-1"), wiring.run("B23-D1")
    # Heights from tests/data/demo-houses.json: the first box stands on level 1, the second in the basement.
    assert trunk.path[0].z > 0 > trunk.path[-1].z
    assert trunk.entry in ("bottom/top", "top/top")
    assert trunk.entry_at(SECOND) == "top"
    assert desk.path[0].z < 0
    assert wiring.run("CAM-2").path[0].z < 0  # by the gear mounted in the second box
    assert wiring.run("TV-TV").entry == ""


def test_a_run_between_two_places_passes_through_no_box() -> None:
    for run in made().wiring.runs:
        ends = {run.from_end, run.to_end}
        for box in two_boxes().built_enclosures:
            if End("enclosure", box.id) in ends or run.id == "CAM-2":
                continue
            wall = two_boxes().wall(box.wall)
            x = wall.start[0] + wall.direction[0] * sum(box.bay_studs_in) / 2
            y = wall.start[1] + wall.direction[1] * sum(box.bay_studs_in) / 2
            z = two_boxes().level(box.level).subfloor_z_in + box.center_aff_in
            assert all(abs(p.x - x) + abs(p.y - y) + abs(p.z - z) > 7 for p in run.path), (run.id, box.id)


def test_slack_at_the_second_box_is_past_its_own_far_corner() -> None:
    box = two_boxes().built_enclosures[1]
    slack = two_boxes().practice.slack.enclosure_in
    run = made().wiring.run("TRUNK-1")
    assert run.slack_to_in == pytest.approx(box.width_in / 2 + box.height_in + slack)


def test_no_run_is_lost_where_a_candidate_is_not_built() -> None:
    house = replace(two_boxes(), second_enclosures=())
    told = [f for f in check_job(house) if f.rule == "run-to-other-enclosure"]
    assert [f.about for f in told] == [("B-ENC2", "B-ENC1")]
    assert "does not build B-ENC2 as a second one" in told[0].says
    assert not [f for f in check_job(two_boxes()) if f.rule == "run-to-other-enclosure"]


def test_the_job_file_can_say_it_and_be_read_back() -> None:
    text = write_job(two_boxes())
    assert "second_enclosures: [B-ENC2]" in text
    assert "enclosure: B-ENC2" in text
    assert parse_job(text, "two.yaml") == two_boxes()


def test_rules_and_drawings_look_at_both_boxes() -> None:
    about = {f.about for f in made().findings if f.rule == "ac-by-electrician"}
    assert {("B-ENC1",), ("B-ENC2",)} <= about
    sheets = drawing_sheets(made().job, made().frame, made().wiring)
    bays = [s for s in sheets if s.kind == "enclosure bay"]
    assert len(bays) == len({s.name for s in bays}) == len({s.where for s in bays}) == 2


@cache
def clean() -> dict[str, Any]:
    return plan_data(made())


def test_the_second_opinion_has_nothing_to_say() -> None:
    assert audit(two_boxes(), clean()) == ()


def run_of(data: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(r for r in data["runs"] if r["id"] == name)
    return found


def test_a_run_brought_to_the_wrong_box_is_found() -> None:
    data = deepcopy(clean())
    run_of(data, "B23-D1")["from"]["id"] = "B-ENC1"
    kinds = {d.kind for d in audit(two_boxes(), data)}
    assert kinds & {"end-misplaced", "run-changed", "wish-changed"}, kinds


def test_a_trunk_with_its_entries_swapped_is_found() -> None:
    data = deepcopy(clean())
    run = run_of(data, "TRUNK-1")
    run["entry"] = "/".join(reversed(run["entry"].split("/")))
    if run["entry"] != run_of(clean(), "TRUNK-1")["entry"]:
        assert "end-misplaced" in {d.kind for d in audit(two_boxes(), data)}


def test_a_run_through_the_second_box_is_found() -> None:
    data = deepcopy(clean())
    box = two_boxes().built_enclosures[1]
    wall = two_boxes().wall(box.wall)
    middle = sum(box.bay_studs_in) / 2
    x, y = (wall.start[i] + wall.direction[i] * middle for i in (0, 1))
    z = two_boxes().level(box.level).subfloor_z_in + box.center_aff_in
    run = run_of(data, "TV-TV")
    a = run["path"][0][:3]
    there = [[*a[:2], z], [x, a[1], z], [x, y, z]]
    detour = [[*p, None] for p in (*there, *reversed(there[:-1]), a)]
    run["path"][1:1] = detour
    run["path_holes"][1:1] = [None] * len(detour)
    found = audit(two_boxes(), data)
    assert any(d.kind == "obstacle-entered" and d.about == ("TV-TV", "B-ENC2") for d in found)
