"""The ``bayrun`` command: a table of commands, each loaded only when it is called.

Exit codes: 0 fine, 1 findings say stop, 2 bad input.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

import click

from bayrun import __version__

# Command name -> ("module:function" of a click command, one line of help). The line stands here, so that
# ``bayrun --help`` lists every command without importing any.
COMMANDS: dict[str, tuple[str, str]] = {
    "demo": ("bayrun.cli.plan_cmds:demo", "Plan the small demo house into ./bayrun-demo."),
    "plan": ("bayrun.cli.plan_cmds:plan", "Plan a job file and write its pack."),
    "check": (
        "bayrun.cli.plan_cmds:check",
        "List what is wrong with a plan; exit 1 when a finding says stop.",
    ),
    "import": ("bayrun.cli.import_cmd:bring", "Read a house from an IFC file into a job file."),
    "new": ("bayrun.cli.files_cmds:new", "Write a small starter job file, with comments."),
    "quick": ("bayrun.cli.quick:quick", "Small calculators that need no job: hole, bundle."),
    "schema": ("bayrun.cli.files_cmds:schema", "Print the JSON Schema of the job file."),
}


class LazyGroup(click.Group):
    """A click group whose commands are named in a table and imported when first called.

    Args:
        table: Command name to ("module:function", one line of help).
    """

    def __init__(self, *, table: dict[str, tuple[str, str]], **settings: Any) -> None:
        super().__init__(**settings)
        self.table = table

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Name every command, in the order of the table."""
        return [*self.table, *(name for name in super().list_commands(ctx) if name not in self.table)]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import one command, or return None when the table has no such name."""
        if cmd_name not in self.table:
            return super().get_command(ctx, cmd_name)
        module, _, function = self.table[cmd_name][0].partition(":")
        command = getattr(import_module(module), function)
        assert isinstance(command, click.Command), f"{module}:{function} is not a click command"
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands from the table alone."""
        rows = [(name, line) for name, (_, line) in self.table.items()]
        if rows:
            with formatter.section("Commands"):
                formatter.write_dl(rows)


@click.group(
    cls=LazyGroup,
    table=COMMANDS,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Plan the low-voltage rough-in of a framed house: every cable, hole, plate and list, "
    "before the walls close.",
)
@click.version_option(__version__, prog_name="bayrun", message="%(prog)s %(version)s")
def main() -> None:
    """Run the command line."""
