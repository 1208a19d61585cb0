"""Ways sideways through studs, and gaps where a pipe ends and the bay goes on."""

from __future__ import annotations

import itertools
from collections.abc import Iterable

from bayrun.framing import Member
from bayrun.geometry import TOUCH_IN, below, near
from bayrun.house import Job, Wall, wall_point
from bayrun.routing.allow import Allowance, Allowed
from bayrun.routing.prices import hole_price
from bayrun.routing.records import Cell, Place, Slot

MOST_WOOD_IN = 4.6
"""A bit passes a king, its jack and a stud at most; backing and posts are gone around [in]."""
END_WOOD_IN = 6.0
"""Stay this far from a stud's ends where the bay allows [in]. Common practice, no source."""
SLOTS = 3


def heights_for(wall_height_in: float, wished_in: Iterable[float]) -> tuple[float, ...]:
    """Heights at which studs of a wall may be drilled: knee, overhead, and just over each location [in]."""
    heights = {26.0, wall_height_in - 16.0}
    heights.update(h + 6.0 for h in wished_in)
    return tuple(sorted(heights))


def sideways(
    allowance: Allowance, wall: Wall, members: list[Member], cells: list[Cell], heights: tuple[float, ...]
) -> list[Place]:
    """Every place where a cable may pass sideways between two bays of one wall."""
    job = allowance.job
    ordered = sorted(cells, key=lambda c: (c.rect.u0, c.rect.v0))
    wood = sorted(
        (m for m in members if m.host == wall.id and "plate" not in m.role), key=lambda m: m.along[0]
    )
    places: list[Place] = []
    known: dict[tuple[bool, ...], Allowed | None] = {}
    for a, b in itertools.combinations(ordered, 2):
        gap_in = b.rect.u0 - a.rect.u1
        low_in, high_in = max(a.rect.v0, b.rect.v0), min(a.rect.v1, b.rect.v1)
        if near(gap_in, 0.0) and high_in - low_in > 1.0:
            places.append(_gap(job, wall, a, b, b.rect.u0, (low_in + high_in) / 2, "along"))
        elif TOUCH_IN < gap_in < MOST_WOOD_IN and high_in - low_in > 2.0:
            places += _through(allowance, known, wall, wood, a, b, low_in, high_in, heights)
        wide_low, wide_high = max(a.rect.u0, b.rect.u0), min(a.rect.u1, b.rect.u1)
        if wide_high - wide_low > 0.75:
            for under, over in ((a, b), (b, a)):
                if abs(over.rect.v0 - under.rect.v1) <= TOUCH_IN:
                    middle_in = (wide_low + wide_high) / 2
                    places.append(_gap(job, wall, under, over, middle_in, over.rect.v0, "up"))
    return places


def _world(
    job: Job, wall: Wall, along_in: float, up_in: float, across_in: float = 0.0
) -> tuple[float, float, float]:
    x, y = wall_point(wall, along_in, across_in)
    return x, y, job.level(wall.level).subfloor_z_in + up_in


def _gap(job: Job, wall: Wall, a: Cell, b: Cell, along_in: float, up_in: float, axis: str) -> Place:
    at = _world(job, wall, along_in, up_in)
    slot = Slot(along_in, up_in, 0.0, at, at, at)
    return Place(
        id=f"{a.id}|{b.id}",
        a=a.id,
        b=b.id,
        member="",
        axis="along" if axis == "along" else "up",
        diameter_in=0.0,
        slots=(slot,),
        open_price=0,
        wall=wall.id,
        level=wall.level,
    )


def _through(
    allowance: Allowance,
    known: dict[tuple[bool, ...], Allowed | None],
    wall: Wall,
    wood: list[Member],
    a: Cell,
    b: Cell,
    low_in: float,
    high_in: float,
    heights: tuple[float, ...],
) -> list[Place]:
    job = allowance.job
    inside = [h for h in heights if low_in + END_WOOD_IN < h < high_in - END_WOOD_IN]
    if not inside:
        inside = [(low_in + high_in) / 2]
    places = []
    for height_in in inside:
        between = [
            m
            for m in wood
            if m.along[0] >= a.rect.u1 - TOUCH_IN
            and m.along[1] <= b.rect.u0 + TOUCH_IN
            and m.up[0] < height_in < m.up[1]
        ]
        wide_in = sum(m.along[1] - m.along[0] for m in between)
        if not between or abs(wide_in - (b.rect.u0 - a.rect.u1)) > 0.01:
            continue
        if any(m.never_drilled or m.role == "end stud" for m in between):
            continue
        metal = tuple(m.material == "steel" for m in between)  # all that a stud's hole depends on in one wall
        if metal not in known:
            known[metal] = allowance.stud(wall, between)
        allowed = known[metal]
        if allowed is None:
            continue
        main = max(between, key=lambda m: (m.role == "stud", m.role == "king", m.up[1] - m.up[0], m.id))
        middle_in = (main.along[0] + main.along[1]) / 2
        slots = []
        step_in = allowed.diameter_in + max(job.practice.hole_gap_in, allowed.diameter_in)
        for k in range(SLOTS):
            up_in = height_in + (k // 2 + k % 2) * step_in * (1 if k % 2 else -1)
            if below(up_in, low_in + allowed.diameter_in) or below(high_in - allowed.diameter_in, up_in):
                continue
            slots.append(
                Slot(
                    middle_in,
                    up_in,
                    0.0,
                    _world(job, wall, middle_in, up_in),
                    _world(job, wall, a.rect.u1, up_in),
                    _world(job, wall, b.rect.u0, up_in),
                )
            )
        if not slots:
            continue
        price = hole_price(
            job.practice.costs, plates=allowed.plates, ladder=height_in > 78.0, drilled=not allowed.fixed
        )
        places.append(
            Place(
                id=f"{main.id}@{height_in:g}",
                a=a.id,
                b=b.id,
                member=main.id,
                axis="along",
                diameter_in=allowed.diameter_in,
                slots=tuple(slots),
                open_price=price,
                plies=tuple(m.id for m in between if m is not main),
                fixed=allowed.fixed,
                wall=wall.id,
                level=wall.level,
                says=main.says,
            )
        )
    return places
