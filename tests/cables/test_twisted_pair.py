"""Four-pair cabling against printed values; each block names where they stand."""

from __future__ import annotations

import pytest

from bayrun.cables.limits_568 import limit_line, limit_lines
from bayrun.cables.ranges import M_PER_FT, RangeError, Verdict
from bayrun.cables.twisted_pair import (
    Link,
    acr_db,
    annex_g_m,
    cable_loss_db,
    connection_loss_db,
    delay_ns,
    insertion_loss_db,
    longest_cords_m,
    longest_horizontal_m,
    loop_ohm,
    report,
    temperature_factor,
    velocity_percent,
)

FT = 1 / M_PER_FT


# TIA-568-C table of category 5e cable as reproduced in a published tutorial (read).
@pytest.mark.parametrize(
    ("mhz", "db"),
    [(1, 2.0), (4, 4.1), (10, 6.5), (16, 8.2), (20, 9.3), (25, 10.4), (31.25, 11.7), (62.5, 17.0)],
)
def test_5e_cable_against_its_printed_table(mhz: float, db: float) -> None:
    assert cable_loss_db("5e", mhz).value == pytest.approx(db, abs=0.051)


# TIA-568-C.2 Table 56, from memory.
@pytest.mark.parametrize(
    ("category", "mhz", "db"),
    [
        *(("6", 1, 2.0), ("6", 16, 7.6), ("6", 100, 19.8), ("6", 250, 32.8)),
        *(("6A", 1, 2.1), ("6A", 16, 7.5), ("6A", 100, 19.1), ("6A", 250, 31.1), ("6A", 500, 45.3)),
    ],
)
def test_6_and_6a_cable_from_memory(category: str, mhz: float, db: float) -> None:
    assert cable_loss_db(category, mhz).value == pytest.approx(db, abs=0.06)


# Read: 24 dB (category 5e channel); 24.01, 21.71, 35.93 dB (ISO classes D and E, a 10GBASE-T paper of 2004);
# 30.1 dB (a comparison table); 39.9, 37.1, 30.2, 23.2, 12.0, 8.0 dB (a published class E table).
READ = [
    ("insertion loss", "5e", "channel", 100, 24.0, 0.06),
    ("insertion loss", "5e", "class D channel", 100, 24.01, 0.02),
    ("insertion loss", "6", "class E channel", 100, 21.71, 0.01),
    ("insertion loss", "6", "class E channel", 250, 35.93, 0.01),
    ("NEXT", "5e", "channel", 100, 30.1, 0.05),
    ("NEXT", "6", "channel", 100, 39.9, 0.05),
    ("NEXT", "6", "channel", 250, 33.1, 0.05),
    ("PSNEXT", "6", "channel", 100, 37.1, 0.05),
    ("PSNEXT", "6", "channel", 250, 30.2, 0.06),
    ("ACR-F", "6", "channel", 100, 23.2, 0.1),
    ("return loss", "6", "channel", 100, 12.0, 1e-9),
    ("return loss", "6", "channel", 250, 8.0, 0.03),
]
# From memory of TIA-568-C.2: consistent, not evidence of the standard.
REMEMBERED = [
    ("insertion loss", "5e", "channel", 16, 9.1, 0.06),
    ("insertion loss", "5e", "permanent link", 100, 21.0, 0.05),
    ("NEXT", "5e", "permanent link", 100, 32.3, 0.05),
    ("NEXT", "6", "permanent link", 100, 41.8, 0.05),
    ("NEXT", "6", "permanent link", 250, 35.3, 0.05),
    ("NEXT", "6A", "channel", 500, 26.1, 0.05),
    ("NEXT", "6", "channel", 1, 65.0, 1e-9),
    ("NEXT", "5e", "channel", 1, 60.0, 1e-9),
    ("PSNEXT", "6", "permanent link", 100, 39.3, 0.05),
    ("ACR-F", "5e", "channel", 100, 17.4, 0.05),
    ("return loss", "5e", "channel", 100, 10.0, 0.03),
    ("return loss", "6A", "channel", 500, 6.0, 1e-9),
]


