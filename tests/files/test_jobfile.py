"""The job file: what is written reads back, what is wrong is told with its place, never a traceback."""

from __future__ import annotations

import random
import re
import types
import typing
from dataclasses import fields, replace
from decimal import Decimal
from importlib.resources import files
from pathlib import Path

import pytest
import yaml as plain_yaml
from wild_jobs import wild_job

import demo
from bayrun.files import JobFileError, codecs, job_schema, parse_job, read_job, write_job
from bayrun.files.codecs import Length, Maybe, Money, OneOf, YesNo
from bayrun.files.wishtable import JOB, records
from bayrun.files.yaml_text import LARGEST_BYTES, compose, to_plain
from bayrun.house import Job
from conftest import count
from random_houses import random_house

STARTER = (files("bayrun.files") / "starter.yaml").read_text(encoding="utf-8")


def told(text: str | bytes, tmp_path: Path | None = None) -> list[str]:
    """The lines a person is told about a text that is no job."""
    if isinstance(text, str):
        with pytest.raises(JobFileError) as caught:
            parse_job(text, "job.yaml")
        return str(caught.value).splitlines()
    assert tmp_path is not None
    path = tmp_path / "job.yaml"
    path.write_bytes(text)
    with pytest.raises(JobFileError) as caught:
        read_job(path)
    return str(caught.value).replace(str(path), "job.yaml").splitlines()


def edited(old: str, new: str) -> str:
    """The starter job with one text replaced."""
    assert STARTER.count(old) >= 1, old
    return STARTER.replace(old, new, 1)


# ---------------------------------------------------------------- the table


def test_the_table_has_every_field_of_every_record_once() -> None:
    for record in records():
        attributes = [key.attribute for key in record.keys]
        assert sorted(attributes) == sorted(f.name for f in fields(record.make)), record.make
        keys = [key.key for key in record.keys]
        assert len(set(keys)) == len(keys)


def test_the_table_follows_the_types_of_the_records() -> None:
    for record in records():
        hints = typing.get_type_hints(record.make)
        for key in record.keys:
            hint, codec = hints[key.attribute], key.codec
            arguments = typing.get_args(hint)
            if typing.get_origin(hint) in (typing.Union, types.UnionType) and type(None) in arguments:
                assert isinstance(codec, Maybe), (record.make, key.key)
                hint = next(a for a in arguments if a is not type(None))
                codec = codec.inner
            else:
                assert not isinstance(codec, Maybe), (record.make, key.key)
            if typing.get_origin(hint) is typing.Literal:
                assert isinstance(codec, OneOf), (record.make, key.key)
                assert set(codec.words) == set(typing.get_args(hint))
            assert isinstance(codec, YesNo) is (hint is bool), (record.make, key.key)
            assert isinstance(codec, Money) is (hint is Decimal), (record.make, key.key)
            if hint is float:
                assert isinstance(codec, Length) is key.attribute.endswith("_in"), (record.make, key.key)


# ---------------------------------------------------------------- write and read


@pytest.mark.parametrize("house", demo.HOUSES)
def test_written_demo_houses_read_back(house: str) -> None:
    job = demo.job(house)
    assert parse_job(write_job(job)) == job


def test_written_random_houses_read_back() -> None:
    for seed in range(count(12, 100)):
        job = random_house(seed)
        text = write_job(job)
        assert parse_job(text) == job, seed
        assert write_job(parse_job(text)) == text


def test_written_wild_jobs_read_back() -> None:
    for seed in range(count(60, 400)):
        job = wild_job(seed)
        assert parse_job(write_job(job, head="a head\n\nof lines")) == job, seed


def test_wild_jobs_meet_every_key() -> None:
    """The law above would be idle for a key that is never written."""
    text = "".join(write_job(wild_job(seed)) for seed in range(20))
    for record in records():
        for key in record.keys:
            assert re.search(rf"(?:^|[ {{-]){re.escape(key.key)}:", text, re.M), (record.make, key.key)


