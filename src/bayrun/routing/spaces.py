"""Cells and ways in floors and attics: strips between joists, open space over and through trusses."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from bayrun.framing import Frame, Member, obstacle_heights, obstacle_plan
from bayrun.geometry import TOUCH_IN, Rect, subtract_all
from bayrun.house import Barrier, FloorFrame, Job, room_at
from bayrun.routing.allow import Allowance
from bayrun.routing.prices import hole_price
from bayrun.routing.records import Cell, Place, Point3, Slot
from bayrun.routing.zones import low_roof, power_over_plan

REACH_IN = 3.0
"""How far a space is counted past its frame's area: to the far face of the plates it bears on [in]."""
OVER_CHORD_IN = 0.5
"""Cables run this far over the bottom chords [in]."""
SIDE_IN = 1.0
"""How far from a board or a joist's face the two sides of a way stand [in]."""
LARGEST_BOARD_HOLE_IN = 1.5
"""A hole in a draftstop is kept small enough to seal [in]. Common practice, no source."""
MOST_JOIST_IN = 6.0
"""A doubled joist is crossed; a wider group is gone around [in]."""


def is_open(frame: FloorFrame) -> bool:
    """True where cables may run both ways without drilling: over roof members, through open webs."""
    return "truss" in frame.kind or frame.below_level is None


def run_height_in(frame: FloorFrame) -> float:
    """World height at which cables run in a frame: over chords, else mid-depth [in]."""
    if frame.below_level is None:
        return frame.z_top_in + OVER_CHORD_IN
    return (frame.z_bottom_in + frame.z_top_in) / 2


def _blocked(job: Job, frame: Frame, floor: FloorFrame) -> tuple[Rect, ...]:
    """Plan rectangles that nothing may run through at a frame's running height."""
    z = run_height_in(floor)
    margin_in = job.practice.obstacle_margin_in
    found = [Rect(*o.rect) for o in job.floor_openings if floor.id in o.frames]
    for m in frame.members:
        solid = m.role in ("beam", "edge member", "barrier", "concrete", "post")
        if solid and m.box.z0 < z < m.box.z1 and m.box.plan.overlaps(floor.rect.grown(REACH_IN)):
            found.append(m.box.plan.grown(0.25))
    for obstacle in job.obstacles:
        plan = obstacle_plan(obstacle)
        if plan is None or obstacle.passes_over_in is not None:
            continue
        for low, high in obstacle_heights(job, obstacle):
            if low - margin_in < z < high + margin_in and plan.overlaps(floor.rect):
                found.append(plan.grown(margin_in))
    return tuple(sorted(set(found), key=lambda r: (r.u0, r.v0, r.u1, r.v1)))


def open_cell(job: Job, frame: Frame, floor: FloorFrame) -> Cell:
    """The one open cell of a trussed floor or an attic."""
    factor, rect = space_factor(job, floor), floor.rect.grown(REACH_IN)
    shut, low = low_roof(job, floor, REACH_IN)
    return Cell(
        id=f"{floor.id}/space",
        kind="open",
        host=floor.id,
        level=floor.above_level or "",
        rect=rect,
        run_z=run_height_in(floor),
        blocked=(*_blocked(job, frame, floor), *shut),
        axis=floor.direction,
        factor=factor,
        says="attic" if floor.below_level is None else f"floor of level {floor.below_level}",
        straight=job.practice.straight_in_open_space,
        dear=(*low, *power_over_plan(job, rect, run_height_in(floor), factor)),
    )


def space_factor(job: Job, floor: FloorFrame) -> float:
    """How much a foot counts in a frame: more in an attic, and over the ground where one crawls."""
    if floor.below_level is None:
        return job.practice.costs.attic_factor
    return job.practice.costs.crawl_factor if floor.above_level is None else 1.0


def _uv(axis: str, rect: Rect) -> Rect:
    """A plan rectangle with ``u`` along the members and ``v`` across them (and back again)."""
    return rect if axis == "x" else Rect(rect.v0, rect.u0, rect.v1, rect.u1)


