"""``bayrun plan --base --frozen``: only what must move moves, and the pack says what changed."""

from __future__ import annotations

import json
from pathlib import Path

from tests.demo import example_path

from cli.packs import bayrun, pack_of


def test_a_moved_location_against_the_pack_last_issued(tmp_path: Path) -> None:
    first = pack_of("a")
    job = tmp_path / "a.yaml"
    text = example_path("A").read_text(encoding="utf-8")
    assert text.count("offset: 16'\n") == 1
    job.write_text(text.replace("offset: 16'\n", "offset: 12'\n"), encoding="utf-8")
    done = tmp_path / "done.json"
    done.write_text(json.dumps({"holes": ["H1", "H2"], "runs": ["A01-D1"]}), encoding="utf-8")
    out = tmp_path / "p"
    told = bayrun("plan", job, "--base", first.folder, "--frozen", done, "--out", out)
    assert told.code == 0, told.err
    assert "since revision 1: Carry over " in told.err
    assert "the sheet “what changed”, lists/changes.csv." in told.err
    plan = json.loads((out / "plan.json").read_text(encoding="utf-8"))
    before = json.loads(first.bytes_of("plan.json"))
    old = {h["id"]: h for h in before["holes"]}
    assert [h["set_by"] for h in plan["holes"] if h["id"] in ("H1", "H2")] == ["done", "done"]
    for hole in plan["holes"]:
        if hole["id"] in old:
            assert (hole["x"], hole["y"], hole["z"]) == tuple(old[hole["id"]][k] for k in "xyz")
    assert plan["frozen"]["runs"] == [{"run": "A01-D1", "path": []}]
    changes = json.loads((out / "changes.json").read_text(encoding="utf-8"))
    assert {c["id"] for c in changes["items"] if c["thing"] == "run"} >= {"A10-D1", "A10-D2"}
    assert len(changes["moved_unasked"]) <= 5
    csv = (out / "lists" / "changes.csv").read_text(encoding="utf-8-sig")
    assert csv.startswith("Thing,Name,Is,Where,What,Why,Asked,Feet")


def test_done_work_that_cannot_be_used_is_refused_whole(tmp_path: Path) -> None:
    done = tmp_path / "done.json"
    done.write_text(json.dumps({"holes": ["H9999"], "runs": ["nobody"]}), encoding="utf-8")
    told = bayrun("plan", example_path("A"), "--frozen", done, "--out", tmp_path / "p")
    assert told.code == 2
    assert "hole H9999 is in no plan that was given" in told.err
    assert "run nobody is neither in the job nor in the plan last issued" in told.err
    assert "has 2 defects; nothing was written" in told.err
    assert not (tmp_path / "p").exists()
    told = bayrun("plan", example_path("A"), "--frozen", tmp_path / "none.json", "--out", tmp_path / "p")
    assert (told.code, "cannot be read" in told.err) == (2, True)
