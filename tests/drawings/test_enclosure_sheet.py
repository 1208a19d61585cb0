"""The enclosure's inside on paper: nothing overlaps, nothing is cut off, every number can be read and is
right."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent / "rules"))
sys.path.insert(0, str(Path(__file__).parent.parent / "enclosure"))

from boxes import KNOCKOUTS, PATCH, gear, job_with, wiring_of

from bayrun.drawings.dxf import dxf
from bayrun.drawings.enclosure_sheet import enclosure_sheets
from bayrun.drawings.measure import measure_scene
from bayrun.drawings.scene import Polyline, Text
from bayrun.drawings.sheets import Sheet
from bayrun.drawings.svg import svg
from bayrun.enclosure import fit_out
from bayrun.findings import Fix
from bayrun.house import Enclosure, Job, Knockout
from bayrun.house.edits import apply

WORDS = ("network switch, 16 ports", "router with radio", "alarm board", "coax splitter", "home hub", "modem",
         "shade supply", "chime", "speaker block", "camera recorder", "thing nobody knows")  # fmt: skip


def sheet_of(job: Job, along_in: tuple[float, ...] = (56.0,)) -> Sheet:
    (sheet,) = enclosure_sheets(job, wiring_of(job, along_in))
    return sheet


def clean(sheet: Sheet) -> None:
    measure = measure_scene(sheet.scene)
    assert (measure.overlaps, measure.clipped, measure.outside) == ((), (), ())


def texts(sheet: Sheet) -> str:
    words = " ".join(t.text for t in sheet.scene.elements if isinstance(t, Text))
    return words.replace("\N{NO-BREAK SPACE}", " ")


def test_a_usual_box() -> None:
    job = job_with(PATCH, gear("S", "network switch, 8 ports"), gear("R", "router with radio"), runs=12)
    sheet = sheet_of(job, (52.0, 60.0))
    clean(sheet)
    said = texts(sheet)
    for part in ("Gear, as seen from the Laundry", "network gear", "gear with a radio", "Terminate in this",
                 "Heat and plugs", "Patch cords", "6 runs, ", "Cut by depth"):  # fmt: skip
        assert part in said, part
    assert "Hang the gear in E1: 4 pieces" in sheet.heading
    assert sheet.left_over == ()


def test_boxes_on_paper_have_the_size_of_the_gear() -> None:
    job = job_with(PATCH, runs=4)
    told = fit_out(job, wiring_of(job))
    assert told is not None
    assert told.arrangement is not None
    place = told.arrangement.place_of("P")
    assert place is not None
    sheet = sheet_of(job)
    drawn = [e.points for e in sheet.scene.elements if isinstance(e, Polyline) and e.layer == "T-LOCN"]
    left, low = place.left_in, place.bottom_in
    assert ((left, low), (left + 6.0, low), (left + 6.0, low + 3.0), (left, low + 3.0)) in drawn


@pytest.mark.parametrize("height_in", [14.0, 21.0, 28.0, 36.0, 42.0])
@pytest.mark.parametrize("seed", range(4))
def test_any_gear_in_any_box_is_clean(height_in: float, seed: int) -> None:
    chance = Random(f"{height_in}{seed}")
    items = [gear(f"G{n}", word) for n, word in enumerate(chance.sample(WORDS, chance.randint(0, 9)))]
    knockouts = tuple(
        Knockout(edge, at, chance.choice((0.875, 1.109, 1.984)))
        for edge in ("top", "bottom")
        for at in chance.sample((1.5, 4.5, 7.125, 10.0, 12.75), chance.randint(0, 5))
    )
    job = job_with(PATCH, *items, runs=chance.randint(0, 60), height_in=height_in, knockouts=knockouts)
    sheet = sheet_of(job, tuple(chance.uniform(50, 62) for _ in range(3)))
    clean(sheet)
    assert svg(sheet.scene)
    assert dxf(sheet.scene)


def test_gear_without_a_place_and_hand_places_are_told() -> None:
    big = gear("B", "board", width_in=12.0, height_in=12.0, depth_in=1.0, watts=0.0)
    job = job_with(PATCH, big, replace(big, id="C"), runs=2)
    sheet = sheet_of(job)
    clean(sheet)
    assert "does not all fit E1" in sheet.heading
    assert "no place" in texts(sheet)
    assert 'Next size that takes it: 36"' in texts(sheet) or "Next size that takes it: 3' 0\"" in texts(sheet)
    hand = sheet_of(apply(job_with(PATCH, runs=2), Fix("place_gear", ("P", 2.5, 10.0), "")))
    clean(hand)
    assert 'left 2-1/2", bottom 10", set by hand' in texts(hand)


def test_an_empty_box_and_none() -> None:
    job = job_with(knockouts=KNOCKOUTS)
    bare = replace(job, enclosures=(replace(job.enclosures[0], ac_feed=None),))
    sheet = sheet_of(bare)
    clean(sheet)
    assert sheet.heading == "Nothing is named to hang in E1 yet"
    assert enclosure_sheets(replace(job, enclosures=()), wiring_of(job)) == ()


def test_every_built_box_has_its_sheet() -> None:
    job = job_with(PATCH, gear("S", "network switch, 8 ports", enclosure="E2"), runs=4)
    first: Enclosure = job.enclosures[0]
    second = replace(first, id="E2", bay_studs_in=(80.0, 96.0))
    job = replace(job, enclosures=(first, second), second_enclosures=("E2",))
    one, two = enclosure_sheets(job, wiring_of(job))
    assert (one.name, two.name) == ("enclosure-layout", "enclosure-layout-2")
    assert "network switch" in texts(two)
    assert "network switch" not in texts(one)
    assert texts(one).count("2 runs, ") == 2 * 2
    clean(two)


def test_the_battery_is_reckoned_from_the_watts_drawn() -> None:
    from bayrun.drawings.enclosure_notes import battery_words

    job = job_with(PATCH, gear("R", "router", watts=60.0), runs=2)
    told = fit_out(job, wiring_of(job))
    assert told is not None
    # 12 V x 9 Ah x 0.8 x 0.85 / 60 W = 73.4 min (own arithmetic), told in steps of five.
    assert "12 V 9 Ah keep 60 W for about 1 h 15 min" in battery_words(told)
    idle = fit_out(job_with(PATCH, runs=2), wiring_of(job))
    assert idle is not None
    assert battery_words(idle) == "A battery backup stands outside the box."
