"""A number a person will see, with where it comes from."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """One number with its unit, formula and inputs, so that a person can ask "why".

    Args:
        value: The number, in ``unit``.
        unit: ``in``, ``ft``, ``dB``, ``W`` …
        formula: The formula or rule in words.
        source: Document, edition, clause; or "common practice, no source".
        inputs: Pairs of name and printed value.
        plus_minus: Uncertainty in the same unit, or None where the number is exact.
    """

    value: float
    unit: str
    formula: str
    source: str
    inputs: tuple[tuple[str, str], ...] = ()
    plus_minus: float | None = None

    def explain(self) -> str:
        """The number with its reason on one line."""
        spread = f" ± {self.plus_minus:g}" if self.plus_minus is not None else ""
        inputs = "; ".join(f"{name} {value}" for name, value in self.inputs)
        return f"{self.value:g}{spread} {self.unit}: {self.formula} ({inputs}) [{self.source}]"
