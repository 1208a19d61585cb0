"""Wall and path loss. Values of kind L were computed by two independent libraries (a thin-film matrix
library for
all cases, cascaded transmission lines for those square on) with the P.2040-3 constants; the printed
figures stand
here, the libraries are not needed. Pins of own arithmetic say so."""

from __future__ import annotations

import cmath
import math

import pytest

from bayrun.cables.ranges import RangeError
from bayrun.radio import (
    averaged_loss_db,
    free_space_db,
    home_loss_db,
    ready_stack,
    site_loss_db,
    stack_loss_db,
)
from bayrun.radio.slab import (
    IN_PER_M,
    LIGHT_M_PER_S,
    Layer,
    Polarization,
    conductivity_s_per_m,
    permittivity,
    ready_stacks,
    sheet_absorption_db,
    skin_depth_um,
    slot_shielding_db,
    with_cavity,
)

BOARD = (("plasterboard", 12.5),)
WALL = (("plasterboard", 12.5), ("air", 89.0), ("plasterboard", 12.5))


def mm(*layers: tuple[str, float]) -> tuple[Layer, ...]:
    return tuple(Layer(material, thickness / 25.4) for material, thickness in layers)


# Kind L.
@pytest.mark.parametrize(
    ("layers", "ghz", "degrees", "polarization", "db"),
    [
        (BOARD, 2.4, 0, "TE", 1.0717),
        (BOARD, 5.25, 0, "TE", 1.0866),
        (BOARD, 6.5, 0, "TE", 0.7583),
        (WALL, 2.4, 0, "TE", 2.5902),
        (WALL, 5.25, 0, "TE", 2.6955),
        (WALL, 6.5, 0, "TE", 1.4466),
        ((("brick", 102),), 2.4, 0, "TE", 3.2897),
        ((("brick", 102),), 5.25, 0, "TE", 3.1366),
        ((("concrete", 200),), 2.4, 0, "TE", 14.5711),
        ((("concrete", 200),), 5.25, 0, "TE", 25.5740),
        ((("wood", 38),), 2.4, 0, "TE", 0.6218),
        ((("wood", 89),), 5.25, 0, "TE", 3.2383),
        ((("glass", 4),), 5.25, 0, "TE", 2.8542),
        ((("chipboard", 18),), 5.25, 0, "TE", 1.5962),
        (BOARD, 5.25, 60, "TE", 4.0198),
        (BOARD, 5.25, 60, "TM", 0.5899),
        (WALL, 5.25, 45, "TE", 5.9899),
    ],
)
def test_against_independent_libraries(
    layers: tuple[tuple[str, float], ...], ghz: float, degrees: float, polarization: Polarization, db: float
) -> None:
    assert stack_loss_db(mm(*layers), ghz, degrees, polarization).value == pytest.approx(db, abs=0.001)


def airy_db(material: str, thickness_mm: float, ghz: float, degrees: float, polarization: str) -> float:
    """One slab by the closed form of P.2040 section 2.2, a second way."""
    eta, angle = permittivity(material, ghz), math.radians(degrees)
    s = cmath.sqrt(eta - math.sin(angle) ** 2)
    q = 2 * math.pi * ghz * 1e9 / LIGHT_M_PER_S * thickness_mm / 1000 * s
    c = math.cos(angle)
    r = (c - s) / (c + s) if polarization == "TE" else (eta * c - s) / (eta * c + s)
    t = (1 - r**2) * cmath.exp(-1j * q) / (1 - r**2 * cmath.exp(-2j * q))
    return -20 * math.log10(abs(t))


@pytest.mark.parametrize("material", ["brick", "glass", "plasterboard", "concrete", "wood"])
@pytest.mark.parametrize("polarization", ["TE", "TM"])
@pytest.mark.parametrize("degrees", [0.0, 37.0, 80.0])
def test_matrix_equals_the_closed_form(material: str, polarization: Polarization, degrees: float) -> None:
    for ghz in (1.3, 2.45, 5.9, 7.1):
        told = stack_loss_db(mm((material, 47.0)), ghz, degrees, polarization).value
        assert told == pytest.approx(airy_db(material, 47.0, ghz, degrees, polarization), abs=1e-9)


def test_layers_split_or_turned_round_lose_the_same() -> None:
    whole = mm(("brick", 90), ("air", 25), ("chipboard", 11))
    split = mm(("brick", 40), ("brick", 50), ("air", 25), ("chipboard", 11))
    value = stack_loss_db(whole, 5.5, 30, "TM").value
    assert stack_loss_db(split, 5.5, 30, "TM").value == pytest.approx(value, abs=1e-9)
    assert stack_loss_db(whole[::-1], 5.5, 30, "TM").value == pytest.approx(value, abs=1e-9)
    assert stack_loss_db(mm(("air", 100)), 5.5, 30).value == pytest.approx(0, abs=1e-9)