def test_another_reader_of_yaml_sees_the_same_texts() -> None:
    """Texts are quoted where a reader of older YAML would take them for something else.

    Outside check: PyYAML's own loader, which follows YAML 1.1 (yes, no, on, off, dates, 1:30).
    """
    job = replace(demo.job("A"), note="x")
    for text in (
        "yes",
        "No",
        "on",
        "off",
        "1:30",
        "2026-11-25",
        "null",
        "a: b",
        "# no",
        "5' 3-1/2\"",
        "~",
        "1e3",
    ):
        read = plain_yaml.safe_load(write_job(replace(job, note=text)))
        assert read["note"] == text


def test_lengths_are_written_as_a_tape_reads() -> None:
    assert codecs.length_text(63.5) == "5' 3-1/2\""
    assert codecs.length_text(144.0) == "12'"
    assert codecs.length_text(0.0) == "0"
    assert codecs.length_text(-2.75) == '-2-3/4"'
    assert codecs.length_text(0.23) == "0.23"
    assert codecs.length_text(1e-7) == "0.0000001"
    with pytest.raises(ValueError, match="finite"):
        codecs.length_text(float("nan"))


def test_lengths_are_read_as_people_write_them() -> None:
    for text in ("14.5", '14-1/2"', "14 1/2", "1' 2-1/2\"", "1-2.5", "368.3 mm", "'14½'", '"14.5"'):
        assert parse_job(edited('height: 14"', f"height: {text}")).location("L02").height_in == 14.5, text


