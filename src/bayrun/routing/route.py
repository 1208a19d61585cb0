"""``route``: from a job and its frame to runs with explicit holes."""

from __future__ import annotations

import itertools
import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from bayrun.cables.packing import PackingCache
from bayrun.framing import Frame
from bayrun.geometry import Rect, below, clamp
from bayrun.house import End, Job, WishedRun, face_room
from bayrun.routing.bends import bend_in, tight_places
from bayrun.routing.bound import certificate, commodities, cost_check
from bayrun.routing.build import Passages, is_box, passages, terminal
from bayrun.routing.carry import carried_names
from bayrun.routing.decided import decided
from bayrun.routing.entries import share_out
from bayrun.routing.keep import Keeper, old_line
from bayrun.routing.make_room import make_room
from bayrun.routing.memo import Memo
from bayrun.routing.mesh import Mesh, Node, weave
from bayrun.routing.pinned import lay_pinned
from bayrun.routing.prices import inch_price
from bayrun.routing.records import Cell, Place, Point3
from bayrun.routing.settle import settle
from bayrun.routing.solver import Errand, Laid, Progress, Solver
from bayrun.routing.standing import drawn, moved_holes, standing
from bayrun.routing.tell import Teller
from bayrun.routing.walker import Walker
from bayrun.routing.ways import around, in_bay, in_plan, joined, x_first_in
from bayrun.wiring import Certificate, Circle, Frozen, Hole, PathPoint, Run, Unreached, Wiring

MOST_MOVES = 300
MOVES_TIMES_RUNS = 9000
MANY_GROUPS = 12
MOVES_A_GROUP = 8
"""Where few groups of runs move from a base plan, so many trials for each; else all are improved."""
INSIDE_STRIP_IN = 0.75
"""A cable that drops beside a joist keeps this far from its face [in]."""


def route(
    job: Job,
    frame: Frame,
    progress: Progress | None = None,
    *,
    base: Wiring | None = None,
    frozen: Frozen | None = None,
    certify: bool = False,
    memo: Memo | None = None,
) -> Wiring:
    """Plan every wished run through the frame.

    Each crossing of a member is an explicit hole with its circles; a run without a way is told with the
    last place it reached and what bars it, and everything else is still planned.

    Args:
        job: House, wishes and the firm's practice.
        frame: As ``framing.lay_out(job)`` gives it.
        progress: Called with ("routed", done, total) as groups of runs are laid.
        base: The plan last issued: what nothing asks to move stays as it is there, holes keep their names,
            and names are never used again.
        frozen: Work that is done: it stands as it is, and what it breaks is a finding.
        memo: Parts of graphs made before for the same building; the plan is the same with or without.
        certify: Also find what no plan on this passage graph can undercut (a second or so).
    Returns:
        Runs in the order of the wishes; holes numbered in the order of the building.
    """
    return _Router(job, frame, base, frozen or Frozen(), memo).route(progress, certify)


