"""The facts most likely to change a plan, ranked by the feet and holes that hang on them.

A plan is a wish until a tape has been on the wood. Each fact is a question for the first walk, with a
blank for the answer. Source: common practice, no source; the ranking is feet plus ten feet a hole.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from bayrun.framing import Frame, obstacle_plan
from bayrun.geometry import Rect
from bayrun.house import Enclosure, Job, Wall, enclosure_bottom_in, enclosure_top_in, wall_name
from bayrun.takeoff.words import end_word
from bayrun.units import tape
from bayrun.wiring import Hole, Run, Wiring

FEET_PER_HOLE = 10.0
"""How many feet of cable one hole counts for in the ranking. Common practice, no source."""
MOST = 10
NEAR_IN = 24.0
"""An obstacle this near to a way may move it [in]."""


@dataclass(frozen=True, slots=True)
class WalkFact:
    """One fact to settle on the first walk.

    Args:
        place: Room or wall, in words.
        question: What to look at.
        planned: What the plan counts on.
        answer: ``tape`` for a length, ``yes/no`` for the rest.
        runs, feet, holes: What hangs on it.
    """

    place: str
    question: str
    planned: str
    answer: str
    runs: int
    feet: float
    holes: int

    @property
    def at_stake(self) -> float:
        """Weight in the ranking [ft]."""
        return self.feet + FEET_PER_HOLE * self.holes


class _Stakes:
    """What hangs on a set of runs or holes."""

    def __init__(self, job: Job, wiring: Wiring) -> None:
        self.job, self.wiring = job, wiring

    def fact(
        self,
        place: str,
        question: str,
        planned: str,
        answer: str,
        runs: Iterable[Run],
        holes: Iterable[Hole],
    ) -> WalkFact:
        touched = {r.id: r for r in runs}
        feet = sum(r.length_in for r in touched.values()) / 12.0
        return WalkFact(place, question, planned, answer, len(touched), round(feet, 1), len(set(holes)))

    def through(self, keep: Callable[[Hole], bool]) -> tuple[list[Run], list[Hole]]:
        holes = [h for h in self.wiring.holes if keep(h)]
        ids = {o for h in holes for o in h.occupants}
        return [r for r in self.wiring.runs if r.id in ids], holes


def walk_facts(job: Job, frame: Frame, wiring: Wiring, most: int = MOST) -> tuple[WalkFact, ...]:
    """The facts to settle first, most at stake first."""
    stakes = _Stakes(job, wiring)
    facts = [
        *_enclosure(job, frame, stakes),
        *_layouts(job, stakes),
        *_bearing(job, stakes),
        *_floors(job, stakes),
        *_sleeves(job, stakes),
        *_obstacles(job, stakes),
    ]
    facts = [f for f in facts if f.runs]
    facts.sort(key=lambda f: (-f.at_stake, f.place, f.question))
    return tuple(facts[:most])


def _enclosure(job: Job, frame: Frame, stakes: _Stakes) -> list[WalkFact]:
    return [fact for box in job.built_enclosures for fact in _box_facts(job, frame, stakes, box)]


def _box_facts(job: Job, frame: Frame, stakes: _Stakes, box: Enclosure) -> list[WalkFact]:
    wall = job.wall(box.wall)
    center = sum(box.bay_studs_in) / 2
    place = f"{box.room}, enclosure bay at {tape(center)} of {wall_name(wall, center)}"
    runs = [
        r for r in stakes.wiring.runs if box in (job.enclosure_at(r.from_end), job.enclosure_at(r.to_end))
    ]
    low, high = box.bay_studs_in
    _, entries = stakes.through(lambda h: h.wall == wall.id and h.axis == "up" and low < h.along_in < high)
    clear = next((b.clear_width_in for b in frame.bays_of(wall.id) if b.clear.u0 < center < b.clear.u1), 0.0)
    heights = f"{tape(enclosure_bottom_in(job, box))} to {tape(enclosure_top_in(job, box))} above subfloor"
    return [
        stakes.fact(place, "Clear width between the studs?", tape(clear), "tape", runs, entries),
        stakes.fact(
            place, "Bay free of pipe, duct and other boxes, on both faces?", heights, "yes/no", runs, entries
        ),
        stakes.fact(
            place,
            "Nothing over (or under) the plates where the bundle passes?",
            f"{len(entries)} holes",
            "yes/no",
            runs,
            entries,
        ),
    ]


def _walls_used(job: Job, stakes: _Stakes) -> list[tuple[Wall, list[Run], list[Hole]]]:
    found = []
    for wall in job.walls:
        runs, holes = stakes.through(lambda h, w=wall.id: h.wall == w)  # type: ignore[misc]
        here = {p.id for p in job.locations if p.wall == wall.id}
        runs += [r for r in stakes.wiring.runs if r.to_end.id in here or r.from_end.id in here]
        if runs:
            found.append((wall, runs, holes))
    return found


def _layouts(job: Job, stakes: _Stakes) -> list[WalkFact]:
    facts = []
    for wall, runs, holes in _walls_used(job, stakes):
        if wall.layout is None:
            continue
        first = wall.layout.first_mark_in
        end = end_word(wall, wall.layout.origin)
        question = (
            f"First stud: its center from the {end} end of the plate? Then every {tape(wall.spacing_in)}?"
        )
        facts.append(stakes.fact(wall_name(wall), question, tape(first), "tape", runs, holes))
    return facts


def _bearing(job: Job, stakes: _Stakes) -> list[WalkFact]:
    facts = []
    for wall, runs, holes in _walls_used(job, stakes):
        if wall.bearing is None and holes:
            question = "Does this wall carry load? Ask the framer."
            planned = "unknown: counted as bearing"
            facts.append(stakes.fact(wall_name(wall), question, planned, "yes/no", runs, holes))
    return facts


def _floors(job: Job, stakes: _Stakes) -> list[WalkFact]:
    facts = []
    for floor in job.frames:
        low, high = floor.z_bottom_in - 1.0, floor.z_top_in + 8.0
        area = floor.rect.grown(3.0)
        runs = [
            r
            for r in stakes.wiring.runs
            if any(low <= p.z <= high and area.holds(p.x, p.y) for p in r.path[1:-1])
        ]
        _, holes = stakes.through(lambda h, f=floor.id: h.member.startswith(f + "/"))  # type: ignore[misc]
        which = "front to back" if floor.direction == "y" else "side to side"
        first = (
            f", first member at {tape(floor.first_member_in)}" if floor.first_member_in is not None else ""
        )
        spacing = f" every {tape(floor.spacing_in)}" if floor.spacing_in else ""
        where = f"over level {floor.above_level}" if floor.above_level else f"under level {floor.below_level}"
        question = f"Do they run {which}{spacing}?"
        facts.append(
            stakes.fact(
                f"{floor.kind} {where}", question, f"{which}{spacing}{first}".strip(), "yes/no", runs, holes
            )
        )
    return facts


def _sleeves(job: Job, stakes: _Stakes) -> list[WalkFact]:
    facts = []
    for barrier in job.barriers:
        runs, holes = stakes.through(lambda h, b=barrier.id: h.member.startswith(b))  # type: ignore[misc]
        if not runs:
            continue
        planned = barrier.legal_way or "sealed holes"
        question = "Is the way through agreed with the builder and the inspector?"
        facts.append(stakes.fact(barrier.kind, question, planned, "yes/no", runs, holes))
    return facts


def _obstacles(job: Job, stakes: _Stakes) -> list[WalkFact]:
    facts = []
    for obstacle in job.obstacles:
        plan = obstacle_plan(obstacle)
        if plan is None:
            continue
        reach: Rect = plan.grown(NEAR_IN)
        runs = [r for r in stakes.wiring.runs if any(reach.holds(p.x, p.y) for p in r.path[1:-1])]
        x, y = plan.center
        _, holes = stakes.through(lambda h, q=reach: q.holds(h.x, h.y))  # type: ignore[misc]
        question = "Standing where the plan says? Measure to its middle."
        planned = f"x {tape(x)}, y {tape(y)}"
        facts.append(stakes.fact(obstacle.kind, question, planned, "tape", runs, holes))
    return facts
