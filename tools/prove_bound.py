"""Prove a cost check: ``python tools/prove_bound.py PACK/cost-check.json``.

Reads the graph, the prices and the split from the file and works the bound out again with scipy's
shortest ways alone. Shares no code with the planner. Exit 0 where the claimed bound is proved, 1 where it
is not, 2 on bad input.

The argument: at each place, holes y times room C is at least the area of the cables through it, and y is
at least the share of every commodity through it. A split of the price f among these constraints whose
parts sum to at most f makes  total >= sum over commodities of count times the cheapest way  under the
parts; nothing else is trusted.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

FAR = 1e12


def prove(proof: dict[str, Any]) -> tuple[float, list[str]]:
    """(bound worked out from the file, what is wrong with it)."""
    import numpy as np
    from scipy.sparse import csr_matrix
    from scipy.sparse.csgraph import dijkstra

    wrong: list[str] = []
    size = int(proof["nodes"])
    edges = np.array(proof["edges"], dtype=float)
    a, b = edges[:, 0].astype(int), edges[:, 1].astype(int)
    inches, place, terminal = edges[:, 2], edges[:, 3].astype(int), edges[:, 4].astype(int)
    fee = np.array([p[0] for p in proof["places"]], dtype=float)
    room = np.array([p[1] for p in proof["places"]], dtype=float)
    area = np.array(proof["area_share"], dtype=float)
    kinds = proof["commodities"]
    link = np.zeros((len(kinds), len(fee)))
    for k, pairs in enumerate(proof["linking_share"]):
        for p, share in pairs:
            link[k, int(p)] = share
    if (area < 0).any() or (link < 0).any() or (inches < 0).any():
        wrong.append("a share or a length is below zero")
    if (area + link.sum(axis=0) > 1 + 1e-9).any():
        wrong.append("the shares of some hole's price sum to more than the price")
    total = 0.0
    held = place >= 0
    solid = room > 0
    for k, c in enumerate(kinds):
        per_area = np.where(solid, area * c["area"] / np.where(solid, room, 1.0), 0.0)
        pay = fee * (per_area + link[k] / c["count"])
        weight = inches * c["inch"]
        weight[held] += pay[place[held]]
        shut = (solid & (c["area"] > room + 1e-6))[place] & held
        shut |= (terminal >= 0) & (terminal != c["source"]) & (terminal != c["target"])
        weight[shut] = FAR
        weight = np.maximum(weight, 1e-9)
        graph = csr_matrix(
            (np.concatenate([weight, weight]), (np.concatenate([a, b]), np.concatenate([b, a]))),
            shape=(size, size),
        )
        if graph.nnz < 2 * len(weight):  # doubled edges were added up: take the cheaper instead
            cheapest: dict[tuple[int, int], float] = {}
            for i, j, w in zip(a, b, weight, strict=True):
                for key in ((int(i), int(j)), (int(j), int(i))):
                    cheapest[key] = min(w, cheapest.get(key, FAR))
            rows, columns = zip(*cheapest, strict=True)
            graph = csr_matrix((list(cheapest.values()), (rows, columns)), shape=(size, size))
        reached = float(dijkstra(graph, directed=True, indices=int(c["source"]))[int(c["target"])])
        if reached >= FAR:
            wrong.append(f"commodity {k + 1} has no way in the graph of the file")
            continue
        total += c["count"] * (reached - 1e-9 * size)
    count = sum(c["count"] for c in kinds)
    bound = total - len(kinds) - count
    if proof["bound"] > bound + 1:
        wrong.append(f"the file claims {proof['bound']}, the graph gives {bound:.0f}")
    if proof["bound"] > proof["cost"]:
        wrong.append("the bound stands over the cost of the plan")
    return bound, wrong


def main(arguments: list[str]) -> int:
    """Prove one file."""
    if len(arguments) != 1:
        print("usage: prove_bound.py PACK/cost-check.json", file=sys.stderr)
        return 2
    try:
        proof = json.loads(Path(arguments[0]).read_text(encoding="utf-8"))
        _, wrong = prove(proof)
    except (OSError, ValueError, KeyError, TypeError, IndexError) as problem:
        print(f"{arguments[0]}: expected a cost check, got something else ({problem})", file=sys.stderr)
        return 2
    if wrong:
        print(f"{arguments[0]}: not proved: {'; '.join(wrong)}")
        return 1
    gap = proof["cost"] / proof["bound"] - 1 if proof["bound"] else float("inf")
    print(
        f"{arguments[0]}: proved: no plan on this passage graph costs less than {proof['bound'] / 1e6:,.2f}; "
        f"this one costs {proof['cost'] / 1e6:,.2f}, {100 * gap:.1f} % more"
    )
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