def strip_cells(job: Job, frame: Frame, floor: FloorFrame) -> list[Cell]:
    """The strips between joists, cut at stairs, beams, ducts and boards."""
    axis = floor.direction
    area = _uv(axis, floor.rect.grown(REACH_IN))
    wood = [_uv(axis, m.box.plan) for m in frame.members if _in_depth(m, floor)]
    long_ones = sorted(
        {(r.v0, r.v1) for r in (_uv(axis, m.box.plan) for m in frame.members if _repeats(m, floor))}
    )
    edges = [area.v0, *itertools.chain.from_iterable(long_ones), area.v1]
    holes = [*wood, *(_uv(axis, r) for r in _blocked(job, frame, floor))]
    mains = [
        _uv(axis, plan)
        for o in job.obstacles
        if o.passes_over_in is not None and floor.id in o.frames and (plan := obstacle_plan(o)) is not None
    ]
    cells: list[Cell] = []
    for low, high in zip(edges[::2], edges[1::2], strict=True):
        if high - low <= 1.0:
            continue
        pieces = subtract_all(Rect(area.u0, low, area.u1, high), holes)
        for rect in sorted(pieces, key=lambda r: (r.u0, r.v0)):
            if rect.width < 2.0 or rect.height < 1.0:
                continue
            cells.append(
                Cell(
                    id=f"{floor.id}/strip-{len(cells) + 1}",
                    kind="strip",
                    host=floor.id,
                    level=floor.above_level or "",
                    rect=_uv(axis, rect),
                    run_z=run_height_in(floor),
                    axis=axis,
                    crossing_only=any(rect.overlaps(m) for m in mains),
                    factor=space_factor(job, floor),
                    says=f"floor of level {floor.below_level}",
                    dear=power_over_plan(
                        job, _uv(axis, rect), run_height_in(floor), space_factor(job, floor)
                    ),
                )
            )
    return cells


def _in_depth(m: Member, floor: FloorFrame) -> bool:
    z = run_height_in(floor)
    return (m.host == floor.id or m.role == "beam") and m.box.z0 < z < m.box.z1


def _repeats(m: Member, floor: FloorFrame) -> bool:
    return m.host == floor.id and m.role in ("joist", "I-joist", "rafter") and "/edge-" not in m.id


