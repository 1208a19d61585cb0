"""How a signal fades with distance: free space, and in buildings by ITU-R P.1238.

Limits of use: each formula only for the frequencies and distances it is stated for. There is no figure for
homes
at 6 GHz in P.1238-10: it is refused there, not guessed. Source: ITU-R P.1238-10 (homes), P.1238-11 Table 2
(others).
"""

from __future__ import annotations

import math
from typing import Any

from bayrun.cables.ranges import M_PER_FT, Limit, check_ranges, one_of, refuse
from bayrun.radio.slab import LIGHT_M_PER_S
from bayrun.tables.physics import physics_table
from bayrun.units import Figure


def _far(distance_m: float, low: float, high: float, why: str) -> Limit:
    ft = 1 / M_PER_FT
    return Limit("a distance", distance_m * ft, low * ft, high * ft, "ft", why)


def free_space_db(distance_m: float, ghz: float) -> Figure:
    """Loss of free space [dB]: 20 log(4 pi d f / c).

    Args:
        distance_m: From 0.1 m; nearer is not far field.
        ghz: 0.1 to 100.
    Raises:
        RangeError: Outside these.
    """
    check_ranges(
        _far(distance_m, 0.1, math.inf, "far from the antenna"),
        Limit("a frequency", ghz, 0.1, 100.0, "GHz"),
    )
    return Figure(
        20 * math.log10(4 * math.pi * distance_m * ghz * 1e9 / LIGHT_M_PER_S),
        "dB",
        "20 log(4 pi d f / c)",
        "definition",
        (("distance", f"{distance_m / M_PER_FT:.4g} ft"), ("frequency", f"{ghz:g} GHz")),
    )


def home_loss_db(distance_m: float, ghz: float, floors: int = 0, where: str = "house") -> Figure:
    """Loss in a home, its walls counted in [dB]: 20 log f + n log d + floors - 28.

    Args:
        distance_m: 1 to 100 m.
        ghz: In a band the recommendation has a figure for: 1.8 to 2.0, 2.4 to 2.5, 5.15 to 5.35.
        floors: Floors between, 0 to 3.
        where: ``house`` or ``apartment``.
    Raises:
        RangeError: Outside these.
    """
    data = physics_table("radio")
    rules, rows = data["home_rules"], data["home"]
    fits = [row for row in rows if row["where"] == where and row["ghz"][0] <= ghz <= row["ghz"][1]]
    limits = (
        _far(distance_m, 1.0, rules["longest_m"], rules["document"]),
        Limit("floors between", floors, 0, 3, "", rules["document"]),
    )
    wrong = [limit.told() for limit in limits]
    wrong.append(one_of("a home", where, ("house", "apartment")))
    if not fits and wrong[-1] is None:
        bands = ", ".join(f"{r['ghz'][0]:g} to {r['ghz'][1]:g}" for r in rows if r["where"] == where)
        wrong.append(
            f"expected a frequency in {bands} GHz ({rules['document']} has no other figure for {where}s),"
            f" got {ghz:g} GHz"
        )
    refuse(told for told in wrong if told)
    row: dict[str, Any] = fits[0]
    by = f": {row['by']}" if "by" in row else ""
    return Figure(
        20 * math.log10(ghz * 1000) + row["n"] * math.log10(distance_m) + row["floor_db"] * floors - 28,
        "dB",
        f"20 log f_MHz + {row['n']:g} log d_m + {row['floor_db']:g} a floor - 28",
        f"{rules['document']} ({row['known']}{by}); {rules['spread']}",
        (
            ("distance", f"{distance_m / M_PER_FT:.4g} ft"),
            ("frequency", f"{ghz:g} GHz"),
            ("floors", str(floors)),
        ),
        float(rules["plus_minus_db"]),
    )


def site_loss_db(distance_m: float, ghz: float, site: str) -> Figure:
    """Loss in an office or corridor [dB]: 10 alpha log d + beta + 10 gamma log f, f in GHz.

    Args:
        site: A row of Table 2; it has none for homes.
    Raises:
        RangeError: No such row, or outside the distances and frequencies printed with it.
    """
    data = physics_table("radio")
    rows = {row["key"]: row for row in data["site"]}
    wrong = one_of("a site", site, rows)
    refuse([f"{wrong} ({data['site_rules']['document']} has no homes)"] if wrong else [])
    row, document = rows[site], data["site_rules"]["document"]
    (near_m, far_m), (low_ghz, high_ghz) = row["m"], row["ghz"]
    check_ranges(
        _far(distance_m, near_m, far_m, f"{site}, {document}"),
        Limit("a frequency", ghz, low_ghz, high_ghz, "GHz", f"{site}, {document}"),
    )
    return Figure(
        10 * row["alpha"] * math.log10(distance_m) + row["beta"] + 10 * row["gamma"] * math.log10(ghz),
        "dB",
        f"{10 * row['alpha']:g} log d_m + {row['beta']:g} + {10 * row['gamma']:g} log f_GHz",
        document,
        (("distance", f"{distance_m / M_PER_FT:.4g} ft"), ("frequency", f"{ghz:g} GHz"), ("site", site)),
        row["sigma_db"],
    )
