"""Changing the adopted edition changes the verdicts that differ between the books, and no other."""

from __future__ import annotations

from dataclasses import replace

import pytest
from benches import (
    BOX,
    FEED,
    JOB,
    WALL,
    Bench,
    data_run,
    flat,
    joist,
    joist_hole,
    plate_hole,
    stud_hole,
    upright,
)

from bayrun.findings import Finding, Severity
from bayrun.house import Level

IRC, NEC = ("2018", "2021", "2024"), ("2017", "2020", "2023")


def busy() -> Bench:
    """A plan that leans on many clauses: holes of every kind, a feed far from its staples, a basement."""
    studs = [upright(i, 16.0 * i) for i in range(1, 5)]
    top, beam = flat("top"), joist()
    feed = replace(
        FEED, staple_from_box_in=10.0, clamped=False, tail_in=4.0, gfci=False, afci=None, barrier=False
    )
    box = replace(BOX, ac_feed=feed, room="Store", level="B")
    basement = replace(WALL, id="W2", level="B")
    job = replace(
        JOB,
        levels=(*JOB.levels, Level("B", -110.0, 98.0)),
        walls=(WALL, basement),
        enclosures=(replace(box, wall="W2"),),
        facts=replace(JOB.facts, bonding_length_in=288.0),
    )
    bench = Bench(job, [*studs, top, beam], plates=(), straps=(), seals=())
    bench.holes = [
        stud_hole("H1", studs[0], 1.0),
        stud_hole("H2", studs[1], 1.25),
        stud_hole("H3", studs[2], 1.5),
        stud_hole("H4", studs[3], 1.0, across_in=0.9),
        plate_hole("H5", top, 2.0),
        joist_hole("H6", beam, 3.25),
    ]
    bench.runs = [data_run("R1", (20, 1.0, 10), (20, 1.0, 80)), data_run("R2", (0, 0, 0), (3600, 0, 0))]
    return bench


def told(irc: str, nec: str) -> dict[str, Finding]:
    """Every finding by these books."""
    bench = busy()
    practice = replace(bench.job.practice, editions=(("IRC", irc), ("NEC", nec)))
    return {f.id: f for f in replace(bench, job=replace(bench.job, practice=practice)).findings()}


def verdicts(found: dict[str, Finding]) -> dict[str, Severity]:
    """Finding to severity."""
    return {name: f.severity for name, f in found.items()}


def test_the_plan_leans_on_many_clauses() -> None:
    rules = {f.rule for f in told("2021", "2020").values()}
    assert len(rules) >= 14


@pytest.mark.parametrize("irc", ["2018"])
def test_irc_2018_and_2021_say_the_same(irc: str) -> None:
    assert verdicts(told(irc, "2020")) == verdicts(told("2021", "2020"))


def test_irc_2024_only_asks_to_verify() -> None:
    # No page of the 2024 book was read: every stop stays a stop, and the clauses leaned on are to verify.
    now, new = verdicts(told("2021", "2020")), verdicts(told("2024", "2020"))
    assert {name: new[name] for name in now} == now
    assert set(new) - set(now) == {"clause-to-verify:stud-bore", "clause-to-verify:joist-bore"}
    assert all(new[name] is Severity.CANNOT_TELL for name in set(new) - set(now))


def test_nec_2017_changes_the_basement_and_calls_plates_our_practice() -> None:
    # 2017 asks ground-fault protection of unfinished basements alone; 300.4(A) is not cited for low voltage.
    now, old = told("2021", "2020"), told("2021", "2017")
    assert set(now) == set(old)
    changed = {name for name in now if now[name].severity is not old[name].severity}
    steel = {name for name in now if name.startswith("nail-plate:")}
    assert changed == {"ac-receptacle-gfci-afci:E1+receptacle-gfci"} | steel
    assert old["ac-receptacle-gfci-afci:E1+receptacle-gfci"].severity is Severity.CANNOT_TELL
    assert steel
    assert all(now[name].severity is Severity.STOP for name in steel)
    assert all(old[name].severity is Severity.FIX_SOON for name in steel)


def test_nec_2023_changes_numbers_only() -> None:
    now, new = told("2021", "2020"), told("2021", "2023")
    assert verdicts(now) == verdicts(new)
    assert {n: f.says for n, f in now.items()} == {n: f.says for n, f in new.items()}
    clauses = {
        (str(a.source.clause), str(b.source.clause))
        for a, b in ((now[n], new[n]) for n in now)
        if a.source and b.source and a.source.clause != b.source.clause
    }
    assert clauses == {
        ("314.17(C) Ex", "314.17(B)(1) Ex"),
        ("725.136(A)", "725.136"),
        ("210.12(A)", "210.12(B)"),
    }


@pytest.mark.parametrize("nec", NEC)
@pytest.mark.parametrize("irc", IRC)
def test_no_edition_turns_a_life_safety_stop_into_a_pass(irc: str, nec: str) -> None:
    stops = {n for n, f in told("2021", "2020").items() if f.severity is Severity.STOP}
    bad = (Severity.STOP, Severity.CANNOT_TELL)
    found = told(irc, nec)
    # The one that differs: steel over bored holes, which 2017 does not ask of low voltage (told as practice).
    softer = {n for n in stops if nec == "2017" and n.startswith("nail-plate:")}
    assert all(found[name].severity in bad for name in stops - softer)
    assert softer <= set(found)
