"""The ``bayrun`` command: a table of commands, each loaded only when it is called.

Exit codes: 0 fine, 1 findings say stop, 2 bad input; 3 a fault of Bayrun's own, 130 stopped by the person.
"""

from __future__ import annotations

import os
import sys
import traceback
from importlib import import_module
from pathlib import Path
from typing import Any

import click

from bayrun import __version__

# Command name -> ("module:function" of a click command, one line of help). The line stands here, so that
# ``bayrun --help`` lists every command without importing any.
COMMANDS: dict[str, tuple[str, str]] = {
    "demo": ("bayrun.cli.plan_cmds:demo", "Plan the small demo house into ./bayrun-demo."),
    "plan": ("bayrun.cli.plan_cmds:plan", "Plan a job file and write its pack."),
    "check": (
        "bayrun.cli.check_cmd:check",
        "List what is wrong with a plan, or put fixes into its job; exit 1 on a stop.",
    ),
    "site": (
        "bayrun.cli.site_cmd:site",
        "Rank every bay for the enclosure, with reasons, whole plans and the second box.",
    ),
    "audit": ("bayrun.cli.audit_cmd:audit", "Hold a pack against its job by separate arithmetic."),
    "import": ("bayrun.cli.import_cmd:bring", "Read a house (IFC, gbXML, DXF, PDF, tape) into a job file."),
    "access-points": (
        "bayrun.cli.access_points_cmd:access_points",
        "Where access points should hang, with their wired ways.",
    ),
    "new": ("bayrun.cli.files_cmds:new", "Write a small starter job file, with comments."),
    "serve": ("bayrun.cli.serve_cmd:serve", "Open the page: see, change, check and print a house."),
    "quick": ("bayrun.cli.quick:quick", "Small calculators that need no job: holes, power, signal, heat."),
    "price": ("bayrun.cli.price_cmd:price", "What a job costs, line by line to the cent."),
    "prices": ("bayrun.cli.prices_cmd:prices", "The firm's price list out and in, as one plain table."),
    "change": ("bayrun.cli.price_cmd:change", "What a change costs, and what else it moves."),
    "swap": ("bayrun.cli.swap_cmd:swap", "A cable box runs short: which runs change boxes."),
    "rulebook": (
        "bayrun.cli.rulebook_cmd:rulebook",
        "Print every rule: figures, source, how confirmed, worked examples.",
    ),
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


class Program(LazyGroup):
    """The whole command line: whatever goes wrong ends in a sentence, and never in exit code 0 or 1."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; tell what nobody foresaw in words (BAYRUN_DEBUG=1 shows where it arose)."""
        try:
            return super().invoke(ctx)
        except (click.ClickException, click.exceptions.Exit, BrokenPipeError):
            raise
        except (KeyboardInterrupt, click.Abort):
            click.echo("\nbayrun: stopped; what was there before is as it was.", err=True)
            raise SystemExit(130) from None
        except Exception as error:
            if os.environ.get("BAYRUN_DEBUG"):
                raise
            click.echo(f"bayrun: {_fault(error)}", err=True)
            raise SystemExit(3) from None


def _fault(error: Exception) -> str:
    if isinstance(error, MemoryError):
        return "this computer has too little free memory for this job."
    if isinstance(error, OSError):
        about = f" ({error.filename})" if error.filename else ""
        return f"the system refused{about}: {(error.strerror or str(error)).lower()}."
    steps = traceback.extract_tb(sys.exc_info()[2])
    last = next((s for s in reversed(steps) if "bayrun" in Path(s.filename).parts), steps[-1])
    where = f"{Path(last.filename).name}:{last.lineno}"
    return (
        f"a fault of Bayrun's own, not of your file: {type(error).__name__}: {error} ({where}). "
        "Please report it, with the job file; BAYRUN_DEBUG=1 shows more."
    )


@click.group(
    cls=Program,
    table=COMMANDS,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Plan the low-voltage rough-in of a framed house: every cable, hole, plate and list, "
    "before the walls close.",
)
@click.version_option(__version__, prog_name="bayrun", message="%(prog)s %(version)s")
def main() -> None:
    """Run the command line."""
