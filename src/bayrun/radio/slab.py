"""What a wall or floor takes from a radio signal, from its layers.

Flat endless layers with air on both sides, by characteristic matrices (ITU-R P.2040 section 2.2 gives the
same for
one slab), with the material constants of its Table 3. Waves add up inside, so the loss of a wall swings by
a few
dB with the width of its cavity: a plan uses the loss averaged over the cavities' phases, tests the exact one.

Limits of use: each material only within the frequencies P.2040 states for it, 0 to 85 degrees, no studs,
no wires,
no foil unless it is a layer.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace
from itertools import product
from typing import Any, Literal

from bayrun.cables.ranges import Limit, check_ranges, one_of, refuse
from bayrun.tables.physics import physics_table
from bayrun.units import Figure

LIGHT_M_PER_S = 299_792_458.0
IN_PER_M = 1 / 0.0254
DB_PER_NEPER = 20 / math.log(10)
SIGMA_TO_EPS = 1 / (2 * math.pi * 8.8541878128e-12 * 1e9)
"""1 / (2 pi eps0 1e9) = 17.975; P.2040 prints it as 17.98."""
MU0_H_PER_M = 4e-7 * math.pi
PHASES = 24
"""Steps over the phase of a cavity for the average."""

Polarization = Literal["TE", "TM"]


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a wall or floor.

    Args:
        material: A name of the table, ``air`` for a cavity.
        thickness_in: Its thickness [in].
    """

    material: str
    thickness_in: float


def _material(name: str) -> dict[str, Any]:
    rows: dict[str, dict[str, Any]] = {row["key"]: row for row in physics_table("radio")["material"]}
    return rows[name]


def materials() -> tuple[str, ...]:
    """Names of the materials the table has."""
    return tuple(row["key"] for row in physics_table("radio")["material"])


def _defects(layers: tuple[Layer, ...], ghz: float, degrees: float) -> list[str]:
    rows = {row["key"]: row for row in physics_table("radio")["material"]}
    told = [Limit("an angle from square on", degrees, 0.0, 85.0, "degrees").told()]
    if not layers:
        told.append("expected at least one layer, got none")
    for layer in layers:
        told.append(one_of("a material", layer.material, rows))
        told.append(
            Limit(
                f"the thickness of {layer.material}",
                layer.thickness_in,
                0.0,
                60.0,
                "in",
                "a wall",
                above=True,
            ).told()
        )
        if layer.material in rows:
            told.append(_frequency(rows[layer.material], ghz).told())
    return list(dict.fromkeys(text for text in told if text))


def _frequency(row: dict[str, Any], ghz: float) -> Limit:
    low, high = row["ghz"]
    return Limit(f"a frequency for {row['key']}", ghz, low, high, "GHz", "stated range of ITU-R P.2040")


def conductivity_s_per_m(material: str, ghz: float) -> float:
    """Conductivity [S/m]: c f^d.

    Raises:
        RangeError: No such material, or a frequency outside its stated range.
    """
    wrong = one_of("a material", material, materials())
    refuse([wrong] if wrong else [])
    row = _material(material)
    check_ranges(_frequency(row, ghz))
    return float(row["c"] * ghz ** row["d"])


def permittivity(material: str, ghz: float) -> complex:
    """Relative permittivity: a f^b - j sigma / (2 pi f eps0).

    Raises:
        RangeError: No such material, or a frequency outside its stated range.
    """
    sigma = conductivity_s_per_m(material, ghz)
    row = _material(material)
    return complex(row["a"] * ghz ** row["b"], -SIGMA_TO_EPS * sigma / ghz)


