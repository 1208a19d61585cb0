"""Local amendments: an overlay with who and why; it changes the verdicts that lean on it, and no other."""

from __future__ import annotations

import sys
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent / "rules"))

from benches import JOB, Bench, flat, joist, joist_hole, plate_hole, stud_hole, upright

from bayrun.house import Practice
from bayrun.limits import Piece, largest_hole_in
from bayrun.tables import (
    Amendment,
    AmendmentError,
    adopt,
    adopt_careful,
    clause_slugs,
    figures_of,
    read_amendments,
)

TIGHTER = """
[[amendment]]
clause = "stud-bore"
name = "edge_in"
value = "3/4"
who = "building department"
date = "2026-01-15"
"""


def refused(text: str) -> str:
    """The message that refuses an overlay."""
    with pytest.raises(AmendmentError) as told:
        read_amendments(text, "town.toml")
    return str(told.value)


def one(**keys: str) -> str:
    """An overlay of one row, whole unless changed; an empty key is left out."""
    row = {
        "clause": "stud-bore",
        "name": "edge_in",
        "value": "3/4",
        "who": "town",
        "date": "2026-01-15",
    } | keys
    return "[[amendment]]\n" + "".join(f'{key} = "{said}"\n' for key, said in row.items() if said)


def test_a_figure_is_changed_and_says_by_whom() -> None:
    (read,) = read_amendments(TIGHTER)
    assert read == Amendment("stud-bore", "edge_in", "3/4", "building department", "2026-01-15")
    clause = adopt((), (read,)).clause("stud-bore")
    assert clause.value("edge_in") == Fraction(3, 4)
    assert clause.value("bearing") == Fraction(2, 5)
    assert clause.amended == ("edge_in 3/4 instead of 5/8 by building department, 2026-01-15",)
    assert str(clause.source) == "IRC 2021 R602.6 as amended here"
    assert adopt().clause("stud-bore").value("edge_in") == Fraction(5, 8)


def test_only_the_clause_it_speaks_of_changes() -> None:
    amended, plain = adopt((), read_amendments(TIGHTER)), adopt()
    assert [a.slug for a, p in zip(amended.clauses, plain.clauses, strict=True) if a != p] == ["stud-bore"]


def test_only_the_verdicts_that_lean_on_it_change() -> None:
    studs = [upright(i, 16.0 * i) for i in range(1, 5)]
    top, beam = flat("top"), joist()
    bench = Bench(JOB, [*studs, top, beam], plates=(), straps=(), seals=())
    bench.holes = [
        stud_hole("H1", studs[0], 1.0, across_in=0.55),  # edge 1.75 - 0.55 - 0.5 = 0.70
        stud_hole("H2", studs[1], 1.0, across_in=0.5),  # edge 0.75, on the new limit
        stud_hole("H3", studs[2], 1.5),  # over 40 % either way
        plate_hole("H4", top, 2.0),
        joist_hole("H5", beam, 3.25),
    ]
    practice = replace(JOB.practice, amendments=read_amendments(TIGHTER))
    before = {f.id: f.severity for f in bench.findings()}
    after = {f.id: f.severity for f in replace(bench, job=replace(JOB, practice=practice)).findings()}
    assert set(after) - set(before) == {"stud-hole-edge:H1+W1/stud-1"}
    assert set(before) <= set(after)
    assert all(after[name] == severity for name, severity in before.items())


def test_a_loosened_figure_is_to_be_verified() -> None:
    text = one(name="bearing", value="1/2", why="ordinance 12-3")
    adopted = adopt((), read_amendments(text))
    stud = Piece("sawn", "stud", 3.5)
    assert largest_hole_in(stud, adopted) == 1.75
    assert adopted.clause("stud-bore").to_verify
    assert not adopt((), read_amendments(TIGHTER)).clause("stud-bore").to_verify


@pytest.mark.parametrize("slug", clause_slugs())
def test_every_figure_says_which_way_is_stricter(slug: str) -> None:
    figures = figures_of(slug)
    assert figures is not None
    for values in figures.values.values():
        assert set(values) == set(figures.stricter), slug
    assert set(figures.stricter.values()) <= {"less", "more"}


@pytest.mark.parametrize(
    ("clause", "name", "value", "loosens"),
    [
        ("stud-bore", "bearing", "0.41", True),
        ("stud-bore", "bearing", "0.39", False),
        ("stud-bore", "bearing", "2/5", False),
        ("stud-bore", "edge_in", "1/2", True),
        ("joist-bore", "edge_in", "2.5", False),
        ("nail-plate", "edge_in", "1", True),
        ("nail-plate", "binds_low_voltage", "0", True),  # 1 in 2020 and 2023
        ("bonding-length", "length_in", "241", True),
        ("bonding-length", "length_in", "120", False),
    ],
)
def test_which_way_loosens(clause: str, name: str, value: str, loosens: bool) -> None:
    text = one(clause=clause, name=name, value=value)
    if not loosens:
        assert not read_amendments(text)[0].loosens()
        return
    told = refused(text)
    assert f"{clause}, {name}: " in told
    assert "loosens a safety rule" in told
    assert "It takes a reason: why =" in told
    assert read_amendments(one(clause=clause, name=name, value=value, why="ordinance"))[0].loosens()


