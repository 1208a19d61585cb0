"""The interface: jobs, edits, fixes, undo, saves, plans, lists, the pack; and its refusals in one shape."""

from __future__ import annotations

import io
import time
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from conftest import ROOT
from files.gbxml_house import gbxml
from web.serving import client


@pytest.fixture
def page(tmp_path: Path) -> Iterator[TestClient]:
    with client(tmp_path) as made:
        yield made


def demo(page: TestClient, letter: str = "a") -> dict[str, Any]:
    answer = page.post("/api/jobs", json={"start": f"demo {letter}"})
    assert answer.status_code == 201, answer.text
    opened: dict[str, Any] = answer.json()
    return opened


def planned(page: TestClient, job: str, since: int | None = None) -> dict[str, Any]:
    address = f"/api/jobs/{job}/plan?wait=20" + ("" if since is None else f"&since={since}")
    for _ in range(60):
        answer = page.get(address)
        if answer.status_code == 200:
            made: dict[str, Any] = answer.json()
            return made
        assert answer.status_code == 202, answer.text
        assert answer.json()["working"]["says"]
    raise AssertionError("no plan in time")


def edit(page: TestClient, opened: dict[str, Any], verb: str, *arguments: object) -> Any:
    body = {"version": opened["job"]["version"], "verb": verb, "arguments": list(arguments)}
    return page.post(f"/api/jobs/{opened['job']['id']}/edits", json=body)


def refusal(answer: Any, status: int) -> dict[str, Any]:
    assert answer.status_code == status, answer.text
    error: dict[str, Any] = answer.json()["error"]
    assert set(error) >= {"kind", "says"}
    assert error["says"]
    return error


def test_a_demo_house_opens_edits_and_plans(page: TestClient) -> None:
    assert page.get("/api/jobs").json() == {"jobs": []}
    opened = demo(page)
    job = opened["job"]["id"]
    assert [row["id"] for row in page.get("/api/jobs").json()["jobs"]] == [job]
    house = opened["house"]
    assert len(house["locations"]) == 26
    first = planned(page, job)
    assert first["plan"]["totals"]["runs"] == 39
    assert first["plan"]["change"] is None
    spot = next(q for q in house["locations"] if q["id"] == "A07")
    moved = edit(page, opened, "move_location", "A07", spot["offset"] + 12.0)
    assert moved.status_code == 200, moved.text
    assert moved.json()["says"].startswith("Moved A07 in Primary bed to ")
    second = planned(page, job, since=first["version"])
    assert second["version"] == moved.json()["job"]["version"] == 2
    assert second["plan"]["change"]
    assert {f["since"] for f in second["plan"]["findings"]} <= {"already so", "by your edit"}
    back = page.post(f"/api/jobs/{job}/undo", json={"version": 2}).json()
    assert back["house"] == house
    assert back["job"]["can_redo"]
    forth = page.post(f"/api/jobs/{job}/redo", json={"version": 3}).json()
    assert next(q for q in forth["house"]["locations"] if q["id"] == "A07")["offset"] == spot["offset"] + 12
    steps = page.get(f"/api/jobs/{job}/steps").json()
    assert steps["now"] == 1
    assert [s["number"] for s in steps["steps"]] == [0, 1]


def test_comments_of_the_file_outlive_an_edit(page: TestClient) -> None:
    text = (ROOT / "examples" / "house-a.yaml").read_text(encoding="utf-8")
    opened = page.post("/api/jobs", json={"start": "file", "name": "house-a.yaml", "text": text}).json()
    made = edit(page, opened, "set_height", "A03", 60.0)
    assert made.status_code == 200
    after = page.get(f"/api/jobs/{opened['job']['id']}/file").text
    assert [line for line in text.splitlines() if line.startswith("#")] == [
        line for line in after.splitlines() if line.startswith("#")
    ]
    assert after != text


def test_a_fix_of_a_finding_is_applied_and_the_finding_is_gone(page: TestClient) -> None:
    for letter in "abc":
        opened = demo(page, letter)
        job, version = opened["job"]["id"], opened["job"]["version"]
        findings = planned(page, job)["plan"]["findings"]
        cures = [
            (f, i)
            for f in findings
            for i, fix in enumerate(f["fixes"])
            if not fix["request_to"] and f["about"]
        ]
        if not cures:
            continue
        finding, number = cures[0]
        answer = page.post(
            f"/api/jobs/{job}/fixes", json={"version": version, "finding": finding["id"], "fix": number}
        )
        assert answer.status_code == 200, answer.text
        left = planned(page, job, since=version)["plan"]["findings"]
        assert finding["id"] not in {f["id"] for f in left}, finding
        return
    pytest.fail("no finding of the demo houses has a fix")


