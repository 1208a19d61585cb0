"""The cost check: never above what any plan costs, proved again by a program that shares no code.

Outside checks: exhaustive search over all simple ways on 200 toy graphs; tools/prove_bound.py, which uses
scipy's shortest ways alone.
"""

from __future__ import annotations

import itertools
import json
import math
import random
import sys
from pathlib import Path
from typing import Any

import pytest
from tests.conftest import count
from tests.demo import HOUSES
from tests.demo import job as demo_job
from tests.random_houses import random_house

from bayrun.cables.packing import PackingCache
from bayrun.framing import lay_out
from bayrun.geometry import Rect
from bayrun.routing import route
from bayrun.routing.bound import commodities, cost_check
from bayrun.routing.build import Passages
from bayrun.routing.mesh import weave
from bayrun.routing.records import Cell, Endpoint, Place, Slot
from bayrun.routing.solver import Errand, Solver

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "tools"))
import prove_bound

FILL = 0.40
Point = tuple[float, float, float]


def toy(seed: int) -> tuple[Passages, list[Errand]]:
    """A few cells joined by a few places: small enough to try every way."""
    dice = random.Random(seed)
    cells = [Cell(f"c{i}", "bay", "w", "1", Rect(0, 0, 1, 1)) for i in range(5)]

    def point() -> Point:
        return (dice.uniform(0, 200), dice.uniform(0, 200), 0.0)

    places = []
    for i in range(dice.randint(5, 7)):
        a, b = dice.sample(range(5), 2)
        at = point()
        slots = tuple(Slot(at[0], 5.0 * k, 0.0, (at[0], at[1], 5.0 * k), at, at) for k in range(4))
        price = dice.randint(1, 40) * 100_000
        places.append(Place(f"p{i}", f"c{a}", f"c{b}", f"m{i}", "up", 1.0, slots, price))
    ends = [Endpoint("enclosure/top", point(), "c0", extra_in=5.0)]
    errands = []
    diameter_in = dice.choice([0.3, 0.36, 0.6])
    for i in range(3):
        name = f"L{i}"
        ends.append(Endpoint(name, point(), f"c{dice.randint(1, 4)}"))
        errands.append(Errand(i, "D", "enclosure", name, diameter_in, 20_000.0))
    return Passages(tuple(cells), tuple(places), tuple(ends), (), (), ()), errands


def ways(passages: Passages, target: Endpoint) -> list[tuple[float, tuple[int, ...]]]:
    """(length, places) of every way that enters no cell twice."""
    start = next(e for e in passages.endpoints if e.id == "enclosure/top")
    found: list[tuple[float, tuple[int, ...]]] = []

    def apart(a: Point, b: Point) -> float:
        return sum(abs(p - q) for p, q in zip(a, b, strict=True))

    def walk(cell: str, at: Point, length: float, passed: tuple[int, ...], seen: frozenset[str]) -> None:
        if cell == target.cell:
            found.append((length + apart(at, target.at), passed))
        for i, place in enumerate(passages.places):
            if cell not in (place.a, place.b) or i in passed:
                continue
            other = place.b if cell == place.a else place.a
            if other in seen:
                continue
            spot = place.slots[0].at
            walk(other, spot, length + apart(at, spot), (*passed, i), seen | {other})

    walk(start.cell, start.at, start.extra_in, (), frozenset([start.cell]))
    return found


def cheapest(passages: Passages, errands: list[Errand]) -> float | None:
    """The cheapest plan of all, or None where a cable has no way."""
    each = math.floor(FILL / errands[0].diameter_in ** 2 + 1e-9)
    choices = [ways(passages, next(e for e in passages.endpoints if e.id == r.target)) for r in errands]
    best = None
    for combo in itertools.product(*choices):
        used: dict[int, int] = {}
        for _, passed in combo:
            for p in passed:
                used[p] = used.get(p, 0) + 1
        holes = {p: -(-n // each) for p, n in used.items()} if each else {}
        if not each and used:
            continue
        if any(n > len(passages.places[p].slots) for p, n in holes.items()):
            continue
        cost = sum(length * 20_000.0 for length, _ in combo)
        cost += sum(passages.places[p].open_price * n for p, n in holes.items())
        best = cost if best is None else min(best, cost)
    return best


def test_bound_and_plan_stand_on_either_side_of_the_best_of_200_toys() -> None:
    exact = tried = 0
    for seed in range(count(200, 1000)):
        passages, errands = toy(seed)
        best = cheapest(passages, errands)
        mesh = weave(passages)
        solver = Solver(mesh, passages.places, FILL, 0.5, PackingCache())
        groups = [[e] for e in errands]
        lost = solver.solve(groups)
        if best is None:
            assert lost, seed
            continue
        assert not lost, seed
        cost = solver.cost()
        found = commodities(groups, set(solver.laid))
        check = cost_check(mesh, passages.places, found, FILL, cost, planned=True)
        assert check.bound <= best + 1, seed
        assert cost >= best - len(errands), seed  # each way's price is rounded to a whole unit
        tried += 1
        exact += cost <= best + len(errands)
    assert tried > 100
    assert exact >= 0.9 * tried  # regression pin: greedy with rounds of improvement finds most toys' best


def proof_of(job: Any) -> dict[str, Any]:
    wiring = route(job, lay_out(job), certify=True)
    assert wiring.certificate is not None
    proof: dict[str, Any] = json.loads(wiring.certificate.proof)
    return proof


@pytest.mark.parametrize("house", HOUSES)
def test_a_separate_program_proves_the_bound(house: str) -> None:
    proof = proof_of(demo_job(house))
    bound, wrong = prove_bound.prove(proof)
    assert wrong == []
    assert proof["bound"] <= bound + 1
    assert 0 < proof["bound"] <= proof["cost"]


def test_random_houses_are_proved_too() -> None:
    for seed in range(count(4, 100)):
        _, wrong = prove_bound.prove(proof_of(random_house(seed)))
        assert wrong == [], seed


def test_a_tampered_proof_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    proof = proof_of(demo_job("A"))
    more = {**proof, "bound": int(proof["bound"] * 1.01)}
    assert "claims" in prove_bound.prove(more)[1][0]
    greedy = {**proof, "area_share": [v * 2 + 0.5 for v in proof["area_share"]]}
    assert any("sum to more" in w for w in prove_bound.prove(greedy)[1])
    path = tmp_path / "cost-check.json"
    path.write_text(json.dumps(proof), encoding="utf-8")
    assert prove_bound.main([str(path)]) == 0
    assert "no plan on this passage graph costs less" in capsys.readouterr().out
    path.write_text("{}", encoding="utf-8")
    assert prove_bound.main([str(path)]) == 2
