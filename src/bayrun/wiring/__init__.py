"""Result records of a plan: runs, holes, plates, straps, supports, seals, pulls, boxes."""

from bayrun.wiring.records import (
    Box,
    Certificate,
    ChoiceTold,
    Circle,
    Frozen,
    Grommet,
    Hole,
    NailPlate,
    PathPoint,
    Pull,
    Run,
    Seal,
    Strap,
    Support,
    Unreached,
    Wiring,
)

__all__ = [
    "Box",
    "Certificate",
    "ChoiceTold",
    "Circle",
    "Frozen",
    "Grommet",
    "Hole",
    "NailPlate",
    "PathPoint",
    "Pull",
    "Run",
    "Seal",
    "Strap",
    "Support",
    "Unreached",
    "Wiring",
]
