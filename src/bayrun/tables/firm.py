"""What a firm starts with before it has said its own: cable kinds as printed data."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any


def usual_cable_rows() -> tuple[dict[str, Any], ...]:
    """Rows of ``firm.toml``: letter, name, diameter, price … Prices and box sizes there are invented."""
    text = files("bayrun.tables").joinpath("firm.toml").read_text(encoding="utf-8")
    return tuple(tomllib.loads(text)["cable"])
