"""plan.json field by field, as the packs hold it, against the promised shape and the printed schema."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace
from decimal import Decimal
from functools import cache
from itertools import combinations
from typing import Any

import jsonschema
import pytest

from bayrun.files import read_job
from bayrun.files.planjson import plan_json, read_plan_json, to_plain
from bayrun.house import Job
from bayrun.jobs import plan
from bayrun.takeoff.words import hole_room
from cli.packs import HOUSES, bayrun, pack_of

TOUCH_IN = 1e-6 * 1.5
"""What two numbers that were rounded to a millionth may differ by."""
TOP = {
    *("job", "members", "bays", "locations", "runs", "holes", "plates", "straps", "supports", "seals"),
    *("pulls", "boxes", "findings", "totals"),
}
ENDS = {"location", "enclosure", "device"}

every_house = pytest.mark.parametrize("house", HOUSES)


@cache
def told(house: str) -> dict[str, Any]:
    """plan.json of a demo house."""
    data: dict[str, Any] = json.loads(pack_of(house).bytes_of("plan.json"))
    return data


@cache
def job_of(house: str) -> Job:
    """The job that the pack carries."""
    return read_job(pack_of(house).folder / "job.yaml")


@cache
def printed_schema() -> dict[str, Any]:
    """The schema as ``bayrun schema --plan`` prints it."""
    done = bayrun("schema", "--plan")
    assert (done.code, done.err) == (0, "")
    data: dict[str, Any] = json.loads(done.out)
    jsonschema.Draft202012Validator.check_schema(data)
    return data


@every_house
def test_it_follows_the_printed_schema_and_has_every_top_level_key(house: str) -> None:
    jsonschema.validate(told(house), printed_schema(), cls=jsonschema.Draft202012Validator)
    assert set(told(house)) >= TOP
    assert set(printed_schema()["required"]) >= TOP
    assert all(told(house)[key] for key in ("members", "bays", "locations", "runs", "holes", "totals"))


@every_house
def test_the_job_is_whole(house: str) -> None:
    assert told(house)["job"] == to_plain(job_of(house))
    assert read_plan_json(pack_of(house).bytes_of("plan.json")).job_record() == job_of(house)


@every_house
def test_no_number_has_more_than_six_places(house: str) -> None:
    text = pack_of(house).bytes_of("plan.json").decode()
    bare = re.sub(r'"(?:[^"\\]|\\.)*"', '""', text)
    numbers = re.findall(r"-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?", bare)
    assert len(numbers) > 5000
    for number in numbers:
        exponent = Decimal(number).as_tuple().exponent
        assert isinstance(exponent, int)
        assert exponent >= -6, number
    assert not [n for n in numbers if n in ("-0", "-0.0")]
    places = {len(n.partition(".")[2]) for n in numbers}
    assert max(places) > 3  # the test would see more than tape fractions


@every_house
def test_every_location_of_the_job_and_no_enclosure(house: str) -> None:
    job = job_of(house)
    ids = [one["id"] for one in told(house)["locations"]]
    assert sorted(ids) == sorted(one.id for one in job.locations)
    assert len(set(ids)) == len(ids) == {"a": 26, "b": 31, "c": 15}[house]  # tests/data/demo-houses.json
    assert not set(ids) & {one.id for one in job.enclosures}


@every_house
def test_a_run_field_by_field(house: str) -> None:
    job, data = job_of(house), told(house)
    ids = {
        "location": {one.id for one in job.locations},
        "enclosure": {one.id for one in job.enclosures},
        "device": {one.id for one in job.gear},
    }
    members = {one["id"]: one for one in data["members"]}
    kinds = {one.letter for one in job.practice.cables}
    wished = {run.id: run for run in job.runs}
    lost = {one["run"] for one in data["unreached"]}
    assert {run["id"] for run in data["runs"]} | lost == set(wished)
    for run in data["runs"]:
        assert {"id", "kind", "from", "to", "path", "length_in", "slack_in"} <= set(run)
        assert run["kind"] in kinds
        wish = wished[run["id"]]
        for end, wanted in ((run["from"], wish.from_end), (run["to"], wish.to_end)):
            assert set(end) == {"type", "id"}
            assert end["type"] in ENDS
            assert end["id"] in ids[end["type"]]
            assert (end["type"], end["id"]) == (wanted.type, wanted.id)
        assert len(run["path"]) >= 2
        for entry in run["path"]:
            assert len(entry) == 4
            assert all(isinstance(value, int | float) for value in entry[:3])
            assert entry[3] is None or entry[3] in members
            if entry[3] is not None:
                x0, y0, z0, x1, y1, z1 = members[entry[3]]["box"]
                for low, value, high in ((x0, entry[0], x1), (y0, entry[1], y1), (z0, entry[2], z1)):
                    assert low - TOUCH_IN <= value <= high + TOUCH_IN, (run["id"], entry)
        way_in = sum(math.dist(p[:3], q[:3]) for p, q in zip(run["path"], run["path"][1:], strict=False))
        assert run["slack_in"] > 0
        assert run["length_in"] == pytest.approx(way_in + run["slack_in"], abs=1e-6 * len(run["path"]))
    assert sum(entry[3] is not None for run in data["runs"] for entry in run["path"]) > 20


@every_house
def test_a_hole_field_by_field(house: str) -> None:
    job, data = job_of(house), told(house)
    members = {one["id"]: one for one in data["members"]}
    runs = {one["id"]: one for one in data["runs"]}
    across = {one.letter: one.diameter_in for one in job.practice.cables}
    for hole in data["holes"]:
        assert {"id", "member", "along_in", "across_in", "diameter_in", "occupants", "circles"} <= set(hole)
        assert hole["member"] in members
        assert hole["diameter_in"] > 0
        assert hole["occupants"]
        assert set(hole["occupants"]) <= set(runs)
        assert len(hole["circles"]) == len(hole["occupants"])
        for (x, y, r), occupant in zip(hole["circles"], hole["occupants"], strict=True):
            assert r == pytest.approx(across[runs[occupant]["kind"]] / 2, abs=TOUCH_IN)
            assert math.hypot(x, y) + r <= hole["diameter_in"] / 2 + 2 * TOUCH_IN, hole["id"]
        for (x, y, r), (u, v, s) in combinations(hole["circles"], 2):
            assert math.hypot(x - u, y - v) >= r + s - 4 * TOUCH_IN, hole["id"]
        for occupant in hole["occupants"]:  # it goes through this very wood, at the hole
            run = runs[occupant]
            here = [p for p, h in zip(run["path"], run["path_holes"], strict=True) if h == hole["id"]]
            assert here, (hole["id"], occupant)
            assert {p[3] for p in here} <= {hole["member"], *hole["plies"]}
            off_in = min(math.dist(p[:3], (hole["x"], hole["y"], hole["z"])) for p in here)
            assert off_in <= 4.5 + TOUCH_IN  # half of three plies


@every_house
def test_a_hole_stands_in_its_member_where_its_own_coordinates_say(house: str) -> None:
    # By hand: a stud's along is the hole's distance from the wall's start, a plate's too; across from the
    # wall's center line, left positive.
    job, data = job_of(house), told(house)
    walls = {one.id: one for one in job.walls}
    members = {one["id"]: one for one in data["members"]}
    looked = 0
    for hole in data["holes"]:
        wall = walls.get(members[hole["member"]]["host"])
        if wall is None:
            continue
        (x0, y0), (x1, y1) = wall.start, wall.end
        long_in = math.hypot(x1 - x0, y1 - y0)
        u, v = (x1 - x0) / long_in, (y1 - y0) / long_in
        x = x0 + hole["along_in"] * u - hole["across_in"] * v
        y = y0 + hole["along_in"] * v + hole["across_in"] * u
        assert (x, y) == pytest.approx((hole["x"], hole["y"]), abs=1e-5), hole["id"]
        a, b = members[hole["member"]]["across"]
        r = hole["diameter_in"] / 2
        assert min(a, b) - TOUCH_IN <= hole["across_in"] - r, hole["id"]
        assert hole["across_in"] + r <= max(a, b) + TOUCH_IN, hole["id"]
        looked += 1
    assert looked > 10


@every_house
def test_what_refers_refers_to_what_is_there(house: str) -> None:
    data = told(house)
    holes = {one["id"] for one in data["holes"]}
    runs = {one["id"] for one in data["runs"]}
    members = {one["id"] for one in data["members"]}
    for name in ("members", "bays", "locations", "runs", "holes", "plates", "straps", "pulls", "boxes"):
        ids = [one["id"] for one in data[name]]
        assert len(set(ids)) == len(ids), name
    for steel in (*data["plates"], *data["straps"]):
        assert steel["hole"] in holes
        assert steel["member"] in members
    for seal in data["seals"]:
        assert (seal["hole"] in holes) != (seal["location"] in {one["id"] for one in data["locations"]})
    assert {run for one in data["supports"] for run in one["runs"]} <= runs
    pulled = [run for one in data["pulls"] for run in one["runs"]]
    assert sorted(pulled) == sorted(runs)  # each run in one pull
    assert sorted(run for one in data["boxes"] for run, _ in one["cuts"]) == sorted(runs)
    totals = data["totals"]
    for name in ("locations", "runs", "plates", "straps", "seals", "pulls", "boxes"):
        assert totals[name] == len(data[name]), name
    assert totals["holes"] + totals["open_passages"] == len(data["holes"])
    assert totals["stops"] == sum(f["severity"] == "stop" for f in data["findings"])
    assert totals["feet"] == pytest.approx(sum(run["length_in"] for run in data["runs"]) / 12, abs=1e-3)


@every_house
def test_reading_it_back_gives_the_same_records(house: str) -> None:
    data = pack_of(house).bytes_of("plan.json")
    back, made = read_plan_json(data), plan(job_of(house))
    assert to_plain(back.frame.members) == to_plain(made.frame.members)
    assert to_plain(back.frame.bays) == to_plain(made.frame.bays)
    for side in ("over", "under"):  # a plate that nothing lies on is not told
        told_plates = [pair for pair in getattr(made.frame, side) if pair[1]]
        assert told_plates or (house, side) == ("a", "under")  # a slab
        assert to_plain(getattr(back.frame, side)) == to_plain(told_plates)
    # The file also says from which room a hole is reached, where routing left that open.
    holes = tuple(replace(h, room=hole_room(made.job, h)) for h in made.wiring.holes)
    assert to_plain(back.wiring) == to_plain(replace(made.wiring, holes=holes))
    assert [f.id for f in back.findings] == [f.id for f in made.findings]
    assert to_plain(back.findings) == to_plain(made.findings)
    for name in ("lengths", "plates", "straps", "supports", "seals", "drill", "pulls", "boxes", "labels"):
        assert to_plain(getattr(back.takeoff, name)) == to_plain(getattr(made.counted, name)), name
    assert back.takeoff.material == made.counted.material  # money is exact
    assert back.totals is not None
    assert to_plain(back.totals) == to_plain(made.totals)
    again = plan_json(back.job_record(), back.frame, back.wiring, back.takeoff, back.findings)
    assert again == data
