"""The usual practice of a firm that has not said its own: what an imported house starts with."""

from __future__ import annotations

from decimal import Decimal

from bayrun.house.practice import CableKind, Practice
from bayrun.tables.firm import usual_cable_rows


def usual_cables() -> tuple[CableKind, ...]:
    """The usual cable kinds, from ``tables/firm.toml``; prices and box sizes there are invented."""
    return tuple(
        CableKind(
            letter=row["letter"],
            name=row["name"],
            diameter_in=float(row["diameter_in"]),
            line=row["line"],
            price_per_foot=Decimal(row["price_per_foot"]),
            box_ft=float(row["box_ft"]),
            bend_radius_x_diameter=float(row["bend_radius_x_diameter"]),
            pull_limit_lbf=float(row["pull_limit_lbf"]) if "pull_limit_lbf" in row else None,
            listing=row["listing"],
            connector=row["connector"],
        )
        for row in usual_cable_rows()
    )


def usual_practice() -> Practice:
    """Usual slack, fill, bits and prices with the usual cables; every value is the firm's to change."""
    return Practice(cables=usual_cables())
