"""What became of each choice in the plan that was made, in plain words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from bayrun.geometry import near
from bayrun.house import End, Job
from bayrun.house.hole_choices import ChoiceError, Spot, spot_of
from bayrun.house.way_choices import LEAVE, LeaveBy
from bayrun.routing.pinned import Pinned
from bayrun.routing.settle import SAME_IN, Asked, Settled
from bayrun.routing.solver import Solver
from bayrun.units import tape
from bayrun.wiring import ChoiceTold, Hole

ADDED = ("nail plate", "strap", "seal")
"""Kinds of choices that add to what the counting finds needed."""

Became = Literal["by your choice", "already so", "not followed"]


def decided(
    job: Job,
    settled: Settled,
    solver: Solver,
    hole_ids: Mapping[int, str],
    pinned: Sequence[Pinned],
    holes: Sequence[Hole],
) -> tuple[ChoiceTold, ...]:
    """Every choice about holes and ways with what became of it, in the order of the job.

    Args:
        hole_ids: Name of each hole in use, by its key in the solver.
        holes: As planned.
    """
    found = list(settled.told)
    for asked in settled.asked:
        found.append(_hole(settled, solver, hole_ids, asked))
    for one in pinned:
        found.append(_pin(one))
    found += [_left(job, solver, one, places) for one, places in settled.left_by]
    found += _added(job, holes)
    order = {(c.kind, c.about): i for i, c in enumerate(job.choices)}
    about = {c.about: i for i, c in reversed(list(enumerate(job.choices)))}
    return tuple(
        sorted(found, key=lambda t: (order.get((t.kind, t.about), about.get(t.about, len(order))), t.kind))
    )


def _hole(settled: Settled, solver: Solver, hole_ids: Mapping[int, str], asked: Asked) -> ChoiceTold:
    places = settled.passages.places
    keys = [k for p in asked.places for k in solver.by_place.get(p, []) if solver.holes[k].runs]
    ids = tuple(hole_ids[k] for k in keys)
    where = asked.words
    if not keys:
        bit_in = places[asked.places[0]].diameter_in
        says = (
            f"{asked.kind}, {where}: not followed, because no run passes there now; a {tape(bit_in)} hole "
            f"takes {_takes(solver, bit_in)}"
        )
        return ChoiceTold(asked.kind, asked.about, "not followed", (), says)
    parts = []
    for k in sorted(keys, key=lambda k: hole_ids[k]):
        place = places[solver.holes[k].place]
        slot = place.slots[0]
        at_in = slot.up_in if place.axis == "along" else slot.along_in
        bit = f"{tape(place.bit_in)} bit, " if place.bit_in else ""
        parts.append(f"{hole_ids[k]}, {bit}{_at(place.axis, at_in, slot.across_in)}")
    became: Became = "already so" if asked.already else "by your choice"
    return ChoiceTold(asked.kind, asked.about, became, ids, f"{where}: {'; '.join(parts)}: {became}")


def _left(job: Job, solver: Solver, one: LeaveBy, others: Sequence[int]) -> ChoiceTold:
    """Whether all runs of a location go by the bay that was chosen."""
    end = End("location", one.location)
    runs = [i for i, run in enumerate(job.runs) if end in (run.from_end, run.to_end)]
    where = f"{one.location} by the bay at {tape(one.along_in)}"
    shut = set(others)
    places = solver.places
    wall = next((q.wall for q in job.locations if q.id == one.location), None)
    astray: list[str] = []
    through: list[str] = []
    for i in runs:
        if i not in solver.laid:
            continue
        plates = {p for p, _ in solver.laid[i].passed if places[p].wall == wall and places[p].axis == "up"}
        (through if plates and not plates & shut else astray).append(job.runs[i].id)
    if not through:
        why = "no legal hole leads out of that bay" if astray else "no run of it is planned"
        says = f"{where}: not followed, because {why}"
        return ChoiceTold(LEAVE, one.location, "not followed", tuple(astray), says)
    return ChoiceTold(LEAVE, one.location, "by your choice", tuple(through), f"{where}: by your choice")


def _added(job: Job, holes: Sequence[Hole]) -> list[ChoiceTold]:
    """Plates, straps and seals a person added: they stand as long as their hole does."""
    found = []
    for choice in job.choices:
        if choice.kind not in ADDED:
            continue
        about = choice.about.rpartition("/")[0] if choice.kind == "nail plate" else choice.about
        try:
            spot = spot_of(about)
        except ChoiceError as error:
            says = f"{choice.kind}: not followed, because it cannot be read: {error}"
            found.append(ChoiceTold(choice.kind, choice.about, "not followed", (), says))
            continue
        here = [h for h in holes if spot.member in (h.member, *h.plies) and _near(h, spot)]
        if here:
            says = f"{choice.kind} at hole {here[0].id}: by your choice"
            found.append(ChoiceTold(choice.kind, choice.about, "by your choice", (here[0].id,), says))
        else:
            says = f"{choice.kind} at {about}: not followed, because no hole is planned there any more"
            found.append(ChoiceTold(choice.kind, choice.about, "not followed", (), says))
    return found


def _near(hole: Hole, spot: Spot) -> bool:
    at_in = hole.up_in if hole.axis == "along" else hole.along_in
    return not abs(at_in - spot.at_in) > SAME_IN


def _at(axis: str, at_in: float, across_in: float) -> str:
    where = f"{tape(at_in)} {'up' if axis == 'along' else 'along'}"
    if axis == "across" or near(across_in, 0.0):
        return where
    return f"{where}, {tape(abs(across_in))} off the middle"


def _takes(solver: Solver, bit_in: float) -> str:
    sizes = sorted(set(solver.sizes.values()))
    most = [d for d in sizes if d * d <= solver.fill_max * bit_in * bit_in]
    if not most:
        return "none of this job's cables at the firm's fill"
    return f"cables up to {tape(most[-1])} at the firm's fill"


def _pin(one: Pinned) -> ChoiceTold:
    run = one.pin.run
    if one.laid is None:
        says = f"run {run} pinned: not followed, because {one.why}"
        return ChoiceTold("pin run", run, "not followed", (run,), says)
    return ChoiceTold("pin run", run, "by your choice", (run,), f"run {run} keeps its way: by your choice")
