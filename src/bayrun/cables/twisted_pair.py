"""What a four-pair run loses, how long it may be, how hot, and how its signal is late.

Computed for the run as it lies: fixed cable, cords and connections. The limit lines it is held against are in
limits_568.py. Limits of use: categories 5e, 6 and 6A from 1 MHz to the category's top; 20 to 60 C;
at most 100 m.

Source: TIA-568-C.2 (kept in D) for cable, cords and hardware; temperature by its clause 6.4.7.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from bayrun.cables.limits_568 import LimitLine, frequency_limit, limit_line
from bayrun.cables.ranges import M_PER_FT, Limit, Verdict, check_ranges, refuse
from bayrun.tables.physics import physics_table
from bayrun.units import Figure

SPEED_OF_LIGHT_M_PER_NS = 0.299792458
LOSS_PLUS_MINUS = 0.03
"""Share by which a predicted loss may be off: judgment, no source."""


def _table() -> dict[str, Any]:
    return physics_table("limits_568")


@dataclass(frozen=True, slots=True)
class Link:
    """One run of four-pair cable with its cords and connections.

    Args:
        category: ``5e``, ``6`` or ``6A``.
        horizontal_ft: Fixed cable [ft].
        cords_ft: All cords together [ft].
        connections: Mated connections, 0 to 4.
        celsius: Temperature of the fixed cable [C], 20 to 60.
        screened: Screened cable warms less.
        cord_awg: 24 or 26, stranded.
    """

    category: str
    horizontal_ft: float
    cords_ft: float = 0.0
    connections: int = 2
    celsius: float = 20.0
    screened: bool = False
    cord_awg: int = 24

    @property
    def horizontal_m(self) -> float:
        """Fixed cable in the standard's own unit [m]."""
        return self.horizontal_ft * M_PER_FT

    @property
    def cords_m(self) -> float:
        """Cords in the standard's own unit [m]."""
        return self.cords_ft * M_PER_FT


def _check(link: Link, *more: Limit) -> None:
    most_ft = _table()["length"]["channel_m"] / M_PER_FT
    limits = (
        Limit("fixed cable", link.horizontal_ft, 0.0, most_ft, "ft", "a channel is 100 m", above=True),
        Limit("cords", link.cords_ft, 0.0, most_ft, "ft", "a channel is 100 m"),
        Limit(
            "fixed cable and cords",
            link.horizontal_ft + link.cords_ft,
            0.0,
            most_ft,
            "ft",
            "a channel is 100 m",
        ),
        Limit("connections", link.connections, 0, 4, "", "a channel has at most four"),
        _temperature(link.celsius),
        *more,
    )
    wrong = [told for told in (limit.told() for limit in limits) if told]
    if link.cord_awg not in (24, 26):
        wrong.append(f"expected cords of 24 or 26 AWG, got {link.cord_awg}")
    refuse(wrong)


def _temperature(celsius: float) -> Limit:
    return Limit(
        "a cable temperature", celsius, 20.0, 60.0, "C", "TIA-568-C.2 clause 6.4.7; colder counts as 20"
    )


def temperature_factor(celsius: float, *, screened: bool = False) -> Figure:
    """Insertion loss at a temperature over that at 20 C.

    Raises:
        RangeError: Not 20 to 60 C; colder cable loses less and counts as 20 C.
    """
    check_ranges(_temperature(celsius))
    data = _table()["temperature"]
    if screened:
        percent, rule = data["screened_percent"] * (celsius - 20), "0.2 % a degree over 20 C, screened"
    else:
        percent = data["utp_percent_to_40"] * (min(celsius, 40.0) - 20)
        percent += data["utp_percent_to_60"] * max(celsius - 40.0, 0.0)
        rule = "0.4 % a degree from 20 to 40 C, 0.6 % from 40 to 60 C"
    return Figure(1 + percent / 100, "", rule, data["document"], (("cable", f"{celsius:.4g} C"),))


def cable_loss_db(category: str, mhz: float) -> Figure:
    """Most insertion loss of 100 m of fixed cable at 20 C [dB].

    Raises:
        RangeError: A frequency outside the category.
    """
    check_ranges(frequency_limit(mhz, category))
    row, root = _table()["cable"][category], math.sqrt(mhz)
    return Figure(
        row["a"] * root + row["b"] * mhz + row["c"] / root,
        "dB",
        f"{row['a']:g} sqrt f + {row['b']:g} f + {row['c']:g}/sqrt f, each 100 m",
        f"{row['document']} ({row['known']}: {row['by']})",
        (("frequency", f"{mhz:g} MHz"),),
    )


def connection_loss_db(category: str, mhz: float) -> float:
    """Most loss of one mated connection [dB], at least 0.1. Source: TIA-568-C.2."""
    check_ranges(frequency_limit(mhz, category))
    return max(0.1, float(_table()["cable"][category]["hardware"]) * math.sqrt(mhz))


