"""Runs that somebody pinned to places: laid first, through those places in that order, and left there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from bayrun.framing import Member
from bayrun.house import Job
from bayrun.house.hole_choices import ChoiceError, PinnedRun, Spot, pinned_runs
from bayrun.routing.records import Place
from bayrun.routing.settle import SAME_IN, member_words
from bayrun.routing.solver import BARRED, Errand, Laid, Solver
from bayrun.units import tape

NEAR_PIN_IN = 3.0
"""A pin that no slot lies under takes the nearest one of its member within this [in]. Our own figure."""


@dataclass(frozen=True, slots=True)
class Pinned:
    """A pinned run as laid, or why it is not."""

    pin: PinnedRun
    laid: Laid | None
    why: str = ""


def pins(job: Job) -> tuple[PinnedRun, ...]:
    """The pinned runs that can be read; the last pin of a run counts."""
    found: dict[str, PinnedRun] = {}
    for choice in job.choices:
        if choice.kind != "pin run":
            continue
        try:
            for pin in pinned_runs(_only(job, choice)):
                found[pin.run] = pin
        except ChoiceError:
            continue  # told by the settling
    return tuple(found.values())


def _only(job: Job, choice: Any) -> Job:
    from dataclasses import replace

    return replace(job, choices=(choice,))


def lay_pinned(
    job: Job, solver: Solver, members: dict[str, Member], errands: dict[str, Errand]
) -> tuple[Pinned, ...]:
    """Lay every pinned run through its places; one that cannot be is left to be laid as any other."""
    made = []
    for pin in pins(job):
        errand = errands.get(pin.run)
        if errand is None:
            made.append(Pinned(pin, None, "there is no such run any more"))
            continue
        way = _way(job, solver, members, errand, pin)
        if isinstance(way, str):
            made.append(Pinned(pin, None, way))
            continue
        made.append(Pinned(pin, _lay(solver, errand, way, pin)))
    return tuple(made)


def _lay(solver: Solver, errand: Errand, way: tuple[int, ...], pin: PinnedRun) -> Laid:
    """Lay a pinned run: through the very slots that are named, elsewhere where there is room."""
    named = {p: k for spot in pin.spots for p, k in _slots_at(solver.places, spot)}
    keys: dict[int, int] = {}
    for place in solver.places_on(way):
        if not solver.places[place].member:
            continue
        open_now = solver.by_place.get(place, [])
        slot = named.get(place, -1)
        mine = [k for k in open_now if solver.holes[k].slot == slot] or open_now
        roomy = [k for k in mine if solver.has_room(k, errand.diameter_in)]
        if slot >= 0 and solver.is_free(place, slot):
            keys[place] = solver.open_at(place, slot)
        elif roomy:
            keys[place] = roomy[0]
        else:
            slots = range(len(solver.places[place].slots))
            free = next((i for i in slots if solver.is_free(place, i)), None)
            if free is not None:
                keys[place] = solver.open_at(place, free)
            else:
                keys[place] = next(k for k in open_now if solver.has_room(k, errand.diameter_in))
    return solver.lay_in(errand, way, keys)


def _slots_at(places: Sequence[Place], spot: Spot) -> list[tuple[int, int]]:
    """(place, slot) of every slot of the graph at a spot."""
    return [
        (i, k)
        for i, place in enumerate(places)
        if place.member and spot.member in (place.member, *place.plies)
        for k, s in enumerate(place.slots)
        if not abs((s.up_in if place.axis == "along" else s.along_in) - spot.at_in) > SAME_IN
    ]


def _way(
    job: Job, solver: Solver, members: dict[str, Member], errand: Errand, pin: PinnedRun
) -> tuple[int, ...] | str:
    solver.sizes[errand.run] = errand.diameter_in
    if not pin.spots:
        return "no place is named that it should pass"
    ends = solver.mesh.terminals.get(errand.source), solver.mesh.terminals.get(errand.target)
    if None in ends:
        return "one of its ends has no place in the framing"
    stops: list[list[int]] = []
    for spot in pin.spots:
        member = members.get(spot.member)
        if member is None:
            return f"{spot.member} is no longer in the framing"
        words = f"{tape(spot.at_in)} in {member_words(job, member)}"
        fits = _places_at(solver.places, spot)
        if not fits:
            return f"no cable can pass at {words}"
        free = [p for p in fits if solver.price(p, errand.diameter_in) < BARRED]
        if not free:
            return f"the hole at {words} is full"
        stops.append(free)
    found = _through(solver, errand, stops)
    if found is None:
        return "no way leads through all its places in that order"
    passed = solver.places_on(found)
    if len(set(passed)) < len(passed):
        return "its places would take it twice through one hole"
    return found


def _places_at(places: Sequence[Place], spot: Spot) -> list[int]:
    """Places of the graph at a spot; else the nearest on the same member within ``NEAR_PIN_IN``."""
    ranked: list[tuple[float, int]] = []
    for i, place in enumerate(places):
        if not place.member or spot.member not in (place.member, *place.plies):
            continue
        off_in = min(
            abs((s.up_in if place.axis == "along" else s.along_in) - spot.at_in) for s in place.slots
        )
        ranked.append((off_in, i))
    exact = [i for off_in, i in ranked if not off_in > SAME_IN]
    if exact:
        return exact
    near = [(off_in, i) for off_in, i in ranked if not off_in > NEAR_PIN_IN]
    return [min(near)[1]] if near else []


def _through(solver: Solver, errand: Errand, stops: Sequence[Sequence[int]]) -> tuple[int, ...] | None:
    """The cheapest way that passes one place of each stop in order."""
    from scipy.sparse import csr_matrix
    from scipy.sparse.csgraph import dijkstra

    mesh = solver.mesh
    weight = solver.weights(errand)
    every = np.array(sorted({p for stop in stops for p in stop}), dtype=np.int64)
    weight[np.isin(mesh.place, every)] += BARRED  # a pinned place is passed as its own stop, once
    size = len(mesh.nodes)
    graph = csr_matrix((weight[mesh.edge], mesh.target, mesh.start), shape=(size, size))
    sides: dict[int, tuple[int, int]] = {}
    for n, node in enumerate(mesh.nodes):
        if node.place >= 0:
            a, b = sides.get(node.place, (-1, -1))
            sides[node.place] = (n, b) if node.side == 0 else (a, n)

    def tree(source: int) -> tuple[Any, Any]:
        distance, before = dijkstra(graph, directed=True, indices=source, return_predecessors=True)
        return distance, before

    def walk(before: Any, source: int, target: int) -> list[int]:
        way = [target]
        while way[-1] != source:
            way.append(int(before[way[-1]]))
        return way[::-1]

    states: list[tuple[float, list[int]]] = [(0.0, [mesh.terminals[errand.source]])]
    for stop in stops:
        following: dict[int, tuple[float, list[int]]] = {}
        for cost, way in states:
            distance, before = tree(way[-1])
            for place in stop:
                for enter, leave in (sides[place], sides[place][::-1]):
                    total = cost + float(distance[enter])
                    if total >= BARRED or (leave in following and following[leave][0] <= total):
                        continue
                    following[leave] = (total, [*way, *walk(before, way[-1], enter)[1:], leave])
        if not following:
            return None
        states = [following[n] for n in sorted(following)]
    target = mesh.terminals[errand.target]
    best: tuple[float, list[int]] | None = None
    for cost, way in states:
        distance, before = tree(way[-1])
        total = cost + float(distance[target])
        if total < BARRED and (best is None or total < best[0]):
            best = (total, [*way, *walk(before, way[-1], target)[1:]])
    return tuple(best[1]) if best else None
