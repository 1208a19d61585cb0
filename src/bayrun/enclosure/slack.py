"""Do the coils of slack go into the enclosure behind its cover, until the gear is hung?

Each run leaves its slack in the box. Runs are wound in round coils as wide as the box; a coil of n cables
with t turns is a ring whose round section holds n x t cables at a loose fill. Coils lie in columns up the box
and in layers from its back. The inside of a ring is never tighter than twice the least bend radius of its
stiffest cable.
Limits of use: one bend radius for all, coils wound by hand; the loose fill is judgment
(``tables/gear.toml``).
Source: geometry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.cables.ranges import Limit, Verdict, check_ranges, judge
from bayrun.enclosure.gear import gear_table
from bayrun.geometry import TOUCH_IN, at_least, below
from bayrun.units import Figure, tape

MOST_COILS = 24


@dataclass(frozen=True, slots=True)
class Slacked:
    """One cable's slack in the box.

    Args:
        length_in: All of it inside the box [in].
        bend_in: Least bend radius [in].
    """

    run: str
    length_in: float
    diameter_in: float
    bend_in: float


@dataclass(frozen=True, slots=True)
class Coils:
    """How the slack is coiled.

    Args:
        coils: How many.
        cables: Cables in the fullest of them.
        turns: Of the longest cable.
        across_in: Outside of a coil [in].
        inside_in: Its inside [in].
        thick_in: Its thickness [in].
        stack_in: Depth all coils take, from the back [in].
        depth_in: What the box has behind its cover [in].
    """

    coils: int
    cables: int
    turns: int
    across_in: float
    inside_in: float
    thick_in: float
    stack_in: Figure
    depth_in: float
    verdict: Verdict
    reason: str


def coil_slack(cables: Sequence[Slacked], width_in: float, height_in: float, depth_in: float) -> Coils | None:
    """The coils that take the least depth; None where there is no slack.

    Args:
        cables: Every cable's slack.
        width_in, height_in, depth_in: Clear inside of the box [in].
    Raises:
        RangeError: Sizes outside the range.
    """
    data = gear_table()["coil"]
    check_ranges(
        Limit("the box's inside width", width_in, 5.0, 60.0, "in"),
        Limit("the box's inside height", height_in, 5.0, 60.0, "in"),
        Limit("the box's depth", depth_in, 2.0, 24.0, "in"),
        *(Limit(f"slack of {c.run}", c.length_in, 0.0, 600.0, "in") for c in cables),
        *(Limit(f"the diameter of {c.run}", c.diameter_in, 0.02, 2.0, "in") for c in cables),
    )
    wound = [c for c in cables if c.length_in > TOUCH_IN]
    if not wound:
        return None
    behind_in = depth_in - data["cover_in"]
    acrosses_in = [width_in, *(height_in / n for n in range(2, 5) if below(height_in / n, width_in))]
    tries = [
        _coiled(wound, n, across_in, height_in, behind_in, data["fill"])
        for across_in in acrosses_in
        for n in _counts(len(wound))
    ]
    made = [one for one in tries if one is not None]
    if not made:
        least_in = 2 * max(c.bend_in for c in wound)
        words = f"no coil fits: the bend asks {tape(least_in)} inside it, the box is {tape(width_in)} wide"
        none = _stack(0.0, wound, data["fill"])
        return Coils(0, 0, 0, 0.0, least_in, 0.0, none, behind_in, Verdict.FAILS, words)
    return min(made, key=lambda one: (round(one.stack_in.value, 6), one.coils))


def _counts(cables: int) -> range:
    return range(1, min(cables, MOST_COILS) + 1)


def _coiled(
    wound: Sequence[Slacked], coils: int, across_in: float, height_in: float, behind_in: float, fill: float
) -> Coils | None:
    """All slack in so many like coils, or None where the ring gets too tight."""
    longest_in = max(c.length_in for c in wound)
    least_in = 2 * max(c.bend_in for c in wound)
    most = math.ceil(len(wound) / coils)
    # The thickest cables together make the fullest coil: nothing hangs on who winds which.
    square_in2 = sum(sorted((c.diameter_in**2 for c in wound), reverse=True)[:most])
    turns = max(1, math.ceil(longest_in / (math.pi * across_in) - 1e-9))
    for _ in range(40):
        thick_in = math.sqrt(square_in2 * turns / fill)
        middle_in = across_in - thick_in
        if not at_least(middle_in - thick_in, least_in):
            return None
        needed = math.ceil(longest_in / (math.pi * middle_in) - 1e-9)
        if needed <= turns:
            break
        turns = needed
    over = int((height_in + TOUCH_IN) / across_in)
    if over == 0:
        return None
    stack = _stack(math.ceil(coils / over) * thick_in, wound, fill)
    verdict = judge(stack, at_most=behind_in)
    words = (
        f"{coils} {'coil' if coils == 1 else 'coils'} {tape(_down(across_in))} across, up to {most} cables "
        f"and {turns} turns each, {tape(_round(thick_in))} thick: {tape(_round(stack.value))} of "
        f"{tape(behind_in)} behind the cover"
    )
    ends = {
        Verdict.HOLDS: "",
        Verdict.FAILS: ": too thick",
        Verdict.CANNOT_TELL: ": near the limit, by how tight the hands wind",
    }
    return Coils(
        coils,
        most,
        turns,
        across_in,
        middle_in - thick_in,
        thick_in,
        stack,
        behind_in,
        verdict,
        words + ends[verdict],
    )


def _round(length_in: float) -> float:
    """Up to the next sixteenth: a coil is never thinner than it is told [in]."""
    return math.ceil(length_in * 16 - 1e-6) / 16


def _down(length_in: float) -> float:
    """Down to the sixteenth: a coil is never wider than its room [in]."""
    return math.floor(length_in * 16 + 1e-6) / 16


def _stack(value_in: float, wound: Sequence[Slacked], fill: float) -> Figure:
    data = gear_table()["coil"]
    return Figure(
        value_in,
        "in",
        "layers x thickness of a coil, thickness = root(cables x turns x d x d / fill)",
        data["document"],
        (
            ("cables", str(len(wound))),
            ("longest", tape(max(c.length_in for c in wound))),
            ("fill", f"{fill:g}"),
        ),
        value_in * data["plus_minus_share"],
    )
