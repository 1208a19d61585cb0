"""How much a copper conductor resists, by gauge and temperature.

Source: diameter by ASTM B258 (d = 0.127 mm x 92^((36 - AWG)/39)); annealed copper 1.7241e-8 ohm m at 20 C,
+0.393 % a degree (IACS). Limits of use: copper only, 10 to 30 AWG, -40 to 90 C, direct current and 60 Hz.
Copper-clad aluminum is refused: category cable and NEC 725.144 ask for copper.
"""

from __future__ import annotations

import math

from bayrun.cables.ranges import M_PER_FT, Limit, check_ranges, refuse
from bayrun.tables.physics import physics_table
from bayrun.units import Figure

THINNEST_AWG, THICKEST_AWG = 30, 10
COLDEST_C, HOTTEST_C = -40.0, 90.0


def gauge_limit(awg: int) -> Limit:
    """The range of gauges these formulas serve."""
    return Limit("a gauge", awg, THICKEST_AWG, THINNEST_AWG, "AWG", "low-voltage wire")


def temperature_limit(celsius: float) -> Limit:
    """The range of conductor temperatures the straight-line copper formula serves."""
    return Limit(
        "a conductor temperature", celsius, COLDEST_C, HOTTEST_C, "C", "the hottest rating of such cable"
    )


def diameter_mm(awg: int) -> float:
    """Diameter of a solid conductor [mm]; ASTM B258.

    Raises:
        RangeError: Not 10 to 30 AWG.
    """
    check_ranges(gauge_limit(awg))
    return float(0.127 * 92.0 ** ((36 - awg) / 39))


def copper_factor(celsius: float) -> float:
    """Resistance at a temperature over that at 20 C."""
    check_ranges(temperature_limit(celsius))
    return 1.0 + float(physics_table("conductors")["copper"]["per_celsius"]) * (celsius - 20.0)


def conductor_ohm_per_kft(awg: int, celsius: float = 20.0, *, stranded: bool = False) -> Figure:
    """Resistance of one copper conductor [ohm per 1,000 ft].

    Args:
        awg: Gauge, 10 to 30.
        celsius: Temperature of the conductor [C], -40 to 90.
        stranded: Strands are a little longer than the wire they make.
    Raises:
        RangeError: Outside the range.
    """
    check_ranges(gauge_limit(awg), temperature_limit(celsius))
    data = physics_table("conductors")
    area_m2 = math.pi / 4 * (diameter_mm(awg) / 1000) ** 2
    ohm = float(data["copper"]["resistivity_ohm_m"]) / area_m2 * 1000 * M_PER_FT * copper_factor(celsius)
    percent = float(data["wire"]["solid_plus_minus_percent"])
    if stranded:
        ohm *= float(data["stranded"]["factor"])
        percent += float(data["stranded"]["plus_minus_percent"])
    return Figure(
        ohm,
        "ohm/kft",
        "1.7241e-8 ohm m over the wire's area, +0.393 % for every C over 20"
        + (", +2.5 % for strands" if stranded else ""),
        "ASTM B258; IACS annealed copper",
        (("gauge", f"{awg} AWG"), ("conductor", f"{celsius:g} C")),
        ohm * percent / 100,
    )


def nec_ohm_per_kft(awg: int, *, stranded: bool = False) -> Figure:
    """The printed resistance at 75 C [ohm per 1,000 ft].

    Raises:
        RangeError: The printed table (as read) has 18, 16, 14 and 12 AWG.
    """
    data = physics_table("conductors")["nec_table_8"]
    rows = data["stranded" if stranded else "solid"]
    if str(awg) not in rows:
        listed = ", ".join(sorted(rows, reverse=True))
        refuse(
            [f"expected one of {listed} AWG ({data['document']} begins at 18 AWG: no 20 or 22), got {awg}"]
        )
    return Figure(
        float(rows[str(awg)]),
        "ohm/kft",
        "printed value",
        str(data["document"]),
        (("gauge", f"{awg} AWG"), ("make", "stranded" if stranded else "solid")),
    )


def two_wire_ohm(length_ft: float, awg: int, celsius: float = 20.0, *, stranded: bool = False) -> Figure:
    """Out and back resistance of a two-wire run [ohm].

    Args:
        length_ft: One way [ft].
    Raises:
        RangeError: Outside the range of :func:`conductor_ohm_per_kft`, or a length not 0 to 2,000 ft.
    """
    check_ranges(length_limit(length_ft), gauge_limit(awg), temperature_limit(celsius))
    each = conductor_ohm_per_kft(awg, celsius, stranded=stranded)
    scale = 2 * length_ft / 1000
    return Figure(
        each.value * scale,
        "ohm",
        "2 x length x ohm per foot of one conductor",
        each.source,
        (*each.inputs, ("one way", f"{length_ft:g} ft")),
        (each.plus_minus or 0.0) * scale,
    )


def length_limit(length_ft: float, most_ft: float = 2000.0, why: str = "a run in one house") -> Limit:
    """A one-way length over zero and within a house [ft]."""
    return Limit("a length", length_ft, 0.0, most_ft, "ft", why, above=True)
