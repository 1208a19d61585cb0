"""Signal over one straight way, walls and floors counted by hand: for a place that no plan shows."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.cables.ranges import M_PER_FT, Limit, Verdict, judge, one_of, refuse
from bayrun.radio.coverage import Band, Sender, band_limits, sender_spread_db
from bayrun.radio.path_loss import free_space_db
from bayrun.radio.slab import averaged_loss_db, ready_stack, ready_stacks
from bayrun.tables.physics import physics_table
from bayrun.units import Figure


@dataclass(frozen=True, slots=True)
class OneWay:
    """What arrives, part by part."""

    band: Band
    free_db: Figure
    walls_db: tuple[tuple[str, Figure], ...]
    box_db: float
    level_dbm: Figure
    verdict: Verdict


def one_way(distance_ft: float, walls: Sequence[str], band: Band, *, boxed: bool = False) -> OneWay:
    """Level at the end of a straight way.

    Args:
        distance_ft: 3.3 to 330 ft.
        walls: A ready stack for each wall or floor passed, in any order; at most 12.
        band: What is sent and what is wanted.
        boxed: The radio stands in a closed metal enclosure.
    Raises:
        RangeError: Outside a range, or no such wall; every defect at once.
    """
    known = [name for name, _ in ready_stacks()]
    limits = (
        Limit("a distance", distance_ft, 1 / M_PER_FT, 100 / M_PER_FT, "ft", "within a house"),
        Limit("walls and floors", len(walls), 0, 12),
        *band_limits((band,)),
    )
    wrong = [told for told in (limit.told() for limit in limits) if told]
    wrong += [told for told in (one_of("a wall", name, known) for name in dict.fromkeys(walls)) if told]
    refuse(wrong)
    free = free_space_db(distance_ft * M_PER_FT, band.ghz)
    parts = tuple((name, averaged_loss_db(ready_stack(name), band.ghz)) for name in walls)
    box_db = float(physics_table("radio")["coverage"]["metal_box_db"]) if boxed else 0.0
    lost = free.value + math.fsum(part.value for _, part in parts) + box_db
    sender = Sender("radio", 0.0, 0.0, 0.0, box_db)
    level = Figure(
        band.eirp_dbm - lost,
        "dBm",
        "sent - free space - walls and floors" + (" - metal box" if boxed else ""),
        f"{free.source}; ITU-R P.2040-3 Table 3; {physics_table('radio')['coverage']['spread']}",
        (
            ("sent", f"{band.eirp_dbm:g} dBm"),
            *free.inputs,
            ("walls", ", ".join(walls) or "none"),
        ),
        sender_spread_db(sender),
    )
    return OneWay(band, free, parts, box_db, level, judge(level, at_least=band.wanted_dbm))