def test_a_rule_that_is_practice_may_be_loosened_without_a_reason() -> None:
    (read,) = read_amendments(one(clause="enclosure-place", name="top_in", value="80"))
    assert read.loosens()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (one(clause="stud-boar"), "no clause is called 'stud-boar'. Did you mean 'stud-bore'?"),
        (one(clause="qqq"), "no clause is called 'qqq'"),
        (
            one(name="edge"),
            "successive_doubled, edge_in, got 'edge'. Did you mean 'edge_in'?",
        ),
        (one(clause="truss-roof", name="share"), "expected nothing: it has no figures, got 'share'"),
        (one(edition="2015"), "edition: expected one of 2018, 2021, 2024, got '2015'"),
        (
            one(clause="fill", name="never_over", value="1/2", edition="2021"),
            "expected none: it has no editions",
        ),
        (one(value="much"), "value: expected a number or a fraction such as \"3/4\", got 'much'"),
        (one(value="1/0"), "value: expected a number or a fraction"),
        (one(value=""), 'value: expected a number or a fraction such as "3/4", got nothing'),
        (one(value="-1", why="x"), "edge_in: expected 0 or more, got -1"),
        (one(name="bearing", value="40", why="x"), "bearing: expected from 0 to 1, got 40"),
        (one(clause="joist-bore", name="share", value="2", why="x"), "share: expected from 0 to 1, got 2"),
        (one(who=""), "who is missing"),
        (one(date=""), "date is missing"),
        (one(date="last year"), "date: expected a day such as 2026-01-15, got 'last year'"),
        (one(date="2026-13-01"), "got '2026-13-01'"),
        (one(reason="x"), "got 'reason'"),
        (one() + one(), "edge_in of stud-bore is amended twice"),
        ("[[amendment]", "town.toml: expected TOML"),
        ("", "town.toml: expected tables named [[amendment]], got nothing"),
        ("amendment = 3", "expected tables named [[amendment]], got something else"),
        ("[[amendments]]\nclause = 'x'", "expected tables named [[amendment]], got amendments"),
        ("[[amendment]]\nclause = 3", "clause: expected text in quotes, got 3"),
    ],
)
def test_bad_overlays_are_refused_in_words(text: str, told: str) -> None:
    assert told in refused(text)


def test_every_defect_is_told_at_once() -> None:
    told = refused(one(clause="stud-boar") + one(name="edge") + one(name="bearing", value="1/2"))
    assert len(told.splitlines()) == 3


def test_a_day_may_be_written_as_tomls_own() -> None:
    text = one(date="").rstrip() + "\ndate = 2026-01-15\n"
    assert read_amendments(text)[0].date == "2026-01-15"


def test_an_amendment_for_another_edition_is_not_in_force() -> None:
    for_2024 = read_amendments(one(edition="2024"))
    assert adopt((("IRC", "2021"),), for_2024) == adopt((("IRC", "2021"),))
    newer = adopt((("IRC", "2024"),), for_2024)
    assert newer.amendments == for_2024
    assert newer.value("stud-bore", "edge_in") == Fraction(3, 4)


def test_one_for_an_edition_goes_before_one_for_all() -> None:
    both = read_amendments(one(edition="2021", value="7/8") + one())
    assert adopt((("IRC", "2021"),), both).value("stud-bore", "edge_in") == Fraction(7, 8)
    assert adopt((("IRC", "2018"),), both).value("stud-bore", "edge_in") == Fraction(3, 4)


def test_a_plan_refuses_amendments_made_past_the_reader() -> None:
    loose = Amendment("stud-bore", "bearing", "1/2", "somebody", "2026-01-15")
    for use in (adopt, adopt_careful):
        with pytest.raises(AmendmentError, match="It takes a reason"):
            use(Practice().editions, (loose,))


def test_amendments_in_a_job_file_are_read_written_and_refused_with_their_line() -> None:
    from bayrun.files.examples import example_file
    from bayrun.files.jobfile import JobFileError, parse_job
    from bayrun.files.jobwrite import write_job

    text = example_file("a").read_text(encoding="utf-8")
    row = "{clause: stud-bore, name: edge_in, value: 3/4, who: town, date: 2026-01-15}"
    with_row = text.replace("practice:\n", f"practice:\n  amendments:\n    - {row}\n")
    job = parse_job(with_row)
    assert job.practice.amendments == read_amendments(one())
    assert parse_job(write_job(job)).practice.amendments == job.practice.amendments
    with pytest.raises(JobFileError) as told:
        parse_job(with_row.replace("3/4", "1/2"))
    assert "loosens a safety rule" in str(told.value)
