"""How long a battery keeps the gear running.

Source: energy t = V Ah x usable x efficiency / P, and Peukert's law; both from memory. Limits of use: small
battery backups outside the enclosure, 6 to 60 V, at room temperature; an old battery holds half.
"""

from __future__ import annotations

from bayrun.cables.ranges import Limit, check_ranges
from bayrun.tables.physics import physics_table
from bayrun.units import Figure


def runtime_minutes(
    volts: float, amp_hours: float, watts: float, usable: float = 0.8, efficiency: float = 0.85
) -> Figure:
    """Minutes a battery lasts by its energy.

    Args:
        volts, amp_hours: Of the battery; 6 to 60 V, 1 to 500 Ah.
        watts: Drawn by the gear [W], 1 to 2000.
        usable: Share of the energy that may be taken, 0.2 to 1.
        efficiency: Of the inverter, 0.4 to 1.
    Raises:
        RangeError: Outside these.
    """
    check_ranges(
        Limit("a battery's volts", volts, 6.0, 60.0, "V"),
        Limit("a battery's charge", amp_hours, 1.0, 500.0, "Ah"),
        Limit("watts drawn", watts, 1.0, 2000.0, "W"),
        Limit("the usable share", usable, 0.2, 1.0),
        Limit("the efficiency", efficiency, 0.4, 1.0),
    )
    value = 60 * volts * amp_hours * usable * efficiency / watts
    return Figure(
        value,
        "min",
        "volts x amp-hours x usable x efficiency / watts; half of it for an old battery",
        physics_table("heat")["battery"]["document"],
        (("battery", f"{volts:g} V {amp_hours:g} Ah"), ("drawn", f"{watts:g} W")),
        value * 0.25,
    )


def peukert_minutes(amp_hours: float, rated_hours: float, amps: float, exponent: float = 1.2) -> Figure:
    """Minutes a battery lasts at a current, by Peukert's law: H (C / (I H))^k.

    Args:
        amp_hours: Charge at the rate of ``rated_hours``.
        amps: Drawn from the battery [A].
        exponent: 1.0 to 1.4; lead 1.1 to 1.3, lithium about 1.05.
    Raises:
        RangeError: Outside these.
    """
    data = physics_table("heat")["battery"]
    check_ranges(
        Limit("a battery's charge", amp_hours, 1.0, 500.0, "Ah"),
        Limit("rated hours", rated_hours, 1.0, 100.0, "h"),
        Limit("a current", amps, 0.0, 200.0, "A", above=True),
        Limit("Peukert's exponent", exponent, data["peukert_least"], data["peukert_most"]),
    )
    return Figure(
        60 * rated_hours * (amp_hours / (amps * rated_hours)) ** exponent,
        "min",
        "H (C / (I H))^k",
        data["document"],
        (
            ("battery", f"{amp_hours:g} Ah at {rated_hours:g} h"),
            ("drawn", f"{amps:g} A"),
            ("k", f"{exponent:g}"),
        ),
    )