def insertion_loss_db(link: Link, mhz: float) -> Figure:
    """Most insertion loss of a run as it lies [dB], made of parts that just keep their category.

    Raises:
        RangeError: Outside the limits of use.
    """
    _check(link, frequency_limit(mhz, link.category))
    data = _table()["length"]
    factor = temperature_factor(link.celsius, screened=link.screened).value
    cord = data["cord_factor_24"] if link.cord_awg == 24 else data["cord_factor_26"]
    per_100_m = cable_loss_db(link.category, mhz)
    cable = (link.horizontal_m * factor + link.cords_m * cord) / 100 * per_100_m.value
    value = cable + link.connections * connection_loss_db(link.category, mhz)
    return Figure(
        value,
        "dB",
        f"(fixed cable x {factor:.3f} for heat + cords x {cord:g}) x loss per 100 m + connections",
        per_100_m.source,
        (
            ("frequency", f"{mhz:g} MHz"),
            ("fixed cable", f"{link.horizontal_ft:.4g} ft at {link.celsius:.3g} C"),
            ("cords", f"{link.cords_ft:.4g} ft of {link.cord_awg} AWG"),
            ("connections", str(link.connections)),
        ),
        value * LOSS_PLUS_MINUS,
    )


def delay_ns(link: Link, mhz: float) -> Figure:
    """Latest arrival of a signal over the run [ns].

    Raises:
        RangeError: Outside the limits of use.
    """
    _check(link, frequency_limit(mhz, link.category))
    data = _table()["delay"]
    per_100_m = data["base_ns"] + data["slope_ns"] / math.sqrt(mhz)
    length_m = link.horizontal_m + link.cords_m
    return Figure(
        length_m / 100 * per_100_m + link.connections * data["connection_ns"],
        "ns",
        "(534 + 36/sqrt f) per 100 m + 2.5 a connection",
        f"{data['document']} ({data['known']}: {data['by']})",
        (("frequency", f"{mhz:g} MHz"), ("length", f"{length_m / M_PER_FT:.4g} ft")),
    )


def velocity_percent(mhz: float) -> float:
    """Slowest velocity the delay formula allows, in percent of light; for a tester's length reading."""
    check_ranges(Limit("a frequency", mhz, 1.0, 500.0, "MHz", "TIA-568-C.2 delay"))
    data = _table()["delay"]
    return 100 * 100 / float(data["base_ns"] + data["slope_ns"] / math.sqrt(mhz)) / SPEED_OF_LIGHT_M_PER_NS


def acr_db(category: str, mhz: float) -> Figure:
    """NEXT less insertion loss of the limit lines of a channel [dB]."""
    near, loss = limit_line("NEXT", category), limit_line("insertion loss", category)
    return Figure(
        near.at(mhz).value - loss.at(mhz).value,
        "dB",
        "NEXT less insertion loss",
        f"{near.source}; {loss.source}",
        (("frequency", f"{mhz:g} MHz"), ("category", category)),
    )


def loop_ohm(link: Link) -> Figure:
    """Most DC loop resistance of one pair [ohm], wire that just keeps the category's 9.38 ohm per 100 m.

    Raises:
        RangeError: Outside the limits of use.
    """
    _check(link)
    from bayrun.cables.resistance import copper_factor

    data = physics_table("conductors")["tia_category"]
    cord = 1.2 if link.cord_awg == 24 else 1.5
    length = link.horizontal_m * copper_factor(link.celsius) + link.cords_m * cord
    return Figure(
        2 * length / 100 * data["conductor_ohm_per_100_m"],
        "ohm",
        "2 x length x 9.38 ohm per 100 m, with heat and cords",
        f"{data['document']} ({data['confirmed']})",
        (("fixed cable", f"{link.horizontal_ft:.4g} ft"), ("cable", f"{link.celsius:.3g} C")),
    )


def longest_horizontal_m(celsius: float, *, screened: bool = False) -> Figure:
    """Longest fixed cable with 10 m of cords [m]: 90 m over the heat factor, the safe side of Annex G.

    Raises:
        RangeError: Not 20 to 60 C.
    """
    factor, data = temperature_factor(celsius, screened=screened), _table()["length"]
    return Figure(
        data["horizontal_m"] / factor.value,
        "m",
        "90 m over the heat factor of the loss",
        f"{data['document']}; {factor.source}",
        (("cable", f"{celsius:.4g} C"), ("heat factor", f"{factor.value:.4g}")),
    )


def annex_g_m(celsius: float) -> Figure:
    """The printed length table for unscreened cable [m], read between its rows.

    Raises:
        RangeError: Not 20 to 60 C.
    """
    check_ranges(_temperature(celsius))
    data = _table()["annex_g"]
    rows = list(zip(data["celsius"], data["horizontal_m"], strict=True))
    value = rows[-1][1]
    for (low, long), (high, short) in pairwise(rows):
        if celsius <= high:
            value = long + (short - long) * (celsius - low) / (high - low)
            break
    return Figure(
        value,
        "m",
        "table, straight between its rows",
        f"{data['document']} ({data['known']}: {data['by']})",
        (("cable", f"{celsius:.4g} C"),),
    )