# ---------------------------------------------------------------- defects


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        (
            "offset: 6'",
            "ofset: 6'",
            "location L02: expected a key of a location, got the unknown key “ofset”; did you mean “offset”?",
        ),
        (
            "offset: 6'",
            "offset: six",
            "location L02 › offset: expected a length such as 5' 3-1/2\", 5-3, 63.5 or 1613 mm, got “six”",
        ),
        (
            "wall: W4",
            "wall: w4",
            "location L02 › wall: expected the id of a wall, got “w4”; did you mean “W4”?",
        ),
        (
            "room: Office\n    level: 1\n    mount",
            "room: Ofice\n    level: 1\n    mount",
            "location L02 › room: expected the name of a room on level 1, got “Ofice”; did you mean “Office",
        ),
        (
            "mount: ceiling",
            "mount: celing",
            "soffit, contact, coil, conduit, got “celing”; did you mean “ceiling”?",
        ),
        (
            "slab: true",
            "slab: yes",
            "level 1 › slab: expected true or false, got “yes”; write true",
        ),
        (
            "cables: 2D 1X",
            "cables: two D",
            "cables: expected counts with the letter of a cable kind, such as 2D 1X, got “two D”",
        ),
        (
            "to: location L02}",
            "to: location L99}",
            "run L02-D1 › to: expected the id of a location, got “location L99”; there are L01, L02, L03",
        ),
        (
            "gear: BELL",
            "gear: BEL",
            "run L04-B1 › gear: expected the id of a gear, got “BEL”; did you mean “BELL”?",
        ),
        (
            "id: L03-D1",
            "id: L02-D1",
            "run L02-D1 › id: expected each run id once, got “L02-D1” again; first at line ",
        ),
        (
            "fill_max: 0.4 ",
            "fill_max: 0.75 ",
            "practice › fill_max: expected a number above 0 to 0.6, got 0.75",
        ),
        ("diameter: 0.23", "diameter: .nan", "cable kind D › diameter: expected a length such as"),
        (
            "price_per_foot: 0.24",
            "price_per_foot: -1",
            "cable kind D › price_per_foot: expected a price such as 0.24",
        ),
        (
            "spans: [[0, 12']]",
            "spans: [[12', 0]]",
            "frame ROOF › spans › 1st span: expected two lengths, [from, to], low to high, got the larger",
        ),
        ('width: 14-1/4"', "width: 0", "enclosure ENC1 › width: expected a length such as"),
        (
            "bearing: true\n",
            "bearing: true\n    spacing: 2\n",
            '1613 mm, at least 4", got 2',
        ),
        ("    x: 6'\n", "", "location L03: expected “wall” and “offset”, or “x” and “y”, got neither"),
        (', z: [45", 75"]', "", "obstacle P1: expected a height: “z”, or “z_above_frame_bottom” with"),
        (
            "in_enclosure: true}",
            "in_enclosure: false}",
            "gear PATCH: expected “x”, “y” and “z” for gear outside",
        ),
        ("offset: 6'", "offset: 30000", "location L02 › offset: expected a length such as"),
        (
            "end: [20', 0]",
            "end: [0, 0]",
            "wall W1: expected a start and an end that differ, got the same point twice",
        ),
        ("    core: 2x4\n", "", "wall W5: expected the key “core”, got none"),
        ("last_member: 19'", "", "frame ROOF: expected “positions”, or “first_member”, “last_member”"),
        (
            "schema: 1",
            "schema: 2",
            "schema: expected “schema: 1”, got schema 2; it was written by a newer Bayrun",
        ),
        (
            "schema: 1\n",
            "",
            "schema: expected “schema: 1”, got no schema version; write it as the first line",
        ),
        ("schema: 1", "schema: one", "schema: expected “schema: 1”, got “one”"),
        ("level: 1\n    mount: ceiling", "level: &a 1\n    mount: ceiling", "got an anchor, “&a”"),
        ("what: chime", "what: !!str chime", "expected no tags, got the tag “tag:yaml.org,2002:str”"),
        ("    side: left\n", "    side: left\n    side: left\n", "expected each key once, got “side” again"),
        (
            "    side: left\n",
            "\t  side: left\n",
            "expected YAML that can be read, got a tab; indent with spaces",
        ),
        (
            "gear:\n",
            "gear: 7\nnotgear:\n",
            "gear: expected a list, one “- gear” a line or in brackets, got 7",
        ),
        (
            "polygon: [[0, 0], ",
            "polygon: [[0], ",
            "room Living › polygon › 1st point: expected a point, [x, y]",
        ),
    ],
)
def test_a_defect_is_told_where_it_stands(old: str, new: str, line: str) -> None:
    text = edited(old, new)
    lines = told(text)
    assert any(line in one for one in lines), "\n".join(lines)
    for one in lines:
        match = re.match(r"job\.yaml:(\d+):(\d+): ", one)
        assert match is not None, one
    # The first defect's line is the changed one, or the head of the record that misses a key.
    at = text[: text.index(new) if new else STARTER.index(old)].count("\n") + 1
    match = re.match(r"job\.yaml:(\d+):", next(one for one in lines if line in one))
    assert match is not None
    assert abs(int(match[1]) - at) <= 16, (lines, at)


def test_line_and_column_are_those_an_editor_shows() -> None:
    text = edited("offset: 6'", "offset: six")
    line = next(n for n, one in enumerate(text.splitlines(), 1) if "offset: six" in one)
    column = text.splitlines()[line - 1].index("six") + 1
    assert told(text)[0].startswith(f"job.yaml:{line}:{column}: ")


def test_every_defect_is_told_at_once() -> None:
    text = edited("offset: 6'", "offset: six").replace("mount: ceiling", "mount: floor")
    text = text.replace("wall: W1\n    kind", "wall: W9\n    kind").replace("slab: true", "slab: maybe")
    places = ("location L02 › offset", "location L03 › mount", "level 1 › slab", "opening D1 › wall")
    lines = told(text)
    assert len(lines) == len(places)
    for place in places:
        assert sum(f": {place}:" in line for line in lines) == 1
    assert lines == sorted(lines, key=lambda line: int(line.split(":")[1]))


def test_many_defects_are_cut_with_a_count() -> None:
    text = write_job(demo.job("B")).replace("spacing", "spcing").replace("level:", "levl:")
    lines = told(text)
    assert len(lines) == 201
    assert re.fullmatch(r"job\.yaml: and \d+ more; mend these first", lines[-1])


