"""Coax and fiber against printed values; each block names where its figures stand."""

from __future__ import annotations

import pytest

from bayrun.cables.coax import (
    CoaxPath,
    attenuation_db,
    dbm,
    dbmv,
    ideal_split_db,
    level_plan,
    path_loss_db,
    services,
    splitter_loss_db,
    upstream_dbmv,
)
from bayrun.cables.optical import FiberLink, budget, channel_loss_db, loss_db, power_budget_db
from bayrun.cables.ranges import M_PER_FT, RangeError, Verdict

FT = 1 / M_PER_FT


# Published RG-6 points (read): an antenna maker's table at 55 to 2150 MHz, and 1125 MHz in a budget example.
@pytest.mark.parametrize(
    ("mhz", "db"),
    [(55, 1.5), (213, 3.0), (473, 4.5), (695, 5.6), (950, 6.4), (1125, 6.95), (2150, 9.7)],
)
def test_rg6_against_published_points(mhz: float, db: float) -> None:
    figure = attenuation_db("RG-6", mhz)
    assert figure.plus_minus is not None
    assert abs(figure.value - db) <= figure.plus_minus
    assert figure.value == pytest.approx(db, rel=0.07)


def test_rg6_close_points() -> None:
    assert attenuation_db("RG-6", 1125).value == pytest.approx(6.95, abs=0.1)  # read, budget example
    assert attenuation_db("RG-6", 750).value == pytest.approx(5.65, abs=0.12)  # from memory
    # Published 3.0 dB at 213 MHz (read).
    assert attenuation_db("RG-6", 213).value == pytest.approx(3.0, abs=0.1)


def test_table_never_turns_back() -> None:
    for kind in ("RG-6", "RG-59", "RG-11"):
        told = [attenuation_db(kind, mhz).value for mhz in range(5, 3001, 35)]
        assert told == sorted(told)


def test_split_and_units() -> None:
    # Own arithmetic: 3.01 + 4.77 + 6.02 + 9.03; 0 dBmV in 75 ohm; a satellite level.
    assert sum(map(ideal_split_db, (2, 3, 4, 8))) == pytest.approx(22.83, abs=0.01)
    assert dbm(0) == pytest.approx(-48.75, abs=0.005)
    assert dbmv(-65) == pytest.approx(-16.25, abs=0.01)
    # Nominal losses (read) are never under the ideal.
    for ways in (2, 4, 8):
        assert splitter_loss_db(str(ways), 500).value > ideal_split_db(ways)


def test_two_way_loss_at_1125_mhz() -> None:
    # 4.1 dB read in a budget example.
    assert splitter_loss_db("2", 1125).value == pytest.approx(4.1, abs=0.2)


def test_level_of_a_modem() -> None:
    # Own arithmetic: +10 dBmV, two-way 3.5 + 0.75, 100 ft RG-6 at 750 MHz.
    loss = path_loss_db(CoaxPath((("RG-6", 100),), ("2",), 0, 0), 750)
    assert 10 - loss.value == pytest.approx(0.85 - 0.75, abs=0.12)


def test_level_plan_low_and_high() -> None:
    far = CoaxPath((("RG-6", 100),), ("2", "4"), 6, 1)
    told = level_plan(far, "cable modem", 8)
    assert [at.mhz for at in told.levels] == [55, 1000]
    assert told.tilt_db > 4
    assert told.verdict is Verdict.HOLDS
    assert level_plan(far, "cable modem", -2, gain_db=0).verdict is Verdict.FAILS
    assert level_plan(far, "cable modem", 4.5).verdict is Verdict.CANNOT_TELL  # -14.9 ± 2.3 dBmV
    assert level_plan(far, "cable modem", -2, gain_db=15).verdict is Verdict.HOLDS
    assert level_plan(CoaxPath((("RG-6", 10),)), "cable modem", 25).verdict is Verdict.FAILS  # too hot


def test_every_part_counts() -> None:
    bare = path_loss_db(CoaxPath((("RG-6", 100),), (), 0, 0), 500)
    assert bare.value == pytest.approx(4.66)  # the row of the table
    with_parts = path_loss_db(CoaxPath((("RG-6", 60), ("RG-6", 40)), ("4",), 4, 1), 500)
    assert with_parts.value == pytest.approx(4.66 + 7.0 + 4 * 0.15 + 0.2)
    hot = attenuation_db("RG-6", 500, celsius=60)
    assert hot.value == pytest.approx(4.66 * (1 + 40 * 0.0018))  # about 0.1 % a degree F, from memory


