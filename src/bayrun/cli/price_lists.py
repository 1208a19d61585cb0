"""A firm's price list as a command reads it: one message with every bad row."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from bayrun.cli.talk import reason, refuse

if TYPE_CHECKING:
    from bayrun.house import Job
    from bayrun.tables.prices import PriceList

_T = TypeVar("_T", bound=Callable[..., Any])


def read_text(path: Path, command: str) -> str:
    """The text of a table, whatever ends its lines.

    Raises:
        SystemExit: With 2 and one message where it cannot be read.
    """
    try:
        return path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise refuse(command, f"{path} cannot be read: {reason(error)}") from None
    except UnicodeDecodeError as error:
        raise refuse(
            command, f"{path}: expected a text in UTF-8, got a fault at byte {error.start}."
        ) from None


def read_list(path: Path | None, command: str) -> PriceList:
    """The firm's price list, or the example where no file is named.

    Raises:
        SystemExit: With 2 and every bad row with its line.
    """
    from bayrun.tables.prices import PriceTableError, generic_prices, read_price_list

    if path is None:
        return generic_prices()
    try:
        return read_price_list(read_text(path, command), path.name)
    except PriceTableError as error:
        raise bad_rows(error.defects, path, command) from None


def bad_rows(defects: tuple[str, ...], path: Path, command: str) -> SystemExit:
    """Every bad row on a line of its own, and the sentence that ends it."""
    for defect in defects:
        click.echo(defect, err=True)
    count = len(defects)
    return refuse(command, f"{path} has {count} {'defect' if count == 1 else 'defects'}; nothing was done.")


def price_list_option() -> Callable[[_T], _T]:
    """The option that names the firm's price list."""
    return click.option(
        "--price-list",
        "price_list",
        type=click.Path(path_type=Path),
        default=None,
        help="The firm's price list (CSV; see bayrun prices out). Without it: example prices, invented.",
    )


def job_of(path: Path, command: str) -> Job:
    """The job of a file; see ``plan_cmds.read_file``."""
    from bayrun.cli.plan_cmds import read_file

    return read_file(path, command)[0]
