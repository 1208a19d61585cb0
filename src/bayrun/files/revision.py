"""Two revisions of one plan: which walls, openings and rooms moved, and which locations that touches.

A wall is matched to the wall of the other revision that runs its way nearest to it; ids mean nothing across
two drawings. The new plan is first laid on the old one where most walls agree, for a bump-out moves the
corner that everything is counted from.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from bayrun.geometry import at_most, below
from bayrun.house import Job, Location, Opening, Wall
from bayrun.house.places import place_of_location, wall_name
from bayrun.units import feet_and_inches, tape

MOVED_IN = 0.5
"""Less is how two drawings differ that mean the same [in]."""
REACH_IN = 36.0
"""A wall farther away than this is another wall [in]."""
_SAME_SHARE = 0.4
Kind = Literal["added", "removed", "moved", "longer", "shorter", "thickness", "changed"]
Point = tuple[float, float]
HoleAt = tuple[str, str, float]
_NEAR_IN = 16.0
"""An opening is framed over a bay beside it: what lies this near to it is touched [in]."""


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is not as it was.

    Args:
        what: ``wall``, ``door``, ``window``, ``opening``, ``room`` or ``level``.
        says: One sentence, for a person.
        old_wall, new_wall: Ids in either job, empty where it has none.
        by_in: How much, where that is a length [in].
        span_in: For an opening, the stretch of the old wall it reached before and after [in].
    """

    what: str
    kind: Kind
    level: str
    says: str
    old_wall: str = ""
    new_wall: str = ""
    by_in: float = 0.0
    span_in: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Touched:
    """A location, run or hole that a change reaches."""

    what: str
    id: str
    says: str


@dataclass(frozen=True, slots=True)
class Revision:
    """What changed between two revisions of a plan.

    Args:
        shift_in: How far the new plan was moved to lie on the old one [in].
        same: Walls that are as they were.
        pairs: Walls of the old job and the same walls of the new one.
    """

    changes: tuple[Change, ...]
    touched: tuple[Touched, ...]
    shift_in: Point
    same: int
    pairs: tuple[tuple[str, str], ...]


def compare(old: Job, new: Job, holes: Sequence[HoleAt] = ()) -> Revision:
    """What moved from one job to another of the same house.

    Args:
        old: The job that is planned, with its locations and runs.
        new: The house as the new drawing has it.
        holes: Holes of the plan last issued, as (id, id of the wall or frame they are in, offset along it).
    """
    levels = _levels(old, new)
    shift = _shift(old, new, levels)
    moved = _moved(new, shift)
    changes: list[Change] = []
    pairs: dict[str, str] = {}
    for was, now in levels:
        changes += _walls(old, moved, was, now, pairs)
    same = len(pairs) - len({c.old_wall for c in changes if c.old_wall in pairs})
    for before, after in pairs.items():
        changes += _openings(old, moved, before, after)
    changes += _rooms(old, moved, levels)
    gone = [v.id for v in old.levels if v.id not in {a for a, _ in levels}]
    come = [v.id for v in new.levels if v.id not in {b for _, b in levels}]
    changes += [Change("level", "removed", v, f"level {v} is not in the new drawing") for v in gone]
    changes += [Change("level", "added", v, f"level {v} is new") for v in come]
    changes.sort(key=lambda c: (c.level, _ORDER.index(c.what), c.kind, c.says))
    return Revision(
        tuple(changes), tuple(_touched(old, moved, changes, pairs, holes)), shift, same, tuple(pairs.items())
    )


_ORDER = ("level", "wall", "door", "window", "opening", "room")


def _levels(old: Job, new: Job) -> list[tuple[str, str]]:
    """The same levels, by their height over the first one."""
    left = list(new.levels)
    found = []
    for level in old.levels:
        best = min(left, key=lambda v: (abs(v.subfloor_z_in - level.subfloor_z_in), v.id), default=None)
        if best is not None and abs(best.subfloor_z_in - level.subfloor_z_in) < 48.0:
            found.append((level.id, best.id))
            left.remove(best)
    return found


