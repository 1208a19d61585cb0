"""plan.json: canonical bytes, its schema, and back to records."""

from __future__ import annotations

import json
import math
from decimal import Decimal
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner

from bayrun.cli.files_cmds import schema
from bayrun.files.planjson import PlanFileError, plan_json, read_plan_json, to_plain
from bayrun.files.planschema import plan_schema
from bayrun.findings import Finding, Fix, Severity, Source
from bayrun.takeoff import takeoff
from takeoff import small_house as small
from takeoff.planned_houses import every_house, planned

TOLD = Finding(
    "stud-hole-edge",
    Severity.STOP,
    ("H1",),
    "Laundry",
    "Too near.",
    0.5,
    0.625,
    "in",
    Source("IRC", "2021", "R602.6", "confirmed"),
    (Fix("move_hole", ("H1", 1.75), "Move it to the middle."),),
)


def small_plan() -> bytes:
    job = small.job()
    holes = (small.plate_hole("H1", 58.75, 1.25), small.plate_hole("H2", 140.0, 0.75))
    wiring = small.wiring((small.run(),), holes)
    return plan_json(job, small.frame(), wiring, takeoff(job, small.frame(), wiring), (TOLD,))


def data(text: bytes) -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads(text)
    return loaded


@every_house
def test_a_plan_follows_its_schema_and_reads_back_whole(letter: str) -> None:
    house = planned(letter)
    text = plan_json(house.job, house.frame, house.wiring, house.counted)
    jsonschema.validate(data(text), plan_schema())
    plan = read_plan_json(text)
    again = plan_json(plan.job_record(), plan.frame, plan.wiring, plan.takeoff, plan.findings)
    assert again == text
    assert [run.id for run in plan.wiring.runs] == [run.id for run in house.wiring.runs]
    for run, before in zip(plan.wiring.runs, house.wiring.runs, strict=True):
        assert run.holes == before.holes
        assert run.length_in == pytest.approx(before.length_in, abs=1e-4)


@every_house
def test_top_level_keys_of_the_published_shape(letter: str) -> None:
    house = planned(letter)
    told = data(plan_json(house.job, house.frame, house.wiring, house.counted))
    # Source: the list of top-level keys that a plan must have, as it was asked for.
    assert set(told) >= {
        *("job", "members", "bays", "locations", "runs", "holes", "plates", "straps", "supports"),
        *("seals", "pulls", "boxes", "findings", "totals"),
    }
    assert len(told["locations"]) == len(house.job.locations)
    assert not {one["id"] for one in told["locations"]} & {one.id for one in house.job.enclosures}
    members = {m["id"] for m in told["members"]}
    for hole in told["holes"]:
        assert hole["member"] in members
        assert len(hole["circles"]) == len(hole["occupants"])
    holes = {hole["id"]: hole for hole in told["holes"]}
    for run in told["runs"]:
        way_in = sum(math.dist(a[:3], b[:3]) for a, b in zip(run["path"], run["path"][1:], strict=False))
        assert run["length_in"] == pytest.approx(way_in + run["slack_in"], abs=1e-4)
        for point, hole_id in zip(run["path"], run["path_holes"], strict=True):
            if hole_id is not None:
                assert run["id"] in holes[hole_id]["occupants"]
                assert point[3] in members


def test_the_bytes_are_canonical() -> None:
    text = small_plan()
    assert text == small_plan()
    assert text.endswith(b"}\n")
    told = data(text)
    assert list(told) == sorted(told)
    assert all(list(one) == sorted(one) for one in told["holes"])
    assert b"-0.0" not in text
    assert b"NaN" not in text
    (finding,) = told["findings"]
    assert finding["id"] == "stud-hole-edge:H1"
    assert told["totals"]["stops"] == 1
    assert told["plates"][0]["face"] == "Dining"


@pytest.mark.parametrize(
    ("value", "plain"),
    [
        (-0.0, 0),
        (-1e-9, 0),
        (14.0, 14),
        (14.50000001, 14.5),
        (1 / 3, 0.333333),
        (Decimal("0.20"), "0.20"),
        (Severity.STOP, "stop"),
        ((1.0, "a"), [1, "a"]),
        (True, True),
    ],
)
def test_plain_values(value: object, plain: object) -> None:
    got = to_plain(value)
    assert (type(got), got) == (type(plain), plain)
    assert json.dumps(got)[0] != "-"


@pytest.mark.parametrize("value", [float("nan"), float("inf"), object()])
def test_what_has_no_plain_form_is_refused(value: object) -> None:
    with pytest.raises(TypeError, match="expected"):
        to_plain(value)


def test_a_job_as_plain_data_stands_as_it_is_given() -> None:
    job = small.job()
    wiring = small.wiring((small.run(),))
    plain = {
        "id": "x",
        "locations": [{"id": "L1", "room": "Dining", "level": "1", "mount": "wall", "height_in": 14}],
    }
    told = data(plan_json(plain, small.frame(), wiring, takeoff(job, small.frame(), wiring)))
    assert told["job"] == plain
    assert told["locations"] == plain["locations"]
    assert told["totals"] is None
    jsonschema.validate(told, plan_schema())


def changed(path: list[str | int], value: object) -> bytes:
    told = data(small_plan())
    at: Any = told
    for key in path[:-1]:
        at = at[key]
    at[path[-1]] = value
    return json.dumps(told).encode()


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (b"\xff", "plan.json: expected JSON in UTF-8, got a fault"),
        (b"[1]", "plan.json: expected a plan with runs, holes and members, got something else"),
        (b"[" * 100_000, "plan.json: expected"),
        (changed(["plan_schema"], 9), "plan.json: expected plan_schema 1, got 9"),
        (changed(["members", 0, "box"], [1]), r"plan.json: members\[0\].box: expected 6 numbers, got \[1\]"),
        (
            changed(["holes", 0, "axis"], "round"),
            r"holes\[0\].axis: expected one of along, up, across, got 'round'",
        ),
        (changed(["holes", 1, "diameter_in"], "1"), r"holes\[1\].diameter_in: expected a number, got '1'"),
        (
            changed(["runs", 0, "path", 2, 0], None),
            r"runs\[0\].path\[2\]\[0\]|runs\[0\].path\[2\]: expected a number",
        ),
        (changed(["runs", 0, "from"], "E"), r"runs\[0\].from: expected end with its fields, got 'E'"),
        (changed(["findings", 0, "severity"], "bad"), r"findings\[0\].severity: expected one of stop"),
        (changed(["pulls", 0, "runs"], "all"), r"pulls\[0\].runs: expected a list, got 'all'"),
        (changed(["members"], None), "plan.json: expected a whole plan, got a fault"),
    ],
)
def test_a_plan_that_cannot_be_read_says_what_and_where(text: bytes, message: str) -> None:
    with pytest.raises(PlanFileError, match=message):
        read_plan_json(text)


def test_the_command_prints_the_schema_of_the_plan() -> None:
    told = CliRunner().invoke(schema, ["--plan"])
    assert told.exit_code == 0
    assert json.loads(told.output) == plan_schema()
    assert json.loads(CliRunner().invoke(schema, []).output) != plan_schema()


def test_the_schema_refuses_what_it_should() -> None:
    jsonschema.Draft202012Validator.check_schema(plan_schema())
    for path, value in (
        (["holes", 0, "circles"], [[0, 0]]),
        (["runs", 0, "path"], [[0, 0, 0]]),
        (["runs", 0, "from"], {"type": "room", "id": "E"}),
        (["extra"], 1),
    ):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(data(changed(path, value)), plan_schema())