def polish_moves(runs: int) -> int:
    """Moves of the last improvement: the more runs, the fewer, so that a large house stays quick."""
    return min(MOST_MOVES, MOVES_TIMES_RUNS // max(1, runs))


@dataclass(frozen=True, slots=True)
class _Spot:
    """One node of a way with the hole slot really taken there."""

    node: Node
    at: Point3


class _Router:
    def __init__(
        self, job: Job, frame: Frame, base: Wiring | None, frozen: Frozen, memo: Memo | None = None
    ) -> None:
        self.job, self.frame, self.base, self.frozen = job, frame, base, frozen
        self.settled = settle(job, frame, passages(job, frame, memo))
        self.standing = standing(job, frame, self.settled, base, frozen)
        self.passages: Passages = self.standing.passages
        self.mesh: Mesh = weave(self.passages, memo)
        self.old_runs = {r.id: r for r in (base.runs if base is not None else ())}
        self.packing = PackingCache()
        self.cells = {c.id: c for c in self.passages.cells}
        self.places = self.passages.places
        self.members = {m.id: m for m in frame.members}
        self.walls = {w.id: w for w in job.walls}
        practice = job.practice
        self.solver = Solver(self.mesh, self.places, practice.fill_max, practice.hole_gap_in, self.packing)

    def route(self, progress: Progress | None, certify: bool) -> Wiring:
        errands = self._errands()
        for asked in self.settled.asked:
            for place in asked.places:
                self.solver.open_set(place)
        stands = self.standing.put(self.solver, errands)
        free = [e for e in errands if e.run not in stands.runs]
        pinned = lay_pinned(self.job, self.solver, self.members, {self.job.runs[e.run].id: e for e in free})
        bits_in: Mapping[int, float] = {}
        if self.base is not None:
            walker = Walker(self.mesh, self.places, self.passages.cells)
            instead = moved_holes(self.base, self.settled.asked, self.places)
            keeper = Keeper(self.solver, walker, self.base, instead, stands.keys)
            rest = [e for e in free if e.run not in self.solver.laid]
            bits_in = keeper.keep(rest, self.job.runs, self.settled.avoid).bits_in
        groups = self._groups([e for e in free if e.run not in self.solver.laid])
        stuck = self.solver.solve(groups, progress)
        if stuck and self.base is not None:  # runs of the base fill the holes: as few of them move as must
            mine = {e.run for g in groups for e in g} | {
                e.run for p in pinned if p.laid for e in (p.laid.errand,)
            }
            stuck, _ = make_room(self.solver, stuck, {e.run: e for e in free if e.run not in mine})
        lost = {e.run for e in stuck}
        moves = polish_moves(sum(map(len, groups)))
        if self.base is not None and len(groups) < MANY_GROUPS:
            moves = min(moves, MOVES_A_GROUP * len(groups))
        self.solver.polish(groups, moves)
        brought = {e.run: e for g in share_out(self.job, self.solver, groups, moves // 2) for e in g}
        order = self._hole_order()
        unnamed = [stands.as_drilled(k, h) for k, h in zip(order, self._holes(order, bits_in), strict=True)]
        spots = {a: asked.spot for asked in self.settled.asked for a in asked.places[:1]}
        moved = {n: spots[p] for n, k in enumerate(order) if (p := self.solver.holes[k].place) in spots}
        chalked = [d.id for d in self.frozen.holes]
        names = carried_names([*unnamed, *stands.closed], self.base, moved, chalked)
        holes = [replace(h, id=n) for h, n in zip([*unnamed, *stands.closed], names, strict=True)]
        hole_ids = dict(zip(order, names, strict=False))
        teller = Teller(self.job, self.passages, self.mesh)
        runs, unreached = [], []
        for index, wished in enumerate(self.job.runs):
            laid = self.solver.laid.get(index)
            if index in stands.runs:
                runs.append(stands.runs[index])
            elif laid is None or index in lost:
                unreached.append(self._unreached(wished, teller))
            else:
                runs.append(self._run(wished, laid, hole_ids, teller))
        every = self._groups([brought.get(e.run, e) for e in free])
        return Wiring(
            runs=tuple(runs),
            holes=tuple(holes),
            unreached=tuple(unreached),
            blocked_plates=self.passages.blocked_plates,
            cost=self.solver.cost() + self._set_price(order),
            certificate=self._certificate(every, not lost, progress) if certify else None,
            choices=decided(self.job, self.settled, self.solver, hole_ids, pinned, holes),
            frozen=self.frozen,
            done_told=self.standing.told,
            retired=self._retired(names),
        )

    def _retired(self, names: Sequence[str]) -> tuple[str, ...]:
        """Names of holes that were given once and stand for nothing now."""
        base = self.base or Wiring((), ())
        gone = {*base.retired, *(h.id for h in base.holes)} - set(names)
        return tuple(sorted(gone, key=lambda n: (len(n), n)))

    def _set_price(self, order: Sequence[int]) -> int:
        """What the holes by choice cost that the graph gave for nothing [micro-currency]."""
        price = {p: asked.price for asked in self.settled.asked for p in asked.places}
        return sum(price.get(self.solver.holes[key].place, 0) for key in order)

    def _certificate(
        self, groups: list[list[Errand]], planned: bool, progress: Progress | None
    ) -> Certificate:
        if progress is not None:
            progress("checking the cost", 1, 1)
        fill = self.job.practice.fill_max
        found = commodities(groups, set(self.solver.laid))
        check = cost_check(self.mesh, self.places, found, fill, self.solver.cost(), planned)
        proof = json.dumps(certificate(check, self.mesh, self.places, fill), separators=(",", ":"))
        return Certificate(check.bound, check.cost, planned, proof)

    # what to lay

    def _errands(self) -> list[Errand]:
        made = []
        radii_in = {run.kind: bend_in(self.job.practice.cable(run.kind)) for run in self.job.runs}
        tight = tight_places(self.passages.cells, self.places, radii_in)
        for index, wished in enumerate(self.job.runs):
            kind = self.job.practice.cable(wished.kind)
            errand = Errand(
                run=index,
                kind=wished.kind,
                source=terminal(self.job, wished.from_end),
                target=terminal(self.job, wished.to_end),
                diameter_in=kind.diameter_in,
                inch=inch_price(self.job.practice.costs, kind),
                avoid=(*self.settled.avoid(wished), *tight[wished.kind]),
            )
            made.append(errand)
        return made

    def _groups(self, errands: Sequence[Errand]) -> list[list[Errand]]:
        grouped: dict[tuple[str, str, str, tuple[int, ...]], list[Errand]] = {}
        for errand in errands:
            key = errand.source, errand.target, errand.kind, errand.avoid
            grouped.setdefault(key, []).append(errand)
        return [
            group
            for _, group in sorted(grouped.items(), key=lambda pair: (-self._apart(*pair[0][:2]), pair[0]))
        ]

    def _apart(self, source: str, target: str) -> float:
        a, b = self.mesh.terminals.get(source), self.mesh.terminals.get(target)
        if a is None or b is None:
            return 0.0
        p, q = self.mesh.nodes[a].at, self.mesh.nodes[b].at
        return round(abs(p[0] - q[0]) + abs(p[1] - q[1]) + abs(p[2] - q[2]), 3)

    # holes

    def _hole_order(self) -> list[int]:
        """Keys of the holes in use in the order of the building: level, wall, along, up."""
        order = {w.id: i for i, w in enumerate(self.job.walls)}
        levels = {level.id: i for i, level in enumerate(self.job.levels)}

        def key(item: int) -> tuple[float, ...]:
            hole = self.solver.holes[item]
            place = self.places[hole.place]
            slot = place.slots[hole.slot]
            wall = order.get(place.wall, len(order))
            level = levels.get(place.level, len(levels))
            return level, wall, slot.along_in, slot.up_in, slot.across_in, *slot.at, hole.place, item

        places, holes = self.places, self.solver.holes
        used = [k for k, hole in holes.items() if hole.runs or places[hole.place].set_by == "done"]
        return sorted(used, key=key)

    def _holes(self, order: Sequence[int], bits_in: Mapping[int, float]) -> list[Hole]:
        made = []
        for key in order:
            hole = self.solver.holes[key]
            place, slot = self.places[hole.place], self.places[hole.place].slots[hole.slot]
            runs = sorted(hole.runs)
            sizes = [self.solver.sizes[r] for r in runs]
            diameter_in = place.bit_in or place.diameter_in
            if not place.fixed and not place.bit_in:
                diameter_in = self._bit(place, sizes, bits_in.get(key, 0.0))
            found = self.packing.fits(diameter_in, sizes) or drawn(diameter_in, sizes)
            room = ""
            if place.wall:
                wall = self.walls[place.wall]
                rooms = [face_room(wall, "left", slot.along_in), face_room(wall, "right", slot.along_in)]
                room = next((r for r in rooms if r and r != "outside"), "")
                boxes = [b for b in self.job.built_enclosures if b.wall == place.wall and b.room in rooms]
                if boxes:  # drilled from where the crew stands before the box
                    room = min(boxes, key=lambda b: abs(sum(b.bay_studs_in) / 2 - slot.along_in)).room
            lying = [(r, c) for r, c in zip(runs, found, strict=True) if r >= 0]
            made.append(
                Hole(
                    id="",
                    member=place.member,
                    axis=place.axis,
                    along_in=slot.along_in,
                    up_in=slot.up_in,
                    across_in=slot.across_in,
                    x=slot.at[0],
                    y=slot.at[1],
                    z=slot.at[2],
                    diameter_in=diameter_in,
                    occupants=tuple(self.job.runs[r].id for r, _ in lying),
                    circles=tuple(Circle(c.x_in, c.y_in, c.radius_in) for _, c in lying),
                    plies=place.plies,
                    open_passage=place.fixed,
                    wall=place.wall,
                    level=place.level,
                    room=room,
                    set_by=place.set_by,
                )
            )
        return made

    def _bit(self, place: Place, sizes: Sequence[float], before_in: float) -> float:
        """The bit the hole had, if it takes what lies here; else the smallest on the truck that does."""
        practice = self.job.practice
        area = sum(d * d for d in sizes)
        bits_in: list[float] = [before_in] if before_in else []
        for bit_in in (*bits_in, *sorted(practice.bits_in)):
            if below(bit_in, practice.least_hole_in) or below(place.diameter_in, bit_in):
                continue
            if below(practice.fill_max * bit_in**2, area):
                continue
            if self.packing.fits(bit_in, sizes) is not None:
                return bit_in
        return place.diameter_in

    # runs

    def _run(self, wished: WishedRun, laid: Laid, ids: dict[int, str], teller: Teller) -> Run:
        points, entry = self._points(laid, ids)
        old = self.old_runs.get(wished.id)
        if old is not None and points != old.path:
            points = old_line(old, points, self.passages.cells) or points
        from_slack = self._slack(wished.from_end)
        to_slack = self._slack(wished.to_end)
        run = Run(
            id=wished.id,
            kind=wished.kind,
            from_end=wished.from_end,
            to_end=wished.to_end,
            path=points,
            slack_from_in=from_slack,
            slack_to_in=to_slack,
            entry=entry,
            way=teller.way(laid.nodes, wished),
        )
        reason = teller.reason(run, laid.nodes)
        return replace(run, reason=reason)

    def _slack(self, end: End) -> float:
        """Cable left at an end; at the enclosure through the box to its far corner and on [in]."""
        slack = self.job.practice.slack
        box = self.job.enclosure_at(end)
        if box is not None:
            return box.width_in / 2 + box.height_in + slack.enclosure_in
        if end.type == "device":
            gear = self.job.gear_of(end.id)
            return slack.gear_in if gear.slack_in is None else gear.slack_in
        location = self.job.location(end.id)
        return slack.for_mount(location.mount) if location.slack_in is None else location.slack_in

    def _points(self, laid: Laid, ids: dict[int, str]) -> tuple[tuple[PathPoint, ...], str]:
        slots = {}
        for place, key in laid.passed:
            slots[place] = (self.solver.holes[key].slot if key >= 0 else 0, ids.get(key, ""))
        spots: list[_Spot] = []
        entries: list[str] = []
        for n in laid.nodes:
            node = self.mesh.nodes[n]
            if "/" in node.end and is_box(node.end):
                entries.append(node.end.split("/")[1])
            if not node.cell:
                continue
            at = node.at
            if node.place in slots:
                slot = self.places[node.place].slots[slots[node.place][0]]
                at = slot.a if node.side == 0 else slot.b
            spots.append(_Spot(node, at))
        points = [PathPoint(*spots[0].at)] if spots else []
        for a, b in itertools.pairwise(spots):
            if a.node.place >= 0 and a.node.place == b.node.place and a.node.side != b.node.side:
                passed = self.places[a.node.place]
                slot_index, hole_id = slots[a.node.place]
                x, y, z = passed.slots[slot_index].at
                if passed.member:
                    points.append(PathPoint(x, y, z, hole=hole_id, member=passed.member))
                points.append(PathPoint(*b.at))
                continue
            cell = self.cells[a.node.cell]
            points += [PathPoint(*p) for p in self._leg(cell, a, b)]
        return joined(points), "/".join(entries)

    def _face(self, spot: _Spot) -> str:
        if is_box(spot.node.end):
            return "end"
        if spot.node.place < 0:
            return "free"
        return "side" if self.places[spot.node.place].axis == "along" else "end"

    def _leg(self, cell: Cell, a: _Spot, b: _Spot) -> list[Point3]:
        if cell.kind == "bay":
            wall = self.walls[cell.host]
            return list(in_bay(wall.direction, a.at, b.at, self._face(a), self._face(b)))
        head = self._beside_wood(cell, a) if a.node.end else a.at
        tail = self._beside_wood(cell, b) if b.node.end else b.at
        x_first = x_first_in(cell, head, tail) if cell.kind == "open" else cell.axis == "y"
        if x_first is None:
            return [a.at, *around(cell, head, tail), b.at]
        return [a.at, *in_plan(cell, head, tail, x_first), b.at]

    def _beside_wood(self, cell: Cell, spot: _Spot) -> Point3:
        """Where the cable of a ceiling location really goes up: beside a chord or joist, never through it."""
        x, y, z = spot.at
        if cell.kind == "strip":
            r = cell.rect.grown(-INSIDE_STRIP_IN)
            return clamp(x, r.u0, r.u1), clamp(y, r.v0, r.v1), z
        for m in self.frame.of(cell.host):
            near_rect: Rect = m.box.plan.grown(0.5)
            if not near_rect.holds(x, y) or m.box.z1 < min(z, cell.run_z):
                continue
            if cell.axis == "y":
                x = near_rect.u0 - 0.1 if x - near_rect.u0 < near_rect.u1 - x else near_rect.u1 + 0.1
            else:
                y = near_rect.v0 - 0.1 if y - near_rect.v0 < near_rect.v1 - y else near_rect.v1 + 0.1
        return x, y, z

    def _unreached(self, wished: WishedRun, teller: Teller) -> Unreached:
        ends = (terminal(self.job, wished.from_end), terminal(self.job, wished.to_end))
        last, barred = teller.unreached(*ends)
        return Unreached(wished.id, last, barred)


def least_way_in(job: Job, a: Point3, b: Point3) -> float:
    """Least square way between two points: plan distance and least rise by one floor or roof [in]."""
    plan = abs(a[0] - b[0]) + abs(a[1] - b[1])
    planes = [(f.z_bottom_in, f.z_top_in) for f in job.frames] or [(a[2], a[2])]
    rises = []
    for low, high in planes:
        z = clamp(clamp((a[2] + b[2]) / 2, min(a[2], b[2]), max(a[2], b[2])), low, high)
        rises.append(abs(a[2] - z) + abs(b[2] - z))
    return plan + min(rises) if rises else plan + math.fabs(a[2] - b[2])