@pytest.mark.parametrize(("quantity", "category", "link", "mhz", "db", "within"), READ + REMEMBERED)
def test_limit_lines(quantity: str, category: str, link: str, mhz: float, db: float, within: float) -> None:
    line = limit_line(quantity, category, link)
    assert line.at(mhz).value == pytest.approx(db, abs=within)
    assert line.known in line.at(mhz).source


def test_every_line_read_is_marked_so_and_no_other() -> None:
    read = {(quantity, category, link) for quantity, category, link, *_ in READ}
    marked = {(x.quantity, x.category, x.link) for x in limit_lines() if x.known == "confirmed"}
    assert read == marked


def test_fitted_lines_never_give_a_verdict() -> None:
    fitted = [line for line in limit_lines() if line.known == "fitted"]
    assert {(line.quantity, line.category, line.link) for line in fitted} == {
        ("insertion loss", "6", "channel"),
        ("insertion loss", "6", "permanent link"),
        ("insertion loss", "6A", "channel"),
        ("insertion loss", "6A", "permanent link"),
        ("NEXT", "6A", "permanent link"),
    }
    for line in fitted:
        assert {line.judge(db, 100) for db in (0.1, 20, 90)} == {Verdict.CANNOT_TELL}


def test_a_confirmed_line_judges_both_ways() -> None:
    loss, near = limit_line("insertion loss", "5e"), limit_line("NEXT", "6")
    assert [loss.judge(db, 100) for db in (23.9, 24.1)] == [Verdict.HOLDS, Verdict.FAILS]
    assert [near.judge(db, 100) for db in (40.0, 39.8)] == [Verdict.HOLDS, Verdict.FAILS]
    assert loss.judge(23.9, 100, plus_minus_db=0.5) is Verdict.CANNOT_TELL


# Delay 555 and 498 ns at 10 MHz from memory; 580 ns at 1 MHz read. A channel is 100 m and 4 connections.
@pytest.mark.parametrize(
    ("link", "mhz", "ns"),
    [
        (Link("6", 90 * FT, 10 * FT, 4), 10, 555.4),
        (Link("6", 90 * FT, 10 * FT, 4), 1, 580.0),
        (Link("6", 90 * FT, 0, 3), 10, 498.3),
    ],
)
def test_delay(link: Link, mhz: float, ns: float) -> None:
    assert delay_ns(link, mhz).value == pytest.approx(ns, abs=0.1)


def test_velocity_and_acr() -> None:
    assert velocity_percent(100) == pytest.approx(62.05, abs=0.05)  # own arithmetic
    assert acr_db("6", 100).value == pytest.approx(18.6, abs=0.1)  # own arithmetic


# TIA-568-C.2 clause 6.4.7, read: 1.08 at 40 C, 1.08 screened at 60 C (and by its rule 1.20 at 60 C).
@pytest.mark.parametrize(
    ("celsius", "screened", "factor"), [(20, False, 1), (40, False, 1.08), (60, False, 1.2), (60, True, 1.08)]
)
def test_heat_factor(celsius: float, screened: bool, factor: float) -> None:
    assert temperature_factor(celsius, screened=screened).value == pytest.approx(factor, abs=1e-9)


def test_longest_fixed_cable_when_hot() -> None:
    # Annex G prints 79.5 m at 50 C (read) and 75.0 m at 60 C (memory); 90/factor is its safe side.
    assert longest_horizontal_m(50).value == pytest.approx(79.5, abs=0.6)
    assert longest_horizontal_m(60).value == pytest.approx(75.0, abs=1e-9)
    assert annex_g_m(50).value == 79.5
    for celsius in (20, 22, 33, 47, 58, 60):
        assert longest_horizontal_m(celsius).value <= annex_g_m(celsius).value + 1e-9


# From memory of the multi-user outlet formula; its table has 22 m of work-area cord (5 m less) at 70 m.
def test_cords_of_a_multi_user_outlet() -> None:
    assert longest_cords_m(80).value == pytest.approx(18.33, abs=0.01)
    assert longest_cords_m(70).value - 5 == pytest.approx(21.67, abs=0.01)
    assert longest_cords_m(20).value - 5 == 22


