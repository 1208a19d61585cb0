"""The table of commands: listed without importing, imported when called."""

from __future__ import annotations

import sys

import click
import pytest
from click.testing import CliRunner

from bayrun import __version__
from bayrun.cli.main import COMMANDS, LazyGroup, main


def test_version_is_told() -> None:
    assert CliRunner().invoke(main, ["--version"]).output == f"bayrun {__version__}\n"


@pytest.mark.parametrize("name", list(COMMANDS))
def test_every_command_of_the_table_loads(name: str) -> None:
    done = CliRunner().invoke(main, [name, "--help"])
    assert done.exit_code == 0, done.output
    assert COMMANDS[name][1].strip() == COMMANDS[name][1] != ""


def test_listing_imports_no_command() -> None:
    group = LazyGroup(name="g", table={"missing": ("bayrun.no_such_module:command", "Does a thing.")})
    done = CliRunner().invoke(group, ["--help"])
    assert done.exit_code == 0
    assert "missing  Does a thing." in done.output
    assert "bayrun.no_such_module" not in sys.modules
    with pytest.raises(ModuleNotFoundError):
        group.get_command(click.Context(group), "missing")


def test_unknown_command_is_bad_input() -> None:
    done = CliRunner().invoke(main, ["plam"])
    assert done.exit_code == 2
    assert "No such command 'plam'" in done.output
