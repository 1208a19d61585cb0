"""The demo houses' job files, wherever the project stands."""

from __future__ import annotations

from pathlib import Path


def example_text(letter: str) -> str:
    """The text of a demo house's job file.

    Raises:
        FileNotFoundError: The project's examples folder is not beside the package.
    """
    return example_file(letter).read_text(encoding="utf-8")


def example_file(letter: str) -> Path:
    """The example job file of house ``a``, ``b`` or ``c``.

    Raises:
        FileNotFoundError: The project's examples folder is not beside the package.
    """
    here = Path(__file__).resolve()
    for folder in here.parents:
        path = folder / "examples" / f"house-{letter}.yaml"
        if path.is_file():
            return path
    raise FileNotFoundError(f"examples/house-{letter}.yaml is not beside the program")