def test_average_lies_inside_the_swing_of_the_cavity() -> None:
    # Own arithmetic: cavities of 60 to 120 mm move 2.4 GHz between 0.63 and 3.43 dB, mean 2.04.
    exact = [stack_loss_db(with_cavity(mm(*WALL), width / 25.4), 2.4).value for width in range(60, 121)]
    assert min(exact) == pytest.approx(0.63, abs=0.02)
    assert max(exact) == pytest.approx(3.43, abs=0.02)
    mean = averaged_loss_db(mm(*WALL), 2.4)
    assert mean.value == pytest.approx(2.04, abs=0.15)
    assert mean.plus_minus is not None
    assert mean.value + mean.plus_minus >= max(exact) - 0.01
    # The average does not care how wide the cavity is.
    assert averaged_loss_db(with_cavity(mm(*WALL), 4.1), 2.4).value == pytest.approx(mean.value, abs=1e-6)
    # Without a cavity, square on, it is the exact loss.
    assert averaged_loss_db(mm(*BOARD), 5.25).value == pytest.approx(1.0866, abs=0.001)


def test_ready_stacks_all_work() -> None:
    for name, says in ready_stacks():
        for ghz in (2.45, 5.25, 6.5):
            assert 0 < averaged_loss_db(ready_stack(name), ghz).value < 60, says


def test_metal_neither_overflows_nor_vanishes() -> None:
    # Own arithmetic: 0.8 mm absorbs 2138.7 dB at 2.4 GHz; the reflection on top is what the stack adds.
    sheet = sheet_absorption_db(0.8, 2.4).value
    assert sheet == pytest.approx(2138.7, abs=2)
    stack = stack_loss_db(mm(("metal", 0.8)), 2.4).value
    assert sheet < stack < sheet + 120
    assert math.isfinite(stack_loss_db(mm(("metal", 25)), 6).value)


def test_constants() -> None:
    # Own arithmetic of P.2040's constants, and definitions.
    assert -permittivity("plasterboard", 2.4).imag == pytest.approx(0.1449056, abs=5e-4)
    assert conductivity_s_per_m("plasterboard", 2.4) == pytest.approx(0.01935, abs=2e-5)
    assert skin_depth_um(2.4) == pytest.approx(3.249, abs=0.002)
    assert slot_shielding_db(20, 2.4).value == pytest.approx(9.89, abs=0.01)
    assert pytest.approx(39.3701, abs=1e-4) == IN_PER_M


def test_path_loss() -> None:
    # Definitions and the recommendations' formulas by hand: own arithmetic.
    assert free_space_db(1, 2.45).value == pytest.approx(40.23, abs=0.01)
    assert free_space_db(10, 5.25).value == pytest.approx(66.85, abs=0.01)
    assert home_loss_db(10, 2.4).value == pytest.approx(67.60, abs=0.01)
    assert home_loss_db(10, 2.4, 1).value == pytest.approx(72.60, abs=0.01)
    assert home_loss_db(10, 5.2).value == pytest.approx(74.32, abs=0.01)
    assert site_loss_db(10, 5.25, "office, out of sight").value == pytest.approx(71.27, abs=0.02)
    # In sight it is near free space, which is why f is in GHz there (56.9 dB read for 2.4 GHz, 10 m).
    assert site_loss_db(10, 2.4, "office, in sight").value == pytest.approx(56.9, abs=0.1)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (
            lambda: stack_loss_db(mm(("floorboard", 19)), 5.25),
            r"a frequency for floorboard 50 to 100 GHz \(stated range of ITU-R P.2040\), got 5.25 GHz",
        ),
        (lambda: stack_loss_db((), 5.25, 89), "0 to 85 degrees, got 89 degrees; expected at least one layer"),
        (lambda: stack_loss_db((Layer("straw", 1),), 5.25), "a material to be one of concrete"),
        (lambda: stack_loss_db((Layer("brick", -1),), 60), "brick above 0.*; expected a frequency"),
        (lambda: averaged_loss_db((Layer("air", 1),) * 4, 5), "at most 3 cavities, got 4"),
        (lambda: ready_stack("hedge"), "a wall to be one of drywall partition"),
        (lambda: home_loss_db(10, 6.1), r"2.4 to 2.5, 5.15 to 5.35 GHz \(ITU-R P.1238-10 has no other"),
        (lambda: home_loss_db(0.5, 2.4, 9), r"a distance 3.28084 to 328.084 ft .*; expected floors"),
        (lambda: site_loss_db(10, 5, "house"), "has no homes"),
        (lambda: site_loss_db(40, 5, "office, out of sight"), "a distance 13.1234 to 98.4252 ft"),
        (lambda: slot_shielding_db(70, 2.4), "half a wavelength; longer shields nothing"),
    ],
)
def test_refusals(call, told: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(RangeError, match=told):
        call()
