"""A file of done work: read by place or by name, refused with every defect at once."""

from __future__ import annotations

import json
from typing import Any

import pytest
from tests.demo import job as demo_job

from bayrun.files.frozenfile import FrozenFileError, read_frozen
from bayrun.framing import lay_out
from bayrun.routing import route
from bayrun.wiring import DoneBox, DoneHole, DonePlate, DoneRun, PathPoint, WoodPlace


def data(told: Any) -> bytes:
    return json.dumps(told).encode()


def test_places_and_names_are_read() -> None:
    job = demo_job("A")
    frame = lay_out(job)
    base = route(job, frame)
    old = next(h for h in base.holes if h.wall)
    told = {
        "holes": [old.id, {"wall": "A-W26", "along": "5' 2-1/4\"", "up": 62.25, "bit": "7/8", "id": "H90"}],
        "runs": ["A01-D1", {"run": "A02-D1", "path": [[1, 2, 3], [1, "4'", 3, old.id]]}],
        "plates": [{"wall": "A-W26", "along": 62.25, "up": 40, "side": "left"}],
        "boxes": [{"location": "A04", "wall": "A-W01", "along": 120, "up": 14}],
    }
    done = read_frozen(data(told), job, base, frame)
    assert done.holes == (
        DoneHole(WoodPlace(old.wall, old.along_in, old.up_in, old.across_in), old.diameter_in, old.id),
        DoneHole(WoodPlace("A-W26", 62.25, 62.25), 0.875, "H90"),
    )
    assert done.runs == (
        DoneRun("A01-D1"),
        DoneRun("A02-D1", (PathPoint(1, 2, 3), PathPoint(1, 48, 3, old.id, old.member))),
    )
    assert done.plates == (DonePlate(WoodPlace("A-W26", 62.25, 40), "left"),)
    assert done.boxes == (DoneBox("A04", WoodPlace("A-W01", 120, 14)),)
    assert not read_frozen(b"{}", job)


def test_a_place_in_a_floor_is_x_y_z_of_the_house() -> None:
    job = demo_job("B")
    name = job.frames[0].id
    done = read_frozen(data({"holes": [{"frame": name, "x": 1, "y": 2, "z": 3, "bit": 1}]}), job)
    assert done.holes[0].at == WoodPlace(name, 1, 3, 2)


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ([], "expected an object with runs, holes, plates, boxes, got []"),
        ({"hole": []}, "expected runs, holes, plates, boxes, got a key 'hole'"),
        ({"runs": "A01-D1"}, 'runs: expected a list, got "A01-D1"'),
        ({"runs": ["A99-D1"]}, "runs, 1: run A99-D1 is neither in the job nor in the plan last issued"),
        ({"runs": ["A01-D1"]}, "run A01-D1 is in no plan that was given: say its path, or give --base"),
        ({"runs": [3]}, "runs, 1: expected a run's name, or run and path, got 3"),
        ({"runs": [{"run": "A01-D1", "path": [[1, 2]]}]}, "expected points [x, y, z, hole], got [1, 2]"),
        ({"holes": ["H1"]}, "hole H1 is in no plan that was given: say its wall, along, up and bit"),
        ({"holes": [7]}, "holes, 1: expected a hole's name or its place, got 7"),
        ({"holes": [{"wall": "W", "along": 1, "up": 1, "bit": 1}]}, 'expected a wall of the job, got "W"'),
        ({"holes": [{"along": 1}]}, "expected a wall or floor frame of the job, got nothing"),
        (
            {"holes": [{"wall": "A-W26", "along": "far", "up": 1, "bit": 1}]},
            'holes, 1, along: expected a length, got "far"',
        ),
        ({"holes": [{"wall": "A-W26", "along": 1, "up": 1}]}, "bit: expected a length, got nothing"),
        ({"holes": [{"wall": "A-W26", "along": 1, "up": 1, "bit": 0}]}, "a bit larger than nothing, got 0"),
        ({"plates": [{"wall": "A-W26", "along": 1, "up": 1}]}, "side left, right, top or bottom"),
        ({"boxes": ["A04"]}, "boxes, 1: expected a location with its place"),
    ],
)
def test_what_cannot_be_used_says_what_was_expected(told: Any, says: str) -> None:
    with pytest.raises(FrozenFileError) as refused:
        read_frozen(data(told), demo_job("A"))
    assert says in str(refused.value)


def test_all_defects_are_told_at_once_and_twice_is_one() -> None:
    hole = {"wall": "A-W26", "along": 1, "up": 1, "bit": 1, "id": "H1"}
    with pytest.raises(FrozenFileError) as refused:
        read_frozen(data({"holes": [hole, hole, 3], "boxes": [3]}), demo_job("A"))
    assert len(refused.value.defects) == 3
    assert "hole H1 stands twice" in str(refused.value)


@pytest.mark.parametrize("raw", [b"\xff", b"{", b"[" * 100_000])
def test_bytes_that_are_no_json(raw: bytes) -> None:
    with pytest.raises(FrozenFileError, match="expected JSON in UTF-8"):
        read_frozen(raw, demo_job("A"))
