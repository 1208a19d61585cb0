"""The radio sheets: no text on another, every line numbered by its own level, the doubt drawn, ink alone."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hand_made import planned

from bayrun.drawings.coverage_sheet import coverage_sheets
from bayrun.drawings.measure import measure_scene
from bayrun.drawings.scene import Circle, Line, Polyline
from bayrun.drawings.sheets import Sheet
from bayrun.house import Job, location_point


def bare(job: Job) -> Job:
    """The job without its access points: the radio is then in the enclosure."""
    return replace(job, locations=tuple(q for q in job.locations if "access point" not in q.note))


def sheets(house: str, *, boxed: bool = False) -> tuple[Sheet, ...]:
    job, frame, _ = planned(house)
    return coverage_sheets(bare(job) if boxed else job, frame)


@pytest.mark.parametrize("house", ["a", "b", "c"])
@pytest.mark.parametrize("boxed", [False, True])
def test_nothing_overlaps_or_is_cut_off(house: str, boxed: bool) -> None:
    job, _, _ = planned(house)
    found = sheets(house, boxed=boxed)
    assert [s.where for s in found] == [
        f"level {v.id}" for v in sorted(job.levels, key=lambda v: v.subfloor_z_in)
    ]
    for sheet in found:
        measure = measure_scene(sheet.scene)
        assert measure.overlaps == ()
        assert measure.clipped == ()
        assert measure.struck == ()
        assert measure.outside == ()


def test_the_wanted_line_the_doubt_and_the_crosses_are_drawn() -> None:
    sheet = sheets("a", boxed=True)[0]
    edge = [e for e in sheet.scene.elements if isinstance(e, Polyline) and e.layer == "T-RADI-EDGE"]
    dashed = [e for e in sheet.scene.elements if isinstance(e, Polyline) and e.layer == "T-RADI" and e.dash]
    assert edge
    assert all(e.weight_mm == 0.7 for e in edge)
    assert dashed
    doubt = [e for e in sheet.scene.elements if e.layer == "T-RADI-DOUB"]
    assert any(isinstance(e, Circle) for e in doubt)
    assert any(isinstance(e, Line) for e in doubt)
    # Black and white says the same: no color of its own on any of them.
    assert all(getattr(e, "color", None) is None for e in (*edge, *dashed, *doubt))


@pytest.mark.parametrize("house", ["a", "b", "c"])
def test_numbers_are_levels_and_rooms_carry_the_uncertainty(house: str) -> None:
    job, _, _ = planned(house)
    for sheet in sheets(house):
        texts = [t.text for t in sheet.scene.texts()]
        numbers = [int(t) for t in texts if re.fullmatch(r"-\d+", t)]
        assert numbers
        # Wanted -67, then every 6 dB.
        assert all((n + 67) % 6 == 0 for n in numbers)
        said = " ".join(texts)
        assert "± 6" in said
        rooms = [r.name for r in job.rooms if f"level {r.level}" == sheet.where]
        assert all(f"{name}: " in said.replace("\u00a0", " ") for name in rooms if len(name) < 20)


def test_access_points_stand_where_their_locations_are() -> None:
    job, _, _ = planned("b")
    for sheet in sheets("b"):
        level = sheet.where.removeprefix("level ")
        here = [q for q in job.locations if q.level == level and "access point" in q.note]
        for q in here:
            x, y, _ = location_point(job, q)
            rings = [e for e in sheet.scene.elements if isinstance(e, Circle) and e.layer == "T-LOCN"]
            assert any(abs(e.center[0] - x) < 1e-6 and abs(e.center[1] - y) < 1e-6 for e in rings)


def test_a_house_without_box_or_access_point_has_no_sheet() -> None:
    job, frame, _ = planned("a")
    assert coverage_sheets(replace(bare(job), enclosures=()), frame) == ()