@pytest.mark.parametrize(
    ("data", "line"),
    [
        (b"", "job.yaml:1:1: the file: expected a job, got an empty file"),
        (b"# only a comment\n", "got an empty file"),
        (b"- a\n- b\n", "job.yaml:1:1: the file: expected keys of a job, “schema: 1” first, got a list of 2"),
        (b"schema: 1\n---\nschema: 1\n", "job.yaml:2:1: the file: expected one document, got a second one"),
        (b"schema: 1\nname: caf\xe9\n", "job.yaml:2:10: the file's text: expected UTF-8 text, got byte 0xe9"),
        (b"schema: 1\nname: a\x00b\n", "job.yaml:2:8: the file's text: expected plain text, got the control"),
        (b"a: *b\n", "got an alias, “*b”"),
        (b"? [a]\n: b\n", "expected a word as key, got a list of 0"),
        (b"schema: 1\nname: 'open\n", "the file's YAML: expected YAML that can be read"),
        (b"schema: 1\nwalls: [1, 2\n", "a bracket opened before this place is not closed"),
        (b"[" * 200, "expected at most 24 levels of nesting"),
        (b"a: " + b"[" * 30 + b"]" * 30, "expected at most 24 levels of nesting"),
        (b"x" * (LARGEST_BYTES + 1), "the whole file: expected at most 8,000,000 bytes"),
        (b"name: " + b"x" * 30_000 + b"\n", "expected a text of at most 20,000 letters, got 30,000"),
        (b"schema: 1\nid: " + b"9" * 5000 + b"\n", "id: expected an id of letters"),
    ],
)
def test_what_is_no_job_at_all_is_refused_in_words(data: bytes, line: str, tmp_path: Path) -> None:
    lines = told(data, tmp_path)
    assert any(line in one for one in lines), "\n".join(line[:300] for line in lines)


def test_a_missing_file_is_refused_in_words(tmp_path: Path) -> None:
    with pytest.raises(
        JobFileError, match=r"nowhere\.yaml:1:1: the file: expected a job file, got no such file"
    ):
        read_job(tmp_path / "nowhere.yaml")
    with pytest.raises(JobFileError, match="expected a job file, got is a directory"):
        read_job(tmp_path)


# ---------------------------------------------------------------- mutated files


def _mutated(rng: random.Random, text: str) -> bytes:
    """One plausible or implausible slip in a job file."""
    lines = text.split("\n")
    at = rng.randrange(len(lines))
    way = rng.randrange(16)
    if way == 0:
        del lines[at]
    elif way == 1:
        lines.insert(at, lines[at])
    elif way == 2 and len(lines[at]) > 3:
        spot = rng.randrange(len(lines[at]))
        lines[at] = lines[at][:spot] + rng.choice("abcxyz:-{}[]'\"#,&*!|>%@`\t 0") + lines[at][spot + 1 :]
    elif way in (3, 4, 5) and ":" in lines[at]:
        key, _, _ = lines[at].partition(":")
        odd = [
            "[]",
            "{}",
            "yes",
            "null",
            "-1",
            "1e400",
            ".nan",
            ".inf",
            "9" * 60,
            "9" * 5000,
            "1/0",
            "'",
            '"',
        ]
        odd += [
            "0x7f",
            "2026-11-25",
            "true",
            "[[[[]]]]",
            "{a: {b: c}}",
            "5' 3",
            "1e-320",
            "-0.0",
            "٣",
            "\x85",
            "*x",
        ]
        lines[at] = f"{key}: {rng.choice(odd)}"
    elif way == 6 and ":" in lines[at]:
        key, _, value = lines[at].partition(":")
        spot = rng.randrange(len(key) + 1)
        lines[at] = f"{key[:spot]}{rng.choice('abcdefgh_ ')}{key[spot:]}:{value}"
    elif way == 7:
        return "\n".join(lines)[: rng.randrange(len(text))].encode()
    elif way == 8:
        data = bytearray(text.encode())
        for _ in range(rng.randrange(1, 6)):
            data[rng.randrange(len(data))] = rng.randrange(256)
        return bytes(data)
    elif way == 9:
        deep = rng.randrange(20, 5000)
        lines.insert(at, f"bomb: {'[' * deep}{']' * rng.choice((deep, deep // 2))}")
    elif way == 10:
        lines[at] = "\t" + lines[at]
    elif way == 11:
        lines[at] = " " * rng.randrange(1, 5) + lines[at]
    elif way == 12:
        lines[at] = re.sub(r"\d+", lambda m: str(int(m[0]) * rng.choice((-1, 10**6, 10**30))), lines[at])
    elif way == 13:
        other = rng.randrange(len(lines))
        lines[at], lines[other] = lines[other], lines[at]
    elif way == 14:
        return bytes(rng.randrange(256) for _ in range(rng.randrange(1, 400)))
    else:
        lines[at : at + rng.randrange(1, 30)] = []
    return "\n".join(lines).encode("utf-8", "surrogatepass")


