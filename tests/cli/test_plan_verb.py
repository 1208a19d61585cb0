"""``bayrun plan``: the promised files, the same bytes every time, exit codes, JSON alone on stdout."""

from __future__ import annotations

import json
import os
import time
from pathlib import Path

import pytest

from bayrun.cli import talk
from bayrun.cli.talk import Told
from bayrun.files import parse_job
from cli.packs import HOUSES, TOO_DEEP, bayrun, in_new_process, pack_of, small_job, tree

LISTS = {
    *("boxes", "drill", "findings", "labels", "material", "plates", "pulls", "runs", "seals", "supports"),
    *("totals", "enclosure-gear", "port-map", "knockouts", "hours", "crew", "by-day", "price", "load"),
}
LEVELS = {"a": ("1",), "b": ("B", "1", "2"), "c": ("1", "2", "3")}


@pytest.mark.parametrize("house", HOUSES)
def test_the_pack_holds_the_promised_files_and_no_other(house: str) -> None:
    pack = pack_of(house)
    files = set(tree(pack.folder))
    drawings = {Path(name).stem for name in files if name.startswith("drawings/")}
    assert {*(f"plan-{level}" for level in LEVELS[house]), "enclosure-bay", "enclosure-layout"} <= drawings
    assert files == {
        *("pack.pdf", "lists.xlsx", "job.yaml", "plan.json", "cost-check.json"),
        *(f"lists/{name}.csv" for name in LISTS),
        *(f"drawings/{name}.{kind}" for name in drawings for kind in ("svg", "dxf")),
    }
    assert sorted(p.name for p in pack.folder.parent.iterdir()) == ["pack"]  # nothing stays beside it
    assert pack.bytes_of("job.yaml") == pack.job.read_bytes()
    assert pack.bytes_of("pack.pdf").startswith(b"%PDF-")
    assert pack.bytes_of("lists.xlsx").startswith(b"PK")


@pytest.mark.parametrize(
    ("house", "seed"), [("a", "1"), ("b", "77"), pytest.param("c", "4242", marks=pytest.mark.long)]
)
def test_the_same_bytes_from_another_folder_with_another_hash_seed(
    house: str, seed: str, tmp_path: Path
) -> None:
    first = pack_of(house)
    elsewhere = tmp_path / "else where"
    elsewhere.mkdir()
    done = in_new_process("plan", first.job, "--out", "p", cwd=elsewhere, PYTHONHASHSEED=seed)
    assert done.code == first.done.code
    assert tree(elsewhere / "p") == tree(first.folder)


def test_the_same_bytes_over_an_older_pack(tmp_path: Path) -> None:
    job, out = small_job(tmp_path), tmp_path / "out"
    assert bayrun("plan", job, "--out", out).code == 0
    first = tree(out)
    assert bayrun("plan", job, "--out", out).code == 0
    assert tree(out) == first


def test_exit_1_when_a_finding_says_stop_and_the_pack_is_whole(tmp_path: Path) -> None:
    job = small_job(tmp_path, TOO_DEEP)
    done = bayrun("plan", job, "--out", tmp_path / "out")
    assert done.code == 1
    assert done.out == ""
    (told,) = {line for line in done.err.splitlines() if "stands proud of the finish" in line}
    assert told.startswith("  stop: level 1, wall Living / Office (W5), Office side, bay at")
    assert (tmp_path / "out" / "pack.pdf").is_file()
    assert bayrun("check", job).code == 1


@pytest.mark.parametrize("house", HOUSES)
def test_exit_code_follows_the_findings(house: str) -> None:
    pack = pack_of(house)
    told = json.loads(pack.bytes_of("plan.json"))
    stops = [f for f in told["findings"] if f["severity"] == "stop"]
    assert pack.done.code == (1 if stops else 0)
    assert pack.done.out == ""
    totals = told["totals"]
    assert f"{totals['runs']} runs, {totals['feet']:,.0f} ft, {totals['holes']} holes" in pack.done.err
    assert f"Open {pack.folder / 'pack.pdf'}" in pack.done.err


def test_json_alone_on_stdout_talk_on_stderr(tmp_path: Path) -> None:
    out = tmp_path / "out"
    done = bayrun("plan", small_job(tmp_path), "--out", out, "--json")
    assert done.code == 0
    assert json.loads(done.out) == json.loads((out / "plan.json").read_bytes())["totals"]
    assert "Open " in done.err


