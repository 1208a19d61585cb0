"""``bayrun quick wall-loss --wall "drywall partition"``: what a wall takes from a radio signal."""

from __future__ import annotations

import click

from bayrun.cables.ranges import RangeError
from bayrun.cli.quick_figures import HELP, as_json, figure_json, said
from bayrun.cli.talk import print_json, refuse
from bayrun.radio.slab import Layer, averaged_loss_db, ready_stack, stack_loss_db
from bayrun.units import LengthError, parse_length, tape

_EXPECTED = "a material and its thickness such as plasterboard:1/2"


def _layer(text: str) -> Layer | str:
    material, parted, thickness = text.rpartition(":")
    if not parted or not material.strip():
        return f"--layer {text!r}: expected {_EXPECTED}"
    try:
        return Layer(material.strip().lower(), parse_length(thickness.strip()))
    except LengthError:
        return f"--layer {text!r}: expected {_EXPECTED}, got the thickness {thickness.strip()!r}"


@click.command("wall-loss", context_settings=HELP)
@click.option(
    "--wall", default=None, help="drywall partition, wood floor, brick veneer, concrete wall, window."
)
@click.option(
    "--layer", "texts", multiple=True, help="Or layer by layer, in order: plasterboard:1/2 air:3-1/2."
)
@click.option(
    "--band", "bands", type=float, multiple=True, help="Frequency [GHz]; 2.45, 5.25 and 6.5 if not said."
)
@click.option(
    "--angle", "degrees", type=float, default=0.0, show_default=True, help="From square on [degrees]."
)
@as_json
def wall_loss(
    wall: str | None, texts: tuple[str, ...], bands: tuple[float, ...], degrees: float, as_json: bool
) -> None:
    """Loss of a wall or floor from its layers, band by band.

    Exit code 0, or 2 for bad input.
    """
    if (wall is None) == (not texts):
        raise refuse("quick wall-loss", "expected either --wall or --layer")
    read = [_layer(text) for text in texts]
    wrong = [layer for layer in read if isinstance(layer, str)]
    if wrong:
        raise refuse("quick wall-loss", "; ".join(wrong))
    told = []
    try:
        layers = ready_stack(wall) if wall else tuple(layer for layer in read if isinstance(layer, Layer))
        for ghz in bands or (2.45, 5.25, 6.5):
            exact = {
                way: stack_loss_db(layers, ghz, degrees, "TE" if way == "te" else "TM")
                for way in ("te", "tm")
            }
            told.append((ghz, averaged_loss_db(layers, ghz, degrees), exact))
    except RangeError as error:
        raise refuse("quick wall-loss", str(error)) from None
    if as_json:
        print_json(
            {
                "layers": [
                    {"material": layer.material, "thickness_in": round(layer.thickness_in, 6)}
                    for layer in layers
                ],
                "angle_degrees": degrees,
                "bands": [
                    {
                        "ghz": ghz,
                        "loss_db": figure_json(mean),
                        "exact_te_db": figure_json(exact["te"]),
                        "exact_tm_db": figure_json(exact["tm"]),
                    }
                    for ghz, mean, exact in told
                ],
            }
        )
        return
    click.echo(", ".join(f"{tape(layer.thickness_in)} {layer.material}" for layer in layers))
    for ghz, mean, _ in told:
        click.echo(f"  {ghz:g} GHz: {said(mean, 1)} at {degrees:g} degrees from square on")
    click.echo("Between studs; studs, pipes, foil and wire mesh take more.")