def longest_cords_m(horizontal_m: float, cord_awg: int = 24) -> Figure:
    """All cords together with a multi-user outlet [m].

    Args:
        horizontal_m: Fixed cable [m], 0 to 90.
        cord_awg: 24 or 26.
    Raises:
        RangeError: Outside these.
    """
    limit = Limit("fixed cable", horizontal_m, 0.0, 90.0, "m", "TIA-568 multi-user outlets", above=True)
    told = [limit.told()] if limit.told() else []
    if cord_awg not in (24, 26):
        told.append(f"expected cords of 24 or 26 AWG, got {cord_awg}")
    refuse([text for text in told if text])
    extra, fixed_m = (0.2, 5.0) if cord_awg == 24 else (0.5, 3.5)
    most = _table()["length"]["mutoa_most_m"] + fixed_m
    return Figure(
        min((102 - horizontal_m) / (1 + extra), most),
        "m",
        "(102 - fixed cable) / (1 + D), D 0.2 for 24 AWG and 0.5 for 26 AWG; at most 22 m at the work area",
        "TIA-568 multi-user outlets (use, 22 m and D confirmed; the algebra from memory)",
        (("fixed cable", f"{horizontal_m:g} m"), ("cords", f"{cord_awg} AWG")),
    )


@dataclass(frozen=True, slots=True)
class LossAt:
    """Loss of the run at one frequency, the limit it is held against and the verdict."""

    mhz: float
    loss_db: Figure
    limit: LimitLine
    limit_db: Figure
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class LinkReport:
    """Everything about one run."""

    losses: tuple[LossAt, ...]
    longest_m: Figure
    table_m: Figure | None
    delay_ns: Figure
    loop_ohm: Figure
    verdict: Verdict
    reasons: tuple[str, ...]


CHANNEL_LINE = {"5e": "class D channel", "6": "class E channel", "6A": "channel"}
"""The line a predicted loss is held against: the ISO ones were read, 6A has but a fitted one."""
SPOTS_MHZ = (1.0, 16.0, 100.0, 250.0, 500.0)


def report(link: Link) -> LinkReport:
    """Hold a run against its lengths, loss, delay and loop resistance.

    The verdict is of length and loop; a loss is only told where a confirmed line is there, and a run too long
    is never called good for a loss that holds.

    Raises:
        RangeError: Outside the limits of use.
    """
    _check(link, frequency_limit(1.0, link.category))
    own, top = limit_line("insertion loss", link.category, CHANNEL_LINE[link.category]), 0.0
    lower = limit_line("insertion loss", "6", CHANNEL_LINE["6"]) if link.category == "6A" else own
    losses = []
    for mhz in SPOTS_MHZ:
        if mhz > own.highest_mhz:
            break
        # Up to 250 MHz a 6A run must at least be as good as a read class E channel; its own line is fitted.
        line = lower if mhz <= lower.highest_mhz else own
        loss, top = insertion_loss_db(link, mhz), mhz
        verdict = line.judge(loss.value, mhz, loss.plus_minus or 0.0)
        losses.append(LossAt(mhz, loss, line, line.at(mhz), verdict))
    longest = longest_horizontal_m(link.celsius, screened=link.screened)
    table = None if link.screened else annex_g_m(link.celsius)
    loop, delay, data = loop_ohm(link), delay_ns(link, min(top, 10.0)), _table()
    verdict, told = Verdict.HOLDS, []
    fixed_most_m = longest.value
    if link.cords_m > data["length"]["cords_m"] + 1e-9:
        verdict = Verdict.CANNOT_TELL
        told.append(
            f"cords are {link.cords_ft:.0f} ft; the lengths are for 10 m ({10 / M_PER_FT:.0f} ft) at most:"
            " shorten them, or plan a multi-user outlet"
        )
    if link.horizontal_m > fixed_most_m + 1e-9:
        sure = table is None or link.horizontal_m > table.value
        verdict = Verdict.FAILS if sure else Verdict.CANNOT_TELL
        told.append(
            f"fixed cable is {link.horizontal_ft:.0f} ft; at {link.celsius:.0f} C the heat rule allows"
            f" {fixed_most_m / M_PER_FT:.0f} ft"
            + ("" if sure else ", the length table (from memory) a little more: verify")
        )
    if loop.value > data["loop"]["channel_ohm"]:
        told.append(
            f"loop may reach {loop.value:.1f} ohm, the channel's limit is {data['loop']['channel_ohm']:g} ohm"
            f" ({data['loop']['known']}): measure it"
        )
        verdict = verdict if verdict is Verdict.FAILS else Verdict.CANNOT_TELL
    for at in losses:
        if at.verdict is Verdict.FAILS:
            told.append(
                f"at {at.mhz:g} MHz it may lose {at.loss_db.value:.1f} dB, {at.limit.document} allows"
                f" {at.limit_db.value:.1f} dB"
            )
            verdict = Verdict.FAILS
    if not told:
        told.append(
            f"fixed cable {link.horizontal_ft:.0f} ft of {fixed_most_m / M_PER_FT:.0f} ft at"
            f" {link.celsius:.0f} C, cords {link.cords_ft:.0f} ft of {10 / M_PER_FT:.0f} ft"
        )
    return LinkReport(tuple(losses), longest, table, delay, loop, verdict, tuple(told))
