"""Prints how long bundles take to pack, and how close to the published radius. Nothing is asserted.

Run: .venv/bin/python benchmarks/packing.py
"""

from __future__ import annotations

import random
import time

from bayrun.cables import PackingCache, pack

BUNDLES = {
    "11x0.23 2x0.275": [0.23] * 11 + [0.275] * 2,
    "19x0.23": [0.23] * 19,
    "37x0.23": [0.23] * 37,
    "radii 1..12": [2.0 * k for k in range(1, 13)],
    "radii 1..20": [2.0 * k for k in range(1, 21)],
}


def since_ms(begun: float) -> float:
    """Milliseconds since a moment."""
    return 1000 * (time.perf_counter() - begun)


def main() -> None:
    """Print one line a bundle and effort."""
    for name, sizes in BUNDLES.items():
        for effort in ("quick", "fair", "best"):
            begun = time.perf_counter()
            packed = pack(sizes, effort=effort)
            print(f"{name:18} {effort:6} {packed.diameter_in:10.5f} {since_ms(begun):9.1f} ms")
    dice = random.Random(1)
    mixed = [dice.choice([0.16, 0.23, 0.275, 0.3, 0.36]) for _ in range(200)]
    begun = time.perf_counter()
    packed = pack(mixed, effort="quick")
    print(f"{'200 mixed':18} quick  {packed.diameter_in:10.5f} {since_ms(begun):9.1f} ms (aim 100)")
    bundles = [[dice.choice([0.23, 0.275, 0.36]) for _ in range(dice.randint(2, 17))] for _ in range(500)]
    cache, begun = PackingCache(), time.perf_counter()
    for sizes in bundles:
        cache.fits(sum(size * size for size in sizes) ** 0.5 / 0.4**0.5, sizes)
    print(f"{'fits at 40 %':18} cold   {since_ms(begun) / len(bundles):20.3f} ms a call (aim 1)")


if __name__ == "__main__":
    main()
