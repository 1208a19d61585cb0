"""What a person changed between two versions of a job, in words of the trade."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from typing import Any

from bayrun.framing.bays import obstacle_heights, obstacle_plan
from bayrun.geometry import near
from bayrun.house import Job, Location, Obstacle, Wall, place_of_location, wall_name
from bayrun.takeoff.words import natural
from bayrun.units import tape


@dataclass(frozen=True, slots=True)
class Asked:
    """One change of the job.

    Args:
        kind: ``location``, ``run``, ``obstacle``, ``wall``, ``enclosure``, ``choice`` …
        id: Of what was changed.
        says: What changed, in words.
        boxes: (x0, y0, z0, x1, y1, z1) of what stands there now and did not before [in].
    """

    kind: str
    id: str
    says: str
    boxes: tuple[tuple[float, ...], ...] = ()


def asked_changes(before: Job, after: Job) -> tuple[Asked, ...]:
    """Everything of a job that is different, the wishes first; practice and facts in one line each."""
    found: list[Asked] = []
    found += _each("location", before.locations, after.locations, lambda a, b: _location(after, a, b))
    found += _each("run", before.runs, after.runs, lambda a, b: f"run {_name(a, b)} {_became(a, b)}")
    found += _each("enclosure", before.enclosures, after.enclosures, lambda a, b: _box(after, a, b))
    if before.enclosure != after.enclosure:
        found.append(Asked("enclosure", after.enclosure, f"the enclosure goes to {after.enclosure}"))
    found += _each(
        "obstacle",
        before.obstacles,
        after.obstacles,
        lambda a, b: _obstacle(a, b),
        lambda b: _boxes(after, b),
    )
    found += _each("wall", before.walls, after.walls, lambda a, b: _wall(a, b))
    for kind, old, new in (
        ("opening", before.openings, after.openings),
        ("floor frame", before.frames, after.frames),
        ("floor opening", before.floor_openings, after.floor_openings),
        ("beam", before.beams, after.beams),
        ("separation", before.barriers, after.barriers),
        ("level", before.levels, after.levels),
        ("gear", before.gear, after.gear),
    ):
        found += _each(kind, old, new, _plain(kind))
    found += _choices(before, after)
    if before.practice != after.practice:
        found.append(
            Asked("practice", "practice", f"the firm's practice: {_fields(before.practice, after.practice)}")
        )
    return tuple(found)


def _plain(kind: str) -> Callable[[Any, Any], str]:
    return lambda a, b: f"{kind} {_name(a, b)} {_became(a, b)}"


def _each(
    kind: str,
    before: Sequence[Any],
    after: Sequence[Any],
    words: Callable[[Any, Any], str],
    boxes: Callable[[Any], tuple[tuple[float, ...], ...]] | None = None,
) -> list[Asked]:
    old, new = {one.id: one for one in before}, {one.id: one for one in after}
    made = []
    for name in sorted({*old, *new}, key=natural):
        a, b = old.get(name), new.get(name)
        if a == b:
            continue
        made.append(Asked(kind, name, words(a, b), boxes(b) if boxes is not None and b is not None else ()))
    return made


def _name(a: Any, b: Any) -> str:
    return str((b or a).id)


def _became(a: Any, b: Any) -> str:
    if a is None:
        return "is new"
    return "is gone" if b is None else f"changed: {_fields(a, b)}"


def _fields(a: Any, b: Any) -> str:
    names = [f.name for f in fields(a) if getattr(a, f.name) != getattr(b, f.name)]
    return ", ".join(name.removesuffix("_in").replace("_", " ") for name in names)


def _location(job: Job, a: Location | None, b: Location | None) -> str:
    one = b or a
    assert one is not None
    where = place_of_location(job, one) if b is not None else one.room
    if a is None:
        return f"{one.id} is new in {where}"
    if b is None:
        return f"{one.id} in {where} is gone"
    same_wall = a.wall == b.wall and a.offset_in is not None and b.offset_in is not None
    if (
        same_wall
        and a.offset_in is not None
        and b.offset_in is not None
        and not near(a.offset_in, b.offset_in)
    ):
        return f"{one.id} moved along its wall from {tape(a.offset_in)} to {tape(b.offset_in)}, {where}"
    if not near(a.height_in, b.height_in):
        return f"{one.id} moved from {tape(a.height_in)} to {tape(b.height_in)} above finished floor, {where}"
    if (a.wall, a.x_in, a.y_in) != (b.wall, b.x_in, b.y_in):
        return f"{one.id} moved to {where}"
    return f"{one.id} in {where} changed: {_fields(a, b)}"


def _box(job: Job, a: Any, b: Any) -> str:
    one = b or a
    if a is None or b is None:
        return f"enclosure {one.id} {'is new' if a is None else 'is gone'}"
    wall = next((w for w in job.walls if w.id == b.wall), None)
    if (a.wall, a.bay_studs_in) != (b.wall, b.bay_studs_in) and wall is not None:
        middle_in = sum(b.bay_studs_in) / 2
        return f"the enclosure moved to the bay at {tape(middle_in)} of {wall_name(wall, middle_in)}"
    return f"enclosure {one.id} changed: {_fields(a, b)}"


def _obstacle(a: Obstacle | None, b: Obstacle | None) -> str:
    one = b or a
    assert one is not None
    what = f"{one.kind} ({one.id})"
    if a is None:
        return f"{what} is new"
    return f"{what} is gone" if b is None else f"{what} moved or changed: {_fields(a, b)}"


def _boxes(job: Job, obstacle: Obstacle) -> tuple[tuple[float, ...], ...]:
    plan = obstacle_plan(obstacle)
    if plan is None:
        return ()
    return tuple(
        (plan.u0, plan.v0, low, plan.u1, plan.v1, high) for low, high in obstacle_heights(job, obstacle)
    )


def _wall(a: Wall | None, b: Wall | None) -> str:
    one = b or a
    assert one is not None
    if a is None or b is None:
        return f"{wall_name(one)} {'is new' if a is None else 'is gone'}"
    if a.layout != b.layout:
        return f"the studs of {wall_name(one)} are laid out anew"
    if (a.start, a.end) != (b.start, b.end):
        return f"{wall_name(one)} moved"
    return f"{wall_name(one)} changed: {_fields(a, b)}"


def _choices(before: Job, after: Job) -> list[Asked]:
    old = {(c.kind, c.about): c.value for c in before.choices}
    new = {(c.kind, c.about): c.value for c in after.choices}
    made = []
    for key in sorted({*old, *new}):
        if old.get(key) == new.get(key):
            continue
        kind, about = key
        word = "taken back" if key not in new else new[key] or "chosen"
        made.append(Asked("choice", about, f"{kind} {about}: {word}"))
    return made
