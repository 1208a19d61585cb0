"""Limit lines of four-pair cabling, with how each was confirmed; fitted lines never give a verdict.

A line is data (tables/limits_568.toml); this file turns it into dB at a frequency. Each line refuses a
frequency outside its category: 100, 250 and 500 MHz for 5e, 6 and 6A.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from bayrun.cables.ranges import Limit, Verdict, check_ranges, judge, one_of, refuse
from bayrun.tables.physics import physics_table
from bayrun.units import Figure

CATEGORIES = ("5e", "6", "6A")
QUANTITIES = ("insertion loss", "NEXT", "PSNEXT", "ACR-F", "return loss")
LOWEST_MHZ = 1.0


def power_of_ten_sum(cable_db: float, hardware_db: float, m: int) -> float:
    """Voltage sum of the crosstalk of a cable and of ``m`` connections [dB]."""
    return -20 * math.log10(10 ** (-cable_db / 20) + m * 10 ** (-hardware_db / 20))


@dataclass(frozen=True, slots=True)
class LimitLine:
    """One limit line.

    Args:
        quantity: One of ``QUANTITIES``.
        category: ``5e``, ``6`` or ``6A``.
        link: ``channel``, ``permanent link``, or an ISO class.
        document: Where it stands.
        known: ``confirmed``, ``from memory`` or ``fitted``.
        by: What was read, or why it is only remembered.
        highest_mhz: Top of the category.
        row: The coefficients, as pairs of name and value.
    """

    quantity: str
    category: str
    link: str
    document: str
    known: str
    by: str
    highest_mhz: float
    row: tuple[tuple[str, Any], ...]

    @property
    def gives_verdicts(self) -> bool:
        """False for fitted lines: agreement with what they were fitted to proves nothing."""
        return self.known != "fitted"

    @property
    def is_most(self) -> bool:
        """Insertion loss has a greatest value, all others a least."""
        return self.quantity == "insertion loss"

    @property
    def source(self) -> str:
        """Document and how the line is known, in one phrase."""
        return f"{self.document} ({self.known}: {self.by})"

    def at(self, mhz: float) -> Figure:
        """The limit at a frequency [dB].

        Raises:
            RangeError: Below 1 MHz or above the category's top.
        """
        check_ranges(frequency_limit(mhz, self.category))
        row = dict(self.row)
        match self.quantity:
            case "insertion loss":
                value, formula = self._loss_db(row, mhz)
            case "return loss":
                value, formula = self._return_db(row, mhz)
            case "ACR-F":
                value = power_of_ten_sum(
                    row["cable"] - 20 * math.log10(mhz / 100),
                    row["hardware"] - 20 * math.log10(mhz / 100),
                    row["m"],
                )
                formula = f"voltage sum of the cable and {row['m']} connections"
            case _:
                value, formula = self._next_db(row, mhz)
        return Figure(
            value,
            "dB",
            formula,
            self.source,
            (("frequency", f"{mhz:g} MHz"), ("category", self.category), ("link", self.link)),
        )

    def judge(self, measured_db: float, mhz: float, plus_minus_db: float = 0.0) -> Verdict:
        """Hold a measured or computed value against the line; a fitted line cannot tell."""
        limit = self.at(mhz).value
        figure = Figure(measured_db, "dB", "as given", "as given", (), plus_minus_db)
        if self.is_most:
            return judge(figure, at_most=limit, known=self.gives_verdicts)
        return judge(figure, at_least=limit, known=self.gives_verdicts)

    def _loss_db(self, row: Mapping[str, Any], mhz: float) -> tuple[float, str]:
        root = math.sqrt(mhz)
        cable = row["a"] * root + row["b"] * mhz + row["c"] / root
        value = row["cable_factor"] * cable + row["connections"] * row["hardware"] * root
        value += row.get("deviation", 0.0) * mhz**1.5
        formula = f"{row['cable_factor']:g} x cable + {row['connections']} x {row['hardware']:g} sqrt f"
        if "deviation" in row:
            formula += f" + {row['deviation']:g} f^1.5"
        return max(value, row.get("floor", 0.0)), formula

    def _next_db(self, row: Mapping[str, Any], mhz: float) -> tuple[float, str]:
        if "upper_from" in row and mhz > row["upper_from"]:
            value = row["upper"] - row["upper_slope"] * math.log10(mhz / row["upper_from"])
            return value, f"{row['upper']:g} - {row['upper_slope']:g} log(f/{row['upper_from']:g})"
        value = power_of_ten_sum(
            row["cable"] - 15 * math.log10(mhz / 100), row["hardware"] - 20 * math.log10(mhz / 100), row["m"]
        )
        return min(
            value, row["cap"]
        ), f"voltage sum of cable and {row['m']} connection(s), at most {row['cap']:g}"

    def _return_db(self, row: Mapping[str, Any], mhz: float) -> tuple[float, str]:
        constant, slope = next((c, k) for top, c, k in row["pieces"] if mhz <= top * (1 + 1e-9))
        if slope:
            return constant - slope * math.log10(mhz), f"{constant:g} - {slope:g} log f"
        return constant, f"{constant:g} dB"


def highest_mhz(category: str) -> float:
    """Top of a category [MHz].

    Raises:
        RangeError: Not a category in the table.
    """
    wrong = one_of("a category", category, CATEGORIES)
    refuse([wrong] if wrong else [])
    return float(physics_table("limits_568")["cable"][category]["highest_mhz"])


def frequency_limit(mhz: float, category: str) -> Limit:
    """The range of frequencies of a category."""
    return Limit("a frequency", mhz, LOWEST_MHZ, highest_mhz(category), "MHz", f"category {category}")


def limit_lines() -> tuple[LimitLine, ...]:
    """Every line of the table."""
    data = physics_table("limits_568")
    lines = []
    for told in data["line"]:
        row = dict(told)
        cable = data["cable"][row["category"]]
        if row["quantity"] == "insertion loss":
            row = {**{key: cable[key] for key in ("a", "b", "c", "hardware")}, **row}
        named = {
            key: str(row.pop(key)) for key in ("quantity", "category", "link", "document", "known", "by")
        }
        top = float(cable["highest_mhz"])
        lines.append(LimitLine(**named, highest_mhz=top, row=tuple(sorted(row.items()))))
    return tuple(lines)


def limit_line(quantity: str, category: str, link: str = "channel") -> LimitLine:
    """One line.

    Raises:
        RangeError: The table has none such; the message lists what it has.
    """
    lines = limit_lines()
    for line in lines:
        if (line.quantity, line.category, line.link) == (quantity, category, link):
            return line
    listed = sorted({f"{x.quantity} {x.category} {x.link}" for x in lines if x.quantity == quantity})
    refuse([f"no {quantity} line for category {category}, {link}; there are: {', '.join(listed) or 'none'}"])
    raise AssertionError
