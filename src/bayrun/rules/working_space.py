"""Room to stand and work before the enclosure: as good practice, by the figures of power equipment."""

from __future__ import annotations

from bayrun.findings import Finding, Severity
from bayrun.geometry import Rect, at_most, below
from bayrun.house import Enclosure, wall_name, wall_point
from bayrun.rules.case import Case
from bayrun.rules.enclosure_bay import place_of
from bayrun.rules.words import found
from bayrun.units import tape

SLUG = "enclosure-working-space"
WALK_OVER_IN = 1.0


def _front(case: Case, box: Enclosure, low_in: float, high_in: float, deep_in: float) -> Rect:
    """The floor before the box, between two offsets of its wall, in the plan [in]."""
    wall = case.walls[box.wall]
    face_in = wall.thickness_in / 2 + case.job.level(box.level).wall_board_in
    sign = 1.0 if box.side == "left" else -1.0
    a = wall_point(wall, low_in, sign * face_in)
    b = wall_point(wall, high_in, sign * (face_in + deep_in))
    return Rect(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))


def _bars(case: Case, box: Enclosure, high_in: float) -> list[tuple[str, Rect]]:
    """Walls and things on the box's level that stand lower than head height, by their plan rectangles."""
    level = case.job.level(box.level)
    bars = []
    for wall in case.job.walls:
        if wall.id == box.wall or wall.level != box.level:
            continue
        half_in = wall.thickness_in / 2 + level.wall_board_in
        (x0, y0), (x1, y1) = wall.start, wall.end
        flat = abs(y1 - y0) <= abs(x1 - x0)
        dx, dy = (0.0, half_in) if flat else (half_in, 0.0)
        rect = Rect(min(x0, x1) - dx, min(y0, y1) - dy, max(x0, x1) + dx, max(y0, y1) + dy)
        bars.append((wall_name(wall), rect))
    top_in = level.subfloor_z_in + high_in
    for thing in case.job.obstacles:
        if thing.rect is None or thing.z_in is None:
            continue
        low_in = level.subfloor_z_in + WALK_OVER_IN
        if below(thing.z_in[0], top_in) and below(low_in, thing.z_in[1]):
            bars.append((f"the {thing.kind}", Rect(*thing.rect)))
    return bars


def check(case: Case) -> tuple[Finding, ...]:
    """36 in deep, 30 in wide and 6-1/2 ft high before the box; the width may lie to either side of it.

    Advice: the clause binds power equipment that is worked on live; an inspector may hold a box with a
    receptacle to it. Walls square to the plan only; a skew wall is left out.
    Source: NEC 110.26(A).
    """
    box = case.job.chosen_enclosure
    if box is None or box.wall not in case.walls:
        return ()
    wall = case.walls[box.wall]
    if not (at_most(abs(wall.direction[0]), 1e-6) or at_most(abs(wall.direction[1]), 1e-6)):
        return ()
    clause = case.adopted.clause("working-space")
    deep_in, high_in = float(clause.value("depth_in")), float(clause.value("height_in"))
    wide_in = max(float(clause.value("width_in")), box.width_in)
    middle_in = sum(box.bay_studs_in) / 2
    half_in = box.width_in / 2
    bars = _bars(case, box, high_in)
    # The clear strip holds the whole box: its low edge goes from one limit to the other, or beside a bar.
    first, last = middle_in + half_in - wide_in, middle_in - half_in
    tries = [middle_in - wide_in / 2, first, last]
    tries += [at for _, bar in bars for at in _beside(case, box, bar, wide_in) if first <= at <= last]
    met: dict[str, None] = {}
    for low in tries:
        front = _front(case, box, low, low + wide_in, deep_in)
        hits = [name for name, bar in bars if bar.overlaps(front)]
        if not hits:
            return ()
        met.update(dict.fromkeys(hits))
    says = (
        f"Before the enclosure there is no clear floor of {found(wide_in)} by {found(deep_in)}, "
        f"{tape(high_in)} high: {', '.join(met)}. Good practice; the clause speaks of power equipment, and "
        "an inspector may ask it here too."
    )
    note = Severity.NOTE
    return (Finding(SLUG, note, (box.id,), place_of(case, box), says, None, deep_in, source=clause.source),)


def _beside(case: Case, box: Enclosure, bar: Rect, wide_in: float) -> tuple[float, float]:
    """Low edges of a strip that begins or ends at a bar, as offsets along the wall [in]."""
    wall = case.walls[box.wall]
    dx, dy = wall.direction
    ends = [
        (x - wall.start[0]) * dx + (y - wall.start[1]) * dy for x, y in ((bar.u0, bar.v0), (bar.u1, bar.v1))
    ]
    return max(ends), min(ends) - wide_in
