"""The router's core on Steiner tree instances: ``python benchmarks/steinlib.py FILE...``.

Each edge is a way whose opening is paid once, length costs nothing, nothing ever fills up: then the
cheapest plan from the first terminal to all others is a Steiner tree. Prints per file, parted by tabs:
name, ours, known optimum or a dash, gap. Instances: SteinLib (Koch, Martin, Voss); the optima of its series
B are published with it.
"""

from __future__ import annotations

import sys
from pathlib import Path

from bayrun.cables.packing import PackingCache
from bayrun.geometry import Rect
from bayrun.routing.build import Passages
from bayrun.routing.mesh import weave
from bayrun.routing.records import Cell, Endpoint, Place, Slot
from bayrun.routing.solver import Errand, Solver

KNOWN = {
    "b01": 82,
    "b02": 83,
    "b03": 138,
    "b04": 59,
    "b05": 61,
    "b06": 122,
    "b07": 111,
    "b08": 104,
    "b09": 220,
    "b10": 86,
    "b11": 88,
    "b12": 174,
    "b13": 165,
    "b14": 235,
    "b15": 318,
    "b16": 127,
    "b17": 131,
    "b18": 218,
}
SCALE = 1_000_000
MOVES = 3000


def read(path: Path) -> tuple[list[tuple[str, str, int]], list[str]]:
    """(edges with weights, terminals) of a .stp file."""
    edges: list[tuple[str, str, int]] = []
    terminals: list[str] = []
    for line in path.read_text(encoding="utf-8", errors="replace").splitlines():
        words = line.split()
        if len(words) == 4 and words[0] in ("E", "A"):
            edges.append((words[1], words[2], round(float(words[3]))))
        elif len(words) == 2 and words[0] == "T":
            terminals.append(words[1])
    return edges, terminals


def solve(edges: list[tuple[str, str, int]], terminals: list[str]) -> int:
    """Weight of the tree our core finds."""
    at = (0.0, 0.0, 0.0)
    vertices = sorted({v for a, b, _ in edges for v in (a, b)} | set(terminals))
    cells = tuple(Cell(v, "bay", "w", "1", Rect(0, 0, 1, 1)) for v in vertices)
    slot = Slot(0.0, 0.0, 0.0, at, at, at)
    places = tuple(
        Place(f"e{i}", a, b, f"m{i}", "up", 1.0, (slot,), weight * SCALE)
        for i, (a, b, weight) in enumerate(edges)
    )
    root, *others = terminals
    ends = (Endpoint("root", at, root), *(Endpoint(f"t{t}", at, t) for t in others))
    mesh = weave(Passages(cells, places, ends, (), (), ()))
    solver = Solver(mesh, places, 0.6, 0.0, PackingCache())
    groups = [[Errand(i, "D", "root", f"t{t}", 1e-3, 0.0)] for i, t in enumerate(others)]
    if solver.solve(groups):
        raise ValueError("the terminals are not all joined")
    solver.polish(groups, MOVES)
    return solver.cost() // SCALE


def main(files: list[str]) -> int:
    """Print one line for each file."""
    for name in files:
        path = Path(name)
        try:
            ours = solve(*read(path))
        except (OSError, ValueError, IndexError) as problem:
            print(f"{path.stem}\t-\t-\t{problem}")
            continue
        known = KNOWN.get(path.stem)
        gap = f"{100 * (ours / known - 1):.2f} %" if known else "-"
        print(f"{path.stem}\t{ours}\t{known if known else '-'}\t{gap}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