def test_refusals_say_why_in_one_shape(page: TestClient) -> None:
    opened = demo(page)
    job = opened["job"]["id"]
    ceiling = edit(page, opened, "move_location", "A03", 9.0)
    assert "in Great room is on no wall" in refusal(ceiling, 422)["says"]
    nowhere = edit(page, opened, "move_location", "Z1", 9.0)
    assert "location Z1 is not in the job" in refusal(nowhere, 422)["says"]
    assert "no edit is called" in refusal(edit(page, opened, "paint", "A01"), 422)["says"]
    assert refusal(page.get("/api/jobs/0123456789abcdef"), 404)["kind"] == "not here"
    assert refusal(page.get("/api/jobs/nonsense"), 422)["kind"] == "not understood"
    assert refusal(page.get("/api/nothing"), 404)["says"] == "There is nothing at this address."
    assert (
        "verb"
        in refusal(page.post(f"/api/jobs/{job}/edits", json={"version": 1, "arguments": []}), 422)["says"]
    )
    broken = page.post("/api/jobs", json={"start": "file", "name": "x.yaml", "text": "schema: 1\nid: [a"})
    assert "x.yaml:2" in refusal(broken, 422)["says"]
    spare = page.post("/api/jobs", json={"start": "file", "text": "x", "extra": 1})
    assert "extra" in refusal(spare, 422)["says"]
    assert (
        refusal(page.post(f"/api/jobs/{job}/undo", json={"version": 1}), 404)["says"]
        == "There is nothing to undo."
    )
    same = edit(
        page,
        opened,
        "set_height",
        "A03",
        next(q["height_in"] for q in opened["house"]["locations"] if q["id"] == "A03"),
    )
    assert refusal(same, 422)["says"] == "That is so already: nothing was changed."
    infinite = page.post(
        f"/api/jobs/{job}/edits",
        content=b'{"version": 1, "verb": "set_height", "arguments": ["A03", 1e999]}',
        headers={"content-type": "application/json"},
    )
    refusal(infinite, 422)


def test_the_second_of_two_windows_is_told_what_the_first_did(page: TestClient) -> None:
    opened = demo(page)
    assert edit(page, opened, "set_height", "A03", 60.0).status_code == 200
    error = refusal(edit(page, opened, "set_height", "A07", 60.0), 409)
    assert error["kind"] == "changed"
    assert error["version"] == 2
    assert "A03 in" in error["steps"][0]["says"]
    now = page.get(f"/api/jobs/{opened['job']['id']}").json()
    assert edit(page, now, "set_height", "A07", 60.0).status_code == 200


def test_saves_are_named_and_restored(page: TestClient) -> None:
    opened = demo(page)
    job = opened["job"]["id"]
    assert page.post(f"/api/jobs/{job}/saves", json={"name": "as sold"}).status_code == 201
    assert "already" in refusal(page.post(f"/api/jobs/{job}/saves", json={"name": "as sold"}), 422)["says"]
    changed = edit(page, opened, "set_height", "A03", 60.0).json()
    back = page.post(
        f"/api/jobs/{job}/restore", json={"version": changed["job"]["version"], "number": 1}
    ).json()
    assert back["house"] == opened["house"]


def test_drawings_and_lists_come_one_by_one(page: TestClient) -> None:
    job = demo(page)["job"]["id"]
    planned(page, job)
    drawings = page.get(f"/api/jobs/{job}/drawings?wait=20").json()["drawings"]
    assert {d["kind"] for d in drawings} >= {"plan", "enclosure bay"}
    for drawing in drawings:
        answer = page.get(f"/api/jobs/{job}/drawings/{drawing['name']}")
        assert answer.headers["content-type"] == "image/svg+xml"
        assert answer.content.startswith(b"<svg") or b"<svg" in answer.content[:400]
    refusal(page.get(f"/api/jobs/{job}/drawings/nothing"), 404)
    lists = page.get(f"/api/jobs/{job}/lists?wait=20").json()["lists"]
    for one in lists:
        table = page.get(f"/api/jobs/{job}/lists/{one['name']}").json()
        assert len(table["rows"]) == one["rows"]
        assert all(len(row) == len(table["heads"]) == len(table["numbers"]) for row in table["rows"])
    members = page.get(f"/api/jobs/{job}/frame?wait=20").json()
    assert len(members["boxes"]) > 100


