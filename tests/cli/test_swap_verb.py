"""``bayrun swap`` and ``quick marks`` through the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bayrun.files.planjson import plan_json
from cli.packs import bayrun
from takeoff.planned_houses import planned


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    house = planned("a")
    folder = tmp_path_factory.mktemp("pack")
    (folder / "plan.json").write_bytes(plan_json(house.job, house.frame, house.wiring, house.counted))
    return folder


def test_a_short_box_is_told_in_words_and_as_json(pack: Path) -> None:
    house = planned("a")
    run, box = next((run, box) for run, box in house.counted.pulls[2].boxes if box.startswith("BX-D"))
    words = ("swap", str(pack), "--run", run)
    fine = bayrun(*words)
    assert (fine.code, fine.out.strip()) == (0, "Every box still feeds what is planned from it.")
    short = bayrun(*words, "--left", "30", "--json")
    told = json.loads(short.out)
    assert short.err == ""
    assert told["says"].startswith(f"{box} has 30 ft left (25 ft to use) and is planned to give ")
    assert short.code == (1 if told["new"] or told["never"] else 0)
    assert any(swap["run"] == run for swap in told["swaps"])


def test_every_bad_word_is_told_at_once(pack: Path) -> None:
    done = bayrun("swap", str(pack), "--run", "Z9", "--box", "x=3", "--done", "q", "--left", "-1")
    assert (done.code, done.out) == (2, "")
    assert done.err == (
        "bayrun swap: --run: expected a run of the plan that a box feeds, got 'Z9'; "
        "--done: expected a run of the plan, got 'q'; "
        "--box: expected a box and its feet such as BX-D-2=310, got 'x=3'; "
        "--left: expected feet of zero or more, got -1\n"
    )
    nowhere = bayrun("swap", str(pack / "no"), "--run", "Z9")
    assert nowhere.code == 2
    assert "cannot be read: no such file" in nowhere.err


def test_marks() -> None:
    done = bayrun("quick", "marks", "--start", "970", "--end", "48", "--rolls-over", "1000", "--json")
    assert (done.code, done.err) == (0, "")
    assert json.loads(done.out)["length_ft"]["value"] == 78.0
    warned = bayrun("quick", "marks", "--start", "412", "--end", "300", "--planned", "78")
    assert warned.code == 1
    assert "78 ft were planned and the marks say 112 ft: read them again." in warned.out
    assert bayrun("quick", "marks", "--start", "-4", "--end", "3").code == 2
