"""Rules of ports, power, signal and radio: each found on a made fault, each fix takes its finding away.

Outside values: class powers and their least volts (IEEE 802.3, read), NEC 2017 Table 725.144 (read), the heat
rule of TIA-568-C.2 6.4.7 (read), the DOCSIS window (read), Ohm's law by hand.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from bayrun.findings import Finding, Fix, Severity
from bayrun.framing import Frame
from bayrun.house import CableKind, Gear, Job, Obstacle
from bayrun.house.edits import Refused, apply
from bayrun.jobs import plan
from bayrun.rules import bundle_power, coax_window, gear_budget, radio_dark, run_signal
from bayrun.rules.cable_runs import check_length
from bayrun.rules.case import Case, lay_open
from bayrun.wiring import Wiring
from demo import job as demo_job


@cache
def planned() -> tuple[Job, Frame, Wiring]:
    """House A as it stands: five devices are fed over data cable, nobody says by what."""
    job = demo_job("A")
    made = plan(job)
    return job, made.frame, made.wiring


def case(job: Job | None = None, wiring: Wiring | None = None) -> Case:
    base, frame, ways = planned()
    return lay_open(base if job is None else job, frame, ways if wiring is None else wiring)


def with_gear(job: Job, *gear: Gear) -> Job:
    return replace(job, gear=(*job.gear, *gear))


def with_kind(job: Job, letter: str, **changes: Any) -> Job:
    cables = tuple(replace(k, **changes) if k.letter == letter else k for k in job.practice.cables)
    return replace(job, practice=replace(job.practice, cables=cables))


def longer(wiring: Wiring, run_id: str, add_in: float) -> Wiring:
    """The plan with more slack on one run."""
    runs = tuple(replace(r, slack_to_in=r.slack_to_in + add_in) if r.id == run_id else r for r in wiring.runs)
    return replace(wiring, runs=runs)


def only(findings: tuple[Finding, ...], rule: str) -> list[Finding]:
    return [f for f in findings if f.rule == rule]


# Ports -----------------------------------------------------------------------------------------------------


def test_a_field_with_fewer_ports_than_data_runs_is_told_and_a_larger_one_cures_it() -> None:
    job, _, _ = planned()
    # By counting: 24 data runs end on the field of house A, which says 24 ports.
    assert only(gear_budget.check_ports(case()), "port-budget") == []
    small = replace(job, gear=tuple(replace(g, ports=16) if g.id == "PATCH" else g for g in job.gear))
    (found,) = gear_budget.check_ports(case(small))
    data = sum(1 for r in job.runs if r.kind == "D" and r.gear == "PATCH")
    assert found.measured == data
    assert found.limit == 16
    assert found.severity is Severity.FIX_SOON
    cured = apply(small, found.fixes[0])
    assert gear_budget.check_ports(case(cured)) == ()


def test_a_device_without_its_data_cable_is_told_and_gets_one() -> None:
    job, _, _ = planned()
    bare = replace(
        job,
        locations=tuple(replace(q, ports=()) if q.id == "A15" else q for q in job.locations),
        runs=tuple(r for r in job.runs if "A15" not in (r.from_end.id, r.to_end.id)),
    )
    (found,) = gear_budget.check_ports(case(bare))
    assert found.about == ("A15",)
    assert "camera" in found.says
    cured = apply(bare, found.fixes[0])
    assert only(gear_budget.check_ports(case(cured)), "port-budget") == []
    assert any(r.to_end.id == "A15" for r in cured.runs)


# Power -----------------------------------------------------------------------------------------------------


def test_nobody_said_what_feeds_is_cannot_tell_and_a_switch_cures_it() -> None:
    (found,) = gear_budget.check_supply(case())
    assert found.rule == "switch-budget"
    assert found.severity is Severity.CANNOT_TELL
    # One access point of class 4 (30 W) and three cameras and a door station of class 3 (15.4 W each) reserve
    # 91.6 W at start-up: the printed class powers.
    assert found.limit == pytest.approx(30 + 4 * 15.4, abs=0.01)
    cured = apply(planned()[0], found.fixes[0])
    assert gear_budget.check_supply(case(cured)) == ()


@pytest.mark.parametrize(
    ("watts", "severity"),
    # 67 W run, a fifth kept free needs 84 W; start-up may reserve 91.6 W.
    [(65.0, Severity.FIX_SOON), (90.0, Severity.NOTE), (95.0, None)],
)
def test_a_supply_is_held_with_a_fifth_free_and_start_up(watts: float, severity: Severity | None) -> None:
    job = with_gear(planned()[0], Gear("SWITCH", "network switch", True, ports=24, supply_w=watts))
    found = gear_budget.check_supply(case(job))
    assert [f.severity for f in found] == ([] if severity is None else [severity])
    for finding in found:
        assert gear_budget.check_supply(case(apply(job, finding.fixes[0]))) == ()


def test_a_device_that_takes_more_than_its_cable_brings_is_told() -> None:
    job, _, _ = planned()
    hungry = tuple(replace(q, device_w=80.0) if q.id == "A03" else q for q in job.locations)
    (found,) = run_signal.check_feed(case(replace(job, locations=hungry)))
    # Class 8 is promised 71.3 W.
    assert found.rule == "power-at-device"
    assert "71.3 W" in found.says
    assert found.severity is Severity.FIX_SOON
    assert run_signal.check_feed(case()) == ()


def bundle_of(count: int, watts: float, attic_f: float, **kind: Any) -> tuple[Job, Wiring]:
    """House A with so many of its data runs in one hole that opens into the attic, all fed."""
    job, _, wiring = planned()
    fed = tuple(replace(q, device="camera", device_w=watts) for q in job.locations)
    facts = replace(job.facts, attic_f=attic_f)
    job = with_kind(replace(job, locations=fed, facts=facts), "D", **kind)
    data = [r for r in wiring.runs if r.kind == "D"]
    more = [replace(data[n % len(data)], id=f"Z{n}") for n in range(max(0, count - len(data)))]
    grown = [*data[:count], *more]
    top = next(h for h in wiring.holes if h.axis == "up" and h.z > 90)
    hole = replace(top, occupants=tuple(r.id for r in grown), circles=())
    return job, replace(wiring, runs=(*wiring.runs, *more), holes=(hole,))


def test_a_bundle_over_the_printed_amperes_is_a_stop_and_a_higher_rating_cures_it() -> None:
    # NEC 2017 Table 725.144, 24 AWG rated 60 C, 20 to 37 cables: 0.6 A; 51 to 55 C around: x 0.41 = 0.246 A,
    # under the 0.433 A of class 8. Rated 75 C: 0.7 x 0.67 = 0.469 A is enough.
    job, wiring = bundle_of(24, 70.0, 130.0)
    (found,) = bundle_power.check(case(job, wiring))
    assert found.rule == "bundle-heat"
    assert found.severity is Severity.STOP
    assert found.measured == pytest.approx(0.433, abs=0.001)
    assert found.limit == pytest.approx(0.246, abs=0.001)
    cured = apply(job, found.fixes[0])
    assert "75" in found.fixes[0].says
    assert bundle_power.check(case(cured, wiring)) == ()


def test_a_cooler_attic_or_a_smaller_bundle_holds() -> None:
    # 8 to 19 cables: 0.8 A x 0.82 (36 to 40 C) = 0.656 A.
    assert bundle_power.check(case(*bundle_of(12, 70.0, 100.0))) == ()
    # At 60 W and less the table does not bind such cable: cannot tell, never a pass.
    (found,) = bundle_power.check(case(*bundle_of(60, 50.0, 130.0)))
    assert found.severity is Severity.CANNOT_TELL


# Signal ----------------------------------------------------------------------------------------------------


def test_a_run_within_90_m_but_too_long_for_its_heat_is_told_and_fiber_cures_it() -> None:
    job, _, wiring = planned()
    fiber = CableKind("F", "fiber OM3 duplex", 0.19, listing="OFNR", rating_c=75)
    job = replace(job, practice=replace(job.practice, cables=(*job.practice.cables, fiber)))
    run = next(r for r in wiring.runs if r.id == "A10-D1")
    long = longer(wiring, run.id, 290 * 12 - run.length_in)
    (found,) = run_signal.check_hot(case(job, long))
    assert found.rule == "run-too-long-hot"
    # At 20 C the limit is 90 m = 295 ft; each degree over 20 C takes 0.4 % (TIA-568-C.2 6.4.7).
    warm = next(s for s in case(job, long).signals if s.run == run.id).celsius.value
    assert 30 < warm < 40
    assert found.limit == pytest.approx(90 / 0.3048 / (1 + 0.004 * (warm - 20)), rel=1e-6)
    cured = apply(job, found.fixes[0])
    kinds = {r.id: r.kind for r in cured.runs}
    again = replace(long, runs=tuple(replace(r, kind=kinds.get(r.id, r.kind)) for r in long.runs))
    assert run_signal.check_hot(case(cured, again)) == ()
    assert cured.location("A10").ports[0].count == 3


def test_a_link_over_90_m_is_offered_fiber_unless_it_feeds_a_device() -> None:
    job, _, wiring = planned()
    fiber = CableKind("F", "fiber OM3 duplex", 0.19, listing="OFNR")
    job = replace(job, practice=replace(job.practice, cables=(*job.practice.cables, fiber)))
    for run_id, offered in (("A10-D1", True), ("A15-D1", False)):
        long = longer(wiring, run_id, 3600.0)
        (found,) = check_length(case(job, long))
        assert bool(found.fixes) is offered


def test_a_loudspeaker_wire_that_is_too_thin_is_told_and_a_thicker_one_cures_it() -> None:
    # 5 % of 8 ohm over 16 AWG at 20 C reaches 49.8 ft one way: 60 ft is too far, 45 ft in the heat is close.
    found = {f.about[0]: f for f in run_signal.check_drop(case())}
    assert found["A05-S2-1"].rule == "wire-too-thin"
    assert found["A05-S2-1"].severity is Severity.FIX_SOON
    job, _, wiring = planned()
    thick = CableKind("W", "speaker 14/4", 0.44, listing="CL3R")
    more = replace(job, practice=replace(job.practice, cables=(*job.practice.cables, thick)))
    offered = {f.about[0]: f for f in run_signal.check_drop(case(more))}
    cured = apply(more, offered["A05-S2-1"].fixes[0])
    kinds = {r.id: r.kind for r in cured.runs}
    assert kinds["A05-S2-1"] == "W"
    again = replace(wiring, runs=tuple(replace(r, kind=kinds[r.id]) for r in wiring.runs))
    assert "A05-S2-1" not in {f.about[0] for f in run_signal.check_drop(case(cured, again))}


def test_a_firm_without_a_thicker_cable_buys_one() -> None:
    job, _, _ = planned()
    found = {f.about[0]: f for f in run_signal.check_drop(case())}
    cured = apply(apply(job, found["A05-S2-1"].fixes[0]), found["A04-S1"].fixes[0])
    names = {k.letter: k for k in cured.practice.cables}
    assert names["S2"].name == "speaker 14/2 second leg"
    # Two gauges are 92^(2/39) = 1.261 times the conductor.
    assert names["S2"].diameter_in == pytest.approx(0.26 * 1.261, abs=0.001)
    assert run_signal.check_drop(case(cured)) == ()


def test_a_hot_cable_over_its_rating_is_told_and_a_better_one_cures_it() -> None:
    job, _, wiring = planned()
    cool = with_kind(job, "X", rating_c=40)
    better = CableKind("Y", "coax series 6 riser", 0.275, listing="CATVR", rating_c=75)
    cool = replace(cool, practice=replace(cool.practice, cables=(*cool.practice.cables, better)))
    found = run_signal.check_place(case(cool))
    assert {f.about[0].split("-")[1][0] for f in found} == {"X"}
    one = found[0]
    assert one.rule == "cable-wrong-for-place"
    cured = apply(cool, one.fixes[0])
    kinds = {r.id: r.kind for r in cured.runs}
    again = replace(wiring, runs=tuple(replace(r, kind=kinds[r.id]) for r in wiring.runs))
    assert one.about not in {f.about for f in run_signal.check_place(case(cured, again))}
    assert run_signal.check_place(case()) == ()


def test_dry_cable_in_the_ground_is_told_and_outdoor_cable_cures_it() -> None:
    job, _, wiring = planned()
    # The service entry through a conduit in the ground.
    wet = tuple(
        replace(q, mount="conduit", note="service conduit in the ground") if q.id == "A20" else q
        for q in job.locations
    )
    outdoor = CableKind("O", "data four-pair outdoor", 0.26, listing="CMX")
    job = replace(job, locations=wet, practice=replace(job.practice, cables=(*job.practice.cables, outdoor)))
    found = {f.about[0]: f for f in run_signal.check_place(case(job))}
    assert set(found) == {"A20-D1", "A20-D2", "A20-X1"}
    cured = apply(job, found["A20-D1"].fixes[0])
    kinds = {r.id: r.kind for r in cured.runs}
    again = replace(wiring, runs=tuple(replace(r, kind=kinds[r.id]) for r in wiring.runs))
    assert "A20-D1" not in {f.about[0] for f in run_signal.check_place(case(cured, again))}


def entry(low: float, high: float | None = None) -> Job:
    job = planned()[0]
    return replace(job, facts=replace(job.facts, coax_low_dbmv=low, coax_high_dbmv=high))


def test_an_entry_nobody_measured_is_cannot_tell_with_the_window_it_must_bring() -> None:
    (found,) = coax_window.check(case())
    assert found.rule == "coax-window"
    assert found.severity is Severity.CANNOT_TELL
    assert "4 to 22 dBmV" in found.says


@pytest.mark.parametrize("low", [-20.0, -3.0, 40.0])
def test_levels_outside_the_window_are_told_and_a_gain_cures_them(low: float) -> None:
    job = entry(low)
    found = coax_window.check(case(job))
    assert found
    assert all(abs(f.limit or 0) == 15.0 for f in found)
    cured = apply(job, found[0].fixes[0])
    assert coax_window.check(case(cured)) == ()


def test_levels_inside_the_window_are_not_told() -> None:
    assert coax_window.check(case(entry(12.0))) == ()


# Radio -----------------------------------------------------------------------------------------------------


def walled(job: Job) -> Job:
    """House A with a metal duct right around the one access point: what lies behind it goes dark."""
    q = job.location("A03")
    x, y = q.x_in or 0.0, q.y_in or 0.0
    rings = [(x - 40, y - 40, x - 38, y + 40), (x + 38, y - 40, x + 40, y + 40)]
    rings += [(x - 40, y - 40, x + 40, y - 38), (x - 40, y + 38, x + 40, y + 40)]
    ducts = [
        Obstacle(f"T{n}{m}", "steel duct", ("1",), rect=r, z_in=(0.0, 97.0))
        for n, r in enumerate(rings)
        for m in range(3)
    ]
    return replace(job, obstacles=(*job.obstacles, *ducts))


def test_dark_rooms_are_told_and_an_access_point_on_their_ceiling_lights_them() -> None:
    assert radio_dark.check_dark(case()) == ()
    job = walled(planned()[0])
    found = radio_dark.check_dark(case(job))
    assert len(found) > 3
    for finding in found[:3]:
        assert finding.rule == "radio-dark-room"
        assert (finding.measured or 0) + 6 < -67
        cured = apply(job, finding.fixes[0])
        assert finding.id not in {f.id for f in radio_dark.check_dark(case(cured))}


def test_the_access_point_of_a_fix_is_planned() -> None:
    job = walled(planned()[0])
    found = radio_dark.check_dark(case(job))[0]
    cured = apply(job, found.fixes[0])
    made = plan(cured)
    new = {r.id for r in cured.runs} - {r.id for r in job.runs}
    assert new <= {r.id for r in made.wiring.runs}
    assert found.id not in {f.id for f in made.findings}


def test_a_house_that_wishes_no_access_point_is_not_called_dark() -> None:
    job = walled(planned()[0])
    none = replace(job, locations=tuple(q for q in job.locations if q.id != "A03"))
    assert radio_dark.check_dark(case(none)) == ()


def test_metal_beside_an_access_point_is_a_note() -> None:
    assert radio_dark.check_metal(case()) == ()
    duct = Obstacle("T9", "supply duct", ("1",), rect=(390.0, 250.0, 400.0, 260.0), z_in=(80.0, 97.0))
    job = planned()[0]
    (found,) = radio_dark.check_metal(case(replace(job, obstacles=(*job.obstacles, duct))))
    assert found.rule == "radio-near-metal"
    assert found.severity is Severity.NOTE
    assert "supply duct" in found.says


# Edits -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("verb", "arguments", "says"),
    [
        ("set_gear", ("PATCH", "ports", 0.0), "expected ports of PATCH above 0"),
        ("set_gear", ("NONE", "ports", 8.0), "gear NONE is not in the job"),
        ("set_gear", ("PATCH", "color", 8.0), "expected ports or supply_w of PATCH, got 'color'"),
        ("add_switch", (0.0, 95.0), "a switch of 1 to 96 ports"),
        ("set_coax_gain", (99.0,), "a gain of -30 to 40 dB, got 99"),
        ("set_cable", ("A10-D1", "Q"), "the firm has no cable 'Q'"),
        ("set_cable", ("Z99", "D"), "run Z99 is not in the job"),
        ("rate_cable", ("D", 61.0), "a rating of 60, 75 or 90 C, got 61"),
        ("set_gauge", ("S", 18.0), "a gauge thicker than 16 AWG"),
        ("set_gauge", ("D", 14.0), "tells no gauge"),
        ("hang_access_point", ("9", 10.0, 10.0, "D"), "level 9 is not in the job"),
        ("hang_access_point", ("1", -999.0, 10.0, "D"), "lies in no room"),
    ],
)
def test_edits_refuse_in_words(verb: str, arguments: tuple[str | float, ...], says: str) -> None:
    with pytest.raises(Refused, match=says.replace("'", ".")):
        apply(planned()[0], Fix(verb, arguments, "made up"))


def test_a_second_gain_takes_the_place_of_the_first_and_zero_takes_it_off() -> None:
    job = planned()[0]
    once = apply(job, Fix("set_coax_gain", (10.0,), "amplifier"))
    twice = apply(once, Fix("set_coax_gain", (-6.0,), "pad"))
    assert [g.what for g in twice.gear if g.what.startswith("coax ")] == ["coax pad 6 dB"]
    assert apply(twice, Fix("set_coax_gain", (0.0,), "none")).gear == job.gear


def test_house_a_opens_only_what_is_really_open() -> None:
    made = case()
    told = (
        *gear_budget.check_ports(made),
        *run_signal.check_feed(made),
        *run_signal.check_hot(made),
        *run_signal.check_place(made),
        *bundle_power.check(made),
        *radio_dark.check_dark(made),
    )
    assert told == ()