def test_the_pack_is_made_with_progress_and_downloads(page: TestClient) -> None:
    job = demo(page)["job"]["id"]
    assert not page.get(f"/api/jobs/{job}/pack").json()["begun"]
    refusal(page.get(f"/api/jobs/{job}/pack/files/pack.pdf"), 404)
    assert page.post(f"/api/jobs/{job}/pack").status_code == 202
    for _ in range(600):
        state = page.get(f"/api/jobs/{job}/pack").json()
        if state["made"] or state["failed"]:
            break
        time.sleep(0.1)
    assert state["made"], state
    assert page.get(f"/api/jobs/{job}/pack/files/pack.pdf").content.startswith(b"%PDF-")
    archive = zipfile.ZipFile(io.BytesIO(page.get(f"/api/jobs/{job}/pack/files/pack.zip").content))
    assert sorted(archive.namelist()) == sorted(f["name"] for f in state["files"])
    assert archive.testzip() is None
    refusal(page.get(f"/api/jobs/{job}/pack/files/../../etc/passwd"), 404)


def test_a_stopped_pack_says_so_and_can_be_made_again(page: TestClient) -> None:
    job = demo(page)["job"]["id"]
    page.post(f"/api/jobs/{job}/pack")
    page.request("DELETE", f"/api/jobs/{job}/pack")
    for _ in range(600):
        state = page.get(f"/api/jobs/{job}/pack").json()
        if state["made"] or state["failed"]:
            break
        time.sleep(0.1)
    assert state["failed"] == "Stopped, as you asked. Nothing was written."
    assert page.post(f"/api/jobs/{job}/pack").json()["failed"] == ""


def test_a_struck_location_takes_its_runs_along(page: TestClient) -> None:
    opened = demo(page)
    assert edit(page, opened, "remove_location", "A07").status_code == 200
    assert planned(page, opened["job"]["id"])["plan"]["totals"]["runs"] == 36


def test_a_house_that_contradicts_itself_is_told_not_crashed(page: TestClient) -> None:
    text = (ROOT / "examples" / "house-a.yaml").read_text(encoding="utf-8")
    head, bay, rest = text.partition("bay_studs: [4' 2-3/4\", 5' 6-3/4\"]")
    assert bay
    wrong = head + "bay_studs: [4' 3\", 5' 9\"]" + rest
    opened = page.post("/api/jobs", json={"start": "file", "text": wrong}).json()
    for _ in range(60):
        answer = page.get(f"/api/jobs/{opened['job']['id']}/plan?wait=20")
        if answer.status_code != 202:
            break
    if answer.status_code == 200:
        stops = [f for f in answer.json()["plan"]["findings"] if f["severity"] == "stop"]
        assert any("A-ENC" in f["about"] for f in stops)
    else:
        assert refusal(answer, 422)["says"].startswith("The house cannot be planned: ")


def test_lengths_are_read_as_people_type_them(page: TestClient) -> None:
    assert page.post("/api/length", json={"text": "5-3"}).json() == {"inches": 63.0, "says": "5' 3\""}
    assert "expected" in refusal(page.post("/api/length", json={"text": "a foot"}), 422)["says"]


def test_a_job_is_taken_away(page: TestClient) -> None:
    job = demo(page)["job"]["id"]
    assert page.request("DELETE", f"/api/jobs/{job}").status_code == 204
    refusal(page.get(f"/api/jobs/{job}"), 404)


def imported(page: TestClient, name: str, data: bytes) -> dict[str, Any]:
    answer = page.post(f"/api/imports?file={name}", content=data)
    assert answer.status_code == 202, answer.text
    state: dict[str, Any] = answer.json()
    for _ in range(600):
        if state["job"] or state["failed"]:
            return state
        time.sleep(0.1)
        state = page.get(f"/api/imports/{state['id']}").json()
    raise AssertionError("no end of the import in time")


def test_a_house_drawn_elsewhere_becomes_a_job(page: TestClient) -> None:
    state = imported(page, "rooms.nothing", b"not a house")
    assert "rooms.nothing" not in state["failed"], "the name of a file may be an address"
    assert state["failed"]
    assert page.get("/api/jobs").json() == {"jobs": []}
    refusal(page.get(f"/api/imports/{state['id']}/report"), 404)
    refusal(page.post("/api/imports?file=a.ifc", content=b""), 422)
    house = imported(page, "rooms.xml", gbxml().encode("utf-8"))
    assert house["failed"] == ""
    assert house["job"]["name"] == "Imported house"
    report = page.get(f"/api/imports/{house['id']}/report")
    assert report.text.lstrip().lower().startswith("<!doctype html>")
    assert planned(page, house["job"]["id"])["plan"]["totals"]["runs"] > 0
