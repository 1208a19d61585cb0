"""Heights of accessible dwellings and cable along a space used as return air."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from benches import DATA, FLOOR, JOB, Bench, apply, data_run, upright

from bayrun.findings import Severity
from bayrun.house import Location, Port
from bayrun.wiring import Run


def box(height_in: float, kind: str = "D", mount: str = "wall", accessible: bool | None = True) -> Bench:
    """One box of the bench wall in a house with or without such heights."""
    made = Location("L1", "Laundry", "1", mount, height_in, "W1", 40.0, "left", ports=(Port(kind, 1),))  # type: ignore[arg-type]
    return Bench(
        replace(JOB, locations=(made,), facts=replace(JOB.facts, accessible=accessible)), [upright(1, 30.0)]
    )


@pytest.mark.parametrize(
    ("height_in", "kind", "mount", "limit_in"),
    [
        # A box 3-3/4 high: its bottom 1-7/8 under its middle. 15 in at least, 48 at most.
        (16.875, "D", "wall", None),
        (16.87, "D", "wall", 15.0),
        (14.0, "B", "exterior", 15.0),
        (46.125, "T", "wall", None),
        (46.13, "T", "wall", 48.0),
        (48.0, "K", "wall", 48.0),
        (48.0, "B", "exterior", 48.0),
        (62.0, "D", "wall", None),  # a TV's outlet is not worked by hand
        (5.0, "D", "ceiling", None),
    ],
)
def test_reach(height_in: float, kind: str, mount: str, limit_in: float | None) -> None:
    bench = box(height_in, kind, mount)
    found = bench.of("location-reach")
    if limit_in is None:
        assert not found
        return
    (told,) = found
    half_in = 1.875 if limit_in > 20 else -1.875
    assert (told.severity, told.limit) == (Severity.FIX_SOON, limit_in)
    assert told.measured == pytest.approx(height_in + half_in)
    assert ("top" if half_in > 0 else "bottom") + " of L1's box" in told.says
    assert not apply(bench, told).of("location-reach")


@pytest.mark.parametrize("accessible", [None, False])
def test_reach_is_silent_where_no_law_asks_it(accessible: bool | None) -> None:
    assert not box(5.0, accessible=accessible).of("location-reach")


def air(space: str, *runs: Run, listing: str = "CMR", **facts: Any) -> Bench:
    """Runs near a space used as return air."""
    practice = replace(JOB.practice, cables=(replace(DATA, listing=listing),))
    job = replace(JOB, practice=practice, facts=replace(JOB.facts, return_air_bays=(space,)), frames=(FLOOR,))
    return Bench(replace(job, **facts), runs=list(runs))


@pytest.mark.parametrize(
    ("x", "y", "low", "high", "told"),
    [
        # The bay at 56: 8 in to each side, half of the studs' 16.
        (56.0, 0.0, 10.0, 60.0, 1),
        (64.0, 0.0, 10.0, 60.0, 1),
        (64.1, 0.0, 10.0, 60.0, 0),
        (47.9, 0.0, 10.0, 60.0, 0),
        (56.0, 1.75, 10.0, 60.0, 1),
        (56.0, 1.8, 10.0, 60.0, 0),
        (56.0, 0.0, 10.0, 22.0, 0),  # 12 in: it crosses
        (56.0, 0.0, 10.0, 22.1, 1),
        (56.0, 0.0, 95.0, 150.0, 0),  # 2-1/8 of it in the wall
        (56.0, 0.0, -50.0, 10.0, 0),
    ],
)
def test_cable_up_a_bay_of_return_air(x: float, y: float, low: float, high: float, told: int) -> None:
    bench = air("W1@56", data_run("R1", (x, y, low), (x, y, high)))
    found = bench.of("cable-in-return-air")
    assert len(found) == told
    if told:
        assert found[0].severity is Severity.STOP
        assert found[0].place == "level 1, wall Laundry / Hall (W1), bay at 4' 8\""
        assert "listed CMR, not for plenums" in found[0].says


def test_square_across_is_free_and_plenum_cable_may_go_along() -> None:
    across = data_run("R1", (20.0, 0.0, 40.0), (100.0, 0.0, 40.0))
    assert not air("W1@56", across).of("cable-in-return-air")
    up = data_run("R1", (56.0, 0.0, 10.0), (56.0, 0.0, 60.0))
    for listing, told in (("CMP", 0), ("CL2P", 0), ("XYZP", 1), ("", 1), ("CMR", 1)):
        assert len(air("W1@56", up, listing=listing).of("cable-in-return-air")) == told
    assert "of no known listing" in air("W1@56", up, listing="").of("cable-in-return-air")[0].says
    assert air("W1@56", replace(up, kind="Q")).of("cable-in-return-air")
    assert not air("W1@56").of("cable-in-return-air")


@pytest.mark.parametrize(
    ("a", "b", "told"),
    [
        # Joists along y: the space at x = 24 reaches 8 in to each side, from 97.125 to 106.375.
        ((24.0, 10.0, 100.0), (24.0, 60.0, 100.0), 1),
        ((32.0, 10.0, 100.0), (32.0, 60.0, 100.0), 1),
        ((32.1, 10.0, 100.0), (32.1, 60.0, 100.0), 0),
        ((15.9, 10.0, 100.0), (15.9, 60.0, 100.0), 0),
        ((24.0, 10.0, 97.0), (24.0, 60.0, 97.0), 0),
        ((24.0, 10.0, 106.4), (24.0, 60.0, 106.4), 0),
        ((24.0, 10.0, 100.0), (24.0, 22.0, 100.0), 0),
        ((24.0, 10.0, 100.0), (24.0, 22.1, 100.0), 1),
        ((20.0, 10.0, 100.0), (40.0, 60.0, 100.0), 0),
        ((24.0, 200.0, 100.0), (24.0, 260.0, 100.0), 0),
    ],
)
def test_cable_along_a_joist_space_of_return_air(
    a: tuple[float, float, float], b: tuple[float, float, float], told: int
) -> None:
    bench = air("F1@24", data_run("R1", a, b))
    found = bench.here({"cable-in-return-air"})
    assert len(found) == told
    if told:
        assert found[0].place == "sawn joists, the space at 2' 0\" across it"
    turned = replace(FLOOR, direction="x", area=(0.0, 0.0, 96.0, 120.0))
    swapped = data_run("R1", (a[1], a[0], a[2]), (b[1], b[0], b[2]))
    assert len(air("F1@24", swapped, frames=(turned,)).here({"cable-in-return-air"})) == told
    wide = replace(FLOOR, spacing_in=24.0)
    moved = data_run("R1", (35.9, 10.0, 100.0), (35.9, 60.0, 100.0))
    assert air("F1@24", moved, frames=(wide,)).here({"cable-in-return-air"})


@pytest.mark.parametrize("space", ["the bay behind the furnace", "W9@20", "W1@left"])
def test_return_air_in_words_is_cannot_tell(space: str) -> None:
    (told,) = air(space, data_run("R1")).of("cable-in-return-air")
    assert told.severity is Severity.CANNOT_TELL
    assert space in told.says
