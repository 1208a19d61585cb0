"""The most thorough packer of mixed sizes: a crowd of layouts, the large circles first.

1. The large circles alone (about two thirds of them): a crowd of layouts is moved about (sizes swapped, a
   circle thrown elsewhere, all shaken) and relaxed; a worse layout is kept now and then, less and less often;
   the worst give way to copies of the best. What the small ones need is mostly gaps, so the large decide.
2. The small ones are put into the gaps of the best layouts, largest first, and all is relaxed.
3. The best of several such beginnings go on together with all circles; the last few are polished.

Effort is counted in rounds, never in time; all throws are seeded. Source: simulated annealing and basin
hopping (Wales and Doye 1997, from memory) with the moves of Fu, Huang, Lu, arXiv 1306.0694.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bayrun.cables.circles import Point, settle
from bayrun.cables.corners import HEARTS, lay
from bayrun.cables.search import Array, energy, polish, relax, starts, vacancies

SOFT, STIFF = 30.0, 1000.0
_ALIKE = 2e-5
"""Two layouts whose worth differs by less than this share are taken for one, turned."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to try.

    Args:
        islands: Independent beginnings with the large circles.
        crowd: Layouts of each.
        rounds: Rounds of moves of each.
        heat: Share by which a worse layout may still be kept at the beginning; it falls to nothing.
        large: Part of the circles, the largest, that begin alone.
        last_crowd, last_rounds, last_heat: Of the common end with all circles.
        finals: Layouts polished.
    """

    islands: int = 3
    crowd: int = 48
    rounds: int = 100
    heat: float = 0.015
    large: float = 0.65
    last_crowd: int = 64
    last_rounds: int = 100
    last_heat: float = 0.006
    finals: int = 4


BEST = Effort()
LEAST, MOST = 9, 32
"""Counts of circles it is for: fewer need no crowd, more take too long."""


def _worth(x: Array, radii: Array) -> Array:
    """Container radius with what overlaps is left counted in: smooth, so that it tells layouts apart."""
    return energy(x, radii, STIFF)[0]


def _moved(x: Array, radii: Array, dice: np.random.Generator) -> Array:
    """One change to each layout of the crowd; larger circles are picked more often."""
    count = radii.size
    y: Array = x.copy()
    weight = np.cumsum(radii) / np.sum(radii)

    def pick() -> int:
        return min(count - 1, int(np.searchsorted(weight, dice.random())))

    def swap(row: int, a: int, b: int) -> None:
        y[row, [a, b]] = y[row, [b, a]]
        y[row, [count + a, count + b]] = y[row, [count + b, count + a]]

    for row in range(y.shape[0]):
        kind = dice.random()
        if kind < 0.5:
            for _ in range(int(dice.integers(1, 3))):
                a = pick()
                b = a + int(dice.geometric(0.3)) * (1 if dice.random() < 0.5 else -1)
                swap(row, a, b if 0 <= b < count else (a + 1) % count)
        elif kind < 0.6:
            swap(row, pick(), int(dice.integers(0, count)))
        elif kind < 0.8:
            sx, sy, room = vacancies(y[row], radii, dice, 40)
            spots = np.argsort(-room, kind="stable")[:6]
            for _ in range(int(dice.integers(1, 3))):
                a, spot = int(dice.integers(count // 4, count)), int(dice.choice(spots))
                y[row, a], y[row, count + a] = sx[spot], sy[spot]
        elif kind < 0.9:
            a = pick()
            far = np.sqrt(dice.random()) * max(float(y[row, -1]) - radii[a], 0.0)
            turn = dice.random() * 2 * np.pi
            y[row, a], y[row, count + a] = far * np.cos(turn), far * np.sin(turn)
        else:
            shake = dice.uniform(0.05, 0.4) * float(np.mean(radii))
            y[row, : 2 * count] += dice.normal(0.0, shake, 2 * count)
    return y


def _best(pool: list[tuple[float, Array]], most: int) -> list[tuple[float, Array]]:
    """The best different layouts of a pool, best first."""
    kept: list[tuple[float, Array]] = []
    for worth, row in sorted(pool, key=lambda one: one[0]):
        if all(abs(worth - other) > _ALIKE * worth for other, _ in kept):
            kept.append((worth, row))
            if len(kept) == most:
                break
    return kept


def _evolve(
    x: Array, radii: Array, rounds: int, heat: float, dice: np.random.Generator
) -> list[tuple[float, Array]]:
    """Rounds of moves; returns the best different layouts met, best first."""
    x = x.copy()
    crowd, worth = x.shape[0], _worth(x, radii)
    pool = _best([(float(w), row.copy()) for w, row in zip(worth, x, strict=True)], 40)
    for number in range(rounds):
        y = relax(relax(_moved(x, radii, dice), radii, SOFT, 25), radii, STIFF, 35)
        fresh = _worth(y, radii)
        warm = heat * (1 - number / rounds) * 3 * dice.random(crowd) ** 2
        kept = fresh < worth * (1 + warm)
        x[kept], worth[kept] = y[kept], fresh[kept]
        pool = _best([*pool, *((float(fresh[k]), y[k].copy()) for k in np.argsort(fresh)[:4])], 40)
        if number % 8 == 7:
            order, part = np.argsort(worth, kind="stable"), max(1, crowd // 5)
            x[order[-part:]], worth[order[-part:]] = x[order[:part]], worth[order[:part]]
            x[order[-part - 1]], worth[order[-part - 1]] = pool[0][1], pool[0][0]
    return pool


def _with_small(x: Array, large: int, radii: Array, dice: np.random.Generator) -> Array:
    """Layouts of the large circles with the small ones put into their gaps, largest first."""
    count = radii.size
    out: Array = np.zeros((x.shape[0], 2 * count + 1))
    out[:, :large], out[:, count : count + large] = x[:, :large], x[:, large : 2 * large]
    out[:, -1] = x[:, -1]
    for row in range(x.shape[0]):
        for k in range(large, count):
            here = np.concatenate([out[row, :k], out[row, count : count + k], out[row, -1:]])
            sx, sy, room = vacancies(here, radii[:k], dice, 300)
            takes = room >= radii[k]
            # The smallest gap that takes it leaves the larger ones for others; else the roomiest.
            if np.any(takes) and dice.random() < 0.6:
                spot = int(np.argmin(np.where(takes, room, np.inf)))
            else:
                spot = int(np.argmax(room))
            out[row, k], out[row, count + k] = sx[spot], sy[spot]
    return out


def search_mixed(radii: Sequence[float], effort: Effort = BEST, seed: int = 20) -> tuple[float, list[Point]]:
    """Smallest container found for circles of mixed sizes.

    Args:
        radii: Largest first, the largest 1; 9 to 32 of them are what it is made for.
        effort: How hard to try.
        seed: Of the throws; the same seed gives the same layout.
    Returns:
        Container radius and centers, settled.
    """
    size = np.asarray(radii, dtype=np.float64)
    count = size.size
    best, spots = min(
        (settle(radii, lay(radii, heart)) for heart in HEARTS if heart <= count), key=lambda one: one[0]
    )
    large = max(3, round(effort.large * count))
    pool: list[tuple[float, Array]] = []
    for island in range(effort.islands):
        dice = np.random.default_rng([seed, count, island])
        head = size[:large]
        x = starts(head, effort.crowd, best * 0.93, dice)
        x = relax(relax(x, head, SOFT, 40), head, STIFF, 40)
        found = _evolve(x, head, effort.rounds, effort.heat, dice)
        y = _with_small(np.stack([row for _, row in found]), large, size, dice)
        y = relax(relax(y, size, SOFT, 40), size, STIFF, 40)
        pool += [(float(w), row) for w, row in zip(_worth(y, size), y, strict=True)]
    pool.sort(key=lambda one: one[0])
    x = np.stack([pool[k % len(pool)][1] for k in range(effort.last_crowd)])
    found = _evolve(x, size, effort.last_rounds, effort.last_heat, np.random.default_rng([seed, count]))
    for _, row in found[: effort.finals]:
        layout = [(float(a), float(b)) for a, b in row[: 2 * count].reshape(2, count).T]
        radius, moved = polish(radii, layout)
        if radius < best:
            best, spots = radius, moved
    return best, spots
