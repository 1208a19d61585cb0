"""The import report: a picture of each level, counts, trust with reasons, what to look at first."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

from bayrun.files.heal import heal_shell
from bayrun.files.report_confidence import level_reports, look_first
from bayrun.files.report_page import report_page
from bayrun.files.report_picture import level_picture
from bayrun.files.shell import (
    Shell,
    ShellLevel,
    ShellNote,
    ShellOpening,
    ShellSpace,
    ShellTrace,
    ShellWall,
)
from bayrun.files.shell_to_job import job_from_shell

SQUARE = ((0.0, 0.0), (240.0, 0.0), (240.0, 180.0), (0.0, 180.0))


def box(named: bool = True, core: str = "wood studs") -> Shell:
    """Four walls, a door, a window and a room, healed."""
    walls = tuple(
        ShellWall(f"W{i}", "Outer", "1", a, b, 6.5, 97.0, 0.0, 5.5, core, 3.25, 3.25)  # type: ignore[arg-type]
        for i, (a, b) in enumerate(zip(SQUARE, (*SQUARE[1:], SQUARE[0]), strict=True), 1)
    )
    openings = (
        ShellOpening("O1", "W1", "door", "Front door", 30.0, 36.0, 0.0, 80.0, "low", "left"),
        ShellOpening("O2", "W3", "window", "Window", 60.0, 48.0, 36.0, 44.0),
    )
    inner = ((3.25, 3.25), (236.75, 3.25), (236.75, 176.75), (3.25, 176.75))
    room = ShellSpace("", "Kitchen", "1", inner, 233.5 * 173.5, 233.5 * 173.5, 96.0, "room", "k")
    return heal_shell(
        Shell("IFC4 file", (ShellLevel("1", 0.0, 107.0),), walls, openings, (room,) if named else ())
    )


def test_a_sound_house_is_trusted_and_its_counts_are_told() -> None:
    (report,) = level_reports(box())
    assert (report.walls, report.doors, report.windows, report.rooms) == (4, 1, 1, 1)
    assert report.area_ft2 == pytest.approx(233.5 * 173.5 / 144)
    assert report.mark == "good"
    assert [words for _, words in report.reasons] == [
        "8 of 8 wall ends meet another wall",
        "1 of 1 rooms have a name that tells their use",
        "1 of 1 rooms come within 2 % of the area the file itself states",
    ]


def test_each_thing_that_is_wrong_takes_trust_away() -> None:
    (guessed,) = level_reports(box(core="other"))
    assert guessed.reasons[0] == (
        "fair", "4 of 4 walls do not say what they are built of: their studs are guesses"
    )  # fmt: skip
    shell = box()
    (open_ends,) = level_reports(replace(shell, joints=shell.joints[:3]))
    assert open_ends.reasons[0] == ("poor", "3 of 8 wall ends meet another wall")
    (nameless,) = level_reports(box(named=False))
    assert ("poor", "0 of 1 rooms have a name that tells their use") in nameless.reasons
    room = replace(shell.spaces[0], declared_in2=shell.spaces[0].area_in2 * 1.3)
    (wrong,) = level_reports(replace(shell, spaces=(room,)))
    assert wrong.reasons[0] == (
        "poor", "0 of 1 rooms come within 2 % of the area the file itself states"
    )  # fmt: skip


def test_what_to_look_at_first_begins_with_the_gravest() -> None:
    shell = box(core="other").noted(
        ShellNote("mended", "2 walls a hair out of square were squared", 2),
        ShellNote("not understood", "1 wall has damaged data", 1, ("Torn",)),
        ShellNote("assumed", "the header names no unit: taken as inches"),
    )
    first = look_first(shell, ("Not placed: doorbell",))
    assert first[0] == "The header names no unit: taken as inches."
    assert first[1] == "1 wall has damaged data (Torn)."
    assert first[2] == "Not placed: doorbell."
    assert first[-1].startswith("Find which way the joists run")
    assert not any("hair" in words for words in first)


def test_the_picture_holds_everything_and_numbers_what_was_lost() -> None:
    shell = box()
    traces = (
        ShellTrace("1", "drawn", ((10.0, 10.0), (50.0, 10.0))),
        ShellTrace("1", "lost", ((60.0, 60.0),), "wall Torn"),
        ShellTrace("1", "lost", ((90.0, 60.0), (90.0, 90.0)), 'gap of 30" closed'),
    )
    shell = replace(shell, traces=traces)
    picture, lost = level_picture(shell, shell.levels[0])
    root = ElementTree.fromstring(picture)
    texts = ["".join(t.itertext()) for t in root.iter("{http://www.w3.org/2000/svg}text")]
    assert lost == ("wall Torn", 'gap of 30" closed')
    assert {"1", "2", "Kitchen", "281 sq ft", "20' 6-1/2\"", "15' 6-1/2\"", "10 ft"} <= set(texts)
    box_ = [float(v) for v in root.attrib["viewBox"].split()]
    numbers = [
        float(v) for path in root.iter("{http://www.w3.org/2000/svg}path")
        for v in re.findall(r"-?\d+\.\d+", path.attrib["d"])
    ]  # fmt: skip
    assert min(numbers) >= 0.0
    assert max(numbers) <= max(box_)


def test_the_page_needs_nothing_and_tells_everything() -> None:
    shell = box().noted(ShellNote("not understood", "1 walls have <damaged> data"))
    job = job_from_shell(shell)
    page = report_page(shell, job, ("Not placed: doorbell",), "2026-11-25")
    assert page == report_page(shell, job, ("Not placed: doorbell",), "2026-11-25")
    assert "<script" not in page
    assert "http" not in page.replace("http://www.w3.org/2000/svg", "")
    assert "1 wall has &lt;damaged&gt; data" in page
    for part in ("Look at this first", "Not placed: doorbell.", "■ good", "licensed trades", "2026-11-25"):
        assert part in page, part
    for assumption in job.assumptions:
        assert assumption.id in page
    # The key shows what the pictures use, and nothing else.
    assert "wall whose layers the file tells" in page
    assert "masonry or glass" not in page


def test_an_empty_level_is_told(tmp_path: Path) -> None:
    shell = replace(box(), levels=(ShellLevel("1", 0.0, 107.0), ShellLevel("2", 107.0, 100.0)))
    assert level_picture(shell, shell.levels[1]) == ("", ())
    assert level_reports(shell)[1].reasons[0] == ("poor", "no wall stands on this level")
