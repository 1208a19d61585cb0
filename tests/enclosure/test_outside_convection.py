"""Convection at the door held against ht, a general heat-transfer library, and its printed worked example."""

from __future__ import annotations

import pytest

from bayrun.enclosure.heat import air_at, convection_w_m2k, nusselt_vertical, rayleigh

ht = pytest.importorskip("ht", reason="ht is not installed: ./check brings it")


@pytest.mark.parametrize("prandtl", [0.69, 0.705, 0.71, 7.0])
@pytest.mark.parametrize("grashof", [1e3, 1e5, 1e7, 2.63e9, 1e11])
def test_the_plate_agrees_with_the_library(prandtl: float, grashof: float) -> None:
    ours = nusselt_vertical(grashof * prandtl, prandtl)
    assert ours == pytest.approx(ht.Nu_vertical_plate_Churchill(prandtl, grashof), rel=1e-9)


def test_the_worked_example_of_the_library() -> None:
    # Bergman, Incropera: Pr 0.69, Gr 2.63e9 gives Nu 147.16.
    assert nusselt_vertical(0.69 * 2.63e9, 0.69) == pytest.approx(147.16185223770603, rel=1e-9)


@pytest.mark.parametrize(
    ("surface_c", "air_c", "height_m"), [(35.0, 25.0, 0.71), (50.0, 20.0, 0.36), (30.0, 29.0, 1.2)]
)
def test_the_film_of_a_door_is_the_library_s_number_with_our_air(
    surface_c: float, air_c: float, height_m: float
) -> None:
    air = air_at((surface_c + air_c) / 2 + 273.15)
    grashof = rayleigh(surface_c, air_c, height_m) / air.prandtl
    expected = ht.Nu_vertical_plate_Churchill(air.prandtl, grashof) * air.conductivity / height_m
    assert convection_w_m2k(surface_c, air_c, height_m) == pytest.approx(expected, rel=1e-9)


def test_our_air_is_that_of_the_tables() -> None:
    # Air at 300 K, Bergman and Incropera Table A.4: k 0.0263 W/mK, Pr 0.707 (from memory).
    air = air_at(300.0)
    assert air.conductivity == pytest.approx(0.0263, rel=0.02)
    assert air.prandtl == pytest.approx(0.707, rel=0.02)
