"""Levels along coax: what cable, splitters and connectors take at low and high frequency, and who is content.

Attenuation is read between the rows of a data-sheet table (both scales logarithmic), never from a square-root
law: below about 50 MHz that law is 15 to 30 % low for copper-clad steel. Limits of use: 75 ohm, 5 to 3000
MHz,
-40 to 70 C, splitters to 1125 MHz. Source: tables/coax.toml, each row saying how it is known.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from bayrun.cables.ranges import Limit, Verdict, check_ranges, judge, one_of, refuse
from bayrun.tables.physics import physics_table
from bayrun.units import Figure

DBMV_OF_DBM = -10 * math.log10(1e-3 / 75)
"""dBmV of a level of 0 dBm in 75 ohm: 48.75."""
LONGEST_FT = 500.0


@dataclass(frozen=True, slots=True)
class CoaxPath:
    """All that stands between a source and one device.

    Args:
        segments: Pairs of kind (``RG-6`` …) and length [ft].
        splitters: Each splitter passed: ``2``, ``3``, ``3 low``, ``3 high``, ``4`` or ``8``.
        connectors: F connectors.
        barrels: Barrels in wall plates.
        celsius: Temperature of the cable [C].
    """

    segments: tuple[tuple[str, float], ...]
    splitters: tuple[str, ...] = ()
    connectors: int = 2
    barrels: int = 0
    celsius: float = 20.0


@dataclass(frozen=True, slots=True)
class LevelAt:
    """Level of one device at one frequency."""

    mhz: float
    loss_db: Figure
    level_dbmv: Figure
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class LevelPlan:
    """A service at one location, low and high."""

    service: str
    source: str
    levels: tuple[LevelAt, ...]
    tilt_db: float
    """Level at the low less that at the high frequency: what an equalizer would take out."""
    verdict: Verdict


def dbmv(dbm: float) -> float:
    """dBmV of a power in dBm, in 75 ohm."""
    return dbm + DBMV_OF_DBM


def dbm(level_dbmv: float) -> float:
    """dBm of a level in dBmV, in 75 ohm."""
    return level_dbmv - DBMV_OF_DBM


def _cable(kind: str) -> dict[str, Any]:
    cables = {row["key"]: row for row in physics_table("coax")["cable"]}
    wrong = one_of("coax", kind, cables)
    refuse([wrong] if wrong else [])
    found: dict[str, Any] = cables[kind]
    return found


def _frequency(mhz: float, high: float = 3000.0, why: str = "the attenuation table") -> Limit:
    return Limit("a frequency", mhz, 5.0, high, "MHz", why)


def attenuation_db(kind: str, mhz: float, length_ft: float = 100.0, celsius: float = 20.0) -> Figure:
    """Loss of a length of coax [dB].

    Args:
        kind: ``RG-6``, ``RG-59`` or ``RG-11``.
        mhz: 5 to 3000.
        length_ft: Up to 500 ft.
        celsius: -40 to 70.
    Raises:
        RangeError: Outside these.
    """
    row = _cable(kind)
    check_ranges(
        _frequency(mhz),
        Limit("a length of coax", length_ft, 0.0, LONGEST_FT, "ft", "one house"),
        Limit("a cable temperature", celsius, -40.0, 70.0, "C"),
    )
    log = math.log(mhz)
    per_100_ft = row["rows"][-1][1]
    for (low, low_db), (high, high_db) in pairwise(row["rows"]):
        if mhz <= high:
            share = (log - math.log(low)) / (math.log(high) - math.log(low))
            per_100_ft = math.exp(math.log(low_db) + share * (math.log(high_db) - math.log(low_db)))
            break
    heat = 1 + physics_table("coax")["temperature"]["percent_per_celsius"] / 100 * (celsius - 20)
    value = per_100_ft * heat * length_ft / 100
    return Figure(
        value,
        "dB",
        "between the rows of the table, logarithmic both ways, x length, +0.18 % a degree over 20 C",
        f"{row['document']} ({row['known']}: {row['by']})",
        (
            ("coax", kind),
            ("frequency", f"{mhz:g} MHz"),
            ("length", f"{length_ft:g} ft"),
            ("cable", f"{celsius:.3g} C"),
        ),
        value * row["plus_minus_percent"] / 100,
    )


def ideal_split_db(ways: int) -> float:
    """Loss of an ideal splitter to each of its outputs [dB]: 10 log N.

    Raises:
        RangeError: Fewer than one way or more than 64.
    """
    check_ranges(Limit("ways of a splitter", ways, 1, 64))
    return 10 * math.log10(ways)


def splitter_loss_db(splitter: str, mhz: float) -> Figure:
    """Nominal loss of a splitter to the port used [dB].

    Raises:
        RangeError: No such splitter, or a frequency over 1125 MHz: satellite splitters have their own sheet.
    """
    data = physics_table("coax")["splitter"]
    wrong = [one_of("a splitter", splitter, data["loss_db"])]
    wrong.append(
        _frequency(mhz, data["highest_mhz"], "nominal splitters; above it take the splitter's sheet").told()
    )
    refuse([told for told in wrong if told])
    above = mhz > data["above_mhz"]
    return Figure(
        data["loss_db"][splitter] + (data["more_above_db"] if above else 0.0),
        "dB",
        "nominal loss" + (", 0.5 to 1 dB more above 700 MHz" if above else ""),
        data["document"],
        (("splitter", f"{splitter}-way"), ("frequency", f"{mhz:g} MHz")),
        data["plus_minus_db"] + (data["more_plus_minus_db"] if above else 0.0),
    )


def path_loss_db(path: CoaxPath, mhz: float) -> Figure:
    """Loss of a whole path at one frequency [dB]; uncertainties of its parts are added up.

    Raises:
        RangeError: A part outside its range, or no part at all.
    """
    data = physics_table("coax")
    check_ranges(
        Limit("F connectors", path.connectors, 0, 100),
        Limit("barrels", path.barrels, 0, 100),
        Limit("coax altogether", sum(feet for _, feet in path.segments), 0.0, LONGEST_FT, "ft", "one house"),
    )
    parts = [attenuation_db(kind, mhz, feet, path.celsius) for kind, feet in path.segments]
    parts += [splitter_loss_db(splitter, mhz) for splitter in path.splitters]
    small = ((path.connectors, data["connector"]), (path.barrels, data["barrel"]))
    value = math.fsum(part.value for part in parts) + sum(count * row["loss_db"] for count, row in small)
    spread = math.fsum(part.plus_minus or 0.0 for part in parts)
    spread += sum(count * row["plus_minus_db"] for count, row in small)
    return Figure(
        value,
        "dB",
        "coax + splitters + connectors + barrels",
        "; ".join(dict.fromkeys(part.source for part in parts)) or data["connector"]["document"],
        (
            ("frequency", f"{mhz:g} MHz"),
            ("coax", " + ".join(f"{feet:g} ft {kind}" for kind, feet in path.segments) or "none"),
            ("splitters", ", ".join(path.splitters) or "none"),
            ("connectors", str(path.connectors)),
            ("barrels", str(path.barrels)),
        ),
        spread,
    )


def services() -> tuple[str, ...]:
    """The services the table has a window for."""
    return tuple(row["key"] for row in physics_table("coax")["service"])


def level_plan(
    path: CoaxPath, service: str, low_dbmv: float, high_dbmv: float | None = None, gain_db: float = 0.0
) -> LevelPlan:
    """Level of one location at its service's low and high frequency.

    Args:
        low_dbmv, high_dbmv: At the point of entry, low and high; the same where only one is said [dBmV].
        gain_db: Of an amplifier on the way, 0 to 40.
    Raises:
        RangeError: Outside a range.
    """
    rows = {row["key"]: row for row in physics_table("coax")["service"]}
    limits = (
        Limit("the level at entry, low", low_dbmv, -60.0, 70.0, "dBmV"),
        Limit("the level at entry, high", low_dbmv if high_dbmv is None else high_dbmv, -60.0, 70.0, "dBmV"),
        Limit("an amplifier's gain", gain_db, 0.0, 40.0, "dB"),
    )
    refuse(told for told in (one_of("a service", service, rows), *(limit.told() for limit in limits)) if told)
    row = rows[service]
    entries = ((row["low_mhz"], low_dbmv), (row["high_mhz"], low_dbmv if high_dbmv is None else high_dbmv))
    levels = []
    for mhz, entry in entries:
        loss = path_loss_db(path, mhz)
        level = Figure(
            entry + gain_db - loss.value,
            "dBmV",
            "level at entry + gain - loss",
            loss.source,
            (("entry", f"{entry:g} dBmV"), ("gain", f"{gain_db:g} dB"), *loss.inputs),
            loss.plus_minus,
        )
        told = judge(level, at_least=row["least_dbmv"], at_most=row["most_dbmv"])
        levels.append(LevelAt(mhz, loss, level, told))
    verdicts = [at.verdict for at in levels]
    worst = next((v for v in (Verdict.FAILS, Verdict.CANNOT_TELL) if v in verdicts), Verdict.HOLDS)
    tilt = levels[0].level_dbmv.value - levels[1].level_dbmv.value
    source = f"{row['document']} ({row['known']}: {row['by']})"
    return LevelPlan(service, source, tuple(levels), tilt, worst)


def upstream_dbmv(path: CoaxPath, wanted_dbmv: float) -> LevelAt:
    """Level a modem must send so that ``wanted_dbmv`` leave the house, at the top of the upstream band.

    Raises:
        RangeError: Outside a range.
    """
    data = physics_table("coax")["upstream"]
    check_ranges(Limit("the level wanted at entry", wanted_dbmv, 0.0, 65.0, "dBmV"))
    loss = path_loss_db(path, data["high_mhz"])
    level = Figure(
        wanted_dbmv + loss.value,
        "dBmV",
        "level wanted at entry + loss",
        data["document"],
        (("wanted", f"{wanted_dbmv:g} dBmV"), *loss.inputs),
        loss.plus_minus,
    )
    return LevelAt(data["high_mhz"], loss, level, judge(level, at_most=data["most_dbmv"]))
