"""What all tests share: counts for every day and for ``./check --long``, missing tools, models by others.

``./check --long`` sets ``BAYRUN_LONG=1``: the same tests then run with larger counts, and tests marked
``long`` run too. A test asks for its count with ``count(100, 2000)``.
"""

from __future__ import annotations

import importlib.util
import os
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

LONG = os.environ.get("BAYRUN_LONG") == "1"
CI = os.environ.get("CI", "").lower() in ("1", "true")
ROOT = Path(__file__).resolve().parent.parent
SHARED = ROOT.parent / "shared"

# The same examples every time, and no limit on the time of one: a slow machine is not a defect.
_steady = {
    "derandomize": True,
    "deadline": None,
    "database": None,
    "suppress_health_check": [HealthCheck.too_slow],
}
settings.register_profile("quick", max_examples=50, **_steady)  # type: ignore[arg-type]
settings.register_profile("long", max_examples=2000, **_steady)  # type: ignore[arg-type]
settings.load_profile("long" if LONG else "quick")


def count(quick: int, long: int) -> int:
    """How many cases a test runs: ``quick`` every day, ``long`` under ``./check --long``."""
    return long if LONG else quick


def shared_file(name: str) -> Path:
    """Find a model drawn by others, which this repository does not hold; without it the test is skipped.

    Args:
        name: Path inside the folder ``shared`` beside the checkout, such as ``houses/duplex/model.ifc``.
    """
    path = SHARED / name
    if not path.exists():
        pytest.skip(f"needs ../shared/{name}: models drawn by others are not part of this repository")
    return path


def need(*, program: str | None = None, module: str | None = None) -> None:
    """Skip the test when a tool is missing; under CI=true fail instead, so that no gap goes unseen."""
    for kind, name, found in (
        ("program", program, program is None or shutil.which(program) is not None),
        ("Python package", module, module is None or importlib.util.find_spec(module) is not None),
    ):
        if not found:
            message = f"the {kind} {name} is not installed"
            if CI:
                pytest.fail(message)
            pytest.skip(message)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave the tests marked ``long`` to ``./check --long``."""
    if LONG:
        return
    for item in items:
        if item.get_closest_marker("long"):
            item.add_marker(pytest.mark.skip(reason="runs in ./check --long"))
