"""A run that finds no way because others fill the holes: a few of them move, no more than must.

The way it would take if no hole were full is found first; of the runs that lie in the full holes on it, those
that cost least to lay elsewhere are taken out one at a time until it passes. All is put back where one of
them then has no way itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np

from bayrun.routing.solver import BARRED, Errand, Solver, cheapest_way

MOST_MOVED = 5
"""Runs that may move for one that finds no way."""
FULL_PRICE = 10.0
"""A full hole counts as so many new ones while the way is sought. Our own figure."""


def make_room(
    solver: Solver, lost: Iterable[Errand], movable: Mapping[int, Errand]
) -> tuple[list[Errand], set[int]]:
    """Lay runs that found no way, by moving a few others.

    Args:
        lost: Runs without a way.
        movable: Runs that may move, by their number: neither pulled nor pinned.
    Returns:
        (those that still have no way, numbers of the runs that moved).
    """
    left: list[Errand] = []
    moved: set[int] = set()
    for errand in lost:
        done = _one(solver, errand, movable)
        if done is None:
            left.append(errand)
        else:
            moved |= done
    return left, moved


def _one(solver: Solver, errand: Errand, movable: Mapping[int, Errand]) -> set[int] | None:
    if solver.lay(errand) is not None:  # one that moved before may have left room
        return set()
    way = _way_if_none_were_full(solver, errand)
    if way is None:
        return None
    full = [p for p in solver.places_on(way) if solver.price(p, errand.diameter_in) >= BARRED]
    stand = solver.stand()
    lifted: list[int] = []
    for place in full:
        while solver.price(place, errand.diameter_in) >= BARRED:
            run = _cheapest_to_move(solver, place, movable, lifted)
            if run is None or len(lifted) >= MOST_MOVED:
                solver.go_back(stand)
                return None
            solver.lift(run)
            lifted.append(run)
    solver.lay_on(errand, way)
    for run in lifted:
        if solver.lay(movable[run]) is None:
            solver.go_back(stand)
            return None
    return set(lifted)


def _way_if_none_were_full(solver: Solver, errand: Errand) -> tuple[int, ...] | None:
    """The cheapest way where a full hole may be passed at a high price; one too small may not."""
    mesh = solver.mesh
    source, target = mesh.terminals.get(errand.source), mesh.terminals.get(errand.target)
    if source is None or target is None:
        return None
    weight: Any = solver.weights(errand)
    for place, one in enumerate(solver.places):
        takes = errand.diameter_in**2 <= solver.fill_max * one.diameter_in**2
        if (
            one.member
            and takes
            and solver.by_place.get(place)
            and solver.price(place, errand.diameter_in) >= BARRED
        ):
            weight[mesh.place == place] -= BARRED - FULL_PRICE * max(one.open_price, 1)
    found = cheapest_way(mesh, weight, source, target)
    if found is None:
        return None
    return found if len(set(solver.places_on(found))) == len(solver.places_on(found)) else None


def _cheapest_to_move(
    solver: Solver, place: int, movable: Mapping[int, Errand], lifted: Sequence[int]
) -> int | None:
    """Of the runs in the holes of a place, the one that pays least more elsewhere; None: none may move."""
    best: tuple[float, int] | None = None
    runs = sorted({r for key in solver.by_place.get(place, []) for r in solver.holes[key].runs})
    for run in runs:
        if run not in movable or run in lifted or run not in solver.laid:
            continue
        stand, before = solver.stand(), solver.cost()
        solver.lift(run)
        shut, solver.shut = solver.shut, place
        again = solver.lay(movable[run])
        solver.shut = shut
        dearer = float(np.inf) if again is None else float(solver.cost() - before)
        solver.go_back(stand)
        if dearer < BARRED / 2000 and (best is None or (dearer, run) < best):
            best = (dearer, run)
    return None if best is None else best[1]