def test_upstream() -> None:
    # 58 dBmV at most, read.
    assert upstream_dbmv(CoaxPath((("RG-6", 100),), ("2",)), 40).verdict is Verdict.HOLDS
    assert upstream_dbmv(CoaxPath((("RG-6", 100),), ("8", "4")), 45).verdict is Verdict.FAILS


def test_services_are_told() -> None:
    assert services() == ("cable modem", "antenna", "satellite")


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (
            lambda: attenuation_db("RG-6", 4),
            r"a frequency 5 to 3000 MHz \(the attenuation table\), got 4 MHz",
        ),
        (lambda: attenuation_db("RG-58", 100), "one of RG-6, RG-59, RG-11, got RG-58"),
        (lambda: splitter_loss_db("2", 1500), r"5 to 1125 MHz .*splitter's sheet"),
        (lambda: splitter_loss_db("5", 100), "a splitter to be one of 2, 3, 3 low, 3 high, 4, 8, got 5"),
        (lambda: level_plan(CoaxPath((("RG-6", 20),), ("2",)), "satellite", 0), "5 to 1125 MHz"),
        (lambda: level_plan(CoaxPath(()), "telegraph", 99), "a service to be one of .*; expected the level"),
        (lambda: loss_db(FiberLink(10), "OM3", 1550), r"a wavelength \[nm\] of OM3 to be one of 850, 1300"),
        (lambda: loss_db(FiberLink(-1), "OM9", 850), "a fiber to be one of .*; expected a length of fiber"),
        (lambda: channel_loss_db("GPON B+"), "one of 10GBASE-SR OM3, 10GBASE-SR OM4, got GPON"),
        (lambda: budget(FiberLink(10), "x"), "an application to be one of"),
    ],
)
def test_refusals(call, told: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(RangeError, match=told):
        call()


def test_om3_of_100_m() -> None:
    assert loss_db(FiberLink(100 * FT), "OM3", 850).value == pytest.approx(1.8, abs=1e-9)  # own arithmetic
    assert loss_db(FiberLink(50 * FT), "OS2 inside", 1310).value == pytest.approx(1.55, abs=1e-9)


def test_splices_and_splitter_count() -> None:
    told = loss_db(FiberLink(100 * FT, 2, 2, 4, 0.5, 1.0), "OM3", 850)
    assert told.value == pytest.approx(1.8 + 2 * 0.3 + ideal_split_db(4) + 0.5 + 1.0)


def test_10gbase_sr() -> None:
    # IEEE 802.3 channel loss: 2.9 dB for 400 m of OM4 (read in a published table); OM3 2.6 from memory.
    # The standard reckons 3.5 dB/km and 1.5 dB of connections; the cabling standard 3.0 dB/km: room to spare.
    assert channel_loss_db("10GBASE-SR OM4").value == pytest.approx(2.9, abs=1e-9)
    assert channel_loss_db("10GBASE-SR OM3").value == pytest.approx(2.55, abs=1e-9)
    told = budget(FiberLink(400 * FT), "10GBASE-SR OM4")
    assert told.loss_db.value == pytest.approx(2.7, abs=1e-9)
    assert told.loss_db.value + told.left_db.value == pytest.approx(2.9, abs=1e-9)
    assert told.verdict is Verdict.HOLDS
    assert budget(FiberLink(401 * FT), "10GBASE-SR OM4").verdict is Verdict.FAILS
    assert budget(FiberLink(300 * FT, 3), "10GBASE-SR OM3").verdict is Verdict.FAILS


def test_gpon_class_b_plus() -> None:
    # G.984.2: +1.5 dBm sent, -27 received, 0.5 penalty (memory) make the printed 28 dB.
    assert power_budget_db(1.5, -27, 0.5).value == pytest.approx(28, abs=1e-9)
    # Own arithmetic: a typical 1:32 of 17 dB, two pairs of 0.5 and 10 km at 0.35 leave 6.5; here with 0.75
    # and 0.5.
    told = budget(FiberLink(10_000 * FT, 2, 0, 32, 17 - ideal_split_db(32)), "GPON B+")
    assert told.left_db.value == pytest.approx(6.5 - 0.5 - 1.5, abs=1e-9)
    assert told.verdict is Verdict.HOLDS
    near = budget(FiberLink(30, 2), "GPON B+")
    assert near.verdict is Verdict.FAILS
    assert "13 dB at least are asked" in near.reason
