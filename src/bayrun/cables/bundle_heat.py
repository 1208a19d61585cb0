"""May a bundle of powered four-pair cables carry its current: the printed table, and a fitted model beside
it.

The table decides. The model (a cylinder with two constants fitted to that table) only shows about how warm
the
middle gets, within its fit, in open air; inside wall insulation it is hotter and the model refuses nothing
but
says nothing. Limits of use: copper, 22 to 26 AWG, 1 to 192 cables, cable rated 60, 75 or 90 C.

Source: NEC 2017 Table 725.144 and Table 310.15(B)(2)(a), both read; the 2020 table from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from bayrun.cables.packing import pack
from bayrun.cables.power_over_cable import PowerClass
from bayrun.cables.ranges import M_PER_FT, Limit, Verdict, check_ranges, one_of, refuse
from bayrun.cables.resistance import conductor_ohm_per_kft, temperature_limit
from bayrun.tables.physics import physics_table
from bayrun.units import Figure

RATINGS_C = (60, 75, 90)
GAUGES = (22, 23, 24, 26)
MOST_CABLES = 192


def _defects(cables: int, awg: int, rating_c: int) -> list[str]:
    told = [
        Limit("cables in the bundle", cables, 1, MOST_CABLES, "", "the table; more needs an engineer").told(),
        one_of("a gauge", awg, GAUGES),
        one_of("a cable's rating [C]", rating_c, RATINGS_C),
    ]
    return [text for text in told if text]


def _row(table: dict[str, Any], cables: int, awg: int, rating_c: int) -> float:
    column = next(n for n, most in enumerate(table["most_cables"]) if cables <= most)
    return float(table[str(awg)][column][RATINGS_C.index(rating_c)])


def ambient_factor(rating_c: int, ambient_c: float) -> Figure:
    """What is left of the ampacity in hot surroundings.

    Args:
        rating_c: Rating of the cable, 60, 75 or 90 C.
        ambient_c: Up to 65 C; colder than 30 C counts as 30 C.
    Raises:
        RangeError: Outside the printed table, or where it allows no current at all.
    """
    data = physics_table("heat")["ambient"]
    wrong = one_of("a cable's rating [C]", rating_c, RATINGS_C)
    factors = [] if wrong else data[str(rating_c)]
    top = max((most for most, f in zip(data["most_c"], factors, strict=False) if f > 0), default=65)
    limit = Limit("surroundings", ambient_c, -40.0, top, "C", f"cable rated {rating_c} C, {data['document']}")
    refuse(text for text in (wrong, limit.told()) if text)
    value = next(f for most, f in zip(data["most_c"], factors, strict=True) if ambient_c <= most + 1e-9)
    return Figure(
        float(value),
        "",
        "printed factor of the 5 C step",
        data["document"],
        (("surroundings", f"{ambient_c:.3g} C"), ("rating", f"{rating_c} C")),
    )


def ambient_factor_formula(rating_c: float, ambient_c: float) -> float:
    """The formula behind the printed factors: sqrt((rating - ambient) / (rating - 30)).

    Raises:
        RangeError: Surroundings as hot as the rating.
    """
    check_ranges(
        Limit("a rating", rating_c, 31.0, 90.0, "C"),
        Limit("surroundings", ambient_c, 0.0, rating_c - 1, "C", "cooler than the rating"),
    )
    return math.sqrt((rating_c - ambient_c) / (rating_c - 30))


def ampacity_a(
    cables: int,
    awg: int,
    rating_c: int = 60,
    ambient_c: float = 30.0,
    *,
    half_live: bool = False,
    year: str = "2017",
) -> Figure:
    """Amperes each conductor may carry.

    Args:
        cables: Cables in the bundle, 1 to 192.
        awg: 22, 23, 24 or 26.
        rating_c: Rating printed on the cable.
        ambient_c: Surroundings of the hottest stretch.
        half_live: Half of the conductors of each cable carry current (power over two pairs): 1.4 times.
        year: ``2017`` (read) or ``2020`` (from memory).
    Raises:
        RangeError: Outside the table.
    """
    wrong = _defects(cables, awg, rating_c)
    edition = one_of("an edition", year, ("2017", "2020"))
    refuse([*wrong, edition] if edition else wrong)
    data, table = physics_table("heat"), physics_table("heat")[f"ampacity_{year}"]
    base = _row(table, cables, awg, rating_c)
    if base <= 0:
        refuse([f"{table['document']} gives nothing for {cables} cables of {awg} AWG: split them"])
    factor = ambient_factor(rating_c, ambient_c)
    half = float(data["ampacity_2017"]["half_factor"]) if half_live else 1.0
    return Figure(
        base * factor.value * half,
        "A",
        "printed amperes x factor of the surroundings"
        + (" x 1.4, half the conductors live" if half_live else ""),
        f"{table['document']} ({table['known']}); {factor.source}",
        (
            ("bundle", f"{cables} cables of {awg} AWG rated {rating_c} C"),
            ("printed", f"{base:g} A"),
            *factor.inputs,
        ),
    )


def rise_by_fit_k(
    cables: int, awg: int, amps: float, live: int, diameter_in: float, conductor_c: float
) -> Figure:
    """About how much warmer the middle of a bundle is than open air around it [K]: a fit, never a verdict.

    Args:
        cables: 7 to 192, as fitted.
        awg: 22 to 24, as fitted.
        amps: Of one conductor that carries current.
        live: Conductors of each cable that carry, 4 or 8.
        diameter_in: Outside diameter of one cable [in].
        conductor_c: Temperature for the wire's resistance [C].
    Raises:
        RangeError: Outside the fit.
    """
    data = physics_table("heat")["bundle_fit"]
    why = "the model was fitted there only"
    wrong = [
        Limit("cables in the bundle", cables, data["smallest"], data["largest"], "", why).told(),
        Limit("a gauge", awg, 22, 24, "AWG", why).told(),
        Limit("a current", amps, 0.0, 3.0, "A", why).told(),
        Limit("a cable's diameter", diameter_in, 0.15, 0.4, "in", why).told(),
        temperature_limit(conductor_c).told(),
        one_of("live conductors", live, (4, 8)),
    ]
    refuse(text for text in wrong if text)
    ohm_per_m = conductor_ohm_per_kft(awg, conductor_c).value / 1000 / M_PER_FT
    across_m = pack([diameter_in] * cables).diameter_in * 0.0254
    heat_w_m = cables * live * amps**2 * ohm_per_m
    value = heat_w_m * (1 / (4 * math.pi * data["conductivity"]) + 1 / (math.pi * across_m * data["surface"]))
    return Figure(
        value,
        "K",
        "heat a meter x (1 / 4 pi k + 1 / pi D h), k 0.0887 W/mK and h 4.60 W/m2K fitted",
        data["document"],
        (
            ("bundle", f"{cables} cables of {awg} AWG, {across_m / 0.0254:.2f} in across"),
            ("current", f"{amps:.3g} A on {live} conductors"),
            ("wire", f"{conductor_c:.3g} C"),
        ),
        value * data["worst_percent"] / 100,
    )


@dataclass(frozen=True, slots=True)
class BundleHeat:
    """Whether a bundle may carry its class of power."""

    needed_a: Figure
    allowed_a: Figure
    allowed_2020_a: Figure | None
    rise_k: Figure | None
    """By the fitted model, for information."""
    verdict: Verdict
    reason: str


def bundle_heat(
    cables: int,
    awg: int,
    kind: PowerClass,
    rating_c: int = 60,
    ambient_c: float = 30.0,
    diameter_in: float | None = None,
) -> BundleHeat:
    """Hold a bundle, every cable powered at its class, against the printed table.

    At or under 60 W a cable the table does not bind communications cable (NEC 840.160); it is told all the
    same.

    Args:
        diameter_in: Outside diameter of one cable [in], for the model; none, no model.
    Raises:
        RangeError: Outside the table.
    """
    data = physics_table("heat")
    half = kind.pairs == 2
    allowed = ampacity_a(cables, awg, rating_c, ambient_c, half_live=half)
    newer = None
    if _row(data["ampacity_2020"], cables, awg, rating_c) > 0:
        newer = ampacity_a(cables, awg, rating_c, ambient_c, half_live=half, year="2020")
    needed = Figure(
        kind.conductor_a,
        "A",
        "class power over least supply volts, over the pairs that carry it",
        "IEEE 802.3 clauses 33 and 145",
        (("class", str(kind.number)), ("pairs", str(kind.pairs))),
    )
    rise = None
    if diameter_in is not None and cables >= data["bundle_fit"]["smallest"] and awg <= 24:
        warm = min(max(ambient_c + 10, 20.0), 90.0)
        rise = rise_by_fit_k(cables, awg, kind.conductor_a, 4 if half else 8, diameter_in, warm)
    binds = kind.supply_w > data["ampacity_2017"]["communications_above_w"]
    if kind.conductor_a <= allowed.value + 1e-9:
        verdict = Verdict.HOLDS
        reason = f"{kind.conductor_a:.3f} A of {allowed.value:.2f} A a conductor"
    elif not binds:
        verdict = Verdict.CANNOT_TELL
        reason = (
            f"{kind.conductor_a:.3f} A over {allowed.value:.2f} A; the table does not bind such"
            " cable at 60 W or less, but it is as warm: split the bundle"
        )
    else:
        verdict = Verdict.FAILS
        reason = f"{kind.conductor_a:.3f} A over {allowed.value:.2f} A a conductor: split the bundle"
        if newer is not None and kind.conductor_a <= newer.value:
            verdict = Verdict.CANNOT_TELL
            reason = (
                f"{kind.conductor_a:.3f} A over {allowed.value:.2f} A of the 2017 table, within"
                f" {newer.value:.2f} A of the 2020 one (from memory): verify"
            )
    return BundleHeat(needed, allowed, newer, rise, verdict, reason)