def test_run_that_is_a_whole_channel_meets_its_line() -> None:
    # 90 m + 10 m of cords with 4 connections is the channel the confirmed 24 dB stands for.
    run = Link("5e", 90 * FT, 10 * FT, 4)
    assert insertion_loss_db(run, 100).value == pytest.approx(24.0, abs=0.06)
    assert loop_ohm(run).value < 25  # 25 ohm from memory


@pytest.mark.parametrize(
    ("run", "verdict", "words"),
    [
        (Link("6", 150, 16, 2), Verdict.HOLDS, "fixed cable 150 ft of 295 ft"),
        (
            Link("6", 280, 16, 2, 50),
            Verdict.FAILS,
            "fixed cable is 280 ft; at 50 C the heat rule allows 259 ft",
        ),
        (Link("6", 260, 16, 2, 50), Verdict.CANNOT_TELL, "a little more: verify"),
        (Link("6", 150, 60, 2), Verdict.CANNOT_TELL, "cords are 60 ft"),
        (Link("6A", 300, 20, 2), Verdict.FAILS, "allows 295 ft"),
    ],
)
def test_reports(run: Link, verdict: Verdict, words: str) -> None:
    told = report(run)
    assert told.verdict is verdict
    assert words in " ".join(told.reasons)


def test_connecting_hardware() -> None:
    # A published table of connecting hardware (read): 0.1 to 0.4 dB for 5e, 0.2 dB at 100 MHz for 6.
    assert connection_loss_db("5e", 1) == 0.1
    assert connection_loss_db("5e", 100) == pytest.approx(0.4)
    assert connection_loss_db("6", 100) == pytest.approx(0.2)


def test_long_thin_cords_fail_by_their_loss_and_their_ohms() -> None:
    lossy = report(Link("6", 160, 160, 4, 20, False, 26))
    assert lossy.verdict is Verdict.FAILS
    assert "ISO/IEC 11801 class E channel allows 35.9 dB" in " ".join(lossy.reasons)
    assert "loop may reach 26.6 ohm" in " ".join(report(Link("6A", 30, 290, 2, 20, False, 26)).reasons)


def test_6a_loss_is_judged_by_the_class_e_line_to_250_mhz_and_never_by_the_fitted_one() -> None:
    losses = report(Link("6A", 100, 10)).losses
    assert [at.mhz for at in losses] == [1.0, 16.0, 100.0, 250.0, 500.0]
    for at in losses[:4]:
        # 35.9 dB at 250 MHz, read; a 6A channel must be at least as good as class E.
        assert at.limit.document == "ISO/IEC 11801 class E channel"
        assert at.verdict is Verdict.HOLDS
    assert losses[3].limit_db.value == pytest.approx(35.9, abs=0.05)
    assert losses[4].verdict is Verdict.CANNOT_TELL


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: cable_loss_db("5e", 250), r"a frequency 1 to 100 MHz \(category 5e\), got 250 MHz"),
        (lambda: cable_loss_db("7", 250), r"a category to be one of 5e, 6, 6A, got 7"),
        (lambda: limit_line("NEXT", "6").at(0.5), r"1 to 250 MHz"),
        (lambda: limit_line("NEXT", "6", "cable"), r"there are: NEXT 5e channel, NEXT 5e permanent link"),
        (lambda: temperature_factor(70), r"20 to 60 C"),
        (lambda: report(Link("6", 320, 20)), r"fixed cable and cords 0 to 328.084 ft"),
        (lambda: report(Link("6", 100, 0, 5)), r"connections 0 to 4"),
        (lambda: report(Link("6", 100, 10, 2, 20, False, 28)), r"cords of 24 or 26 AWG, got 28"),
        (lambda: longest_cords_m(95), r"0 and at most 90 m"),
    ],
)
def test_refusals(call, told: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(RangeError, match=told):
        call()