def _lines(walls: Sequence[Wall], axis: int) -> list[tuple[float, float]]:
    """Where walls square to an axis lie on it, and how long they are [in]."""
    return [
        (w.start[axis], w.length_in) for w in walls if abs(w.start[axis] - w.end[axis]) < 1.0 < w.length_in
    ]


def _shift(old: Job, new: Job, levels: Sequence[tuple[str, str]]) -> Point:
    """The move that brings most length of wall onto its old line."""
    found = []
    for axis in (0, 1):
        votes: dict[float, float] = {}
        for was, now in levels:
            before = _lines([w for w in old.walls if w.level == was], axis)
            after = _lines([w for w in new.walls if w.level == now], axis)
            for a, long in before:
                for b, other in after:
                    key = round((a - b) * 4) / 4
                    votes[key] = votes.get(key, 0.0) + min(long, other)
        best = max(votes, key=lambda v: (round(votes[v], 3), -abs(v), -v), default=0.0)
        found.append(0.0 if not votes or votes[best] <= votes.get(0.0, 0.0) * 1.05 else best)
    return found[0], found[1]


def _moved(job: Job, shift: Point) -> Job:
    x, y = shift
    return replace(
        job,
        walls=tuple(
            replace(w, start=(w.start[0] + x, w.start[1] + y), end=(w.end[0] + x, w.end[1] + y))
            for w in job.walls
        ),
        rooms=tuple(replace(r, polygon=tuple((p[0] + x, p[1] + y) for p in r.polygon)) for r in job.rooms),
    )


def _on(wall: Wall, p: Point) -> tuple[float, float]:
    dx, dy = wall.direction
    x, y = p[0] - wall.start[0], p[1] - wall.start[1]
    return x * dx + y * dy, y * dx - x * dy


def _fit(old: Wall, new: Wall) -> tuple[float, float] | None:
    """How far a wall lies aside of another, and what share of the shorter they run together; None if not."""
    (ax, ay), (bx, by) = old.direction, new.direction
    if abs(ax * by - ay * bx) > 0.05:
        return None
    (s0, l0), (s1, l1) = _on(old, new.start), _on(old, new.end)
    aside = (l0 + l1) / 2
    shared = min(max(s0, s1), old.length_in) - max(min(s0, s1), 0.0)
    share = shared / max(min(old.length_in, new.length_in), 1.0)
    return (aside, share) if at_most(abs(aside), REACH_IN) and share >= _SAME_SHARE else None


def _walls(old: Job, new: Job, was: str, now: str, pairs: dict[str, str]) -> list[Change]:
    before = [w for w in old.walls if w.level == was]
    after = [w for w in new.walls if w.level == now]
    ranked = []
    for i, a in enumerate(before):
        for j, b in enumerate(after):
            fit = _fit(a, b)
            if fit is not None:
                ranked.append((round(abs(fit[0]) + 24.0 * (1.0 - min(fit[1], 1.0)), 3), i, j))
    taken: set[int] = set()
    changes: list[Change] = []
    matched: set[int] = set()
    for _, i, j in sorted(ranked):
        if i in matched or j in taken:
            continue
        matched.add(i)
        taken.add(j)
        pairs[before[i].id] = after[j].id
        changes += _wall_change(before[i], after[j])
    for i, wall in enumerate(before):
        if i not in matched:
            says = f"{wall_name(wall)}, {feet_and_inches(wall.length_in)} long, is gone"
            changes.append(Change("wall", "removed", was, says, wall.id))
    for j, wall in enumerate(after):
        if j not in taken:
            says = f"{wall_name(wall)} is new, {feet_and_inches(wall.length_in)} long"
            changes.append(Change("wall", "added", was, says, "", wall.id))
    return changes


