"""``bayrun audit PACK``: exit codes, words, bad packs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from audit.plans import example
from bayrun.audit import PlanError, audit
from bayrun.cli.main import main
from conftest import ROOT


@pytest.fixture
def pack(tmp_path: Path) -> Path:
    folder = tmp_path / "pack"
    folder.mkdir()
    (folder / "job.yaml").write_bytes((ROOT / "examples" / "house-a.yaml").read_bytes())
    (folder / "plan.json").write_text(example("a")[1], encoding="utf-8")
    return folder


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["audit", *words])


def change(pack: Path, key: str, value: object) -> None:
    plan = json.loads((pack / "plan.json").read_text(encoding="utf-8"))
    plan[key] = value
    (pack / "plan.json").write_text(json.dumps(plan), encoding="utf-8")


def test_a_good_pack_says_one_line_and_no_approval(pack: Path) -> None:
    done = run(str(pack))
    assert done.exit_code == 0, done.output
    plan = json.loads(example("a")[1])
    counts = f"{len(plan['members'])} members, {len(plan['holes'])} holes, {len(plan['runs'])} runs"
    assert done.stdout == f"nothing found: {counts} checked by separate arithmetic\n"
    assert not any(word in done.output.lower() for word in ("approved", "certified", "optimal"))


def test_a_defect_is_named_with_its_place(pack: Path) -> None:
    change(pack, "pulls", [])
    done = run(str(pack))
    assert done.exit_code == 1
    assert "pull-wrong" in done.stdout
    assert "run A01-D1 is in 0 pulls" in done.stdout
    assert "Great room (A01)" in done.stdout


def test_json_holds_every_defect_and_nothing_else(pack: Path) -> None:
    change(pack, "pulls", [])
    done = run(str(pack), "--json")
    told = json.loads(done.stdout)
    assert done.exit_code == 1
    assert {d["kind"] for d in told["defects"]} == {"pull-wrong", "totals-wrong"}
    assert told["runs"] == 39
    first = told["defects"][0]
    assert sorted(first) == ["about", "expected", "kind", "measured", "place", "says"]


def test_json_of_a_good_pack_has_no_defects(pack: Path) -> None:
    done = run(str(pack), "--json")
    assert done.exit_code == 0
    assert json.loads(done.stdout)["defects"] == []


def test_no_pack_at_all(tmp_path: Path) -> None:
    done = run(str(tmp_path / "nowhere"))
    assert done.exit_code == 2
    assert "expected a pack folder with job.yaml and plan.json, got nothing" in done.output


def test_missing_files_are_named_all_at_once(tmp_path: Path) -> None:
    done = run(str(tmp_path))
    assert done.exit_code == 2
    assert "job.yaml: expected this file of the pack, got none" in done.output
    assert "plan.json: expected this file of the pack, got none" in done.output
    assert "2 faults" in done.output


def test_broken_json_says_where(pack: Path) -> None:
    (pack / "plan.json").write_text('{"runs": [\n 1,,]}', encoding="utf-8")
    done = run(str(pack))
    assert done.exit_code == 2
    assert "plan.json:2:4: expected JSON, got a fault" in done.output


def test_a_broken_job_file_says_where(pack: Path) -> None:
    (pack / "job.yaml").write_text("schema: 1\nid: [", encoding="utf-8")
    done = run(str(pack))
    assert done.exit_code == 2
    assert "job.yaml:" in done.output
    assert "Traceback" not in done.output


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("plan_schema", 7, "plan_schema: expected 1, got 7"),
        ("runs", {}, "runs: expected a list, got {}"),
        ("members", [7], "members[0]: expected an object, got 7"),
        ("totals", None, "totals: expected an object, got None"),
        ("plates", [{"id": "P1"}], "plates[0].hole: expected text, got None"),
        ("boxes", [{"cuts": [["R1"]]}], "boxes[0].cuts[0]: expected a list of 2, got ['R1']"),
    ],
)
def test_a_plan_of_another_shape_is_refused(pack: Path, key: str, value: object, says: str) -> None:
    change(pack, key, value)
    done = run(str(pack))
    assert done.exit_code == 2, done.output
    assert f"plan.json: {says}" in done.output


@pytest.mark.parametrize("text", ["null", "[]", "7", '"plan"', "{}"])
def test_json_that_is_no_plan_is_refused(pack: Path, text: str) -> None:
    (pack / "plan.json").write_text(text, encoding="utf-8")
    done = run(str(pack))
    assert done.exit_code == 2
    assert "expected" in done.output
    assert "Traceback" not in done.output


def test_a_number_that_is_none_is_refused_in_the_library_too() -> None:
    job, text = example("a")
    plan = json.loads(text)
    plan["runs"][0]["path"][0][0] = "here"
    with pytest.raises(PlanError, match=r"runs\[0\].path\[0\]\[0\]: expected a number, got 'here'"):
        audit(job, plan)
