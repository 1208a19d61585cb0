"""``bayrun quick``: calculators that need no job; one function a calculator, each in its own module.

A calculator raises nothing at a person: bad input is one message on stderr and exit code 2.
"""

from __future__ import annotations

import click

from bayrun.cli.main import LazyGroup

CALCULATORS: dict[str, tuple[str, str]] = {
    "bid": ("bayrun.cli.quick_bid:bid", "A price range from rooms, stories and area, with no drawing."),
    "hole": ("bayrun.cli.quick_hole:hole", "Whether one hole in a stud, plate or joist is allowed, and why."),
    "bundle": (
        "bayrun.cli.quick_bundle:bundle",
        "True diameter of a bundle, and the bit that takes it.",
    ),
    "link": ("bayrun.cli.quick_link:link", "Loss, delay and length of a four-pair run, hot or not."),
    "power": ("bayrun.cli.quick_power:power", "Volts and watts of devices fed over four-pair cable."),
    "coax": ("bayrun.cli.quick_coax:coax", "Level at the end of coax, low and high."),
    "optical": ("bayrun.cli.quick_optical:optical", "Loss budget of a fiber."),
    "drop": ("bayrun.cli.quick_drop:drop", "Volts lost on a two-wire run: device, bell, shade."),
    "speaker": (
        "bayrun.cli.quick_speaker:speaker",
        "Level lost in speaker wire, and the gauge that is enough.",
    ),
    "marks": ("bayrun.cli.quick_marks:marks", "Feet of cable between two marks on its jacket."),
    "heat": ("bayrun.cli.quick_heat:heat", "How warm an enclosure gets; with --bundle, powered cables."),
    "knockout": (
        "bayrun.cli.quick_knockout:knockout",
        "Which knockout of an enclosure takes a bundle, by trade size.",
    ),
    "slack": ("bayrun.cli.quick_knockout:slack", "Whether coiled slack goes in behind the box's cover."),
    "coverage": ("bayrun.cli.quick_coverage:coverage", "Radio signal behind walls and floors, band by band."),
    "wall-loss": ("bayrun.cli.quick_wall_loss:wall_loss", "What a wall or floor takes from a radio signal."),
}


@click.group(
    cls=LazyGroup,
    table=CALCULATORS,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Calculators that need no job. With --json only JSON goes to standard output.",
)
def quick() -> None:
    """Run one calculator."""
