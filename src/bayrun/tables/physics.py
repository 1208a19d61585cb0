"""Printed and typical data for the computations: one TOML file a subject, each row saying how it is known."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any


def physics_table(name: str) -> dict[str, Any]:
    """One table of data, e.g. ``poe`` for ``poe.toml``.

    Args:
        name: File name without its ending.
    Returns:
        The table as TOML has it; a new dictionary at every call.
    """
    text = files("bayrun.tables").joinpath(f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
