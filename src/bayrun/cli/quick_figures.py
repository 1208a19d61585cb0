"""What the calculators share: figures as JSON and as lines, lengths and temperatures as people type them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

import click

from bayrun.units import Figure, LengthError, parse_length

if TYPE_CHECKING:
    _Number = click.ParamType[float]
else:
    _Number = click.ParamType  # which older versions of click do not let anybody subscript
_T = TypeVar("_T", bound=Callable[..., Any])
_LENGTH = "feet such as 150, or a length such as 45 m or 150' 6\""
_TEMPERATURE = "degrees Fahrenheit such as 130, or 55C"

as_json = click.option("--json", "as_json", is_flag=True, help="Only JSON on standard output.")
HELP = {"help_option_names": ["-h", "--help"]}


def figure_json(figure: Figure) -> dict[str, Any]:
    """A figure with its reason, as JSON."""
    return {
        "value": round(figure.value, 6),
        "unit": figure.unit,
        "plus_minus": None if figure.plus_minus is None else round(figure.plus_minus, 6),
        "formula": figure.formula,
        "source": figure.source,
        "inputs": dict(figure.inputs),
    }


def said(figure: Figure, digits: int = 2) -> str:
    """A figure in a sentence: ``48.2 ± 0.1 V``."""
    spread = f" ± {figure.plus_minus:.{digits}f}" if figure.plus_minus else ""
    return f"{figure.value:.{digits}f}{spread} {figure.unit}"


class _Feet(_Number):
    name = "length"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Feet from a plain number (``150`` is 150 ft, a run's usual unit), or any length with its unit."""
        text = str(value).strip()
        try:
            try:
                return float(text)
            except ValueError:
                return parse_length(text) / 12
        except LengthError:
            return self.fail(f"expected {_LENGTH}, got {text!r}", param, ctx)


class _Celsius(_Number):
    name = "temperature"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Degrees C from ``130``, ``130F`` or ``55C``."""
        text = str(value).strip().upper().replace("°", "")
        number = text.removesuffix("C") if text.endswith("C") else text.removesuffix("F")
        try:
            degrees = float(number)
        except ValueError:
            return self.fail(f"expected {_TEMPERATURE}, got {str(value)!r}", param, ctx)
        return degrees if text.endswith("C") else (degrees - 32) / 1.8


FEET = _Feet()
CELSIUS = _Celsius()


def temperature(default: str = "68F") -> Callable[[_T], _T]:
    """The option for how hot the conductors get."""
    return click.option(
        "--temperature",
        "celsius",
        type=CELSIUS,
        default=default,
        show_default=True,
        help="How hot the cable gets: 130 is Fahrenheit, 55C is Celsius.",
    )


def fahrenheit(celsius: float) -> str:
    """A temperature as it is said on site."""
    return f"{celsius * 1.8 + 32:.0f} °F ({celsius:.0f} °C)"


def exit_code(verdict: str) -> int:
    """0 where it holds, 1 where it fails or nobody can tell."""
    return 0 if verdict == "holds" else 1
