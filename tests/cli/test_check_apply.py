"""``bayrun check --apply``: the job file gets the fix and keeps its comments; what goes and what opens."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bayrun.files import parse_job
from cli.packs import EXAMPLES, Done, bayrun

ON_STUD = ("    offset: 9' 2\"\n", "    offset: 9' 7\"\n")
"""House A, location A08: its box on stud 7 of wall A-W12 (edges 9' 6" and 9' 7-1/2", laid out by hand)."""
FAR_STAPLE = ('staple_from_box: 6"', 'staple_from_box: 15"')
THINNER = (
    '[[amendment]]\nclause = "stud-bore"\nname = "edge_in"\nvalue = "{}"\nwho = "town"\ndate = "2026-01-15"\n'
)


def house(folder: Path, *changes: tuple[str, str]) -> Path:
    """House A in a file of its own, with some lines changed."""
    text = (EXAMPLES / "house-a.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path = folder / "job.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def refused(done: Done, told: str) -> None:
    """A refusal: exit 2, one message, no traceback."""
    assert done.code == 2, done
    assert told in done.err
    assert "Traceback" not in done.err


def test_a_fix_is_written_and_everything_else_in_the_file_stays(tmp_path: Path) -> None:
    job = house(tmp_path, ON_STUD)
    before = job.read_text(encoding="utf-8")
    assert bayrun("check", job, "--quiet").code == 1
    done = bayrun("check", job, "--apply", "location-on-member:A08", "--quiet")
    assert done.code == 0
    after = job.read_text(encoding="utf-8")
    # The box moves against the stud: 9' 7-1/2" and half of a 2-1/4 box.
    assert after == before.replace("    offset: 9' 7\"\n", "    offset: 9' 8-5/8\"\n")
    assert done.out.count("applied: Primary bed, wall Primary bed / Linen (A-W12)") == 1
    assert "gone: Primary bed, wall Primary bed / Linen (A-W12) at 9' 7\"" in done.out
    assert "No new finding opened." in done.out
    assert f"{job} is written." in done.err
    assert sorted(p.name for p in tmp_path.iterdir()) == ["job.yaml"]


def test_several_fixes_and_a_request_that_stays_until_it_is_answered(tmp_path: Path) -> None:
    job = house(tmp_path, ON_STUD, FAR_STAPLE)
    words = (
        "--apply",
        "location-on-member",
        "--apply",
        "ac-feed-support",
        "--by",
        "lead",
        "--json",
        "--quiet",
    )
    done = bayrun("check", job, *words, "--date", "2026-11-25")
    told = json.loads(done.out)
    assert done.code == 1
    assert told["gone"] == ["location-on-member:A08+A-W12/stud-7"]
    assert [r["id"] for r in told["remains"]] == ["ac-feed-support:A-ENC+from-the-enclosure"]
    assert told["remains"][0]["why"] == "it stays until the answer of the electrician is recorded"
    assert told["opened"] == []
    assert told["stops"] == 1
    (request,) = parse_job(job.read_text(encoding="utf-8")).choices
    assert (request.kind, request.by, request.date) == ("request", "lead", "2026-11-25")
    assert request.about.startswith("A-ENC/to secure the cable within 6")


def test_a_fix_that_opens_a_stop_says_so(tmp_path: Path) -> None:
    # Nobody said how the other candidate's feed is secured well: to choose it cures the width, not that.
    text = (EXAMPLES / "house-b.yaml").read_text(encoding="utf-8")
    job = tmp_path / "b.yaml"
    read = parse_job(text)
    other = next(box.id for box in read.enclosures if box.id != read.enclosure)
    first, second = text.index(f"- id: {read.enclosure}\n"), text.index(f"- id: {other}\n")
    assert first < second
    cut = text.index("staple_from_box:", second)
    far = 'staple_from_box: 20"'
    text = text[:cut] + far + text[cut + len('staple_from_box: 6"') :]
    wide = text.index("width:", first)
    text = text[:wide] + 'width: 15"' + text[text.index("\n", wide) :]
    job.write_text(text, encoding="utf-8")
    done = bayrun("check", job, "--apply", "enclosure-bay-width", "--quiet", "--out", tmp_path / "new.yaml")
    assert done.code == 1
    assert "gone: level 1, wall Tech closet / Great room" in done.out
    assert "new, stop: " in done.out
    assert 'The power cable is secured 20" from the enclosure' in done.out
    assert job.read_text(encoding="utf-8") == text
    assert parse_job((tmp_path / "new.yaml").read_text(encoding="utf-8")).enclosure == other


def test_an_answer_is_signed_and_changes_the_house(tmp_path: Path) -> None:
    job = house(tmp_path)
    refused(bayrun("check", job, "--answer", "A-W12=non-bearing", "--quiet"), "counts only with the name")
    assert bayrun("check", job, "--answer", "A-W12=non-bearing", "--by", "engineer", "--quiet").code == 0
    read = parse_job(job.read_text(encoding="utf-8"))
    assert read.wall("A-W12").bearing is False
    assert [(c.kind, c.value, c.by) for c in read.choices] == [("answer", "non-bearing", "engineer")]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--apply", "location-on-membr"), "Did you mean 'location-on-member'?"),
        (("--apply", "location-on-member:A09"), "no finding about 'A09': expected A08+A-W12/stud-7"),
        (("--apply", "location-on-member:A08#2"), "has no fix 2: expected one of: 1 Move the box"),
        (("--apply", "wall-space"), "wall-space offers no fix here"),
        (("--apply", "Move it!"), "expected RULE or RULE:ID such as location-on-member:A08, got 'Move it!'"),
        (("--answer", "yes"), "expected ABOUT=ANSWER such as A-W26/stud-5=doubled, got 'yes'"),
        (("--by", "lead"), "go with --apply or --answer"),
        (
            ("--apply", "location-on-member", "--out", "no/such/folder/x.yaml"),
            "a file in a folder that is there",
        ),
    ],
)
def test_what_cannot_be_applied_is_refused_and_nothing_is_written(
    words: tuple[str, ...], told: str, tmp_path: Path
) -> None:
    job = house(tmp_path, ON_STUD)
    before = job.read_bytes()
    refused(bayrun("check", job, "--quiet", *words), told)
    assert job.read_bytes() == before


