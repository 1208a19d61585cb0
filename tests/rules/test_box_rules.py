"""Findings of the enclosure's inside: each is told, each fix makes it go away. Sums by hand beside.

The slugs: "box-full", "gear-too-deep", "gear-by-hand", "gear-unknown", "box-heat", "knockout-full",
"slack-room", "box-outlets", "box-positions".
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent / "enclosure"))

from benches import Bench
from boxes import KNOCKOUTS, PATCH, gear, job_with, wiring_of

from bayrun.findings import Finding, Fix, Severity
from bayrun.house import Job, Knockout, Port
from bayrun.house.edits import apply


def told(job: Job, slug: str, **facts: Any) -> tuple[Finding, ...]:
    wiring = wiring_of(job, **facts)
    bench = Bench(job, runs=list(wiring.runs), planned=list(wiring.holes), holes=list(wiring.holes))
    return bench.of(slug)


def sized(name: str, width_in: float, height_in: float, depth_in: float = 1.0, **facts: Any) -> Any:
    return gear(name, name.lower(), width_in=width_in, height_in=height_in, depth_in=depth_in, **facts)


def fixed(job: Job, finding: Finding, verb: str) -> Job:
    (fix,) = (f for f in finding.fixes if f.verb == verb)
    return apply(job, fix, by="lead")


def test_a_quiet_box_says_nothing() -> None:
    job = job_with(PATCH, runs=8)
    for slug in ("box-full", "gear-too-deep", "gear-by-hand", "gear-unknown", "box-heat", "knockout-full"):
        assert told(job, slug) == (), slug
    for slug in ("slack-room", "box-outlets", "box-positions"):
        assert told(job, slug) == (), slug


def test_too_much_gear_takes_the_next_size_or_goes_out() -> None:
    # 11 + 1 + 11 + 1 + 3 and 1-7/16 at the entries: 28.42 in, over the 27-3/4 inside.
    job = job_with(PATCH, sized("BOARD", 12.0, 11.0), sized("BLOCK", 12.0, 11.0), runs=2)
    (finding,) = told(job, "box-full")
    assert finding.severity is Severity.FIX_SOON
    assert "No place in the enclosure for" in finding.says
    assert finding.measured is not None
    assert finding.limit == 27.75
    assert finding.measured > 27.75
    bigger = fixed(job, finding, "resize_enclosure")
    assert bigger.enclosures[0].height_in == 36.0
    assert told(bigger, "box-full") == ()
    out = fixed(job, finding, "move_gear_out")
    assert not out.gear_of("BLOCK").in_enclosure
    assert told(out, "box-full") == ()


def test_a_taller_box_that_does_not_stand_in_the_wall_is_not_offered() -> None:
    job = job_with(PATCH, sized("BOARD", 12.0, 11.0), sized("BLOCK", 12.0, 11.0), runs=2, center_aff_in=17.0)
    (finding,) = told(job, "box-full")
    assert [f.verb for f in finding.fixes] == ["move_gear_out"]


def test_gear_too_deep_goes_out() -> None:
    job = job_with(PATCH, sized("RECORDER", 8.0, 6.0, 3.5), runs=2)
    (finding,) = told(job, "gear-too-deep")
    assert (finding.measured, finding.limit) == (3.75, 3.625)
    assert told(fixed(job, finding, "move_gear_out"), "gear-too-deep") == ()
    assert told(job_with(PATCH, sized("RECORDER", 8.0, 6.0, 3.375), runs=2), "gear-too-deep") == ()


def test_a_hand_place_that_conflicts_is_told_and_mended_both_ways() -> None:
    job = job_with(PATCH, sized("HUB", 4.0, 4.0), runs=2)
    placed = apply(
        apply(job, Fix("place_gear", ("HUB", 2.0, 10.0), "")), Fix("place_gear", ("P", 3.0, 12.0), "")
    )
    (finding,) = told(placed, "gear-by-hand")
    assert "placed by hand, lies on" in finding.says
    assert finding.about == ("E1", "HUB", "P")
    moved = fixed(placed, finding, "place_gear")
    assert told(moved, "gear-by-hand") == ()
    assert any(c.about == "HUB" for c in moved.choices)
    freed = fixed(placed, finding, "free_gear")
    assert told(freed, "gear-by-hand") == ()
    assert [c.about for c in freed.choices] == ["P"]


def test_a_hand_place_that_is_well_says_nothing_and_a_lost_one_is_noted() -> None:
    job = job_with(PATCH, sized("HUB", 4.0, 4.0), runs=2)
    placed = apply(job, Fix("place_gear", ("HUB", 0.5, 10.0), ""))
    assert told(placed, "gear-by-hand") == ()
    lost = replace(placed, gear=placed.gear[:1])
    (finding,) = told(lost, "gear-by-hand")
    assert finding.severity is Severity.NOTE
    assert told(fixed(lost, finding, "free_gear"), "gear-by-hand") == ()


def test_unknown_gear_is_cannot_tell() -> None:
    job = job_with(PATCH, gear("Q", "thing from the attic"), sized("Z", 3.0, 3.0), runs=2)
    size, watts = told(job, "gear-unknown")
    assert size.severity is watts.severity is Severity.CANNOT_TELL
    assert "thing from the attic" in size.says
    assert "nobody said its watts" in watts.says
    assert told(job_with(PATCH, sized("Z", 3.0, 3.0, watts=0.0), runs=2), "gear-unknown") == ()


def test_a_warm_box_takes_openings_or_sends_gear_out() -> None:
    # 40 W warm a flush box of 28 x 14 in to 46 C in a room of 25 C (energy balance, own arithmetic).
    job = job_with(PATCH, sized("ROUTER", 6.0, 6.0, watts=40.0), runs=2)
    (finding,) = told(job, "box-heat")
    assert finding.severity is Severity.FIX_SOON
    assert finding.measured == pytest.approx(46.0 * 1.8 + 32, abs=1.0)
    assert finding.limit == 104.0
    vented = fixed(job, finding, "vent_door")
    assert vented.enclosures[0].door_vent_in2 > 0
    assert told(vented, "box-heat") == ()
    assert told(fixed(job, finding, "move_gear_out"), "box-heat") == ()


def test_heat_near_the_limit_is_cannot_tell_and_little_is_nothing() -> None:
    (finding,) = told(job_with(PATCH, sized("R", 6.0, 6.0, watts=28.0), runs=2), "box-heat")
    assert finding.severity is Severity.CANNOT_TELL
    assert told(job_with(PATCH, sized("R", 6.0, 6.0, watts=20.0), runs=2), "box-heat") == ()
    # Watts that somebody said are not called the usual ones.
    router = gear("T", "router with radio", watts=28.0)
    assert "usual ones" not in told(job_with(PATCH, router, runs=2), "box-heat")[0].says
    guessed = told(
        job_with(PATCH, gear("T", "router with radio"), gear("U", "alarm board"), runs=2), "box-heat"
    )
    assert "The watts of router, alarm board are the usual ones" in guessed[0].says
    # Watts that leave by the cables do not warm the box.
    poe = sized("R", 6.0, 6.0, watts=90.0, heat_w=15.0)
    assert told(job_with(PATCH, poe, runs=2), "box-heat") == ()


def test_heat_beyond_the_balance_is_told_with_its_watts() -> None:
    job = job_with(PATCH, sized("R", 6.0, 6.0, watts=95.0), runs=2)
    finding = told(job, "box-heat")[0]
    assert finding.severity is Severity.FIX_SOON
    assert "95 W" in finding.says


def test_full_knockouts_take_one_more() -> None:
    # Two of 1-1/2 trade size and one of 3/4 take at most 24 + 24 + 6 of 0.23 in by 40 %: 60 are too many.
    job = job_with(replace(PATCH, positions=(Port("D", 60),)), runs=60)
    findings = told(job, "knockout-full")
    assert findings
    assert "the firm fills 40.0 %" in findings[0].says
    assert findings[0].measured is not None
    assert findings[0].measured > 0.4
    none_free = [f.verb for f in findings[0].fixes]
    assert none_free in ([], ["add_knockout"])
    roomy = replace(job, enclosures=(replace(job.enclosures[0], knockouts=(Knockout("top", 3.5, 1.984),)),))
    finding = told(roomy, "knockout-full")[0]
    # One more of 2 in trade size takes 0.4 x 5.21 / 0.0529 = 39 beside the 24.
    assert [f.verb for f in finding.fixes] == ["add_knockout"]
    # From the hole at 3-1/2: (1.984 + 2.469) / 2 and 1/4 of metal is 2.4765, so 6 is the first eighth.
    assert finding.fixes[0].arguments == ("E1", "top", 6.0, 2.469)
    assert told(apply(roomy, finding.fixes[0]), "knockout-full") == ()


def test_an_edge_without_knockouts() -> None:
    job = job_with(PATCH, runs=4, knockouts=(KNOCKOUTS[3],))
    (finding,) = told(job, "knockout-full")
    assert finding.severity is Severity.FIX_SOON
    assert told(fixed(job, finding, "add_knockout"), "knockout-full") == ()
    (unsaid,) = told(job_with(PATCH, runs=4, knockouts=()), "knockout-full")
    assert unsaid.severity is Severity.CANNOT_TELL
    assert told(job_with(PATCH, runs=4, knockouts=()), "knockout-full")[0].fixes


def test_slack_that_does_not_go_in() -> None:
    job = job_with(replace(PATCH, positions=(Port("D", 120),)), runs=120)
    (finding,) = told(job, "slack-room")
    assert finding.severity is Severity.FIX_SOON
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured > finding.limit
    (fix,) = finding.fixes
    less = apply(job, fix)
    cut_in = 36.0 - less.practice.slack.enclosure_in
    assert told(less, "slack-room", slack_in=71.0 - cut_in) == ()


def test_plugs_without_outlets_are_asked_of_the_electrician() -> None:
    job = job_with(PATCH, *(sized(f"G{n}", 3.0, 3.0, watts=2.0, plug_in=2.0) for n in range(3)), runs=2)
    (finding,) = told(job, "box-outlets")
    # Three plugs of 2 in on outlets 1-1/2 in apart: 2/1.5 is two outlets from each to the next, five in all.
    assert (finding.measured, finding.limit) == (5.0, 2.0)
    (fix,) = finding.fixes
    assert fix.request_to == "electrician"
    assert told(apply(job, fix), "box-outlets")
    answered = apply(job, Fix("answer", ("E1", "5 outlets in the enclosure"), ""), by="the electrician")
    assert told(answered, "box-outlets") == ()


def test_runs_without_positions() -> None:
    job = job_with(replace(PATCH, positions=(Port("D", 4),)), runs=6)
    (finding,) = told(job, "box-positions")
    assert "2 runs of cable D find no free position in the enclosure: L1-D5, L1-D6." in finding.says
    assert told(fixed(job, finding, "hang_gear"), "box-positions") == ()


def test_a_box_whose_gear_nobody_named() -> None:
    job = job_with(runs=30, gear_id="")
    (finding,) = told(job, "box-positions")
    assert finding.severity is Severity.CANNOT_TELL
    assert "no gear in the box takes them" in finding.says
    hung = fixed(job, finding, "hang_gear")
    assert [g.what for g in hung.gear] == ["patch field, 36 ports"]
    assert told(hung, "box-positions") == ()