def _wall_change(old: Wall, new: Wall) -> list[Change]:
    found = []
    fit = _fit(old, new)
    aside = fit[0] if fit else 0.0
    name = wall_name(old)
    if not below(abs(aside), MOVED_IN):
        toward = _compass(old, aside)
        says = f"{name} moved {tape(abs(aside))} to the {toward}"
        found.append(Change("wall", "moved", old.level, says, old.id, new.id, abs(aside)))
    longer = new.length_in - old.length_in
    if not below(abs(longer), 2 * MOVED_IN):
        kind: Kind = "longer" if longer > 0 else "shorter"
        says = f"{name} is {tape(abs(longer))} {kind}, now {feet_and_inches(new.length_in)}"
        found.append(Change("wall", kind, old.level, says, old.id, new.id, abs(longer)))
    thicker = new.thickness_in - old.thickness_in
    if new.core != old.core or not below(abs(thicker), 1 / 4):
        says = f"{name} was {old.core} and is {new.core}"
        found.append(Change("wall", "thickness", old.level, says, old.id, new.id, abs(thicker)))
    return found


def _compass(wall: Wall, aside: float) -> str:
    """Which way on the sheet a distance to the left of a wall points."""
    dx, dy = wall.direction
    x, y = -dy * aside, dx * aside
    return ("right" if x > 0 else "left") if abs(x) > abs(y) else ("back" if y > 0 else "front")


def _middle(job: Job, opening: Opening) -> Point:
    wall = job.wall(opening.wall)
    dx, dy = wall.direction
    at = opening.offset_in + opening.width_in / 2
    return wall.start[0] + dx * at, wall.start[1] + dy * at


def _word(opening: Opening) -> str:
    return "door" if "door" in opening.kind else "window" if opening.kind == "window" else "opening"


def _openings(old: Job, new: Job, before: str, after: str) -> list[Change]:
    wall = old.wall(before)
    was = [o for o in old.openings if o.wall == before]
    now = [o for o in new.openings if o.wall == after]
    places = {o.id: _on(wall, _middle(new, o))[0] for o in now}
    found: list[Change] = []
    ranked = sorted(
        (round(abs(places[n.id] - o.offset_in - o.width_in / 2), 3), i, j)
        for i, o in enumerate(was)
        for j, n in enumerate(now)
        if _word(o) == _word(n)
    )
    left, free = set(range(len(was))), set(range(len(now)))
    name = wall_name(wall)
    for off, i, j in ranked:
        if i not in left or j not in free or not at_most(off, 60.0):
            continue
        left.remove(i)
        free.remove(j)
        o, n = was[i], now[j]
        word = _word(o)
        span = _span(o.offset_in, o.width_in, places[n.id] - n.width_in / 2, n.width_in)
        if not below(off, MOVED_IN):
            says = f"the {word} in {name} moved {tape(off)} along it"
            found.append(Change(word, "moved", wall.level, says, before, after, off, span))
        wider = n.width_in - o.width_in
        if not below(abs(wider), MOVED_IN):
            says = f"the {word} in {name} was {tape(o.width_in)} wide and is {tape(n.width_in)}"
            found.append(Change(word, "changed", wall.level, says, before, after, abs(wider), span))
    for i in sorted(left):
        o = was[i]
        says = f"the {_word(o)} of {tape(o.width_in)} in {name} is gone"
        span = _span(o.offset_in, o.width_in, o.offset_in, o.width_in)
        found.append(Change(_word(o), "removed", wall.level, says, before, after, 0.0, span))
    for j in sorted(free):
        n, at_in = now[j], places[now[j].id]
        says = f"a {_word(n)} of {tape(n.width_in)} is new in {name}, its middle at {feet_and_inches(at_in)}"
        span = _span(at_in - n.width_in / 2, n.width_in, at_in - n.width_in / 2, n.width_in)
        found.append(Change(_word(n), "added", wall.level, says, before, after, at_in, span))
    return found


def _span(a_in: float, a_wide_in: float, b_in: float, b_wide_in: float) -> tuple[float, float]:
    return min(a_in, b_in), max(a_in + a_wide_in, b_in + b_wide_in)


