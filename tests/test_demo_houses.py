"""The example job files against the data of the demo houses, which know nothing of the program.

Source of every expected value: tests/data/demo-houses.json, proved by tests/data/check_demo.py.
"""

from __future__ import annotations

import itertools
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import demo
from bayrun.house import (
    Job,
    enclosure_bottom_in,
    enclosure_entries,
    enclosure_top_in,
    location_point,
    wall_point,
)
from demo import HOUSES, house_data

CHECKER = Path(__file__).resolve().parent / "data" / "check_demo.py"
sys.path.insert(0, str(demo.ROOT / "tools"))

import make_examples  # noqa: E402


@pytest.mark.parametrize(
    "arguments", [(), pytest.param(("--self-test",), marks=pytest.mark.long)], ids=["data", "planted faults"]
)
def test_the_data_prove_themselves(arguments: tuple[str, ...]) -> None:
    done = subprocess.run(
        [sys.executable, str(CHECKER), *arguments], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("house", HOUSES)
def test_examples_are_what_the_script_makes(house: str) -> None:
    made = make_examples.text_of(house)
    assert demo.example_path(house).read_text(encoding="utf-8") == made
    assert demo.job(house) == make_examples.job(house_data(house), demo.demo_data()["kinds"])


# House, locations, runs, runs to the enclosure, walls, rooms: as the houses' own table prints them.
COUNTS = [("A", 26, 39, 37, 24, 17), ("B", 31, 53, 50, 42, 30), ("C", 15, 23, 22, 34, 21)]


@pytest.mark.parametrize(("house", "locations", "runs", "homed", "walls", "rooms"), COUNTS)
def test_counts(house: str, locations: int, runs: int, homed: int, walls: int, rooms: int) -> None:
    job = demo.job(house)
    ends = [run for run in job.runs if "enclosure" in (run.from_end.type, run.to_end.type)]
    assert (len(job.locations), len(job.runs), len(ends)) == (locations, runs, homed)
    assert (len(job.walls), len(job.rooms)) == (walls, rooms)
    data = house_data(house)
    for key in ("joints", "openings", "frames", "obstacles", "gear", "conduits", "risers", "beams", "posts"):
        assert len(getattr(job, key)) == len(data[key]), key
    for key in ("stairs", "roofs", "barriers", "floor_openings", "open_edges", "now_or_never", "enclosures"):
        assert len(getattr(job, key)) == len(data[key]), key


def _by_id(records: Any) -> dict[str, Any]:
    return {record.id: record for record in records}


@pytest.mark.parametrize("house", HOUSES)
def test_walls_and_joints(house: str) -> None:
    job, data = demo.job(house), house_data(house)
    for wanted in data["walls"]:
        wall = job.wall(wanted["id"])
        assert wall.level == wanted["level"]
        assert [list(wall.start), list(wall.end)] == [wanted["start"], wanted["end"]]
        assert (wall.core, wall.thickness_in) == (wanted["core"], wanted["thickness"])
        assert (wall.plate_start_in, wall.plate_end_in) == (wanted["plate_start"], wanted["plate_end"])
        assert (wall.bearing, wall.exterior, wall.rated) == (
            wanted["bearing"],
            wanted["exterior"],
            wanted["rated"],
        )
        assert (wall.membrane_in, wall.outside_foam_in) == (wanted["membrane"], wanted.get("outside_foam", 0))
        assert wall.framed is (wanted["layout"] is not None)
        if wall.layout is not None:
            assert (wall.layout.origin, wall.layout.first_mark_in) == (
                "start",
                wanted["layout"]["first_mark"],
            )
            assert wall.spacing_in == wanted["spacing"]
            plates = wanted["plates"]
            assert (wall.plates.bottom, wall.plates.top) == (plates["bottom"], plates["top"])
            # The first layout stud of the data, by the rule of the record.
            first_in = wall.plate_start_in + wall.layout.first_mark_in
            assert not wanted["stud_centers"] or wanted["stud_centers"][0] == first_in
        for side in ("left", "right"):
            pieces = [(p.room, p.from_in, p.to_in) for p in getattr(wall, side)]
            assert pieces == [(p["room"], p["from"], p["to"]) for p in wanted["faces"].get(side) or ()]
    joints = [
        (j.wall, j.end, j.kind, j.on_wall, j.on_offset_in, j.width_in, j.plate_shift_in) for j in job.joints
    ]
    keys = ("wall", "end", "kind", "on_wall", "on_offset", "width", "plate_shift")
    assert joints == [tuple(j[k] for k in keys) for j in data["joints"]]


@pytest.mark.parametrize("house", HOUSES)
def test_openings(house: str) -> None:
    found = _by_id(demo.job(house).openings)
    for wanted in house_data(house)["openings"]:
        opening = found[wanted["id"]]
        assert (opening.wall, opening.kind) == (wanted["wall"], wanted["kind"])
        sizes = (
            opening.offset_in,
            opening.width_in,
            opening.sill_in,
            opening.height_in,
            opening.header_depth_in,
        )
        assert sizes == tuple(wanted[k] for k in ("offset", "width", "sill", "height", "header_depth"))
        assert list(opening.rooms) == (wanted.get("rooms") or [])
        assert (opening.swings_into, opening.hinge_end) == (
            wanted.get("swings_into"),
            wanted.get("hinge_end"),
        )


@pytest.mark.parametrize("house", HOUSES)
def test_levels_rooms_and_frames(house: str) -> None:
    job, data = demo.job(house), house_data(house)
    for wanted in data["levels"]:
        level = job.level(wanted["id"])
        assert (level.subfloor_z_in, level.plate_top_in) == (wanted["z_subfloor"], wanted["plate_top"])
        assert level.slab is ("slab" in wanted["subfloor"])
        layers = [[layer.name, layer.thickness_in] for layer in level.floor_build_up]
        assert layers == wanted["floor_build_up"]
    for wanted in data["rooms"]:
        room = job.room(wanted["name"], wanted["level"])
        assert [list(point) for point in room.polygon] == wanted["polygon"]
        assert (room.floor_finish_in, room.floor_drop_in) == (
            wanted["floor_finish"],
            wanted.get("floor_drop", 0),
        )
    for wanted in data["frames"]:
        frame = job.frame(wanted["id"])
        assert list(frame.area) == wanted["area"]
        assert (frame.direction, frame.above_level, frame.below_level) == (
            wanted["direction"],
            wanted.get("above_level"),
            wanted.get("below_level"),
        )
        assert (frame.z_bottom_in, frame.z_top_in) == (wanted["z_bottom"], wanted["z_top"])
        assert [list(member.rect) for member in frame.edge_members] == [
            member["rect"] for member in wanted["edge_members"]
        ]
        if wanted.get("positions"):
            assert list(frame.members_in()) == wanted["positions"]
        else:
            centers = frame.members_in()
            assert (centers[0], centers[-1]) == (wanted["first_member"], wanted["last_member"])
            assert {b - a for a, b in itertools.pairwise(centers)} == {wanted["spacing"]}


@pytest.mark.parametrize("house", HOUSES)
def test_locations_stand_where_the_data_say(house: str) -> None:
    job = demo.job(house)
    for wanted in house_data(house)["locations"]:
        location = job.location(wanted["id"])
        assert location_point(job, location) == (wanted["x"], wanted["y"], wanted["z"]), wanted["id"]
        assert (location.mount, location.side, location.feed) == (
            wanted["mount"],
            wanted["side"],
            wanted["feed"],
        )
        slack_in = location.slack_in
        if slack_in is None:
            slack_in = job.practice.slack.for_mount(location.mount)
        assert slack_in == wanted["location_slack"], wanted["id"]
        ports = " ".join(f"{port.count}{port.kind}" for port in location.ports) or "0"
        assert ports == wanted["cables"].replace("*", "")


@pytest.mark.parametrize("house", HOUSES)
def test_ports_and_runs_agree(house: str) -> None:
    """Every port has its run; the data's second speaker leg is the one run that comes without a port."""
    job = demo.job(house)
    ports = {(loc.id, port.kind): port.count for loc in job.locations for port in loc.ports}
    runs: dict[tuple[str, str], int] = {}
    for run in job.runs:
        assert run.to_end.type == "location"
        runs[run.to_end.id, run.kind] = runs.get((run.to_end.id, run.kind), 0) + 1
    extra = {key: count for key, count in runs.items() if key not in ports}
    assert extra == ({("A05", "S2"): 1} if house == "A" else {})
    assert {key: count for key, count in runs.items() if key in ports} == ports


@pytest.mark.parametrize("house", HOUSES)
def test_runs_end_where_the_data_say(house: str) -> None:
    job, data = demo.job(house), house_data(house)
    inside = {gear["id"] for gear in data["gear"] if gear["in_enclosure"]}
    for wanted, run in zip(data["runs"], job.runs, strict=True):
        assert (run.id, run.kind, run.to_end.id) == (wanted["id"], wanted["kind"], wanted["to"])
        if wanted["ends_in_enclosure"]:
            assert (run.from_end.type, run.from_end.id, run.gear) == (
                "enclosure",
                job.enclosure,
                wanted["from"],
            )
            assert wanted["from"] in inside
        else:
            assert run.from_end.type in ("device", "location")
            assert (run.from_end.id, run.gear) == (wanted["from"], "")


@pytest.mark.parametrize("house", HOUSES)
def test_enclosures_hang_in_their_bays(house: str) -> None:
    job = demo.job(house)
    for wanted in house_data(house)["enclosures"]:
        box = next(e for e in job.enclosures if e.id == wanted["id"])
        low_in, high_in = box.bay_studs_in
        wall = job.wall(box.wall)
        assert high_in - low_in - wall.stud_width_in == wanted["bay_clear_width"] == 14.5
        assert (low_in + high_in) / 2 == wanted["bay_center"]
        assert wall_point(wall, wanted["bay_center"]) == (wanted["x"], wanted["y"])
        assert enclosure_bottom_in(job, box) == wanted["bottom_asf"]
        assert enclosure_top_in(job, box) == wanted["top_asf"]
        entries = dict(enclosure_entries(job, box))
        assert " and ".join(entries) == wanted["entry_low_voltage"]
        for entry, point in entries.items():
            assert point == (wanted["x"], wanted["y"], wanted[f"z_{entry}"])
        # The houses' own table: two 2 in knockouts for A and B, one for C, at 40 % fill.
        ways = [k for k in box.knockouts if k.use == "low voltage" and k.diameter_in == 2.0]
        assert len(ways) >= demo.totals(house, box.id)["knockouts_2_at_40"]
        assert all(
            k.diameter_in / 2 <= k.from_left_in <= box.width_in - k.diameter_in / 2 for k in box.knockouts
        )
        assert box.ac_feed is not None
        assert box.ac_feed.hole_height_in == wanted["ac_feed"].get("hole_z")


def test_the_wood_studs_in_the_steel_wall_are_the_box_bays() -> None:
    job = demo.job("C")
    assert job.wall("C-110").steel
    assert job.wall("C-110").wood_studs_in == job.enclosures[0].bay_studs_in == (19.0, 35.0)


def _feet(text: str) -> float:
    match = re.fullmatch(r"(\d+)'-(?:(\d+)-)?(?:(\d+)/(\d+))?\"", text)
    assert match is not None, text
    feet, inches, top, bottom = match.groups()
    return int(feet) * 12 + int(inches or 0) + (int(top) / int(bottom) if top else 0)


# The houses' own table, printed in feet and inches.
BASELINES = [
    ("A", "A-ENC", "1860'-11-7/8\""),
    ("B", "B-ENC1", "1885'-2-1/8\""),
    ("B", "B-ENC2", "2385'-7-7/8\""),
    ("C", "C-ENC", "875'-1/8\""),
]


@pytest.mark.parametrize(("house", "enclosure", "printed"), BASELINES)
def test_baselines_add_up_to_the_printed_totals(house: str, enclosure: str, printed: str) -> None:
    homed = [run["id"] for run in house_data(house)["runs"] if run["ends_in_enclosure"]]
    assert sum(demo.baseline_in(house, run, enclosure) for run in homed) == _feet(printed)


def _square_in(a: tuple[float, ...], b: tuple[float, ...]) -> float:
    return sum(abs(p - q) for p, q in zip(a, b, strict=True))


def _ends(job: Job, run_id: str) -> tuple[list[tuple[float, float, float]], tuple[float, float, float]]:
    run = next(r for r in job.runs if r.id == run_id)
    to = location_point(job, job.location(run.to_end.id))
    if run.from_end.type == "enclosure":
        box = next(e for e in job.enclosures if e.id == run.from_end.id)
        return [point for _, point in enclosure_entries(job, box)], to
    if run.from_end.type == "location":
        return [location_point(job, job.location(run.from_end.id))], to
    gear = job.gear_of(run.from_end.id)
    assert gear.x_in is not None
    assert gear.y_in is not None
    assert gear.z_in is not None
    return [(gear.x_in, gear.y_in, gear.z_in)], to


@pytest.mark.parametrize("house", HOUSES)
def test_baselines_are_no_shorter_than_the_ends_of_the_job_allow(house: str) -> None:
    """Square distance of the job's own ends, plus the data's slack, bounds every baseline from below."""
    job = demo.job(house)
    for run_id in demo.run_ids(house):
        parts = demo.baseline(house, run_id)
        starts, to = _ends(job, run_id)
        slack_in = parts["in_box"] + parts["slack_from"] + parts["slack_to"]
        least_in = min(_square_in(start, to) for start in starts) + slack_in
        assert demo.baseline_in(house, run_id) >= least_in - 1e-6, run_id
        run = next(r for r in job.runs if r.id == run_id)
        if run.from_end.type == "enclosure":
            box = next(e for e in job.enclosures if e.id == run.from_end.id)
            assert parts["in_box"] == box.width_in / 2 + box.height_in
            assert parts["slack_from"] == job.practice.slack.enclosure_in
        # The plan part of the baseline is the square distance in plan.
        plans = {_square_in(start[:2], to[:2]) for start in starts}
        assert parts["plan"] in plans, run_id
