"""Loss budget of optical fiber: attenuation, connector pairs, splices, a splitter.

Loss is figured with the greatest loss each part may have, so a link that holds here holds in practice if
it is
clean. Limits of use: the fibers and wavelengths of the table, up to 20 km. Source: tables/optical.toml.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bayrun.cables.coax import ideal_split_db
from bayrun.cables.ranges import M_PER_FT, Limit, Verdict, judge, one_of, refuse
from bayrun.tables.physics import physics_table
from bayrun.units import Figure


@dataclass(frozen=True, slots=True)
class FiberLink:
    """One fiber end to end.

    Args:
        length_ft: Length [ft].
        connectors: Mated pairs.
        splices: Splices.
        split_ways: Outputs of a splitter on the way, 1 for none.
        split_excess_db: What the splitter loses over an ideal one [dB].
        other_db: Loss outside the house, where it is known [dB].
    """

    length_ft: float
    connectors: int = 2
    splices: int = 0
    split_ways: int = 1
    split_excess_db: float = 0.0
    other_db: float = 0.0


@dataclass(frozen=True, slots=True)
class FiberBudget:
    """A link held against an application."""

    application: str
    loss_db: Figure
    left_db: Figure
    verdict: Verdict
    reason: str


def fiber_kinds() -> tuple[str, ...]:
    """The fibers of the table."""
    return tuple(row["key"] for row in physics_table("optical")["fiber"])


def applications() -> tuple[str, ...]:
    """The applications of the table."""
    return tuple(row["key"] for row in physics_table("optical")["application"])


def loss_db(link: FiberLink, fiber: str, nm: int) -> Figure:
    """Greatest loss of a link at a wavelength [dB].

    Raises:
        RangeError: A fiber or wavelength the table has not, or counts outside a house.
    """
    data = physics_table("optical")
    rows: dict[str, Any] = {row["key"]: row["db_per_km"] for row in data["fiber"]}
    limits = (
        Limit("a length of fiber", link.length_ft, 0.0, 20_000 / M_PER_FT, "ft", "20 km"),
        Limit("mated pairs", link.connectors, 0, 20),
        Limit("splices", link.splices, 0, 50),
        Limit("ways of a splitter", link.split_ways, 1, 64),
        Limit("a splitter's excess loss", link.split_excess_db, 0.0, 5.0, "dB"),
        Limit("other loss", link.other_db, 0.0, 40.0, "dB"),
    )
    wrong = [one_of("a fiber", fiber, rows)]
    if fiber in rows:
        wrong.append(one_of(f"a wavelength [nm] of {fiber}", nm, [int(key) for key in rows[fiber]]))
    refuse(told for told in (*wrong, *(limit.told() for limit in limits)) if told)
    km, parts = link.length_ft * M_PER_FT / 1000, data["parts"]
    split = ideal_split_db(link.split_ways) + link.split_excess_db
    value = rows[fiber][str(nm)] * km + parts["connector_db"] * link.connectors
    value += parts["splice_db"] * link.splices + split + link.other_db
    return Figure(
        value,
        "dB",
        "attenuation x length + 0.75 a mated pair + 0.3 a splice + splitter + other",
        f"{data['fibers']['document']}, {parts['document']} ({parts['known']}: verify)",
        (
            ("fiber", f"{fiber} at {nm} nm"),
            ("length", f"{link.length_ft:.5g} ft"),
            ("mated pairs", str(link.connectors)),
            ("splices", str(link.splices)),
            ("splitter", f"1:{link.split_ways}, {split:.2f} dB"),
            ("other", f"{link.other_db:g} dB"),
        ),
    )


def budget(link: FiberLink, application: str) -> FiberBudget:
    """Hold a link against what an application may lose.

    Raises:
        RangeError: No such application, or a link outside its range.
    """
    rows = {row["key"]: row for row in physics_table("optical")["application"]}
    wrong = one_of("an application", application, rows)
    refuse([wrong] if wrong else [])
    row = rows[application]
    loss = loss_db(link, row["fiber"], row["nm"])
    left = Figure(
        row["most_loss_db"] - loss.value,
        "dB",
        f"{row['most_loss_db']:g} dB allowed less the loss",
        f"{row['document']} ({row['known']})",
        loss.inputs,
    )
    verdict = judge(loss, at_least=row["least_loss_db"], at_most=row["most_loss_db"])
    reason = f"{loss.value:.2f} dB of {row['most_loss_db']:g} dB"
    if link.length_ft * M_PER_FT > row["most_m"] + 1e-9:
        verdict = Verdict.FAILS
        reason = f"longer than {row['most_m']:g} m ({row['most_m'] / M_PER_FT:.0f} ft)"
    elif loss.value < row["least_loss_db"]:
        reason = (
            f"{loss.value:.2f} dB, and {row['least_loss_db']:g} dB at least are asked: tell the loss outside"
            " the house, or ask for an attenuator"
        )
    return FiberBudget(application, loss, left, verdict, reason)


def channel_loss_db(application: str) -> Figure:
    """What the application's own standard reckons for its longest channel [dB].

    Raises:
        RangeError: No such application, or its standard reckons by power levels instead.
    """
    rows = {row["key"]: row for row in physics_table("optical")["application"] if "reckoned_db_per_km" in row}
    wrong = one_of("an application", application, rows)
    refuse([wrong] if wrong else [])
    row = rows[application]
    return Figure(
        row["most_m"] / 1000 * row["reckoned_db_per_km"] + row["reckoned_connections_db"],
        "dB",
        "longest channel x 3.5 dB/km + 1.5 dB of connections",
        f"{row['document']} ({row['known']})",
        (("longest", f"{row['most_m']:g} m"),),
    )


def power_budget_db(send_least_dbm: float, receive_least_dbm: float, penalty_db: float = 0.0) -> Figure:
    """What a pair of transmitter and receiver may lose between them [dB].

    Raises:
        RangeError: Levels no such device has.
    """
    limits = (
        Limit("least power sent", send_least_dbm, -30.0, 20.0, "dBm"),
        Limit("least power received", receive_least_dbm, -50.0, 10.0, "dBm"),
        Limit("a penalty", penalty_db, 0.0, 10.0, "dB"),
    )
    refuse(told for told in (limit.told() for limit in limits) if told)
    return Figure(
        send_least_dbm - receive_least_dbm - penalty_db,
        "dB",
        "least sent - least received - penalty",
        "definition of a power budget",
        (("sent", f"{send_least_dbm:g} dBm"), ("received", f"{receive_least_dbm:g} dBm")),
    )