def _transmission(
    slabs: tuple[tuple[complex, float], ...], ghz: float, degrees: float, polarization: Polarization
) -> float:
    """Loss of layers given as (permittivity, thickness [m]) [dB].

    Each matrix is taken out of its own decay exp(-b), which is added up apart: metal neither overflows nor
    vanishes.
    """
    wave = 2 * math.pi * ghz * 1e9 / LIGHT_M_PER_S
    angle = math.radians(degrees)
    cosine, sine2 = math.cos(angle), math.sin(angle) ** 2
    around = cosine if polarization == "TE" else 1 / cosine
    m11, m12, m21, m22 = 1 + 0j, 0j, 0j, 1 + 0j
    nepers = 0.0
    for eta, thickness_m in slabs:
        s = cmath.sqrt(eta - sine2)
        q = wave * thickness_m * s
        decay = max(-q.imag, 0.0)
        forth, back = cmath.exp(1j * q.real), cmath.exp(-1j * q.real - 2 * decay)
        cos_q, sin_q = (forth + back) / 2, (forth - back) / 2j
        y = s if polarization == "TE" else eta / s
        a11, a12, a21, a22 = cos_q, 1j * sin_q / y, 1j * y * sin_q, cos_q
        m11, m12, m21, m22 = (
            m11 * a11 + m12 * a21,
            m11 * a12 + m12 * a22,
            m21 * a11 + m22 * a21,
            m21 * a12 + m22 * a22,
        )
        nepers += decay
    below = around * m11 + around**2 * m12 + m21 + around * m22
    through = 2 * around / below
    return DB_PER_NEPER * nepers - 20 * math.log10(abs(through))


def _slabs(layers: tuple[Layer, ...], ghz: float) -> tuple[tuple[complex, float], ...]:
    return tuple((permittivity(x.material, ghz), x.thickness_in / IN_PER_M) for x in layers)


def _inputs(
    layers: tuple[Layer, ...], ghz: float, degrees: float, polarization: str
) -> tuple[tuple[str, str], ...]:
    return (
        ("layers", " + ".join(f"{x.thickness_in:.4g} in {x.material}" for x in layers)),
        ("frequency", f"{ghz:g} GHz"),
        ("angle", f"{degrees:g} degrees from square on"),
        ("polarization", polarization),
    )


def stack_loss_db(
    layers: tuple[Layer, ...], ghz: float, degrees: float = 0.0, polarization: Polarization = "TE"
) -> Figure:
    """Exact loss of layers at one frequency and angle [dB], waves added up inside.

    Args:
        layers: In order; air on both sides.
        ghz: Frequency; each material has its own range.
        degrees: Angle of incidence from square on, 0 to 85.
        polarization: ``TE`` or ``TM``.
    Raises:
        RangeError: Outside a range; every defect at once.
    """
    refuse(_defects(layers, ghz, degrees))
    value = _transmission(_slabs(layers, ghz), ghz, degrees, polarization)
    return Figure(
        value,
        "dB",
        "characteristic matrices of the layers, loss = -20 log|T|",
        str(physics_table("radio")["materials"]["document"]),
        _inputs(layers, ghz, degrees, polarization),
    )


def averaged_loss_db(layers: tuple[Layer, ...], ghz: float, degrees: float = 0.0) -> Figure:
    """Loss of layers for a plan [dB]: power averaged over the phases of their cavities and over TE and TM.

    Args:
        layers: In order, at most three of air.
        ghz: Frequency; each material has its own range.
        degrees: Angle of incidence, 0 to 85.
    Returns:
        The loss; ``plus_minus`` is the larger swing of the exact loss from it.
    Raises:
        RangeError: Outside a range.
    """
    cavities = [number for number, layer in enumerate(layers) if layer.material == "air"]
    wrong = _defects(layers, ghz, degrees)
    if len(cavities) > 3:
        wrong.append(f"expected at most 3 cavities, got {len(cavities)}")
    refuse(wrong)
    half_wave_m = LIGHT_M_PER_S / (ghz * 1e9) / 2 / math.cos(math.radians(degrees))
    slabs = _slabs(layers, ghz)
    steps = PHASES if len(cavities) < 3 else PHASES // 2
    exact = []
    for shifts in product(range(steps), repeat=len(cavities)):
        moved = list(slabs)
        for number, shift in zip(cavities, shifts, strict=True):
            eta, thickness_m = slabs[number]
            moved[number] = (eta, thickness_m + half_wave_m * shift / steps)
        exact += [
            _transmission(tuple(moved), ghz, degrees, "TE"),
            _transmission(tuple(moved), ghz, degrees, "TM"),
        ]
    least = min(exact)
    mean_power = math.fsum(10 ** (-(loss - least) / 10) for loss in exact) / len(exact)
    value = least - 10 * math.log10(mean_power)
    return Figure(
        value,
        "dB",
        "power through, averaged over the phases of the cavities and over both polarizations",
        str(physics_table("radio")["materials"]["document"]),
        _inputs(layers, ghz, degrees, "both"),
        max(max(exact) - value, value - least),
    )


