"""Heat of the enclosure; each check names where its figure stands."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bayrun.cables.ranges import RangeError, Verdict
from bayrun.enclosure import FlushBox, balance, peukert_minutes, runtime_minutes, vent_m3_h, watts_allowed
from bayrun.enclosure.heat import (
    air_at,
    convection_w_m2k,
    layer_m2k_w,
    nusselt_vertical,
    rayleigh,
    series_u_w_m2k,
)

BOX = FlushBox(0.71 / 0.0254, 0.36 / 0.0254)
M2K_PER_R = 0.17611


def test_churchill_chu_against_an_independent_library() -> None:
    # 147.16185223770603: a heat-transfer library's own documented value for Pr 0.69, Gr 2.63e9 (read and
    # run).
    assert nusselt_vertical(0.69 * 2.63e9, 0.69) == pytest.approx(147.16185223770603, abs=1e-9)


def test_glass_fire_screen() -> None:
    # Incropera/Bergman example 9.2 (from memory): 0.71 m high, 1.02 m wide, 232 C, room 23 C; the book rounds
    # the film to 400 K, so both temperatures are 0.65 C lower here.
    assert rayleigh(231.35, 22.35, 0.71) == pytest.approx(1.813e9, abs=4e6)
    h = convection_w_m2k(231.35, 22.35, 0.71)
    assert h == pytest.approx(7.0, abs=0.05)
    assert h * 0.71 * 1.02 * (232 - 23) == pytest.approx(1060, abs=8)
    # Its properties of air at 400 K (read).
    air = air_at(400)
    assert (air.conductivity, air.viscosity, air.diffusivity, air.prandtl) == (
        0.0338,
        26.41e-6,
        38.3e-6,
        0.69,
    )


def test_layers() -> None:
    # ASHRAE (read): gypsum 0.16 W/mK; 1/2 in is R 0.45 = 0.0792 m2K/W.
    gypsum = layer_m2k_w(0.5, 0.16)
    assert gypsum == pytest.approx(0.0792, abs=2e-4)
    r13 = 13 * M2K_PER_R
    assert layer_m2k_w(89 / 25.4, 0.0389) == pytest.approx(r13, abs=0.003)  # own arithmetic
    assert series_u_w_m2k((0.12, gypsum, r13, gypsum, 0.12)) == pytest.approx(0.372, abs=0.001)


# Own arithmetic of the same balance with other air properties (regression pins), room 25 C.
@pytest.mark.parametrize(
    ("watts", "inside"),
    [(5, 27.79), (10, 30.48), (15, 33.14), (20, 35.76), (30, 40.93), (40, 46.04), (60, 56.09)],
)
def test_flush_box(watts: float, inside: float) -> None:
    told = balance(BOX, watts)
    assert told.inside_c.value == pytest.approx(inside, abs=0.05)
    assert told.front_w + told.back_w == pytest.approx(watts, abs=1e-6)  # nothing is lost


def test_back_and_door_matter() -> None:
    back = replace(BOX, insulated_back=True)
    door = replace(BOX, bright_door=True)
    assert balance(back, 20).inside_c.value == pytest.approx(43.32, abs=0.05)
    assert balance(door, 20).inside_c.value == pytest.approx(38.65, abs=0.05)


def test_verdict_and_allowed_watts() -> None:
    assert balance(BOX, 10).verdict is Verdict.HOLDS
    assert balance(BOX, 28).verdict is Verdict.CANNOT_TELL  # 40 C, a fifth of the rise either way
    assert balance(BOX, 60).verdict is Verdict.FAILS
    allowed = watts_allowed(BOX, 40)
    assert allowed.value == pytest.approx(28, abs=0.5)
    assert balance(BOX, allowed.value).inside_c.value == pytest.approx(40, abs=1e-6)
    assert balance(BOX, 20, behind_c=45).inside_c.value > balance(BOX, 20).inside_c.value
    assert balance(BOX, 0).inside_c.value == pytest.approx(25, abs=1e-6)


def test_air_and_battery() -> None:
    # Own arithmetic (regression pins) of formulas from memory.
    assert vent_m3_h(20, 8).value == pytest.approx(7.55, abs=0.02)
    assert runtime_minutes(12, 9, 60).value == pytest.approx(73.44, abs=0.01)
    assert peukert_minutes(9, 20, 5.88).value == pytest.approx(54.6, abs=0.4)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: balance(BOX, 120), "watts lost inside 0 to 100 W, got 120 W"),
        (
            lambda: balance(FlushBox(14, 12), 60),
            r"0 to .* W \(60 K over the room; split or ventilate\), got 60 W",
        ),
        (lambda: balance(FlushBox(2, 99), 10, 80), "height 6 to 60 in .*width .*; expected the room"),
        (lambda: watts_allowed(BOX, 20), "the gear's limit above 25 and at most 85 C"),
        (lambda: air_at(500), "250 to 450 K"),
        (lambda: vent_m3_h(20, 0), "a rise 1 to 40 K"),
        (lambda: runtime_minutes(3, 9, 0), "volts 6 to 60 V, got 3 V; expected watts drawn 1 to 2000 W"),
        (lambda: peukert_minutes(9, 20, 5, 2), "exponent 1 to 1.4"),
    ],
)
def test_refusals(call, told: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(RangeError, match=told):
        call()


def test_openings_of_the_door_by_hand() -> None:
    from bayrun.enclosure.heat import openings_needed, vent_w

    box = FlushBox(28, 14, vent_in2=10.0)
    # 10 sq in = 0.0064516 m2, openings 0.8 x 28 in = 0.569 m apart, 10 K over 25 C:
    # root(2 x 9.81 x 0.569 x 10 / 308.15) = 0.6019 m/s;
    # x 0.65 x A / root 2 = 1.7847e-3 m3/s; x 1.184 x 1007 x 10 = 21.3 W.
    assert vent_w(box, 35.0, 25.0) == pytest.approx(21.28, abs=0.05)
    assert vent_w(FlushBox(28, 14), 35.0, 25.0) == 0.0
    assert vent_w(box, 25.0, 25.0) == 0.0
    # Four times the opening, four times the heat.
    assert vent_w(FlushBox(28, 14, vent_in2=40.0), 35.0, 25.0) == pytest.approx(4 * vent_w(box, 35.0, 25.0))
    closed, aired = balance(FlushBox(28, 14), 40.0), balance(box, 40.0)
    assert aired.inside_c.value < closed.inside_c.value - 5
    assert aired.front_w + aired.back_w + aired.vent_w == pytest.approx(40.0, abs=1e-6)
    area = openings_needed(FlushBox(28, 14), 40.0)
    assert area is not None
    assert balance(FlushBox(28, 14, vent_in2=area), 40.0).verdict is Verdict.HOLDS
