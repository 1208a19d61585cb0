"""Make a plan cheaper: take some groups of runs out together and lay them again, many times.

A move takes out the users of one hole (its place shut for the first that is laid again, so that the hole
may close), or a group with those that share its places. Half of the moves lay again with new holes at a
discount, so that a way worth sharing is opened by its first user, and then once more at the true price.
A move that makes the plan a little dearer is kept at first and ever less often later on; the best plan is
the one that stays. All is drawn by one seeded generator: the same moves every time.
Source: ruin and recreate under simulated annealing (Schrimpf, Schneider, Stamm-Wilbrandt, Dueck, J. Comput.
Phys. 159, 2000).
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bayrun.routing.solver import Errand, Solver

WARM, COLD = 0.25, 0.01
"""First and last temperature, as parts of the usual price of a hole."""
MOST_GROUPS = 8
"""Groups taken out in one move."""


class _Mover:
    def __init__(self, solver: Solver, groups: Sequence[Sequence[Errand]], seed: int) -> None:
        self.solver = solver
        self.dice = random.Random(seed)
        self.live = [[e for e in g if e.run in solver.laid] for g in groups]
        self.live = [g for g in self.live if g]
        self.of_run = {e.run: i for i, g in enumerate(self.live) for e in g}

    def places(self, i: int) -> set[int]:
        return {p for e in self.live[i] for p, key in self.solver.laid[e.run].passed if key >= 0}

    def picked(self) -> tuple[list[int], int]:
        """Groups to take out, in the order they are laid again, and the place to shut for the first."""
        dice, solver = self.dice, self.solver
        start = dice.randrange(len(self.live))
        shut = -1
        if dice.random() < 0.6:
            keys = sorted({k for e in self.live[start] for _, k in solver.laid[e.run].passed if k >= 0})
            if not keys:
                return [], -1
            key = dice.choice(keys)
            users = {self.of_run[r] for r in solver.holes[key].runs if r in self.of_run}
            found = sorted(users)
            if dice.random() < 0.7:
                shut = solver.holes[key].place
            most = MOST_GROUPS
        else:
            mine = self.places(start)
            near = sorted(
                (-len(mine & self.places(i)), abs(i - start), i) for i in range(len(self.live)) if i != start
            )
            found = [start, *(i for _, _, i in near[: dice.randint(0, 5)])]
            most = MOST_GROUPS
        if len(found) > most:
            found = sorted(dice.sample(found, most))
        dice.shuffle(found)
        return found, shut

    def move(self) -> bool:
        """Take out and lay again; False where nothing was picked or some run lost its way."""
        solver, dice = self.solver, self.dice
        picked, shut = self.picked()
        if not picked:
            return False
        groups = [self.live[i] for i in picked]
        many = len(solver.laid)
        cheap = dice.random() < 0.5
        if cheap:
            solver.share = dice.uniform(0.1, 1.0)
        solver.relay(groups, shut)
        solver.share = 1.0
        if cheap and len(solver.laid) == many:
            for group in groups:
                solver.relay([group])
        return len(solver.laid) == many


def improve(solver: Solver, groups: Sequence[Sequence[Errand]], moves: int, seed: int) -> int:
    """Make that many moves; return what was saved [micro-currency]."""
    mover = _Mover(solver, groups, seed)
    if len(mover.live) < 2 or not solver.holes:
        return 0
    prices = sorted(solver.places[h.place].open_price for h in solver.holes.values())
    usual = prices[len(prices) // 2] or 1
    first = best = solver.cost()
    best_stand = solver.stand()
    for n in range(moves):
        heat = usual * WARM * (COLD / WARM) ** (n / moves)
        before = solver.stand()
        was = solver.cost()
        if not mover.move() or solver.cost() - was > -heat * math.log(1.0 - mover.dice.random()):
            solver.go_back(before)
            continue
        if solver.cost() < best:
            best, best_stand = solver.cost(), solver.stand()
    if solver.cost() > best:
        solver.go_back(best_stand)
    return first - best