def ready_stacks() -> tuple[tuple[str, str], ...]:
    """Pairs of name and words of the ready stacks."""
    return tuple((row["key"], row["says"]) for row in physics_table("radio")["stack"])


def ready_stack(name: str) -> tuple[Layer, ...]:
    """Layers of a ready stack.

    Raises:
        RangeError: There is none such.
    """
    rows = {row["key"]: row["layers"] for row in physics_table("radio")["stack"]}
    wrong = one_of("a wall", name, rows)
    refuse([wrong] if wrong else [])
    return tuple(Layer(material, float(thickness_in)) for material, thickness_in in rows[name])


def with_cavity(layers: tuple[Layer, ...], thickness_in: float) -> tuple[Layer, ...]:
    """The same layers with every cavity this thick [in]."""
    return tuple(
        replace(layer, thickness_in=thickness_in) if layer.material == "air" else layer for layer in layers
    )


def skin_depth_um(ghz: float, sigma_s_per_m: float = 1e7) -> float:
    """Depth at which a wave in metal has fallen to 37 % [micrometers].

    Raises:
        RangeError: Not 0.001 to 100 GHz or not a metal.
    """
    check_ranges(
        Limit("a frequency", ghz, 0.001, 100.0, "GHz"),
        Limit("the conductivity of a metal", sigma_s_per_m, 1e6, 1e8, "S/m"),
    )
    return 1e6 / math.sqrt(math.pi * ghz * 1e9 * MU0_H_PER_M * sigma_s_per_m)


def sheet_absorption_db(thickness_mm: float, ghz: float, sigma_s_per_m: float = 1e7) -> Figure:
    """What a metal sheet absorbs [dB]: a closed box is opaque, only its seams and slots leak.

    Raises:
        RangeError: Outside a range.
    """
    check_ranges(Limit("a sheet", thickness_mm, 0.0, 10.0, "mm", above=True))
    depth_um = skin_depth_um(ghz, sigma_s_per_m)
    return Figure(
        DB_PER_NEPER * thickness_mm * 1000 / depth_um,
        "dB",
        "8.686 x thickness / skin depth",
        "definition of skin depth",
        (("sheet", f"{thickness_mm:g} mm"), ("frequency", f"{ghz:g} GHz")),
    )


def slot_shielding_db(length_mm: float, ghz: float) -> Figure:
    """What a metal box with one slot still shields [dB]: 20 log(wavelength / 2 length).

    Raises:
        RangeError: A slot of half a wavelength or more shields nothing.
    """
    check_ranges(Limit("a frequency", ghz, 0.1, 10.0, "GHz"))
    wave_mm = LIGHT_M_PER_S / ghz / 1e6
    check_ranges(
        Limit(
            "a slot",
            length_mm,
            0.0,
            wave_mm / 2,
            "mm",
            "half a wavelength; longer shields nothing",
            above=True,
        )
    )
    return Figure(
        20 * math.log10(wave_mm / (2 * length_mm)),
        "dB",
        "20 log(wavelength / (2 x slot))",
        "rule of electromagnetic shielding, from memory",
        (("slot", f"{length_mm:g} mm"), ("frequency", f"{ghz:g} GHz")),
    )