def _near(changes: Sequence[Change], along_in: float) -> list[str]:
    """What is said of a wall at a place along it: the wall's own changes, and those of openings beside it."""
    return [
        c.says
        for c in changes
        if c.what == "wall"
        or (at_most(c.span_in[0] - _NEAR_IN, along_in) and at_most(along_in, c.span_in[1] + _NEAR_IN))
    ]


def _rooms(old: Job, new: Job, levels: Sequence[tuple[str, str]]) -> list[Change]:
    from shapely.geometry import Polygon

    found = []
    for was, now in levels:
        before = {r.name: Polygon(r.polygon).buffer(0).area / 144 for r in old.rooms if r.level == was}
        after = {r.name: Polygon(r.polygon).buffer(0).area / 144 for r in new.rooms if r.level == now}
        for name in sorted(before.keys() | after.keys()):
            if name not in after:
                found.append(Change("room", "removed", was, f"{name} is not in the new drawing by that name"))
            elif name not in before:
                found.append(Change("room", "added", was, f"{name} is new, {after[name]:.0f} sq ft"))
            elif abs(after[name] - before[name]) > max(1.0, 0.01 * before[name]):
                says = f"{name} was {before[name]:.0f} sq ft and is {after[name]:.0f}"
                found.append(Change("room", "changed", was, says))
    return found


def _touched(
    old: Job, new: Job, changes: Sequence[Change], pairs: dict[str, str], holes: Sequence[HoleAt]
) -> list[Touched]:
    walls: dict[str, list[Change]] = {}
    for change in changes:
        if change.old_wall and not (change.what == "wall" and change.kind in ("longer", "shorter")):
            walls.setdefault(change.old_wall, []).append(change)
    rooms = {c.says.split(" is not in")[0] for c in changes if c.what == "room" and c.kind == "removed"}
    found: list[Touched] = []
    reached: set[str] = set()
    for location in old.locations:
        why = _reaches(old, new, location, walls.get(location.wall or "", []), pairs)
        if not why and location.room in rooms:
            why = [f"its room {location.room} is not in the new drawing by that name"]
        if why:
            reached.add(location.id)
            words = f"{location.id} in {place_of_location(old, location)}: {'; '.join(why)}"
            found.append(Touched("location", location.id, words))
    for box in old.enclosures:
        why = _near(walls.get(box.wall, []), sum(box.bay_studs_in) / max(len(box.bay_studs_in), 1))
        if why:
            reached.add(box.id)
            found.append(Touched("enclosure", box.id, f"the enclosure {box.id}: {'; '.join(why)}"))
    for run in old.runs:
        ends = [e.id for e in (run.from_end, run.to_end) if e.id in reached]
        if ends:
            found.append(Touched("run", run.id, f"run {run.id} ends at {' and '.join(ends)}"))
    for hole, host, along_in in holes:
        why = _near(walls.get(host, []), along_in)
        if why:
            found.append(Touched("hole", hole, f"hole {hole} of the plan last issued: {'; '.join(why)}"))
    return found


def _reaches(
    old: Job, new: Job, location: Location, changes: Sequence[Change], pairs: dict[str, str]
) -> list[str]:
    """Why a location is touched: its wall, or an opening that now stands where it is."""
    why = [c.says for c in changes if c.what == "wall"]
    if location.wall in pairs and location.offset_in is not None:
        wall = old.wall(location.wall)
        dx, dy = wall.direction
        spot = (wall.start[0] + dx * location.offset_in, wall.start[1] + dy * location.offset_in)
        other = new.wall(pairs[location.wall])
        along = _on(other, spot)[0]
        for opening in new.openings:
            low, high = opening.offset_in - 4.5, opening.offset_in + opening.width_in + 4.5
            if opening.wall == other.id and at_most(low, along) and at_most(along, high):
                why.append(f"a {_word(opening)} now stands there or within a jamb of it")
        if below(along, 0.0) or below(other.length_in, along):
            why.append("its wall no longer reaches there")
    return why
