"""Material in the order of use: which day, which room; and what goes on the truck for each stage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.takeoff.crew import CrewStep
from bayrun.takeoff.records import MaterialLine, Takeoff
from bayrun.takeoff.work import STAGES, Stage

_USED_BY = {
    "ring": "box",
    "ring two gang": "box",
    "closed box": "box",
    "ceiling ring": "box",
    "soffit box": "box",
    "ring screw": "box",
    "enclosure": "enclosure",
    "enclosure screw": "enclosure",
    "nail plate": "nail plate",
    "strap": "strap",
    "strap nail": "strap",
    "staple": "staple",
    "hanger": "hanger",
    "grommet": "grommet",
    "fireblock sealant": "seal",
    "exterior sealant": "seal",
    "firestop": "seal",
    "wall plate": "plate",
    "connector": "jack",
    "label": "label",
    "spare tag": "label",
    "bit": "hole",
    "conduit": "conduit",
    "pull string": "conduit",
}
"""Which task uses what."""


@dataclass(frozen=True, slots=True)
class DayUse:
    """Some of one item, used in one room on one day.

    Args:
        day: Of its stage, from 1; 0 where the crew plan does not name the task.
        count: In the item's unit, without spares.
        because: Ids that ask for it there.
    """

    stage: Stage
    day: int
    level: str
    room: str
    item: str
    unit: str
    count: int
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One line of the load list.

    Args:
        first_day: When it is first used, from 1; 0 where no day is known.
        words: What to load: ``2 boxes of 1000 ft``, or the opened boxes by their feet.
    """

    stage: Stage
    first_day: int
    group: str
    item: str
    words: str
    needed: int
    spare: int
    unit: str
    because: tuple[str, ...]


def stage_of(line: MaterialLine) -> Stage:
    """The stage that a line of material belongs to."""
    return "trim" if line.group == "Trim" else "rough"


def by_day(counted: Takeoff, steps: Sequence[CrewStep]) -> tuple[DayUse, ...]:
    """Every item by day and room, in the order of use.

    Args:
        steps: The crew plan of all stages.
    """
    first: dict[tuple[str, str], tuple[int, CrewStep]] = {}
    for number, step in enumerate(steps):
        for one in step.because:
            first.setdefault((step.task, one), (number, step))
    gathered: dict[tuple[Stage, int, str, str, str, str], tuple[int, int, list[str]]] = {}
    for line in counted.material:
        for one, count in line.uses:
            found = next((first[task, one] for task in _tasks(line) if (task, one) in first), None)
            number = len(steps) if found is None else found[0]
            day, level, room = (0, "", "") if found is None else (found[1].day, found[1].level, found[1].room)
            key = (stage_of(line), day, level, room, line.item, line.unit)
            at, total, because = gathered.get(key, (number, 0, []))
            gathered[key] = (min(at, number), total + count, [*because, one])
    order = sorted(gathered, key=lambda k: (STAGES.index(k[0]), k[1] or 99, gathered[k][0], k[4]))
    rooms: dict[tuple[Stage, int, str, str], int] = {}
    for key in order:  # what is used in one room on one day stands together, at its first use
        rooms.setdefault(key[:4], len(rooms))
    return tuple(
        DayUse(*key, count=gathered[key][1], because=tuple(dict.fromkeys(gathered[key][2])))
        for key in sorted(order, key=lambda k: rooms[k[:4]])
        if gathered[key][1]
    )


def _tasks(line: MaterialLine) -> tuple[str, ...]:
    if line.key.startswith("cable "):
        return ("pull", "pull more")
    return (_USED_BY.get(line.key, ""),)


def load_list(counted: Takeoff, steps: Sequence[CrewStep]) -> tuple[LoadLine, ...]:
    """What to load for each stage, what is used last first, so that what is used first stands at the door.

    Opened boxes of cable are named one by one with their feet.
    """
    days: dict[tuple[Stage, str], int] = {}
    for use in by_day(counted, steps):
        if use.day:
            key = (use.stage, use.item)
            days[key] = min(days.get(key, use.day), use.day)
    found = []
    for line in counted.material:
        words = f"{line.packs} × {line.pack}"
        if line.pack == "opened box":
            letter = line.key.removeprefix("cable ")
            mine = [box for box in counted.boxes if box.partial and box.kind == letter]
            words = ", ".join(f"{box.id} ({box.start_ft:g} ft)" for box in mine)
        stage = stage_of(line)
        first = days.get((stage, line.item), 0)
        found.append(
            LoadLine(
                stage, first, line.group, line.item, words, line.needed, line.spare, line.unit, line.because
            )
        )
    return tuple(sorted(found, key=lambda one: (STAGES.index(one.stage), -one.first_day)))