def joist_ways(allowance: Allowance, frame: Frame, floor: FloorFrame, cells: Sequence[Cell]) -> list[Place]:
    """Ways across joists: at factory knockouts, or holes drilled at mid-depth."""
    job, axis = allowance.job, floor.direction
    allowed = allowance.joist(floor)
    if allowed is None:
        return []
    every_in = floor.knockouts.every_in if floor.knockouts else 24.0
    area = _uv(axis, floor.rect)
    spans = floor.spans_in or ((area.u0, area.u1),)
    wood = sorted(
        (m for m in frame.members if _in_depth(m, floor)), key=lambda m: (_uv(axis, m.box.plan).v0, m.id)
    )
    price = hole_price(job.practice.costs, ladder=True, drilled=not allowed.fixed, plates=allowed.plates)
    step_in = allowed.diameter_in + allowance.joist_gap_in(floor)
    places: list[Place] = []
    flat = [(c, _uv(axis, c.rect)) for c in cells]
    flat.sort(key=lambda pair: (pair[1].v0, pair[1].u0))
    for (a, ra), (b, rb) in itertools.combinations(flat, 2):
        gap_in = rb.v0 - ra.v1
        if not TOUCH_IN < gap_in < MOST_JOIST_IN:
            continue
        low, high = max(ra.u0, rb.u0), min(ra.u1, rb.u1)
        for at in _stations(low, high, spans, every_in):
            between = [
                m
                for m in wood
                if (r := _uv(axis, m.box.plan)).v0 > ra.v1 - TOUCH_IN
                and r.v1 < rb.v0 + TOUCH_IN
                and r.u0 < at < r.u1
            ]
            wide_in = sum(_uv(axis, m.box.plan).height for m in between)
            if not between or abs(wide_in - gap_in) > 0.01 or any(m.never_drilled for m in between):
                continue
            count = 1 if allowed.fixed else 3
            slots = tuple(
                _joist_slot(
                    axis,
                    at + (k // 2 + k % 2) * step_in * (1 if k % 2 else -1),
                    ra.v1,
                    rb.v0,
                    a.run_z,
                    between[0],
                )
                for k in range(count)
                if low + 1 < at + (k // 2 + k % 2) * step_in * (1 if k % 2 else -1) < high - 1
            )
            if slots:
                places.append(
                    Place(
                        id=f"{between[0].id}@{at:g}",
                        a=a.id,
                        b=b.id,
                        member=between[0].id,
                        axis="across",
                        diameter_in=allowed.diameter_in,
                        slots=slots,
                        open_price=price,
                        plies=tuple(m.id for m in between[1:]),
                        fixed=allowed.fixed,
                        level=floor.above_level or "",
                        says=between[0].says,
                    )
                )
    return places


def _stations(
    low: float, high: float, spans: Sequence[tuple[float, float]], every_in: float
) -> tuple[float, ...]:
    """Where along the joists a way may be: the maker's (or our) rhythm, a foot clear of the bearings."""
    found: list[float] = []
    for a, b in spans:
        at = a + every_in
        while at < b - every_in / 2:
            if low + 1.0 < at < high - 1.0:
                found.append(at)
            at += every_in
    return tuple(found)


def _joist_slot(axis: str, at: float, v0: float, v1: float, z: float, joist: Member) -> Slot:
    middle = (v0 + v1) / 2

    def world(v: float) -> Point3:
        return (at, v, z) if axis == "x" else (v, at, z)

    along_in = at - joist.along[0]
    return Slot(along_in, z, z - joist.up[0], world(middle), world(v0), world(v1))


def barrier_ways(allowance: Allowance, frame: Frame, cells: Sequence[Cell]) -> list[Place]:
    """Ways through boards: the named sleeve, or sealed holes where a seal is allowed."""
    job = allowance.job
    members = {m.id: m for m in frame.members if m.role == "barrier"}
    places: list[Place] = []
    for barrier in job.barriers:
        boards = [m for m in members.values() if m.host == barrier.id]
        if barrier.pass_point is not None:
            places += _sleeve(allowance, barrier, boards, cells)
        elif barrier.needs_seal:
            for board in boards:
                for cell in cells:
                    if cell.kind == "open" and board.box.z0 < cell.run_z < board.box.z1:
                        places += _board_holes(allowance, barrier, board, job.frame(cell.host), cell)
    return places


def _sleeve(
    allowance: Allowance, barrier: Barrier, boards: Sequence[Member], cells: Sequence[Cell]
) -> list[Place]:
    point = barrier.pass_point
    assert point is not None
    made = []
    for board in boards:
        flat = board.box.y1 - board.box.y0 < board.box.x1 - board.box.x0
        sides: list[Point3] = []
        for sign in (-1.0, 1.0):
            x = point.x_in if flat else point.x_in + sign * 3.0
            y = point.y_in + sign * 3.0 if flat else point.y_in
            sides.append((x, y, point.z_in))
        homes: list[Cell | None] = []
        # the sleeve may stand where two areas overlap: take the cell whose middle is on that side
        for side, sign in zip(sides, (-1.0, 1.0), strict=True):
            fitting = [c for c in cells if c.kind == "open" and c.rect.holds(side[0], side[1])]
            fitting.sort(key=lambda c: (-sign * (c.rect.center[1] if flat else c.rect.center[0]), c.id))
            homes.append(fitting[0] if fitting else None)
        if homes[0] is None or homes[1] is None:
            continue
        at = (point.x_in, point.y_in, point.z_in)
        along_in = (point.x_in if flat else point.y_in) - board.along[0]
        slot = Slot(along_in, point.z_in, point.z_in - board.up[0], at, sides[0], sides[1])
        made.append(
            Place(
                id=point.id,
                a=homes[0].id,
                b=homes[1].id,
                member=board.id,
                axis="across",
                diameter_in=point.diameter_in,
                slots=(slot,),
                open_price=hole_price(allowance.job.practice.costs, seal=True, ladder=True),
                fixed=True,
                seal=barrier.kind,
                says=f"sleeve {point.id}",
            )
        )
    return made


def _board_holes(
    allowance: Allowance, barrier: Barrier, board: Member, floor: FloorFrame, cell: Cell
) -> list[Place]:
    """Sealed holes through a draftstop, one place in each bay it crosses."""
    flat = board.box.y1 - board.box.y0 < board.box.x1 - board.box.x0
    across_members = floor.direction == ("y" if flat else "x")
    low, high = (board.box.x0, board.box.x1) if flat else (board.box.y0, board.box.y1)
    marks = [m for m in floor.members_in() if low < m < high] if across_members else []
    half_in = floor.member_width_in / 2
    stations = (
        [(p + q) / 2 for p, q in itertools.pairwise([low, *marks, high]) if q - p > 4 * half_in]
        if across_members
        else [low + 12.0 + 24.0 * k for k in range(int((high - low) / 24.0))]
    )
    bits_in = allowance.job.practice.bits_in
    diameter_in = max((b for b in bits_in if b <= LARGEST_BOARD_HOLE_IN), default=min(bits_in))
    step_in = diameter_in + max(allowance.job.practice.hole_gap_in, diameter_in)
    middle = (board.box.y0 + board.box.y1) / 2 if flat else (board.box.x0 + board.box.x1) / 2
    half_board = allowance.job.practice.obstacle_margin_in + SIDE_IN
    price = hole_price(allowance.job.practice.costs, seal=True, ladder=True)
    made = []
    for n, station in enumerate(stations):
        slots = []
        for k in range(3):
            at = station + (k // 2 + k % 2) * step_in * (1 if k % 2 else -1)
            if flat:
                center, a, b = (at, middle), (at, middle - half_board), (at, middle + half_board)
            else:
                center, a, b = (middle, at), (middle - half_board, at), (middle + half_board, at)
            z = cell.run_z
            slots.append(Slot(at - board.along[0], z, z - board.up[0], (*center, z), (*a, z), (*b, z)))
        made.append(
            Place(
                id=f"{board.id}@{n + 1}",
                a=cell.id,
                b=cell.id,
                member=board.id,
                axis="across",
                diameter_in=diameter_in,
                slots=tuple(slots),
                open_price=price,
                seal=barrier.kind,
                says=barrier.kind,
            )
        )
    return made


def adjoining_ways(job: Job, cells: Sequence[Cell]) -> list[Place]:
    """Gaps between two open spaces that touch with no board between them, over rooms and not over eaves."""
    made: list[Place] = []
    opens = [c for c in cells if c.kind == "open"]
    for a, b in itertools.combinations(opens, 2):
        if abs(a.run_z - b.run_z) > 12.0 or a.level != b.level:
            continue
        r = Rect(
            max(a.rect.u0, b.rect.u0),
            max(a.rect.v0, b.rect.v0),
            min(a.rect.u1, b.rect.u1),
            min(a.rect.v1, b.rect.v1),
        )
        if r.width < -TOUCH_IN or r.height < -TOUCH_IN:
            continue
        tall = r.height > r.width
        low, high = (r.v0, r.v1) if tall else (r.u0, r.u1)
        x, y = r.center
        for k in range(int((high - low) // 48.0) + 1):
            at = low + 24.0 + 48.0 * k
            if at > high:
                break
            px, py = (x, at) if tall else (at, y)
            if any(q.holds(px, py) for q in (*a.blocked, *b.blocked)):
                continue
            sides = ((px - 6.0, py), (px + 6.0, py)) if tall else ((px, py - 6.0), (px, py + 6.0))
            if not all(room_at(job, a.level, sx, sy) for sx, sy in sides):
                continue
            side_a, side_b = (px, py, a.run_z), (px, py, b.run_z)
            slot = Slot(at, a.run_z, 0.0, side_a, side_a, side_b)
            made.append(Place(f"{a.id}|{b.id}@{k}", a.id, b.id, "", "along", 0.0, (slot,), 0))
    return made
