"""Printed and typical data for the computations: one TOML file a subject, each row saying how it is known."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def physics_table(name: str) -> dict[str, Any]:
    """One table of data, e.g. ``poe`` for ``poe.toml``.

    Args:
        name: File name without its ending.
    Returns:
        The table as TOML has it, read once and shared: nobody writes to it.
    """
    text = files("bayrun.tables").joinpath(f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