def test_mutated_files_are_read_or_refused_with_a_place(tmp_path: Path) -> None:
    rng = random.Random(20261125)
    path = tmp_path / "job.yaml"
    read = 0
    cases = count(200, 2000)
    for case in range(cases):
        text = (
            STARTER if case % 10 else demo.example_path(rng.choice(demo.HOUSES)).read_text(encoding="utf-8")
        )
        for _ in range(rng.randrange(1, 3)):
            data = _mutated(rng, text)
            text = data.decode("utf-8", "replace")
        path.write_bytes(data)
        try:
            job = read_job(path)
        except JobFileError as error:
            refused = error.defects
            rows = data.count(b"\n") + 2
            for defect in refused:
                assert 1 <= defect.line <= rows, defect
                assert defect.column >= 1
                assert defect.where
                assert defect.expected
                assert defect.got
                shown = str(defect)
                assert shown.isprintable(), repr(shown)
                assert len(shown) < 600, shown
                assert shown.startswith(f"{path}:{defect.line}:{defect.column}: ")
            assert refused
        else:
            read += 1
            assert parse_job(write_job(job)) == job
    # Both answers must really be met: most slips are caught, some are harmless (a comment, a note).
    assert cases * 0.05 < read < cases * 0.5, read


# ---------------------------------------------------------------- the published schema


@pytest.fixture(scope="module")
def validator() -> typing.Any:
    import jsonschema

    schema = job_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


@pytest.mark.parametrize("house", [*demo.HOUSES, "starter"])
def test_examples_follow_the_published_schema(house: str, validator: typing.Any) -> None:
    # Outside check: the jsonschema library, draft 2020-12.
    text = STARTER if house == "starter" else demo.example_path(house).read_text(encoding="utf-8")
    root, defects = compose(text, house)
    assert not defects
    assert [error.message for error in validator.iter_errors(to_plain(root))] == []


def test_written_jobs_follow_the_published_schema(validator: typing.Any) -> None:
    for seed in range(count(10, 100)):
        root, _ = compose(write_job(wild_job(seed)), "wild")
        errors = [f"{error.json_path}: {error.message}" for error in validator.iter_errors(to_plain(root))]
        assert errors == [], seed


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("offset: 6'", "ofset: 6'"),
        ("offset: 6'", "offset: six"),
        ("mount: ceiling", "mount: floor"),
        ("slab: true", "slab: maybe"),
        ("fill_max: 0.4 ", "fill_max: 0.9 "),
        ("schema: 1", "schema: 2"),
        ("    core: 2x4\n", ""),
        ("direction: y", "direction: z"),
        ("cables: 2D 1X", "cables: two"),
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(old: str, new: str, validator: typing.Any) -> None:
    text = edited(old, new)
    assert told(text)
    root, _ = compose(text, "job.yaml")
    assert not validator.is_valid(to_plain(root))


def test_the_schema_is_whole() -> None:
    schema = job_schema()
    assert set(schema["required"]) == {"schema", "id", "name", "revision", "levels", "rooms", "walls"}
    used = set(re.findall(r"#/\$defs/([A-Za-z_]+)", repr(schema)))
    assert used == set(schema["$defs"])
    assert len(JOB.keys) == len(fields(Job))
