"""Power and signal of runs as they lie, by hand from published figures; ports and devices by counting.

Wire: ASTM B258 and IACS copper (checked in tests/cables); here the sums over a whole plan are done again with
plain arithmetic from the printed constants.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest

from bayrun.cables.ranges import Verdict
from bayrun.house import CableKind, Gear, Job, Location
from bayrun.jobs import Plan, plan
from bayrun.jobs.signal_sheets import signal_sheets
from bayrun.wiring import Run
from bayrun.wiring.devices import (
    awg_of,
    category_of,
    coax_of,
    conductors_of,
    device_at,
    device_keys,
    four_pair,
    is_fiber,
    load_words,
)
from bayrun.wiring.gear_ports import gear_ports, place_ports, ports_said
from bayrun.wiring.signals import RunSignal, coax_gain_db, run_signals, supply
from bayrun.wiring.warmth import attic_c, attic_share, run_celsius
from demo import job as demo_job

IACS_OHM_M, ALPHA = 1.7241e-8, 0.00393


@cache
def planned() -> Plan:
    return plan(demo_job("A"))


@cache
def signals() -> dict[str, RunSignal]:
    made = planned()
    return {s.run: s for s in run_signals(made.job, made.wiring)}


def ohm_per_ft(awg: int, celsius: float) -> float:
    """By ASTM B258 and IACS, written out again."""
    d_m = 0.127e-3 * 92 ** ((36 - awg) / 39)
    return IACS_OHM_M / (math.pi / 4 * d_m**2) * 0.3048 * (1 + ALPHA * (celsius - 20))


def test_every_run_of_the_plan_is_there_once() -> None:
    assert list(signals()) == [r.id for r in planned().wiring.runs]


def test_a_run_over_a_house_on_slab_is_as_warm_as_its_share_in_the_attic() -> None:
    # House A has one level under a truss roof: every inch over the plates (97-1/8 in) is attic, 130 F.
    job, wiring = planned().job, planned().wiring
    for run in wiring.runs:
        over = sum(
            math.dist((a.x, a.y, a.z), (b.x, b.y, b.z))
            for a, b in pairwise(run.path)
            if (a.z + b.z) / 2 >= 97.125 - 1e-6
        )
        assert attic_share(job, run) == pytest.approx(over / run.length_in, abs=1e-9)
        expected = 30 + (over / run.length_in) * (54.4 - 30)
        assert run_celsius(job, run).value == pytest.approx(expected, abs=1e-9)


def test_the_job_s_own_attic_goes_before_the_usual_one() -> None:
    job = planned().job
    hot = replace(job, facts=replace(job.facts, attic_f=149.0))
    assert attic_c(hot) == pytest.approx(65.0)
    run = planned().wiring.run("A16-D1")
    assert run_celsius(hot, run).value > run_celsius(job, run).value + 5


def test_floors_between_levels_are_no_attic() -> None:
    house = demo_job("B")
    made = plan(house)
    below = [r for r in made.wiring.runs if r.to_end.id in ("B08", "B10", "B14")]
    assert below
    assert all(attic_share(house, r) == 0 for r in below)


def test_a_camera_s_volts_by_hand() -> None:
    # Class 3: 44 V at the least, two pairs of 24 AWG: the loop is r x length; constant power.
    signal, run = signals()["A16-D1"], planned().wiring.run("A16-D1")
    feet = run.length_in / 12 + 20
    loop = ohm_per_ft(24, signal.celsius.value) * feet
    volts = (44 + math.sqrt(44**2 - 4 * loop * 12)) / 2
    assert signal.feed is not None
    assert signal.feed.device_v.value == pytest.approx(volts, rel=1e-3)
    assert signal.feed.available_w.value == pytest.approx(15.4 - (15.4 / 44) ** 2 * loop, rel=1e-3)
    assert signal.verdict is Verdict.HOLDS


def test_a_shade_s_drop_by_hand() -> None:
    # 24 V, 24 W twofold at start, 16 AWG stranded (2-1/2 % longer): constant power.
    signal, run = signals()["A21-H1"], planned().wiring.run("A21-H1")
    loop = 2 * ohm_per_ft(16, signal.celsius.value) * 1.025 * run.length_in / 12
    volts = (24 + math.sqrt(24**2 - 4 * loop * 48)) / 2
    assert signal.drop is not None
    assert signal.drop.load_v.value == pytest.approx(volts, rel=2e-3)
    assert signal.drop.drop_percent.value == pytest.approx(100 * (24 - volts) / 24, rel=2e-2)


def test_a_second_loudspeaker_counts_the_way_from_the_amplifier() -> None:
    wiring = planned().wiring
    whole_ft = (wiring.run("A04-S1").length_in + wiring.run("A05-S2-1").length_in) / 12
    signal = signals()["A05-S2-1"]
    assert signal.length_ft == pytest.approx(whole_ft)
    assert signal.speaker is not None
    loop = 2 * ohm_per_ft(16, signal.celsius.value) * 1.025 * whole_ft
    assert signal.speaker.level_db.value == pytest.approx(20 * math.log10(8 / (8 + loop)), abs=0.01)
    assert signal.verdict is Verdict.FAILS


def test_coax_adds_up_entry_splitter_and_run() -> None:
    # RG-6 1.60 dB a 100 ft at 55 MHz, +0.18 % a degree; 3-way 5.5; four connectors 0.15; a barrel 0.2.
    wiring, signal = planned().wiring, signals()["A07-X1"]
    entry, run = wiring.run("A20-X1"), wiring.run("A07-X1")
    feet = (entry.length_in + run.length_in) / 12
    warm = sum(run_celsius(planned().job, r).value * r.length_in for r in (entry, run)) / (feet * 12)
    expected = 1.60 * feet / 100 * (1 + 0.0018 * (warm - 20)) + 5.5 + 4 * 0.15 + 0.2
    assert signal.coax is not None
    assert signal.coax.splitter == "3"
    assert signal.coax.low_db.value == pytest.approx(expected, abs=1e-6)
    assert signal.coax.plan is None
    least, most = signal.coax.entry_dbmv
    # -15 + the greater loss with its doubt, +15 + the lesser one without.
    assert least == pytest.approx(-15 + signal.coax.high_db.value + (signal.coax.high_db.plus_minus or 0))
    assert most == pytest.approx(15 + signal.coax.low_db.value - (signal.coax.low_db.plus_minus or 0))


def test_measured_levels_give_a_verdict_and_an_amplifier_moves_them() -> None:
    job, wiring = planned().job, planned().wiring
    told = replace(job, facts=replace(job.facts, coax_low_dbmv=0.0, coax_high_dbmv=-4.0))
    plain = {s.run: s for s in run_signals(told, wiring)}["A07-X1"]
    amplified = replace(told, gear=(*told.gear, Gear("AMP", "coax amplifier 15 dB", True)))
    assert coax_gain_db(amplified) == 15.0
    louder = {s.run: s for s in run_signals(amplified, wiring)}["A07-X1"]
    assert plain.coax is not None
    assert louder.coax is not None
    assert plain.coax.plan is not None
    assert louder.coax.plan is not None
    assert plain.coax.plan.verdict is Verdict.FAILS
    assert louder.coax.plan.verdict is Verdict.HOLDS
    for before, after in zip(plain.coax.plan.levels, louder.coax.plan.levels, strict=True):
        assert after.level_dbmv.value == pytest.approx(before.level_dbmv.value + 15)


def test_the_supply_counts_running_and_reserved_watts() -> None:
    found = supply(planned().job, tuple(signals().values()))
    assert sorted(run for run, _ in found.loads) == ["A03-D1", "A12-D1", "A15-D1", "A16-D1", "A17-D1"]
    assert found.budget is None
    fed = replace(planned().job, gear=(*planned().job.gear, Gear("SW", "switch", True, supply_w=95.0)))
    budget = supply(fed, tuple(signals().values())).budget
    assert budget is not None
    assert budget.starting_w.value == pytest.approx(30 + 4 * 15.4)
    assert budget.verdict is Verdict.HOLDS


def test_one_device_on_two_cables_is_fed_once() -> None:
    house = demo_job("B")
    made = plan(house)
    fed = [s.run for s in run_signals(house, made.wiring) if s.location == "B03" and s.feed is not None]
    assert len(fed) == 1


def test_runs_outside_a_formula_say_so_and_are_never_passed() -> None:
    made = planned()
    long = tuple(
        replace(r, slack_to_in=9000.0) if r.id in ("A10-D1", "A16-D1", "A13-K1") else r
        for r in made.wiring.runs
    )
    told = {s.run: s for s in run_signals(made.job, replace(made.wiring, runs=long))}
    for run in ("A10-D1", "A16-D1", "A13-K1"):
        assert told[run].verdict is Verdict.CANNOT_TELL
        assert "expected" in told[run].told


@pytest.mark.parametrize(
    ("name", "awg", "conductors", "use"),
    [
        ("speaker 16/4", 16, 4, "speaker"),
        ("bell pair 18/2", 18, 2, "bell"),
        ("keypad 22/4", 22, 4, "alarm"),
        ("shade 14/2", 14, 2, "shade"),
        ("contact 22/2", 22, 2, ""),
        ("data four-pair", 24, None, ""),
        ("data four-pair 23 AWG", 23, None, ""),
        ("thermostat", None, None, ""),
    ],
)
def test_a_cable_s_name_tells_its_wire(name: str, awg: int | None, conductors: int | None, use: str) -> None:
    kind = CableKind("Q", name, 0.2)
    assert (awg_of(kind), conductors_of(kind), load_words(kind)) == (awg, conductors, use)


def test_a_cable_s_name_tells_its_category_and_coax() -> None:
    told = [
        category_of(CableKind("D", f"data four-pair {text}", 0.2)) for text in ("", "cat 6", "category 6A")
    ]
    assert told == ["5e", "6", "6A"]
    assert [coax_of(CableKind("X", n, 0.2)) for n in ("coax series 6", "coax RG-11", "coax", "shade")] == [
        "RG-6", "RG-11", "RG-6", "",
    ]  # fmt: skip
    assert four_pair(CableKind("D", "data four-pair", 0.2))
    assert is_fiber(CableKind("F", "fiber OM3", 0.2))


def place(note: str = "", **more: object) -> Location:
    return Location("L1", "Hall", "1", "wall", 14.0, note=note, **more)  # type: ignore[arg-type]


def test_a_device_is_what_the_job_says_else_what_the_note_reads() -> None:
    assert device_at(place("camera, front right")).key == "camera"
    assert device_at(place("cameras")).key == "camera"
    assert device_at(place("camera", device="access point")).key == "access point"
    assert device_at(place("kitchen desk nook")).key == "desk"
    assert device_at(place("night stand")).key == ""
    assert "access point" in device_keys()
    hungry = device_at(place("camera", device_w=40.0))
    # 40 W is the promise of class 5.
    assert (hungry.cable_w, hungry.cable_class, hungry.said) == (40.0, 5, True)
    assert device_at(place("camera", device_w=0.0)).cable_class == 0


def test_ports_are_counted() -> None:
    job = planned().job
    held = {g.gear.id: g for g in gear_ports(job)}
    data = sum(1 for r in job.runs if r.kind == "D" and r.gear == "PATCH")
    assert (held["PATCH"].ports, len(held["PATCH"].runs), held["PATCH"].free) == (24, data, 24 - data)
    assert held["BELL"].ports is None
    assert held["BELL"].free is None
    assert ports_said(Gear("P", "patch field, 24 ports", True, ports=12)) == 12
    told = {p.location.id: p for p in place_ports(job)}
    assert (told["A03"].gets, told["A03"].data, told["A03"].short) == ("1D", 1, 0)
    assert not told["A14"].to_enclosure
    assert "air handler" in told["A14"].goes_to
    assert told["A01"].to_enclosure


@pytest.mark.parametrize("house", ["A", "B", "C"])
def test_the_sheets_hold_every_run_location_and_room(house: str) -> None:
    made = plan(demo_job(house))
    power, ports, radio = signal_sheets(made)
    assert {r.id for r in made.wiring.runs} <= {row.cells[0] for row in power.rows}
    assert {q.id for q in made.job.locations} <= {row.cells[0] for row in ports.rows}
    assert [row.cells[0] for row in radio.rows] == [
        room.name for level in made.job.levels for room in made.job.rooms if room.level == level.id
    ]
    assert "±" in radio.note
    assert "at least" in power.note


def test_a_verdict_that_is_not_plain_is_told_with_its_reason() -> None:
    power = signal_sheets(planned())[0]
    for row in power.rows:
        if row.cells[-1] in ("FAILS", "cannot tell") and row.cells[0] != "A05-S2-1":
            assert row.detail, row.cells
    assert "14 AWG" in next(row.detail for row in power.rows if row.cells[0] == "A05-S2-1")


def test_a_house_without_runs_has_sheets_without_rows() -> None:
    job: Job = replace(demo_job("A"), runs=(), locations=())
    power, ports, _ = signal_sheets(plan(job))
    assert power.rows == ()
    assert ports.rows == ()
    assert isinstance(planned().wiring.runs[0], Run)
