"""Contradictions of a job: each is planted in a house that has none, and must be told with its place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

import demo
from bayrun.findings import Finding, Severity
from bayrun.house import Conduit, Job, Knockout, Port
from bayrun.house.check import check_job
from bayrun.house.solids import layout_stud_centers_in
from conftest import count
from random_houses import random_house


def changed(job: Job, kind: str, name: str, **values: Any) -> Job:
    """The job with fields of one record changed."""
    records = [
        replace(record, **values) if (getattr(record, "id", "") == name) else record
        for record in getattr(job, kind)
    ]
    return replace(job, **{kind: tuple(records)})


@pytest.mark.parametrize("house", demo.HOUSES)
def test_the_demo_houses_contradict_nothing(house: str) -> None:
    assert check_job(demo.job(house)) == ()


def test_random_houses_contradict_nothing() -> None:
    # The generator holds its houses to checks written apart from these (tests/test_random_houses.py).
    for seed in range(count(60, 1000)):
        assert check_job(random_house(seed)) == (), seed


@pytest.mark.parametrize("house", demo.HOUSES)
def test_layout_studs_are_those_of_the_data(house: str) -> None:
    # Source: stud_centers of tests/data/demo-houses.json, made by its own checker.
    job = demo.job(house)
    for wanted in demo.house_data(house)["walls"]:
        assert list(layout_stud_centers_in(job.wall(wanted["id"]))) == wanted["stud_centers"]


def _two_levels(job: Job) -> Job:
    return changed(job, "levels", "1", plate_top_in=130.0)


def _box(**values: Any) -> Callable[[Job], Job]:
    return lambda job: changed(job, "enclosures", "B-ENC1", **values)


def _place(name: str, **values: Any) -> Callable[[Job], Job]:
    return lambda job: changed(job, "locations", name, **values)


def _joint(job: Job) -> Job:
    joints = list(job.joints)
    joints[0] = replace(joints[0], on_offset_in=joints[0].on_offset_in + 12)
    return replace(job, joints=tuple(joints))


def _other_level(job: Job) -> Job:
    return replace(job, joints=(replace(job.joints[0], on_wall="B-203"), *job.joints[1:]))


# House B; each change plants one contradiction. B-121 has studs at 18-3/4 and 34-3/4.
STOP, SOON = Severity.STOP, Severity.FIX_SOON
PLANTED: list[tuple[str, Callable[[Job], Job], Severity, str]] = [
    ("levels-overlap", _two_levels, STOP, "plates of level 1 end 4-1/8"),
    ("joint-between-levels", _other_level, STOP, "which stands on level 2"),
    ("joint-does-not-meet", _joint, STOP, "does not reach"),
    (
        "opening-outside-wall",
        lambda job: changed(job, "openings", "B-D01", offset_in=0.0),
        STOP,
        "leaves the plates",
    ),
    (
        "openings-overlap",
        lambda job: changed(job, "openings", "B-D01", offset_in=200.0, width_in=200.0),
        STOP,
        "overlaps",
    ),
    (
        "opening-header-too-high",
        lambda job: changed(job, "openings", "B-D01", header_depth_in=30.0),
        STOP,
        "underside of the top plates at 8' 10-1/8\"",
    ),
    ("location-outside-wall", _place("B08", offset_in=500.0), STOP, 'the wall runs from 2-3/4"'),
    ("location-above-wall", _place("B08", height_in=120.0), STOP, "plates end at 9' 1-1/8\""),
    (
        "location-off-level",
        _place("B08", level="2", room="Bed 2"),
        STOP,
        "its wall B-103 on level 1",
    ),
    ("location-in-other-room", _place("B03", x_in=30.0, y_in=30.0), SOON, "is in Study"),
    (
        "location-on-other-face",
        _place("B09", side="right"),
        SOON,
        "that face of the wall shows to",
    ),
    (
        "run-kind-unknown",
        lambda job: replace(job, practice=replace(job.practice, cables=job.practice.cables[1:])),
        STOP,
        "no cable kind D (it has A, B, H, K, S, S2, T, X)",
    ),
    (
        "port-without-run",
        _place("B08", ports=(Port("D", 5),)),
        SOON,
        "asks for 5D, but 4 runs end there",
    ),
    (
        "run-to-itself",
        lambda job: changed(job, "runs", "B08-D1", from_end=job.runs[20].to_end, to_end=job.runs[20].to_end),
        STOP,
        "begins and ends at location",
    ),
    (
        "run-gear-elsewhere",
        lambda job: changed(job, "runs", "B11-B1", gear="PATCH"),
        SOON,
        "PATCH",
    ),
    (
        "conduit-hole-too-small",
        lambda job: replace(job, conduits=(Conduit("Z", "2 in", 2.375, "B28", "outside", hole_in=2.0),)),
        STOP,
        'its hole is 2"',
    ),
    (
        "frame-below-plates",
        lambda job: changed(job, "frames", "B-floor2", z_bottom_in=100.0),
        STOP,
        '9-1/8" below the plates',
    ),
    (
        "frame-above-subfloor",
        lambda job: changed(job, "frames", "B-floor2", z_top_in=130.0),
        STOP,
        "above the subfloor of level 2",
    ),
    (
        "frame-member-outside",
        lambda job: changed(job, "frames", "B-roof", last_member_in=582.0),
        STOP,
        "3 of its members stand outside its area, the first at 44' 6\"",
    ),
    ("enclosure-wider-than-bay", _box(width_in=14.625), STOP, 'its bay is 14-1/2" clear'),
    ("enclosure-bay-off-layout", _box(bay_studs_in=(22.75, 38.75)), SOON, 'no stud at 22-3/4"'),
    (
        "enclosure-bay-taken",
        _box(bay_studs_in=(18.75, 50.75)),
        STOP,
        "the layout stud at 2' 10-3/4\".",
    ),
    ("enclosure-outside-wall", _box(bay_studs_in=(-16.0, 2.0)), STOP, "leaves the wall's plates"),
    ("enclosure-too-deep", _box(depth_in=6.0), STOP, 'The box is 6" deep'),
    ("enclosure-past-plates", _box(center_aff_in=90.0), STOP, "between the plates there is"),
    ("enclosure-on-other-face", _box(side="right"), SOON, "shows to Great room"),
    ("enclosure-off-level", _box(level="2"), STOP, "its wall on level 1"),
    ("enclosure-without-bay", _box(wall="B-B01", level="B"), STOP, "has no studs"),
    (
        "knockout-outside-box",
        _box(knockouts=(Knockout("top", 0.5, 2.0),)),
        SOON,
        "leaves the box",
    ),
    (
        "knockouts-overlap",
        _box(knockouts=(Knockout("top", 3.0, 2.0), Knockout("top", 4.5, 2.0))),
        SOON,
        'at 3" and 4-1/2" overlap',
    ),
    (
        "run-to-other-enclosure",
        lambda job: replace(job, enclosure="B-ENC2"),
        SOON,
        "50 runs end at B-ENC1, but the job goes with B-ENC2",
    ),
]


def found_of(rule: str, job: Job) -> list[Finding]:
    return [finding for finding in check_job(job) if finding.rule == rule]


@pytest.mark.parametrize(("rule", "plant", "severity", "says"), PLANTED, ids=[p[0] for p in PLANTED])
def test_a_planted_contradiction_is_told(
    rule: str, plant: Callable[[Job], Job], severity: Severity, says: str
) -> None:
    found = found_of(rule, plant(demo.job("B")))
    assert found
    assert found[0].severity is severity
    assert any(says in finding.says for finding in found), [finding.says for finding in found]
    assert all(finding.place for finding in found)
    assert len({finding.id for finding in found}) == len(found)


def test_a_location_on_a_stud_is_told_the_nearest_clear_place() -> None:
    # A-W21 stands from the front, plates from 2-3/4 in; its studs are 16 in on center from there: 18-3/4,
    # 34-3/4 … 98-3/4. A box at 98 stands on the last; half a ring (1-1/8) clear of its face is 96-7/8.
    found = found_of("location-on-member", changed(demo.job("A"), "locations", "A11", offset_in=98.5))
    assert [finding.about for finding in found] == [("A11", "A-W21")]
    assert found[0].says == "A11 at 8' 2-1/2\" stands on the stud. The nearest clear place is 8' 7/8\"."
    assert found[0].place.startswith("Office (Bed 3), wall ")


def test_a_location_in_a_door_or_header_is_told() -> None:
    # A-D01: rough opening 23' 10" to 27' 1/2", head 82-1/2, header to 89-3/4; floor build-up 1/4 in.
    in_door = found_of("location-on-member", changed(demo.job("A"), "locations", "A24", offset_in=300.0))
    assert "stands on front door A-D01" in in_door[0].says
    job = changed(demo.job("A"), "locations", "A24", offset_in=300.0, height_in=86.0)
    assert "the header of front door A-D01" in found_of("location-on-member", job)[0].says
    job = changed(demo.job("A"), "locations", "A24", offset_in=300.0, height_in=92.0)
    assert found_of("location-on-member", job) == []


def test_a_location_on_a_cripple_under_a_window_is_told() -> None:
    # A layout stud inside a window's rough opening is cut to a cripple under its sill.
    job = demo.job("A")
    window = next(o for o in job.openings if o.wall == "A-W01" and o.is_window)
    stud_in = next(
        at
        for at in layout_stud_centers_in(job.wall("A-W01"))
        if 4 < at - window.offset_in < window.width_in - 4
    )
    under = changed(job, "locations", "A10", offset_in=stud_in, height_in=14.0)
    assert "stands on the cripple stud" in found_of("location-on-member", under)[0].says
    beside = changed(job, "locations", "A10", offset_in=stud_in + 2.0, height_in=14.0)
    assert found_of("location-on-member", beside) == []
    inside = changed(job, "locations", "A10", offset_in=stud_in + 2.0, height_in=window.sill_in + 6)
    assert f"stands on window {window.id}" in found_of("location-on-member", inside)[0].says


def test_a_box_clear_under_a_high_opening_is_no_contradiction() -> None:
    # The box's top stands 62-1/4 in above the slab (34-62 in AFF and 1/4 in of floor).
    job = demo.job("A")
    box = job.enclosures[0]
    high = replace(job.openings[0], id="HIGH", wall=box.wall, offset_in=40.0, width_in=40.0, sill_in=70.0)
    high = replace(high, height_in=10.0, header_depth_in=3.5)
    low = replace(high, sill_in=50.0)
    taken = [f"In its bay stands {high.kind} HIGH"]
    for opening, told in ((high, []), (low, taken), (replace(high, sill_in=10.0), [])):
        found = found_of("enclosure-bay-taken", replace(job, openings=(*job.openings, opening)))
        says = [text for finding in found for text in taken if text in finding.says]
        assert says == told


def test_every_rule_of_the_sources_is_planted_here() -> None:
    import inspect
    import re

    from bayrun.house import check, check_boxes

    text = inspect.getsource(check) + inspect.getsource(check_boxes)
    rules = set(re.findall(r"(?:_stop|Finding)\(\s*\"([a-z-]+)\"", text))
    assert rules == {p[0] for p in PLANTED} | {"location-on-member"}
