"""Rewriting a job file: the change is there, and every other line and comment is where it was."""

from __future__ import annotations

import difflib
import random
import re
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from importlib.resources import files
from typing import Any

import pytest
from wild_jobs import wild_job

import demo
from bayrun.files import JobFileError, parse_job, rewrite, write_job
from bayrun.files.jobwrite import flow, plain_job
from bayrun.house import Assumption, Choice, Job, Port, WishedRun
from conftest import count

STARTER = (files("bayrun.files") / "starter.yaml").read_text(encoding="utf-8")


def changed_lines(before: str, after: str) -> list[str]:
    """Lines taken out (-) and put in (+)."""
    diff = list(difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0))[2:]
    return [f"{line[0]} {line[1:]}" for line in diff if line[0] in "+-"]


def one(job: Job, kind: str, name: str, **values: Any) -> Job:
    """The job with fields of one record changed."""
    records = [replace(r, **values) if r.id == name else r for r in getattr(job, kind)]
    return replace(job, **{kind: tuple(records)})


def comments(text: str) -> list[str]:
    return re.findall(r"(?:^|\s)(#.*)$", text, re.M)


def test_nothing_changed_is_the_same_text() -> None:
    job = parse_job(STARTER)
    assert rewrite(STARTER, job, replace(job)) == STARTER


def test_one_field_changes_one_line_and_keeps_its_comment() -> None:
    job = parse_job(STARTER)
    after = one(job, "enclosures", "ENC1", bay_studs_in=(34.75, 50.75))
    assert changed_lines(STARTER, rewrite(STARTER, job, after)) == [
        '-     bay_studs: [18-3/4", 34-3/4"]   # centers of its two studs, from the wall\'s start',
        "+     bay_studs: [2' 10-3/4\", 4' 2-3/4\"]   # centers of its two studs, from the wall's start",
    ]


def test_an_entry_on_one_line_stays_on_one_line() -> None:
    job = parse_job(STARTER)
    text = rewrite(STARTER, job, one(job, "runs", "L03-D1", spare=True))
    assert changed_lines(STARTER, text) == [
        "-   - {id: L03-D1, kind: D, from: enclosure ENC1, gear: PATCH, to: location L03}",
        "+   - {id: L03-D1, kind: D, from: enclosure ENC1, gear: PATCH, to: location L03, spare: true}",
    ]


def test_a_removed_entry_takes_its_own_comment_along_and_no_other() -> None:
    text = STARTER.replace("  - id: L03\n", "  # the access point\n  - id: L03\n")
    job = parse_job(text)
    after = replace(
        job,
        locations=tuple(x for x in job.locations if x.id != "L03"),
        runs=tuple(x for x in job.runs if x.id != "L03-D1"),
    )
    out = rewrite(text, job, after)
    assert parse_job(out) == after
    lines = changed_lines(text, out)
    assert all(line.startswith("- ") for line in lines)
    assert [line for line in lines if "#" in line] == ["-   # the access point"]
    assert len(lines) == 11


def test_a_removed_key_takes_the_comment_right_above_it_along() -> None:
    text = STARTER.replace("    note: desk\n", "    # why it is there\n    note: desk\n")
    job = parse_job(text)
    out = rewrite(text, job, one(job, "locations", "L02", note=""))
    assert changed_lines(text, out) == ["-     # why it is there", "-     note: desk"]


def test_a_new_entry_stands_after_its_neighbor() -> None:
    job = parse_job(STARTER)
    new = replace(job.locations[1], id="L05", offset_in=96.0, note="")
    run = WishedRun("L05-D1", "D", job.runs[0].from_end, replace(job.runs[0].to_end, id="L05"), "PATCH")
    after = replace(job, locations=(*job.locations, new), runs=(*job.runs, run))
    out = rewrite(STARTER, job, after)
    assert parse_job(out) == after
    assert "    note: doorbell\n  - id: L05\n    room: Office\n" in out
    assert (
        "to: location L04}\n  - {id: L05-D1, kind: D, from: enclosure ENC1, gear: PATCH, to: location L05}\n"
        in out
    )
    assert all(line.startswith("+ ") for line in changed_lines(STARTER, out))


def test_a_new_section_and_new_keys_are_added_in_their_place() -> None:
    job = parse_job(STARTER)
    after = replace(
        job,
        choices=(Choice("acknowledge", "ac-feed-missing:ENC1", by="J", reason="asked: waiting"),),
        note="two\nlines",
        facts=replace(job.facts, insulation="batts", return_air_bays=()),
    )
    out = rewrite(STARTER, job, after)
    assert parse_job(out) == after
    assert comments(out) == comments(STARTER)
    assert 'note: "two\\nlines"\n' in out
    assert "  insulation: batts\n  return_air_bays: []\n" in out
    assert all(line.startswith("+ ") for line in changed_lines(STARTER, out))
    assert rewrite(out, after, job).split() == STARTER.split()