def test_check_prints_findings_as_text_or_as_json_alone(tmp_path: Path) -> None:
    job = small_job(tmp_path, TOO_DEEP)
    told = bayrun("check", job, "--json")
    data = json.loads(told.out)
    assert (told.code, data["stops"]) == (1, sum(f["severity"] == "stop" for f in data["findings"]))
    assert told.err.splitlines()[-1].startswith(f"A new job: {data['stops']} stop, ")
    for finding in data["findings"]:
        assert {"id", "rule", "severity", "about", "place", "says", "source", "fixes"} <= set(finding)
        assert finding["place"]
        assert finding["says"]
    plain = bayrun("check", job)
    assert plain.out.startswith("[#] STOP  level 1, wall Living / Office (W5)")
    assert plain.out.count("[#] STOP") == data["stops"]
    assert "[ ] NOTE" in plain.out
    assert "[ ] NOTE" not in bayrun("check", job, "--no-notes").out
    assert not list(tmp_path.glob("*pack*"))  # check writes nothing


def test_check_says_the_same_findings_as_the_pack() -> None:
    pack = pack_of("c")
    told = json.loads(bayrun("check", pack.job, "--json").out)
    assert told["findings"] == json.loads(pack.bytes_of("plan.json"))["findings"]


def test_progress_on_stderr_where_work_takes_longer() -> None:
    done = in_new_process("check", pack_of("b").job, "--json")
    lines = done.err.splitlines()
    assert len(lines) >= 2, done.err
    assert lines[-1].startswith("House B")
    json.loads(done.out)
    quiet = in_new_process("check", pack_of("b").job, "--quiet")
    assert len(quiet.err.splitlines()) == 1


def test_progress_lines_come_at_first_and_then_a_line_a_second(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    clock = [100.0]
    monkeypatch.setattr(time, "monotonic", lambda: clock[0])
    told = Told()
    for step in range(32):
        clock[0] += 0.125
        told("routed", step, 32)
    told("setting the pages", 1, 1)
    lines = capsys.readouterr().err.splitlines()
    assert lines == ["routed 4 of 32", "routed 13 of 32", "routed 22 of 32", "routed 31 of 32"]
    clock[0] += talk.NEXT_S + 0.1
    told("setting the pages", 1, 1)
    Told(quiet=True)("routed", 1, 2)
    told.done("done")
    assert capsys.readouterr().err.splitlines() == ["setting the pages …", "done"]


def test_a_pack_s_own_job_file_renews_its_pack(tmp_path: Path) -> None:
    small_job(tmp_path, name="mine.yaml")
    assert bayrun("plan", tmp_path / "mine.yaml").code == 0
    pack = tmp_path / "mine-pack"
    job = pack / "job.yaml"
    job.write_text(job.read_text().replace('height: 62"', 'height: 60"') + "# kept\n")
    assert bayrun("plan", job).code == 0
    assert sorted(p.name for p in tmp_path.iterdir()) == ["mine-pack", "mine.yaml"]
    assert job.read_text().endswith("# kept\n")
    told = json.loads((pack / "plan.json").read_bytes())
    assert [one["height_in"] for one in told["locations"] if one["id"] == "L01"] == [60]


def test_the_job_file_is_carried_byte_by_byte(tmp_path: Path) -> None:
    job = small_job(tmp_path)
    data = b"\xef\xbb\xbf" + job.read_bytes().replace(b"\n", b"\r\n")
    job.write_bytes(data)
    assert bayrun("plan", job, "--out", tmp_path / "out").code == 0
    assert (tmp_path / "out" / "job.yaml").read_bytes() == data
    parse_job(data.decode("utf-8-sig"))


@pytest.mark.skipif(not Path("/dev/fd").is_dir(), reason="needs a system that names its open pipes")
def test_a_job_through_a_pipe_is_read_once(tmp_path: Path) -> None:
    job = small_job(tmp_path)
    reading, writing = os.pipe()
    assert os.write(writing, job.read_bytes()) == job.stat().st_size  # it fits the pipe's own store
    os.close(writing)
    try:
        done = bayrun("plan", f"/dev/fd/{reading}", "--out", tmp_path / "out")
    finally:
        os.close(reading)
    assert done.code == 0
    assert (tmp_path / "out" / "job.yaml").read_bytes() == job.read_bytes()
