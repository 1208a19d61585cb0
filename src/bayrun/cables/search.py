"""The thorough packer: many layouts relaxed at once, the best moved about, the last made exact.

1. ``relax``: for a whole batch of layouts, minimize R + mu/2 * (sum of squared overlaps) by a limited-memory
   quasi-Newton method (L-BFGS, written over the batch so that one numpy call serves every layout), mu rising.
2. ``search``: starts are the quick packer's layouts, rings and random throws; then rounds of moves (throw one
   circle elsewhere, swap two of different size, shake) keep the best.
3. ``polish``: minimize R with contacts linearized inside a small step (a sequence of linear programs, HiGHS).
   A linearized pair constraint is the stricter one, since a distance is never less than its projection: so no
   step makes circles overlap, and every step that is kept lowers a measured R.

Source of the method: quasi-Newton as in Nocedal and Wright, Numerical Optimization, ch. 7 (from memory);
moves after Fu, Huang, Lu, arXiv 1306.0694 (the idea of swap and shift moves).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bayrun.cables.circles import Point, settle
from bayrun.cables.corners import HEARTS, lay

Array = npt.NDArray[np.float64]

_MEMORY = 6
_SOFT, _STIFF = 30.0, 1000.0


@dataclass(frozen=True, slots=True)
class Plan:
    """How hard to try.

    Args:
        islands: Independent beginnings; more than one are joined for a last evolution.
        batch: Layouts relaxed at once.
        rounds: Rounds of moves on each island.
        parents: Best different layouts that are moved about.
        finals: Best layouts polished.
        steps: Quasi-Newton steps for each relaxing.
    """

    islands: int
    batch: int
    rounds: int
    parents: int
    finals: int
    steps: int


FAIR = Plan(islands=1, batch=24, rounds=4, parents=6, finals=3, steps=50)
BEST_EQUAL = Plan(islands=10, batch=32, rounds=4, parents=8, finals=6, steps=80)
BEST_EQUAL_AGAIN = Plan(islands=6, batch=32, rounds=3, parents=6, finals=5, steps=80)
BEST_MIXED = Plan(islands=5, batch=24, rounds=16, parents=6, finals=4, steps=40)


def energy(x: Array, radii: Array, mu: float) -> tuple[Array, Array]:
    """Value and slope of R + mu/2 * overlaps for a batch; each row is x..., y..., R."""
    batch, count = x.shape[0], radii.size
    px, py, big = x[:, :count], x[:, count : 2 * count], x[:, -1]
    dx = px[:, :, None] - px[:, None, :]
    dy = py[:, :, None] - py[:, None, :]
    apart = np.sqrt(dx * dx + dy * dy)
    over = (radii[:, None] + radii[None, :]) - apart
    over[:, np.arange(count), np.arange(count)] = 0.0
    np.maximum(over, 0.0, out=over)
    pull = over / np.maximum(apart, 1e-12)
    far = np.sqrt(px * px + py * py)
    out = np.maximum(far + radii - big[:, None], 0.0)
    push = out / np.maximum(far, 1e-12)
    value = big + mu * (0.25 * np.sum(over * over, axis=(1, 2)) + 0.5 * np.sum(out * out, axis=1))
    slope = np.empty((batch, 2 * count + 1))
    slope[:, :count] = mu * (push * px - np.sum(pull * dx, axis=2))
    slope[:, count : 2 * count] = mu * (push * py - np.sum(pull * dy, axis=2))
    slope[:, -1] = 1.0 - mu * np.sum(out, axis=1)
    return value, slope


def relax(x: Array, radii: Array, mu: float, steps: int) -> Array:
    """Bring every layout of a batch near a local minimum; see the head of the module."""
    value, slope = energy(x, radii, mu)
    past: list[tuple[Array, Array, Array]] = []
    for _ in range(steps):
        move = -slope
        kept: list[Array] = []
        for s, y, rho in reversed(past):
            alpha = rho * np.sum(s * move, axis=1)
            kept.append(alpha)
            move = move - alpha[:, None] * y
        if past:
            s, y, rho = past[-1]
            yy = np.sum(y * y, axis=1)
            move = move * np.where(rho > 0, 1 / np.maximum(rho * yy, 1e-300), 1 / mu)[:, None]
        else:
            move = move / mu
        for (s, y, rho), alpha in zip(past, reversed(kept), strict=True):
            beta = rho * np.sum(y * move, axis=1)
            move = move + (alpha - beta)[:, None] * s
        fall = np.sum(move * slope, axis=1)
        up = fall > -1e-300
        move[up] = -slope[up] / mu
        fall = np.sum(move * slope, axis=1)
        longest = np.max(np.abs(move), axis=1)
        step = np.minimum(1.0, 0.5 / np.maximum(longest, 1e-300))
        for _ in range(5):
            trial = x + step[:, None] * move
            new_value, new_slope = energy(trial, radii, mu)
            bad = new_value > value + 1e-4 * step * fall
            if not np.any(bad):
                break
            step = np.where(bad, step * 0.35, step)
        moved = ~bad
        step_s = np.where(moved[:, None], trial - x, 0.0)
        step_y = np.where(moved[:, None], new_slope - slope, 0.0)
        curve = np.sum(step_s * step_y, axis=1)
        sound = curve > 1e-14 * np.sum(step_y * step_y, axis=1)
        rho = np.where(sound, 1 / np.where(sound, curve, 1.0), 0.0)
        past.append((step_s, step_y, rho))
        if len(past) > _MEMORY:
            past.pop(0)
        x = np.where(moved[:, None], trial, x)
        value = np.where(moved, new_value, value)
        slope = np.where(moved[:, None], new_slope, slope)
        if not np.any(moved) or np.max(np.abs(slope)) < 1e-6:
            break
    return x


def _measure(x: Array, radii: Array) -> Array:
    """Radius that each layout really needs after scaling its closest pair apart (center not moved)."""
    count = radii.size
    px, py = x[:, :count], x[:, count : 2 * count]
    i, j = np.triu_indices(count, 1)
    apart = np.hypot(px[:, i] - px[:, j], py[:, i] - py[:, j])
    scale = np.max((radii[i] + radii[j]) / np.maximum(apart, 1e-9), axis=1)
    return np.asarray(np.max(np.hypot(px, py) * scale[:, None] + radii, axis=1))


def _best_different(x: Array, worth: Array, most: int) -> tuple[Array, Array]:
    """The best layouts, best first; two of one radius are most often one layout turned, so only one stays."""
    chosen: list[int] = []
    for k in np.argsort(worth, kind="stable"):
        if all(abs(worth[k] - worth[c]) > 1e-4 * worth[k] for c in chosen):
            chosen.append(int(k))
            if len(chosen) == most:
                break
    return x[chosen], worth[chosen]


def polish(radii: Sequence[float], points: Sequence[Point], rounds: int = 25) -> tuple[float, list[Point]]:
    """Take a layout to the bottom of its valley; see the head of the module.

    Args:
        radii: Any one unit, the largest near 1.
        points: Center of each.
        rounds: Most linear programs solved.
    Returns:
        Container radius and centers, settled.
    """
    from scipy.optimize import linprog
    from scipy.sparse import csr_matrix

    best, spots = settle(radii, points)
    size = np.asarray(radii)
    count = size.size
    if count < 3 or not math.isfinite(best):
        return best, spots
    i_all, j_all = np.triu_indices(count, 1)
    reach = 0.15 * float(size[-1])
    ring = np.arange(count)
    for _ in range(rounds):
        p = np.asarray(spots)
        gap = p[i_all] - p[j_all]
        apart = np.hypot(gap[:, 0], gap[:, 1])
        slack = apart - size[i_all] - size[j_all]
        close = slack < 2.9 * reach
        i, j, u = i_all[close], j_all[close], gap[close] / apart[close, None]
        pairs = np.arange(i.size)
        far = np.hypot(p[:, 0], p[:, 1])
        v = p / np.maximum(far, 1e-12)[:, None]
        rows = np.concatenate([pairs] * 4 + [i.size + ring] * 3)
        columns = np.concatenate([i, j, count + i, count + j, ring, count + ring, np.full(count, 2 * count)])
        entries = np.concatenate([-u[:, 0], u[:, 0], -u[:, 1], u[:, 1], v[:, 0], v[:, 1], -np.ones(count)])
        matrix = csr_matrix((entries, (rows, columns)), shape=(i.size + count, 2 * count + 1))
        limit = np.concatenate([np.maximum(slack[close], 0.0), best - far - size])
        answer = linprog(
            np.concatenate([np.zeros(2 * count), [1.0]]),
            A_ub=matrix,
            b_ub=limit,
            bounds=[(-reach, reach)] * (2 * count) + [(-best, 0.0)],
            method="highs-ds",
        )
        if answer.x is None:
            reach /= 4
        else:
            hoped = -float(answer.x[-1])
            if hoped < 1e-13 * best:
                break
            move = np.asarray(answer.x[: 2 * count]).reshape(2, count).T
            trial, moved = settle(radii, [(float(a), float(b)) for a, b in p + move])
            if trial < best:
                if best - trial < 0.5 * hoped:
                    reach /= 2
                best, spots = trial, moved
            else:
                reach /= 4
        if reach < 1e-12:
            break
    return best, spots


def _rings(radii: Array, batch: int, dice: np.random.Generator) -> Array:
    """Layouts of circles on rings, the outer ring full; the order of sizes is thrown."""
    count = radii.size
    x = np.zeros((batch, 2 * count + 1))
    mean = float(np.sqrt(np.mean(radii * radii)))
    for row in range(batch):
        order = dice.permutation(count)
        left, ring = count, math.sqrt(count / 0.78) * mean - mean
        begin = 0
        while left:
            room = int(math.pi / math.asin(mean / ring)) if ring > mean else 1
            on = min(left, max(1, room - int(dice.integers(0, 2))))
            turn = dice.random() * 2 * math.pi + np.arange(on) * 2 * math.pi / on
            chosen = order[begin : begin + on]
            x[row, chosen], x[row, count + chosen] = ring * np.cos(turn), ring * np.sin(turn)
            begin, left, ring = begin + on, left - on, max(0.0, ring - 1.8 * mean)
    # Circles exactly on one another would never part.
    x[:, : 2 * count] += dice.normal(0.0, 0.02 * mean, (batch, 2 * count))
    return x


def vacancies(
    x: Array, radii: Array, dice: np.random.Generator, tries: int = 60
) -> tuple[Array, Array, Array]:
    """Random spots of one layout with the room left at each (radius of the largest circle that fits)."""
    count = radii.size
    px, py, big = x[:count], x[count : 2 * count], float(x[-1])
    angle, far = dice.random(tries) * 2 * math.pi, np.sqrt(dice.random(tries)) * big
    sx, sy = far * np.cos(angle), far * np.sin(angle)
    room = np.min(np.hypot(sx[:, None] - px, sy[:, None] - py) - radii, axis=1)
    return sx, sy, np.minimum(room, big - far)


def _moves(x: Array, radii: Array, dice: np.random.Generator, batch: int) -> Array:
    """A batch of changed copies of the layouts kept: swap sizes, move into the roomiest spots, shake."""
    count = radii.size
    y: Array = x[np.arange(batch) % x.shape[0]].copy()
    mixed = bool(radii[0] > radii[-1])
    weight = np.cumsum(radii) / np.sum(radii)
    for row in range(batch):
        kind = dice.random()
        if mixed and kind < 0.5:
            for _ in range(int(dice.integers(1, 3))):
                a = int(np.searchsorted(weight, dice.random()))
                # Sizes are sorted: a neighbor in the order is a swap that may just fit.
                b = (a + int(dice.geometric(0.4))) % count
                y[row, [a, b]] = y[row, [b, a]]
                y[row, [count + a, count + b]] = y[row, [count + b, count + a]]
        elif kind < 0.85:
            sx, sy, room = vacancies(y[row], radii, dice)
            spots = np.argsort(-room, kind="stable")[:8]
            for _ in range(int(dice.integers(1, 4))):
                a, spot = int(np.searchsorted(weight, dice.random())), int(dice.choice(spots))
                y[row, a], y[row, count + a] = sx[spot], sy[spot]
        else:
            y[row, : 2 * count] += dice.normal(0.0, dice.uniform(0.1, 0.6) * float(np.mean(radii)), 2 * count)
    return y


def starts(radii: Array, batch: int, big: float, dice: np.random.Generator) -> Array:
    """Half rings, half thrown at random."""
    count, half = radii.size, batch // 2
    x = np.zeros((batch, 2 * count + 1))
    x[:half] = _rings(radii, half, dice)
    angle = dice.random((batch - half, count)) * 2 * math.pi
    far = np.sqrt(dice.random((batch - half, count))) * big
    x[half:, :count], x[half:, count : 2 * count] = far * np.cos(angle), far * np.sin(angle)
    x[:, -1] = big
    return x


def _evolve(x: Array, radii: Array, plan: Plan, dice: np.random.Generator) -> tuple[Array, Array]:
    """Rounds of moves from the best few; returns them with the radius each needs, best first."""
    x, worth = _best_different(x, _measure(x, radii), plan.parents)
    for _ in range(plan.rounds):
        y = relax(
            relax(_moves(x, radii, dice, plan.batch), radii, _SOFT, plan.steps), radii, _STIFF, plan.steps
        )
        fresh = _measure(y, radii)
        x, worth = _best_different(np.concatenate([x, y]), np.concatenate([worth, fresh]), plan.parents)
    return x, worth


def search(radii: Sequence[float], plan: Plan, seed: int = 20) -> tuple[float, list[Point]]:
    """Smallest container found for circles.

    Args:
        radii: Largest first, the largest 1.
        plan: How hard to try.
        seed: Of the throws; the same seed gives the same layout.
    Returns:
        Container radius and centers, settled.
    """
    size = np.asarray(radii, dtype=np.float64)
    count = size.size
    quick = [settle(radii, lay(radii, heart)) for heart in HEARTS if heart <= count]
    best, spots = min(quick, key=lambda one: one[0])
    if count < 3:
        return best, spots
    x, worth = np.zeros((0, 2 * count + 1)), np.zeros(0)
    for island in range(plan.islands):
        dice = np.random.default_rng([seed, count, island])
        y = starts(size, plan.batch, best, dice)
        if island == 0:
            for row, (_, layout) in enumerate(quick):
                y[row, : 2 * count] = np.asarray(layout).T.ravel()
        y = relax(relax(y, size, _SOFT, plan.steps), size, _STIFF, plan.steps)
        y, fresh = _evolve(y, size, plan, dice)
        x, worth = np.concatenate([x, y]), np.concatenate([worth, fresh])
    x, worth = _best_different(x, worth, plan.parents)
    if plan.islands > 1:
        x, worth = _evolve(x, size, plan, np.random.default_rng([seed, count]))
    for row in x[: plan.finals]:
        layout = [(float(a), float(b)) for a, b in row[: 2 * count].reshape(2, count).T]
        radius, moved = polish(radii, layout)
        if radius < best:
            best, spots = radius, moved
    return best, spots