def test_people_write_differently_and_keep_their_way() -> None:
    """Other indents, quotes, order, explicit defaults: only the changed line moves."""
    text = STARTER.replace("    slab: true\n", "    slab:   true    # poured\n    wall_board: '1/2'\n")
    text = text.replace("  - {id: PATCH, what:", "  -   {what:").replace(
        "in_enclosure: true}\n", "in_enclosure: true, id: PATCH}\n", 1
    )
    text = text.replace("gear: \n", "gear:\n")
    job = parse_job(text)
    level = replace(job.levels[0], wall_board_in=0.625, slab=False)
    out = rewrite(text, job, replace(job, levels=(level,)))
    assert changed_lines(text, out) == [
        "-     slab:   true    # poured",
        "-     wall_board: '1/2'",
        '+     wall_board: 5/8"',
    ]
    out = rewrite(text, job, one(job, "gear", "PATCH", what="patch field: two rows"))
    assert [line[2:6] for line in changed_lines(text, out)] == ["  - ", "  - "]
    assert parse_job(out).gear[0].what == "patch field: two rows"


def test_long_texts_over_lines_are_replaced_whole() -> None:
    text = demo.example_path("A").read_text(encoding="utf-8")
    job = demo.job("A")
    box = job.enclosures[0]
    assert box.ac_feed is not None
    after = replace(job, enclosures=(replace(box, ac_feed=replace(box.ac_feed, way="from below")),))
    lines = changed_lines(text, rewrite(text, job, after))
    assert [line for line in lines if line.startswith("+ ")] == ["+       way: from below"]
    assert len(lines) == 5


@pytest.mark.parametrize("house", demo.HOUSES)
def test_a_file_in_another_shape_is_written_fresh_under_its_head(house: str) -> None:
    job = demo.job(house)
    text = "# the head stays\n# both lines\n" + flow(plain_job(job)) + "\n"
    assert parse_job(text) == job
    after = replace(job, name="Another name")
    out = rewrite(text, job, after)
    assert parse_job(out) == after
    assert out.startswith("# the head stays\n# both lines\n\nschema: 1\n")


def _mutated(rng: random.Random, value: Any, job: Job) -> Any:
    """A job with one to three random fields changed, removed, added or moved."""
    if is_dataclass(value) and not isinstance(value, type):
        names = [f.name for f in fields(value)]
        name = rng.choice(names)
        old = getattr(value, name)
        if name in ("id", "letter", "level") or (name == "kind" and not isinstance(value, Assumption)):
            return value
        return replace(value, **{name: _mutated(rng, old, job)})
    if isinstance(value, tuple) and value and all(is_dataclass(item) for item in value):
        at = rng.randrange(len(value))
        if rng.random() < 0.75:
            return (*value[:at], _mutated(rng, value[at], job), *value[at + 1 :])
        if isinstance(value[0], Port):
            return (*value, Port("X", 3))
        return value
    if isinstance(value, bool):
        return not value
    if isinstance(value, float):
        return value + rng.choice((0.0625, 1.0, 0.3))
    if isinstance(value, str) and " " in value:
        return f"{value}: changed, twice"
    if isinstance(value, Decimal):
        return value + 1
    if isinstance(value, tuple) and value and all(isinstance(item, float) for item in value):
        return tuple(item + 1.0 for item in value)
    return value


def test_random_changes_read_back_and_keep_comments() -> None:
    rng = random.Random(7)
    moved = 0
    base = {h: demo.example_path(h).read_text(encoding="utf-8") for h in demo.HOUSES}
    texts = [(STARTER, parse_job(STARTER)), *((base[h], demo.job(h)) for h in demo.HOUSES)]
    for _ in range(count(60, 500)):
        text, job = rng.choice(texts) if rng.random() < 0.2 else texts[0]
        after = job
        for _ in range(rng.randrange(2, 9)):
            after = _mutated(rng, after, after)
        try:
            parse_job(write_job(after))
        except JobFileError:
            continue
        out = rewrite(text, job, after)
        assert parse_job(out) == after
        assert comments(out) == comments(text)
        if after != job:
            moved += 1
            assert len(changed_lines(text, out)) < 60
    assert moved > 20


def test_any_job_can_become_any_other() -> None:
    for seed in range(count(20, 150)):
        before, after = wild_job(seed), wild_job(seed + 10_000)
        text = write_job(before)
        assert parse_job(rewrite(text, before, after)) == after, seed


def test_lists_lose_gain_and_swap_entries() -> None:
    rng = random.Random(3)
    job = demo.job("A")
    text = demo.example_path("A").read_text(encoding="utf-8")
    for _ in range(count(15, 200)):
        runs = list(job.runs)
        for _ in range(rng.randrange(1, 4)):
            way = rng.randrange(3)
            at = rng.randrange(len(runs))
            if way == 0:
                del runs[at]
            elif way == 1:
                runs.insert(at, replace(runs[0], id=f"N{rng.randrange(10**6)}"))
            else:
                other = rng.randrange(len(runs))
                runs[at], runs[other] = runs[other], runs[at]
        after = replace(job, runs=tuple(runs), joints=job.joints[rng.randrange(3) :])
        out = rewrite(text, job, after)
        assert parse_job(out) == after
        assert comments(out) == comments(text)