def test_a_job_that_is_no_plain_file_is_not_written_over(tmp_path: Path) -> None:
    job = house(tmp_path, ON_STUD)
    link = tmp_path / "link.yaml"
    link.symlink_to(job)
    assert bayrun("check", link, "--apply", "location-on-member", "--quiet").code == 0
    assert link.is_symlink()  # the file behind it is written
    assert "9' 8-5/8" in job.read_text(encoding="utf-8")


def test_local_amendments_are_in_force_for_one_check_and_go_into_the_job_with_a_fix(tmp_path: Path) -> None:
    job = house(tmp_path, ON_STUD)
    overlay = tmp_path / "town.toml"
    overlay.write_text(THINNER.format("3/4"), encoding="utf-8")
    before = job.read_bytes()
    assert bayrun("check", job, "--quiet", "--amendments", overlay).code == 1
    assert job.read_bytes() == before
    done = bayrun("check", job, "--quiet", "--amendments", overlay, "--apply", "location-on-member")
    assert done.code == 0, done
    (one,) = parse_job(job.read_text(encoding="utf-8")).practice.amendments
    assert (one.clause, one.value, one.who) == ("stud-bore", "3/4", "town")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (THINNER.format("1/2"), "loosens a safety rule (IRC R602.6). It takes a reason: why ="),
        (THINNER.format("3/4") + 'edition = "1999"\n', "expected one of 2018, 2021, 2024, got '1999'"),
        ("[[amendment]\n", "expected TOML"),
    ],
)
def test_amendments_that_cannot_be_used_are_refused(text: str, told: str, tmp_path: Path) -> None:
    job = house(tmp_path)
    overlay = tmp_path / "town.toml"
    overlay.write_text(text, encoding="utf-8")
    done = bayrun("check", job, "--quiet", "--amendments", overlay)
    refused(done, "bayrun check: the amendments cannot be used.")
    assert told in done.err
    refused(bayrun("check", job, "--quiet", "--amendments", tmp_path / "no.toml"), "no.toml cannot be read")
