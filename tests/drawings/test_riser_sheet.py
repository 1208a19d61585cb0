"""The riser diagram: counts are those of the plan, every run stands in one room, nothing overlaps."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hand_made import EXAMPLES

from bayrun.drawings.dxf import dxf
from bayrun.drawings.measure import measure_scene
from bayrun.drawings.riser_sheet import riser_sheets
from bayrun.drawings.scene import Text
from bayrun.drawings.sheets import Sheet
from bayrun.drawings.svg import svg
from bayrun.files.jobfile import read_job
from bayrun.house import End, Job, Level, Location, Room
from bayrun.wiring import PathPoint, Run, Wiring


def texts(sheet: Sheet) -> list[str]:
    found = (t.text for t in sheet.scene.elements if isinstance(t, Text))
    return [text.replace("\N{NO-BREAK SPACE}", " ") for text in found]


def counts(text: str) -> dict[str, int]:
    return {kind: int(n) for n, kind in re.findall(r"\b(\d+)([A-Z]\d?)\b", text)}


def clean(sheet: Sheet) -> None:
    measure = measure_scene(sheet.scene)
    assert (measure.overlaps, measure.clipped, measure.outside) == ((), (), ())


def towered(stories: int, rooms: int, each: int) -> tuple[Job, Wiring]:
    """House A's record with other levels, rooms and straight-up runs: written out, nothing routed."""
    job = read_job(EXAMPLES / "house-a.yaml")
    base = job.level("1")
    levels: tuple[Level, ...] = (base, *(
        replace(base, id=str(n), subfloor_z_in=120.0 * (n - 1)) for n in range(2, stories + 1)
    ))  # fmt: skip
    square = ((0.0, 0.0), (90.0, 0.0), (90.0, 90.0), (0.0, 90.0))
    named = tuple(
        Room(f"Room with a rather long name {n}", level.id, "bedroom", square, 0.25)
        for level in levels
        for n in range(rooms)
    )
    places = tuple(
        Location(
            f"L{room.level}-{room.name.split()[-1]}-{n}",
            room.name,
            room.level,
            "wall",
            14.0,
            x_in=9.0,
            y_in=9.0,
        )
        for room in named
        for n in range(each)
    )
    box = job.enclosures[0]
    runs = []
    for place in places:
        z = 120.0 * (int(place.level) - 1) + 20.0
        path = (PathPoint(0.0, 0.0, 60.0), PathPoint(0.0, 0.0, z))
        runs.append(
            Run(f"{place.id}-D1", "D", End("enclosure", box.id), End("location", place.id), path, 36.0, 12.0)
        )
    job = replace(job, levels=levels, rooms=named, locations=places, conduits=(), runs=())
    return job, Wiring(tuple(runs), ())


def test_counts_are_those_of_the_ways() -> None:
    job, wiring = towered(3, 4, 2)
    (sheet,) = riser_sheets(job, wiring)
    clean(sheet)
    said = texts(sheet)
    assert sheet.heading == "24 runs of A-ENC by level: 24D"
    assert "16D through this floor" in said  # into level 2: all of levels 2 and 3
    assert "8D through this floor" in said
    assert not any("pass over it" in text for text in said)
    assert said.count("2D") == 12


def test_every_run_stands_in_one_room() -> None:
    job, wiring = towered(2, 7, 3)
    (sheet,) = riser_sheets(job, wiring)
    said = " ".join(texts(sheet))
    for location in job.locations:
        assert len(re.findall(rf"{re.escape(location.id)} 1D", said)) == 1


@pytest.mark.parametrize(("stories", "rooms", "each"), [(1, 1, 1), (1, 12, 9), (3, 16, 3), (4, 22, 6)])
def test_any_house_is_clean_and_nothing_is_lost(stories: int, rooms: int, each: int) -> None:
    job, wiring = towered(stories, rooms, each)
    (sheet,) = riser_sheets(job, wiring)
    clean(sheet)
    said = " ".join((*texts(sheet), *sheet.left_over))
    assert all(location.id in said for location in job.locations)
    assert svg(sheet.scene)
    assert dxf(sheet.scene)


def test_runs_of_other_boxes_and_none() -> None:
    job, wiring = towered(1, 2, 1)
    second = replace(job.enclosures[0], id="SECOND")
    job = replace(job, enclosures=(*job.enclosures, second), second_enclosures=("SECOND",))
    other = replace(wiring.runs[0], from_end=End("enclosure", "SECOND"))
    one, two = riser_sheets(job, Wiring((other, *wiring.runs[1:]), ()))
    assert (one.name, two.name) == ("riser", "riser-2")
    assert one.heading.endswith("; 1 more go elsewhere")
    assert "Not from this box" in texts(one)
    clean(one)
    clean(two)
    assert riser_sheets(job, Wiring((), ())) == ()
