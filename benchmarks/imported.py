"""How long a house file of some megabytes takes to become a job: ``.venv/bin/python benchmarks/imported.py``.

The model is our own: two stories of rooms with doors and windows, and boundaries of furniture up to the size
asked for. Nothing is asserted; the budget is 5 MB in 30 s.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def write_model(path: Path, megabytes: float) -> Path:
    """An IFC file of about this size."""
    sys.path.insert(0, str(ROOT / "tests"))
    from ifc_model import Model, brep, product, solid_shape

    model = Model()
    across, wide, deep = 6, 144.0, 168.0
    for level, z in (("One", 0.0), ("Two", 107.0)):
        model.storey(level, z)
        for row in range(4):
            for i in range(across):
                a = (i * wide, row * deep)
                front = model.wall(level, a, (a[0] + wide, a[1]), 6.5 if row in (0, 3) else 4.5, name="Wall")
                if row in (0, 3):
                    model.opening(front, 40.0, 48.0, 36.0, 44.0, "window")
                else:
                    model.opening(front, 40.0, 32.0, 0.0, 80.0, "door")
        for i in range(across + 1):
            for row in range(3):
                a = (i * wide, row * deep)
                side = model.wall(level, a, (a[0], a[1] + deep), 4.5, name="Side")
                if 0 < i < across:
                    model.opening(side, 50.0, 32.0, 0.0, 80.0, "door")
    number = 0
    while (
        sum(len(line) + 1 for line in model.lines[:: max(1, len(model.lines) // 500)])
        * max(1, len(model.lines) // 500)
        < megabytes * 1e6
    ):
        for _ in range(200):
            x, y = (number * 37) % 800, (number * 53) % 480
            body = brep(model, float(x), x + 30.0, float(y), y + 20.0, 0.0, 30.0)
            shape = solid_shape(model, body)
            product(model, "One", "IFCFURNISHINGELEMENT", shape, name=f"Cabinet {number}")
            number += 1
    return model.write(path)


def main() -> None:
    """Print the time of each step."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--megabytes", type=float, default=5.0)
    sizes = parser.parse_args()
    from bayrun.jobs.bring_in import bring_in

    with tempfile.TemporaryDirectory() as folder:
        path = write_model(Path(folder) / "house.ifc", sizes.megabytes)
        begun = time.perf_counter()
        last = [begun, "reading"]

        def told(words: str, done: int, total: int) -> None:
            now = time.perf_counter()
            print(f"  {now - last[0]:6.2f} s  {last[1]}")
            last[:] = [now, words]

        found = bring_in(path, progress=told)
        print(f"  {time.perf_counter() - last[0]:6.2f} s  {last[1]}")
        spent_s = time.perf_counter() - begun
        print(
            f"{path.stat().st_size / 1e6:.1f} MB: {spent_s:.1f} s (budget 30 s for 5 MB), "
            f"{len(found.job.walls)} walls, {len(found.job.rooms)} rooms, "
            f"{len(found.job.locations)} locations proposed"
        )


if __name__ == "__main__":
    main()
