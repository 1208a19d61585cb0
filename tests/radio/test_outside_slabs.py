"""Slabs and walls held against two independent libraries: tmm (thin films, any angle) and scikit-rf (lines).

The libraries know nothing of ITU-R P.2040: they get its material constants and do their own wave arithmetic.
"""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from bayrun.radio.slab import (
    LIGHT_M_PER_S,
    Layer,
    Polarization,
    averaged_loss_db,
    permittivity,
    ready_stack,
    ready_stacks,
    stack_loss_db,
    with_cavity,
)

tmm = pytest.importorskip("tmm", reason="tmm is not installed: ./check brings it")
skrf = pytest.importorskip("skrf", reason="scikit-rf is not installed: ./check brings it")

MATERIALS = (
    "plasterboard",
    "wood",
    "glass",
    "brick",
    "concrete",
    "chipboard",
    "plywood",
    "ceiling board",
    "air",
)


def by_thin_films(layers: tuple[Layer, ...], ghz: float, degrees: float, polarization: Polarization) -> float:
    """Loss by tmm's coherent transfer matrices [dB]; its sign of time is the other one."""
    index = [1.0, *(complex(np.sqrt(np.conj(permittivity(x.material, ghz)))) for x in layers), 1.0]
    depth = [math.inf, *(x.thickness_in * 0.0254 for x in layers), math.inf]
    pol = "s" if polarization == "TE" else "p"
    told = tmm.coh_tmm(pol, index, depth, math.radians(degrees), LIGHT_M_PER_S / (ghz * 1e9))
    return float(-10 * math.log10(told["T"]))


def by_lines(layers: tuple[Layer, ...], ghz: float) -> float:
    """Loss square on by scikit-rf's cascaded lines between free-space ports [dB]."""
    frequency = skrf.Frequency(ghz, ghz, 1, "ghz")
    free = 376.730313668
    whole = None
    for layer in layers:
        eps = permittivity(layer.material, ghz)
        gamma = 1j * 2 * math.pi * ghz * 1e9 / LIGHT_M_PER_S * np.sqrt(eps)
        medium = skrf.media.DefinedGammaZ0(frequency, z0_port=free, gamma=gamma, z0=free / np.sqrt(eps))
        line = medium.line(layer.thickness_in * 0.0254, unit="m")
        whole = line if whole is None else whole**line
    assert whole is not None
    return float(-20 * math.log10(abs(whole.s[0, 1, 0])))


def throws(count: int) -> list[tuple[tuple[Layer, ...], float]]:
    dice = random.Random(2)
    out = []
    for _ in range(count):
        layers = tuple(
            Layer(dice.choice(MATERIALS), dice.uniform(0.1, 6.0)) for _ in range(dice.randint(1, 5))
        )
        out.append((layers, dice.uniform(1.0, 10.0)))
    return out


@pytest.mark.parametrize(("layers", "ghz"), throws(40))
@pytest.mark.parametrize("polarization", ["TE", "TM"])
def test_random_stacks_agree_with_thin_films_at_any_angle(
    layers: tuple[Layer, ...], ghz: float, polarization: Polarization
) -> None:
    for degrees in (0.0, 20.0, 45.0, 70.0, 84.0):
        ours = stack_loss_db(layers, ghz, degrees, polarization).value
        assert ours == pytest.approx(by_thin_films(layers, ghz, degrees, polarization), abs=1e-6)


@pytest.mark.parametrize(("layers", "ghz"), throws(40))
def test_random_stacks_agree_with_cascaded_lines_square_on(layers: tuple[Layer, ...], ghz: float) -> None:
    assert stack_loss_db(layers, ghz).value == pytest.approx(by_lines(layers, ghz), abs=1e-6)


@pytest.mark.parametrize("name", [name for name, _ in ready_stacks()])
@pytest.mark.parametrize("ghz", [2.45, 5.5, 6.5])
def test_ready_walls_agree_with_both(name: str, ghz: float) -> None:
    layers = ready_stack(name)
    ours = stack_loss_db(layers, ghz).value
    assert ours == pytest.approx(by_thin_films(layers, ghz, 0.0, "TE"), abs=1e-6)
    assert ours == pytest.approx(by_lines(layers, ghz), abs=1e-6)


def test_the_averaged_loss_is_the_mean_power_of_thin_films_over_many_cavities() -> None:
    # Half a wave more or less in the cavity is one period: the mean over 200 widths, both polarizations.
    layers, ghz, degrees = ready_stack("drywall partition"), 5.5, 30.0
    period_in = LIGHT_M_PER_S / (ghz * 1e9) / 2 / math.cos(math.radians(degrees)) / 0.0254
    powers = []
    for step in range(200):
        moved = with_cavity(layers, 3.5 + period_in * step / 200)
        for polarization in ("TE", "TM"):
            powers.append(10 ** (-by_thin_films(moved, ghz, degrees, polarization) / 10))
    expected = -10 * math.log10(sum(powers) / len(powers))
    assert averaged_loss_db(layers, ghz, degrees).value == pytest.approx(expected, abs=0.01)
