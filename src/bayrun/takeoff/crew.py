"""The crew plan: who does what on which day, so that two work in step and nobody waits for a hole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from bayrun.tables.prices import PriceList
from bayrun.takeoff.work import HourLine, Piece, Reach, Stage, piece_hours

_ORDER: dict[Stage, tuple[tuple[str, ...], ...]] = {
    "rough": (
        ("load",),
        ("walk",),
        ("mark",),
        ("enclosure", "hole", "conduit", "box"),
        ("pull set-up", "pull", "pull more"),
        ("label", "coil", "staple", "hanger", "nail plate", "strap", "grommet", "seal"),
        ("tone", "photo"),
    ),
    "trim": (
        ("find",),
        ("enclosure trim", "jack", "plate", "ceiling device", "soffit device", "exterior device"),
        ("hand-over",),
    ),
}
"""What waits for what: a step begins when the step before it is done. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class CrewStep:
    """One stretch of work of one person, or of two together, on one day.

    Args:
        day: Counted from 1 within its stage.
        people: Numbers of who does it: ``(1,)``, ``(2,)`` or ``(1, 2)``. Person 1 leads.
        start_h: From the start of the day, set-up included [h].
        hours: On the clock.
    """

    stage: Stage
    day: int
    people: tuple[int, ...]
    start_h: Decimal
    hours: Decimal
    task: str
    words: str
    reach: Reach
    level: str
    room: str
    because: tuple[str, ...]

    @property
    def person_hours(self) -> Decimal:
        """Hours of everyone in it."""
        return self.hours * len(self.people)


@dataclass(frozen=True, slots=True)
class _Chunk:
    line: HourLine
    piece: Piece
    hours: Decimal
    """Of people."""


def crew_plan(lines: Sequence[HourLine], stage: Stage, prices: PriceList) -> tuple[CrewStep, ...]:
    """Who does what on which day of one stage.

    Work goes step by step in the order of use; within a step each piece goes to whoever is free first, and
    work for two waits until two are free. A ladder is free or it is not. Work that does not fit a day
    goes on the next morning. Every day begins with setting up.
    Deterministic; the number of days is not promised to be the least.

    Args:
        lines: Hour lines of any stage; those of another are left out.
    Returns:
        Steps by day, start and person; their person-hours sum to the lines' hours, with the days' set-up.
    """
    crew, ladders = int(prices.rate("crew").value), int(prices.rate("ladders").value)
    day_set_up = prices.task("day").value
    day_h = prices.rate("day hours").value - day_set_up
    free = [Decimal(0)] * crew
    ladder_free = [Decimal(0)] * max(1, ladders)
    steps: list[CrewStep] = []
    for tasks in _ORDER[stage]:
        chunks = [
            _Chunk(line, piece, hours)
            for task in tasks
            for line in lines
            if line.task == task and line.stage == stage
            for piece, hours in piece_hours(line)
            if hours > 0
        ]
        order = list(dict.fromkeys(chunk.piece.pull for chunk in chunks if chunk.piece.pull))
        if order:  # one pull after the other, each set up and pulled
            chunks.sort(key=lambda chunk: order.index(chunk.piece.pull))
        begin = max(free)
        free = [begin] * crew
        for chunk in chunks:
            count = min(chunk.line.people, crew)
            who = sorted(sorted(range(crew), key=lambda one: (free[one], one))[:count])
            start, clock = max(free[one] for one in who), chunk.hours / count
            if chunk.line.reach == "ladder":
                which = min(range(len(ladder_free)), key=lambda one: ladder_free[one])
                start = max(start, ladder_free[which])
                ladder_free[which] = start + clock
            for one in who:
                free[one] = start + clock
            steps += _days(chunk, stage, tuple(one + 1 for one in who), start, clock, day_h, day_set_up)
    for day in range(1, max((step.day for step in steps), default=0) + 1):
        people = tuple(range(1, crew + 1))
        words = prices.task("day").words
        steps.append(CrewStep(stage, day, people, Decimal(0), day_set_up, "day", words, "", "", "", ()))
    return tuple(sorted(steps, key=_when))


def _when(step: CrewStep) -> tuple[bool, int, Decimal, tuple[int, ...]]:
    return step.stage == "trim", step.day, step.start_h, step.people


def _days(
    chunk: _Chunk,
    stage: Stage,
    people: tuple[int, ...],
    start: Decimal,
    clock: Decimal,
    day_h: Decimal,
    set_up: Decimal,
) -> list[CrewStep]:
    """A piece of work cut at the ends of days."""
    found = []
    while clock > 0:
        day = int(start // day_h)
        into = start - day * day_h
        part = min(clock, day_h - into)
        piece = chunk.piece
        found.append(
            CrewStep(
                stage,
                day + 1,
                people,
                into + set_up,
                part,
                chunk.line.task,
                chunk.line.words,
                chunk.line.reach,
                piece.level,
                piece.room,
                piece.because,
            )
        )
        start, clock = start + part, clock - part
    return found


def days_of(steps: Sequence[CrewStep]) -> int:
    """Days of a crew plan."""
    return max((step.day for step in steps), default=0)


def joined(steps: Sequence[CrewStep]) -> tuple[CrewStep, ...]:
    """The same plan with what one person does of one task in one place on one day as one step."""
    found: dict[tuple[Stage, int, tuple[int, ...], str, str, str, str], CrewStep] = {}
    for step in steps:
        key = (step.stage, step.day, step.people, step.task, step.words, step.level, step.room)
        was = found.get(key)
        found[key] = step if was is None else _together(was, step)
    return tuple(sorted(found.values(), key=_when))


def _together(a: CrewStep, b: CrewStep) -> CrewStep:
    because = tuple(dict.fromkeys((*a.because, *b.because)))
    return CrewStep(
        a.stage,
        a.day,
        a.people,
        a.start_h,
        a.hours + b.hours,
        a.task,
        a.words,
        a.reach,
        a.level,
        a.room,
        because,
    )
